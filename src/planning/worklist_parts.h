/*
 * worklist_parts.h - what the files of the worklist share; nothing else includes it.
 *
 * worklist_rows.c: numbers and words of rows; worklist_take.c: materials, minutes, hazards;
 * worklist.c: the whole.
 */
#ifndef PLANNING_WORKLIST_PARTS_H
#define PLANNING_WORKLIST_PARTS_H

#include "planning/duty.h"
#include "planning/worklist.h"
#include "planning/worklist_words.h"

struct list_maker {
    const struct orchard *orchard;
    const struct crossing_plan *plan;
    struct arena *arena;
    const char *const *crews;
    size_t crew_count;
    bool sprayed; /* some site, lately */
};

/* Codes and words of the rows of a crew's day. */
void number_page(const struct list_maker *maker, struct work_page *page);

/* The same of work without a crew, in a list printed from `day` on. */
void number_office(const struct list_maker *maker, struct worklist *list, daynum day);

/* What to take along; the kinds of work. */
void fill_materials(const struct list_maker *maker, struct work_page *page);

/* Minutes of the visits and of the duties, which are `duty_minutes`. */
void fill_minutes(const struct list_maker *maker, struct work_page *page, int64_t duty_minutes);

/* Cautions for the work of the page. */
void fill_cautions(const struct list_maker *maker, struct work_page *page);

#endif
