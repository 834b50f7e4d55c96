/*
 * replay.h - past seasons told again from what was known at the time, and how far that was off.
 *
 * For every season in which an event was dated: thresholds and clock are fitted to the other
 * seasons, past years lend their weather, and on days before the event its date is told.  Undated
 * cells of the folder are taken as they are now.
 */
#ifndef PLANNING_REPLAY_H
#define PLANNING_REPLAY_H

#include "planning/fit.h"

#define REPLAY_ISSUES_MOST 200
#define REPLAY_BINS 10

/* Days on which dates are told: so many days before the event, or on a day of the year. */
struct replay_issue {
    int lead_days;       /* read when month is 0 */
    struct month_day on; /* month 0: lead_days */
};

struct replay_asked {
    const struct orchard *orchard;
    const struct sights *sights; /* of every event */
    enum event event;            /* to be told */
    const char *site;            /* NULL: every site */
    bool loyo;                   /* all other seasons serve, later ones too: for comparison alone */
    struct fit_wanted wanted;
    size_t issue_count;
    const struct replay_issue *issues;
    int from, to; /* seasons to be told; 0: open */
};

enum replay_season_state {
    REPLAY_TOLD,
    REPLAY_UNDATED,     /* the season itself is not dated, or its weather is missing */
    REPLAY_FEW_SEASONS, /* no other season gives a threshold */
    REPLAY_FEW_MEMBERS  /* fewer past years than MEMBERS_LEAST */
};

/* What was told of one season on one day. */
struct replay_told {
    int season;
    size_t issue; /* into issues */
    daynum issued, observed;
    daynum p10, p50, p90;                /* DAY_NEVER: not reached */
    daynum past_p10, past_p50, past_p90; /* of the other seasons' dates */
    double residual_days;                /* spread of what weather does not tell */
    double score_days, past_score_days;  /* ranked probability scores */
    double unmoved_score_days;           /* past years not being moved by the warming */
    double pinball_days[3];              /* at 10, 50 and 90 % */
    double below, up_to;                 /* chance of days before the event, and with it */
    bool inside;                         /* p10 <= observed <= p90 */
};

struct replay_season {
    int season;
    enum replay_season_state state;
    size_t trained, members; /* seasons that were fitted to; past years lent */
    bool searched;           /* the clock was searched; else it is the folder's */
};

/* Plans of two visits, and how many met the strobili. */
struct replay_visits {
    size_t plans;
    size_t seen;     /* a visit on a day between the first and the last sight of receptive ones */
    size_t possible; /* between the last look before and the first one after */
};

/* All seasons told on one day. */
struct replay_line {
    struct replay_issue issue;
    size_t seasons;
    double mae_days, bias_days; /* of the median */
    size_t inside;
    double inside_p;                    /* chance of a count so far from 80 % */
    double width_days, past_width_days; /* mean days from p10 to p90 */
    double pinball_days[3];
    double score_days, past_score_days;
    double unmoved_score_days;
    double past_mae_days;     /* of the middle of the other seasons' dates */
    double skill;             /* 1 less the ratio of the scores */
    double bins[REPLAY_BINS]; /* seasons by the share of the distribution they lie at */
    struct replay_visits planned, calendar, perfect;
};

struct event_replay {
    const struct site *site;
    const char *species; /* NULL: not told */
    enum event event;
    struct replay_season *seasons; /* [season_count] those asked for */
    size_t season_count, told_seasons;
    struct replay_told *told; /* [told_count] by season, then issue */
    size_t told_count;
    struct replay_line *lines; /* [issue_count] */
};

struct replay {
    struct event_replay *list; /* by site and species */
    size_t count;
    size_t unknown; /* grafts and trees of unknown identity, left out */
};

/*
 * The date told is that of the orchard, as fit.h has it.  Its distribution is that of the days on
 * which members meet the threshold, each moved by whole days with the residual of the fit, which
 * was found on the other seasons alone.  Past dates beside it: those of the other seasons, equally
 * likely.
 *
 * Visits are planned for every graft or tree whose window is bounded by looks on all four sides
 * (events first and last), as the crossing plan values them: two visits two or three days apart,
 * not before the day of issue, of greatest 0.86 P(any) + 0.06 P(both).  Beside them those planned
 * by the mean dates of the other seasons, and by the orchard's true dates of the season.
 *
 * Nothing that is dated after the day of issue matters, but with `loyo` the other seasons.
 */
struct replay replay_of(const struct replay_asked *asked, struct arena *arena);

#endif
