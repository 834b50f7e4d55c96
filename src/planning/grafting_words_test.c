#include "planning/grafting_words.h"

#include "base/test.h"

static daynum on(const char *text)
{
    daynum day = DAY_NEVER;

    if (text != NULL && !day_parse(strlen(text), text, &day))
        fail_msg("'%s' is no day", text);
    return day;
}

static void a_window_is_told_in_a_sentence(void **state)
{
    static const struct {
        enum grafting_state state;
        const char *opens[THREE_DATES], *closes[THREE_DATES]; /* NULL: never */
        const char *words;
    } cases[] = {
        {GRAFTING_NOT_YET,
         {"2027-02-06", "2027-02-14", "2027-02-23"},
         {"2027-03-01", "2027-03-05", "2027-03-09"},
         "not yet: likely to open about 14 February 2027 (between 6 and 23 February)"},
        {GRAFTING_NOT_YET,
         {"2027-01-27", "2027-02-04", "2027-02-12"},
         {"2027-03-01", "2027-03-05", "2027-03-09"},
         "not yet: likely to open about 4 February 2027 (between 27 January and 12 February)"},
        {GRAFTING_NOT_YET,
         {"2026-12-28", "2027-01-02", "2027-01-06"},
         {"2027-03-01", "2027-03-05", "2027-03-09"},
         "not yet: likely to open about 2 January 2027 (between 28 December 2026 and 6 January "
         "2027)"},
        {GRAFTING_NOT_YET,
         {"2027-02-14", "2027-02-14", "2027-02-14"},
         {"2027-03-01", "2027-03-05", "2027-03-09"},
         "not yet: likely to open about 14 February 2027"},
        {GRAFTING_NOT_YET,
         {"2027-02-06", "2027-02-14", NULL},
         {"2027-03-01", "2027-03-05", "2027-03-09"},
         "not yet: likely to open about 14 February 2027 (not before 6 February)"},
        {GRAFTING_NOT_YET,
         {"2027-03-20", "2027-03-28", "2027-04-04"},
         {"2027-03-20", "2027-03-24", "2027-03-24"},
         "not yet: heat enough is likely only about 28 March 2027, after the window closes about "
         "24 March"},
        {GRAFTING_OPEN,
         {"2027-02-06", "2027-02-12", "2027-02-23"},
         {"2027-02-24", "2027-03-02", "2027-03-09"},
         "open since about 12 February 2027; likely to close about 2 March (between 24 February "
         "and 9 March)"},
        {GRAFTING_OPEN,
         {"2026-12-06", "2026-12-12", "2026-12-23"},
         {"2027-01-02", "2027-01-05", "2027-01-09"},
         "open since about 12 December 2026; likely to close about 5 January 2027 (between 2 and "
         "9 January)"},
        {GRAFTING_CLOSED,
         {"2027-02-06", "2027-02-12", "2027-02-23"},
         {"2027-02-24", "2027-03-02", "2027-03-09"},
         "closed since about 2 March 2027"},
        {GRAFTING_NO_DATE,
         {"2027-02-06", NULL, NULL},
         {"2027-02-24", "2027-03-02", "2027-03-09"},
         "no date: most past years do not bring heat enough"},
    };
    struct arena arena;

    (void)state;
    arena_init(&arena, NULL);
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct grafting_row row = {.state = cases[i].state};

        for (int j = 0; j < THREE_DATES; j++) {
            row.opens[j] = on(cases[i].opens[j]);
            row.closes[j] = on(cases[i].closes[j]);
        }
        assert_string_equal(grafting_state_words(&row, &arena), cases[i].words);
    }
    arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_window_is_told_in_a_sentence),
    };
    return cmocka_run_group_tests_name("grafting words", tests, NULL, NULL) != 0;
}
