/*
 * rate_pieces_test.c - what notes tell of rates.
 */
#include "planning/rate_pieces.h"

#include "orchard/fixture.h"

static struct rate_pieces pieces_on(struct fixture *fixture, const char *as_of)
{
    orchard_as_of(&fixture->orchard, fixture_day(as_of));
    orchard_link(&fixture->orchard, &fixture->diags);
    return rate_pieces_of(state_of(&fixture->orchard, &fixture->arena, &fixture->diags),
                          &fixture->arena);
}

static const struct rate_piece *find(const struct rate_pieces *pieces, enum rate_kind kind,
                                     const char *selection, int number)
{
    const struct rate_piece *found = NULL;

    for (size_t i = 0; i < pieces->count; i++) {
        const struct rate_piece *piece = &pieces->list[i];

        if (piece->kind == kind && piece->subject.season_number == number &&
            piece->subject.selection && strcmp(piece->subject.selection, selection) == 0) {
            assert_null(found);
            found = piece;
        }
    }
    return found;
}

static void assert_piece(const struct rate_piece *piece, double counted, double of)
{
    assert_non_null(piece);
    assert_near(piece->counted, counted, 0);
    assert_near(piece->of, of, 0);
}

/* Grafts of February 2026: springs 2027 and 2028. */
static void an_autumn_word_is_of_the_spring_to_come(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, "A1", "alive");
    note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, "A2", "lost");
    note_on_tag(fixture, "2027-11-02", NOTE_SURVIVAL, "A1", "dead");
    pieces = pieces_on(fixture, "2027-12-01");
    assert_int_equal(pieces.count, 2); /* the spring of 2028 is not over */
    assert_piece(find(&pieces, RATE_SURVIVAL, "S1", 1), 1, 1);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S2", 1), 0, 1);
    assert_int_equal(find(&pieces, RATE_SURVIVAL, "S1", 1)->season, 2027);
    assert_string_equal(pieces.list[0].rate, "survival");
    assert_string_equal(pieces.list[0].subject.site, "Nordhang");
}

static void both_springs_are_told_once_they_are_over(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, "A1", "alive");
    note_on_tag(fixture, "2027-11-02", NOTE_SURVIVAL, "A1", "dead");
    note_on_tag(fixture, "2028-09-02", NOTE_SURVIVAL, "A2", "doubtful");
    pieces = pieces_on(fixture, "2028-12-01");
    assert_int_equal(pieces.count, 4);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S1", 2), 0, 1);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S2", 1), 1, 1); /* seen alive later */
    assert_piece(find(&pieces, RATE_SURVIVAL, "S2", 2), 1, 1);
}

static void a_graft_that_bore_had_lived_and_one_without_a_word_tells_nothing(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    note_on_tag(fixture, "2027-03-02", NOTE_STROBILI, "A1", "4");
    note_on_tag(fixture, "2027-06-02", NOTE_SURVIVAL, "A1", "dead");
    note_on_tag(fixture, "2026-06-02", NOTE_SURVIVAL, "A2", "alive");
    note_on_tag(fixture, "2026-08-02", NOTE_SURVIVAL, "A2", "removed");
    pieces = pieces_on(fixture, "2028-12-01");
    assert_int_equal(pieces.count, 3);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S1", 1), 1, 1);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S1", 2), 0, 1);
    assert_piece(find(&pieces, RATE_STROBILI_PER_LIVE_GRAFT, "S1", 1), 4, 1);
}

static void cells_of_tables_are_words_too(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    fixture->orchard.grafts.list[0].condition = CONDITION_DEAD; /* of no day */
    fixture->orchard.grafts.list[1].condition = CONDITION_DEAD;
    fixture->orchard.grafts.list[1].condition_on = fixture_day("2027-10-01");
    note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, "A2", "alive");
    note_on_tag(fixture, "2027-12-02", NOTE_VERIFIED, "A2", "genotype");
    add_graft(fixture, "A3", "S1", "T1")->condition = CONDITION_ALIVE;
    pieces = pieces_on(fixture, "2028-12-01");
    assert_int_equal(pieces.count, 6);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S2", 1), 1, 1);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S2", 2), 0, 1);
    assert_near(pieces.list[0].counted + pieces.list[1].counted, 1, 0); /* S1: one of two */
}

static void no_graft_outlives_its_tree(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, "A1", "alive");
    fixture->orchard.trees.list[0].health = HEALTH_DEAD;
    fixture->orchard.trees.list[0].health_on = fixture_day("2027-09-01");
    pieces = pieces_on(fixture, "2028-12-01");
    assert_int_equal(pieces.count, 2);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S1", 1), 1, 1);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S1", 2), 0, 1);
}

static void what_is_not_known_yet_is_not_counted(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    note_on_tag(fixture, "2026-11-02", NOTE_SURVIVAL, "A1", "alive");
    note_on_tag(fixture, "2027-08-02", NOTE_RELABELLED, "A1", "S2");
    note_on_tag(fixture, "2027-08-02", NOTE_STROBILI, "A1", "9");
    pieces = pieces_on(fixture, "2027-08-01");
    assert_int_equal(pieces.count, 1);
    assert_piece(find(&pieces, RATE_SURVIVAL, "S1", 1), 1, 1);
}

static void counts_go_to_the_true_selection_under_any_tag(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;
    struct note *made;

    add_basis(fixture);
    note_on_tag(fixture, "2026-04-01", NOTE_RETAGGED, "A1", "A9");
    note_on_tag(fixture, "2027-08-02", NOTE_RELABELLED, "A9", "S2");
    note_on_tag(fixture, "2027-03-02", NOTE_STROBILI, "A9", "7");
    note_on_tag(fixture, "2027-03-01", NOTE_STROBILI, "A1", "5"); /* an older count */
    made = note_on_tag(fixture, "2026-03-01", NOTE_GRAFTED, "A5", NULL);
    made->tree = "T2";
    made->selection = "S1";
    note_on_tag(fixture, "2027-03-02", NOTE_STROBILI, "A5", "0");
    note_on_tag(fixture, "2028-08-02", NOTE_RELABELLED, "A2", "unknown");
    note_on_tag(fixture, "2028-03-02", NOTE_STROBILI, "A2", "3");
    pieces = pieces_on(fixture, "2028-12-01");
    assert_piece(find(&pieces, RATE_STROBILI_PER_LIVE_GRAFT, "S2", 1), 7, 1);
    assert_piece(find(&pieces, RATE_STROBILI_PER_LIVE_GRAFT, "S1", 1), 0, 1);
    assert_null(find(&pieces, RATE_STROBILI_PER_LIVE_GRAFT, "S2", 2));
    for (size_t i = 0; i < pieces.count; i++)
        if (pieces.list[i].kind == RATE_STROBILI_PER_LIVE_GRAFT && pieces.list[i].counted == 3)
            assert_null(pieces.list[i].subject.selection);
}

static void hang(struct fixture *fixture, const char *bag, const char *strobili)
{
    note_on_bag(fixture, "2027-03-01", NOTE_BAGGED, bag, strobili)->cross = "C";
}

static void bags_tell_what_was_lost_and_what_was_kept(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    add_cross(fixture, "C", "S1", "S2");
    hang(fixture, "A1-27-1", "4");
    note_on_bag(fixture, "2027-03-05", NOTE_POLLINATED, "A1-27-1", NULL);
    note_on_bag(fixture, "2027-04-05", NOTE_UNBAGGED, "A1-27-1", "4");
    note_on_bag(fixture, "2027-07-05", NOTE_CONELETS, "A1-27-1", "3");
    note_on_bag(fixture, "2028-10-05", NOTE_CONES, "A1-27-1", "2");
    note_on_bag(fixture, "2028-11-05", NOTE_SEEDS, "A1-27-1", "61");
    pieces = pieces_on(fixture, "2028-12-01");
    assert_piece(find(&pieces, RATE_BAGS_PER_GRAFT, "S1", 1), 1, 1);
    assert_piece(find(&pieces, RATE_STROBILI_PER_BAG, "S1", 1), 4, 1);
    assert_piece(find(&pieces, RATE_BAGS_LOST, "S1", 1), 0, 1);
    assert_piece(find(&pieces, RATE_CONELETS_KEPT, "S1", 1), 3, 4);
    assert_piece(find(&pieces, RATE_CONES_KEPT, "S1", 1), 2, 3);
    assert_piece(find(&pieces, RATE_SEEDS_PER_CONE, "S1", 1), 61, 2);
    assert_int_equal(pieces.contradictory, 0);
    assert_int_equal(pieces.timed, 0);
}

static void a_lost_bag_or_one_never_pollinated_tells_nothing_of_conelets(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;
    double lost = 0, ended = 0;

    add_basis(fixture);
    add_cross(fixture, "C", "S1", "S2");
    hang(fixture, "A1-27-1", "4");
    note_on_bag(fixture, "2027-03-05", NOTE_POLLINATED, "A1-27-1", NULL);
    note_on_bag(fixture, "2027-03-06", NOTE_BAG_LOST, "A1-27-1", "storm");
    note_on_bag(fixture, "2027-07-05", NOTE_CONELETS, "A1-27-1", "3");
    hang(fixture, "A1-27-2", "4");
    note_on_bag(fixture, "2027-04-05", NOTE_UNBAGGED, "A1-27-2", "4");
    note_on_bag(fixture, "2027-07-05", NOTE_CONELETS, "A1-27-2", "1");
    hang(fixture, "A1-27-3", "2");
    note_on_bag(fixture, "2027-03-05", NOTE_POLLINATED, "A1-27-3", NULL);
    note_on_bag(fixture, "2027-06-05", NOTE_CONELETS, "A1-27-3", "3"); /* more than strobili */
    pieces = pieces_on(fixture, "2027-06-20");
    for (size_t i = 0; i < pieces.count; i++) {
        assert_int_not_equal(pieces.list[i].kind, RATE_CONELETS_KEPT);
        if (pieces.list[i].kind == RATE_BAGS_LOST) {
            lost += pieces.list[i].counted;
            ended += pieces.list[i].of;
        }
    }
    assert_near(lost, 1, 0);
    assert_near(ended, 2, 0); /* the third still hangs */
    assert_int_equal(pieces.contradictory, 1);
    assert_piece(find(&pieces, RATE_BAGS_PER_GRAFT, "S1", 1), 3, 1);
}

static struct note *done(struct fixture *fixture, const char *value)
{
    struct note *note = add_note(fixture, "2027-03-04", NOTE_DONE, value);

    note->task = "bag";
    return note;
}

static void minutes_are_the_value_of_done_notes(void **state)
{
    struct fixture *fixture = *state;
    struct rate_pieces pieces;

    add_basis(fixture);
    add_task(fixture, "bag", "bag");
    done(fixture, "3.5")->bag = "A1-27-1";
    done(fixture, "4")->tag = "A2";
    done(fixture, "5")->tree = "T1";
    done(fixture, "6")->site = "Nordhang";
    done(fixture, "7")->lot = "L";
    done(fixture, "yes")->tag = "A2";
    done(fixture, "9")->task = "dance";
    pieces = pieces_on(fixture, "2027-12-01");
    assert_int_equal(pieces.timed, 5);
    assert_int_equal(pieces.count, 5);
    assert_piece(find(&pieces, RATE_MINUTES_EACH, "S1", 1), 3.5, 1);
    assert_piece(find(&pieces, RATE_MINUTES_EACH, "S2", 1), 4, 1);
    assert_string_equal(pieces.list[0].rate, "minutes_each:bag");
    assert_null(pieces.list[0].subject.site); /* of a lot */
    assert_near(pieces.list[0].counted, 7, 0);
    assert_string_equal(pieces.list[1].subject.site, "Nordhang");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(an_autumn_word_is_of_the_spring_to_come),
        FIXTURE_TEST(both_springs_are_told_once_they_are_over),
        FIXTURE_TEST(a_graft_that_bore_had_lived_and_one_without_a_word_tells_nothing),
        FIXTURE_TEST(cells_of_tables_are_words_too),
        FIXTURE_TEST(no_graft_outlives_its_tree),
        FIXTURE_TEST(what_is_not_known_yet_is_not_counted),
        FIXTURE_TEST(counts_go_to_the_true_selection_under_any_tag),
        FIXTURE_TEST(bags_tell_what_was_lost_and_what_was_kept),
        FIXTURE_TEST(a_lost_bag_or_one_never_pollinated_tells_nothing_of_conelets),
        FIXTURE_TEST(minutes_are_the_value_of_done_notes),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
