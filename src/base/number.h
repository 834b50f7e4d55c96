/*
 * number.h - strict decimal numbers: [+-]digits[.digits], nothing else.
 *
 * No exponent, hexadecimal, nan, locale, grouping or blanks, so that a cell means the same on every
 * machine.  At most 15 significant digits (counted from the first that is not 0), which a double
 * holds exactly enough to print back, and at most 22 after the point.
 */
#ifndef BASE_NUMBER_H
#define BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The nearest double, never -0; false (output untouched) when the text is not such a number. */
bool number_parse(size_t length, const char *text, double *value);

/* An optional sign and digits that fit int32. */
bool number_parse_integer(size_t length, const char *text, int32_t *value);

/*
 * An exact decimal: value = units / 10^scale.  Rates are kept so, because ceil(21 / 0.7) in doubles
 * is 31 and the right answer 30.  At most 9 digits after the point.
 */
struct decimal {
    int64_t units;
    int scale; /* 0 to 9 */
};
bool number_parse_decimal(size_t length, const char *text, struct decimal *value);

double number_of_decimal(struct decimal value);

/* Smallest whole n with n * by >= count (rounding up a division), exact; -1 when by <= 0 or it
 * does not fit.  count >= 0. */
int64_t number_divide_up(int64_t count, struct decimal by);

/* Smallest whole n >= count * by, exact; -1 when negative or it does not fit. */
int64_t number_multiply_up(int64_t count, struct decimal by);

#endif
