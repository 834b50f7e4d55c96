/*
 * fit.h - thresholds fitted to what was seen in past seasons, and how wrong they will be.
 */
#ifndef PLANNING_FIT_H
#define PLANNING_FIT_H

#include "planning/fit_search.h"
#include "planning/sights.h"

#define FIT_SEASONS_LEAST 5   /* with fewer no clock is searched (own choice) */
#define FIT_SEASONS_MARKED 10 /* with fewer the errors themselves are uncertain (own choice) */
#define FIT_SEASONS_JUDGED 3  /* with fewer no season can be told from the others */
#define FIT_INTERVAL_MOST 14  /* days between two looks that still date a season (own choice) */
#define FIT_MISSING_MOST 10   /* days filled in a season (facts/degreedays.md 5.6) */

enum fit_season_state {
    FIT_SEASON_USED,
    FIT_SEASON_UNDATED,   /* nothing was seen before and after with looks near enough */
    FIT_SEASON_NO_WEATHER /* a day of weather is missing that the sums need, or too many were */
};

struct fit_season_seen {
    int season;
    size_t sights;
    enum fit_season_state state;
    daynum date; /* of the orchard, as if every selection were seen; DAY_NONE: not used */
};

struct fit_selection {
    const struct selection *selection;
    double units_c;
    double error_days; /* standard deviation of what is not known of it */
    size_t sights;
    int seasons;
};

/* A graft or tree that runs apart from the others of its name. */
struct fit_label {
    const struct selection *selection;
    const char *subject;
    double days;           /* later than the others; negative: earlier */
    double chance;         /* that chance alone parts one graft so far or farther */
    size_t sights, others; /* dates of it, and of the others of its name */
};

/* Errors of single grafts, every season projected from the others, the clock chosen without it. */
struct fit_graft_errors {
    size_t dates;                      /* 0: not reckoned */
    struct conetide_errors selections; /* by the thresholds of selections */
    struct conetide_errors general;    /* by the one threshold */
    struct conetide_errors calendar;   /* by the mean date and each selection's lateness */
};

struct event_fit {
    const struct site *site;
    const char *species; /* NULL: not told */
    enum event event;
    size_t sights;                   /* of the seasons used */
    struct fit_season_seen *seasons; /* [season_count] */
    size_t season_count, used;
    struct fit_search search; /* clock, valley, errors of the orchard's date */
    bool judged;              /* there are errors */
    bool fitted;              /* there is a threshold */
    double units_c;
    double heat_per_day_c;            /* what the sum gains on a day about the event's */
    double residual_days;             /* between seasons */
    double spread_days;               /* between grafts of one selection; NaN: not seen */
    double clone_spread_days;         /* between selections; NaN: not seen */
    struct fit_selection *selections; /* by name */
    size_t selection_count;
    struct fit_graft_errors grafts;
    struct fit_label *labels; /* by selection and subject */
    size_t label_count;
};

struct fits {
    struct event_fit *list; /* by site, species and event */
    size_t count;
    size_t unknown; /* grafts and trees of unknown identity, left out */
};

struct fit_wanted {
    const struct conetide_curve *curve; /* the only one to be searched; NULL: all */
    const struct clock *clock;          /* to be taken; NULL: searched, or the folder's */
};

/*
 * One fit for every site, species and event of the sights.
 *
 * The date of the orchard in a season is what its sights have in common once the lateness of
 * selections is taken off (mixed.h, in days).  With FIT_SEASONS_LEAST seasons dated the clock is
 * searched (fit_search.h); with fewer it is that of the folder's threshold for the event, or
 * sine-37f.  By the clock each sight has a heat sum at the end of the day before which and by which
 * it came; thresholds of site and selections come of these bounds (mixed.h, in heat units).
 *
 * `curve`: the only one to be searched, or NULL; a clock for other sites had better count a curve
 * that follows the hours of a day (docs/skill.md).
 *
 * residual_days is the error of the orchard's date in seasons left out, the planner's default
 * of 2.5 days being counted as MIXED_PRIOR_WORTH more seasons.
 */
struct fits fits_of(const struct sights *sights, const struct orchard *orchard,
                    const struct conetide_curve *curve, struct arena *arena);

/* The same less the errors of single grafts and the labels.  With a `clock` none is searched. */
struct fits fits_without_errors_of(const struct sights *sights, const struct orchard *orchard,
                                   const struct fit_wanted *wanted, struct arena *arena);

#endif
