/*
 * shrinkage_open_data - how far the end of receptivity follows its beginning, from tree to tree.
 *
 * Data: ../opendata/lodgepole/dates.csv, female receptivity of lodgepole pine at PGTIS 1997-2006
 * (Ministry of Forests of British Columbia, Open Government Licence; doi 10.5281/zenodo.14597484).
 * Of trees with all four visits known: middles of (last_not_yet, first_seen] and [last_seen,
 * first_past), as deviations from the mean of their year, and of their year and clone; correlation
 * over all groups of two trees and more.  A date known to an interval of w days errs by w^2 / 12
 * about its middle, which takes from the correlation what is not the trees'.
 */
#include "planning/condition.h"

#include "base/day.h"
#include "oracle.h"

enum { TREES_MOST = 2000 };

struct seen_tree {
    int year;
    char clone[32];
    double first, last, first_error, last_error; /* days; days^2 of an interval about its middle */
};

static struct seen_tree trees[TREES_MOST];
static size_t tree_count;

static bool read_day(const struct oracle *oracle, const char *column, daynum *day)
{
    const char *text = oracle_text(oracle, column);

    return text[0] != '\0' && day_parse(strlen(text), text, day);
}

static void read_trees(const char *site)
{
    struct oracle oracle;

    tree_count = 0;
    oracle_open(&oracle, "../opendata/lodgepole/dates.csv");
    while (oracle_next(&oracle)) {
        struct seen_tree *tree = &trees[tree_count];
        daynum before, first, last, past;

        if (strcmp(oracle_text(&oracle, "site"), site) != 0 ||
            strcmp(oracle_text(&oracle, "sex"), "female") != 0 ||
            !read_day(&oracle, "last_not_yet", &before) ||
            !read_day(&oracle, "first_seen", &first) || !read_day(&oracle, "last_seen", &last) ||
            !read_day(&oracle, "first_past", &past))
            continue;
        assert_true(++tree_count < TREES_MOST);
        *tree = (struct seen_tree){.year = (int)strtol(oracle_text(&oracle, "year"), NULL, 10),
                                   .first = (before + first) / 2.0,
                                   .last = (last + past) / 2.0,
                                   .first_error = pow(first - before, 2) / 12,
                                   .last_error = pow(past - last, 2) / 12};
        snprintf(tree->clone, sizeof tree->clone, "%s", oracle_text(&oracle, "clone"));
    }
}

static bool goes_with(const struct seen_tree *a, const struct seen_tree *b, bool by_clone)
{
    return a->year == b->year && (!by_clone || strcmp(a->clone, b->clone) == 0);
}

struct moments {
    size_t groups, trees;
    double first, last, both, first_error, last_error; /* sums of squares and products */
};

static void add_group(struct moments *moments, size_t leader, bool by_clone)
{
    double first = 0, last = 0;
    size_t n = 0;

    for (size_t i = leader; i < tree_count; i++) {
        if (!goes_with(&trees[leader], &trees[i], by_clone))
            continue;
        first += trees[i].first;
        last += trees[i].last;
        n++;
    }
    if (n < 2)
        return;
    moments->groups++;
    moments->trees += n;
    for (size_t i = leader; i < tree_count; i++) {
        double off = trees[i].first - first / (double)n, end = trees[i].last - last / (double)n;

        if (!goes_with(&trees[leader], &trees[i], by_clone))
            continue;
        moments->first += off * off;
        moments->last += end * end;
        moments->both += off * end;
        moments->first_error += trees[i].first_error;
        moments->last_error += trees[i].last_error;
    }
}

static struct moments moments_of(bool by_clone)
{
    struct moments moments = {0};

    for (size_t i = 0; i < tree_count; i++) {
        bool is_leader = true;

        for (size_t k = 0; k < i && is_leader; k++)
            is_leader = !goes_with(&trees[k], &trees[i], by_clone);
        if (is_leader)
            add_group(&moments, i, by_clone);
    }
    return moments;
}

static double correlation_of(const struct moments *moments)
{
    return moments->both / sqrt(moments->first * moments->last);
}

/* Without the error of middles: variances, by degrees of freedom, less its own. */
static double mended_correlation(const struct moments *moments)
{
    double free = (double)(moments->trees - moments->groups), n = (double)moments->trees;
    double first = moments->first / free - moments->first_error / n;
    double last = moments->last / free - moments->last_error / n;

    return moments->both / free / sqrt(first * last);
}

static void the_end_follows_the_beginning_by_seven_tenths(void **state)
{
    struct moments year, clone;

    (void)state;
    read_trees("PGTIS");
    year = moments_of(false);
    clone = moments_of(true);
    print_message("within year: %zu trees, correlation %.2f, %.2f without the days between visits\n"
                  "within year and clone: %zu trees in %zu groups, correlation %.2f\n",
                  year.trees, correlation_of(&year), mended_correlation(&year), clone.trees,
                  clone.groups, correlation_of(&clone));
    assert_int_equal(year.trees, 512);
    assert_near(correlation_of(&year), 0.68, 0.005);
    assert_near(mended_correlation(&year), 0.84, 0.005);
    assert_int_equal(clone.trees, 410);
    assert_near(correlation_of(&clone), 0.54, 0.005);
    assert_true(LATER_CORRELATION > correlation_of(&clone) &&
                LATER_CORRELATION < mended_correlation(&year));
    assert_near(LATER_CORRELATION, correlation_of(&year), 0.05);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_end_follows_the_beginning_by_seven_tenths),
    };

    return cmocka_run_group_tests_name("shrinkage, open data", tests, NULL, NULL) != 0;
}
