/*
 * heat.h - the heat units of one day from its extremes.
 *
 * A curve says how temperature is taken to run between the extremes; a cut-off says what counts
 * above the upper threshold.  All temperatures of a call share one unit; heat units come out in
 * that unit times a day.
 */
#ifndef CONETIDE_HEAT_H
#define CONETIDE_HEAT_H

#include "conetide/status.h"

#include <stdbool.h>
#include <stddef.h>

/* Of one day and a threshold K: mean of max(0, T - K), and the share of the day with T > K. */
struct conetide_above {
    double heat;
    double share;
};

struct conetide_day {
    double tmin;
    double tmax;
    double next_tmin; /* of the day after; only double curves use it */
};

struct conetide_curve {
    const char *name;   /* "sine" */
    const char *shape;  /* one line, for people */
    const char *source; /* published description */
    bool uses_next_tmin;
    struct conetide_above (*above)(const struct conetide_day *day, double threshold);
};

extern const struct conetide_curve conetide_average, conetide_clipped_average, conetide_triangle,
    conetide_double_triangle, conetide_sine, conetide_double_sine, conetide_daily_maximum;

/* All curves in the order above, ended by NULL; and one by its name, or NULL. */
extern const struct conetide_curve *const conetide_curves[];
const struct conetide_curve *conetide_curve_named(const char *name);

enum conetide_cutoff {
    CONETIDE_CUTOFF_NONE,
    CONETIDE_CUTOFF_HORIZONTAL,
    CONETIDE_CUTOFF_INTERMEDIATE,
    CONETIDE_CUTOFF_VERTICAL
};

/* "none", "horizontal", "intermediate", "vertical"; NULL-ended, indexed by enum conetide_cutoff. */
extern const char *const conetide_cutoff_names[];
bool conetide_cutoff_named(const char *name, enum conetide_cutoff *cutoff);

struct conetide_heat_rule {
    const struct conetide_curve *curve;
    enum conetide_cutoff cutoff;
    double lower;
    double upper; /* not read when cutoff is none */
};

enum conetide_status conetide_heat_day(const struct conetide_heat_rule *rule,
                                       const struct conetide_day *day, double *heat_units)
    __attribute__((warn_unused_result));

/*
 * n days at once.  The last day takes its own minimum as the next.  heat_units[n].  Returns the
 * first status that is not OK, and *bad_day its index; later days are computed all the same.
 */
enum conetide_status conetide_heat_days(const struct conetide_heat_rule *rule, size_t n,
                                        const double *tmin, const double *tmax, double *heat_units,
                                        size_t *bad_day) __attribute__((warn_unused_result));

#endif
