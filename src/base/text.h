/*
 * text.h - building text, and making foreign text harmless.
 */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include "base/arena.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/* A growing NUL-terminated text; `bytes` is never NULL after text_init. */
struct text {
    struct arena *arena;
    char *bytes;
    size_t length, capacity;
};

void text_init(struct text *text, struct arena *arena);
void text_clear(struct text *text);
void text_add(struct text *text, const char *more);
void text_add_bytes(struct text *text, size_t length, const char *bytes);
void text_addf(struct text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
void text_addv(struct text *text, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));
void text_add_repeat(struct text *text, size_t count, char byte);

/* `value`, made printable, cut or padded with blanks to exactly `columns` display columns; a cut
 * ends in '~'. */
void text_add_left(struct text *text, size_t columns, const char *value);
void text_add_right(struct text *text, size_t columns, const char *value);

/* `value`, made printable, in at most `columns` display columns, not padded; a cut ends in '…'. */
void text_add_cut(struct text *text, size_t columns, const char *value);

/* Display columns of UTF-8 text as text_add_printable shows it: one a code point, two for East
 * Asian wide ones, none for combining marks. */
size_t text_columns(const char *text);

/* Is this well-formed UTF-8 (no overlong forms, no surrogates)?  *bad: offset of the first fault.
 */
bool text_is_utf8(size_t length, const char *text, size_t *bad);

/* Add `value` as a terminal or a printer can take it for plain text: control characters and bytes
 * that are not UTF-8 as \xNN; C1 controls, line separators, and what hides or reorders its
 * neighbours as \u{NNNN}.  A second pass changes nothing. */
void text_add_printable(struct text *text, const char *value);

/* Equal but for ASCII case, blanks and hyphens, underscores and leading zeros of digit runs: what
 * a spreadsheet or a hurried hand makes of one identifier.  Adds the folded form to `text`; what
 * parted two digits stays as one hyphen there, for 1-11 is not 11-1. */
void text_add_folded(struct text *text, const char *identifier);

/* The nearest of `count` words to `word` (edit distance at most 2, of words under five bytes at
 * most 1, and less than its length, ASCII case apart; the first of equally near ones), or NULL. */
const char *text_nearest(const char *word, size_t count, const char *const *words);

/* `value`, made printable, in lines of at most `columns` display columns, broken at blanks (and
 * within a word only when no line could hold it); `indent` blanks before each but the first, which
 * goes on where `text` stands.  No line end after the last.  columns >= indent + 2. */
void text_add_wrapped(struct text *text, size_t columns, size_t indent, const char *value);

#endif
