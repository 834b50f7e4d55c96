/*
 * labels_html.c - sheets of labels as one file without outside parts, well-formed as XML too.  The
 * margins leave the same 24 labels on A4 and on Letter.
 */
#include "writing/labels_page.h"
#include "writing/markup.h"

static const char style[] =
    "@page{margin:10mm}\n"
    "body{margin:0;font:9.5pt/1.15 sans-serif;color:#000;background:#fff}\n"
    "section{width:186mm;margin:0 auto;display:grid;grid-template-columns:repeat(3,62mm);"
    "grid-auto-rows:minmax(32mm,auto);break-after:page}\n"
    "section:last-of-type{break-after:auto}\n"
    ".label{box-sizing:border-box;border:.2mm solid #000;padding:1mm 3mm;break-inside:avoid;"
    "overflow-wrap:anywhere}\n"
    ".tag{font:bold 20pt/1.1 'DejaVu Sans Mono',monospace}.long{font-size:11pt}\n"
    ".selection{font-weight:bold;font-size:11pt}\n"
    ".blank{display:flex;line-height:1.5}.blank i{flex:1;border-bottom:.2mm solid #000;"
    "margin-left:1mm}\n"
    "@media screen{section{margin:10mm auto}}\n";

enum { LARGE_COLUMNS = 11 }; /* of the tag's type in a label */

static void add_line(struct text *out, const struct label_lines *lines, size_t line)
{
    text_addf(out, "<div%s>",
              lines->blank ? " class=\"blank\""
              : line == 0  ? " class=\"selection\""
                           : "");
    markup_add_escaped(out, lines->list[line]);
    text_add(out, lines->blank ? "<i></i></div>\n" : "</div>\n");
}

static void add_label(struct text *out, const struct label *label)
{
    struct label_lines lines = label_lines_of(label, out->arena);

    text_addf(out, "<div class=\"label\"><div class=\"tag%s\">",
              text_columns(label->tag) > LARGE_COLUMNS ? " long" : "");
    markup_add_escaped(out, label->tag);
    text_add(out, "</div>\n");
    for (size_t line = 0; line < LABEL_LINES; line++)
        add_line(out, &lines, line);
    text_add(out, "</div>\n");
}

void labels_write_html(const struct labels *labels, const struct page_run *run, struct text *out)
{
    text_add(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
                  "<meta name=\"viewport\" content=\"width=device-width\"/>\n<title>Labels");
    if (run->orchard->program.name != NULL) {
        text_add(out, ", ");
        markup_add_escaped(out, run->orchard->program.name);
    }
    text_add(out, "</title>\n<style>\n");
    text_add(out, style);
    text_add(out, "</style>\n</head>\n<body>\n");
    if (labels->count == 0)
        text_add(out, "<p>No labels.</p>\n");
    for (size_t i = 0; i < labels->count; i++) {
        if (i % LABELS_A_SHEET == 0)
            text_add(out, i > 0 ? "</section>\n<section>\n" : "<section>\n");
        add_label(out, &labels->list[i]);
    }
    text_add(out, labels->count > 0 ? "</section>\n</body>\n</html>\n" : "</body>\n</html>\n");
}
