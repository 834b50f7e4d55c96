/*
 * What a run at a day cannot know is taken away before anything is joined, so that no later code
 * has to ask for dates.  Undated cells are present truth and stay.
 */
#include "orchard/orchard.h"

#include <math.h>

/* Is `day` known and after `as_of`? */
static bool ahead(daynum day, daynum as_of)
{
    return day != DAY_NONE && day > as_of;
}

/* Keep the rows of a list for which `dated` is not ahead. */
#define KEEP_ROWS(rows, dated)                                                                     \
    do {                                                                                           \
        size_t kept = 0;                                                                           \
        for (size_t i = 0; i < (rows).count; i++)                                                  \
            if (!ahead((rows).list[i].dated, day))                                                 \
                (rows).list[kept++] = (rows).list[i];                                              \
        (rows).count = kept;                                                                       \
    } while (0)

static void forget_tree_cells(struct tree *tree, daynum day)
{
    if (ahead(tree->health_on, day)) {
        tree->health = HEALTH_UNKNOWN;
        tree->health_on = DAY_NONE;
    }
    if (ahead(tree->label_checked_on, day)) {
        tree->label_checked_on = DAY_NONE;
        tree->label_checked_how = NULL;
    }
}

static void forget_graft_cells(struct graft *graft, daynum day)
{
    if (ahead(graft->condition_on, day)) {
        graft->condition = CONDITION_UNKNOWN;
        graft->condition_on = DAY_NONE;
    }
    if (ahead(graft->identity_on, day)) {
        graft->identity = IDENTITY_UNCHECKED;
        graft->identity_on = DAY_NONE;
        graft->identity_how = NULL;
    }
}

static void forget_lot_cells(struct lot *lot, daynum day)
{
    if (ahead(lot->measured_on, day)) {
        lot->volume_ml = NAN;
        lot->measured_on = DAY_NONE;
    }
    if (ahead(lot->tested_on, day)) {
        lot->germination_pct = NAN;
        lot->tested_on = DAY_NONE;
    }
}

static void forget_weather(struct record *record, daynum day)
{
    if (record->count == 0)
        return;
    if (record->first_day > day)
        record->count = 0;
    else if ((size_t)(day - record->first_day) + 1 < record->count)
        record->count = (size_t)(day - record->first_day) + 1;
    /* A record ends with its last observed day, whatever was observed after `day`. */
    while (record->count && isnan(record->tmin_c[record->count - 1]) &&
           isnan(record->tmax_c[record->count - 1]))
        record->count--;
}

void orchard_as_of(struct orchard *orchard, daynum day)
{
    orchard->as_of = day;
    KEEP_ROWS(orchard->grafts, grafted_on);
    KEEP_ROWS(orchard->batches, cut_on);
    KEEP_ROWS(orchard->notes, date);
    KEEP_ROWS(orchard->forecasts, issued);

    for (size_t i = 0; i < orchard->trees.count; i++)
        forget_tree_cells(&orchard->trees.list[i], day);
    for (size_t i = 0; i < orchard->grafts.count; i++)
        forget_graft_cells(&orchard->grafts.list[i], day);
    for (size_t i = 0; i < orchard->batches.count; i++)
        if (ahead(orchard->batches.list[i].discarded_on, day))
            orchard->batches.list[i].discarded_on = DAY_NONE;
    for (size_t i = 0; i < orchard->lots.count; i++)
        forget_lot_cells(&orchard->lots.list[i], day);

    /* A station without a day left is as if it had no file. */
    size_t kept = 0;
    for (size_t i = 0; i < orchard->records.count; i++) {
        forget_weather(&orchard->records.list[i], day);
        if (orchard->records.list[i].count)
            orchard->records.list[kept++] = orchard->records.list[i];
    }
    orchard->records.count = kept;
}
