/*
 * walk.c - the order in which a crew walks its trees.
 */
#include "planning/walk.h"

#include <stdlib.h>
#include <string.h>

static const char *block_of(const struct stop *stop)
{
    return stop->tree != NULL ? stop->tree->block : NULL;
}

static int row_of(const struct stop *stop)
{
    return stop->tree != NULL ? stop->tree->row : -1;
}

static int position_of(const struct stop *stop)
{
    return stop->tree != NULL ? stop->tree->position : -1;
}

static int compare_text(const char *a, const char *b)
{
    return a != NULL && b != NULL ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

/* A site's block, which is walked row by row. */
static int compare_blocks(const struct stop *x, const struct stop *y)
{
    int order = strcmp(x->site->name, y->site->name);

    return order != 0 ? order : compare_text(block_of(x), block_of(y));
}

static int compare_rows_of_trees(const struct stop *x, const struct stop *y)
{
    int order = compare_blocks(x, y);

    return order != 0 ? order : row_of(x) - row_of(y);
}

static int compare_on_a_tree(const struct stop *x, const struct stop *y)
{
    int order = (x->order > y->order) - (x->order < y->order);

    return order != 0 ? order : strcmp(x->name, y->name);
}

static int by_walk(const void *a, const void *b)
{
    const struct stop *x = a, *y = b;
    int order = compare_rows_of_trees(x, y);

    if (order == 0)
        order = position_of(x) - position_of(y);
    if (order == 0)
        order = compare_text(x->tree != NULL ? x->tree->name : NULL,
                             y->tree != NULL ? y->tree->name : NULL);
    return order != 0 ? order : compare_on_a_tree(x, y);
}

/* What is done in the morning comes before what is done in the afternoon. */
static int by_day_and_walk(const void *a, const void *b)
{
    const struct stop *x = a, *y = b;
    int order = (x->day > y->day) - (x->day < y->day);

    if (order == 0)
        order = strcmp(x->crew, y->crew);
    if (order == 0)
        order = x->half_day - y->half_day;
    return order != 0 ? order : by_walk(x, y);
}

/* Does another crew name the lift of this one?  Then each has it for the half-days planned. */
static bool shares_lift(const struct orchard *orchard, const struct stop *stop)
{
    for (size_t i = 0; i < orchard->crews.count && stop->lift != NULL; i++) {
        const struct crew_time *time = &orchard->crews.list[i];

        if (time->lift_name != NULL && strcmp(time->lift_name, stop->lift) == 0 &&
            strcmp(time->crew, stop->crew) != 0)
            return true;
    }
    return false;
}

static bool day_shares_lift(const struct orchard *orchard, struct stops day)
{
    for (size_t i = 0; i < day.count; i++)
        if (shares_lift(orchard, &day.list[i]))
            return true;
    return false;
}

/* Turn the trees of one row round, keeping the order on each tree. */
static void walk_back(struct stop *stops, size_t count, struct arena *arena)
{
    struct stop *turned = ARENA_ARRAY(arena, count, struct stop);
    size_t at = 0;

    for (size_t end = count, first; end > 0; end = first) {
        for (first = end - 1; first > 0 && stops[first - 1].tree == stops[end - 1].tree;)
            first--;
        for (size_t i = first; i < end; i++)
            turned[at++] = stops[i];
    }
    memcpy(stops, turned, count * sizeof *stops);
}

/* Every second row of trees of a block is walked back; trees without a row are not turned. */
static void turn_rows(struct stop *stops, size_t count, struct arena *arena)
{
    bool back = false;

    for (size_t first = 0, end; first < count; first = end) {
        for (end = first + 1;
             end < count && compare_rows_of_trees(&stops[first], &stops[end]) == 0;)
            end++;
        if (first > 0 && compare_blocks(&stops[first - 1], &stops[first]) != 0)
            back = false;
        if (row_of(&stops[first]) < 0)
            continue;
        if (back)
            walk_back(&stops[first], end - first, arena);
        back = !back;
    }
}

/* One crew's day, sorted. */
static void walk_day(struct stops day, const struct orchard *orchard, struct arena *arena)
{
    const struct stop *first = &day.list[0], *last = &day.list[day.count - 1];
    size_t morning = 0;

    if (first->site == last->site && !day_shares_lift(orchard, day)) {
        qsort(day.list, day.count, sizeof *day.list, by_walk);
        turn_rows(day.list, day.count, arena);
        return;
    }
    while (morning < day.count && day.list[morning].half_day == 0)
        morning++;
    turn_rows(day.list, morning, arena);
    turn_rows(day.list + morning, day.count - morning, arena);
}

bool walk_is_of_one_day(const struct stop *a, const struct stop *b)
{
    return a->day == b->day && strcmp(a->crew, b->crew) == 0;
}

void walk_stops(struct stops stops, const struct orchard *orchard)
{
    if (stops.count > 1)
        qsort(stops.list, stops.count, sizeof *stops.list, by_day_and_walk);
    for (size_t first = 0, end; first < stops.count; first = end) {
        for (end = first + 1;
             end < stops.count && walk_is_of_one_day(&stops.list[first], &stops.list[end]);)
            end++;
        walk_day((struct stops){&stops.list[first], end - first}, orchard, orchard->arena);
    }
}
