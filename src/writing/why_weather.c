/*
 * Where the weather comes from: the site, its station, and what stands between the two.
 */
#include "planning/neighbour_offset.h"
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>

static void add_position(struct text *words, const struct page_run *run, double latitude,
                         double elevation_m)
{
    const char *before = "";

    if (!isnan(latitude)) {
        text_addf(words, "%.1f %s", fabs(latitude), latitude < 0 ? "S" : "N");
        before = ", ";
    }
    if (!isnan(elevation_m)) {
        text_add(words, before);
        why_add_length(words, run, elevation_m);
    }
}

static void add_site(struct facts *facts, const struct site *site)
{
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    text_addf(&words, "%s, ", site->name);
    add_position(&words, facts->run, site->latitude, site->elevation_m);
    why_add_place(&words, &site->place);
    fact = fact_of_number("site", words.bytes, site->elevation_m, "m");
    fact.place = &site->place;
    facts_add(facts, fact);
}

static void add_station(struct facts *facts, const struct site *site)
{
    const struct station *station = facts->why->station;
    struct fact fact = fact_of("station", NULL);
    struct text words;

    text_init(&words, facts->run->arena);
    text_add(&words, site->station_name != NULL ? site->station_name : "none");
    if (station != NULL) {
        double higher_m = site->elevation_m - station->elevation_m;

        text_add(&words, ", ");
        add_position(&words, facts->run, station->latitude, station->elevation_m);
        fact.number = higher_m;
        fact.unit = "m";
        if (fabs(higher_m) >= 0.5) {
            text_add(&words, ", the site lies ");
            why_add_length(&words, facts->run, fabs(higher_m));
            text_add(&words, higher_m > 0 ? " higher" : " lower");
        }
        text_add(&words, station->reads_morning ? ", read in the morning" : ", read at midnight");
        why_add_place(&words, &station->place);
        fact.place = &station->place;
    }
    if (site->record == NULL)
        text_add(&words, "; no weather of it");
    if (station != NULL && station->neighbour != NULL)
        text_addf(&words, "; its neighbour is %s", station->neighbour);
    fact.words = words.bytes;
    facts_add(facts, fact);
}

/* "minimum -0.9, maximum -1.2 C, for the height between": what every value of the station was
 * moved by. */
static void add_elevation(struct facts *facts, const struct site *site)
{
    const struct page_run *run = facts->run;
    const struct station *station = facts->why->station;
    double tmin_c, tmax_c, unit = run->units_us ? 1.8 : 1;
    struct text words;

    if (station == NULL)
        return;
    tmin_c =
        elevation_change_c(station->tmin_lapse_c_per_km, station->elevation_m, site->elevation_m);
    tmax_c =
        elevation_change_c(station->tmax_lapse_c_per_km, station->elevation_m, site->elevation_m);
    if (tmin_c == 0 && tmax_c == 0)
        return;
    text_init(&words, run->arena);
    if (isnan(tmin_c))
        text_add(&words, "none: the elevation of the site or of the station is not known");
    else
        text_addf(&words, "minimum %+.1f %s, maximum %+.1f %s, for the height between",
                  tmin_c * unit, run->units_us ? "F" : "C", tmax_c * unit,
                  run->units_us ? "F" : "C");
    facts_add(facts, fact_of_number("correction", words.bytes, (tmin_c + tmax_c) / 2, "C"));
}

void facts_add_weather(struct facts *facts)
{
    const struct site *site = facts->why->graft->graft->tree->site;

    add_site(facts, site);
    add_station(facts, site);
    add_elevation(facts, site);
}
