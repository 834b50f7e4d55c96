#include "writing/labels_page.h"

#include "orchard/fixture.h"
#include "writing/layout.h"

#define assert_says(text, words)                                                                   \
    do {                                                                                           \
        if (strstr(text, words) == NULL)                                                           \
            fail_msg("'%s' is not in:\n%s", words, text);                                          \
    } while (0)

struct pages {
    struct page_run run;
    struct labels labels;
    const struct state *now;
    struct text out;
};

static void open_pages(struct pages *pages, struct fixture *fixture)
{
    orchard_link(&fixture->orchard, &fixture->diags);
    pages->now = state_of(&fixture->orchard, &fixture->arena, NULL);
    pages->labels =
        labels_of(pages->now, &(struct labels_wanted){.from = DAY_NONE}, &fixture->arena);
    pages->run = (struct page_run){
        .orchard = &fixture->orchard, .as_of = fixture_day("2027-02-20"), .arena = &fixture->arena};
    text_init(&pages->out, &fixture->arena);
}

static void use_new(struct pages *pages, size_t count)
{
    pages->labels = (struct labels){0};
    for (size_t i = 0; i < count; i++)
        *ARENA_PUSH(pages->run.arena, pages->labels.list, pages->labels.count,
                    pages->labels.capacity) =
            (struct label){arena_printf(pages->run.arena, "V%04zu", i), NULL};
}

/* A1 with everything told, A2 relabelled to what is not known and on no tree. */
static void add_grafts(struct fixture *fixture)
{
    add_basis(fixture);
    fixture->orchard.selections.list[0].flag_colour = "red & <white>";
    fixture->orchard.grafts.list[0].crown = CROWN_TOP;
    fixture->orchard.grafts.list[0].branch = "M2";
    fixture->orchard.grafts.list[1].tree_name = NULL;
    note_on_tag(fixture, "2026-05-01", NOTE_RELABELLED, "A2", "unknown");
}

static size_t longest_line(const char *text)
{
    size_t longest = 0;
    while (*text != '\0') {
        size_t length = strcspn(text, "\n\f");
        char line[512];
        assert_true(length < sizeof line);
        memcpy(line, text, length);
        line[length] = '\0';
        longest = text_columns(line) > longest ? text_columns(line) : longest;
        text += length + (text[length] != '\0');
    }
    return longest;
}

static void a_label_says_everything_in_words(void **state)
{
    struct pages pages;
    add_grafts(*state);
    open_pages(&pages, *state);
    labels_write_text(&pages.labels, &pages.run, &pages.out);
    assert_says(pages.out.bytes, "| A 1 ");
    assert_says(pages.out.bytes, "flag: red & <white>");
    assert_says(pages.out.bytes, "tree T1, top, branch M2, Nordhang");
    assert_says(pages.out.bytes, "grafted Tue 10 Feb 2026");
    assert_says(pages.out.bytes, "selection not known");
    assert_says(pages.out.bytes, "no flag");
    assert_says(pages.out.bytes, "tree not told");
    assert_true(longest_line(pages.out.bytes) <= PAGE_COLUMNS);
}

static void text_keeps_to_pages_and_columns(void **state)
{
    struct fixture *fixture = *state;
    struct pages pages;
    open_pages(&pages, fixture);
    use_new(&pages, 41);
    pages.labels.list[3].tag = "\xe6\x97\xa5\xe6\x9c\xac-7"; /* two columns a character */
    pages.labels.list[4].tag = "A-TAG-OF-THE-PAST-THAT-IS-LONGER-THAN-A-LABEL-IS-WIDE";
    pages.labels.list[5].tag = "OLD 7";
    labels_write_text(&pages.labels, &pages.run, &pages.out);
    assert_true(longest_line(pages.out.bytes) <= PAGE_COLUMNS);
    assert_says(pages.out.bytes, "| OLD 7 ");
    assert_says(pages.out.bytes, "| selection ___");
    size_t pages_seen = 0, labels = 0;
    for (char *page = strtok(pages.out.bytes, "\f"); page; page = strtok(NULL, "\f")) {
        size_t lines = 0;
        for (const char *at = page; (at = strchr(at, '\n')) != NULL; at++)
            lines++;
        assert_true(lines <= PAGE_LINES);
        for (const char *at = page; (at = strstr(at, "grafted on")) != NULL; at++)
            labels++;
        assert_true(page[0] == '+');
        pages_seen++;
    }
    assert_int_equal(labels, 41);
    assert_int_equal(pages_seen, 3);
}

static void nothing_is_told_as_such(void **state)
{
    struct pages pages;
    open_pages(&pages, *state);
    labels_write_text(&pages.labels, &pages.run, &pages.out);
    assert_string_equal(pages.out.bytes, "No labels.\n");
    text_clear(&pages.out);
    labels_write_html(&pages.labels, &pages.run, &pages.out);
    assert_says(pages.out.bytes, "<p>No labels.</p>");
    assert_int_equal(labels_pages(&pages.labels), 1);
}

static void markup_is_escaped(void **state)
{
    struct fixture *fixture = *state;
    struct pages pages;
    add_grafts(fixture);
    fixture->orchard.program.name = "Mark & Moor";
    open_pages(&pages, fixture);
    labels_write_html(&pages.labels, &pages.run, &pages.out);
    assert_says(pages.out.bytes, "flag: red &amp; &lt;white&gt;");
    assert_says(pages.out.bytes, "<title>Labels, Mark &amp; Moor</title>");
    text_clear(&pages.out);
    labels_write_svg(&pages.labels, 0, &label_papers[0], &pages.out);
    assert_says(pages.out.bytes, "flag: red &amp; &lt;white&gt;");
    assert_says(pages.out.bytes, "width=\"210.0mm\" height=\"297.0mm\"");
}

static size_t count_of(const char *text, const char *words)
{
    size_t count = 0;
    for (const char *at = text; (at = strstr(at, words)) != NULL; at++)
        count++;
    return count;
}

static void sheets_hold_twenty_four(void **state)
{
    struct pages pages;
    open_pages(&pages, *state);
    use_new(&pages, 49);
    assert_int_equal(labels_pages(&pages.labels), 3);
    labels_write_html(&pages.labels, &pages.run, &pages.out);
    assert_int_equal(count_of(pages.out.bytes, "<section>"), 3);
    assert_int_equal(count_of(pages.out.bytes, "</section>"), 3);
    assert_int_equal(count_of(pages.out.bytes, "class=\"label\""), 49);
    static const size_t held[] = {24, 24, 1};
    for (size_t page = 0; page < 3; page++) {
        text_clear(&pages.out);
        labels_write_svg(&pages.labels, page, &label_papers[1], &pages.out);
        assert_int_equal(count_of(pages.out.bytes, "fill=\"none\""), held[page]);
    }
    assert_says(pages.out.bytes, ">V0048<");
}

/* The largest type of a text element of the drawing that holds `words`. */
static double type_of(const char *svg, const char *words)
{
    const char *found = strstr(svg, words);
    assert_non_null(found);
    while (strncmp(found, "font-size=\"", 11) != 0)
        found--;
    return strtod(found + 11, NULL);
}

static void long_words_are_set_smaller_and_never_cut(void **state)
{
    struct fixture *fixture = *state;
    struct pages pages;
    add_basis(fixture);
    fixture->orchard.grafts.list[0].tag = "A-TAG-OF-THE-PAST-THAT-GOES-ON-AND-ON";
    fixture->orchard.selections.list[0].name = fixture->orchard.grafts.list[0].selection_name =
        "a selection with a name of so many words that four lines of the label do not hold them, "
        "nor five, nor six, since it tells where it was found, by whom, and what stood beside it";
    open_pages(&pages, fixture);
    labels_write_svg(&pages.labels, 0, &label_papers[0], &pages.out);
    assert_near(type_of(pages.out.bytes, ">A2<"), 9, 1e-9);
    assert_true(type_of(pages.out.bytes, ">A-TAG-OF-THE-PAST-THAT-GOES-ON-AND-ON<") * 0.61 * 37 <=
                56);
    assert_true(type_of(pages.out.bytes, ">a selection with") < 3);
    assert_says(pages.out.bytes, "stood beside it<");
    text_clear(&pages.out);
    labels_write_html(&pages.labels, &pages.run, &pages.out);
    assert_says(pages.out.bytes, "class=\"tag long\"");
}

static void rows_tell_the_same(void **state)
{
    struct pages pages;
    add_grafts(*state);
    open_pages(&pages, *state);
    *ARENA_PUSH(pages.run.arena, pages.labels.list, pages.labels.count, pages.labels.capacity) =
        (struct label){"V0079", NULL};
    struct sheet sheet = labels_sheet(&pages.labels, &pages.run);
    sheet_write_csv(&sheet, (struct sheet_style){.digits = -1}, &pages.out);
    assert_string_equal(pages.out.bytes,
                        "tag,selection,flag_colour,site,tree,crown,branch,grafted_on\n"
                        "A2,,,,,,,2026-02-10\n"
                        "A1,S1,red & <white>,Nordhang,T1,top,M2,2026-02-10\n"
                        "V0079,,,,,,,\n");
}

static void new_tags_are_listed_in_lines(void **state)
{
    struct pages pages;
    open_pages(&pages, *state);
    use_new(&pages, 30);
    new_tags_write_text(&pages.labels, &pages.run, &pages.out);
    assert_true(longest_line(pages.out.bytes) <= 80);
    assert_says(pages.out.bytes, "V0000 ");
    assert_says(pages.out.bytes, "V0029\n\n");
    text_clear(&pages.out);
    struct sheet sheet = new_tags_sheet(&pages.labels, &pages.run);
    sheet_write_csv(&sheet, (struct sheet_style){.digits = -1}, &pages.out);
    assert_int_equal(strncmp(pages.out.bytes, "tag\nV0000\nV0001\n", 16), 0);
}

static void checked_tags_tell_what_may_be_meant(void **state)
{
    struct fixture *fixture = *state;
    struct pages pages;
    add_basis(fixture);
    static const char *const tags[] = {"V0079", "K1", "K3", "K4", "K5", "K6", "K7"};
    for (size_t i = 0; i < COUNT(tags); i++)
        add_graft(fixture, tags[i], "S1", "T1");
    open_pages(&pages, fixture);
    struct tag_checker checker = tag_checker_of(&fixture->orchard, &fixture->arena);
    static const char *const typed[] = {"V0079", "A1", "v0079", "V0097", "W0015", "K2", "nothing"};
    struct tag_check list[COUNT(typed)];
    for (size_t i = 0; i < COUNT(typed); i++)
        list[i] = tag_check_of(&checker, typed[i]);
    struct sheet sheet =
        tag_checks_sheet(&(struct tag_checks){pages.now, list, COUNT(typed)}, &pages.run);
    sheet_write_csv(&sheet, (struct sheet_style){.digits = -1}, &pages.out);
    assert_string_equal(
        pages.out.bytes,
        "tag,state,check_character,tag_now,selection,tree,nearest,remark\n"
        "V0079,known,right,V0079,S1,T1,,\n"
        "A1,known,unchecked,A1,S1,T1,,\"no check character, valid as it is\"\n"
        "v0079,unknown,right,,,,V0079,spelled in another way\n"
        "V0097,unknown,wrong,,,,V0079,misread or mistyped\n"
        "W0015,unknown,right,,,,,\"of no graft: not used yet, or of another folder\"\n"
        "K2,unknown,unchecked,,,,\"A2, K1, K3, K4 and 3 more\",perhaps mistyped\n"
        "nothing,unknown,unchecked,,,,,\n");
    assert_says(sheet.foot.bytes, "7 tags, 5 unknown, of these 1 with a wrong check character");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_label_says_everything_in_words),
        FIXTURE_TEST(text_keeps_to_pages_and_columns),
        FIXTURE_TEST(nothing_is_told_as_such),
        FIXTURE_TEST(markup_is_escaped),
        FIXTURE_TEST(sheets_hold_twenty_four),
        FIXTURE_TEST(long_words_are_set_smaller_and_never_cut),
        FIXTURE_TEST(rows_tell_the_same),
        FIXTURE_TEST(new_tags_are_listed_in_lines),
        FIXTURE_TEST(checked_tags_tell_what_may_be_meant),
    };
    return cmocka_run_group_tests_name("labels_page", tests, NULL, NULL) != 0;
}
