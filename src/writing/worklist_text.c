/*
 * The worklist for `lp`: a page is head, blocks and key.  What stands before the rows of a crew-day
 * (weather, materials, cautions) are blocks too.  Every part of a block is bounded in lines, so
 * that the largest one fits on a page.
 */
#include "writing/head.h"
#include "writing/layout.h"
#include "writing/words.h"
#include "writing/work_row.h"

#include <string.h>

enum { HEAD_LINES = 4, KEY_LINES = 4, BODY_LINES = PAGE_LINES - HEAD_LINES - KEY_LINES };
enum { CAUTION_LINES_MOST = 6, MATERIAL_LINES_MOST = 3 };

struct paper {
    const struct worklist *list;
    const struct page_run *run;
    struct text *out;
    struct text scratch;
    size_t written; /* pages */
};

static void add_line(struct paper *paper, struct flow *flow, const char *words)
{
    text_clear(&paper->scratch);
    text_add(&paper->scratch, words);
    text_add(&paper->scratch, "\n");
    flow_add(flow, NULL, &paper->scratch);
}

/* "Planned: 6 h 10 min of 8 h 0 min of the crew, set-up in it". */
static void add_minutes(struct paper *paper, struct flow *flow, const struct work_page *page)
{
    long long planned = (page->minutes + 99) / 100, given = page->minutes_given / 100;
    add_line(paper, flow,
             arena_printf(paper->run->arena,
                          "Planned: %lld h %lld min of %lld h %lld min, set-up in it", planned / 60,
                          planned % 60, given / 60, given % 60));
}

static void add_materials(struct paper *paper, struct flow *flow, const struct work_page *page)
{
    if (page->material_count)
        add_line(paper, flow, "To take from store:");
    for (size_t i = 0; i < page->material_count; i++) {
        const struct material *material = &page->materials[i];
        struct line line = {.out = &paper->scratch};
        struct text words;
        text_init(&words, paper->run->arena);
        text_addf(&words, "%s: ", material->what);
        words_add_amount(&words, material->amount);
        if (material->unit)
            text_addf(&words, " %s", material->unit);
        text_clear(&paper->scratch);
        line_put(&line, 0, "[ ]");
        line_put(&line, BLOCK_INDENT, "");
        line_put_wrapped(&line, MATERIAL_LINES_MOST, words.bytes);
        flow_add(flow, NULL, &paper->scratch);
    }
}

static void add_caution(struct paper *paper, struct flow *flow, const char *caution)
{
    struct line line = {.out = &paper->scratch};
    text_clear(&paper->scratch);
    line_put(&line, 0, "  -");
    line_put(&line, BLOCK_INDENT, "");
    line_put_wrapped(&line, CAUTION_LINES_MOST, caution);
    flow_add(flow, NULL, &paper->scratch);
}

/* Dates that are not measured come first, then the usual cautions. */
static void add_cautions(struct paper *paper, struct flow *flow, const struct head *head)
{
    struct text warnings;
    text_init(&warnings, paper->run->arena);
    head_add_warnings(head, &warnings);
    add_line(paper, flow, "Mind:");
    for (char *at = warnings.bytes, *end; (end = strchr(at, '\n')); at = end + 1) {
        *end = '\0';
        add_caution(paper, flow, at);
    }
    add_caution(paper, flow,
                "lift down, wind or rain: leave the box empty and write why; what is "
                "not done comes back on the next list");
    for (const char *const *caution = paper->list->cautions; caution && *caution; caution++)
        add_caution(paper, flow, *caution);
    add_line(paper, flow, "");
}

static const char *site_names(struct paper *paper, const struct head *head)
{
    struct text names;
    text_init(&names, paper->run->arena);
    for (size_t i = 0; i < head->count; i++) {
        bool told = false;
        for (size_t k = 0; k < i; k++)
            told = told || head->list[k].site == head->list[i].site;
        if (told || !head->list[i].site)
            continue;
        text_addf(&names, "%s%s", names.length ? ", " : "", head->list[i].site->name);
    }
    return names.bytes;
}

/* Two texts on one line, the right one whole, the left one cut when there is no room. */
static void add_both(struct text *out, const char *left, const char *right)
{
    size_t taken = text_columns(right);
    size_t room = PAGE_COLUMNS - 2 - taken;
    size_t width = text_columns(left);
    width = width < room ? width : room;
    text_add_left(out, width, left);
    if (taken)
        text_add_repeat(out, PAGE_COLUMNS - taken - width, ' ');
    text_add(out, right);
    text_add(out, "\n");
}

static void add_page_head(struct paper *paper, const struct work_page *page, const char *sites,
                          const char *number)
{
    struct arena *arena = paper->run->arena;
    const char *programme = paper->run->orchard->program.name;
    char week[DAY_WEEK_TEXT];
    struct text day, as_of;
    text_init(&day, arena);
    text_init(&as_of, arena);
    words_add_day(&day, page->day);
    text_addf(&day, ", week %s", day_week_text(page->day, week));
    text_add(&as_of, "as of ");
    words_add_day(&as_of, paper->run->as_of);

    if (paper->written++)
        text_add(paper->out, "\f");
    add_both(paper->out,
             page->lift ? arena_printf(arena, "WORKLIST  crew %s, lift %s",
                                       page->crew ? page->crew : "-", page->lift)
                        : arena_printf(arena, "WORKLIST  crew %s", page->crew ? page->crew : "-"),
             number);
    add_both(paper->out, day.bytes, as_of.bytes);
    add_both(paper->out, programme ? arena_printf(arena, "%s: %s", programme, sites) : sites, "");
    text_add_repeat(paper->out, PAGE_COLUMNS, '=');
    text_add(paper->out, "\n");
}

static void add_key(struct text *out)
{
    text_add_repeat(out, PAGE_COLUMNS, '-');
    text_add(out,
             "\nX: done. Not done, write why: rain, wind, lift, not ready, no time, not found.\n"
             "Stages: 1 small bud, 2 large bud, 3 opening, 4 partly open, 5 fully receptive,\n"
             "6 closed. Latest: last safe day. Type it back by the code on the right.\n");
}

static void add_crew_day(struct paper *paper, const struct work_page *page)
{
    struct flow flow = {
        .arena = paper->run->arena,
        .titles = WORK_ROW_TITLES,
        .title_lines = WORK_ROW_TITLE_LINES,
    };
    struct head head;
    head_init(&head, paper->run);
    work_page_see(&head, page);

    struct text weather;
    text_init(&weather, paper->run->arena);
    text_add(&weather, "weather observed: ");
    head_add_newest(&head, &weather);
    text_clear(&paper->scratch);
    line_put_wrapped(&(struct line){.out = &paper->scratch}, 3, weather.bytes);
    flow_add(&flow, NULL, &paper->scratch);
    add_minutes(paper, &flow, page);
    add_materials(paper, &flow, page);
    add_cautions(paper, &flow, &head);
    for (size_t i = 0; i < page->row_count; i++)
        work_row_add(&flow, paper->run->orchard, &page->rows[i]);

    size_t pages = 0;
    for (size_t at = 0; at < flow.count; at += flow_fitting(&flow, at, BODY_LINES))
        pages++;
    const char *sites = site_names(paper, &head);
    for (size_t at = 0, number = 1; at < flow.count; number++) {
        size_t count = flow_fitting(&flow, at, BODY_LINES);
        add_page_head(paper, page, sites,
                      arena_printf(paper->run->arena, "page %zu of %zu", number, pages));
        flow_write(&flow, at, count, paper->out);
        add_key(paper->out);
        at += count;
    }
}

static void add_nothing_due(struct paper *paper)
{
    struct text *out = paper->out;
    add_both(out, "WORKLIST", "page 1 of 1");
    text_add(out, "As of ");
    words_add_day(out, paper->run->as_of);
    text_add(out, "\n\nNothing is due ");
    if (paper->list->first_day != paper->list->last_day) {
        text_add(out, "from ");
        words_add_day(out, paper->list->first_day);
        text_add(out, " to ");
    } else
        text_add(out, "on ");
    words_add_day(out, paper->list->last_day);
    text_add(out, ".\n");
}

void worklist_write_text(const struct worklist *list, const struct page_run *run, struct text *out)
{
    struct paper paper = {.list = list, .run = run, .out = out};
    text_init(&paper.scratch, run->arena);
    if (list->page_count == 0)
        add_nothing_due(&paper);
    for (size_t i = 0; i < list->page_count; i++)
        add_crew_day(&paper, &list->pages[i]);
}
