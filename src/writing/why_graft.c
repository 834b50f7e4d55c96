/*
 * What is known of the graft itself: where it stands, its label, its scion, its condition, notes.
 */
#include "orchard/words.h"
#include "writing/visit.h"
#include "writing/why_facts.h"
#include "writing/words.h"

#include <math.h>

static const char *const condition_words[] = {
    [CONDITION_UNKNOWN] = "never looked at",
    [CONDITION_ALIVE] = "alive",
    [CONDITION_DOUBTFUL] = "doubtful",
    [CONDITION_DEAD] = "dead",
    [CONDITION_LOST] = "lost",
    [CONDITION_REMOVED] = "removed",
};

static void add_how(struct text *words, const char *how)
{
    if (how != NULL)
        text_addf(words, ", %s", how);
}

static void add_on(struct text *words, const char *before, daynum day)
{
    if (day == DAY_NONE)
        return;
    text_add(words, before);
    words_add_day(words, day);
}

static void add_selection(struct facts *facts)
{
    const struct graft_state *graft = facts->why->graft;
    const struct selection *selection = graft->selection;
    const char *name = graft_selection_name(graft);
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    text_add(&words, name != NULL ? name : "unknown: dates are those of the site in general");
    if (selection != NULL) {
        if (selection->species != NULL)
            text_addf(&words, ", %s", selection->species);
        if (selection->self != NULL && selection->self != selection)
            text_addf(&words, ", the same clone as %s", selection->self->name);
        why_add_place(&words, &selection->place);
    }
    fact = fact_of("selection", words.bytes);
    fact.place = selection != NULL ? &selection->place : NULL;
    facts_add(facts, fact);
}

static void add_stand(struct facts *facts)
{
    const struct graft *graft = facts->why->graft->graft;
    const struct tree *tree = graft->tree;
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    text_addf(&words, "%s", graft->tree_name != NULL ? graft->tree_name : "not told");
    if (tree != NULL && tree->species != NULL)
        text_addf(&words, ", %s%s%s", tree->species, tree->clone != NULL ? " " : "",
                  tree->clone != NULL ? tree->clone : "");
    if (crown_word(graft->crown) != NULL)
        text_addf(&words, ", %s of the crown", crown_word(graft->crown));
    if (graft->branch != NULL)
        text_addf(&words, ", branch %s", graft->branch);
    if (tree != NULL)
        why_add_place(&words, &tree->place);
    fact = fact_of("stands on", words.bytes);
    fact.place = tree != NULL ? &tree->place : NULL;
    facts_add(facts, fact);
}

static void add_grafted(struct facts *facts)
{
    const struct graft *graft = facts->why->graft->graft;
    int cycle = orchard_cycle(facts->run->orchard, graft);
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    if (graft->grafted_on == DAY_NONE)
        text_add(&words, "day not told, so its springs are not known");
    words_add_day(&words, graft->grafted_on);
    if (graft->grafted_on == DAY_NONE) {
        text_clear(&words);
        text_add(&words, "day not told, so its springs are not known");
    } else {
        text_addf(&words, ", so its springs are %d and %d", cycle + 1, cycle + 2);
    }
    why_add_place(&words, &graft->place);
    fact = fact_of_day("grafted", words.bytes, graft->grafted_on);
    fact.place = &graft->place;
    facts_add(facts, fact);
}

static void add_batch(struct facts *facts)
{
    const struct graft *graft = facts->why->graft->graft;
    const struct batch *batch = graft->batch;
    struct fact fact;
    struct text words;

    text_init(&words, facts->run->arena);
    text_add(&words, graft->batch_name != NULL ? graft->batch_name : "batch not told");
    if (batch != NULL) {
        add_on(&words, ", cut ", batch->cut_on);
        if (batch->source_tree_name != NULL)
            text_addf(&words, " from tree %s", batch->source_tree_name);
        if (!isnan(batch->store_c)) {
            text_add(&words, ", kept at ");
            why_add_temperature(&words, facts->run, batch->store_c);
        }
        why_add_place(&words, &batch->place);
    }
    fact = fact_of_day("scion", words.bytes, batch != NULL ? batch->cut_on : DAY_NONE);
    fact.place = batch != NULL ? &batch->place : NULL;
    facts_add(facts, fact);
}

/* The newest word on who it is: a relabelling, a check, the cell of the graft's row. */
static void add_label(struct facts *facts)
{
    static const char *const words_of[] = {[IDENTITY_UNCHECKED] = "never checked",
                                           [IDENTITY_CHECKED] = "checked",
                                           [IDENTITY_DISPUTED] = "disputed",
                                           [IDENTITY_WRONG] = "known to be wrong"};
    const struct why *why = facts->why;
    const struct graft *graft = why->graft->graft;
    struct fact fact = fact_of("label", NULL);
    struct text words;

    text_init(&words, facts->run->arena);
    fact.place = &graft->place;
    fact.days[1] = graft->identity_on;
    if (why->relabelled != NULL) {
        text_add(&words, "relabelled ");
        words_add_day(&words, why->relabelled->date);
        text_addf(&words, ": it is %s, not %s",
                  why->relabelled->value != NULL ? why->relabelled->value : "unknown",
                  graft->selection_name);
        if (why->relabelled->tree != NULL)
            text_addf(&words, ", being cut from tree %s", why->relabelled->tree);
        fact.place = &why->relabelled->place;
        fact.days[1] = why->relabelled->date;
    } else if (why->verified != NULL &&
               (graft->identity_on == DAY_NONE || why->verified->date > graft->identity_on)) {
        text_add(&words, "checked ");
        words_add_day(&words, why->verified->date);
        add_how(&words, why->verified->value);
        fact.place = &why->verified->place;
        fact.days[1] = why->verified->date;
    } else {
        text_add(&words, words_of[graft->identity]);
        add_on(&words, " ", graft->identity_on);
        add_how(&words, graft->identity_how);
    }
    why_add_place(&words, fact.place);
    fact.words = words.bytes;
    facts_add(facts, fact);
}

static void add_condition(struct facts *facts)
{
    const struct why *why = facts->why;
    const struct graft_state *graft = why->graft;
    struct fact fact = fact_of_day("condition", NULL, graft->condition_on);
    struct text words;

    text_init(&words, facts->run->arena);
    text_add(&words, condition_words[graft->condition]);
    add_on(&words, graft->condition == CONDITION_ALIVE ? ", seen " : " since ",
           graft->condition_on);
    fact.place = &graft->graft->place;
    for (size_t i = 0; i < why->note_count; i++) {
        if (why->notes[i].effect == WHY_CONDITION)
            fact.place = &why->notes[i].note->place;
    }
    why_add_place(&words, fact.place);
    if (condition_is_gone(graft->condition))
        text_add(&words, ": it has no dates");
    else if (why->season_count == 0 && graft->graft->grafted_on != DAY_NONE)
        text_add(&words, "; both of its springs are over, so it has no dates to come");
    fact.words = words.bytes;
    facts_add(facts, fact);
}

static void add_bag(struct facts *facts, const struct bag *bag)
{
    struct fact fact = fact_of_day("bag", NULL, bag->bagged_on);
    struct text words;

    text_init(&words, facts->run->arena);
    text_addf(&words, "%s, hung ", bag->name);
    words_add_day(&words, bag->bagged_on);
    text_add(&words, bag->clean ? ", clean by what was noted" : ", not clean: strobili were open");
    if (bag->strobili >= 0) {
        text_add(&words, ", ");
        words_add_count(&words, (size_t)bag->strobili, "strobilus", "strobili");
        text_add(&words, " inside");
        fact.number = bag->strobili;
        fact.unit = "strobili";
    }
    if (bag->cross != NULL) {
        text_addf(&words, ", for %s", bag->cross->name);
        fact.place = &bag->cross->place;
    }
    why_add_place(&words, fact.place);
    fact.words = words.bytes;
    facts_add(facts, fact);
}

void facts_add_graft(struct facts *facts)
{
    const struct graft *graft = facts->why->graft->graft;

    facts_section(facts, "graft", 0, arena_printf(facts->run->arena, "Graft %s", graft->tag));
    add_selection(facts);
    add_label(facts);
    add_stand(facts);
    add_grafted(facts);
    add_batch(facts);
    add_condition(facts);
    if (facts->why->bag != NULL)
        add_bag(facts, facts->why->bag);
    if (graft->tree != NULL && graft->tree->site != NULL)
        facts_add_weather(facts);
}

static const char *const effect_words[] = {
    [WHY_MADE] = "it is its row",
    [WHY_RENAMED] = "it carries this tag since",
    [WHY_IS] = "its selection since",
    [WHY_CHECKED] = "its label was checked",
    [WHY_CONDITION] = "its condition, and with it the chance that it lives",
    [WHY_COUNT] = "the strobili of that spring",
    [WHY_STAGE] = "moves the dates of this spring",
    [WHY_BAG_STAGE] = "moves the dates of that bag alone",
    [WHY_SUPERSEDED] = "",
    [WHY_NO_DATE] = "",
};

static void add_note(struct facts *facts, const struct why_note *why)
{
    const struct note *note = why->note;
    struct fact fact = fact_of_day(note_names[note->kind], NULL, note->date);
    struct text words;

    text_init(&words, facts->run->arena);
    words_add_day(&words, note->date);
    if (note->bag != NULL)
        text_addf(&words, ", bag %s", note->bag);
    if (note->value != NULL)
        text_addf(&words, ": %s", note->value);
    text_addf(&words, "; %s", effect_words[why->effect]);
    why_add_place(&words, &note->place);
    fact.words = words.bytes;
    fact.place = &note->place;
    fact.number = note->number;
    facts_add(facts, fact);
}

void facts_add_notes(struct facts *facts)
{
    const struct why *why = facts->why;
    size_t superseded = 0, without = 0;
    struct text words;

    facts_section(facts, "notes", 0, "Notes that count here");
    for (size_t i = 0; i < why->note_count; i++) {
        if (why->notes[i].effect == WHY_SUPERSEDED)
            superseded++;
        else if (why->notes[i].effect == WHY_NO_DATE)
            without++;
        else
            add_note(facts, &why->notes[i]);
    }
    if (superseded + without == 0 && why->note_count > 0)
        return;
    text_init(&words, facts->run->arena);
    if (why->note_count == 0)
        text_add(&words, "none about this graft");
    if (superseded > 0) {
        words_add_count(&words, superseded, "older note", "older notes");
        text_add(&words, " that newer ones, or a new season, took the place of");
    }
    if (without > 0) {
        text_add(&words, superseded > 0 ? "; " : "");
        words_add_count(&words, without, "note", "notes");
        text_add(&words, " of bags, harvest or work done, which move no date");
    }
    facts_add(facts, fact_of_number(why->note_count == 0 ? "notes" : "and", words.bytes,
                                    (double)(superseded + without), "notes"));
}
