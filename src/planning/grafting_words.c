#include "planning/grafting_words.h"

#include <math.h>
#include <stdbool.h>

static const char *const month_names[] = {"January",   "February", "March",    "April",
                                          "May",       "June",     "July",     "August",
                                          "September", "October",  "November", "December"};

void add_date_in_words(struct text *text, daynum day, int known_year)
{
    struct civil civil = day_to_civil(day);

    text_addf(text, "%d %s", civil.day, month_names[civil.month - 1]);
    if (civil.year != known_year)
        text_addf(text, " %d", civil.year);
}

/* " (between 6 and 23 February)": what the two dates share, and the year just read, is said once.
 */
static void add_range(struct text *text, daynum low, daynum high, int known_year)
{
    struct civil from = day_to_civil(low), to;

    if (low == high)
        return;
    if (high == DAY_NEVER) {
        text_add(text, " (not before ");
        add_date_in_words(text, low, known_year);
        text_add(text, ")");
        return;
    }
    to = day_to_civil(high);
    text_add(text, " (between ");
    if (from.year == to.year && from.month == to.month)
        text_addf(text, "%d", from.day);
    else
        add_date_in_words(text, low, from.year == to.year ? from.year : 0);
    text_add(text, " and ");
    add_date_in_words(text, high, from.year == to.year ? known_year : 0);
    text_add(text, ")");
}

static void add_likely(struct text *text, const char *what, const daynum dates[THREE_DATES],
                       int known_year)
{
    text_addf(text, "likely to %s about ", what);
    add_date_in_words(text, dates[1], known_year);
    add_range(text, dates[0], dates[2], day_year(dates[1]));
}

static void add_not_yet(struct text *text, const struct grafting_row *row)
{
    text_add(text, "not yet: ");
    if (row->opens[1] <= row->closes[1]) {
        add_likely(text, "open", row->opens, 0);
        return;
    }
    text_add(text, "heat enough is likely only about ");
    add_date_in_words(text, row->opens[1], 0);
    text_add(text, ", after the window closes about ");
    add_date_in_words(text, row->closes[1], day_year(row->opens[1]));
}

const char *grafting_state_words(const struct grafting_row *row, struct arena *arena)
{
    struct text text;

    text_init(&text, arena);
    switch (row->state) {
    case GRAFTING_NOT_YET:
        add_not_yet(&text, row);
        break;
    case GRAFTING_OPEN:
        text_add(&text, "open since about ");
        add_date_in_words(&text, row->opens[1], 0);
        text_add(&text, "; ");
        add_likely(&text, "close", row->closes, day_year(row->opens[1]));
        break;
    case GRAFTING_CLOSED:
        text_add(&text, "closed since about ");
        add_date_in_words(&text, row->closes[1], 0);
        break;
    case GRAFTING_NO_DATE:
        text_add(&text, "no date: most past years do not bring heat enough");
        break;
    }
    return text.bytes;
}

static void add_percent(struct text *text, double share)
{
    text_addf(text, "%ld %%", lround(100 * share));
}

/* ": 25 % and 80 % of the heat sum at the usual peak (own choice, no source)". */
static void add_shares(struct text *text, const struct grafting_window *window,
                       const struct program *program)
{
    bool opens = window->open.by_share, closes = window->close.by_share;

    if (!opens && !closes)
        return;
    text_add(text, opens && closes ? ": " : opens ? ": opens at " : ": closes at ");
    if (opens)
        add_percent(text, program->graft_open_share);
    if (opens && closes)
        text_add(text, " and ");
    if (closes)
        add_percent(text, program->graft_close_share);
    text_add(text, " of the heat sum at the usual peak (own choice, no source)");
}

static void add_short_date(struct text *text, daynum day)
{
    add_date_in_words(text, day, day_year(day));
}

const char *grafting_decided_words(const struct grafting_window *window,
                                   const struct program *program, struct arena *arena)
{
    const struct grafting_edge *open = &window->open, *close = &window->close;
    struct text text;

    text_init(&text, arena);
    text_add(&text, open->by_heat == close->by_heat ? "decided by " : "opening decided by ");
    if (open->by_heat) {
        text_add(&text, "heat");
    } else {
        text_add(&text, "the calendar of ");
        add_short_date(&text, open->calendar);
    }
    if (open->by_heat)
        add_shares(&text, window, program);
    if (open->by_heat != close->by_heat)
        text_add(&text, close->by_heat ? ", closing by heat" : ", closing by the calendar of ");
    else if (!close->by_heat)
        text_add(&text, " to ");
    if (!open->by_heat && close->by_heat)
        add_shares(&text, window, program);
    if (close->by_heat)
        text_add(&text, ", bounded by the calendar stop of ");
    add_short_date(&text, close->calendar);
    return text.bytes;
}
