/*
 * choose_option.c - the best option of one bag, by the days that fit its jobs.
 *
 * The jobs of a bag lie on different days, so each day is asked once and all visits are gone
 * through; none is left out.  The day of bagging is the latest that fits and is not weighed: in a
 * bag strobili are at least as tender to frost and heat as in the open (trial of pollination bags
 * 2019 and Krugman 1966, both abstracts), so time in it is kept short, and the chance of a clean
 * bag has its threshold already.
 */
#include "planning/crossing_parts.h"

#define NEAR_BEST 0.98 /* own choice: worth a place less to open, walk to and set up */
#define VISIT_SPAN (VISIT_DAYS_MOST + 4) /* a second visit goes 3 days further */
#define NO_PLACE (-1)

/* The ways a bag may go, day by day.  new_places: NO_PLACE where the day does not fit. */
struct calendar {
    daynum bag_first, visit_first;
    int bag_days, visit_days; /* of first visits; second ones go 3 days further */
    bool bag_fits[BAG_DAYS];
    int visit_new[VISIT_SPAN];
    int unbag_new[VISIT_SPAN]; /* by day of the last visit */
    daynum unbag[VISIT_SPAN];
    const struct option *fixed;
};

static int new_places(const struct ways *ways, const struct candidate *candidate, enum job job,
                      daynum day)
{
    if (day < ways->as_of)
        return NO_PLACE;
    switch (staff_fit(ways->staff, (struct errand){candidate, job, day}, ways->mode)) {
    case FIT_OPEN_PLACE:
        return 0;
    case FIT_NEW_PLACE:
        return 1;
    case FIT_NOT:
    default:
        return NO_PLACE;
    }
}

daynum first_unbag_day(const struct candidate *candidate, daynum visit)
{
    daynum safe = candidate->table->first_safe;

    if (safe == DAY_NONE)
        return must_come_off(candidate) ? visit + UNBAG_WAIT : DAY_NONE;
    return safe > visit + UNBAG_WAIT ? safe : visit + UNBAG_WAIT;
}

struct slot {
    daynum day;
    int new_places;
};

/* Of the days the first in an open place, else the first that fits. */
static struct slot unbag_slot(const struct ways *ways, const struct candidate *candidate,
                              daynum first, daynum last)
{
    struct slot best = {DAY_NONE, NO_PLACE};

    for (daynum day = first; day <= last && best.new_places != 0; day++) {
        int new_here = new_places(ways, candidate, JOB_UNBAG, day);

        if (new_here != NO_PLACE && (best.new_places == NO_PLACE || new_here == 0))
            best = (struct slot){day, new_here};
    }
    return best;
}

/* A pollinated bag whose window is past comes off late rather than never. */
static void find_unbag(const struct ways *ways, const struct candidate *candidate, daynum visit,
                       struct calendar *calendar)
{
    int at = visit - calendar->visit_first;
    daynum first = first_unbag_day(candidate, visit);
    daynum last = first != DAY_NONE ? first + UNBAG_DAYS - 1 : DAY_NONE;

    calendar->unbag_new[at] = NO_PLACE;
    if (first == DAY_NONE)
        return;
    if (first < ways->as_of)
        first = ways->as_of;
    if (last < first && must_come_off(candidate))
        last = first + UNBAG_DAYS - 1;
    if (ways->fixed != NULL && ways->fixed->unbag != DAY_NONE) {
        if (ways->fixed->unbag < first || ways->fixed->unbag > last)
            return;
        first = last = ways->fixed->unbag;
    }
    struct slot slot = unbag_slot(ways, candidate, first, last);
    calendar->unbag[at] = slot.day;
    calendar->unbag_new[at] = slot.new_places;
}

static bool is_free_or(daynum fixed, daynum day)
{
    return fixed == DAY_NONE || fixed == day;
}

static void fill_bag_days(const struct ways *ways, const struct candidate *candidate,
                          struct calendar *calendar)
{
    const struct bag *hangs = candidate->group->hangs;

    if (hangs != NULL) {
        calendar->bag_first = hangs->bagged_on;
        calendar->bag_days = 1;
        calendar->bag_fits[0] = true;
        return;
    }
    calendar->bag_first = candidate->table->last_clean - (BAG_DAYS - 1);
    calendar->bag_days = BAG_DAYS;
    for (int b = 0; b < BAG_DAYS; b++)
        calendar->bag_fits[b] =
            is_free_or(ways->fixed != NULL ? ways->fixed->bag : DAY_NONE,
                       calendar->bag_first + b) &&
            new_places(ways, candidate, JOB_BAG, calendar->bag_first + b) != NO_PLACE;
}

static void fill_visit_days(const struct ways *ways, const struct candidate *candidate,
                            struct calendar *calendar)
{
    const struct bag *hangs = candidate->group->hangs;
    bool begun = hangs != NULL && hangs->visits > 0;

    calendar->visit_first = begun ? hangs->visit_on[0] : candidate->table->first_visit;
    calendar->visit_days = begun ? 1 : candidate->table->visit_days;
    for (int i = 0; i < calendar->visit_days + second_visit_days[SECOND_VISITS - 1]; i++) {
        daynum day = calendar->visit_first + i;

        calendar->visit_new[i] =
            begun && i == 0 ? 0 : new_places(ways, candidate, JOB_POLLINATE, day);
        calendar->unbag_new[i] = NO_PLACE;
        if (calendar->visit_new[i] != NO_PLACE)
            find_unbag(ways, candidate, day, calendar);
    }
}

/* The latest day that fits and lies before the visit; DAY_NONE without one. */
static daynum bag_day_before(const struct calendar *calendar, daynum visit)
{
    for (int b = calendar->bag_days - 1; b >= 0; b--)
        if (calendar->bag_fits[b] && calendar->bag_first + b < visit)
            return calendar->bag_first + b;
    return DAY_NONE;
}

static double share_of(const struct candidate *candidate, int i, int k)
{
    const struct option_table *table = candidate->table;
    const struct bag *hangs = candidate->group->hangs;

    if (hangs == NULL)
        return table->fresh[i * SECOND_VISITS + k];
    if (hangs->visits == 0)
        return table->hanging[i * SECOND_VISITS + k];
    return hanging_share(table->bloom, hangs->visit_on[0], second_visit_days[k]);
}

struct pick {
    double share;
    int new_places; /* NO_PLACE: nothing picked */
    struct option option;
};

/* What one lot allows. */
struct lot_limits {
    daynum ready_on;
    int64_t doses;
};

/* The option (i, k) as a pick; new_places is NO_PLACE when some day of it does not fit, and does
 * not count that of bagging, which cannot be chosen. */
static struct pick pick_of(const struct candidate *candidate, const struct calendar *calendar,
                           struct lot_limits limits, const int at[2])
{
    const struct bag *hangs = candidate->group->hangs;
    bool begun = hangs != NULL && hangs->visits > 0;
    int later = second_visit_days[at[1]], last = at[0] + later;
    daynum visit = calendar->visit_first + at[0];
    struct pick pick = {
        .new_places = NO_PLACE,
        .option = {.bag = bag_day_before(calendar, visit),
                   .visit = {visit, later > 0 ? visit + later : DAY_NONE}},
    };

    if (pick.option.bag == DAY_NONE || calendar->visit_new[at[0]] == NO_PLACE ||
        calendar->visit_new[last] == NO_PLACE || calendar->unbag_new[last] == NO_PLACE ||
        (!begun && limits.ready_on != DAY_NONE && pick.option.visit[0] <= limits.ready_on) ||
        (begun ? 0 : 1) + (later > 0 ? 1 : 0) > limits.doses)
        return pick;
    if (calendar->fixed != NULL &&
        ((!begun && !is_free_or(calendar->fixed->visit[0], visit)) ||
         !is_free_or(calendar->fixed->visit[1], later > 0 ? visit + later : DAY_NEVER)))
        return pick;
    pick.share = share_of(candidate, at[0], at[1]);
    pick.option.unbag = calendar->unbag[last];
    pick.new_places = calendar->visit_new[at[0]] + (later > 0 ? calendar->visit_new[last] : 0) +
                      calendar->unbag_new[last];
    return pick;
}

/* Of options of at least this share: the best, or that with the fewest new places. */
static struct pick scan(const struct candidate *candidate, const struct calendar *calendar,
                        struct lot_limits limits, double least)
{
    struct pick best = {.new_places = NO_PLACE};
    bool by_places = least > 0;

    for (int i = 0; i < calendar->visit_days; i++)
        for (int k = 0; k < SECOND_VISITS; k++) {
            struct pick pick = pick_of(candidate, calendar, limits, (int[]){i, k});

            if (pick.new_places == NO_PLACE || pick.share < least ||
                (pick.share <= 0 && !must_come_off(candidate)))
                continue;
            bool fewer = by_places && pick.new_places < best.new_places;
            bool as_few = !by_places || pick.new_places == best.new_places;
            if (best.new_places == NO_PLACE || fewer || (as_few && pick.share > best.share))
                best = pick;
        }
    return best;
}

/* It was never pollinated and holds nothing that may be hurt: it comes off at once. */
static struct choice choose_past(const struct ways *ways, const struct candidate *candidate)
{
    daynum first = ways->as_of, last = ways->as_of + UNBAG_DAYS - 1;

    if (ways->fixed != NULL && ways->fixed->unbag != DAY_NONE) {
        last = ways->fixed->unbag < last ? ways->fixed->unbag : last;
        first = ways->fixed->unbag;
    }
    struct slot slot = unbag_slot(ways, candidate, first, last);

    return (struct choice){
        .found = slot.new_places != NO_PLACE,
        .option = {candidate->group->hangs->bagged_on, {DAY_NONE, DAY_NONE}, slot.day},
    };
}

/* Nothing is left but to take it off. */
static struct pick pick_visited(const struct ways *ways, const struct candidate *candidate,
                                struct calendar *calendar)
{
    const struct bag *hangs = candidate->group->hangs;
    const size_t told = sizeof hangs->visit_on / sizeof *hangs->visit_on;
    size_t visits = hangs->visits < told ? hangs->visits : told;
    daynum first = hangs->visit_on[visits - 2], last = hangs->visit_on[visits - 1];

    calendar->visit_first = last;
    find_unbag(ways, candidate, last, calendar);
    return (struct pick){
        .share = two_visits_share(candidate->table->bloom, first, last),
        .new_places = calendar->unbag_new[0],
        .option = {hangs->bagged_on, {first, last}, calendar->unbag[0]},
    };
}

/* No further visit to what is not wanted any more, or with pollen that must not be used. */
static bool may_visit(const struct candidate *candidate, const struct lot_left *lot)
{
    const struct want *want = candidate->want;

    return want->cross->state == CROSS_WANTED && !want->refused && !lot->dead &&
           lot->balance->usable && candidate->worth > 0;
}

static struct choice choose_by_lot(const struct candidate *candidate,
                                   const struct calendar *calendar, struct lot_left *lot)
{
    struct lot_limits limits = {lot->balance->ready_on, may_visit(candidate, lot) ? lot->doses : 0};
    struct choice choice = {.lot = lot};
    struct pick best = scan(candidate, calendar, limits, 0.0);

    if (best.new_places == NO_PLACE)
        return choice;
    if (best.new_places > 0 && best.share > 0)
        best = scan(candidate, calendar, limits, NEAR_BEST * best.share);
    choice.found = true;
    choice.option = best.option;
    choice.share = best.share;
    choice.value = candidate->worth * lot->share * best.share;
    return choice;
}

struct choice choose(const struct ways *ways, const struct candidate *candidate)
{
    struct calendar calendar = {.bag_days = 0, .fixed = ways->fixed};
    struct choice best = {.found = false};

    if (is_past(candidate))
        return choose_past(ways, candidate);
    if (candidate->lot_count == 0 || candidate->table->last_clean == DAY_NONE)
        return best;
    if (candidate->group->stage == BAG_VISITED) {
        struct pick pick = pick_visited(ways, candidate, &calendar);

        best.found = pick.new_places != NO_PLACE;
        best.lot = candidate->lots[0];
        best.option = pick.option;
        best.share = pick.share;
        best.value = candidate->worth * best.lot->share * pick.share;
        return best;
    }
    fill_bag_days(ways, candidate, &calendar);
    fill_visit_days(ways, candidate, &calendar);
    for (size_t l = 0; l < candidate->lot_count; l++) {
        struct choice choice = choose_by_lot(candidate, &calendar, candidate->lots[l]);

        if (choice.found && (!best.found || choice.value > best.value))
            best = choice;
    }
    return best;
}
