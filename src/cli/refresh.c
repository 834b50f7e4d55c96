/* refresh.c - "refresh": the nightly run, every page into one folder, replaced all or nothing. */
#include "cli/command.h"

#include "base/hash.h"
#include "cli/crossing_plan.h"
#include "cli/files.h"
#include "cli/lock.h"
#include "cli/publish.h"
#include "cli/refresh_baseline.h"
#include "cli/refresh_pages.h"
#include "cli/stamp.h"
#include "cli/work_asked.h"
#include "planning/attention.h"
#include "reading/calendar.h"
#include "reading/issued.h"
#include "writing/changes_page.h"

#include <errno.h>
#include <inttypes.h>
#include <string.h>

static const struct option_row refresh_options[] = {
    OPTION("into", "OUT", OPTION_WORD, into,
           "the folder to fill: new, empty, or of an earlier refresh"),
    OPTION("wait", "SECONDS", OPTION_MANY, wait_seconds,
           "wait so long for another run that holds OUT; default: not at all"),
    OPTION("verbose", NULL, OPTION_FLAG, verbose, "tell what was done"),
    OPTIONS_END,
};

struct refresh {
    struct session *session;
    struct publish_place place;
    const char *marker; /* of the set that stands there; NULL: none */
    struct baseline baseline;
    struct planned planned;
    struct attention attention;
    uint64_t inputs[INPUTS];
    struct text issued_plan, issued_calendar; /* of the baseline, without stamps; else empty */
    struct stamp stamp;
    struct refresh_pages pages;
};

static void tell(const struct refresh *refresh, const char *what)
{
    if (refresh->session->options.verbose)
        session_say(refresh->session, "%s", what);
}

/* ---- what went in ---------------------------------------------------------------------------- */

static uint64_t hash_days(uint64_t hash, size_t count, const double *tmin_c, const double *tmax_c)
{
    hash = hash_bytes(hash, count * sizeof *tmin_c, tmin_c);
    return hash_bytes(hash, count * sizeof *tmax_c, tmax_c);
}

static uint64_t hash_weather(const struct orchard *orchard)
{
    uint64_t hash = HASH_START;

    for (size_t i = 0; i < orchard->records.count; i++) {
        const struct record *record = &orchard->records.list[i];

        hash = hash_text(hash, record->station);
        hash = hash_bytes(hash, sizeof record->first_day, &record->first_day);
        hash = hash_days(hash, record->count, record->tmin_c, record->tmax_c);
    }
    return hash;
}

static uint64_t hash_forecasts(const struct orchard *orchard)
{
    uint64_t hash = HASH_START;

    for (size_t i = 0; i < orchard->forecasts.count; i++) {
        const struct forecast *forecast = &orchard->forecasts.list[i];

        hash = hash_text(hash, forecast->station);
        hash = hash_bytes(hash, sizeof forecast->issued_minute, &forecast->issued_minute);
        hash = hash_bytes(hash, sizeof forecast->first_day, &forecast->first_day);
        hash = hash_days(hash, forecast->count, forecast->tmin_c, forecast->tmax_c);
    }
    return hash;
}

static uint64_t hash_notes(const struct orchard *orchard)
{
    uint64_t hash = HASH_START;

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        const char *const texts[] = {note->tag,    note->bag,   note->tree,    note->crown,
                                     note->branch, note->lot,   note->cross,   note->batch,
                                     note->site,   note->block, note->task,    note->selection,
                                     note->value,  note->by,    note->remarks, note->entry};
        int kind = (int)note->kind;

        hash = hash_bytes(hash, sizeof note->date, &note->date);
        hash = hash_bytes(hash, sizeof kind, &kind);
        for (size_t t = 0; t < sizeof texts / sizeof *texts; t++)
            hash = hash_text(hash, texts[t]);
    }
    return hash;
}

/* Of the season of the as-of day and the next, at each site. */
static uint64_t hash_members(const struct refresh *refresh)
{
    const struct session *session = refresh->session;
    const struct orchard *orchard = &session->orchard;
    uint64_t hash = HASH_START;

    for (size_t i = 0; i < orchard->sites.count; i++) {
        const struct site *site = &orchard->sites.list[i];
        int season = day_season(orchard_season_rule(orchard, site), session->as_of);

        for (int later = 0; later < 2; later++) {
            const struct season_weather *weather =
                dates_weather(refresh->planned.opened.dates, site, season + later);

            hash = hash_bytes(hash, weather->members * sizeof *weather->member_season,
                              weather->member_season);
        }
    }
    return hash;
}

static const char *newest_of(const struct orchard *orchard, struct arena *arena)
{
    struct text text;
    char day[DAY_TEXT];

    text_init(&text, arena);
    for (size_t i = 0; i < orchard->records.count; i++) {
        daynum newest = attention_newest(&orchard->records.list[i]);

        text_addf(&text, "%s%s %s", i > 0 ? ";" : "", orchard->records.list[i].station,
                  newest == DAY_NONE ? "none" : day_text(newest, day));
    }
    return text.length > 0 ? text.bytes : "no weather";
}

static void make_stamp(struct refresh *refresh)
{
    const struct session *session = refresh->session;
    uint64_t run = hash_text(HASH_START, CONETIDE_VERSION);

    refresh->inputs[INPUT_TABLES] = session->inputs;
    refresh->inputs[INPUT_NOTES] = hash_notes(&session->orchard);
    refresh->inputs[INPUT_WEATHER] = hash_weather(&session->orchard);
    refresh->inputs[INPUT_FORECASTS] = hash_forecasts(&session->orchard);
    refresh->inputs[INPUT_MEMBERS] = hash_members(refresh);
    run = hash_bytes(run, sizeof session->as_of, &session->as_of);
    run = hash_bytes(run, sizeof refresh->inputs, refresh->inputs);
    run = hash_text(run, session->options.units);
    run = hash_text(run, refresh->issued_plan.bytes);
    run = hash_text(run, refresh->issued_calendar.bytes);
    refresh->stamp = (struct stamp){.run = run,
                                    .as_of = session->as_of,
                                    .newest = newest_of(&session->orchard, session->arena)};
}

static const char *hash_words(uint64_t hash, struct arena *arena)
{
    return arena_printf(arena, "%016" PRIx64, hash);
}

/* What is new since the plan that people hold: "new weather; note". */
static const char *news_since(const struct refresh *refresh)
{
    struct arena *arena = refresh->session->arena;
    struct text why;

    text_init(&why, arena);
    for (int i = 0; i < INPUTS && refresh->baseline.plan; i++)
        if (strcmp(refresh->baseline.inputs[i], hash_words(refresh->inputs[i], arena)) != 0)
            text_addf(&why, "%s%s", why.length > 0 ? "; " : "", input_words[i]);
    return why.length > 0 ? why.bytes : "the days that went by";
}

/* ---- the earlier plan ------------------------------------------------------------------------ */

static bool read_issued_file(struct session *session, const struct source *source, void *plan)
{
    return read_issued(plan, &session->orchard, source, &session->diags);
}

static bool read_calendar_file(struct session *session, const struct source *source, void *calendar)
{
    return read_calendar(calendar, source, &session->diags);
}

/* Can both files of the baseline be used?  Their faults are not those of the folder. */
static bool is_sound(struct session *session, const struct baseline *baseline)
{
    const struct diags diags = session->diags;
    struct issued_plan plan = {NULL, 0, 0};
    struct calendar calendar = {NULL, 0, 0};
    bool sound;

    diags_init(&session->diags, session->arena);
    sound = session_read_path(session, baseline->plan,
                              (struct path_reader){read_issued_file, &plan}) == STATUS_DONE &&
            session_read_path(session, baseline->calendar,
                              (struct path_reader){read_calendar_file, &calendar}) == STATUS_DONE &&
            session->diags.errors == 0;
    session->diags = diags;
    return sound;
}

static void find_baseline(struct refresh *refresh)
{
    struct session *session = refresh->session;
    struct baseline *baseline = &refresh->baseline;
    struct text plan, calendar;

    text_init(&refresh->issued_plan, session->arena);
    text_init(&refresh->issued_calendar, session->arena);
    *baseline = baseline_of(refresh->place.out, refresh->marker, session->as_of, session->arena);
    if (!baseline->plan)
        return;
    text_init(&plan, session->arena);
    text_init(&calendar, session->arena);
    if (!is_sound(session, baseline) || !file_read(baseline->plan, &plan) ||
        !file_read(baseline->calendar, &calendar)) {
        session_say(session, "the plan of the earlier run cannot be read, so none of it is firm");
        *baseline = (struct baseline){.as_of = DAY_NONE};
        return;
    }
    refresh->issued_plan = stamp_off(&plan);
    refresh->issued_calendar = stamp_off(&calendar);
    session->options.firm = baseline->plan;
}

/* ---- what comes out -------------------------------------------------------------------------- */

static void add_sheet(struct refresh *refresh, const char *name, const struct sheet *sheet)
{
    struct text bytes;

    text_init(&bytes, refresh->session->arena);
    sheet_write_csv(sheet, (struct sheet_style){.digits = -1}, &bytes);
    refresh_pages_add(&refresh->pages, name, &bytes);
}

static void add_summary(struct refresh *refresh, const char *why)
{
    struct session *session = refresh->session;
    const struct planned *planned = &refresh->planned;
    daynum monday = session->as_of - day_weekday(session->as_of) + 1;
    struct work_asked this_asked = session_work(session, planned, monday, monday + 6);
    struct work_asked next_asked = session_work(session, planned, monday + 7, monday + 13);
    struct worklist this_week = worklist_of(&planned->plan, &planned->inputs, &this_asked);
    struct worklist next_week = worklist_of(&planned->plan, &planned->inputs, &next_asked);
    struct summary summary = {.plan = &planned->plan,
                              .this_week = &this_week,
                              .next_week = &next_week,
                              .issued_as_of = refresh->baseline.as_of,
                              .why = why,
                              .newest = refresh->stamp.newest,
                              .wanted_count = refresh->attention.count,
                              .wanted = refresh->attention.list};
    struct text bytes;

    text_init(&bytes, session->arena);
    summary_write(&summary, &planned->opened.run, &bytes);
    refresh_pages_add(&refresh->pages, "summary.txt", &bytes);
}

/* The pages that no command prints. */
static void add_own_pages(struct refresh *refresh)
{
    const char *why = news_since(refresh);
    struct sheet changes = changes_sheet(&refresh->planned.plan, why, &refresh->planned.opened.run);

    add_sheet(refresh, "changes.csv", &changes);
    add_summary(refresh, why);
    if (!refresh->baseline.plan)
        return;
    refresh_pages_add(&refresh->pages, "issued.csv", &refresh->issued_plan);
    refresh_pages_add(&refresh->pages, "issued.ics", &refresh->issued_calendar);
}

/* The marker file: how the set was made, and the files it has. */
static struct text marker_of(const struct refresh *refresh)
{
    struct arena *arena = refresh->session->arena;
    const struct baseline *baseline = &refresh->baseline;
    struct text text;
    char day[DAY_TEXT];

    text_init(&text, arena);
    text_add(&text, PUBLISH_MARK);
    text_addf(&text, "run,%s\nversion,%s\nas_of,%s\n", stamp_run(&refresh->stamp, arena),
              CONETIDE_VERSION, day_text(refresh->stamp.as_of, day));
    text_addf(&text, "newest_observed,%s\n", refresh->stamp.newest);
    for (int i = 0; i < INPUTS; i++)
        text_addf(&text, "%s,%s\n", input_names[i], hash_words(refresh->inputs[i], arena));
    if (baseline->plan)
        text_addf(&text, "issued_as_of,%s\n", day_text(baseline->as_of, day));
    for (int i = 0; i < INPUTS && baseline->plan; i++)
        text_addf(&text, "issued_%s,%s\n", input_names[i], baseline->inputs[i]);
    for (size_t i = 0; i < refresh->pages.count; i++)
        text_addf(&text, "file,%s\n", refresh->pages.list[i].name);
    return text;
}

static enum exit_status publish(struct refresh *refresh)
{
    struct arena *arena = refresh->session->arena;
    size_t count = refresh->pages.count + 1;
    struct folder_file *files = ARENA_ARRAY(arena, count, struct folder_file);
    struct text marker = marker_of(refresh);
    struct publish_set set = {count, files};
    enum exit_status status;
    bool changed;

    files[0] = (struct folder_file){PUBLISH_MARKER, marker.length, marker.bytes};
    for (size_t i = 0; i + 1 < count; i++) {
        const struct refresh_page *page = &refresh->pages.list[i];
        struct text stamped = stamp_page(&refresh->stamp, page->name, &page->bytes);

        files[i + 1] = (struct folder_file){page->name, stamped.length, stamped.bytes};
    }
    status = publish_set(refresh->session, &refresh->place, &set, &changed);
    if (status == STATUS_DONE)
        tell(refresh, changed
                          ? arena_printf(arena, "%zu files of run %s are in %s", count,
                                         stamp_run(&refresh->stamp, arena), refresh->place.named)
                          : "nothing differs from the set that stands there");
    return status;
}

/* ---- the run --------------------------------------------------------------------------------- */

static enum exit_status plan(struct refresh *refresh)
{
    struct session *session = refresh->session;
    struct opened *opened = ARENA_NEW(session->arena, struct opened);
    enum exit_status status = session_plan(session, opened);
    size_t told;

    if (status != STATUS_DONE)
        return status;
    session->opened = opened;
    find_baseline(refresh);
    told = session->err.length;
    status = session_crossing(session, &refresh->planned);
    if (status == STATUS_DONE &&
        !session->options.verbose) { /* that nothing is asked for, nightly */
        session->err.length = told;
        session->err.bytes[told] = '\0';
    }
    session->planned = &refresh->planned;
    return status;
}

/* Status 1 is not silent: a job that prints nothing sends no mail. */
static enum exit_status tell_wanted(const struct refresh *refresh)
{
    for (size_t i = 0; i < refresh->attention.count; i++)
        session_say(refresh->session, "%s", refresh->attention.list[i]);
    return refresh->attention.count > 0 ? STATUS_FAULTS : STATUS_DONE;
}

static enum exit_status run_locked(struct refresh *refresh)
{
    struct session *session = refresh->session;
    enum exit_status status = publish_look(session, &refresh->place, &refresh->marker);

    if (status == STATUS_DONE)
        status = plan(refresh);
    if (status != STATUS_DONE)
        return status;
    session_remedies(session, &refresh->planned);
    refresh->attention = attention_of(&refresh->planned.plan, &session->orchard, session->arena);
    make_stamp(refresh);
    status = refresh_pages_print(session, refresh->baseline.calendar, &refresh->pages);
    if (status != STATUS_DONE)
        return status;
    add_own_pages(refresh);
    status = publish(refresh);
    return status == STATUS_DONE ? tell_wanted(refresh) : status;
}

static enum exit_status run_refresh(struct session *session)
{
    struct refresh refresh = {.session = session};
    const struct options *options = &session->options;
    struct lock lock;
    enum exit_status status;

    if (!options->into || options->out) {
        session_say(session, options->out ? "--out is of one page, and this fills a folder: --into"
                                          : "say the folder to fill: --into OUT");
        return STATUS_USAGE;
    }
    status = publish_find(session, options->into, &refresh.place);
    if (status != STATUS_DONE)
        return status;
    switch (lock_take(refresh.place.lock, options->wait_seconds, &lock)) {
    case LOCK_TAKEN:
        break;
    case LOCK_HELD:
        session_say(session, "another run holds %s, wait for it with --wait SECONDS",
                    refresh.place.named);
        return STATUS_LOCKED;
    case LOCK_REFUSED:
        session_say(session, "%s: %s", refresh.place.lock, strerror(errno));
        return STATUS_SYSTEM;
    }
    status = run_locked(&refresh);
    lock_release(&lock);
    return status;
}

const struct command command_refresh = {
    .name = "refresh",
    .summary = "the nightly run: every page into one folder, replaced all or nothing",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "",
    .options = refresh_options,
    .about =
        "Grafting, placement, flowering, pollen, the crossing plan, its status and shortfalls, "
        "demand, harvest, worklists of today, this and next week, charts and a calendar; "
        "changes.csv tells every visit that moved since the plan of an earlier day, which is firm "
        "as with --firm, and summary.txt all of it in ten lines. Whoever reads OUT finds the set "
        "of before or the new one, whatever happens; if nothing differs no file is touched. Quiet "
        "when all is well. Status 1, with a line each: visits inside the firm days moved or were "
        "dropped; a shortfall can be helped only within a week; the newest weather of a site is "
        "more than 3 days old; the newest forecast of a station is more than 2 days old.",
    .example = "conetide refresh my-programme --into sheets",
    .run = run_refresh,
};
