#include "writing/markup.h"

void markup_add_escaped(struct text *out, const char *value)
{
    struct text printable;

    text_init(&printable, out->arena);
    text_add_printable(&printable, value ? value : "-");
    for (const char *at = printable.bytes; *at; at++) {
        switch (*at) {
        case '&':
            text_add(out, "&amp;");
            break;
        case '<':
            text_add(out, "&lt;");
            break;
        case '>':
            text_add(out, "&gt;");
            break;
        case '"':
            text_add(out, "&quot;");
            break;
        case '\'':
            text_add(out, "&#39;");
            break;
        default:
            text_add_bytes(out, 1, at);
        }
    }
}

void markup_add_element(struct text *out, const char *name, const char *value)
{
    text_addf(out, "<%s>", name);
    markup_add_escaped(out, value);
    text_addf(out, "</%s>", name);
}
