/*
 * packing_maker.h - invented packings for tests and benchmarks; a case is its number.
 *
 * A bloom is 30 members of a first receptive day each; chances are counted over members.  Minutes
 * are 1/100 minute.
 */
#ifndef TESTS_PACKING_MAKER_H
#define TESTS_PACKING_MAKER_H

#include "solving/packing.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MAKER_MEMBERS 30
#define MAKER_RECEPTIVE 6 /* days */

struct maker_size {
    int bags, groups, sites, days, crews, crosses, lots;
    int first_spread;     /* days between early and late groups */
    bool one_visit, free; /* free: crews stand anywhere */
    int bag_days, unbag_days;
    unsigned week; /* days of the week with work, Monday the lowest bit; 0: Monday to Friday */
    double share_available; /* > 0: of all minutes wanted on the days that matter; else tight */
    bool own_minutes;       /* steps keep their minutes and hours follow; else hours are 8 a day */
    double tight;           /* minutes wanted by minutes there are, in the peak fortnight */
};

struct made_packing {
    struct packing packing;
    struct pack_lane *lanes;
    struct pack_group *groups;
    struct pack_stand *stands;
    bool *open;
    int32_t *limits, *half;
    struct pack_way *ways;
};

static uint64_t maker_dice;

/* Knuth's MMIX numbers; the high bits are the good ones. */
static inline int maker_below(int limit)
{
    maker_dice = maker_dice * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (int)((maker_dice >> 33) % (uint64_t)limit);
}

static inline double maker_normal(void)
{
    double sum = -6;

    for (int i = 0; i < 12; i++)
        sum += maker_below(1000) / 1000.0;
    return sum;
}

/* Share of members in which p, q, or both are receptive; q < 0: p alone. */
static inline void maker_chances(const double *first, int p, int q, double chance[2])
{
    int any = 0, both = 0;

    for (int m = 0; m < MAKER_MEMBERS; m++) {
        bool a = p >= first[m] && p < first[m] + MAKER_RECEPTIVE;
        bool b = q >= 0 && q >= first[m] && q < first[m] + MAKER_RECEPTIVE;

        any += a || b;
        both += a && b;
    }
    chance[0] = any / (double)MAKER_MEMBERS;
    chance[1] = both / (double)MAKER_MEMBERS;
}

static inline int maker_by_share(const void *a, const void *b)
{
    const struct pack_way *x = a, *y = b;

    if (x->share > y->share || x->share < y->share)
        return x->share > y->share ? -1 : 1;
    return x->main[0] != y->main[0] ? x->main[0] - y->main[0] : x->main[1] - y->main[1];
}

static inline int maker_ways(const struct maker_size *size, struct pack_group *group,
                             struct pack_way *ways, double base)
{
    double first[MAKER_MEMBERS], spread = 1.5 + maker_below(30) / 10.0, least = INFINITY, most = 0;
    int count = 0;

    for (int m = 0; m < MAKER_MEMBERS; m++) {
        first[m] = base + spread * maker_normal();
        least = fmin(least, first[m]);
        most = fmax(most, first[m]);
    }
    int clean = (int)floor(base - 4 - 1.3 * spread), safe = (int)ceil(most) + 10;
    clean = clean < size->bag_days - 1 ? size->bag_days - 1 : clean;
    group->early_from = (int16_t)(clean - (size->bag_days - 1));
    for (int p = (int)floor(least) > clean ? (int)floor(least) : clean + 1;
         p <= most + MAKER_RECEPTIVE; p++)
        for (int k = 0; k < (size->one_visit ? 1 : 3); k++) {
            int q = k == 0 ? -1 : p + 1 + k;
            double chance[2];

            maker_chances(first, p, q, chance);
            double share = (0.86 * chance[0] + 0.06 * chance[1]) / 0.92;
            int last = q > 0 ? q : p, from = last + 10 > safe ? last + 10 : safe;
            if (share < 0.05 || from >= size->days)
                continue;
            ways[count++] = (struct pack_way){share,
                                              (int16_t)clean,
                                              {(int16_t)p, (int16_t)(q > 0 ? q : PACK_NONE)},
                                              (int16_t)from};
        }
    qsort(ways, (size_t)count, sizeof *ways, maker_by_share);
    return count;
}

/* Half-days of this many minutes. */
static inline void maker_hours(struct made_packing *made, int32_t half, int sites)
{
    for (int i = 0; i < sites * PACK_SETS; i++)
        made->half[i] = half;
}

/* The most minutes wanted in a fortnight when everybody takes the way of most value at once. */
static inline double maker_peak(const struct made_packing *made)
{
    const struct packing *packing = &made->packing;
    double *wanted = calloc((size_t)packing->day_count + 64, sizeof *wanted), peak = 0;

    for (int32_t g = 0; g < packing->group_count; g++) {
        const struct pack_group *group = &packing->groups[g];
        int best = 0;

        for (int w = 0; w < group->way_count; w++)
            if (group->ways[w].share > group->ways[best].share)
                best = w;
        if (group->way_count == 0)
            continue;
        const struct pack_way *way = &group->ways[best];
        wanted[way->early_until] += (double)group->most * group->minutes[PACK_EARLY];
        for (int v = 0; v < 2 && way->main[v] >= 0; v++)
            wanted[way->main[v]] += (double)group->most * group->minutes[PACK_MAIN];
        wanted[way->late_from] += (double)group->most * group->minutes[PACK_LATE];
    }
    for (int32_t day = 0; day < packing->day_count; day++) {
        double sum = 0;

        for (int i = 0; i < 14; i++)
            sum += wanted[day + i];
        peak = sum > peak ? sum : peak;
    }
    free(wanted);
    return peak;
}

/* Half-days that give this share of what everybody wants, over the days that somebody may use. */
static inline int32_t maker_share_half(struct made_packing *made, double share, int32_t set_up)
{
    const struct packing *packing = &made->packing;
    double wanted = 0;
    int halves = 0;

    for (int32_t g = 0; g < packing->group_count; g++) {
        const struct pack_group *group = &packing->groups[g];

        if (group->way_count > 0)
            wanted += (double)group->most *
                      (group->minutes[PACK_EARLY] + group->minutes[PACK_LATE] +
                       (group->ways[0].main[1] >= 0 ? 2 : 1) * group->minutes[PACK_MAIN]);
    }
    for (int32_t k = 0; k < packing->stand_count; k++) {
        int day = made->stands[k].day;
        bool useful = false;

        for (int32_t g = 0; g < packing->group_count; g++) {
            const struct pack_group *group = &packing->groups[g];

            for (int32_t w = 0; w < group->way_count; w++) {
                const struct pack_way *way = &group->ways[w];

                useful = useful || (day >= group->early_from && day <= way->early_until) ||
                         day == way->main[0] || day == way->main[1] ||
                         (day >= way->late_from && day < way->late_from + packing->late_days);
            }
        }
        halves += useful ? 2 : 0;
        made->stands[k].set_up[0] = made->stands[k].set_up[1] = set_up;
    }
    int32_t half = halves > 0 ? (int32_t)(share * wanted / halves) : 0;
    return half > 500 ? half + set_up / 2 : 500 + set_up; /* a day holds a step */
}

/* Minutes of all steps, so that those of the peak fortnight are `wanted`. */
static inline void maker_scale_minutes(struct made_packing *made, double wanted)
{
    double scale = wanted / maker_peak(made);

    for (int32_t g = 0; g < made->packing.group_count; g++)
        for (int step = 0; step < PACK_STEPS; step++)
            made->groups[g].minutes[step] = (int32_t)(made->groups[g].minutes[step] * scale) + 1;
}

static inline void maker_stands(struct made_packing *made, const struct maker_size *size)
{
    int count = 0;

    for (int day = 0; day < size->days; day++)
        for (int c = 0; c < size->crews; c++) {
            if (!made->open[day])
                continue;
            int site = size->free ? PACK_NONE : (c * size->sites / size->crews + day) % size->sites;

            site = size->sites == 1 ? 0 : site;
            made->stands[count++] = (struct pack_stand){
                .day = day,
                .minutes = {made->half, made->half},
                .set_up = {3000, 3000},
                .fixed = {site, site},
            };
        }
    made->packing.stand_count = count;
}

static inline int maker_open_days(const struct made_packing *made, int days)
{
    int open = 0;

    for (int day = 0; day < days; day++)
        open += made->open[day];
    return open;
}

static inline struct made_packing make_packing(struct maker_size size, int number)
{
    struct made_packing made = {0};
    struct packing *packing = &made.packing;
    size_t groups = (size_t)size.groups, limits = groups + (size_t)(size.crosses + size.lots);
    int32_t bags = 0;

    maker_dice = (uint64_t)number * 7919 + 17;
    made.groups = calloc(groups, sizeof *made.groups);
    made.ways = calloc(groups * 128, sizeof *made.ways);
    made.lanes = calloc((size_t)size.sites, sizeof *made.lanes);
    made.open = calloc((size_t)size.days, 1);
    made.limits = calloc(limits, sizeof *made.limits);
    made.half = calloc((size_t)(size.sites * PACK_SETS), sizeof *made.half);
    made.stands = calloc((size_t)(size.days * size.crews), sizeof *made.stands);
    for (int day = 0; day < size.days; day++)
        made.open[day] = ((size.week ? size.week : 0x1fU) >> (day % 7) & 1U) != 0;
    for (int s = 0; s < size.sites; s++)
        made.lanes[s] = (struct pack_lane){s, PACK_LIFT, made.open};
    for (int g = 0; g < size.groups; g++) {
        static const double weights[] = {1, 0.7, 0.5, 0.35, 0.25};
        struct pack_group *group = &made.groups[g];
        int site = maker_below(size.sites), most = 1 + maker_below(2 * size.bags / size.groups - 1);

        *group = (struct pack_group){
            .worth = weights[maker_below(5)] * (20 + maker_below(4000) / 100.0),
            .ways = made.ways + g * 128,
            .most = most < size.bags - bags ? most : size.bags - bags,
            .lane = {site, site, site},
            .minutes = {920, 520 + 100 * maker_below(2), 480},
            .limit = {maker_below(size.crosses), PACK_NONE, size.crosses + maker_below(size.lots)},
        };
        bags += group->most;
        group->way_count = maker_ways(&size, group, made.ways + g * 128,
                                      12 + (double)site * size.first_spread / (2.0 * size.sites) +
                                          maker_below(10 * size.first_spread / 2 + 1) / 10.0);
        made.limits[group->limit[0]] += group->most;
        made.limits[group->limit[2]] += 2 * group->most;
    }
    for (int c = 0; c < size.crosses + size.lots; c++)
        made.limits[c] = made.limits[c] * (60 + maker_below(50)) / 100;
    *packing = (struct packing){
        .site_count = size.sites,
        .day_count = size.days,
        .late_days = size.unbag_days,
        .lanes = made.lanes,
        .lane_count = size.sites,
        .groups = made.groups,
        .group_count = size.groups,
        .limits = made.limits,
        .limit_count = size.crosses + size.lots,
        .stands = made.stands,
    };
    maker_stands(&made, &size);
    if (size.share_available > 0) {
        maker_hours(&made, maker_share_half(&made, size.share_available, size.free ? 1500 : 0),
                    size.sites);
    } else if (size.own_minutes) {
        maker_hours(&made,
                    (int32_t)(maker_peak(&made) / size.tight /
                              (2.0 * size.crews * maker_open_days(&made, 14))),
                    size.sites);
    } else {
        maker_hours(&made, 24000, size.sites);
        maker_scale_minutes(&made, size.tight * 10.0 * size.crews * (2 * 24000 - 3000));
    }
    return made;
}

static inline void free_packing(struct made_packing *made)
{
    free(made->groups);
    free(made->ways);
    free(made->lanes);
    free(made->open);
    free(made->limits);
    free(made->half);
    free(made->stands);
}

#endif
