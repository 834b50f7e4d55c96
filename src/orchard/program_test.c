#include "orchard/program.h"

#include "orchard/fixture.h"

static void defaults_are_those_of_the_contract(void **state)
{
    const struct program *program = &((struct fixture *)*state)->orchard.program;
    assert_int_equal(program->members_most, 30);
    assert_near(program->coancestry_warn, 0.0625, 0);
    assert_near(program->coancestry_refuse, 0.125, 0);
    assert_near(program->assurance, 0.95, 0);
    assert_near(program->priority_weights[4], 0.25, 0);
    assert_near(program->dose_ml, 0.5, 0);
    assert_near(program->freeze_c, -3, 0);
    assert_near(program->graft_close_share, 0.8, 0);
    assert_int_equal(program->season_starts_north.month, 7);
    assert_int_equal(program->season_starts_south.month, 1);
    assert_int_equal(program->graft_calendar_close.day, 10);
}

static void shipped_clocks_are_found_by_name_and_held_in_celsius(void **state)
{
    const struct program *program = &((struct fixture *)*state)->orchard.program;
    const struct clock *clock = program_clock(program, "sine-37f");
    assert_non_null(clock);
    assert_string_equal(clock->rule.curve->name, "sine");
    assert_near(clock->rule.lower * 1.8 + 32, 37, 1e-12);
    assert_int_equal(clock->start.month, 1);
    assert_int_equal(clock->start.day, 17);
    assert_int_equal(clock->end_days, 240);
    assert_near(program_clock(program, "sine-50f")->rule.lower, 10, 1e-12);
    assert_string_equal(program_clock(program, "daily-maximum-55f")->rule.curve->name,
                        "daily-maximum");
    assert_null(program_clock(program, "moon"));
    assert_null(program_clock(program, NULL));
}

static void every_key_has_a_source_and_other_words_have_none(void **state)
{
    (void)state;
    static const char *const keys[] = {"name",
                                       "schema",
                                       "season_starts",
                                       "units",
                                       "clocks",
                                       "members_most",
                                       "coancestry_warn",
                                       "coancestry_refuse",
                                       "assurance",
                                       "priority_weights",
                                       "uncounted_share",
                                       "clean_chance",
                                       "firm_days",
                                       "keep_share",
                                       "stay_bonus",
                                       "dose_ml",
                                       "germination_full_pct",
                                       "germination_refuse_pct",
                                       "freeze_c",
                                       "freeze_days",
                                       "stage_map",
                                       "task_order"};
    for (size_t i = 0; i < COUNT(keys); i++)
        assert_non_null(program_source(keys[i]));
    assert_null(program_source("weather"));
}

static void every_enumeration_has_its_words(void **state)
{
    (void)state;
    for (int i = 0; i < EVENTS; i++)
        assert_non_null(event_names[i]);
    for (int i = 0; i < BASES; i++)
        assert_non_null(basis_names[i]);
    for (int i = 0; i < NOTES; i++)
        assert_non_null(note_names[i]);
    assert_string_equal(event_names[EVENT_BAG_BY], "bag_by");
    assert_string_equal(basis_names[BASIS_OTHER_SITE], "other site");
    assert_string_equal(note_names[NOTE_BAG_LOST], "bag_lost");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(defaults_are_those_of_the_contract),
        FIXTURE_TEST(shipped_clocks_are_found_by_name_and_held_in_celsius),
        FIXTURE_TEST(every_key_has_a_source_and_other_words_have_none),
        FIXTURE_TEST(every_enumeration_has_its_words),
    };
    return cmocka_run_group_tests_name("program", tests, NULL, NULL) != 0;
}
