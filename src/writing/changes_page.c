/* changes_page.c - what moved since the plan that was given out, and ten lines for a glance. */
#include "writing/changes_page.h"

#include "writing/head.h"
#include "writing/words.h"

enum { BAG, TASK, FROM, TO, DAYS, CREW_FROM, CREW_TO, FIRM, REASON, WHY, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [BAG] = {"bag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TASK] = {"task", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [FROM] = {"from", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [TO] = {"to", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [DAYS] = {"days", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CREW_FROM] = {"crew_from", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CREW_TO] = {"crew_to", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [FIRM] = {"firm", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [REASON] = {"reason", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [WHY] = {"why", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

struct sheet changes_sheet(const struct crossing_plan *plan, const char *why,
                           const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide changes 1", COLUMNS, columns);
    for (size_t i = 0; i < plan->move_count; i++) {
        const struct move *move = &plan->moves[i];
        union cell *cells = sheet_row(&sheet);

        cells[BAG].text = move->bag;
        cells[TASK].text = bag_task_words[move->task];
        cells[FROM].day = move->from;
        cells[TO].day = move->to;
        if (move->from != DAY_NONE && move->to != DAY_NONE)
            cells[DAYS].number = move->to - move->from;
        cells[CREW_FROM].text = move->crew_from;
        cells[CREW_TO].text = move->crew_to;
        cells[FIRM].text = move->firm ? "yes" : "no";
        cells[REASON].text = move->reason;
        cells[WHY].text = why;
    }
    return sheet;
}

/* ---- ten lines ------------------------------------------------------------------------------- */

static void add_week(struct text *out, const char *which, const struct worklist *list)
{
    size_t visits[BAG_TASKS] = {0}, all = 0, other = list->office_count;

    for (size_t p = 0; p < list->page_count; p++)
        for (size_t r = 0; r < list->pages[p].row_count; r++) {
            const struct work_row *row = &list->pages[p].rows[r];

            if (row->bag)
                visits[row->task]++;
            all += row->bag != NULL;
            other += row->bag == NULL;
        }
    text_addf(out, "%s week, ", which);
    words_add_range(out, list->first_day, list->last_day);
    text_add(out, ": ");
    words_add_count(out, all, "visit", "visits");
    for (int task = 0, told = 0; task < BAG_TASKS; task++)
        if (visits[task] > 0)
            text_addf(out, "%s%zu %s", told++ > 0 ? ", " : ": ", visits[task],
                      bag_task_words[task]);
    if (other > 0) {
        text_add(out, "; ");
        words_add_count(out, other, "other job", "other jobs");
    }
    if (list->page_count > 0) {
        text_add(out, "; ");
        words_add_count(out, list->page_count, "crew-day", "crew-days");
    }
    text_add(out, "\n");
}

static void add_bags(struct text *out, const struct crossing_plan *plan)
{
    size_t hang = 0, planned = 0, pencilled = 0;
    double seeds = 0;

    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct planned_bag *bag = &plan->bags[i];

        pencilled += bag->pencilled;
        hang += !bag->pencilled && bag->group->hangs;
        planned += !bag->pencilled && !bag->group->hangs;
        if (!bag->pencilled)
            seeds += bag->seeds_expected;
    }
    text_addf(out, "Bags: %zu hang, %zu to be hung this season, %zu pencilled for the next\n", hang,
              planned, pencilled);
    text_addf(out, "Filled seed expected of this season's bags: %.0f", seeds);
    if (plan->season.bound > 0)
        text_addf(out, "; the plan is worth %.0f of at most %.0f", plan->season.value,
                  plan->season.bound);
    text_add(out, "\n");
}

static void add_short(struct text *out, const struct crossing_plan *plan)
{
    int64_t bags = 0, by_cause[CAUSES] = {0};
    int most = CAUSE_NONE;

    for (size_t i = 0; i < plan->shortfall_count; i++) {
        bags += plan->shortfalls[i].bags_short;
        by_cause[plan->shortfalls[i].cause] += plan->shortfalls[i].bags_short;
    }
    for (int cause = 0; cause < CAUSES; cause++)
        if (by_cause[cause] > by_cause[most])
            most = cause;
    text_addf(out, "Bags that could not be planned: %lld", (long long)bags);
    if (bags > 0)
        text_addf(out, ", most for: %s (%lld)", cause_words[most], (long long)by_cause[most]);
    text_add(out, "\n");
}

static void add_moves(struct text *out, const struct summary *summary)
{
    const struct crossing_plan *plan = summary->plan;
    size_t firm = 0;

    if (summary->issued_as_of == DAY_NONE) {
        text_add(out, "No earlier plan to hold this one against\n");
        return;
    }
    for (size_t i = 0; i < plan->move_count; i++)
        firm += plan->moves[i].firm;
    text_add(out, "Since the plan of ");
    words_add_day(out, summary->issued_as_of);
    text_add(out, ": ");
    words_add_count(out, plan->move_count, "visit", "visits");
    text_addf(out, " moved, %zu inside the firm days", firm);
    if (plan->move_count > 0 && summary->why)
        text_addf(out, "; new since then: %s", summary->why);
    text_add(out, "\n");
}

void summary_write(const struct summary *summary, const struct page_run *run, struct text *out)
{
    head_write_title(run, "Summary", out);
    text_add(out, "\nNewest observed day: ");
    text_add_printable(out, summary->newest);
    text_add(out, "\n");
    add_week(out, "This", summary->this_week);
    add_week(out, "Next", summary->next_week);
    add_bags(out, summary->plan);
    add_short(out, summary->plan);
    add_moves(out, summary);
    text_add(out, "For a person: ");
    for (size_t i = 0; i < summary->wanted_count; i++)
        text_addf(out, "%s%s", i > 0 ? "; " : "", summary->wanted[i]);
    text_add(out, summary->wanted_count > 0 ? "\n" : "nothing\n");
}
