#include "reading/tables.h"

#include "base/number.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* ---- crosses.csv ---------------------------------------------------------------------------- */

#define AT(member) .offset = offsetof(struct cross, member)

enum { SEEDS_MOST = 100000000 };

static const char *const no_yes[] = {"no", "yes"};
static const char *const cross_states[] = {"wanted", "hold", "cancelled"};

static const struct column cross_columns[] = {
    {.name = "cross", .kind = COLUMN_NAME, .required = true, AT(name)},
    {.name = "seed_parent", .kind = COLUMN_NAME, .required = true, AT(seed_parent_name)},
    {.name = "pollen_parent", .kind = COLUMN_NAME, .required = true, AT(pollen_parent_name)},
    {.name = "seeds_wanted",
     .kind = COLUMN_WHOLE,
     .required = true,
     AT(seeds_wanted),
     .least = 0,
     .most = SEEDS_MOST},
    {.name = "seeds_least", .kind = COLUMN_WHOLE, AT(seeds_least), .least = 0, .most = SEEDS_MOST},
    {.name = "seeds_in_store",
     .kind = COLUMN_WHOLE,
     AT(seeds_in_store),
     .least = 0,
     .most = SEEDS_MOST},
    {.name = "either_way", .kind = COLUMN_YES, AT(either_way), .words = {COUNT_OF(no_yes), no_yes}},
    {.name = "priority",
     .kind = COLUMN_WHOLE,
     AT(priority),
     .least = 1,
     .most = PRIORITIES,
     .blank = 3},
    {.name = "season", .kind = COLUMN_WHOLE, AT(season), .least = 1900, .most = 2199},
    {.name = "state",
     .kind = COLUMN_WORD,
     AT(state),
     .words = {COUNT_OF(cross_states), cross_states},
     .blank = CROSS_WANTED},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static void append_cross(struct orchard *orchard, const void *row)
{
    APPEND(orchard, cross, crosses, row);
}

const struct table cross_table = {.name = "crosses.csv",
                                  .row_bytes = sizeof(struct cross),
                                  TABLE_COLUMNS(cross_columns),
                                  .append = append_cross};

#undef AT

/* ---- pollen.csv ----------------------------------------------------------------------------- */

#define AT(member) .offset = offsetof(struct lot, member)

static const char *const lot_states[] = {"planned", "drying", "stored", "finished", "discarded"};

enum { PARTS_MOST = 200 };

static bool tell_parts(struct reader *reader, const struct cell *cell, const char *fault)
{
    diag_error(reader->diags, reader->place, "bad-parts", "'parts' is %s, %s",
               rows_quote(reader->rows, cell->text), fault);
    return false;
}

/* One `S12:1` of `length` bytes; false: told. */
static bool read_part(struct reader *reader, const struct cell *cell, size_t length,
                      const char *text, struct mix_part *part)
{
    const char *colon = NULL;
    for (size_t i = 0; i < length; i++)
        if (text[i] == ':')
            colon = text + i;
    if (colon == NULL || colon == text)
        return tell_parts(reader, cell,
                          "expected selections with shares like S12:1;S31:1, put a "
                          "colon and a number after each selection");
    size_t number = length - (size_t)(colon + 1 - text);
    if (!number_parse(number, colon + 1, &part->share) || !(part->share > 0) || part->share > 1e6)
        return tell_parts(reader, cell,
                          "expected a share above 0 after each colon, like S12:1;S31:1, "
                          "correct it");
    char *name = arena_text(reader->arena, (size_t)(colon - text), text);
    part->selection_name = name;
    return cell_check_name(reader, (size_t)(colon - text), name);
}

/* `S12:1;S31:1`: shares are made to add up to 1. */
static bool read_parts(struct reader *reader, const struct cell *cell, void *noun)
{
    struct lot *lot = noun;
    size_t count = 1;
    for (size_t i = 0; i < cell->length; i++)
        count += cell->text[i] == ';';
    if (count > PARTS_MOST)
        return tell_parts(reader, cell, "expected at most 200 selections, use fewer");
    struct mix_part *parts = ARENA_ARRAY(reader->arena, count, struct mix_part);
    const char *at = cell->text;
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        size_t length = strcspn(at, ";");
        if (!read_part(reader, cell, length, at, &parts[i]))
            return false;
        for (size_t j = 0; j < i; j++)
            if (strcmp(parts[j].selection_name, parts[i].selection_name) == 0)
                return tell_parts(reader, cell, "expected each selection once, add its shares up");
        sum += parts[i].share;
        at += length + 1;
    }
    for (size_t i = 0; i < count; i++)
        parts[i].share /= sum;
    lot->parts = parts;
    lot->part_count = count;
    return true;
}

static const struct column pollen_columns[] = {
    {.name = "lot", .kind = COLUMN_NAME, .required = true, AT(name)},
    {.name = "selection", .kind = COLUMN_NAME, AT(selection_name)},
    {.name = "parts", .kind = COLUMN_OWN, .read = read_parts},
    {.name = "source_tree", .kind = COLUMN_NAME, AT(source_tree_name)},
    {.name = "kept_at", .kind = COLUMN_TEXT, AT(kept_at)},
    {.name = "state",
     .kind = COLUMN_WORD,
     AT(state),
     .words = {COUNT_OF(lot_states), lot_states},
     .blank = LOT_STORED},
    {.name = "ready_on", .kind = COLUMN_DAY, AT(ready_on)},
    {.name = "volume_ml",
     .kind = COLUMN_NUMBER,
     AT(volume_ml),
     .least = 0,
     .most = 1000000,
     .blank = NAN},
    {.name = "measured_on", .kind = COLUMN_DAY, AT(measured_on)},
    {.name = "germination_pct",
     .kind = COLUMN_NUMBER,
     AT(germination_pct),
     .least = 0,
     .most = 100,
     .blank = NAN},
    {.name = "tested_on", .kind = COLUMN_DAY, AT(tested_on)},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static bool finish_lot(struct reader *reader, void *row)
{
    const struct lot *lot = row;
    bool selection = reader_filled(reader, "selection");
    bool parts = reader_filled(reader, "parts");
    if (selection && parts)
        diag_error(
            reader->diags, reader_place(reader, "parts"), "selection-and-parts",
            "both 'selection' and 'parts' are filled, expected a selection or the parts of a "
            "mix, clear one");
    else if (!selection && !parts)
        diag_error(
            reader->diags, reader->place, "lot-of-nothing",
            "neither 'selection' nor 'parts' is filled, expected a selection or the parts of "
            "a mix like S12:1;S31:1, fill one in");
    return selection != parts && (lot->selection_name != NULL || lot->part_count > 0);
}

static void append_lot(struct orchard *orchard, const void *row)
{
    APPEND(orchard, lot, lots, row);
}

const struct table pollen_table = {.name = "pollen.csv",
                                   .row_bytes = sizeof(struct lot),
                                   TABLE_COLUMNS(pollen_columns),
                                   .finish = finish_lot,
                                   .append = append_lot};
