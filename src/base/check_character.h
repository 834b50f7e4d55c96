/*
 * check_character.h - ISO/IEC 7064 MOD 37-2 over 0-9 and A-Z.
 *
 * Catches every single wrong character and every swap of neighbours.
 */
#ifndef BASE_CHECK_CHARACTER_H
#define BASE_CHECK_CHARACTER_H

#include <stdbool.h>

/* Check character ('0'-'9', 'A'-'Z' or '*') of `text`; hyphens and blanks are passed over and lower
 * case counts as upper.  0 when another character stands in it, or none.  Leading zeros do not
 * count: 12 and 0012 have the same, so that lengths are compared apart. */
char check_character(const char *text);

/* Does the last character of `text` check the rest? */
bool check_character_holds(const char *text);

#endif
