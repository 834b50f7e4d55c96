#include "writing/visit.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

const char *graft_selection_name(const struct graft_state *graft)
{
    if (graft->selection)
        return graft->selection->name;
    return graft->relabelled ? NULL : graft->graft->selection_name;
}

const char *crown_word(enum crown crown)
{
    static const char *const words[CROWNS] = {
        [CROWN_TOP] = "top", [CROWN_MIDDLE] = "middle", [CROWN_LOW] = "low"};
    return words[crown];
}

static bool is_pollination(enum bag_task task)
{
    return task == TASK_POLLINATE_1 || task == TASK_POLLINATE_2;
}

static const char *pollen_parent_name(const struct group *group)
{
    if (group->pollen_parent)
        return group->pollen_parent->name;
    return group->cross->mix ? group->cross->mix->name : group->cross->pollen_parent_name;
}

static const char *folded(struct arena *arena, const char *identifier)
{
    struct text text;
    text_init(&text, arena);
    text_add_folded(&text, identifier);
    return text.bytes;
}

/* Does the identifier of the cross name its parents?  Of a mix, the lot does. */
static bool says_parents(struct arena *arena, const struct visit_facts *facts)
{
    const char *cross = folded(arena, facts->cross);
    const char *seed = folded(arena, arena_printf(arena, "%sx", facts->seed_parent));
    if (strncmp(cross, seed, strlen(seed)) != 0)
        return false;
    if (facts->lot && strcmp(facts->lot, facts->pollen_parent) == 0)
        return true;
    return strcmp(cross, folded(arena, arena_printf(arena, "%sx%s", facts->seed_parent,
                                                    facts->pollen_parent))) == 0;
}

const char *visit_cross_words(struct arena *arena, const struct visit_facts *facts)
{
    if (!facts->cross || !facts->seed_parent || !facts->pollen_parent)
        return facts->cross ? facts->cross : "-";
    if (says_parents(arena, facts))
        return facts->cross;
    return arena_printf(arena, "%s: %s x %s", facts->cross, facts->seed_parent,
                        facts->pollen_parent);
}

static void add_place(struct visit_facts *facts, const struct graft *graft)
{
    facts->tag = graft->tag;
    facts->tree = graft->tree_name;
    facts->crown = crown_word(graft->crown);
    facts->branch = graft->branch;
    facts->row = facts->position = -1;
    if (graft->tree) {
        facts->block = graft->tree->block;
        facts->row = graft->tree->row;
        facts->position = graft->tree->position;
    }
}

struct visit_facts visit_facts_of(const struct orchard *orchard, const struct planned_bag *bag,
                                  enum bag_task task)
{
    const struct group *group = bag->group;
    struct visit_facts facts = {
        .site = group->site ? group->site->name : NULL,
        .selection = graft_selection_name(group->graft),
        .flag = group->graft->selection ? group->graft->selection->flag_colour : NULL,
        .bag = bag->name,
        .cross = group->cross->name,
        .seed_parent =
            group->seed_parent ? group->seed_parent->name : group->cross->seed_parent_name,
        .pollen_parent = pollen_parent_name(group),
        .lot = bag->lot ? bag->lot->name : NULL,
        .dose_ml = is_pollination(task) ? orchard->program.dose_ml : (double)NAN,
        .chance = bag->chance[task],
        .latest = bag->latest[task],
        .state = bag->done[task]  ? "done"
                 : bag->pencilled ? "pencilled"
                                  : "planned",
    };
    add_place(&facts, group->graft->graft);
    return facts;
}
