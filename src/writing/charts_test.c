/*
 * Pictures: that they are well formed whatever names hold, that labels keep apart, and that what is
 * drawn stands where its numbers say.
 */
#include "writing/charts.h"
#include "writing/glance.h"

#include "orchard/fixture.h"

#include <math.h>

static struct page_run run_of(struct fixture *fixture)
{
    return (struct page_run){
        .orchard = &fixture->orchard, .as_of = fixture_day("2027-03-01"), .arena = &fixture->arena};
}

#define assert_says(text, words)                                                                   \
    do {                                                                                           \
        if (strstr(text, words) == NULL)                                                           \
            fail_msg("'%s' is not in:\n%s", words, text);                                          \
    } while (0)

/* Every '<' opens a tag, every tag is closed, and no control byte is left. */
static void assert_well_formed(const char *svg)
{
    int depth = 0;

    for (const char *at = svg; *at; at++) {
        assert_true((unsigned char)*at >= 0x20 || *at == '\n');
        if (*at != '<')
            continue;
        if (at[1] == '/') {
            depth--;
        } else {
            const char *end = strchr(at, '>');

            assert_non_null(end);
            depth += end[-1] == '/' ? 0 : 1;
        }
        assert_true(depth >= 0);
    }
    assert_int_equal(depth, 0);
}

static void labels_that_touch_are_moved_down_and_kept_inside(void **state)
{
    double heights[] = {10, 12, 13, 50, 95, 96};

    (void)state;
    labels_apart(6, heights, 10, 100);
    for (size_t i = 1; i < 6; i++)
        assert_true(heights[i] - heights[i - 1] >= 10 - 1e-9);
    assert_true(fabs(heights[0] - 10) < 1e-9);
    assert_true(fabs(heights[3] - 50) < 1e-9);
    assert_true(fabs(heights[5] - 100) < 1e-9);
    labels_apart(0, heights, 10, 100);
}

static void days_and_amounts_stand_where_the_field_says(void **state)
{
    struct plot plot = {.left = 100, .top = 50, .width = 200, .height = 100, .low = 0, .high = 10};

    (void)state;
    plot.first = fixture_day("2027-03-01");
    plot.last = fixture_day("2027-03-21");
    assert_true(fabs(plot_x(&plot, plot.first) - 100) < 1e-9);
    assert_true(fabs(plot_x(&plot, plot.last) - 300) < 1e-9);
    assert_true(fabs(plot_y(&plot, 0) - 150) < 1e-9);
    assert_true(fabs(plot_y(&plot, 5) - 100) < 1e-9);
}

static void a_line_is_broken_where_a_day_is_missing(void **state)
{
    struct fixture *fixture = *state;
    const struct point points[] = {{0, 1}, {1, 2}, {2, (double)NAN}, {3, 4}, {4, 5}};
    struct text out;

    text_init(&out, &fixture->arena);
    svg_path(&out, INK_LINE, 5, points);
    assert_string_equal(out.bytes,
                        "<path class=\"line\" d=\"M0.0 1.0L1.0 2.0M3.0 4.0L4.0 5.0\"/>\n");
}

static void months_are_named_and_the_year_with_the_first_of_them(void **state)
{
    struct fixture *fixture = *state;
    struct plot plot = {.left = 0, .top = 0, .width = 300, .height = 100, .low = 0, .high = 10};
    struct text out;

    text_init(&out, &fixture->arena);
    plot.first = fixture_day("2026-11-15");
    plot.last = fixture_day("2027-04-15");
    plot_days(&plot, &out);
    assert_says(out.bytes, ">1 Dec<");
    assert_says(out.bytes, ">2026<");
    assert_says(out.bytes, ">1 Jan<");
    assert_says(out.bytes, ">2027<");
    assert_null(strstr(out.bytes, "15 Nov"));
    text_clear(&out);
    plot.last = fixture_day("2026-12-10");
    plot_days(&plot, &out); /* Mondays: 16, 23, 30 November, 7 December */
    assert_says(out.bytes, ">16 Nov<");
    assert_says(out.bytes, ">7 Dec<");
}

static void amounts_are_round(void **state)
{
    struct fixture *fixture = *state;
    struct plot plot = {.left = 0, .top = 0, .width = 300, .height = 100, .low = 0, .high = 870};
    struct text out;

    text_init(&out, &fixture->arena);
    plot_amounts(&plot, 5, "hours", &out);
    assert_says(out.bytes, ">0<");
    assert_says(out.bytes, ">200<");
    assert_says(out.bytes, ">800<");
    assert_null(strstr(out.bytes, ">1000<"));
    assert_says(out.bytes, ">hours<");
}

static void a_map_shows_each_graft_by_its_state_and_escapes_names(void **state)
{
    struct fixture *fixture = *state;
    struct page_run run;
    struct text out;

    add_site(fixture, "Low <Ridge>");
    add_selection(fixture, "S1&2", NULL, NULL);
    add_tree(fixture, "T\"1", "Low <Ridge>");
    add_graft(fixture, "A1", "S1&2", "T\"1");
    add_graft(fixture, "A2", "S1&2", "T\"1")->condition = CONDITION_ALIVE;
    add_graft(fixture, "A3", "S1&2", "T\"1")->condition = CONDITION_DEAD;
    fixture->orchard.as_of = fixture_day("2027-03-01");
    orchard_link(&fixture->orchard, &fixture->diags);
    run = run_of(fixture);
    text_init(&out, &fixture->arena);
    chart_write_map(state_of(&fixture->orchard, &fixture->arena, NULL),
                    &fixture->orchard.sites.list[0], &run, &out);
    assert_well_formed(out.bytes);
    assert_says(out.bytes, "Low &lt;Ridge&gt;");
    assert_says(out.bytes, "T&quot;1");
    assert_says(out.bytes, "S1&amp;2");
    assert_says(out.bytes, "class=\"fill\" cx=");
    assert_says(out.bytes, "class=\"open\" cx=");
}

static void pictures_of_nothing_say_so(void **state)
{
    struct fixture *fixture = *state;
    struct page_run run = run_of(fixture);
    struct text out;

    text_init(&out, &fixture->arena);
    chart_write_heat(&(struct heat_fans){NULL, 0}, &run, &out);
    assert_says(out.bytes, "No date of this season rests on a heat sum");
    assert_well_formed(out.bytes);
    text_clear(&out);
    chart_write_windows(&(struct selection_windows){.season = 2028}, &run, &out);
    assert_says(out.bytes, "Nothing flowers in 2028 with a date.");
    assert_well_formed(out.bytes);
    text_clear(&out);
    chart_write_minutes(&(struct worklist){.first_day = 1, .last_day = 7}, &run, &out);
    assert_says(out.bytes, "No work of crews is planned");
    assert_well_formed(out.bytes);
}

static const struct sheet_column glance_columns[] = {
    {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    {"first_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    {"chance", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    {"chance_alive", NULL, CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
};

/* A page of one table with `rows` rows, of which the first has no date. */
static const char *glance_of(struct fixture *fixture, size_t rows)
{
    struct page_run run = run_of(fixture);
    struct sheet sheet;
    struct glance_part part = {.id = "part",
                               .title = "A < B",
                               .command = "conetide flowering",
                               .sheet = &sheet,
                               .columns = "tag first_p50 chance heading"};
    const char *const lines[] = {"know & mind"};
    struct glance glance = {.lines = lines, .line_count = 1, .parts = &part, .part_count = 1};
    struct text out;

    sheet_init(&sheet, &fixture->arena, "conetide test 1", 5, glance_columns);
    text_add(&sheet.head, "title\nas of\nborrowed <dates>\n");
    for (size_t i = 0; i < rows; i++) {
        union cell *cells = sheet_row(&sheet);

        cells[0].text = "A<1>";
        cells[2].number = 0.25;
        if (i > 0)
            cells[1].day = fixture_day("2027-03-05");
    }
    text_init(&out, &fixture->arena);
    glance_write(&glance, &run, &out);
    return out.bytes;
}

static void a_glance_shows_the_columns_asked_for_and_sorts_by_plain_values(void **state)
{
    const char *page = glance_of(*state, 2);

    assert_says(page, "<h2>A &lt; B</h2>");
    assert_says(page, "<li>know &amp; mind</li>");
    assert_says(page, "borrowed &lt;dates&gt;");
    assert_says(page, "<td>A&lt;1&gt;</td><td data-v=\"\">-</td>"
                      "<td class=\"n\" data-v=\"0.250\">25 %</td></tr>");
    assert_says(page, "data-v=\"2027-03-05\">2027-03-05</td>");
    assert_says(page, "<button type=\"button\">first 50 %</button>");
    assert_says(page, "2 of 2 rows");
    assert_null(strstr(page, "chance alive"));
    assert_null(strstr(page, "<button type=\"button\">heading"));
}

static void a_glance_says_what_it_leaves_out_and_what_is_empty(void **state)
{
    const char *page = glance_of(*state, GLANCE_ROWS_MOST + 7);

    assert_says(page, "7 more rows: conetide flowering --format csv");
    assert_says(page, "2000 of 2000 rows");
    page = glance_of(*state, 0);
    assert_says(page, "<p>No rows.</p>");
    assert_null(strstr(page, "<table class"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(labels_that_touch_are_moved_down_and_kept_inside),
        FIXTURE_TEST(days_and_amounts_stand_where_the_field_says),
        FIXTURE_TEST(a_line_is_broken_where_a_day_is_missing),
        FIXTURE_TEST(months_are_named_and_the_year_with_the_first_of_them),
        FIXTURE_TEST(amounts_are_round),
        FIXTURE_TEST(a_map_shows_each_graft_by_its_state_and_escapes_names),
        FIXTURE_TEST(pictures_of_nothing_say_so),
        FIXTURE_TEST(a_glance_shows_the_columns_asked_for_and_sorts_by_plain_values),
        FIXTURE_TEST(a_glance_says_what_it_leaves_out_and_what_is_empty),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
