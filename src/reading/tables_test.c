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

static void read_bytes(struct folder *folder, const char *table, size_t length, const char *text)
{
    struct memory_source memory;
    struct source source = source_of_memory(table, &memory, length, text);
    assert_true(read_table(&folder->orchard, table, &source, false, &folder->diags));
}

static void read(struct folder *folder, const char *table, const char *text)
{
    open_folder(folder);
    read_bytes(folder, table, strlen(text), text);
}

static void read_more(struct folder *folder, const char *table, const char *text)
{
    read_bytes(folder, table, strlen(text), text);
}

static void expect_told(struct folder *folder, const char *expected)
{
    struct text text;
    text_init(&text, &folder->arena);
    diags_sort(&folder->diags);
    diags_write(&folder->diags, &text);
    assert_string_equal(text.bytes, expected);
}

/* One text of a table, and all that is told about it. */
static void expect(const char *table, const char *text, const char *expected)
{
    struct folder folder;
    read(&folder, table, text);
    expect_told(&folder, expected);
    arena_release(&folder.arena);
}

/* The code of the one error of a text. */
static void expect_code(const char *table, const char *text, const char *code)
{
    struct folder folder;
    read(&folder, table, text);
    if (folder.diags.errors != 1)
        fail_msg("%zu errors, not one, in: %s", folder.diags.errors, text);
    assert_string_equal(folder.diags.list[0].code, code);
    arena_release(&folder.arena);
}

/* ---- what is read --------------------------------------------------------------------------- */

static void sites_come_in_metric_units(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "sites.csv",
         "station,elevation_ft,site,latitude,x_gate,workable_share\n"
         "HOLM,1000,Upper Holm,-33.25,blue,\nLOW-1,,L2,,,0.5\n");
    expect_told(&folder, "");
    assert_int_equal(folder.orchard.sites.count, 2);
    const struct site *site = folder.orchard.sites.list;
    assert_string_equal(site->name, "Upper Holm");
    assert_string_equal(site->station_name, "HOLM");
    assert_near(site->elevation_m, 304.8, 1e-12);
    assert_near(site->latitude, -33.25, 0);
    assert_near(site->workable_share, 0.7, 0);
    assert_true(isnan(site->longitude) && isnan(site->utc_offset_h));
    assert_null(site->notes);
    assert_string_equal(site->place.file, "sites.csv");
    assert_int_equal(site->place.line, 2);
    assert_true(isnan(site[1].elevation_m) && isnan(site[1].latitude));
    assert_near(site[1].workable_share, 0.5, 0);
    arena_release(&folder.arena);
}

static void stations_tell_when_they_are_read(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "stations.csv",
         "station,reads_at,tmin_lapse_c_per_km,neighbour\nHOLM,morning,-4.5,LOW\nLOW,midnight,,\n"
         "MID,,,\n");
    expect_told(&folder, "");
    const struct station *station = folder.orchard.stations.list;
    assert_true(station[0].reads_morning && !station[1].reads_morning && !station[2].reads_morning);
    assert_near(station->tmin_lapse_c_per_km, -4.5, 0);
    assert_string_equal(station->neighbour, "LOW");
    arena_release(&folder.arena);
}

static void trees_keep_uses_places_and_health(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "trees.csv",
         "tree,site,row,position,uses,places_top,places_low,reach_needed_ft,health,health_on\n"
         "T1,H,3,12,graft+pollen,6,0,50,weak,2026-11-01\nT2,H,,,,,,,,\n");
    expect_told(&folder, "");
    const struct tree *tree = folder.orchard.trees.list;
    assert_int_equal(tree->row, 3);
    assert_int_equal(tree->uses, USE_GRAFT | USE_POLLEN);
    assert_int_equal(tree->places[CROWN_TOP], 6);
    assert_int_equal(tree->places[CROWN_MIDDLE], -1);
    assert_int_equal(tree->places[CROWN_LOW], 0);
    assert_near(tree->reach_needed_m, 15.24, 1e-12);
    assert_int_equal(tree->health, HEALTH_WEAK);
    assert_int_equal(tree->health_on, day_from_civil(2026, 11, 1));
    assert_int_equal(tree[1].row, -1);
    assert_int_equal(tree[1].uses, 0);
    assert_int_equal(tree[1].health, HEALTH_UNKNOWN);
    assert_int_equal(tree[1].health_on, DAY_NONE);
    assert_true(isnan(tree[1].reach_needed_m));
    arena_release(&folder.arena);
}

static void grafts_and_scions_keep_their_words(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "grafts.csv",
         "tag,selection,tree,crown,grafted_on,condition,condition_on,identity\n"
         "G1,S1,T1,low,2026-02-20,removed,2026-09-01,disputed\nG2,S1,T1,,2026-02-20,,,\n");
    read_more(&folder, "scions.csv", "batch,selection,cut_on,store_f,count\nB,S1,2026-01-30,34,");
    expect_told(&folder, "");
    const struct graft *graft = folder.orchard.grafts.list;
    assert_int_equal(graft->crown, CROWN_LOW);
    assert_int_equal(graft->condition, CONDITION_REMOVED);
    assert_int_equal(graft->identity, IDENTITY_DISPUTED);
    assert_int_equal(graft[1].crown, CROWN_UNKNOWN);
    assert_int_equal(graft[1].condition, CONDITION_UNKNOWN);
    assert_int_equal(graft[1].identity, IDENTITY_UNCHECKED);
    assert_near(folder.orchard.batches.list->store_c, 2 / 1.8, 1e-12);
    assert_int_equal(folder.orchard.batches.list->count, -1);
    arena_release(&folder.arena);
}

static void crosses_have_their_defaults(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "crosses.csv",
         "cross,seed_parent,pollen_parent,seeds_wanted,either_way,priority,state,season\n"
         "C1,S1,S2,400,yes,1,hold,2028\nC2,S1,MIX,10,,,,\n");
    expect_told(&folder, "");
    const struct cross *cross = folder.orchard.crosses.list;
    assert_true(cross->either_way && !cross[1].either_way);
    assert_int_equal(cross->state, CROSS_HOLD);
    assert_int_equal(cross->season, 2028);
    assert_int_equal(cross[1].priority, 3);
    assert_int_equal(cross[1].season, 0);
    assert_int_equal(cross[1].seeds_least, 0);
    assert_int_equal(cross[1].state, CROSS_WANTED);
    arena_release(&folder.arena);
}

static void the_parts_of_a_mix_add_up_to_one(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "pollen.csv",
         "lot,selection,parts,volume_ml,germination_pct,state\n"
         "P1,S1,,12.5,,drying\nP2,,S12:1;S31:3,,80,\n");
    expect_told(&folder, "");
    const struct lot *lot = folder.orchard.lots.list;
    assert_int_equal(lot->part_count, 0);
    assert_int_equal(lot->state, LOT_DRYING);
    assert_true(isnan(lot->germination_pct) && isnan(lot[1].volume_ml));
    assert_null(lot[1].selection_name);
    assert_int_equal(lot[1].part_count, 2);
    assert_string_equal(lot[1].parts[1].selection_name, "S31");
    assert_near(lot[1].parts[0].share, 0.25, 0);
    assert_near(lot[1].parts[1].share, 0.75, 0);
    arena_release(&folder.arena);
}

static void crews_work_monday_to_friday_unless_told(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "crews.csv",
         "crew,from,to,weekdays,hours_per_day,work\n"
         "A,2027-02-01,2027-04-30,,7.5,\nB,2027-02-01,2027-04-30,Sa Su Mo,4,ground\n");
    read_more(&folder, "lifts.csv",
              "lift,from,to,hours_per_day,reach_m\nL,2027-03-01,2027-03-02,0,");
    expect_told(&folder, "");
    const struct crew_time *crew = folder.orchard.crews.list;
    assert_int_equal(crew->weekdays, 0x3e);
    assert_int_equal(crew->work, WORK_ANY);
    assert_int_equal(crew[1].weekdays, 1u << 6 | 1u << 7 | 1u << 1);
    assert_int_equal(crew[1].work, WORK_GROUND);
    assert_near(folder.orchard.lifts.list->hours_per_day, 0, 0);
    assert_true(isnan(folder.orchard.lifts.list->reach_m));
    arena_release(&folder.arena);
}

static void thresholds_are_one_of_three_kinds(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "thresholds.csv",
         "event,site,clock,heat_units_f,per_day_f,after,days,calendar_day,basis,spread_days\n"
         "opening,H,sine-50f,450,-1.8,,,,,4\nlast,,,,,peak,6,,borrowed,\n"
         "shed_peak,,,,,,,03-09,calendar,\n");
    expect_told(&folder, "");
    const struct threshold *threshold = folder.orchard.thresholds.list;
    assert_int_equal(threshold->kind, THRESHOLD_SUM);
    assert_int_equal(threshold->event, EVENT_OPENING);
    assert_near(threshold->heat_units_c, 250, 1e-12);
    assert_near(threshold->per_day_c, -1, 1e-12);
    assert_int_equal(threshold->basis, BASIS_FITTED_HERE);
    assert_true(isnan(threshold->clone_spread_days));
    assert_int_equal(threshold[1].kind, THRESHOLD_AFTER);
    assert_int_equal(threshold[1].after, EVENT_PEAK);
    assert_int_equal(threshold[1].after_days, 6);
    assert_int_equal(threshold[1].basis, BASIS_BORROWED);
    assert_int_equal(threshold[1].seasons_seen, -1);
    assert_int_equal(threshold[2].kind, THRESHOLD_CALENDAR);
    assert_int_equal(threshold[2].calendar_day.month, 3);
    assert_int_equal(threshold[2].basis, BASIS_CALENDAR);
    arena_release(&folder.arena);
}

static void rates_are_exact_decimals(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "rates.csv",
         "rate,season_number,value,low\nconelets_kept,2,0.70,0.5\nminutes_each:bag,,12.5,\n");
    expect_told(&folder, "");
    const struct rate *rate = folder.orchard.rates.list;
    assert_int_equal(rate->value.units, 70);
    assert_int_equal(rate->value.scale, 2);
    assert_int_equal(rate->season_number, 2);
    assert_string_equal(rate[1].rate, "minutes_each:bag");
    assert_true(isnan(rate[1].low));
    assert_int_equal(rate[1].season_number, 0);
    assert_false(rate->shipped);
    arena_release(&folder.arena);
}

static void tasks_and_notes_keep_their_texts(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "tasks.csv",
         "task,per,earliest,latest,minutes_each,work\nbag,graft,opening-9,bag_by,4.25,lift\n");
    static const char *const notes = "date,note,tag,value,remarks,crown\n"
                                     "2027-03-09,strobili,G1,12,\"two\nlines\",top\n"
                                     "2027-03-10,stage,G1,3-5,'=fine,\n";
    read_more(&folder, "notes.csv", notes);
    expect_told(&folder, "");
    assert_string_equal(folder.orchard.tasks.list->per, "graft");
    assert_int_equal(folder.orchard.tasks.list->minutes_each.units, 425);
    assert_int_equal(folder.orchard.tasks.list->minutes_per_site.units, 0);
    const struct note *note = folder.orchard.notes.list;
    assert_int_equal(note->kind, NOTE_STROBILI);
    assert_near(note->number, 12, 0);
    assert_string_equal(note->remarks, "two\nlines");
    assert_string_equal(note->crown, "top");
    assert_true(isnan(note[1].number));
    assert_string_equal(note[1].value, "3-5");
    assert_string_equal(note[1].remarks, "=fine");
    assert_int_equal(note[1].place.line, 4);
    arena_release(&folder.arena);
}

/* ---- header faults -------------------------------------------------------------------------- */

static void an_unknown_column_is_told_with_the_nearest_one(void **state)
{
    (void)state;
    expect("sites.csv", "site,station,Lattitude\n",
           "sites.csv:1:3: error: unknown column 'Lattitude', did you mean latitude? a column of "
           "your own begins with x_ [unknown-column]\n");
    expect("lifts.csv", "lift,from,to,colour\n",
           "lifts.csv:1:4: error: unknown column 'colour', expected one of lift, site, from, to, "
           "hours_per_day, reach_m, reach_ft, notes; a column of your own begins with x_ "
           "[unknown-column]\n");
}

static void a_column_without_its_unit_is_told_with_both(void **state)
{
    (void)state;
    expect("thresholds.csv", "event,clock,heat_units\n",
           "thresholds.csv:1:3: error: column 'heat_units' does not say its unit, expected "
           "heat_units_c or heat_units_f, rename it [column-without-unit]\n");
    expect_code("sites.csv", "site,station,elevation\n", "column-without-unit");
    expect_code("scions.csv", "batch,selection,cut_on,store\n", "column-without-unit");
}

static void missing_twin_and_doubled_columns_are_told(void **state)
{
    (void)state;
    expect("sites.csv", "site,latitude\nA,1\n",
           "sites.csv:1: error: no column 'station', expected it in the header line, add it "
           "[missing-column]\n");
    expect(
        "sites.csv", "site,station,site\nA,H,B\n",
        "sites.csv:1:3: error: column 'site' stands here and in cell 1, expected it once, remove "
        "one [duplicate-column]\n");
    expect(
        "thresholds.csv", "event,heat_units_f,heat_units_c\n",
        "thresholds.csv:1:3: error: column 'heat_units_c' stands here and 'heat_units_f' in cell "
        "2, expected one unit, remove one [twin-columns]\n");
}

static void a_column_without_a_name_must_be_blank(void **state)
{
    (void)state;
    expect("sites.csv", "site,station,\nA,H,\nB,H,x\n",
           "sites.csv:3:3: error: 'x' stands under a header cell without a name, expected a column "
           "name there [unnamed-column]\n");
}

/* ---- cell faults ---------------------------------------------------------------------------- */

static void all_faults_of_a_row_are_told_at_their_cells(void **state)
{
    (void)state;
    struct folder folder;
    read(&folder, "sites.csv",
         "site,station,latitude,longitude\nA,H,91,x\n,H,,\nB,a/b,1,2\nC,H,1\nD,H,1,2\n");
    expect_told(&folder,
                "sites.csv:2:3: error: 'latitude' is '91', expected -90 to 90, check the number "
                "and its unit [out-of-range]\n"
                "sites.csv:2:4: error: 'longitude' is 'x', expected a number like 12.5, leave it "
                "blank when it is not known [bad-number]\n"
                "sites.csv:3:1: error: 'site' is blank, expected a value, fill it in "
                "[empty-cell]\n"
                "sites.csv:4:2: error: 'station' is 'a/b', expected at most 32 of A-Z a-z 0-9 _ -, "
                "the first a letter or digit, because it names files, rename it "
                "[bad-station-name]\n"
                "sites.csv:5: error: 3 cells, expected 4 as in the header line, add or remove "
                "delimiters; the row was left out [ragged-row]\n");
    /* A bad cell that is not required becomes blank; the row stays for those that name it. */
    assert_int_equal(folder.orchard.sites.count, 2);
    assert_string_equal(folder.orchard.sites.list[0].name, "A");
    assert_true(isnan(folder.orchard.sites.list[0].latitude));
    assert_string_equal(folder.orchard.sites.list[1].name, "D");
    arena_release(&folder.arena);
}

static void numbers_that_are_none_are_told_with_advice(void **state)
{
    (void)state;
    static const struct {
        const char *cell, *advice;
    } cases[] = {
        {"1e5", "write it out without an exponent"},
        {"0x1p4", "write it in decimal digits"},
        {"nan", "leave it blank when it is not known"},
        {"inf", "leave it blank when it is not known"},
        {"NA", "leave it blank when it is not known"},
        {".5", "write digits on both sides of the point"},
        {"5.", "write digits on both sides of the point"},
        {"\"1,5\"", "write a point before the fraction and no comma"},
        {"12 m", "write digits only, without a unit"},
        {"--5", "write digits only, without a unit"},
        {"1234567890123456", "write at most 15 digits and one point"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        char text[100];
        struct folder folder;
        snprintf(text, sizeof text, "selection,breeding_value\nS1,%s\n", cases[i].cell);
        read(&folder, "selections.csv", text);
        if (folder.diags.errors != 1)
            fail_msg("%s was taken for a number", cases[i].cell);
        assert_string_equal(folder.diags.list[0].code, "bad-number");
        if (strstr(folder.diags.list[0].message, cases[i].advice) == NULL)
            fail_msg("%s: %s", cases[i].cell, folder.diags.list[0].message);
        arena_release(&folder.arena);
    }
}

static void a_missing_value_code_is_told_to_be_blank(void **state)
{
    (void)state;
    expect(
        "sites.csv", "site,station,latitude\nA,H,-9999\n",
        "sites.csv:2:3: error: 'latitude' is '-9999', expected -90 to 90, leave it blank when it "
        "is not known [out-of-range]\n");
}

static void counts_are_whole_numbers(void **state)
{
    (void)state;
    static const char header[] = "cross,seed_parent,pollen_parent,seeds_wanted,priority\n";
    static const char *const cells[] = {"1.5,1", "-1,1", "99999999999,1", "4e2,1", "1,0", "1,6"};
    static const char *const codes[] = {"bad-number", "out-of-range", "out-of-range",
                                        "bad-number", "out-of-range", "out-of-range"};
    for (size_t i = 0; i < COUNT(cells); i++) {
        char text[200];
        snprintf(text, sizeof text, "%sC,S1,S2,%s\n", header, cells[i]);
        expect_code("crosses.csv", text, codes[i]);
    }
}

static void dates_are_iso_and_real_and_near(void **state)
{
    (void)state;
    expect(
        "lifts.csv", "lift,from,to\nL,3/9/2027,2027-02-30\nM,0227-03-09,2027-03-09\n",
        "lifts.csv:2:2: error: 'from' is '3/9/2027', expected a date like 2027-03-09, write year, "
        "month and day so [bad-date]\n"
        "lifts.csv:2:3: error: 'to' is '2027-02-30', expected a day of the calendar, check month "
        "and day [no-such-day]\n"
        "lifts.csv:3:2: error: 'from' is '0227-03-09', expected a year from 1800 to 2199, check "
        "the year [out-of-range]\n");
    static const char *const days[] = {"20270309",   "2027-3-9",    "2027/03/09",
                                       "2027-W10",   "09-03-2027",  "2027-03-09x",
                                       "0000-00-00", "99999-01-01", "2027-03-09T0"};
    for (size_t i = 0; i < COUNT(days); i++) {
        char text[100];
        snprintf(text, sizeof text, "lift,from,to\nL,%s,2027-03-09\n", days[i]);
        expect_code("lifts.csv", text, i == 6 ? "no-such-day" : "bad-date");
    }
}

static void words_are_told_with_the_nearest_one(void **state)
{
    (void)state;
    expect(
        "trees.csv", "tree,site,health,uses\nT1,H,Sound,graft+scion\nT2,H,fine,graft+graft\n",
        "trees.csv:2:3: error: 'health' is 'Sound', expected one of sound, weak, dead, did you "
        "mean 'sound'? [unknown-word]\n"
        "trees.csv:2:4: error: 'uses' is 'scion', expected one of graft, scions, pollen, did you "
        "mean 'scions'? [unknown-word]\n"
        "trees.csv:3:3: error: 'health' is 'fine', expected one of sound, weak, dead "
        "[unknown-word]\n"
        "trees.csv:3:4: error: 'uses' is 'graft+graft', expected each use once, joined by +, "
        "remove the second [bad-uses]\n");
}

static void names_must_be_safe(void **state)
{
    (void)state;
    static const char *const names[] = {
        "=1+1",          "'=1+1",
        "@SUM",          "-x",
        "\" x\"",        "\"x\ny\"",
        "x\xc2\xa0y",    "x\xe2\x80\xae/y",
        "\xef\xbb\xbfx", "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"};
    for (size_t i = 0; i < COUNT(names); i++) {
        char text[200];
        snprintf(text, sizeof text, "selection\n%s\n", names[i]);
        expect_code("selections.csv", text, "bad-name");
    }
    expect("selections.csv", "selection\nM\xc3\xbcller 7\nS-12/a\n", "");
}

static void names_a_spreadsheet_would_change_are_warned_of(void **state)
{
    (void)state;
    expect("selections.csv", "selection,seed_parent\n1E5,007\n007,1E5\nMAR-8,\nS1E5,\n17,\n",
           "selections.csv:2:1: warning: 'selection' is '1E5', a spreadsheet turns it into a "
           "number, expected a name it leaves alone [fragile-name]\n"
           "selections.csv:3:1: warning: 'selection' is '007', a spreadsheet drops its leading "
           "zeros, expected a name it leaves alone [fragile-name]\n"
           "selections.csv:4:1: warning: 'selection' is 'MAR-8', a spreadsheet turns it into a "
           "date, expected a name it leaves alone [fragile-name]\n");
}

static void rules_of_a_row_are_told(void **state)
{
    (void)state;
    static const struct {
        const char *table, *text, *code;
    } cases[] = {
        {"pollen.csv", "lot,selection,parts\nP,S1,S1:1\n", "selection-and-parts"},
        {"pollen.csv", "lot,selection,parts\nP,,\n", "lot-of-nothing"},
        {"pollen.csv", "lot,parts\nP,S1:1;S2\n", "bad-parts"},
        {"pollen.csv", "lot,parts\nP,S1:0;S2:1\n", "bad-parts"},
        {"pollen.csv", "lot,parts\nP,S1:1;S1:2\n", "bad-parts"},
        {"pollen.csv", "lot,parts\nP,S1:1;\n", "bad-parts"},
        {"thresholds.csv", "event,clock,heat_units_c\npeak,,\n", "threshold-without-rule"},
        {"thresholds.csv", "event,clock,heat_units_c\npeak,c,\n", "half-a-threshold"},
        {"thresholds.csv", "event,after,days\npeak,,3\n", "half-a-threshold"},
        {"thresholds.csv", "event,after,days,per_day_c\npeak,first,3,1\n", "half-a-threshold"},
        {"thresholds.csv", "event,after,days\npeak,peak,3\n", "after-itself"},
        {"thresholds.csv", "event,calendar_day\nbag_by,03-01\n", "derived-event"},
        {"thresholds.csv", "event,calendar_day\npeak,02-30\n", "bad-date"},
        {"thresholds.csv", "event,after,days,calendar_day\npeak,first,3,03-01\n",
         "threshold-with-two-rules"},
        {"rates.csv", "rate,value\nsurvival,70\n", "out-of-range"},
        {"rates.csv", "rate,value\nsurvivl,0.7\n", "unknown-word"},
        {"rates.csv", "rate,value\nsurvival,\n", "empty-cell"},
        {"rates.csv", "rate,value\nminutes_each:=x,1\n", "bad-name"},
        {"rates.csv", "rate,value\nsurvival,x\n", "bad-number"},
        {"rates.csv", "rate,value\nbags_per_graft,-1\n", "out-of-range"},
        {"rates.csv", "rate,value\nsurvival,0.12345678901\n", "bad-number"},
        {"crews.csv", "crew,from,to,hours_per_day,weekdays\nA,2027-01-01,2027-02-01,8,Mo-Fr\n",
         "bad-weekdays"},
        {"crews.csv", "crew,from,to,hours_per_day\nA,2027-01-01,2027-02-01,25\n", "out-of-range"},
        {"notes.csv", "date,note\n2027-03-09,bag\n", "unknown-word"},
        {"tasks.csv", "task,per,earliest,latest\nT,clone,Y1-01-01,Y1-02-01\n", "unknown-word"},
    };
    for (size_t i = 0; i < COUNT(cases); i++)
        expect_code(cases[i].table, cases[i].text, cases[i].code);
}

static void shipped_rows_are_marked(void **state)
{
    (void)state;
    struct folder folder;
    struct memory_source memory;
    open_folder(&folder);
    struct source source =
        source_of_memory("rates.csv", &memory, 27, "rate,value\nbags_per_graft,2");
    assert_true(read_table(&folder.orchard, "rates.csv", &source, true, &folder.diags));
    assert_int_equal(folder.orchard.rates.count, 1);
    assert_true(folder.orchard.rates.list->shipped);
    arena_release(&folder.arena);
}

static void tables_and_columns_can_be_listed(void **state)
{
    (void)state;
    size_t count = 0, required = 0;
    for (; reading_tables[count] != NULL; count++) {
        struct column_info column;
        assert_true(reading_column(reading_tables[count], 0, &column));
        assert_true(column.required);
        required += reading_table_required(reading_tables[count]);
        size_t columns = 0;
        while (reading_column(reading_tables[count], columns, &column))
            columns++;
        assert_in_range(columns, 7, 19);
    }
    assert_int_equal(count, 14);
    assert_int_equal(required, 4);
    assert_true(reading_table_required("grafts.csv") && !reading_table_required("crews.csv"));
}

static void station_names_are_safe_file_names(void **state)
{
    (void)state;
    static const char *const good[] = {"HOLM", "a", "0-_x", "abcdefghijklmnopqrstuvwxyz012345"};
    static const char *const bad[] = {
        "",    "-a", "_a",  ".",        "a.b",
        "a/b", "..", "a b", "\xc3\xbc", "abcdefghijklmnopqrstuvwxyz0123456"};
    for (size_t i = 0; i < COUNT(good); i++)
        assert_true(reading_station_name(strlen(good[i]), good[i]));
    for (size_t i = 0; i < COUNT(bad); i++)
        assert_false(reading_station_name(strlen(bad[i]), bad[i]));
}

/* ---- robustness ----------------------------------------------------------------------------- */

/* Every row before the cut is there, the cut one is there or told. */
static void a_table_cut_off_anywhere_loses_nothing_silently(void **state)
{
    (void)state;
    static const char text[] = "date,note,tag,value,remarks\n"
                               "2027-03-09,strobili,G1,12,\"two\nlines\"\n"
                               "2027-03-10,stage,G2,3-5,M\xc3\xbcller\n"
                               "2027-03-11,done,,,\"say \"\"no\"\"\"\n";
    for (size_t length = 0; length < sizeof text; length++) {
        struct folder folder;
        open_folder(&folder);
        read_bytes(&folder, "notes.csv", length, text);
        size_t begun = 0, ended = 0;
        bool quoted = false;
        for (size_t i = 0; i < length; i++) {
            quoted = quoted != (text[i] == '"');
            begun += i > 0 && text[i - 1] == '\n' && text[i] == '2';
            ended += text[i] == '\n' && !quoted && i > 28;
        }
        size_t rows = folder.orchard.notes.count;
        assert_true(rows >= ended && rows <= begun);
        if (rows < begun || length == 0)
            assert_true(folder.diags.errors > 0);
        arena_release(&folder.arena);
    }
}

/* A file of nothing but faults: what is kept of them is bounded. */
struct faulty {
    size_t at, rows;
};

static long read_faulty(void *context, size_t size, char *bytes)
{
    static const char header[] = "site,station,latitude\n";
    static const char row[] = "A,H,far too long a text to be a latitude of any kind\n";
    enum { HEADER = sizeof header - 1, ROW = sizeof row - 1 };
    struct faulty *faulty = context;
    size_t count = 0;
    for (; count < size && faulty->at < HEADER + faulty->rows * ROW; count++, faulty->at++)
        bytes[count] = faulty->at < HEADER ? header[faulty->at] : row[(faulty->at - HEADER) % ROW];
    return (long)count;
}

static void faults_beyond_what_is_kept_are_only_counted(void **state)
{
    (void)state;
    struct folder folder;
    struct faulty faulty = {0, 100000};
    open_folder(&folder);
    struct source source = {.name = "sites.csv", .context = &faulty, .read = read_faulty};
    assert_true(read_table(&folder.orchard, "sites.csv", &source, false, &folder.diags));
    assert_int_equal(folder.diags.errors, 100000);
    assert_int_equal(folder.diags.count, DIAG_MOST);
    assert_int_equal(folder.diags.dropped, 100000 - DIAG_MOST);
    arena_release(&folder.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sites_come_in_metric_units),
        cmocka_unit_test(stations_tell_when_they_are_read),
        cmocka_unit_test(trees_keep_uses_places_and_health),
        cmocka_unit_test(grafts_and_scions_keep_their_words),
        cmocka_unit_test(crosses_have_their_defaults),
        cmocka_unit_test(the_parts_of_a_mix_add_up_to_one),
        cmocka_unit_test(crews_work_monday_to_friday_unless_told),
        cmocka_unit_test(thresholds_are_one_of_three_kinds),
        cmocka_unit_test(rates_are_exact_decimals),
        cmocka_unit_test(tasks_and_notes_keep_their_texts),
        cmocka_unit_test(an_unknown_column_is_told_with_the_nearest_one),
        cmocka_unit_test(a_column_without_its_unit_is_told_with_both),
        cmocka_unit_test(missing_twin_and_doubled_columns_are_told),
        cmocka_unit_test(a_column_without_a_name_must_be_blank),
        cmocka_unit_test(all_faults_of_a_row_are_told_at_their_cells),
        cmocka_unit_test(numbers_that_are_none_are_told_with_advice),
        cmocka_unit_test(a_missing_value_code_is_told_to_be_blank),
        cmocka_unit_test(counts_are_whole_numbers),
        cmocka_unit_test(dates_are_iso_and_real_and_near),
        cmocka_unit_test(words_are_told_with_the_nearest_one),
        cmocka_unit_test(names_must_be_safe),
        cmocka_unit_test(names_a_spreadsheet_would_change_are_warned_of),
        cmocka_unit_test(rules_of_a_row_are_told),
        cmocka_unit_test(shipped_rows_are_marked),
        cmocka_unit_test(tables_and_columns_can_be_listed),
        cmocka_unit_test(station_names_are_safe_file_names),
        cmocka_unit_test(a_table_cut_off_anywhere_loses_nothing_silently),
        cmocka_unit_test(faults_beyond_what_is_kept_are_only_counted),
    };
    return cmocka_run_group_tests_name("reading: tables", tests, NULL, NULL) != 0;
}
