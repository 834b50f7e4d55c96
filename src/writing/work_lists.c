#include "writing/work_lists.h"

#include "writing/words.h"

#include <math.h>
#include <string.h>

enum { NAMES_MOST = 6, MOVED_NAMES_MOST = 20, LINES_MOST = 40 }; /* then "and n more": own choice */

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
    if (section->count || section->bare)
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

static void add_degrees(struct text *out, double celsius, const struct page_run *run)
{
    text_addf(out, run->units_us ? "%.1f F" : "%.1f C",
              run->units_us ? celsius * 1.8 + 32 : celsius);
}

static void add_days(struct text *out, daynum first, daynum last)
{
    if (last != first) {
        text_addf(out, "%s ", day_weekday_name(day_weekday(first)));
        words_add_day_short(out, first);
        text_add(out, " to ");
    }
    words_add_day(out, last);
}

static struct work_section new_section(const char *title, size_t most, const struct page_run *run)
{
    return (struct work_section){.title = title,
                                 .lines = ARENA_ARRAY(run->arena, most, const char *)};
}

static const char *shut_line(const struct shut_place *shut, const struct page_run *run)
{
    struct text line;
    text_init(&line, run->arena);
    if (shut->site)
        text_add_printable(&line, shut->site);
    if (shut->block) {
        text_add(&line, shut->site ? ", block " : "block ");
        text_add_printable(&line, shut->block);
    }
    text_add(&line, ": no hand work through ");
    words_add_day(&line, shut->until);
    text_add(&line, "; sprayed ");
    words_add_day(&line, shut->sprayed_on);
    if (isfinite(shut->hours)) {
        text_add(&line, ", re-entry ");
        words_add_amount(&line, shut->hours);
        text_add(&line, " h");
    }
    text_add(&line, "; the label decides");
    return line.bytes;
}

static struct work_section shut_section(const struct watch *watch, const struct page_run *run)
{
    struct work_section section = new_section("Shut by sprays:", watch->shut_count, run);
    for (size_t i = 0; i < watch->shut_count; i++)
        section.lines[section.count++] = shut_line(&watch->shut[i], run);
    return section;
}

static void add_met(struct text *out, size_t count, const char *one, const char *many)
{
    if (count == 0)
        return;
    text_add(out, "; ");
    words_add_count(out, count, one, many);
}

static const char *spell_line(const struct cold_spell *spell, const struct page_run *run)
{
    struct text line;
    text_init(&line, run->arena);
    text_add_printable(&line, spell->site->name);
    text_add(&line, spell->first == spell->last ? ", night to " : ", nights to ");
    add_days(&line, spell->first, spell->last);
    text_add(&line, ": down to ");
    add_degrees(&line, spell->lowest_c, run);
    add_met(&line, spell->hang_closed, "bag hangs before opening", "bags hang before opening");
    add_met(&line, spell->hang_open, "bag hangs with open strobili",
            "bags hang with open strobili");
    add_met(&line, spell->new_grafts, "new graft", "new grafts");
    return line.bytes;
}

/* The choice, with what each side costs; whoever reads it decides. */
static const char *choice_line(const struct cold_spell *spell, const struct page_run *run)
{
    struct text line;
    text_init(&line, run->arena);
    text_add(&line, "choose for ");
    words_add_count(&line, spell->to_hang_count, "bag", "bags");
    for (size_t i = 0; i < spell->to_hang_count && i < NAMES_MOST; i++) {
        text_add(&line, i == 0 ? " (" : ", ");
        text_add_printable(&line, spell->to_hang[i]);
    }
    if (spell->to_hang_count > NAMES_MOST)
        text_addf(&line, " and %zu more", spell->to_hang_count - NAMES_MOST);
    text_add(&line, "): hang as planned, each with at least ");
    words_add_chance(&line, spell->clean_planned);
    text_add(&line, " chance of a clean bag, and the cold finds them bagged; or wait until ");
    words_add_day(&line, spell->last);
    text_add(&line, ", and that chance falls to ");
    words_add_chance(&line, spell->clean_waiting);
    text_add(&line, "; the plan has not moved them");
    return line.bytes;
}

static struct work_section cold_section(const struct watch *watch, const struct page_run *run)
{
    struct text title;
    text_init(&title, run->arena);
    text_add(&title, "Cold nights foretold, at or below ");
    add_degrees(&title, run->orchard->program.freeze_c, run);
    text_add(&title, ":");
    struct work_section section = new_section(title.bytes, 2 * watch->spell_count, run);
    for (size_t i = 0; i < watch->spell_count; i++) {
        section.lines[section.count++] = spell_line(&watch->spells[i], run);
        if (watch->spells[i].to_hang_count)
            section.lines[section.count++] = choice_line(&watch->spells[i], run);
    }
    return section;
}

static void add_extreme(struct text *out, double celsius, const struct page_run *run)
{
    if (isfinite(celsius))
        text_addf(out, "%.0f", run->units_us ? celsius * 1.8 + 32 : celsius);
    else
        text_add(out, "?");
}

static const char *outlook_line(const struct outlook *outlook, const struct page_run *run)
{
    struct text line;
    text_init(&line, run->arena);
    text_add_printable(&line, outlook->site->name);
    text_add(&line, ":");
    for (size_t i = 0; i < outlook->count; i++) {
        text_addf(&line, "%s %s ", i ? "," : "",
                  day_weekday_name(day_weekday(outlook->first_day + (daynum)i)));
        add_extreme(&line, outlook->tmin_c[i], run);
        text_add(&line, " to ");
        add_extreme(&line, outlook->tmax_c[i], run);
    }
    return line.bytes;
}

static struct work_section outlook_section(const struct watch *watch, const struct page_run *run)
{
    struct work_section section =
        new_section(run->units_us ? "Foretold for these days, lowest to highest in F:"
                                  : "Foretold for these days, lowest to highest in C:",
                    watch->outlook_count, run);
    for (size_t i = 0; i < watch->outlook_count; i++)
        section.lines[section.count++] = outlook_line(&watch->outlooks[i], run);
    return section;
}

static bool move_alike(const struct page_move *a, const struct page_move *b)
{
    return a->from == b->from && a->to == b->to && strcmp(a->task, b->task) == 0;
}

/* `count` moves of one kind from one day to one other. */
static const char *move_line(const struct page_move *move, size_t count, const struct page_run *run)
{
    struct text line;
    text_init(&line, run->arena);
    text_add_printable(&line, move->task);
    text_add(&line, move->from == DAY_NONE ? ", new on " : ", ");
    if (move->from != DAY_NONE) {
        text_addf(&line, "%s ", day_weekday_name(day_weekday(move->from)));
        words_add_day_short(&line, move->from);
        text_add(&line, move->to == DAY_NONE ? ", not on this list" : ", now ");
    }
    if (move->to != DAY_NONE)
        words_add_day(&line, move->to);
    for (size_t i = 0; i < count && i < MOVED_NAMES_MOST && move[i].name; i++) {
        text_add(&line, i == 0 ? ": " : ", ");
        text_add_printable(&line, move[i].name);
    }
    if (count > MOVED_NAMES_MOST)
        text_addf(&line, " and %zu more", count - MOVED_NAMES_MOST);
    return line.bytes;
}

/* "Replaces the page as of Tue 2 Mar 2027; 3 rows moved since:". */
static struct work_section moves_section(const struct page_moves *moves, const struct page_run *run)
{
    struct text title;
    text_init(&title, run->arena);
    text_add(&title, "Replaces the page printed as of ");
    if (moves->printed != DAY_NONE)
        words_add_day(&title, moves->printed);
    else
        text_add(&title, "a day that it does not tell");
    text_add(&title, "; ");
    words_add_count(&title, moves->count, "row moved", "rows moved");
    text_add(&title, " since");
    struct work_section section = new_section(title.bytes, LINES_MOST + 1, run);
    section.bare = moves->given;
    for (size_t first = 0, end; first < moves->count; first = end) {
        for (end = first + 1;
             end < moves->count && move_alike(&moves->list[first], &moves->list[end]);)
            end++;
        if (section.count == LINES_MOST) {
            section.lines[section.count++] =
                arena_printf(run->arena, "and %zu more rows", moves->count - first);
            break;
        }
        section.lines[section.count++] = move_line(&moves->list[first], end - first, run);
    }
    return section;
}

struct work_sections work_sections_of(const struct worklist *list, const struct page_run *run)
{
    struct work_sections sections = {.count = 0};
    const struct work_section all[] = {
        moves_section(&list->moves, run),
        shut_section(&list->watch, run),
        cold_section(&list->watch, run),
        outlook_section(&list->watch, run),
        section_of("Pushed out, and why:", &list->pushed, run, add_pushed),
        section_of("Overdue:", &list->overdue, run, add_overdue),
        section_of(arena_printf(run->arena, "Coming up in the %d days after:", COMING_UP_DAYS),
                   &list->coming, run, add_coming),
    };
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        add_section(&sections, &all[i]);
    return sections;
}
