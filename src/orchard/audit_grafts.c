/*
 * Grafts against their trees and their scions.
 */
#include "orchard/audit.h"

#include "orchard/words.h"

#include <string.h>

/* Days in store: common practice; above the first a warning, the second says not to. */
enum { STORE_WARN_DAYS = 28, STORE_MOST_DAYS = 42 };

static void check_tree(struct audit *audit, const struct graft *graft)
{
    const struct tree *tree = graft->tree;
    char died[DAY_TEXT];
    if (!tree)
        return;
    bool after_death = tree->health_on != DAY_NONE && tree->health_on <= graft->grafted_on;
    /* An undated `dead` is the tree's state now: a fault only while a graft on it is not. */
    bool undated = tree->health_on == DAY_NONE && !condition_is_gone(graft->condition);
    if (tree->health == HEALTH_DEAD && (after_death || undated))
        diag_error(
            audit->diags, graft->place, "graft-on-dead-tree",
            "graft %s stands on tree %s, which is dead%s%s, expected a living tree, correct the "
            "tree, %s",
            audit_quote(audit, graft->tag), audit_quote(audit, tree->name),
            after_death ? " since " : "", after_death ? day_text(tree->health_on, died) : "",
            after_death ? "or the date of one of them"
                        : "or fill in its health_on or the graft's condition");
    if (tree->uses && !(tree->uses & USE_GRAFT))
        diag_warning(
            audit->diags, graft->place, "tree-not-for-grafts",
            "graft %s stands on tree %s, whose uses do not hold graft, expected an interstock "
            "tree, correct the tree or add graft to its uses",
            audit_quote(audit, graft->tag), audit_quote(audit, tree->name));
    const char *unsuited = graft->selection ? graft->selection->unsuited_clones : NULL;
    if (unsuited && tree->clone && word_listed(unsuited, tree->clone))
        diag_warning(
            audit->diags, graft->place, "unsuited-clone",
            "graft %s of selection %s stands on interstock clone %s, which its unsuited_clones "
            "hold, expected another clone, correct the tree or watch this graft",
            audit_quote(audit, graft->tag), audit_quote(audit, graft->selection->name),
            audit_quote(audit, tree->clone));
}

static void check_store(struct audit *audit, const struct graft *graft)
{
    const struct batch *batch = graft->batch;
    int days = graft->grafted_on - batch->cut_on;
    char cut[DAY_TEXT];
    if (days < 0)
        diag_error(
            audit->diags, graft->place, "graft-before-scions",
            "graft %s was made %d days before its batch %s was cut on %s, expected scions first, "
            "correct one date or the batch",
            audit_quote(audit, graft->tag), -days, audit_quote(audit, batch->name),
            day_text(batch->cut_on, cut));
    else if (days > STORE_MOST_DAYS)
        diag_warning(
            audit->diags, graft->place, "scions-too-old",
            "graft %s was made of scions %d days in store, expected %d at most, correct a date "
            "or count with few survivors",
            audit_quote(audit, graft->tag), days, STORE_MOST_DAYS);
    else if (days > STORE_WARN_DAYS)
        diag_warning(
            audit->diags, graft->place, "scions-old",
            "graft %s was made of scions %d days in store, expected %d or fewer, correct a "
            "date or look at it first",
            audit_quote(audit, graft->tag), days, STORE_WARN_DAYS);
    if (batch->discarded_on != DAY_NONE && graft->grafted_on > batch->discarded_on)
        diag_error(audit->diags, graft->place, "batch-discarded",
                   "graft %s was made after its batch %s was discarded on %s, expected scions that "
                   "were there, correct one date or the batch",
                   audit_quote(audit, graft->tag), audit_quote(audit, batch->name),
                   day_text(batch->discarded_on, cut));
}

static void check_batch(struct audit *audit, const struct graft *graft)
{
    const struct batch *batch = graft->batch;
    if (!batch)
        return;
    if (graft->selection && batch->selection && !selection_same(graft->selection, batch->selection))
        diag_error(
            audit->diags, graft->place, "other-selection-than-batch",
            "graft %s is of selection %s and its batch %s of %s, expected one selection, correct "
            "the graft or the batch, or note it relabelled",
            audit_quote(audit, graft->tag), audit_quote(audit, graft->selection->name),
            audit_quote(audit, batch->name), audit_quote(audit, batch->selection->name));
    if (graft->grafted_on != DAY_NONE && batch->cut_on != DAY_NONE)
        check_store(audit, graft);
}

static void check_cell_days(struct audit *audit, const struct graft *graft)
{
    const struct {
        const char *cell;
        daynum day;
    } cells[] = {{"condition_on", graft->condition_on}, {"identity_on", graft->identity_on}};
    char day[DAY_TEXT], grafted[DAY_TEXT];
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        if (cells[i].day != DAY_NONE && graft->grafted_on != DAY_NONE &&
            cells[i].day < graft->grafted_on)
            diag_error(
                audit->diags, graft->place, "seen-before-grafted",
                "'%s' of graft %s is %s, before it was made on %s, expected a later day, correct "
                "one of them",
                cells[i].cell, audit_quote(audit, graft->tag), day_text(cells[i].day, day),
                day_text(graft->grafted_on, grafted));
}

static void check_batch_counts(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    int *used = ARENA_ARRAY(audit->arena, orchard->batches.count, int);
    for (size_t i = 0; i < orchard->grafts.count; i++)
        if (orchard->grafts.list[i].batch)
            used[orchard->grafts.list[i].batch - orchard->batches.list]++;
    for (size_t i = 0; i < orchard->batches.count; i++) {
        const struct batch *batch = &orchard->batches.list[i];
        if (batch->count >= 0 && used[i] > batch->count)
            diag_error(
                audit->diags, batch->place, "batch-overdrawn",
                "batch %s held %d scions and %d grafts were made of it, expected no more grafts "
                "than scions, correct the count or the batch of some grafts",
                audit_quote(audit, batch->name), batch->count, used[i]);
    }
}

static void check_places(struct audit *audit)
{
    static const char *const zones[CROWNS] = {
        [CROWN_TOP] = "top", [CROWN_MIDDLE] = "middle", [CROWN_LOW] = "low"};
    const struct orchard *orchard = audit->orchard;
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        for (int zone = CROWN_TOP; zone < CROWNS; zone++)
            if (tree->places[zone] >= 0 && audit->state->taken[i][zone] > tree->places[zone])
                diag_error(
                    audit->diags, tree->place, "tree-full",
                    "tree %s has %d places in its %s and %d grafts there that are not removed, "
                    "expected no more grafts than places, correct places_%s or note the grafts "
                    "that are removed",
                    audit_quote(audit, tree->name), tree->places[zone], zones[zone],
                    audit->state->taken[i][zone], zones[zone]);
    }
}

static void check_sources(struct audit *audit)
{
    const struct orchard *orchard = audit->orchard;
    for (size_t i = 0; i < orchard->batches.count; i++) {
        const struct batch *batch = &orchard->batches.list[i];
        const struct tree *tree = batch->source_tree;
        if (tree && tree->selection && batch->selection &&
            !selection_same(tree->selection, batch->selection))
            diag_error(audit->diags, batch->place, "other-selection-than-tree",
                       "batch %s is of selection %s and was cut on tree %s of %s, expected one "
                       "selection, correct the batch or the tree",
                       audit_quote(audit, batch->name), audit_quote(audit, batch->selection->name),
                       audit_quote(audit, tree->name), audit_quote(audit, tree->selection->name));
    }
}

void audit_grafts(struct audit *audit)
{
    for (size_t i = 0; i < audit->orchard->grafts.count; i++) {
        const struct graft *graft = &audit->orchard->grafts.list[i];
        check_tree(audit, graft);
        check_batch(audit, graft);
        check_cell_days(audit, graft);
    }
    check_batch_counts(audit);
    check_places(audit);
    check_sources(audit);
}
