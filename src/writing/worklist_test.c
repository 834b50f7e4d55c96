#include "writing/pages.h"

#include "base/test.h"
#include "planning/placement.h"
#include "writing/layout.h"
#include "writing/visit.h"
#include "writing/work_row.h"

struct world {
    struct arena arena;
    struct orchard orchard;
    struct site site;
    struct station station;
    struct record record;
    double degrees[3];
    struct tree tree;
    struct selection mother, father;
    struct graft graft;
    struct graft_state state;
    struct cross cross;
    struct lot lot;
    struct group group;
    struct planned_bag bag;
    struct page_run run;
    struct text out;
};

static void make_plan(struct world *world)
{
    world->cross = (struct cross){.name = "C12",
                                  .seed_parent_name = "S12",
                                  .pollen_parent_name = "S31",
                                  .seed_parent = &world->mother,
                                  .pollen_parent = &world->father};
    world->lot = (struct lot){.name = "P07", .selection = &world->father};
    world->group = (struct group){.graft = &world->state,
                                  .site = &world->site,
                                  .cross = &world->cross,
                                  .seed_parent = &world->mother,
                                  .pollen_parent = &world->father,
                                  .season = 2028,
                                  .season_number = 1};
    world->bag = (struct planned_bag){.group = &world->group,
                                      .name = "OAK-017C-28-1",
                                      .lot = &world->lot,
                                      .chance = {0.934, 0.87, 0.55, 0.96},
                                      .seeds_expected = 20.04};
    for (int i = 0; i < BAG_TASKS; i++)
        world->bag.latest[i] = day_from_civil(2028, 3, 9) + 4 * i;
}

static int setup(void **state)
{
    static struct world world;
    arena_init(&world.arena, NULL);
    orchard_init(&world.orchard, &world.arena);
    world.orchard.program.name = "Tallow Creek";
    world.orchard.program.dose_ml = 0.5;
    world.record = (struct record){.station = "HOLM",
                                   .first_day = day_from_civil(2028, 3, 3),
                                   .count = 3,
                                   .tmin_c = world.degrees,
                                   .tmax_c = world.degrees};
    world.site = (struct site){.name = "Holm", .station_name = "HOLM", .record = &world.record};
    world.tree =
        (struct tree){.name = "HB-12", .site = &world.site, .block = "B", .row = 3, .position = 12};
    world.mother = (struct selection){.name = "S12", .flag_colour = "blue"};
    world.father = (struct selection){.name = "S31", .flag_colour = "white"};
    world.graft = (struct graft){.tag = "OAK-017C",
                                 .selection = &world.mother,
                                 .tree_name = "HB-12",
                                 .tree = &world.tree,
                                 .crown = CROWN_TOP,
                                 .branch = "T4"};
    world.state = (struct graft_state){.graft = &world.graft, .selection = &world.mother};
    make_plan(&world);
    world.run = (struct page_run){
        .orchard = &world.orchard, .as_of = day_from_civil(2028, 3, 6), .arena = &world.arena};
    text_init(&world.out, &world.arena);
    *state = &world;
    return 0;
}

static int teardown(void **state)
{
    struct world *world = *state;
    arena_release(&world->arena);
    return 0;
}

static const char *const cautions[] = {
    "lift: check belt, lanyard and controls by the maker's manual and your local code", NULL};

static struct worklist one_day(struct world *world, struct work_page *page)
{
    static struct work_row rows[2];
    static struct material materials[] = {
        {.what = "isolation bags", .amount = 1},
        {.what = "ties", .amount = 1},
        {.what = "pollen lot P07", .amount = 0.5, .unit = "ml", .kept_at = "freezer 2"},
        {.what = "pollen lot P09", .amount = 1, .unit = "ml"},
        {.what = "pollen lot P08", .amount = 12.25, .unit = "ml", .kept_at = "freezer 2"}};
    rows[0] = (struct work_row){.bag = &world->bag,
                                .task = TASK_POLLINATE_2,
                                .entry = "2028-W10-A-001K",
                                .decide = "stage 4 or 5: pollinate. stage 6: write 6, do not "
                                          "pollinate. stage 3: come again in two days",
                                .brief = "stage 4-5: pollinate"};
    rows[1] = (struct work_row){.bag = &world->bag,
                                .task = TASK_BAG,
                                .entry = "2028-W10-A-0027",
                                .decide = "hang it, write its stage",
                                .brief = "hang it"};
    *page = (struct work_page){.day = day_from_civil(2028, 3, 7),
                               .crew = "A",
                               .lift = "L1",
                               .rows = rows,
                               .row_count = COUNT(rows),
                               .materials = materials,
                               .material_count = COUNT(materials),
                               .minutes = 37050,
                               .minutes_given = 48000,
                               .lift_minutes = 24000,
                               .cautions = cautions};
    return (struct worklist){
        .first_day = page->day, .last_day = page->day, .pages = page, .page_count = 1};
}

static void a_day_prints_as_a_crew_needs_it(void **state)
{
    struct world *world = *state;
    struct work_page page;
    struct worklist list = one_day(world, &page);
    worklist_write_text(&list, &world->run, &world->out);
    assert_string_equal(
        world->out.bytes,
        "WORKLIST  crew A, lift L1                                            page 1 of 1\n"
        "Tue 7 Mar 2028, week 2028-W10                               as of Mon 6 Mar 2028\n"
        "Tallow Creek: Holm\n"
        "================================================================================\n"
        "weather observed: HOLM to 2028-03-05 (1 day old)\n"
        "Planned: 6 h 11 min of 8 h (its lift: 4 h), set-up in it\n"
        "To take from store:\n"
        "[ ] isolation bags: 1     [ ] ties: 1\n"
        "[ ] pollen lot P09: 1 ml\n"
        "kept at freezer 2:\n"
        "[ ] pollen lot P07: 0.5 ml              [ ] pollen lot P08: 12.25 ml\n"
        "Mind:\n"
        "  - lift down, wind or rain: leave the box empty and write why; what is not\n"
        "    done comes back on the next list\n"
        "  - lift: check belt, lanyard and controls by the maker's manual and your local\n"
        "    code\n"
        "\n"
        "    task             tag       flag         tree, row and number, crown/branch\n"
        "    bag              cross                  lot, dose          chance latest\n"
        "Holm, block B\n"
        "[ ] pollinate again  OAK-017C  blue         HB-12, row 3 no. 12, top/T4\n"
        "    OAK-017C-28-1    C12: S12 x S31         P07 0.5 ml         55 %   Fri 17 Mar\n"
        "    stage 4-5: pollinate\n"
        "    by ________  time ______  stage ____  ml used ______         2028-W10-A-001K\n"
        "    remarks, or why not done ___________________________________________________\n"
        "\n"
        "[ ] bag              OAK-017C  blue         HB-12, row 3 no. 12, top/T4\n"
        "    OAK-017C-28-1    C12: S12 x S31         P07                93 %   Thu 9 Mar\n"
        "    hang it\n"
        "    by ________  time ______  stage ____  strobili ______        2028-W10-A-0027\n"
        "    remarks, or why not done ___________________________________________________\n"
        "\n"
        "--------------------------------------------------------------------------------\n"
        "What decides, by the stage that is seen:\n"
        "bag: hang it, write its stage\n"
        "pollinate again: stage 4 or 5: pollinate. stage 6: write 6, do not pollinate.\n"
        "    stage 3: come again in two days\n"
        "X: done. Not done, write why: rain, wind, lift, not ready, no time, not found.\n"
        "Stages: 1 small bud, 2 large bud, 3 opening, 4 partly open, 5 fully receptive,\n"
        "6 closed. Latest: last safe day. Type it back by the code on the right.\n");
}

/* Parents are told where the identifier does not: with cross, seed and pollen parent, and lot. */
static void a_cross_is_not_told_twice(void **state)
{
    struct world *world = *state;
    static const struct {
        const char *cross, *seed, *pollen, *lot, *words;
    } cases[] = {
        {"S12xS31", "S12", "S31", "P07", "S12xS31"},
        {"s012 x s31", "S12", "S31", "P07", "s012 x s31"},
        {"S12xS31", "S31", "S12", "P09", "S12xS31: S31 x S12"}, /* turned round */
        {"S12xS3", "S12", "S31", "P07", "S12xS3: S12 x S31"},
        {"S12xmix", "S12", "MIX-26", "MIX-26", "S12xmix"},
        {"C12", "S12", "MIX-26", "MIX-26", "C12: S12 x MIX-26"},
        {"C12", "S12", NULL, NULL, "C12"},
        {NULL, "S12", "S31", NULL, "-"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct visit_facts facts = {.cross = cases[i].cross,
                                    .seed_parent = cases[i].seed,
                                    .pollen_parent = cases[i].pollen,
                                    .lot = cases[i].lot};
        assert_string_equal(visit_cross_words(&world->arena, &facts), cases[i].words);
    }
}

static void hours_are_told_as_people_say_them(void **state)
{
    struct world *world = *state;
    struct work_page page = {.minutes = 5901, .minutes_given = 48000, .lift_minutes = 24000};
    assert_string_equal(work_page_minutes(&page, &world->arena), "1 h of 8 h, set-up in it");
    page.lift = "L1";
    page.minutes = 5900;
    assert_string_equal(work_page_minutes(&page, &world->arena),
                        "59 min of 8 h (its lift: 4 h), set-up in it");
    page.lift_minutes = 48000;
    page.minutes = 0;
    assert_string_equal(work_page_minutes(&page, &world->arena), "0 min of 8 h, set-up in it");
}

static void a_week_without_work_says_so_on_one_page(void **state)
{
    struct world *world = *state;
    struct worklist list = {.first_day = day_from_civil(2028, 3, 6),
                            .last_day = day_from_civil(2028, 3, 12)};
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(
        strstr(world->out.bytes, "Nothing is due from Mon 6 Mar 2028 to Sun 12 Mar 2028.\n"));
    assert_null(strchr(world->out.bytes, '\f'));
    text_clear(&world->out);
    worklist_write_html(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes, "Nothing is due"));
}

/* Words of every length, of marks that printers obey, and of wide characters. */
static const char *random_words(struct world *world, uint32_t *seed)
{
    static const char *const parts[] = {
        "OAK-017",         " ",           "\xe5\xae\xa4\xe6\x9e\x97",
        "\x1b[2J",         "\n",          "\f",
        "blue and white ", "<b>&amp;\"'", "\xc3\xa9",
        "e\xcc\x81",       "\xff",        "-"};
    struct text words;
    text_init(&words, &world->arena);
    *seed = *seed * 1664525u + 1013904223u;
    size_t count = (*seed >> 16) % 64 == 0 ? 900 : (*seed >> 16) % 7;
    for (size_t i = 0; i < count; i++) {
        *seed = *seed * 1664525u + 1013904223u;
        text_add(&words, parts[(*seed >> 16) % COUNT(parts)]);
    }
    return words.bytes;
}

enum { RANDOM_PAGES = 3, RANDOM_ROWS = 40, RANDOM_MATERIALS = 20 };

/* Other work, of a graft with random words. */
static struct work_row random_check(struct world *world, uint32_t *seed,
                                    const struct graft_state *graft)
{
    struct task_kind *kind = ARENA_NEW(&world->arena, struct task_kind);
    struct task_instance *instance = ARENA_NEW(&world->arena, struct task_instance);
    *kind = (struct task_kind){.task = "check \xe5\xae\xa4\xe6\x9e\x97",
                               .per = "graft",
                               .closed_by = "survival",
                               .needs = random_words(world, seed),
                               .caution = random_words(world, seed)};
    *instance = (struct task_instance){
        .kind = kind,
        .subject = {.kind = SUBJECT_BATCH, .name = random_words(world, seed), .graft = graft},
        .cycle = 2027,
        .last_day = day_from_civil(2028, 3, 9)};
    return (struct work_row){.instance = instance,
                             .site = &world->site,
                             .tree = &world->tree,
                             .entry = random_words(world, seed),
                             .decide = random_words(world, seed),
                             .brief = random_words(world, seed)};
}

static void fill_page(struct world *world, uint32_t *seed, struct work_page *page)
{
    const struct task_kind **kinds =
        ARENA_ARRAY(&world->arena, RANDOM_ROWS, const struct task_kind *);
    page->kinds = kinds;
    page->rows = ARENA_ARRAY(&world->arena, RANDOM_ROWS, struct work_row);
    page->materials = ARENA_ARRAY(&world->arena, RANDOM_MATERIALS, struct material);
    page->day = day_from_civil(2028, 3, 7);
    page->crew = random_words(world, seed);
    page->lift = *seed & 0x10000 ? random_words(world, seed) : NULL;
    page->row_count = (*seed >> 18) % RANDOM_ROWS;
    page->material_count = (*seed >> 20) % RANDOM_MATERIALS;
    for (size_t i = 0; i < page->row_count; i++) {
        struct planned_bag *bag = ARENA_NEW(&world->arena, struct planned_bag);
        struct group *group = ARENA_NEW(&world->arena, struct group);
        struct graft_state *graft = ARENA_NEW(&world->arena, struct graft_state);
        struct graft *tagged = ARENA_NEW(&world->arena, struct graft);
        *bag = world->bag;
        *group = world->group;
        *graft = world->state;
        *tagged = world->graft;
        bag->group = group;
        bag->name = random_words(world, seed);
        group->graft = graft;
        graft->graft = tagged;
        tagged->tag = random_words(world, seed);
        tagged->branch = random_words(world, seed);
        page->rows[i] = (struct work_row){.bag = bag,
                                          .task = (enum bag_task)(i % BAG_TASKS),
                                          .entry = random_words(world, seed),
                                          .decide = random_words(world, seed),
                                          .brief = random_words(world, seed)};
        if (i % 3 == 2) {
            page->rows[i] = random_check(world, seed, graft);
            kinds[page->kind_count++] = page->rows[i].instance->kind;
        }
    }
    for (size_t i = 0; i < page->material_count; i++)
        page->materials[i] = (struct material){.what = random_words(world, seed),
                                               .amount = (double)i / 4,
                                               .unit = i % 3 ? "ml" : NULL,
                                               .kept_at = i % 2 ? random_words(world, seed) : NULL};
}

static struct worklist random_list(struct world *world, uint32_t seed)
{
    struct worklist list = {.page_count = RANDOM_PAGES};
    list.first_day = list.last_day = day_from_civil(2028, 3, 7);
    list.pages = ARENA_ARRAY(&world->arena, RANDOM_PAGES, struct work_page);
    const char **minded = ARENA_ARRAY(&world->arena, 4, const char *);
    for (size_t i = 0; i < 3; i++)
        minded[i] = random_words(world, &seed);
    world->orchard.program.name = random_words(world, &seed);
    world->site.name = random_words(world, &seed);
    world->tree.block = random_words(world, &seed);
    world->cross.name = random_words(world, &seed);
    world->lot.name = random_words(world, &seed);
    world->mother.flag_colour = random_words(world, &seed);
    for (size_t i = 0; i < RANDOM_PAGES; i++)
        fill_page(world, &seed, &list.pages[i]);
    for (size_t i = 0; i < RANDOM_PAGES; i++)
        list.pages[i].cautions = minded;
    list.office = ARENA_ARRAY(&world->arena, RANDOM_ROWS, struct work_row);
    list.office_count = seed % RANDOM_ROWS;
    for (size_t i = 0; i < list.office_count; i++)
        list.office[i] = random_check(world, &seed, &world->state);
    list.overdue.list = ARENA_ARRAY(&world->arena, RANDOM_ROWS, struct work_group);
    list.overdue.count = seed % RANDOM_ROWS;
    for (size_t i = 0; i < list.overdue.count; i++) {
        const char **name = ARENA_NEW(&world->arena, const char *);
        *name = random_words(world, &seed);
        list.overdue.list[i] = (struct work_group){.task = random_words(world, &seed),
                                                   .site = &world->site,
                                                   .names = name,
                                                   .count = 1,
                                                   .last = list.first_day,
                                                   .order_by = DAY_NONE,
                                                   .not_done = 1,
                                                   .reason = random_words(world, &seed)};
    }
    return list;
}

static bool starts_with(const char *line, const char *start)
{
    return strncmp(line, start, strlen(start)) == 0;
}

/* Columns and lines within bounds, and every row that begins on this page ends on it. */
static void assert_page_holds(struct world *world, char *page)
{
    size_t lines = 0, rows = 0;
    bool open = false;
    for (char *line = page, *end; *line; line = end + 1) {
        end = strchr(line, '\n');
        assert_non_null(end);
        *end = '\0';
        lines++;
        assert_true(text_columns(line) <= PAGE_COLUMNS);
        struct text printable;
        text_init(&printable, &world->arena);
        text_add_printable(&printable, line);
        assert_string_equal(printable.bytes, line);
        if (starts_with(line, "[ ] bag") || starts_with(line, "[ ] pollinate") ||
            starts_with(line, "[ ] unbag") || starts_with(line, "[ ] check ")) {
            assert_false(open);
            open = true;
            rows++;
        }
        if (starts_with(line, "    remarks, or why not done __")) {
            assert_true(open);
            open = false;
        }
    }
    assert_false(open);
    assert_true(lines <= PAGE_LINES);
}

static void no_page_is_too_long_or_wide_and_no_row_is_split_whatever_the_words(void **state)
{
    struct world *world = *state;
    for (uint32_t seed = 1; seed <= 60; seed++) {
        text_clear(&world->out);
        struct worklist list = random_list(world, seed);
        worklist_write_text(&list, &world->run, &world->out);
        size_t pages = 0, rows = 0, first_pages = 0;
        for (const char *at = world->out.bytes; (at = strstr(at, "remarks, or why not")); at++)
            rows++;
        for (const char *at = world->out.bytes; (at = strstr(at, "page 1 of ")); at++)
            first_pages++;
        for (char *page = world->out.bytes; page; pages++) {
            char *next = strchr(page, '\f');
            if (next)
                *next++ = '\0';
            assert_page_holds(world, page);
            page = next;
        }
        assert_int_equal(first_pages,
                         RANDOM_PAGES + (list.office_count > 0) + (list.overdue.count > 0));
        assert_true(pages >= RANDOM_PAGES);
        for (size_t i = 0; i < RANDOM_PAGES; i++)
            rows -= list.pages[i].row_count;
        assert_int_equal(rows, 0);
    }
}

static void pages_of_a_crew_day_are_numbered(void **state)
{
    struct world *world = *state;
    struct work_page page;
    struct worklist list = one_day(world, &page);
    page.rows = ARENA_ARRAY(&world->arena, 17, struct work_row);
    page.row_count = 17;
    for (size_t i = 0; i < page.row_count; i++)
        page.rows[i] = (struct work_row){
            .bag = &world->bag, .task = TASK_BAG, .entry = "2028-W10-A-0027", .decide = "hang it"};
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes, "page 1 of 3\n"));
    assert_non_null(strstr(world->out.bytes, "page 2 of 3\n"));
    const char *last = strstr(world->out.bytes, "page 3 of 3\n");
    assert_non_null(last);
    assert_null(strchr(last, '\f'));
    assert_non_null(strstr(last, "Holm, block B\n[ ] bag"));
}

/* Every element is closed in its order; what is void closes itself. */
static void assert_well_formed(struct world *world, const char *html)
{
    const char *open[64];
    size_t depth = 0;
    assert_true(text_is_utf8(strlen(html), html, NULL));
    for (const char *at = strchr(html + 1, '<'); at; at = strchr(at + 1, '<')) {
        size_t length = strcspn(at, ">");
        assert_int_equal(at[length], '>');
        const char *name = arena_text(&world->arena, strcspn(at + 1, "> /"), at + 1);
        if (at[1] == '/') {
            assert_true(depth > 0);
            name = arena_text(&world->arena, length - 2, at + 2);
            assert_string_equal(open[--depth], name);
        } else if (at[length - 1] != '/') {
            assert_true(depth < COUNT(open));
            open[depth++] = name;
        }
    }
    assert_int_equal(depth, 0);
    for (const char *at = html; (at = strchr(at, '&')); at++)
        assert_true(starts_with(at, "&amp;") || starts_with(at, "&lt;") ||
                    starts_with(at, "&gt;") || starts_with(at, "&quot;") ||
                    starts_with(at, "&#39;"));
}

static void html_is_well_formed_and_escapes_every_word(void **state)
{
    struct world *world = *state;
    struct work_page page;
    struct worklist list = one_day(world, &page);
    world->graft.tag = "<script>alert('x')</script>&\x1b[2J";
    worklist_write_html(&list, &world->run, &world->out);
    assert_well_formed(world, world->out.bytes);
    assert_null(strstr(world->out.bytes, "<script"));
    assert_non_null(strstr(world->out.bytes, "<b>&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;"
                                             "&amp;\\x1b[2J</b>"));
    assert_null(strstr(world->out.bytes, "http")); /* no outside parts */
    for (uint32_t seed = 1; seed <= 20; seed++) {
        text_clear(&world->out);
        list = random_list(world, seed);
        worklist_write_html(&list, &world->run, &world->out);
        assert_well_formed(world, world->out.bytes);
    }
}

static void the_sheet_leaves_room_to_type_back(void **state)
{
    struct world *world = *state;
    struct work_page page;
    struct worklist list = one_day(world, &page);
    struct sheet sheet = worklist_sheet(&list, &world->run);
    sheet_write_csv(&sheet, (struct sheet_style){.digits = -1}, &world->out);
    assert_string_equal(
        world->out.bytes,
        "entry,date,task,crew,lift,site,block,tree,row,position,crown,branch,tag,flag,bag,cross,"
        "seed_parent,pollen_parent,pollen_lot,dose_ml,chance,latest_safe,decide,done_on,not_done,"
        "stage,value,by,remarks,selection,batch,cycle,needs,as_of\n"
        "2028-W10-A-001K,2028-03-07,pollinate again,A,L1,Holm,B,HB-12,3,12,top,T4,OAK-017C,blue,"
        "OAK-017C-28-1,C12,S12,S31,P07,0.50,0.550,2028-03-17,\"stage 4 or 5: pollinate. stage 6: "
        "write 6, do not pollinate. stage 3: come again in two days\",,,,,,,S12,,2027,,2028-03-06\n"
        "2028-W10-A-0027,2028-03-07,bag,A,L1,Holm,B,HB-12,3,12,top,T4,OAK-017C,blue,OAK-017C-28-1,"
        "C12,S12,S31,P07,,0.934,2028-03-09,\"hang it, write its "
        "stage\",,,,,,,S12,,2027,,2028-03-06\n");
}

/* A check of one graft, as a crew's second row and as the only row without a crew. */
static void add_check(struct world *world, struct task_kind *kind, struct task_instance *instance,
                      struct work_row *row)
{
    *kind = (struct task_kind){.task = "look at unions",
                               .per = "graft",
                               .closed_by = "survival",
                               .needs = "hand lens, tags",
                               .caution = "mind the film"};
    *instance = (struct task_instance){
        .kind = kind,
        .subject = {.kind = SUBJECT_GRAFT,
                    .name = world->graft.tag,
                    .graft = &world->state,
                    .tree = &world->tree,
                    .site = &world->site,
                    .selection = &world->mother},
        .cycle = 2027,
        .first_day = day_from_civil(2028, 3, 1),
        .last_day = day_from_civil(2028, 3, 9),
        .order_by = DAY_NONE,
    };
    *row = (struct work_row){.instance = instance,
                             .site = &world->site,
                             .tree = &world->tree,
                             .entry = "2028-W10-A-0035",
                             .decide = "look at it. mind the film",
                             .brief = "look at it (10 days after it was made)"};
}

static void a_check_stands_on_the_page_beside_bags(void **state)
{
    struct world *world = *state;
    struct work_page page;
    struct task_kind kind;
    const struct task_kind *kinds[] = {&kind};
    struct task_instance instance;
    struct worklist list = one_day(world, &page);
    add_check(world, &kind, &instance, &page.rows[1]);
    world->bag.latest[TASK_POLLINATE_2] = page.day;
    page.kinds = kinds;
    page.kind_count = 1;
    worklist_write_text(&list, &world->run, &world->out);
    static const char *const pieces[] = {
        "\nFor look at unions: hand lens, tags\n",
        "\n  - if the lift is down: today is the last safe day of OAK-017C-28-1\n",
        "\n  - look at unions: mind the film\n",
        "\n[ ] look at unions   OAK-017C  blue         HB-12, row 3 no. 12, top/T4\n"
        "                     S12                    cycle 2027                Thu 9 Mar\n"
        "    look at it (10 days after it was made)\n"
        "    by ________  time ______  stage ____  alive? ______          2028-W10-A-0035\n",
    };
    for (size_t i = 0; i < COUNT(pieces); i++)
        if (!strstr(world->out.bytes, pieces[i]))
            fail_msg("missing:%sin:\n%s", pieces[i], world->out.bytes);
    text_clear(&world->out);
    worklist_write_html(&list, &world->run, &world->out);
    assert_well_formed(world, world->out.bytes);
    assert_non_null(strstr(world->out.bytes, "<td>S12<br/>cycle 2027</td><td>Thu 9 Mar 2028</td>"));
    assert_non_null(strstr(world->out.bytes, "<p>For look at unions: hand lens, tags</p>"));
    assert_non_null(strstr(world->out.bytes, "<li>look at unions: mind the film</li>"));
    text_clear(&world->out);
    struct sheet sheet = worklist_sheet(&list, &world->run);
    sheet_write_csv(&sheet, (struct sheet_style){.digits = -1}, &world->out);
    assert_non_null(strstr(
        world->out.bytes,
        "2028-W10-A-0035,2028-03-07,look at "
        "unions,A,L1,Holm,B,HB-12,3,12,top,T4,OAK-017C,blue,,,,,,"
        ",,2028-03-09,look at it. mind the film,,,,,,,S12,,2027,\"hand lens, tags\",2028-03-06\n"));
}

static void work_without_a_crew_has_its_own_pages(void **state)
{
    struct world *world = *state;
    struct work_row row;
    struct task_kind kind;
    struct task_instance instance;
    struct worklist list = {.first_day = day_from_civil(2028, 3, 6),
                            .last_day = day_from_civil(2028, 3, 12),
                            .office = &row,
                            .office_count = 1};
    add_check(world, &kind, &instance, &row);
    instance.subject = (struct task_subject){
        .kind = SUBJECT_BATCH,
        .name = "2028-S12",
        .batch = &(struct batch){.name = "2028-S12", .selection_name = "S12"}};
    row.site = NULL;
    row.tree = NULL;
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes, "WORKLIST  without a crew "));
    assert_non_null(strstr(world->out.bytes,
                           "\nlook at unions, cycle 2027\n"
                           "    look at it (10 days after it was made); needs: hand lens, tags\n"
                           "[ ] 2028-S12          last day Thu 9 Mar 2028                    "
                           "2028-W10-A-0035\n"
                           "Type it back by the code on the right.\n"));
    assert_null(strstr(world->out.bytes, "Nothing is due"));
    text_clear(&world->out);
    worklist_write_html(&list, &world->run, &world->out);
    assert_well_formed(world, world->out.bytes);
    assert_non_null(strstr(world->out.bytes, "<h1>Without a crew, Mon 6 Mar 2028 to Sun 12 Mar"));
    instance.order_by = day_from_civil(2028, 3, 8);
    instance.because = "waits for: spring";
    instance.cycle = 0;
    kind.needs = NULL;
    text_clear(&world->out);
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes,
                           "\nlook at unions\n    look at it (10 days after it was made)\n"
                           "[ ] 2028-S12          last day Thu 9 Mar 2028, order by 8 Mar    "
                           "2028-W10-A-0035\n"));
    instance.order_by = instance.last_day;
    text_clear(&world->out);
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes, " order by Thu 9 Mar 2028      "));
    assert_null(strstr(world->out.bytes, "last day Thu"));
    text_clear(&world->out);
    worklist_write_html(&list, &world->run, &world->out);
    assert_well_formed(world, world->out.bytes);
    assert_non_null(strstr(world->out.bytes, "<td>order by Thu 9 Mar 2028</td>"));
}

/* A graft to be made has the tag that is proposed for it, and its scions. */
static void a_graft_to_make_tells_its_scions(void **state)
{
    struct world *world = *state;
    struct work_page page;
    struct task_kind kind;
    struct task_instance instance;
    struct worklist list = one_day(world, &page);
    struct batch batch = {.name = "B7"};
    struct placed_graft planned = {.tag = "T900X",
                                   .selection = &world->mother,
                                   .tree = &world->tree,
                                   .crown = CROWN_MIDDLE,
                                   .batch = &batch};
    add_check(world, &kind, &instance, &page.rows[1]);
    instance.subject =
        (struct task_subject){.kind = SUBJECT_SITE, .name = "Holm", .site = &world->site};
    page.rows[1].planned = &planned;
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(
        strstr(world->out.bytes,
               "\n[ ] look at unions   T900X     blue         HB-12, row 3 no. 12, middle\n"
               "    B7               S12                    cycle 2027"));
    planned.batch = NULL;
    text_clear(&world->out);
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes, "\n    scion to be cut  S12 "));
}

static void lists_tell_what_lies_around_the_work(void **state)
{
    struct world *world = *state;
    static const char *names[] = {"A1", "A2", "A3", "A4", "A5", "A6", "A7", "A8"};
    struct work_group group = {.task = "look at unions",
                               .site = &world->site,
                               .cycle = 2027,
                               .names = names,
                               .count = 8,
                               .first = day_from_civil(2028, 3, 10),
                               .last = day_from_civil(2028, 3, 14),
                               .order_by = DAY_NONE,
                               .obstacle = OBSTACLE_SPRAYED,
                               .shut_until = day_from_civil(2028, 3, 9),
                               .not_done = 2,
                               .reason = "rain"};
    struct work_group order = {.task = "order bags",
                               .names = (const char *[]){""},
                               .count = 1,
                               .first = day_from_civil(2028, 3, 20),
                               .last = day_from_civil(2028, 3, 30),
                               .order_by = day_from_civil(2028, 3, 25),
                               .obstacle = OBSTACLE_NONE,
                               .shut_until = DAY_NONE,
                               .expected = true,
                               .rough = true};
    struct work_group late = group;
    late.last = day_from_civil(2028, 3, 5);
    struct worklist list = {.first_day = day_from_civil(2028, 3, 6),
                            .last_day = day_from_civil(2028, 3, 12),
                            .pushed = {&group, 1},
                            .overdue = {&late, 1},
                            .coming = {&order, 1}};
    worklist_write_text(&list, &world->run, &world->out);
    static const char *const pieces[] = {
        "\nPushed out, and why:\n"
        "  - look at unions, Holm, cycle 2027: 8 (A1, A2, A3, A4, A5, A6 and 2 more);\n"
        "    sprayed, shut through Thu 9 Mar 2028; last day Tue 14 Mar 2028, not done 2\n"
        "    times: rain\n",
        "\nOverdue:\n"
        "  - look at unions, Holm, cycle 2027: 8 (A1, A2, A3, A4, A5, A6 and 2 more);\n"
        "    last day Sun 5 Mar 2028, 1 day late, not done 2 times: rain\n",
        "\nComing up in the 21 days after:\n"
        "  - order bags: 1; from Mon 20 Mar 2028, last day 30 Mar, 24 days to spare,\n"
        "    order by Sat 25 Mar 2028, expected: what comes before is not done, rough\n"
        "    dates\n",
    };
    for (size_t i = 0; i < COUNT(pieces); i++)
        if (!strstr(world->out.bytes, pieces[i]))
            fail_msg("missing:%sin:\n%s", pieces[i], world->out.bytes);
    text_clear(&world->out);
    worklist_write_html(&list, &world->run, &world->out);
    assert_well_formed(world, world->out.bytes);
    assert_non_null(strstr(world->out.bytes, "<li>order bags: 1; from Mon 20 Mar 2028"));
}

static void weather_sprays_and_moves_are_told_first(void **state)
{
    struct world *world = *state;
    static const char *names[] = {"A1-28-1", "A2-28-1"};
    static double lows[] = {-4.25, NAN}, highs[] = {6.4, 9};
    struct cold_spell spells[] = {{.site = &world->site,
                                   .first = day_from_civil(2028, 3, 9),
                                   .last = day_from_civil(2028, 3, 10),
                                   .lowest_c = -4.25,
                                   .hang_closed = 1,
                                   .hang_open = 2,
                                   .new_grafts = 3,
                                   .to_hang = names,
                                   .to_hang_count = 2,
                                   .clean_planned = 0.91,
                                   .clean_waiting = 0.62},
                                  {.site = &world->site,
                                   .first = day_from_civil(2028, 3, 14),
                                   .last = day_from_civil(2028, 3, 14),
                                   .lowest_c = -3}};
    struct shut_place shut[] = {{.site = "Holm",
                                 .block = "B",
                                 .sprayed_on = day_from_civil(2028, 3, 6),
                                 .hours = 48,
                                 .until = day_from_civil(2028, 3, 8)},
                                {.block = "C",
                                 .sprayed_on = day_from_civil(2028, 3, 6),
                                 .hours = NAN,
                                 .until = day_from_civil(2028, 3, 6)}};
    struct outlook outlook = {.site = &world->site,
                              .first_day = day_from_civil(2028, 3, 7),
                              .count = 2,
                              .tmin_c = lows,
                              .tmax_c = highs};
    struct page_move moves[] = {{"bag", "A1-28-1", world->run.as_of, world->run.as_of + 2},
                                {"bag", "A2-28-1", world->run.as_of, world->run.as_of + 2},
                                {"bag", "A3-28-1", world->run.as_of, DAY_NONE},
                                {"audit", NULL, DAY_NONE, world->run.as_of}};
    struct worklist list = {
        .first_day = day_from_civil(2028, 3, 6),
        .last_day = day_from_civil(2028, 3, 12),
        .watch = {.shut = shut,
                  .shut_count = 2,
                  .spells = spells,
                  .spell_count = 2,
                  .outlooks = &outlook,
                  .outlook_count = 1},
        .moves = {.given = true, .printed = day_from_civil(2028, 3, 1), .list = moves, .count = 4}};
    world->orchard.program.freeze_c = -3;
    worklist_write_text(&list, &world->run, &world->out);
    static const char *const pieces[] = {
        "\nReplaces the page printed as of Wed 1 Mar 2028; 4 rows moved since\n"
        "  - bag, Mon 6 Mar, now Wed 8 Mar 2028: A1-28-1, A2-28-1\n"
        "  - bag, Mon 6 Mar, not on this list: A3-28-1\n"
        "  - audit, new on Mon 6 Mar 2028\n",
        "\nShut by sprays:\n"
        "  - Holm, block B: no hand work through Wed 8 Mar 2028; sprayed Mon 6 Mar 2028,\n"
        "    re-entry 48 h; the label decides\n"
        "  - block C: no hand work through Mon 6 Mar 2028; sprayed Mon 6 Mar 2028; the\n"
        "    label decides\n",
        "\nCold nights foretold, at or below -3.0 C:\n"
        "  - Holm, nights to Thu 9 Mar to Fri 10 Mar 2028: down to -4.2 C; 1 bag hangs\n"
        "    before opening; 2 bags hang with open strobili; 3 new grafts\n"
        "  - choose for 2 bags (A1-28-1, A2-28-1): hang as planned, each with at least\n"
        "    91 % chance of a clean bag, and the cold finds them bagged; or wait until\n"
        "    Fri 10 Mar 2028, and that chance falls to 62 %; the plan has not moved them\n"
        "  - Holm, night to Tue 14 Mar 2028: down to -3.0 C\n",
        "\nForetold for these days, lowest to highest in C:\n"
        "  - Holm: Tue -4 to 6, Wed ? to 9\n",
    };
    for (size_t i = 0; i < COUNT(pieces); i++)
        if (!strstr(world->out.bytes, pieces[i]))
            fail_msg("missing:%sin:\n%s", pieces[i], world->out.bytes);
    world->run.units_us = true;
    list.moves = (struct page_moves){.given = true, .printed = DAY_NONE};
    text_clear(&world->out);
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes,
                           "\nReplaces the page printed as of a day that it does not tell; 0 rows "
                           "moved since\n"));
    assert_non_null(strstr(world->out.bytes, "at or below 26.6 F:"));
    assert_non_null(strstr(world->out.bytes, "in F:\n  - Holm: Tue 24 to 44, Wed ? to 48\n"));
    text_clear(&world->out);
    worklist_write_html(&list, &world->run, &world->out);
    assert_well_formed(world, world->out.bytes);
    assert_non_null(strstr(world->out.bytes, "0 rows moved since</p>"));
}

/* A season of three hundred kinds of work is told in forty lines and a number. */
static void long_lists_are_cut(void **state)
{
    struct world *world = *state;
    static const char *names[] = {""};
    struct work_group *groups = ARENA_ARRAY(&world->arena, 300, struct work_group);
    for (size_t i = 0; i < 300; i++)
        groups[i] = (struct work_group){.task = arena_printf(&world->arena, "task %zu", i),
                                        .names = names,
                                        .count = 1,
                                        .first = world->run.as_of,
                                        .last = world->run.as_of,
                                        .order_by = DAY_NONE};
    struct worklist list = {
        .first_day = world->run.as_of, .last_day = world->run.as_of, .coming = {groups, 300}};
    worklist_write_text(&list, &world->run, &world->out);
    assert_non_null(strstr(world->out.bytes, "task 39: 1; "));
    assert_null(strstr(world->out.bytes, "task 40: 1; "));
    assert_non_null(strstr(world->out.bytes, "  - and 260 more kinds of work\n"));
}

int main(void)
{
#define TEST(function) cmocka_unit_test_setup_teardown(function, setup, teardown)
    const struct CMUnitTest tests[] = {
        TEST(a_day_prints_as_a_crew_needs_it),
        TEST(a_cross_is_not_told_twice),
        TEST(hours_are_told_as_people_say_them),
        TEST(a_week_without_work_says_so_on_one_page),
        TEST(no_page_is_too_long_or_wide_and_no_row_is_split_whatever_the_words),
        TEST(pages_of_a_crew_day_are_numbered),
        TEST(html_is_well_formed_and_escapes_every_word),
        TEST(the_sheet_leaves_room_to_type_back),
        TEST(a_check_stands_on_the_page_beside_bags),
        TEST(work_without_a_crew_has_its_own_pages),
        TEST(a_graft_to_make_tells_its_scions),
        TEST(lists_tell_what_lies_around_the_work),
        TEST(long_lists_are_cut),
        TEST(weather_sprays_and_moves_are_told_first),
    };
    return cmocka_run_group_tests_name("worklist pages", tests, NULL, NULL) != 0;
}
