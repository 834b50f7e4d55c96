#include "writing/head.h"

#include "planning/attention.h"
#include "planning/season_heat.h"
#include "writing/words.h"

#include <math.h>
#include <string.h>

enum { SCOUT_DAYS_BEFORE = 10 };

void head_init(struct head *head, const struct page_run *run)
{
    *head = (struct head){.run = run};
}

static struct head_season *season_of(struct head *head, const struct site *site, int season)
{
    for (size_t i = head->count; i-- > 0;)
        if (head->list[i].site == site && head->list[i].season == season)
            return &head->list[i];
    struct head_season *added =
        ARENA_PUSH(head->run->arena, head->list, head->count, head->capacity);
    *added = (struct head_season){
        .site = site, .season = season, .scout = DAY_NEVER, .sums_start = DAY_NONE};
    return added;
}

/* The clock that an event of this bloom is summed by, through `after` others; NULL: none. */
static const struct clock *clock_of(const struct bloom *bloom, enum event event)
{
    const struct threshold *threshold = bloom->threshold[event];
    for (int steps = 0; steps < EVENTS && threshold; steps++) {
        if (threshold->kind == THRESHOLD_SUM)
            return threshold->clock;
        if (threshold->kind != THRESHOLD_AFTER)
            return NULL;
        threshold = bloom->threshold[threshold->after];
    }
    return NULL;
}

static void see_sums_start(const struct head *head, struct head_season *seen,
                           const struct bloom *bloom)
{
    struct season_rule rule = orchard_season_rule(head->run->orchard, seen->site);
    daynum season_start = day_season_start(rule, seen->season);
    for (enum event event = EVENT_OPENING; event <= EVENT_CLOSED && season_start != DAY_NONE;
         event++) {
        const struct clock *clock = clock_of(bloom, event);
        if (!clock || clock->counts || clock->after_chilling.counts)
            continue; /* cold and light are no heat: what they know starts earlier */
        daynum start = day_on_or_after(season_heat_clock_start(clock, rule), season_start);
        if (seen->sums_start == DAY_NONE || (start != DAY_NONE && start < seen->sums_start))
            seen->sums_start = start;
    }
}

void head_see(struct head *head, const struct site *site, int season, const struct bloom *bloom)
{
    struct head_season *seen = season_of(head, site, season);
    if (!bloom || bloom == head->newest)
        return;
    head->newest = bloom;
    if (site)
        see_sums_start(head, seen, bloom);
    if (bloom->basis != BASIS_BORROWED && bloom->basis != BASIS_CALENDAR)
        return;
    seen->borrowed |= bloom->basis == BASIS_BORROWED;
    seen->calendar |= bloom->basis == BASIS_CALENDAR;
    daynum opening = bloom_date(bloom, EVENT_OPENING, 0.5);
    if (opening != DAY_NONE && opening != DAY_NEVER && opening - SCOUT_DAYS_BEFORE < seen->scout)
        seen->scout = opening - SCOUT_DAYS_BEFORE;
}

static daynum newest_observed(const struct record *record)
{
    for (size_t i = record->count; i-- > 0;)
        if (isfinite(record->tmin_c[i]) && isfinite(record->tmax_c[i]))
            return record->first_day + (daynum)i;
    return DAY_NONE;
}

static bool same_station(const struct head_season *a, const struct head_season *b)
{
    return a->site && b->site && a->site->station_name && b->site->station_name &&
           strcmp(a->site->station_name, b->site->station_name) == 0;
}

/* Has an earlier element this station (and this season)? */
static bool told_before(const struct head *head, size_t at, bool any_season)
{
    for (size_t i = 0; i < at; i++)
        if (same_station(&head->list[i], &head->list[at]) &&
            (any_season || head->list[i].season == head->list[at].season))
            return true;
    return false;
}

/* What is known of the weather of a site; NULL where no dates were worked out. */
static const struct station_record *record_of(const struct head *head,
                                              const struct head_season *seen)
{
    return head->run->dates ? dates_weather(head->run->dates, seen->site, seen->season)->record
                            : NULL;
}

static daynum newest_of(const struct station_record *record, const struct head_season *seen)
{
    return record               ? record->newest_observed
           : seen->site->record ? newest_observed(seen->site->record)
                                : DAY_NONE;
}

/* " (12 days old)"; nothing of what is of today. */
static void add_age(const struct head *head, daynum day, struct text *out)
{
    if (day >= head->run->as_of)
        return;
    text_add(out, " (");
    words_add_count(out, (size_t)(head->run->as_of - day), "day", "days");
    text_add(out, " old)");
}

/* " to 2027-02-18 (12 days old) and forecast of 2027-02-18 (12 days old) to 2027-02-25". */
static void add_reach(const struct head *head, const struct head_season *seen, struct text *out)
{
    const struct station_record *record = record_of(head, seen);
    daynum newest = newest_of(record, seen);
    char day[DAY_TEXT];
    if (newest != DAY_NONE) {
        text_addf(out, " to %s", day_text(newest, day));
        add_age(head, newest, out);
    } else if (record && record->neighbour) {
        text_add(out, ": none, neighbour ");
        text_add_printable(out, record->neighbour);
        text_addf(out, " to %s", day_text(record->neighbour_newest, day));
        add_age(head, record->neighbour_newest, out);
    } else {
        text_add(out, ": no weather");
    }
    if (record && record->forecast) {
        text_addf(out, " and forecast of %s", day_text(record->forecast->issued, day));
        add_age(head, record->forecast->issued, out);
        text_addf(out, " to %s", day_text(record->forecast_last, day));
    }
}

/* What is too old to go unsaid, a line each. */
static void add_stale(const struct head *head, struct text *out)
{
    char day[DAY_TEXT];
    for (size_t i = 0; i < head->count; i++) {
        const struct head_season *seen = &head->list[i];
        if (!seen->site || !seen->site->station_name || told_before(head, i, true))
            continue;
        const struct station_record *record = record_of(head, seen);
        daynum newest = newest_of(record, seen);
        if (newest != DAY_NONE && head->run->as_of - newest > ATTENTION_WEATHER_DAYS) {
            text_add(out, HEAD_ALOUD "WEATHER: ");
            text_add_printable(out, seen->site->station_name);
            text_addf(out, " has none after %s, so dates know nothing of the days since; add it\n",
                      day_text(newest, day));
        }
        if (record && record->forecast &&
            head->run->as_of - record->forecast->issued > ATTENTION_FORECAST_DAYS) {
            text_add(out, HEAD_ALOUD "FORECAST: that of ");
            text_add_printable(out, seen->site->station_name);
            text_addf(out, " is of %s; get a new one\n", day_text(record->forecast->issued, day));
        }
    }
}

void head_add_newest(const struct head *head, struct text *out)
{
    size_t told = 0;
    for (size_t i = 0; i < head->count; i++) {
        const struct site *site = head->list[i].site;
        if (!site || !site->station_name || told_before(head, i, true))
            continue;
        text_add(out, told++ ? ", " : "");
        text_add_printable(out, site->station_name);
        add_reach(head, &head->list[i], out);
    }
    if (!told)
        text_add(out, "none");
}

void head_add_left_out(const struct left_out_year *year, struct text *out)
{
    static const char *const reasons[] = {
        [LEFT_OUT_GAP] = "a gap of ",
        [LEFT_OUT_GAPS] = "long gaps of together ",
        [LEFT_OUT_RECORD] = "the record lacks ",
    };
    text_add(out, reasons[year->reason]);
    words_add_count(out, (size_t)year->missing_days, "day", "days");
}

void head_add_left_out_years(const struct season_weather *weather, struct text *out)
{
    for (size_t i = 0; i < weather->left_out_count; i++) {
        text_addf(out, "%s%d (", i ? ", " : "; left out ", weather->left_out[i].season);
        head_add_left_out(&weather->left_out[i], out);
        text_add(out, ")");
    }
}

bool head_add_mean_days(const struct season_weather *weather, const char *lead, struct text *out)
{
    size_t told = 0;
    for (size_t m = 0; m < weather->members; m++) {
        if (weather->member_mean_days[m] == 0)
            continue;
        text_addf(out, "%s%d (", told++ ? ", " : lead, weather->member_season[m]);
        words_add_count(out, (size_t)weather->member_mean_days[m], "day", "days");
        text_add(out, ")");
    }
    return told > 0;
}

double head_warming_a_decade(const struct season_weather *weather, const struct page_run *run)
{
    double a_decade = 10 * weather->warming_c * (run->units_us ? 1.8 : 1);

    return fabs(a_decade) < 0.005 ? 0 : a_decade;
}

/* "; warmed by 0.21 deg C a decade, taken into account". */
static void add_warming(const struct season_weather *weather, const struct page_run *run,
                        struct text *out)
{
    double a_decade = head_warming_a_decade(weather, run);

    if (a_decade == 0)
        return;
    text_addf(out, "; %s by %.2f deg %s a decade, taken into account",
              a_decade < 0 ? "cooled" : "warmed", fabs(a_decade), run->units_us ? "F" : "C");
}

/* "; 812 days of 9 of them from neighbour TARN". */
static void add_neighbour(const struct season_weather *weather, struct text *out)
{
    if (weather->neighbour_members == 0)
        return;
    text_add(out, "; ");
    words_add_count(out, weather->neighbour_days, "day", "days");
    text_addf(out, " of %zu of them from neighbour ", weather->neighbour_members);
    text_add_printable(out, weather->record->neighbour);
}

/* "26 past years used as futures; left out 2019 (a gap of 40 days)". */
static const char *past_years(const struct season_weather *weather, const struct page_run *run)
{
    struct text words;
    text_init(&words, run->arena);
    words_add_count(&words, weather->members, "past year", "past years");
    text_add(&words, " used as futures");
    add_neighbour(weather, &words);
    add_warming(weather, run, &words);
    head_add_left_out_years(weather, &words);
    (void)head_add_mean_days(weather, "; filled with the mean of the other years: ", &words);
    return words.bytes;
}

/* What each season rests on at the station of element `first`; NULL for elements of another one. */
static const char **past_years_at(const struct head *head, size_t first)
{
    const char **words = ARENA_ARRAY(head->run->arena, head->count, const char *);
    for (size_t i = first; i < head->count; i++) {
        const struct head_season *seen = &head->list[i];
        if (!same_station(&head->list[first], seen) || told_before(head, i, false))
            continue;
        const struct season_weather *weather =
            dates_weather(head->run->dates, seen->site, seen->season);
        words[i] = weather ? past_years(weather, head->run) : NULL;
    }
    return words;
}

/* "; of 2027 so far 1 day filled, 2 days lent by the past years". */
static void add_mended(const struct head *head, const struct head_season *seen, struct text *out)
{
    const struct season_weather *weather =
        dates_weather(head->run->dates, seen->site, seen->season);
    size_t neighbour = (size_t)weather->account.neighbour;
    size_t told = 0;
    if (!weather->filled_days && !weather->lent_days && !neighbour)
        return;
    text_addf(out, "; of %d so far ", seen->season);
    if (weather->filled_days) {
        words_add_count(out, weather->filled_days, "day", "days");
        text_add(out, " filled");
        told++;
    }
    if (neighbour) {
        text_add(out, told++ ? ", " : "");
        words_add_count(out, neighbour, "day", "days");
        text_add(out, " from neighbour ");
        text_add_printable(out, weather->record->neighbour);
    }
    if (weather->lent_days) {
        text_add(out, told ? ", " : "");
        words_add_count(out, weather->lent_days, "day", "days");
        text_add(out, " lent by the past years");
    }
}

/* A line for the station of element `first`, with the seasons named only when they differ. */
static void add_station(const struct head *head, size_t first, struct text *out)
{
    const char **words = past_years_at(head, first);
    bool differ = false;
    for (size_t i = first + 1; i < head->count; i++)
        differ = differ || (words[i] && words[first] && strcmp(words[i], words[first]) != 0);
    for (size_t i = first; i < head->count; i++) {
        const char *said = words[i];
        struct text mended;
        if (!said)
            continue;
        text_init(&mended, head->run->arena);
        text_add_printable(out, head->list[i].site->station_name);
        for (size_t k = i; k < head->count; k++) {
            if (!words[k] || strcmp(words[k], said) != 0)
                continue;
            if (differ)
                text_addf(out, "%s%d", k == i ? " " : ", ", head->list[k].season);
            add_mended(head, &head->list[k], &mended);
            words[k] = NULL;
        }
        text_addf(out, ": %s%s\n", said, mended.bytes);
    }
}

static void add_place(const struct head_season *seen, struct text *out)
{
    text_add_printable(out, seen->site ? seen->site->name : "-");
    text_addf(out, " %d: ", seen->season);
}

void head_add_warnings(const struct head *head, struct text *out)
{
    add_stale(head, out);
    for (size_t i = 0; i < head->count; i++) {
        const struct head_season *seen = &head->list[i];
        if (!seen->borrowed && !seen->calendar)
            continue;
        add_place(seen, out);
        text_addf(out, "%s, not measured here",
                  !seen->calendar   ? "borrowed dates"
                  : !seen->borrowed ? "calendar dates"
                                    : "borrowed and calendar dates");
        if (seen->scout != DAY_NEVER) {
            text_add(out, "; scout from ");
            words_add_day(out, seen->scout);
        }
        text_add(out, "\n");
    }
}

/* Is it told of this site and season that summing has not begun? */
static bool is_before_sums(const struct head *head, const struct head_season *seen)
{
    return seen->sums_start != DAY_NONE && head->run->as_of < seen->sums_start;
}

/* "Mon 17 Jan 2028 (Hawkfell, Larkmoor)"; `told` marks the elements that are in it. */
static void add_sites_summed_from(const struct head *head, size_t first, bool *told,
                                  struct text *out)
{
    words_add_day(out, head->list[first].sums_start);
    for (size_t i = first; i < head->count; i++) {
        const struct head_season *seen = &head->list[i];
        if (seen->season != head->list[first].season ||
            seen->sums_start != head->list[first].sums_start)
            continue;
        text_add(out, i == first ? " (" : ", ");
        text_add_printable(out, seen->site ? seen->site->name : "-");
        told[i] = true;
    }
    text_add(out, ")");
}

/* A line a season: from when on its dates know more than past years do. */
static void add_sums_start(const struct head *head, struct text *out)
{
    bool *told = ARENA_ARRAY(head->run->arena, head->count, bool);
    for (size_t i = 0; i < head->count; i++) {
        if (told[i] || !is_before_sums(head, &head->list[i]))
            continue;
        text_addf(out, "Heat of %d is summed from ", head->list[i].season);
        add_sites_summed_from(head, i, told, out);
        for (size_t k = i + 1; k < head->count; k++) {
            if (told[k] || head->list[k].season != head->list[i].season ||
                !is_before_sums(head, &head->list[k]))
                continue;
            text_add(out, ", ");
            add_sites_summed_from(head, k, told, out);
        }
        text_add(out, "; until then its dates know no more than past years do\n");
    }
}

void head_write_title(const struct page_run *run, const char *what, struct text *out)
{
    text_add(out, what);
    if (run->orchard->program.name) {
        text_add(out, ", ");
        text_add_printable(out, run->orchard->program.name);
    }
    text_add(out, "\nAs of ");
    words_add_day(out, run->as_of);
}

void head_write(const struct head *head, const char *what, struct text *out)
{
    head_write_title(head->run, what, out);
    text_add(out, "; weather observed: ");
    head_add_newest(head, out);
    text_add(out, "\n");
    for (size_t i = 0; head->run->dates && i < head->count; i++)
        if (head->list[i].site && head->list[i].site->station_name && !told_before(head, i, true))
            add_station(head, i, out);
    head_add_warnings(head, out);
    add_sums_start(head, out);
}
