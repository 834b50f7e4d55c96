/*
 * Sites, their stations, and trees on them.
 */
#include "orchard/audit.h"
#include "orchard/order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void check_site(struct audit *audit, const struct site *site)
{
    if (isnan(site->latitude))
        diag_warning(
            audit->diags, site->place, "no-latitude",
            "site %s has no latitude and is taken as northern, expected it for seasons and "
            "calendar days, fill it in",
            audit_quote(audit, site->name));
    bool told = audit->orchard->stations.count && !site->station; /* unknown-station */
    if (site->station_name && !site->record && !told)
        diag_warning(audit->diags, site->place, "no-weather",
                     "site %s has station %s, and there is no observed day of it, expected a file "
                     "weather/%s.csv, add it; until then dates come from the calendar",
                     audit_quote(audit, site->name), audit_quote(audit, site->station_name),
                     site->station_name);
}

static void check_station(struct audit *audit, const struct station *station)
{
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
    check_positions(audit);
}
