#include "reading/tables.h"

#include <math.h>
#include <stddef.h>

/* ---- scions.csv ----------------------------------------------------------------------------- */

#define AT(member) .offset = offsetof(struct batch, member)

static const struct column scion_columns[] = {
    {.name = "batch", .kind = COLUMN_NAME, .required = true, AT(name)},
    {.name = "selection", .kind = COLUMN_NAME, .required = true, AT(selection_name)},
    {.name = "cut_on", .kind = COLUMN_DAY, .required = true, AT(cut_on)},
    {.name = "source_tree", .kind = COLUMN_NAME, AT(source_tree_name)},
    {.name = "count", .kind = COLUMN_WHOLE, AT(count), .least = 0, .most = 1000000, .blank = -1},
    {.name = "store_c", .kind = COLUMN_NUMBER, AT(store_c), .least = -40, .most = 40, .blank = NAN},
    {.name = "store_f",
     .kind = COLUMN_NUMBER,
     AT(store_c),
     .least = -40,
     .most = 104,
     .blank = NAN,
     .unit = UNIT_FAHRENHEIT},
    {.name = "package", .kind = COLUMN_TEXT, AT(package)},
    {.name = "discarded_on", .kind = COLUMN_DAY, AT(discarded_on)},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static void append_batch(struct orchard *orchard, const void *row)
{
    APPEND(orchard, batch, batches, row);
}

const struct table scion_table = {.name = "scions.csv",
                                  .row_bytes = sizeof(struct batch),
                                  TABLE_COLUMNS(scion_columns),
                                  .append = append_batch};

#undef AT

/* ---- grafts.csv ----------------------------------------------------------------------------- */

#define AT(member) .offset = offsetof(struct graft, member)

static const char *const conditions[] = {"alive", "doubtful", "dead", "lost", "removed"};
static const char *const identities[] = {"unchecked", "checked", "disputed", "wrong"};

static const struct column graft_columns[] = {
    {.name = "tag", .kind = COLUMN_NAME, .required = true, AT(tag)},
    {.name = "selection", .kind = COLUMN_NAME, .required = true, AT(selection_name)},
    {.name = "tree", .kind = COLUMN_NAME, .required = true, AT(tree_name)},
    {.name = "crown",
     .kind = COLUMN_WORD,
     AT(crown),
     .words = {CROWN_WORDS, crown_words},
     .words_from = CROWN_TOP,
     .blank = CROWN_UNKNOWN},
    {.name = "branch", .kind = COLUMN_NAME, AT(branch)},
    {.name = "grafted_on", .kind = COLUMN_DAY, .required = true, AT(grafted_on)},
    {.name = "batch", .kind = COLUMN_NAME, AT(batch_name)},
    {.name = "condition",
     .kind = COLUMN_WORD,
     AT(condition),
     .words = {COUNT_OF(conditions), conditions},
     .words_from = CONDITION_ALIVE,
     .blank = CONDITION_UNKNOWN},
    {.name = "condition_on", .kind = COLUMN_DAY, AT(condition_on)},
    {.name = "identity",
     .kind = COLUMN_WORD,
     AT(identity),
     .words = {COUNT_OF(identities), identities},
     .blank = IDENTITY_UNCHECKED},
    {.name = "identity_on", .kind = COLUMN_DAY, AT(identity_on)},
    {.name = "identity_how", .kind = COLUMN_TEXT, AT(identity_how)},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static void append_graft(struct orchard *orchard, const void *row)
{
    APPEND(orchard, graft, grafts, row);
}

const struct table graft_table = {.name = "grafts.csv",
                                  .required = true,
                                  .row_bytes = sizeof(struct graft),
                                  TABLE_COLUMNS(graft_columns),
                                  .append = append_graft};
