/*
 * svg.h - pictures as SVG 1.1: plots over days, drawn in black, greys and two colours that differ
 * in lightness too, with words beside what they name.
 *
 * Nothing in a picture is told by colour alone.
 */
#ifndef WRITING_SVG_H
#define WRITING_SVG_H

#include "base/day.h"
#include "base/text.h"

/* How a shape is drawn: the class of its style. */
enum ink {
    INK_FRAME,  /* thin grey line */
    INK_LINE,   /* black line */
    INK_DASHED, /* grey dashes */
    INK_PALE,   /* pale grey surface, no line */
    INK_GREY,   /* darker grey surface, no line */
    INK_FILL,   /* blue surface: dark in grey */
    INK_ACCENT, /* orange surface with a black line: light in grey */
    INK_OPEN,   /* white surface with a black line */
    INKS
};

/* Where a text stands at its point. */
enum anchor { ANCHOR_START, ANCHOR_MIDDLE, ANCHOR_END };

#define SVG_LINE_HEIGHT 14.0 /* of labels */

struct svg_size {
    double width, height;
};

/* One picture with its own style; `title` and `description` are read out to who cannot see it. */
void svg_begin(struct text *out, struct svg_size size, const char *title, const char *description);
void svg_end(struct text *out);

struct point {
    double x, y;
};

void svg_line(struct text *out, enum ink ink, struct point from, struct point to);
/* A rectangle from its upper left corner. */
void svg_box(struct text *out, enum ink ink, struct point at, struct svg_size size);
void svg_disc(struct text *out, enum ink ink, struct point at, double radius);
void svg_cross(struct text *out, struct point at, double reach);

/* A line through points; a NaN breaks it. */
void svg_path(struct text *out, enum ink ink, size_t count, const struct point *points);
/* A surface around points. */
void svg_surface(struct text *out, enum ink ink, size_t count, const struct point *points);

/* `value` is made printable and escaped. */
void svg_label(struct text *out, struct point at, enum anchor anchor, const char *value);
void svg_label_bold(struct text *out, struct point at, enum anchor anchor, const char *value);
void svg_label_small(struct text *out, struct point at, enum anchor anchor, const char *value);

/* A rough width of a label, from its display columns. */
double svg_label_width(const char *value);

/* A field of days across and amounts up. */
struct plot {
    double left, top, width, height;
    daynum first, last; /* of the days across, first < last */
    double low, high;   /* of the amounts up, low < high */
};

double plot_x(const struct plot *plot, double day);
double plot_y(const struct plot *plot, double amount);

/* Frame, and under it a tick each first of a month (or each Monday of less than ten weeks) with its
 * date; the year stands with the first and with January. */
void plot_days(const struct plot *plot, struct text *out);

/* Ticks up the left side at round amounts, about `wanted` of them, and what they are. */
void plot_amounts(const struct plot *plot, int wanted, const char *what, struct text *out);

/* A line across the field at a day, with a word on top. */
void plot_mark_day(const struct plot *plot, daynum day, const char *word, struct text *out);

/* Heights of labels, ascending, moved down where they would cover one another, and up from `most`
 * where that would push them out: all at least `apart` from the next. */
void labels_apart(size_t count, double *heights, double apart, double most);

#endif
