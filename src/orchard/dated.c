#include "orchard/dated.h"

#include "orchard/known.h"

/* Had not come by the as-of day is all that was known then of what came later. */
static bool is_known(struct dated_event *event, daynum as_of)
{
    if (as_of == DAY_NONE)
        return true;
    if (event->date != DAY_NONE && event->date > as_of)
        event->date = DAY_NONE;
    if (event->not_before != DAY_NONE && event->not_before > as_of)
        return false;
    return event->date != DAY_NONE || event->not_before != DAY_NONE;
}

void dated_link(struct dated_events *events, const struct orchard *orchard, struct diags *diags)
{
    struct known sites, selections;
    size_t kept = 0;

    known_of(&sites, orchard, KNOWN_SITES);
    known_of(&selections, orchard, KNOWN_SELECTIONS);
    for (size_t i = 0; i < events->count; i++) {
        struct dated_event event = events->list[i];

        event.site = orchard_site(orchard, event.site_name);
        if (!event.site)
            known_tell_missing(&sites, diags, event.place, "a date", event.site_name);
        event.selection = orchard_selection(orchard, event.selection_name);
        if (event.selection_name && !event.selection)
            known_tell_missing(&selections, diags, event.place, "a date", event.selection_name);
        if (event.site && is_known(&event, orchard->as_of))
            events->list[kept++] = event;
    }
    events->count = kept;
}
