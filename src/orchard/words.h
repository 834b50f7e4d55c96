/*
 * words.h - what stands written in the cells of notes: bag names, stages, conditions, shares.
 */
#ifndef ORCHARD_WORDS_H
#define ORCHARD_WORDS_H

#include "orchard/nouns.h"

/* TAG-YY-N: the tag's length in bytes, the season as a year (2000 + YY) and the running number. */
struct bag_name {
    size_t tag_length;
    int season;
    int number;
};

/* False when `name` is not of that form (NULL is not). */
bool bag_name_read(const char *name, struct bag_name *bag);

/* "3" or "3-5", 1 to 6, low before high. */
bool stage_read(const char *text, int *low, int *high);

/* "alive", "doubtful", "dead", "lost", "removed". */
bool condition_read(const char *text, enum condition *condition);

/* Dead, lost or removed: such a graft bears nothing more. */
bool condition_is_gone(enum condition condition);

/* "top", "middle", "low". */
bool crown_read(const char *text, enum crown *crown);

/* "19/20": counted out of looked at, 0 <= counted <= looked at, at least one looked at. */
bool ratio_read(const char *text, int *counted, int *of);

/* Is `word` one of a list like "K1;K4" (also with commas, plus signs and blanks)? */
bool word_listed(const char *list, const char *word);

#endif
