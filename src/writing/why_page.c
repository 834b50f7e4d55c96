#include "writing/head.h"
#include "writing/why_facts.h"
#include "writing/words.h"

static void add_head(struct facts *facts)
{
    const struct page_run *run = facts->run;
    struct text *out = &facts->sheet.head;
    struct head head;

    head_write_title(
        run, arena_printf(run->arena, "Why these dates: %s", facts->why->graft->graft->tag), out);
    head_init(&head, run);
    for (size_t i = 0; i < facts->why->season_count; i++) {
        const struct flowering_row *row = &facts->why->seasons[i].row;

        head_see(&head, row->site, row->season, row->bloom);
    }
    if (head.count > 0) {
        text_add(out, "; weather observed: ");
        head_add_newest(&head, out);
    }
    text_add(out, "\n");
    head_add_warnings(&head, out);
}

struct sheet why_sheet(const struct why *why, const struct page_run *run)
{
    struct facts facts = {.run = run, .why = why};

    facts_init(&facts);
    add_head(&facts);
    facts_add_graft(&facts);
    for (size_t i = 0; i < why->season_count; i++)
        facts_add_season(&facts, &why->seasons[i], i > 0 ? &why->seasons[i - 1] : NULL);
    facts_add_notes(&facts);
    facts_add_moves(&facts);
    if (why->season_count > 0)
        text_add(&facts.sheet.foot, "10, 50, 90 %: days by which the event has come in so many of "
                                    "100 futures, a future being one past year's weather from here "
                                    "on.  bag by: the day before opening.  The dates are those of "
                                    "`conetide flowering`.\n");
    return facts.sheet;
}
