/*
 * nouns.h - what a row of each table is.  Data only.
 *
 * Text cells that are blank are NULL, numbers NaN, counts -1, days DAY_NONE.  A pointer to another
 * noun stands beside the identifier that was typed and is NULL until orchard_link, and after it
 * when the identifier is unknown (which is a fault that has been told) or blank.
 */
#ifndef ORCHARD_NOUNS_H
#define ORCHARD_NOUNS_H

#include "base/day.h"
#include "base/diag.h"
#include "base/number.h"
#include "orchard/program.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct station {
    struct place place;
    const char *name;
    double latitude, longitude, elevation_m, utc_offset_h;
    bool reads_morning; /* its maximum belongs to the day before */
    const char *neighbour;
    double tmin_lapse_c_per_km, tmax_lapse_c_per_km;
    const char *notes;
};

/* The observed days of one station, dense from first_day; NaN where nothing was observed. */
struct record {
    const char *station;
    const char *file; /* the first that was read of it; NULL: not from a file */
    daynum first_day;
    size_t count;
    double *tmin_c, *tmax_c; /* [count] */
};

/* What one weather file was found to hold, for `check`. */
struct weather_file {
    struct place place;
    const char *station;
    const char *form; /* what its content is, for people */
    const char *unit; /* of its temperatures, and how that is known; NULL: the columns say it */
    daynum first_day, last_day; /* DAY_NONE: no day */
    size_t days;                /* with a value that was taken */
    size_t flagged;             /* values dropped for a quality flag */
    const char *flags;          /* which: "2 internal consistency, 1 bounds"; "" */
};

/* What was foretold of a station, dense from first_day; NaN where nothing was. */
struct forecast {
    struct place place;
    const char *station;
    int64_t issued_minute; /* from the start of daynum 0 at the station; orders those of one day */
    daynum issued;         /* the station's civil day */
    daynum first_day;
    size_t count;            /* 1 to FORECAST_DAYS_MOST */
    double *tmin_c, *tmax_c; /* [count] */
};
#define FORECAST_DAYS_MOST 16 /* no forecast of days reaches further: own choice */

struct site {
    struct place place;
    const char *name;
    const char *station_name;
    const struct station *station; /* may be NULL: stations.csv is optional */
    const struct record *record;   /* NULL: no weather file of that station */
    double latitude, longitude, elevation_m, utc_offset_h;
    double workable_share;
    const char *notes;
};

enum health { HEALTH_UNKNOWN, HEALTH_SOUND, HEALTH_WEAK, HEALTH_DEAD };
enum crown { CROWN_UNKNOWN, CROWN_TOP, CROWN_MIDDLE, CROWN_LOW };
#define CROWNS 4
enum tree_use { USE_GRAFT = 1, USE_SCIONS = 2, USE_POLLEN = 4 };

struct selection;

struct tree {
    struct place place;
    const char *name;
    const char *site_name;
    const struct site *site;
    const char *block;
    int row, position; /* -1: not given */
    const char *species, *clone;
    unsigned uses; /* of enum tree_use */
    const char *selection_name;
    const struct selection *selection;
    int places[CROWNS]; /* by enum crown; -1: not counted */
    double reach_needed_m;
    enum health health;
    daynum health_on;
    daynum label_checked_on;
    const char *label_checked_how, *notes;
};

struct selection {
    struct place place;
    const char *name;
    const char *species;
    const char *seed_parent_name, *pollen_parent_name, *same_as_name;
    const struct selection *seed_parent, *pollen_parent, *same_as;
    const struct selection *self; /* the one row that stands for this clone under all its names */
    double breeding_value;
    const char *flag_colour;
    double days_late; /* 0 when blank */
    const char *unsuited_clones, *notes;
};

struct batch { /* of scions */
    struct place place;
    const char *name;
    const char *selection_name;
    const struct selection *selection;
    daynum cut_on;
    const char *source_tree_name;
    const struct tree *source_tree;
    int count;
    double store_c;
    const char *package;
    daynum discarded_on;
    const char *notes;
};

enum condition {
    CONDITION_UNKNOWN,
    CONDITION_ALIVE,
    CONDITION_DOUBTFUL,
    CONDITION_DEAD,
    CONDITION_LOST,
    CONDITION_REMOVED
};
enum identity { IDENTITY_UNCHECKED, IDENTITY_CHECKED, IDENTITY_DISPUTED, IDENTITY_WRONG };

struct graft {
    struct place place;
    const char *tag;
    const char *selection_name;
    const struct selection *selection;
    const char *tree_name;
    const struct tree *tree;
    enum crown crown;
    const char *branch;
    daynum grafted_on;
    const char *batch_name;
    const struct batch *batch;
    enum condition condition;
    daynum condition_on;
    enum identity identity;
    daynum identity_on;
    const char *identity_how, *notes;
    bool from_note; /* made by a `grafted` note, not by a row of grafts.csv */
};

struct lot;

enum cross_state { CROSS_WANTED, CROSS_HOLD, CROSS_CANCELLED };

struct cross {
    struct place place;
    const char *name;
    const char *seed_parent_name, *pollen_parent_name;
    const struct selection *seed_parent;
    const struct selection *pollen_parent; /* NULL when the pollen is a mix: then `mix` */
    const struct lot *mix;
    int seeds_wanted, seeds_least, seeds_in_store; /* 0 when blank, but for wanted */
    bool either_way;
    int priority; /* 1 to 5; 3 when blank */
    int season;   /* a year; 0: any */
    enum cross_state state;
    const char *notes;
};

enum lot_state { LOT_PLANNED, LOT_DRYING, LOT_STORED, LOT_FINISHED, LOT_DISCARDED };

struct mix_part {
    const char *selection_name;
    const struct selection *selection;
    double share; /* of the whole, adding up to 1 */
};

struct lot { /* of pollen */
    struct place place;
    const char *name;
    const char *selection_name; /* NULL for a mix */
    const struct selection *selection;
    struct mix_part *parts;
    size_t part_count; /* 0 for a single selection */
    const char *source_tree_name;
    const struct tree *source_tree;
    const char *kept_at;
    enum lot_state state;
    daynum ready_on;
    double volume_ml;
    daynum measured_on;
    double germination_pct;
    daynum tested_on;
    const char *notes;
};

enum work { WORK_ANY, WORK_LIFT, WORK_GROUND };

struct crew_time {
    struct place place;
    const char *crew;
    const char *lift_name;
    const char *site_name; /* NULL: any site */
    const struct site *site;
    daynum from, to;
    unsigned weekdays; /* bit 1 << weekday, Monday 1; blank = Monday to Friday */
    double hours_per_day;
    enum work work;
    const char *notes;
};

struct lift_time {
    struct place place;
    const char *lift;
    const char *site_name;
    const struct site *site;
    daynum from, to;
    double hours_per_day; /* 0 and NaN: down */
    double reach_m;
    const char *notes;
};

enum event {
    EVENT_BAG_BY, /* derived: the day before opening */
    EVENT_OPENING,
    EVENT_FIRST,
    EVENT_PEAK,
    EVENT_LAST,
    EVENT_CLOSED,
    EVENT_SHED_FIRST,
    EVENT_SHED_PEAK,
    EVENT_SHED_LAST,
    EVENT_GRAFT_OPEN,
    EVENT_GRAFT_CLOSE,
    EVENTS
};
extern const char *const event_names[EVENTS]; /* as in thresholds.csv: "opening" */

enum threshold_kind { THRESHOLD_SUM, THRESHOLD_AFTER, THRESHOLD_CALENDAR };
enum basis { BASIS_FITTED_HERE, BASIS_OTHER_SITE, BASIS_BORROWED, BASIS_CALENDAR, BASES };
extern const char *const basis_names[BASES]; /* "fitted here" */

struct threshold {
    struct place place;
    enum event event;
    const char *species, *site_name, *selection_name; /* NULL: any */
    enum threshold_kind kind;
    const char *clock_name;
    const struct clock *clock;
    double heat_units_c, per_day_c;        /* deg C day; requirement = units + per_day * x */
    double clock_units;                    /* of a clock that counts no degrees; NaN when blank */
    struct place clock_place, units_place; /* of the cells, for faults between tables */
    enum event after;
    int after_days;
    struct month_day calendar_day;
    double residual_days, spread_days, clone_spread_days; /* NaN when blank */
    enum basis basis; /* as typed: FITTED_HERE, BORROWED or CALENDAR */
    int seasons_seen; /* -1: not given */
    const char *source;
    bool shipped; /* a row of data/defaults, not of the folder */
};

struct rate {
    struct place place;
    const char *rate; /* "survival", "minutes_each:bag" */
    const char *host_species, *clone, *site_name, *selection_name; /* NULL: any */
    int season_number;                                             /* 1 or 2; 0: any */
    struct decimal value;                                          /* exact */
    double low, high;                                              /* NaN when blank */
    int seen;                                                      /* -1 when blank */
    const char *source;
    bool shipped;
};

/* What one piece of a kind of work is about. */
enum subject_kind {
    SUBJECT_GRAFT,
    SUBJECT_BAG,
    SUBJECT_TREE,
    SUBJECT_LOT,
    SUBJECT_BATCH,
    SUBJECT_SITE,
    SUBJECT_SELECTION,
    SUBJECT_CROSS,
    SUBJECT_PROGRAMME,
    SUBJECT_KINDS
};
extern const char *const subject_words[SUBJECT_KINDS]; /* as in tasks.csv: "graft" */

/* Cells of a row of tasks.csv that only the whole table can judge. */
enum task_cell {
    TASK_CELL_EARLIEST,
    TASK_CELL_LATEST,
    TASK_CELL_WHEN,
    TASK_CELL_AFTER,
    TASK_CELL_LEAD_DAYS,
    TASK_CELL_NEEDED_BY,
    TASK_CELL_CLOSED_BY,
    TASK_CELL_SHIFT,
    TASK_CELLS
};

struct task_kind {
    struct place place;
    struct place cells[TASK_CELLS];
    const char *task, *per, *earliest, *latest, *when, *after;
    int lead_days; /* -1: blank */
    const char *needed_by, *closed_by, *shift;
    struct decimal minutes_each, minutes_per_tree, minutes_per_site; /* 0 when blank */
    const char *hours_from, *hours_to;
    enum work work;
    const char *needs, *caution, *source;
    bool shipped;
};

/* The order is that of events on one day (tables.md: bagged before pollinated before unbagged). */
enum note_kind {
    NOTE_GRAFTED,
    NOTE_RETAGGED,
    NOTE_RELABELLED,
    NOTE_VERIFIED,
    NOTE_SURVIVAL,
    NOTE_STAGE,
    NOTE_STROBILI,
    NOTE_CATKINS,
    NOTE_MALE_STAGE,
    NOTE_BAGGED,
    NOTE_POLLINATED,
    NOTE_UNBAGGED,
    NOTE_BAG_LOST,
    NOTE_CONELETS,
    NOTE_CONES,
    NOTE_SEEDS,
    NOTE_RIPENESS,
    NOTE_GERMINATION,
    NOTE_COLLECTED,
    NOTE_DISCARDED,
    NOTE_FROST,
    NOTE_STORM,
    NOTE_SPRAYED,
    NOTE_DONE,
    NOTE_NOT_DONE,
    NOTES
};
extern const char *const note_names[NOTES]; /* as in notes.csv: "bag_lost" */

struct note {
    struct place place;
    daynum date;
    enum note_kind kind;
    const char *tag, *bag, *tree, *crown, *branch, *lot, *cross, *batch, *site, *block, *task,
        *selection, *value, *by, *remarks, *entry;
    double number; /* of `value` when it is a number; else NaN */
};

#endif
