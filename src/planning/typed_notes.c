/*
 * typed_notes.c - what a typed row says, by the kind of its task.
 *
 * No task is known by its name: the row of tasks.csv says what it is about and which note closes
 * it.  Only the three that the crossing plan places are printed under words of its own.
 */
#include "orchard/order.h"
#include "orchard/words.h"
#include "planning/crossing.h"
#include "planning/jobs.h"
#include "planning/typed_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A day so far from the one printed has a wrong year: own choice. */
enum { DAYS_FROM_PAGE_MOST = 183 };

static const char *const reasons[] = {"rain", "wind", "lift", "not ready", "no time", "not found"};
enum { REASONS = sizeof reasons / sizeof *reasons };

struct typist {
    const struct typing *typing;
    struct typed_notes notes;
};

/* What a row of a worklist is about. */
struct meaning {
    const struct task_kind *task;
    enum note_kind closes;
};

static void tell(const struct typist *typist, const struct typed_row *row, enum typed_column column,
                 const char *code, const char *message)
{
    diag_error(typist->typing->diags, typed_place(typist->typing->page, row, column), code, "%s",
               message);
}

/* ---- the task ------------------------------------------------------------------------------- */

/* The row of tasks.csv that a worklist means by a word. */
static const struct task_kind *task_of(const struct orchard *orchard, const char *word)
{
    const struct task_kind *kind = orchard_task(orchard, word);

    for (int task = 0; !kind && word && task < BAG_TASKS; task++)
        if (strcmp(word, bag_task_words[task]) == 0)
            kind = job_kind(orchard, job_of_task[task]);
    return kind;
}

/* The first kind of note that closes it; `done` when it names none. */
static enum note_kind closing_note(const struct task_kind *task)
{
    static const char between[] = "; ,+";
    const char *word = task->closed_by ? task->closed_by + strspn(task->closed_by, between) : "";
    size_t length = strcspn(word, between);

    for (int kind = 0; kind < NOTES; kind++)
        if (length > 0 && strlen(note_names[kind]) == length &&
            memcmp(word, note_names[kind], length) == 0)
            return (enum note_kind)kind;
    return NOTE_DONE;
}

static bool find_meaning(const struct typist *typist, const struct typed_row *row,
                         struct meaning *meaning)
{
    const struct orchard *orchard = typist->typing->linked;
    const char **names;
    const char *near;

    meaning->task = task_of(orchard, row->task);
    if (meaning->task) {
        meaning->closes = closing_note(meaning->task);
        return true;
    }
    if (!row->task) {
        tell(typist, row, row->entry ? TYPED_ENTRY : TYPED_TASK, "row-without-task",
             row->entry ? "the row has a code and no task, expected the cells of the worklist "
                          "beside it, type them or name the printed page with --page"
                        : "the row has neither a task nor a note, expected one that says what it "
                          "is about, fill it in");
        return false;
    }
    names = ARENA_ARRAY(typist->typing->arena, orchard->tasks.count, const char *);
    for (size_t i = 0; i < orchard->tasks.count; i++)
        names[i] = orchard->tasks.list[i].task;
    near = text_nearest(row->task, orchard->tasks.count, names);
    diag_error(typist->typing->diags, typed_place(typist->typing->page, row, TYPED_TASK),
               "unknown-task",
               "'task' is %s, which is not in tasks.csv, expected one that is, %s%s",
               diag_quote(typist->typing->diags, row->task),
               near ? "write " : "correct the name or add it",
               near ? diag_quote(typist->typing->diags, near) : "");
    return false;
}

/* ---- the day -------------------------------------------------------------------------------- */

/* false: the day lies ahead, or in another year than the page, told at `column`. */
static bool check_day(const struct typist *typist, const struct typed_row *row, daynum day,
                      enum typed_column column)
{
    const struct typing *typing = typist->typing;
    struct place place = typed_place(typing->page, row, column);
    char text[DAY_TEXT], other[DAY_TEXT];

    if (day > typing->as_of) {
        diag_error(typing->diags, place, "day-ahead",
                   "'%s' is %s, which lies after %s, expected a day that has been, correct it or "
                   "wait for the day",
                   typed_column_names[column], day_text(day, text), day_text(typing->as_of, other));
        return false;
    }
    if (column == TYPED_DONE_ON && row->date != DAY_NONE &&
        (day < row->date - DAYS_FROM_PAGE_MOST || day > row->date + DAYS_FROM_PAGE_MOST)) {
        diag_error(
            typing->diags, place, "day-far-from-page",
            "'done_on' is %s, and the line was printed for %s, expected a day within %d days "
            "of that, check the year",
            day_text(day, text), day_text(row->date, other), DAYS_FROM_PAGE_MOST);
        return false;
    }
    return true;
}

/* The Monday of the week that a code begins with; DAY_NONE without one. */
static daynum week_of_code(const char *entry)
{
    enum { WEEK_BYTES = 8 }; /* 2027-W10 */
    daynum monday;

    if (!entry || strlen(entry) < WEEK_BYTES || !day_parse_week(WEEK_BYTES, entry, &monday))
        return DAY_NONE;
    return monday;
}

/* The day of what was seen but not done: as filled in, else the one printed, else that week. */
static bool day_seen(const struct typist *typist, const struct typed_row *row,
                     struct typed_note *of)
{
    of->date_from = row->done_on != DAY_NONE ? TYPED_DONE_ON : TYPED_DATE;
    of->note.date = row->done_on != DAY_NONE ? row->done_on : row->date;
    if (of->note.date == DAY_NONE) {
        of->date_from = TYPED_ENTRY;
        of->note.date = week_of_code(row->entry);
    }
    if (of->note.date == DAY_NONE) {
        tell(typist, row, TYPED_DATE, "row-without-day",
             "the row has neither done_on nor the day it was printed for, expected a day, fill in "
             "done_on");
        return false;
    }
    return check_day(typist, row, of->note.date, of->date_from);
}

/* ---- notes ---------------------------------------------------------------------------------- */

static struct typed_note blank_note(const struct typed_row *row, enum note_kind kind)
{
    return (struct typed_note){
        .note = {.kind = kind, .date = DAY_NONE, .by = row->by, .entry = row->entry, .number = NAN},
        .row = row,
        .date_from = TYPED_DONE_ON,
        .value_from = TYPED_VALUE,
    };
}

static void set_value(struct typed_note *of, const char *typed, const char *meant,
                      enum typed_column from)
{
    of->value_typed = typed;
    of->note.value = meant;
    of->value_from = from;
    if (meant)
        (void)number_parse(strlen(meant), meant, &of->note.number);
}

static void add(struct typist *typist, struct typed_note of)
{
    /* Where the trial tells a fault of it, its place says which note it was. */
    of.note.place = of.row->place;
    of.note.place.cell = (unsigned)typist->notes.count + 1;
    *ARENA_PUSH(typist->typing->arena, typist->notes.list, typist->notes.count,
                typist->notes.capacity) = of;
}

static const char *tag_of_bag(const struct typist *typist, const struct typed_row *row)
{
    struct bag_name parts;

    if (row->tag || !bag_name_read(row->bag, &parts))
        return row->tag;
    return arena_text(typist->typing->arena, parts.tag_length, row->bag);
}

/* What a piece of the task is called in the row. */
static void set_subject(const struct typed_row *row, const char *per, struct note *note)
{
    const struct {
        const char *per;
        const char **cell;
        const char *name;
    } subjects[] = {
        {"graft", &note->tag, row->tag},     {"bag", &note->bag, row->bag},
        {"tree", &note->tree, row->tree},    {"lot", &note->lot, row->lot},
        {"batch", &note->batch, row->batch}, {"site", &note->site, row->site},
        {"cross", &note->cross, row->cross}, {"selection", &note->selection, row->selection},
    };

    for (size_t i = 0; per && i < sizeof subjects / sizeof *subjects; i++)
        if (strcmp(per, subjects[i].per) == 0)
            *subjects[i].cell = subjects[i].name;
}

/* The cells that a kind of note has beside its subject. */
static void set_company(const struct typed_row *row, struct note *note)
{
    switch (note->kind) {
    case NOTE_GRAFTED:
        note->tag = row->tag;
        note->tree = row->tree;
        note->crown = row->crown;
        note->branch = row->branch;
        note->batch = row->batch;
        note->selection = row->selection;
        break;
    case NOTE_BAGGED:
        note->cross = row->cross;
        break;
    case NOTE_POLLINATED:
    case NOTE_GERMINATION:
    case NOTE_DISCARDED:
        note->lot = row->lot;
        break;
    case NOTE_COLLECTED:
        note->lot = row->lot;
        note->tree = row->tree;
        break;
    case NOTE_SPRAYED:
    case NOTE_FROST:
    case NOTE_STORM:
        note->site = row->site;
        note->block = note->kind == NOTE_SPRAYED ? row->block : NULL;
        break;
    default:
        break;
    }
}

/* Strobili that cannot be bagged: "nothing there" on the page. */
static bool nothing_to_bag(const struct typed_row *row, const struct meaning *meaning)
{
    double count;

    return meaning->closes == NOTE_BAGGED && row->value &&
           number_parse(strlen(row->value), row->value, &count) && count == 0;
}

/* What the stage was seen on: the bag once it hangs. */
static void add_stage(struct typist *typist, const struct typed_row *row,
                      const struct meaning *meaning, bool only)
{
    struct typed_note of = blank_note(row, NOTE_STAGE);
    bool hung =
        meaning->closes == NOTE_BAGGED && row->done_on != DAY_NONE && !nothing_to_bag(row, meaning);

    if (!day_seen(typist, row, &of))
        return;
    set_value(&of, row->stage, row->stage_meant, TYPED_STAGE);
    if (row->bag && (meaning->closes != NOTE_BAGGED || hung))
        of.note.bag = row->bag;
    else if (tag_of_bag(typist, row))
        of.note.tag = tag_of_bag(typist, row);
    else
        of.note.tree = row->tree;
    of.note.remarks = only ? row->remarks : NULL;
    add(typist, of);
}

static void add_done(struct typist *typist, const struct typed_row *row,
                     const struct meaning *meaning)
{
    struct typed_note of = blank_note(row, meaning->closes);

    if (!check_day(typist, row, row->done_on, TYPED_DONE_ON))
        return;
    of.note.date = row->done_on;
    if (meaning->closes == NOTE_STAGE && !row->value)
        set_value(&of, row->stage, row->stage_meant, TYPED_STAGE);
    else
        set_value(&of, row->value, row->value, TYPED_VALUE);
    set_subject(row, meaning->task->per, &of.note);
    set_company(row, &of.note);
    if (meaning->closes == NOTE_DONE)
        of.note.task = meaning->task->task;
    of.note.remarks = row->remarks;
    add(typist, of);
}

/* Nothing was hung, for there was nothing to bag: said of the bag that was meant, since another of
 * the same graft may hang. */
static void add_nothing(struct typist *typist, const struct typed_row *row)
{
    struct typed_note of = blank_note(row, NOTE_STROBILI);

    if (!day_seen(typist, row, &of))
        return;
    set_value(&of, row->value, row->value, TYPED_VALUE);
    of.note.bag = row->bag;
    of.note.tag = row->bag ? NULL : row->tag;
    of.note.remarks = row->remarks;
    add(typist, of);
}

/* "lost", "lost: torn by wind": the cause, "" when none is given; NULL: not lost. */
static const char *cause_of_loss(const char *not_done)
{
    if (strncmp(not_done, "lost", 4) != 0 || (not_done[4] && !strchr(":, ", not_done[4])))
        return NULL;
    return not_done + 4 + strspn(not_done + 4, ":, ");
}

static bool known_reason(const struct typist *typist, const struct typed_row *row)
{
    struct diags *diags = typist->typing->diags;
    const char *near;

    for (size_t i = 0; i < REASONS; i++)
        if (strcmp(row->not_done, reasons[i]) == 0)
            return true;
    near = text_nearest(row->not_done, REASONS, reasons);
    diag_error(diags, typed_place(typist->typing->page, row, TYPED_NOT_DONE), "unknown-reason",
               "'not_done' is %s, expected rain, wind, lift, not ready, no time or not found, or "
               "lost of a bag that is gone, %s%s",
               diag_quote(diags, row->not_done),
               near ? "write " : "write one and the rest under remarks",
               near ? diag_quote(diags, near) : "");
    return false;
}

static void add_not_done(struct typist *typist, const struct typed_row *row,
                         const struct meaning *meaning)
{
    const char *cause = cause_of_loss(row->not_done);
    bool lost = cause && row->bag && meaning->closes != NOTE_BAGGED;
    struct typed_note of = blank_note(row, lost ? NOTE_BAG_LOST : NOTE_NOT_DONE);

    if ((!lost && !known_reason(typist, row)) || !day_seen(typist, row, &of))
        return;
    if (lost) {
        of.note.bag = row->bag;
        cause = *cause ? cause : NULL;
        set_value(&of, cause, cause, TYPED_NOT_DONE);
    } else {
        set_value(&of, row->not_done, row->not_done, TYPED_NOT_DONE);
        set_subject(row, meaning->task->per, &of.note);
        of.note.task = meaning->task->task;
    }
    of.note.remarks = row->remarks;
    add(typist, of);
}

/* ---- rows ----------------------------------------------------------------------------------- */

/* A row of notes.csv says what it says. */
static void take_note_row(struct typist *typist, const struct typed_row *row)
{
    struct typed_note of = blank_note(row, (enum note_kind)row->note);

    if (row->date == DAY_NONE) {
        tell(typist, row, TYPED_DATE, "row-without-day",
             "the note has no date, expected the day on which it was seen or done, fill it in");
        return;
    }
    if (row->done_on != DAY_NONE || row->not_done || row->stage) {
        tell(typist, row, TYPED_NOTE, "note-and-result",
             "the row has a note and results of a worklist as well, expected one of them, write "
             "the other into a row of its own");
        return;
    }
    if (of.note.kind != NOTE_GRAFTED && !typed_cells_agree(typist->typing, row))
        return;
    if (!check_day(typist, row, row->date, TYPED_DATE))
        return;
    of.date_from = TYPED_DATE;
    of.note.date = row->date;
    of.note.tag = row->tag;
    of.note.bag = row->bag;
    of.note.tree = row->tree;
    of.note.crown = row->crown;
    of.note.branch = row->branch;
    of.note.lot = row->lot;
    of.note.cross = row->cross;
    of.note.batch = row->batch;
    of.note.site = row->site;
    of.note.block = row->block;
    of.note.task = row->task;
    of.note.selection = row->selection;
    of.note.remarks = row->remarks;
    set_value(&of, row->value, row->value_meant, TYPED_VALUE);
    add(typist, of);
}

/* Results that say two things, or nothing; false: told. */
static bool check_results(const struct typist *typist, const struct typed_row *row,
                          const struct meaning *meaning)
{
    if (row->not_done && row->done_on != DAY_NONE && !cause_of_loss(row->not_done)) {
        tell(typist, row, TYPED_NOT_DONE, "done-and-not-done",
             "the row has done_on and not_done, expected one of them, blank the other");
        return false;
    }
    if (row->done_on != DAY_NONE || row->not_done)
        return true;
    if (row->value && !nothing_to_bag(row, meaning)) {
        tell(typist, row, TYPED_DONE_ON, "value-without-day",
             "the row has a value and no done_on, expected the day on which it was done, fill it "
             "in, or blank the value and give a reason under not_done");
        return false;
    }
    if (!row->value && !row->stage) {
        tell(typist, row, TYPED_REMARKS, "remarks-alone",
             "the row has remarks and no result, expected done_on, or a reason under not_done, "
             "fill in one");
        return false;
    }
    return true;
}

static void take_work_row(struct typist *typist, const struct typed_row *row)
{
    struct meaning meaning;

    if (!find_meaning(typist, row, &meaning) || !check_results(typist, row, &meaning))
        return;
    if (meaning.closes != NOTE_GRAFTED && !typed_cells_agree(typist->typing, row))
        return;
    if (row->not_done)
        add_not_done(typist, row, &meaning);
    else if (nothing_to_bag(row, &meaning))
        add_nothing(typist, row);
    else if (row->done_on != DAY_NONE)
        add_done(typist, row, &meaning);
    if (row->stage && !(meaning.closes == NOTE_STAGE && row->done_on != DAY_NONE && !row->value))
        add_stage(typist, row, &meaning, !row->not_done && !row->value && row->done_on == DAY_NONE);
}

/* Has a fault of this row been told?  Then nothing is made of it. */
static bool is_told(const struct diags *diags, const struct typed_row *row)
{
    for (size_t i = 0; diags->errors > 0 && i < diags->count; i++) {
        const struct place *place = &diags->list[i].place;

        if (place->line == row->place.line && order_text(place->file, row->place.file) == 0)
            return true;
    }
    return false;
}

static void take_row(struct typist *typist, struct typed_row *row)
{
    if (!typed_says(row)) {
        typist->notes.blank_rows++;
        return;
    }
    typist->notes.rows++;
    /* Without its code a row can still be looked at, unless the rest was to come from the page. */
    if (is_told(typist->typing->diags, row) ||
        (!typed_look_up(typist->typing, row) && typist->typing->issued))
        return;
    if (row->note >= 0)
        take_note_row(typist, row);
    else
        take_work_row(typist, row);
}

/* ---- what is there already ------------------------------------------------------------------ */

static int order_pointers(const void *left, const void *right)
{
    const struct note *const *a = left, *const *b = right;

    return order_note_content(*a, *b);
}

/* Equal ones in the order in which they were typed: their places' cells count them. */
static int order_typed(const void *left, const void *right)
{
    const struct note *const *a = left, *const *b = right;
    int order = order_note_content(*a, *b);

    return order ? order : order_whole((*a)->place.cell, (*b)->place.cell);
}

static void mark_of_folder(struct typist *typist)
{
    const struct orchard *orchard = typist->typing->read;
    size_t count = orchard->notes.count;
    const struct note **known = ARENA_ARRAY(typist->typing->arena, count, const struct note *);

    for (size_t i = 0; i < count; i++)
        known[i] = &orchard->notes.list[i];
    if (count > 1)
        qsort(known, count, sizeof *known, order_pointers);
    for (size_t i = 0; i < typist->notes.count && count > 0; i++) {
        const struct note *note = &typist->notes.list[i].note;

        typist->notes.list[i].there =
            bsearch(&note, known, count, sizeof *known, order_pointers) != NULL;
    }
}

static void mark_typed_twice(struct typist *typist)
{
    size_t count = typist->notes.count;
    const struct note **sorted = ARENA_ARRAY(typist->typing->arena, count, const struct note *);

    for (size_t i = 0; i < count; i++)
        sorted[i] = &typist->notes.list[i].note;
    if (count > 1)
        qsort(sorted, count, sizeof *sorted, order_typed);
    for (size_t i = 1; i < count; i++)
        if (order_note_content(sorted[i - 1], sorted[i]) == 0)
            typist->notes.list[sorted[i]->place.cell - 1].there = true;
}

static void count_rows_there(struct typed_notes *notes)
{
    for (size_t first = 0, end; first < notes->count; first = end) {
        bool all = true;

        for (end = first; end < notes->count && notes->list[end].row == notes->list[first].row;)
            all = notes->list[end++].there && all;
        notes->rows_there += all;
    }
}

struct typed_notes typed_notes_of(const struct typing *typing)
{
    struct typist typist = {.typing = typing};

    for (size_t i = 0; i < typing->page->count; i++)
        take_row(&typist, &typing->page->list[i]);
    mark_of_folder(&typist);
    mark_typed_twice(&typist);
    count_rows_there(&typist.notes);
    return typist.notes;
}
