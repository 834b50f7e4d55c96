#include "orchard/lookup.h"

#include "orchard/order.h"

#include <math.h>
#include <string.h>

static bool equal(const char *cell, const char *subject)
{
    return subject && strcmp(cell, subject) == 0;
}

/* Does a selection cell name the subject's clone, under any of its names? */
static bool same_clone(const struct orchard *orchard, const char *cell, const char *subject)
{
    return equal(cell, subject) || (subject && selection_same(orchard_selection(orchard, cell),
                                                              orchard_selection(orchard, subject)));
}

/* Of graft_open and graft_close the selection cell holds an interstock clone: no other names. */
static bool names_interstock(enum event event)
{
    return event == EVENT_GRAFT_OPEN || event == EVENT_GRAFT_CLOSE;
}

static bool selection_matches(const struct orchard *orchard, const struct threshold *row,
                              const char *selection)
{
    if (!row->selection_name)
        return true;
    return names_interstock(row->event) ? equal(row->selection_name, selection)
                                        : same_clone(orchard, row->selection_name, selection);
}

enum { SCORE_SPECIES = 1, SCORE_SITE = 2, SCORE_SELECTION = 4 };

static int score(const struct threshold *row)
{
    return (row->selection_name ? SCORE_SELECTION : 0) + (row->site_name ? SCORE_SITE : 0) +
           (row->species ? SCORE_SPECIES : 0);
}

/* One of the four ways in which a row can serve a subject, tried in the order of enum basis. */
static bool serves(const struct orchard *orchard, const struct threshold *row,
                   const struct threshold_subject *subject, enum basis as)
{
    enum basis typed = as == BASIS_OTHER_SITE ? BASIS_FITTED_HERE : as;
    if (row->basis != typed || (row->species && !equal(row->species, subject->species)))
        return false;
    bool here = !row->site_name || equal(row->site_name, subject->site);
    return here == (as != BASIS_OTHER_SITE) && selection_matches(orchard, row, subject->selection);
}

struct threshold_found threshold_find(const struct orchard *orchard, enum event event,
                                      struct threshold_subject subject)
{
    for (int basis = 0; basis < BASES; basis++) {
        const struct threshold *best = NULL;
        int best_score = -1;
        for (size_t i = 0; i < orchard->thresholds.count; i++) {
            const struct threshold *row = &orchard->thresholds.list[i];
            if (row->event != event || !serves(orchard, row, &subject, (enum basis)basis))
                continue;
            int row_score = score(row);
            if (basis == BASIS_OTHER_SITE)
                row_score -= SCORE_SITE; /* the site is another: it speaks for nothing */
            bool own_before_shipped = best && best->shipped && !row->shipped;
            if (row_score > best_score || (row_score == best_score && own_before_shipped)) {
                best = row;
                best_score = row_score;
            }
        }
        if (best)
            return (struct threshold_found){best, (enum basis)basis, best->selection_name != NULL};
    }
    return (struct threshold_found){NULL, BASIS_CALENDAR, false};
}

/* Filled cells that match in the low digits' place, then which they are; -1: does not match. */
static int rate_score(const struct orchard *orchard, const struct rate *row,
                      const struct rate_subject *subject)
{
    if ((row->clone && !equal(row->clone, subject->clone)) ||
        (row->site_name && !equal(row->site_name, subject->site)) ||
        (row->host_species && !equal(row->host_species, subject->host_species)) ||
        (row->season_number && row->season_number != subject->season_number) ||
        (row->selection_name && !same_clone(orchard, row->selection_name, subject->selection)))
        return -1;
    int filled = 0, which = 0;
    const bool cells[] = {row->selection_name != NULL, row->clone != NULL, row->site_name != NULL,
                          row->host_species != NULL, row->season_number != 0};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++) {
        filled += cells[i];
        which = 2 * which + cells[i];
    }
    return 32 * filled + which;
}

/* Index of the first row of a rate in the list sorted by rate. */
static size_t first_of_rate(const struct orchard *orchard, const char *rate)
{
    size_t low = 0, high = orchard->rates.count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (order_text(orchard->rates.list[middle].rate, rate) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

const struct rate *rate_find(const struct orchard *orchard, const char *rate,
                             struct rate_subject subject)
{
    const struct rate *best = NULL;
    int best_score = -1;
    for (size_t i = first_of_rate(orchard, rate); i < orchard->rates.count; i++) {
        const struct rate *row = &orchard->rates.list[i];
        if (strcmp(row->rate, rate) != 0)
            break;
        int row_score = rate_score(orchard, row, &subject);
        bool own_before_shipped = best && best->shipped && !row->shipped;
        if (row_score > best_score ||
            (row_score >= 0 && row_score == best_score && own_before_shipped)) {
            best = row;
            best_score = row_score;
        }
    }
    return best;
}

const struct rate *rate_of_bad_year(const struct orchard *orchard, const char *rate,
                                    struct rate_subject subject)
{
    const struct rate *holds = rate_find(orchard, rate, subject), *lowest = NULL;
    double low = holds ? number_of_decimal(holds->value) : NAN;
    for (size_t i = first_of_rate(orchard, rate); i < orchard->rates.count; i++) {
        const struct rate *row = &orchard->rates.list[i];
        if (strcmp(row->rate, rate) != 0)
            break;
        if (row->low < low && rate_score(orchard, row, &subject) >= 0) {
            low = row->low;
            lowest = row;
        }
    }
    return lowest;
}

/* Hundredths, halves up; 0 for what is negative or out of range. */
static int64_t hundredths(struct decimal value)
{
    int64_t units = value.units;
    if (units <= 0)
        return 0;
    if (value.scale <= 2) {
        for (int scale = value.scale; scale < 2; scale++) {
            if (units > INT64_MAX / 10)
                return 0;
            units *= 10;
        }
        return units;
    }
    int64_t divisor = 1;
    for (int scale = value.scale; scale > 2; scale--)
        divisor *= 10;
    return units / divisor + (units % divisor >= divisor - units % divisor ? 1 : 0);
}

struct task_minutes task_minutes_of(const struct orchard *orchard, const struct task_kind *task,
                                    struct rate_subject subject)
{
    static const char prefix[] = "minutes_each:";
    struct decimal each = task->minutes_each;
    size_t prefix_length = sizeof prefix - 1;
    for (size_t i = first_of_rate(orchard, prefix); i < orchard->rates.count; i++) {
        const char *rate = orchard->rates.list[i].rate;
        if (strncmp(rate, prefix, prefix_length) != 0)
            break;
        if (strcmp(rate + prefix_length, task->task) != 0)
            continue;
        const struct rate *found = rate_find(orchard, rate, subject);
        if (found)
            each = found->value;
        break;
    }
    return (struct task_minutes){hundredths(each), hundredths(task->minutes_per_tree),
                                 hundredths(task->minutes_per_site)};
}
