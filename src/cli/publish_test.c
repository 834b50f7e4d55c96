/*
 * publish_test.c - sets of files put in the place of others, by exchange and by link.
 */
#include "cli/publish.h"

#include "base/test.h"
#include "cli/exchange.h"
#include "cli/files.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct ground {
    struct arena arena;
    char above[32];
    const char *out;
};

static int setup(void **state)
{
    static struct ground place;

    arena_init(&place.arena, NULL);
    (void)snprintf(place.above, sizeof place.above, "publish_test_XXXXXX");
    if (!mkdtemp(place.above))
        return -1;
    place.out = arena_printf(&place.arena, "%s/out", place.above);
    *state = &place;
    return 0;
}

static int teardown(void **state)
{
    struct ground *place = *state;

    folder_remove(place->above, &place->arena);
    arena_release(&place->arena);
    return 0;
}

static struct session session_of(struct ground *place)
{
    struct session session = {.arena = &place->arena};

    text_init(&session.err, &place->arena);
    return session;
}

/* A set of two files, the marker and one that says `what`. */
static bool publish_that(struct ground *place, const char *what, bool *changed)
{
    const char *marker = PUBLISH_MARK "run,1\nfile,a.txt\n";
    struct folder_file files[] = {{PUBLISH_MARKER, strlen(marker), marker},
                                  {"a.txt", strlen(what), what}};
    struct publish_set set = {COUNT(files), files};
    struct publish_place where = {.out = place->out, .named = "out"};
    struct session session = session_of(place);

    return publish_set(&session, &where, &set, changed) == STATUS_DONE;
}

static void expect_file(struct ground *place, const char *name, const char *what)
{
    struct text bytes;

    text_init(&bytes, &place->arena);
    assert_true(file_read(arena_printf(&place->arena, "%s/%s", place->out, name), &bytes));
    assert_string_equal(bytes.bytes, what);
}

static size_t beside(struct ground *place)
{
    const char *const *names;
    size_t count;

    assert_true(file_list(place->above, &place->arena, &names, &count));
    return count;
}

static ino_t number_of(struct ground *place, const char *name)
{
    struct stat about;

    assert_int_equal(stat(arena_printf(&place->arena, "%s/%s", place->out, name), &about), 0);
    return about.st_ino;
}

static void a_set_takes_the_place_of_another(void **state)
{
    struct ground *place = *state;
    bool changed;

    assert_true(publish_that(place, "one", &changed));
    assert_true(changed);
    expect_file(place, "a.txt", "one");
    ino_t marker = number_of(place, PUBLISH_MARKER), page = number_of(place, "a.txt");
    assert_true(publish_that(place, "one", &changed));
    assert_false(changed);
    assert_true(publish_that(place, "two", &changed));
    assert_true(changed);
    expect_file(place, "a.txt", "two");
    assert_true(number_of(place, PUBLISH_MARKER) == marker); /* the same file, by link */
    assert_true(number_of(place, "a.txt") != page);
    assert_int_equal(beside(place), 1);
}

static void an_empty_folder_is_filled(void **state)
{
    struct ground *place = *state;
    bool changed;

    assert_int_equal(mkdir(place->out, 0755), 0);
    assert_true(publish_that(place, "one", &changed));
    expect_file(place, "a.txt", "one");
    assert_int_equal(beside(place), 1);
}

static void what_killed_runs_left_goes_and_other_things_stay(void **state)
{
    struct ground *place = *state;
    struct arena *arena = &place->arena;
    bool changed;

    assert_int_equal(mkdir(arena_printf(arena, "%s.new-aaaaaa", place->out), 0755), 0);
    assert_int_equal(mkdir(arena_printf(arena, "%s.new-bbbbbb", place->out), 0755), 0);
    assert_true(folder_write(arena_printf(arena, "%s.new-bbbbbb", place->out),
                             &(struct folder_file){PUBLISH_MARKER, 1, "w"}, arena));
    assert_int_equal(symlink("nowhere", arena_printf(arena, "%s.new-cccccc.link", place->out)), 0);
    assert_int_equal(mkdir(arena_printf(arena, "%s.new-dddddd", place->out), 0755), 0);
    assert_true(folder_write(arena_printf(arena, "%s.new-dddddd", place->out),
                             &(struct folder_file){"mine.txt", 1, "w"}, arena));
    assert_true(publish_that(place, "one", &changed));
    assert_int_equal(beside(place), 2); /* out, and what is not ours */
}

/* As on a system that cannot exchange two folders. */
static void by_link_a_set_takes_the_place_of_another_too(void **state)
{
    struct ground *place = *state;
    struct arena *arena = &place->arena;
    struct session session = session_of(place);
    struct publish_place where = {.out = place->out, .named = "out"};
    const char *old, *marker;
    const char *first = folder_make_beside(place->out, ".new-", arena);
    bool changed;

    assert_non_null(first);
    assert_true(folder_write(first, &(struct folder_file){"a.txt", 3, "one"}, arena));
    assert_true(
        folder_write(first,
                     &(struct folder_file){PUBLISH_MARKER, strlen(PUBLISH_MARK "file,a.txt\n"),
                                           PUBLISH_MARK "file,a.txt\n"},
                     arena));
    assert_true(exchange_link(first, place->out, arena, &old));
    assert_null(old);
    expect_file(place, "a.txt", "one");
    assert_int_equal(publish_look(&session, &where, &marker), STATUS_DONE);
    assert_non_null(marker);
    assert_true(publish_that(place, "two", &changed)); /* a link stays a link */
    expect_file(place, "a.txt", "two");
    struct stat about;
    assert_int_equal(lstat(place->out, &about), 0);
    assert_true(S_ISLNK(about.st_mode));
    assert_int_equal(beside(place), 2); /* the link and where it leads */
    assert_true(publish_that(place, "two", &changed));
    assert_false(changed);
}

static void a_full_folder_is_not_linked_over(void **state)
{
    struct ground *place = *state;
    struct arena *arena = &place->arena;
    const char *old, *made = folder_make_beside(place->out, ".new-", arena);

    assert_int_equal(mkdir(place->out, 0755), 0);
    assert_true(folder_write(place->out, &(struct folder_file){"mine", 1, "x"}, arena));
    assert_false(exchange_link(made, place->out, arena, &old));
    assert_int_equal(errno, ENOTEMPTY);
    expect_file(place, "mine", "x");
}

/* What is said of a place that cannot be taken. */
static void expect_refused(struct ground *ground, const char *out, const char *said)
{
    struct session session = session_of(ground);
    struct publish_place where = {.out = out, .named = "out"};
    const char *marker;

    assert_int_not_equal(publish_look(&session, &where, &marker), STATUS_DONE);
    if (strstr(session.err.bytes, said) == NULL)
        fail_msg("'%s' does not say '%s'", session.err.bytes, said);
}

static void what_is_not_ours_is_refused(void **state)
{
    struct ground *ground = *state;
    struct arena *arena = &ground->arena;
    struct folder_file mine = {"mine", 1, "x"};
    struct folder_file marker = {PUBLISH_MARKER, sizeof PUBLISH_MARK - 1, PUBLISH_MARK};
    const char *file = arena_printf(arena, "%s/mine", ground->above);
    const char *link = arena_printf(arena, "%s/link", ground->above);

    assert_true(folder_write(ground->above, &mine, arena));
    assert_int_equal(symlink("mine", link), 0);
    expect_refused(ground, file, "is a file");
    expect_refused(ground, link, "is a link");
    expect_refused(ground, ground->above, "holds other things");
    expect_refused(ground, arena_printf(arena, "%s/x", file), "Not a directory");
    assert_int_equal(mkdir(ground->out, 0755), 0);
    assert_true(folder_write(ground->out, &marker, arena));
    assert_true(folder_write(ground->out, &mine, arena));
    expect_refused(ground, ground->out, "holds 'mine', which no refresh made");
    assert_true(
        folder_write(ground->above, &(struct folder_file){PUBLISH_MARKER, 4, "what"}, arena));
    expect_refused(ground, ground->above, "holds other things");
}

static void files_of_programs_that_show_a_set_do_no_harm(void **state)
{
    struct ground *ground = *state;
    struct session session = session_of(ground);
    struct publish_place where = {.out = ground->out, .named = "out"};
    const char *marker;
    bool changed;

    assert_true(publish_that(ground, "one", &changed));
    assert_true(
        folder_write(ground->out, &(struct folder_file){".~lock.a.csv#", 1, "x"}, &ground->arena));
    assert_int_equal(publish_look(&session, &where, &marker), STATUS_DONE);
    assert_true(publish_that(ground, "one", &changed));
    assert_false(changed);
}

static void a_place_that_is_not_there_is_told(void **state)
{
    struct ground *ground = *state;
    bool changed;

    ground->out = arena_printf(&ground->arena, "%s/no/out", ground->above);
    assert_false(publish_that(ground, "one", &changed));
}

/* Where OUT is, seen from a programme folder; NULL: it is refused. */
static const char *place_of(struct ground *ground, const char *folder, const char *out)
{
    struct session session = session_of(ground);
    struct publish_place where;
    const char *operands[] = {folder};

    session.operands = operands;
    session.operand_count = 1;
    session.options.into = out;
    return publish_find(&session, out, &where) == STATUS_DONE ? strrchr(where.out, '/') : NULL;
}

static void a_place_lies_apart_from_the_folder(void **state)
{
    struct ground *ground = *state;
    struct arena *arena = &ground->arena;
    const char *in = arena_printf(arena, "%s/in", ground->above);

    assert_int_equal(mkdir(in, 0755), 0);
    assert_string_equal(place_of(ground, in, ground->out), "/out");
    assert_string_equal(place_of(ground, in, arena_printf(arena, "%s/", ground->out)), "/out");
    assert_string_equal(place_of(ground, in, arena_printf(arena, "%s2", in)), "/in2");
    assert_null(place_of(ground, in, in));
    assert_null(place_of(ground, in, arena_printf(arena, "%s/../in", in)));
    assert_null(place_of(ground, in, arena_printf(arena, "%s/out", in)));
    assert_null(place_of(ground, in, ground->above));
    assert_null(place_of(ground, in, "/"));
    assert_null(place_of(ground, in, ".."));
    assert_null(place_of(ground, in, arena_printf(arena, "%s/no/out", in)));
    assert_null(place_of(ground, arena_printf(arena, "%s/no", in), ground->out));
    assert_int_equal(symlink("in", ground->out), 0); /* a link into the folder */
    assert_null(place_of(ground, in, ground->out));
}

static void names_are_taken_apart(void **state)
{
    struct arena *arena = &((struct ground *)*state)->arena;

    assert_string_equal(folder_trim("a/b//", arena), "a/b");
    assert_string_equal(folder_trim("/", arena), "/");
    assert_string_equal(folder_above("a/b/", arena), "a");
    assert_string_equal(folder_above("a", arena), ".");
    assert_string_equal(folder_above("/a", arena), "/");
    assert_string_equal(folder_above("a//b", arena), "a");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_set_takes_the_place_of_another, setup, teardown),
        cmocka_unit_test_setup_teardown(an_empty_folder_is_filled, setup, teardown),
        cmocka_unit_test_setup_teardown(what_killed_runs_left_goes_and_other_things_stay, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(by_link_a_set_takes_the_place_of_another_too, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(a_full_folder_is_not_linked_over, setup, teardown),
        cmocka_unit_test_setup_teardown(what_is_not_ours_is_refused, setup, teardown),
        cmocka_unit_test_setup_teardown(files_of_programs_that_show_a_set_do_no_harm, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(a_place_that_is_not_there_is_told, setup, teardown),
        cmocka_unit_test_setup_teardown(a_place_lies_apart_from_the_folder, setup, teardown),
        cmocka_unit_test_setup_teardown(names_are_taken_apart, setup, teardown),
    };
    return cmocka_run_group_tests_name("cli: publishing", tests, NULL, NULL) != 0;
}
