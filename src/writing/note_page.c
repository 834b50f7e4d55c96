#include "writing/note_page.h"

#include <math.h>

static void add_count(struct text *out, size_t count, const char *one, const char *many)
{
    text_addf(out, "%zu %s", count, count == 1 ? one : many);
}

static size_t count_added(const struct note_page *page, size_t by_kind[NOTES])
{
    size_t added = 0;

    for (size_t i = 0; i < page->notes->count; i++) {
        const struct typed_note *of = &page->notes->list[i];

        if (of->there)
            continue;
        by_kind[of->note.kind]++;
        added++;
    }
    return added;
}

static void add_notes(const struct note_page *page, struct text *out)
{
    size_t by_kind[NOTES] = {0}, added = count_added(page, by_kind);
    const char *between = ": ";

    if (added == 0) {
        text_add_printable(out, page->path);
        text_add(out, page->notes->rows == 0 ? ": no row says anything, so nothing is to be added\n"
                                             : ": nothing to add\n");
        return;
    }
    text_add_printable(out, page->path);
    text_addf(out, ": %s ", page->dry_run ? "would get" : "got");
    add_count(out, added, "note", "notes");
    for (int kind = 0; kind < NOTES; kind++) {
        if (by_kind[kind] == 0)
            continue;
        text_addf(out, "%s%zu %s", between, by_kind[kind], note_names[kind]);
        between = ", ";
    }
    text_add(out, "\n");
}

static void add_bags(const struct typed_effects *effects, struct text *out)
{
    if (effects->bags_new || effects->bags_off || effects->bags_lost) {
        add_count(out, effects->bags_hang, "bag hangs now", "bags hang now");
        if (effects->bags_new)
            text_addf(out, ", %zu of them new", effects->bags_new);
        if (effects->bags_new_not_clean)
            text_addf(out, " (%zu not clean: hung at stage 3 or later)",
                      effects->bags_new_not_clean);
        if (effects->bags_off)
            text_addf(out, ", %zu came off", effects->bags_off);
        if (effects->bags_lost)
            text_addf(out, ", %zu lost", effects->bags_lost);
        text_add(out, "\n");
    }
    if (effects->bags_visited) {
        add_count(out, effects->bags_visited, "bag", "bags");
        text_add(out, " pollinated\n");
    }
}

static void add_lots(const struct typed_effects *effects, struct text *out)
{
    for (size_t i = 0; i < effects->lot_count; i++) {
        if (isnan(effects->lots[i].left_ml))
            continue;
        text_add(out, "lot ");
        text_add_printable(out, effects->lots[i].lot);
        text_addf(out, ": %.2f ml left\n", effects->lots[i].left_ml);
    }
}

static void add_grafts(const struct typed_effects *effects, struct text *out)
{
    if (effects->grafts_new) {
        add_count(out, effects->grafts_new, "graft more", "grafts more");
        text_add(out, "\n");
    }
    if (effects->grafts_gone) {
        add_count(out, effects->grafts_gone, "graft is", "grafts are");
        text_add(out, " dead, lost or removed now\n");
    }
    if (effects->grafts_renamed) {
        add_count(out, effects->grafts_renamed, "graft has", "grafts have");
        text_add(out, " another tag or selection now\n");
    }
}

void note_page_write(const struct note_page *page, struct text *out)
{
    const struct typed_notes *notes = page->notes;

    add_notes(page, out);
    add_bags(&page->effects, out);
    add_lots(&page->effects, out);
    add_grafts(&page->effects, out);
    if (notes->rows_there) {
        add_count(out, notes->rows_there, "row was", "rows were");
        text_add(out, " there already and added nothing\n");
    }
    if (notes->blank_rows) {
        add_count(out, notes->blank_rows, "row is", "rows are");
        text_add(out, " still blank\n");
    }
}

enum { LINE, ENTRY, DATE, NOTE, TAG, BAG, TREE, LOT, CROSS, SITE, TASK, VALUE, OUTCOME, COLUMNS };
static const struct sheet_column columns[COLUMNS] = {
    [LINE] = {"line", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [ENTRY] = {"entry", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [DATE] = {"date", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [NOTE] = {"note", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BAG] = {"bag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [LOT] = {"lot", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TASK] = {"task", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [VALUE] = {"value", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [OUTCOME] = {"outcome", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

struct sheet note_page_sheet(const struct note_page *page, struct arena *arena)
{
    struct sheet sheet;

    sheet_init(&sheet, arena, "conetide note 1", COLUMNS, columns);
    for (size_t i = 0; i < page->notes->count; i++) {
        const struct typed_note *of = &page->notes->list[i];
        union cell *cells = sheet_row(&sheet);

        cells[LINE].number = of->row->place.line;
        cells[ENTRY].text = of->note.entry;
        cells[DATE].day = of->note.date;
        cells[NOTE].text = note_names[of->note.kind];
        cells[TAG].text = of->note.tag;
        cells[BAG].text = of->note.bag;
        cells[TREE].text = of->note.tree;
        cells[LOT].text = of->note.lot;
        cells[CROSS].text = of->note.cross;
        cells[SITE].text = of->note.site;
        cells[TASK].text = of->note.task;
        cells[VALUE].text = of->value_typed;
        cells[OUTCOME].text = of->there ? "there already" : page->dry_run ? "to add" : "added";
    }
    return sheet;
}
