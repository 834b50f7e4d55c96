#include "cli/past_dates.h"

#include "reading/dated.h"

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

static bool read_events(struct session *session, const struct source *source, void *events)
{
    return read_dated(events, &session->orchard, source, &session->diags);
}

static enum exit_status read_dates(struct session *session, struct sights *sights)
{
    const char *path = session->options.dates;
    struct dated_events events = {NULL, 0, 0};
    enum exit_status status =
        session_read_path(session, path, (struct path_reader){read_events, &events});

    if (status != STATUS_DONE)
        return status;
    dated_link(&events, &session->orchard, &session->diags);
    status = session_faults_of(session, path);
    if (status == STATUS_DONE)
        *sights = sights_of_dates(&events, &session->orchard, session->arena);
    return status;
}

enum exit_status past_sights(struct session *session, const struct state *state,
                             struct sights *sights)
{
    const char *site = session->options.site;

    if (site && !session_site(session, site))
        return STATUS_USAGE;
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
