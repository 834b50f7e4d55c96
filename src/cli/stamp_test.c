#include "cli/stamp.h"

#include "base/test.h"

#define WORDS                                                                                      \
    "Run 00000000000000ab of conetide 0.1.0, as of 2027-03-02; newest observed: HOLM "             \
    "2027-03-02;TARN none"

static struct arena arena;

static int setup(void **state)
{
    (void)state;
    arena_init(&arena, NULL);
    return 0;
}

static int teardown(void **state)
{
    (void)state;
    arena_release(&arena);
    return 0;
}

static struct text text_of(const char *bytes)
{
    struct text text;
    text_init(&text, &arena);
    text_add(&text, bytes);
    return text;
}

static struct stamp some_stamp(void)
{
    return (struct stamp){
        .run = 0xab, .as_of = day_from_civil(2027, 3, 2), .newest = "HOLM 2027-03-02;TARN none"};
}

static void expect(const char *name, const char *page, const char *stamped)
{
    struct text text = text_of(page);
    struct stamp stamp = some_stamp();
    assert_string_equal(stamp_page(&stamp, name, &text).bytes, stamped);
}

static void each_form_names_the_run_where_it_has_room(void **state)
{
    (void)state;
    expect("a.txt", "One\n", "One\n\n" WORDS "\n");
    expect("a.html", "<body>x</body></html>", "<body>x<p>" WORDS "</p>\n</body></html>");
    expect("a.svg", "<svg></svg>\n", "<svg><metadata>" WORDS "</metadata>\n</svg>\n");
    expect("a.json", "{\"schema\":1}",
           "{\"run\":{\"id\":\"00000000000000ab\",\"version\":\"0.1.0\",\"as_of\":\"2027-03-02\","
           "\"newest_observed\":\"HOLM 2027-03-02;TARN none\"},\"schema\":1}");
    expect("a.json", "[]", "[]");
    expect("a.ics", "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n",
           "BEGIN:VCALENDAR\r\n"
           "X-CONETIDE-RUN:Run 00000000000000ab of conetide 0.1.0\\, as of 2027-03-02\\; \r\n"
           " newest observed: HOLM 2027-03-02\\;TARN none\r\n"
           "BEGIN:VEVENT\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n");
    expect("a.ics", "END:VCALENDAR\r\n",
           "X-CONETIDE-RUN:Run 00000000000000ab of conetide 0.1.0\\, as of 2027-03-02\\; \r\n"
           " newest observed: HOLM 2027-03-02\\;TARN none\r\nEND:VCALENDAR\r\n");
}

#define CELLS ",00000000000000ab,0.1.0,2027-03-02,HOLM 2027-03-02;TARN none\n"
#define COLUMNS ",x_run,x_version,x_as_of,x_newest_observed\n"

static void rows_get_four_cells_that_come_off_again(void **state)
{
    static const char *const pages[] = {"a,b\n", "a,b\n1,\"x, \"\"y\"\"\nz\"\n,\n"};
    static const char *const stamped[] = {"a,b" COLUMNS,
                                          "a,b" COLUMNS "1,\"x, \"\"y\"\"\nz\"" CELLS "," CELLS};
    struct stamp stamp = some_stamp();
    (void)state;
    for (size_t i = 0; i < COUNT(pages); i++) {
        struct text page = text_of(pages[i]);
        struct text with = stamp_page(&stamp, "a.csv", &page);
        assert_string_equal(with.bytes, stamped[i]);
        assert_string_equal(stamp_off(&with).bytes, pages[i]);
        assert_string_equal(stamp_off(&page).bytes, pages[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(each_form_names_the_run_where_it_has_room, setup, teardown),
        cmocka_unit_test_setup_teardown(rows_get_four_cells_that_come_off_again, setup, teardown),
    };
    return cmocka_run_group_tests_name("cli: stamps", tests, NULL, NULL) != 0;
}
