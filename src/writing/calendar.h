/*
 * calendar.h - a calendar as iCalendar (RFC 5545).
 */
#ifndef WRITING_CALENDAR_H
#define WRITING_CALENDAR_H

#include "orchard/calendar.h"
#include "writing/pages.h"

/* Whole-day events; lines end in CR LF and are folded at 75 bytes, never within a character. */
void calendar_write(const struct calendar *calendar, const struct page_run *run, struct text *out);

#endif
