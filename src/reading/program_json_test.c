#include "reading/reading.h"

#include "base/test.h"

struct folder {
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
};

static void read_bytes(struct folder *folder, size_t length, const char *text)
{
    struct memory_source memory;
    arena_init(&folder->arena, NULL);
    orchard_init(&folder->orchard, &folder->arena);
    diags_init(&folder->diags, &folder->arena);
    struct source source = source_of_memory("program.json", &memory, length, text);
    assert_true(read_program(&folder->orchard, &source, &folder->diags));
}

static void read(struct folder *folder, const char *text)
{
    read_bytes(folder, strlen(text), text);
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

static void expect_code(const char *text, const char *code)
{
    struct folder folder;
    read(&folder, text);
    if (folder.diags.errors != 1)
        fail_msg("%zu errors, not one, in: %s", folder.diags.errors, text);
    assert_string_equal(folder.diags.list[0].code, code);
    arena_release(&folder.arena);
}

static void what_is_left_out_keeps_its_default(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "\xef\xbb\xbf{}\n");
    expect_told(&folder, "");
    assert_near(folder.orchard.program.assurance, 0.95, 0);
    assert_int_equal(folder.orchard.program.members_most, 30);
    assert_true(program_clock(&folder.orchard.program, "sine-50f") != NULL);
    arena_release(&folder.arena);
}

static void every_key_is_read(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder,
         "{\"name\": \"Upper Holm\", \"schema\": 1, \"units\": \"us\",\n"
         "\"season_starts\": {\"north\": \"08-01\", \"south\": \"02-01\"},\n"
         "\"members_most\": 12, \"coancestry_warn\": 0.01, \"coancestry_refuse\": 0.02,\n"
         "\"assurance\": 0.9, \"priority_weights\": [5, 4, 3, 2, 1], \"uncounted_share\": 0.5,\n"
         "\"clean_chance\": 0.8, \"firm_days\": 3, \"keep_share\": 0.1, \"stay_bonus\": 0,\n"
         "\"dose_ml\": 0.25, \"germination_full_pct\": 60, \"germination_refuse_pct\": 20,\n"
         "\"freeze_f\": 23, \"freeze_days\": 10, \"stage_map\": {\"B2\": 3}, \"task_order\": "
         "[\"pollinate\", \"bag\"],\n"
         "\"graft_night_f\": 14, \"graft_day_low_c\": 5, \"graft_day_high_f\": 86,\n"
         "\"graft_open_share\": 0.2, \"graft_close_share\": 0.7,\n"
         "\"graft_calendar\": {\"open\": \"01-20\", \"close\": \"03-01\"},\n"
         "\"clocks\": {\"early\": {\"curve\": \"sine\", \"lower_f\": 41, \"start\": \"01-10\"},\n"
         "\"sine-50f\": {\"curve\": \"triangle\", \"cutoff\": \"horizontal\", \"lower_c\": 10,\n"
         "\"upper_c\": 30, \"start\": \"02-01\", \"end_days\": 100}}}");
    expect_told(&folder, "");
    const struct program *program = &folder.orchard.program;
    assert_string_equal(program->name, "Upper Holm");
    assert_true(program->units_us);
    assert_int_equal(program->season_starts_north.month, 8);
    assert_int_equal(program->season_starts_south.month, 2);
    assert_int_equal(program->members_most, 12);
    assert_near(program->coancestry_warn, 0.01, 0);
    assert_near(program->coancestry_refuse, 0.02, 0);
    assert_near(program->assurance, 0.9, 0);
    assert_near(program->priority_weights[0], 5, 0);
    assert_near(program->priority_weights[4], 1, 0);
    assert_near(program->uncounted_share, 0.5, 0);
    assert_near(program->clean_chance, 0.8, 0);
    assert_int_equal(program->firm_days, 3);
    assert_near(program->keep_share, 0.1, 0);
    assert_near(program->stay_bonus, 0, 0);
    assert_near(program->dose_ml, 0.25, 0);
    assert_near(program->germination_full_pct, 60, 0);
    assert_near(program->germination_refuse_pct, 20, 0);
    assert_near(program->freeze_c, -5, 1e-12);
    assert_int_equal(program->freeze_days, 10);
    assert_near(program->graft_night_c, -10, 1e-12);
    assert_near(program->graft_day_low_c, 5, 0);
    assert_near(program->graft_day_high_c, 30, 1e-12);
    assert_near(program->graft_open_share, 0.2, 0);
    assert_near(program->graft_close_share, 0.7, 0);
    assert_int_equal(program->graft_calendar_open.day, 20);
    assert_int_equal(program->graft_calendar_close.month, 3);
    assert_int_equal(program->task_order_count, 2);
    assert_string_equal(program->task_order[1], "bag");
    assert_int_equal(program->stage_map_count, 1);
    const struct clock *clock = program_clock(program, "early");
    assert_near(clock->rule.lower, 5, 1e-12);
    assert_int_equal(clock->rule.cutoff, CONETIDE_CUTOFF_NONE);
    assert_int_equal(clock->end_days, 240);
    clock = program_clock(program, "sine-50f");
    assert_ptr_equal(clock->rule.curve, &conetide_triangle);
    assert_near(clock->rule.upper, 30, 0);
    assert_int_equal(clock->end_days, 100);
    assert_non_null(program_clock(program, "sine-37f"));
    arena_release(&folder.arena);
}

static void stages_of_another_scale_become_ours(void **state)
{
    (void)state;
    static const char notes[] = "date,note,tag,value\n2027-03-09,stage,G1,B2\n"
                                "2027-03-10,stage,G1,B2-late\n2027-03-11,stage,G1,4\n"
                                "2027-03-12,strobili,G1,B2\n";
    struct folder folder;
    struct memory_source memory;
    read(&folder, "{\"stage_map\": {\"B2\": 3, \"late\": 5}}");
    struct source source = source_of_memory("notes.csv", &memory, sizeof notes - 1, notes);
    assert_true(read_table(&folder.orchard, "notes.csv", &source, false, &folder.diags));
    expect_told(&folder, "");
    const struct note *note = folder.orchard.notes.list;
    assert_string_equal(note[0].value, "3");
    assert_near(note[0].number, 3, 0);
    assert_string_equal(note[1].value, "3-5");
    assert_string_equal(note[2].value, "4");
    assert_string_equal(note[3].value, "B2");
    arena_release(&folder.arena);
}

static void unknown_keys_are_told_by_their_path(void **state)
{
    (void)state;
    expect("{\"assurence\": 0.9, \"Units\": \"si\", \"zzz\": 1, \"season_starts\": {\"nort\": "
           "\"07-01\"}, \"clocks\": {\"c\": {\"curve\": \"sine\", \"lowr_c\": 1, \"lower_c\": 1, "
           "\"start\": \"01-01\"}}}",
           "program.json: error: key 'Units' is not known, did you mean 'units'? [unknown-key]\n"
           "program.json: error: key 'assurence' is not known, did you mean 'assurance'? "
           "[unknown-key]\n"
           "program.json: error: key 'clocks.c.lowr_c' is not known, did you mean 'lower_c'? "
           "[unknown-key]\n"
           "program.json: error: key 'season_starts.nort' is not known, did you mean 'north'? "
           "[unknown-key]\n"
           "program.json: error: key 'zzz' is not known, expected one of name, schema, "
           "season_starts, units, clocks, members_most, coancestry_warn, coancestry_refuse, "
           "assurance, priority_weights, uncounted_share, clean_chance, firm_days, keep_share, "
           "stay_bonus, dose_ml, germination_full_pct, germination_refuse_pct, freeze_c, freeze_f, "
           "freeze_days, stage_map, task_order, graft_night_c, graft_night_f, graft_day_low_c, "
           "graft_day_low_f, graft_day_high_c, graft_day_high_f, graft_open_share, "
           "graft_close_share, graft_calendar [unknown-key]\n");
}

static void wrong_values_are_told_by_their_path(void **state)
{
    (void)state;
    expect("{\"members_most\": 2.5, \"assurance\": \"0.9\", \"name\": 7, \"firm_days\": 1e400,\n"
           "\"clocks\": {\"c\": {\"curve\": \"sinus\", \"lower_c\": \"4\", \"start\": \"13-01\"}}}",
           "program.json: error: clocks.c.start is '13-01', expected a day of the year like "
           "\"03-09\", write month and day so [bad-date]\n"
           "program.json: error: firm_days lies outside its range, expected a whole number from 0 "
           "to 366, correct it [out-of-range]\n"
           "program.json: error: members_most lies outside its range, expected a whole number from "
           "1 to 400, correct it [out-of-range]\n"
           "program.json: error: clocks.c.curve is 'sinus', expected one of average, "
           "clipped-average, triangle, double-triangle, sine, double-sine, daily-maximum, did you "
           "mean 'sine'? [unknown-word]\n"
           "program.json: error: assurance is a text, expected a number, correct it "
           "[wrong-type]\n"
           "program.json: error: clocks.c.lower_c is a text, expected a number, correct it "
           "[wrong-type]\n"
           "program.json: error: name is a number, expected a text, correct it [wrong-type]\n");
}

static void rules_between_keys_are_told(void **state)
{
    (void)state;
    static const struct {
        const char *text, *code;
    } cases[] = {
        {"{\"schema\": 2, \"whatever\": 1}", "newer-schema"},
        {"{\"schema\": 0}", "out-of-range"},
        {"{\"schema\": \"1\"}", "wrong-type"},
        {"{\"units\": \"imperial\"}", "unknown-word"},
        {"{\"assurance\": 0.9, \"assurance\": 0.8}", "duplicate-key"},
        {"{\"freeze_c\": -3, \"freeze_f\": 26}", "twin-keys"},
        {"{\"priority_weights\": [1, 2, 3]}", "wrong-length"},
        {"{\"priority_weights\": [1, 2, 3, 4, \"5\"]}", "wrong-type"},
        {"{\"task_order\": [\"bag\", \"bag\"]}", "duplicate-word"},
        {"{\"task_order\": [1]}", "wrong-type"},
        {"{\"stage_map\": {\"a\": 7}}", "out-of-range"},
        {"{\"stage_map\": {\"a\": 1, \"a\": 2}}", "duplicate-key"},
        {"{\"season_starts\": \"07-01\"}", "wrong-type"},
        {"{\"coancestry_warn\": 0.5}", "limits-crossed"},
        {"{\"graft_open_share\": 0.9}", "limits-crossed"},
        {"{\"name\": null}", "wrong-type"},
        {"{\"units\": 7}", "wrong-type"},
        {"{\"priority_weights\": 1}", "wrong-type"},
        {"{\"priority_weights\": [1, 2, 3, 4, 1001]}", "out-of-range"},
        {"{\"task_order\": \"bag\"}", "wrong-type"},
        {"{\"stage_map\": [1]}", "wrong-type"},
        {"{\"germination_refuse_pct\": 51}", "limits-crossed"},
        {"{\"graft_day_low_f\": 90}", "limits-crossed"},
        {"{\"season_starts\": {\"north\": 7}}", "wrong-type"},
        {"{\"clocks\": []}", "wrong-type"},
        {"{\"clocks\": {\"\": {}}}", "bad-name"},
        {"{\"clocks\": {\"c\": 1}}", "wrong-type"},
        {"{\"clocks\": {\"c\": {}}}", "incomplete-clock"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"lower_c\": 1}}}", "incomplete-clock"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"lower_c\": 1, \"lower_f\": 40, \"start\": "
         "\"01-01\"}}}",
         "twin-keys"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"lower_c\": 1, \"upper_c\": 30, \"start\": "
         "\"01-01\"}}}",
         "upper-without-cutoff"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"cutoff\": \"none\", \"lower_c\": 1, "
         "\"upper_c\": 30, \"start\": \"01-01\"}}}",
         "upper-without-cutoff"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"cutoff\": \"vertical\", \"lower_c\": 1, "
         "\"start\": \"01-01\"}}}",
         "incomplete-clock"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"cutoff\": \"vertical\", \"lower_c\": 9, "
         "\"upper_f\": 48, \"start\": \"01-01\"}}}",
         "thresholds-crossed"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"cutoff\": \"level\", \"lower_c\": 9, "
         "\"start\": \"01-01\"}}}",
         "unknown-word"},
        {"{\"clocks\": {\"c\": {\"curve\": \"sine\", \"lower_c\": 1, \"start\": \"01-01\"}, "
         "\"c\": {\"curve\": \"sine\", \"lower_c\": 1, \"start\": \"01-01\"}}}",
         "duplicate-key"},
    };
    for (size_t i = 0; i < COUNT(cases); i++)
        expect_code(cases[i].text, cases[i].code);
}

#define AFTER "\"after_chilling\": {"

static void every_fault_of_a_count_is_told(void **state)
{
    (void)state;
    static const struct {
        const char *clock, *code;
    } cases[] = {
        {"\"counts\": \"cold\", \"start\": \"10-01\"", "unknown-word"},
        {"\"counts\": \"utah-units\", \"start\": \"10-01\", \"lower_c\": 4", "heat-key"},
        {"\"counts\": \"utah-units\"", "incomplete-clock"},
        {"\"counts\": \"heat\", \"start\": \"10-01\"", "incomplete-clock"},
        {"\"counts\": \"day-length\", \"start\": \"10-01\", " AFTER
         "\"counts\": \"utah-units\", \"need\": 9, \"start\": \"10-01\"}",
         "reading-after-chilling"},
        {"\"counts\": \"sigmoid-forcing\", \"start\": \"10-01\", " AFTER
         "\"counts\": \"sigmoid-forcing\", \"need\": 9, \"start\": \"10-01\"}",
         "no-chilling"},
        {"\"counts\": \"sigmoid-forcing\", \"start\": \"10-01\", " AFTER
         "\"counts\": \"heat\", \"need\": 9, \"start\": \"10-01\"}",
         "unknown-word"},
        {"\"counts\": \"sigmoid-forcing\", \"start\": \"10-01\", " AFTER
         "\"counts\": \"utah-units\", \"need\": 0, \"start\": \"10-01\"}",
         "out-of-range"},
        {"\"counts\": \"sigmoid-forcing\", \"start\": \"10-01\", " AFTER
         "\"counts\": \"utah-units\", \"need\": 9}",
         "incomplete-clock"},
        {"\"counts\": \"sigmoid-forcing\", \"start\": \"10-01\", \"after_chilling\": 3",
         "wrong-type"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        char text[400];
        snprintf(text, sizeof text, "{\"clocks\": {\"c\": {%s}}}", cases[i].clock);
        expect_code(text, cases[i].code);
    }
}

static void a_clock_may_count_cold_and_wait_for_it(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder,
         "{\"clocks\": {\"light\": {\"counts\": \"day-length\", \"start\": \"01-01\"},\n"
         "\"late\": {\"counts\": \"heat\", \"curve\": \"sine\", \"lower_c\": 3, \"start\": "
         "\"01-10\", " AFTER
         "\"counts\": \"chilling-hours-0-8\", \"need\": 700, \"start\": \"10-01\"}}}}");
    expect_told(&folder, "");
    const struct clock *clock = program_clock(&folder.orchard.program, "light");
    assert_string_equal(clock->counts->name, "day-length");
    assert_null(clock->after_chilling.counts);
    assert_true(clock_needs_latitude(clock) && !clock_chills(clock));
    clock = program_clock(&folder.orchard.program, "late");
    assert_null(clock->counts);
    assert_near(clock->after_chilling.units, 700, 0);
    assert_int_equal(clock->after_chilling.start.month, 10);
    assert_true(clock_needs_latitude(clock) && clock_chills(clock));
    arena_release(&folder.arena);
}

static void what_is_no_json_is_told_where(void **state)
{
    (void)state;
    expect("{\"name\": \"a\",\n  \"units\" \"si\"}",
           "program.json:2: error: not JSON from byte 11 of the line on, expected one JSON value, "
           "look for a missing comma, quote or bracket [bad-json]\n");
    static const char *const texts[] = {"",
                                        "{",
                                        "{} x",
                                        "{}{}",
                                        "{\"name\": 'a'}",
                                        "{\"name\": \"a\",}",
                                        "{\"assurance\": NaN}",
                                        "{\"assurance\": 0x1}",
                                        "// settings\n{}"};
    for (size_t i = 0; i < COUNT(texts); i++)
        expect_code(texts[i], "bad-json");
    expect_code("[]", "wrong-type");
    expect_code("7", "wrong-type");
}

static void bytes_that_are_no_text_are_told(void **state)
{
    (void)state;
    expect("{\n\"name\": \"M\xfcller\"}",
           "program.json:2: error: byte 0xfc, byte 11 of the line, is not UTF-8, save the file as "
           "UTF-8 [not-utf8]\n");
    expect_code("{\"name\": \"a\x01\"}", "control-character");
    expect_code("{\"na\\u0000me\": 1}", "control-character");
    expect("{\"name\": \"a\\\\u0000\"}", "");
    struct folder folder;
    read_bytes(&folder, 4, "{}\0x");
    assert_int_equal(folder.diags.errors, 1);
    assert_string_equal(folder.diags.list[0].code, "control-character");
    arena_release(&folder.arena);
}

static void deep_and_long_files_are_refused(void **state)
{
    (void)state;
    enum { LENGTH = (16 << 20) + 1, DEEP = 100000 };
    char *text = test_malloc(LENGTH);
    memset(text, '[', LENGTH);
    struct folder folder;
    read_bytes(&folder, DEEP, text);
    assert_int_equal(folder.diags.errors, 1);
    assert_string_equal(folder.diags.list[0].code, "bad-json");
    arena_release(&folder.arena);
    read_bytes(&folder, LENGTH, text);
    assert_int_equal(folder.diags.errors, 1);
    assert_string_equal(folder.diags.list[0].code, "file-too-long");
    arena_release(&folder.arena);
    test_free(text);
}

static void a_program_cut_off_anywhere_is_told(void **state)
{
    (void)state;
    static const char text[] =
        "{\"name\": \"M\xc3\xbcller\", \"clocks\": {\"c\": {\"curve\": \"sine\", \"lower_f\": 41, "
        "\"start\": \"01-10\"}}, \"priority_weights\": [5, 4, 3, 2, 1]}";
    for (size_t length = 0; length < sizeof text - 1; length++) {
        struct folder folder;
        read_bytes(&folder, length, text);
        assert_int_equal(folder.diags.errors, 1);
        assert_null(folder.orchard.program.name);
        arena_release(&folder.arena);
    }
}

static long refuse(void *context, size_t size, char *bytes)
{
    (void)context;
    (void)size;
    (void)bytes;
    return -1;
}

static void a_source_that_fails_is_not_an_empty_file(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "{}");
    struct source source = {.name = "program.json", .read = refuse};
    assert_false(read_program(&folder.orchard, &source, &folder.diags));
    assert_int_equal(folder.diags.errors, 0);
    arena_release(&folder.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_left_out_keeps_its_default),
        cmocka_unit_test(every_key_is_read),
        cmocka_unit_test(stages_of_another_scale_become_ours),
        cmocka_unit_test(unknown_keys_are_told_by_their_path),
        cmocka_unit_test(wrong_values_are_told_by_their_path),
        cmocka_unit_test(rules_between_keys_are_told),
        cmocka_unit_test(every_fault_of_a_count_is_told),
        cmocka_unit_test(a_clock_may_count_cold_and_wait_for_it),
        cmocka_unit_test(what_is_no_json_is_told_where),
        cmocka_unit_test(bytes_that_are_no_text_are_told),
        cmocka_unit_test(deep_and_long_files_are_refused),
        cmocka_unit_test(a_program_cut_off_anywhere_is_told),
        cmocka_unit_test(a_source_that_fails_is_not_an_empty_file),
    };
    return cmocka_run_group_tests_name("reading: program.json", tests, NULL, NULL) != 0;
}
