/*
 * Where the weather comes from: the site, its station, and what stands between the two.
 */
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
    fact.words = words.bytes;
    facts_add(facts, fact);
}

void facts_add_weather(struct facts *facts)
{
    const struct site *site = facts->why->graft->graft->tree->site;

    add_site(facts, site);
    add_station(facts, site);
}
