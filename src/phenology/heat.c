/*
 * heat.c - one day's heat units by seven published curves and four cut-offs.
 *
 * Only the day's extremes are known, so each curve assumes a course of temperature between them.
 * All that a cut-off needs of that course is, for a threshold K, the mean of max(0, T - K) and the
 * share of the day above K: so a curve is one function, a cut-off is one line for all curves, and
 * the six cases in which the published tables set the day against two thresholds need no branch of
 * their own.
 *
 * The phase at which a sine passes K is taken by atan2 of both legs of its triangle.  asin of the
 * ratio gives the same angle with 1e-8 instead of 1e-16 near the extremes, where its slope is
 * infinite, and must be kept within +-1 by hand.
 */
#include "conetide/heat.h"

#include "phenology/names.h"

#include <assert.h>
#include <float.h>
#include <math.h>

/* Without it the loop over days calls through a pointer twice a day. */
#define ALWAYS_INLINE inline __attribute__((always_inline))

static const double one_by_pi = 0.31830988618379067154;

/* A temperature that holds all day. */
static inline struct conetide_above above_constant(double temperature, double threshold)
{
    if (temperature <= threshold)
        return (struct conetide_above){0.0, 0.0};
    return (struct conetide_above){temperature - threshold, 1.0};
}

/* The mean of two parts of equal length. */
static inline struct conetide_above halves(struct conetide_above first,
                                           struct conetide_above second)
{
    return (struct conetide_above){(first.heat + second.heat) / 2,
                                   (first.share + second.share) / 2};
}

/* Half a sine wave between low and high, low <= high; rising or falling makes no difference. */
static inline struct conetide_above sine_between(double low, double high, double threshold)
{
    double mean, base, height, angle;

    if (high <= threshold)
        return (struct conetide_above){0.0, 0.0};
    mean = (low + high) / 2;
    if (low >= threshold)
        return (struct conetide_above){mean - threshold, 1.0};
    base = threshold - mean;
    height = sqrt((high - threshold) * (threshold - low));
    angle = atan2(height, base); /* half of what lies above, of the full circle */
    return (struct conetide_above){(height - base * angle) * one_by_pi, angle * one_by_pi};
}

/* A straight line between low and high. */
static inline struct conetide_above line_between(double low, double high, double threshold)
{
    double share;

    if (high <= threshold)
        return (struct conetide_above){0.0, 0.0};
    if (low >= threshold)
        return (struct conetide_above){(low + high) / 2 - threshold, 1.0};
    share = (high - threshold) / (high - low);
    return (struct conetide_above){share * (high - threshold) / 2, share};
}

static struct conetide_above above_average(const struct conetide_day *day, double threshold)
{
    return above_constant((day->tmin + day->tmax) / 2, threshold);
}

static struct conetide_above above_clipped_average(const struct conetide_day *day, double threshold)
{
    return halves(above_constant(day->tmin, threshold), above_constant(day->tmax, threshold));
}

static struct conetide_above above_daily_maximum(const struct conetide_day *day, double threshold)
{
    return above_constant(day->tmax, threshold);
}

static struct conetide_above above_triangle(const struct conetide_day *day, double threshold)
{
    return line_between(day->tmin, day->tmax, threshold);
}

static struct conetide_above above_sine(const struct conetide_day *day, double threshold)
{
    return sine_between(day->tmin, day->tmax, threshold);
}

/* The night after may stay warmer than the day was: the second half may rise. */
static struct conetide_above above_double_triangle(const struct conetide_day *day, double threshold)
{
    bool rises = day->next_tmin > day->tmax;

    return halves(line_between(day->tmin, day->tmax, threshold),
                  line_between(rises ? day->tmax : day->next_tmin,
                               rises ? day->next_tmin : day->tmax, threshold));
}

static struct conetide_above above_double_sine(const struct conetide_day *day, double threshold)
{
    bool rises = day->next_tmin > day->tmax;

    return halves(sine_between(day->tmin, day->tmax, threshold),
                  sine_between(rises ? day->tmax : day->next_tmin,
                               rises ? day->next_tmin : day->tmax, threshold));
}

/* Volumes and pages of the sources are from memory. */

const struct conetide_curve conetide_average = {
    .name = "average",
    .shape = "the mean of the extremes all day",
    .source = "McMaster & Wilhelm 1997, Agric. For. Meteorol. 87:291-300, method 1",
    .above = above_average,
};

const struct conetide_curve conetide_clipped_average = {
    .name = "clipped-average",
    .shape = "half the day at the minimum, half at the maximum, each clipped to the thresholds",
    .source = "McMaster & Wilhelm 1997, Agric. For. Meteorol. 87:291-300, method 2",
    .above = above_clipped_average,
};

const struct conetide_curve conetide_triangle = {
    .name = "triangle",
    .shape = "straight up from the minimum to the maximum and straight down again",
    .source = "Zalom et al. 1983, Univ. California DANR Leaflet 21373",
    .above = above_triangle,
};

const struct conetide_curve conetide_double_triangle = {
    .name = "double-triangle",
    .shape = "straight up to the maximum and straight down to the minimum of the day after",
    .source = "Zalom et al. 1983, Univ. California DANR Leaflet 21373",
    .uses_next_tmin = true,
    .above = above_double_triangle,
};

const struct conetide_curve conetide_sine = {
    .name = "sine",
    .shape = "one sine wave through the minimum and the maximum",
    .source = "Baskerville & Emin 1969, Ecology 50:514-517",
    .above = above_sine,
};

const struct conetide_curve conetide_double_sine = {
    .name = "double-sine",
    .shape = "half a sine wave up to the maximum, half down to the minimum of the day after",
    .source = "Allen 1976, Environ. Entomol. 5:388-396",
    .uses_next_tmin = true,
    .above = above_double_sine,
};

const struct conetide_curve conetide_daily_maximum = {
    .name = "daily-maximum",
    .shape = "the maximum all day",
    .source = "Wing 2019, state forestry extension note on pine pollen, North Carolina",
    .above = above_daily_maximum,
};

const struct conetide_curve *const conetide_curves[] = {
    &conetide_average,       &conetide_clipped_average,
    &conetide_triangle,      &conetide_double_triangle,
    &conetide_sine,          &conetide_double_sine,
    &conetide_daily_maximum, NULL,
};

const char *const conetide_cutoff_names[] = {
    [CONETIDE_CUTOFF_NONE] = "none",
    [CONETIDE_CUTOFF_HORIZONTAL] = "horizontal",
    [CONETIDE_CUTOFF_INTERMEDIATE] = "intermediate",
    [CONETIDE_CUTOFF_VERTICAL] = "vertical",
    NULL,
};

const struct conetide_curve *conetide_curve_named(const char *name)
{
    size_t i;

    for (i = 0; conetide_curves[i] != NULL; i++) {
        if (name_is(name, conetide_curves[i]->name))
            break;
    }
    return conetide_curves[i];
}

bool conetide_cutoff_named(const char *name, enum conetide_cutoff *cutoff)
{
    for (int i = 0; conetide_cutoff_names[i] != NULL; i++) {
        if (name_is(name, conetide_cutoff_names[i])) {
            *cutoff = (enum conetide_cutoff)i;
            return true;
        }
    }
    return false;
}

static enum conetide_status rule_status(const struct conetide_heat_rule *rule)
{
    if ((unsigned)rule->cutoff > CONETIDE_CUTOFF_VERTICAL)
        return CONETIDE_BAD_ARGUMENT;
    if (!isfinite(rule->lower))
        return CONETIDE_BAD_THRESHOLDS;
    if (rule->cutoff == CONETIDE_CUTOFF_NONE)
        return CONETIDE_OK;
    return isfinite(rule->upper) && rule->upper >= rule->lower ? CONETIDE_OK
                                                               : CONETIDE_BAD_THRESHOLDS;
}

/* Why a day is refused; the one test of nearly every day is that none of it holds. */
static inline enum conetide_status day_status(bool uses_next_tmin, const struct conetide_day *day)
{
    bool is_next_missing = uses_next_tmin && !isfinite(day->next_tmin);

    if (day->tmin <= day->tmax && day->tmin >= -DBL_MAX && day->tmax <= DBL_MAX)
        return is_next_missing ? CONETIDE_MISSING : CONETIDE_OK;
    if (!isfinite(day->tmin) || !isfinite(day->tmax) || is_next_missing)
        return CONETIDE_MISSING;
    return CONETIDE_REVERSED;
}

typedef struct conetide_above above_function(const struct conetide_day *day, double threshold);

/*
 * Heat that counts, of a rule and a day without fault.  A difference of nearly equal parts may fall
 * a rounding below 0, and `intermediate` is floored at 0 by definition: no day takes heat away, so
 * sums never fall.  The curve comes in parts, not by its struct: only so does gcc write a constant
 * one out.
 */
static ALWAYS_INLINE double counted_heat(above_function *above, bool uses_next_tmin,
                                         const struct conetide_heat_rule *rule,
                                         const struct conetide_day *day)
{
    double heat = above(day, rule->lower).heat;
    struct conetide_above upper;

    if (rule->cutoff != CONETIDE_CUTOFF_NONE && (day->tmax > rule->upper || uses_next_tmin)) {
        upper = above(day, rule->upper);
        heat -= upper.heat;
        if (rule->cutoff == CONETIDE_CUTOFF_INTERMEDIATE)
            heat -= upper.heat;
        else if (rule->cutoff == CONETIDE_CUTOFF_VERTICAL)
            heat -= (rule->upper - rule->lower) * upper.share;
    }
    return heat > 0.0 ? heat : 0.0;
}

enum conetide_status conetide_heat_day(const struct conetide_heat_rule *rule,
                                       const struct conetide_day *day, double *heat_units)
{
    const struct conetide_curve *curve = rule->curve;
    enum conetide_status status;

    assert(curve != NULL);
    status = rule_status(rule);
    if (status == CONETIDE_OK)
        status = day_status(curve->uses_next_tmin, day);
    *heat_units = status == CONETIDE_OK
                      ? counted_heat(curve->above, curve->uses_next_tmin, rule, day)
                      : (double)NAN;
    return status;
}

struct days {
    size_t n;
    const double *tmin;
    const double *tmax;
    double *heat_units;
};

static inline struct conetide_day day_of(const struct days *days, size_t i)
{
    return (struct conetide_day){days->tmin[i], days->tmax[i],
                                 days->tmin[i + 1 < days->n ? i + 1 : i]};
}

/* All days of a rule without fault; returns the first day with one, or n. */
static ALWAYS_INLINE size_t count_days(above_function *above, bool uses_next_tmin,
                                       const struct conetide_heat_rule *rule,
                                       const struct days *days)
{
    size_t bad_day = days->n;

    for (size_t i = 0; i < days->n; i++) {
        const struct conetide_day day = day_of(days, i);

        if (day_status(uses_next_tmin, &day) == CONETIDE_OK) {
            days->heat_units[i] = counted_heat(above, uses_next_tmin, rule, &day);
        } else {
            days->heat_units[i] = NAN;
            bad_day = i < bad_day ? i : bad_day;
        }
    }
    return bad_day;
}

enum conetide_status conetide_heat_days(const struct conetide_heat_rule *rule, size_t n,
                                        const double *tmin, const double *tmax, double *heat_units,
                                        size_t *bad_day)
{
    const struct conetide_heat_rule own = *rule; /* cannot be what heat_units overwrites */
    const struct days days = {n, tmin, tmax, heat_units};
    struct conetide_day day;
    enum conetide_status status;

    assert(own.curve != NULL);
    status = rule_status(&own);
    if (status != CONETIDE_OK) {
        for (size_t i = 0; i < n; i++)
            heat_units[i] = NAN;
        *bad_day = 0;
        return status;
    }
    /* the usual curve written out in the loop is half as fast again */
    if (own.curve == &conetide_sine)
        *bad_day = count_days(above_sine, false, &own, &days);
    else
        *bad_day = count_days(own.curve->above, own.curve->uses_next_tmin, &own, &days);
    if (*bad_day == n)
        return CONETIDE_OK;
    day = day_of(&days, *bad_day);
    return day_status(own.curve->uses_next_tmin, &day);
}
