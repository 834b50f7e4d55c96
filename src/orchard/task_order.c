/*
 * The order in which rows of tasks.csv can be worked out: what a row hangs on comes before it.
 */
#include "orchard/task_rules_parts.h"

enum mark { NOT_SEEN, ON_THE_WAY, IN_ORDER };

struct ordering {
    struct rule_reader reader;
    struct task_rules *rules;
    enum mark *marks; /* [count] */
    size_t *way;      /* [count] the rows that led here */
    size_t way_length;
    size_t *order;
    size_t ordered;
};

/* One cell that names another row. */
struct hold {
    enum task_cell cell;
    size_t task;
};

/* The n-th row that a row hangs on; false: no more.  *anchor: what to blank, NULL for `after`. */
static bool hold_of(struct task_rule *rule, size_t n, struct hold *hold, struct anchor **anchor)
{
    struct {
        enum task_cell cell;
        struct anchor *anchor;
    } cells[] = {{TASK_CELL_EARLIEST, &rule->earliest},
                 {TASK_CELL_LATEST, &rule->latest},
                 {TASK_CELL_NEEDED_BY, &rule->needed_by}};
    size_t seen = 0;

    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        if (cells[i].anchor->task_name != NULL && seen++ == n) {
            *hold = (struct hold){cells[i].cell, cells[i].anchor->task};
            *anchor = cells[i].anchor;
            return true;
        }
    for (size_t i = 0; i < rule->when_count; i++)
        if (rule->when[i].day.task_name != NULL && seen++ == n) {
            *hold = (struct hold){TASK_CELL_WHEN, rule->when[i].day.task};
            *anchor = &rule->when[i].day;
            return true;
        }
    if (n - seen >= rule->after_count)
        return false;
    *hold = (struct hold){TASK_CELL_AFTER, rule->after[n - seen].task};
    *anchor = NULL;
    return true;
}

/* "bag, which hangs on unbag, which hangs on bag" */
static void tell_circle(struct ordering *ordering, struct hold hold)
{
    struct diags *diags = ordering->reader.diags;
    struct text text;
    size_t from = 0;

    if (diags == NULL)
        return;
    while (ordering->way[from] != hold.task)
        from++;
    text_init(&text, diags->arena);
    for (size_t i = from; i < ordering->way_length; i++)
        text_addf(&text, "%s%s", i > from ? ", which hangs on " : "",
                  diag_quote(diags, ordering->rules->list[ordering->way[i]].kind->task));
    text_addf(&text, ", which hangs on %s",
              diag_quote(diags, ordering->rules->list[hold.task].kind->task));
    diag_error(
        diags,
        ordering->rules->list[ordering->way[ordering->way_length - 1]].kind->cells[hold.cell],
        "task-circle",
        "%s: a circle, expected tasks that can be put one after the other, cut one of these "
        "ties",
        text.bytes);
}

/* A row whose day comes from a condition has no one day to count from. */
static void tell_conditional(struct ordering *ordering, const struct task_rule *rule,
                             struct hold hold)
{
    ordering->reader.kind = rule->kind;
    rule_tell(&ordering->reader,
              (struct rule_fault){hold.cell, "task-anchor",
                                  ordering->rules->list[hold.task].kind->task,
                                  "a task that comes once, not one for each time that its "
                                  "condition comes true",
                                  NULL});
}

static void cut(struct task_rule *rule, size_t task, struct anchor *anchor)
{
    size_t kept = 0;

    if (anchor != NULL) {
        *anchor = (struct anchor){.kind = ANCHOR_NONE};
        return;
    }
    for (size_t i = 0; i < rule->after_count; i++)
        if (rule->after[i].task != task)
            rule->after[kept++] = rule->after[i];
    rule->after_count = kept;
}

/* Depth is bounded by the number of rows. */
static void visit(struct ordering *ordering, size_t task)
{
    struct task_rule *rule = &ordering->rules->list[task];
    struct anchor *anchor;
    struct hold hold;
    size_t n = 0;

    ordering->marks[task] = ON_THE_WAY;
    ordering->way[ordering->way_length++] = task;
    while (hold_of(rule, n, &hold, &anchor)) {
        if (ordering->rules->list[hold.task].per_occurrence) {
            tell_conditional(ordering, rule, hold);
            cut(rule, hold.task, anchor);
        } else if (ordering->marks[hold.task] == ON_THE_WAY) {
            tell_circle(ordering, hold);
            cut(rule, hold.task, anchor);
        } else {
            if (ordering->marks[hold.task] == NOT_SEEN)
                visit(ordering, hold.task);
            n++;
        }
    }
    ordering->way_length--;
    ordering->marks[task] = IN_ORDER;
    ordering->order[ordering->ordered++] = task;
}

void rules_put_in_order(const struct rule_reader *reader, struct task_rules *rules)
{
    struct ordering ordering = {
        .reader = *reader,
        .rules = rules,
        .marks = ARENA_ARRAY(reader->arena, rules->count, enum mark),
        .way = ARENA_ARRAY(reader->arena, rules->count, size_t),
        .order = ARENA_ARRAY(reader->arena, rules->count, size_t),
    };

    for (size_t i = 0; i < rules->count; i++)
        if (ordering.marks[i] == NOT_SEEN)
            visit(&ordering, i);
    rules->order = ordering.order;
}
