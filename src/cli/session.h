/*
 * session.h - one run: its memory, its folder, its day, its output.
 */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include "base/arena.h"
#include "base/diag.h"
#include "base/text.h"
#include "cli/options.h"
#include "cli/output.h"
#include "cli/status.h"
#include "orchard/orchard.h"
#include "orchard/pedigree.h"
#include "orchard/state.h"
#include "planning/dates.h"
#include "reading/reading.h"
#include "writing/pages.h"
#include "writing/sheet.h"

#include <stdbool.h>
#include <stdint.h>

struct opened;
struct planned;

struct session {
    const char *command; /* its name, for messages; NULL before one is known */
    struct options options;
    const char **operands;
    size_t operand_count;
    struct arena *arena;
    struct diags diags;
    struct orchard orchard;
    daynum today;     /* the clock's day at the folder's first site */
    daynum as_of;     /* --as-of, or today */
    bool to_terminal; /* the result goes to a terminal */
    struct text out;  /* the result */
    struct text err;  /* messages */
    struct output output;
    uint64_t inputs; /* hash of program.json and of the tables but notes.csv, as they were read */

    /* Of a run that prints several pages: the folder is read and planned once. */
    const struct opened *opened;   /* NULL: not yet */
    const struct planned *planned; /* crossing_plan.h; NULL: not yet */
    bool remedies_filled;          /* in the shortfalls of that plan */
};

/* "conetide: COMMAND: ..." on the messages. */
void session_say(struct session *session, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/*
 * Read every table, program.json and the weather of the folder operands[0] and the shipped tables.
 * STATUS_DONE, STATUS_USAGE (no such folder) or STATUS_SYSTEM.  Faults of the data are in diags.
 */
enum exit_status session_read(struct session *session);

/* FOLDER/NAME, without a doubled slash. */
const char *path_in(struct session *session, const char *folder, const char *name);

/* What reads an open source; false: the source failed.  Faults of the data go to the session. */
struct path_reader {
    bool (*read)(struct session *session, const struct source *source, void *context);
    void *context;
};

/* Read one file ("-": standard input).  STATUS_DONE, or STATUS_SYSTEM: told. */
enum exit_status session_read_path(struct session *session, const char *path,
                                   struct path_reader reader);

/* The faults told of `what` so far are printed and STATUS_INPUT; STATUS_DONE: there are none. */
enum exit_status session_faults_of(struct session *session, const char *what);

/* Set today and as_of from the options, the clock and the sites that were read. */
void session_set_day(struct session *session);

/* As session_read, then forget what lies after as-of, link and audit.  Faults of
 * the data stay in diags: session_plan, or the command, tells them. */
enum exit_status session_open(struct session *session);

/* The nouns that a planning command starts from, after session_open. */
struct opened {
    const struct state *state;
    const struct pedigree *pedigree;
    struct dates *dates;
    struct page_run run;
};
/* STATUS_INPUT when notes and tables contradict each other.  What the session has opened already is
 * not read again. */
enum exit_status session_plan(struct session *session, struct opened *opened);

/* The site of this name; NULL: there is none, told with the nearest. */
const struct site *session_site(struct session *session, const char *name);

/* Are deg F and feet what people read? */
bool session_units_us(const struct session *session);

#endif
