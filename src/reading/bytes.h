/*
 * bytes.h - what the bytes of a line or a cell may be.
 */
#ifndef READING_BYTES_H
#define READING_BYTES_H

#include <stdbool.h>
#include <stddef.h>

/* Are all bytes printable ASCII or tabs?  Quick: this is asked of lines. */
bool bytes_are_plain(size_t length, const char *text);

/* The first control character (C0 but tab and line feed, DEL, C1) of well-formed UTF-8: its offset,
 * or `length`. */
size_t bytes_find_control(size_t length, const char *text);

/* Does this name hold blanks that are not U+0020, or marks that show nothing?  Two names would look
 * the same. */
bool bytes_hold_invisible(const char *name);

#endif
