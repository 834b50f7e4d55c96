#include "planning/why.h"

#include "base/text.h"
#include "orchard/state_parts.h"
#include "planning/why_parts.h"

#include <string.h>

const struct graft_state *why_graft(const struct state *state, const char *name,
                                    const struct bag **bag)
{
    const struct graft *graft = orchard_graft(state->orchard, name);

    *bag = NULL;
    if (graft == NULL) {
        *bag = state_bag(state, name);
        graft = *bag != NULL ? (*bag)->graft : NULL;
    }
    return graft != NULL ? state_graft(state, graft) : NULL;
}

/* Tags of grafts that stand on a tree, or are of a selection. */
static size_t tags_of(const struct orchard *orchard, const struct tree *tree,
                      const struct selection *selection, size_t most, const char **names)
{
    size_t count = 0;

    for (size_t i = 0; i < orchard->grafts.count && count < most; i++) {
        const struct graft *graft = &orchard->grafts.list[i];

        if ((tree != NULL && graft->tree == tree) ||
            (selection != NULL && graft->selection != NULL &&
             selection_same(graft->selection, selection)))
            names[count++] = graft->tag;
    }
    return count;
}

size_t why_meant(const struct state *state, const char *name, size_t most, const char **names,
                 const char **what)
{
    const struct orchard *orchard = state->orchard;
    const struct tree *tree = orchard_tree(orchard, name);
    const struct selection *selection = orchard_selection(orchard, name);
    size_t left = orchard->graft_names.count, count = 0;
    const char **tags = ARENA_ARRAY(orchard->arena, left, const char *);

    *what = tree != NULL ? "tree" : selection != NULL ? "selection" : NULL;
    if (*what != NULL)
        return tags_of(orchard, tree, selection, most, names);
    for (size_t i = 0; i < left; i++)
        tags[i] = orchard->graft_names.list[i].tag;
    while (count < most) {
        const char *nearest = text_nearest(name, left, tags);
        size_t at = 0;

        if (nearest == NULL)
            break;
        while (tags[at] != nearest)
            at++;
        memmove(tags + at, tags + at + 1, (--left - at) * sizeof *tags);
        names[count++] = nearest;
    }
    return count;
}

static bool is_asked(const struct whying *whying, const struct flowering_row *row)
{
    return whying->asked.season == 0 || whying->asked.season == row->season;
}

static void add_season(const struct whying *whying, const struct flowering_row *row)
{
    struct why_season *season = &whying->why->seasons[whying->why->season_count++];

    season->row = *row;
    season->alive = flowering_alive_of(whying->state, row);
    season->weather = dates_weather(whying->dates, row->site, row->season);
    whying->why->record = season->weather->record;
    season->plain = bloom_plain(row->bloom);
    if (whying->asked.bag != NULL && whying->asked.bag->season == row->season)
        season->bag_bloom = dates_bag_bloom(whying->dates, whying->state, whying->asked.bag);
    if (!row->counted)
        season->strobili_rate =
            rate_find(whying->state->orchard, "strobili_per_live_graft",
                      graft_rate_subject(whying->why->graft, row->season_number));
    why_take_events(whying, season);
    why_take_moves(whying, season);
}

struct why why_of(const struct state *state, struct dates *dates, const struct graft_state *graft,
                  struct why_asked asked, struct arena *arena)
{
    struct why why = {.graft = graft, .bag = asked.bag};
    struct whying whying = {state, dates, arena, asked, &why};
    struct flowering_rows rows = flowering_of_graft(state, dates, graft, arena);
    const struct tree *tree = graft->graft->tree;

    if (tree != NULL && tree->site != NULL)
        why.station = tree->site->station;
    why_take_notes(&whying);
    why.seasons = ARENA_ARRAY(arena, rows.count, struct why_season);
    for (size_t i = 0; i < rows.count; i++) {
        if (is_asked(&whying, &rows.list[i]))
            add_season(&whying, &rows.list[i]);
    }
    return why;
}
