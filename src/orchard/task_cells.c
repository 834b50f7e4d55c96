/*
 * Single cells of tasks.csv: pieces, anchors, names of tasks, and faults at their place.
 */
#include "orchard/task_rules_parts.h"

#include <string.h>

static const char *const cell_names[TASK_CELLS] = {"earliest",  "latest",    "when",      "after",
                                                   "lead_days", "needed_by", "closed_by", "shift"};

void rule_tell(const struct rule_reader *reader, struct rule_fault fault)
{
    struct diags *diags = reader->diags;
    const char *mend = "correct it";

    if (diags == NULL)
        return;
    if (fault.nearest != NULL)
        mend = arena_printf(diags->arena, "write %s if that is meant",
                            diag_quote(diags, fault.nearest));
    diag_error(diags, reader->kind->cells[fault.cell], fault.code,
               "'%s' of task %s is %s, expected %s, %s", cell_names[fault.cell],
               diag_quote(diags, reader->kind->task), diag_quote(diags, fault.found),
               fault.expected, mend);
}

bool rule_piece(const struct rule_reader *reader, const char **at, const char *between,
                struct piece *piece)
{
    while (**at != '\0') {
        const char *start = *at + strspn(*at, " ");
        size_t here = strcspn(start, between), length = here;

        *at = start + here + (start[here] != '\0');
        while (length > 0 && start[length - 1] == ' ')
            length--;
        if (length > 0) {
            piece->text = arena_text(reader->arena, length, start);
            return true;
        }
    }
    return false;
}

bool rule_task(const struct rule_reader *reader, const char *name, size_t length, size_t *task)
{
    const char *copy = arena_text(reader->arena, length, name);
    const struct task_kind *found = orchard_task(reader->orchard, copy);

    if (found == NULL)
        return false;
    *task = (size_t)(found - reader->orchard->tasks.list);
    return true;
}

void rule_tell_task(const struct rule_reader *reader, enum task_cell cell, const char *name)
{
    rule_tell(reader, (struct rule_fault){
                          cell, "unknown-task", name, "a task of this table",
                          text_nearest(name, reader->orchard->tasks.count, reader->task_names)});
}

/* The nearest event to the word before the days. */
static const char *nearest_event(const struct rule_reader *reader, const char *text)
{
    size_t length = strcspn(text, "+- ");

    return text_nearest(arena_text(reader->arena, length, text), EVENTS, event_names);
}

struct anchor rule_anchor(const struct rule_reader *reader, enum task_cell cell, const char *text)
{
    struct anchor anchor = {.kind = ANCHOR_NONE};

    if (text == NULL)
        return anchor;
    if (!anchor_read(text, &anchor)) {
        rule_tell(reader, (struct rule_fault){cell, "task-anchor", text,
                                              "a date of the cycle like Y1-02-01, an event like "
                                              "first+2 or a day of another task like graft.done+10",
                                              nearest_event(reader, text)});
        return anchor;
    }
    if (anchor.task_name != NULL &&
        !rule_task(reader, anchor.task_name, anchor.task_length, &anchor.task)) {
        rule_tell_task(reader, cell,
                       arena_text(reader->arena, anchor.task_length, anchor.task_name));
        return (struct anchor){.kind = ANCHOR_NONE};
    }
    return anchor;
}
