/* chart.c - "chart": one picture of the season as SVG. */
#include "cli/command.h"

#include "cli/pictures.h"

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

static enum exit_status draw_with_plan(struct session *session, enum picture picture,
                                       struct picture_asked *asked)
{
    struct planned planned;
    enum exit_status status = session_crossing(session, &planned);

    if (status == STATUS_DONE)
        status = site_of(session, picture, &asked->site);
    if (status != STATUS_DONE)
        return status;
    if (session_format(session) == FORMAT_HTML)
        draw_glance(session, &planned, &session->out);
    else if (picture == PICTURE_MINUTES)
        draw_minutes(session, &planned, asked, &session->out);
    else
        draw_windows(session, &planned, asked, &session->out);
    return STATUS_DONE;
}

static enum exit_status draw_without(struct session *session, enum picture picture,
                                     struct picture_asked *asked)
{
    struct opened opened;
    struct flowering_rows flowering;
    enum exit_status status = session_plan(session, &opened);

    if (status == STATUS_DONE)
        status = site_of(session, picture, &asked->site);
    if (status != STATUS_DONE)
        return status;
    if (picture == PICTURE_MAP) {
        draw_map(&opened, asked, &session->out);
        return STATUS_DONE;
    }
    flowering = flowering_of(opened.state, opened.dates, session->arena);
    draw_heat(session, &opened, &flowering, asked, &session->out);
    return STATUS_DONE;
}

static enum exit_status run_chart(struct session *session)
{
    struct picture_asked asked = {.season = session->options.season,
                                  .from = session->options.from,
                                  .to = session->options.to};
    bool glance = session_format(session) == FORMAT_HTML;
    enum picture picture;
    enum exit_status status = picture_of(session, &picture);

    if (status == STATUS_DONE)
        status = event_of(session, &asked.event);
    if (status == STATUS_DONE && glance && session->operand_count > 1) {
        session_say(session, "--format html is all pictures and tables on one page, without '%s'",
                    session->operands[1]);
        status = STATUS_USAGE;
    }
    if (status != STATUS_DONE)
        return status;
    if (glance || picture == PICTURE_WINDOWS || picture == PICTURE_MINUTES)
        return draw_with_plan(session, picture, &asked);
    return draw_without(session, picture, &asked);
}

const struct command command_chart = {
    .name = "chart",
    .summary = "a picture as SVG: receptive windows, heat sum, crew-hours, map of a site",
    .operands = "FOLDER [windows|heat|minutes|map]",
    .operands_least = 1,
    .operands_most = 2,
    .formats = "svg html",
    .options = chart_options,
    .about =
        "windows: receptive days of each selection with their spread, and the days planned to "
        "bag and to pollinate. heat: the season's heat sum as known and as past years let it "
        "go on, the usual one, and the requirements with the days on which they are met. "
        "minutes: crew-hours planned on each day against those that crews and lifts have. "
        "map: the trees of a site by row and position with their grafts. Words stand beside "
        "what they name, and nothing is told by colour alone. --format html is the season at a "
        "glance: all of these and the main tables, to sort and to filter, in one file that "
        "needs no network.",
    .example = "conetide chart my-programme heat > heat.svg",
    .run = run_chart,
};
