/*
 * Faults of thresholds.csv and rates.csv that only show between rows, or against other tables.
 */
#include "orchard/lookup.h"

#include "base/text.h"
#include "orchard/known.h"
#include "orchard/order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One name for a clone with several. */
static const char *clone_name(const struct orchard *orchard, const char *selection)
{
    const struct selection *found = orchard_selection(orchard, selection);
    return found && found->self ? found->self->name : selection;
}

/* What decides which subjects a row serves; two rows of one key tie. */
struct key {
    const char *texts[5];
    int64_t wholes[3];
    struct place place;
    const char *label; /* for people */
    size_t index;
};

static int order_key_cells(const struct key *a, const struct key *b)
{
    for (size_t i = 0; i < 3; i++)
        if (a->wholes[i] != b->wholes[i])
            return order_whole(a->wholes[i], b->wholes[i]);
    for (size_t i = 0; i < 5; i++) {
        int order = order_text(a->texts[i], b->texts[i]);
        if (order)
            return order;
    }
    return 0;
}

static int order_key(const void *left, const void *right)
{
    const struct key *a = left, *b = right;
    int order = order_key_cells(a, b);
    order = order ? order : order_place(a->place, b->place);
    return order ? order : order_whole((int64_t)a->index, (int64_t)b->index);
}

static void tell_ties(struct key *keys, size_t count, const char *code, struct diags *diags)
{
    if (count > 1)
        qsort(keys, count, sizeof *keys, order_key);
    for (size_t i = 1; i < count; i++) {
        if (order_key_cells(&keys[i - 1], &keys[i]) != 0)
            continue;
        diag_error(diags, keys[i].place, code,
                   "this row of %s is for the same cases as line %u, expected one row that wins, "
                   "remove one or fill in a cell that tells them apart",
                   diag_quote(diags, keys[i].label), keys[i - 1].place.line);
    }
}

static void tell_threshold_ties(const struct orchard *orchard, struct diags *diags)
{
    size_t count = orchard->thresholds.count;
    struct key *keys = ARENA_ARRAY(orchard->arena, count, struct key);
    for (size_t i = 0; i < count; i++) {
        const struct threshold *row = &orchard->thresholds.list[i];
        bool interstock = row->event == EVENT_GRAFT_OPEN || row->event == EVENT_GRAFT_CLOSE;
        keys[i] = (struct key){
            .texts = {row->species, row->site_name,
                      interstock ? row->selection_name : clone_name(orchard, row->selection_name)},
            .wholes = {row->event, row->basis, row->shipped},
            .place = row->place,
            .label = event_names[row->event],
            .index = i,
        };
    }
    tell_ties(keys, count, "equal-thresholds", diags);
}

static bool tree_clone_known(const struct orchard *orchard, const char *clone)
{
    for (size_t i = 0; i < orchard->trees.count; i++)
        if (order_text(orchard->trees.list[i].clone, clone) == 0)
            return true;
    return false;
}

static void tell_threshold_names(const struct orchard *orchard, const struct threshold *row,
                                 struct known known[KNOWN_TABLES], struct diags *diags)
{
    const char *what = arena_printf(orchard->arena, "the threshold of %s", event_names[row->event]);
    if (row->site_name && !orchard_site(orchard, row->site_name))
        diag_warning(diags, row->place, "threshold-of-far-site",
                     "%s is of site %s, which is not in sites.csv, expected a site of this folder, "
                     "correct the name, or leave it and the row serves as one of another site",
                     what, diag_quote(diags, row->site_name));
    if (!row->selection_name)
        return;
    if (row->event != EVENT_GRAFT_OPEN && row->event != EVENT_GRAFT_CLOSE) {
        if (!orchard_selection(orchard, row->selection_name))
            known_tell_missing(&known[KNOWN_SELECTIONS], diags, row->place, what,
                               row->selection_name);
    } else if (!tree_clone_known(orchard, row->selection_name)) {
        diag_warning(diags, row->place, "unknown-clone",
                     "%s is of interstock clone %s, which no tree has, expected a clone of "
                     "trees.csv, correct the name",
                     what, diag_quote(diags, row->selection_name));
    }
}

/* Follow `after` from one row for the subject that the row itself names. */
static bool goes_round(const struct orchard *orchard, const struct threshold *row)
{
    struct threshold_subject subject = {row->species, row->site_name, row->selection_name};
    for (int steps = 0; row && row->kind == THRESHOLD_AFTER; steps++) {
        if (steps > EVENTS)
            return true;
        row = threshold_find(orchard, row->after, subject).threshold;
    }
    return false;
}

void threshold_audit(const struct orchard *orchard, struct diags *diags)
{
    struct known known[KNOWN_TABLES];
    known_of(&known[KNOWN_SELECTIONS], orchard, KNOWN_SELECTIONS);
    tell_threshold_ties(orchard, diags);
    for (size_t i = 0; i < orchard->thresholds.count; i++) {
        const struct threshold *row = &orchard->thresholds.list[i];
        if (!row->shipped)
            tell_threshold_names(orchard, row, known, diags);
        if (goes_round(orchard, row))
            diag_error(diags, row->place, "threshold-loop",
                       "the threshold of %s comes after %s and that comes back to it, expected a "
                       "heat sum or a calendar day at the end, give one of them so",
                       event_names[row->event], event_names[row->after]);
    }
}

static const char *const rate_words[] = {
    "survival",   "strobili_per_live_graft", "bags_per_graft", "strobili_per_bag", "conelets_kept",
    "cones_kept", "seeds_per_cone",          "bags_lost",
};
enum { RATE_WORDS = sizeof rate_words / sizeof *rate_words };

static const char minutes_prefix[] = "minutes_each:";

static void tell_rate_name(const struct orchard *orchard, const struct rate *row,
                           struct known *tasks, struct diags *diags)
{
    if (strncmp(row->rate, minutes_prefix, sizeof minutes_prefix - 1) == 0) {
        const char *task = row->rate + sizeof minutes_prefix - 1;
        if (!orchard_task(orchard, task))
            known_tell_missing(tasks, diags, row->place, "the rate minutes_each", task);
        return;
    }
    for (size_t i = 0; i < RATE_WORDS; i++)
        if (strcmp(row->rate, rate_words[i]) == 0)
            return;
    const char *near = text_nearest(row->rate, RATE_WORDS, rate_words);
    diag_error(diags, row->place, "unknown-rate",
               "rate %s was found, expected survival, strobili_per_live_graft, bags_per_graft, "
               "strobili_per_bag, conelets_kept, cones_kept, seeds_per_cone, bags_lost or "
               "minutes_each:TASK, %s%s",
               diag_quote(diags, row->rate), near ? "write " : "correct the name",
               near ? near : "");
}

static void tell_rate_value(const struct rate *row, struct diags *diags)
{
    double value = number_of_decimal(row->value);
    if (row->low > value || row->high < value) /* false of NaN */
        diag_error(
            diags, row->place, "rate-outside-its-range",
            "%s is %.3f, expected a value from its own low %.3f to its high %.3f, correct one "
            "of the three",
            row->rate, value, row->low, row->high);
}

static void tell_rate_names(const struct orchard *orchard, const struct rate *row,
                            struct known known[KNOWN_TABLES], struct diags *diags)
{
    const char *what = arena_printf(orchard->arena, "rate %s", diag_quote(diags, row->rate));
    if (row->site_name && !orchard_site(orchard, row->site_name))
        known_tell_missing(&known[KNOWN_SITES], diags, row->place, what, row->site_name);
    if (row->selection_name && !orchard_selection(orchard, row->selection_name))
        known_tell_missing(&known[KNOWN_SELECTIONS], diags, row->place, what, row->selection_name);
    if (row->clone && !tree_clone_known(orchard, row->clone))
        diag_warning(diags, row->place, "unknown-clone",
                     "%s is of interstock clone %s, which no tree has, expected a clone of "
                     "trees.csv, correct the name",
                     what, diag_quote(diags, row->clone));
}

void rate_audit(const struct orchard *orchard, struct diags *diags)
{
    struct known known[KNOWN_TABLES];
    known_of(&known[KNOWN_SITES], orchard, KNOWN_SITES);
    known_of(&known[KNOWN_SELECTIONS], orchard, KNOWN_SELECTIONS);
    known_of(&known[KNOWN_TASKS], orchard, KNOWN_TASKS);

    size_t count = orchard->rates.count;
    struct key *keys = ARENA_ARRAY(orchard->arena, count, struct key);
    for (size_t i = 0; i < count; i++) {
        const struct rate *row = &orchard->rates.list[i];
        keys[i] = (struct key){
            .texts = {row->rate, clone_name(orchard, row->selection_name), row->clone,
                      row->site_name, row->host_species},
            .wholes = {row->season_number, row->shipped, 0},
            .place = row->place,
            .label = row->rate,
            .index = i,
        };
        if (!row->shipped)
            tell_rate_names(orchard, row, known, diags);
        tell_rate_name(orchard, row, &known[KNOWN_TASKS], diags);
        tell_rate_value(row, diags);
    }
    tell_ties(keys, count, "equal-rates", diags);
}
