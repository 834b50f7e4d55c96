/*
 * rate_fit_test.c - rows of rates, by hand and back from notes made of known rates.
 */
#include "planning/rate_fit.h"

#include "orchard/fixture.h"

#include <math.h>

static struct rate_fit fit_on(struct fixture *fixture, const char *as_of)
{
    orchard_as_of(&fixture->orchard, fixture_day(as_of));
    orchard_link(&fixture->orchard, &fixture->diags);
    return rate_fit_of(state_of(&fixture->orchard, &fixture->arena, &fixture->diags),
                       &fixture->arena);
}

static const struct rate_row *row_of(const struct rate_fit *fit, const char *rate,
                                     struct rate_subject cells)
{
    for (size_t i = 0; i < fit->count; i++) {
        const struct rate_subject *of = &fit->list[i].cells;
        const char *have[] = {of->host_species, of->clone, of->site, of->selection};
        const char *want[] = {cells.host_species, cells.clone, cells.site, cells.selection};
        bool same =
            of->season_number == cells.season_number && strcmp(fit->list[i].rate, rate) == 0;

        for (size_t c = 0; c < 4; c++)
            same = same && (have[c] ? want[c] && strcmp(have[c], want[c]) == 0 : !want[c]);
        if (same)
            return &fit->list[i];
    }
    return NULL;
}

static void add_shipped(struct fixture *fixture, const char *rate, int64_t thousandths, int number)
{
    struct rate *row = add_rate(fixture, rate, thousandths, 3);

    row->season_number = number;
    row->shipped = true;
}

static const char *tag_of(struct fixture *fixture, const char *letter, int number)
{
    return arena_printf(&fixture->arena, "%s%03d", letter, number);
}

/* `count` grafts of the basis's first selection, of which `alive` lived. */
static void add_grafts(struct fixture *fixture, const char *letter, int count, int alive)
{
    for (int i = 0; i < count; i++) {
        const char *tag = tag_of(fixture, letter, i);

        add_graft(fixture, tag, "S1", "T1");
        note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, tag, i < alive ? "alive" : "dead");
    }
}

static void the_top_is_drawn_toward_the_shipped_rate(void **state)
{
    struct fixture *fixture = *state;
    struct rate_fit fit;
    const struct rate_row *row;

    add_basis(fixture);
    add_shipped(fixture, "survival", 500, 1);
    add_rate(fixture, "survival", 9, 1)->season_number = 1; /* the folder's: in use */
    add_grafts(fixture, "B", 10, 8);
    fit = fit_on(fixture, "2027-08-01");
    assert_int_equal(fit.count, 1);
    row = row_of(&fit, "survival", (struct rate_subject){.season_number = 1});
    assert_non_null(row);
    /* (8 + 5 * 0.5) / 15 */
    assert_int_equal(row->value.units, 700);
    assert_int_equal(row->value.scale, 3);
    assert_true(row->low < 0.7 && row->high > 0.7);
    assert_near(row->in_use, 0.9, 0);
    assert_true(row->replaces);
    assert_near(row->seen, 10, 0);
    assert_int_equal(row->pieces, 10);
    assert_int_equal(row->first_season, 2027);
    assert_int_equal(row->last_season, 2027);
    assert_true(isnan(row->above));
}

static void few_grafts_make_no_row(void **state)
{
    struct fixture *fixture = *state;
    struct rate_fit fit;

    add_basis(fixture);
    add_shipped(fixture, "survival", 500, 1);
    add_grafts(fixture, "B", RATE_SEEN_LEAST - 1, 2);
    fit = fit_on(fixture, "2027-08-01");
    assert_int_equal(fit.count, 0);
    assert_true(fit.little_seen > 0);
}

static void without_a_shipped_rate_the_pieces_stand_alone(void **state)
{
    struct fixture *fixture = *state;
    struct rate_fit fit;

    add_basis(fixture);
    add_grafts(fixture, "B", 10, 8);
    fit = fit_on(fixture, "2027-08-01");
    assert_int_equal(fit.count, 1);
    assert_int_equal(fit.list[0].value.units, 800);
    assert_true(isnan(fit.list[0].in_use));
    assert_false(fit.list[0].replaces);
}

static void host_species_that_differ_get_rows_and_are_drawn_together(void **state)
{
    struct fixture *fixture = *state;
    struct rate_fit fit;
    const struct rate_row *slash, *loblolly;

    add_basis(fixture);
    fixture->orchard.trees.list[0].species = "slash";
    fixture->orchard.trees.list[1].species = "loblolly";
    add_shipped(fixture, "survival", 500, 1);
    add_grafts(fixture, "B", 40, 36);
    for (int i = 0; i < 40; i++) {
        add_graft(fixture, tag_of(fixture, "D", i), "S1", "T2");
        note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, tag_of(fixture, "D", i),
                    i < 12 ? "alive" : "lost");
    }
    fit = fit_on(fixture, "2027-08-01");
    assert_int_equal(fit.count, 3);
    slash = row_of(&fit, "survival",
                   (struct rate_subject){.host_species = "slash", .season_number = 1});
    loblolly = row_of(&fit, "survival",
                      (struct rate_subject){.host_species = "loblolly", .season_number = 1});
    assert_non_null(slash);
    assert_non_null(loblolly);
    assert_true(slash->value.units > 800 && slash->value.units < 900);
    assert_true(loblolly->value.units > 300 && loblolly->value.units < 400);
    assert_near(slash->above, loblolly->above, 1e-12);
}

/* Grafts with one bag or more in the spring of 2027. */
static void bag_grafts(struct fixture *fixture, size_t count, const int *bags)
{
    add_cross(fixture, "C", "S1", "S2");
    for (size_t i = 0; i < count; i++) {
        const char *tag = tag_of(fixture, "B", (int)i);

        add_graft(fixture, tag, "S1", "T1");
        for (int b = 1; b <= bags[i]; b++)
            note_on_bag(fixture, "2027-03-01", NOTE_BAGGED,
                        arena_printf(&fixture->arena, "%s-27-%d", tag, b), "3")
                ->cross = "C";
    }
}

static void bags_on_a_graft_are_a_limit_and_not_a_mean(void **state)
{
    static const int bags[] = {1, 1, 1, 1, 2, 2, 2, 4, 4, 4};
    struct fixture *fixture = *state;
    struct rate_fit fit;
    const struct rate_row *row;

    add_basis(fixture);
    fixture->orchard.trees.list[0].species = "slash";
    add_shipped(fixture, "bags_per_graft", 1000, 1);
    bag_grafts(fixture, 10, bags);
    fit = fit_on(fixture, "2027-08-01");
    row = row_of(&fit, "bags_per_graft", (struct rate_subject){.season_number = 1});
    /* of 15, 5 shipped ones with one bag: 9 with 1, 12 within 2, 15 within 4 */
    assert_non_null(row);
    assert_int_equal(row->value.units, 4000);
    assert_near(row->low, 1, 0);
    assert_near(row->high, 4, 0);
    /* levels below tell the same */
    assert_null(row_of(&fit, "bags_per_graft",
                       (struct rate_subject){.host_species = "slash", .season_number = 1}));
    row = row_of(&fit, "strobili_per_bag", (struct rate_subject){.season_number = 0});
    assert_non_null(row);
    assert_int_equal(row->value.units, 3000);
}

static void bags_without_a_shipped_rate_stand_alone(void **state)
{
    static const int bags[] = {1, 1, 1, 1, 2};
    struct fixture *fixture = *state;
    struct rate_fit fit;
    const struct rate_row *row;

    add_basis(fixture);
    bag_grafts(fixture, 5, bags);
    fit = fit_on(fixture, "2027-08-01");
    row = row_of(&fit, "bags_per_graft", (struct rate_subject){.season_number = 1});
    assert_non_null(row);
    assert_int_equal(row->value.units, 2000);
}

static void a_third_spring_is_no_row_of_its_own(void **state)
{
    struct fixture *fixture = *state;
    struct rate_fit fit;

    add_basis(fixture);
    add_cross(fixture, "C", "S1", "S2");
    for (int i = 0; i < 6; i++) {
        const char *tag = tag_of(fixture, "B", i);

        add_graft(fixture, tag, "S1", "T1")->grafted_on = fixture_day("2024-02-10");
        note_on_bag(fixture, "2027-03-01", NOTE_BAGGED,
                    arena_printf(&fixture->arena, "%s-27-1", tag), "3")
            ->cross = "C";
    }
    fit = fit_on(fixture, "2027-08-01");
    assert_null(row_of(&fit, "bags_per_graft", (struct rate_subject){.season_number = 3}));
    for (size_t i = 0; i < fit.count; i++)
        assert_int_equal(fit.list[i].cells.season_number <= 2, 1);
    assert_non_null(
        row_of(&fit, "strobili_per_bag", (struct rate_subject){NULL, NULL, NULL, NULL, 0}));
}

static void minutes_are_drawn_toward_the_tasks_own(void **state)
{
    struct fixture *fixture = *state;
    struct rate_fit fit;
    const struct rate_row *row;

    add_basis(fixture);
    add_task(fixture, "bag", "bag")->minutes_each = (struct decimal){12, 1};
    add_task(fixture, "walk", "site");
    for (int i = 0; i < 10; i++) {
        struct note *note = add_note(fixture, "2027-03-04", NOTE_DONE, i % 2 ? "2" : "4");

        note->task = "bag";
        note->tag = "A1";
        note = add_note(fixture, "2027-03-04", NOTE_DONE, "30");
        note->task = "walk";
        note->site = "Nordhang";
        note->remarks = tag_of(fixture, "R", i); /* not the same note twice */
    }
    fit = fit_on(fixture, "2027-08-01");
    row = row_of(&fit, "minutes_each:bag", (struct rate_subject){.season_number = 0});
    assert_non_null(row);
    /* notes that say the same of one day are kept: (30 + 5 * 1.2) / 15 */
    assert_int_equal(row->value.units, 2400);
    assert_near(row->in_use, 1.2, 1e-15);
    row = row_of(&fit, "minutes_each:walk", (struct rate_subject){.season_number = 0});
    assert_non_null(row);
    assert_int_equal(row->value.units, 30000);
    assert_true(isnan(row->in_use));
}

/* ---- Back from known rates ---- */

/* A fixed sequence that passes for chance: multiplier and shift of Numerical Recipes' "ranqd1",
 * high bits only. */
struct dice {
    uint32_t word;
};

static double throw_dice(struct dice *dice)
{
    dice->word = dice->word * 1664525u + 1013904223u;
    return ((double)(dice->word >> 8) + 0.5) / 16777216.0;
}

/* About normal: twelve throws less six. */
static double throw_normal(struct dice *dice)
{
    double sum = -6;

    for (int i = 0; i < 12; i++)
        sum += throw_dice(dice);
    return sum;
}

static int throw_poisson(struct dice *dice, double mean)
{
    double product = throw_dice(dice), least = exp(-mean);
    int count = 0;

    while (product > least) {
        product *= throw_dice(dice);
        count++;
    }
    return count;
}

static double odds_times(double share, double factor)
{
    return share * factor / (1 - share + share * factor);
}

enum { WORLDS = 100, SELECTIONS = 8, TREES = 8, CYCLES = 3, GRAFTS = 3 * SELECTIONS * TREES };

/* Of every graft: what its rates are, its season left out. */
struct truth {
    double survival, strobili, conelets;
    const char *species, *selection;
};

struct world {
    struct fixture *fixture;
    struct dice *dice;
    double selection_survival[SELECTIONS], selection_strobili[SELECTIONS];
    double selection_conelets[SELECTIONS];
    double season_survival[8], season_strobili[8], season_conelets[8]; /* from 2025 */
    struct truth grafts[GRAFTS];
};

/* How often ranges held what was true, by kind. */
struct held {
    int rows, held;
};

static void note_graft(struct world *world, int index, int cycle)
{
    struct fixture *fixture = world->fixture;
    struct truth *truth = &world->grafts[index];
    int selection = index % SELECTIONS, tree = index / SELECTIONS % TREES;
    const char *tag = tag_of(fixture, "G", index);
    int spring = cycle + 1 - 2025;
    const char *day = arena_printf(&fixture->arena, "%d-11-03", cycle);

    truth->species = tree % 2 ? "loblolly" : "slash";
    truth->selection = tag_of(fixture, "S", selection);
    truth->survival = odds_times(tree % 2 ? 0.45 : 0.7, world->selection_survival[selection]);
    truth->strobili = (tree % 2 ? 4.0 : 8.0) * world->selection_strobili[selection];
    truth->conelets = odds_times(0.5, world->selection_conelets[selection]);
    add_graft(fixture, tag, truth->selection, tag_of(fixture, "T", tree))->grafted_on =
        fixture_day(arena_printf(&fixture->arena, "%d-02-10", cycle));
    if (throw_dice(world->dice) > odds_times(truth->survival, world->season_survival[spring])) {
        note_on_tag(fixture, day, NOTE_SURVIVAL, tag, "dead");
        return;
    }
    note_on_tag(fixture, day, NOTE_SURVIVAL, tag, "alive");
    day = arena_printf(&fixture->arena, "%d-03-03", cycle + 1);
    /* a graft's own size: strobili scatter more than independent counts */
    int strobili = throw_poisson(world->dice, truth->strobili * world->season_strobili[spring] *
                                                  exp(0.5 * throw_normal(world->dice) - 0.125));
    note_on_tag(fixture, day, NOTE_STROBILI, tag, arena_printf(&fixture->arena, "%d", strobili));
    if (strobili == 0)
        return;
    const char *bag = arena_printf(&fixture->arena, "%s-%d-1", tag, cycle + 1 - 2000);
    int inside = strobili < 4 ? strobili : 4, conelets = 0;
    note_on_bag(fixture, day, NOTE_BAGGED, bag, arena_printf(&fixture->arena, "%d", inside))
        ->cross = tag_of(fixture, "C", selection);
    note_on_bag(fixture, arena_printf(&fixture->arena, "%d-03-06", cycle + 1), NOTE_POLLINATED, bag,
                NULL);
    for (int i = 0; i < inside; i++)
        conelets +=
            throw_dice(world->dice) < odds_times(truth->conelets, world->season_conelets[spring]);
    note_on_bag(fixture, arena_printf(&fixture->arena, "%d-06-06", cycle + 1), NOTE_CONELETS, bag,
                arena_printf(&fixture->arena, "%d", conelets));
}

static void make_world(struct world *world)
{
    struct fixture *fixture = world->fixture;

    add_site(fixture, "Nordhang");
    for (int i = 0; i < TREES; i++) {
        struct tree *tree = add_tree(fixture, tag_of(fixture, "T", i), "Nordhang");

        tree->species = i % 2 ? "loblolly" : "slash";
        tree->clone = tag_of(fixture, "K", i);
    }
    for (int i = 0; i < SELECTIONS; i++) {
        add_selection(fixture, tag_of(fixture, "S", i), NULL, NULL);
        add_cross(fixture, tag_of(fixture, "C", i), tag_of(fixture, "S", i),
                  tag_of(fixture, "S", (i + 1) % SELECTIONS));
        world->selection_survival[i] = exp(0.6 * throw_normal(world->dice));
        world->selection_strobili[i] = exp(0.3 * throw_normal(world->dice));
        world->selection_conelets[i] = exp(0.4 * throw_normal(world->dice));
    }
    for (int i = 0; i < 8; i++) {
        world->season_survival[i] = exp(0.25 * throw_normal(world->dice));
        world->season_strobili[i] = exp(0.25 * throw_normal(world->dice) - 0.03125);
        world->season_conelets[i] = exp(0.25 * throw_normal(world->dice));
    }
    for (int number = 1; number <= 2; number++) {
        add_shipped(fixture, "survival", 500, number);
        add_shipped(fixture, "strobili_per_live_graft", 5000, number);
    }
    add_shipped(fixture, "conelets_kept", 500, 0);
    for (int i = 0; i < GRAFTS; i++)
        note_graft(world, i, 2025 + i % CYCLES);
}

static double true_of(const struct truth *truth, enum rate_kind kind)
{
    return kind == RATE_SURVIVAL                  ? truth->survival
           : kind == RATE_STROBILI_PER_LIVE_GRAFT ? truth->strobili
                                                  : truth->conelets;
}

/* The mean of what is true of the grafts that a row is about. */
static double true_mean(const struct world *world, const struct rate_row *row)
{
    double total = 0, count = 0;

    for (int i = 0; i < GRAFTS; i++) {
        const struct truth *truth = &world->grafts[i];

        if ((row->cells.host_species && strcmp(row->cells.host_species, truth->species) != 0) ||
            (row->cells.selection && strcmp(row->cells.selection, truth->selection) != 0))
            continue;
        total += true_of(truth, row->kind);
        count++;
    }
    return total / count;
}

static void count_held(const struct world *world, const struct rate_fit *fit, struct held *held)
{
    for (size_t i = 0; i < fit->count; i++) {
        const struct rate_row *row = &fit->list[i];
        double truth = true_mean(world, row);

        if ((row->kind != RATE_SURVIVAL && row->kind != RATE_STROBILI_PER_LIVE_GRAFT &&
             row->kind != RATE_CONELETS_KEPT) ||
            row->level == RATE_LEVEL_CLONE || row->cells.season_number == 2)
            continue;
        held[row->kind].rows++;
        held[row->kind].held += truth >= row->low && truth <= row->high;
    }
}

static void ranges_hold_what_the_notes_were_made_of(void **state)
{
    static const struct {
        enum rate_kind kind;
        const char *name;
    } kinds[] = {{RATE_SURVIVAL, "survival"},
                 {RATE_STROBILI_PER_LIVE_GRAFT, "strobili_per_live_graft"},
                 {RATE_CONELETS_KEPT, "conelets_kept"}};
    struct held held[RATE_KINDS] = {{0, 0}}, all = {0, 0};
    struct dice dice = {20270315};

    (void)state;
    for (int w = 0; w < WORLDS; w++) {
        void *fresh;
        static struct world world;
        struct rate_fit fit;

        fixture_setup(&fresh);
        world = (struct world){.fixture = fresh, .dice = &dice};
        make_world(&world);
        fit = fit_on(fresh, "2030-08-01");
        assert_nothing_told(world.fixture);
        count_held(&world, &fit, held);
        fixture_teardown(&fresh);
    }
    for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
        const struct held *of = &held[kinds[k].kind];
        double share = (double)of->held / of->rows;

        print_message("%s: %d of %d ranges of 80 %% hold the truth (%.0f %%)\n", kinds[k].name,
                      of->held, of->rows, 100 * share);
        assert_true(of->rows >= 100);
        assert_true(share > 0.70 && share < 0.92);
        all.rows += of->rows;
        all.held += of->held;
    }
    print_message("together: %d of %d\n", all.held, all.rows);
    /* rows of one world share their seasons, so this is wider than a binomial would have it */
    assert_true(all.held > 0.76 * all.rows && all.held < 0.84 * all.rows);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(the_top_is_drawn_toward_the_shipped_rate),
        FIXTURE_TEST(few_grafts_make_no_row),
        FIXTURE_TEST(without_a_shipped_rate_the_pieces_stand_alone),
        FIXTURE_TEST(host_species_that_differ_get_rows_and_are_drawn_together),
        FIXTURE_TEST(bags_on_a_graft_are_a_limit_and_not_a_mean),
        FIXTURE_TEST(bags_without_a_shipped_rate_stand_alone),
        FIXTURE_TEST(a_third_spring_is_no_row_of_its_own),
        FIXTURE_TEST(minutes_are_drawn_toward_the_tasks_own),
        cmocka_unit_test(ranges_hold_what_the_notes_were_made_of),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
