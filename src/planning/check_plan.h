/*
 * check_plan.h - an independent recount of a crossing plan.
 *
 * Shares no code with the chooser but the nouns: bags per graft and cross, doses per lot, minutes
 * and places per crew and half-day, windows of every option, chances and value by enumeration of
 * all futures.
 */
#ifndef PLANNING_CHECK_PLAN_H
#define PLANNING_CHECK_PLAN_H

#include "base/text.h"
#include "planning/crossing.h"

/* True when nothing is wrong; else each fault is a line of `faults`. */
bool plan_check(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                struct text *faults);

#endif
