/*
 * replay_page.h - past seasons told again, as tables and a verdict.
 */
#ifndef WRITING_REPLAY_PAGE_H
#define WRITING_REPLAY_PAGE_H

#include "planning/replay.h"
#include "writing/pages.h"

/* A row a site, species and day of telling. */
struct sheet replay_sheet(const struct replay *replay, const struct replay_asked *asked,
                          const struct page_run *run);

/* A row a season and day of telling. */
struct sheet replay_each_sheet(const struct replay *replay, const struct replay_asked *asked,
                               const struct page_run *run);

/* replay_words.c: what was done, and how good it was. */
void replay_add_head(const struct replay *replay, const struct replay_asked *asked,
                     const struct page_run *run, struct text *out);
void replay_add_verdict(const struct event_replay *replay, const struct replay_asked *asked,
                        struct text *out);

#endif
