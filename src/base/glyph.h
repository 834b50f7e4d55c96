/*
 * glyph.h - one character of foreign text, as it may be shown.
 *
 * Measuring, cutting, wrapping and showing text all go through glyph_next, which never trusts its
 * input: a byte that starts no well-formed sequence is a glyph of its own and is shown as \xNN.  So
 * a table stays straight whatever a cell holds.
 */
#ifndef BASE_GLYPH_H
#define BASE_GLYPH_H

#include <stddef.h>
#include <stdint.h>

struct glyph {
    size_t size;       /* bytes taken from the text; 0 at its end */
    size_t shown_size; /* bytes of `shown` */
    size_t columns;    /* display columns of `shown`: 0, 1, 2, or those of an escape */
    char shown[16];    /* the character itself, \xNN or \u{NNNN} */
};

/* The first glyph of a NUL-terminated text. */
struct glyph glyph_next(const char *text);

/* The code point that starts `bytes`: gives how many bytes it takes, 0 when no well-formed UTF-8
 * sequence starts there (*point is then left alone). */
size_t glyph_decode(size_t length, const char *bytes, uint32_t *point);

#endif
