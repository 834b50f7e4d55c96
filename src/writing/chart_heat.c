/* chart_heat.c - this season's heat sum against what it has to reach. */
#include "writing/charts.h"
#include "writing/head.h"
#include "writing/svg.h"
#include "writing/words.h"

#include <math.h>

enum { WIDTH = 900, PANEL = 330, PLOT_LEFT = 60, PLOT_WIDTH = 560, PLOT_HEIGHT = 235 };

static double as_shown(double units_c, const struct page_run *run)
{
    return run->units_us ? 1.8 * units_c : units_c;
}

static double highest(const struct heat_fan *fan, const struct page_run *run)
{
    double most = 10;

    for (size_t d = 0; d < fan->days; d++) {
        most = isfinite(fan->high[d]) ? fmax(most, fan->high[d]) : most;
        most = isfinite(fan->usual[d]) ? fmax(most, fan->usual[d]) : most;
    }
    return 1.05 * as_shown(most, run);
}

/* Point of day index d at `amount` (deg C day). */
static struct point point_of(const struct plot *plot, const struct heat_fan *fan, size_t d,
                             double amount, const struct page_run *run)
{
    return (struct point){plot_x(plot, fan->first_day + (daynum)d),
                          plot_y(plot, as_shown(amount, run))};
}

static void add_fan(const struct plot *plot, const struct heat_fan *fan, const struct page_run *run,
                    struct text *out)
{
    struct point *points = ARENA_ARRAY(out->arena, 2 * fan->days, struct point);
    size_t from = fan->known > 0 ? fan->known - 1 : 0, count = fan->days - from;

    for (size_t d = from; d < fan->days; d++) {
        points[d - from] = point_of(plot, fan, d, fan->high[d], run);
        points[2 * count - 1 - (d - from)] = point_of(plot, fan, d, fan->low[d], run);
    }
    if (count > 1)
        svg_surface(out, INK_PALE, 2 * count, points);
    for (size_t d = 0; d < fan->days; d++)
        points[d] = point_of(plot, fan, d, fan->usual[d], run);
    svg_path(out, INK_DASHED, fan->days, points);
    for (size_t d = 0; d < fan->days; d++)
        points[d] = point_of(plot, fan, d, fan->middle[d], run);
    svg_path(out, INK_LINE, fan->known, points);
    if (count > 1)
        svg_path(out, INK_FRAME, count, points + from);
}

/* The requirement on a day, which may decline with it. */
static double need_on(const struct heat_line *line, const struct heat_fan *fan,
                      const struct page_run *run, daynum day)
{
    struct season_rule rule = orchard_season_rule(run->orchard, fan->site);
    daynum new_year = day_from_civil(fan->season, rule.northern ? 1 : 7, 1);

    return line->threshold->heat_units_c + line->threshold->per_day_c * (day - new_year + 1);
}

static const char *line_words(const struct heat_line *line, const struct page_run *run)
{
    struct text words;

    text_init(&words, run->arena);
    text_addf(&words, "%s, %.0f: ", line->selections, as_shown(line->threshold->heat_units_c, run));
    words_add_day_short(&words, line->middle);
    text_add(&words, " (");
    words_add_range(&words, line->early, line->late);
    text_add(&words, ")");
    return words.bytes;
}

/* Requirements, each named at the right; what lies outside the field is left out of it. */
static void add_lines(const struct plot *plot, const struct heat_fan *fan,
                      const struct page_run *run, struct text *out)
{
    double *heights = ARENA_ARRAY(out->arena, fan->line_count, double);
    const struct heat_line **shown =
        ARENA_ARRAY(out->arena, fan->line_count, const struct heat_line *);
    double right = plot->left + plot->width;
    size_t count = 0;

    for (size_t i = fan->line_count; i-- > 0;) { /* highest first: ascending on paper */
        const struct heat_line *line = &fan->lines[i];
        double from = as_shown(need_on(line, fan, run, plot->first), run);
        double to = as_shown(need_on(line, fan, run, plot->last), run);

        if (to < plot->low || to > plot->high || from > plot->high)
            continue;
        svg_line(out, INK_FRAME, (struct point){plot->left, plot_y(plot, from)},
                 (struct point){right, plot_y(plot, to)});
        if (line->middle != DAY_NEVER && line->middle <= plot->last)
            svg_disc(
                out, INK_OPEN,
                (struct point){plot_x(plot, line->middle),
                               plot_y(plot, as_shown(need_on(line, fan, run, line->middle), run))},
                3);
        shown[count] = line;
        heights[count++] = plot_y(plot, to);
    }
    labels_apart(count, heights, SVG_LINE_HEIGHT, plot->top + plot->height + 20);
    for (size_t i = 0; i < count; i++)
        svg_label(out, (struct point){right + 8, heights[i] + 4}, ANCHOR_START,
                  line_words(shown[i], run));
}

static void add_key(const struct plot *plot, const struct heat_fan *fan, struct text *out)
{
    double y = plot->top + 14, x = plot->left + 10;

    svg_line(out, INK_LINE, (struct point){x, y - 4}, (struct point){x + 24, y - 4});
    svg_label(out, (struct point){x + 30, y}, ANCHOR_START, "known");
    svg_box(out, INK_PALE, (struct point){x, y + 6}, (struct svg_size){24, 9});
    svg_label(out, (struct point){x + 30, y + 14}, ANCHOR_START,
              arena_printf(out->arena, "80 %% of %zu past years used as futures", fan->members));
    svg_line(out, INK_DASHED, (struct point){x, y + 24}, (struct point){x + 24, y + 24});
    svg_label(out, (struct point){x + 30, y + 28}, ANCHOR_START, "their mean");
    svg_disc(out, INK_OPEN, (struct point){x + 12, y + 38}, 3);
    svg_label(out, (struct point){x + 30, y + 42}, ANCHOR_START,
              "met, 50 % (10-90 %), by weather alone");
}

static void add_panel(const struct heat_fan *fan, double top, const struct page_run *run,
                      struct text *out)
{
    struct plot plot = {.left = PLOT_LEFT,
                        .top = top + 44,
                        .width = PLOT_WIDTH,
                        .height = PLOT_HEIGHT,
                        .first = fan->first_day,
                        .last = fan->first_day + (daynum)fan->days - 1,
                        .low = 0,
                        .high = highest(fan, run)};

    svg_label_bold(out, (struct point){PLOT_LEFT, top + 16}, ANCHOR_START,
                   arena_printf(out->arena, "%s, season %d: heat sum by clock %s", fan->site->name,
                                fan->season, fan->clock->name));
    if (fan->days < 2)
        return;
    plot_days(&plot, out);
    plot_amounts(&plot, 5, run->units_us ? "degree-days F" : "degree-days C", out);
    add_fan(&plot, fan, run, out);
    add_lines(&plot, fan, run, out);
    add_key(&plot, fan, out);
    if (fan->as_of > plot.first && fan->as_of < plot.last)
        plot_mark_day(&plot, fan->as_of, "as of", out);
}

void chart_write_heat(const struct heat_fans *fans, const struct page_run *run, struct text *out)
{
    struct svg_size size = {WIDTH, 60 + PANEL * (double)(fans->count > 0 ? fans->count : 1)};

    chart_begin(out, size, "Heat sum against requirements", run);
    if (fans->count == 0)
        svg_label(out, (struct point){PLOT_LEFT, 80}, ANCHOR_START,
                  "No date of this season rests on a heat sum with enough past years.");
    for (size_t i = 0; i < fans->count; i++)
        add_panel(&fans->list[i], 50 + (double)i * PANEL, run, out);
    svg_end(out);
}
