/*
 * orchard.h - a whole programme folder in memory.
 *
 * Reading fills the lists, the folder's own rows first, shipped defaults after them.  Then
 * orchard_as_of forgets what a run at that day cannot know, orchard_link joins identifiers and
 * orchard_audit tells every fault that no single cell shows.
 */
#ifndef ORCHARD_ORCHARD_H
#define ORCHARD_ORCHARD_H

#include "orchard/nouns.h"
#include "orchard/program.h"

#define ORCHARD_LIST(type)                                                                         \
    struct {                                                                                       \
        struct type *list;                                                                         \
        size_t count, capacity;                                                                    \
    }

/* A tag that a graft has or had (`retagged`). */
struct graft_name {
    const char *tag;
    const struct graft *graft;
};

/* Minutes of a crew's day that other work has before the crossing plan is made. */
struct taken_time {
    const char *crew;
    daynum day;
    const struct site *site; /* where the crew stands all day; NULL: anywhere */
    int64_t minutes;         /* 1/100 minute, off each half-day, by lift or not */
    bool no_lift;            /* another crew has its lift */
};

struct orchard {
    struct arena *arena;
    struct program program;
    ORCHARD_LIST(site) sites;
    ORCHARD_LIST(station) stations;
    ORCHARD_LIST(record) records;
    ORCHARD_LIST(weather_file) weather_files; /* as they were read, whatever the as-of day */
    ORCHARD_LIST(forecast) forecasts;         /* by station, the newest first; after orchard_link */
    ORCHARD_LIST(tree) trees;
    ORCHARD_LIST(selection) selections;
    ORCHARD_LIST(batch) batches;
    ORCHARD_LIST(graft) grafts;
    ORCHARD_LIST(cross) crosses;
    ORCHARD_LIST(lot) lots;
    ORCHARD_LIST(crew_time) crews;
    ORCHARD_LIST(lift_time) lifts;
    ORCHARD_LIST(threshold) thresholds;
    ORCHARD_LIST(rate) rates;
    ORCHARD_LIST(task_kind) tasks;
    ORCHARD_LIST(note) notes;
    ORCHARD_LIST(taken_time) taken; /* by crew and day; set by planning before the crossing plan */
    ORCHARD_LIST(graft_name) graft_names; /* by tag; made by orchard_link */
    daynum as_of;                         /* DAY_NONE until orchard_as_of */
};

/* Empty lists, program defaults. */
void orchard_init(struct orchard *orchard, struct arena *arena);

/*
 * Forget what is dated after `day`: rows by their own date (grafts, batches, notes, weather days,
 * forecasts by their issue); dated cells by theirs (condition, identity, health, label, measured
 * volume, germination, discarded_on).  Planned pollen lots stay.  Before orchard_link.
 */
void orchard_as_of(struct orchard *orchard, daynum day);

/*
 * Put every list into an order of its own (by identifier; notes by date, kind, subject, value,
 * entry), so that the order of rows in a file never shows; join identifiers; add grafts made by
 * notes; tell unknown and duplicate ones, and those that differ only by case, blanks or zeros.
 * A graft that was retagged carries its newest tag.  Notes typed twice under one entry are kept
 * once; a shipped task gives way to the folder's of the same name.
 */
void orchard_link(struct orchard *orchard, struct diags *diags);

/*
 * Faults between rows and tables, after orchard_link; `today` bounds what dates are sensible.
 * Runs threshold_audit and rate_audit too.  What needs the order of time is told by state_of,
 * loops of the pedigree by pedigree_of.
 */
void orchard_audit(const struct orchard *orchard, daynum today, struct diags *diags);

/* By identifier, or NULL.  Binary search: after orchard_link. */
const struct site *orchard_site(const struct orchard *orchard, const char *name);
const struct station *orchard_station(const struct orchard *orchard, const char *name);
const struct record *orchard_record(const struct orchard *orchard, const char *station);
const struct tree *orchard_tree(const struct orchard *orchard, const char *name);
const struct selection *orchard_selection(const struct orchard *orchard, const char *name);
const struct batch *orchard_batch(const struct orchard *orchard, const char *name);
const struct cross *orchard_cross(const struct orchard *orchard, const char *name);
const struct lot *orchard_lot(const struct orchard *orchard, const char *name);
const struct task_kind *orchard_task(const struct orchard *orchard, const char *name);
/* Follows `retagged` notes: an old and a new tag give the same graft. */
const struct graft *orchard_graft(const struct orchard *orchard, const char *tag);

/* Hemisphere and season start of a site (a site without latitude is northern). */
struct season_rule orchard_season_rule(const struct orchard *orchard, const struct site *site);

/* Of the site, else of its station; NaN when neither tells it. */
double site_latitude(const struct site *site);

/* The graft's cycle: the season that holds grafted_on.  Its season 1 is cycle + 1.  0 when
 * grafted_on is not known. */
int orchard_cycle(const struct orchard *orchard, const struct graft *graft);

/* Are two names one clone (same_as)?  NULL is never the same. */
bool selection_same(const struct selection *a, const struct selection *b);

/* Is the tree of a clone that the selection does not do on, under any of its names? */
bool selection_unsuited(const struct orchard *orchard, const struct selection *selection,
                        const struct tree *tree);

#endif
