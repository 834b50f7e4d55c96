/*
 * The public forms of weather files.  Layouts are those that the archive documents; stations and
 * values are invented.
 */
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

static void read_as(struct folder *folder, const char *name, const char *text)
{
    struct memory_source memory;
    struct source source = source_of_memory(name, &memory, strlen(text), text);
    open_folder(folder);
    assert_true(read_weather(&folder->orchard, "HOLM", &source, &folder->diags));
}

static void expect_told(struct folder *folder, const char *expected)
{
    struct text text;
    text_init(&text, &folder->arena);
    diags_sort(&folder->diags);
    diags_write(&folder->diags, &text);
    assert_string_equal(text.bytes, expected);
}

/* What is told of a file with this content. */
static void expect(const char *name, const char *text, const char *expected)
{
    struct folder folder;
    read_as(&folder, name, text);
    expect_told(&folder, expected);
    arena_release(&folder.arena);
}

static void expect_day(const struct folder *folder, const char *day, double tmin_c, double tmax_c)
{
    const struct record *record = folder->orchard.records.list;
    daynum date;
    assert_true(day_parse(strlen(day), day, &date));
    assert_int_equal(folder->orchard.records.count, 1);
    bool inside = date >= record->first_day && date < record->first_day + (daynum)record->count;
    double tmin = inside ? record->tmin_c[date - record->first_day] : (double)NAN;
    double tmax = inside ? record->tmax_c[date - record->first_day] : (double)NAN;
    if (isnan(tmin_c))
        assert_true(isnan(tmin));
    else
        assert_near(tmin, tmin_c, 1e-12);
    if (isnan(tmax_c))
        assert_true(isnan(tmax));
    else
        assert_near(tmax, tmax_c, 1e-12);
}

static const struct weather_file *file_of(const struct folder *folder)
{
    assert_int_equal(folder->orchard.weather_files.count, 1);
    return folder->orchard.weather_files.list;
}

/* ---- lines of a month ------------------------------------------------------------------------ */

/* A line of 31 slots of eight columns; the slots given, the others missing. */
static const char *month(struct arena *arena, const char *head, const char *slots)
{
    char *line = arena_printf(arena, "%s%s", head, slots);
    while (strlen(line) < 269)
        line = arena_printf(arena, "%s-9999   ", line);
    return arena_printf(arena, "%s\n", line);
}

#define TMAX "ZZC00000001202702TMAX"
#define TMIN "ZZC00000001202702TMIN"

static void a_station_file_tells_tenths_by_month_and_element(void **state)
{
    (void)state;
    struct folder folder;
    struct arena arena;
    arena_init(&arena, NULL);
    const char *text =
        arena_printf(&arena, "%s%s%s%s", month(&arena, TMAX, "  153  7  156  7  159L 7-9999   "),
                     month(&arena, "ZZC00000001202702PRCP", "    0  7ABCDE   "),
                     month(&arena, TMIN, "   22  7  -24  7-9999     -11  7"),
                     month(&arena, "ZZC00000001202703TMIN", "   30  7"));
    read_as(&folder, "HOLM.dly", text);
    expect_told(&folder, "");
    expect_day(&folder, "2027-02-01", 2.2, 15.3);
    expect_day(&folder, "2027-02-02", -2.4, 15.6);
    expect_day(&folder, "2027-02-03", NAN, 15.9); /* a lagged value is a value */
    expect_day(&folder, "2027-02-04", -1.1, NAN);
    expect_day(&folder, "2027-02-05", NAN, NAN);
    expect_day(&folder, "2027-03-01", 3, NAN);
    const struct weather_file *file = file_of(&folder);
    assert_string_equal(file->form, "station file of GHCN-Daily (.dly)");
    assert_string_equal(file->unit, "tenths of deg C");
    assert_int_equal(file->days, 5);
    assert_int_equal(file->flagged, 0);
    assert_int_equal(file->first_day, day_from_civil(2027, 2, 1));
    assert_int_equal(file->last_day, day_from_civil(2027, 3, 1));
    arena_release(&folder.arena);
    arena_release(&arena);
}

static void every_quality_flag_drops_its_value(void **state)
{
    static const struct {
        char flag;
        const char *words;
    } cases[] = {{'D', "1 duplicate"},
                 {'G', "1 gap"},
                 {'I', "1 internal consistency"},
                 {'K', "1 streak"},
                 {'L', "1 length of several days"},
                 {'M', "1 megaconsistency"},
                 {'N', "1 naught"},
                 {'O', "1 climatological outlier"},
                 {'R', "1 lagged range"},
                 {'S', "1 spatial consistency"},
                 {'T', "1 temporal consistency"},
                 {'W', "1 too warm for snow"},
                 {'X', "1 bounds"},
                 {'Z', "1 official investigation"},
                 {'q', "1 another check"}};
    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct folder folder;
        struct arena arena;
        arena_init(&arena, NULL);
        char flag = cases[i].flag;
        const char *texts[] = {
            arena_printf(&arena, "%s  612 %c7  150  7\n%s   40  7   50  7\n", TMAX, flag, TMIN),
            arena_printf(&arena,
                         "ZZC00000001,20270201,TMAX,612,,%c,7,0700\n"
                         "ZZC00000001,20270201,TMIN,40,,,7,0700\n"
                         "ZZC00000001,20270202,TMAX,150,,,7,\n"
                         "ZZC00000001,20270202,TMIN,50,,,7\n",
                         flag),
            arena_printf(&arena,
                         "DATE,TMAX,TMAX_ATTRIBUTES,TMIN,TMIN_ATTRIBUTES\n"
                         "2027-02-01,\"  612\",\",%c,7\",\"   40\",\",,7\"\n"
                         "2027-02-02,\"  150\",\"L,,7\",\"   50\",\n",
                         flag)};
        for (size_t t = 0; t < COUNT(texts); t++) {
            read_as(&folder, "HOLM.csv", texts[t]);
            expect_told(&folder, "");
            expect_day(&folder, "2027-02-01", 4, NAN);
            expect_day(&folder, "2027-02-02", 5, 15);
            assert_int_equal(file_of(&folder)->flagged, 1);
            assert_string_equal(file_of(&folder)->flags, cases[i].words);
            arena_release(&folder.arena);
        }
        arena_release(&arena);
    }
}

static void several_flags_are_counted_by_their_check(void **state)
{
    (void)state;
    struct folder folder;
    read_as(&folder, "HOLM.dly", TMAX "  612 X7  613 X7  150 I7  151  7\r\n");
    expect_told(&folder, "");
    assert_int_equal(file_of(&folder)->flagged, 3);
    assert_string_equal(file_of(&folder)->flags, "1 internal consistency, 2 bounds");
    assert_int_equal(file_of(&folder)->days, 1);
    expect_day(&folder, "2027-02-04", NAN, 15.1);
    arena_release(&folder.arena);
}

static void lines_may_be_cut_after_their_last_value(void **state)
{
    (void)state;
    struct folder folder;
    read_as(&folder, "HOLM.dly",
            "\n" TMAX "  153  7        -9999     159\n" TMIN "\n" TMIN "   2\n");
    expect_told(&folder, "");
    expect_day(&folder, "2027-02-01", NAN, 15.3);
    expect_day(&folder, "2027-02-04", NAN, 15.9);
    assert_int_equal(file_of(&folder)->days, 2);
    arena_release(&folder.arena);
}

static void faults_of_a_station_file_are_told_by_line_and_columns(void **state)
{
    (void)state;
    struct arena arena;
    arena_init(&arena, NULL);
    const char *long_line = arena_printf(&arena, "%.*sx\n", 269, month(&arena, TMAX, ""));
    const char *day_30 =
        month(&arena, TMAX, arena_printf(&arena, "%232s", "")); /* blanks of 29 days */
    char *slots = arena_printf(&arena, "%.*s", 269, day_30);
    memcpy(slots + 21 + 29 * 8, "   10  7", 8);
    expect("HOLM.dly",
           arena_printf(&arena, "%s%s%s\n%s", TMAX "   1x  7  999  7\n", long_line, slots,
                        "ZZC00000001202713TMAX  150  7\nZZC00000001170002TMIN  150  7\n"
                        "hello\nUSHCN1202702TMAX   55 60\n" TMAX "  800  7  998  7\n"),
           "HOLM.dly:1: error: columns 22 to 26 are '   1x', expected a whole number of tenths of "
           "deg C or -9999, get the file again [bad-number]\n"
           "HOLM.dly:2: error: no line of station, month, element and 31 days in at most 269 "
           "columns, expected one, get the file again; the line was left out [bad-line]\n"
           "HOLM.dly:3: error: a value for day 30 of 2027-02, expected a day of the calendar, get "
           "the file again [no-such-day]\n"
           "HOLM.dly:4: error: columns 12 to 17 are '202713', expected a year from 1800 to 2199 "
           "and a month, get the file again; the line was left out [no-such-month]\n"
           "HOLM.dly:5: error: columns 12 to 17 are '170002', expected a year from 1800 to 2199 "
           "and a month, get the file again; the line was left out [no-such-month]\n"
           "HOLM.dly:6: error: no line of station, month, element and 31 days in at most 269 "
           "columns, expected one, get the file again; the line was left out [bad-line]\n"
           "HOLM.dly:7: error: a line with a station of 6 characters, as in the older archive of "
           "the United States in deg F, expected one of 11, get the file of GHCN-Daily "
           "[other-layout]\n"
           "HOLM.dly:8: error: the maximum of 2027-02-02 stands in line 1 too, with another value, "
           "expected it once, remove the wrong one [conflicting-day]\n"
           "HOLM.dly:8: error: 2 values lie outside -90 to 60 deg C, first 80.0 on 2027-02-01, "
           "expected temperatures of the air, check the unit of the file [out-of-range]\n");
    arena_release(&arena);
}

/* ---- rows a day and element ------------------------------------------------------------------ */

static void rows_by_year_pair_their_extremes_by_day(void **state)
{
    static const char *const heads[] = {
        "", "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n",
        ("\"ID\",\"DATE\",\"ELEMENT\",\"DATA_VALUE\",\"M_FLAG\",\"Q_FLAG\",\"S_FLAG\",\"OBS_"
         "TIME\"\n")};
    (void)state;
    for (size_t i = 0; i < COUNT(heads); i++) {
        struct folder folder;
        struct arena arena;
        arena_init(&arena, NULL);
        read_as(&folder, "HOLM.csv",
                arena_printf(&arena, "%s%s", heads[i],
                             "ZZC00000001,20270201,TMAX,153,,,7,0700\n"
                             "ZZC00000001,20270202,TMAX,156,H,,7,2400\n"
                             "ZZC00000001,20270202,PRCP,x,,,7,\n"
                             "ZZC00000001,20270202,TMIN,-11,,,7,\n"
                             "ZZC00000001,20270201,TMIN,22,,,7\n"
                             "ZZC00000001,20270203,TMIN,-9999,,,7\n"));
        expect_told(&folder, "");
        expect_day(&folder, "2027-02-01", 2.2, 15.3);
        expect_day(&folder, "2027-02-02", -1.1, 15.6);
        assert_string_equal(file_of(&folder)->form, "rows a day and element of GHCN-Daily");
        assert_int_equal(file_of(&folder)->days, 2);
        arena_release(&folder.arena);
        arena_release(&arena);
    }
}

static void faults_of_rows_are_told_at_their_cells(void **state)
{
    (void)state;
    expect("HOLM.csv",
           "ZZC00000001,20270201,TMAX,153,,,7,0700\n"
           "ZZC00000001,20270229,TMAX,153,,,7,0700\n"
           "ZZC00000001,2027-02-02,TMAX,153,,,7,0700\n"
           "ZZC00000001,20270203,TMAX,15.3,,,7,0700\n"
           "ZZC00000001,20270204,TMAX\n"
           "ZZC00000001,20270201,TMAX,153,,,7,0700\n"
           "ZZC00000001,20270201,TMAX,154,,,7,0700\n"
           "ZZC00000001,20270201,TMIN,160,,,7,0700\n",
           "HOLM.csv:2:2: error: '20270229', expected a day like 20270309 from 1800 to 2199, get "
           "the file again; the row was left out [no-such-day]\n"
           "HOLM.csv:3:2: error: '2027-02-02', expected a day like 20270309 from 1800 to 2199, get "
           "the file again; the row was left out [no-such-day]\n"
           "HOLM.csv:4:4: error: '15.3', expected a whole number of tenths of deg C, get the file "
           "again; the row was left out [bad-number]\n"
           "HOLM.csv:5: error: 3 cells, expected 7 or 8, get the file again; the row was left out "
           "[ragged-row]\n"
           "HOLM.csv:6: warning: the maximum of 2027-02-01 stands in line 1 too, with the same "
           "value, expected it once, remove one [duplicate-day]\n"
           "HOLM.csv:7: error: the maximum of 2027-02-01 stands in line 1 too, with another value, "
           "expected it once, remove the wrong one [conflicting-day]\n"
           "HOLM.csv:8: warning: 1 day has a minimum above the maximum, first 2027-02-01 with 16.0 "
           "and 15.3 deg C, expected the minimum not to be higher; it was left out "
           "[minimum-above-maximum]\n");
}

static void of_several_stations_the_one_of_the_name_is_taken(void **state)
{
    (void)state;
    struct folder folder;
    read_as(&folder, "HOLM.csv",
            "ZZC00000001,20270201,TMAX,153,,X,7,\n"
            "HOLM,20270201,TMAX,101,,,7,\n"
            "ZZC00000002,20270201,TMAX,155,,,7,\n"
            "HOLM,20270202,TMAX,102,,,7,\n");
    expect_told(&folder, "");
    expect_day(&folder, "2027-02-01", NAN, 10.1);
    expect_day(&folder, "2027-02-02", NAN, 10.2);
    assert_int_equal(file_of(&folder)->flagged, 0);
    arena_release(&folder.arena);
    expect("HOLM.csv", "ZZC00000001,20270201,TMAX,153,,,7,\nZZC00000002,20270201,TMAX,155,,,7,\n",
           "HOLM.csv: error: the file holds days of 'ZZC00000001' and of 'ZZC00000002', expected "
           "one station, keep the rows of one or name the station of the folder like one of them "
           "[several-stations]\n");
    expect("HOLM.dly", TMAX "  153  7\nZZC00000002202702TMAX  153  7\n",
           "HOLM.dly: error: the file holds days of 'ZZC00000001' and of 'ZZC00000002', expected "
           "one station, keep the rows of one or name the station of the folder like one of them "
           "[several-stations]\n");
}

/* ---- daily summaries ------------------------------------------------------------------------- */

#define SUMMARIES "\"STATION\",\"NAME\",\"DATE\",\"PRCP\",\"TMAX\",\"TMIN\"\n"
#define ROW(day, tmax, tmin)                                                                       \
    "\"ZZC00000001\",\"EXAMPLE FIELD 2 NW, GA US\",\"" day "\",\"0.1\",\"" tmax "\",\"" tmin "\""  \
    "\n"

static void summaries_are_read_in_the_unit_that_their_values_tell(void **state)
{
    static const struct {
        const char *text, *unit;
        double tmin_c, tmax_c;
    } cases[] = {
        {SUMMARIES ROW("2027-02-01", "15.3", "2.2") ROW("2027-02-02", "16", ""),
         "deg C, taken from its values", 2.2, 15.3},
        {SUMMARIES ROW("2027-02-01", "59.5", "36.5") ROW("2027-02-02", "61", "40"),
         "deg F, taken from its values", 2.5, 275.0 / 18},
        {SUMMARIES ROW("2027-02-01", "59.54", "35.96"), "deg F, taken from its values", 2.2, 15.3},
        {SUMMARIES ROW("2027-02-01", "153", "22"), "tenths of deg C, taken from its values", 2.2,
         15.3},
        {SUMMARIES ROW("2027-02-01", "53", "-131"), "tenths of deg C, taken from its values", -13.1,
         5.3},
        {SUMMARIES ROW("2027-02-01", "   53", "   22"), "tenths of deg C, taken from its values",
         2.2, 5.3}};
    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct folder folder;
        read_as(&folder, "HOLM.csv", cases[i].text);
        expect_told(&folder, "");
        expect_day(&folder, "2027-02-01", cases[i].tmin_c, cases[i].tmax_c);
        assert_string_equal(file_of(&folder)->form, "daily summaries");
        assert_string_equal(file_of(&folder)->unit, cases[i].unit);
        arena_release(&folder.arena);
    }
}

/* Whole numbers of a year with this warmest day. */
static const char *year_of(struct arena *arena, int warmest)
{
    struct text text;
    char day[DAY_TEXT];
    text_init(&text, arena);
    text_add(&text, "DATE,TMAX,TMIN\n");
    for (daynum i = 0; i < 365; i++)
        text_addf(&text, "%s,%d,%d\n", day_text(day_from_civil(2026, 1, 1) + i, day),
                  warmest - (int)(i % 30), warmest - (int)(i % 30) - 10);
    return text.bytes;
}

static void a_whole_year_of_whole_numbers_tells_its_unit(void **state)
{
    (void)state;
    struct folder folder;
    struct arena arena;
    arena_init(&arena, NULL);
    read_as(&folder, "HOLM.csv", year_of(&arena, 95));
    expect_told(&folder, "");
    expect_day(&folder, "2026-01-01", 265.0 / 9, 35);
    arena_release(&folder.arena);
    read_as(&folder, "HOLM.csv", year_of(&arena, 35));
    expect_told(&folder, "");
    expect_day(&folder, "2026-01-01", 25, 35);
    arena_release(&folder.arena);
    read_as(&folder, "HOLM.csv", year_of(&arena, 12));
    assert_int_equal(folder.diags.errors, 1);
    assert_string_equal(folder.diags.list[0].code, "unit-unknown");
    arena_release(&folder.arena);
    arena_release(&arena);
}

static void what_may_be_two_units_is_refused_unless_its_name_says(void **state)
{
    static const char text[] = SUMMARIES ROW("2027-02-01", "60", "36") ROW("2027-02-02", "", "36");
    static const struct {
        const char *name, *unit;
        double tmin_c, tmax_c;
    } cases[] = {{"weather/HOLM-metric.csv", "deg C, as its name says", 36, 60},
                 {"weather/HOLM-2027-standard.csv", "deg F, as its name says", 20.0 / 9, 140.0 / 9},
                 {"HOLM-tenths", "tenths of deg C, as its name says", 3.6, 6}};
    (void)state;
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct folder folder;
        read_as(&folder, cases[i].name, text);
        expect_told(&folder, "");
        expect_day(&folder, "2027-02-01", cases[i].tmin_c, cases[i].tmax_c);
        assert_string_equal(file_of(&folder)->unit, cases[i].unit);
        arena_release(&folder.arena);
    }
    expect("HOLM.csv", text,
           "HOLM.csv: error: the file does not name its unit, and its 2 days are too few and too "
           "round to tell deg C, deg F and tenths of deg C apart, expected one of them, let its "
           "name end in -metric, -standard or -tenths, as in HOLM-standard.csv [unit-unknown]\n");
}

static void faults_of_summaries_are_told_at_their_cells(void **state)
{
    (void)state;
    expect(
        "HOLM-metric.csv",
        "STATION,DATE,TMAX,TMIN\nZ,2027-02-01,15.3,M\nZ,2027-02-30,15.3,2\nZ,2027-02-03,15.3\n"
        "Z,2027-02-04,-9999,5\nZ,2027-02-05,61,5\nZ,2027-02-06,4,5\nZ,2027-02-01,15.3,\n"
        "Z,2027-02-07,5,-91\nZ,2027-02-08,4,5\n",
        "HOLM-metric.csv:2:4: error: 'TMIN' is 'M', expected a number like 12.5, leave it blank "
        "when it is not known [bad-number]\n"
        "HOLM-metric.csv:3:2: error: 'DATE' is '2027-02-30', expected a day like 2027-03-09 from "
        "1800 to 2199, get the file again; the row was left out [no-such-day]\n"
        "HOLM-metric.csv:4: error: 3 cells, expected 4 as in the header line, get the file "
        "again; the row was left out [ragged-row]\n"
        "HOLM-metric.csv:6: error: 2 values lie outside -90 to 60 deg C, first 61.0 on "
        "2027-02-05, expected temperatures of the air, check the unit of the file "
        "[out-of-range]\n"
        "HOLM-metric.csv:7: warning: 2 days have a minimum above the maximum, first 2027-02-06 "
        "with 5.0 and 4.0 deg C, expected the minimum not to be higher; they were left out "
        "[minimum-above-maximum]\n"
        "HOLM-metric.csv:8: warning: day 2027-02-01 stands in line 2 too, with the same values, "
        "expected it once, remove one [duplicate-day]\n");
    expect("HOLM.csv", "DATE,TMAX\n2027-02-01,15.3\n",
           "HOLM.csv:1: error: no column 'TMIN', expected it in daily summaries, order them with "
           "it [missing-column]\n");
    expect("HOLM.csv", "STATION,DATE,TMAX,TMIN\nA,2027-02-01,15.3,2\nB,2027-02-01,15.3,2\n",
           "HOLM.csv: error: the file holds days of 'A' and of 'B', expected one station, keep the "
           "rows of one or name the station of the folder like one of them [several-stations]\n");
}

static void summaries_without_a_day_are_an_empty_record(void **state)
{
    (void)state;
    struct folder folder;
    read_as(&folder, "HOLM.csv", "DATE,TMAX,TMIN\n2027-02-01,,\n");
    expect_told(&folder, "");
    assert_int_equal(file_of(&folder)->days, 0);
    arena_release(&folder.arena);
    read_as(&folder, "HOLM.csv", "DATE,TMAX,TMIN\n");
    expect_told(&folder, "");
    assert_int_equal(file_of(&folder)->days, 0);
    arena_release(&folder.arena);
}

/* ---- which form ------------------------------------------------------------------------------ */

static void a_forecast_is_known_by_its_content(void **state)
{
    (void)state;
    struct folder folder;
    struct memory_source memory;
    static const char text[] =
        " \n{\"properties\":{\"updateTime\":\"2027-03-08T10:00:00Z\",\"minTemperature\":{\"uom\":"
        "\"wmoUnit:degC\",\"values\":[{\"validTime\":\"2027-03-09T06:00:00Z/PT6H\",\"value\":5}]},"
        "\"maxTemperature\":{\"uom\":\"wmoUnit:degC\",\"values\":[]}}}";
    open_folder(&folder);
    *ARENA_PUSH(&folder.arena, folder.orchard.stations.list, folder.orchard.stations.count,
                folder.orchard.stations.capacity) =
        (struct station){.name = "HOLM", .utc_offset_h = -5};
    struct source source = source_of_memory("HOLM.csv", &memory, sizeof text - 1, text);
    assert_true(read_weather(&folder.orchard, "HOLM", &source, &folder.diags));
    expect_told(&folder, "");
    assert_int_equal(folder.orchard.records.count, 0);
    assert_int_equal(folder.orchard.forecasts.count, 1);
    assert_string_equal(file_of(&folder)->form, "grid-point forecast");
    arena_release(&folder.arena);
}

static void the_form_of_our_own_is_named_too(void **state)
{
    (void)state;
    struct folder folder;
    read_as(&folder, "HOLM.dly", "date,tmin_c,tmax_c\n2027-03-09,1,2\n");
    expect_told(&folder, "");
    assert_string_equal(file_of(&folder)->form, "table of days");
    assert_null(file_of(&folder)->unit);
    arena_release(&folder.arena);
}

/* A source that gives one byte at a time and refuses in the end. */
struct failing {
    const char *text;
    size_t given;
};

static long give_then_fail(void *context, size_t size, char *bytes)
{
    struct failing *failing = context;
    assert_true(size > 0);
    if (failing->text[failing->given] == '\0')
        return -1;
    *bytes = failing->text[failing->given++];
    return 1;
}

static void a_source_that_fails_leaves_nothing_of_any_form(void **state)
{
    static const char *const texts[] = {TMAX "  153  7\n",
                                        "ZZC00000001,20270201,TMAX,153,,,7,0700\n",
                                        "DATE,TMAX,TMIN\n2027-02-01,15.3,2\n",
                                        "DATE,TMAX,TMIN\n",
                                        "DATE,TMAX\n",
                                        "date,tmin_c,tmax_c\n2027-02-01,1,2\n",
                                        "{",
                                        ""};
    (void)state;
    for (size_t i = 0; i < COUNT(texts); i++) {
        struct folder folder;
        struct failing failing = {texts[i], 0};
        struct source source = {.name = "HOLM.csv", .context = &failing, .read = give_then_fail};
        open_folder(&folder);
        assert_false(read_weather(&folder.orchard, "HOLM", &source, &folder.diags));
        assert_int_equal(folder.orchard.records.count, 0);
        assert_int_equal(folder.orchard.weather_files.count, 0);
        arena_release(&folder.arena);
    }
}

static void a_file_longer_than_what_is_looked_at_is_read_whole(void **state)
{
    (void)state;
    struct folder folder;
    struct arena arena;
    struct text text;
    char day[DAY_TEXT];
    arena_init(&arena, NULL);
    text_init(&text, &arena);
    text_add(&text, "\xef\xbb\xbf\"DATE\",\"TMAX\",\"TMIN\"\r\n");
    for (daynum i = 0; i < 3000; i++)
        text_addf(&text, "\"%s\",\"%d.5\",\"-3\"\r\n",
                  day_text(day_from_civil(2019, 1, 1) + i, day), (int)(i % 30));
    read_as(&folder, "HOLM.csv", text.bytes);
    expect_told(&folder, "");
    assert_int_equal(file_of(&folder)->days, 3000);
    expect_day(&folder, day_text(day_from_civil(2019, 1, 1) + 2999, day), -3, 29.5);
    arena_release(&folder.arena);
    arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_station_file_tells_tenths_by_month_and_element),
        cmocka_unit_test(every_quality_flag_drops_its_value),
        cmocka_unit_test(several_flags_are_counted_by_their_check),
        cmocka_unit_test(lines_may_be_cut_after_their_last_value),
        cmocka_unit_test(faults_of_a_station_file_are_told_by_line_and_columns),
        cmocka_unit_test(rows_by_year_pair_their_extremes_by_day),
        cmocka_unit_test(faults_of_rows_are_told_at_their_cells),
        cmocka_unit_test(of_several_stations_the_one_of_the_name_is_taken),
        cmocka_unit_test(summaries_are_read_in_the_unit_that_their_values_tell),
        cmocka_unit_test(a_whole_year_of_whole_numbers_tells_its_unit),
        cmocka_unit_test(what_may_be_two_units_is_refused_unless_its_name_says),
        cmocka_unit_test(faults_of_summaries_are_told_at_their_cells),
        cmocka_unit_test(summaries_without_a_day_are_an_empty_record),
        cmocka_unit_test(a_forecast_is_known_by_its_content),
        cmocka_unit_test(the_form_of_our_own_is_named_too),
        cmocka_unit_test(a_source_that_fails_leaves_nothing_of_any_form),
        cmocka_unit_test(a_file_longer_than_what_is_looked_at_is_read_whole),
    };
    return cmocka_run_group_tests_name("reading: forms of weather", tests, NULL, NULL) != 0;
}
