/*
 * calendar.h - a calendar that was given out earlier, as iCalendar (RFC 5545).
 */
#ifndef READING_CALENDAR_H
#define READING_CALENDAR_H

#include "orchard/calendar.h"
#include "reading/reading.h"

/* Its whole-day events, sorted by day and uid; of two with one uid the higher sequence.  Lines may
 * be folded and end in LF alone; properties that are not asked for are passed over.  false: the
 * source failed. */
bool read_calendar(struct calendar *calendar, const struct source *source, struct diags *diags);

#endif
