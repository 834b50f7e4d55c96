#include "writing/labels_page.h"

#include "writing/layout.h"

#include <string.h>

/* Two labels of 38 columns with their frame are 79 of the 80. */
enum { INNER = 38, ROOM = INNER - 2, BESIDE = 2, LEAST_LINES = 5 };

/* One label as lines, each padded to the width of its field. */
struct field {
    const char **lines;
    size_t count, capacity;
};

static void add_line(struct field *field, const char *value, struct arena *arena)
{
    struct text line;

    text_init(&line, arena);
    text_add(&line, " ");
    text_add_left(&line, INNER - 1, value);
    *ARENA_PUSH(arena, field->lines, field->count, field->capacity) = line.bytes;
}

/* Wrapped, never cut: a name that is cut could be another's. */
static void add_lines(struct field *field, const char *value, struct arena *arena)
{
    struct text wrapped;

    text_init(&wrapped, arena);
    text_add_wrapped(&wrapped, ROOM, 0, value);
    for (char *at = wrapped.bytes, *end; at != NULL; at = end) {
        end = strchr(at, '\n');
        if (end != NULL)
            *end++ = '\0';
        add_line(field, at, arena);
    }
}

/* "V 0 0 7 9" where it fits. */
static const char *spaced(const char *tag, struct arena *arena)
{
    struct text wide;

    text_init(&wide, arena);
    text_add_printable(&wide, tag);
    if (2 * text_columns(wide.bytes) > ROOM + 1 || strlen(wide.bytes) != text_columns(wide.bytes) ||
        strchr(tag, ' ') != NULL)
        return tag;
    text_clear(&wide);
    for (const char *at = tag; *at != '\0'; at++)
        text_addf(&wide, "%s%c", at > tag ? " " : "", *at);
    return wide.bytes;
}

static struct field field_of(const struct label *label, struct arena *arena)
{
    struct label_lines lines = label_lines_of(label, arena);
    struct field field = {0};

    add_lines(&field, spaced(label->tag, arena), arena);
    for (size_t i = 0; i < LABEL_LINES; i++) {
        struct text value;

        text_init(&value, arena);
        text_add(&value, lines.list[i]);
        if (lines.blank) {
            text_add(&value, " ");
            text_add_repeat(&value, ROOM - value.length, '_');
        }
        add_lines(&field, value.bytes, arena);
    }
    return field;
}

static void add_frame(struct text *out)
{
    for (size_t i = 0; i < BESIDE; i++) {
        text_add(out, "+");
        text_add_repeat(out, INNER, '-');
    }
    text_add(out, "+\n");
}

static void add_row(const struct field *fields, size_t height, struct text *out)
{
    for (size_t line = 0; line < height; line++) {
        for (size_t i = 0; i < BESIDE; i++) {
            text_add(out, "|");
            if (line < fields[i].count)
                text_add(out, fields[i].lines[line]);
            else
                text_add_repeat(out, INNER, ' ');
        }
        text_add(out, "|\n");
    }
    add_frame(out);
}

void labels_write_text(const struct labels *labels, const struct page_run *run, struct text *out)
{
    size_t used = 0;

    if (labels->count == 0)
        text_add(out, "No labels.\n");
    for (size_t i = 0; i < labels->count; i += BESIDE) {
        struct field fields[BESIDE] = {{0}};
        size_t height = LEAST_LINES;

        for (size_t at = 0; at < BESIDE && i + at < labels->count; at++) {
            fields[at] = field_of(&labels->list[i + at], run->arena);
            height = fields[at].count > height ? fields[at].count : height;
        }
        if (used > 0 && used + height + 1 > PAGE_LINES) {
            text_add(out, "\f");
            used = 0;
        }
        if (used == 0) {
            add_frame(out);
            used = 1;
        }
        add_row(fields, height, out);
        used += height + 1;
    }
}
