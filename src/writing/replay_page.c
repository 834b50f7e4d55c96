#include "writing/replay_page.h"

#include "orchard/words.h"
#include "writing/words.h"

#include <math.h>

enum {
    PLACE,
    SITE,
    SPECIES,
    EVENT,
    TOLD,
    LEAD,
    ISSUE,
    MEMBERS,
    SEASONS,
    ERROR,
    BIAS,
    PAST_ERROR,
    INSIDE,
    INSIDE_P,
    WIDTH,
    PAST_WIDTH,
    SCORE,
    PAST_SCORE,
    SKILL,
    UNMOVED_SCORE,
    PINBALL_10,
    PINBALL_50,
    PINBALL_90,
    BINS,
    PLANS,
    PLANNED,
    CALENDAR,
    PERFECT,
    PLANNED_POSSIBLE,
    CALENDAR_POSSIBLE,
    PERFECT_POSSIBLE,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [PLACE] = {"place", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SPECIES] = {"species", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [EVENT] = {"event", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TOLD] = {"told", "before", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [LEAD] = {"lead_days", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [ISSUE] = {"issue", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [MEMBERS] = {"members", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASONS] = {"seasons", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [ERROR] = {"mae_days", "error", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [BIAS] = {"bias_days", "bias", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [PAST_ERROR] = {"past_mae_days", "of past", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [INSIDE] = {"inside", "held", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [INSIDE_P] = {"inside_p", "p", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [WIDTH] = {"width_days", "width", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [PAST_WIDTH] = {"past_width_days", "of past", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [SCORE] = {"score_days", "score", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [PAST_SCORE] = {"past_score_days", "of past", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [SKILL] = {"skill", NULL, CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [UNMOVED_SCORE] = {"unmoved_score_days", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [PINBALL_10] = {"pinball_p10_days", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [PINBALL_50] = {"pinball_p50_days", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [PINBALL_90] = {"pinball_p90_days", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [BINS] = {"histogram", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [PLANS] = {"plans", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [PLANNED] = {"hit", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [CALENDAR] = {"calendar_hit", "calendar", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [PERFECT] = {"true_date_hit", "true", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [PLANNED_POSSIBLE] = {"hit_possible", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [CALENDAR_POSSIBLE] = {"calendar_hit_possible", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [PERFECT_POSSIBLE] = {"true_date_hit_possible", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
};

/* "14 days", "1 March". */
static const char *told_words(const struct replay_issue *issue, struct arena *arena)
{
    if (issue->on.month > 0)
        return arena_printf(arena, "%d %s", issue->on.day, day_month_name(issue->on.month));
    return arena_printf(arena, issue->lead_days == 1 ? "%d day" : "%d days", issue->lead_days);
}

/* "Larkmoor, shortleaf". */
static const char *place_words(const struct event_replay *replay, struct arena *arena)
{
    if (!replay->species)
        return replay->site->name;
    return arena_printf(arena, "%s, %s", replay->site->name, replay->species);
}

static const char *bins_words(const struct replay_line *line, struct arena *arena)
{
    struct text words;

    text_init(&words, arena);
    for (size_t b = 0; b < REPLAY_BINS; b++)
        text_addf(&words, "%s%.1f", b > 0 ? " " : "", line->bins[b]);
    return words.bytes;
}

static double share(size_t part, size_t whole)
{
    return whole > 0 ? (double)part / (double)whole : (double)NAN;
}

static void set_issue(union cell *cells, const struct event_replay *replay,
                      const struct replay_asked *asked, const struct replay_issue *issue)
{
    cells[SITE].text = replay->site->name;
    cells[SPECIES].text = replay->species;
    cells[EVENT].text = event_names[replay->event];
    cells[MEMBERS].text = asked->loyo ? "loyo" : "past";
    if (issue->on.month == 0)
        cells[LEAD].number = issue->lead_days;
}

static const char *issue_text(const struct replay_issue *issue, struct arena *arena)
{
    return issue->on.month > 0 ? arena_printf(arena, "%02d-%02d", issue->on.month, issue->on.day)
                               : NULL;
}

static void set_visits(union cell *cells, const struct replay_line *line)
{
    size_t plans = line->planned.plans;

    cells[PLANS].number = (double)plans;
    cells[PLANNED].number = share(line->planned.seen, plans);
    cells[CALENDAR].number = share(line->calendar.seen, plans);
    cells[PERFECT].number = share(line->perfect.seen, plans);
    cells[PLANNED_POSSIBLE].number = share(line->planned.possible, plans);
    cells[CALENDAR_POSSIBLE].number = share(line->calendar.possible, plans);
    cells[PERFECT_POSSIBLE].number = share(line->perfect.possible, plans);
}

static void add_line(const struct event_replay *replay, const struct replay_asked *asked,
                     const struct replay_line *line, struct sheet *sheet)
{
    union cell *cells = sheet_row(sheet);

    set_issue(cells, replay, asked, &line->issue);
    cells[PLACE].text = place_words(replay, sheet->arena);
    cells[TOLD].text = told_words(&line->issue, sheet->arena);
    cells[ISSUE].text = issue_text(&line->issue, sheet->arena);
    cells[SEASONS].number = (double)line->seasons;
    if (line->seasons == 0)
        return;
    cells[ERROR].number = line->mae_days;
    cells[BIAS].number = line->bias_days;
    cells[PAST_ERROR].number = line->past_mae_days;
    cells[INSIDE].number = (double)line->inside;
    cells[INSIDE_P].number = line->inside_p;
    cells[WIDTH].number = line->width_days;
    cells[PAST_WIDTH].number = line->past_width_days;
    cells[SCORE].number = line->score_days;
    cells[PAST_SCORE].number = line->past_score_days;
    cells[SKILL].number = line->skill;
    cells[UNMOVED_SCORE].number = line->unmoved_score_days;
    cells[PINBALL_10].number = line->pinball_days[0];
    cells[PINBALL_50].number = line->pinball_days[1];
    cells[PINBALL_90].number = line->pinball_days[2];
    cells[BINS].text = bins_words(line, sheet->arena);
    set_visits(cells, line);
}

struct sheet replay_sheet(const struct replay *replay, const struct replay_asked *asked,
                          const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide replay 1", COLUMNS, columns);
    replay_add_head(replay, asked, run, &sheet.head);
    for (size_t i = 0; i < replay->count; i++) {
        for (size_t k = 0; k < asked->issue_count; k++)
            add_line(&replay->list[i], asked, &replay->list[i].lines[k], &sheet);
        replay_add_verdict(&replay->list[i], asked, &sheet.foot);
    }
    if (sheet.row_count > 0)
        text_add(&sheet.foot,
                 "\nbefore: days before the event (or the day of the year) on which it was told; "
                 "error, bias: of the middle date in days, bias over 0 is too late; held: seasons "
                 "between the 10 % and the 90 % date; p: chance of a count so far from four in "
                 "five; width: days from the one to the other; score: ranked probability score in "
                 "days, less is better; skill: what it gains on past dates, 1 is all; of past: of "
                 "the dates of other seasons alone; hit: plans of two visits of which one met "
                 "receptive strobili, as planned then, by the mean date, by the true date.\n");
    return sheet;
}

/* ---- a row a season and day ----------------------------------------------------------------- */

enum {
    EACH_PLACE,
    EACH_SITE,
    EACH_SPECIES,
    EACH_EVENT,
    EACH_SEASON,
    EACH_LEAD,
    EACH_ISSUED,
    EACH_P10,
    EACH_P50,
    EACH_P90,
    EACH_OBSERVED,
    EACH_INSIDE,
    EACH_ERROR,
    EACH_PAST_P10,
    EACH_PAST_P50,
    EACH_PAST_P90,
    EACH_RESIDUAL,
    EACH_SCORE,
    EACH_PAST_SCORE,
    EACH_UNMOVED_SCORE,
    EACH_BELOW,
    EACH_UP_TO,
    EACH_COLUMNS
};

static const struct sheet_column each_columns[EACH_COLUMNS] = {
    [EACH_PLACE] = {"place", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [EACH_SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [EACH_SPECIES] = {"species", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [EACH_EVENT] = {"event", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [EACH_SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [EACH_LEAD] = {"lead_days", "lead", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [EACH_ISSUED] = {"issued", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [EACH_P10] = {"p10", "10 %", CELL_DAY, 0, COLUMN_EVERYWHERE},
    [EACH_P50] = {"p50", "50 %", CELL_DAY, 0, COLUMN_EVERYWHERE},
    [EACH_P90] = {"p90", "90 %", CELL_DAY, 0, COLUMN_EVERYWHERE},
    [EACH_OBSERVED] = {"observed", "came", CELL_DAY, 0, COLUMN_EVERYWHERE},
    [EACH_INSIDE] = {"inside", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [EACH_ERROR] = {"error_days", "error", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [EACH_PAST_P10] = {"past_p10", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [EACH_PAST_P50] = {"past_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [EACH_PAST_P90] = {"past_p90", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [EACH_RESIDUAL] = {"residual_days", "residual", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [EACH_SCORE] = {"score_days", "score", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [EACH_PAST_SCORE] = {"past_score_days", "of past", CELL_NUMBER, 2, COLUMN_EVERYWHERE},
    [EACH_UNMOVED_SCORE] = {"unmoved_score_days", NULL, CELL_NUMBER, 2, COLUMN_DATA_ONLY},
    [EACH_BELOW] = {"chance_before", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [EACH_UP_TO] = {"chance_up_to", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
};

static void add_each(const struct event_replay *replay, const struct replay_told *told,
                     struct sheet *sheet)
{
    union cell *cells = sheet_row(sheet);

    cells[EACH_PLACE].text = place_words(replay, sheet->arena);
    cells[EACH_SITE].text = replay->site->name;
    cells[EACH_SPECIES].text = replay->species;
    cells[EACH_EVENT].text = event_names[replay->event];
    cells[EACH_SEASON].number = told->season;
    cells[EACH_LEAD].number = told->observed - told->issued;
    cells[EACH_ISSUED].day = told->issued;
    cells[EACH_P10].day = told->p10;
    cells[EACH_P50].day = told->p50;
    cells[EACH_P90].day = told->p90;
    cells[EACH_OBSERVED].day = told->observed;
    cells[EACH_INSIDE].text = told->inside ? "yes" : "no";
    if (told->p50 != DAY_NEVER)
        cells[EACH_ERROR].number = told->p50 - told->observed;
    cells[EACH_PAST_P10].day = told->past_p10;
    cells[EACH_PAST_P50].day = told->past_p50;
    cells[EACH_PAST_P90].day = told->past_p90;
    cells[EACH_RESIDUAL].number = told->residual_days;
    cells[EACH_SCORE].number = told->score_days;
    cells[EACH_PAST_SCORE].number = told->past_score_days;
    cells[EACH_UNMOVED_SCORE].number = told->unmoved_score_days;
    cells[EACH_BELOW].number = told->below;
    cells[EACH_UP_TO].number = told->up_to;
}

struct sheet replay_each_sheet(const struct replay *replay, const struct replay_asked *asked,
                               const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide replay each 1", EACH_COLUMNS, each_columns);
    replay_add_head(replay, asked, run, &sheet.head);
    for (size_t i = 0; i < replay->count; i++) {
        for (size_t k = 0; k < replay->list[i].told_count; k++)
            add_each(&replay->list[i], &replay->list[i].told[k], &sheet);
        replay_add_verdict(&replay->list[i], asked, &sheet.foot);
    }
    return sheet;
}
