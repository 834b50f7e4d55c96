/* chart_minutes.c - crew-hours planned against those that crews have, day by day. */
#include "writing/charts.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

enum { WIDTH = 1000, PLOT_LEFT = 70, PLOT_WIDTH = 890, PLOT_HEIGHT = 110, PANEL = 196, HEAD = 80 };

static double hours(int64_t minutes)
{
    return (double)minutes / 6000; /* of 1/100 minute */
}

/* Pages are sorted by day, then crew: the crews, in the order of their first page. */
static size_t crews_of(const struct worklist *list, const char **crews)
{
    size_t count = 0;

    for (size_t p = 0; p < list->page_count; p++) {
        size_t at = 0;

        while (at < count && strcmp(crews[at], list->pages[p].crew) != 0)
            at++;
        if (at == count)
            crews[count++] = list->pages[p].crew;
    }
    return count;
}

static void add_bar(const struct plot *plot, const struct work_page *page, struct text *out)
{
    double left = plot_x(plot, page->day), width = plot_x(plot, page->day + 1) - left;
    double given = plot_y(plot, hours(page->minutes_given)), bottom = plot_y(plot, 0);
    double planned = plot_y(plot, hours(page->minutes));

    width = fmax(1, width * 0.8);
    svg_box(out, INK_OPEN, (struct point){left, given}, (struct svg_size){width, bottom - given});
    svg_box(out, INK_FILL, (struct point){left, planned},
            (struct svg_size){width, bottom - planned});
    if (page->lift != NULL && page->lift_minutes < page->minutes_given) {
        double lift = plot_y(plot, hours(page->lift_minutes));

        svg_line(out, INK_LINE, (struct point){left, lift}, (struct point){left + width, lift});
    }
}

static void add_panel(const struct worklist *list, const char *crew, double top, struct text *out)
{
    struct plot plot = {.left = PLOT_LEFT,
                        .top = top + 32,
                        .width = PLOT_WIDTH,
                        .height = PLOT_HEIGHT,
                        .first = list->first_day,
                        .last = list->last_day + 1,
                        .low = 0,
                        .high = 1};
    int64_t planned = 0, given = 0;

    for (size_t p = 0; p < list->page_count; p++) {
        const struct work_page *page = &list->pages[p];

        if (strcmp(page->crew, crew) != 0)
            continue;
        plot.high = fmax(plot.high, fmax(hours(page->minutes_given), hours(page->minutes)));
        planned += page->minutes;
        given += page->minutes_given;
    }
    plot.high *= 1.08;
    svg_label_bold(out, (struct point){PLOT_LEFT, top + 10}, ANCHOR_START,
                   arena_printf(out->arena, "crew %s: %.0f h planned of %.0f h on days with work",
                                crew, hours(planned), hours(given)));
    plot_days(&plot, out);
    plot_amounts(&plot, 4, "crew-hours", out);
    for (size_t p = 0; p < list->page_count; p++)
        if (strcmp(list->pages[p].crew, crew) == 0)
            add_bar(&plot, &list->pages[p], out);
}

static void add_key(double y, struct text *out)
{
    svg_box(out, INK_FILL, (struct point){PLOT_LEFT, y - 9}, (struct svg_size){12, 10});
    svg_label(out, (struct point){PLOT_LEFT + 18, y}, ANCHOR_START, "planned, set-up in it");
    svg_box(out, INK_OPEN, (struct point){PLOT_LEFT + 160, y - 9}, (struct svg_size){12, 10});
    svg_label(out, (struct point){PLOT_LEFT + 178, y}, ANCHOR_START, "the crew has");
    svg_line(out, INK_LINE, (struct point){PLOT_LEFT + 270, y - 4},
             (struct point){PLOT_LEFT + 282, y - 4});
    svg_label(out, (struct point){PLOT_LEFT + 288, y}, ANCHOR_START, "its lift has, where less");
}

void chart_write_minutes(const struct worklist *list, const struct page_run *run, struct text *out)
{
    const char **crews = ARENA_ARRAY(out->arena, list->page_count, const char *);
    size_t count = crews_of(list, crews);
    struct svg_size size = {WIDTH, HEAD + PANEL * (double)(count > 0 ? count : 1)};

    chart_begin(out, size, "Crew-hours planned and available", run);
    add_key(58, out);
    if (count == 0)
        svg_label(out, (struct point){PLOT_LEFT, 90}, ANCHOR_START,
                  "No work of crews is planned in these days.");
    for (size_t i = 0; i < count; i++)
        add_panel(list, crews[i], HEAD + (double)i * PANEL, out);
    svg_end(out);
}
