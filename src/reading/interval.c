#include "reading/interval.h"

#include "base/day.h"

#include <string.h>

enum { DATE_BYTES = 10, SECONDS_A_DAY = 86400, DIGITS_MOST = 6 };

/* What is left to read. */
struct rest {
    const char *text;
    size_t length;
};

static bool take(struct rest *rest, char byte)
{
    if (rest->length == 0 || rest->text[0] != byte)
        return false;
    rest->text++;
    rest->length--;
    return true;
}

static bool is_digit(const struct rest *rest)
{
    return rest->length > 0 && rest->text[0] >= '0' && rest->text[0] <= '9';
}

/* 1 to `most` digits; how many in *digits. */
static bool take_number(struct rest *rest, size_t most, int64_t *number, size_t *digits)
{
    *number = 0;
    *digits = 0;
    while (is_digit(rest)) {
        if (++*digits > most)
            return false;
        *number = 10 * *number + (rest->text[0] - '0');
        rest->text++;
        rest->length--;
    }
    return *digits > 0;
}

/* Exactly two digits, up to `most`; what follows may be a digit too. */
static bool take_two(struct rest *rest, int64_t most, int64_t *number)
{
    struct rest two = {rest->text, rest->length < 2 ? rest->length : 2};
    size_t digits;
    if (!take_number(&two, 2, number, &digits) || digits != 2 || *number > most)
        return false;
    rest->text += 2;
    rest->length -= 2;
    return true;
}

/* "13:00", "13:00:05", "13:00:05.250" as seconds of the day. */
static bool take_time(struct rest *rest, int64_t *second)
{
    int64_t hours, minutes, seconds = 0, fraction;
    size_t digits;
    if (!take_two(rest, 24, &hours) || !take(rest, ':') || !take_two(rest, 59, &minutes))
        return false;
    if (take(rest, ':') && !take_two(rest, 59, &seconds))
        return false;
    if (take(rest, '.') && !take_number(rest, 9, &fraction, &digits))
        return false;
    *second = 3600 * hours + 60 * minutes + seconds;
    return *second <= SECONDS_A_DAY; /* 24:00 is the end of the day */
}

/* "Z", "+00:00", "-0500", "+01" as seconds. */
static bool take_offset(struct rest *rest, int64_t *second)
{
    int64_t hours, minutes = 0;
    bool west;
    *second = 0;
    if (take(rest, 'Z'))
        return true;
    west = take(rest, '-');
    if (!west && !take(rest, '+'))
        return false;
    if (!take_two(rest, 14, &hours))
        return false;
    bool colon = take(rest, ':');
    if ((colon || rest->length > 0) && !take_two(rest, 59, &minutes))
        return false;
    *second = (west ? -1 : 1) * (3600 * hours + 60 * minutes);
    return true;
}

bool moment_parse(size_t length, const char *text, int64_t *second)
{
    daynum day;
    int64_t time, offset;
    if (length <= DATE_BYTES || !day_parse(DATE_BYTES, text, &day))
        return false;
    struct rest rest = {text + DATE_BYTES, length - DATE_BYTES};
    if (!take(&rest, 'T') || !take_time(&rest, &time) || !take_offset(&rest, &offset) ||
        rest.length > 0)
        return false;
    if (day < day_from_civil(1800, 1, 1) || day > day_from_civil(2199, 12, 31))
        return false;
    *second = (int64_t)day * SECONDS_A_DAY + time - offset;
    return true;
}

/* One part of a duration: its letter and how long one of it is. */
struct part {
    char letter;
    int64_t months, seconds; /* one of them is 0 */
};

/* ".5" or ",5" of `one`, rounded down to a second; a fraction of a month has no length. */
static bool take_fraction(struct rest *rest, int64_t one, int64_t *seconds)
{
    int64_t tenth = 1, fraction;
    size_t digits;
    if (!take(rest, '.') && !take(rest, ','))
        return true;
    if (one == 0 || !take_number(rest, DIGITS_MOST, &fraction, &digits))
        return false;
    for (size_t i = 0; i < digits; i++)
        tenth *= 10;
    *seconds += fraction * one / tenth;
    return true;
}

/* Numbers with their letters, in this order, each at most once, the last perhaps with a fraction.
 */
static bool take_parts(struct rest *rest, size_t count, const struct part *parts,
                       struct duration *total)
{
    size_t next = 0;
    bool ended = false; /* by a fraction */
    while (is_digit(rest)) {
        int64_t number;
        size_t digits;
        if (ended || !take_number(rest, DIGITS_MOST, &number, &digits))
            return false;
        struct rest fraction = *rest;
        while (rest->length > 0 && (is_digit(rest) || *rest->text == '.' || *rest->text == ','))
            take(rest, *rest->text);
        ended = rest->text != fraction.text;
        while (next < count && (rest->length == 0 || parts[next].letter != rest->text[0]))
            next++;
        if (next == count)
            return false;
        fraction.length -= rest->length;
        total->months += number * parts[next].months;
        total->seconds += number * parts[next].seconds;
        if (!take_fraction(&fraction, parts[next].seconds, &total->seconds) || fraction.length > 0)
            return false;
        take(rest, parts[next++].letter);
    }
    return !ended || rest->length == 0;
}

bool duration_parse(size_t length, const char *text, struct duration *duration)
{
    static const struct part days[] = {
        {'Y', 12, 0}, {'M', 1, 0}, {'W', 0, 7 * SECONDS_A_DAY}, {'D', 0, SECONDS_A_DAY}};
    static const struct part times[] = {{'H', 0, 3600}, {'M', 0, 60}, {'S', 0, 1}};
    struct rest rest = {text, length};
    *duration = (struct duration){0, 0};
    if (!take(&rest, 'P') || !take_parts(&rest, sizeof days / sizeof *days, days, duration))
        return false;
    if (take(&rest, 'T') &&
        (!is_digit(&rest) || !take_parts(&rest, sizeof times / sizeof *times, times, duration)))
        return false;
    return rest.length == 0 && (duration->seconds > 0 || duration->months > 0);
}

/* Months are those of the calendar in UTC; a day that a month lacks is its last. */
static bool add(int64_t second, struct duration duration, int sign, int64_t *moved)
{
    int64_t of_day = second % SECONDS_A_DAY;
    of_day += of_day < 0 ? SECONDS_A_DAY : 0;
    struct civil civil = day_to_civil((daynum)((second - of_day) / SECONDS_A_DAY));
    int64_t month = 12 * (int64_t)civil.year + civil.month - 1 + sign * duration.months;
    if (month < 12 * (int64_t)1000 || month > 12 * (int64_t)9000)
        return false;
    civil.year = (int)(month / 12);
    civil.month = (int)(month % 12) + 1;
    if (civil.day > day_month_length(civil.year, civil.month))
        civil.day = day_month_length(civil.year, civil.month);
    *moved = (int64_t)day_from_civil(civil.year, civil.month, civil.day) * SECONDS_A_DAY + of_day +
             sign * duration.seconds;
    return true;
}

bool interval_parse(size_t length, const char *text, struct interval *interval)
{
    const char *slash = memchr(text, '/', length);
    struct duration duration;
    if (slash == NULL)
        return false;
    size_t first = (size_t)(slash - text), second = length - first - 1;
    const char *after = slash + 1;
    if (moment_parse(first, text, &interval->start)) {
        if (duration_parse(second, after, &duration)) {
            if (!add(interval->start, duration, 1, &interval->end))
                return false;
        } else if (!moment_parse(second, after, &interval->end)) {
            return false;
        }
    } else if (!duration_parse(first, text, &duration) ||
               !moment_parse(second, after, &interval->end) ||
               !add(interval->end, duration, -1, &interval->start)) {
        return false;
    }
    return interval->end > interval->start;
}
