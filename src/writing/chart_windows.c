/* chart_windows.c - receptive days by selection, and the days of work on them. */
#include "writing/charts.h"
#include "writing/words.h"

enum { WIDTH = 1000, PLOT_LEFT = 200, PLOT_WIDTH = 770, ROW = 22, SITE_ROOM = 74, HEAD = 96 };

static void span_of(const struct selection_windows *windows, daynum as_of, struct plot *plot)
{
    plot->first = windows->list[0].earliest;
    plot->last = windows->list[0].latest;
    for (size_t i = 0; i < windows->count; i++) {
        const struct selection_window *window = &windows->list[i];

        plot->first = window->earliest < plot->first ? window->earliest : plot->first;
        plot->last = window->latest > plot->last ? window->latest : plot->last;
        for (size_t k = 0; k < window->work_count; k++) {
            daynum day = window->work[k].day;

            if (window->work[k].task == TASK_UNBAG)
                continue;
            plot->first = day < plot->first ? day : plot->first;
            plot->last = day > plot->last ? day : plot->last;
        }
    }
    if (as_of < plot->first && as_of > plot->first - 30)
        plot->first = as_of;
    plot->first -= 3;
    plot->last += 4;
}

/* Squares to bag, discs to pollinate, with how many bags beside. */
static void add_work(const struct plot *plot, const struct selection_window *window, double y,
                     struct text *out)
{
    for (size_t i = 0; i < window->work_count; i++) {
        const struct window_work *work = &window->work[i];
        double x = plot_x(plot, work->day);

        if (work->task == TASK_UNBAG)
            continue;
        if (work->task == TASK_BAG)
            svg_box(out, INK_OPEN, (struct point){x - 4, y - 4}, (struct svg_size){8, 8});
        else
            svg_disc(out, INK_ACCENT, (struct point){x, y}, 4.5);
        svg_label_small(out, (struct point){x, y - 6}, ANCHOR_MIDDLE,
                        arena_printf(out->arena, "%zu", work->bags));
    }
}

static void add_row(const struct plot *plot, const struct selection_window *window, double y,
                    struct text *out)
{
    double early = plot_x(plot, window->earliest), late = plot_x(plot, window->latest + 1);
    double first = plot_x(plot, window->first), last = plot_x(plot, window->last + 1);

    svg_label(out, (struct point){PLOT_LEFT - 8, y + 4}, ANCHOR_END,
              arena_printf(out->arena, "%s, %zu graft%s%s",
                           window->selection ? window->selection->name : "unknown", window->grafts,
                           window->grafts == 1 ? "" : "s",
                           window->basis == BASIS_FITTED_HERE ? "" : " *"));
    svg_box(out, INK_PALE, (struct point){early, y - 5}, (struct svg_size){late - early, 10});
    svg_box(out, INK_GREY, (struct point){first, y - 5}, (struct svg_size){last - first, 10});
    add_work(plot, window, y, out);
}

static void add_key(double y, struct text *out)
{
    svg_box(out, INK_GREY, (struct point){PLOT_LEFT, y - 8}, (struct svg_size){24, 10});
    svg_label(out, (struct point){PLOT_LEFT + 30, y}, ANCHOR_START, "receptive, 50 %");
    svg_box(out, INK_PALE, (struct point){PLOT_LEFT + 135, y - 8}, (struct svg_size){24, 10});
    svg_label(out, (struct point){PLOT_LEFT + 165, y}, ANCHOR_START, "its spread, 10 to 90 %");
    svg_box(out, INK_OPEN, (struct point){PLOT_LEFT + 312, y - 7}, (struct svg_size){8, 8});
    svg_label(out, (struct point){PLOT_LEFT + 326, y}, ANCHOR_START, "bags to hang");
    svg_disc(out, INK_ACCENT, (struct point){PLOT_LEFT + 420, y - 3}, 4.5);
    svg_label(out, (struct point){PLOT_LEFT + 430, y}, ANCHOR_START, "bags to pollinate");
    svg_label(out, (struct point){PLOT_LEFT + 550, y}, ANCHOR_START, "* dates not fitted here");
}

static double add_site(const struct selection_windows *windows, size_t first, size_t end,
                       struct plot plot, struct text *out)
{
    plot.height = (double)(end - first) * ROW + 8;
    svg_label_bold(
        out, (struct point){20, plot.top - 4}, ANCHOR_START,
        arena_printf(out->arena, "%s %d", windows->list[first].site->name, windows->season));
    plot_days(&plot, out);
    for (size_t i = first; i < end; i++)
        add_row(&plot, &windows->list[i], plot.top + (double)(i - first) * ROW + 15, out);
    return plot.top + plot.height + SITE_ROOM - 8;
}

static size_t sites_of(const struct selection_windows *windows)
{
    size_t sites = 0;

    for (size_t i = 0; i < windows->count; i++)
        if (i == 0 || windows->list[i].site != windows->list[i - 1].site)
            sites++;
    return sites;
}

void chart_write_windows(const struct selection_windows *windows, const struct page_run *run,
                         struct text *out)
{
    struct svg_size size = {WIDTH, HEAD + (double)windows->count * ROW +
                                       (double)sites_of(windows) * SITE_ROOM};
    struct plot plot = {.left = PLOT_LEFT, .width = PLOT_WIDTH, .top = HEAD, .low = 0, .high = 1};

    chart_begin(out, size, "Receptive days by selection", run);
    add_key(60, out);
    if (windows->count == 0)
        svg_label(out, (struct point){20, 84}, ANCHOR_START,
                  arena_printf(out->arena, "Nothing flowers in %d with a date.", windows->season));
    else
        span_of(windows, run->as_of, &plot);
    for (size_t first = 0, end; first < windows->count; first = end) {
        for (end = first + 1;
             end < windows->count && windows->list[end].site == windows->list[first].site;)
            end++;
        plot.top = add_site(windows, first, end, plot, out);
    }
    svg_end(out);
}
