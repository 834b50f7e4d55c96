/*
 * order.h - total orders of rows, so that the order of lines in a file never shows.
 *
 * Blank cells come first.  The place a row was read from decides last, between rows that are
 * otherwise the same.
 */
#ifndef ORCHARD_ORDER_H
#define ORCHARD_ORDER_H

#include "orchard/orchard.h"

/* Less than, equal to or greater than 0.  Bytes; NULL first. */
int order_text(const char *a, const char *b);
/* NaN first. */
int order_number(double a, double b);
int order_whole(int64_t a, int64_t b);
int order_place(struct place a, struct place b);

/* Two notes by date, kind, subject, value, entry and every other cell; 0 when they say the same. */
int order_note_content(const struct note *a, const struct note *b);

/* Sort every list of the orchard. */
void order_lists(struct orchard *orchard);

/* Sort grafts by tag. */
void order_grafts(struct orchard *orchard);

#endif
