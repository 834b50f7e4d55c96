#include "base/glyph.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

size_t glyph_decode(size_t length, const char *bytes, uint32_t *point)
{
    const unsigned char *at = (const unsigned char *)bytes;
    static const uint32_t smallest[] = {0, 0, 0x80, 0x800, 0x10000};

    if (length == 0)
        return 0;
    if (at[0] < 0x80) {
        *point = at[0];
        return 1;
    }
    size_t size = at[0] >= 0xf8 ? 0 : at[0] >= 0xf0 ? 4 : at[0] >= 0xe0 ? 3 : at[0] >= 0xc0 ? 2 : 0;
    if (size == 0 || size > length)
        return 0;
    uint32_t value = at[0] & (0xffu >> (size + 1));
    for (size_t i = 1; i < size; i++) {
        if ((at[i] & 0xc0) != 0x80)
            return 0;
        value = value << 6 | (at[i] & 0x3fu);
    }
    if (value < smallest[size] || value > 0x10ffff || (value >= 0xd800 && value <= 0xdfff))
        return 0;
    *point = value;
    return size;
}

struct range {
    uint32_t first, last;
};

static bool within(size_t count, const struct range *ranges, uint32_t point)
{
    for (size_t i = 0; i < count; i++)
        if (point >= ranges[i].first && point <= ranges[i].last)
            return true;
    return false;
}

/* Code points that move, hide or reorder what stands around them. */
static bool is_unsafe(uint32_t point)
{
    static const struct range ranges[] = {
        {0x00, 0x1f},     {0x7f, 0x9f},     {0xad, 0xad},       {0x61c, 0x61c},
        {0x200b, 0x200b}, {0x200e, 0x200f}, {0x2028, 0x202e},   {0x2060, 0x206f},
        {0xfeff, 0xfeff}, {0xfff9, 0xfffb}, {0xe0000, 0xe007f},
    };
    return within(sizeof ranges / sizeof *ranges, ranges, point);
}

/* Marks that stand on the character before them, joiners and variation selectors. */
static bool takes_no_column(uint32_t point)
{
    static const struct range ranges[] = {
        {0x300, 0x36f},   {0x483, 0x489},   {0x591, 0x5bd},   {0x64b, 0x65f},   {0x1ab0, 0x1aff},
        {0x1dc0, 0x1dff}, {0x200c, 0x200d}, {0x20d0, 0x20ff}, {0xfe00, 0xfe0f}, {0xfe20, 0xfe2f},
    };
    return within(sizeof ranges / sizeof *ranges, ranges, point);
}

/* The blocks of wide and full-width characters, after Unicode Standard Annex 11 (from memory). */
static bool takes_two_columns(uint32_t point)
{
    static const struct range ranges[] = {
        {0x1100, 0x115f},   {0x2e80, 0x303e},   {0x3041, 0x33ff},   {0x3400, 0x4dbf},
        {0x4e00, 0x9fff},   {0xa000, 0xa4cf},   {0xa960, 0xa97f},   {0xac00, 0xd7a3},
        {0xf900, 0xfaff},   {0xfe30, 0xfe6f},   {0xff00, 0xff60},   {0xffe0, 0xffe6},
        {0x17000, 0x18aff}, {0x1b000, 0x1b2ff}, {0x1f300, 0x1f64f}, {0x1f680, 0x1f6ff},
        {0x1f900, 0x1f9ff}, {0x20000, 0x3fffd},
    };
    return within(sizeof ranges / sizeof *ranges, ranges, point);
}

struct glyph glyph_next(const char *text)
{
    struct glyph glyph = {.size = 0};
    if (*text == '\0')
        return glyph;
    if (*text >= ' ' && *text <= '~') { /* nearly always */
        glyph.size = glyph.shown_size = glyph.columns = 1;
        glyph.shown[0] = *text;
        return glyph;
    }

    uint32_t point = 0;
    glyph.size = glyph_decode(strnlen(text, 4), text, &point);
    if (glyph.size > 0 && !is_unsafe(point)) {
        memcpy(glyph.shown, text, glyph.size);
        glyph.shown_size = glyph.size;
        glyph.columns = takes_no_column(point) ? 0 : takes_two_columns(point) ? 2 : 1;
        return glyph;
    }
    int wrote;
    if (glyph.size <= 1)
        wrote =
            snprintf(glyph.shown, sizeof glyph.shown, "\\x%02x", (unsigned)(unsigned char)*text);
    else
        wrote = snprintf(glyph.shown, sizeof glyph.shown, "\\u{%04X}", (unsigned)point);
    glyph.shown_size = glyph.columns = (size_t)wrote;
    if (glyph.size == 0)
        glyph.size = 1;
    return glyph;
}
