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

/* Numbers with their letters, in this order, each at most once. */
static bool take_parts(struct rest *rest, const char *letters, const int64_t *seconds,
                       int64_t *total)
{
    size_t next = 0, digits;
    int64_t number;
    while (is_digit(rest)) {
        if (!take_number(rest, DIGITS_MOST, &number, &digits) || rest->length == 0)
            return false;
        while (letters[next] != '\0' && letters[next] != rest->text[0])
            next++;
        if (letters[next] == '\0')
            return false;
        *total += number * seconds[next++];
        take(rest, rest->text[0]);
    }
    return true;
}

bool duration_parse(size_t length, const char *text, int64_t *seconds)
{
    static const int64_t of_days[] = {7 * SECONDS_A_DAY, SECONDS_A_DAY}, of_times[] = {3600, 60, 1};
    struct rest rest = {text, length};
    *seconds = 0;
    if (!take(&rest, 'P') || !take_parts(&rest, "WD", of_days, seconds))
        return false;
    if (take(&rest, 'T') && (!is_digit(&rest) || !take_parts(&rest, "HMS", of_times, seconds)))
        return false;
    return rest.length == 0 && *seconds > 0;
}

bool interval_parse(size_t length, const char *text, struct interval *interval)
{
    const char *slash = memchr(text, '/', length);
    int64_t seconds;
    if (slash == NULL)
        return false;
    size_t first = (size_t)(slash - text), second = length - first - 1;
    const char *after = slash + 1;
    if (moment_parse(first, text, &interval->start)) {
        if (duration_parse(second, after, &seconds))
            interval->end = interval->start + seconds;
        else if (!moment_parse(second, after, &interval->end))
            return false;
    } else {
        if (!duration_parse(first, text, &seconds) || !moment_parse(second, after, &interval->end))
            return false;
        interval->start = interval->end - seconds;
    }
    return interval->end > interval->start;
}
