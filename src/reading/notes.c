#include "reading/tables.h"

#include "base/number.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define AT(member) .offset = offsetof(struct note, member)

/* What `value` may be depends on the note; the orchard checks it. */
static const struct column note_columns[] = {
    {.name = "date", .kind = COLUMN_DAY, .required = true, AT(date)},
    {.name = "note", .kind = COLUMN_WORD, .required = true, AT(kind), .words = {NOTES, note_names}},
    {.name = "tag", .kind = COLUMN_NAME, AT(tag)},
    {.name = "bag", .kind = COLUMN_NAME, AT(bag)},
    {.name = "tree", .kind = COLUMN_NAME, AT(tree)},
    {.name = "crown", .kind = COLUMN_ONE_OF, AT(crown), .words = {CROWN_WORDS, crown_words}},
    {.name = "branch", .kind = COLUMN_NAME, AT(branch)},
    {.name = "lot", .kind = COLUMN_NAME, AT(lot)},
    {.name = "cross", .kind = COLUMN_NAME, AT(cross)},
    {.name = "batch", .kind = COLUMN_NAME, AT(batch)},
    {.name = "site", .kind = COLUMN_NAME, AT(site)},
    {.name = "block", .kind = COLUMN_NAME, AT(block)},
    {.name = "task", .kind = COLUMN_NAME, AT(task)},
    {.name = "selection", .kind = COLUMN_NAME, AT(selection)},
    {.name = "value", .kind = COLUMN_TEXT, AT(value)},
    {.name = "by", .kind = COLUMN_TEXT, AT(by)},
    {.name = "remarks", .kind = COLUMN_TEXT, AT(remarks)},
    {.name = "entry", .kind = COLUMN_NAME, AT(entry)},
};

/* A stage of another scale as one of ours; the text itself when the scale has no such word. */
static const char *map_stage(struct reader *reader, size_t length, const char *text)
{
    const struct program *program = reader->program;
    for (size_t i = 0; i < program->stage_map_count; i++) {
        const struct stage_word *stage = &program->stage_map[i];
        if (strlen(stage->word) == length && memcmp(stage->word, text, length) == 0)
            return arena_printf(reader->arena, "%d", stage->stage);
    }
    return arena_text(reader->arena, length, text);
}

const char *stage_in_ours(struct reader *reader, const char *value)
{
    if (reader->program->stage_map_count == 0)
        return value;
    const char *whole = map_stage(reader, strlen(value), value);
    const char *dash = strchr(value, '-');
    if (strcmp(whole, value) != 0 || dash == NULL)
        return whole;
    return arena_printf(reader->arena, "%s-%s", map_stage(reader, (size_t)(dash - value), value),
                        map_stage(reader, strlen(dash + 1), dash + 1));
}

static bool finish_note(struct reader *reader, void *row)
{
    struct note *note = row;
    note->number = NAN;
    if (note->value == NULL)
        return true;
    if (note->kind == NOTE_STAGE)
        note->value = stage_in_ours(reader, note->value);
    (void)number_parse(strlen(note->value), note->value, &note->number);
    return true;
}

static void append_note(struct orchard *orchard, const void *row)
{
    APPEND(orchard, note, notes, row);
}

const struct table note_table = {.name = "notes.csv",
                                 .row_bytes = sizeof(struct note),
                                 TABLE_COLUMNS(note_columns),
                                 .finish = finish_note,
                                 .append = append_note};
