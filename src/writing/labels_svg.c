/*
 * labels_svg.c - one sheet of labels as SVG 1.1, in mm, with nothing from outside.
 *
 * Widths are reckoned with 0.61 of the type size a display column (DejaVu Sans Mono has 0.602,
 * Courier 0.6); what would be wider or higher than its label is set smaller, never cut.
 */
#include "writing/labels_page.h"
#include "writing/markup.h"

#include <string.h>

static const double label_width = 62, label_height = 32, margin = 3, em_a_column = 0.61;

/* Type of one piece of text. */
struct type {
    double x, y, size;
    bool bold;
};

static void add_text(struct text *out, struct type type, const char *value)
{
    text_addf(out, "<text x=\"%.2f\" y=\"%.2f\" font-size=\"%.2f\"%s xml:space=\"preserve\">",
              type.x, type.y, type.size, type.bold ? " font-weight=\"bold\"" : "");
    markup_add_escaped(out, value);
    text_add(out, "</text>\n");
}

static double size_that_fits(double most, size_t columns)
{
    double room = (label_width - 2 * margin) / (em_a_column * (double)(columns > 0 ? columns : 1));

    return room < most ? room : most;
}

static void add_rule(struct text *out, double from, double to, double y)
{
    text_addf(out,
              "<line x1=\"%.2f\" y1=\"%.2f\" x2=\"%.2f\" y2=\"%.2f\" stroke=\"#000\" "
              "stroke-width=\"0.2\"/>\n",
              from, y, to, y);
}

/* The lines under the tag: the largest type in which all of them fit, wrapped. */
static void add_lines(struct text *out, const struct label_lines *lines, double x, double y)
{
    static const double most = 3.6, least = 1, step = 0.2, room = 19.5, leading = 1.25;
    double size = most;
    struct text wrapped;

    for (;; size -= step) {
        size_t columns = (size_t)((label_width - 2 * margin) / (em_a_column * size)), count = 1;

        text_init(&wrapped, out->arena);
        for (size_t i = 0; i < LABEL_LINES; i++) {
            text_add(&wrapped, i > 0 ? "\n" : "");
            text_add_wrapped(&wrapped, columns, 0, lines->list[i]);
        }
        for (const char *at = wrapped.bytes; (at = strchr(at, '\n')) != NULL; at++)
            count++;
        if ((double)count * size * leading <= room || size - step < least)
            break;
    }
    char *at = wrapped.bytes;
    for (size_t i = 0; at != NULL; i++) {
        char *end = strchr(at, '\n');

        if (end != NULL)
            *end++ = '\0';
        y += size * leading;
        add_text(out, (struct type){x, y, size, i == 0 && !lines->blank}, at);
        if (lines->blank)
            add_rule(out, x + em_a_column * size * ((double)text_columns(at) + 1),
                     x + label_width - 2 * margin, y + 0.6);
        at = end;
    }
}

static void add_label(struct text *out, const struct label *label, double x, double y)
{
    struct label_lines lines = label_lines_of(label, out->arena);

    text_addf(out,
              "<rect x=\"%.2f\" y=\"%.2f\" width=\"%.0f\" height=\"%.0f\" fill=\"none\" "
              "stroke=\"#000\" stroke-width=\"0.2\"/>\n",
              x, y, label_width, label_height);
    add_text(out,
             (struct type){x + margin, y + 10, size_that_fits(9, text_columns(label->tag)), true},
             label->tag);
    add_lines(out, &lines, x + margin, y + 10.5);
}

void labels_write_svg(const struct labels *labels, size_t page, const struct label_paper *paper,
                      struct text *out)
{
    double left = (paper->width_mm - LABEL_COLUMNS * label_width) / 2;
    double top = (paper->height_mm - LABEL_ROWS * label_height) / 2;

    text_addf(out,
              "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
              "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%.1fmm\" "
              "height=\"%.1fmm\" viewBox=\"0 0 %.1f %.1f\" "
              "font-family=\"'DejaVu Sans Mono', monospace\" fill=\"#000\">\n"
              "<title>Labels, sheet %zu of %zu</title>\n"
              "<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>\n",
              paper->width_mm, paper->height_mm, paper->width_mm, paper->height_mm, page + 1,
              labels_pages(labels));
    for (size_t i = 0; i < LABELS_A_SHEET && page * LABELS_A_SHEET + i < labels->count; i++)
        add_label(out, &labels->list[page * LABELS_A_SHEET + i],
                  left + (double)(i % LABEL_COLUMNS) * label_width,
                  top + (double)(i / LABEL_COLUMNS) * label_height);
    text_add(out, "</svg>\n");
}
