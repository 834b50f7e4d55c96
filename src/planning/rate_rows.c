/*
 * rate_rows.c - a row beside those that ship and those of the folder.
 */
#include "orchard/order.h"
#include "planning/rate_levels.h"

#include <math.h>
#include <string.h>

static bool same_text(const char *a, const char *b)
{
    return order_text(a, b) == 0;
}

static bool has_cells(const struct rate *row, const struct rate_row *of)
{
    const struct rate_subject *cells = &of->cells;

    return same_text(row->rate, of->rate) && same_text(row->host_species, cells->host_species) &&
           same_text(row->clone, cells->clone) && same_text(row->site_name, cells->site) &&
           same_text(row->selection_name, cells->selection) &&
           row->season_number == cells->season_number;
}

const struct rate *rate_row_with_cells(const struct orchard *orchard, const struct rate_row *row,
                                       bool shipped)
{
    for (size_t i = 0; i < orchard->rates.count; i++) {
        const struct rate *rate = &orchard->rates.list[i];

        if (rate->shipped == shipped && has_cells(rate, row))
            return rate;
    }
    return NULL;
}

/* minutes_each:TASK without a row is the task's own. */
static double rate_in_use(const struct orchard *orchard, const struct rate_row *row)
{
    const struct rate *found = rate_find(orchard, row->rate, row->cells);
    const struct task_kind *task;

    if (found)
        return number_of_decimal(found->value);
    if (row->kind != RATE_MINUTES_EACH)
        return NAN;
    task = orchard_task(orchard, strchr(row->rate, ':') + 1);
    return task && task->minutes_each.units > 0 ? number_of_decimal(task->minutes_each)
                                                : (double)NAN;
}

double rate_shipped(const struct orchard *orchard, const struct rate_row *row)
{
    const struct rate *shipped = rate_row_with_cells(orchard, row, true);

    if (shipped)
        return number_of_decimal(shipped->value);
    return row->kind == RATE_MINUTES_EACH ? rate_in_use(orchard, row) : (double)NAN;
}

static double in_thousandths(double value)
{
    return (double)llround(value * 1000) / 1000;
}

void rate_add_row(struct rate_levels *levels, const struct rate_row *row, double value)
{
    struct rate_fit *fit = levels->fit;
    struct rate_row *added = ARENA_PUSH(levels->arena, fit->list, fit->count, fit->capacity);

    *added = *row;
    added->value = (struct decimal){llround(value * 1000), 3};
    value = number_of_decimal(added->value);
    added->low = fmin(in_thousandths(row->low), value);
    added->high = fmax(in_thousandths(row->high), value);
    added->in_use = rate_in_use(levels->orchard, row);
    added->replaces = rate_row_with_cells(levels->orchard, row, false) != NULL;
}
