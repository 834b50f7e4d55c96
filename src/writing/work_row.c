/*
 * A row on paper:
 *
 *   [ ] pollinate again  OAK-017C  blue         HB-12, row 3 no. 12, top/T4
 *       OAK-017C-28-1    C12: S12 x S31         P07 0.5 ml         87 %   Thu 11 Mar
 *       any at stage 4-5: pollinate again ...
 *       by ________  time ______  stage ____  ml used ______       2028-W10-A-017K
 *       remarks, or why not done _________________________________________________
 */
#include "writing/work_row.h"

#include "writing/visit.h"
#include "writing/words.h"

#include <math.h>

enum { BOX = 0, FIRST = 4, SECOND = 21, FLAG = 31, PLACE = 44, CHANCE = 63, LATEST = 70 };
enum { BRIEF_LINES_MOST = 2 };

static const char *or_dash(const char *value)
{
    return value ? value : "-";
}

static void words_init(struct text *words, const struct line *line)
{
    text_init(words, line->out->arena);
}

/* "HB-12, row 3 no. 12, top/T4". */
static void put_place(struct line *line, const struct visit_facts *facts)
{
    struct text words;
    words_init(&words, line);
    text_add(&words, or_dash(facts->tree));
    if (facts->row >= 0)
        text_addf(&words, ", row %d", facts->row);
    if (facts->position >= 0)
        text_addf(&words, "%s no. %d", facts->row >= 0 ? "" : ",", facts->position);
    if (facts->crown)
        text_addf(&words, ", %s", facts->crown);
    if (facts->branch)
        text_addf(&words, "%s%s", facts->crown ? "/" : ", branch ", facts->branch);
    line_put(line, PLACE, words.bytes);
}

static void put_lot(struct line *line, const struct visit_facts *facts)
{
    struct text words;
    if (!facts->lot)
        return;
    words_init(&words, line);
    text_add(&words, facts->lot);
    if (isfinite(facts->dose_ml)) {
        text_add(&words, " ");
        words_add_amount(&words, facts->dose_ml);
        text_add(&words, " ml");
    }
    line_put(line, PLACE, words.bytes);
}

static void put_chance_and_latest(struct line *line, const struct visit_facts *facts)
{
    struct text words;
    words_init(&words, line);
    words_add_chance(&words, facts->chance);
    line_put(line, CHANCE, words.bytes);

    text_clear(&words);
    if (facts->latest != DAY_NONE && facts->latest != DAY_NEVER)
        text_addf(&words, "%s ", day_weekday_name(day_weekday(facts->latest)));
    words_add_day_short(&words, facts->latest);
    line_put(line, LATEST, words.bytes);
}

const char *work_row_count(enum bag_task task)
{
    switch (task) {
    case TASK_BAG:
        return "strobili";
    case TASK_UNBAG:
        return "strobili left";
    default:
        return "ml used";
    }
}

static void put_write_in(struct line *line, const struct work_row *row)
{
    struct text words;
    words_init(&words, line);
    text_addf(&words, "by ________  time ______  stage ____  %s ______", work_row_count(row->task));
    line_put(line, FIRST, words.bytes);
    line_put_right(line, or_dash(row->entry));
    line_end(line);
    line_put(line, FIRST, "remarks, or why not done ");
    text_add_repeat(line->out, PAGE_COLUMNS - line->column, '_');
    line_end(line);
}

static const char *heading_of(struct arena *arena, const struct visit_facts *facts)
{
    if (facts->block)
        return arena_printf(arena, "%s, block %s", or_dash(facts->site), facts->block);
    return or_dash(facts->site);
}

void work_row_add(struct flow *flow, const struct orchard *orchard, const struct work_row *row)
{
    struct visit_facts facts = visit_facts_of(orchard, row->bag, row->task);
    struct text out;
    struct line line = {.out = &out};

    text_init(&out, flow->arena);
    line_put(&line, BOX, "[ ]");
    line_put(&line, FIRST, bag_task_words[row->task]);
    line_put(&line, SECOND, or_dash(facts.tag));
    line_put(&line, FLAG, or_dash(facts.flag));
    put_place(&line, &facts);
    line_end(&line);

    line_put(&line, FIRST, or_dash(facts.bag));
    line_put(&line, SECOND, visit_cross_words(flow->arena, &facts));
    put_lot(&line, &facts);
    put_chance_and_latest(&line, &facts);
    line_end(&line);

    if (row->brief) {
        line_put(&line, FIRST, "");
        line_put_wrapped(&line, BRIEF_LINES_MOST, row->brief);
    }
    put_write_in(&line, row);
    line_end(&line); /* room for a hand, and the next row apart */
    flow_add(flow, heading_of(flow->arena, &facts), &out);
}

const char *work_page_decide(const struct work_page *page, enum bag_task task)
{
    for (size_t i = 0; i < page->row_count; i++)
        if (page->rows[i].task == task && page->rows[i].decide)
            return page->rows[i].decide;
    return NULL;
}

/* "2 h 16 min", "8 h", "59 min", from 1/100 minutes, rounded up. */
static void add_hours(struct text *out, int64_t hundredths)
{
    long long minutes = (hundredths + 99) / 100;
    if (minutes >= 60)
        text_addf(out, "%lld h", minutes / 60);
    if (minutes % 60 || minutes == 0)
        text_addf(out, "%s%lld min", minutes >= 60 ? " " : "", minutes % 60);
}

const char *work_page_minutes(const struct work_page *page, struct arena *arena)
{
    struct text words;
    text_init(&words, arena);
    add_hours(&words, page->minutes);
    text_add(&words, " of ");
    add_hours(&words, page->minutes_given);
    if (page->lift && page->lift_minutes < page->minutes_given) {
        text_add(&words, " (its lift: ");
        add_hours(&words, page->lift_minutes);
        text_add(&words, ")");
    }
    text_add(&words, ", set-up in it");
    return words.bytes;
}

const char *material_words(const struct material *material, struct arena *arena)
{
    struct text words;
    text_init(&words, arena);
    text_addf(&words, "%s: ", material->what);
    words_add_amount(&words, material->amount);
    if (material->unit)
        text_addf(&words, " %s", material->unit);
    return words.bytes;
}

void work_page_see(struct head *head, const struct work_page *page)
{
    for (size_t i = 0; i < page->row_count; i++) {
        const struct group *group = page->rows[i].bag->group;
        head_see(head, group->site, group->season, group->bloom);
    }
}
