#include "planning/replay_visits.h"

#include "orchard/order.h"
#include "planning/crossing_parts.h"
#include "planning/fit_group.h"

#include <math.h>

struct plan {
    daynum first, second; /* DAY_NONE: no visit */
};

/* Plans for the grafts of one selection. */
struct plans {
    struct plan planned, calendar, perfect;
};

/* ---- what was seen -------------------------------------------------------------------------- */

static int order_subjects(const struct sight *a, const struct sight *b)
{
    int order = order_whole(a->season, b->season);

    if (order == 0)
        order = order_text(a->selection ? a->selection->name : NULL,
                           b->selection ? b->selection->name : NULL);
    return order != 0 ? order : order_text(a->subject, b->subject);
}

static bool is_bounded(const struct sight *sight)
{
    return sight->after != DAY_NONE && sight->by != DAY_NONE;
}

static void add_window(const struct sight *first, const struct sight *last,
                       struct replay_window *windows, size_t *count)
{
    if (!is_bounded(first) || !is_bounded(last) || last->after < first->by)
        return;
    windows[(*count)++] =
        (struct replay_window){.season = first->season,
                               .selection = first->selection,
                               .seen_from = first->by,
                               .seen_to = last->after,
                               .possible_from = first->after + 1,
                               .possible_to = last->by - 1,
                               .lasts_days = ((double)last->after + last->by) / 2 -
                                             ((double)first->after + first->by) / 2};
}

/* Sights of `first` and of `last` stand in one order, each event's together. */
struct replay_windows replay_windows_of(const struct replay_group *group, struct arena *arena)
{
    struct replay_window *windows = ARENA_ARRAY(arena, group->n, struct replay_window);
    size_t count = 0, last = 0;

    while (last < group->n && group->sights[last].event != EVENT_LAST)
        last++;
    for (size_t i = 0; i < group->n; i++) {
        const struct sight *first = &group->sights[i];

        if (first->event != EVENT_FIRST)
            continue;
        while (last < group->n && group->sights[last].event == EVENT_LAST &&
               order_subjects(&group->sights[last], first) < 0)
            last++;
        if (last < group->n && group->sights[last].event == EVENT_LAST &&
            order_subjects(&group->sights[last], first) == 0)
            add_window(first, &group->sights[last++], windows, &count);
    }
    return (struct replay_windows){windows, count};
}

/* ---- what was planned ----------------------------------------------------------------------- */

enum { LATER_LEAST = 2, LATER_MOST = 3, AHEAD = LATER_MOST + 1 };

/* Days on which any future brings something; false when none does. */
static bool span_of(const struct conetide_futures *futures, daynum *first, daynum *last)
{
    *first = DAY_NEVER;
    *last = DAY_NONE;
    for (size_t m = 0; m < futures->members; m++) {
        const struct conetide_window *window = &futures->windows[m];

        if (window->first == CONETIDE_NEVER)
            continue;
        *first = window->first < *first ? window->first : *first;
        *last = window->last > *last ? window->last : *last;
    }
    if (*last == DAY_NONE)
        return false;
    *first -= futures->shifts->reach;
    *last += futures->shifts->reach;
    return true;
}

/* Two days of which neither chance leaves room for more than `least` are not asked together. */
static double value_over(const struct conetide_futures *futures, const struct plan *plan,
                         const double chances[2], double least)
{
    double sum = chances[0] + chances[1], both;

    if (uptake_share(fmin(1, sum), fmin(chances[0], chances[1])) <= least)
        return least;
    both = conetide_chance_both(futures, plan->first, plan->second);
    return uptake_share(sum - both, both);
}

/* The earliest of equally good plans. */
static struct plan best_plan(const struct conetide_futures *futures, daynum from)
{
    struct plan best = {DAY_NONE, DAY_NONE};
    double best_value = 0,
           chance[AHEAD]; /* of the day at hand and those after it, by day % AHEAD */
    daynum first, last;

    if (!span_of(futures, &first, &last))
        return best;
    first = first > from ? first : from;
    for (daynum i = 0; i < LATER_MOST; i++)
        chance[i] = conetide_chance(futures, first + i);
    for (daynum i = 0; first + i <= last; i++) {
        chance[(i + LATER_MOST) % AHEAD] = conetide_chance(futures, first + i + LATER_MOST);
        for (daynum later = LATER_LEAST; later <= LATER_MOST; later++) {
            const struct plan plan = {first + i, first + i + later};
            const double chances[] = {chance[i % AHEAD], chance[(i + later) % AHEAD]};
            double least = best_value + CONETIDE_CHANCE_TOLERANCE;
            double value = value_over(futures, &plan, chances, least);

            if (value > least) {
                best_value = value;
                best = plan;
            }
        }
    }
    return best;
}

static const struct fit_selection *own_of(const struct event_fit *fit,
                                          const struct selection *selection)
{
    for (size_t i = 0; i < fit->selection_count; i++) {
        if (selection && fit->selections[i].selection == selection &&
            fit->selections[i].units_c > 0)
            return &fit->selections[i];
    }
    return NULL;
}

static double or_prior(double days, double prior)
{
    return isnan(days) ? prior : days;
}

/* Of one graft's date, season and weather being known. */
static double graft_variance(const struct event_fit *fit, const struct selection *selection)
{
    const struct fit_selection *own = own_of(fit, selection);
    struct mixed_prior prior = fit_prior_days();
    double spread = or_prior(fit->spread_days, prior.spread_sd), clones = 0;

    if (own)
        clones = own->error_days;
    else if (selection)
        clones = or_prior(fit->clone_spread_days, prior.selection_sd);
    return spread * spread + clones * clones;
}

static double late_days(const struct event_fit *fit, const struct selection *selection)
{
    const struct fit_selection *own = own_of(fit, selection);

    return own ? (own->units_c - fit->units_c) / fit->heat_per_day_c : 0;
}

static struct heat_need need_of(const struct event_fit *fit, const struct selection *selection)
{
    const struct fit_selection *own = own_of(fit, selection);

    return (struct heat_need){&fit->search.clock.clock, own ? own->units_c : fit->units_c,
                              fit->search.clock.per_day_c};
}

static struct plan plan_within(size_t members, const struct conetide_window *windows,
                               double variance, daynum from)
{
    struct conetide_shifts shifts;
    const struct conetide_futures futures = {
        .members = members, .windows = windows, .shifts = &shifts};

    if (conetide_shifts_of(sqrt(variance), &shifts) != CONETIDE_OK)
        return (struct plan){DAY_NONE, DAY_NONE};
    return best_plan(&futures, from);
}

/* A window that lasts as long as those of the other seasons. */
static struct conetide_window window_from(const struct replay_trained *trained, int32_t first)
{
    int32_t last = CONETIDE_NEVER;

    if (first != CONETIDE_NEVER)
        last = first + (int32_t)lround(trained->lasts_days);
    return (struct conetide_window){first, first, last};
}

static struct plan plan_from_weather(const struct replay_trained *trained, struct season_heat *heat,
                                     const struct season_weather *weather,
                                     const struct selection *selection, daynum issued)
{
    const int32_t *first =
        season_heat_reached(heat, weather, need_of(&trained->first, selection), FUTURES_OF_NOW);
    struct conetide_window *windows =
        ARENA_ARRAY(heat->arena, weather->members, struct conetide_window);
    double residual = trained->first.residual_days;

    for (size_t m = 0; m < weather->members; m++)
        windows[m] = window_from(trained, first[m]);
    return plan_within(weather->members, windows,
                       residual * residual + graft_variance(&trained->first, selection), issued);
}

/* From the orchard's date, moved by what a selection is late. */
static struct plan plan_about(const struct replay_trained *trained,
                              const struct selection *selection, double date, double variance)
{
    struct conetide_window window =
        window_from(trained, (int32_t)lround(date + late_days(&trained->first, selection)));

    return plan_within(1, &window, variance + graft_variance(&trained->first, selection), DAY_NONE);
}

/* Mean date of the seasons fitted to, on days of season `season`, and their variance. */
static double mean_date(const struct event_fit *fit, const struct season_weather *weather,
                        double *variance)
{
    int month = weather->rule.northern ? 1 : 7;
    double mean = 0, squares = 0;
    size_t n = 0;

    for (size_t s = 0; s < fit->season_count; s++) {
        double x, off;

        if (fit->seasons[s].date == DAY_NONE)
            continue;
        x = fit->seasons[s].date - day_from_civil(fit->seasons[s].season, month, 1);
        off = x - mean;
        mean += off / (double)++n;
        squares += off * (x - mean);
    }
    *variance = n > 1 ? squares / (double)(n - 1) : 0;
    return mean + day_from_civil(weather->season, month, 1);
}

static struct plans plans_of(const struct replay_trained *trained, struct season_heat *heat,
                             const struct season_weather *weather,
                             const struct selection *selection, daynum issued)
{
    double variance, mean = mean_date(&trained->first, weather, &variance);

    return (struct plans){plan_from_weather(trained, heat, weather, selection, issued),
                          plan_about(trained, selection, mean, variance),
                          plan_about(trained, selection, trained->true_first, 0)};
}

/* ---- what became of it ---------------------------------------------------------------------- */

static bool meets(const struct plan *plan, daynum from, daynum to)
{
    return (plan->first >= from && plan->first <= to) ||
           (plan->second >= from && plan->second <= to);
}

static void add_visits(const struct plan *plan, const struct replay_window *window,
                       struct replay_visits *visits)
{
    visits->plans++;
    visits->seen += meets(plan, window->seen_from, window->seen_to);
    visits->possible += meets(plan, window->possible_from, window->possible_to);
}

void replay_plan_visits(const struct replay_trained *trained, struct season_heat *heat,
                        const struct season_weather *weather, daynum issued,
                        struct replay_line *line)
{
    struct plans plans = {{DAY_NONE, DAY_NONE}, {DAY_NONE, DAY_NONE}, {DAY_NONE, DAY_NONE}};

    for (size_t i = 0; i < trained->windows.count; i++) {
        const struct replay_window *window = &trained->windows.list[i];

        if (i == 0 || window->selection != window[-1].selection)
            plans = plans_of(trained, heat, weather, window->selection, issued);
        add_visits(&plans.planned, window, &line->planned);
        add_visits(&plans.calendar, window, &line->calendar);
        add_visits(&plans.perfect, window, &line->perfect);
    }
}
