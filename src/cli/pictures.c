/* pictures.c - from a session's plan to each picture. */
#include "cli/pictures.h"

#include "cli/work_asked.h"
#include "planning/heat_fan.h"
#include "planning/selection_windows.h"
#include "planning/worklist.h"
#include "writing/charts.h"

/* The rows of the site asked for, and the season to show. */
static int rows_of(const struct session *session, const struct picture_asked *asked,
                   const struct flowering_rows *all, struct flowering_rows *rows)
{
    int season = 0;

    rows->list = ARENA_ARRAY(session->arena, all->count, struct flowering_row);
    rows->count = 0;
    for (size_t i = 0; i < all->count; i++) {
        const struct flowering_row *row = &all->list[i];

        if (asked->site && row->site != asked->site)
            continue;
        rows->list[rows->count++] = *row;
        if (season == 0 || row->season < season)
            season = row->season;
    }
    if (asked->season != 0)
        return asked->season;
    return season != 0 ? season : day_year(session->as_of);
}

void draw_windows(struct session *session, const struct planned *planned,
                  const struct picture_asked *asked, struct text *out)
{
    struct flowering_rows rows;
    int season = rows_of(session, asked, &planned->inputs.flowering, &rows);
    struct selection_windows windows =
        selection_windows_of(&rows, &planned->plan, season, session->arena);

    chart_write_windows(&windows, &planned->opened.run, out);
}

void draw_minutes(struct session *session, const struct planned *planned,
                  const struct picture_asked *asked, struct text *out)
{
    daynum first = asked->from != DAY_NONE ? asked->from : session->as_of, last = asked->to;
    struct visits visits = crossing_visits(&planned->plan, session->arena);
    struct work_asked work;
    struct worklist list;

    if (last == DAY_NONE) {
        last = first + 6;
        for (size_t i = 0; i < visits.count; i++) {
            const struct planned_task *task = &visits.list[i].bag->tasks[visits.list[i].task];

            if (task->crew && task->day > last)
                last = task->day;
        }
    }
    work = session_work(session, planned, first, last);
    list = worklist_of(&planned->plan, &planned->inputs, &work);
    chart_write_minutes(&list, &planned->opened.run, out);
}

void draw_heat(struct session *session, const struct opened *opened,
               const struct flowering_rows *flowering, const struct picture_asked *asked,
               struct text *out)
{
    struct flowering_rows rows;
    int season = rows_of(session, asked, flowering, &rows);
    struct heat_fans fans =
        heat_fans_of(&rows, opened->dates, &session->orchard, asked->event, season, session->arena);

    chart_write_heat(&fans, &opened->run, out);
}

void draw_map(const struct opened *opened, const struct picture_asked *asked, struct text *out)
{
    chart_write_map(opened->state, asked->site, &opened->run, out);
}
