/*
 * watch.c - blocks shut by sprays, cold nights foretold, the outlook.
 *
 * Why cold between bagging and opening is told: in a freeze of two nights at -6.5 C ten days after
 * bagging, strobili without bags were about three times as likely to live as those in wire-held
 * kraft bags (Southern Forest Tree Improvement Conference 2019, abstract).
 */
#include "planning/watch.h"

#include "orchard/words.h"
#include "planning/crews.h"
#include "planning/station_record.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LIKELY 0.5

struct watcher {
    const struct orchard *orchard;
    const struct crossing_plan *plan;
    const struct crossing_inputs *inputs;
    struct arena *arena;
    daynum first_day, last_day;
    size_t spell_capacity;
};

static int compare_text(const char *a, const char *b)
{
    return a != NULL && b != NULL ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

static int by_place(const void *a, const void *b)
{
    const struct shut_place *x = a, *y = b;
    int order = compare_text(x->site, y->site);

    if (order == 0)
        order = compare_text(x->block, y->block);
    return order != 0 ? order : (x->until < y->until) - (x->until > y->until);
}

/* Of several sprays of one place the one that lasts longest. */
static void fill_shut(const struct watcher *watcher, struct watch *watch)
{
    const struct orchard *orchard = watcher->orchard;
    daynum from =
        watcher->first_day > watcher->plan->as_of ? watcher->first_day : watcher->plan->as_of;
    size_t count = 0;

    watch->shut = ARENA_ARRAY(watcher->arena, orchard->notes.count, struct shut_place);
    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];

        if (note->kind == NOTE_SPRAYED && (note->site != NULL || note->block != NULL) &&
            crew_spray_ends(note) >= from)
            watch->shut[count++] = (struct shut_place){.site = note->site,
                                                       .block = note->block,
                                                       .sprayed_on = note->date,
                                                       .hours = note->number,
                                                       .until = crew_spray_ends(note)};
    }
    if (count > 1)
        qsort(watch->shut, count, sizeof *watch->shut, by_place);
    for (size_t i = 0; i < count; i++) {
        const struct shut_place *last =
            watch->shut_count > 0 ? &watch->shut[watch->shut_count - 1] : NULL;

        if (last == NULL || compare_text(last->site, watch->shut[i].site) != 0 ||
            compare_text(last->block, watch->shut[i].block) != 0)
            watch->shut[watch->shut_count++] = watch->shut[i];
    }
}

static void see_hanging(struct cold_spell *spell, const struct planned_bag *bag)
{
    double opened = bloom_by(bag->group->bloom, EVENT_OPENING, spell->last);
    double closed = bloom_by(bag->group->bloom, EVENT_CLOSED, spell->first - 1);

    if (opened < LIKELY)
        spell->hang_closed++;
    else if (closed < LIKELY)
        spell->hang_open++;
}

static void see_to_hang(const struct watcher *watcher, struct cold_spell *spell,
                        const struct planned_bag *bag)
{
    const struct bloom *bloom = bag->group->bloom;
    daynum day = bag->tasks[TASK_BAG].day;

    if (bag->done[TASK_BAG] || day == DAY_NONE || day >= spell->last || bloom->windows == NULL ||
        day < watcher->plan->as_of || bloom_by(bloom, EVENT_OPENING, spell->first - 1) >= LIKELY)
        return;
    struct conetide_futures futures = bloom_futures(bloom);
    double waiting = conetide_chance_clean(&futures, spell->last);

    spell->to_hang[spell->to_hang_count++] = bag->name;
    spell->clean_planned = fmin(spell->clean_planned, bag->chance[TASK_BAG]);
    spell->clean_waiting = fmin(spell->clean_waiting, waiting);
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* Which bags and grafts the cold meets. */
static void see_spell(const struct watcher *watcher, struct cold_spell *spell)
{
    const struct crossing_plan *plan = watcher->plan;
    const struct state *state = watcher->inputs->state;

    spell->clean_planned = spell->clean_waiting = 1;
    spell->to_hang = ARENA_ARRAY(watcher->arena, plan->bag_count, const char *);
    for (size_t i = 0; i < plan->bag_count; i++) {
        const struct planned_bag *bag = &plan->bags[i];

        if (bag->group->site != spell->site || bag->pencilled)
            continue;
        if (bag->group->hangs != NULL)
            see_hanging(spell, bag);
        else
            see_to_hang(watcher, spell, bag);
    }
    if (spell->to_hang_count > 1)
        qsort(spell->to_hang, spell->to_hang_count, sizeof *spell->to_hang, by_name);
    for (size_t i = 0; i < watcher->orchard->grafts.count; i++) {
        const struct graft *graft = state->grafts[i].graft;

        if (graft->tree != NULL && graft->tree->site == spell->site &&
            graft->grafted_on != DAY_NONE && graft->grafted_on <= spell->last &&
            spell->first - graft->grafted_on <= watcher->orchard->program.freeze_days &&
            !condition_is_gone(state->grafts[i].condition))
            spell->new_grafts++;
    }
}

/* Foretold days after as-of. */
static bool is_foretold(const struct station_record *record, daynum as_of, size_t at)
{
    return record->series.first_day + (daynum)at > as_of && record->tmin_kind[at] == DAY_FORECAST;
}

static void add_spells(struct watcher *watcher, struct watch *watch,
                       const struct station_record *record, const struct site *site)
{
    struct cold_spell *spell = NULL;

    for (size_t at = 0; at < record->series.count; at++) {
        daynum day = record->series.first_day + (daynum)at;

        if (!is_foretold(record, watcher->plan->as_of, at) ||
            !(record->series.tmin_c[at] <= watcher->orchard->program.freeze_c)) {
            spell = NULL;
            continue;
        }
        if (spell == NULL) {
            spell = ARENA_PUSH(watcher->arena, watch->spells, watch->spell_count,
                               watcher->spell_capacity);
            *spell = (struct cold_spell){.site = site, .first = day, .lowest_c = NAN};
        }
        spell->last = day;
        spell->lowest_c = fmin(spell->lowest_c, record->series.tmin_c[at]);
    }
}

static void add_outlook(const struct watcher *watcher, struct watch *watch,
                        const struct station_record *record, const struct site *site)
{
    size_t first = record->series.count, end = 0;

    for (size_t at = 0; at < record->series.count; at++) {
        daynum day = record->series.first_day + (daynum)at;

        if (day < watcher->first_day || day > watcher->last_day ||
            !is_foretold(record, watcher->plan->as_of, at))
            continue;
        first = at < first ? at : first;
        end = at + 1;
    }
    if (first < end)
        watch->outlooks[watch->outlook_count++] =
            (struct outlook){.site = site,
                             .first_day = record->series.first_day + (daynum)first,
                             .count = end - first,
                             .tmin_c = &record->series.tmin_c[first],
                             .tmax_c = &record->series.tmax_c[first]};
}

struct watch watch_of(const struct crossing_plan *plan, const struct crossing_inputs *inputs,
                      daynum first_day, daynum last_day)
{
    struct watcher watcher = {.orchard = inputs->state->orchard,
                              .plan = plan,
                              .inputs = inputs,
                              .arena = inputs->arena,
                              .first_day = first_day,
                              .last_day = last_day};
    struct watch watch = {0};
    size_t sites = watcher.orchard->sites.count;

    fill_shut(&watcher, &watch);
    watch.outlooks = ARENA_ARRAY(watcher.arena, sites, struct outlook);
    for (size_t i = 0; i < sites && watcher.orchard->forecasts.count > 0; i++) {
        const struct site *site = &watcher.orchard->sites.list[i];
        struct station_record record =
            station_record_of(watcher.orchard, site, plan->as_of, watcher.arena);

        add_spells(&watcher, &watch, &record, site);
        add_outlook(&watcher, &watch, &record, site);
    }
    for (size_t i = 0; i < watch.spell_count; i++)
        see_spell(&watcher, &watch.spells[i]);
    return watch;
}
