/*
 * count.c - cold, forcing and day length of days, one value a count.
 */
#include "conetide/count.h"

#include "conetide/chill.h"
#include "conetide/daylength.h"
#include "conetide/hourly.h"
#include "conetide/sum.h"
#include "phenology/names.h"

#include <math.h>

/* ---- counts --------------------------------------------------------------------------------- */

static double hour_0_to_8(double degree_c)
{
    return conetide_chill_hour(degree_c, 0, 8);
}

static double hour_0_to_7_2(double degree_c)
{
    return conetide_chill_hour(degree_c, 0, 7.2);
}

static double up_to_7_2(double degree_c)
{
    return conetide_chill_hour(degree_c, -INFINITY, 7.2);
}

static double hour_0_to_12(double degree_c)
{
    return conetide_chill_hour(degree_c, 0, 12);
}

static double up_to_5(double degree_c)
{
    return conetide_chill_hour(degree_c, -INFINITY, 5);
}

static double growing_hour(double degree_c)
{
    return conetide_growing_degree_hour(degree_c, &conetide_anderson);
}

static double triangle(double degree_c)
{
    return conetide_chilling_rate(degree_c, -3.4, 3.5, 10.4);
}

static const struct conetide_count hours_0_to_8 = {
    "chilling-hours-0-8",
    "chilling hours",
    "South 2013, USDA RMRS-P-69:3-10: natural chilling of southern pine seedlings",
    CONETIDE_OF_HOURS,
    true,
    hour_0_to_8};
static const struct conetide_count hours_0_to_7_2 = {
    "chilling-hours-0-7.2",
    "chilling hours",
    "Bennett 1949, Calif. Agric. 3 (volume from memory)",
    CONETIDE_OF_HOURS,
    true,
    hour_0_to_7_2};
static const struct conetide_count hours_up_to_7_2 = {
    "chilling-hours-up-to-7.2",
    "chilling hours",
    "Weinberger 1950, Proc. Am. Soc. Hort. Sci. 56 (volume from memory)",
    CONETIDE_OF_HOURS,
    true,
    up_to_7_2};
static const struct conetide_count hours_0_to_12 = {
    "chilling-hours-0-12",
    "chilling hours",
    "Garber 1983, Can. J. For. Res.: loblolly seedlings chill alike at 0 to 12 deg C (author and "
    "year from memory)",
    CONETIDE_OF_HOURS,
    true,
    hour_0_to_12};
static const struct conetide_count utah = {
    "utah-units",      "Utah units", "Richardson, Seeley & Walker 1974, HortScience 9:331-332",
    CONETIDE_OF_HOURS, true,         conetide_utah_unit};
static const struct conetide_count portions = {
    "chill-portions",
    "chill portions",
    "Fishman, Erez & Couvillon 1987, J. Theor. Biol. 124 and 126; Erez et al. 1990, Acta Hort. 276",
    CONETIDE_OF_PORTIONS,
    true,
    NULL};
static const struct conetide_count days_up_to_5 = {
    "chilling-days-up-to-5",
    "chilling days",
    "Cannell & Smith 1983, J. Appl. Ecol. 20:951-963",
    CONETIDE_OF_MEANS,
    true,
    up_to_5};
static const struct conetide_count days_up_to_7_2 = {
    "chilling-days-up-to-7.2",
    "chilling days",
    "days whose mean is at most that of Weinberger's hours: own choice",
    CONETIDE_OF_MEANS,
    true,
    up_to_7_2};
static const struct conetide_count triangular = {
    "triangular-chilling",
    "chilling units",
    "Hanninen 1990, Acta For. Fenn. 213; -3.4, 3.5 and 10.4 deg C: Kramer 1994 (from memory)",
    CONETIDE_OF_MEANS,
    true,
    triangle};
static const struct conetide_count growing = {
    "growing-degree-hours",
    "growing degree hours",
    "Anderson, Richardson & Kesner 1986, Acta Hort. 184:71-78",
    CONETIDE_OF_HOURS,
    false,
    growing_hour};
static const struct conetide_count sigmoid = {
    "sigmoid-forcing",
    "forcing units",
    "Hanninen 1990, Acta For. Fenn. 213; as in Kramer 1994 (from memory)",
    CONETIDE_OF_MEANS,
    false,
    conetide_forcing_rate};
static const struct conetide_count length = {
    "day-length",
    "hours of day length",
    "Forsythe et al. 1995, Ecological Modelling 80:87-95; sunrise and sunset as seen",
    CONETIDE_OF_DAY_LENGTH,
    false,
    NULL};

const struct conetide_count *const conetide_counts[] = {
    &hours_0_to_8, &hours_0_to_7_2, &hours_up_to_7_2, &hours_0_to_12, &utah,    &portions,
    &days_up_to_5, &days_up_to_7_2, &triangular,      &growing,       &sigmoid, &length,
    NULL};

const struct conetide_count *conetide_count_named(const char *name)
{
    for (size_t i = 0; conetide_counts[i] != NULL; i++) {
        if (name_is(conetide_counts[i]->name, name))
            return conetide_counts[i];
    }
    return NULL;
}

bool conetide_count_needs_latitude(const struct conetide_count *count)
{
    return count->of != CONETIDE_OF_MEANS;
}

/* ---- days ----------------------------------------------------------------------------------- */

static const double shortest_day_h = 2, longest_day_h = 22;

static struct conetide_sun_day sun_day(const struct conetide_counted_days *given, size_t i)
{
    struct conetide_sun_day day = {given->tmin_c[i], given->tmax_c[i], NAN, NAN};
    struct conetide_sun sun;

    if (conetide_sun_of_day(given->latitude_deg, given->day_of_year[i], CONETIDE_SUN_RISE, &sun) !=
        CONETIDE_OK)
        return day;
    sun.length_h = fmin(fmax(sun.length_h, shortest_day_h), longest_day_h);
    day.sunrise_h = 12 - sun.length_h / 2;
    day.sunset_h = 12 + sun.length_h / 2;
    return day;
}

/* The hours of one day, NaN where they cannot be told. */
static void hours_of(const struct conetide_three_days *around, double hours_c[24])
{
    for (int hour = 0; hour < 24; hour++) {
        enum conetide_status status =
            conetide_temperature_at(&conetide_linvill, around, hour, &hours_c[hour]);

        (void)status; /* the temperature is NaN then */
    }
}

static double day_units(const struct conetide_count *count, const double hours_c[24],
                        struct conetide_dynamic *dynamic)
{
    double before = dynamic->portions, units = 0;

    if (count->of == CONETIDE_OF_PORTIONS) {
        for (int hour = 0; hour < 24; hour++)
            conetide_dynamic_hour(dynamic, hours_c[hour]);
        return dynamic->portions - before;
    }
    for (int hour = 0; hour < 24; hour++)
        units += count->of_temperature(hours_c[hour]);
    return units;
}

static void count_hours(const struct conetide_count *count,
                        const struct conetide_counted_days *given, size_t from, size_t end,
                        double *units)
{
    struct conetide_dynamic dynamic = {0, 0};
    struct conetide_three_days around;

    if (from == end)
        return;
    around.today = sun_day(given, from > 0 ? from - 1 : 0);
    around.tomorrow = sun_day(given, from);
    for (size_t i = from; i < end; i++) {
        double hours_c[24];

        around.yesterday = around.today;
        around.today = around.tomorrow;
        if (i + 1 < given->days)
            around.tomorrow = sun_day(given, i + 1);
        hours_of(&around, hours_c);
        units[i] = day_units(count, hours_c, &dynamic);
    }
}

static double reading_of(const struct conetide_count *count,
                         const struct conetide_counted_days *given, size_t i)
{
    struct conetide_sun sun;
    enum conetide_status status;

    if (count->of == CONETIDE_OF_MEANS)
        return count->of_temperature((given->tmin_c[i] + given->tmax_c[i]) / 2);
    status =
        conetide_sun_of_day(given->latitude_deg, given->day_of_year[i], CONETIDE_SUN_RISE, &sun);
    (void)status; /* the length is NaN then */
    return sun.length_h;
}

void conetide_count_units(const struct conetide_count *count,
                          const struct conetide_counted_days *given, size_t from, size_t end,
                          double *units)
{
    if (count->of == CONETIDE_OF_HOURS || count->of == CONETIDE_OF_PORTIONS) {
        count_hours(count, given, from, end, units);
        return;
    }
    for (size_t i = from; i < end; i++)
        units[i] = reading_of(count, given, i);
}

size_t conetide_heat_after_chilling(const struct conetide_chilled_heat *given, double *chill_sum,
                                    double *heat_sum)
{
    double chill = 0, heat = 0;
    size_t met = given->days;

    for (size_t i = 0; i < given->days; i++) {
        if (i >= given->chill_from)
            chill += given->chill[i];
        chill_sum[i] = chill;
        if (met < i && i >= given->heat_from)
            heat += given->heat[i];
        if (met == given->days && isnan(chill))
            heat = NAN;
        if (met == given->days && i >= given->chill_from &&
            chill >= given->chill_need - CONETIDE_SUM_TOLERANCE)
            met = i;
        heat_sum[i] = heat;
    }
    return met;
}

size_t conetide_first_at_least(const double *value, size_t from, size_t end, double need)
{
    for (size_t i = from; i < end && !isnan(value[i]); i++) {
        if (value[i] >= need - CONETIDE_SUM_TOLERANCE)
            return i;
    }
    return end;
}
