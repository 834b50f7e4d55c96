/*
 * Sites, their stations, and trees on them.
 */
#include "orchard/audit.h"
#include "orchard/order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Has the neighbour of a site's station a day to stand in? */
static bool has_neighbour(const struct audit *audit, const struct site *site)
{
    const char *neighbour = site->station ? site->station->neighbour : NULL;
    return neighbour && strcmp(neighbour, site->station_name) != 0 &&
           orchard_record(audit->orchard, neighbour);
}

static void check_weather(struct audit *audit, const struct site *site)
{
    bool told = audit->orchard->stations.count && !site->station; /* unknown-station */
    if (!site->station_name || site->record || told)
        return;
    diag_warning(audit->diags, site->place, "no-weather",
                 "site %s has station %s, and there is no observed day of it, expected a file "
                 "weather/%s.csv, add it; until then dates come from %s",
                 audit_quote(audit, site->name), audit_quote(audit, site->station_name),
                 site->station_name,
                 has_neighbour(audit, site) ? "its neighbour station" : "the calendar");
}

/* One elevation alone, or a lapse rate that nothing can be multiplied with. */
static bool lacks_elevation(const struct site *site)
{
    const struct station *station = site->station;
    if (!station)
        return false;
    bool of_site = !isnan(site->elevation_m), of_station = !isnan(station->elevation_m);
    bool rates = !isnan(station->tmin_lapse_c_per_km) || !isnan(station->tmax_lapse_c_per_km);
    return !(of_site && of_station) && (of_site || of_station || rates);
}

/* Told once: it is most often a column that a whole table lacks. */
static void check_elevations(struct audit *audit)
{
    const struct site *first = NULL;
    size_t more = 0;
    for (size_t i = audit->orchard->sites.count; i-- > 0;) {
        const struct site *site = &audit->orchard->sites.list[i];
        if (!lacks_elevation(site))
            continue;
        more += first != NULL;
        first = site;
    }
    if (!first)
        return;
    bool of_site = !isnan(first->elevation_m), of_station = !isnan(first->station->elevation_m);
    diag_warning(audit->diags, first->place, "no-elevation",
                 "site %s has station %s, and %s no elevation_m%s, expected both to correct "
                 "temperatures by their difference, fill it in; until then they are taken as they "
                 "are",
                 audit_quote(audit, first->name), audit_quote(audit, first->station->name),
                 of_site      ? "the station has"
                 : of_station ? "the site has"
                              : "both have",
                 more > 0 ? arena_printf(audit->arena, " (%zu more sites stand so)", more) : "");
}

static void check_site(struct audit *audit, const struct site *site)
{
    if (isnan(site->latitude))
        diag_warning(
            audit->diags, site->place, "no-latitude",
            "site %s has no latitude and is taken as northern, expected it for seasons and "
            "calendar days, fill it in",
            audit_quote(audit, site->name));
    check_weather(audit, site);
}

/* Dry air cools by 9.8 deg C a kilometre at most; on clear nights it may be warmer uphill: own
 * bounds around these (from memory). */
#define LAPSE_MOST_C_PER_KM 10.0
/* Less than this is most likely a rate a 100 m. */
#define LAPSE_LEAST_C_PER_KM 1.0

static void check_lapse(struct audit *audit, const struct station *station, const char *cell,
                        double c_per_km)
{
    double size = fabs(c_per_km);
    if (isnan(c_per_km) || c_per_km == 0 ||
        (size >= LAPSE_LEAST_C_PER_KM && size <= LAPSE_MOST_C_PER_KM))
        return;
    diag_warning(audit->diags, station->place, "unusual-lapse",
                 "station %s has %s %g, expected about 3 to 7 (deg C cooler a kilometre higher "
                 "up)%s, correct it",
                 audit_quote(audit, station->name), cell, c_per_km,
                 size < LAPSE_LEAST_C_PER_KM ? ", is it a rate a 100 m?" : "");
}

static void check_station(struct audit *audit, const struct station *station)
{
    check_lapse(audit, station, "tmin_lapse_c_per_km", station->tmin_lapse_c_per_km);
    check_lapse(audit, station, "tmax_lapse_c_per_km", station->tmax_lapse_c_per_km);
    if (!station->neighbour)
        return;
    if (strcmp(station->neighbour, station->name) == 0)
        diag_error(audit->diags, station->place, "own-neighbour",
                   "station %s is its own neighbour, expected another station, correct the cell or "
                   "blank it",
                   audit_quote(audit, station->name));
    else if (orchard_station(audit->orchard, station->neighbour) &&
             !orchard_record(audit->orchard, station->neighbour))
        diag_warning(
            audit->diags, station->place, "neighbour-without-weather",
            "station %s has neighbour %s to fill its gaps, and there is no observed day of "
            "it, expected its weather file, add it",
            audit_quote(audit, station->name), audit_quote(audit, station->neighbour));
}

/* A tree where it stands. */
struct standing {
    const struct tree *tree;
};

static int order_standing(const void *left, const void *right)
{
    const struct tree *a = ((const struct standing *)left)->tree,
                      *b = ((const struct standing *)right)->tree;
    int order = order_text(a->site_name, b->site_name);
    order = order ? order : order_text(a->block, b->block);
    order = order ? order : order_whole(a->row, b->row);
    order = order ? order : order_whole(a->position, b->position);
    return order ? order : (a > b) - (a < b);
}

static void check_positions(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    struct standing *standing = ARENA_ARRAY(audit->arena, orchard->trees.count, struct standing);
    size_t count = 0;
    for (size_t i = 0; i < orchard->trees.count; i++)
        if (orchard->trees.list[i].row >= 0 && orchard->trees.list[i].position >= 0)
            standing[count++].tree = &orchard->trees.list[i];
    if (count > 1)
        qsort(standing, count, sizeof *standing, order_standing);
    for (size_t i = 1; i < count; i++) {
        const struct tree *a = standing[i - 1].tree, *b = standing[i].tree;
        if (a->row == b->row && a->position == b->position &&
            order_text(a->site_name, b->site_name) == 0 && order_text(a->block, b->block) == 0)
            diag_warning(
                audit->diags, b->place, "same-position",
                "tree %s stands where tree %s stands, in row %d at %d, expected one tree at a "
                "place, correct one of them",
                audit_quote(audit, b->name), audit_quote(audit, a->name), b->row, b->position);
    }
}

void audit_sites(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    for (size_t i = 0; i < orchard->sites.count; i++)
        check_site(audit, &orchard->sites.list[i]);
    for (size_t i = 0; i < orchard->stations.count; i++)
        check_station(audit, &orchard->stations.list[i]);
    check_elevations(audit);
    check_positions(audit);
}
