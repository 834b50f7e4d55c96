#include "reading/tables.h"

#include <stddef.h>

#define AT(member) .offset = offsetof(struct task_kind, member)

/* Anchors and conditions are texts here; the orchard reads them against events and tasks. */
static const struct column task_columns[] = {
    {.name = "task", .kind = COLUMN_NAME, .required = true, AT(task)},
    {.name = "per",
     .kind = COLUMN_ONE_OF,
     .required = true,
     AT(per),
     .words = {SUBJECT_KINDS, subject_words}},
    {.name = "earliest", .kind = COLUMN_TEXT, .required = true, AT(earliest)},
    {.name = "latest", .kind = COLUMN_TEXT, .required = true, AT(latest)},
    {.name = "when", .kind = COLUMN_TEXT, AT(when)},
    {.name = "after", .kind = COLUMN_TEXT, AT(after)},
    {.name = "lead_days",
     .kind = COLUMN_WHOLE,
     AT(lead_days),
     .least = 0,
     .most = 3660,
     .blank = -1},
    {.name = "needed_by", .kind = COLUMN_TEXT, AT(needed_by)},
    {.name = "closed_by", .kind = COLUMN_TEXT, AT(closed_by)},
    {.name = "shift", .kind = COLUMN_TEXT, AT(shift)},
    {.name = "minutes_each", .kind = COLUMN_DECIMAL, AT(minutes_each), .least = 0, .most = 10000},
    {.name = "minutes_per_tree",
     .kind = COLUMN_DECIMAL,
     AT(minutes_per_tree),
     .least = 0,
     .most = 10000},
    {.name = "minutes_per_site",
     .kind = COLUMN_DECIMAL,
     AT(minutes_per_site),
     .least = 0,
     .most = 10000},
    {.name = "hours_from", .kind = COLUMN_TEXT, AT(hours_from)},
    {.name = "hours_to", .kind = COLUMN_TEXT, AT(hours_to)},
    {.name = "work",
     .kind = COLUMN_WORD,
     AT(work),
     .words = {WORK_WORDS, work_words},
     .blank = WORK_ANY},
    {.name = "needs", .kind = COLUMN_TEXT, AT(needs)},
    {.name = "caution", .kind = COLUMN_TEXT, AT(caution)},
    {.name = "source", .kind = COLUMN_TEXT, AT(source)},
};

static bool finish_task(struct reader *reader, void *row)
{
    static const char *const cells[TASK_CELLS] = {"earliest",  "latest",    "when",      "after",
                                                  "lead_days", "needed_by", "closed_by", "shift"};
    struct task_kind *task = row;

    task->shipped = reader->shipped;
    for (int i = 0; i < TASK_CELLS; i++)
        task->cells[i] = reader_place(reader, cells[i]);
    return true;
}

static void append_task(struct orchard *orchard, const void *row)
{
    APPEND(orchard, task_kind, tasks, row);
}

const struct table task_table = {.name = "tasks.csv",
                                 .row_bytes = sizeof(struct task_kind),
                                 TABLE_COLUMNS(task_columns),
                                 .finish = finish_task,
                                 .append = append_task};
