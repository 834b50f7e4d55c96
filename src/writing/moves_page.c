/* moves_page.c - visits of an issued plan that do not stand. */
#include "writing/head.h"
#include "writing/words.h"

#include <string.h>

enum {
    HEADING,
    BAGS,
    MOVES,
    BAG,
    TASK,
    FROM,
    TO,
    CREW_FROM,
    CREW_TO,
    HALF_FROM,
    HALF_TO,
    FIRM,
    REASON,
    COLUMNS
};
static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [BAGS] = {"bags", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [MOVES] = {"moves", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [BAG] = {"bag", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TASK] = {"task", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [FROM] = {"from", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [TO] = {"to", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [CREW_FROM] = {"crew_from", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CREW_TO] = {"crew_to", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [HALF_FROM] = {"half_day_from", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [HALF_TO] = {"half_day_to", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [FIRM] = {"firm", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [REASON] = {"reason", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

static const char *half_word(int half)
{
    return half < 0 ? NULL : half == 0 ? "morning" : "afternoon";
}

static void set_row(union cell *cells, const struct move *move)
{
    cells[BAG].text = move->bag;
    cells[TASK].text = bag_task_words[move->task];
    cells[FROM].day = move->from;
    cells[TO].day = move->to;
    cells[CREW_FROM].text = move->crew_from;
    cells[CREW_TO].text = move->crew_to;
    cells[HALF_FROM].text = half_word(move->half_from);
    cells[HALF_TO].text = half_word(move->half_to);
    cells[FIRM].text = move->firm ? "yes" : "no";
    cells[REASON].text = move->reason;
}

/* "bag 4 Mar to 8 Mar", "unbag 16 Apr dropped", "pollinate 22 Mar to Plover, afternoon" */
static void add_move(struct text *words, const struct move *move)
{
    text_addf(words, "%s%s ", words->length > 0 ? "; " : "", bag_task_words[move->task]);
    if (move->from != DAY_NONE)
        words_add_day_short(words, move->from);
    if (move->to == DAY_NONE) {
        text_add(words, " dropped");
        return;
    }
    text_add(words, move->from != DAY_NONE ? " to " : "added ");
    if (move->from != move->to)
        words_add_day_short(words, move->to);
    else
        text_addf(words, "%s%s%s", move->crew_to != NULL ? move->crew_to : "nobody",
                  move->half_to >= 0 ? ", " : "",
                  move->half_to >= 0 ? half_word(move->half_to) : "");
}

/* Bags that moved alike, as one row on paper. */
struct alike {
    bool firm;
    const char *moves, *reason, *last_bag;
    struct text bags;
};

struct alikes {
    struct arena *arena;
    struct alike *list;
    size_t count, capacity;
};

/* "R0061-27-1, 2, 3, R028Q-27-1": of one graft the numbers alone after the first. */
static void add_bag(struct alike *alike, const char *bag)
{
    const char *number = strrchr(bag, '-');
    const size_t stem = number != NULL ? (size_t)(number - bag) + 1 : 0;

    if (alike->last_bag != NULL && stem > 0 && strncmp(alike->last_bag, bag, stem) == 0)
        text_addf(&alike->bags, ", %s", number + 1);
    else
        text_addf(&alike->bags, "%s%s", alike->last_bag != NULL ? ", " : "", bag);
    alike->last_bag = bag;
}

static struct alike *alike_of(struct alikes *alikes, const struct move *first, const char *moves)
{
    for (size_t i = 0; i < alikes->count; i++)
        if (alikes->list[i].firm == first->firm && strcmp(alikes->list[i].moves, moves) == 0 &&
            strcmp(alikes->list[i].reason, first->reason) == 0)
            return &alikes->list[i];
    struct alike *alike = ARENA_PUSH(alikes->arena, alikes->list, alikes->count, alikes->capacity);
    *alike = (struct alike){.firm = first->firm, .moves = moves, .reason = first->reason};
    text_init(&alike->bags, alikes->arena);
    return alike;
}

static bool together(const struct move *a, const struct move *b)
{
    return a->firm == b->firm && strcmp(a->bag, b->bag) == 0 && strcmp(a->reason, b->reason) == 0;
}

/* All moves of one bag for one reason, and the like of other bags, on one row. */
static void add_shown(struct sheet *sheet, const struct crossing_plan *plan, bool firm)
{
    struct alikes alikes = {.arena = sheet->arena};

    for (size_t i = 0; i < plan->move_count; i++) {
        const struct move *move = &plan->moves[i];
        struct text words;
        bool told = move->firm != firm;

        for (size_t j = i; !told && j > 0 && strcmp(plan->moves[j - 1].bag, move->bag) == 0; j--)
            told = together(&plan->moves[j - 1], move);
        if (told)
            continue;
        text_init(&words, sheet->arena);
        size_t count = 0, dropped = 0;
        for (size_t j = i; j < plan->move_count && strcmp(plan->moves[j].bag, move->bag) == 0; j++)
            if (together(&plan->moves[j], move)) {
                add_move(&words, &plan->moves[j]);
                count++;
                dropped += plan->moves[j].to == DAY_NONE;
            }
        if (count > 1 && dropped == count) {
            text_clear(&words);
            text_add(&words, "all visits dropped");
        }
        add_bag(alike_of(&alikes, move, words.bytes), move->bag);
    }
    for (size_t i = 0; i < alikes.count; i++) {
        union cell *cells = sheet_row(sheet);

        cells[HEADING].text = firm ? "inside the firm days" : "outside the firm days";
        cells[BAGS].text = alikes.list[i].bags.bytes;
        cells[MOVES].text = alikes.list[i].moves;
        cells[REASON].text = alikes.list[i].reason;
    }
}

struct sheet moves_sheet(const struct crossing_plan *plan, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;
    size_t firm = 0;

    sheet_init(&sheet, run->arena, "conetide moves 1", COLUMNS, columns);
    for (int pass = 0; pass < 2; pass++)
        for (size_t i = 0; i < plan->move_count; i++)
            if (plan->moves[i].firm == (pass == 0)) {
                set_row(sheet_row(&sheet), &plan->moves[i]);
                firm += pass == 0;
            }
    add_shown(sheet_shown(&sheet), plan, true);
    add_shown(sheet_shown(&sheet), plan, false);
    text_addf(&sheet.foot,
              "%zu of %zu issued visits moved or dropped, %zu of them inside the firm "
              "days\n",
              plan->move_count, plan->issued != NULL ? plan->issued->count : 0, firm);
    head_init(&head, run);
    for (size_t i = 0; i < plan->group_count; i++)
        head_see(&head, plan->groups[i].site, plan->groups[i].season, NULL);
    head_write(&head, "Visits that moved", &sheet.head);
    return sheet;
}
