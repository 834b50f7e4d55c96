/*
 * The worklist for `lp`: a page is head, blocks, what decides and key.  What stands before the rows
 * of a crew-day (weather, materials, cautions) are blocks too.  Every part of a block is bounded in
 * lines, so that the largest one fits on a page.
 */
#include "writing/head.h"
#include "writing/layout.h"
#include "writing/words.h"
#include "writing/work_lists.h"
#include "writing/work_row.h"

#include <string.h>

enum { HEAD_LINES = 4, KEY_LINES = 4 };
enum { CAUTION_LINES_MOST = 6, MATERIAL_LINES_MOST = 3, DECIDE_LINES_MOST = 3 };
enum { WRAPPED_LINES_MOST = 3, OFFICE_DAY = 22 };
enum { PIECES = 3, MEASURED = 2 }; /* kinds of material on one line */

struct paper {
    const struct worklist *list;
    const struct page_run *run;
    struct text *out;
    struct text scratch;
    size_t written;     /* pages */
    struct text decide; /* of the crew-day at hand: what decides, by task */
    size_t decide_lines;
};

static void add_line(struct paper *paper, struct flow *flow, const char *words)
{
    text_clear(&paper->scratch);
    text_add(&paper->scratch, words);
    text_add(&paper->scratch, "\n");
    flow_add(flow, NULL, &paper->scratch);
}

static bool stored_together(const struct material *a, const struct material *b)
{
    if (a->kept_at && b->kept_at)
        return strcmp(a->kept_at, b->kept_at) == 0;
    return a->kept_at == b->kept_at && !a->unit == !b->unit;
}

static bool stored_before(const struct work_page *page, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (stored_together(&page->materials[i], &page->materials[at]))
            return true;
    return false;
}

/* All that is stored with element `first`, as many on a line as the grid has columns. */
static void add_stored(struct paper *paper, struct flow *flow, const struct work_page *page,
                       size_t first)
{
    struct arena *arena = paper->run->arena;
    const struct material *with = &page->materials[first];
    size_t columns = with->unit ? MEASURED : PIECES, count = 0;
    struct line line = {.out = &paper->scratch};
    if (with->kept_at) {
        text_clear(&paper->scratch);
        line_put_wrapped(&line, MATERIAL_LINES_MOST,
                         arena_printf(arena, "kept at %s:", with->kept_at));
        flow_add(flow, NULL, &paper->scratch);
    }
    text_clear(&paper->scratch);
    for (size_t i = first; i < page->material_count; i++) {
        if (!stored_together(&page->materials[i], with))
            continue;
        if (count == columns) {
            line_end(&line);
            flow_add(flow, NULL, &paper->scratch);
            text_clear(&paper->scratch);
            count = 0;
        }
        line_put(&line, count++ * (PAGE_COLUMNS / columns),
                 arena_printf(arena, "[ ] %s", material_words(&page->materials[i], arena)));
    }
    line_end(&line);
    flow_add(flow, NULL, &paper->scratch);
}

static void add_materials(struct paper *paper, struct flow *flow, const struct work_page *page)
{
    if (page->material_count)
        add_line(paper, flow, "To take from store:");
    for (int place_told = 0; place_told <= 1; place_told++) /* so that nothing seems kept above */
        for (size_t i = 0; i < page->material_count; i++)
            if ((page->materials[i].kept_at != NULL) == place_told && !stored_before(page, i))
                add_stored(paper, flow, page, i);
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
static void add_cautions(struct paper *paper, struct flow *flow, const struct work_page *page,
                         const struct head *head)
{
    struct arena *arena = paper->run->arena;
    const char *last_safe = work_page_last_safe(page, arena);
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
    if (*last_safe)
        add_caution(paper, flow,
                    arena_printf(arena, "if the lift is down: today is the last safe day of %s",
                                 last_safe));
    for (size_t i = 0; i < page->kind_count; i++)
        if (page->kinds[i]->caution)
            add_caution(
                paper, flow,
                arena_printf(arena, "%s: %s", page->kinds[i]->task, page->kinds[i]->caution));
    for (const char *const *caution = page->cautions; caution && *caution; caution++)
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

/* What stands at the head of every page of a stack. */
struct stack {
    const char *title, *days, *sites;
    bool lists; /* not rows to fill in: no key is needed */
};

static void add_page_head(struct paper *paper, const struct stack *stack, const char *number)
{
    struct arena *arena = paper->run->arena;
    const char *programme = paper->run->orchard->program.name;
    const char *sites = stack->sites;
    struct text as_of;
    text_init(&as_of, arena);
    text_add(&as_of, "as of ");
    words_add_day(&as_of, paper->run->as_of);

    if (paper->written++)
        text_add(paper->out, "\f");
    add_both(paper->out, stack->title, number);
    add_both(paper->out, stack->days, as_of.bytes);
    add_both(paper->out,
             programme ? arena_printf(arena, *sites ? "%s: %s" : "%s", programme, sites) : sites,
             "");
    text_add_repeat(paper->out, PAGE_COLUMNS, '=');
    text_add(paper->out, "\n");
}

/* What decides in full, a paragraph for each kind of task of the crew-day. */
static void fill_decide(struct paper *paper, const struct work_page *page)
{
    text_clear(&paper->decide);
    for (enum bag_task task = TASK_BAG; task < BAG_TASKS; task++) {
        const char *decide = work_page_decide(page, task);
        if (!decide)
            continue;
        if (paper->decide.length == 0)
            text_add(&paper->decide, "What decides, by the stage that is seen:\n");
        line_put_wrapped(&(struct line){.out = &paper->decide}, DECIDE_LINES_MOST,
                         arena_printf(paper->run->arena, "%s: %s", bag_task_words[task], decide));
    }
    paper->decide_lines = 0;
    for (const char *end = paper->decide.bytes; (end = strchr(end, '\n')); end++)
        paper->decide_lines++;
}

static void add_key(const struct paper *paper)
{
    struct text *out = paper->out;
    text_add_repeat(out, PAGE_COLUMNS, '-');
    text_add(out, "\n");
    text_add(out, paper->decide.bytes);
    text_add(out, "X: done. Not done, write why: rain, wind, lift, not ready, no time, not found.\n"
                  "Stages: 1 small bud, 2 large bud, 3 opening, 4 partly open, 5 fully receptive,\n"
                  "6 closed. Latest: last safe day. Type it back by the code on the right.\n");
}

/* Blocks on as many pages as they take, each with its head and its key. */
static void add_stack(struct paper *paper, const struct flow *flow, const struct stack *stack)
{
    size_t key = stack->lists ? 0 : KEY_LINES + paper->decide_lines;
    size_t pages = 0, lines = PAGE_LINES - HEAD_LINES - key;
    for (size_t at = 0; at < flow->count; at += flow_fitting(flow, at, lines))
        pages++;
    for (size_t at = 0, number = 1; at < flow->count; number++) {
        size_t count = flow_fitting(flow, at, lines);
        add_page_head(paper, stack,
                      arena_printf(paper->run->arena, "page %zu of %zu", number, pages));
        flow_write(flow, at, count, paper->out);
        if (!stack->lists)
            add_key(paper);
        at += count;
    }
}

static void add_wrapped(struct paper *paper, struct flow *flow, const char *words)
{
    text_clear(&paper->scratch);
    line_put_wrapped(&(struct line){.out = &paper->scratch}, WRAPPED_LINES_MOST, words);
    flow_add(flow, NULL, &paper->scratch);
}

/* What work of other kinds asks for and warns of, a line each. */
static void add_kinds(struct paper *paper, struct flow *flow, const struct work_page *page)
{
    struct arena *arena = paper->run->arena;
    for (size_t i = 0; i < page->kind_count; i++) {
        const struct task_kind *kind = page->kinds[i];
        if (kind->needs)
            add_wrapped(paper, flow, arena_printf(arena, "For %s: %s", kind->task, kind->needs));
    }
}

static const char *crew_day_days(const struct paper *paper, daynum day)
{
    char week[DAY_WEEK_TEXT];
    struct text words;
    text_init(&words, paper->run->arena);
    words_add_day(&words, day);
    text_addf(&words, ", week %s", day_week_text(day, week));
    return words.bytes;
}

static void add_crew_day(struct paper *paper, const struct work_page *page)
{
    struct arena *arena = paper->run->arena;
    struct flow flow = {
        .arena = arena,
        .titles = WORK_ROW_TITLES,
        .title_lines = WORK_ROW_TITLE_LINES,
    };
    struct head head;
    head_init(&head, paper->run);
    work_page_see(&head, page);

    struct text weather;
    text_init(&weather, arena);
    text_add(&weather, "weather observed: ");
    head_add_newest(&head, &weather);
    add_wrapped(paper, &flow, weather.bytes);
    add_line(paper, &flow, arena_printf(arena, "Planned: %s", work_page_minutes(page, arena)));
    add_materials(paper, &flow, page);
    add_kinds(paper, &flow, page);
    add_cautions(paper, &flow, page, &head);
    for (size_t i = 0; i < page->row_count; i++)
        work_row_add(&flow, paper->run->orchard, &page->rows[i]);

    fill_decide(paper, page);
    add_stack(paper, &flow,
              &(struct stack){
                  .title = page->lift ? arena_printf(arena, "WORKLIST  crew %s, lift %s",
                                                     page->crew ? page->crew : "-", page->lift)
                                      : arena_printf(arena, "WORKLIST  crew %s",
                                                     page->crew ? page->crew : "-"),
                  .days = crew_day_days(paper, page->day),
                  .sites = site_names(paper, &head),
              });
}

static const char *list_days(const struct paper *paper)
{
    struct text words;
    text_init(&words, paper->run->arena);
    words_add_day(&words, paper->list->first_day);
    if (paper->list->last_day != paper->list->first_day) {
        text_add(&words, " to ");
        words_add_day(&words, paper->list->last_day);
    }
    return words.bytes;
}

/* Lists before the crews' days, and work without a crew after them. */
static void add_lists(struct paper *paper)
{
    struct work_sections sections = work_sections_of(paper->list, paper->run);
    struct flow flow = {.arena = paper->run->arena};
    for (size_t i = 0; i < sections.count; i++) {
        if (sections.list[i].count == 0)
            add_wrapped(paper, &flow, sections.list[i].title);
        for (size_t k = 0; k < sections.list[i].count; k++) {
            struct line line = {.out = &paper->scratch};
            text_clear(&paper->scratch);
            line_put(&line, 0, "  -");
            line_put(&line, BLOCK_INDENT, "");
            line_put_wrapped(&line, CAUTION_LINES_MOST, sections.list[i].lines[k]);
            flow_add(&flow, sections.list[i].title, &paper->scratch);
        }
        add_line(paper, &flow, "");
    }
    text_clear(&paper->decide);
    paper->decide_lines = 0;
    add_stack(paper, &flow,
              &(struct stack){.title = "WORKLIST  what lies around it",
                              .days = list_days(paper),
                              .sites = "",
                              .lists = true});
}

/* What rows of one kind and cycle share. */
struct office_kind {
    const char *heading, *brief;
};

/* "[ ] S101            last day Wed 20 Jan, order by ...           2027-W10-ZZ-1017" */
static void add_office_row(struct paper *paper, struct flow *flow, const struct work_row *row,
                           const struct office_kind *kind)
{
    struct line line = {.out = &paper->scratch};
    struct text words;
    text_init(&words, paper->run->arena);
    work_row_add_last(row, &words);
    text_clear(&paper->scratch);
    line_put(&line, 0, "[ ]");
    line_put(&line, BLOCK_INDENT, work_row_about(row));
    line_put(&line, OFFICE_DAY, words.bytes);
    line_put_right(&line, row->entry);
    line_end(&line);
    if (row->instance->because && strcmp(row->brief, kind->brief) != 0) {
        line_put(&line, OFFICE_DAY, "");
        line_put_wrapped(&line, 1, row->instance->because);
    }
    flow_add(flow, kind->heading, &paper->scratch);
}

static const char *office_heading(const struct paper *paper, const struct work_row *row)
{
    struct text heading;
    text_init(&heading, paper->run->arena);
    text_add_printable(&heading, row->instance->kind->task);
    if (row->instance->cycle)
        text_addf(&heading, ", cycle %d", row->instance->cycle);
    return heading.bytes;
}

/* Work that needs no crew, a line each under its kind and cycle. */
static void add_office(struct paper *paper)
{
    const struct worklist *list = paper->list;
    struct flow flow = {.arena = paper->run->arena};
    struct office_kind kind = {NULL, NULL};
    for (size_t i = 0; i < list->office_count; i++) {
        const struct work_row *row = &list->office[i];
        const char *own = office_heading(paper, row);
        if (!kind.heading || strcmp(own, kind.heading) != 0) {
            kind = (struct office_kind){own, row->brief};
            text_clear(&paper->scratch);
            struct line line = {.out = &paper->scratch};
            line_put(&line, BLOCK_INDENT, "");
            line_put_wrapped(&line, WRAPPED_LINES_MOST,
                             row->instance->kind->needs
                                 ? arena_printf(paper->run->arena, "%s; needs: %s", row->brief,
                                                row->instance->kind->needs)
                                 : row->brief);
            flow_add(&flow, own, &paper->scratch);
        }
        add_office_row(paper, &flow, row, &kind);
    }
    add_line(paper, &flow, "Type it back by the code on the right.");
    text_clear(&paper->decide);
    paper->decide_lines = 0;
    if (list->office_count)
        add_stack(paper, &flow,
                  &(struct stack){.title = "WORKLIST  without a crew",
                                  .days = list_days(paper),
                                  .sites = "",
                                  .lists = true});
}

static void add_nothing_due(struct paper *paper)
{
    struct text *out = paper->out;
    paper->written++;
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
    text_init(&paper.decide, run->arena);
    if (list->page_count == 0 && list->office_count == 0)
        add_nothing_due(&paper);
    add_lists(&paper);
    for (size_t i = 0; i < list->page_count; i++)
        add_crew_day(&paper, &list->pages[i]);
    add_office(&paper);
}
