/*
 * task_conditions.c - the days on which the condition of a row came true.
 */
#include "planning/task_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct seeking {
    struct tasking *tasking;
    struct anchor_asked asked;
    daynum since;
    struct true_day *list;
    size_t count, capacity;
};

/* Cold, storms and sprays are noted of a site. */
static bool is_of_site(enum note_kind kind)
{
    return kind == NOTE_FROST || kind == NOTE_STORM || kind == NOTE_SPRAYED;
}

static bool has_value(const struct task_term *term, const char *value)
{
    return term->value == NULL || (value != NULL && strlen(value) == term->value_length &&
                                   memcmp(value, term->value, term->value_length) == 0);
}

/* A subject that stands at no one site hears of all. */
static void sites_of(const struct seeking *seeking, size_t *first, size_t *end)
{
    if (task_holder(seeking->tasking, seeking->asked.kind, seeking->asked.unit->subject,
                    SUBJECT_SITE, first)) {
        *end = *first + 1;
        return;
    }
    *first = 0;
    *end = seeking->tasking->orchard->sites.count;
}

static double extreme_of(const struct record *record, enum term_kind kind, daynum day)
{
    size_t at;

    if (record->count == 0 || day < record->first_day ||
        day - record->first_day >= (daynum)record->count)
        return NAN;
    at = (size_t)(day - record->first_day);
    return kind == TERM_TMIN ? record->tmin_c[at] : record->tmax_c[at];
}

static bool compares(const struct task_term *term, double value, double limit)
{
    switch (term->sense) {
    case AT_MOST:
        return value <= limit;
    case AT_LEAST:
        return value >= limit;
    case BELOW:
        return value < limit;
    case ABOVE:
        return value > limit;
    }
    return false;
}

static bool extreme_holds(const struct seeking *seeking, const struct task_term *term, daynum day)
{
    size_t site, end;

    for (sites_of(seeking, &site, &end); site < end; site++)
        if (compares(term, extreme_of(&seeking->tasking->observed[site], term->kind, day),
                     term->limit_c))
            return true;
    return false;
}

static bool noted_under(const struct seeking *seeking, const struct task_term *term,
                        enum subject_kind kind, size_t subject, daynum day)
{
    size_t count;
    const struct closing *list = task_closings_of(seeking->tasking, kind, subject, &count);

    for (size_t i = 0; i < count; i++)
        if (list[i].kind == term->note && list[i].day == day && has_value(term, list[i].value))
            return true;
    return false;
}

static bool note_holds(const struct seeking *seeking, const struct task_term *term, daynum day)
{
    size_t site, end;

    if (!is_of_site(term->note))
        return noted_under(seeking, term, seeking->asked.kind, seeking->asked.unit->subject, day);
    for (sites_of(seeking, &site, &end); site < end; site++)
        if (noted_under(seeking, term, SUBJECT_SITE, site, day))
            return true;
    return false;
}

static bool day_holds(const struct seeking *seeking, const struct task_term *term, daynum day)
{
    struct anchor_asked asked = seeking->asked;
    struct task_day limit;

    asked.last_of_many = term->sense == AT_MOST || term->sense == BELOW;
    limit = task_anchor_day(seeking->tasking, &term->day, asked);
    return limit.day != DAY_NONE && compares(term, day, limit.day);
}

static bool term_holds(const struct seeking *seeking, const struct task_term *term, daynum day)
{
    switch (term->kind) {
    case TERM_NOTE:
        return note_holds(seeking, term, day);
    case TERM_TMIN:
    case TERM_TMAX:
        return extreme_holds(seeking, term, day);
    case TERM_DAY:
        return day_holds(seeking, term, day);
    }
    return false;
}

/* Every clause; *by: the first term that holds and is no mere day. */
static bool holds(const struct seeking *seeking, daynum day, const struct task_term **by)
{
    const struct task_rule *rule = seeking->asked.rule;
    size_t i = 0;

    *by = NULL;
    while (i < rule->when_count) {
        unsigned clause = rule->when[i].clause;
        bool any = false;

        for (; i < rule->when_count && rule->when[i].clause == clause; i++)
            if (!any && term_holds(seeking, &rule->when[i], day)) {
                any = true;
                if (*by == NULL && rule->when[i].kind != TERM_DAY)
                    *by = &rule->when[i];
            }
        if (!any)
            return false;
    }
    return true;
}

static void try_day(struct seeking *seeking, daynum day)
{
    const struct task_term *by;

    if (day >= seeking->since && day <= seeking->tasking->as_of && holds(seeking, day, &by))
        *ARENA_PUSH(seeking->tasking->arena, seeking->list, seeking->count, seeking->capacity) =
            (struct true_day){day, by};
}

static void try_notes(struct seeking *seeking, const struct task_term *term, enum subject_kind kind,
                      size_t subject)
{
    size_t count;
    const struct closing *list = task_closings_of(seeking->tasking, kind, subject, &count);

    for (size_t i = 0; i < count; i++)
        if (list[i].kind == term->note)
            try_day(seeking, list[i].day);
}

static int order_of_days(const void *a, const void *b)
{
    const struct true_day *one = a, *other = b;

    return (one->day > other->day) - (one->day < other->day);
}

static void keep_each_once(struct seeking *seeking)
{
    size_t kept = 0;

    if (seeking->count > 1)
        qsort(seeking->list, seeking->count, sizeof *seeking->list, order_of_days);
    for (size_t i = 0; i < seeking->count; i++)
        if (kept == 0 || seeking->list[kept - 1].day != seeking->list[i].day)
            seeking->list[kept++] = seeking->list[i];
    seeking->count = kept;
}

struct true_days task_true_days(struct tasking *tasking, struct anchor_asked asked, daynum since)
{
    struct seeking seeking = {.tasking = tasking, .asked = asked, .since = since};
    bool every_day = asked.rule->when_count > 0;

    for (size_t i = 0; i < asked.rule->when_count; i++) {
        const struct task_term *term = &asked.rule->when[i];
        size_t site, end;

        if (term->kind != TERM_NOTE)
            continue;
        /* A note that has no alternative: only its days can be true. */
        every_day &= !((i == 0 || term[-1].clause != term->clause) &&
                       (i + 1 == asked.rule->when_count || term[1].clause != term->clause));
        if (!is_of_site(term->note)) {
            try_notes(&seeking, term, asked.kind, asked.unit->subject);
            continue;
        }
        for (sites_of(&seeking, &site, &end); site < end; site++)
            try_notes(&seeking, term, SUBJECT_SITE, site);
    }
    for (daynum day = since; every_day && day <= tasking->as_of; day++)
        try_day(&seeking, day);
    keep_each_once(&seeking);
    return (struct true_days){seeking.list, seeking.count};
}

const char *task_true_words(struct tasking *tasking, struct anchor_asked asked,
                            const struct true_day *day)
{
    struct seeking seeking = {.tasking = tasking, .asked = asked};
    char text[DAY_TEXT];
    size_t site, end;

    day_text(day->day, text);
    if (day->term == NULL)
        return arena_printf(tasking->arena, "since %s", text);
    if (day->term->kind == TERM_NOTE)
        return arena_printf(tasking->arena, "%s noted on %s", note_names[day->term->note], text);
    for (sites_of(&seeking, &site, &end); site < end; site++) {
        double value = extreme_of(&tasking->observed[site], day->term->kind, day->day);

        if (compares(day->term, value, day->term->limit_c))
            return arena_printf(tasking->arena, "%.1f deg C on %s", value, text);
    }
    return NULL;
}
