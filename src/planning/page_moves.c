/*
 * page_moves.c - an earlier page beside the new one, row by row.
 */
#include "planning/page_moves.h"

#include "planning/placement.h"

#include <stdlib.h>
#include <string.h>

/* A row of either page, as both can be compared. */
struct line {
    const char *task, *name;
    daynum day;        /* DAY_NONE: of work without a crew */
    const char *entry; /* of an earlier one */
};

static int compare_text(const char *a, const char *b)
{
    return a != NULL && b != NULL ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

static int compare_lines(const struct line *a, const struct line *b)
{
    int order = compare_text(a->task, b->task);

    return order != 0 ? order : compare_text(a->name, b->name);
}

static int by_line(const void *a, const void *b)
{
    const struct line *x = a, *y = b;
    int order = compare_lines(x, y);

    return order != 0 ? order : (x->day > y->day) - (x->day < y->day);
}

/* What the row is about, as the columns tell it. */
static const char *name_of_typed(const struct typed_row *row)
{
    const char *const names[] = {row->bag,  row->tag,       row->lot,   row->batch,
                                 row->tree, row->selection, row->cross, row->site};

    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (names[i] != NULL)
            return names[i];
    return NULL;
}

static const char *name_of_row(const struct work_row *row)
{
    if (row->bag != NULL)
        return row->bag->name;
    if (row->planned != NULL)
        return row->planned->tag;
    const struct task_subject *subject = &row->instance->subject;
    return subject->kind == SUBJECT_PROGRAMME ? NULL : subject->name;
}

static struct line line_of(const struct work_row *row, daynum day)
{
    return (struct line){
        .task = row->bag != NULL ? bag_task_words[row->task] : row->instance->kind->task,
        .name = name_of_row(row),
        .day = day,
    };
}

struct lines {
    struct line *list;
    size_t count;
};

static struct lines lines_now(const struct worklist *list, struct arena *arena)
{
    struct lines lines = {0};
    size_t most = list->office_count;

    for (size_t p = 0; p < list->page_count; p++)
        most += list->pages[p].row_count;
    lines.list = ARENA_ARRAY(arena, most, struct line);
    for (size_t p = 0; p < list->page_count; p++)
        for (size_t i = 0; i < list->pages[p].row_count; i++)
            lines.list[lines.count++] = line_of(&list->pages[p].rows[i], list->pages[p].day);
    for (size_t i = 0; i < list->office_count; i++)
        lines.list[lines.count++] = line_of(&list->office[i], DAY_NONE);
    if (lines.count > 1)
        qsort(lines.list, lines.count, sizeof *lines.list, by_line);
    return lines;
}

static bool is_typed_back(const struct orchard *orchard, const char *entry)
{
    for (size_t i = 0; entry != NULL && i < orchard->notes.count; i++)
        if (orchard->notes.list[i].entry != NULL &&
            strcmp(orchard->notes.list[i].entry, entry) == 0)
            return true;
    return false;
}

static struct lines lines_before(const struct orchard *orchard, const struct typed_page *earlier)
{
    struct lines lines = {.list = ARENA_ARRAY(orchard->arena, earlier->count, struct line)};

    for (size_t i = 0; i < earlier->count; i++) {
        const struct typed_row *row = &earlier->list[i];

        if (row->task != NULL && row->note < 0 && !is_typed_back(orchard, row->entry))
            lines.list[lines.count++] =
                (struct line){.task = row->task, .name = name_of_typed(row), .day = row->date};
    }
    if (lines.count > 1)
        qsort(lines.list, lines.count, sizeof *lines.list, by_line);
    return lines;
}

/* The day that the crossing plan has for it, outside the list's days perhaps. */
static daynum planned_day(const struct crossing_plan *plan, const struct line *line)
{
    for (size_t i = 0; line->name != NULL && i < plan->bag_count; i++) {
        if (strcmp(plan->bags[i].name, line->name) != 0)
            continue;
        for (int task = 0; task < BAG_TASKS; task++)
            if (!plan->bags[i].done[task] && strcmp(bag_task_words[task], line->task) == 0)
                return plan->bags[i].tasks[task].day;
    }
    return DAY_NONE;
}

static void add_move(struct page_moves *moves, struct page_move move)
{
    if (move.from != move.to)
        moves->list[moves->count++] = move;
}

static void add_gone(struct page_moves *moves, const struct crossing_plan *plan,
                     const struct line *line)
{
    if (line->day != DAY_NONE)
        add_move(moves, (struct page_move){.task = line->task,
                                           .name = line->name,
                                           .from = line->day,
                                           .to = planned_day(plan, line)});
}

/* New only if the earlier page told of its day: a page of other days could not have it. */
static void add_new(struct page_moves *moves, const struct line *line)
{
    if (line->day != DAY_NONE && line->day >= moves->first_day && line->day <= moves->last_day)
        add_move(moves,
                 (struct page_move){
                     .task = line->task, .name = line->name, .from = DAY_NONE, .to = line->day});
}

static void see_earlier(struct page_moves *moves, const struct typed_page *earlier)
{
    moves->printed = moves->first_day = moves->last_day = DAY_NONE;
    for (size_t i = 0; i < earlier->count; i++) {
        const struct typed_row *row = &earlier->list[i];

        if (moves->printed == DAY_NONE)
            moves->printed = row->as_of;
        if (row->date == DAY_NONE)
            continue;
        if (moves->first_day == DAY_NONE || row->date < moves->first_day)
            moves->first_day = row->date;
        if (moves->last_day == DAY_NONE || row->date > moves->last_day)
            moves->last_day = row->date;
    }
}

static int by_day(const void *a, const void *b)
{
    const struct page_move *x = a, *y = b;
    daynum xd = x->from != DAY_NONE ? x->from : x->to, yd = y->from != DAY_NONE ? y->from : y->to;
    int order = (xd > yd) - (xd < yd);

    if (order == 0)
        order = compare_text(x->task, y->task);
    if (order == 0)
        order = (x->from > y->from) - (x->from < y->from);
    if (order == 0)
        order = (x->to > y->to) - (x->to < y->to);
    return order != 0 ? order : compare_text(x->name, y->name);
}

struct page_moves page_moves_of(const struct worklist *list, const struct crossing_plan *plan,
                                const struct orchard *orchard, const struct typed_page *earlier)
{
    struct lines before = lines_before(orchard, earlier), now = lines_now(list, orchard->arena);
    struct page_moves moves = {
        .given = true,
        .list = ARENA_ARRAY(orchard->arena, before.count + now.count, struct page_move)};
    size_t b = 0, n = 0;

    see_earlier(&moves, earlier);
    while (b < before.count || n < now.count) {
        int order = b == before.count ? 1
                    : n == now.count  ? -1
                                      : compare_lines(&before.list[b], &now.list[n]);

        if (order < 0) {
            add_gone(&moves, plan, &before.list[b++]);
        } else if (order > 0) {
            add_new(&moves, &now.list[n++]);
        } else {
            add_move(&moves, (struct page_move){.task = now.list[n].task,
                                                .name = now.list[n].name,
                                                .from = before.list[b].day,
                                                .to = now.list[n].day});
            b++;
            n++;
        }
    }
    if (moves.count > 1)
        qsort(moves.list, moves.count, sizeof *moves.list, by_day);
    return moves;
}
