#include "planning/identity_parts.h"

#include "conetide/binomial.h"
#include "orchard/order.h"
#include "orchard/words.h"
#include "planning/fit.h"

#include <math.h>
#include <stdlib.h>

static void count_bags(struct identity_maker *maker)
{
    const struct orchard *orchard = maker->orchard;

    maker->bags = ARENA_ARRAY(maker->arena, orchard->grafts.count, size_t);
    for (size_t i = 0; i < maker->state->bag_count; i++)
        maker->bags[maker->state->bags[i].graft - orchard->grafts.list]++;
}

/* ---- labels ---- */

static const char *how(struct identity_maker *maker, const char *by)
{
    return by != NULL ? arena_printf(maker->arena, "checked by %s", by) : "checked";
}

static void add_label(struct identity_maker *maker, const struct graft_state *of)
{
    const struct graft *graft = of->graft;
    struct label_word word = label_word_of(maker->state, graft);
    struct identity_row *row;
    bool doubted = graft->identity == IDENTITY_WRONG || graft->identity == IDENTITY_DISPUTED;

    if (word.relabelled != NULL)
        return; /* stands among the changed ones */
    if (word.verified != NULL) {
        row = identity_add_graft(maker, CONCERN_CHECKED, of);
        row->since = word.verified->date;
        row->what = how(maker, word.verified->value);
    } else if (doubted) {
        row = identity_add_graft(maker, CONCERN_DOUBTED, of);
        row->since = graft->identity_on;
        row->what = graft->identity == IDENTITY_WRONG
                        ? "known to be wrong, what it is stands nowhere: note it relabelled"
                        : "disputed: have it tested and note it verified or relabelled";
    } else if (graft->identity == IDENTITY_CHECKED) {
        row = identity_add_graft(maker, CONCERN_CHECKED, of);
        row->since = graft->identity_on;
        row->what = how(maker, graft->identity_how);
    } else {
        row = identity_add_graft(maker, CONCERN_NEVER_CHECKED, of);
        row->since = graft->grafted_on;
        row->what = "never checked since it was grafted";
    }
}

/* A label counts as tested by a verification, a relabelling of its own, or the cell. */
static void count_label(struct identity_list *identity, const struct state *state,
                        const struct graft_state *of)
{
    const struct graft *graft = of->graft;
    struct label_word word = label_word_of(state, graft);
    const struct selection *found =
        word.relabelled != NULL ? orchard_selection(state->orchard, word.relabelled->value) : NULL;
    bool changed = word.relabelled != NULL && !selection_same(found, graft->selection);
    bool wrong = graft->identity == IDENTITY_WRONG && word.verified == NULL;

    identity->grafts++;
    if (word.verified == NULL && word.relabelled == NULL && !wrong &&
        graft->identity != IDENTITY_CHECKED)
        return;
    identity->checked++;
    identity->wrong += changed || (wrong && word.relabelled == NULL);
}

static void add_labels(struct identity_maker *maker)
{
    for (size_t i = 0; i < maker->orchard->grafts.count; i++) {
        const struct graft_state *of = &maker->state->grafts[i];

        if (condition_is_gone(of->condition))
            continue;
        count_label(maker->identity, maker->state, of);
        add_label(maker, of);
    }
}

/* What is cut or gathered on a tree carries its name on. */
static void add_trees(struct identity_maker *maker)
{
    const struct orchard *orchard = maker->orchard;
    bool *told = ARENA_ARRAY(maker->arena, orchard->trees.count, bool);

    for (size_t i = 0; i < orchard->notes.count; i++) {
        const struct note *note = &orchard->notes.list[i];
        const struct tree *tree = orchard_tree(orchard, note->tree);

        if (tree != NULL && note->tag == NULL && note->lot == NULL &&
            (note->kind == NOTE_VERIFIED || note->kind == NOTE_RELABELLED))
            told[tree - orchard->trees.list] = true;
    }
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        struct identity_row *row;

        if (told[i] || tree->label_checked_on != DAY_NONE || tree->label_checked_how != NULL ||
            tree->health == HEALTH_DEAD || !(tree->uses & (USE_SCIONS | USE_POLLEN)))
            continue;
        row = identity_add(maker, CONCERN_NEVER_CHECKED, IDENTITY_TREE, tree->name);
        row->selection_name = tree->selection_name;
        row->what = "its label was never checked, and scions or pollen come from it";
    }
}

/* ---- grafts that nobody saw ---- */

/* 2027-03-31 less 1 month is 2027-02-28. */
static daynum months_before(daynum day, int months)
{
    struct civil civil = day_to_civil(day);
    int month = civil.year * 12 + civil.month - 1 - months, length;

    if (month < 12)
        return DAY_FIRST;
    length = day_month_length(month / 12, month % 12 + 1);
    return day_from_civil(month / 12, month % 12 + 1, civil.day < length ? civil.day : length);
}

static daynum seen_last(const struct state *state, const struct graft *graft, const char **how_seen)
{
    size_t count;
    const struct graft_note *notes = state_notes_of(state, graft, &count);
    daynum last = graft->grafted_on;

    *how_seen = "grafted";
    if (graft->condition_on > last) {
        last = graft->condition_on;
        *how_seen = "its condition";
    }
    if (graft->identity_on > last) {
        last = graft->identity_on;
        *how_seen = "its identity";
    }
    if (count > 0 && notes[count - 1].note->date >= last) {
        last = notes[count - 1].note->date;
        *how_seen = note_names[notes[count - 1].note->kind];
    }
    return last;
}

static void add_not_seen(struct identity_maker *maker)
{
    daynum before = months_before(maker->orchard->as_of, maker->identity->months);

    for (size_t i = 0; i < maker->orchard->grafts.count; i++) {
        const struct graft_state *of = &maker->state->grafts[i];
        const char *how_seen;
        daynum last = seen_last(maker->state, of->graft, &how_seen);
        struct identity_row *row;

        if (condition_is_gone(of->condition) || last == DAY_NONE || last >= before)
            continue;
        row = identity_add_graft(maker, CONCERN_NOT_SEEN, of);
        row->since = last;
        row->what = arena_printf(maker->arena, "the last word on it: %s", how_seen);
    }
}

/* ---- grafts that run apart ---- */

static void add_apart(struct identity_maker *maker)
{
    struct sights sights = sights_of_notes(maker->state, maker->arena);
    struct fits fits = fits_of(&sights, maker->orchard, NULL, maker->arena);

    for (size_t i = 0; i < fits.count; i++) {
        for (size_t l = 0; l < fits.list[i].label_count; l++) {
            const struct fit_label *label = &fits.list[i].labels[l];
            const struct graft *graft = orchard_graft(maker->orchard, label->subject);
            struct identity_row *row =
                graft != NULL
                    ? identity_add_graft(maker, CONCERN_APART, state_graft(maker->state, graft))
                    : identity_add(maker, CONCERN_APART, IDENTITY_TREE, label->subject);

            row->selection_name = label->selection->name;
            row->what = arena_printf(
                maker->arena, "%s comes %.0f days %s than on the others, by %zu dates against %zu",
                event_names[fits.list[i].event], fabs(label->days),
                label->days > 0 ? "later" : "earlier", label->sights, label->others);
        }
    }
}

static int order_row(const void *left, const void *right)
{
    const struct identity_row *a = left, *b = right;
    int order = order_whole((int64_t)a->concern, (int64_t)b->concern);

    if (order == 0)
        order = order_whole((int64_t)a->kind, (int64_t)b->kind);
    if (order == 0)
        order = order_whole((int64_t)b->bags, (int64_t)a->bags);
    if (order == 0)
        order = order_text(a->subject, b->subject);
    if (order == 0)
        order = order_whole(a->since, b->since);
    return order != 0 ? order : order_text(a->what, b->what);
}

struct identity_list identity_of(const struct state *state, int months, struct arena *arena)
{
    struct identity_list identity = {.months = months};
    struct identity_maker maker = {state, state->orchard, arena, &identity, NULL};

    count_bags(&maker);
    add_labels(&maker);
    add_trees(&maker);
    add_not_seen(&maker);
    add_apart(&maker);
    identity_add_counts(&maker);
    identity_add_names(&maker);
    if (identity.count > 1)
        qsort(identity.list, identity.count, sizeof *identity.list, order_row);
    return identity;
}

int64_t mislabelled_tests(double share, double chance)
{
    int64_t tests;

    return conetide_tries_needed(1, share, chance, &tests) == CONETIDE_OK ? tests : -1;
}

double labels_all_right(double share, int labels)
{
    return pow(1 - share, labels);
}
