/*
 * program.h - the settings of a programme folder: program.json with its defaults.
 */
#ifndef ORCHARD_PROGRAM_H
#define ORCHARD_PROGRAM_H

#include "base/day.h"
#include "base/diag.h"
#include "conetide/count.h"
#include "conetide/heat.h"

#include <stdbool.h>
#include <stddef.h>

/* Cold that must have been enough before anything else counts. */
struct chilling_need {
    const struct conetide_count *counts; /* NULL: none is asked */
    double units;                        /* over 0 */
    struct month_day start;              /* the first such day of a season */
};

/* What is counted and how.  A requirement means nothing without its clock. */
struct clock {
    const char *name;
    struct conetide_heat_rule rule; /* thresholds in deg C; not read when `counts` */
    struct month_day start;         /* counting starts on the first such day of a season */
    int end_days;                   /* and stops this many days later */
    struct place place;
    const struct conetide_count *counts; /* NULL: heat, by `rule` */
    struct chilling_need after_chilling; /* counting starts the day after it is met, not before
                                            `start` */
};

/* Does it count by hours or the sun, now or before, so that the place's latitude matters? */
bool clock_needs_latitude(const struct clock *clock);

/* Can a mild winter alone keep it from its requirement? */
bool clock_chills(const struct clock *clock);

#define PRIORITIES 5

/* A word of another published scale of stages, and which of ours, 1 to 6, it is. */
struct stage_word {
    const char *word;
    int stage;
};

struct program {
    const char *name;
    struct month_day season_starts_north, season_starts_south;
    bool units_us; /* what people read; CSV and JSON are always deg C and metres */
    struct clock *clocks;
    size_t clock_count;
    int members_most;
    double coancestry_warn, coancestry_refuse;
    double assurance;
    double priority_weights[PRIORITIES]; /* of priority 1 to 5 */
    double uncounted_share;
    double clean_chance;
    int firm_days;
    double keep_share, stay_bonus;
    double dose_ml;
    double germination_full_pct, germination_refuse_pct;
    double freeze_c;
    int freeze_days;
    /* Grafting-day gates and the calendar that bounds the window (facts: common practice). */
    double graft_night_c;    /* a night at or below it within the next three: caution */
    double graft_day_low_c;  /* a day whose maximum stays below it is no grafting day */
    double graft_day_high_c; /* nor one whose maximum goes above it */
    double graft_open_share; /* of the mean heat sum on the mean day of peak */
    double graft_close_share;
    struct month_day graft_calendar_open, graft_calendar_close; /* at the base site */
    const struct stage_word *stage_map; /* applied to `stage` notes when they are read */
    size_t stage_map_count;
    const char *const *task_order; /* the kinds of work that get the minutes first; may be NULL */
    size_t task_order_count;
};

/* The defaults of tables.md, with the clocks that ship (defaults.c tells each source). */
void program_defaults(struct program *program, struct arena *arena);

/* The clock of a name, or NULL. */
const struct clock *program_clock(const struct program *program, const char *name);

/* One line for handbook and outputs: where the default of a key comes from ("own choice"). */
const char *program_source(const char *key);

#endif
