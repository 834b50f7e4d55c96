/*
 * words.h - days and chances as people read them.
 */
#ifndef WRITING_WORDS_H
#define WRITING_WORDS_H

#include "base/day.h"
#include "base/text.h"

/* A day that does not come because the chilling asked for does not: "chilling not met". */
#define WORDS_UNCHILLED (DAY_NEVER - 1)

/* "Tue 2 Mar 2027"; "not reached" for DAY_NEVER, "-" for DAY_NONE. */
void words_add_day(struct text *out, daynum day);

/* "2 Mar": where the year stands beside it. */
void words_add_day_short(struct text *out, daynum day);

/* "28 Feb-9 Mar", "2-9 Mar", "2 Mar"; to "not reached": "from 28 Feb". */
void words_add_range(struct text *out, daynum from, daynum to);

/* The same as texts of their own; NULL for DAY_NONE, which a sheet shows as missing. */
const char *words_day_short(struct arena *arena, daynum day);
const char *words_range(struct arena *arena, daynum from, daynum to);

/* "87 %"; what is neither 0 nor 1 is never shown as such: "<1 %", ">99 %".  NaN: "-". */
void words_add_chance(struct text *out, double chance);

/* "1 day", "2 days". */
void words_add_count(struct text *out, size_t count, const char *one, const char *many);

/* "12", "0.5", "12.25": at most two digits after the point. */
void words_add_amount(struct text *out, double amount);

#endif
