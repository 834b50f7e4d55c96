/* work_calendar.c - visits gathered by crew, day and site; numbers that go up with each change. */
#include "planning/work_calendar.h"

#include "base/text.h"
#include "orchard/order.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* What one crew does at one site on one day. */
struct stay {
    daynum day;
    const char *crew, *lift;
    const struct site *site;
    bool half[2];
    size_t bags[BAG_TASKS];
};

static int compare_stays(const void *left, const void *right)
{
    const struct stay *a = left, *b = right;
    int order = order_whole(a->day, b->day);

    if (order == 0)
        order = order_text(a->crew, b->crew);
    return order != 0 ? order : order_text(a->site->name, b->site->name);
}

static size_t stays_of(const struct crossing_plan *plan, struct arena *arena, struct stay **stays)
{
    struct visits visits = crossing_visits(plan, arena);
    size_t count = 0, kept = 0;

    *stays = ARENA_ARRAY(arena, visits.count, struct stay);
    for (size_t i = 0; i < visits.count; i++) {
        const struct visit *visit = &visits.list[i];
        const struct planned_task *task = &visit->bag->tasks[visit->task];
        struct stay stay = {task->day, task->crew, task->lift, visit->bag->group->site, {0}, {0}};

        if (task->crew == NULL || visit->bag->done[visit->task])
            continue;
        stay.half[task->half_day] = true;
        stay.bags[visit->task] = 1;
        (*stays)[count++] = stay;
    }
    qsort(*stays, count, sizeof **stays, compare_stays);
    for (size_t i = 0; i < count; i++) {
        struct stay *one = &(*stays)[i], *into;

        if (kept == 0 || compare_stays(&(*stays)[kept - 1], one) != 0) {
            (*stays)[kept++] = *one;
            continue;
        }
        into = &(*stays)[kept - 1];
        for (int half = 0; half < 2; half++)
            into->half[half] = into->half[half] || one->half[half];
        for (int task = 0; task < BAG_TASKS; task++)
            into->bags[task] += one->bags[task];
    }
    return kept;
}

/* FNV-1a, 64 bits (Fowler, Noll & Vo; from memory), over the text and a byte that no name has. */
static uint64_t mixed(uint64_t hash, const char *text)
{
    for (; text != NULL && *text; text++)
        hash = (hash ^ (unsigned char)*text) * UINT64_C(1099511628211);
    return (hash ^ 0xFF) * UINT64_C(1099511628211);
}

static const char *uid_of(const struct stay *stay, const struct orchard *orchard,
                          struct arena *arena)
{
    uint64_t hash = UINT64_C(14695981039346656037);
    struct civil civil = day_to_civil(stay->day);

    hash = mixed(hash, orchard->program.name);
    hash = mixed(hash, stay->crew);
    hash = mixed(hash, stay->site->name);
    return arena_printf(arena, "%04d%02d%02d-%016llx@conetide.invalid", civil.year, civil.month,
                        civil.day, (unsigned long long)hash);
}

static size_t bags_of(const struct stay *stay)
{
    size_t bags = 0;

    for (int task = 0; task < BAG_TASKS; task++)
        bags += stay->bags[task];
    return bags;
}

static struct calendar_entry entry_of(const struct stay *stay, const struct orchard *orchard,
                                      struct arena *arena)
{
    struct text summary, description;

    text_init(&summary, arena);
    text_init(&description, arena);
    text_addf(&summary, "%s at %s:", stay->crew, stay->site->name);
    for (int task = 0; task < BAG_TASKS; task++) {
        if (stay->bags[task] == 0)
            continue;
        text_addf(&summary, " %s %zu,", bag_task_words[task], stay->bags[task]);
        text_addf(&description, "%s: %zu\n", bag_task_words[task], stay->bags[task]);
    }
    summary.bytes[summary.length - 1] = '\0'; /* the last comma */
    text_addf(&description, "%zu bags, %s", bags_of(stay),
              stay->half[0] && stay->half[1] ? "all day"
              : stay->half[0]                ? "in the morning"
                                             : "in the afternoon");
    if (stay->lift != NULL)
        text_addf(&description, ", lift %s", stay->lift);
    text_add(&description, "\nThe worklist tells which; dates move with the weather.");
    return (struct calendar_entry){.uid = uid_of(stay, orchard, arena),
                                   .day = stay->day,
                                   .stamped = orchard->as_of,
                                   .summary = summary.bytes,
                                   .location = stay->site->name,
                                   .description = description.bytes};
}

static int compare_entries(const void *left, const void *right)
{
    const struct calendar_entry *a = left, *b = right;
    int order = order_whole(a->day, b->day);

    return order != 0 ? order : order_text(a->uid, b->uid);
}

static bool says_the_same(const struct calendar_entry *a, const struct calendar_entry *b)
{
    return a->cancelled == b->cancelled && order_text(a->summary, b->summary) == 0 &&
           order_text(a->location, b->location) == 0 &&
           order_text(a->description, b->description) == 0;
}

static const struct calendar_entry *find(const struct calendar *calendar,
                                         const struct calendar_entry *entry)
{
    if (calendar == NULL || calendar->count == 0)
        return NULL;
    return bsearch(entry, calendar->list, calendar->count, sizeof *entry, compare_entries);
}

/* Entries of `earlier` that the new ones lack: past ones as they were, others cancelled. */
static void keep_earlier(struct calendar *calendar, const struct calendar *earlier, size_t planned,
                         daynum as_of)
{
    const struct calendar now = {calendar->list, planned, planned};

    for (size_t i = 0; i < earlier->count; i++) {
        struct calendar_entry entry = earlier->list[i];

        if (entry.day < as_of - CALENDAR_KEPT_DAYS || find(&now, &entry) != NULL)
            continue;
        if (entry.day >= as_of && !entry.cancelled) {
            entry.cancelled = true;
            entry.sequence++;
            entry.stamped = as_of;
        }
        calendar->list[calendar->count++] = entry;
    }
}

struct calendar work_calendar_of(const struct crossing_plan *plan, const struct orchard *orchard,
                                 const struct calendar *earlier, struct arena *arena)
{
    struct stay *stays;
    size_t planned = stays_of(plan, arena, &stays);
    size_t more = earlier != NULL ? earlier->count : 0;
    struct calendar calendar = {ARENA_ARRAY(arena, planned + more, struct calendar_entry), 0,
                                planned + more};

    for (size_t i = 0; i < planned; i++) {
        struct calendar_entry entry = entry_of(&stays[i], orchard, arena);
        const struct calendar_entry *before = find(earlier, &entry);

        if (before != NULL) {
            bool same = says_the_same(before, &entry);

            entry.sequence = before->sequence + (same ? 0 : 1);
            entry.stamped = same ? before->stamped : entry.stamped;
        }
        calendar.list[calendar.count++] = entry;
    }
    qsort(calendar.list, calendar.count, sizeof *calendar.list, compare_entries);
    if (earlier != NULL)
        keep_earlier(&calendar, earlier, planned, orchard->as_of);
    qsort(calendar.list, calendar.count, sizeof *calendar.list, compare_entries);
    return calendar;
}
