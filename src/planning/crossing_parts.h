/*
 * crossing_parts.h - what the files of the crossing plan share; of others only demand includes it,
 * so that both count seed, lots and places alike.
 *
 * supply.c: what crosses want and lots hold.  options.c: the value of every way to treat a bag.
 * groups.c: bags that may be had; candidate.c: each with its limits.  staff.c: crews, half-day by
 * half-day.  choose_option.c: the best option of a bag; chooser.c: which bags; take_choice.c: one
 * bag taken; retake.c: as an earlier plan had it.  causes.c: why not more; shortfalls.c: for whom.
 * optimise.c: the season as a packing; optimise_take.c: its plan as bags of crews; staff_stands.c:
 * crews as its stands. crossing_plan.c: the plan.
 * firm.c, firm_reasons.c, firm_moves.c: an issued plan, what stands of it and what moves.
 */
#ifndef PLANNING_CROSSING_PARTS_H
#define PLANNING_CROSSING_PARTS_H

#include "planning/crews.h"
#include "planning/crossing.h"
#include "planning/jobs.h"
#include "solving/packing.h"

/* What one cross wants; [orchard->crosses.count], same order. */
struct want {
    const struct cross *cross;
    double coancestry;
    bool selfs, refused;
    double seeds_expected; /* filled seed, counted or expected of pollinated bags */
    bool impossible;       /* no number of bags gives the seed: a rate is 0 */
    int64_t bags;          /* outstanding, hanging unpollinated ones among them */
    int64_t left;          /* of these not planned */
    int64_t at_start;      /* left when the phase began */
    int32_t limit;         /* its row while the season is optimised */
};

struct lot_left {
    const struct lot_balance *balance;
    int64_t doses; /* whole ones left; DOSES_UNKNOWN when the lot was never measured */
    double share;  /* of the seed that fully germinating pollen gives */
    bool dead;     /* germinates too little to be used */
    int32_t limit; /* its row while the season is optimised; PACK_NONE: doses unknown */
};
#define DOSES_UNKNOWN INT64_MAX

struct supply {
    const struct crossing_inputs *inputs;
    struct want *wants;
    struct lot_left *lots;           /* [orchard->lots.count], same order */
    const struct cross **true_cross; /* [state->bag_count]: bag_truth_of each */
};

struct supply supply_of(const struct crossing_inputs *inputs);

/* Shares of the pollen chambers' fill (Bridgwater & Williams 1983): 1 is several applications. */
double uptake_share(double chance_any, double chance_both);

/* Of a bag that hangs, clean or not by what was noted; second may be DAY_NONE. */
double two_visits_share(const struct bloom *bloom, daynum first, daynum second);
double hanging_share(const struct bloom *bloom, daynum visit, int later);

#define VISIT_DAYS_MOST 366
#define BAG_DAYS 8    /* a bag is hung on the last clean day, or on one of the 7 before */
#define UNBAG_WAIT 10 /* days after the last visit */
#define UNBAG_DAYS 15 /* days on which a bag may come off, from the first safe one */
#define UNBAG_CHANCE 0.95
#define SECOND_VISITS 3 /* none, 2 days later, 3 days later */
extern const int second_visit_days[SECOND_VISITS];

/* Every way to treat a bag of one bloom from as-of on. */
struct option_table {
    const struct bloom *bloom, *shed;
    daynum last_clean;   /* DAY_NONE: not known */
    daynum first_safe;   /* to unbag; DAY_NONE: never safe enough */
    daynum latest_visit; /* last day with half the best day's chance; DAY_NONE */
    daynum last_visit;   /* last day worth a first visit, though it be past; DAY_NONE */
    daynum first_visit;  /* the days from as-of on that are worth one */
    int visit_days;      /* 0: none is left */
    double *fresh;       /* [visit_days][SECOND_VISITS] uptake shares, clean among them, of a bag
                            hung on the last clean day before the visit */
    double *hanging;     /* [visit_days][SECOND_VISITS] of a clean bag that hangs */
    double best_fresh;   /* over days from as-of on */
};

struct option_tables;
struct option_tables *option_tables_new(struct arena *arena, daynum as_of, double clean_chance);
const struct option_table *option_table_of(struct option_tables *tables, const struct bloom *bloom,
                                           const struct bloom *shed);

/* The places of one graft in one season, shared by its crosses. */
struct carrier {
    int left;
    int reserved;  /* of these planned, and not yet given to a crew */
    int32_t limit; /* its row while the season is optimised */
    int users;
};

/* A group with what the chooser needs of it; same index as the plan's groups. */
struct candidate {
    struct group *group;
    struct want *want;
    const struct option_table *table;
    struct carrier *carrier;
    int *on_tree; /* bags of this cross on this tree, shared by its grafts */
    struct lot_left **lots;
    size_t lot_count; /* of its pollen parent, usable and not dead, best first */
    int64_t minutes[JOBS];
    enum work work[JOBS];
    double worth; /* of a well pollinated bag: weight times seeds */
    double best;  /* value of its best option were there nobody else */
    int phase;    /* 0: as-of season, 1: pencilled into the next */
    int planned;
    bool closed;    /* nothing more fits */
    int32_t packed; /* its first group of the packing; PACK_NONE */
};

/* A bag that hangs unpollinated when no receptive day is left. */
bool is_past(const struct candidate *candidate);

/* It hangs, and no seed of its cross is expected of it: it was not clean, or is past. */
bool gives_no_seed(const struct candidate *candidate);

/* Is its bag one of those that the cross wants?  One that has been pollinated is wanted no more. */
bool is_wanted(const struct candidate *candidate);

/* It has been pollinated or is past: late rather than never. */
bool must_come_off(const struct candidate *candidate);

struct candidates {
    struct group *groups;
    struct candidate *list;
    size_t count;
};
/* Bags that a graft may still carry in a season: each bag that has hung took its shoot. */
int places_left(const struct supply *supply, const struct flowering_row *row);

/* Minutes, lots, seed and worth of a candidate whose group, want and table stand. */
void fill_candidate(const struct supply *supply, struct candidate *candidate);

/* Is it pollen that the group's bags may take?  A bag that has been pollinated keeps its lot. */
bool lot_is_pollen_of(const struct lot *lot, const struct group *group);

struct candidates candidates_of(struct supply *supply);

/* How strictly a day is asked for. */
enum fit_mode { FIT_ANY_DAY, FIT_WORKING_DAY, FIT_WITHOUT_LIFT, FIT_CREW };

enum fit_level { FIT_NOT, FIT_NEW_PLACE, FIT_OPEN_PLACE };

#define STAFF_DAYS 800 /* the as-of season and what of it comes off in the next */
struct staff;
/* One crew's half-day, found by crew, day and half. */
struct spot {
    size_t crew;
    size_t day; /* from first_day */
    int half;
};

struct staff *staff_of(const struct orchard *orchard, daynum first_day, struct arena *arena);

/* One job on one day. */
struct errand {
    const struct candidate *candidate;
    enum job job;
    daynum day;
};
enum fit_level staff_fit(const struct staff *staff, struct errand errand, enum fit_mode mode);
/* Take the minutes; the errand fits.  `like` (may be NULL) names the crew and half-day that get it
 * if they can. */
struct planned_task staff_take(struct staff *staff, struct errand errand,
                               const struct planned_task *like);
/* Half-days of bags that will be taken as they are open first, mornings before afternoons. */
void staff_open(struct staff *staff, const struct planned_bag *bag, int half);

/* Half-days of one crew on one day as a stand; lifts that reach further than low_reach_m do high
 * work.  minutes is [2][sites][PACK_SETS] and is filled. */
struct pack_stand staff_stand(const struct staff *staff, struct spot day, double low_reach_m,
                              int32_t *minutes);
size_t staff_count(const struct staff *staff);
daynum staff_first_day(const struct staff *staff);
/* The site of each half-day of each crew by day, PACK_NONE where nobody works: [crews][STAFF_DAYS]
 * [2]. */
const int32_t *staff_places(const struct staff *staff, struct arena *arena);

/* A half-day that is free is kept for work at the site, until nothing is kept any more. */
void staff_mean(struct staff *staff, struct spot spot, const struct site *site);
void staff_mean_nothing(struct staff *staff);

struct choice {
    bool found;
    struct lot_left *lot; /* NULL: nothing is left but to take the bag off */
    struct option option;
    double share; /* uptake */
    double value;
    const struct planned_task *like; /* [BAG_TASKS] whose crews are preferred; NULL: any */
    struct issued_bag *issued;       /* the bag that it continues; NULL: none */
};

/* A bag of the issued plan. */
struct issued_bag {
    const char *name;
    const struct issued_visit *visits[BAG_TASKS]; /* NULL: none */
    struct planned_task tasks[BAG_TASKS];         /* the same; day DAY_NONE */
    struct candidate *candidate; /* its group: hanging, or to be hung; NULL: none any more */
    bool firm;                   /* some visit lies inside the firm days */
    bool used;                   /* a bag of the plan has its name */
    const char *reason;          /* why its firm visits could not stay; NULL */
    const char *later; /* why all of its days could not, before anything was planned; NULL */
};

struct issued_bags {
    struct issued_bag *list; /* by name */
    size_t count;
    daynum firm_until;
};

/* How a plan is to be made. */
struct wish {
    bool optimised;
    const int32_t *places; /* where crews stand, as staff_places tells; NULL: wherever they may */
    const struct crossing_plan *kept; /* its bags of the as-of season stand; NULL: none */
};

struct chooser {
    const struct crossing_inputs *inputs;
    struct supply *supply;
    struct candidates candidates;
    struct staff *staff;
    struct planned_bag *bags; /* not yet named nor sorted */
    size_t bag_count, bag_capacity;
    struct wish wish;
    struct bounds bounds; /* this and the dear days are set when optimised */
    struct dear_day *dear;
    size_t dear_count;
    struct issued_bags issued;
};

/* firm.c: the issued plan by bags; its visits inside the firm days taken; a choice that
 * keeps the issued days instead, if it is worth as much but for the stay bonus: false leaves it. */
struct issued_bags issued_bags_of(const struct crossing_inputs *inputs);
void firm_take(struct chooser *chooser);
bool firm_stay(const struct chooser *chooser, const struct candidate *candidate,
               struct choice *choice);

/* firm_reasons.c: the choice among these days alone (NULL: all), crews as they stand now. */
struct choice firm_choice(const struct chooser *chooser, const struct candidate *candidate,
                          const struct option *days, enum fit_mode mode);
/* Why the bag cannot be had on those days, or NULL; `mode` is the strictest that
 * is asked. */
const char *firm_obstacle(const struct chooser *chooser, const struct issued_bag *bag,
                          const struct option *days, enum fit_mode mode);
/* The group of the bag, sought. */
struct candidate *firm_candidate(const struct chooser *chooser, const struct issued_bag *bag);

/* firm_moves.c: the next issued name for a bag of the group; the highest number in issued names of
 * a graft; what moved. */
const char *firm_name(struct chooser *chooser, const struct planned_bag *bag);
int firm_highest(const struct chooser *chooser, const struct group *group);
void firm_moves(const struct chooser *chooser, struct crossing_plan *plan);

/* One plan by one wish; its bounds are those of the wish. */
struct crossing_plan crossing_plan_by(const struct crossing_inputs *inputs,
                                      const struct wish *wish);

/* Bags of a plan of the same orchard are taken again, by the same crews and days. */
void retake_plan(struct chooser *chooser, const struct crossing_plan *kept);

/* Take one bag of the candidate as chosen; it fits. */
void take_choice(struct chooser *chooser, struct candidate *candidate, const struct choice *choice);

/* The bags of the as-of season that are wanted, as good as found and bounded. */
void optimise(struct chooser *chooser);

/* One group of the packing. */
struct packed {
    struct candidate *candidate;
    struct lot_left *lot;
};
/* The packing's plan as bags: each where its days fit a crew. */
void take_plan(struct chooser *chooser, const struct packed *packed, const struct packing *packing,
               const struct pack_plan *plan);

/* The first day on which it may come off when the last visit was on `visit`. */
daynum first_unbag_day(const struct candidate *candidate, daynum visit);

struct ways {
    const struct staff *staff;
    enum fit_mode mode;
    daynum as_of;
    const struct option *fixed; /* DAY_NONE: free; DAY_NEVER: no such visit; NULL: all are free */
};

/*
 * The best option of one bag of the candidate that fits, by any of its lots.  Visits are weighed
 * as if the bag were hung on its last clean day; of those within 2 % of the best the ones that open
 * the fewest new places, then the better, then the earlier.  The bag is hung on the latest day that
 * fits: time in a bag is kept short.
 */
struct choice choose(const struct ways *ways, const struct candidate *candidate);

/* 0: the as-of season; 1: what it leaves, pencilled into the next. */
void choose_phase(struct chooser *chooser, int phase);

/* Bags that hang and give no seed, by what minutes and doses all others leave. */
void choose_rest(struct chooser *chooser);

/* Chances, latest days, seeds and value of a bag whose option and lot stand; lot may be NULL. */
void fill_bag(struct planned_bag *bag, const struct candidate *candidate,
              const struct lot_left *lot);

struct diagnosis {
    enum cause cause;
    const char *detail;
};

/* One cross in one phase. */
struct patient {
    const struct chooser *chooser;
    const struct orchard *orchard;
    struct arena *arena;
    const struct want *want;
    int phase, season;
    bool promised; /* bags that must come off; else those that are wanted */
};

/* The next candidate of the patient from *at on, or NULL. */
const struct candidate *next_of(const struct patient *patient, size_t *at);

struct diagnosis diagnose(const struct patient *patient);

/* Bags that are wanted in one phase, added to the plan; phase 0 before phase 1 is chosen. */
void shortfalls_of(const struct chooser *chooser, int phase, struct crossing_plan *plan);

/* Bags that nobody takes off, added when everything is chosen. */
void broken_promises_of(const struct chooser *chooser, struct crossing_plan *plan);

#endif
