/* chart_map.c - the trees of a site by row and position, block by block, with what stands on them.
 */
#include "writing/charts.h"

#include "orchard/order.h"

#include <stdlib.h>

enum {
    CELL_WIDTH = 108,
    CELL_HEIGHT = 58,
    LEFT = 60,
    HEAD = 72,
    BLOCK_ROOM = 34,
    COLUMNS_LEAST = 6
};

/* Grafts of a tree that are not removed. */
struct tree_grafts {
    const struct tree *tree;
    size_t alive, doubtful, gone;
    const char *selections; /* "S101 S104", of the grafts that are not gone */
};

static int compare_trees(const void *left, const void *right)
{
    const struct tree *a = ((const struct tree_grafts *)left)->tree;
    const struct tree *b = ((const struct tree_grafts *)right)->tree;
    int order = order_text(a->block, b->block);

    if (order == 0)
        order = order_whole(a->row, b->row);
    if (order == 0)
        order = order_whole(a->position, b->position);
    return order != 0 ? order : order_text(a->name, b->name);
}

/* Grafts are sorted by tag; names of selections stand once each. */
static struct tree_grafts grafts_of(const struct state *state, const struct tree *tree,
                                    struct arena *arena)
{
    enum { NAMED_MOST = 8 };
    struct tree_grafts grafts = {.tree = tree};
    const struct selection *named[NAMED_MOST];
    size_t name_count = 0;
    struct text names;

    text_init(&names, arena);
    for (size_t i = 0; i < state->orchard->grafts.count; i++) {
        const struct graft_state *graft = &state->grafts[i];
        size_t at = 0;

        if (graft->graft->tree != tree || graft->condition == CONDITION_REMOVED)
            continue;
        if (graft->condition == CONDITION_DEAD || graft->condition == CONDITION_LOST) {
            grafts.gone++;
            continue;
        }
        *(graft->condition == CONDITION_ALIVE ? &grafts.alive : &grafts.doubtful) += 1;
        while (at < name_count && named[at] != graft->selection)
            at++;
        if (at < name_count || name_count == NAMED_MOST)
            continue;
        named[name_count++] = graft->selection;
        text_addf(&names, "%s%s", names.length > 0 ? " " : "",
                  graft->selection ? graft->selection->name : "unknown");
    }
    grafts.selections = names.bytes;
    return grafts;
}

/* One disc a graft: filled alive, open not known or doubtful, crossed gone. */
static void add_discs(const struct tree_grafts *grafts, struct point at, struct text *out)
{
    enum { SHOWN_MOST = 6 };
    size_t shown = grafts->alive + grafts->doubtful + grafts->gone;

    for (size_t i = 0; i < shown && i < SHOWN_MOST; i++) {
        struct point centre = {at.x + 10 + (double)i * 11, at.y};

        if (i < grafts->alive) {
            svg_disc(out, INK_FILL, centre, 4);
        } else if (i < grafts->alive + grafts->doubtful) {
            svg_disc(out, INK_OPEN, centre, 4);
        } else {
            svg_cross(out, centre, 3);
        }
    }
    if (shown > SHOWN_MOST)
        svg_label_small(out, (struct point){at.x + 10 + SHOWN_MOST * 11.0 - 4, at.y + 3},
                        ANCHOR_START, arena_printf(out->arena, "+%zu", shown - SHOWN_MOST));
}

static void add_tree(const struct tree_grafts *grafts, struct point at, struct text *out)
{
    const struct tree *tree = grafts->tree;
    bool dead = tree->health == HEALTH_DEAD;
    struct text names;

    svg_box(out,
            dead                          ? INK_GREY
            : tree->health == HEALTH_WEAK ? INK_PALE
                                          : INK_OPEN,
            at, (struct svg_size){CELL_WIDTH - 6, CELL_HEIGHT - 6});
    text_init(&names, out->arena);
    text_add_cut(&names, 16, tree->name);
    svg_label(out, (struct point){at.x + 4, at.y + 13}, ANCHOR_START, names.bytes);
    if (dead || tree->health == HEALTH_WEAK)
        svg_label_small(out, (struct point){at.x + CELL_WIDTH - 10, at.y + 12}, ANCHOR_END,
                        dead ? "dead" : "weak");
    add_discs(grafts, (struct point){at.x, at.y + 25}, out);
    text_clear(&names);
    text_add_cut(&names, 19, grafts->selections);
    svg_label_small(out, (struct point){at.x + 4, at.y + 44}, ANCHOR_START, names.bytes);
}

static void add_key(double y, struct text *out)
{
    svg_disc(out, INK_FILL, (struct point){LEFT, y - 4}, 4);
    svg_label(out, (struct point){LEFT + 10, y}, ANCHOR_START, "graft alive");
    svg_disc(out, INK_OPEN, (struct point){LEFT + 90, y - 4}, 4);
    svg_label(out, (struct point){LEFT + 100, y}, ANCHOR_START, "doubtful or not looked at");
    svg_cross(out, (struct point){LEFT + 254, y - 4}, 3);
    svg_label(out, (struct point){LEFT + 264, y}, ANCHOR_START, "dead or lost");
    svg_box(out, INK_PALE, (struct point){LEFT + 344, y - 10}, (struct svg_size){14, 11});
    svg_label(out, (struct point){LEFT + 364, y}, ANCHOR_START, "weak tree");
    svg_box(out, INK_GREY, (struct point){LEFT + 434, y - 10}, (struct svg_size){14, 11});
    svg_label(out, (struct point){LEFT + 454, y}, ANCHOR_START, "dead tree");
}

struct map {
    struct tree_grafts *trees; /* of one site, by block, row, position */
    size_t count;
};

static struct map map_of(const struct state *state, const struct site *site, struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    struct map map = {ARENA_ARRAY(arena, orchard->trees.count, struct tree_grafts), 0};

    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        struct tree_grafts grafts;

        if (tree->site != site)
            continue;
        grafts = grafts_of(state, tree, arena);
        if ((tree->uses & USE_GRAFT) || grafts.alive + grafts.doubtful + grafts.gone > 0)
            map.trees[map.count++] = grafts;
    }
    qsort(map.trees, map.count, sizeof *map.trees, compare_trees);
    return map;
}

/* Does tree i begin a line on paper: a new block, or a new row in it? */
static bool begins_row(const struct map *map, size_t i)
{
    return i == 0 || order_text(map->trees[i].tree->block, map->trees[i - 1].tree->block) != 0 ||
           map->trees[i].tree->row != map->trees[i - 1].tree->row;
}

static bool begins_block(const struct map *map, size_t i)
{
    return i == 0 || order_text(map->trees[i].tree->block, map->trees[i - 1].tree->block) != 0;
}

static struct svg_size size_of(const struct map *map)
{
    struct svg_size size = {LEFT + COLUMNS_LEAST * CELL_WIDTH, HEAD};
    double across = 0;

    for (size_t i = 0; i < map->count; i++) {
        if (begins_block(map, i))
            size.height += BLOCK_ROOM;
        if (begins_row(map, i)) {
            size.height += CELL_HEIGHT;
            across = 0;
        }
        across += CELL_WIDTH;
        if (LEFT + across + 20 > size.width)
            size.width = LEFT + across + 20;
    }
    size.height += 20;
    return size;
}

void chart_write_map(const struct state *state, const struct site *site, const struct page_run *run,
                     struct text *out)
{
    struct map map = map_of(state, site, out->arena);
    double x = LEFT, y = HEAD - CELL_HEIGHT;

    chart_begin(out, size_of(&map), arena_printf(out->arena, "Trees and grafts at %s", site->name),
                run);
    add_key(60, out);
    if (map.count == 0)
        svg_label(out, (struct point){LEFT, 90}, ANCHOR_START,
                  "No tree of this site is there to be grafted.");
    for (size_t i = 0; i < map.count; i++) {
        const struct tree *tree = map.trees[i].tree;

        if (begins_block(&map, i)) {
            y += BLOCK_ROOM;
            svg_label_bold(out, (struct point){20, y + CELL_HEIGHT - 8}, ANCHOR_START,
                           tree->block ? arena_printf(out->arena, "block %s", tree->block)
                                       : "no block told");
        }
        if (begins_row(&map, i)) {
            y += CELL_HEIGHT;
            x = LEFT;
            if (tree->row >= 0)
                svg_label(out, (struct point){LEFT - 8, y + 26}, ANCHOR_END,
                          arena_printf(out->arena, "row %d", tree->row));
        }
        add_tree(&map.trees[i], (struct point){x, y}, out);
        x += CELL_WIDTH;
    }
    svg_end(out);
}
