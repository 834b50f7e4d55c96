/* staff_stands.c - half-days of crews as stands of a packing, and stands as places of crews. */
#include "planning/staff.h"

#include "planning/crossing_parts.h"

size_t staff_count(const struct staff *staff)
{
    return staff->count;
}

daynum staff_first_day(const struct staff *staff)
{
    return staff->first_day;
}

static int32_t site_index(const struct staff *staff, const struct site *site)
{
    return (int32_t)(site - staff->orchard->sites.list);
}

static int32_t rest_of(int64_t given, int64_t taken)
{
    return given > taken ? (int32_t)(given - taken) : 0;
}

/* Minutes that are left of a half-day at a site, without its set-up where it is not open. */
static void fill_minutes(const struct staff *staff, struct spot spot, const struct site *site,
                         int32_t *minutes)
{
    const struct crew_day *day = day_at(staff, spot);
    const struct half_day *half = half_at(staff, spot);
    const int64_t set_up = half->site != NULL ? half->set_up : 0;
    const int64_t on_ground = half->used - half->used_lift;

    for (int set = 0; set < PACK_SETS; set++)
        minutes[set] = 0;
    if (half->site != NULL && half->site != site)
        return;
    minutes[PACK_LIFT] = rest_of(crew_half_minutes(day, site, WORK_LIFT), set_up + half->used_lift);
    minutes[PACK_GROUND] = rest_of(crew_half_minutes(day, site, WORK_GROUND), set_up + on_ground);
    minutes[PACK_EITHER] = rest_of(crew_half_minutes(day, site, WORK_ANY), set_up + half->used);
}

struct pack_stand staff_stand(const struct staff *staff, struct spot of, double low_reach_m,
                              int32_t *minutes)
{
    const size_t sites = staff->orchard->sites.count;
    const struct crew_day *day = day_at(staff, of);
    const bool high = day->lift == NULL || !(day->lift->reach_m <= low_reach_m);
    struct pack_stand stand = {.day = (int32_t)of.day};

    for (of.half = 0; of.half < HALVES; of.half++) {
        const struct half_day *half = half_at(staff, of);
        int32_t *own = minutes + (size_t)of.half * sites * PACK_SETS;

        for (size_t s = 0; s < sites; s++) {
            int32_t *there = own + s * PACK_SETS;

            fill_minutes(staff, of, &staff->orchard->sites.list[s], there);
            there[PACK_HIGH] = high ? there[PACK_LIFT] : 0;
        }
        stand.minutes[of.half] = own;
        stand.set_up[of.half] = half->site != NULL ? 0 : (int32_t)staff->set_up;
        stand.fixed[of.half] = PACK_NONE;
        if (half->site != NULL)
            stand.fixed[of.half] = site_index(staff, half->site);
        else if (day->time != NULL && day->time->site != NULL)
            stand.fixed[of.half] = site_index(staff, day->time->site);
    }
    return stand;
}

const int32_t *staff_places(const struct staff *staff, struct arena *arena)
{
    const size_t halves = staff->count * STAFF_DAYS * HALVES;
    int32_t *places = ARENA_ARRAY(arena, halves, int32_t);

    for (size_t i = 0; i < halves; i++)
        places[i] =
            staff->halves[i].site != NULL ? site_index(staff, staff->halves[i].site) : PACK_NONE;
    return places;
}

void staff_mean(struct staff *staff, struct spot spot, const struct site *site)
{
    half_at(staff, spot)->meant = site;
}

void staff_mean_nothing(struct staff *staff)
{
    const size_t halves = staff->count * STAFF_DAYS * HALVES;

    for (size_t i = 0; i < halves; i++)
        staff->halves[i].meant = NULL;
}
