#include "base/test.h"

#include "writing/pages.h"

static struct move move_of(const char *bag, int task, daynum from, daynum to)
{
    return (struct move){.bag = bag,
                         .task = task,
                         .from = from,
                         .to = to,
                         .crew_from = from != DAY_NONE ? "Aspen" : NULL,
                         .crew_to = to != DAY_NONE ? "Aspen" : NULL,
                         .half_from = from != DAY_NONE ? 0 : -1,
                         .half_to = to != DAY_NONE ? 1 : -1,
                         .reason = "better day"};
}

static void bags_that_moved_alike_share_a_row_on_paper(void **state)
{
    struct arena arena;
    struct orchard orchard = {.as_of = 0};
    const daynum day = day_from_civil(2027, 3, 4);
    struct issued_plan issued = {NULL, 20, 20};
    struct move moves[] = {
        move_of("A1-27-1", TASK_BAG, day, day),
        move_of("A1-27-2", TASK_POLLINATE_1, day, day + 4),
        move_of("A1-27-2", TASK_UNBAG, DAY_NONE, day + 9),
        move_of("A1-27-3", TASK_POLLINATE_1, day, day + 4),
        move_of("A1-27-3", TASK_UNBAG, DAY_NONE, day + 9),
        move_of("B2-27-1", TASK_BAG, day, DAY_NONE),
        move_of("B2-27-1", TASK_UNBAG, day + 1, DAY_NONE),
        move_of("B2-27-2", TASK_UNBAG, day + 1, DAY_NONE),
        move_of("C", TASK_UNBAG, day, day),
    };
    struct crossing_plan plan = {
        .as_of = day, .moves = moves, .move_count = COUNT(moves), .issued = &issued};
    struct page_run run = {.orchard = &orchard, .as_of = day};
    struct text out;

    (void)state;
    arena_init(&arena, NULL);
    run.arena = &arena;
    text_init(&out, &arena);
    moves[0].firm = true;
    moves[8].crew_to = NULL;
    moves[8].half_to = -1;
    struct sheet sheet = moves_sheet(&plan, &run);
    text_clear(&sheet.head);
    sheet_write_text(&sheet, (struct sheet_style){.columns = 100, .digits = -1}, &out);
    assert_string_equal(out.bytes,
                        "bags        moves                                         reason\n"
                        "----------  --------------------------------------------  ----------\n"
                        "inside the firm days\n"
                        "A1-27-1     bag 4 Mar to Aspen, afternoon                 better day\n"
                        "\n"
                        "outside the firm days\n"
                        "A1-27-2, 3  pollinate 4 Mar to 8 Mar; unbag added 13 Mar  better day\n"
                        "B2-27-1     all visits dropped                            better day\n"
                        "B2-27-2     unbag 5 Mar dropped                           better day\n"
                        "C           unbag 4 Mar to nobody                         better day\n"
                        "\n"
                        "9 of 20 issued visits moved or dropped, 1 of them inside the firm days\n");
    text_clear(&out);
    sheet_write_csv(&sheet, (struct sheet_style){.digits = -1}, &out);
    assert_non_null(strstr(out.bytes,
                           "bag,task,from,to,crew_from,crew_to,half_day_from,half_day_to,"
                           "firm,reason\n"
                           "A1-27-1,bag,2027-03-04,2027-03-04,Aspen,Aspen,morning,"
                           "afternoon,yes,better day\n"));
    arena_release(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bags_that_moved_alike_share_a_row_on_paper),
    };

    return cmocka_run_group_tests_name("writing/moves_page", tests, NULL, NULL) != 0;
}
