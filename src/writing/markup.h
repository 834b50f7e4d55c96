/*
 * markup.h - text as HTML and SVG can take it.
 */
#ifndef WRITING_MARKUP_H
#define WRITING_MARKUP_H

#include "base/text.h"

/* `value`, made printable, then escaped: for text and for attributes in quotes.  NULL: "-". */
void markup_add_escaped(struct text *out, const char *value);

/* <name>value</name>, the value escaped. */
void markup_add_element(struct text *out, const char *name, const char *value);

#endif
