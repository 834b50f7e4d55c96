/*
 * chance.c - chances of days and dates of events over all futures of a projection.
 *
 * A member moved by j is receptive on day d when j lies in d - last .. d - first, and its bag of
 * day b is clean when j > b - opening: every event of one member is an interval of j, so is every
 * conjunction, and its weight is one difference of C.  Chances of two days are never multiplied:
 * days of one future come together.
 */
#include "conetide/projection.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>

/* The shift that brings an event on day d; an event that never comes needs an endless one. */
static inline int64_t shift_to(int32_t d, int32_t event)
{
    return event == CONETIDE_NEVER ? INT64_MIN : (int64_t)d - event;
}

static double larger(double a, double b)
{
    return a > b ? a : b;
}

/* Shifts over `below`, up to `most`. */
struct span {
    int64_t below, most;
};

static const struct span every_shift = {INT64_MIN, INT64_MAX};

static void keep_over(struct span *span, int64_t below)
{
    span->below = below > span->below ? below : span->below;
}

static void keep_up_to(struct span *span, int64_t most)
{
    span->most = most < span->most ? most : span->most;
}

static double span_weight(const struct conetide_shifts *shifts, struct span span)
{
    if (span.most <= span.below)
        return 0;
    return larger(0, conetide_shift_cumulative(shifts, span.most) -
                         conetide_shift_cumulative(shifts, span.below));
}

/* Weight of a span of an element's shifts, of those that are not ruled out. */
static double given_weight(const struct conetide_given *given, struct span span)
{
    const struct span possible = {given->least - INT64_C(1), given->most};

    keep_over(&span, possible.below);
    keep_up_to(&span, possible.most);
    return given->weight * span_weight(given->shifts, span) / span_weight(given->shifts, possible);
}

/* The event has come by d, or not: it is moved by the shift, or it stands. */
static void must_come(struct span *span, bool stands, int32_t event, int32_t d)
{
    if (!stands)
        keep_up_to(span, shift_to(d, event));
    else if (event > d)
        *span = (struct span){0, 0};
}

static void must_not_come(struct span *span, bool stands, int32_t event, int32_t d)
{
    if (!stands)
        keep_over(span, shift_to(d, event));
    else if (event <= d)
        *span = (struct span){0, 0};
}

/* Weight of the shifts with which window m holds both days (d1 <= d2) and, if `bag_day` is not
 * NULL, comes late enough for a bag hung that day to be clean. */
static double weight_of(const struct conetide_futures *futures, size_t m, const int32_t *bag_day,
                        const int32_t days[2])
{
    const struct conetide_window *window = &futures->windows[m];
    struct span span = every_shift;

    must_come(&span, (futures->stands & CONETIDE_FIRST_STANDS) != 0, window->first, days[0]);
    must_not_come(&span, false, window->last, days[1] - 1);
    if (bag_day != NULL)
        must_not_come(&span, (futures->stands & CONETIDE_OPENING_STANDS) != 0, window->opening,
                      *bag_day);
    return futures->given != NULL ? given_weight(&futures->given[m], span)
                                  : span_weight(futures->shifts, span);
}

/* The mean over members, or the sum of what their weights make of them. */
static double of_all(const struct conetide_futures *futures, double total)
{
    return futures->given != NULL ? total : total / (double)futures->members;
}

static double both(const struct conetide_futures *futures, const int32_t *bag_day, int32_t d1,
                   int32_t d2)
{
    const int32_t days[2] = {d1 < d2 ? d1 : d2, d1 < d2 ? d2 : d1};
    double total = 0;

    assert(futures->members >= 1);
    for (size_t m = 0; m < futures->members; m++)
        total += weight_of(futures, m, bag_day, days);
    return of_all(futures, total);
}

static double any(const struct conetide_futures *futures, const int32_t *bag_day, int32_t d1,
                  int32_t d2)
{
    double one = both(futures, bag_day, d1, d1), other = both(futures, bag_day, d2, d2);

    return larger(0, one + other - both(futures, bag_day, d1, d2));
}

double conetide_chance(const struct conetide_futures *futures, int32_t d)
{
    return both(futures, NULL, d, d);
}

double conetide_chance_both(const struct conetide_futures *futures, int32_t d1, int32_t d2)
{
    return both(futures, NULL, d1, d2);
}

double conetide_chance_any(const struct conetide_futures *futures, int32_t d1, int32_t d2)
{
    return any(futures, NULL, d1, d2);
}

double conetide_chance_clean(const struct conetide_futures *futures, int32_t b)
{
    double opened = 0;

    assert(futures->members >= 1);
    for (size_t m = 0; m < futures->members; m++) {
        struct span span = every_shift;

        must_come(&span, (futures->stands & CONETIDE_OPENING_STANDS) != 0,
                  futures->windows[m].opening, b);
        opened += futures->given != NULL ? given_weight(&futures->given[m], span)
                                         : span_weight(futures->shifts, span);
    }
    return larger(0, 1 - of_all(futures, opened));
}

double conetide_chance_clean_and(const struct conetide_futures *futures, int32_t b, int32_t d)
{
    return both(futures, &b, d, d);
}

double conetide_chance_clean_both(const struct conetide_futures *futures, int32_t b, int32_t d1,
                                  int32_t d2)
{
    return both(futures, &b, d1, d2);
}

double conetide_chance_clean_any(const struct conetide_futures *futures, int32_t b, int32_t d1,
                                 int32_t d2)
{
    return any(futures, &b, d1, d2);
}

static int32_t within(const struct conetide_event *event, size_t m, int32_t day)
{
    if (event->no_later != NULL && day > event->no_later[m])
        day = event->no_later[m];
    if (event->no_sooner != NULL && day < event->no_sooner[m])
        day = event->no_sooner[m];
    return day;
}

/* Weight of the element's shifts that bring the event on `day`, before them, by d. */
static double moved_by(const struct conetide_event *event, size_t m, int32_t day, int32_t d)
{
    struct span span = every_shift;

    must_come(&span, event->stands, day, d);
    return event->given != NULL ? given_weight(&event->given[m], span)
                                : span_weight(event->shifts, span);
}

double conetide_element_by(const struct conetide_event *event, size_t m, int32_t d)
{
    const struct conetide_shifts *own = event->own;
    double total = 0;

    if (d <= event->not_by)
        return 0;
    if (own == NULL || event->days[m] == CONETIDE_NEVER)
        return moved_by(event, m, event->days[m], d);
    for (int i = -own->reach; i <= own->reach; i++)
        total += span_weight(own, (struct span){i - INT64_C(1), i}) *
                 moved_by(event, m, within(event, m, event->days[m] + i), d);
    return total;
}

double conetide_known_event_by(const struct conetide_event *event, int32_t d)
{
    double total = 0;

    assert(event->members >= 1);
    for (size_t m = 0; m < event->members; m++)
        total += conetide_element_by(event, m, d);
    if (event->given == NULL)
        total /= (double)event->members;
    return total < 1 - CONETIDE_CHANCE_TOLERANCE ? total : 1;
}

double conetide_event_by(size_t n, const int32_t *days, const struct conetide_shifts *shifts,
                         int32_t d)
{
    const struct conetide_event event = {n, days, shifts, .not_by = INT32_MIN};

    return conetide_known_event_by(&event, d);
}

/* First and last day on which some element may bring the event; false when none ever does. */
static bool event_range(const struct conetide_event *event, int64_t *first, int64_t *last)
{
    int reach = event->shifts->reach + (event->own != NULL ? event->own->reach : 0);
    bool found = false;

    for (size_t i = 0; i < event->members; i++) {
        int32_t day = event->days[i];

        if (day == CONETIDE_NEVER)
            continue;
        if (!found || day < *first)
            *first = day;
        if (!found || day > *last)
            *last = day;
        found = true;
    }
    *first -= reach;
    *last += reach;
    if (*last <= event->not_by)
        *last = event->not_by + INT64_C(1);
    return found;
}

enum conetide_status conetide_known_event_date(const struct conetide_event *event, double p,
                                               int32_t *day)
{
    int64_t low = 0, high = 0;

    *day = CONETIDE_NEVER;
    if (event->members == 0 || !(p > 0 && p <= 1))
        return CONETIDE_BAD_ARGUMENT;
    p -= CONETIDE_CHANCE_TOLERANCE;
    if (!event_range(event, &low, &high))
        return CONETIDE_NOT_REACHED;
    assert(low >= INT32_MIN && high < INT32_MAX);
    if (conetide_known_event_by(event, (int32_t)high) < p)
        return CONETIDE_NOT_REACHED;
    while (low < high) {
        int64_t middle = low + (high - low) / 2;

        if (conetide_known_event_by(event, (int32_t)middle) >= p)
            high = middle;
        else
            low = middle + 1;
    }
    *day = (int32_t)low;
    return CONETIDE_OK;
}

enum conetide_status conetide_event_date(size_t n, const int32_t *days,
                                         const struct conetide_shifts *shifts, double p,
                                         int32_t *day)
{
    const struct conetide_event event = {n, days, shifts, .not_by = INT32_MIN};

    return conetide_known_event_date(&event, p, day);
}

/* How many members bring the event, their mean day and their sum of squares about it. */
static size_t event_moments(size_t n, const int32_t *days, double *mean, double *squares)
{
    size_t reached = 0;

    *mean = *squares = 0;
    for (size_t i = 0; i < n; i++) {
        double off;

        if (days[i] == CONETIDE_NEVER)
            continue;
        reached++;
        off = days[i] - *mean;
        *mean += off / (double)reached;
        *squares += off * (days[i] - *mean);
    }
    return reached;
}

void conetide_event_spread(size_t n, const int32_t *days, double *mean, double *sd_days)
{
    double squares;
    size_t reached = event_moments(n, days, mean, &squares);

    if (reached == 0)
        *mean = NAN;
    *sd_days = reached < 2 ? (double)NAN : sqrt(squares / (double)(reached - 1));
}

double conetide_sigma_at_least(size_t n, const int32_t *days, double sigma_days,
                               double least_sd_days)
{
    double mean, squares, lacking;
    size_t reached = event_moments(n, days, &mean, &squares);

    lacking = least_sd_days * least_sd_days - (reached > 0 ? squares / (double)reached : 0);
    return lacking > sigma_days * sigma_days ? sqrt(lacking) : sigma_days;
}
