/*
 * heat_fan.c - requirements gathered by site and clock, and the spread of sums day by day.
 */
#include "planning/heat_fan.h"

#include "conetide/quantile.h"
#include "orchard/order.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAYS_MORE = 14 }; /* shown after the last line is met: own choice */

/* One selection's requirement. */
struct need {
    const struct site *site;
    const struct threshold *threshold;
    const struct selection *selection;
};

static int compare_needs(const void *left, const void *right)
{
    const struct need *a = left, *b = right;
    const struct threshold *s = a->threshold, *t = b->threshold;
    int order = order_text(a->site->name, b->site->name);

    if (order == 0)
        order = order_text(s->clock_name, t->clock_name);
    if (order == 0)
        order = order_number(s->heat_units_c, t->heat_units_c);
    if (order == 0)
        order = order_number(s->per_day_c, t->per_day_c);
    if (order == 0)
        order = order_place(s->place, t->place);
    if (order == 0)
        order = order_text(a->selection ? a->selection->name : NULL,
                           b->selection ? b->selection->name : NULL);
    return order;
}

static size_t needs_of(const struct flowering_rows *rows, enum event event, int season,
                       struct need *needs)
{
    size_t count = 0, kept = 0;

    for (size_t i = 0; i < rows->count; i++) {
        const struct flowering_row *row = &rows->list[i];
        const struct bloom *plain = bloom_plain(row->bloom);
        const struct threshold *root = plain->table->event[event].root;

        if (row->season == season && plain->table->event[event].members > 0 && root != NULL &&
            root->kind == THRESHOLD_SUM && root->clock != NULL && root->clock->counts == NULL &&
            isfinite(root->heat_units_c))
            needs[count++] = (struct need){row->site, root, row->graft->selection};
    }
    qsort(needs, count, sizeof *needs, compare_needs);
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || compare_needs(&needs[kept - 1], &needs[i]) != 0)
            needs[kept++] = needs[i];
    return kept;
}

static daynum met_day(const int32_t *reached, size_t members, double p, struct arena *arena)
{
    double *sorted = ARENA_ARRAY(arena, members, double), day = NAN;
    enum conetide_status status;

    for (size_t m = 0; m < members; m++) {
        size_t at = m;

        for (; at > 0 && sorted[at - 1] > reached[m]; at--)
            sorted[at] = sorted[at - 1];
        sorted[at] = reached[m];
    }
    status = conetide_quantile(1, members, sorted, p, &day);
    assert(status == CONETIDE_OK);
    (void)status;
    return day >= CONETIDE_NEVER ? DAY_NEVER : (daynum)day;
}

/* "S101, S102 and 3 more"; a row that names no selection holds for all that have none of their own.
 */
static const char *names_of(const struct need *needs, size_t count, struct arena *arena)
{
    enum { NAMED_MOST = 3 };
    struct text names;

    if (needs->threshold->selection_name == NULL)
        return count == 1 && needs->selection ? needs->selection->name
                                              : arena_printf(arena, "%zu selections", count);
    text_init(&names, arena);
    for (size_t i = 0; i < count && i < NAMED_MOST; i++)
        text_addf(&names, "%s%s", i > 0 ? ", " : "",
                  needs[i].selection ? needs[i].selection->name : "unknown");
    if (count > NAMED_MOST)
        text_addf(&names, " and %zu more", count - NAMED_MOST);
    return names.bytes;
}

static void take_lines(struct heat_fan *fan, const struct need *needs, size_t count,
                       struct dates *dates, struct arena *arena)
{
    fan->lines = ARENA_ARRAY(arena, count, struct heat_line);
    for (size_t first = 0, end; first < count; first = end) {
        const struct threshold *row = needs[first].threshold;
        struct heat_line *line = &fan->lines[fan->line_count++];
        const int32_t *reached = dates_reached(dates, fan->site, fan->season, fan->clock,
                                               row->heat_units_c, row->per_day_c);

        for (end = first + 1; end < count && needs[end].threshold == row;)
            end++;
        *line = (struct heat_line){.threshold = row,
                                   .selections = names_of(&needs[first], end - first, arena),
                                   .selection_count = end - first,
                                   .early = met_day(reached, fan->members, 0.1, arena),
                                   .middle = met_day(reached, fan->members, 0.5, arena),
                                   .late = met_day(reached, fan->members, 0.9, arena)};
    }
}

/* Days to show: all until the last line that is met is met late. */
static size_t days_shown(const struct heat_fan *fan, const struct member_sums *sums)
{
    daynum last = fan->as_of;

    for (size_t i = 0; i < fan->line_count; i++) {
        const struct heat_line *line = &fan->lines[i];
        daynum met = line->late != DAY_NEVER ? line->late : line->middle;

        if (met != DAY_NEVER && met > last)
            last = met;
    }
    last += DAYS_MORE;
    if (last >= sums->first + (daynum)sums->days)
        last = sums->first + (daynum)sums->days - 1;
    return last < sums->first ? 0 : (size_t)(last - sums->first) + 1;
}

static int compare_doubles(const void *left, const void *right)
{
    return order_number(*(const double *)left, *(const double *)right);
}

static void take_days(struct heat_fan *fan, const struct member_sums *sums, struct dates *dates,
                      struct arena *arena)
{
    double *day_sums = ARENA_ARRAY(arena, sums->members, double);
    double *const quantiles[] = {fan->low, fan->middle, fan->high};

    for (size_t d = 0; d < fan->days; d++) {
        for (size_t m = 0; m < sums->members; m++)
            day_sums[m] = sums->sums[m * sums->stride + d];
        qsort(day_sums, sums->members, sizeof *day_sums, compare_doubles);
        for (size_t q = 0; q < 3; q++) {
            enum conetide_status status =
                conetide_quantile(8, sums->members, day_sums, three_chances[q], &quantiles[q][d]);
            if (status != CONETIDE_OK)
                quantiles[q][d] = NAN;
        }
        if (fan->known == d && day_sums[0] >= day_sums[sums->members - 1])
            fan->known = d + 1;
        fan->usual[d] =
            dates_mean_sum(dates, fan->site, fan->season, fan->clock, fan->first_day + (daynum)d);
    }
}

static struct heat_fan fan_of(const struct need *needs, size_t count, struct heat_fan fan,
                              struct dates *dates, struct arena *arena)
{
    struct member_sums sums = dates_member_sums(dates, fan.site, fan.season, fan.clock);

    fan.first_day = sums.first;
    fan.members = sums.members;
    if (sums.members == 0)
        return fan;
    take_lines(&fan, needs, count, dates, arena);
    fan.days = days_shown(&fan, &sums);
    fan.low = ARENA_ARRAY(arena, fan.days, double);
    fan.middle = ARENA_ARRAY(arena, fan.days, double);
    fan.high = ARENA_ARRAY(arena, fan.days, double);
    fan.usual = ARENA_ARRAY(arena, fan.days, double);
    take_days(&fan, &sums, dates, arena);
    return fan;
}

struct heat_fans heat_fans_of(const struct flowering_rows *rows, struct dates *dates,
                              const struct orchard *orchard, enum event event, int season,
                              struct arena *arena)
{
    struct need *needs = ARENA_ARRAY(arena, rows->count, struct need);
    size_t count = needs_of(rows, event, season, needs);
    struct heat_fans fans = {ARENA_ARRAY(arena, count, struct heat_fan), 0};

    for (size_t first = 0, end; first < count; first = end) {
        struct heat_fan fan = {.site = needs[first].site,
                               .clock = needs[first].threshold->clock,
                               .season = season,
                               .as_of = orchard->as_of};

        for (end = first + 1; end < count && needs[end].site == needs[first].site &&
                              needs[end].threshold->clock == needs[first].threshold->clock;)
            end++;
        fan = fan_of(&needs[first], end - first, fan, dates, arena);
        if (fan.members > 0)
            fans.list[fans.count++] = fan;
    }
    return fans;
}
