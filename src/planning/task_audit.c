#include "planning/task_audit.h"

#include "planning/task_parts.h"

enum pass { EARLY, LATE, PASSES };

struct site_calendar {
    struct tasking tasking;
    struct unit *unit;
    struct table_pass pass[PASSES];
    daynum *order_by; /* [rules.count] */
};

static struct anchor_asked asked_of(const struct site_calendar *calendar, size_t row)
{
    return (struct anchor_asked){.rule = &calendar->tasking.rules.list[row],
                                 .kind = SUBJECT_SITE,
                                 .unit = calendar->unit,
                                 .when = DAY_NONE};
}

static void take_pass(struct site_calendar *calendar, enum pass pass)
{
    struct tasking *tasking = &calendar->tasking;

    calendar->pass[pass] = (struct table_pass){
        .results = ARENA_ARRAY(tasking->arena, tasking->rules.count, struct task_result),
        .late = pass == LATE};
    tasking->pass = &calendar->pass[pass];
    for (size_t i = 0; i < tasking->rules.count; i++) {
        size_t row = tasking->rules.order[i];

        if (!tasking->rules.list[row].per_occurrence)
            calendar->pass[pass].results[row] =
                task_window_of(tasking, asked_of(calendar, row), &calendar->order_by[row]);
    }
}

static void calendar_at(struct site_calendar *calendar, const struct state *state,
                        struct dates *dates, const struct site *site, int cycle,
                        struct arena *arena)
{
    const struct orchard *orchard = state->orchard;
    struct tasking *tasking = &calendar->tasking;
    size_t at = (size_t)(site - orchard->sites.list);

    *calendar = (struct site_calendar){.tasking = {.orchard = orchard,
                                                   .state = state,
                                                   .dates = dates,
                                                   .arena = arena,
                                                   .rules = task_rules_of(orchard, arena, NULL),
                                                   .as_of = orchard->as_of,
                                                   .from = day_from_civil(cycle, 7, 1),
                                                   .to = day_from_civil(cycle, 7, 1)}};
    cache_init(&tasking->spans, arena);
    cache_init(&tasking->windows, arena);
    task_units_of_sites(tasking, cycle);
    calendar->unit =
        &tasking->units[SUBJECT_SITE].list[task_unit_of(tasking, SUBJECT_SITE, at, cycle)];
    task_events_of_site(tasking, calendar->unit);
    calendar->order_by = ARENA_ARRAY(arena, tasking->rules.count, daynum);
    take_pass(calendar, LATE);
    take_pass(calendar, EARLY);
}

struct task_calendar task_calendar_of(const struct state *state, struct dates *dates,
                                      const struct site *site, int cycle, struct arena *arena)
{
    struct site_calendar calendar;
    struct task_calendar days;

    calendar_at(&calendar, state, dates, site, cycle, arena);
    days.count = calendar.tasking.rules.count;
    days.list = ARENA_ARRAY(arena, days.count, struct task_days);
    for (size_t i = 0; i < days.count; i++) {
        const struct task_result *early = &calendar.pass[EARLY].results[i];
        const struct task_result *late = &calendar.pass[LATE].results[i];

        days.list[i] = (struct task_days){
            .kind = calendar.tasking.rules.list[i].kind,
            .first = early->exists ? early->first : DAY_NONE,
            .last = late->exists    ? late->last
                    : early->exists ? early->last
                                    : DAY_NONE,
            .order_by = early->exists ? calendar.order_by[i] : DAY_NONE,
            .rough = early->rough || late->rough,
        };
    }
    return days;
}

/* ---- the audit ------------------------------------------------------------------------------ */

struct finding {
    size_t row;
    enum task_cell cell;
    const char *code;
    bool warning;
    const char *message; /* up to where the other sites are told */
    const char *mend;
    size_t sites;
};

struct auditing {
    struct site_calendar calendar; /* of the site being asked */
    const struct site *site;
    struct arena *arena;
    struct diags *diags;
    struct finding *list;
    size_t count, capacity;
    size_t found; /* at all sites */
};

/* The same of another site only counts. */
static void find(struct auditing *auditing, struct finding finding)
{
    auditing->found++;
    for (size_t i = 0; i < auditing->count; i++)
        if (auditing->list[i].row == finding.row && auditing->list[i].cell == finding.cell &&
            auditing->list[i].code == finding.code &&
            auditing->list[i].warning == finding.warning) {
            auditing->list[i].sites++;
            return;
        }
    finding.sites = 1;
    *ARENA_PUSH(auditing->arena, auditing->list, auditing->count, auditing->capacity) = finding;
}

static const char *named(const struct auditing *auditing, size_t row)
{
    return diag_quote(auditing->diags, auditing->calendar.tasking.rules.list[row].kind->task);
}

/* The two ends by the anchors alone, in one pass; false: one of them cannot be told. */
static bool ends_in(struct auditing *auditing, enum pass pass, size_t row, daynum *first,
                    daynum *last)
{
    struct tasking *tasking = &auditing->calendar.tasking;
    struct anchor_asked asked = asked_of(&auditing->calendar, row);

    tasking->pass = &auditing->calendar.pass[pass];
    *first = task_anchor_day(tasking, &asked.rule->earliest, asked).day;
    *last = task_latest_day(tasking, asked).day;
    return *first != DAY_NONE && *last != DAY_NONE;
}

static void check_window(struct auditing *auditing, enum pass pass, size_t row)
{
    const struct task_rule *rule = &auditing->calendar.tasking.rules.list[row];
    char a[DAY_TEXT], b[DAY_TEXT];
    daynum first, last;

    if (rule->latest.kind == ANCHOR_ORDER_BY || !ends_in(auditing, pass, row, &first, &last) ||
        first <= last)
        return;
    find(auditing,
         (struct finding){
             .row = row,
             .cell = TASK_CELL_LATEST,
             .code = "task-window",
             .warning = pass == LATE || rule->kind->shipped,
             .message = arena_printf(
                 auditing->arena, "task %s at %s %sopens on %s and closes on %s",
                 named(auditing, row), diag_quote(auditing->diags, auditing->site->name),
                 pass == LATE ? "may come too late: when all before it is done on its last day, it "
                              : "",
                 day_text(first, a), day_text(last, b)),
             .mend = "expected days to do it in, correct 'earliest' or 'latest'"});
}

static void check_before(struct auditing *auditing, enum pass pass, size_t row,
                         struct task_before before)
{
    const struct task_rule *rule = &auditing->calendar.tasking.rules.list[row];
    const struct task_result *own = &auditing->calendar.pass[pass].results[row];
    const struct task_result *other = &auditing->calendar.pass[pass].results[before.task];
    daynum done = pass == LATE ? other->last : other->first;
    char a[DAY_TEXT], b[DAY_TEXT];

    if (!own->exists || !other->exists || done + before.lag_days <= own->last)
        return;
    find(auditing,
         (struct finding){
             .row = row,
             .cell = TASK_CELL_AFTER,
             .code = "task-predecessor",
             .warning = pass == LATE || rule->kind->shipped,
             .message = arena_printf(
                 auditing->arena, "task %s at %s closes on %s, and %s is done on %s at the %s%s",
                 named(auditing, row), diag_quote(auditing->diags, auditing->site->name),
                 day_text(own->last, a), named(auditing, before.task), day_text(done, b),
                 pass == LATE ? "latest" : "earliest",
                 before.lag_days > 0
                     ? arena_printf(auditing->arena, " with %d days after it", before.lag_days)
                     : ""),
             .mend = "expected what comes before to fit, correct the days of one of them"});
}

static void check_order(struct auditing *auditing, size_t row)
{
    struct tasking *tasking = &auditing->calendar.tasking;
    const struct task_rule *rule = &tasking->rules.list[row];
    struct anchor_asked asked = asked_of(&auditing->calendar, row);
    char a[DAY_TEXT], b[DAY_TEXT], c[DAY_TEXT];
    daynum first, last, needed, comes;
    int lead = rule->kind->lead_days;

    tasking->pass = &auditing->calendar.pass[EARLY];
    needed = task_anchor_day(tasking, &rule->needed_by, asked).day;
    if (lead < 0 || needed == DAY_NONE || !ends_in(auditing, EARLY, row, &first, &last) ||
        first >= needed)
        return;
    comes = (first + lead > needed ? first : last) + lead;
    if (comes <= needed)
        return;
    find(auditing,
         (struct finding){
             .row = row,
             .cell = TASK_CELL_NEEDED_BY,
             .code = "order-too-late",
             .warning = first + lead <= needed || rule->kind->shipped,
             .message = arena_printf(
                 auditing->arena,
                 "task %s at %s: ordered on its %s day, %s, it comes on %s, %d days after it is "
                 "needed on %s",
                 named(auditing, row), diag_quote(auditing->diags, auditing->site->name),
                 first + lead > needed ? "first" : "last", day_text(comes - lead, a),
                 day_text(comes, b), comes - needed, day_text(needed, c)),
             .mend = first + lead > needed
                         ? "expected an order in time, open it earlier"
                         : "expected an order in time, write order_by in 'latest'"});
}

static void check_row(struct auditing *auditing, size_t row)
{
    const struct task_rule *rule = &auditing->calendar.tasking.rules.list[row];

    if (rule->per_occurrence)
        return;
    for (int pass = EARLY; pass < PASSES; pass++) {
        size_t before = auditing->found;

        check_window(auditing, (enum pass)pass, row);
        for (size_t i = 0; i < rule->after_count; i++)
            check_before(auditing, (enum pass)pass, row, rule->after[i]);
        if (auditing->found > before)
            break; /* what fails at the earliest fails at the latest */
    }
    check_order(auditing, row);
}

static void tell(struct auditing *auditing, const struct finding *finding)
{
    const struct task_rules *rules = &auditing->calendar.tasking.rules;
    struct place place = rules->list[finding->row].kind->cells[finding->cell];
    const char *more = finding->sites > 1
                           ? arena_printf(auditing->arena, " (and so at %zu more site%s)",
                                          finding->sites - 1, finding->sites > 2 ? "s" : "")
                           : "";

    if (finding->warning)
        diag_warning(auditing->diags, place, finding->code, "%s%s, %s", finding->message, more,
                     finding->mend);
    else
        diag_error(auditing->diags, place, finding->code, "%s%s, %s", finding->message, more,
                   finding->mend);
}

void task_audit(const struct state *state, struct dates *dates, struct arena *arena,
                struct diags *diags)
{
    const struct orchard *orchard = state->orchard;
    struct auditing auditing = {.arena = arena, .diags = diags};

    for (size_t i = 0; i < orchard->sites.count; i++) {
        const struct site *site = &orchard->sites.list[i];
        int cycle = day_season(orchard_season_rule(orchard, site), orchard->as_of);

        auditing.site = site;
        calendar_at(&auditing.calendar, state, dates, site, cycle, arena);
        for (size_t row = 0; row < auditing.calendar.tasking.rules.count; row++)
            check_row(&auditing, row);
    }
    for (size_t i = 0; i < auditing.count; i++)
        tell(&auditing, &auditing.list[i]);
}
