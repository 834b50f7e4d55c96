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
        cmocka_unit_test_setup_teardown(names_are_taken_apart, setup, teardown),
    };
    return cmocka_run_group_tests_name("cli: publishing", tests, NULL, NULL) != 0;
}
