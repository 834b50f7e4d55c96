#include "reading/tables.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* ---- trees.csv ------------------------------------------------------------------------------ */

#define AT(member) .offset = offsetof(struct tree, member)

static const char *const healths[] = {"sound", "weak", "dead"};
static const char *const uses[] = {"graft", "scions", "pollen"};
static const struct words use_words = {COUNT_OF(uses), uses};

/* `graft+scions`: words joined by `+`, each once. */
static bool read_uses(struct reader *reader, const struct cell *cell, void *noun)
{
    static const unsigned bits[] = {USE_GRAFT, USE_SCIONS, USE_POLLEN};
    unsigned found = 0;
    for (const char *at = cell->text;; at++) {
        char word[16] = "";
        size_t length = strcspn(at, "+");
        if (length < sizeof word)
            memcpy(word, at, length);
        int use = words_find(word, use_words);
        if (use < 0) {
            cell_tell_word(reader, "uses", length < sizeof word ? word : cell->text, use_words);
            return false;
        }
        if (found & bits[use]) {
            diag_error(reader->diags, reader->place, "bad-uses",
                       "'uses' is %s, expected each use once, joined by +, remove the second",
                       rows_quote(reader->rows, cell->text));
            return false;
        }
        found |= bits[use];
        at += length;
        if (*at == '\0')
            break;
    }
    ((struct tree *)noun)->uses = found;
    return true;
}

static const struct column tree_columns[] = {
    {.name = "tree", .kind = COLUMN_NAME, .required = true, AT(name)},
    {.name = "site", .kind = COLUMN_NAME, .required = true, AT(site_name)},
    {.name = "block", .kind = COLUMN_NAME, AT(block)},
    {.name = "row", .kind = COLUMN_WHOLE, AT(row), .least = 0, .most = 100000, .blank = -1},
    {.name = "position",
     .kind = COLUMN_WHOLE,
     AT(position),
     .least = 0,
     .most = 100000,
     .blank = -1},
    {.name = "species", .kind = COLUMN_NAME, AT(species)},
    {.name = "clone", .kind = COLUMN_NAME, AT(clone)},
    {.name = "uses", .kind = COLUMN_OWN, .read = read_uses},
    {.name = "selection", .kind = COLUMN_NAME, AT(selection_name)},
    {.name = "places_top",
     .kind = COLUMN_WHOLE,
     AT(places[CROWN_TOP]),
     .least = 0,
     .most = 100000,
     .blank = -1},
    {.name = "places_middle",
     .kind = COLUMN_WHOLE,
     AT(places[CROWN_MIDDLE]),
     .least = 0,
     .most = 100000,
     .blank = -1},
    {.name = "places_low",
     .kind = COLUMN_WHOLE,
     AT(places[CROWN_LOW]),
     .least = 0,
     .most = 100000,
     .blank = -1},
    {.name = "reach_needed_m",
     .kind = COLUMN_NUMBER,
     AT(reach_needed_m),
     .least = 0,
     .most = 100,
     .blank = NAN},
    {.name = "reach_needed_ft",
     .kind = COLUMN_NUMBER,
     AT(reach_needed_m),
     .least = 0,
     .most = 330,
     .blank = NAN,
     .unit = UNIT_FEET},
    {.name = "health",
     .kind = COLUMN_WORD,
     AT(health),
     .words = {COUNT_OF(healths), healths},
     .words_from = HEALTH_SOUND,
     .blank = HEALTH_UNKNOWN},
    {.name = "health_on", .kind = COLUMN_DAY, AT(health_on)},
    {.name = "label_checked_on", .kind = COLUMN_DAY, AT(label_checked_on)},
    {.name = "label_checked_how", .kind = COLUMN_TEXT, AT(label_checked_how)},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static bool finish_tree(struct reader *reader, void *row)
{
    (void)reader;
    ((struct tree *)row)->places[CROWN_UNKNOWN] = -1; /* no column; never counted */
    return true;
}

static void append_tree(struct orchard *orchard, const void *row)
{
    APPEND(orchard, tree, trees, row);
}

const struct table tree_table = {.name = "trees.csv",
                                 .required = true,
                                 .row_bytes = sizeof(struct tree),
                                 TABLE_COLUMNS(tree_columns),
                                 .finish = finish_tree,
                                 .append = append_tree};

#undef AT

/* ---- selections.csv ------------------------------------------------------------------------- */

#define AT(member) .offset = offsetof(struct selection, member)

static const struct column selection_columns[] = {
    {.name = "selection", .kind = COLUMN_NAME, .required = true, AT(name)},
    {.name = "species", .kind = COLUMN_NAME, AT(species)},
    {.name = "seed_parent", .kind = COLUMN_NAME, AT(seed_parent_name)},
    {.name = "pollen_parent", .kind = COLUMN_NAME, AT(pollen_parent_name)},
    {.name = "same_as", .kind = COLUMN_NAME, AT(same_as_name)},
    {.name = "breeding_value", .kind = COLUMN_NUMBER, AT(breeding_value), .blank = NAN},
    {.name = "flag_colour", .kind = COLUMN_TEXT, AT(flag_colour)},
    {.name = "days_late", .kind = COLUMN_NUMBER, AT(days_late), .least = -120, .most = 120},
    {.name = "unsuited_clones", .kind = COLUMN_TEXT, AT(unsuited_clones)},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static void append_selection(struct orchard *orchard, const void *row)
{
    APPEND(orchard, selection, selections, row);
}

const struct table selection_table = {.name = "selections.csv",
                                      .required = true,
                                      .row_bytes = sizeof(struct selection),
                                      TABLE_COLUMNS(selection_columns),
                                      .append = append_selection};
