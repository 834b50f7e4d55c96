#include "orchard/order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int order_text(const char *a, const char *b)
{
    if (!a || !b)
        return (a ? 1 : 0) - (b ? 1 : 0);
    return strcmp(a, b);
}

int order_number(double a, double b)
{
    if (isnan(a) || isnan(b))
        return (isnan(b) ? 1 : 0) - (isnan(a) ? 1 : 0);
    return (a > b) - (a < b);
}

int order_whole(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

int order_place(struct place a, struct place b)
{
    int order = order_text(a.file, b.file);
    order = order ? order : order_whole(a.line, b.line);
    return order ? order : order_whole(a.cell, b.cell);
}

static int order_decimal(struct decimal a, struct decimal b)
{
    int order = order_number(number_of_decimal(a), number_of_decimal(b));
    return order ? order : order_whole(a.scale, b.scale);
}

/* Lists with an identifier: by it, then by place.  Two of one identifier are told as a fault. */
#define ORDER_BY(type, member)                                                                     \
    static int order_##type(const void *left, const void *right)                                   \
    {                                                                                              \
        const struct type *a = left, *b = right;                                                   \
        int order = order_text(a->member, b->member);                                              \
        return order ? order : order_place(a->place, b->place);                                    \
    }
ORDER_BY(site, name)
ORDER_BY(station, name)
ORDER_BY(tree, name)
ORDER_BY(selection, name)
ORDER_BY(batch, name)
ORDER_BY(graft, tag)
ORDER_BY(cross, name)
ORDER_BY(lot, name)

static int order_record(const void *left, const void *right)
{
    const struct record *a = left, *b = right;
    int order = order_text(a->station, b->station);
    return order ? order : order_whole(a->first_day, b->first_day);
}

static int order_forecast(const void *left, const void *right)
{
    const struct forecast *a = left, *b = right;
    int order = order_text(a->station, b->station);
    order = order ? order : order_whole(b->issued_minute, a->issued_minute);
    return order ? order : order_place(a->place, b->place);
}

static int order_crew_time(const void *left, const void *right)
{
    const struct crew_time *a = left, *b = right;
    int order = order_text(a->crew, b->crew);
    order = order ? order : order_whole(a->from, b->from);
    order = order ? order : order_whole(a->to, b->to);
    order = order ? order : order_text(a->site_name, b->site_name);
    order = order ? order : order_whole(a->weekdays, b->weekdays);
    order = order ? order : order_text(a->lift_name, b->lift_name);
    order = order ? order : order_whole(a->work, b->work);
    order = order ? order : order_number(a->hours_per_day, b->hours_per_day);
    order = order ? order : order_text(a->notes, b->notes);
    return order ? order : order_place(a->place, b->place);
}

static int order_lift_time(const void *left, const void *right)
{
    const struct lift_time *a = left, *b = right;
    int order = order_text(a->lift, b->lift);
    order = order ? order : order_whole(a->from, b->from);
    order = order ? order : order_whole(a->to, b->to);
    order = order ? order : order_text(a->site_name, b->site_name);
    order = order ? order : order_number(a->hours_per_day, b->hours_per_day);
    order = order ? order : order_number(a->reach_m, b->reach_m);
    order = order ? order : order_text(a->notes, b->notes);
    return order ? order : order_place(a->place, b->place);
}

static int order_threshold_values(const struct threshold *a, const struct threshold *b)
{
    int order = order_whole(a->kind, b->kind);
    order = order ? order : order_text(a->clock_name, b->clock_name);
    order = order ? order : order_number(a->heat_units_c, b->heat_units_c);
    order = order ? order : order_number(a->per_day_c, b->per_day_c);
    order = order ? order : order_number(a->clock_units, b->clock_units);
    order = order ? order : order_whole(a->after, b->after);
    order = order ? order : order_whole(a->after_days, b->after_days);
    order = order ? order : order_whole(a->calendar_day.month, b->calendar_day.month);
    order = order ? order : order_whole(a->calendar_day.day, b->calendar_day.day);
    order = order ? order : order_number(a->residual_days, b->residual_days);
    order = order ? order : order_number(a->spread_days, b->spread_days);
    order = order ? order : order_number(a->clone_spread_days, b->clone_spread_days);
    order = order ? order : order_whole(a->seasons_seen, b->seasons_seen);
    return order ? order : order_text(a->source, b->source);
}

static int order_threshold(const void *left, const void *right)
{
    const struct threshold *a = left, *b = right;
    int order = order_whole(a->event, b->event);
    order = order ? order : order_text(a->species, b->species);
    order = order ? order : order_text(a->site_name, b->site_name);
    order = order ? order : order_text(a->selection_name, b->selection_name);
    order = order ? order : order_whole(a->basis, b->basis);
    order = order ? order : order_whole(a->shipped, b->shipped); /* the folder's own first */
    order = order ? order : order_threshold_values(a, b);
    return order ? order : order_place(a->place, b->place);
}

static int order_rate(const void *left, const void *right)
{
    const struct rate *a = left, *b = right;
    int order = order_text(a->rate, b->rate);
    order = order ? order : order_text(a->selection_name, b->selection_name);
    order = order ? order : order_text(a->clone, b->clone);
    order = order ? order : order_text(a->site_name, b->site_name);
    order = order ? order : order_text(a->host_species, b->host_species);
    order = order ? order : order_whole(a->season_number, b->season_number);
    order = order ? order : order_whole(a->shipped, b->shipped);
    order = order ? order : order_decimal(a->value, b->value);
    order = order ? order : order_number(a->low, b->low);
    order = order ? order : order_number(a->high, b->high);
    order = order ? order : order_whole(a->seen, b->seen);
    order = order ? order : order_text(a->source, b->source);
    return order ? order : order_place(a->place, b->place);
}

static int order_task_kind(const void *left, const void *right)
{
    const struct task_kind *a = left, *b = right;
    int order = order_text(a->task, b->task);
    order = order ? order : order_whole(a->shipped, b->shipped);
    return order ? order : order_place(a->place, b->place);
}

int order_note_content(const struct note *a, const struct note *b)
{
    int order = order_whole(a->date, b->date);
    order = order ? order : order_whole(a->kind, b->kind);
    order = order ? order : order_text(a->tag, b->tag);
    order = order ? order : order_text(a->bag, b->bag);
    order = order ? order : order_text(a->tree, b->tree);
    order = order ? order : order_text(a->crown, b->crown);
    order = order ? order : order_text(a->branch, b->branch);
    order = order ? order : order_text(a->lot, b->lot);
    order = order ? order : order_text(a->cross, b->cross);
    order = order ? order : order_text(a->batch, b->batch);
    order = order ? order : order_text(a->site, b->site);
    order = order ? order : order_text(a->block, b->block);
    order = order ? order : order_text(a->task, b->task);
    order = order ? order : order_text(a->selection, b->selection);
    order = order ? order : order_number(a->number, b->number);
    order = order ? order : order_text(a->value, b->value);
    order = order ? order : order_text(a->entry, b->entry);
    order = order ? order : order_text(a->by, b->by);
    return order ? order : order_text(a->remarks, b->remarks);
}

static int order_note(const void *left, const void *right)
{
    const struct note *a = left, *b = right;
    int order = order_note_content(a, b);
    return order ? order : order_place(a->place, b->place);
}

static void sort(void *list, size_t count, size_t size, int (*order)(const void *, const void *))
{
    if (count > 1)
        qsort(list, count, size, order);
}

#define SORT(rows, order) sort((rows).list, (rows).count, sizeof *(rows).list, order)

void order_grafts(struct orchard *orchard)
{
    SORT(orchard->grafts, order_graft);
}

void order_lists(struct orchard *orchard)
{
    SORT(orchard->sites, order_site);
    SORT(orchard->stations, order_station);
    SORT(orchard->records, order_record);
    SORT(orchard->forecasts, order_forecast);
    SORT(orchard->trees, order_tree);
    SORT(orchard->selections, order_selection);
    SORT(orchard->batches, order_batch);
    SORT(orchard->grafts, order_graft);
    SORT(orchard->crosses, order_cross);
    SORT(orchard->lots, order_lot);
    SORT(orchard->crews, order_crew_time);
    SORT(orchard->lifts, order_lift_time);
    SORT(orchard->thresholds, order_threshold);
    SORT(orchard->rates, order_rate);
    SORT(orchard->tasks, order_task_kind);
    SORT(orchard->notes, order_note);
}
