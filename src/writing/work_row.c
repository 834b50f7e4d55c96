/*
 * A row on paper:
 *
 *   [ ] pollinate again  OAK-017C  blue         HB-12, row 3 no. 12, top/T4
 *       OAK-017C-28-1    C12: S12 x S31         P07 0.5 ml         87 %   Thu 11 Mar
 *       any at stage 4-5: pollinate again ...
 *       by ________  time ______  stage ____  ml used ______       2028-W10-A-017K
 *       remarks, or why not done _________________________________________________
 */
#include "writing/work_row.h"

#include "planning/placement.h"
#include "writing/words.h"

#include <math.h>

enum { BOX = 0, FIRST = 4, SECOND = 21, FLAG = 31, PLACE = 44, CHANCE = 63, LATEST = 70 };
enum { BRIEF_LINES_MOST = 2 };

static const char *or_dash(const char *value)
{
    return value ? value : "-";
}

static void words_init(struct text *words, const struct line *line)
{
    text_init(words, line->out->arena);
}

/* "HB-12, row 3 no. 12, top/T4". */
static void put_place(struct line *line, const struct visit_facts *facts)
{
    struct text words;
    words_init(&words, line);
    if (facts->tree)
        text_add(&words, facts->tree);
    else
        text_add(&words, facts->site ? facts->site : "-");
    if (facts->row >= 0)
        text_addf(&words, ", row %d", facts->row);
    if (facts->position >= 0)
        text_addf(&words, "%s no. %d", facts->row >= 0 ? "" : ",", facts->position);
    if (facts->crown)
        text_addf(&words, ", %s", facts->crown);
    if (facts->branch)
        text_addf(&words, "%s%s", facts->crown ? "/" : ", branch ", facts->branch);
    line_put(line, PLACE, words.bytes);
}

static void put_lot(struct line *line, const struct visit_facts *facts)
{
    struct text words;
    if (!facts->lot)
        return;
    words_init(&words, line);
    text_add(&words, facts->lot);
    if (isfinite(facts->dose_ml)) {
        text_add(&words, " ");
        words_add_amount(&words, facts->dose_ml);
        text_add(&words, " ml");
    }
    line_put(line, PLACE, words.bytes);
}

static void put_chance_and_latest(struct line *line, const struct visit_facts *facts, bool chance)
{
    struct text words;
    words_init(&words, line);
    if (chance) {
        words_add_chance(&words, facts->chance);
        line_put(line, CHANCE, words.bytes);
    }

    text_clear(&words);
    if (facts->latest != DAY_NONE && facts->latest != DAY_NEVER)
        text_addf(&words, "%s ", day_weekday_name(day_weekday(facts->latest)));
    words_add_day_short(&words, facts->latest);
    line_put(line, LATEST, words.bytes);
}

static const char *visit_write_in(enum bag_task task)
{
    switch (task) {
    case TASK_BAG:
        return "strobili";
    case TASK_UNBAG:
        return "strobili left";
    default:
        return "ml used";
    }
}

/* What is written where a note of this kind closes the work. */
static const char *const note_write_in[NOTES] = {
    [NOTE_GRAFTED] = "branch",    [NOTE_RETAGGED] = "new tag",  [NOTE_RELABELLED] = "truly",
    [NOTE_VERIFIED] = "how",      [NOTE_SURVIVAL] = "alive?",   [NOTE_STAGE] = "",
    [NOTE_STROBILI] = "strobili", [NOTE_CATKINS] = "catkins",   [NOTE_MALE_STAGE] = "pollen",
    [NOTE_BAGGED] = "strobili",   [NOTE_POLLINATED] = "ml",     [NOTE_UNBAGGED] = "strobili left",
    [NOTE_BAG_LOST] = "cause",    [NOTE_CONELETS] = "conelets", [NOTE_CONES] = "cones",
    [NOTE_SEEDS] = "seeds",       [NOTE_RIPENESS] = "float",    [NOTE_GERMINATION] = "percent",
    [NOTE_COLLECTED] = "ml",      [NOTE_DISCARDED] = "ml",      [NOTE_FROST] = "lowest",
    [NOTE_STORM] = "damage",      [NOTE_SPRAYED] = "hours",     [NOTE_DONE] = "",
    [NOTE_NOT_DONE] = "",
};

static struct row_facts facts_of_visit(const struct orchard *orchard, const struct work_row *row,
                                       struct arena *arena)
{
    struct visit_facts visit = visit_facts_of(orchard, row->bag, row->task);
    const struct group *group = row->bag->group;

    return (struct row_facts){
        .visit = visit,
        .task = bag_task_words[row->task],
        .subject = visit.bag,
        .about = visit_cross_words(arena, &visit),
        .batch = group->graft->graft->batch_name,
        .cycle = group->season - group->season_number,
        .write_in = visit_write_in(row->task),
    };
}

static void add_graft(struct row_facts *facts, const struct graft_state *state)
{
    const struct graft *graft = state->graft;

    facts->visit.tag = graft->tag;
    facts->visit.tree = graft->tree_name;
    facts->visit.crown = crown_word(graft->crown);
    facts->visit.branch = graft->branch;
    facts->visit.selection = graft_selection_name(state);
    facts->visit.flag = state->selection ? state->selection->flag_colour : NULL;
    facts->batch = graft->batch_name;
}

static void add_planned(struct row_facts *facts, const struct placed_graft *planned)
{
    facts->visit.tag = planned->tag;
    facts->visit.crown = crown_word(planned->crown);
    facts->visit.selection = planned->selection->name;
    facts->visit.flag = planned->selection->flag_colour;
    facts->batch = planned->batch ? planned->batch->name : NULL;
    facts->subject = planned->batch ? planned->batch->name : "scion to be cut";
}

static void add_tree(struct row_facts *facts, const struct tree *tree)
{
    facts->visit.tree = tree->name;
    facts->visit.block = tree->block;
    facts->visit.row = tree->row;
    facts->visit.position = tree->position;
}

/* What a subject other than graft, tree and site is called. */
static void add_subject(struct row_facts *facts, const struct task_subject *subject)
{
    facts->subject = subject->kind == SUBJECT_GRAFT || subject->kind == SUBJECT_TREE ||
                             subject->kind == SUBJECT_SITE
                         ? NULL
                         : subject->name;
    if (subject->bag) {
        facts->visit.bag = subject->bag->name;
        facts->visit.cross = subject->bag->cross ? subject->bag->cross->name : NULL;
    }
    if (subject->cross)
        facts->visit.cross = subject->cross->name;
    if (subject->lot)
        facts->visit.lot = subject->lot->name;
    if (subject->batch) {
        facts->batch = subject->batch->name;
        facts->visit.selection = subject->batch->selection_name;
    }
    if (subject->selection && !facts->visit.selection)
        facts->visit.selection = subject->selection->name;
}

static struct row_facts facts_of_instance(const struct work_row *row)
{
    const struct task_instance *instance = row->instance;
    struct row_facts facts = {
        .visit = {.site = row->site ? row->site->name : NULL,
                  .row = -1,
                  .position = -1,
                  .dose_ml = NAN,
                  .chance = NAN,
                  .latest = instance->last_day},
        .task = instance->kind->task,
        .cycle = instance->cycle,
        .needs = instance->kind->needs,
        .write_in = note_write_in[duty_result(instance->kind)],
    };

    if (instance->subject.graft)
        add_graft(&facts, instance->subject.graft);
    if (row->tree)
        add_tree(&facts, row->tree);
    add_subject(&facts, &instance->subject);
    if (row->planned)
        add_planned(&facts, row->planned);
    facts.about = facts.visit.cross ? facts.visit.cross : facts.visit.selection;
    return facts;
}

struct row_facts work_row_facts(const struct orchard *orchard, const struct work_row *row,
                                struct arena *arena)
{
    return row->bag ? facts_of_visit(orchard, row, arena) : facts_of_instance(row);
}

static void put_write_in(struct line *line, const struct work_row *row,
                         const struct row_facts *facts)
{
    struct text words;
    words_init(&words, line);
    text_addf(&words, "by ________  time ______  stage ____");
    if (*facts->write_in)
        text_addf(&words, "  %s ______", facts->write_in);
    line_put(line, FIRST, words.bytes);
    line_put_right(line, or_dash(row->entry));
    line_end(line);
    line_put(line, FIRST, "remarks, or why not done ");
    text_add_repeat(line->out, PAGE_COLUMNS - line->column, '_');
    line_end(line);
}

static const char *heading_of(struct arena *arena, const struct visit_facts *facts)
{
    if (!facts->site)
        return "No place";
    if (facts->block)
        return arena_printf(arena, "%s, block %s", facts->site, facts->block);
    return facts->site;
}

const char *work_row_about(const struct work_row *row)
{
    const char *name = row->instance->subject.name;
    return name && *name ? name : "the programme";
}

void work_row_add_last(const struct work_row *row, struct text *out)
{
    const struct task_instance *instance = row->instance;
    bool ordered = instance->order_by != DAY_NONE;
    if (!ordered || instance->order_by != instance->last_day) {
        text_add(out, "last day ");
        words_add_day(out, instance->last_day);
        text_add(out, ordered ? ", " : "");
    }
    if (ordered) {
        text_add(out, "order by ");
        if (instance->order_by != instance->last_day)
            words_add_day_short(out, instance->order_by);
        else
            words_add_day(out, instance->order_by);
    }
}

/* The bag, its cross, its pollen and chance; of other work its subject, what it is, its cycle. */
static void put_subject(struct line *line, const struct row_facts *facts, bool of_plan)
{
    struct text words;
    words_init(&words, line);
    line_put(line, FIRST, facts->subject || of_plan ? or_dash(facts->subject) : "");
    line_put(line, SECOND, facts->about ? facts->about : "");
    if (of_plan)
        put_lot(line, &facts->visit);
    else if (facts->cycle) {
        text_addf(&words, "cycle %d", facts->cycle);
        line_put(line, PLACE, words.bytes);
    }
    put_chance_and_latest(line, &facts->visit, of_plan);
    line_end(line);
}

void work_row_add(struct flow *flow, const struct orchard *orchard, const struct work_row *row)
{
    struct row_facts facts = work_row_facts(orchard, row, flow->arena);
    struct text out;
    struct line line = {.out = &out};

    text_init(&out, flow->arena);
    line_put(&line, BOX, "[ ]");
    line_put(&line, FIRST, facts.task);
    line_put(&line, SECOND,
             row->bag          ? or_dash(facts.visit.tag)
             : facts.visit.tag ? facts.visit.tag
                               : "");
    line_put(&line, FLAG, row->bag || facts.visit.tag ? or_dash(facts.visit.flag) : "");
    put_place(&line, &facts.visit);
    line_end(&line);
    put_subject(&line, &facts, row->bag != NULL);
    if (row->brief) {
        line_put(&line, FIRST, "");
        line_put_wrapped(&line, BRIEF_LINES_MOST, row->brief);
    }
    put_write_in(&line, row, &facts);
    line_end(&line); /* room for a hand, and the next row apart */
    flow_add(flow, heading_of(flow->arena, &facts.visit), &out);
}

const char *work_page_decide(const struct work_page *page, enum bag_task task)
{
    for (size_t i = 0; i < page->row_count; i++)
        if (page->rows[i].bag && page->rows[i].task == task && page->rows[i].decide)
            return page->rows[i].decide;
    return NULL;
}

/* "2 h 16 min", "8 h", "59 min", from 1/100 minutes, rounded up. */
static void add_hours(struct text *out, int64_t hundredths)
{
    long long minutes = (hundredths + 99) / 100;
    if (minutes >= 60)
        text_addf(out, "%lld h", minutes / 60);
    if (minutes % 60 || minutes == 0)
        text_addf(out, "%s%lld min", minutes >= 60 ? " " : "", minutes % 60);
}

const char *work_page_minutes(const struct work_page *page, struct arena *arena)
{
    struct text words;
    text_init(&words, arena);
    add_hours(&words, page->minutes);
    text_add(&words, " of ");
    add_hours(&words, page->minutes_given);
    if (page->lift && page->lift_minutes < page->minutes_given) {
        text_add(&words, " (its lift: ");
        add_hours(&words, page->lift_minutes);
        text_add(&words, ")");
    }
    text_add(&words, ", set-up in it");
    return words.bytes;
}

const char *material_words(const struct material *material, struct arena *arena)
{
    struct text words;
    text_init(&words, arena);
    text_addf(&words, "%s: ", material->what);
    words_add_amount(&words, material->amount);
    if (material->unit)
        text_addf(&words, " %s", material->unit);
    return words.bytes;
}

const char *work_page_last_safe(const struct work_page *page, struct arena *arena)
{
    struct text words;
    text_init(&words, arena);
    for (size_t i = 0; i < page->row_count; i++) {
        const struct planned_bag *bag = page->rows[i].bag;

        if (bag && bag->latest[page->rows[i].task] == page->day)
            text_addf(&words, "%s%s", words.length ? ", " : "", bag->name);
    }
    return words.bytes;
}

void work_page_see(struct head *head, const struct work_page *page)
{
    for (size_t i = 0; i < page->row_count; i++) {
        const struct work_row *row = &page->rows[i];

        if (row->bag)
            head_see(head, row->bag->group->site, row->bag->group->season, row->bag->group->bloom);
        else
            head_see(head, row->site,
                     day_season(orchard_season_rule(head->run->orchard, row->site), page->day),
                     NULL);
    }
}
