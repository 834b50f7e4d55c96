/*
 * task_rules_parts.h - what the readers of one row share.
 */
#ifndef ORCHARD_TASK_RULES_PARTS_H
#define ORCHARD_TASK_RULES_PARTS_H

#include "orchard/task_rules.h"

struct rule_reader {
    const struct orchard *orchard;
    struct arena *arena;
    struct diags *diags;           /* may be NULL */
    const char *const *task_names; /* of the orchard's tasks, in their order */
    const struct task_kind *kind;  /* being read */
};

/* Tell a fault of a cell of the row being read: `found` as typed, what was expected, and the
 * nearest word that there is (NULL: none). */
struct rule_fault {
    enum task_cell cell;
    const char *code, *found, *expected, *nearest;
};
void rule_tell(const struct rule_reader *reader, struct rule_fault fault);

/* Tell that the table has no task of this name. */
void rule_tell_task(const struct rule_reader *reader, enum task_cell cell, const char *name);

/* A piece of a cell between separators, without blanks around it; false: no more.  *at moves on. */
struct piece {
    const char *text; /* NUL-terminated, in the arena */
};
bool rule_piece(const struct rule_reader *reader, const char **at, const char *between,
                struct piece *piece);

/* An anchor, its task joined; none after a fault, which has been told, and for NULL. */
struct anchor rule_anchor(const struct rule_reader *reader, enum task_cell cell, const char *text);

/* The place of a task by its name of `length` bytes; false when there is none. */
bool rule_task(const struct rule_reader *reader, const char *name, size_t length, size_t *task);

/* rule->when. */
void rule_read_when(const struct rule_reader *reader, struct task_rule *rule);

/* rules->order, and every row that hangs on itself told and cut off from what it hangs on. */
void rules_put_in_order(const struct rule_reader *reader, struct task_rules *rules);

#endif
