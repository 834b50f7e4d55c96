/* propose_page.c - proposed crosses: the rows to paste, and why they are these. */
#include "writing/propose_page.h"

#include "writing/head.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

const char *const propose_table_names[PROPOSE_TABLES] = {
    [PROPOSE_GROUPS] = "groups",
    [PROPOSE_CROSSES] = "crosses",
    [PROPOSE_PARENTS] = "parents",
    [PROPOSE_LEFT_OUT] = "left_out",
};

/* "half diallel". */
static const char *design_words(const struct proposal *proposal, struct arena *arena)
{
    const char *name = propose_design_names[proposal->request.design];
    char *words = arena_text(arena, strlen(name), name);

    for (char *at = words; *at; at++)
        if (*at == '-')
            *at = ' ';
    return words;
}

/* ---- rows to paste -------------------------------------------------------------------------- */

enum {
    ROW_CROSS,
    ROW_SEED_PARENT,
    ROW_POLLEN_PARENT,
    ROW_WANTED,
    ROW_LEAST,
    ROW_IN_STORE,
    ROW_EITHER_WAY,
    ROW_PRIORITY,
    ROW_SEASON,
    ROW_STATE,
    ROW_NOTES,
    ROW_COLUMNS
};
static const struct sheet_column row_columns[ROW_COLUMNS] = {
    [ROW_CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [ROW_SEED_PARENT] = {"seed_parent", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [ROW_POLLEN_PARENT] = {"pollen_parent", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [ROW_WANTED] = {"seeds_wanted", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [ROW_LEAST] = {"seeds_least", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [ROW_IN_STORE] = {"seeds_in_store", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [ROW_EITHER_WAY] = {"either_way", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [ROW_PRIORITY] = {"priority", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [ROW_SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [ROW_STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [ROW_NOTES] = {"notes", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

static const char *note_of(const struct proposed_cross *cross, const char *design,
                           struct arena *arena)
{
    struct text note;

    text_init(&note, arena);
    text_addf(&note, "proposed: %s", design);
    if (!isnan(cross->value))
        text_addf(&note, "; cross value %.4g", cross->value);
    text_addf(&note, "; coancestry %.4g%s", cross->coancestry, cross->warned ? ", near kin" : "");
    return note.bytes;
}

struct sheet propose_rows_sheet(const struct proposal *proposal, const struct page_run *run)
{
    const char *design = design_words(proposal, run->arena);
    bool factorial = proposal->request.design == PROPOSE_FACTORIAL;
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide crosses 1", ROW_COLUMNS, row_columns);
    for (size_t i = 0; i < proposal->crosses.count; i++) {
        const struct proposed_cross *cross = &proposal->crosses.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[ROW_CROSS].text = cross->name;
        cells[ROW_SEED_PARENT].text = cross->seed_parent->name;
        cells[ROW_POLLEN_PARENT].text = cross->pollen_parent->name;
        cells[ROW_WANTED].number = cross->seeds;
        cells[ROW_IN_STORE].number = 0;
        /* Only a factorial says which way round; else whichever has the strobili. */
        cells[ROW_EITHER_WAY].text = factorial ? "no" : "yes";
        cells[ROW_PRIORITY].number = 3;
        cells[ROW_STATE].text = "wanted";
        cells[ROW_NOTES].text = note_of(cross, design, run->arena);
    }
    return sheet;
}

/* ---- groups --------------------------------------------------------------------------------- */

enum { GROUP, GROUP_PARENTS, GROUP_VALUE, GROUP_COANCESTRY, GROUP_STATUS, GROUP_COLUMNS };
static const struct sheet_column group_columns[GROUP_COLUMNS] = {
    [GROUP] = {"group", "parents of", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [GROUP_PARENTS] = {"parents", "clones", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [GROUP_VALUE] = {"breeding_value", "mean breeding value", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [GROUP_COANCESTRY] = {"group_coancestry", "group coancestry", CELL_NUMBER, 4,
                          COLUMN_EVERYWHERE},
    [GROUP_STATUS] = {"status_number", "status number", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
};

static void add_group(struct sheet *sheet, const char *name, const struct propose_group *group)
{
    union cell *cells = sheet_row(sheet);

    cells[GROUP].text = name;
    cells[GROUP_PARENTS].number = (double)group->parents;
    cells[GROUP_VALUE].number = group->breeding_value;
    cells[GROUP_COANCESTRY].number = group->group_coancestry;
    cells[GROUP_STATUS].number = group->status_number;
}

static void add_title(const struct proposal *proposal, const struct page_run *run,
                      struct text *head)
{
    struct text what;

    text_init(&what, run->arena);
    text_addf(&what, "Crosses proposed: %s", design_words(proposal, run->arena));
    if (proposal->request.crosses_per_parent)
        text_addf(&what, ", %d crosses a parent", proposal->request.crosses_per_parent);
    head_write_title(run, what.bytes, head);
    text_add(head, "\n");
}

static struct sheet groups_sheet(const struct proposal *proposal, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide proposal groups 1", GROUP_COLUMNS, group_columns);
    add_title(proposal, run, &sheet.head);
    add_group(&sheet, "all candidates, in equal shares", &proposal->candidates);
    if (!isnan(proposal->weight))
        add_group(&sheet, "best shares, were every allowed pair crossed", &proposal->best);
    add_group(&sheet, "the crosses proposed, by their seed", &proposal->proposed);
    if (isnan(proposal->candidates.breeding_value) || isnan(proposal->proposed.breeding_value))
        text_add(&sheet.foot, "A mean breeding value is missing where that of one is not known.\n");
    if (!isnan(proposal->merit))
        text_addf(&sheet.foot,
                  "Merit, mean breeding value less %.4g x group coancestry: %.4f; no crosses "
                  "within the limits of kinship have more than %.4f.\n",
                  proposal->weight, proposal->merit, proposal->merit_most);
    return sheet;
}

/* ---- crosses -------------------------------------------------------------------------------- */

enum { CROSS, SEED_PARENT, POLLEN_PARENT, SEEDS, VALUE, COANCESTRY, REMARK, CROSS_COLUMNS };
static const struct sheet_column cross_columns[CROSS_COLUMNS] = {
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEED_PARENT] = {"seed_parent", "seed parent", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [POLLEN_PARENT] = {"pollen_parent", "pollen parent", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SEEDS] = {"seeds_wanted", "seeds wanted", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [VALUE] = {"cross_value", "cross value", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [COANCESTRY] = {"coancestry", NULL, CELL_NUMBER, 4, COLUMN_EVERYWHERE},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

/* What is proved of the choice, and what is not. */
static void add_proof(const struct proposal *proposal, struct text *foot)
{
    size_t count = proposal->crosses.count;

    if (proposal->pairs_not_chosen > 0) {
        text_add(foot, "; ");
        words_add_count(foot, proposal->pairs_not_chosen, "pair", "pairs");
        text_addf(foot,
                  " more would be allowed, were there no limit of crosses a parent, within "
                  "which there cannot be more than %zu",
                  proposal->crosses_most);
    }
    if (count > 0)
        text_addf(foot, "; mean coancestry of mates %.4f", proposal->coancestry);
    if (isnan(proposal->coancestry_best) || isnan(proposal->coancestry))
        return;
    if (proposal->coancestry < proposal->coancestry_best + 1e-9)
        text_add(foot, ", the least of any arrangement");
    else
        text_addf(foot,
                  ", the least that was found (none can have less than %.4f, which may not "
                  "be possible)",
                  proposal->coancestry_best);
}

static struct sheet crosses_sheet(const struct proposal *proposal, const struct page_run *run)
{
    struct sheet sheet;
    int64_t seeds = 0;

    sheet_init(&sheet, run->arena, "conetide proposal crosses 1", CROSS_COLUMNS, cross_columns);
    for (size_t i = 0; i < proposal->crosses.count; i++) {
        const struct proposed_cross *cross = &proposal->crosses.list[i];
        union cell *cells = sheet_row(&sheet);

        cells[CROSS].text = cross->name;
        cells[SEED_PARENT].text = cross->seed_parent->name;
        cells[POLLEN_PARENT].text = cross->pollen_parent->name;
        cells[SEEDS].number = cross->seeds;
        cells[VALUE].number = cross->value;
        cells[COANCESTRY].number = cross->coancestry;
        if (cross->warned)
            cells[REMARK].text = arena_printf(run->arena, "near kin, coancestry above %g",
                                              run->orchard->program.coancestry_warn);
        seeds += cross->seeds;
    }
    text_add(&sheet.head, "Crosses\n");
    words_add_count(&sheet.foot, proposal->crosses.count, "cross", "crosses");
    text_addf(&sheet.foot, ", %lld seeds", (long long)seeds);
    add_proof(proposal, &sheet.foot);
    text_add(&sheet.foot,
             ".\nRows for crosses.csv: the same command with --format csv; take off its first line "
             "and add the rest to the file.\n");
    return sheet;
}

/* ---- parents -------------------------------------------------------------------------------- */

enum {
    PARENT,
    PARENT_VALUE,
    PARENT_CROSSES,
    PARENT_BEST,
    PARENT_SHARE,
    PARENT_WHY,
    PARENT_COLUMNS
};
static const struct sheet_column parent_columns[PARENT_COLUMNS] = {
    [PARENT] = {"selection", "parent", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [PARENT_VALUE] = {"breeding_value", "breeding value", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [PARENT_CROSSES] = {"crosses", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [PARENT_BEST] = {"best_share", "best share", CELL_CHANCE, 5, COLUMN_EVERYWHERE},
    [PARENT_SHARE] = {"share", NULL, CELL_CHANCE, 5, COLUMN_EVERYWHERE},
    [PARENT_WHY] = {"why_not", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};

static void set_parent(union cell *cells, const struct proposed_parent *parent)
{
    cells[PARENT].text = parent->selection->name;
    cells[PARENT_VALUE].number = parent->breeding_value;
    cells[PARENT_CROSSES].number = (double)parent->crosses;
    cells[PARENT_BEST].number = parent->best_share;
    cells[PARENT_SHARE].number = parent->share;
    cells[PARENT_WHY].text = parent->why;
}

/* "Take no part, because no mate was left for it: S101, S102." once for each reason. */
static void add_idle(const struct proposal *proposal, struct text *foot)
{
    const struct proposed_parent *list = proposal->parents.list;

    for (size_t i = 0; i < proposal->parents.count; i++) {
        bool told = !list[i].why;

        for (size_t j = 0; j < i && !told; j++)
            told = list[j].why && strcmp(list[j].why, list[i].why) == 0;
        if (told)
            continue;
        text_addf(foot, "No part, %s: ", list[i].why);
        for (size_t j = i; j < proposal->parents.count; j++)
            if (list[j].why && strcmp(list[j].why, list[i].why) == 0) {
                text_add(foot, j > i ? ", " : "");
                text_add_printable(foot, list[j].selection->name);
            }
        text_add(foot, ".\n");
    }
}

static struct sheet parents_sheet(const struct proposal *proposal, const struct page_run *run)
{
    struct sheet sheet;
    struct sheet_column *columns = ARENA_ARRAY(run->arena, PARENT_COLUMNS, struct sheet_column);

    memcpy(columns, parent_columns, sizeof parent_columns);
    if (isnan(proposal->weight))
        columns[PARENT_BEST].where = COLUMN_DATA_ONLY;
    sheet_init(&sheet, run->arena, "conetide proposal parents 1", PARENT_COLUMNS, columns);
    (void)sheet_shown(&sheet);
    for (size_t i = 0; i < proposal->parents.count; i++) {
        set_parent(sheet_row(&sheet), &proposal->parents.list[i]);
        if (proposal->parents.list[i].crosses > 0)
            set_parent(sheet_row(sheet_shown(&sheet)), &proposal->parents.list[i]);
    }
    text_add(&sheet.head, "Parents and their shares of all gametes\n");
    add_idle(proposal, &sheet.foot);
    return sheet;
}

/* ---- left out ------------------------------------------------------------------------------- */

enum { OUT_SEED, OUT_POLLEN, OUT_PAIR, OUT_WHY, OUT_COLUMNS };
static const struct sheet_column out_columns[OUT_COLUMNS] = {
    [OUT_SEED] = {"seed_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [OUT_POLLEN] = {"pollen_parent", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [OUT_PAIR] = {"pair", "left out", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [OUT_WHY] = {"why_not", "because", CELL_TEXT, 0, COLUMN_EVERYWHERE},
};
enum { SHOWN_MOST = 40 }; /* what people read of them */

static void set_left_out(union cell *cells, const struct propose_left_out *left_out,
                         struct arena *arena)
{
    cells[OUT_SEED].text = left_out->seed_parent->name;
    cells[OUT_POLLEN].text = left_out->pollen_parent->name;
    cells[OUT_PAIR].text =
        arena_printf(arena, "%s x %s", left_out->seed_parent->name, left_out->pollen_parent->name);
    cells[OUT_WHY].text = left_out->words;
}

static struct sheet left_out_sheet(const struct proposal *proposal, const struct page_run *run)
{
    struct sheet sheet;
    size_t shown = 0, small = 0, count = proposal->left_out.count;

    sheet_init(&sheet, run->arena, "conetide proposal left out 1", OUT_COLUMNS, out_columns);
    (void)sheet_shown(&sheet);
    for (size_t i = 0; i < count; i++) {
        const struct propose_left_out *left_out = &proposal->left_out.list[i];

        set_left_out(sheet_row(&sheet), left_out, run->arena);
        if (left_out->reason == PROPOSE_SMALL)
            small++;
        else if (shown++ < SHOWN_MOST)
            set_left_out(sheet_row(sheet_shown(&sheet)), left_out, run->arena);
    }
    text_add(&sheet.head, "Crosses of the design that are left out\n");
    if (shown > SHOWN_MOST)
        text_addf(&sheet.foot, "%zu more stand in the JSON form.\n", shown - SHOWN_MOST);
    if (small > 0) {
        words_add_count(&sheet.foot, small, "cross", "crosses");
        text_add(&sheet.foot, " more would have less than a tenth of the average seed; the JSON "
                              "form names them.\n");
    }
    return sheet;
}

struct sheet propose_sheet(const struct proposal *proposal, enum propose_table table,
                           const struct page_run *run)
{
    switch (table) {
    case PROPOSE_CROSSES:
        return crosses_sheet(proposal, run);
    case PROPOSE_PARENTS:
        return parents_sheet(proposal, run);
    case PROPOSE_LEFT_OUT:
        return left_out_sheet(proposal, run);
    case PROPOSE_GROUPS:
    case PROPOSE_TABLES:
        break;
    }
    return groups_sheet(proposal, run);
}
