#include "planning/sights.h"

#include "orchard/order.h"
#include "orchard/words.h"

#include <stdlib.h>
#include <string.h>

/* Who is looked at. */
struct subject {
    const struct site *site;
    const char *species;
    const struct selection *selection;
    const char *name;
    bool is_tree;
};

/* One look: stages 1 to 6, or of catkins 1 not yet, 2 shedding, 3 over. */
struct look {
    struct subject subject;
    bool male;
    int season;
    daynum date;
    int low, high;
};

struct looking {
    const struct state *state;
    struct arena *arena;
    struct look *list;
    size_t count, capacity;
    struct sights *sights;
};

static const struct selection *one_name(const struct selection *selection)
{
    return selection && selection->self ? selection->self : selection;
}

static bool is_look(const struct note *note)
{
    return note->kind == NOTE_STAGE || note->kind == NOTE_MALE_STAGE;
}

static bool read_look(const struct note *note, struct look *look)
{
    static const char *const words[] = {"not yet", "shedding", "over"};

    look->male = note->kind == NOTE_MALE_STAGE;
    look->date = note->date;
    if (!look->male)
        return stage_read(note->value, &look->low, &look->high);
    for (size_t i = 0; note->value && i < sizeof words / sizeof *words; i++) {
        if (strcmp(note->value, words[i]) == 0) {
            look->low = look->high = (int)i + 1;
            return true;
        }
    }
    return false;
}

static void add_look(struct looking *looking, const struct subject *subject,
                     const struct note *note)
{
    struct look look = {.subject = *subject};

    if (!read_look(note, &look))
        return;
    look.season =
        day_season(orchard_season_rule(looking->state->orchard, subject->site), note->date);
    *ARENA_PUSH(looking->arena, looking->list, looking->count, looking->capacity) = look;
}

static void look_at_grafts(struct looking *looking)
{
    const struct state *state = looking->state;
    const struct graft *unknown = NULL;

    for (size_t i = 0; i < state->graft_note_count; i++) {
        const struct graft *graft = state->graft_notes[i].graft;
        const struct note *note = state->graft_notes[i].note;
        const struct selection *selection = state_graft(state, graft)->selection;
        struct subject subject = {.name = graft->tag};

        if (!is_look(note) || !graft->tree || !graft->tree->site)
            continue;
        if (!selection) {
            looking->sights->unknown += graft != unknown;
            unknown = graft;
            continue;
        }
        subject.site = graft->tree->site;
        subject.selection = one_name(selection);
        subject.species = subject.selection->species;
        add_look(looking, &subject, note);
    }
}

/* A tree is of its selection, or what it was relabelled to; of none, it stands for the site. */
static bool identify_tree(const struct looking *looking, const struct tree *tree,
                          struct subject *subject)
{
    const struct orchard *orchard = looking->state->orchard;
    const struct note *relabelled = looking->state->relabelled_trees[tree - orchard->trees.list];

    *subject = (struct subject){.site = tree->site, .name = tree->name, .is_tree = true};
    subject->selection =
        one_name(relabelled ? orchard_selection(orchard, relabelled->value) : tree->selection);
    subject->species = subject->selection && subject->selection->species
                           ? subject->selection->species
                           : tree->species;
    return tree->site && !(relabelled && !subject->selection);
}

static void look_at_trees(struct looking *looking)
{
    const struct orchard *orchard = looking->state->orchard;
    bool *is_counted = ARENA_ARRAY(looking->arena, orchard->trees.count, bool);

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        const struct tree *tree =
            is_look(note) && !note->tag && !note->bag ? orchard_tree(orchard, note->tree) : NULL;
        struct subject subject;

        if (!tree)
            continue;
        if (identify_tree(looking, tree, &subject)) {
            add_look(looking, &subject, note);
        } else if (!is_counted[tree - orchard->trees.list]) {
            is_counted[tree - orchard->trees.list] = true;
            looking->sights->unknown += tree->site != NULL;
        }
    }
}

static int order_subject(const struct look *a, const struct look *b)
{
    int order = order_text(a->subject.name, b->subject.name);

    if (order == 0)
        order = (int)a->subject.is_tree - (int)b->subject.is_tree;
    if (order == 0)
        order = (int)a->male - (int)b->male;
    return order != 0 ? order : order_whole(a->season, b->season);
}

static int order_look(const void *left, const void *right)
{
    const struct look *a = left, *b = right;
    int order = order_subject(a, b);

    if (order == 0)
        order = order_whole(a->date, b->date);
    if (order == 0)
        order = a->low - b->low;
    return order != 0 ? order : a->high - b->high;
}

/* Looks of one day at one subject as one; sorted before. */
static size_t merge_days(size_t count, struct look *list)
{
    size_t kept = 0;

    for (size_t i = 0; i < count; i++) {
        struct look *last = kept > 0 ? &list[kept - 1] : NULL;

        if (last && order_subject(last, &list[i]) == 0 && last->date == list[i].date) {
            last->low = list[i].low < last->low ? list[i].low : last->low;
            last->high = list[i].high > last->high ? list[i].high : last->high;
        } else {
            list[kept++] = list[i];
        }
    }
    return kept;
}

bool sight_has_come(enum event event, int low, int high)
{
    switch (event) {
    case EVENT_OPENING:
        return high >= 3;
    case EVENT_FIRST:
        return high >= 4;
    case EVENT_PEAK:
        return high >= 5 && 2 * (high - 4) >= high - low + 1;
    case EVENT_LAST:
        return low >= 6;
    default:
        return false;
    }
}

static bool has_come(enum event event, const struct look *look)
{
    if (event == EVENT_SHED_FIRST)
        return look->high >= 2;
    if (event == EVENT_SHED_LAST)
        return look->low >= 3;
    return sight_has_come(event, look->low, look->high);
}

static void add_sight(struct looking *looking, enum event event, size_t count,
                      const struct look *looks)
{
    const struct subject *subject = &looks->subject;
    struct sight sight = {.site = subject->site,
                          .species = subject->species,
                          .event = event,
                          .selection = subject->selection,
                          .subject = subject->name,
                          .season = looks->season,
                          .after = DAY_NONE,
                          .by = DAY_NONE};

    for (size_t i = 0; i < count && sight.by == DAY_NONE; i++) {
        if (has_come(event, &looks[i]))
            sight.by = looks[i].date;
        else
            sight.after = looks[i].date;
    }
    *ARENA_PUSH(looking->arena, looking->sights->list, looking->sights->count,
                looking->sights->capacity) = sight;
}

static void add_sights(struct looking *looking)
{
    static const enum event female[] = {EVENT_OPENING, EVENT_FIRST, EVENT_PEAK, EVENT_LAST};
    static const enum event male[] = {EVENT_SHED_FIRST, EVENT_SHED_LAST};

    for (size_t i = 0, end; i < looking->count; i = end) {
        const struct look *looks = &looking->list[i];
        const enum event *events = looks->male ? male : female;
        size_t count = looks->male ? sizeof male / sizeof *male : sizeof female / sizeof *female;

        for (end = i + 1; end < looking->count && order_subject(looks, &looking->list[end]) == 0;)
            end++;
        for (size_t e = 0; e < count; e++)
            add_sight(looking, events[e], end - i, looks);
    }
}

static int order_selection(const struct selection *a, const struct selection *b)
{
    return order_text(a ? a->name : NULL, b ? b->name : NULL);
}

static int order_sight(const void *left, const void *right)
{
    const struct sight *a = left, *b = right;
    int order = order_text(a->site->name, b->site->name);

    if (order == 0)
        order = order_text(a->species, b->species);
    if (order == 0)
        order = (int)a->event - (int)b->event;
    if (order == 0)
        order = order_whole(a->season, b->season);
    if (order == 0)
        order = order_selection(a->selection, b->selection);
    if (order == 0)
        order = order_text(a->subject, b->subject);
    if (order == 0)
        order = order_whole(a->by, b->by);
    return order != 0 ? order : order_whole(a->after, b->after);
}

static void sort_sights(struct sights *sights)
{
    if (sights->count > 1)
        qsort(sights->list, sights->count, sizeof *sights->list, order_sight);
}

struct sights sights_of_notes(const struct state *state, struct arena *arena)
{
    struct sights sights = {NULL, 0, 0, 0};
    struct looking looking = {.state = state, .arena = arena, .sights = &sights};

    look_at_grafts(&looking);
    look_at_trees(&looking);
    if (looking.count > 1)
        qsort(looking.list, looking.count, sizeof *looking.list, order_look);
    looking.count = merge_days(looking.count, looking.list);
    add_sights(&looking);
    sort_sights(&sights);
    return sights;
}

struct sights sights_of_dates(const struct dated_events *events, const struct orchard *orchard,
                              struct arena *arena)
{
    struct sights sights = {NULL, 0, 0, 0};

    for (size_t i = 0; i < events->count; i++) {
        const struct dated_event *event = &events->list[i];
        const struct selection *selection = one_name(event->selection);
        daynum day = event->date != DAY_NONE ? event->date : event->not_before;

        *ARENA_PUSH(arena, sights.list, sights.count, sights.capacity) =
            (struct sight){.site = event->site,
                           .species = selection ? selection->species : NULL,
                           .event = event->event,
                           .selection = selection,
                           .subject = event->tag,
                           .season = day_season(orchard_season_rule(orchard, event->site), day),
                           .after = event->not_before,
                           .by = event->date};
    }
    sort_sights(&sights);
    return sights;
}
