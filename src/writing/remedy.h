/*
 * remedy.h - what would help a cross that is short, in one line.
 */
#ifndef WRITING_REMEDY_H
#define WRITING_REMEDY_H

#include "planning/crossing.h"

/* "remedy: make 12 grafts of S111 this winter (helps until 2027-03-05)"; NULL: none was sought. */
const char *shortfall_remedy_text(struct arena *arena, const struct shortfall *shortfall);

#endif
