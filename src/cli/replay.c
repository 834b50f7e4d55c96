/* replay.c - "replay": past seasons told again from what was known, and how far that was off. */
#include "cli/command.h"

#include "base/number.h"
#include "cli/past_dates.h"
#include "planning/replay.h"
#include "writing/replay_page.h"

#include <string.h>

enum { NIGHTS = 90 };

static const struct option_row replay_options[] = {
    OPTION("event", "NAME", OPTION_WORD, event, "the event that is told; default: first"),
    OPTION("site", "NAME", OPTION_WORD, site, "only this site"),
    OPTION("dates", "FILE", OPTION_WORD, dates,
           "dates of past seasons in place of the notes, as for fit; - is standard input"),
    OPTION("seasons", "A-B", OPTION_WORD, season_range, "tell these seasons only: 1998-2006"),
    OPTION(
        "members", "KIND", OPTION_WORD, members,
        "past: from earlier seasons alone, the default; loyo: from all other seasons, later ones "
        "too, for comparison"),
    OPTION("leads", "LIST", OPTION_WORD, leads,
           "days before the event on which its date is told; default: 90,60,30,14,7,3; nightly: "
           "every day from 90 on"),
    OPTION("issue", "LIST", OPTION_WORD, issue,
           "days of the year on which it is told in place of leads: 03-01,03-15"),
    OPTION("curve", "NAME", OPTION_WORD, curve, "search clocks with this curve alone"),
    OPTION("clock", "NAME", OPTION_WORD, clock,
           "a clock of program.json or a shipped one; none is searched, which is much faster"),
    OPTION("each", NULL, OPTION_FLAG, each, "a row for every season and day of telling"),
    OPTIONS_END,
};

static bool add_issue(struct replay_issue *issues, size_t *count, struct replay_issue issue)
{
    if (*count == REPLAY_ISSUES_MOST)
        return false;
    issues[(*count)++] = issue;
    return true;
}

static void add_nights(struct replay_issue *issues, size_t *count)
{
    for (int lead = NIGHTS; lead >= 0; lead--)
        add_issue(issues, count, (struct replay_issue){.lead_days = lead});
}

/* Lead days, or days of the year. */
static bool read_list(const char *list, bool leads, struct replay_issue *issues, size_t *count)
{
    for (;; list++) {
        struct replay_issue issue = {0};
        size_t length = strcspn(list, ",");
        int32_t lead = 0;

        if (leads && (!number_parse_integer(length, list, &lead) || lead < 0 || lead > 300))
            return false;
        issue.lead_days = lead;
        if (!leads && !day_parse_month_day(length, list, &issue.on))
            return false;
        if (!add_issue(issues, count, issue))
            return false;
        list += length;
        if (*list == '\0')
            return true;
    }
}

static enum exit_status find_issues(struct session *session, struct replay_issue *issues,
                                    size_t *count)
{
    const char *leads = session->options.leads, *days = session->options.issue;

    *count = 0;
    if (leads && days) {
        session_say(session, "--leads and --issue were both given, expected one of them");
        return STATUS_USAGE;
    }
    if (days) {
        if (read_list(days, false, issues, count))
            return STATUS_DONE;
        session_say(session, "--issue is '%s', not a list of at most %d days like 03-01,03-15",
                    days, REPLAY_ISSUES_MOST);
        return STATUS_USAGE;
    }
    if (leads && strcmp(leads, "nightly") == 0) {
        add_nights(issues, count);
        return STATUS_DONE;
    }
    if (read_list(leads ? leads : "90,60,30,14,7,3", true, issues, count))
        return STATUS_DONE;
    session_say(
        session,
        "--leads is '%s', not nightly, nor a list of at most %d whole numbers from 0 to 300", leads,
        REPLAY_ISSUES_MOST);
    return STATUS_USAGE;
}

static enum exit_status find_seasons(struct session *session, struct replay_asked *asked)
{
    const char *range = session->options.season_range;
    size_t first = range ? strcspn(range, "-") : 0;
    int32_t from, to;

    if (!range)
        return STATUS_DONE;
    to = 0;
    if (number_parse_integer(first, range, &from) &&
        (range[first] == '\0' ||
         number_parse_integer(strlen(range + first + 1), range + first + 1, &to))) {
        asked->from = from;
        asked->to = range[first] == '\0' ? from : to;
        if (asked->from >= 1 && asked->from <= asked->to)
            return STATUS_DONE;
    }
    session_say(session, "--seasons is '%s', not two years like 1998-2006, the earlier first",
                range);
    return STATUS_USAGE;
}

static enum exit_status find_members(struct session *session, struct replay_asked *asked)
{
    const char *members = session->options.members;

    asked->loyo = members && strcmp(members, "loyo") == 0;
    if (!members || asked->loyo || strcmp(members, "past") == 0)
        return STATUS_DONE;
    session_say(session, "--members is '%s', not past or loyo", members);
    return STATUS_USAGE;
}

static enum exit_status find_clock(struct session *session, struct fit_wanted *wanted)
{
    const struct program *program = &session->orchard.program;
    const char *name = session->options.clock, **names, *nearest;

    wanted->clock = name ? program_clock(program, name) : NULL;
    if (!name || wanted->clock)
        return STATUS_DONE;
    names = ARENA_ARRAY(session->arena, program->clock_count, const char *);
    for (size_t i = 0; i < program->clock_count; i++)
        names[i] = program->clocks[i].name;
    nearest = text_nearest(name, program->clock_count, names);
    session_say(session, "there is no clock '%s'%s%s", name, nearest ? ", did you mean " : "",
                nearest ? nearest : "");
    return STATUS_USAGE;
}

static enum exit_status read_options(struct session *session, struct replay_asked *asked,
                                     struct replay_issue *issues)
{
    int event;
    enum exit_status status = past_event(session, &event);

    asked->event = event == EVENTS ? EVENT_FIRST : (enum event)event;
    asked->site = session->options.site;
    asked->issues = issues;
    if (status == STATUS_DONE)
        status = past_curve(session, &asked->wanted.curve);
    if (status == STATUS_DONE)
        status = find_issues(session, issues, &asked->issue_count);
    if (status == STATUS_DONE)
        status = find_seasons(session, asked);
    if (status == STATUS_DONE)
        status = find_members(session, asked);
    return status;
}

static enum exit_status run_replay(struct session *session)
{
    struct replay_issue *issues =
        ARENA_ARRAY(session->arena, REPLAY_ISSUES_MOST, struct replay_issue);
    struct replay_asked asked = {.orchard = &session->orchard};
    struct opened opened;
    struct sights sights;
    struct replay replay;
    struct sheet sheet;
    enum exit_status status = read_options(session, &asked, issues);

    if (status == STATUS_DONE)
        status = session_plan(session, &opened);
    if (status == STATUS_DONE)
        status = find_clock(session, &asked.wanted);
    if (status == STATUS_DONE)
        status = past_sights(session, opened.state, &sights);
    if (status != STATUS_DONE)
        return status;
    asked.sights = &sights;
    replay = replay_of(&asked, session->arena);
    sheet = session->options.each ? replay_each_sheet(&replay, &asked, &opened.run)
                                  : replay_sheet(&replay, &asked, &opened.run);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

const struct command command_replay = {
    .name = "replay",
    .summary = "past seasons told again from what was known at the time, and how far off it was",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet",
    .options = replay_options,
    .about =
        "For every past season of which stages were noted, or dates kept: thresholds and clock are "
        "fitted to the seasons before it, past years lend their weather, and on days before the "
        "event its date is told. Then it is laid beside the date that came: mean error, how often "
        "the 80 % interval held, scores of the whole distribution beside those of plain past "
        "dates, and how many planned visits would have met receptive strobili. Cells of the folder "
        "that carry no date are taken as they are today.",
    .example = "conetide replay --site Larkmoor my-programme",
    .run = run_replay,
};
