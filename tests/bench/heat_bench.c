/*
 * heat_bench.c - station-days a second of conetide_heat_days, as a ratio to a plain loop written by
 * hand for one curve and one cut-off.
 *
 * The ratio means the same on every machine; the numbers beside it do not.
 */
#include "conetide/heat.h"

#include <math.h>
#include <stdio.h>
#include <time.h>

enum { DAYS = 10000, REPEATS = 20, ROUNDS = 15 };

static const double goal = 0.75;
static const double pi = 3.14159265358979323846;

static double tmin_c[DAYS], tmax_c[DAYS], heat_units[DAYS];

/* A year's course of temperature with noise of a fixed sequence, so that every case comes. */
static void make_weather(void)
{
    unsigned long state = 20270309;

    for (int i = 0; i < DAYS; i++) {
        double season = 15 - 12 * cos(2 * pi * i / 365.25);

        state = (state * 1103515245 + 12345) & 0x7fffffff;
        tmin_c[i] = season - 6 + 10 * (double)(state >> 8) / 0x7fffff - 5;
        state = (state * 1103515245 + 12345) & 0x7fffffff;
        tmax_c[i] = tmin_c[i] + 2 + 16 * (double)(state >> 8) / 0x7fffff;
    }
}

static double sine_above(double low, double high, double threshold)
{
    double mean, base, height;

    if (high <= threshold)
        return 0;
    mean = (low + high) / 2;
    if (low >= threshold)
        return mean - threshold;
    base = threshold - mean;
    height = sqrt((high - threshold) * (threshold - low));
    return (height - base * atan2(height, base)) / pi;
}

static void by_hand(void)
{
    static const double lower = 10, upper = 30;

    for (int i = 0; i < DAYS; i++)
        heat_units[i] =
            sine_above(tmin_c[i], tmax_c[i], lower) - sine_above(tmin_c[i], tmax_c[i], upper);
}

static void by_library(void)
{
    static const struct conetide_heat_rule rule = {&conetide_sine, CONETIDE_CUTOFF_HORIZONTAL, 10,
                                                   30};
    size_t bad_day;

    if (conetide_heat_days(&rule, DAYS, tmin_c, tmax_c, heat_units, &bad_day) != CONETIDE_OK)
        printf("heat: day %zu has a fault\n", bad_day);
}

static double total(void)
{
    double sum = 0;

    for (int i = 0; i < DAYS; i++)
        sum += heat_units[i];
    return sum;
}

static double seconds_of(void (*run)(void))
{
    clock_t start = clock();

    for (int i = 0; i < REPEATS; i++)
        run();
    return (double)(clock() - start) / CLOCKS_PER_SEC;
}

/* The middle of an odd number of values, which are put in order. */
static double median(int n, double *values)
{
    for (int i = 1; i < n; i++) {
        double value = values[i];
        int at = i;

        for (; at > 0 && values[at - 1] > value; at--)
            values[at] = values[at - 1];
        values[at] = value;
    }
    return values[n / 2];
}

int main(void)
{
    double ratios[ROUNDS], rates[ROUNDS], hand_total, library_total, ratio;

    make_weather();
    by_hand();
    hand_total = total();
    by_library();
    library_total = total();
    if (!(fabs(hand_total - library_total) < 1e-6)) {
        printf("heat: the two disagree: %.9f, %.9f\n", hand_total, library_total);
        return 1;
    }
    /* both in every round, since a shared machine changes its speed under way */
    for (int round = 0; round < ROUNDS; round++) {
        double hand_s = seconds_of(by_hand), library_s = seconds_of(by_library);

        ratios[round] = hand_s / library_s;
        rates[round] = 1e-6 * DAYS * REPEATS / library_s;
    }
    ratio = median(ROUNDS, ratios);
    printf("heat: %.2f of the speed of a hand-written loop (sine, horizontal), goal %.2f; %.0f "
           "million station-days a second\n",
           ratio, goal, median(ROUNDS, rates));
    return ratio >= goal ? 0 : 1;
}
