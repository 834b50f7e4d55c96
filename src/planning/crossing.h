/*
 * crossing.h - the dated crossing plan: groups, options, the plan, and what could not be planned.
 *
 * The model is docs/architecture.md's "crossing plan": every bag takes one option (bag day, one or
 * two visits, unbag day); bags per graft, bags per cross, doses per lot and minutes per crew are
 * limits.  plan_check (check_plan.h) recounts any plan independently of the chooser.
 */
#ifndef PLANNING_CROSSING_H
#define PLANNING_CROSSING_H

#include "orchard/issued.h"
#include "orchard/pedigree.h"
#include "orchard/state.h"
#include "planning/dates.h"
#include "planning/flowering.h"

#define VISITS_MOST 2

/* One way to treat one bag.  The second visit is DAY_NONE where there is one only, both are for a
 * bag that only comes off.  Days already done by notes stand as they happened. */
struct option {
    daynum bag, visit[VISITS_MOST], unbag;
};

enum bag_stage { BAG_WANTED, BAG_HANGS, BAG_VISITED_ONCE, BAG_VISITED };

/* Bags that nothing tells apart: one cross on one graft in one season (or one bag that hangs). */
struct group {
    const struct graft_state *graft;
    const struct site *site;
    const struct cross *cross;
    bool turned_round;                     /* an either_way cross with its parents exchanged */
    const struct selection *seed_parent;   /* as done here */
    const struct selection *pollen_parent; /* NULL: cross->mix */
    int season, season_number;
    const struct flowering_row *flowering;
    const struct bloom *bloom; /* of the graft, or of the bag that hangs, as far as it was seen */
    const struct bloom *shed;  /* the site in general */
    const struct bag *hangs;   /* a bag already there; NULL: to be hung */
    enum bag_stage stage;
    int places;           /* bags this group may have (1 when it hangs) */
    double seeds_per_bag; /* expected when pollinated well, chance alive in it; germination not */
    double weight;        /* of the cross's priority */
};

struct planned_task {
    daynum day;
    const char
        *crew; /* NULL: nobody, because the day has been done or is beyond the crews' table */
    const char *lift;
    int half_day; /* 0 morning, 1 afternoon */
};

enum bag_task { TASK_BAG, TASK_POLLINATE_1, TASK_POLLINATE_2, TASK_UNBAG, BAG_TASKS };

struct planned_bag {
    const struct group *group;
    const char *name;      /* TAG-YY-N */
    const struct lot *lot; /* NULL: it hangs unpollinated and only comes off */
    struct option option;
    struct planned_task tasks[BAG_TASKS]; /* day DAY_NONE: not part of the option */
    bool done[BAG_TASKS];                 /* by notes */
    double chance[BAG_TASKS]; /* clean; receptive on the day; receptive; safe to unbag */
    daynum latest[BAG_TASKS]; /* latest safe day of each; DAY_NONE: none is */
    double chance_any;        /* clean and at least one visit receptive */
    double chance_both;       /* clean and both */
    double seeds_expected;    /* 0 of a bag that was noted as not clean */
    double value;   /* with the bag hung on its last safe day: hanging it earlier earns nothing */
    bool pencilled; /* in a season after the as-of one: no crew yet */
};

/* In the words that are printed, in the order in which a cause is looked for. */
enum cause {
    CAUSE_NONE,
    CAUSE_COANCESTRY, /* "self or coancestry" */
    CAUSE_NO_GRAFT,
    CAUSE_NO_STROBILI,
    CAUSE_NO_LOT,
    CAUSE_LOT_DEAD,
    CAUSE_LOT_USED_UP,
    CAUSE_ISOLATION_LOST,
    CAUSE_WINDOW_PAST,
    CAUSE_NO_WORKING_DAY,
    CAUSE_CREW_MINUTES,
    CAUSE_LIFT_MINUTES,
    CAUSES
};
extern const char *const cause_words[CAUSES];

struct shortfall {
    const struct cross *cross;
    int season;          /* the season in which it is short */
    int64_t bags_wanted; /* outstanding bags of the cross in that season's planning */
    int64_t bags_planned;
    int64_t bags_short;
    enum cause cause;   /* the first that holds */
    const char *detail; /* "coancestry 0.25 is above 0.125", "lot P07 germinates 6 %" */
    const char *remedy; /* set by remedies_fill (remedies.h), before it NULL */
    daynum remedy_by;   /* last day on which it still helps; DAY_NONE: none is known */
};

/* What a minute more of crews at a site on a day would be worth, at the plan's prices. */
struct dear_day {
    const struct site *site;
    daynum day;
    double price;
};

struct cross_warning {
    const struct cross *cross;
    double coancestry; /* above the warning level */
};

/* Of the as-of season: what its bags are worth, and what no plan can pass. */
struct bounds {
    double value;
    double bound;      /* with crews where this plan puts them */
    double bound_free; /* with crews free to stand wherever they may */
};

/* A visit of the issued plan that does not stand. */
struct move {
    const char *bag;
    int task;                        /* enum bag_task */
    daynum from, to;                 /* DAY_NONE: it was not issued, or is dropped */
    const char *crew_from, *crew_to; /* NULL: none */
    int half_from, half_to;          /* 0 morning, 1 afternoon; -1: not told */
    bool firm;                       /* it lay inside the firm days */
    const char *reason;              /* "lift down", "better day" */
};

struct crossing_plan {
    daynum as_of;
    struct group *groups;
    size_t group_count;
    struct planned_bag *bags; /* sorted by season, first day, site, tag, name */
    size_t bag_count;
    struct shortfall *shortfalls; /* sorted by season, priority, cross */
    size_t shortfall_count;
    struct cross_warning *warnings;
    size_t warning_count;
    double value;
    struct bounds season;  /* of all that is not pencilled */
    struct dear_day *dear; /* dearest first; of equal ones the earlier, then by site */
    size_t dear_count;
    const struct issued_plan *issued; /* whose visits are firm; NULL: none was given */
    struct move *moves;               /* by bag and task */
    size_t move_count;
    double free_value; /* of the as-of season, were nothing firm; NaN without an issued plan */
};

/* Bag places of a graft from its strobili: whole bags, one more if the rest is at least half a bag,
 * at most `most`. */
int bag_places_of(double strobili, double strobili_per_bag, int most);

/* Whole doses in a lot, both counted in millionths of a millilitre, so that 0.3 ml holds three of
 * 0.1 ml; 0 when the dose is less than one of these. */
int64_t whole_doses_of(double balance_ml, double dose_ml);

/* Does the bag stand for one of those that its cross wants?  Not one that has been pollinated (its
 * seed is expected already), that was noted as not clean, or that only comes off. */
bool stands_for_wanted(const struct planned_bag *bag);

struct crossing_inputs {
    const struct state *state;
    const struct pedigree *pedigree;
    struct dates *dates;
    struct flowering_rows flowering;
    struct arena *arena;
    const struct issued_plan *issued; /* an earlier plan that people hold; NULL: none */
};

/* The season that holds as-of is planned within the crews' minutes; what it leaves short is
 * pencilled into the next season. */
struct crossing_plan crossing_plan_of(const struct crossing_inputs *inputs);

/* One row a visit: every task of every bag from as-of on, sorted by day, site, crew, task, bag. */
struct visit {
    const struct planned_bag *bag;
    enum bag_task task;
};
struct visits {
    struct visit *list;
    size_t count;
};
struct visits crossing_visits(const struct crossing_plan *plan, struct arena *arena);

/* "bag", "pollinate", "pollinate again", "unbag". */
extern const char *const bag_task_words[BAG_TASKS];

#endif
