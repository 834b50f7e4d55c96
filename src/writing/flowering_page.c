#include "writing/head.h"
#include "writing/visit.h"
#include "writing/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DATED = EVENT_CLOSED - EVENT_BAG_BY + 1 };

enum {
    HEADING,
    SUBHEADING,
    TAG,
    SELECTION,
    SITE,
    TREE,
    SEASON,
    SEASON_NUMBER,
    BAG_BY_TEXT,
    FIRST_TEXT,
    PEAK_TEXT,
    LAST_TEXT,
    DATES,
    CHANCE_ALIVE = DATES + DATED * THREE_DATES,
    STROBILI_TEXT,
    STROBILI,
    COUNTED,
    COUNTED_ON,
    BASIS,
    SEASONS_SEEN,
    REMARK,
    COLUMNS
};

#define THREE(place, name)                                                                         \
    [place] = {name "_p10", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},                                  \
    [(place) + 1] = {name "_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},                            \
    [(place) + 2] = {name "_p90", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY}

static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SUBHEADING] = {"subheading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SEASON_NUMBER] = {"season_number", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [BAG_BY_TEXT] = {"bag_by", "bag by", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [FIRST_TEXT] = {"first", "first", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [PEAK_TEXT] = {"peak", "peak", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [LAST_TEXT] = {"last", "last", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    THREE(DATES, "bag_by"),
    THREE(DATES + 3, "opening"),
    THREE(DATES + 6, "first"),
    THREE(DATES + 9, "peak"),
    THREE(DATES + 12, "last"),
    THREE(DATES + 15, "closed"),
    [CHANCE_ALIVE] = {"chance_alive", "alive", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [STROBILI_TEXT] = {"strobili", "strobili", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [STROBILI] = {"strobili", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [COUNTED] = {"strobili_counted", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [COUNTED_ON] = {"counted_on", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BASIS] = {"basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASONS_SEEN] = {"seasons_seen", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};

static const char *range(struct arena *arena, const daynum days[THREE_DATES])
{
    struct text words;
    text_init(&words, arena);
    words_add_range(&words, days[0], days[THREE_DATES - 1]);
    return words.bytes;
}

static const char *one_day(struct arena *arena, daynum day)
{
    struct text words;
    text_init(&words, arena);
    words_add_day_short(&words, day);
    return words.bytes;
}

static const char *strobili_text(struct arena *arena, const struct flowering_row *row)
{
    if (!isfinite(row->strobili))
        return NULL;
    return row->counted ? arena_printf(arena, "%.0f seen", row->strobili)
                        : arena_printf(arena, "about %.0f", row->strobili);
}

static const char *remark(struct arena *arena, const struct bloom *bloom)
{
    if (!bloom || !bloom->few_members)
        return bloom ? bloom->remark : NULL;
    return arena_printf(arena, "%zu past years only%s%s", bloom_plain(bloom)->members,
                        bloom->remark ? "; " : "", bloom->remark ? bloom->remark : "");
}

/* "2028, Holm". */
static const char *heading(struct arena *arena, const struct flowering_row *row)
{
    return arena_printf(arena, "%d, %s", row->season, row->site ? row->site->name : "-");
}

/* "first spring; dates fitted here, 5 seasons seen; 12 past years only". */
static const char *subheading(struct arena *arena, const struct flowering_row *row)
{
    const char *more = remark(arena, row->bloom);
    struct text words;
    text_init(&words, arena);
    text_add(&words, row->season_number == 1 ? "first spring" : "second spring");
    if (row->bloom)
        text_addf(&words, "; dates %s", basis_names[row->bloom->basis]);
    if (row->bloom && row->bloom->seasons_seen >= 0) {
        text_add(&words, ", ");
        words_add_count(&words, (size_t)row->bloom->seasons_seen, "season", "seasons");
        text_add(&words, " seen");
    }
    if (more)
        text_addf(&words, "; %s", more);
    return words.bytes;
}

/* A date of the row, as people read it: what keeps it from coming, when nothing else does. */
static daynum date_of(const struct flowering_row *row, enum event event, int which)
{
    daynum day = row->dates[event][which];
    if (day == DAY_NEVER && row->bloom && bloom_unchilled(row->bloom, event, three_chances[which]))
        return WORDS_UNCHILLED;
    return day;
}

static const char *range_of(struct arena *arena, const struct flowering_row *row, enum event event)
{
    daynum days[THREE_DATES];
    for (int i = 0; i < THREE_DATES; i++)
        days[i] = date_of(row, event, i);
    return range(arena, days);
}

static void set_row(union cell *cells, const struct flowering_row *row, struct arena *arena)
{
    cells[HEADING].text = heading(arena, row);
    cells[SUBHEADING].text = subheading(arena, row);
    cells[TAG].text = row->graft->graft->tag;
    cells[SELECTION].text = graft_selection_name(row->graft);
    cells[SITE].text = row->site ? row->site->name : NULL;
    cells[TREE].text = row->graft->graft->tree_name;
    cells[SEASON].number = row->season;
    cells[SEASON_NUMBER].number = row->season_number;
    cells[BAG_BY_TEXT].text = one_day(arena, date_of(row, EVENT_BAG_BY, 0));
    cells[FIRST_TEXT].text = range_of(arena, row, EVENT_FIRST);
    cells[PEAK_TEXT].text = one_day(arena, date_of(row, EVENT_PEAK, 1));
    cells[LAST_TEXT].text = range_of(arena, row, EVENT_LAST);
    for (int event = 0; event < DATED; event++)
        for (int i = 0; i < THREE_DATES; i++)
            cells[DATES + event * THREE_DATES + i].day =
                date_of(row, (enum event)(EVENT_BAG_BY + event), i);
    cells[CHANCE_ALIVE].number = row->chance_alive;
    cells[STROBILI_TEXT].text = strobili_text(arena, row);
    cells[STROBILI].number = row->strobili;
    cells[COUNTED].text = row->counted ? "yes" : "no";
    cells[COUNTED_ON].day = row->counted ? row->counted_on : DAY_NONE;
    if (row->bloom) {
        cells[BASIS].text = basis_names[row->bloom->basis];
        if (row->bloom->seasons_seen >= 0)
            cells[SEASONS_SEEN].number = row->bloom->seasons_seen;
    }
    cells[REMARK].text = remark(arena, row->bloom);
}

static int compare_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) : (a != NULL) - (b != NULL);
}

/* What dates rest on: the best first, then by how much was seen. */
static int compare_basis(const struct bloom *a, const struct bloom *b)
{
    if (!a || !b)
        return (b != NULL) - (a != NULL);
    int order = (int)a->basis - (int)b->basis;
    if (order == 0)
        order = b->seasons_seen - a->seasons_seen;
    if (order == 0)
        order = (int)a->few_members - (int)b->few_members;
    return order ? order : compare_text(a->remark, b->remark);
}

/* As they are read: rows under one heading stand together. */
static int by_heading_and_tag(const void *a, const void *b)
{
    const struct flowering_row *x = *(const struct flowering_row *const *)a,
                               *y = *(const struct flowering_row *const *)b;
    int order = x->season - y->season;
    if (order == 0)
        order = compare_text(x->site ? x->site->name : NULL, y->site ? y->site->name : NULL);
    if (order == 0)
        order = x->season_number - y->season_number;
    if (order == 0)
        order = compare_basis(x->bloom, y->bloom);
    return order ? order : strcmp(x->graft->graft->tag, y->graft->graft->tag);
}

static void show_rows(struct sheet *sheet, const struct flowering_rows *rows)
{
    struct sheet *shown = sheet_shown(sheet);
    const struct flowering_row **list =
        ARENA_ARRAY(sheet->arena, rows->count, const struct flowering_row *);
    for (size_t i = 0; i < rows->count; i++)
        list[i] = &rows->list[i];
    if (rows->count > 1)
        qsort(list, rows->count, sizeof *list, by_heading_and_tag);
    for (size_t i = 0; i < rows->count; i++)
        set_row(sheet_row(shown), list[i], sheet->arena);
}

struct sheet flowering_sheet(const struct flowering_rows *rows, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;
    sheet_init(&sheet, run->arena, "conetide flowering 1", COLUMNS, columns);
    head_init(&head, run);
    for (size_t i = 0; i < rows->count; i++) {
        const struct flowering_row *row = &rows->list[i];
        set_row(sheet_row(&sheet), row, run->arena);
        head_see(&head, row->site, row->season, row->bloom);
    }
    show_rows(&sheet, rows);
    head_write(&head, "Flowering of grafts", &sheet.head);
    text_add(&sheet.foot,
             "bag by: a bag hung later is clean in fewer than 9 of 10 futures.  first: a fifth of "
             "the strobili partly open; last: four fifths closed; both as days between which 8 of "
             "10 futures fall.  peak: as likely before as after.  Opening and closing stand in the "
             "CSV and JSON forms.\n");
    return sheet;
}
