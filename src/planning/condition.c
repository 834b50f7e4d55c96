#include "planning/condition.h"

#include <assert.h>
#include <math.h>

/* Elements that weigh less are left out. */
static const double weight_least = 1e-9;

/* One element in the making: a member, with its events that have come on given days or not. */
struct element {
    size_t member;
    bool stands;                 /* what has come lies on `come` */
    daynum come[LOOKED_EVENTS];  /* [looks->come] */
    int moved;                   /* days that the rest lies later than in the member */
    struct conetide_given given; /* weight not yet divided by the sum */
};

struct making {
    const struct bloom *plain;
    const struct looks *looks;
    struct spreads *spreads;
    struct arena *arena;
    struct element *list;
    size_t count, capacity;
    double weight; /* of the list */
};

static const int32_t *days_of(const struct making *making, int looked)
{
    return making->plain->days[looked_events[looked]];
}

/* Shifts of a member, first to last. */
struct shift_span {
    int least, most;
};

static void cut_least(struct shift_span *span, int64_t least)
{
    if (least > span->least)
        span->least = least > span->most ? span->most + 1 : (int)least;
}

static void cut_most(struct shift_span *span, int64_t most)
{
    if (most < span->most)
        span->most = most < span->least ? span->least - 1 : (int)most;
}

/* Cut to the shifts with which what has come came between its looks. */
static void cut_by_come(const struct making *making, size_t m, struct shift_span *span)
{
    for (int i = 0; i < making->looks->come; i++) {
        const int32_t *days = days_of(making, i);

        if (days == NULL)
            continue;
        if (days[m] == CONETIDE_NEVER) {
            span->most = span->least - 1;
            return;
        }
        cut_most(span, (int64_t)making->looks->by[i] - days[m]);
        if (making->looks->after[i] != DAY_NONE)
            cut_least(span, (int64_t)making->looks->after[i] + 1 - days[m]);
    }
}

/* Cut to the shifts with which what has not come comes after the last look. */
static void cut_by_rest(const struct making *making, size_t m, int moved, struct shift_span *span)
{
    for (int i = making->looks->come; i < LOOKED_EVENTS; i++) {
        const int32_t *days = days_of(making, i);

        if (days != NULL && days[m] != CONETIDE_NEVER && making->looks->after[i] != DAY_NONE)
            cut_least(span, (int64_t)making->looks->after[i] + 1 - days[m] - moved);
    }
}

static double span_weight(const struct conetide_shifts *shifts, struct shift_span span)
{
    if (span.least > span.most)
        return 0;
    return conetide_shift_cumulative(shifts, span.most) -
           conetide_shift_cumulative(shifts, span.least - INT64_C(1));
}

/* Weight before what has not come is asked for; an element that no shift saves is left out. */
static void add_element(struct making *making, struct element element)
{
    struct conetide_given *given = &element.given;
    struct shift_span span = {given->least, given->most};
    double kept;

    cut_by_rest(making, element.member, element.moved, &span);
    kept = span_weight(given->shifts, span);
    given->weight *= kept;
    if (!(given->weight > weight_least / (double)making->plain->members))
        return;
    given->least = span.least;
    given->most = span.most;
    making->weight += given->weight;
    *ARENA_PUSH(making->arena, making->list, making->count, making->capacity) = element;
}

/* Every event moves by one shift. */
static void add_rigid(struct making *making, size_t m, struct shift_span span)
{
    add_element(making, (struct element){.member = m,
                                         .given = {1 / (double)making->plain->members,
                                                   making->plain->shifts, span.least, span.most}});
}

/* One element for each shift of what has come; the rest follows it by the correlation. */
static void add_shrunk(struct making *making, size_t m, struct shift_span span)
{
    const struct bloom *plain = making->plain;
    int reach = plain->shifts->reach;

    for (int j = span.least; j <= span.most; j++) {
        double share = span_weight(plain->shifts, (struct shift_span){j, j});
        struct element element = {
            .member = m,
            .stands = true,
            .given = {share / (double)plain->members,
                      spread_after(making->spreads, plain->sigma_days, LATER_CORRELATION, j),
                      -reach, reach}};

        for (int i = 0; i < making->looks->come; i++)
            element.come[i] = days_of(making, i) != NULL ? days_of(making, i)[m] + j : DAY_NONE;
        add_element(making, element);
    }
}

static int known_among(const struct making *making, int from, int end)
{
    int known = 0;

    for (int i = from; i < end; i++)
        known += days_of(making, i) != NULL;
    return known;
}

/* Futures that no look contradicts. */
static void take_futures(struct making *making)
{
    int come = making->looks->come, reach = making->plain->shifts->reach;
    bool shrinks = come < LOOKED_EVENTS && known_among(making, 0, come) > 0;

    for (size_t m = 0; m < making->plain->members; m++) {
        struct shift_span span = {-reach, reach};

        cut_by_come(making, m, &span);
        if (shrinks)
            add_shrunk(making, m, span);
        else
            add_rigid(making, m, span);
    }
}

static void start_anew(struct making *making)
{
    making->count = 0;
    making->weight = 0;
}

static daynum cut_to_looks(const struct looks *looks, int looked, int64_t day)
{
    if (looks->after[looked] != DAY_NONE && day <= looks->after[looked])
        return looks->after[looked] + 1;
    return day > looks->by[looked] ? looks->by[looked] : (daynum)day;
}

/* Every member with its event `anchor` on each of the days first to last alike. */
static void anchor_on(struct making *making, int anchor, daynum first, daynum last)
{
    const struct looks *looks = making->looks;
    /* What comes next has its spread; where all has come, or the next is the anchor, none. */
    bool spreads = anchor < looks->come && looks->come < LOOKED_EVENTS;
    double rest = sqrt(1 - LATER_CORRELATION * LATER_CORRELATION);
    const struct spread spread =
        spread_of_days(making->spreads, spreads ? making->plain->sigma_days * rest : 0);
    size_t members = 0;

    start_anew(making);
    for (size_t m = 0; m < making->plain->members; m++)
        members += days_of(making, anchor)[m] != CONETIDE_NEVER;
    for (size_t m = 0; m < making->plain->members; m++) {
        for (daynum day = first; day <= last && days_of(making, anchor)[m] != CONETIDE_NEVER;
             day++) {
            struct element element = {.member = m,
                                      .stands = true,
                                      .moved = day - days_of(making, anchor)[m],
                                      .given = {1 / (double)members / (last - first + 1),
                                                spread.shifts, -spread.shifts->reach,
                                                spread.shifts->reach}};

            for (int i = 0; i < looks->come; i++)
                element.come[i] =
                    days_of(making, i) == NULL
                        ? DAY_NONE
                        : cut_to_looks(looks, i, (int64_t)days_of(making, i)[m] + element.moved);
            add_element(making, element);
        }
    }
}

/* Looks alone: the newest event that came within its interval, or the next one soon. */
static void take_looks_alone(struct making *making)
{
    const struct looks *looks = making->looks;

    for (int i = looks->come; i-- > 0;) {
        if (days_of(making, i) == NULL)
            continue;
        anchor_on(making, i,
                  looks->after[i] != DAY_NONE ? looks->after[i] + 1
                                              : looks->by[i] - OPEN_INTERVAL_DAYS + 1,
                  looks->by[i]);
        if (making->weight >= FUTURES_LEFT_LEAST)
            return;
        break;
    }
    for (int i = looks->come; i < LOOKED_EVENTS; i++) {
        if (days_of(making, i) == NULL)
            continue;
        anchor_on(making, i, looks->after[i] + 1, looks->after[i] + OPEN_INTERVAL_DAYS);
        return;
    }
}

/* Where a standing event lies in an element, or an event to come before its shift. */
static int32_t day_in(const struct making *making, enum event event, const struct element *element)
{
    int32_t day = making->plain->days[event][element->member];

    for (int i = 0; element->stands && i < making->looks->come; i++) {
        if (looked_events[i] == event)
            return element->come[i];
    }
    return day == CONETIDE_NEVER ? day : day + element->moved;
}

static void take_days(const struct making *making, struct bloom *bloom)
{
    for (int e = EVENT_OPENING; e <= EVENT_SHED_LAST; e++) {
        int32_t *days;

        if (making->plain->days[e] == NULL)
            continue;
        days = ARENA_ARRAY(making->arena, making->count, int32_t);
        for (size_t n = 0; n < making->count; n++)
            days[n] = e <= EVENT_CLOSED ? day_in(making, (enum event)e, &making->list[n])
                                        : making->plain->days[e][making->list[n].member];
        bloom->days[e] = days;
    }
    if (bloom->days[EVENT_OPENING] != NULL) {
        int32_t *bag_by = ARENA_ARRAY(making->arena, making->count, int32_t);

        for (size_t n = 0; n < making->count; n++)
            bag_by[n] = bloom->days[EVENT_OPENING][n] == CONETIDE_NEVER
                            ? CONETIDE_NEVER
                            : bloom->days[EVENT_OPENING][n] - 1;
        bloom->days[EVENT_BAG_BY] = bag_by;
    }
}

static void take_elements(const struct making *making, struct bloom *bloom)
{
    struct conetide_given *given = ARENA_ARRAY(making->arena, making->count, struct conetide_given);
    size_t *origin = ARENA_ARRAY(making->arena, making->count, size_t);
    int *season = making->plain->member_season != NULL
                      ? ARENA_ARRAY(making->arena, making->count, int)
                      : NULL;

    for (size_t n = 0; n < making->count; n++) {
        given[n] = making->list[n].given;
        given[n].weight /= making->weight;
        origin[n] = making->list[n].member;
        if (season != NULL)
            season[n] = making->plain->member_season[origin[n]];
    }
    bloom->members = making->count;
    bloom->given = given;
    bloom->origin = origin;
    bloom->member_season = season;
}

/* What has come came where it was seen: no spread of its own is left. */
static void take_come(const struct making *making, struct bloom *bloom)
{
    for (int i = 0; i < making->looks->come; i++) {
        bloom->own[looked_events[i]] = NULL;
        bloom->stands[looked_events[i]] = making->list[0].stands;
    }
    bloom->stands[EVENT_BAG_BY] = bloom->stands[EVENT_OPENING];
}

struct bloom *condition_bloom(const struct bloom *plain, const struct looks *looks,
                              struct spreads *spreads, struct arena *arena)
{
    struct looks *kept = ARENA_NEW(arena, struct looks);
    struct bloom *bloom = ARENA_NEW(arena, struct bloom);
    struct making making = {.plain = plain, .looks = kept, .spreads = spreads, .arena = arena};

    assert(looks->count > 0 && plain->plain == NULL);
    *kept = *looks;
    *bloom = *plain;
    bloom->looks = kept;
    bloom->plain = plain;
    if (known_among(&making, 0, LOOKED_EVENTS) == 0)
        return bloom;
    take_futures(&making);
    bloom->left = making.weight;
    if (making.weight < FUTURES_LEFT_LEAST) {
        bloom->looks_alone = true;
        take_looks_alone(&making);
    }
    if (making.count == 0) /* no member brings what was seen: nothing to go by */
        return bloom;
    take_come(&making, bloom);
    take_days(&making, bloom);
    take_elements(&making, bloom);
    bloom->windows = NULL;
    bloom_take_windows(bloom, arena);
    return bloom;
}
