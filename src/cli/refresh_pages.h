/*
 * refresh_pages.h - the pages of a nightly run: what the commands print, from one reading and one
 * plan.
 */
#ifndef CLI_REFRESH_PAGES_H
#define CLI_REFRESH_PAGES_H

#include "cli/session.h"

struct refresh_page {
    const char *name; /* of its file */
    struct text bytes;
};

struct refresh_pages {
    struct refresh_page *list;
    size_t count, capacity;
};

/* Of a session that holds its plan (session->planned); `replaces`: the calendar given out before,
 * or NULL.  STATUS_DONE, or what a command that failed gave, told. */
enum exit_status refresh_pages_print(struct session *session, const char *replaces,
                                     struct refresh_pages *pages);

/* A page of one's own. */
void refresh_pages_add(struct refresh_pages *pages, const char *name, const struct text *bytes);

#endif
