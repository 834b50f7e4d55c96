#include "orchard/task_rules.h"

#include "orchard/task_rules_parts.h"
#include "orchard/words.h"

#include <stdlib.h>
#include <string.h>

static const char *const shift_words[] = {"spring", "autumn"};

static void read_after(const struct rule_reader *reader, struct task_rule *rule)
{
    const char *at = rule->kind->after;
    struct piece piece;
    size_t capacity = 0;

    while (at != NULL && rule_piece(reader, &at, ";", &piece)) {
        struct task_before before = {0, 0};
        size_t length = strlen(piece.text);
        const char *plus = strrchr(piece.text, '+');

        if (!rule_task(reader, piece.text, length, &before.task)) {
            if (plus != NULL && plus[1] != '\0' && strlen(plus) <= 5 &&
                strspn(plus + 1, "0123456789") == strlen(plus + 1)) {
                before.lag_days = atoi(plus + 1);
                length = (size_t)(plus - piece.text);
            }
            if (!rule_task(reader, piece.text, length, &before.task)) {
                rule_tell_task(reader, TASK_CELL_AFTER,
                               arena_text(reader->arena, length, piece.text));
                continue;
            }
        }
        *ARENA_PUSH(reader->arena, rule->after, rule->after_count, capacity) = before;
    }
}

static void read_closed_by(const struct rule_reader *reader, struct task_rule *rule)
{
    const char *at = rule->kind->closed_by;
    struct piece piece;

    while (at != NULL && rule_piece(reader, &at, "; ,+", &piece)) {
        int note = 0;

        while (note < NOTES && strcmp(note_names[note], piece.text) != 0)
            note++;
        if (note < NOTES || strcmp(piece.text, "scions") == 0)
            rule->closed_by |= (uint32_t)1 << note;
        else
            rule_tell(reader, (struct rule_fault){TASK_CELL_CLOSED_BY, "task-closed-by", piece.text,
                                                  "kinds of notes or scions, parted by semicolons",
                                                  text_nearest(piece.text, NOTES, note_names)});
    }
}

static void read_shift(const struct rule_reader *reader, struct task_rule *rule)
{
    const char *word = rule->kind->shift;

    rule->shift = SHIFT_NONE;
    if (word == NULL)
        return;
    if (strcmp(word, shift_words[0]) == 0)
        rule->shift = SHIFT_SPRING;
    else if (strcmp(word, shift_words[1]) == 0)
        rule->shift = SHIFT_AUTUMN;
    else
        rule_tell(reader, (struct rule_fault){TASK_CELL_SHIFT, "task-shift", word,
                                              "spring, autumn, or nothing when dates stay",
                                              text_nearest(word, 2, shift_words)});
}

static bool takes_when(const struct task_rule *rule)
{
    return rule->earliest.kind == ANCHOR_WHEN || rule->latest.kind == ANCHOR_WHEN;
}

/* What anchors of one row need of its other cells. */
static void check_cells(const struct rule_reader *reader, struct task_rule *rule)
{
    const struct task_kind *kind = rule->kind;
    bool orders = kind->lead_days >= 0 && kind->needed_by != NULL;

    if (takes_when(rule) && kind->when == NULL)
        rule_tell(reader,
                  (struct rule_fault){
                      rule->earliest.kind == ANCHOR_WHEN ? TASK_CELL_EARLIEST : TASK_CELL_LATEST,
                      "task-anchor", "when", "a condition in 'when' to count from", NULL});
    if (rule->earliest.kind == ANCHOR_ORDER_BY || (rule->latest.kind == ANCHOR_ORDER_BY && !orders))
        rule_tell(
            reader,
            (struct rule_fault){
                rule->earliest.kind == ANCHOR_ORDER_BY ? TASK_CELL_EARLIEST : TASK_CELL_LATEST,
                "task-anchor", "order_by",
                "order_by only in 'latest' of a row with lead_days and needed_by", NULL});
    else if ((kind->lead_days >= 0) != (kind->needed_by != NULL))
        rule_tell(reader, (struct rule_fault){
                              kind->needed_by != NULL ? TASK_CELL_LEAD_DAYS : TASK_CELL_NEEDED_BY,
                              "task-lead", "", "lead_days and needed_by together", NULL});
}

static void read_rule(const struct rule_reader *reader, struct task_rule *rule)
{
    const struct task_kind *kind = reader->kind;

    *rule = (struct task_rule){.kind = kind, .per = SUBJECT_PROGRAMME};
    for (int per = 0; kind->per != NULL && per < SUBJECT_KINDS; per++)
        if (strcmp(kind->per, subject_words[per]) == 0)
            rule->per = (enum subject_kind)per;
    rule->earliest = rule_anchor(reader, TASK_CELL_EARLIEST, kind->earliest);
    rule->latest = rule_anchor(reader, TASK_CELL_LATEST, kind->latest);
    rule->needed_by = rule_anchor(reader, TASK_CELL_NEEDED_BY, kind->needed_by);
    rule_read_when(reader, rule);
    read_after(reader, rule);
    read_closed_by(reader, rule);
    read_shift(reader, rule);
    check_cells(reader, rule);
    rule->per_occurrence = takes_when(rule);
    rule->of_crossing_plan =
        rule->per == SUBJECT_BAG &&
        (rule->closed_by & ((uint32_t)1 << NOTE_BAGGED | (uint32_t)1 << NOTE_POLLINATED |
                            (uint32_t)1 << NOTE_UNBAGGED)) != 0;
}

static void take_closed_once(struct task_rules *rules)
{
    for (size_t i = 0; i < rules->count; i++) {
        rules->list[i].closed_once = rules->list[i].closed_by;
        for (size_t j = 0; j < rules->count; j++)
            if (j != i && rules->list[j].per == rules->list[i].per)
                rules->list[i].closed_once &= ~rules->list[j].closed_by;
    }
}

struct reach {
    struct task_rules *rules;
    struct task_rule *rule;
};

static void reach_anchor(struct reach reach, const struct anchor *anchor)
{
    enum task_part part = PART_ANY;

    if (anchor->kind == ANCHOR_CYCLE_DAY) {
        part = anchor->day.year <= 1   ? PART_GRAFTING
               : anchor->day.year == 2 ? PART_FLOWERING
                                       : PART_CONES;
        if (anchor->day.year > reach.rules->last_year)
            reach.rules->last_year = anchor->day.year;
    } else if (anchor->kind == ANCHOR_EVENT) {
        part = anchor->event == EVENT_GRAFT_OPEN || anchor->event == EVENT_GRAFT_CLOSE
                   ? PART_GRAFTING
                   : PART_FLOWERING;
        reach.rules->events |= (uint32_t)1 << anchor->event;
    } else if (anchor->task_name != NULL) {
        part = reach.rules->list[anchor->task].part;
    }
    if (part > reach.rule->part)
        reach.rule->part = part;
}

/* Predecessors come first, so what a row's anchors reach is known before it. */
static void take_parts(struct task_rules *rules)
{
    rules->last_year = 2;
    for (size_t i = 0; i < rules->count; i++) {
        struct task_rule *rule = &rules->list[rules->order[i]];
        struct reach reach = {rules, rule};

        reach_anchor(reach, &rule->earliest);
        reach_anchor(reach, &rule->latest);
        reach_anchor(reach, &rule->needed_by);
        for (size_t t = 0; t < rule->when_count; t++)
            reach_anchor(reach, &rule->when[t].day);
    }
}

static void tell_too_many(const struct orchard *orchard, struct diags *diags)
{
    struct place place = {.file = orchard->tasks.list[0].place.file};

    if (diags != NULL)
        diag_error(diags, place, "task-too-many",
                   "the table has %zu kinds of work, expected %d at most, take rows out",
                   orchard->tasks.count, TASKS_MOST);
}

struct task_rules task_rules_of(const struct orchard *orchard, struct arena *arena,
                                struct diags *diags)
{
    size_t count = orchard->tasks.count;
    const char **names = ARENA_ARRAY(arena, count, const char *);
    struct rule_reader reader = {orchard, arena, diags, names, NULL};
    struct task_rules rules = {.list = ARENA_ARRAY(arena, count, struct task_rule), .count = count};

    if (count > TASKS_MOST) {
        tell_too_many(orchard, diags);
        return (struct task_rules){.count = 0};
    }
    for (size_t i = 0; i < count; i++)
        names[i] = orchard->tasks.list[i].task;
    for (size_t i = 0; i < count; i++) {
        reader.kind = &orchard->tasks.list[i];
        read_rule(&reader, &rules.list[i]);
    }
    take_closed_once(&rules);
    rules_put_in_order(&reader, &rules);
    take_parts(&rules);
    return rules;
}

const struct task_kind *task_closed_by(const struct orchard *orchard, const char *per,
                                       enum note_kind note)
{
    for (size_t i = 0; i < orchard->tasks.count; i++) {
        const struct task_kind *task = &orchard->tasks.list[i];

        if ((per == NULL || (task->per != NULL && strcmp(task->per, per) == 0)) &&
            task->closed_by != NULL && word_listed(task->closed_by, note_names[note]))
            return task;
    }
    return NULL;
}
