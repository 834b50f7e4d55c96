#include "reading/reading.h"

#include "base/test.h"

struct folder {
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
};

static void open_folder(struct folder *folder)
{
    arena_init(&folder->arena, NULL);
    orchard_init(&folder->orchard, &folder->arena);
    diags_init(&folder->diags, &folder->arena);
}

static void read_more(struct folder *folder, const char *name, const char *text)
{
    struct memory_source memory;
    struct source source = source_of_memory(name, &memory, strlen(text), text);
    assert_true(read_weather(&folder->orchard, "HOLM", &source, &folder->diags));
}

static void read(struct folder *folder, const char *text)
{
    open_folder(folder);
    read_more(folder, "HOLM.csv", text);
}

static void expect_told(struct folder *folder, const char *expected)
{
    struct text text;
    text_init(&text, &folder->arena);
    diags_sort(&folder->diags);
    diags_write(&folder->diags, &text);
    assert_string_equal(text.bytes, expected);
}

static void expect(const char *text, const char *expected)
{
    struct folder folder;
    read(&folder, text);
    expect_told(&folder, expected);
    arena_release(&folder.arena);
}

static void days_in_any_order_become_a_dense_record(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "tmax_c,date,tmin_c\n20,2027-03-09,-1.5\n\n,2027-03-12,3\n18,2027-03-08,\n");
    expect_told(&folder, "");
    assert_int_equal(folder.orchard.records.count, 1);
    const struct record *record = folder.orchard.records.list;
    assert_string_equal(record->station, "HOLM");
    assert_int_equal(record->first_day, day_from_civil(2027, 3, 8));
    assert_int_equal(record->count, 5);
    assert_true(isnan(record->tmin_c[0]) && isnan(record->tmin_c[2]) && isnan(record->tmin_c[3]));
    assert_near(record->tmin_c[1], -1.5, 0);
    assert_near(record->tmin_c[4], 3, 0);
    assert_near(record->tmax_c[0], 18, 0);
    assert_near(record->tmax_c[1], 20, 0);
    assert_true(isnan(record->tmax_c[4]));
    arena_release(&folder.arena);
}

static void fahrenheit_and_mixed_units_become_celsius(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "date,tmin_f,tmax_c,x_rain\n2027-03-09,23,20,1.2\n");
    expect_told(&folder, "");
    assert_near(folder.orchard.records.list->tmin_c[0], -5, 1e-12);
    assert_near(folder.orchard.records.list->tmax_c[0], 20, 0);
    arena_release(&folder.arena);
}

static void days_far_apart_stay_apart(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "date,tmin_c,tmax_c\n2199-12-31,1,2\n1800-01-01,3,4\n2000-02-29,5,6\n");
    expect_told(&folder, "");
    const struct record *record = folder.orchard.records.list;
    assert_int_equal(record->first_day, day_from_civil(1800, 1, 1));
    assert_int_equal(record->count, 146097);
    assert_near(record->tmin_c[0], 3, 0);
    assert_near(record->tmin_c[day_from_civil(2000, 2, 29) - record->first_day], 5, 0);
    assert_near(record->tmax_c[146096], 2, 0);
    arena_release(&folder.arena);
}

static void impossible_values_are_told(void **state)
{
    (void)state;
    expect(
        "date,tmin_c,tmax_c\n2027-03-09,12,8.5\n2027-03-10,-91,61\n2027-03-11,-9999,5\n"
        "2027-02-29,1,2\n2027-03-13,1\n2027-03-14,\"1,5\",M\n,1,2\n",
        "HOLM.csv:2:2: error: the minimum of 2027-03-09 is '12' and its maximum '8.5', expected "
        "the minimum not to be higher, check both [minimum-above-maximum]\n"
        "HOLM.csv:3:2: error: 'tmin_c' is '-91', expected -90 to 60, check the number and its "
        "unit [out-of-range]\n"
        "HOLM.csv:3:3: error: 'tmax_c' is '61', expected -90 to 60, check the number and its "
        "unit [out-of-range]\n"
        "HOLM.csv:4:2: error: 'tmin_c' is '-9999', expected -90 to 60, leave it blank when it is "
        "not known [out-of-range]\n"
        "HOLM.csv:5:1: error: 'date' is '2027-02-29', expected a day of the calendar, check "
        "month and day [no-such-day]\n"
        "HOLM.csv:6: error: 2 cells, expected 3 as in the header line, add or remove "
        "delimiters; the row was left out [ragged-row]\n"
        "HOLM.csv:7:2: error: 'tmin_c' is '1,5', expected a number like 12.5, write a point "
        "before the fraction and no comma [bad-number]\n"
        "HOLM.csv:7:3: error: 'tmax_c' is 'M', expected a number like 12.5, leave it blank when "
        "it is not known [bad-number]\n"
        "HOLM.csv:8:1: error: 'date' is blank, expected a value, fill it in [empty-cell]\n");
    expect("date,tmin_f,tmax_f\n2027-03-09,50,141\n",
           "HOLM.csv:2:3: error: 'tmax_f' is '141', expected -130 to 140, check the number and its "
           "unit [out-of-range]\n");
}

static void a_day_twice_in_a_file_is_told(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "date,tmin_c,tmax_c\n2027-03-09,1,2\n2027-03-09,1.0,2\n2027-03-09,1,3\n"
                  "2027-03-10,,5\n2027-03-10,,5\n2027-03-10,4,5\n");
    expect_told(&folder,
                "HOLM.csv:3: warning: day 2027-03-09 stands in line 2 too, with the same values, "
                "expected it once, remove one [duplicate-day]\n"
                "HOLM.csv:4: error: day 2027-03-09 stands in line 2 too, with other values, "
                "expected it once, remove the wrong one [conflicting-day]\n"
                "HOLM.csv:6: warning: day 2027-03-10 stands in line 5 too, with the same values, "
                "expected it once, remove one [duplicate-day]\n"
                "HOLM.csv:7: error: day 2027-03-10 stands in line 5 too, with other values, "
                "expected it once, remove the wrong one [conflicting-day]\n");
    arena_release(&folder.arena);
}

static void a_later_file_wins_and_differences_are_told_once(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "date,tmin_c,tmax_c\n2027-03-09,1,2\n2027-03-10,3,4\n2027-03-11,5,6\n");
    read_more(&folder, "HOLM-2.csv",
              "date,tmin_c,tmax_c\n2027-03-11,5,7\n2027-03-10,3.5,\n2027-03-09,1,2\n"
              "2027-03-01,0,0\n2027-03-20,8,9\n");
    expect_told(&folder, "HOLM-2.csv: warning: 2 days have other values than in an earlier file of "
                         "this station, first 2027-03-10 in line 3; this file was taken, remove "
                         "the wrong one [differing-files]\n");
    assert_int_equal(folder.orchard.records.count, 1);
    const struct record *record = folder.orchard.records.list;
    assert_int_equal(record->first_day, day_from_civil(2027, 3, 1));
    assert_int_equal(record->count, 20);
    assert_near(record->tmin_c[0], 0, 0);
    assert_near(record->tmin_c[8], 1, 0);
    assert_near(record->tmin_c[9], 3.5, 0);
    assert_near(record->tmax_c[9], 4, 0); /* a blank never wins over a value */
    assert_near(record->tmax_c[10], 7, 0);
    assert_near(record->tmax_c[19], 9, 0);
    arena_release(&folder.arena);
}

static void the_header_must_hold_date_and_both_extremes(void **state)
{
    (void)state;
    expect("date,tmin\n",
           "HOLM.csv:1: error: no column 'tmax_c' or 'tmax_f', expected it in the header line, add "
           "it [missing-column]\n"
           "HOLM.csv:1: error: no column 'tmin_c' or 'tmin_f', expected it in the header line, add "
           "it [missing-column]\n"
           "HOLM.csv:1:2: error: column 'tmin' does not say its unit, expected tmin_c or tmin_f, "
           "rename it [column-without-unit]\n");
    expect("date,tmin_c,tmax_c,tmin_f,rain\n",
           "HOLM.csv:1:4: error: column 'tmin_f' stands here and 'tmin_c' in cell 2, expected one "
           "unit, remove one [twin-columns]\n"
           "HOLM.csv:1:5: error: unknown column 'rain', expected one of date, tmin_c, tmin_f, "
           "tmax_c, tmax_f; a column of your own begins with x_ [unknown-column]\n");
}

static void a_station_without_rows_has_an_empty_record(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "date,tmin_c,tmax_c\n");
    expect_told(&folder, "");
    assert_int_equal(folder.orchard.records.count, 1);
    assert_int_equal(folder.orchard.records.list->count, 0);
    read_more(&folder, "HOLM-2.csv", "date,tmin_c,tmax_c\n2027-03-09,1,2\n");
    assert_int_equal(folder.orchard.records.list->count, 1);
    arena_release(&folder.arena);
}

static void quoted_and_plain_rows_mean_the_same(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "date,tmin_c,tmax_c\n2027-03-09,-1.25,+20\n2027-03-10, 4 ,19.5\n",
        "date;tmin_c;tmax_c\r\n2027-03-09;-1.25;+20\r\n2027-03-10;4;19.5\r\n",
        "\xef\xbb\xbf\144ate\ttmin_c\ttmax_c\n2027-03-09\t-1.25\t+20\n2027-03-10\t4\t19.5",
        "\"date\",\"tmin_c\",\"tmax_c\"\n\"2027-03-09\",\"-1.25\",\"+20\"\n2027-03-10,\"4\",19.5\n",
        "tmax_c,x_a,date,tmin_c\n+20,M\xc3\xbcller,2027-03-09,-1.25\n19.5,,2027-03-10,4\n",
    };
    for (size_t i = 0; i < COUNT(texts); i++) {
        struct folder folder;
        read(&folder, texts[i]);
        expect_told(&folder, "");
        const struct record *record = folder.orchard.records.list;
        assert_int_equal(record->count, 2);
        assert_near(record->tmin_c[0], -1.25, 0);
        assert_near(record->tmax_c[0], 20, 0);
        assert_near(record->tmin_c[1], 4, 0);
        assert_near(record->tmax_c[1], 19.5, 0);
        arena_release(&folder.arena);
    }
}

static void weather_cut_off_anywhere_loses_nothing_silently(void **state)
{
    (void)state;
    static const char text[] = "date,tmin_c,tmax_c\n2027-03-09,-1.5,20\n2027-03-10,4,19.5\n";
    for (size_t length = 0; length < sizeof text; length++) {
        struct folder folder;
        struct memory_source memory;
        open_folder(&folder);
        struct source source = source_of_memory("HOLM.csv", &memory, length, text);
        assert_true(read_weather(&folder.orchard, "HOLM", &source, &folder.diags));
        size_t days = folder.orchard.records.count == 0 ? 0 : folder.orchard.records.list->count;
        size_t ended = (length > 37 ? 1u : 0u) + (length > 56 ? 1u : 0u);
        assert_true(days >= ended);
        if (length < 18 || (length > 19 && length < 31) || (length > 38 && length < 50))
            assert_true(folder.diags.errors > 0 || days > ended);
        arena_release(&folder.arena);
    }
}

static long fail_in_the_middle(void *context, size_t size, char *bytes)
{
    static const char text[] = "date,tmin_c,tmax_c\n2027-03-09,1,2\n";
    int *calls = context;
    assert_true(size >= sizeof text);
    if ((*calls)++ > 0)
        return -1;
    memcpy(bytes, text, sizeof text - 1);
    return sizeof text - 1;
}

static void a_source_that_fails_leaves_no_half_record(void **state)
{
    (void)state;
    struct folder folder;
    int calls = 0;
    open_folder(&folder);
    struct source source = {.name = "HOLM.csv", .context = &calls, .read = fail_in_the_middle};
    assert_false(read_weather(&folder.orchard, "HOLM", &source, &folder.diags));
    assert_int_equal(folder.orchard.records.count, 0);
    arena_release(&folder.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_in_any_order_become_a_dense_record),
        cmocka_unit_test(fahrenheit_and_mixed_units_become_celsius),
        cmocka_unit_test(days_far_apart_stay_apart),
        cmocka_unit_test(impossible_values_are_told),
        cmocka_unit_test(a_day_twice_in_a_file_is_told),
        cmocka_unit_test(a_later_file_wins_and_differences_are_told_once),
        cmocka_unit_test(the_header_must_hold_date_and_both_extremes),
        cmocka_unit_test(a_station_without_rows_has_an_empty_record),
        cmocka_unit_test(quoted_and_plain_rows_mean_the_same),
        cmocka_unit_test(weather_cut_off_anywhere_loses_nothing_silently),
        cmocka_unit_test(a_source_that_fails_leaves_no_half_record),
    };
    return cmocka_run_group_tests_name("reading: weather", tests, NULL, NULL) != 0;
}
