/* svg.c - the few shapes that charts are made of, and the field they stand in. */
#include "writing/svg.h"

#include "writing/markup.h"

#include <math.h>

static const char *const ink_classes[INKS] = {
    [INK_FRAME] = "frame", [INK_LINE] = "line", [INK_DASHED] = "dashed", [INK_PALE] = "pale",
    [INK_GREY] = "grey",   [INK_FILL] = "fill", [INK_ACCENT] = "accent", [INK_OPEN] = "open",
};

/* Blue and orange of Okabe & Ito's palette (from memory), told apart by the colour-blind. */
static const char style[] =
    "text{font:11px "
    "sans-serif;fill:#000}.bold{font-weight:bold;font-size:13px}.small{font-size:9px}"
    ".frame{fill:none;stroke:#888;stroke-width:.7}.line{fill:none;stroke:#000;stroke-width:1.6}"
    ".dashed{fill:none;stroke:#555;stroke-width:1;stroke-dasharray:5 3}"
    ".pale{fill:#ddd;stroke:none}.grey{fill:#aaa;stroke:none}.fill{fill:#0072b2;stroke:none}"
    ".accent{fill:#e69f00;stroke:#000;stroke-width:.8}"
    ".open{fill:#fff;stroke:#000;stroke-width:.9}";

void svg_begin(struct text *out, struct svg_size size, const char *title, const char *description)
{
    text_addf(out,
              "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%.0f\" "
              "height=\"%.0f\" viewBox=\"0 0 %.0f %.0f\" role=\"img\">\n",
              size.width, size.height, size.width, size.height);
    markup_add_element(out, "title", title);
    markup_add_element(out, "desc", description);
    text_addf(out, "\n<style>%s</style>\n", style);
    text_addf(out, "<rect width=\"%.0f\" height=\"%.0f\" fill=\"#fff\"/>\n", size.width,
              size.height);
}

void svg_end(struct text *out)
{
    text_add(out, "</svg>\n");
}

void svg_line(struct text *out, enum ink ink, struct point from, struct point to)
{
    text_addf(out, "<line class=\"%s\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>\n",
              ink_classes[ink], from.x, from.y, to.x, to.y);
}

void svg_box(struct text *out, enum ink ink, struct point at, struct svg_size size)
{
    text_addf(out, "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"/>\n",
              ink_classes[ink], at.x, at.y, size.width, size.height);
}

void svg_disc(struct text *out, enum ink ink, struct point at, double radius)
{
    text_addf(out, "<circle class=\"%s\" cx=\"%.1f\" cy=\"%.1f\" r=\"%.1f\"/>\n", ink_classes[ink],
              at.x, at.y, radius);
}

void svg_cross(struct text *out, struct point at, double reach)
{
    svg_line(out, INK_LINE, (struct point){at.x - reach, at.y - reach},
             (struct point){at.x + reach, at.y + reach});
    svg_line(out, INK_LINE, (struct point){at.x - reach, at.y + reach},
             (struct point){at.x + reach, at.y - reach});
}

void svg_path(struct text *out, enum ink ink, size_t count, const struct point *points)
{
    bool drawing = false;

    text_addf(out, "<path class=\"%s\" d=\"", ink_classes[ink]);
    for (size_t i = 0; i < count; i++) {
        bool known = isfinite(points[i].x) && isfinite(points[i].y);

        if (known)
            text_addf(out, "%s%.1f %.1f", drawing ? "L" : "M", points[i].x, points[i].y);
        drawing = known;
    }
    text_add(out, "\"/>\n");
}

void svg_surface(struct text *out, enum ink ink, size_t count, const struct point *points)
{
    text_addf(out, "<polygon class=\"%s\" points=\"", ink_classes[ink]);
    for (size_t i = 0; i < count; i++)
        text_addf(out, "%s%.1f,%.1f", i > 0 ? " " : "", points[i].x, points[i].y);
    text_add(out, "\"/>\n");
}

static void add_label(struct text *out, struct point at, enum anchor anchor, const char *class_word,
                      const char *value)
{
    static const char *const anchors[] = {
        [ANCHOR_START] = "start", [ANCHOR_MIDDLE] = "middle", [ANCHOR_END] = "end"};

    text_addf(out, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\"", at.x, at.y, anchors[anchor]);
    if (class_word)
        text_addf(out, " class=\"%s\"", class_word);
    text_add(out, ">");
    markup_add_escaped(out, value);
    text_add(out, "</text>\n");
}

void svg_label(struct text *out, struct point at, enum anchor anchor, const char *value)
{
    add_label(out, at, anchor, NULL, value);
}

void svg_label_bold(struct text *out, struct point at, enum anchor anchor, const char *value)
{
    add_label(out, at, anchor, "bold", value);
}

void svg_label_small(struct text *out, struct point at, enum anchor anchor, const char *value)
{
    add_label(out, at, anchor, "small", value);
}

double svg_label_width(const char *value)
{
    return 6.2 * (double)text_columns(value); /* a little more than the mean of 11 px sans-serif */
}

double plot_x(const struct plot *plot, double day)
{
    return plot->left + plot->width * (day - plot->first) / (plot->last - plot->first);
}

double plot_y(const struct plot *plot, double amount)
{
    return plot->top + plot->height -
           plot->height * (amount - plot->low) / (plot->high - plot->low);
}

static void add_day_tick(const struct plot *plot, daynum day, bool with_year, struct text *out)
{
    struct civil civil = day_to_civil(day);
    double x = plot_x(plot, day), bottom = plot->top + plot->height;
    const char *word = arena_printf(out->arena, "%d %.3s", civil.day, day_month_name(civil.month));

    svg_line(out, INK_FRAME, (struct point){x, plot->top}, (struct point){x, bottom + 4});
    svg_label(out, (struct point){x + 2, bottom + 14}, ANCHOR_START, word);
    if (with_year)
        svg_label_small(out, (struct point){x + 2, bottom + 25}, ANCHOR_START,
                        arena_printf(out->arena, "%d", civil.year));
}

void plot_days(const struct plot *plot, struct text *out)
{
    enum { WEEKS_SHOWN = 70, MONTHS_EACH = 430 };
    daynum span = plot->last - plot->first;
    bool first = true;

    svg_box(out, INK_FRAME, (struct point){plot->left, plot->top},
            (struct svg_size){plot->width, plot->height});
    for (daynum day = plot->first; day <= plot->last; day++) {
        struct civil civil = day_to_civil(day);
        bool tick = span < WEEKS_SHOWN ? day_weekday(day) == 1
                                       : civil.day == 1 && (span < MONTHS_EACH || civil.month == 1);

        if (!tick || plot_x(plot, day) > plot->left + plot->width - 4)
            continue;
        add_day_tick(plot, day, first || (civil.month == 1 && civil.day <= 7), out);
        first = false;
    }
}

/* 1, 2 or 5 times a power of ten. */
static double round_step(double span, int wanted)
{
    double rough = span / wanted, power = pow(10, floor(log10(rough))), share = rough / power;

    return power * (share < 1.5 ? 1 : share < 3.5 ? 2 : share < 7.5 ? 5 : 10);
}

void plot_amounts(const struct plot *plot, int wanted, const char *what, struct text *out)
{
    double step = round_step(plot->high - plot->low, wanted);

    for (double amount = ceil(plot->low / step) * step; amount <= plot->high + step * 1e-9;
         amount += step) {
        double y = plot_y(plot, amount);

        svg_line(out, INK_FRAME, (struct point){plot->left - 4, y},
                 (struct point){plot->left + plot->width, y});
        svg_label(out, (struct point){plot->left - 6, y + 4}, ANCHOR_END,
                  arena_printf(out->arena, "%g", amount));
    }
    svg_label(out, (struct point){plot->left - 40, plot->top - 6}, ANCHOR_START, what);
}

void plot_mark_day(const struct plot *plot, daynum day, const char *word, struct text *out)
{
    double x = plot_x(plot, day);

    if (day < plot->first || day > plot->last)
        return;
    svg_line(out, INK_DASHED, (struct point){x, plot->top},
             (struct point){x, plot->top + plot->height});
    svg_label(out, (struct point){x, plot->top - 4}, ANCHOR_MIDDLE, word);
}

void labels_apart(size_t count, double *heights, double apart, double most)
{
    for (size_t i = 1; i < count; i++)
        heights[i] = fmax(heights[i], heights[i - 1] + apart);
    if (count > 0)
        heights[count - 1] = fmin(heights[count - 1], most);
    for (size_t i = count; i-- > 1;)
        heights[i - 1] = fmin(heights[i - 1], heights[i] - apart);
}
