/*
 * At most 15 digits and 22 places after the point: both the digits and the power of ten are then
 * doubles without error (10^22 is 5^22 * 2^22, and 5^22 < 2^53), so that one division rounds once
 * and gives the nearest double.  strtod would read hexadecimal, nan and the locale's point besides.
 */
#include "base/number.h"

enum { DIGITS_MOST = 15, PLACES_MOST = 22, DECIMAL_PLACES_MOST = 9 };

/* [+-]digits[.digits] as it stands. */
struct digits {
    bool negative;
    int64_t units; /* all digits as one number, without the sign */
    size_t places; /* digits after the point */
};

static bool is_digit(char byte)
{
    return byte >= '0' && byte <= '9';
}

static bool read_digits(size_t length, const char *text, struct digits *digits)
{
    size_t at = 0, significant = 0;
    bool point = false;
    *digits = (struct digits){.negative = length > 0 && text[0] == '-'};

    if (length > 0 && (text[0] == '-' || text[0] == '+'))
        at++;
    if (at == length || !is_digit(text[at]) || !is_digit(text[length - 1]))
        return false;
    for (; at < length; at++) {
        if (text[at] == '.' && !point) {
            point = true;
            continue;
        }
        if (!is_digit(text[at]))
            return false;
        digits->places += point;
        significant += significant > 0 || text[at] != '0';
        if (significant > DIGITS_MOST || digits->places > PLACES_MOST)
            return false;
        digits->units = digits->units * 10 + (text[at] - '0');
    }
    return true;
}

bool number_parse(size_t length, const char *text, double *value)
{
    static const double powers[PLACES_MOST + 1] = {
        1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
        1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
    };
    struct digits digits;
    if (!read_digits(length, text, &digits))
        return false;
    double size = (double)digits.units / powers[digits.places];
    *value = digits.negative && digits.units > 0 ? -size : size; /* no -0 */
    return true;
}

bool number_parse_integer(size_t length, const char *text, int32_t *value)
{
    struct digits digits;
    if (!read_digits(length, text, &digits) || digits.places > 0)
        return false;
    int64_t whole = digits.negative ? -digits.units : digits.units;
    if (whole < INT32_MIN || whole > INT32_MAX)
        return false;
    *value = (int32_t)whole;
    return true;
}

bool number_parse_decimal(size_t length, const char *text, struct decimal *value)
{
    struct digits digits;
    if (!read_digits(length, text, &digits) || digits.places > DECIMAL_PLACES_MOST)
        return false;
    value->units = digits.negative ? -digits.units : digits.units;
    value->scale = (int)digits.places;
    return true;
}

static int64_t power_of_ten(int exponent)
{
    int64_t power = 1;
    while (exponent-- > 0)
        power *= 10;
    return power;
}

double number_of_decimal(struct decimal value)
{
    return (double)value.units / (double)power_of_ten(value.scale);
}

int64_t number_divide_up(int64_t count, struct decimal by)
{
    if (count < 0 || by.units <= 0)
        return -1;

    /* Long division of count * 10^scale, one digit at a time, as the product may not fit. */
    int64_t quotient = count / by.units, rest = count % by.units;
    for (int place = 0; place < by.scale; place++) {
        int digit = 0;
        uint64_t sum = 0; /* rest * 10, less what went into the digit */
        for (int i = 0; i < 10; i++) {
            sum += (uint64_t)rest;
            if (sum >= (uint64_t)by.units) {
                sum -= (uint64_t)by.units;
                digit++;
            }
        }
        rest = (int64_t)sum;
        if (quotient > (INT64_MAX - digit) / 10)
            return -1;
        quotient = quotient * 10 + digit;
    }
    if (rest == 0)
        return quotient;
    return quotient < INT64_MAX ? quotient + 1 : -1;
}

/* left * right + more of numbers that are not negative; -1 when it does not fit. */
static int64_t multiply_add(int64_t left, int64_t right, int64_t more)
{
    if (right > 0 && left > (INT64_MAX - more) / right)
        return -1;
    return left * right + more;
}

int64_t number_multiply_up(int64_t count, struct decimal by)
{
    if (count < 0 || by.units < 0)
        return -1;

    /* With one = 10^scale, count = c * one + d and units = a * one + b the product is
     * count * a + c * b + d * b / one, and d * b < 10^18. */
    int64_t one = power_of_ten(by.scale);
    int64_t a = by.units / one, b = by.units % one, c = count / one, d = count % one;
    int64_t last = (d * b + one - 1) / one;
    int64_t sum = multiply_add(c, b, last);
    return sum < 0 ? -1 : multiply_add(count, a, sum);
}
