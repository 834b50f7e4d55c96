/* why.c - "why": what stands behind every date of one graft. */
#include "cli/command.h"

#include "orchard/words.h"
#include "planning/why.h"

#include <string.h>

enum { MEANT_MOST = 5 };

static const struct option_row why_options[] = {
    OPTION("event", "NAME", OPTION_WORD, event,
           "this event alone: bag_by, opening, first, peak, last or closed"),
    OPTION("season", "YEAR", OPTION_YEAR, season, "this spring alone: 2028"),
    OPTIONS_END,
};

static enum exit_status find_event(struct session *session, enum event *event)
{
    const char *word = session->options.event, *nearest;

    *event = EVENTS;
    if (!word)
        return STATUS_DONE;
    for (int e = EVENT_BAG_BY; e <= EVENT_CLOSED; e++) {
        if (strcmp(event_names[e], word) == 0) {
            *event = (enum event)e;
            return STATUS_DONE;
        }
    }
    nearest = text_nearest(word, EVENT_CLOSED + 1, event_names);
    session_say(session, "--event is '%s', not bag_by, opening, first, peak, last or closed%s%s%s",
                word, nearest ? "; did you mean " : "", nearest ? nearest : "", nearest ? "?" : "");
    return STATUS_USAGE;
}

/* No graft of that name: what may have been meant. */
static enum exit_status unknown(struct session *session, const struct state *state,
                                const char *name)
{
    const char *names[MEANT_MOST], *what;
    size_t count = why_meant(state, name, MEANT_MOST, names, &what);
    struct bag_name bag;
    struct text list;
    char day[DAY_TEXT];

    if (bag_name_read(name, &bag)) {
        const char *tag = arena_text(session->arena, bag.tag_length, name);

        if (orchard_graft(&session->orchard, tag)) {
            session_say(session, "no note tells of a bag %s by %s, ask for its graft %s", name,
                        day_text(session->as_of, day), tag);
            return STATUS_USAGE;
        }
    }
    text_init(&list, session->arena);
    for (size_t i = 0; i < count; i++)
        text_addf(&list, "%s%s", i ? ", " : "", names[i]);
    if (what)
        session_say(session, "%s is a %s, and a tag was expected%s%s", name, what,
                    count ? ", its grafts are " : "; it has no graft", list.bytes);
    else
        session_say(session, "no graft or bag is called '%s' by %s%s%s%s", name,
                    day_text(session->as_of, day), count ? ", did you mean " : "", list.bytes,
                    count ? "?" : "");
    return STATUS_USAGE;
}

static enum exit_status no_season(struct session *session, const struct graft_state *graft,
                                  int season)
{
    int cycle = orchard_cycle(&session->orchard, graft->graft);

    if (season <= cycle || season > cycle + 2 || cycle == 0)
        session_say(session, "%s is planned for its springs %d and %d, not for %d",
                    graft->graft->tag, cycle + 1, cycle + 2, season);
    else
        session_say(session, "%s has no dates of %d: it is not there any more, or they are over",
                    graft->graft->tag, season);
    return STATUS_USAGE;
}

static enum exit_status run_why(struct session *session)
{
    struct opened opened;
    struct why_asked asked = {.season = session->options.season};
    const struct graft_state *graft;
    const struct bag *bag;
    struct why why;
    struct sheet sheet;
    enum exit_status status = find_event(session, &asked.event);

    if (status == STATUS_DONE)
        status = session_plan(session, &opened);
    if (status != STATUS_DONE)
        return status;
    graft = why_graft(opened.state, session->operands[1], &bag);
    if (!graft)
        return unknown(session, opened.state, session->operands[1]);
    asked.bag = bag;
    if (bag && asked.season == 0)
        asked.season = bag->season;
    why = why_of(opened.state, opened.dates, graft, asked, session->arena);
    if (session->options.season != 0 && why.season_count == 0)
        return no_season(session, graft, session->options.season);
    if (session_format(session) != FORMAT_TEXT)
        opened.run.units_us = false;
    sheet = why_sheet(&why, &opened.run);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

const struct command command_why = {
    .name = "why",
    .summary = "why the dates of one graft stand where they do",
    .operands = "FOLDER TAG",
    .operands_least = 2,
    .operands_most = 2,
    .formats = "text csv json sheet",
    .options = why_options,
    .about =
        "For one graft, by its tag, an old tag or the name of a bag: what it is, its weather, the "
        "dates of both springs, the row of each file that every date hangs on, the heat counted so "
        "far, which past years would make it early or late, what the spread is made of, the "
        "chance that it lives, its strobili, the notes that count, and what would move the dates. "
        "The dates are those of flowering.",
    .example = "conetide why my-programme OAK-017C",
    .run = run_why,
};
