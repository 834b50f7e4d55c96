#include "orchard/words.h"
#include "writing/head.h"
#include "writing/replay_page.h"
#include "writing/words.h"

#include <math.h>
#include <stdlib.h>

/* With fewer seasons nothing, and with fewer a count in an interval, is judged (own choices). */
enum { JUDGED_LEAST = 5, COUNTED_LEAST = 10 };

/* Years one after another as one stretch: "1951-1955, 1958". */
static void add_seasons(const struct event_replay *replay, enum replay_season_state state,
                        struct text *out)
{
    bool any = false;

    for (size_t i = 0, end; i < replay->season_count; i = end) {
        const struct replay_season *from = &replay->seasons[i];

        end = i + 1;
        if (from->state != state)
            continue;
        while (end < replay->season_count && replay->seasons[end].state == state &&
               replay->seasons[end].season == replay->seasons[end - 1].season + 1)
            end++;
        text_addf(out, "%s%d", any ? ", " : "", from->season);
        if (end > i + 1)
            text_addf(out, "-%d", replay->seasons[end - 1].season);
        any = true;
    }
}

static size_t count_of(const struct event_replay *replay, enum replay_season_state state)
{
    size_t count = 0;

    for (size_t i = 0; i < replay->season_count; i++)
        count += replay->seasons[i].state == state;
    return count;
}

static void add_title(const struct event_replay *replay, struct text *out)
{
    text_add_printable(out, replay->site->name);
    if (replay->species) {
        text_add(out, " ");
        text_add_printable(out, replay->species);
    }
    text_addf(out, ", %s: ", event_names[replay->event]);
}

static void add_told_seasons(const struct event_replay *replay, const struct replay_asked *asked,
                             struct text *out)
{
    static const struct {
        enum replay_season_state state;
        const char *why;
    } reasons[] = {
        {REPLAY_UNDATED, "not dated by looks before and after, or without weather"},
        {REPLAY_FEW_SEASONS, "no season to be told from"},
        {REPLAY_FEW_MEMBERS, "too few past years of weather"},
    };
    size_t searched = 0;
    bool any = false;

    for (size_t i = 0; i < replay->season_count; i++)
        searched += replay->seasons[i].state == REPLAY_TOLD && replay->seasons[i].searched;
    add_title(replay, out);
    words_add_count(out, replay->told_seasons, "season", "seasons");
    text_add(out, " told");
    if (replay->told_seasons > 0) {
        text_add(out, " (");
        add_seasons(replay, REPLAY_TOLD, out);
        text_add(out, ")");
    }
    for (size_t i = 0; i < sizeof reasons / sizeof *reasons; i++) {
        if (count_of(replay, reasons[i].state) == 0)
            continue;
        text_add(out, any ? ", " : "; left aside ");
        any = true;
        add_seasons(replay, reasons[i].state, out);
        text_addf(out, " (%s)", reasons[i].why);
    }
    text_add(out, "\n");
    if (replay->told_seasons == 0)
        return;
    if (asked->wanted.clock) {
        text_add(out, "  by the clock ");
        text_add_printable(out, asked->wanted.clock->name);
    } else {
        text_add(out, "  by the folder's clock");
        if (searched > 0)
            text_addf(out, ", in %zu of them by one searched in the seasons told from", searched);
    }
    text_add(out, "\n");
}

void replay_add_head(const struct replay *replay, const struct replay_asked *asked,
                     const struct page_run *run, struct text *out)
{
    head_write_title(run, "Past seasons told again", out);
    text_add(out, asked->loyo ? "; from all other seasons, later ones too: for comparison, no "
                                "honest forecast\n"
                              : "; from earlier seasons and their weather alone, and what was "
                                "observed by the day of telling\n");
    text_add(out, "Cells of the folder that carry no date are taken as they are today\n");
    if (replay->unknown > 0) {
        words_add_count(out, replay->unknown, "graft or tree is", "grafts and trees are");
        text_add(out, " of unknown identity and left out\n");
    }
    for (size_t i = 0; i < replay->count; i++)
        add_told_seasons(&replay->list[i], asked, out);
    if (replay->count == 0)
        text_addf(out,
                  "Nothing dates the event %s in any past season: note stages at every look, "
                  "also while nothing has come yet, or give --dates\n",
                  event_names[asked->event]);
}

/* The line of those told whose lead is nearest to a week; the last when told on days of the year.
 */
static const struct replay_line *near_line(const struct event_replay *replay,
                                           const struct replay_asked *asked)
{
    const struct replay_line *near = NULL;

    for (size_t i = 0; i < asked->issue_count; i++) {
        const struct replay_line *line = &replay->lines[i];

        if (line->seasons == 0)
            continue;
        if (!near || line->issue.on.month > 0 ||
            abs(line->issue.lead_days - 7) < abs(near->issue.lead_days - 7))
            near = line;
    }
    return near;
}

static void add_when(const struct replay_issue *issue, struct text *out)
{
    if (issue->on.month > 0)
        text_addf(out, "on %d %s", issue->on.day, day_month_name(issue->on.month));
    else
        text_addf(out, "%d days before", issue->lead_days);
}

static void add_error(const struct replay_line *line, struct text *out)
{
    add_when(&line->issue, out);
    text_addf(out, " the date was %.1f days off on average, the mean of past dates %.1f",
              line->mae_days, line->past_mae_days);
    if (fabs(line->bias_days) >= 0.5)
        text_addf(out, "; it was told %.1f days too %s", fabs(line->bias_days),
                  line->bias_days > 0 ? "late" : "early");
    text_add(out, ". ");
}

static void add_interval(const struct replay_line *line, struct text *out)
{
    double held = (double)line->inside / (double)line->seasons;

    text_addf(out,
              "The 80 %% interval, %.1f days wide where past dates have %.1f, held %zu of %zu: ",
              line->width_days, line->past_width_days, line->inside, line->seasons);
    if (line->seasons < COUNTED_LEAST)
        text_add(out, "too few seasons to judge it by. ");
    else if (line->inside_p >= 0.05)
        text_add(out, "it can be trusted. ");
    else
        text_addf(out, "it is too %s. ", held < 0.8 ? "narrow" : "wide");
}

/* From when on the score stays better than that of past dates. */
static void add_skill(const struct event_replay *replay, const struct replay_asked *asked,
                      struct text *out)
{
    const struct replay_line *since = NULL;

    for (size_t i = asked->issue_count; i-- > 0;) {
        if (replay->lines[i].seasons == 0 || !(replay->lines[i].skill > 0))
            break;
        since = &replay->lines[i];
    }
    if (!since) {
        text_add(out, "It tells no more than past dates do. ");
        return;
    }
    text_add(out, "It tells more than past dates do ");
    add_when(&since->issue, out);
    text_add(out, since == &replay->lines[asked->issue_count - 1] ? ". " : " and later. ");
}

static void add_unmoved(const struct replay_line *line, struct text *out)
{
    double gain = 1 - line->score_days / line->unmoved_score_days;

    if (fabs(gain) >= 0.005)
        text_addf(out, "Moving past years by the warming %s %.0f %% of the score. ",
                  gain > 0 ? "gained" : "lost", 100 * fabs(gain));
}

static void add_hits(const struct replay_line *line, struct text *out)
{
    double plans = (double)line->planned.plans;

    if (line->planned.plans == 0)
        return;
    text_addf(out,
              "Of %zu plans of two visits %.0f %% met receptive strobili, by the mean date of past "
              "seasons %.0f %%, by the true date of the orchard %.0f %%. ",
              line->planned.plans, 100 * (double)line->planned.seen / plans,
              100 * (double)line->calendar.seen / plans, 100 * (double)line->perfect.seen / plans);
}

void replay_add_verdict(const struct event_replay *replay, const struct replay_asked *asked,
                        struct text *out)
{
    const struct replay_line *line = near_line(replay, asked);

    add_title(replay, out);
    if (!line) {
        text_add(out, "nothing could be told\n");
        return;
    }
    add_error(line, out);
    if (line->seasons < JUDGED_LEAST) {
        words_add_count(out, line->seasons, "season is", "seasons are");
        text_add(out, " too few to judge more by. ");
    } else {
        add_interval(line, out);
        add_skill(replay, asked, out);
        add_unmoved(line, out);
    }
    add_hits(line, out);
    text_add(out, "\n");
}
