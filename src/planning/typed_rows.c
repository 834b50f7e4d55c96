/*
 * typed_rows.c - a typed row before anything is made of it: its code, and whether it is one row.
 *
 * A list sorted by one column, with the others left where they stood, is the commonest way to lose
 * a page; cells of two rows beside each other show it.
 */
#include "base/check_character.h"
#include "orchard/order.h"
#include "orchard/words.h"
#include "planning/typed_parts.h"

#include <string.h>

bool typed_says(const struct typed_row *row)
{
    return row->note >= 0 || row->done_on != DAY_NONE || row->not_done || row->stage ||
           row->value || row->remarks;
}

static const char *upper(struct arena *arena, const char *text)
{
    char *copy = arena_text(arena, strlen(text), text);

    for (char *at = copy; *at; at++)
        if (*at >= 'a' && *at <= 'z')
            *at = (char)(*at - 'a' + 'A');
    return copy;
}

static const struct typed_row *find_entry(const struct typed_page *page, const char *entry)
{
    for (size_t i = 0; i < page->count; i++)
        if (page->list[i].entry && strcmp(page->list[i].entry, entry) == 0)
            return &page->list[i];
    return NULL;
}

static const char *nearest_entry(const struct typing *typing, const char *entry)
{
    const struct typed_page *page = typing->issued;
    const char **names = ARENA_ARRAY(typing->arena, page->count, const char *);
    size_t count = 0;

    for (size_t i = 0; i < page->count; i++)
        if (page->list[i].entry)
            names[count++] = page->list[i].entry;
    return text_nearest(entry, count, names);
}

static bool tell_entry(const struct typing *typing, const struct typed_row *row, bool holds)
{
    const char *near = typing->issued ? nearest_entry(typing, row->entry) : NULL;
    const char *found = diag_quote(typing->diags, row->entry);
    struct place place = typed_place(typing->page, row, TYPED_ENTRY);
    const char *advice = near ? arena_printf(typing->arena, "write %s if that line is meant",
                                             diag_quote(typing->diags, near))
                              : "look it up there";

    if (holds)
        diag_error(typing->diags, place, "entry-not-on-page",
                   "'entry' is %s, which %s does not have, expected a code of that page, %s", found,
                   typing->issued->file, advice);
    else
        diag_error(typing->diags, place, "entry-check-character",
                   "'entry' is %s, which does not end in its check character, expected the code as "
                   "printed beside the line, %s",
                   found, advice);
    return false;
}

/* A cell as typed and as printed. */
struct twin {
    enum typed_column column;
    const char **typed;
    const char *printed;
};

/* Blank cells are taken from the page; false: a filled one differs, told. */
static bool take_cell(const struct typing *typing, const struct typed_row *row, struct twin twin)
{
    if (!*twin.typed)
        *twin.typed = twin.printed;
    if (!twin.printed || strcmp(*twin.typed, twin.printed) == 0)
        return true;
    diag_error(typing->diags, typed_place(typing->page, row, twin.column), "differs-from-page",
               "'%s' is %s, and line %u of %s prints %s for entry %s, expected the cells of one "
               "line, correct the code or the cell",
               typed_column_names[twin.column], diag_quote(typing->diags, *twin.typed),
               find_entry(typing->issued, row->entry)->place.line, typing->issued->file,
               diag_quote(typing->diags, twin.printed), diag_quote(typing->diags, row->entry));
    return false;
}

/* What the page prints and nobody fills in. */
static bool take_printed(const struct typing *typing, struct typed_row *row,
                         const struct typed_row *printed)
{
    const struct twin fixed[] = {
        {TYPED_TASK, &row->task, printed->task},
        {TYPED_SITE, &row->site, printed->site},
        {TYPED_BAG, &row->bag, printed->bag},
        {TYPED_CROSS, &row->cross, printed->cross},
        {TYPED_SELECTION, &row->selection, printed->selection},
    };
    /* Where the crew may have done otherwise than planned, what was typed holds. */
    const struct twin free[] = {
        {TYPED_BLOCK, &row->block, printed->block}, {TYPED_TREE, &row->tree, printed->tree},
        {TYPED_CROWN, &row->crown, printed->crown}, {TYPED_BRANCH, &row->branch, printed->branch},
        {TYPED_TAG, &row->tag, printed->tag},       {TYPED_LOT, &row->lot, printed->lot},
        {TYPED_BATCH, &row->batch, printed->batch},
    };
    bool agree = true;

    if (row->date == DAY_NONE)
        row->date = printed->date;
    for (size_t i = 0; i < sizeof fixed / sizeof *fixed; i++)
        agree = take_cell(typing, row, fixed[i]) && agree;
    for (size_t i = 0; i < sizeof free / sizeof *free; i++)
        if (!*free[i].typed)
            *free[i].typed = free[i].printed;
    return agree;
}

bool typed_look_up(const struct typing *typing, struct typed_row *row)
{
    const struct typed_row *printed;

    if (!row->entry)
        return true;
    row->entry = upper(typing->arena, row->entry);
    if (!check_character_holds(row->entry))
        return tell_entry(typing, row, false);
    if (!typing->issued || row->note >= 0)
        return true;
    printed = find_entry(typing->issued, row->entry);
    return printed ? take_printed(typing, row, printed) : tell_entry(typing, row, true);
}

static bool tell_mixed(const struct typing *typing, const struct typed_row *row,
                       enum typed_column column, const char *typed, const char *known)
{
    diag_error(typing->diags, typed_place(typing->page, row, column),
               column == TYPED_TAG ? "bag-of-other-graft" : "cells-of-two-rows",
               "'%s' is %s, and what else stands in this row belongs to %s, expected the cells of "
               "one line, correct one; was the list sorted by a single column?",
               typed_column_names[column], diag_quote(typing->diags, typed),
               diag_quote(typing->diags, known));
    return false;
}

static const struct graft *graft_of_bag(const struct typing *typing, const char *bag)
{
    struct bag_name parts;

    if (!bag_name_read(bag, &parts))
        return NULL;
    return orchard_graft(typing->linked, arena_text(typing->arena, parts.tag_length, bag));
}

bool typed_cells_agree(const struct typing *typing, const struct typed_row *row)
{
    const struct orchard *orchard = typing->linked;
    const struct graft *of_tag = orchard_graft(orchard, row->tag);
    const struct graft *graft = row->bag ? graft_of_bag(typing, row->bag) : of_tag;
    const struct tree *tree = orchard_tree(orchard, row->tree);

    if (graft && of_tag && of_tag != graft)
        return tell_mixed(typing, row, TYPED_TAG, row->tag, graft->tag);
    if (graft && tree && graft->tree && graft->tree != tree)
        return tell_mixed(typing, row, TYPED_TREE, row->tree, graft->tree->name);
    tree = graft && graft->tree ? graft->tree : tree;
    if (tree && tree->site && orchard_site(orchard, row->site) &&
        order_text(tree->site_name, row->site) != 0)
        return tell_mixed(typing, row, TYPED_SITE, row->site, tree->site_name);
    return true;
}
