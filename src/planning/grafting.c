/*
 * grafting.c - the grafting windows of all interstocks, and how each stands on the as-of day.
 */
#include "planning/grafting.h"

#include "planning/grafting_weather.h"
#include "planning/grafting_window.h"
#include "planning/grafting_words.h"
#include "planning/most_grafted.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A window closed for longer is of no interest any more; then the next season's is shown. */
enum { LONG_CLOSED_DAYS = 90 };

struct grafting {
    const struct state *state;
    struct dates *dates;
    struct arena *arena;
    const struct program *program;
    daynum as_of;
    struct grafting_rows rows;
    const char **species;         /* [rows.count], of each row's first tree */
    const char **grafted_species; /* [rows.count], most grafted at the site */
};

static bool same_clone(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static const char *grafted_at(const struct grafting *grafting, const struct site *site)
{
    for (size_t i = 0; i < grafting->rows.count; i++) {
        if (grafting->rows.list[i].site == site)
            return grafting->grafted_species[i];
    }
    return most_grafted_species(grafting->state->orchard, site, grafting->arena);
}

static size_t row_of(struct grafting *grafting, const struct tree *tree)
{
    struct grafting_rows *rows = &grafting->rows;
    size_t i = 0;

    while (i < rows->count &&
           !(rows->list[i].site == tree->site && same_clone(rows->list[i].clone, tree->clone)))
        i++;
    if (i == rows->count) {
        grafting->grafted_species[i] = grafted_at(grafting, tree->site);
        rows->list[i] =
            (struct grafting_row){.site = tree->site, .clone = tree->clone, .free_places = -1};
        rows->count++;
    }
    if (grafting->species[i] == NULL)
        grafting->species[i] = tree->species;
    return i;
}

static void count_places(const struct grafting *grafting, const struct tree *tree,
                         struct grafting_row *row)
{
    for (int crown = 0; crown < CROWNS; crown++) {
        int free_places = state_free_places(grafting->state, tree, (enum crown)crown);

        if (free_places < 0)
            continue;
        row->free_places = (row->free_places < 0 ? 0 : row->free_places) + free_places;
    }
}

static void collect_trees(struct grafting *grafting)
{
    const struct orchard *orchard = grafting->state->orchard;

    grafting->rows.list = ARENA_ARRAY(grafting->arena, orchard->trees.count, struct grafting_row);
    grafting->species = ARENA_ARRAY(grafting->arena, orchard->trees.count, const char *);
    grafting->grafted_species = ARENA_ARRAY(grafting->arena, orchard->trees.count, const char *);
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        struct grafting_row *row;

        if ((tree->uses & USE_GRAFT) == 0 || tree->site == NULL || tree->health == HEALTH_DEAD)
            continue;
        row = &grafting->rows.list[row_of(grafting, tree)];
        if (tree->health == HEALTH_WEAK)
            continue;
        row->trees++;
        count_places(grafting, tree, row);
    }
}

static void take_three(const struct grafting_edge *edge, daynum dates[THREE_DATES])
{
    for (int i = 0; i < THREE_DATES; i++)
        dates[i] = grafting_edge_date(edge, three_chances[i]);
}

static void take_state(const struct grafting *grafting, const struct grafting_window *window,
                       struct grafting_row *row)
{
    const struct grafting_edge *open = &window->open, *close = &window->close;
    daynum as_of = grafting->as_of;

    if (as_of > row->closes[1])
        row->state = GRAFTING_CLOSED;
    else if (row->opens[1] == DAY_NEVER)
        row->state = GRAFTING_NO_DATE;
    else if (as_of < row->opens[1])
        row->state = GRAFTING_NOT_YET;
    else
        row->state = GRAFTING_OPEN;
    row->chance_open = fmax(0, grafting_edge_by(open, as_of) - grafting_edge_by(close, as_of - 1));
    row->state_words = grafting_state_words(row, grafting->arena);
}

static void take_window(const struct grafting *grafting, size_t index, int season)
{
    struct grafting_row *row = &grafting->rows.list[index];
    struct interstock interstock = {row->site, grafting->species[index], row->clone,
                                    grafting->grafted_species[index]};
    struct grafting_view view = {grafting->program, grafting->as_of, grafting->arena};
    struct grafting_window window;

    grafting_window_of(grafting->dates, grafting->state->orchard, interstock, season,
                       grafting->arena, &window);
    row->season = season;
    take_three(&window.open, row->opens);
    take_three(&window.close, row->closes);
    row->by_heat = window.open.by_heat || window.close.by_heat;
    row->decided_words = grafting_decided_words(&window, grafting->program, grafting->arena);
    row->calendar_open = window.open.calendar;
    row->calendar_close = window.close.calendar;
    row->basis = window.open.basis > window.close.basis ? window.open.basis : window.close.basis;
    row->seasons_seen = window.open.seasons_seen < window.close.seasons_seen
                            ? window.open.seasons_seen
                            : window.close.seasons_seen;
    take_state(grafting, &window, row);
    grafting_weather_take(&view, &window, row);
}

/* By site, then clone; trees without a clone last. */
static int order_of_rows(const void *a, const void *b)
{
    const struct grafting_row *one = a, *other = b;
    int order = strcmp(one->site->name, other->site->name);

    if (order != 0)
        return order;
    if (one->clone == NULL || other->clone == NULL)
        return (one->clone == NULL) - (other->clone == NULL);
    return strcmp(one->clone, other->clone);
}

struct grafting_rows grafting_of(const struct state *state, struct dates *dates,
                                 struct arena *arena)
{
    struct grafting grafting = {.state = state,
                                .dates = dates,
                                .arena = arena,
                                .program = &state->orchard->program,
                                .as_of = state->orchard->as_of};

    collect_trees(&grafting);
    for (size_t i = 0; i < grafting.rows.count; i++) {
        struct grafting_row *row = &grafting.rows.list[i];
        int season = day_season(orchard_season_rule(state->orchard, row->site), grafting.as_of);

        take_window(&grafting, i, season);
        if ((int64_t)grafting.as_of - row->closes[1] > LONG_CLOSED_DAYS)
            take_window(&grafting, i, season + 1);
    }
    qsort(grafting.rows.list, grafting.rows.count, sizeof *grafting.rows.list, order_of_rows);
    return grafting.rows;
}

int grafting_ahead(const struct state *state, struct dates *dates, int season, struct arena *arena)
{
    struct grafting_rows rows = grafting_of(state, dates, arena);
    bool any = false;

    for (size_t i = 0; i < rows.count; i++) {
        if (rows.list[i].season <= season && rows.list[i].state != GRAFTING_CLOSED)
            return 0;
        any = true;
    }
    return any ? 1 : 0;
}

int grafting_winter(const struct state *state, struct dates *dates, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    const struct site *first = orchard->sites.count > 0 ? &orchard->sites.list[0] : NULL;
    int season = day_season(orchard_season_rule(orchard, first), orchard->as_of);

    return season + grafting_ahead(state, dates, season, arena);
}
