#include "writing/work_lists.h"

#include "writing/words.h"

enum { NAMES_MOST = 6, LINES_MOST = 40 }; /* then "and n more": own choice */

static const char *const obstacle_words[] = {
    [OBSTACLE_NOBODY] = "nobody works at the site in these days",
    [OBSTACLE_WORK] = "nobody there does such work, or the lift is down or elsewhere",
    [OBSTACLE_REACH] = "no lift there reaches",
    [OBSTACLE_SPRAYED] = "sprayed",
    [OBSTACLE_HOURS] = "nobody works in its hours",
    [OBSTACLE_MINUTES] = "no crew minutes left",
    [OBSTACLE_NONE] = "",
};

/* "survival check, Larkmoor, cycle 2026: 14 (T001G, T004A, ...)". */
static void add_head(struct text *out, const struct work_group *group)
{
    text_add_printable(out, group->task);
    if (group->site) {
        text_add(out, ", ");
        text_add_printable(out, group->site->name);
    }
    if (group->cycle)
        text_addf(out, ", cycle %d", group->cycle);
    text_addf(out, ": %zu", group->count);
    for (size_t i = 0; i < group->count && i < NAMES_MOST && *group->names[i]; i++) {
        text_add(out, i == 0 ? " (" : ", ");
        text_add_printable(out, group->names[i]);
    }
    if (*group->names[0]) {
        if (group->count > NAMES_MOST)
            text_addf(out, " and %zu more", group->count - NAMES_MOST);
        text_add(out, ")");
    }
}

static void add_marks(struct text *out, const struct work_group *group)
{
    if (group->order_by != DAY_NONE) {
        text_add(out, ", order by ");
        words_add_day(out, group->order_by);
    }
    if (group->expected)
        text_add(out, ", expected: what comes before is not done");
    if (group->rough)
        text_add(out, ", rough dates");
}

static void add_tries(struct text *out, const struct work_group *group)
{
    if (group->not_done == 0)
        return;
    text_add(out, ", not done ");
    words_add_count(out, (size_t)group->not_done, "time", "times");
    if (group->reason) {
        text_add(out, ": ");
        text_add_printable(out, group->reason);
    }
}

static void add_pushed(struct text *out, const struct work_group *group, daynum as_of)
{
    (void)as_of;
    text_addf(out, "; %s", obstacle_words[group->obstacle]);
    if (group->obstacle == OBSTACLE_SPRAYED) {
        text_add(out, ", shut through ");
        words_add_day(out, group->shut_until);
    }
    text_add(out, "; last day ");
    words_add_day(out, group->last);
    add_tries(out, group);
}

static void add_coming(struct text *out, const struct work_group *group, daynum as_of)
{
    text_add(out, "; from ");
    words_add_day(out, group->first);
    text_add(out, ", last day ");
    words_add_day_short(out, group->last);
    if (group->last >= as_of) {
        text_add(out, ", ");
        words_add_count(out, (size_t)(group->last - as_of), "day", "days");
        text_add(out, " to spare");
    }
    add_marks(out, group);
}

static void add_overdue(struct text *out, const struct work_group *group, daynum as_of)
{
    text_add(out, "; last day ");
    words_add_day(out, group->last);
    text_add(out, ", ");
    words_add_count(out, (size_t)(as_of - group->last), "day", "days");
    text_add(out, " late");
    add_tries(out, group);
}

typedef void (*add_rest)(struct text *, const struct work_group *, daynum);

static const char *line_of(const struct work_group *group, const struct page_run *run,
                           add_rest rest)
{
    struct text line;
    text_init(&line, run->arena);
    add_head(&line, group);
    rest(&line, group, run->as_of);
    return line.bytes;
}

static void add_section(struct work_sections *sections, const struct work_section *section)
{
    if (section->count)
        sections->list[sections->count++] = *section;
}

static struct work_section section_of(const char *title, const struct work_groups *groups,
                                      const struct page_run *run, add_rest rest)
{
    struct work_section section = {.title = title,
                                   .lines = ARENA_ARRAY(run->arena, LINES_MOST + 1, const char *)};
    for (size_t i = 0; i < groups->count && i < LINES_MOST; i++)
        section.lines[section.count++] = line_of(&groups->list[i], run, rest);
    if (groups->count > LINES_MOST)
        section.lines[section.count++] =
            arena_printf(run->arena, "and %zu more kinds of work", groups->count - LINES_MOST);
    return section;
}

struct work_sections work_sections_of(const struct worklist *list, const struct page_run *run)
{
    struct work_sections sections = {.count = 0};
    struct work_section pushed = section_of("Pushed out, and why:", &list->pushed, run, add_pushed);
    struct work_section overdue = section_of("Overdue:", &list->overdue, run, add_overdue);
    struct work_section coming =
        section_of(arena_printf(run->arena, "Coming up in the %d days after:", COMING_UP_DAYS),
                   &list->coming, run, add_coming);
    add_section(&sections, &pushed);
    add_section(&sections, &overdue);
    add_section(&sections, &coming);
    return sections;
}
