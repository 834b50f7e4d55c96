/*
 * bloom.h - the flowering of one selection, or of one graft or bag, on one site in one season, as a
 * distribution.
 */
#ifndef PLANNING_BLOOM_H
#define PLANNING_BLOOM_H

#include "conetide/projection.h"
#include "orchard/lookup.h"
#include "orchard/orchard.h"
#include "planning/looks.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct event_table; /* event_days.h */

/*
 * Everything known of it.  Days are daynums; CONETIDE_NEVER where a member does not bring the
 * event. After looks (condition.h) the elements counted by `members` are what is left of past
 * years, a year perhaps several times, and `given` tells how much each counts.
 */
struct bloom {
    const struct site *site;
    const char *species;
    const struct selection *selection; /* NULL: the site in general */
    int season;
    size_t members;
    const int *member_season;    /* NULL when no weather was used (calendar) */
    const int32_t *days[EVENTS]; /* [members]; NULL: no threshold says anything of this event */
    const struct threshold
        *threshold[EVENTS];   /* the row found; NULL: none, or a built-in default */
    size_t unchilled[EVENTS]; /* past years that do not bring it for want of chilling */
    const struct conetide_window
        *windows; /* [members] opening, first, last; NULL when any is NULL */
    double sigma_days, shed_sigma_days;
    const struct conetide_shifts *shifts;      /* of opening to closed, and of bag_by */
    const struct conetide_shifts *shed_shifts; /* of shed_first, shed_peak, shed_last */
    const struct conetide_shifts *own[EVENTS]; /* beside those, of an event that follows another by
                                                  days with a spread of their own; or NULL */
    enum basis basis;   /* the weakest of opening, first and last, each by the sum or calendar row
                           that it hangs on */
    int seasons_seen;   /* the fewest of those rows; -1 not told */
    bool few_members;   /* fewer than MEMBERS_MARKED */
    const char *remark; /* "9 past years only: calendar date", or NULL */
    const struct event_table *table; /* the rows that hold, by which the days were found */

    /* All NULL, 0 or false where nothing was seen this season. */
    const struct bloom *plain;          /* the same without any look */
    const struct looks *looks;          /* what was seen */
    const struct conetide_given *given; /* [members] */
    const size_t *origin;               /* [members] the member of `plain` */
    bool stands[EVENTS];                /* it has come, and `days` are where it came */
    double left;                        /* weight of the futures that no look contradicts, 0 to 1 */
    bool looks_alone; /* so little that the interval between two looks stands alone */
};

/* First day with at least chance p that the event has come; DAY_NEVER when too many members never
 * bring it; DAY_NONE when nothing is known of it.  EVENT_BAG_BY is the day before opening, at
 * every chance: to be early enough with 90 % a bag hangs by bag_by at 10 %. */
daynum bloom_date(const struct bloom *bloom, enum event event, double p);

/* Is chilling that is not met enough to keep the event from a date at chance p?  Then bloom_date is
 * DAY_NEVER and what people read is "chilling not met". */
bool bloom_unchilled(const struct bloom *bloom, enum event event, double p);

/* Chance that the event has come by `day`; 0 when nothing is known of it. */
double bloom_by(const struct bloom *bloom, enum event event, daynum day);

/* Between which looks an event was seen to come this season; false when it was not.  *after may be
 * DAY_NONE. */
bool bloom_seen(const struct bloom *bloom, enum event event, daynum *after, daynum *by);

/* For chances of days: members, windows, shifts.  Only when bloom->windows. */
struct conetide_futures bloom_futures(const struct bloom *bloom);

/*
 * Chance that every strobilus has closed before `day` and, where `shed` tells it, that outside
 * pollen is over too (closed < day and shed_last < day, over shared members, shifts independent).
 * `shed`: the bloom of the site's species in general; may be NULL or without shed_last.
 */
double bloom_safe_to_unbag(const struct bloom *bloom, const struct bloom *shed, daynum day);

/* The same without any look of this season: an element a member.  Itself where nothing was seen. */
const struct bloom *bloom_plain(const struct bloom *bloom);

/* bloom->windows from bloom->days, in `arena`. */
void bloom_take_windows(struct bloom *bloom, struct arena *arena);

#endif
