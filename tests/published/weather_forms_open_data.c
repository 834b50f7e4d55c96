/*
 * weather_forms_open_data - a real station of the daily archive, laid out in each form that the
 * archive gives, is read as the days that it is.
 *
 * Data: ../opendata/belle_mina (GHCN-Daily USC00010655, 2003 to 2024, with quality flags; SOURCE.md
 * there).  The station's own files could not be carried, so its values are put into the layouts
 * that the archive documents.
 */
#include "oracle.h"
#include "orchard/orchard.h"
#include "reading/reading.h"

#define TABLE "../opendata/belle_mina/USC00010655_daily.csv"
#define STATION "USC00010655"

enum { DAYS_MOST = 9000 };

/* A day as the table tells it, flagged values too. */
struct day {
    daynum date;
    double c[2]; /* minimum and maximum */
    char flag[2];
};

struct days {
    size_t count, flagged;
    struct day list[DAYS_MOST];
};

static const char *const elements[2] = {"TMIN", "TMAX"};

static void read_table_of_days(struct days *days)
{
    struct oracle oracle;
    oracle_open(&oracle, TABLE);
    days->count = days->flagged = 0;
    while (oracle_next(&oracle)) {
        struct day *day = &days->list[days->count++];
        const char *date = oracle_text(&oracle, "date");
        assert_true(days->count < DAYS_MOST && day_parse(strlen(date), date, &day->date));
        day->c[0] = oracle_number(&oracle, "tmin_c");
        day->c[1] = oracle_number(&oracle, "tmax_c");
        day->flag[0] = *oracle_text(&oracle, "tmin_flag");
        day->flag[1] = *oracle_text(&oracle, "tmax_flag");
        for (size_t e = 0; e < 2; e++)
            days->flagged += !isnan(day->c[e]) && day->flag[e] != '\0';
    }
}

static int tenths(double c)
{
    return (int)lround(c * 10);
}

/* ---- layouts --------------------------------------------------------------------------------- */

static void lay_month_lines(const struct days *days, struct text *text)
{
    for (size_t first = 0, end; first < days->count; first = end) {
        struct civil of = day_to_civil(days->list[first].date);
        for (end = first + 1; end < days->count; end++)
            if (day_to_civil(days->list[end].date).month != of.month)
                break;
        for (size_t e = 2; e-- > 0;) {
            size_t next = first;
            text_addf(text, STATION "%04d%02d%s", of.year, of.month, elements[e]);
            for (int slot = 1; slot <= 31; slot++) {
                const struct day *day = &days->list[next < end ? next : first];
                bool here = next < end && day_to_civil(day->date).day == slot;
                next += here;
                if (here && !isnan(day->c[e]))
                    text_addf(text, "%5d %c7", tenths(day->c[e]),
                              day->flag[e] ? day->flag[e] : ' ');
                else
                    text_add(text, "-9999   ");
            }
            text_add(text, "\n");
        }
    }
}

static void lay_element_rows(const struct days *days, struct text *text)
{
    for (size_t e = 0; e < 2; e++)
        for (size_t i = 0; i < days->count; i++) {
            const struct day *day = &days->list[i];
            struct civil on = day_to_civil(day->date);
            if (!isnan(day->c[e]))
                text_addf(text, STATION ",%04d%02d%02d,%s,%d,,%.1s,7,0700\n", on.year, on.month,
                          on.day, elements[e], tenths(day->c[e]), &day->flag[e]);
        }
}

enum summary { SUMMARY_TENTHS, SUMMARY_METRIC, SUMMARY_STANDARD };

static void lay_summaries(const struct days *days, enum summary form, struct text *text)
{
    char date[DAY_TEXT];
    text_add(text, "\"STATION\",\"DATE\",\"NAME\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\","
                   "\"TMIN_ATTRIBUTES\"\n");
    for (size_t i = 0; i < days->count; i++) {
        const struct day *day = &days->list[i];
        text_addf(text, "\"" STATION "\",\"%s\",\"BELLE MINA, AL\"", day_text(day->date, date));
        for (size_t e = 2; e-- > 0;) {
            double c = day->c[e];
            if (isnan(c))
                text_add(text, ",,");
            else if (form == SUMMARY_TENTHS)
                text_addf(text, ",\"%5d\"", tenths(c));
            else if (form == SUMMARY_METRIC)
                text_addf(text, ",\"%.1f\"", c);
            else
                text_addf(text, ",\"%.0f\"", c * 1.8 + 32);
            if (!isnan(c))
                text_addf(text, ",\",%.1s,7\"", &day->flag[e]);
        }
        text_add(text, "\n");
    }
}

/* ---- reading --------------------------------------------------------------------------------- */

/* Read it and hold it against the table; within `tolerance` deg C. */
static void check(const struct days *days, const char *name, const struct text *text,
                  double tolerance)
{
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
    struct memory_source memory;
    struct source source = source_of_memory(name, &memory, text->length, text->bytes);
    size_t compared = 0;
    arena_init(&arena, NULL);
    orchard_init(&orchard, &arena);
    diags_init(&diags, &arena);
    assert_true(read_weather(&orchard, "BELLE", &source, &diags));
    assert_int_equal(diags.errors, 0);
    assert_int_equal(orchard.weather_files.list->flagged, days->flagged);
    const struct record *record = orchard.records.list;
    for (size_t i = 0; i < days->count; i++) {
        const struct day *day = &days->list[i];
        size_t at = (size_t)(day->date - record->first_day);
        double read[2] = {at < record->count ? record->tmin_c[at] : (double)NAN,
                          at < record->count ? record->tmax_c[at] : (double)NAN};
        bool reversed = day->flag[0] == '\0' && day->flag[1] == '\0' && day->c[0] > day->c[1];
        for (size_t e = 0; e < 2; e++) {
            if (isnan(day->c[e]) || day->flag[e] != '\0' || reversed) {
                assert_true(isnan(read[e]));
                continue;
            }
            assert_near(read[e], day->c[e], tolerance);
            compared++;
        }
    }
    assert_true(compared > 15000);
    arena_release(&arena);
}

static void a_real_station_is_the_same_in_every_form(void **state)
{
    static struct days days;
    static const struct {
        enum summary form;
        double tolerance;
    } summaries[] = {{SUMMARY_TENTHS, 1e-9}, {SUMMARY_METRIC, 1e-9}, {SUMMARY_STANDARD, 0.2778}};
    struct arena arena;
    struct text text;
    (void)state;
    read_table_of_days(&days);
    assert_true(days.count > 8000 - 1 && days.flagged > 0);
    arena_init(&arena, NULL);
    text_init(&text, &arena);
    lay_month_lines(&days, &text);
    check(&days, "BELLE.dly", &text, 1e-9);
    text_clear(&text);
    lay_element_rows(&days, &text);
    check(&days, "BELLE.csv", &text, 1e-9);
    for (size_t i = 0; i < COUNT(summaries); i++) {
        text_clear(&text);
        lay_summaries(&days, summaries[i].form, &text);
        check(&days, "BELLE.csv", &text, summaries[i].tolerance);
    }
    arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_real_station_is_the_same_in_every_form)};
    return cmocka_run_group_tests_name("a station of the archive", tests, NULL, NULL) != 0;
}
