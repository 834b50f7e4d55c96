/*
 * censored.c - greatest likelihood of a normal distribution from bounds.
 *
 * Unknowns are a = mean / sd and c = 1 / sd, with values first moved and scaled to some ten units:
 * the standard normal bounds are then z = c x - a, linear in both, and the log likelihood is
 * concave. Each value adds its first and second derivatives; a step solves two equations.
 */
#include "conetide/censored.h"

#include "conetide/normal.h"

#include <math.h>
#include <stdbool.h>

enum { STEPS_MOST = 200, HALVINGS_MOST = 60 };

static const double root_two_pi = 2.50662827463100050242;

/* Where values are moved to: x = (value - centre) / scale. */
struct frame {
    double centre, scale;
};

struct point {
    double a, c; /* mean / sd, 1 / sd, in the frame */
};

/* Log likelihood at a point with its slopes and bends. */
struct hill {
    double height;
    double by_a, by_c;
    double by_aa, by_ac, by_cc;
};

static double density(double z)
{
    return isinf(z) ? 0 : exp(-z * z / 2) / root_two_pi;
}

/* Chance between two standard normal bounds, from the tail in which both keep their digits. */
static double chance_between(double low, double high)
{
    if (low > 0)
        return conetide_normal_cumulative(-low) - conetide_normal_cumulative(-high);
    return conetide_normal_cumulative(high) - conetide_normal_cumulative(low);
}

/* z times its density, also where z is infinite. */
static double moment(double z)
{
    return isinf(z) ? 0 : z * density(z);
}

/* x times a weight that is 0 where x is infinite. */
static double times(double x, double weight)
{
    return isinf(x) ? 0 : x * weight;
}

static void add_known(struct hill *hill, struct point at, double x)
{
    double z = at.c * x - at.a;

    hill->height += log(at.c / root_two_pi) - z * z / 2;
    hill->by_a += z;
    hill->by_c += 1 / at.c - z * x;
    hill->by_aa -= 1;
    hill->by_ac += x;
    hill->by_cc -= 1 / (at.c * at.c) + x * x;
}

static void add_between(struct hill *hill, struct point at, double lower, double upper)
{
    double low = isinf(lower) ? lower : at.c * lower - at.a;
    double high = isinf(upper) ? upper : at.c * upper - at.a;
    double chance = chance_between(low, high);
    double f_low = density(low) / chance, f_high = density(high) / chance;
    double m_low = moment(low) / chance, m_high = moment(high) / chance;
    double by_a = f_low - f_high, by_c = times(upper, f_high) - times(lower, f_low);

    hill->height += log(chance);
    hill->by_a += by_a;
    hill->by_c += by_c;
    hill->by_aa -= m_high - m_low + by_a * by_a;
    hill->by_ac += times(upper, m_high) - times(lower, m_low) - by_a * by_c;
    hill->by_cc -=
        times(upper, times(upper, m_high)) - times(lower, times(lower, m_low)) + by_c * by_c;
}

static struct hill hill_at(size_t n, const struct conetide_bounds *bounds, struct frame frame,
                           struct point at)
{
    struct hill hill = {0, 0, 0, 0, 0, 0};

    for (size_t i = 0; i < n; i++) {
        double lower = (bounds[i].lower - frame.centre) / frame.scale;
        double upper = (bounds[i].upper - frame.centre) / frame.scale;

        if (isinf(lower) && isinf(upper))
            continue;
        if (bounds[i].lower < bounds[i].upper)
            add_between(&hill, at, lower, upper);
        else
            add_known(&hill, at, lower);
    }
    return hill;
}

/* What the bounds say together. */
struct extent {
    double least, most; /* of all finite bounds */
    double highest_lower, lowest_upper;
};

static bool extent_of(size_t n, const struct conetide_bounds *bounds, struct extent *extent)
{
    *extent = (struct extent){INFINITY, -INFINITY, -INFINITY, INFINITY};
    for (size_t i = 0; i < n; i++) {
        double lower = bounds[i].lower, upper = bounds[i].upper;

        if (!(lower <= upper) || (isinf(lower) && lower > 0) || (isinf(upper) && upper < 0))
            return false;
        extent->highest_lower = fmax(extent->highest_lower, lower);
        extent->lowest_upper = fmin(extent->lowest_upper, upper);
        if (isfinite(lower)) {
            extent->least = fmin(extent->least, lower);
            extent->most = fmax(extent->most, lower);
        }
        if (isfinite(upper)) {
            extent->least = fmin(extent->least, upper);
            extent->most = fmax(extent->most, upper);
        }
    }
    return true;
}

/* Newton's step uphill; steepest ascent where rounding has flattened the bends. */
static struct point step_from(const struct hill *hill)
{
    double determinant = hill->by_aa * hill->by_cc - hill->by_ac * hill->by_ac;

    if (!(hill->by_aa < 0) || !(determinant > 0))
        return (struct point){hill->by_a, hill->by_c};
    return (struct point){(hill->by_ac * hill->by_c - hill->by_cc * hill->by_a) / determinant,
                          (hill->by_ac * hill->by_a - hill->by_aa * hill->by_c) / determinant};
}

/* Climb one step, halved until it does not lead down; false when no step leads anywhere. */
static bool climb(size_t n, const struct conetide_bounds *bounds, struct frame frame,
                  struct point *at, struct hill *hill)
{
    struct point step = step_from(hill);

    for (int halving = 0; halving < HALVINGS_MOST; halving++) {
        struct point next = {at->a + step.a, at->c + step.c};

        if (next.c > 0) {
            struct hill found = hill_at(n, bounds, frame, next);

            if (found.height >= hill->height) {
                bool moved = next.a < at->a || next.a > at->a || next.c < at->c || next.c > at->c;

                *at = next;
                *hill = found;
                return moved;
            }
        }
        step.a /= 2;
        step.c /= 2;
    }
    return false;
}

/* The spread, in units of the values' extent, from which on none is taken to be too large. */
static const double endless_sd = 1e6;

enum conetide_status conetide_fit_normal(size_t n, const struct conetide_bounds *bounds,
                                         struct conetide_normal_fit *fit)
{
    struct extent extent;
    struct frame frame;
    struct point at = {0, 1};
    struct hill hill;
    size_t known = 0;

    *fit = (struct conetide_normal_fit){NAN, NAN, NAN};
    if (!extent_of(n, bounds, &extent))
        return CONETIDE_BAD_ARGUMENT;
    if (extent.highest_lower <= extent.lowest_upper)
        return CONETIDE_NOT_IDENTIFIABLE; /* also when there is no bound at all */
    frame.centre = extent.least + (extent.most - extent.least) / 2;
    frame.scale = (extent.most - extent.least) / 2; /* over 0, as two bounds differ */
    hill = hill_at(n, bounds, frame, at);
    for (int i = 0; i < STEPS_MOST; i++) {
        double slope = fabs(hill.by_a) + fabs(hill.by_c);

        if (!climb(n, bounds, frame, &at, &hill) || slope < 1e-13 * (double)n)
            break;
        if (at.c * endless_sd < 1)
            return CONETIDE_NOT_IDENTIFIABLE;
    }
    for (size_t i = 0; i < n; i++)
        known += !(bounds[i].lower < bounds[i].upper);
    fit->mean = frame.centre + frame.scale * (at.a / at.c);
    fit->sd = frame.scale / at.c;
    fit->log_likelihood = hill.height - (double)known * log(frame.scale);
    return CONETIDE_OK;
}
