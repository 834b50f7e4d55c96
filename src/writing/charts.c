/* charts.c - what all charts begin with. */
#include "writing/charts.h"

#include "writing/head.h"

#include <string.h>

void chart_begin(struct text *out, struct svg_size size, const char *what,
                 const struct page_run *run)
{
    struct text title;
    char *as_of;

    text_init(&title, out->arena);
    head_write_title(run, what, &title);
    as_of = strchr(title.bytes, '\n');
    if (as_of)
        *as_of++ = '\0';
    svg_begin(out, size, title.bytes, as_of ? as_of : "");
    svg_label_bold(out, (struct point){20, 20}, ANCHOR_START, title.bytes);
    if (as_of)
        svg_label(out, (struct point){20, 36}, ANCHOR_START, as_of);
}
