#include "cli/past_dates.h"

#include "cli/files.h"
#include "reading/dated.h"

#include <errno.h>
#include <string.h>

enum exit_status past_event(struct session *session, int *event)
{
    const char *name = session->options.event, *nearest;

    for (*event = 0; *event < EVENTS; (*event)++) {
        if (!name || strcmp(event_names[*event], name) == 0)
            break;
    }
    if (!name)
        *event = EVENTS;
    if (!name || *event < EVENTS)
        return STATUS_DONE;
    nearest = text_nearest(name, EVENTS, event_names);
    session_say(session, "there is no event '%s'%s%s%s", name,
                nearest ? ", did you mean " : ", see conetide ",
                nearest ? nearest : session->command, nearest ? "" : " --help");
    return STATUS_USAGE;
}

enum exit_status past_curve(struct session *session, const struct conetide_curve **curve)
{
    const char *name = session->options.curve;

    *curve = name ? conetide_curve_named(name) : NULL;
    if (!name || *curve)
        return STATUS_DONE;
    session_say(session,
                "--curve is '%s', none of average, clipped-average, triangle, double-triangle, "
                "sine, double-sine, daily-maximum",
                name);
    return STATUS_USAGE;
}

static enum exit_status read_dates(struct session *session, struct sights *sights)
{
    const char *path = session->options.dates;
    struct dated_events events = {NULL, 0, 0};
    struct file_source file;
    struct source source;
    bool whole;

    if (!file_open(path, &file)) {
        session_say(session, "%s: %s", path, strerror(errno));
        return STATUS_SYSTEM;
    }
    source = file_as_source(path, &file);
    whole = read_dated(&events, &session->orchard, &source, &session->diags);
    file_close(&file);
    if (!whole) {
        session_say(session, "%s: %s", path, strerror(file.problem));
        return STATUS_SYSTEM;
    }
    dated_link(&events, &session->orchard, &session->diags);
    if (session->diags.errors > 0) {
        diags_sort(&session->diags);
        diags_write(&session->diags, &session->err);
        session_say(session, "%s has faults, so there is no result", path);
        return STATUS_INPUT;
    }
    *sights = sights_of_dates(&events, &session->orchard, session->arena);
    return STATUS_DONE;
}

enum exit_status past_sights(struct session *session, const struct state *state,
                             struct sights *sights)
{
    const char *site = session->options.site;

    if (site && !orchard_site(&session->orchard, site)) {
        session_say(session, "there is no site '%s' in sites.csv", site);
        return STATUS_USAGE;
    }
    if (session->options.dates)
        return read_dates(session, sights);
    *sights = sights_of_notes(state, session->arena);
    return STATUS_DONE;
}

void past_keep(const struct session *session, int event, struct sights *sights)
{
    const char *site = session->options.site;
    size_t kept = 0;

    for (size_t i = 0; i < sights->count; i++) {
        const struct sight *sight = &sights->list[i];

        if ((event == EVENTS || sight->event == (enum event)event) &&
            (!site || strcmp(sight->site->name, site) == 0))
            sights->list[kept++] = *sight;
    }
    sights->count = kept;
}
