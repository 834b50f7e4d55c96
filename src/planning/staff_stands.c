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

    minutes[PACK_LIFT] = minutes[PACK_GROUND] = minutes[PACK_EITHER] = 0;
    if (half->site != NULL && half->site != site)
        return;
    minutes[PACK_LIFT] = rest_of(crew_half_minutes(day, site, WORK_LIFT), set_up + half->used_lift);
    minutes[PACK_GROUND] =
        rest_of(crew_half_minutes(day, site, WORK_GROUND), set_up + half->used - half->used_lift);
    minutes[PACK_EITHER] = rest_of(crew_half_minutes(day, site, WORK_ANY), set_up + half->used);
}

struct pack_stand staff_stand(const struct staff *staff, size_t crew, size_t day, int32_t *minutes)
{
    const size_t sites = staff->orchard->sites.count;
    struct pack_stand stand = {.day = (int32_t)day};

    for (int h = 0; h < HALVES; h++) {
        struct spot spot = {crew, day, h};
        const struct half_day *half = half_at(staff, spot);
        const struct crew_time *time = day_at(staff, spot)->time;
        int32_t *own = minutes + (size_t)h * sites * PACK_SETS;

        for (size_t s = 0; s < sites; s++)
            fill_minutes(staff, spot, &staff->orchard->sites.list[s], own + s * PACK_SETS);
        stand.minutes[h] = own;
        stand.set_up[h] = half->site != NULL ? 0 : (int32_t)staff->set_up;
        stand.fixed[h] = PACK_NONE;
        if (half->site != NULL)
            stand.fixed[h] = site_index(staff, half->site);
        else if (time != NULL && time->site != NULL)
            stand.fixed[h] = site_index(staff, time->site);
    }
    return stand;
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
