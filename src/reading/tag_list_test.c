#include "reading/tag_list.h"

#include "orchard/fixture.h"

static struct tag_list read_text(struct fixture *fixture, const char *text)
{
    struct tag_list tags = {.arena = &fixture->arena};
    struct memory_source memory;
    const struct source source = source_of_memory("found.csv", &memory, strlen(text), text);

    assert_true(read_tag_list(&tags, &source, &fixture->diags));
    return tags;
}

static void a_list_is_a_tag_a_line(void **state)
{
    struct fixture *fixture = *state;
    struct tag_list tags = read_text(fixture, "V0079\n\n  V0087 \r\n\"A-1\"\n");
    assert_nothing_told(fixture);
    assert_int_equal(tags.count, 3);
    assert_string_equal(tags.list[0].tag, "V0079");
    assert_string_equal(tags.list[1].tag, "V0087");
    assert_int_equal(tags.list[1].place.line, 3);
    assert_string_equal(tags.list[2].tag, "A-1");
}

static void a_table_gives_its_column(void **state)
{
    struct fixture *fixture = *state;
    struct tag_list tags = read_text(fixture, "tree,tag,x_seen\nT1,V0079,yes\nT2,,no\nT3\n"
                                              "T4,V0087,yes\n");
    assert_nothing_told(fixture);
    assert_int_equal(tags.count, 2);
    assert_string_equal(tags.list[0].tag, "V0079");
    assert_int_equal(tags.list[0].place.cell, 2);
    assert_string_equal(tags.list[1].tag, "V0087");
}

static void a_list_may_have_a_heading(void **state)
{
    struct fixture *fixture = *state;
    struct tag_list tags = read_text(fixture, "tag\nV0079\n");
    assert_int_equal(tags.count, 1);
    assert_string_equal(tags.list[0].tag, "V0079");
}

static void several_cells_need_the_column(void **state)
{
    struct fixture *fixture = *state;
    struct tag_list tags = read_text(fixture, "tree,label\nT1,V0079\n");
    assert_int_equal(tags.count, 0);
    assert_int_equal(fixture_told(fixture, "no-tag-column"), 2);
}

static void nothing_gives_nothing(void **state)
{
    struct fixture *fixture = *state;
    assert_int_equal(read_text(fixture, "tag\n").count, 0);
}

static long refuse_to_read(void *context, size_t size, char *bytes)
{
    (void)context;
    (void)size;
    (void)bytes;
    return -1;
}

static void a_source_that_fails_is_told(void **state)
{
    struct fixture *fixture = *state;
    struct tag_list tags = {.arena = &fixture->arena};
    struct memory_source memory;
    struct source source = source_of_memory("found.csv", &memory, 0, "");
    source.read = refuse_to_read;
    assert_false(read_tag_list(&tags, &source, &fixture->diags));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_list_is_a_tag_a_line),    FIXTURE_TEST(a_table_gives_its_column),
        FIXTURE_TEST(a_list_may_have_a_heading), FIXTURE_TEST(several_cells_need_the_column),
        FIXTURE_TEST(nothing_gives_nothing),     FIXTURE_TEST(a_source_that_fails_is_told),
    };
    return cmocka_run_group_tests_name("tag_list", tests, NULL, NULL) != 0;
}
