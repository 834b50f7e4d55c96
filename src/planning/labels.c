#include "planning/labels.h"

#include "orchard/order.h"
#include "orchard/words.h"

#include <stdlib.h>

static int order_tree(const struct tree *a, const struct tree *b)
{
    int order;

    if (a == NULL || b == NULL)
        return (a != NULL) - (b != NULL);
    order = order_text(a->site_name, b->site_name);
    if (order == 0)
        order = order_text(a->block, b->block);
    if (order == 0)
        order = order_whole(a->row, b->row);
    if (order == 0)
        order = order_whole(a->position, b->position);
    return order != 0 ? order : order_text(a->name, b->name);
}

static int order_label(const void *left, const void *right)
{
    const struct label *a = left, *b = right;
    const struct graft *one = a->graft->graft, *other = b->graft->graft;
    int order = order_tree(one->tree, other->tree);

    if (order == 0)
        order = order_whole(one->crown, other->crown);
    return order != 0 ? order : order_text(a->tag, b->tag);
}

static bool is_wanted(const struct graft_state *of, const struct labels_wanted *wanted)
{
    const struct graft *graft = of->graft;

    return !condition_is_gone(of->condition) &&
           (wanted->site == NULL || (graft->tree != NULL && graft->tree->site == wanted->site)) &&
           (wanted->from == DAY_NONE || graft->grafted_on >= wanted->from);
}

struct labels labels_of(const struct state *state, const struct labels_wanted *wanted,
                        struct arena *arena)
{
    struct labels labels = {0};

    for (size_t i = 0; i < state->orchard->grafts.count; i++) {
        const struct graft_state *of = &state->grafts[i];

        if (is_wanted(of, wanted))
            *ARENA_PUSH(arena, labels.list, labels.count, labels.capacity) =
                (struct label){of->graft->tag, of};
    }
    if (labels.count > 1)
        qsort(labels.list, labels.count, sizeof *labels.list, order_label);
    return labels;
}
