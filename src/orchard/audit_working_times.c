/*
 * Crews and lifts: rows of one crew or lift that hold on one day.  A shorter row inside a longer
 * one replaces it; anything else leaves open which holds.  Blank hours of a lift may be hours that
 * somebody forgot.
 */
#include "orchard/audit.h"
#include "orchard/order.h"

#include <math.h>

enum { EVERY_DAY = 0xfe }; /* bits 1 to 7 */

/* A row of either table. */
struct span {
    struct place place;
    const char *noun, *name;
    daynum from, to;
    unsigned weekdays;
};

static bool meet(const struct span *a, const struct span *b)
{
    daynum from = a->from > b->from ? a->from : b->from, to = a->to < b->to ? a->to : b->to;
    unsigned both = a->weekdays & b->weekdays;
    for (daynum day = from; day <= to && day < from + 7; day++)
        if (both & 1u << (unsigned)day_weekday(day))
            return true;
    return false;
}

static bool holds(const struct span *longer, const struct span *shorter)
{
    return longer->from <= shorter->from && shorter->to <= longer->to;
}

static void check_pair(struct audit *audit, const struct span *a, const struct span *b)
{
    if (!meet(a, b))
        return;
    if (order_place(a->place, b->place) > 0) { /* told at the row that came second */
        const struct span *first = b;
        b = a;
        a = first;
    }
    if (a->to - a->from == b->to - b->from)
        diag_error(audit->diags, b->place, "equal-times",
                   "this row of %s %s is as long as that of line %u and holds on the same days, "
                   "expected one that holds, remove one, or give them other weekdays",
                   b->noun, audit_quote(audit, b->name), a->place.line);
    else if (!holds(a, b) && !holds(b, a))
        diag_warning(
            audit->diags, b->place, "overlapping-times",
            "this row of %s %s overlaps that of line %u, and neither lies inside the other, "
            "expected rows apart or a shorter one inside a longer, correct a date; until then "
            "the shorter holds",
            b->noun, audit_quote(audit, b->name), a->place.line);
}

/* Spans are sorted by name, then by first day. */
static void check_spans(struct audit *audit, const struct span *spans, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (spans[i].from > spans[i].to)
            diag_error(
                audit->diags, spans[i].place, "from-after-to",
                "%s %s is there from a day after its last, expected from no later than to, swap "
                "or correct them",
                spans[i].noun, audit_quote(audit, spans[i].name));
        for (size_t j = i + 1; j < count && order_text(spans[i].name, spans[j].name) == 0 &&
                               spans[j].from <= spans[i].to;
             j++)
            check_pair(audit, &spans[i], &spans[j]);
    }
}

void audit_working_times(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    struct span *spans = ARENA_ARRAY(audit->arena, orchard->crews.count, struct span);
    for (size_t i = 0; i < orchard->crews.count; i++) {
        const struct crew_time *row = &orchard->crews.list[i];
        spans[i] = (struct span){row->place, "crew", row->crew, row->from, row->to, row->weekdays};
    }
    check_spans(audit, spans, orchard->crews.count);

    spans = ARENA_ARRAY(audit->arena, orchard->lifts.count, struct span);
    for (size_t i = 0; i < orchard->lifts.count; i++) {
        const struct lift_time *row = &orchard->lifts.list[i];
        spans[i] = (struct span){row->place, "lift", row->lift, row->from, row->to, EVERY_DAY};
        if (isnan(row->hours_per_day))
            diag_warning(audit->diags, row->place, "hours-missing",
                         "this row of lift %s has no hours_per_day, expected hours, or 0 while it "
                         "is down, write them; until then it is counted as down",
                         audit_quote(audit, row->lift));
    }
    check_spans(audit, spans, orchard->lifts.count);
}
