/*
 * fixture.h - small orchards in memory, for the unit tests of this room.
 *
 * A row is added with every optional cell blank; the test fills in what it is about.
 */
#ifndef ORCHARD_FIXTURE_H
#define ORCHARD_FIXTURE_H

#include "base/test.h"
#include "orchard/orchard.h"

struct fixture {
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
    unsigned line; /* of the row added last */
};

static inline int fixture_setup(void **state)
{
    static struct fixture fixture;
    fixture = (struct fixture){.line = 1};
    arena_init(&fixture.arena, NULL);
    orchard_init(&fixture.orchard, &fixture.arena);
    diags_init(&fixture.diags, &fixture.arena);
    *state = &fixture;
    return 0;
}

static inline int fixture_teardown(void **state)
{
    struct fixture *fixture = *state;
    arena_release(&fixture->arena);
    return 0;
}

#define FIXTURE_TEST(name) cmocka_unit_test_setup_teardown(name, fixture_setup, fixture_teardown)

static inline daynum fixture_day(const char *text)
{
    daynum day;
    if (!day_parse(strlen(text), text, &day))
        fail_msg("'%s' is no day", text);
    return day;
}

/* How often a code was told. */
static inline size_t fixture_told(const struct fixture *fixture, const char *code)
{
    size_t told = 0;
    for (size_t i = 0; i < fixture->diags.count; i++)
        told += strcmp(fixture->diags.list[i].code, code) == 0;
    return told;
}

/* The only fault told must be `code`, once. */
#define assert_only_told(fixture, code)                                                            \
    do {                                                                                           \
        if ((fixture)->diags.count != 1 || fixture_told(fixture, code) != 1) {                     \
            struct text told_;                                                                     \
            text_init(&told_, &(fixture)->arena);                                                  \
            diags_write(&(fixture)->diags, &told_);                                                \
            fail_msg("expected only '%s', told was:\n%s", code, told_.bytes);                      \
        }                                                                                          \
    } while (0)

#define assert_nothing_told(fixture)                                                               \
    do {                                                                                           \
        if ((fixture)->diags.count) {                                                              \
            struct text told_;                                                                     \
            text_init(&told_, &(fixture)->arena);                                                  \
            diags_write(&(fixture)->diags, &told_);                                                \
            fail_msg("expected no fault, told was:\n%s", told_.bytes);                             \
        }                                                                                          \
    } while (0)

#define FIXTURE_PUSH(fixture, rows)                                                                \
    ARENA_PUSH(&(fixture)->arena, (fixture)->orchard.rows.list, (fixture)->orchard.rows.count,     \
               (fixture)->orchard.rows.capacity)

static inline struct place fixture_place(struct fixture *fixture, const char *file)
{
    return (struct place){.file = file, .line = ++fixture->line};
}

static inline struct site *add_site(struct fixture *fixture, const char *name)
{
    struct site *row = FIXTURE_PUSH(fixture, sites);
    *row = (struct site){.place = fixture_place(fixture, "sites.csv"),
                         .name = name,
                         .station_name = "HOLM",
                         .latitude = 48,
                         .longitude = 9,
                         .elevation_m = 300,
                         .utc_offset_h = 1,
                         .workable_share = 0.7};
    return row;
}

static inline struct tree *add_tree(struct fixture *fixture, const char *name, const char *site)
{
    struct tree *row = FIXTURE_PUSH(fixture, trees);
    *row = (struct tree){.place = fixture_place(fixture, "trees.csv"),
                         .name = name,
                         .site_name = site,
                         .row = -1,
                         .position = -1,
                         .places = {-1, -1, -1, -1},
                         .reach_needed_m = NAN,
                         .health_on = DAY_NONE,
                         .label_checked_on = DAY_NONE};
    return row;
}

static inline struct selection *add_selection(struct fixture *fixture, const char *name,
                                              const char *seed_parent, const char *pollen_parent)
{
    struct selection *row = FIXTURE_PUSH(fixture, selections);
    *row = (struct selection){.place = fixture_place(fixture, "selections.csv"),
                              .name = name,
                              .seed_parent_name = seed_parent,
                              .pollen_parent_name = pollen_parent,
                              .breeding_value = NAN};
    return row;
}

static inline struct batch *add_batch(struct fixture *fixture, const char *name,
                                      const char *selection, const char *cut_on)
{
    struct batch *row = FIXTURE_PUSH(fixture, batches);
    *row = (struct batch){.place = fixture_place(fixture, "scions.csv"),
                          .name = name,
                          .selection_name = selection,
                          .cut_on = fixture_day(cut_on),
                          .count = -1,
                          .store_c = NAN,
                          .discarded_on = DAY_NONE};
    return row;
}

static inline struct graft *add_graft(struct fixture *fixture, const char *tag,
                                      const char *selection, const char *tree)
{
    struct graft *row = FIXTURE_PUSH(fixture, grafts);
    *row = (struct graft){.place = fixture_place(fixture, "grafts.csv"),
                          .tag = tag,
                          .selection_name = selection,
                          .tree_name = tree,
                          .grafted_on = fixture_day("2026-02-10"),
                          .condition_on = DAY_NONE,
                          .identity_on = DAY_NONE};
    return row;
}

static inline struct cross *add_cross(struct fixture *fixture, const char *name,
                                      const char *seed_parent, const char *pollen_parent)
{
    struct cross *row = FIXTURE_PUSH(fixture, crosses);
    *row = (struct cross){.place = fixture_place(fixture, "crosses.csv"),
                          .name = name,
                          .seed_parent_name = seed_parent,
                          .pollen_parent_name = pollen_parent,
                          .seeds_wanted = 300,
                          .priority = 3};
    return row;
}

static inline struct lot *add_lot(struct fixture *fixture, const char *name, const char *selection)
{
    struct lot *row = FIXTURE_PUSH(fixture, lots);
    *row = (struct lot){.place = fixture_place(fixture, "pollen.csv"),
                        .name = name,
                        .selection_name = selection,
                        .state = LOT_STORED,
                        .ready_on = DAY_NONE,
                        .volume_ml = NAN,
                        .measured_on = DAY_NONE,
                        .germination_pct = NAN,
                        .tested_on = DAY_NONE};
    return row;
}

static inline struct crew_time *add_crew(struct fixture *fixture, const char *crew,
                                         const char *from, const char *to)
{
    struct crew_time *row = FIXTURE_PUSH(fixture, crews);
    *row = (struct crew_time){.place = fixture_place(fixture, "crews.csv"),
                              .crew = crew,
                              .from = fixture_day(from),
                              .to = fixture_day(to),
                              .weekdays = 0x3e,
                              .hours_per_day = 8};
    return row;
}

static inline struct lift_time *add_lift(struct fixture *fixture, const char *lift,
                                         const char *from, const char *to)
{
    struct lift_time *row = FIXTURE_PUSH(fixture, lifts);
    *row = (struct lift_time){.place = fixture_place(fixture, "lifts.csv"),
                              .lift = lift,
                              .from = fixture_day(from),
                              .to = fixture_day(to),
                              .hours_per_day = 8,
                              .reach_m = NAN};
    return row;
}

static inline struct threshold *add_threshold(struct fixture *fixture, enum event event,
                                              const char *species, const char *site,
                                              const char *selection)
{
    struct threshold *row = FIXTURE_PUSH(fixture, thresholds);
    *row = (struct threshold){.place = fixture_place(fixture, "thresholds.csv"),
                              .event = event,
                              .species = species,
                              .site_name = site,
                              .selection_name = selection,
                              .kind = THRESHOLD_SUM,
                              .clock_name = "sine-37f",
                              .heat_units_c = 300,
                              .residual_days = NAN,
                              .spread_days = NAN,
                              .clone_spread_days = NAN,
                              .seasons_seen = -1};
    return row;
}

static inline struct rate *add_rate(struct fixture *fixture, const char *rate, int64_t units,
                                    int scale)
{
    struct rate *row = FIXTURE_PUSH(fixture, rates);
    *row = (struct rate){.place = fixture_place(fixture, "rates.csv"),
                         .rate = rate,
                         .value = {units, scale},
                         .low = NAN,
                         .high = NAN,
                         .seen = -1};
    return row;
}

static inline struct task_kind *add_task(struct fixture *fixture, const char *task, const char *per)
{
    struct task_kind *row = FIXTURE_PUSH(fixture, tasks);
    *row = (struct task_kind){
        .place = fixture_place(fixture, "tasks.csv"), .task = task, .per = per, .lead_days = -1};
    return row;
}

/* A note with its value; the caller adds the subject. */
static inline struct note *add_note(struct fixture *fixture, const char *date, enum note_kind kind,
                                    const char *value)
{
    struct note *row = FIXTURE_PUSH(fixture, notes);
    *row = (struct note){.place = fixture_place(fixture, "notes.csv"),
                         .date = fixture_day(date),
                         .kind = kind,
                         .value = value,
                         .number = NAN};
    double number;
    if (value && number_parse(strlen(value), value, &number))
        row->number = number;
    return row;
}

static inline struct note *note_on_bag(struct fixture *fixture, const char *date,
                                       enum note_kind kind, const char *bag, const char *value)
{
    struct note *row = add_note(fixture, date, kind, value);
    row->bag = bag;
    return row;
}

static inline struct note *note_on_tag(struct fixture *fixture, const char *date,
                                       enum note_kind kind, const char *tag, const char *value)
{
    struct note *row = add_note(fixture, date, kind, value);
    row->tag = tag;
    return row;
}

static inline struct note *note_on_lot(struct fixture *fixture, const char *date,
                                       enum note_kind kind, const char *lot, const char *value)
{
    struct note *row = add_note(fixture, date, kind, value);
    row->lot = lot;
    return row;
}

/* `days` of mild weather from `first`. */
static inline struct record *add_record(struct fixture *fixture, const char *station,
                                        const char *first, size_t days)
{
    struct record *row = FIXTURE_PUSH(fixture, records);
    *row = (struct record){.station = station, .first_day = fixture_day(first), .count = days};
    row->tmin_c = ARENA_ARRAY(&fixture->arena, days, double);
    row->tmax_c = ARENA_ARRAY(&fixture->arena, days, double);
    for (size_t i = 0; i < days; i++) {
        row->tmin_c[i] = 2;
        row->tmax_c[i] = 14 + (double)(i % 7);
    }
    return row;
}

/* A site, two trees, two selections and two grafts without a fault: what most tests start from. */
static inline void add_basis(struct fixture *fixture)
{
    add_site(fixture, "Nordhang");
    add_tree(fixture, "T1", "Nordhang");
    add_tree(fixture, "T2", "Nordhang");
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_graft(fixture, "A1", "S1", "T1");
    add_graft(fixture, "A2", "S2", "T2");
    add_record(fixture, "HOLM", "2025-01-01", 400);
}

#endif
