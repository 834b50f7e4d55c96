#include "planning/typed_effects.h"

#include "orchard/words.h"

#include <math.h>
#include <string.h>

static bool hangs(const struct bag *bag)
{
    return bag->unbagged_on == DAY_NONE && bag->lost_on == DAY_NONE;
}

static void see_bag(const struct bag *old, const struct bag *bag, struct typed_effects *effects)
{
    effects->bags_hang += hangs(bag);
    effects->bags_new += old == NULL;
    effects->bags_new_not_clean += old == NULL && !bag->clean;
    effects->bags_visited += bag->visits > (old ? old->visits : 0);
    effects->bags_off += bag->unbagged_on != DAY_NONE && (!old || old->unbagged_on == DAY_NONE);
    effects->bags_lost += bag->lost_on != DAY_NONE && (!old || old->lost_on == DAY_NONE);
}

/* The same graft before, under any tag that it has had. */
static const struct graft_state *graft_before(const struct state *before, const struct state *after,
                                              const struct graft *graft)
{
    for (size_t i = 0; i < after->orchard->graft_names.count; i++) {
        const struct graft_name *name = &after->orchard->graft_names.list[i];
        const struct graft *old =
            name->graft == graft ? orchard_graft(before->orchard, name->tag) : NULL;

        if (old)
            return state_graft(before, old);
    }
    return NULL;
}

static void see_graft(const struct graft_state *old, const struct graft_state *graft,
                      struct typed_effects *effects)
{
    bool gone = condition_is_gone(graft->condition);

    effects->grafts_new += old == NULL;
    effects->grafts_gone += gone && (!old || !condition_is_gone(old->condition));
    effects->grafts_renamed += old && (strcmp(old->graft->tag, graft->graft->tag) != 0 ||
                                       (old->relabelled != graft->relabelled) ||
                                       (old->selection ? old->selection->name : NULL) !=
                                           (graft->selection ? graft->selection->name : NULL));
}

static bool differ(double a, double b)
{
    return isnan(a) != isnan(b) || fabs(a - b) > 1e-9;
}

struct typed_effects typed_effects_of(const struct state *before, const struct state *after,
                                      struct arena *arena)
{
    struct typed_effects effects = {0};
    size_t lots = after->orchard->lots.count;

    for (size_t i = 0; i < after->bag_count; i++)
        see_bag(state_bag(before, after->bags[i].name), &after->bags[i], &effects);
    for (size_t i = 0; i < after->orchard->grafts.count; i++) {
        const struct graft_state *graft = &after->grafts[i];
        const struct graft *same = orchard_graft(before->orchard, graft->graft->tag);

        see_graft(same ? state_graft(before, same) : graft_before(before, after, graft->graft),
                  graft, &effects);
    }
    effects.lots = ARENA_ARRAY(arena, lots, struct lot_left);
    for (size_t i = 0; i < lots; i++) /* both lists are the same table by name */
        if (differ(before->lots[i].balance_ml, after->lots[i].balance_ml))
            effects.lots[effects.lot_count++] =
                (struct lot_left){after->lots[i].lot->name, after->lots[i].balance_ml};
    return effects;
}
