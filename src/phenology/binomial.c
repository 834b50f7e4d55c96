/*
 * binomial.c - counts of successes.
 *
 * Terms are taken relative to the largest, by ratios of neighbours, and divided by their sum: no
 * factorial and no logarithm, and the far tail keeps its digits.
 */
#include "conetide/binomial.h"

#include <math.h>
#include <stdbool.h>

/* A term this small beside what has been summed no longer counts. */
static const double negligible = 1e-18;

struct terms {
    int64_t n;
    double odds;    /* p / (1 - p) */
    int64_t lowest; /* successes from which terms are counted */
    double limit;   /* size up to which terms are counted */
    double total;
    double counted;
};

static void take(struct terms *terms, int64_t successes, double term)
{
    terms->total += term;
    if (successes >= terms->lowest && term <= terms->limit)
        terms->counted += term;
}

static void take_upwards(struct terms *terms, int64_t mode)
{
    double term = 1;

    for (int64_t i = mode; i < terms->n && term > 0; i++) {
        term *= (double)(terms->n - i) / (double)(i + 1) * terms->odds;
        take(terms, i + 1, term);
        if (term <= negligible * terms->counted)
            break;
    }
}

static void take_downwards(struct terms *terms, int64_t mode)
{
    double term = 1;

    for (int64_t i = mode; i > 0 && term > 0; i--) {
        term *= (double)i / ((double)(terms->n - i + 1) * terms->odds);
        take(terms, i - 1, term);
        if (term <= negligible * terms->counted ||
            (i <= terms->lowest && term <= negligible * terms->total))
            break;
    }
}

static int64_t mode_of(int64_t n, double p)
{
    int64_t mode = (int64_t)(((double)n + 1) * p);

    return mode < n ? mode : n;
}

/* Share of the terms with at least `lowest` successes and at most `limit` of the largest's size. */
static double counted_share(int64_t n, double p, int64_t lowest, double limit)
{
    struct terms terms = {n, p / (1 - p), lowest, limit, 0, 0};
    int64_t mode = mode_of(n, p);

    take(&terms, mode, 1);
    take_upwards(&terms, mode);
    take_downwards(&terms, mode);
    return terms.counted / terms.total;
}

static bool is_binomial(int64_t n, double p)
{
    return n >= 0 && n <= CONETIDE_TRIES_MOST && p >= 0 && p <= 1;
}

double conetide_binomial_at_least(int64_t n, int64_t k, double p)
{
    if (!is_binomial(n, p))
        return NAN;
    if (k <= 0)
        return 1;
    if (k > n || p <= 0)
        return 0;
    if (p >= 1)
        return 1;
    return fmin(1, counted_share(n, p, k, INFINITY));
}

enum conetide_status conetide_tries_needed(int64_t k, double p, double chance, int64_t *n)
{
    int64_t low = k, high = k;

    *n = -1;
    if (!is_binomial(k, p) || !(chance > 0 && chance < 1))
        return CONETIDE_BAD_ARGUMENT;
    chance -= 1e-12;
    while (conetide_binomial_at_least(high, k, p) < chance) {
        if (high >= CONETIDE_TRIES_MOST)
            return CONETIDE_NOT_REACHED;
        low = high + 1;
        high = 2 * high < CONETIDE_TRIES_MOST ? 2 * high : CONETIDE_TRIES_MOST;
    }
    while (low < high) {
        int64_t middle = low + (high - low) / 2;

        if (conetide_binomial_at_least(middle, k, p) >= chance)
            high = middle;
        else
            low = middle + 1;
    }
    *n = low;
    return CONETIDE_OK;
}

/* The term of k successes relative to the largest. */
static double term_of(int64_t n, int64_t k, double p)
{
    double odds = p / (1 - p), term = 1;

    for (int64_t i = mode_of(n, p); i < k && term > 0; i++)
        term *= (double)(n - i) / (double)(i + 1) * odds;
    for (int64_t i = mode_of(n, p); i > k && term > 0; i--)
        term *= (double)i / ((double)(n - i + 1) * odds);
    return term;
}

double conetide_binomial_test(int64_t n, int64_t k, double p)
{
    if (!is_binomial(n, p) || n < 1 || k < 0 || k > n)
        return NAN;
    if (p <= 0)
        return k == 0;
    if (p >= 1)
        return k == n;
    return fmin(1, counted_share(n, p, 0, term_of(n, k, p) * (1 + 1e-7)));
}

enum conetide_status conetide_wilson(int64_t n, int64_t k, double z, double *low, double *high)
{
    double tries = (double)n, share, square, centre, half;

    *low = *high = NAN;
    if (n < 1 || k < 0 || k > n || !(z > 0) || !isfinite(z))
        return CONETIDE_BAD_ARGUMENT;
    share = (double)k / tries;
    square = z * z;
    centre = share + square / (2 * tries);
    half = z * sqrt(share * (1 - share) / tries + square / (4 * tries * tries));
    *low = k == 0 ? 0 : (centre - half) / (1 + square / tries);
    *high = k == n ? 1 : (centre + half) / (1 + square / tries);
    return CONETIDE_OK;
}
