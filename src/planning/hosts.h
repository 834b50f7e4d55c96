/*
 * hosts.h - what each interstock clone has given: grafts made, how many lived, strobili on them.
 *
 * Only grafts that stood on it count.  How well a clone flowers by itself says nothing of what it
 * does to grafts: Almqvist 2013, Can. J. For. Res. 43(6), abstract; and the trial of six loblolly
 * interstock clones in Forest Genetics 7, 2000, abstract, where the best two gave four times the
 * strobili of the poorest.
 */
#ifndef PLANNING_HOSTS_H
#define PLANNING_HOSTS_H

#include "orchard/state.h"

#define SPRINGS 2

/* What a figure rests on, from near to far. */
enum host_basis { HOST_OWN, HOST_SPECIES, HOST_GENERAL, HOST_RATES, HOST_NOTHING };

struct host_figure {
    double value;       /* NaN: HOST_NOTHING */
    double low, high;   /* 80 %; NaN unless HOST_OWN */
    double counted, of; /* on the clone itself: so many of so many grafts, or strobili on grafts */
    enum host_basis basis;
};

struct host_spring {
    struct host_figure survival, strobili; /* share of grafts made; per live graft */
};

struct host {
    const char *species, *clone;        /* NULL: not told */
    const struct site *site;            /* NULL: at all sites */
    size_t trees;                       /* for grafts, not dead */
    int free[CROWNS];                   /* by enum crown, on trees that are not weak */
    size_t uncounted;                   /* zones of these whose places nobody counted */
    double reach_low_m, reach_high_m;   /* NaN: not told */
    size_t grafts, living;              /* ever made; not known to be dead, lost or removed */
    struct host_spring spring[SPRINGS]; /* at a site: counts alone, values NaN */
    double strobili_per_graft;          /* made, over both springs; NaN: a figure is missing */
};

struct hosts {
    struct host *list; /* at all sites: the best first, then species and clone; each followed by
                          its sites by name where there are several */
    size_t count, capacity;
    const struct state *state;
};

/*
 * Figures of a clone are fitted as rates are (rate_fit.h): its own grafts, drawn toward those of
 * its species the more, the fewer they are.  A clone without any takes its species' figure, then
 * the general one, then what rates.csv and the shipped rates say.
 */
struct hosts hosts_of(const struct state *state, struct arena *arena);

/* What a graft of `selection` on `tree` is expected to do in spring 0 and 1: that of its clone, by
 * so much more or less as rates.csv says of this selection and site. */
struct host_promise {
    double survival[SPRINGS], strobili[SPRINGS]; /* NaN: no rate */
    const struct host *host;
};
struct host_promise hosts_promise(const struct hosts *hosts, const struct tree *tree,
                                  const struct selection *selection);

/* Strobili expected of a graft made, over both springs; NaN: a rate is missing. */
double host_promise_sum(const struct host_promise *promise);

#endif
