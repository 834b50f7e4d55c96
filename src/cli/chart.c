/* chart.c - "chart": one picture of the season as SVG. */
#include "cli/command.h"

#include "cli/crossing_plan.h"
#include "orchard/lookup.h"
#include "planning/heat_fan.h"
#include "planning/selection_windows.h"
#include "planning/worklist.h"
#include "writing/charts.h"

#include <string.h>

enum picture { PICTURE_WINDOWS, PICTURE_HEAT, PICTURE_MINUTES, PICTURE_MAP, PICTURES };
static const char *const picture_names[PICTURES] = {"windows", "heat", "minutes", "map"};

static const struct option_row chart_options[] = {
    OPTION("site", "SITE", OPTION_WORD, site, "this site alone; map is of one site"),
    OPTION("season", "YEAR", OPTION_YEAR, season,
           "heat, windows: of that spring; default: the next one in which a graft flowers"),
    OPTION("event", "EVENT", OPTION_WORD, event,
           "heat: the event whose requirements are shown; default: first"),
    OPTION("from", "DATE", OPTION_DATE, from, "minutes: from this day; default: as of"),
    OPTION("to", "DATE", OPTION_DATE, to, "minutes: to this day; default: the last with work"),
    OPTIONS_END,
};

static enum exit_status picture_of(struct session *session, enum picture *picture)
{
    const char *name = session->operand_count > 1 ? session->operands[1] : picture_names[0];
    const char *nearest;

    for (*picture = 0; *picture < PICTURES; ++*picture)
        if (strcmp(picture_names[*picture], name) == 0)
            return STATUS_DONE;
    nearest = text_nearest(name, PICTURES, picture_names);
    session_say(session, "there is no picture '%s'%s%s%s; there are windows, heat, minutes and map",
                name, nearest ? ", did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
    return STATUS_USAGE;
}

static enum exit_status event_of(struct session *session, enum event *event)
{
    const char *name = session->options.event;
    const char *nearest;

    *event = EVENT_FIRST;
    if (!name)
        return STATUS_DONE;
    for (*event = EVENT_OPENING; *event <= EVENT_CLOSED; ++*event)
        if (strcmp(event_names[*event], name) == 0)
            return STATUS_DONE;
    nearest = text_nearest(name, EVENT_CLOSED, event_names + EVENT_OPENING);
    session_say(session,
                "--event: '%s' is no event of strobili%s%s%s; they are opening, first, "
                "peak, last and closed",
                name, nearest ? ", did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
    return STATUS_USAGE;
}

/* The site asked for; NULL: none was.  The map needs one where there are several. */
static enum exit_status site_of(struct session *session, enum picture picture,
                                const struct site **site)
{
    const struct site *sites = session->orchard.sites.list;
    size_t count = session->orchard.sites.count;
    struct text names;

    *site = NULL;
    text_init(&names, session->arena);
    for (size_t i = 0; i < count; i++) {
        if (session->options.site && strcmp(sites[i].name, session->options.site) == 0)
            *site = &sites[i];
        text_addf(&names, "%s%s", i > 0 ? ", " : "", sites[i].name);
    }
    if (session->options.site && !*site) {
        session_say(session, "--site: no site is called '%s'; there are %s", session->options.site,
                    names.bytes);
        return STATUS_USAGE;
    }
    if (picture == PICTURE_MAP && !*site && count == 1)
        *site = &sites[0];
    if (picture == PICTURE_MAP && !*site) {
        session_say(session, "a map is of one site: name it by --site; there are %s", names.bytes);
        return STATUS_USAGE;
    }
    return STATUS_DONE;
}

/* The rows of the site asked for, and the season to show: that asked for, or the next of them. */
static int rows_of(const struct session *session, const struct site *site,
                   const struct flowering_rows *all, struct flowering_rows *rows)
{
    int season = 0;

    rows->list = ARENA_ARRAY(session->arena, all->count, struct flowering_row);
    rows->count = 0;
    for (size_t i = 0; i < all->count; i++) {
        const struct flowering_row *row = &all->list[i];

        if (site && row->site != site)
            continue;
        rows->list[rows->count++] = *row;
        if (season == 0 || row->season < season)
            season = row->season;
    }
    if (session->options.season != 0)
        return session->options.season;
    return season != 0 ? season : day_year(session->as_of);
}

/* From the day asked for, or as of, to the day asked for, or the last on which a crew has work. */
static void draw_minutes(struct session *session, const struct planned *planned)
{
    daynum first = session->options.from, last = session->options.to;
    struct visits visits = crossing_visits(&planned->plan, session->arena);
    struct worklist list;

    if (first == DAY_NONE)
        first = session->as_of;
    if (last == DAY_NONE) {
        last = first + 6;
        for (size_t i = 0; i < visits.count; i++) {
            const struct planned_task *task = &visits.list[i].bag->tasks[visits.list[i].task];

            if (task->crew && task->day > last)
                last = task->day;
        }
    }
    list = worklist_of(&planned->plan, &planned->inputs,
                       &(struct work_asked){.first_day = first, .last_day = last});
    chart_write_minutes(&list, &planned->opened.run, &session->out);
}

static enum exit_status draw_with_plan(struct session *session, enum picture picture)
{
    const struct site *site;
    struct planned planned;
    struct selection_windows windows;
    struct flowering_rows rows;
    enum exit_status status = session_crossing(session, &planned);
    int season;

    if (status == STATUS_DONE)
        status = site_of(session, picture, &site);
    if (status != STATUS_DONE)
        return status;
    if (picture == PICTURE_MINUTES) {
        draw_minutes(session, &planned);
        return STATUS_DONE;
    }
    season = rows_of(session, site, &planned.inputs.flowering, &rows);
    windows = selection_windows_of(&rows, &planned.plan, season, session->arena);
    chart_write_windows(&windows, &planned.opened.run, &session->out);
    return STATUS_DONE;
}

static enum exit_status draw(struct session *session, enum picture picture, enum event event)
{
    const struct site *site;
    struct opened opened;
    struct flowering_rows all, rows;
    struct heat_fans fans;
    enum exit_status status = session_plan(session, &opened);
    int season;

    if (status == STATUS_DONE)
        status = site_of(session, picture, &site);
    if (status != STATUS_DONE)
        return status;
    if (picture == PICTURE_MAP) {
        chart_write_map(opened.state, site, &opened.run, &session->out);
        return STATUS_DONE;
    }
    all = flowering_of(opened.state, opened.dates, session->arena);
    season = rows_of(session, site, &all, &rows);
    fans = heat_fans_of(&rows, opened.dates, &session->orchard, event, season, session->arena);
    chart_write_heat(&fans, &opened.run, &session->out);
    return STATUS_DONE;
}

static enum exit_status run_chart(struct session *session)
{
    enum picture picture;
    enum event event;
    enum exit_status status = picture_of(session, &picture);

    if (status == STATUS_DONE)
        status = event_of(session, &event);
    if (status != STATUS_DONE)
        return status;
    if (picture == PICTURE_WINDOWS || picture == PICTURE_MINUTES)
        return draw_with_plan(session, picture);
    return draw(session, picture, event);
}

const struct command command_chart = {
    .name = "chart",
    .summary = "a picture as SVG: receptive windows, heat sum, crew-hours, map of a site",
    .operands = "FOLDER [windows|heat|minutes|map]",
    .operands_least = 1,
    .operands_most = 2,
    .formats = "svg",
    .options = chart_options,
    .about = "windows: receptive days of each selection with their spread, and the days planned to "
             "bag and to pollinate. heat: the season's heat sum as known and as past years let it "
             "go on, the usual one, and the requirements with the days on which they are met. "
             "minutes: crew-hours planned on each day against those that crews and lifts have. "
             "map: the trees of a site by row and position with their grafts. Words stand beside "
             "what they name, and nothing is told by colour alone.",
    .example = "conetide chart my-programme heat > heat.svg",
    .run = run_chart,
};
