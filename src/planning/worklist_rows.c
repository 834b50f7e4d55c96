/*
 * worklist_rows.c - the code and the words of each row.
 */
#include "planning/worklist_parts.h"

#include "base/check_character.h"
#include "planning/crews.h"
#include "planning/jobs.h"

#include <string.h>

#define SHORT_SERIALS 99 /* rows of a crew's day that have a serial of three digits */
#define NO_CREW "ZZ"     /* the letters of work without a crew: those of a 702nd crew */

/* Could the crew hang it on a later day and still be safe?  Minutes are not asked. */
static bool has_later_day(const struct list_maker *maker, const struct planned_bag *bag)
{
    const struct planned_task *task = &bag->tasks[TASK_BAG];

    for (daynum day = task->day + 1; day <= bag->latest[TASK_BAG]; day++) {
        const struct crew_day crew = crew_day_of(maker->orchard, task->crew, day);
        enum work work = job_work(maker->orchard, JOB_BAG);

        if (day < bag->option.visit[0] && crew_half_minutes(&crew, bag->group->site, work) > 0)
            return true;
    }
    return false;
}

static enum remark remark_of(const struct list_maker *maker, const struct work_row *row)
{
    const struct bag *hangs = row->bag->group->hangs;

    if (hangs == NULL)
        return row->task == TASK_BAG && !has_later_day(maker, row->bag) ? REMARK_NO_LATER_DAY
                                                                        : REMARK_NONE;
    if (row->bag->option.visit[0] == DAY_NONE)
        return REMARK_NEVER_POLLINATED;
    return hangs->clean ? REMARK_NONE : REMARK_NOT_CLEAN;
}

/* A, B, ... Z, AA, AB, ... */
static const char *letters_of(const struct list_maker *maker, const char *crew)
{
    size_t number = 0;

    while (number < maker->crew_count && strcmp(maker->crews[number], crew) != 0)
        number++;
    if (number < 26)
        return arena_printf(maker->arena, "%c", (int)('A' + number));
    return arena_printf(maker->arena, "%c%c", (int)('A' + number / 26 - 1),
                        (int)('A' + number % 26));
}

static void word_instance(const struct list_maker *maker, struct work_row *row)
{
    const struct task_instance *instance = row->instance;
    const char *what = result_words[duty_result(instance->kind)];
    const char *because = instance->because;

    row->brief = because != NULL && *because != '\0'
                     ? arena_printf(maker->arena, "%s (%s)", what, because)
                     : what;
    row->decide = instance->kind->caution != NULL
                      ? arena_printf(maker->arena, "%s. %s", what, instance->kind->caution)
                      : what;
}

static void word_row(const struct list_maker *maker, struct work_row *row)
{
    if (row->bag == NULL) {
        word_instance(maker, row);
        return;
    }
    row->decide = decide_words[row->task];
    row->brief = decide_briefly[remark_of(maker, row)][row->task];
}

/*
 * Codes to type back: week, crew, and a serial that begins with the day of the week, so that a page
 * printed anew on Wednesday takes no code that was Monday's.
 */
static void number_rows(const struct list_maker *maker, struct work_row *rows, size_t count,
                        daynum day, const char *letters)
{
    int weekday = day_weekday(day), number = 0;
    char week[DAY_WEEK_TEXT];

    day_week_text(day, week);
    for (size_t i = 0; i < count; i++) {
        char check = '*';
        char *code = NULL;

        while (check == '*' || check == 'I' || check == 'O') {
            number++;
            code = arena_printf(maker->arena, "%s-%s-%d", week, letters,
                                weekday * (number <= SHORT_SERIALS ? 100 : 1000) + number);
            check = check_character(code);
        }
        rows[i].entry = arena_printf(maker->arena, "%s%c", code, check);
        word_row(maker, &rows[i]);
    }
}

void number_page(const struct list_maker *maker, struct work_page *page)
{
    number_rows(maker, page->rows, page->row_count, page->day, letters_of(maker, page->crew));
}

void number_office(const struct list_maker *maker, struct worklist *list, daynum day)
{
    number_rows(maker, list->office, list->office_count, day, NO_CREW);
}
