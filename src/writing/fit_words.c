#include "writing/fit_words.h"

#include "writing/words.h"

#include <math.h>
#include <string.h>

static const char *const small_numbers[] = {"no",   "one", "two",   "three", "four",
                                            "five", "six", "seven", "eight", "nine"};

static void add_seasons(size_t count, struct text *out)
{
    if (count < sizeof small_numbers / sizeof *small_numbers)
        text_addf(out, "%s season%s", small_numbers[count], count == 1 ? "" : "s");
    else
        text_addf(out, "%zu seasons", count);
}

const struct conetide_errors *fit_expected(const struct event_fit *fit)
{
    return fit->search.searched ? &fit->search.found.nested : &fit->search.found.left_out;
}

void fit_add_years(const struct event_fit *fit, struct text *out)
{
    int first = 0, last = 0;

    for (size_t s = 0; s < fit->season_count; s++) {
        if (fit->seasons[s].state != FIT_SEASON_USED)
            continue;
        first = first == 0 ? fit->seasons[s].season : first;
        last = fit->seasons[s].season;
    }
    text_addf(out, "%d", first);
    if (last != first)
        text_addf(out, "-%d", last);
}

const char *fit_title(const struct event_fit *fit, struct arena *arena)
{
    return arena_printf(arena, "%s at %s%s%s", event_names[fit->event], fit->site->name,
                        fit->species ? ", " : "", fit->species ? fit->species : "");
}

const char *fit_clock_name(const struct event_fit *fit, struct arena *arena)
{
    enum { NAME_MOST = 64 }; /* of a clock in program.json */
    const char *name;

    if (fit->search.clock.clock.name)
        return fit->search.clock.clock.name;
    name = arena_printf(arena, "%s-%s%s%s", fit->site->name, event_names[fit->event],
                        fit->species ? "-" : "", fit->species ? fit->species : "");
    return strlen(name) <= NAME_MOST ? name
                                     : arena_printf(arena, "fitted-%s", event_names[fit->event]);
}

static void add_degrees(double celsius, const struct page_run *run, struct text *out)
{
    text_addf(out, "%.1f", run->units_us ? celsius * 1.8 + 32 : celsius);
}

static const char *degree(const struct page_run *run)
{
    return run->units_us ? "deg F" : "deg C";
}

static void add_heat(double units_c, const struct page_run *run, struct text *out)
{
    text_addf(out, "%.1f", run->units_us ? units_c * 1.8 : units_c);
}

static void add_month_day(struct month_day month_day, struct text *out)
{
    text_addf(out, "%d %s", month_day.day, day_month_name(month_day.month));
}

static void add_clock(const struct event_fit *fit, const struct page_run *run, struct text *out)
{
    const struct fit_clock *clock = &fit->search.clock;

    text_addf(out, "  clock ");
    text_add_printable(out, fit_clock_name(fit, run->arena));
    text_addf(out, ": %s over ", clock->clock.rule.curve->name);
    add_degrees(clock->clock.rule.lower, run, out);
    text_addf(out, " %s from ", degree(run));
    add_month_day(clock->clock.start, out);
    text_add(out, "\n  requirement ");
    add_heat(fit->units_c, run, out);
    text_addf(out, " %s day", degree(run));
    if (clock->per_day_c < 0) {
        text_add(out, ", less ");
        add_heat(-clock->per_day_c, run, out);
        text_add(out, " for each day of the year");
    }
    text_add(out, "; a day about the event's brings ");
    add_heat(fit->heat_per_day_c, run, out);
    text_add(out, "\n");
}

static void add_valley(const struct event_fit *fit, const struct page_run *run, struct text *out)
{
    const struct fit_search *search = &fit->search;

    text_addf(out, "  about as good: ");
    words_add_count(out, search->found.valley_cells, "clock", "clocks");
    text_add(out, ", over ");
    add_degrees(search->lower_least_c, run, out);
    text_add(out, " to ");
    add_degrees(search->lower_most_c, run, out);
    text_addf(out, " %s, from ", degree(run));
    add_month_day(search->start_first, out);
    text_add(out, " to ");
    add_month_day(search->start_last, out);
    text_addf(out, ", curves %s", search->curve_first->name);
    if (search->curve_last != search->curve_first)
        text_addf(out, " to %s", search->curve_last->name);
    if (search->per_day_least_c < 0) {
        text_add(out, ", requirement falling by ");
        add_heat(fabs(search->per_day_most_c), run, out);
        text_add(out, " to ");
        add_heat(-search->per_day_least_c, run, out);
        text_add(out, " a day");
    }
    text_add(out, "\n");
}

static void add_errors(const char *what, const struct conetide_errors *errors, struct text *out)
{
    text_addf(out, "    %s: mean %.1f, root mean square %.1f, bias %+.1f, worst %.1f\n", what,
              errors->mae_days, errors->rmse_days,
              fabs(errors->bias_days) < 0.05 ? 0.0 : errors->bias_days, /* never -0.0 */
              errors->worst_days);
}

static void add_all_errors(const struct event_fit *fit, struct text *out)
{
    const struct conetide_requirement *found = &fit->search.found;

    text_add(out, "  errors in days, of seasons left out and told from the others:\n");
    if (fit->search.searched)
        add_errors("orchard, search repeated: expect this", &found->nested, out);
    add_errors("orchard, clock kept", &found->left_out, out);
    add_errors("orchard, calendar mean", &found->calendar, out);
    if (fit->grafts.dates == 0)
        return;
    add_errors("graft, threshold of its selection", &fit->grafts.selections, out);
    add_errors("graft, threshold of the site", &fit->grafts.general, out);
    add_errors("graft, calendar mean, lateness of its selection", &fit->grafts.calendar, out);
}

static void add_left_out(const struct event_fit *fit, struct text *out)
{
    static const struct {
        enum fit_season_state state;
        const char *why;
    } reasons[] = {
        {FIT_SEASON_UNDATED, "no look before and after it within 14 days of each other"},
        {FIT_SEASON_NO_WEATHER, "weather is missing between the clock's start and it"},
    };

    for (size_t r = 0; r < sizeof reasons / sizeof *reasons; r++) {
        bool any = false;

        for (size_t s = 0; s < fit->season_count; s++) {
            if (fit->seasons[s].state != reasons[r].state)
                continue;
            text_addf(out, "%s%d", any ? ", " : "left out: ", fit->seasons[s].season);
            any = true;
        }
        if (any)
            text_addf(out, ": %s\n", reasons[r].why);
    }
}

static void add_edges(const struct event_fit *fit, struct text *out)
{
    static const struct {
        unsigned edge;
        const char *what;
    } edges[] = {
        {CONETIDE_EDGE_LOWER_LEAST, "lower threshold is the lowest"},
        {CONETIDE_EDGE_LOWER_MOST, "lower threshold is the highest"},
        {CONETIDE_EDGE_START_FIRST, "start is the earliest"},
        {CONETIDE_EDGE_START_LAST, "start is the latest"},
        {CONETIDE_EDGE_DECLINE, "decline is the steepest"},
    };

    for (size_t i = 0; i < sizeof edges / sizeof *edges; i++)
        if (fit->search.found.edges & edges[i].edge)
            text_addf(out,
                      "the best %s that was searched: the truth may lie beyond, do not trust this "
                      "clock far from these seasons\n",
                      edges[i].what);
}

static void add_few(const struct event_fit *fit, struct text *out)
{
    if (fit->used >= FIT_SEASONS_LEAST && fit->used < FIT_SEASONS_MARKED) {
        add_seasons(fit->used, out);
        text_add(out, ": few, so the errors themselves are uncertain\n");
    }
    if (fit->used >= FIT_SEASONS_LEAST)
        return;
    add_seasons(fit->used, out);
    text_add(out, ": too few to choose a clock; fitted on the folder's clock ");
    text_add_printable(out, fit->search.clock.clock.name);
    if (!fit->judged)
        text_add(out, ", the error between seasons is assumed");
    text_add(out, "\n");
}

static void add_labels(const struct event_fit *fit, struct text *out)
{
    for (size_t i = 0; i < fit->label_count; i++) {
        const struct fit_label *label = &fit->labels[i];

        text_add(out, "check the label of ");
        text_add_printable(out, label->subject);
        text_addf(out, ": %.0f days %s than the others of ", fabs(label->days),
                  label->days > 0 ? "later" : "earlier");
        text_add_printable(out, label->selection->name);
        text_add(out, ", by ");
        words_add_count(out, label->sights, "date", "dates");
        text_addf(out, " against %zu\n", label->others);
    }
}

/* Curves that come near to the heat of hourly temperatures (docs/handbook.md). */
static bool follows_the_hours(const struct conetide_curve *curve)
{
    return curve == &conetide_sine || curve == &conetide_double_sine ||
           curve == &conetide_triangle || curve == &conetide_double_triangle;
}

void fit_add_warnings(const struct event_fit *fit, const struct page_run *run, struct text *out)
{
    (void)run;
    add_left_out(fit, out);
    if (!fit->fitted) {
        text_add(out, fit->used == 0 ? "no season can be used, so nothing is fitted\n"
                                     : "it came before heat was summed, so nothing is fitted\n");
        return;
    }
    add_few(fit, out);
    add_edges(fit, out);
    if (fit->judged && fit_expected(fit)->rmse_days >= fit->search.found.calendar.rmse_days)
        text_add(out, "no better than the calendar mean: keep the calendar\n");
    if (fit->search.searched && !follows_the_hours(fit->search.clock.clock.rule.curve))
        text_addf(out,
                  "%s does not follow the hours of a day: for thresholds that are to serve other "
                  "sites fit again with --curve sine\n",
                  fit->search.clock.clock.rule.curve->name);
    add_labels(fit, out);
}

void fit_add_report(const struct event_fit *fit, const struct page_run *run, struct text *out)
{
    struct text warnings;

    text_add(out, "\n");
    text_add_printable(out, fit_title(fit, run->arena));
    if (fit->fitted) {
        text_add(out, ": ");
        words_add_count(out, fit->used, "season", "seasons");
        text_add(out, ", ");
        fit_add_years(fit, out);
        text_add(out, ", ");
        words_add_count(out, fit->sights, "date", "dates");
    }
    text_add(out, "\n");
    if (fit->fitted)
        add_clock(fit, run, out);
    if (fit->fitted && fit->search.searched)
        add_valley(fit, run, out);
    if (fit->fitted && fit->judged)
        add_all_errors(fit, out);
    text_init(&warnings, run->arena);
    fit_add_warnings(fit, run, &warnings);
    for (const char *line = warnings.bytes; *line != '\0'; line += strcspn(line, "\n") + 1) {
        text_addf(out, "  caution: %.*s\n", (int)strcspn(line, "\n"), line);
    }
}

static void add_json_text(const char *value, struct text *out)
{
    text_add(out, "\"");
    for (; *value != '\0'; value++) {
        if (*value == '"' || *value == '\\')
            text_add(out, "\\");
        text_add_bytes(out, 1, value);
    }
    text_add(out, "\"");
}

void fit_add_clock_block(const struct event_fit *fit, struct arena *arena, struct text *out)
{
    const struct clock *clock = &fit->search.clock.clock;

    text_add(out, "  ");
    add_json_text(fit_clock_name(fit, arena), out);
    text_addf(out,
              ": {\"curve\": \"%s\", \"cutoff\": \"none\", \"lower_c\": %.0f, \"start\": "
              "\"%02d-%02d\", \"end_days\": %d}\n",
              clock->rule.curve->name, clock->rule.lower, clock->start.month, clock->start.day,
              clock->end_days);
}
