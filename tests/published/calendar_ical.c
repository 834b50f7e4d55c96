/*
 * calendar_ical.c - calendars against libical, which reads RFC 5545 by another hand: every line is
 * understood, whole days are whole days, folded and escaped text comes back, and numbers go up.
 */
#include "planning/crossing_fixture.h"
#include "planning/work_calendar.h"
#include "reading/calendar.h"
#include "writing/calendar.h"

#include <libical/ical.h>
#include <string.h>

static struct text written(struct fixture *fixture, const struct calendar *calendar)
{
    struct page_run run = {
        .orchard = &fixture->orchard, .as_of = fixture->orchard.as_of, .arena = &fixture->arena};
    struct text out;

    text_init(&out, &fixture->arena);
    calendar_write(calendar, &run, &out);
    return out;
}

static struct calendar read_back(struct fixture *fixture, const struct text *text)
{
    struct calendar calendar;
    struct memory_source memory;
    struct source source = source_of_memory("plan.ics", &memory, text->length, text->bytes);

    assert_true(read_calendar(&calendar, &source, &fixture->diags));
    return calendar;
}

static icalcomponent *parsed(const struct text *text)
{
    icalcomponent *root = icalparser_parse_string(text->bytes);

    assert_non_null(root);
    assert_int_equal(icalcomponent_isa(root), ICAL_VCALENDAR_COMPONENT);
    assert_int_equal(icalcomponent_count_errors(root), 0);
    assert_true(icalrestriction_check(root));
    assert_int_equal(icalcomponent_count_errors(root), 0);
    return root;
}

static void assert_same_day(struct icaltimetype time, daynum day)
{
    struct civil civil = day_to_civil(day);

    assert_true(time.is_date);
    assert_int_equal(time.year, civil.year);
    assert_int_equal(time.month, civil.month);
    assert_int_equal(time.day, civil.day);
}

static void assert_events_are(icalcomponent *root, const struct calendar *calendar)
{
    icalcomponent *event = icalcomponent_get_first_component(root, ICAL_VEVENT_COMPONENT);

    for (size_t i = 0; i < calendar->count; i++) {
        const struct calendar_entry *entry = &calendar->list[i];

        assert_non_null(event);
        assert_string_equal(icalcomponent_get_uid(event), entry->uid);
        assert_string_equal(icalcomponent_get_summary(event), entry->summary);
        assert_string_equal(icalcomponent_get_description(event), entry->description);
        assert_string_equal(icalcomponent_get_location(event), entry->location);
        assert_int_equal(icalcomponent_get_sequence(event), entry->sequence);
        assert_int_equal(icalcomponent_get_status(event),
                         entry->cancelled ? ICAL_STATUS_CANCELLED : ICAL_STATUS_CONFIRMED);
        assert_same_day(icalcomponent_get_dtstart(event), entry->day);
        assert_same_day(icalcomponent_get_dtend(event), entry->day + 1);
        event = icalcomponent_get_next_component(root, ICAL_VEVENT_COMPONENT);
    }
    assert_null(event);
}

static void assert_lines_are_short(const char *bytes)
{
    while (*bytes) {
        const char *end = strstr(bytes, "\r\n");

        assert_non_null(end);
        assert_true(end - bytes <= 75);
        assert_true(((unsigned char)*bytes & 0xC0) != 0x80);
        bytes = end + 2;
    }
}

static void both_hands_read_what_was_written(struct fixture *fixture,
                                             const struct calendar *calendar)
{
    struct text text = written(fixture, calendar);
    struct calendar back = read_back(fixture, &text);
    icalcomponent *root = parsed(&text);

    assert_lines_are_short(text.bytes);
    assert_events_are(root, calendar);
    assert_events_are(root, &back);
    icalcomponent_free(root);
    assert_int_equal(fixture->diags.count, 0);
}

static void a_plan_is_read_by_another_hand(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_plan plan;
    struct calendar calendar;

    add_crossing_world(fixture);
    plan = plan_on(fixture, "2027-02-10");
    calendar = work_calendar_of(&plan, &fixture->orchard, NULL, &fixture->arena);
    assert_int_equal(calendar.count, 4); /* bag, two visits, unbag: four days of one crew */
    assert_string_equal(calendar.list[0].summary, "Aspen at Nord: bag 1");
    both_hands_read_what_was_written(fixture, &calendar);
}

static void text_of_any_kind_comes_back(void **state)
{
    struct fixture *fixture = *state;
    struct calendar_entry entries[] = {
        {.uid = "a@b",
         .day = fixture_day("2028-02-29"),
         .stamped = fixture_day("2028-02-01"),
         .summary = "Zaunk\xc3\xb6nig, 12; back\\slash: 'quoted' \"twice\"",
         .location = "\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d"
                     "\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d"
                     "\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d"
                     "\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d\xe6\x9e\x9d",
         .description = "one\ntwo, three; four\n\nfive"},
        {.uid = "c@d",
         .day = fixture_day("2028-03-01"),
         .stamped = fixture_day("2028-02-01"),
         .sequence = 7,
         .cancelled = true,
         .summary = "x",
         .location = "y",
         .description = "a very long line without any end that has to be folded more than once, "
                        "because it holds more than a hundred and fifty bytes in all, as this one "
                        "does by now"}};
    struct calendar calendar = {entries, 2, 2};

    both_hands_read_what_was_written(fixture, &calendar);
}

static void what_moved_is_renumbered_and_what_is_dropped_is_cancelled(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_plan plan;
    struct calendar first, same, moved, again;

    add_crossing_world(fixture);
    plan = plan_on(fixture, "2027-02-10");
    first = work_calendar_of(&plan, &fixture->orchard, NULL, &fixture->arena);
    same = work_calendar_of(&plan, &fixture->orchard, &first, &fixture->arena);
    assert_int_equal(same.count, first.count);
    for (size_t i = 0; i < same.count; i++)
        assert_int_equal(same.list[i].sequence, 0);
    assert_string_equal(written(fixture, &same).bytes, written(fixture, &first).bytes);

    /* The crew no longer works on the weekday of the bagging: another day is found. */
    fixture->orchard.crews.list[0].weekdays &= ~(1U << day_weekday(first.list[0].day));
    plan = plan_on(fixture, "2027-02-11");
    moved = work_calendar_of(&plan, &fixture->orchard, &first, &fixture->arena);
    assert_true(moved.count > first.count);
    for (size_t i = 0; i < moved.count; i++)
        if (strcmp(moved.list[i].uid, first.list[0].uid) == 0) {
            assert_true(moved.list[i].cancelled);
            assert_int_equal(moved.list[i].sequence, 1);
            assert_int_equal(moved.list[i].stamped, fixture_day("2027-02-11"));
        }
    both_hands_read_what_was_written(fixture, &moved);

    /* Cancelled once: it keeps its number. */
    again = work_calendar_of(&plan, &fixture->orchard, &moved, &fixture->arena);
    assert_string_equal(written(fixture, &again).bytes, written(fixture, &moved).bytes);
}

static void a_cancelled_day_that_is_planned_again_takes_the_next_number(void **state)
{
    struct fixture *fixture = *state;
    struct crossing_plan plan;
    struct calendar first, again;

    add_crossing_world(fixture);
    plan = plan_on(fixture, "2027-02-10");
    first = work_calendar_of(&plan, &fixture->orchard, NULL, &fixture->arena);
    first.list[1].cancelled = true;
    first.list[1].sequence = 3;
    again = work_calendar_of(&plan, &fixture->orchard, &first, &fixture->arena);
    assert_int_equal(again.list[1].sequence, 4);
    assert_false(again.list[1].cancelled);
}

static void past_days_stay_for_a_while_as_they_were(void **state)
{
    struct fixture *fixture = *state;
    struct calendar_entry entries[] = {{.uid = "old@x",
                                        .day = fixture_day("2026-11-01"),
                                        .stamped = fixture_day("2026-10-01"),
                                        .summary = "long past",
                                        .location = "Nord",
                                        .description = ""},
                                       {.uid = "near@x",
                                        .day = fixture_day("2027-02-09"),
                                        .stamped = fixture_day("2027-02-01"),
                                        .sequence = 2,
                                        .summary = "yesterday",
                                        .location = "Nord",
                                        .description = ""}};
    struct calendar earlier = {entries, 2, 2}, calendar;
    struct crossing_plan plan;

    add_crossing_world(fixture);
    plan = plan_on(fixture, "2027-02-10");
    calendar = work_calendar_of(&plan, &fixture->orchard, &earlier, &fixture->arena);
    assert_int_equal(calendar.count, 5);
    assert_string_equal(calendar.list[0].uid, "near@x");
    assert_int_equal(calendar.list[0].sequence, 2);
    assert_false(calendar.list[0].cancelled);
}

static void what_is_no_calendar_is_told_with_its_line(void **state)
{
    static const struct {
        const char *bytes, *told;
    } cases[] = {
        {"", "an empty file"},
        {"date,task\n2027-03-01,bag\n", "no BEGIN:VCALENDAR"},
        {"BEGIN:VCALENDAR\nNONSENSE\n", "a line without a colon"},
        {"BEGIN:VCARD\n", "no BEGIN:VCALENDAR"},
        {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:a\nSUMMARY:b\nDTSTAMP:20270301T000000Z\n"
         "END:VEVENT\n",
         "an event without"},
        {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:a\nDTSTART:20270230\nEND:VEVENT\n",
         "DTSTART is no whole day"},
        {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:a\nDTSTART:20270228T120000\nEND:VEVENT\n",
         "DTSTART is no whole day"},
        {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nSEQUENCE:-1\nEND:VEVENT\n", "SEQUENCE is no whole"},
        {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTAMP:2027\nEND:VEVENT\n", "DTSTAMP is no day"},
    };
    struct fixture *fixture = *state;

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct text text;

        text_init(&text, &fixture->arena);
        text_add(&text, cases[i].bytes);
        diags_init(&fixture->diags, &fixture->arena);
        read_back(fixture, &text);
        if (fixture->diags.errors == 0 ||
            strstr(fixture->diags.list[0].message, cases[i].told) == NULL)
            fail_msg("case %zu is not told '%s'", i, cases[i].told);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        FIXTURE_TEST(a_plan_is_read_by_another_hand),
        FIXTURE_TEST(text_of_any_kind_comes_back),
        FIXTURE_TEST(what_moved_is_renumbered_and_what_is_dropped_is_cancelled),
        FIXTURE_TEST(a_cancelled_day_that_is_planned_again_takes_the_next_number),
        FIXTURE_TEST(past_days_stay_for_a_while_as_they_were),
        FIXTURE_TEST(what_is_no_calendar_is_told_with_its_line),
    };

    return cmocka_run_group_tests_name("published/calendar_ical", tests, NULL, NULL) != 0;
}
