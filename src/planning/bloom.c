#include "planning/bloom.h"

#include <assert.h>

static const enum event female[] = {EVENT_OPENING, EVENT_FIRST, EVENT_PEAK, EVENT_LAST,
                                    EVENT_CLOSED};
static const enum event male[] = {EVENT_SHED_FIRST, EVENT_SHED_PEAK, EVENT_SHED_LAST};

enum { FEMALE = sizeof female / sizeof *female, MALE = sizeof male / sizeof *male };

static bool is_shed(enum event event)
{
    return event == EVENT_SHED_FIRST || event == EVENT_SHED_PEAK || event == EVENT_SHED_LAST;
}

/* An event with a spread of its own keeps its place between the nearest known ones that share the
 * common shift.  What stands does not move with it, and binds by its looks; where all has come
 * before `closed`, nothing moves but what is between them. */
static void bind_own(const struct bloom *bloom, enum event event, struct conetide_event *known)
{
    const enum event *order = is_shed(event) ? male : female;
    size_t count = is_shed(event) ? MALE : FEMALE, at = 0;
    bool all_came = bloom->looks != NULL && bloom->looks->come == LOOKED_EVENTS;

    while (order[at] != event)
        at++;
    for (size_t i = 0; i < at; i++) {
        if (bloom->days[order[i]] != NULL && (all_came || !bloom->stands[order[i]]))
            known->no_sooner = bloom->days[order[i]];
    }
    for (size_t i = count; i-- > at + 1;) {
        if (bloom->days[order[i]] != NULL)
            known->no_later = bloom->days[order[i]];
    }
}

/* The last look that had not seen it; who is not past the last receptive day has not closed. */
static int32_t not_by(const struct bloom *bloom, enum event event)
{
    if (event == EVENT_CLOSED)
        event = EVENT_LAST;
    for (int i = bloom->looks != NULL ? bloom->looks->come : LOOKED_EVENTS; i < LOOKED_EVENTS;
         i++) {
        if (looked_events[i] == event)
            return bloom->looks->after[i];
    }
    return INT32_MIN;
}

/* Pollen is of the past years as they are: looks at strobili tell nothing of it. */
static struct conetide_event known_event(const struct bloom *bloom, enum event event)
{
    struct conetide_event known;

    if (is_shed(event) && bloom->plain != NULL)
        bloom = bloom->plain;
    known = (struct conetide_event){.members = bloom->members,
                                    .days = bloom->days[event],
                                    .shifts = is_shed(event) ? bloom->shed_shifts : bloom->shifts,
                                    .given = bloom->given,
                                    .stands = bloom->stands[event],
                                    .own = bloom->own[event],
                                    .not_by = not_by(bloom, event)};
    if (known.own != NULL)
        bind_own(bloom, event, &known);
    return known;
}

daynum bloom_date(const struct bloom *bloom, enum event event, double p)
{
    struct conetide_event known;
    int32_t day;

    if (bloom->days[event] == NULL)
        return DAY_NONE;
    known = known_event(bloom, event == EVENT_BAG_BY ? EVENT_OPENING : event);
    if (conetide_known_event_date(&known, p, &day) != CONETIDE_OK)
        return DAY_NEVER;
    return event == EVENT_BAG_BY ? day - 1 : day;
}

/* Share of the futures that never bring the event. */
static double never_share(const struct bloom *bloom, enum event event)
{
    double share = 0;

    for (size_t m = 0; m < bloom->members; m++) {
        if (bloom->days[event][m] == CONETIDE_NEVER)
            share += bloom->given != NULL ? bloom->given[m].weight : 1 / (double)bloom->members;
    }
    return share;
}

/* Of the past years that never bring it, those that lack chilling; looks leave that ratio. */
bool bloom_unchilled(const struct bloom *bloom, enum event event, double p)
{
    const struct bloom *plain = bloom->plain != NULL ? bloom->plain : bloom;
    double unchilled;

    if (plain->unchilled[event] == 0 || bloom->days[event] == NULL)
        return false;
    unchilled = (double)plain->unchilled[event] / (double)plain->members /
                never_share(plain, event) * never_share(bloom, event);
    return 1 - unchilled < p - CONETIDE_CHANCE_TOLERANCE;
}

double bloom_by(const struct bloom *bloom, enum event event, daynum day)
{
    struct conetide_event known;

    if (bloom->days[event] == NULL)
        return 0;
    known = known_event(bloom, event == EVENT_BAG_BY ? EVENT_OPENING : event);
    return conetide_known_event_by(&known, event == EVENT_BAG_BY && day < DAY_LAST ? day + 1 : day);
}

bool bloom_seen(const struct bloom *bloom, enum event event, daynum *after, daynum *by)
{
    *after = *by = DAY_NONE;
    for (int i = 0; bloom->looks != NULL && i < bloom->looks->come; i++) {
        if (looked_events[i] != event)
            continue;
        *after = bloom->looks->after[i];
        *by = bloom->looks->by[i];
        return true;
    }
    return false;
}

struct conetide_futures bloom_futures(const struct bloom *bloom)
{
    unsigned stands = 0;

    assert(bloom->windows != NULL);
    if (bloom->stands[EVENT_OPENING])
        stands |= CONETIDE_OPENING_STANDS;
    if (bloom->stands[EVENT_FIRST])
        stands |= CONETIDE_FIRST_STANDS;
    return (struct conetide_futures){.members = bloom->members,
                                     .windows = bloom->windows,
                                     .shifts = bloom->shifts,
                                     .given = bloom->given,
                                     .stands = stands};
}

/* Chance that outside pollen is over before `day`, in the member that goes with element m. */
static double over_in(const struct bloom *bloom, const struct conetide_event *over, size_t m,
                      daynum day)
{
    if (over->members == 1)
        return conetide_element_by(over, 0, day - 1);
    if (bloom->given != NULL && bloom->plain->members == 1)
        return conetide_known_event_by(over, day - 1);
    m = bloom->origin != NULL ? bloom->origin[m] : m;
    assert(m < over->members);
    return conetide_element_by(over, m, day - 1);
}

double bloom_safe_to_unbag(const struct bloom *bloom, const struct bloom *shed, daynum day)
{
    struct conetide_event closed, over = {0};
    size_t members = bloom->members;
    double total = 0;

    if (bloom->days[EVENT_CLOSED] == NULL)
        return 0;
    closed = known_event(bloom, EVENT_CLOSED);
    if (shed != NULL && shed->days[EVENT_SHED_LAST] != NULL)
        over = known_event(shed, EVENT_SHED_LAST);
    /* A date by the calendar has one member, which goes with every member of pollen. */
    if (bloom->given == NULL && over.members > members)
        members = over.members;
    for (size_t m = 0; m < members; m++)
        total += conetide_element_by(&closed, bloom->members == 1 ? 0 : m, day - 1) *
                 (over.members > 0 ? over_in(bloom, &over, m, day) : 1);
    return bloom->given != NULL ? total : total / (double)members;
}

const struct bloom *bloom_plain(const struct bloom *bloom)
{
    return bloom->plain != NULL ? bloom->plain : bloom;
}

void bloom_take_windows(struct bloom *bloom, struct arena *arena)
{
    const int32_t *opening = bloom->days[EVENT_OPENING], *first = bloom->days[EVENT_FIRST],
                  *last = bloom->days[EVENT_LAST];
    struct conetide_window *windows;

    if (opening == NULL || first == NULL || last == NULL)
        return;
    windows = ARENA_ARRAY(arena, bloom->members, struct conetide_window);
    for (size_t m = 0; m < bloom->members; m++)
        windows[m] = (struct conetide_window){opening[m], first[m], last[m]};
    bloom->windows = windows;
}
