/*
 * The conditions of tasks.csv: clauses parted by semicolons, alternatives by bars.
 */
#include "orchard/task_rules_parts.h"

#include <string.h>

static const char expected_term[] =
    "note:KIND, note:KIND=VALUE, an extreme like tmin_c<=-3 or a day like day>=bag_by-10";

static bool starts_with(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

static void tell_term(const struct rule_reader *reader, const char *found, const char *nearest)
{
    rule_tell(reader,
              (struct rule_fault){TASK_CELL_WHEN, "task-when", found, expected_term, nearest});
}

static bool read_note(const struct rule_reader *reader, const char *text, struct task_term *term)
{
    const char *kind = text + strlen("note:"), *equals = strchr(kind, '=');
    size_t length = equals != NULL ? (size_t)(equals - kind) : strlen(kind);

    term->kind = TERM_NOTE;
    for (int note = 0; note < NOTES; note++) {
        if (strlen(note_names[note]) != length || memcmp(note_names[note], kind, length) != 0)
            continue;
        term->note = (enum note_kind)note;
        if (equals != NULL) {
            term->value = equals + 1;
            term->value_length = strlen(equals + 1);
        }
        return true;
    }
    tell_term(reader, text,
              text_nearest(arena_text(reader->arena, length, kind), NOTES, note_names));
    return false;
}

static const char *read_sense(const char *text, enum term_sense *sense)
{
    static const struct {
        const char *sign;
        enum term_sense sense;
    } signs[] = {{"<=", AT_MOST}, {">=", AT_LEAST}, {"<", BELOW}, {">", ABOVE}};

    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (starts_with(text, signs[i].sign)) {
            *sense = signs[i].sense;
            return text + strlen(signs[i].sign);
        }
    return NULL;
}

static bool read_extreme(const char *text, struct task_term *term)
{
    static const struct {
        const char *word;
        enum term_kind kind;
        bool fahrenheit;
    } words[] = {{"tmin_c", TERM_TMIN, false},
                 {"tmax_c", TERM_TMAX, false},
                 {"tmin_f", TERM_TMIN, true},
                 {"tmax_f", TERM_TMAX, true}};

    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        const char *number;

        if (!starts_with(text, words[i].word))
            continue;
        number = read_sense(text + strlen(words[i].word), &term->sense);
        if (number == NULL || !number_parse(strlen(number), number, &term->limit_c))
            return false;
        term->kind = words[i].kind;
        if (words[i].fahrenheit)
            term->limit_c = (term->limit_c - 32) / 1.8;
        return term->limit_c >= -90 && term->limit_c <= 60;
    }
    return false;
}

static bool read_term(const struct rule_reader *reader, const char *text, struct task_term *term)
{
    const char *anchor;

    if (starts_with(text, "note:"))
        return read_note(reader, text, term);
    if (read_extreme(text, term))
        return true;
    anchor = starts_with(text, "day") ? read_sense(text + strlen("day"), &term->sense) : NULL;
    if (anchor != NULL) {
        term->kind = TERM_DAY;
        term->day = rule_anchor(reader, TASK_CELL_WHEN, anchor);
        return term->day.kind != ANCHOR_NONE;
    }
    tell_term(reader, text, NULL);
    return false;
}

void rule_read_when(const struct rule_reader *reader, struct task_rule *rule)
{
    const char *at = rule->kind->when;
    struct piece clause, piece;
    size_t capacity = 0;
    unsigned clauses = 0;

    while (at != NULL && rule_piece(reader, &at, ";", &clause)) {
        const char *within = clause.text;

        while (rule_piece(reader, &within, "|", &piece)) {
            struct task_term term = {.clause = clauses};

            if (read_term(reader, piece.text, &term))
                *ARENA_PUSH(reader->arena, rule->when, rule->when_count, capacity) = term;
        }
        clauses++;
    }
}
