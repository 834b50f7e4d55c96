/*
 * placement_tags.c - new grafts take the next tags of the winter.
 */
#include "orchard/new_tags.h"
#include "planning/placement_parts.h"

void placement_name_grafts(struct placement_maker *maker)
{
    struct new_tags tags;

    new_tags_begin(&tags, maker->orchard, maker->placement->season, NULL, maker->arena);
    for (size_t i = 0; i < maker->placement->grafts.count; i++)
        maker->placement->grafts.list[i].tag = new_tags_next(&tags);
}
