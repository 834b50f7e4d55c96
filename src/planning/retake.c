/* retake.c - bags of one plan taken again in another of the same orchard, as they are. */
#include "planning/crossing_parts.h"

static struct candidate *candidate_like(const struct chooser *chooser, const struct group *group)
{
    const struct candidates *all = &chooser->candidates;

    for (size_t i = 0; i < all->count; i++) {
        const struct group *own = all->list[i].group;

        if (own->graft == group->graft && own->cross == group->cross &&
            own->turned_round == group->turned_round && own->season == group->season &&
            own->hangs == group->hangs)
            return &all->list[i];
    }
    return NULL;
}

static void retake(struct chooser *chooser, const struct planned_bag *bag)
{
    struct candidate *candidate = candidate_like(chooser, bag->group);
    struct choice choice = {.found = true, .option = bag->option, .like = bag->tasks};

    if (candidate == NULL)
        return;
    for (size_t l = 0; l < candidate->lot_count; l++)
        if (candidate->lots[l]->balance->lot == bag->lot)
            choice.lot = candidate->lots[l];
    take_choice(chooser, candidate, &choice);
}

void retake_plan(struct chooser *chooser, const struct crossing_plan *kept)
{
    for (int half = 0; half < 2; half++)
        for (size_t i = 0; i < kept->bag_count; i++)
            if (!kept->bags[i].pencilled)
                staff_open(chooser->staff, &kept->bags[i], half);
    for (size_t i = 0; i < kept->bag_count; i++)
        if (!kept->bags[i].pencilled)
            retake(chooser, &kept->bags[i]);
}
