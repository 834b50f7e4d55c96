/*
 * crews.c - crews.csv and lifts.csv, read for one day.
 */
#include "planning/crews.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define HALF_DAY_MINUTES_OF_HOUR 3000.0 /* 60 min of 100/100 each, by two half-days */

static int by_text(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

size_t crew_names(const struct orchard *orchard, struct arena *arena, const char *const **names)
{
    const char **all = ARENA_ARRAY(arena, orchard->crews.count, const char *);
    size_t count = 0;

    for (size_t i = 0; i < orchard->crews.count; i++)
        all[i] = orchard->crews.list[i].crew;
    if (orchard->crews.count > 0)
        qsort(all, orchard->crews.count, sizeof *all, by_text);
    for (size_t i = 0; i < orchard->crews.count; i++)
        if (count == 0 || strcmp(all[count - 1], all[i]) != 0)
            all[count++] = all[i];
    *names = all;
    return count;
}

static bool works_on(const struct crew_time *time, daynum day)
{
    return time->from <= day && day <= time->to &&
           (time->weekdays & 1U << (unsigned)day_weekday(day)) != 0;
}

/* A shorter row inside a longer one replaces it; of equal ones the first in the list's order. */
static const struct crew_time *time_of(const struct orchard *orchard, const char *crew, daynum day)
{
    const struct crew_time *best = NULL;

    for (size_t i = 0; i < orchard->crews.count; i++) {
        const struct crew_time *time = &orchard->crews.list[i];

        if (strcmp(time->crew, crew) == 0 && works_on(time, day) &&
            (best == NULL || time->to - time->from < best->to - best->from))
            best = time;
    }
    return best;
}

static const struct lift_time *lift_of(const struct orchard *orchard, const char *lift, daynum day,
                                       bool *in_table)
{
    const struct lift_time *best = NULL;

    *in_table = false;
    for (size_t i = 0; i < orchard->lifts.count; i++) {
        const struct lift_time *time = &orchard->lifts.list[i];

        if (strcmp(time->lift, lift) != 0)
            continue;
        *in_table = true;
        if (time->from <= day && day <= time->to &&
            (best == NULL || time->to - time->from < best->to - best->from))
            best = time;
    }
    return best;
}

/* 0 also where the hours are not told. */
static int64_t half_of(double hours_per_day)
{
    return hours_per_day > 0 ? (int64_t)llround(hours_per_day * HALF_DAY_MINUTES_OF_HOUR) : 0;
}

int64_t lift_half_minutes(const struct lift_time *lift)
{
    return half_of(lift->hours_per_day);
}

static void fill_lift(struct crew_day *of, const struct orchard *orchard, daynum day)
{
    const struct crew_time *time = of->time;
    bool in_table = false;

    of->half_lift_minutes = of->half_minutes;
    if (time->lift_name == NULL) {
        /* A crew that is there for the crowns gets up somehow; another has no lift. */
        if (orchard->lifts.count > 0 && time->work != WORK_LIFT)
            of->half_lift_minutes = 0;
        return;
    }
    of->lift = lift_of(orchard, time->lift_name, day, &in_table);
    if (!in_table)
        return;
    int64_t lift = of->lift != NULL ? lift_half_minutes(of->lift) : 0;
    if (lift < of->half_lift_minutes)
        of->half_lift_minutes = lift;
}

struct crew_day crew_whole_day_of(const struct orchard *orchard, const char *crew, daynum day)
{
    struct crew_day of = {.time = time_of(orchard, crew, day)};

    if (of.time == NULL)
        return of;
    of.half_minutes = half_of(of.time->hours_per_day);
    if (of.half_minutes == 0)
        return (struct crew_day){0};
    fill_lift(&of, orchard, day);
    return of;
}

static const struct taken_time *taken_of(const struct orchard *orchard, const char *crew,
                                         daynum day)
{
    size_t low = 0, high = orchard->taken.count;

    while (low < high) {
        size_t middle = low + (high - low) / 2;
        const struct taken_time *taken = &orchard->taken.list[middle];
        int order = strcmp(taken->crew, crew);

        if (order == 0)
            order = (taken->day > day) - (taken->day < day);
        if (order == 0)
            return taken;
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return NULL;
}

static int64_t less(int64_t minutes, int64_t taken)
{
    return minutes > taken ? minutes - taken : 0;
}

struct crew_day crew_day_of(const struct orchard *orchard, const char *crew, daynum day)
{
    struct crew_day of = crew_whole_day_of(orchard, crew, day);
    const struct taken_time *taken = taken_of(orchard, crew, day);

    if (taken == NULL)
        return of;
    of.kept_at = taken->site;
    of.half_minutes = less(of.half_minutes, taken->minutes);
    of.half_lift_minutes = taken->no_lift ? 0 : less(of.half_lift_minutes, taken->minutes);
    return of.half_minutes > 0 ? of : (struct crew_day){0};
}

int64_t crew_half_minutes(const struct crew_day *crew_day, const struct site *site, enum work work)
{
    const struct crew_time *time = crew_day->time;

    if (time == NULL || (time->site_name != NULL && time->site != site) ||
        (crew_day->kept_at != NULL && crew_day->kept_at != site))
        return 0;
    if (work != WORK_ANY && time->work != WORK_ANY && time->work != work)
        return 0;
    if (work != WORK_LIFT)
        return crew_day->half_minutes;
    if (crew_day->lift != NULL && crew_day->lift->site_name != NULL && crew_day->lift->site != site)
        return 0;
    return crew_day->half_lift_minutes;
}

bool crew_reaches(const struct crew_day *crew_day, const struct tree *tree)
{
    const struct lift_time *lift = crew_day->lift;

    return lift == NULL || isnan(lift->reach_m) || isnan(tree->reach_needed_m) ||
           lift->reach_m >= tree->reach_needed_m;
}

static bool same_or_blank(const char *noted, const char *name)
{
    return noted == NULL || (name != NULL && strcmp(noted, name) == 0);
}

static bool is_spray_at(const struct note *note, const char *site, const char *block)
{
    return note->kind == NOTE_SPRAYED && (note->site != NULL || note->block != NULL) &&
           same_or_blank(note->site, site) && same_or_blank(note->block, block);
}

daynum crew_spray_ends(const struct note *note)
{
    return note->date + (note->number > 0 ? (daynum)ceil(note->number / 24.0) : 0);
}

bool crew_kept_out(const struct orchard *orchard, const struct tree *tree, daynum day)
{
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];

        if (is_spray_at(note, tree->site_name, tree->block) && note->date <= day &&
            day <= crew_spray_ends(note))
            return true;
    }
    return false;
}

daynum crew_shut_until(const struct orchard *orchard, const struct site *site, const char *block)
{
    daynum until = DAY_NONE;

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];

        if (is_spray_at(note, site->name, block) && crew_spray_ends(note) > until)
            until = crew_spray_ends(note);
    }
    return until;
}
