#include "reading/issued.h"

#include "reading/columns.h"

#include <string.h>

#define AT(member) .offset = offsetof(struct issued_visit, member)
#define PASSED(column)                                                                             \
    {                                                                                              \
        .name = column, .kind = COLUMN_TEXT, AT(passed_over)                                       \
    }

static const char *const tasks[] = {"bag", "pollinate", "pollinate again", "unbag"};
static const char *const halves[] = {"morning", "afternoon"};
static const char *const states[] = {"planned", "pencilled", "done"};

static const struct column issued_columns[] = {
    {.name = "date", .kind = COLUMN_DAY, .required = true, AT(day)},
    {.name = "task",
     .kind = COLUMN_WORD,
     .required = true,
     AT(task),
     .words = {COUNT_OF(tasks), tasks}},
    {.name = "crew", .kind = COLUMN_TEXT, .expected = true, AT(crew)},
    {.name = "lift", .kind = COLUMN_TEXT, AT(lift)},
    {.name = "half_day",
     .kind = COLUMN_WORD,
     AT(half_day),
     .blank = -1,
     .words = {COUNT_OF(halves), halves}},
    {.name = "site", .kind = COLUMN_TEXT, .required = true, AT(site)},
    {.name = "bag", .kind = COLUMN_NAME, .required = true, AT(bag)},
    {.name = "cross", .kind = COLUMN_NAME, .required = true, AT(cross)},
    {.name = "pollen_lot", .kind = COLUMN_TEXT, AT(lot)},
    {.name = "state",
     .kind = COLUMN_WORD,
     .required = true,
     AT(state),
     .words = {COUNT_OF(states), states}},
    {.name = "as_of", .kind = COLUMN_DAY, .required = true, AT(as_of)},
    PASSED("tree"),
    PASSED("crown"),
    PASSED("tag"),
    PASSED("flag"),
    PASSED("seed_parent"),
    PASSED("pollen_parent"),
    PASSED("dose_ml"),
    PASSED("chance"),
    PASSED("latest_safe"),
    PASSED("seeds_expected"),
    PASSED("basis"),
    PASSED("seasons_seen"),
    PASSED("season"),
    PASSED("season_number"),
};

static const struct table issued_table = {.name = "crossing plan",
                                          .row_bytes = sizeof(struct issued_visit),
                                          TABLE_COLUMNS(issued_columns)};

static bool is_of_plan(struct reader *reader, const struct issued_visit *visit,
                       const struct issued_plan *plan, daynum as_of)
{
    char day[DAY_TEXT], other[DAY_TEXT];

    if (visit->as_of >= as_of) {
        diag_error(reader->diags, reader_place(reader, "as_of"), "issued-too-late",
                   "issued as of %s, expected a plan issued before %s, give an earlier one",
                   day_text(visit->as_of, day), day_text(as_of, other));
        return false;
    }
    if (plan->count > 0 && plan->list[0].as_of != visit->as_of) {
        diag_error(reader->diags, reader_place(reader, "as_of"), "issued-twice",
                   "issued as of %s, other rows as of %s, expected one plan, remove the rest",
                   day_text(visit->as_of, day), day_text(plan->list[0].as_of, other));
        return false;
    }
    return visit->state == 0;
}

struct issuing {
    struct issued_plan *plan;
    daynum as_of;
};

static void take_visit(struct reader *reader, const void *noun, void *context)
{
    const struct issuing *issuing = context;
    struct issued_plan *plan = issuing->plan;

    if (is_of_plan(reader, noun, plan, issuing->as_of))
        *ARENA_PUSH(reader->arena, plan->list, plan->count, plan->capacity) =
            *(const struct issued_visit *)noun;
}

bool read_issued(struct issued_plan *plan, const struct orchard *orchard,
                 const struct source *source, struct diags *diags)
{
    struct issuing issuing = {plan, orchard->as_of};
    struct reader reader = {.table = &issued_table,
                            .diags = diags,
                            .arena = orchard->arena,
                            .program = &orchard->program};

    return reader_run(&reader, source, (struct row_taker){take_visit, &issuing});
}
