#include "base/text.h"

#include "base/glyph.h"

#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { FIRST_CAPACITY = 64 };

void text_init(struct text *text, struct arena *arena)
{
    *text = (struct text){.arena = arena, .capacity = FIRST_CAPACITY};
    text->bytes = ARENA_ARRAY(arena, FIRST_CAPACITY, char);
}

void text_clear(struct text *text)
{
    text->length = 0;
    text->bytes[0] = '\0';
}

/* Room for `more` bytes and the NUL. */
static void reserve(struct text *text, size_t more)
{
    assert(more < SIZE_MAX - text->length);
    size_t needed = text->length + more;
    if (needed < text->capacity)
        return;
    text->bytes = arena_grow(text->arena, text->bytes, needed, &text->capacity, 1);
}

void text_add_bytes(struct text *text, size_t length, const char *bytes)
{
    if (length == 0)
        return;
    reserve(text, length);
    memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void text_add(struct text *text, const char *more)
{
    text_add_bytes(text, strlen(more), more);
}

void text_addf(struct text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    text_addv(text, format, arguments);
    va_end(arguments);
}

void text_addv(struct text *text, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    /* The analyzer loses sight of va_start when it is given several files at once. */
    int length =
        vsnprintf(NULL, 0, format, arguments); // NOLINT(clang-analyzer-valist.Uninitialized)
    assert(length >= 0);

    reserve(text, (size_t)length);
    vsnprintf(text->bytes + text->length, (size_t)length + 1, format, again);
    va_end(again);
    text->length += (size_t)length;
}

void text_add_repeat(struct text *text, size_t count, char byte)
{
    reserve(text, count);
    memset(text->bytes + text->length, byte, count);
    text->length += count;
    text->bytes[text->length] = '\0';
}

bool text_is_utf8(size_t length, const char *text, size_t *bad)
{
    for (size_t at = 0; at < length;) {
        uint32_t point;
        size_t size = glyph_decode(length - at, text + at, &point);
        if (size == 0) {
            if (bad)
                *bad = at;
            return false;
        }
        at += size;
    }
    return true;
}

size_t text_columns(const char *text)
{
    size_t columns = 0;
    for (struct glyph glyph; (glyph = glyph_next(text)).size > 0; text += glyph.size)
        columns += glyph.columns;
    return columns;
}

void text_add_printable(struct text *text, const char *value)
{
    for (struct glyph glyph; (glyph = glyph_next(value)).size > 0; value += glyph.size)
        text_add_bytes(text, glyph.shown_size, glyph.shown);
}

/* Add what of `value` goes into `columns`; gives the columns taken. */
static size_t add_fitting(struct text *text, size_t columns, const char *value)
{
    size_t taken = 0;
    for (struct glyph glyph; (glyph = glyph_next(value)).size > 0; value += glyph.size) {
        if (glyph.columns > columns - taken)
            break;
        text_add_bytes(text, glyph.shown_size, glyph.shown);
        taken += glyph.columns;
    }
    return taken;
}

static size_t add_cut(struct text *text, size_t columns, const char *value, const char *mark)
{
    if (text_columns(value) <= columns)
        return add_fitting(text, columns, value);
    if (columns == 0)
        return 0;
    size_t taken = add_fitting(text, columns - 1, value);
    text_add(text, mark);
    return taken + 1;
}

void text_add_cut(struct text *text, size_t columns, const char *value)
{
    add_cut(text, columns, value, "…");
}

void text_add_left(struct text *text, size_t columns, const char *value)
{
    size_t taken = add_cut(text, columns, value, "~");
    text_add_repeat(text, columns - taken, ' ');
}

void text_add_right(struct text *text, size_t columns, const char *value)
{
    size_t wanted = text_columns(value);
    if (wanted <= columns)
        text_add_repeat(text, columns - wanted, ' ');
    text_add_left(text, wanted <= columns ? wanted : columns, value);
}

static bool is_digit(char byte)
{
    return byte >= '0' && byte <= '9';
}

static bool is_separator(char byte)
{
    return byte == ' ' || byte == '\t' || byte == '-' || byte == '_';
}

static char lower(char byte)
{
    return byte >= 'A' && byte <= 'Z' ? (char)(byte - 'A' + 'a') : byte;
}

void text_add_folded(struct text *text, const char *identifier)
{
    const char *at = identifier;
    bool after_digit = false, separated = false;

    while (*at) {
        if (is_separator(*at)) {
            separated = true;
            at++;
            continue;
        }
        bool digit = is_digit(*at);
        /* Between digits the separator carries meaning: row 1, tree 11 is not row 11, tree 1. */
        if (separated && after_digit && digit)
            text_add(text, "-");
        if (!digit) {
            char byte = lower(*at++);
            text_add_bytes(text, 1, &byte);
        } else {
            while (at[0] == '0' && is_digit(at[1]))
                at++;
            for (; is_digit(*at); at++)
                text_add_bytes(text, 1, at);
        }
        after_digit = digit;
        separated = false;
    }
}

enum { WORD_MOST = 63, DISTANCE_MOST = 2, SHORT_WORD = 5 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Changed, lost, added and swapped bytes between two words, without regard to ASCII case. */
static size_t edit_distance(const char *left, size_t left_length, const char *right,
                            size_t right_length)
{
    size_t rows[3][WORD_MOST + 1];
    for (size_t j = 0; j <= right_length; j++)
        rows[0][j] = j;
    for (size_t i = 1; i <= left_length; i++) {
        size_t *row = rows[i % 3], *above = rows[(i + 2) % 3], *second = rows[(i + 1) % 3];
        row[0] = i;
        for (size_t j = 1; j <= right_length; j++) {
            bool same = lower(left[i - 1]) == lower(right[j - 1]);
            row[j] = least(above[j - 1] + !same, least(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && lower(left[i - 1]) == lower(right[j - 2]) &&
                lower(left[i - 2]) == lower(right[j - 1]))
                row[j] = least(row[j], second[j - 2] + 1);
        }
    }
    return rows[left_length % 3][right_length];
}

const char *text_nearest(const char *word, size_t count, const char *const *words)
{
    size_t length = strlen(word);
    if (length > WORD_MOST)
        return NULL;

    const char *nearest = NULL;
    /* Only what is nearer than this: with two changes any short word becomes any other. */
    size_t limit = length < SHORT_WORD ? least(length, 2) : DISTANCE_MOST + 1;
    for (size_t i = 0; i < count; i++) {
        size_t other = strlen(words[i]);
        if (other > WORD_MOST)
            continue;
        size_t distance = edit_distance(word, length, words[i], other);
        if (distance < limit) {
            limit = distance;
            nearest = words[i];
        }
    }
    return nearest;
}

/* Display columns that stand on the last line of `text`. */
static size_t present_column(const struct text *text)
{
    size_t start = text->length;
    while (start > 0 && text->bytes[start - 1] != '\n')
        start--;
    return text_columns(text->bytes + start);
}

/* Display columns of the word that starts at `word`. */
static size_t word_columns(const char *word)
{
    size_t columns = 0;
    for (struct glyph glyph; (glyph = glyph_next(word)).size > 0 && *word != ' ';
         word += glyph.size)
        columns += glyph.columns;
    return columns;
}

static size_t new_line(struct text *text, size_t indent)
{
    text_add(text, "\n");
    text_add_repeat(text, indent, ' ');
    return indent;
}

void text_add_wrapped(struct text *text, size_t columns, size_t indent, const char *value)
{
    assert(columns >= indent + 2); /* a wide character must fit */
    size_t column = present_column(text);
    size_t blank = 0; /* between the words of one line */

    for (;;) {
        value += strspn(value, " ");
        if (*value == '\0')
            return;
        if ((blank || column > indent) && column + blank + word_columns(value) > columns) {
            column = new_line(text, indent);
            blank = 0;
        }
        text_add_repeat(text, blank, ' ');
        column += blank;
        for (struct glyph glyph; (glyph = glyph_next(value)).size > 0 && *value != ' ';
             value += glyph.size) {
            if (column > indent && column + glyph.columns > columns)
                column = new_line(text, indent);
            text_add_bytes(text, glyph.shown_size, glyph.shown);
            column += glyph.columns;
        }
        blank = 1;
    }
}
