/*
 * The calendar repeats after 400 years of 146 097 days.  Years are counted inside from the start
 * of such a cycle, so that divisions never meet a negative number.
 */
#include "base/day.h"

#include <assert.h>

enum {
    FIRST_YEAR = 1,
    LAST_YEAR = 9999,
    CYCLE_YEARS = 400,
    CYCLE_DAYS = 146097,
    CENTURY_DAYS = 36524,
    FOUR_YEARS_DAYS = 1461,
    YEAR_DAYS = 365,
    WEEK_DAYS = 7,
    THURSDAY = 4,
};

static const int days_before_month[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365};

bool day_is_leap(int year)
{
    return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

int day_month_length(int year, int month)
{
    assert(month >= 1 && month <= 12);
    if (month == 2)
        return day_is_leap(year) ? 29 : 28;
    return days_before_month[month] - days_before_month[month - 1];
}

static bool is_known(daynum day)
{
    return day >= DAY_FIRST && day <= DAY_LAST;
}

/* 1 January; sound one cycle before year 1 and after 9999, too. */
static daynum new_year(int year)
{
    int past = year - 1 + CYCLE_YEARS;
    return DAY_FIRST - CYCLE_DAYS + past * YEAR_DAYS + past / 4 - past / 100 + past / 400;
}

static int days_before(int year, int month)
{
    return days_before_month[month - 1] + (month > 2 && day_is_leap(year));
}

static bool is_date(int year, int month, int day)
{
    return year >= FIRST_YEAR && year <= LAST_YEAR && month >= 1 && month <= 12 && day >= 1 &&
           day <= day_month_length(year, month);
}

daynum day_from_civil(int year, int month, int day)
{
    if (!is_date(year, month, day))
        return DAY_NONE;
    return new_year(year) + days_before(year, month) + day - 1;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

int day_year(daynum day)
{
    assert(is_known(day));
    int rest = day - DAY_FIRST;
    int cycles = rest / CYCLE_DAYS;
    rest %= CYCLE_DAYS;
    /* The last century of a cycle and the last year of four are a day longer than the others. */
    int centuries = least(rest / CENTURY_DAYS, 3);
    rest -= centuries * CENTURY_DAYS;
    int fours = rest / FOUR_YEARS_DAYS;
    rest %= FOUR_YEARS_DAYS;
    int years = least(rest / YEAR_DAYS, 3);
    return FIRST_YEAR + cycles * CYCLE_YEARS + centuries * 100 + fours * 4 + years;
}

int day_of_year(daynum day)
{
    return day - new_year(day_year(day)) + 1;
}

struct civil day_to_civil(daynum day)
{
    int year = day_year(day);
    int rest = day - new_year(year);
    int month = rest / 31 + 1; /* the right one or the one before it */
    if (month < 12 && rest >= days_before(year, month + 1))
        month++;
    return (struct civil){year, month, rest - days_before(year, month) + 1};
}

int day_weekday(daynum day)
{
    assert(is_known(day));
    return (day - DAY_FIRST) % WEEK_DAYS + 1; /* 0001-01-01 is a Monday */
}

void day_iso_week(daynum day, int *year, int *week)
{
    /* A week belongs to the year its Thursday lies in. */
    int to_thursday = THURSDAY - day_weekday(day);
    int own = day_year(day);
    int index = day + to_thursday - new_year(own);
    if (index < 0)
        own--;
    else if (index >= YEAR_DAYS + day_is_leap(own))
        own++;
    *year = own;
    *week = (day + to_thursday - new_year(own)) / WEEK_DAYS + 1;
}

daynum day_of_iso_week(int year, int week)
{
    if (year < FIRST_YEAR || year > LAST_YEAR || week < 1 || week > 53)
        return DAY_NONE;
    daynum fourth = new_year(year) + 3; /* 4 January is always in week 1 */
    daynum monday = fourth - (day_weekday(fourth) - 1) + (week - 1) * WEEK_DAYS;

    int found_year, found_week;
    day_iso_week(monday, &found_year, &found_week);
    return found_year == year ? monday : DAY_NONE;
}

daynum day_in_year(struct month_day month_day, int year)
{
    if (month_day.month == 2 && month_day.day == 29 && !day_is_leap(year))
        month_day.day = 28;
    return day_from_civil(year, month_day.month, month_day.day);
}

daynum day_on_or_after(struct month_day month_day, daynum day)
{
    int year = day_year(day);
    daynum found = day_in_year(month_day, year);
    return found == DAY_NONE || found >= day ? found : day_in_year(month_day, year + 1);
}

/* `count` digits as a number; -1 when another character is among them. */
static int read_digits(size_t count, const char *text)
{
    int value = 0;
    for (size_t i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

bool day_parse(size_t length, const char *text, daynum *day)
{
    if (length != 10 || text[4] != '-' || text[7] != '-')
        return false;
    daynum found =
        day_from_civil(read_digits(4, text), read_digits(2, text + 5), read_digits(2, text + 8));
    if (found == DAY_NONE)
        return false;
    *day = found;
    return true;
}

bool day_parse_week(size_t length, const char *text, daynum *monday)
{
    if (length != 8 || text[4] != '-' || text[5] != 'W')
        return false;
    daynum found = day_of_iso_week(read_digits(4, text), read_digits(2, text + 6));
    if (found == DAY_NONE)
        return false;
    *monday = found;
    return true;
}

bool day_parse_month_day(size_t length, const char *text, struct month_day *month_day)
{
    enum { A_LEAP_YEAR = 2000 };
    if (length != 5 || text[2] != '-')
        return false;
    struct month_day found = {read_digits(2, text), read_digits(2, text + 3)};
    if (!is_date(A_LEAP_YEAR, found.month, found.day))
        return false;
    *month_day = found;
    return true;
}

static char *write_digits(char *at, int count, int value)
{
    for (int i = count; i-- > 0; value /= 10)
        at[i] = (char)('0' + value % 10);
    return at + count;
}

const char *day_text(daynum day, char buffer[DAY_TEXT])
{
    char *at = buffer;
    if (is_known(day)) {
        struct civil civil = day_to_civil(day);
        at = write_digits(at, 4, civil.year);
        *at++ = '-';
        at = write_digits(at, 2, civil.month);
        *at++ = '-';
        at = write_digits(at, 2, civil.day);
    }
    *at = '\0';
    return buffer;
}

const char *day_week_text(daynum day, char buffer[DAY_WEEK_TEXT])
{
    char *at = buffer;
    if (is_known(day)) {
        int year, week;
        day_iso_week(day, &year, &week);
        at = write_digits(at, 4, year);
        *at++ = '-';
        *at++ = 'W';
        at = write_digits(at, 2, week);
    }
    *at = '\0';
    return buffer;
}

const char *day_weekday_name(int weekday)
{
    static const char *const names[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
    assert(weekday >= 1 && weekday <= 7);
    return names[weekday - 1];
}

const char *day_month_name(int month)
{
    static const char *const names[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    assert(month >= 1 && month <= 12);
    return names[month - 1];
}

/* The year in which season N starts, less N. */
static int season_lead(struct season_rule rule)
{
    return rule.northern && rule.starts.month >= 7 ? -1 : 0;
}

/* As day_season_start, but sound one year before 0001 and after 9999. */
static daynum season_start(struct season_rule rule, int season)
{
    int year = season + season_lead(rule), day = rule.starts.day;
    assert(is_date(2000, rule.starts.month, rule.starts.day));
    if (rule.starts.month == 2 && day == 29 && !day_is_leap(year))
        day = 28;
    return new_year(year) + days_before(year, rule.starts.month) + day - 1;
}

daynum day_season_start(struct season_rule rule, int season)
{
    return day_in_year(rule.starts, season + season_lead(rule));
}

int day_season(struct season_rule rule, daynum day)
{
    int season = day_year(day) - season_lead(rule);
    return day >= season_start(rule, season) ? season : season - 1;
}

int day_of_season(struct season_rule rule, daynum day)
{
    return day - season_start(rule, day_season(rule, day));
}

int day_season_length(struct season_rule rule, int season)
{
    assert(season >= FIRST_YEAR && season <= LAST_YEAR);
    return season_start(rule, season + 1) - season_start(rule, season);
}

daynum day_map_season(struct season_rule rule, int season, daynum day, int from)
{
    struct civil civil = day_to_civil(day);
    struct month_day month_day = {civil.month, civil.day};
    assert(day_season(rule, day) == season);
    return day_in_year(month_day, civil.year + from - season);
}
