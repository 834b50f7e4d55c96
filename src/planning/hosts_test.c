/*
 * What interstock clones gave, of a few grafts that can be counted by eye.
 */
#include "planning/hosts.h"

#include "orchard/fixture.h"

#include <math.h>

static struct tree *add_host(struct fixture *fixture, const char *name, const char *species,
                             const char *clone)
{
    struct tree *tree = add_tree(fixture, name, "Nordhang");

    tree->species = species;
    tree->clone = clone;
    tree->uses = USE_GRAFT;
    tree->places[CROWN_TOP] = 40;
    tree->places[CROWN_MIDDLE] = 2;
    return tree;
}

static void add_general_rates(struct fixture *fixture)
{
    for (int number = 1; number <= 2; number++) {
        add_rate(fixture, "survival", number == 1 ? 5 : 4, 1)->season_number = number;
        add_rate(fixture, "strobili_per_live_graft", number == 1 ? 5 : 10, 0)->season_number =
            number;
    }
}

/* `alive` of `made` grafts of winter 2024 lived in 2025, each with so many strobili. */
static void add_seen(struct fixture *fixture, const char *tree, int made, int alive, int strobili)
{
    for (int i = 0; i < made; i++) {
        const char *tag = arena_printf(&fixture->arena, "%s-%02d", tree, i);
        struct graft *graft = add_graft(fixture, tag, "S1", tree);

        graft->grafted_on = fixture_day("2024-02-10");
        graft->crown = CROWN_TOP;
        note_on_tag(fixture, "2025-03-01", NOTE_SURVIVAL, tag, i < alive ? "alive" : "dead");
        if (i < alive)
            note_on_tag(fixture, "2025-03-01", NOTE_STROBILI, tag,
                        arena_printf(&fixture->arena, "%d", strobili + i % 2));
    }
}

static struct hosts hosts_on(struct fixture *fixture, const char *as_of)
{
    orchard_as_of(&fixture->orchard, fixture_day(as_of));
    orchard_link(&fixture->orchard, &fixture->diags);
    return hosts_of(state_of(&fixture->orchard, &fixture->arena, NULL), &fixture->arena);
}

static const struct host *host_named(const struct hosts *hosts, const char *clone, const char *site)
{
    for (size_t i = 0; i < hosts->count; i++) {
        const struct host *host = &hosts->list[i];
        const char *at = host->site != NULL ? host->site->name : NULL;

        if (host->clone != NULL && strcmp(host->clone, clone) == 0 &&
            (site == NULL ? at == NULL : at != NULL && strcmp(at, site) == 0))
            return host;
    }
    fail_msg("no host %s", clone);
    return NULL;
}

static void what_was_seen_draws_clones_apart_the_more_the_more_it_is(void **state)
{
    struct fixture *fixture = *state;
    add_site(fixture, "Nordhang");
    add_selection(fixture, "S1", NULL, NULL);
    add_general_rates(fixture);
    add_host(fixture, "T1", "slash", "K1");
    add_host(fixture, "T2", "slash", "K2");
    add_host(fixture, "T3", "slash", "K3");
    add_seen(fixture, "T1", 30, 24, 12);
    add_seen(fixture, "T2", 30, 12, 3);
    add_seen(fixture, "T3", 1, 1, 12);
    struct hosts hosts = hosts_on(fixture, "2026-12-01");
    const struct host *good = host_named(&hosts, "K1", NULL),
                      *poor = host_named(&hosts, "K2", NULL), *few = host_named(&hosts, "K3", NULL);
    const struct host_figure *figure = &good->spring[0].strobili;

    assert_near(good->spring[0].survival.counted, 24, 0);
    assert_near(good->spring[0].survival.of, 30, 0);
    assert_near(figure->of, 24, 0);
    assert_near(figure->counted, 24 * 12 + 12, 0);
    assert_int_equal(figure->basis, HOST_OWN);
    assert_true(figure->low < figure->value && figure->value < figure->high);
    /* between its own 12.5 and the mean of all, but nearer its own */
    assert_true(figure->value > 10 && figure->value < 12.5);
    assert_true(poor->spring[0].strobili.value < 6 && poor->spring[0].strobili.value > 3.5);
    /* one graft with 12 says little */
    assert_true(few->spring[0].strobili.value < figure->value);
    assert_true(few->spring[0].strobili.high - few->spring[0].strobili.low >
                poor->spring[0].strobili.high - poor->spring[0].strobili.low);
    assert_ptr_equal(good, &hosts.list[0]); /* the best first */
    assert_int_equal(good->grafts, 30);
    assert_int_equal(good->living, 24);
}

static void a_clone_without_grafts_is_as_its_species_is(void **state)
{
    struct fixture *fixture = *state;
    add_site(fixture, "Nordhang");
    add_selection(fixture, "S1", NULL, NULL);
    add_general_rates(fixture);
    add_host(fixture, "T1", "slash", "K1");
    add_host(fixture, "T2", "slash", "K2");
    add_host(fixture, "T3", "loblolly", "D1");
    add_host(fixture, "T4", NULL, NULL);
    add_seen(fixture, "T1", 30, 24, 12);
    add_seen(fixture, "T3", 30, 24, 2);
    struct hosts hosts = hosts_on(fixture, "2026-12-01");
    const struct host *fresh = host_named(&hosts, "K2", NULL),
                      *seen = host_named(&hosts, "K1", NULL);

    assert_int_equal(fresh->spring[0].strobili.basis, HOST_SPECIES);
    assert_true(isnan(fresh->spring[0].strobili.low));
    assert_true(fresh->spring[0].strobili.value > 8);
    assert_near(fresh->spring[0].strobili.of, 0, 0);
    assert_int_equal(seen->spring[0].strobili.basis, HOST_OWN);
    /* nothing was seen of second springs */
    assert_int_equal(fresh->spring[1].strobili.basis, HOST_RATES);
    assert_near(fresh->spring[1].strobili.value, 10, 0);
    for (size_t i = 0; i < hosts.count; i++)
        if (hosts.list[i].clone == NULL)
            assert_int_equal(hosts.list[i].spring[0].strobili.basis, HOST_GENERAL);
}

static void its_own_cones_are_not_asked(void **state)
{
    struct fixture *fixture = *state;
    add_site(fixture, "Nordhang");
    add_selection(fixture, "S1", NULL, NULL);
    add_general_rates(fixture);
    add_host(fixture, "T1", "slash", "K1");
    add_host(fixture, "T2", "slash", "K2");
    struct note *note = add_note(fixture, "2026-03-01", NOTE_CATKINS, "500");
    note->tree = "T1";
    struct hosts hosts = hosts_on(fixture, "2026-12-01");

    for (int spring = 0; spring < SPRINGS; spring++)
        assert_near(host_named(&hosts, "K1", NULL)->spring[spring].strobili.value,
                    host_named(&hosts, "K2", NULL)->spring[spring].strobili.value, 0);
}

static void sites_follow_their_clone_with_places_and_reach(void **state)
{
    struct fixture *fixture = *state;
    add_site(fixture, "Nordhang");
    add_site(fixture, "Altberg");
    add_selection(fixture, "S1", NULL, NULL);
    add_general_rates(fixture);
    add_host(fixture, "T1", "slash", "K1")->reach_needed_m = 12;
    struct tree *tree = add_host(fixture, "T2", "slash", "K1");
    tree->site_name = "Altberg";
    tree->reach_needed_m = 9;
    tree = add_host(fixture, "T3", "slash", "K1"); /* weak: no places */
    tree->health = HEALTH_WEAK;
    tree = add_host(fixture, "T4", "slash", "K1");
    tree->health = HEALTH_DEAD;
    tree = add_host(fixture, "T5", "slash", "K9");
    tree->uses = USE_POLLEN;
    add_seen(fixture, "T2", 4, 3, 5);
    struct hosts hosts = hosts_on(fixture, "2026-12-01");

    assert_int_equal(hosts.count, 3);
    const struct host *all = &hosts.list[0];
    assert_null(all->site);
    assert_int_equal(all->trees, 3);
    assert_int_equal(all->free[CROWN_TOP], 40 + 36 + 0);
    assert_int_equal(all->free[CROWN_MIDDLE], 4);
    assert_int_equal(all->uncounted, 2);
    assert_near(all->reach_low_m, 9, 0);
    assert_near(all->reach_high_m, 12, 0);
    assert_string_equal(hosts.list[1].site->name, "Altberg");
    assert_string_equal(hosts.list[2].site->name, "Nordhang");
    assert_int_equal(hosts.list[1].grafts, 4);
    assert_near(hosts.list[1].spring[0].survival.of, 4, 0);
    assert_true(isnan(hosts.list[1].spring[0].survival.value));
    assert_near(hosts.list[2].spring[0].survival.of, 0, 0);
}

static void a_promise_allows_for_what_rates_say_of_selection_and_site(void **state)
{
    struct fixture *fixture = *state;
    add_site(fixture, "Nordhang");
    add_selection(fixture, "S1", NULL, NULL);
    add_selection(fixture, "S2", NULL, NULL);
    add_general_rates(fixture);
    struct rate *rate = add_rate(fixture, "strobili_per_live_graft", 8, 0);
    rate->selection_name = "S2";
    rate->season_number = 1;
    rate = add_rate(fixture, "survival", 99, 2);
    rate->selection_name = "S2";
    rate->season_number = 1;
    add_host(fixture, "T1", "slash", "K1");
    struct hosts hosts = hosts_on(fixture, "2026-12-01");
    const struct tree *tree = orchard_tree(&fixture->orchard, "T1");
    struct host_promise usual =
        hosts_promise(&hosts, tree, orchard_selection(&fixture->orchard, "S1"));
    struct host_promise more =
        hosts_promise(&hosts, tree, orchard_selection(&fixture->orchard, "S2"));

    assert_near(usual.strobili[0], 5, 1e-12);
    assert_near(host_promise_sum(&usual), 0.5 * 5 + 0.4 * 10, 1e-12);
    assert_near(more.strobili[0], 8, 1e-12);
    assert_near(more.strobili[1], 10, 1e-12);
    assert_near(more.survival[0], 0.99, 1e-12);
}

static void a_promise_never_lives_more_than_always(void **state)
{
    struct fixture *fixture = *state;
    add_site(fixture, "Nordhang");
    add_selection(fixture, "S1", NULL, NULL);
    add_general_rates(fixture);
    struct rate *rate = add_rate(fixture, "survival", 9, 1);
    rate->selection_name = "S1";
    rate->season_number = 1;
    add_host(fixture, "T1", "slash", "K1");
    add_seen(fixture, "T1", 30, 30, 5);
    struct hosts hosts = hosts_on(fixture, "2026-12-01");
    struct host_promise promise = hosts_promise(&hosts, orchard_tree(&fixture->orchard, "T1"),
                                                orchard_selection(&fixture->orchard, "S1"));

    assert_near(promise.survival[0], 1, 0);
}

static void without_rates_nothing_is_promised(void **state)
{
    struct fixture *fixture = *state;
    add_site(fixture, "Nordhang");
    add_selection(fixture, "S1", NULL, NULL);
    add_host(fixture, "T1", "slash", "K1");
    add_host(fixture, "T2", "slash", "K2");
    add_tree(fixture, "BANK", "Nordhang");
    struct hosts hosts = hosts_on(fixture, "2026-12-01");
    const struct selection *selection = orchard_selection(&fixture->orchard, "S1");
    struct host_promise none =
        hosts_promise(&hosts, orchard_tree(&fixture->orchard, "T1"), selection);

    assert_int_equal(hosts.list[0].spring[0].survival.basis, HOST_NOTHING);
    assert_true(isnan(hosts.list[0].strobili_per_graft));
    assert_string_equal(hosts.list[0].clone, "K1");
    assert_true(isnan(host_promise_sum(&none)));
    none = hosts_promise(&hosts, orchard_tree(&fixture->orchard, "BANK"), selection);
    assert_null(none.host);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(what_was_seen_draws_clones_apart_the_more_the_more_it_is),
        FIXTURE_TEST(a_clone_without_grafts_is_as_its_species_is),
        FIXTURE_TEST(its_own_cones_are_not_asked),
        FIXTURE_TEST(sites_follow_their_clone_with_places_and_reach),
        FIXTURE_TEST(a_promise_allows_for_what_rates_say_of_selection_and_site),
        FIXTURE_TEST(a_promise_never_lives_more_than_always),
        FIXTURE_TEST(without_rates_nothing_is_promised),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
