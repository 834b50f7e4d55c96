/* glance.c - what stands in the season at a glance. */
#include "cli/pictures.h"

#include "planning/cross_status.h"
#include "planning/grafting.h"
#include "planning/harvest.h"
#include "planning/remedies.h"
#include "writing/glance.h"

enum { LINES_MOST = 4, PARTS_FIXED = 10 };

static const char *plan_line(const struct planned *planned, struct arena *arena)
{
    size_t hung = 0, planned_bags = 0, pencilled = 0;
    int64_t missing = 0;

    for (size_t i = 0; i < planned->plan.bag_count; i++) {
        const struct planned_bag *bag = &planned->plan.bags[i];

        if (bag->pencilled)
            pencilled++;
        else if (bag->group->hangs)
            hung++;
        else
            planned_bags++;
    }
    for (size_t i = 0; i < planned->plan.shortfall_count; i++)
        missing += planned->plan.shortfalls[i].bags_short;
    return arena_printf(arena,
                        "%zu bags hang, %zu more are planned this season, %zu are pencilled into "
                        "the next; %lld wanted ones could not be planned",
                        hung, planned_bags, pencilled, (long long)missing);
}

static const char *next_line(const struct planned *planned, struct arena *arena)
{
    struct visits visits = crossing_visits(&planned->plan, arena);
    struct text line;

    text_init(&line, arena);
    for (size_t i = 0; i < visits.count; i++) {
        const struct planned_task *task = &visits.list[i].bag->tasks[visits.list[i].task];
        char day[DAY_TEXT];

        if (!task->crew)
            continue;
        text_addf(&line, "next work on bags: %s, %s at %s", day_text(task->day, day), task->crew,
                  visits.list[i].bag->group->site->name);
        return line.bytes;
    }
    return "no work on bags is planned for a crew";
}

struct parts {
    struct glance_part *list;
    size_t count;
};

static void add_picture(struct parts *parts, const char *id, const char *title,
                        const struct text *svg)
{
    parts->list[parts->count++] = (struct glance_part){.id = id, .title = title, .svg = svg->bytes};
}

static void add_sheet(struct session *session, struct parts *parts, struct glance_part part,
                      struct sheet sheet)
{
    struct sheet *kept = ARENA_NEW(session->arena, struct sheet);

    *kept = sheet;
    part.sheet = kept;
    parts->list[parts->count++] = part;
}

static const struct glance_part status_part = {
    .id = "status",
    .title = "Crosses",
    .command = "conetide crossing --status",
    .columns = "cross priority seeds_wanted seeds_in_store seeds_counted bags_hung bags_pollinated "
               "seeds_to_come bags_planned seeds_planned seeds_short state cause remedy remedy_by"};
static const struct glance_part shortfalls_part = {
    .id = "shortfalls",
    .title = "Bags that could not be planned",
    .command = "conetide crossing --shortfalls",
    .columns = "season cross priority bags_wanted bags_planned bags_short cause detail remedy "
               "remedy_by"};
static const struct glance_part schedule_part = {
    .id = "schedule",
    .title = "Crossing schedule",
    .command = "conetide crossing",
    .columns = "date task crew half_day site tree crown tag bag cross pollen_lot dose_ml chance "
               "latest_safe state"};
static const struct glance_part flowering_part = {
    .id = "flowering",
    .title = "Flowering",
    .command = "conetide flowering",
    .columns = "tag selection site tree season bag_by_p10 first_p10 first_p50 first_p90 peak_p50 "
               "last_p50 last_p90 chance_alive strobili strobili_counted basis"};
static const struct glance_part grafting_part = {
    .id = "grafting",
    .title = "Grafting windows",
    .command = "conetide grafting",
    .columns = "site clone season trees free_places opens_p50 closes_p50 state good_days "
               "freeze_chance basis state_words caution"};
static const struct glance_part harvest_part = {
    .id = "harvest",
    .title = "Harvest",
    .command = "conetide harvest --bags",
    .columns = "bag site tree crown harvest_year cross fate conelets_expected cones_expected "
               "seeds_expected state test_first harvest_first harvest_last"};

static void add_pictures(struct session *session, const struct planned *planned,
                         struct parts *parts)
{
    struct picture_asked asked = {.event = EVENT_FIRST, .from = DAY_NONE, .to = DAY_NONE};
    struct text svg;

    text_init(&svg, session->arena);
    draw_windows(session, planned, &asked, &svg);
    add_picture(parts, "windows", "Receptive days", &svg);
    text_init(&svg, session->arena);
    draw_heat(session, &planned->opened, &planned->inputs.flowering, &asked, &svg);
    add_picture(parts, "heat", "Heat sum", &svg);
    text_init(&svg, session->arena);
    draw_minutes(session, planned, &asked, &svg);
    add_picture(parts, "minutes", "Crew-hours", &svg);
    for (size_t i = 0; i < session->orchard.sites.count; i++) {
        asked.site = &session->orchard.sites.list[i];
        text_init(&svg, session->arena);
        draw_map(&planned->opened, &asked, &svg);
        add_picture(parts, arena_printf(session->arena, "map-%zu", i + 1),
                    arena_printf(session->arena, "Map of %s", asked.site->name), &svg);
    }
}

static void add_sheets(struct session *session, struct planned *planned, struct parts *parts)
{
    const struct opened *opened = &planned->opened;
    struct harvest harvest = harvest_of(opened->state, opened->pedigree, session->arena);
    struct cross_statuses statuses =
        cross_statuses_of(&planned->plan, &harvest, opened->state, session->arena);
    struct grafting_rows grafting = grafting_of(opened->state, opened->dates, session->arena);

    add_sheet(session, parts, status_part, cross_status_sheet(&statuses, &opened->run));
    add_sheet(session, parts, shortfalls_part, shortfalls_sheet(&planned->plan, &opened->run));
    add_sheet(session, parts, schedule_part, crossing_sheet(&planned->plan, &opened->run));
    add_sheet(session, parts, flowering_part,
              flowering_sheet(&planned->inputs.flowering, &opened->run));
    add_sheet(session, parts, grafting_part, grafting_sheet(&grafting, &opened->run));
    add_sheet(session, parts, harvest_part, harvest_bags_sheet(&harvest, &opened->run));
}

void draw_glance(struct session *session, struct planned *planned, struct text *out)
{
    const char *lines[LINES_MOST];
    struct parts parts = {
        ARENA_ARRAY(session->arena, PARTS_FIXED + session->orchard.sites.count, struct glance_part),
        0};
    struct glance glance = {.lines = lines};

    remedies_fill(&planned->inputs, &planned->plan);
    lines[glance.line_count++] = plan_line(planned, session->arena);
    lines[glance.line_count++] = next_line(planned, session->arena);
    add_pictures(session, planned, &parts);
    add_sheets(session, planned, &parts);
    glance.parts = parts.list;
    glance.part_count = parts.count;
    glance_write(&glance, &planned->opened.run, out);
}
