/*
 * Notes one by one: what each kind is about, what its value may be, and whether what it names is
 * there and was there by then.
 */
#include "base/check_character.h"
#include "orchard/audit.h"
#include "orchard/order.h"
#include "orchard/words.h"

#include <math.h>
#include <string.h>

enum subject {
    TAG = 1,
    BAG = 2,
    TREE = 4,
    LOT = 8,
    CROSS = 16,
    SITE = 32,
    BLOCK = 64,
    TASK = 128,
    BATCH = 256,
    SELECTION = 512,
    SUBJECTS = 10 /* how many */
};

static const char *const subject_names[SUBJECTS] = {"tag",  "bag",   "tree", "lot",   "cross",
                                                    "site", "block", "task", "batch", "selection"};

struct value_rule {
    const char *expected; /* for people; NULL: anything, or nothing */
    bool may_be_blank;
    bool (*holds)(const struct note *note);
};

static bool is_text(const struct note *note)
{
    return note->value != NULL;
}

static bool is_condition(const struct note *note)
{
    enum condition condition;
    return condition_read(note->value, &condition);
}

static bool is_stage(const struct note *note)
{
    int low, high;
    return stage_read(note->value, &low, &high);
}

static bool is_male_stage(const struct note *note)
{
    static const char *const words[] = {"not yet", "shedding", "over"};
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(note->value, words[i]) == 0)
            return true;
    return false;
}

static bool is_count(const struct note *note)
{
    return note->number >= 0 && note->number <= 1e9 && floor(note->number) == note->number;
}

static bool is_amount(const struct note *note)
{
    return note->number >= 0 && note->number <= 1e6;
}

static bool is_percent(const struct note *note)
{
    return note->number >= 0 && note->number <= 100;
}

static bool is_frost(const struct note *note)
{
    return note->number >= -60 && note->number <= 5; /* 26 would be degF */
}

static bool is_hours(const struct note *note)
{
    return note->number >= 0 && note->number <= 24 * 60;
}

static bool is_ratio(const struct note *note)
{
    int counted, of;
    return ratio_read(note->value, &counted, &of);
}

static const struct value_rule anything = {NULL, true, NULL},
                               tag_text = {"the new tag", false, is_text},
                               selection_text = {"the true selection, or unknown", false, is_text},
                               condition_word = {"alive, doubtful, dead, lost or removed", false,
                                                 is_condition},
                               stage_span = {"a stage from 1 to 6, or two like 3-5", false,
                                             is_stage},
                               male_word = {"not yet, shedding or over", false, is_male_stage},
                               count = {"a count, 0 or more", false, is_count},
                               count_if_any = {"a count, 0 or more, or blank", true, is_count},
                               ml = {"an amount in ml", false, is_amount},
                               ml_if_any = {"an amount in ml, or blank", true, is_amount},
                               percent = {"a percentage from 0 to 100", false, is_percent},
                               frost_c = {"the lowest temperature in degC, at most 5", false,
                                          is_frost},
                               hours = {"the re-entry time of the label in hours", false, is_hours},
                               ratio = {"below the line of looked at, like 19/20", false, is_ratio};

static const struct {
    unsigned about; /* at least one of these */
    unsigned with;  /* and all of these */
    const struct value_rule *value;
} rules[NOTES] = {
    [NOTE_GRAFTED] = {TAG, 0, &anything},
    [NOTE_RETAGGED] = {TAG, 0, &tag_text},
    [NOTE_RELABELLED] = {TAG | TREE | LOT, 0, &selection_text},
    [NOTE_VERIFIED] = {TAG | TREE | LOT, 0, &anything},
    [NOTE_SURVIVAL] = {TAG, 0, &condition_word},
    [NOTE_STAGE] = {BAG | TAG | TREE, 0, &stage_span},
    [NOTE_STROBILI] = {TAG | BAG, 0, &count},
    [NOTE_CATKINS] = {TREE | TAG, 0, &count},
    [NOTE_MALE_STAGE] = {TREE | TAG, 0, &male_word},
    [NOTE_BAGGED] = {BAG, CROSS, &count_if_any},
    [NOTE_POLLINATED] = {BAG, LOT, &ml_if_any},
    [NOTE_UNBAGGED] = {BAG, 0, &count_if_any},
    [NOTE_BAG_LOST] = {BAG, 0, &anything},
    [NOTE_CONELETS] = {BAG, 0, &count},
    [NOTE_CONES] = {BAG, 0, &count},
    [NOTE_SEEDS] = {BAG | CROSS, 0, &count},
    [NOTE_RIPENESS] = {TREE | BAG, 0, &ratio},
    [NOTE_GERMINATION] = {LOT, 0, &percent},
    [NOTE_COLLECTED] = {LOT, 0, &ml},
    [NOTE_DISCARDED] = {LOT, 0, &ml_if_any},
    [NOTE_FROST] = {SITE, 0, &frost_c},
    [NOTE_STORM] = {SITE, 0, &anything},
    [NOTE_SPRAYED] = {SITE | BLOCK, 0, &hours},
    [NOTE_DONE] = {TASK, 0, &anything},
    [NOTE_NOT_DONE] = {TASK, 0, &anything},
};

static unsigned filled(const struct note *note)
{
    const char *const cells[SUBJECTS] = {note->tag,   note->bag,      note->tree,  note->lot,
                                         note->cross, note->site,     note->block, note->task,
                                         note->batch, note->selection};
    unsigned mask = 0;
    for (size_t i = 0; i < SUBJECTS; i++)
        mask |= cells[i] ? 1u << i : 0;
    return mask;
}

static void tell_subject(struct audit *audit, const struct note *note, unsigned wanted,
                         const char *between)
{
    struct text text;
    text_init(&text, audit->arena);
    for (size_t i = 0; i < SUBJECTS; i++)
        if (wanted & 1u << i)
            text_addf(&text, "%s%s", text.length ? between : "", subject_names[i]);
    diag_error(audit->diags, note->place, "note-without-subject",
               "a %s note has no %s, expected what it is about, fill it in", note_names[note->kind],
               text.bytes);
}

/* What a done or not_done note must name: the subject of its task. */
static unsigned subject_of_task(const struct task_kind *task)
{
    static const struct {
        const char *per;
        unsigned subject;
    } words[] = {{"graft", TAG},   {"bag", BAG},   {"tree", TREE},   {"lot", LOT},
                 {"batch", BATCH}, {"site", SITE}, {"cross", CROSS}, {"selection", SELECTION}};
    for (size_t i = 0; task && task->per && i < sizeof words / sizeof *words; i++)
        if (strcmp(task->per, words[i].per) == 0)
            return words[i].subject;
    return 0; /* of the whole programme */
}

static void check_subject(struct audit *audit, const struct note *note)
{
    unsigned mask = filled(note), about = rules[note->kind].about;
    unsigned lacking = rules[note->kind].with & ~mask;
    if (!(mask & about))
        tell_subject(audit, note, about, " or ");
    if (lacking)
        tell_subject(audit, note, lacking, ", ");
    if (note->kind == NOTE_DONE || note->kind == NOTE_NOT_DONE) {
        unsigned of_task = subject_of_task(orchard_task(audit->orchard, note->task));
        if (of_task & ~mask)
            tell_subject(audit, note, of_task, ", ");
    }
    const struct graft *graft = orchard_graft(audit->orchard, note->tag);
    if (note->kind == NOTE_GRAFTED && graft && graft->from_note) {
        lacking = (TREE | SELECTION) & ~mask;
        if (lacking && order_place(graft->place, note->place) == 0)
            tell_subject(audit, note, lacking, ", ");
    }
}

static void check_value(struct audit *audit, const struct note *note)
{
    const struct value_rule *rule = rules[note->kind].value;
    if (!rule->holds || (!note->value && rule->may_be_blank))
        return;
    if (!note->value || !rule->holds(note)) {
        diag_error(audit->diags, note->place, "note-value",
                   "a %s note has the value %s, expected %s, correct it", note_names[note->kind],
                   note->value ? audit_quote(audit, note->value) : "blank", rule->expected);
        return;
    }
    if (note->kind == NOTE_RELABELLED && strcmp(note->value, "unknown") != 0 &&
        !orchard_selection(audit->orchard, note->value))
        known_tell_missing(&audit->known[KNOWN_SELECTIONS], audit->diags, note->place,
                           "a relabelled note", note->value);
}

static bool block_known(const struct orchard *orchard, const struct note *note)
{
    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];
        if (order_text(tree->block, note->block) == 0 &&
            (!note->site || order_text(tree->site_name, note->site) == 0))
            return true;
    }
    return false;
}

static void check_names(struct audit *audit, const struct note *note)
{
    const struct orchard *orchard = audit->orchard;
    const struct graft *graft = orchard_graft(orchard, note->tag);
    /* What a note gave to the graft it made has been told with the graft. */
    bool told = graft && graft->from_note && order_place(graft->place, note->place) == 0;
    const struct {
        const char *name;
        bool found;
        enum known_table table;
    } names[] = {
        {note->tag, graft != NULL, KNOWN_GRAFTS},
        {note->tree, told || orchard_tree(orchard, note->tree), KNOWN_TREES},
        {note->lot, orchard_lot(orchard, note->lot) != NULL, KNOWN_LOTS},
        {note->cross, orchard_cross(orchard, note->cross) != NULL, KNOWN_CROSSES},
        {note->batch, told || orchard_batch(orchard, note->batch), KNOWN_BATCHES},
        {note->site, orchard_site(orchard, note->site) != NULL, KNOWN_SITES},
        {note->task, orchard_task(orchard, note->task) != NULL, KNOWN_TASKS},
        {note->selection, told || orchard_selection(orchard, note->selection), KNOWN_SELECTIONS},
    };
    const char *what = arena_printf(audit->arena, "a %s note", note_names[note->kind]);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (names[i].name && !names[i].found)
            known_tell_missing(&audit->known[names[i].table], audit->diags, note->place, what,
                               names[i].name);
    if (note->block && !block_known(orchard, note))
        diag_error(audit->diags, note->place, "unknown-block",
                   "%s names block %s%s%s, in which no tree stands, expected a block of trees.csv, "
                   "correct the block or the site",
                   what, audit_quote(audit, note->block), note->site ? " of site " : "",
                   note->site ? audit_quote(audit, note->site) : "");
}

/* Notes of the season in which the bag hangs; cones and seed come later. */
static bool of_bag_season(enum note_kind kind)
{
    return kind == NOTE_STAGE || kind == NOTE_STROBILI || kind == NOTE_BAGGED ||
           kind == NOTE_POLLINATED || kind == NOTE_UNBAGGED || kind == NOTE_BAG_LOST;
}

static const struct graft *check_bag(struct audit *audit, const struct note *note)
{
    struct bag_name parts;
    if (!bag_name_read(note->bag, &parts)) {
        diag_error(
            audit->diags, note->place, "bag-name",
            "a %s note names bag %s, expected the tag, the last two digits of the season and a "
            "running number like A017-27-1, correct the name",
            note_names[note->kind], audit_quote(audit, note->bag));
        return NULL;
    }
    const char *tag = arena_text(audit->arena, parts.tag_length, note->bag);
    const struct graft *graft = orchard_graft(audit->orchard, tag);
    if (!graft) {
        known_tell_missing(&audit->known[KNOWN_GRAFTS], audit->diags, note->place,
                           arena_printf(audit->arena, "bag %s", audit_quote(audit, note->bag)),
                           tag);
        return NULL;
    }
    const struct site *site = graft->tree ? graft->tree->site : NULL;
    int season = day_season(orchard_season_rule(audit->orchard, site), note->date);
    if (of_bag_season(note->kind) && parts.season != season)
        diag_error(
            audit->diags, note->place, "bag-season",
            "a %s note of season %d names bag %s of season %d, expected the bag's own season, "
            "correct the date or the bag",
            note_names[note->kind], season, audit_quote(audit, note->bag), parts.season);
    const struct graft *of_tag = orchard_graft(audit->orchard, note->tag);
    if (of_tag && of_tag != graft)
        diag_error(
            audit->diags, note->place, "bag-of-other-graft",
            "a %s note names tag %s and bag %s of another graft, expected a bag of that tag, "
            "correct one of them",
            note_names[note->kind], audit_quote(audit, note->tag), audit_quote(audit, note->bag));
    return graft;
}

static void check_note(struct audit *audit, const struct note *note)
{
    check_subject(audit, note);
    check_value(audit, note);
    check_names(audit, note);
    const struct graft *graft =
        note->bag ? check_bag(audit, note) : orchard_graft(audit->orchard, note->tag);
    char day[DAY_TEXT];
    if (graft && note->kind != NOTE_GRAFTED && graft->grafted_on != DAY_NONE &&
        note->date < graft->grafted_on)
        diag_error(audit->diags, note->place, "seen-before-grafted",
                   "a %s note is dated before its graft %s was made on %s, expected a later day, "
                   "correct one of them",
                   note_names[note->kind], audit_quote(audit, graft->tag),
                   day_text(graft->grafted_on, day));
    if (note->entry && !check_character_holds(note->entry))
        diag_warning(
            audit->diags, note->place, "entry-check-character",
            "entry %s does not end in its check character, expected the code as printed on the "
            "worklist, look it up there",
            audit_quote(audit, note->entry));
}

void audit_notes(struct audit *audit)
{
    for (size_t i = 0; i < audit->orchard->notes.count; i++)
        check_note(audit, &audit->orchard->notes.list[i]);
}
