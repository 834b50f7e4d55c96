/*
 * fit_labels.c - grafts that run apart from the others of their name.
 *
 * What a graft needs, its seasons taken off, is set against what the others of its selection need.
 * It is told when it lies at least apart_days off and chance alone would part any graft of the
 * event so far in one fit out of twenty.
 */
#include "planning/fit_group.h"

#include "conetide/normal.h"
#include "orchard/order.h"

#include <math.h>
#include <stdlib.h>

static const double apart_days = 3, chance_of_any = 0.05; /* own choices */
enum { GRAFTS_LEAST = 3 };                                /* of the selection, itself too */

struct graft_mean {
    size_t selection;
    const char *subject;
    double total;
    size_t count;
};

static int order_graft_mean(const void *left, const void *right)
{
    const struct graft_mean *a = left, *b = right;
    int order = order_whole((int64_t)a->selection, (int64_t)b->selection);

    if (order == 0)
        order = order_text(a->subject, b->subject);
    /* sums are of the same order whatever that of the seasons */
    return order != 0 ? order : order_number(a->total, b->total);
}

static bool is_same_graft(const struct graft_mean *a, const struct graft_mean *b)
{
    return a->selection == b->selection && order_text(a->subject, b->subject) == 0;
}

/* One a graft, by selection and subject. */
static struct graft_mean *gather(const struct fit_group *group, const struct mixed *heat,
                                 size_t *count)
{
    struct graft_mean *list = ARENA_ARRAY(group->arena, group->n, struct graft_mean);
    size_t n = 0, kept = 0;

    for (size_t i = 0; i < group->n; i++) {
        const struct sight *sight = &group->sights[i];

        if (sight->subject && group->selection[i] != MIXED_NONE && fit_is_dated(sight))
            list[n++] = (struct graft_mean){
                group->selection[i], sight->subject,
                heat->expected[i] - heat->mean - heat->season[group->season[i]], 1};
    }
    if (n > 1)
        qsort(list, n, sizeof *list, order_graft_mean);
    for (size_t i = 0; i < n; i++) {
        if (kept > 0 && is_same_graft(&list[kept - 1], &list[i])) {
            list[kept - 1].total += list[i].total;
            list[kept - 1].count++;
        } else {
            list[kept++] = list[i];
        }
    }
    *count = kept;
    return list;
}

/* A graft against the rest of its selection, in heat units. */
static struct fit_label label_of(const struct fit_group *group, const struct graft_mean *graft,
                                 double total, size_t count)
{
    double own = graft->total / (double)graft->count;

    return (struct fit_label){.selection = group->selection_list[graft->selection],
                              .subject = graft->subject,
                              .days = own - (total - graft->total) / (double)(count - graft->count),
                              .sights = graft->count,
                              .others = count - graft->count};
}

struct fit_label *fit_labels_of(const struct fit_group *group, const struct mixed *heat,
                                double heat_per_day, size_t *count)
{
    size_t grafts, found = 0;
    const struct graft_mean *list = gather(group, heat, &grafts);
    struct fit_label *labels = ARENA_ARRAY(group->arena, grafts, struct fit_label);

    for (size_t i = 0, end; i < grafts; i = end) {
        double total = 0;
        size_t dates = 0;

        for (end = i; end < grafts && list[end].selection == list[i].selection; end++) {
            total += list[end].total;
            dates += list[end].count;
        }
        for (size_t g = i; g < end && end - i >= GRAFTS_LEAST; g++) {
            struct fit_label label = label_of(group, &list[g], total, dates);
            double sd = heat->spread_sd * sqrt(1 / (double)label.sights + 1 / (double)label.others);

            label.chance = 2 * conetide_normal_cumulative(-fabs(label.days) / sd);
            label.days /= heat_per_day;
            if (fabs(label.days) >= apart_days && label.chance * (double)grafts <= chance_of_any)
                labels[found++] = label;
        }
    }
    *count = found;
    return labels;
}
