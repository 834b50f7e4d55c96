/*
 * audit.h - what the parts of the audit share; each tells the faults of one topic.
 */
#ifndef ORCHARD_AUDIT_H
#define ORCHARD_AUDIT_H

#include "orchard/known.h"
#include "orchard/state.h"

struct audit {
    const struct orchard *orchard;
    const struct state *state; /* made in silence: its own faults are told by state_of */
    daynum today;
    struct arena *arena;
    struct diags *diags;
    struct known known[KNOWN_TABLES];
};

/* 'T7', ready for a message; "" of NULL. */
const char *audit_quote(struct audit *audit, const char *text);

void audit_dates(struct audit *audit);
void audit_sites(struct audit *audit);
void audit_weather(struct audit *audit);

/* The file of a record, or one like it: told with what no single row shows. */
struct place audit_weather_place(struct audit *audit, const struct record *record);

void audit_grafts(struct audit *audit);
void audit_crosses(struct audit *audit);
void audit_working_times(struct audit *audit);
void audit_notes(struct audit *audit);
void audit_notes_between(struct audit *audit);

#endif
