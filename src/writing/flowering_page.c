#include "writing/head.h"
#include "writing/visit.h"
#include "writing/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DATED = EVENT_CLOSED - EVENT_BAG_BY + 1, PAST_DATED = EVENT_LAST - EVENT_FIRST + 1 };

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
    USUAL_TEXT,
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
    PAST,
    SEEN = PAST + PAST_DATED * THREE_DATES,
    COLUMNS = SEEN + 2 * LOOKED_EVENTS
};

#define LOOKS(place, name)                                                                         \
    [place] = {name "_not_yet", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},                              \
    [(place) + 1] = {name "_seen_by", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY}

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
    [USUAL_TEXT] = {"usual", "usual", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [LAST_TEXT] = {"last", "last", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    SHEET_THREE_DATES(DATES, "bag_by"),
    SHEET_THREE_DATES(DATES + 3, "opening"),
    SHEET_THREE_DATES(DATES + 6, "first"),
    SHEET_THREE_DATES(DATES + 9, "peak"),
    SHEET_THREE_DATES(DATES + 12, "last"),
    SHEET_THREE_DATES(DATES + 15, "closed"),
    SHEET_THREE_DATES(PAST, "past_first"),
    SHEET_THREE_DATES(PAST + 3, "past_peak"),
    SHEET_THREE_DATES(PAST + 6, "past_last"),
    LOOKS(SEEN, "opening"),
    LOOKS(SEEN + 2, "first"),
    LOOKS(SEEN + 4, "peak"),
    LOOKS(SEEN + 6, "last"),
    [CHANCE_ALIVE] = {"chance_alive", "alive", CELL_CHANCE, 3, COLUMN_EVERYWHERE},
    [STROBILI_TEXT] = {"strobili", "strobili", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [STROBILI] = {"strobili", NULL, CELL_NUMBER, 1, COLUMN_DATA_ONLY},
    [COUNTED] = {"strobili_counted", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [COUNTED_ON] = {"counted_on", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BASIS] = {"basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASONS_SEEN] = {"seasons_seen", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};

/* A date of the row, as people read it: what keeps it from coming, when nothing else does. */
static daynum date_of(const struct flowering_row *row, enum event event, int which)
{
    daynum day = row->dates[event][which];
    if (day == DAY_NEVER && row->bloom && bloom_unchilled(row->bloom, event, three_chances[which]))
        return WORDS_UNCHILLED;
    return day;
}

/* "3-5 Mar, seen", "by 5 Mar, seen"; false when it was not seen this season. */
static bool add_seen(struct text *words, const struct flowering_row *row, enum event event)
{
    daynum after, by;

    if (!row->bloom || !bloom_seen(row->bloom, event, &after, &by))
        return false;
    if (after == DAY_NONE)
        text_add(words, "by ");
    words_add_range(words, after == DAY_NONE ? by : after + 1, by);
    text_add(words, ", seen");
    return true;
}

static const char *range(struct arena *arena, const struct flowering_row *row, enum event event)
{
    struct text words;
    text_init(&words, arena);
    if (!add_seen(&words, row, event))
        words_add_range(&words, date_of(row, event, 0), date_of(row, event, THREE_DATES - 1));
    return words.bytes;
}

/* The event's median, or where it was seen. */
static const char *median(struct arena *arena, const struct flowering_row *row, enum event event)
{
    struct text words;
    text_init(&words, arena);
    if (!add_seen(&words, row, event))
        words_add_day_short(&words, date_of(row, event, 1));
    return words.bytes;
}

/* A graft that was seen open is late to bag. */
static const char *bag_by(struct arena *arena, const struct flowering_row *row)
{
    daynum after, by;
    struct text words;

    if (!row->bloom || !bloom_seen(row->bloom, EVENT_OPENING, &after, &by))
        return words_day_short(arena, date_of(row, EVENT_BAG_BY, 0));
    text_init(&words, arena);
    text_add(&words, "open ");
    words_add_day_short(&words, by);
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
    const char *said = bloom ? bloom->remark : NULL;
    if (bloom && bloom->looks_alone)
        return bloom->left > 0
                   ? arena_printf(arena,
                                  "what was seen fits %.1g %% of the futures: its days stand alone",
                                  100 * bloom->left)
                   : "what was seen fits no future: its days stand alone";
    if (!bloom || !bloom->few_members)
        return said;
    return arena_printf(arena, "%zu past years only%s%s", bloom_plain(bloom)->members,
                        said ? "; " : "", said ? said : "");
}

/* "2028, Holm". */
static const char *heading(struct arena *arena, const struct flowering_row *row)
{
    return arena_printf(arena, "%d, %s", row->season, row->site ? row->site->name : "-");
}

static const char *spring_of(int number, struct arena *arena)
{
    static const char *const words[] = {"first", "second", "third", "fourth", "fifth"};

    if (number >= 1 && number <= (int)(sizeof words / sizeof *words))
        return arena_printf(arena, "%s spring", words[number - 1]);
    return arena_printf(arena, "spring no. %d", number);
}

/* "first spring; dates fitted here, 5 seasons seen; 12 past years only". */
static const char *subheading(struct arena *arena, const struct flowering_row *row)
{
    const char *more = remark(arena, row->bloom);
    struct text words;
    text_init(&words, arena);
    text_add(&words, spring_of(row->season_number, arena));
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

/* What past years alone say. */
static void set_past(union cell *cells, const struct flowering_row *row, struct arena *arena)
{
    if (!row->past)
        return;
    cells[USUAL_TEXT].text = words_day_short(arena, bloom_date(row->past, EVENT_PEAK, 0.5));
    for (int event = 0; event < PAST_DATED; event++)
        for (int i = 0; i < THREE_DATES; i++)
            cells[PAST + event * THREE_DATES + i].day =
                bloom_date(row->past, (enum event)(EVENT_FIRST + event), three_chances[i]);
}

/* The last look that had not seen it, and the first that had. */
static void set_looks(union cell *cells, const struct flowering_row *row)
{
    const struct looks *looks = row->bloom ? row->bloom->looks : NULL;
    for (int i = 0; looks && i < LOOKED_EVENTS; i++) {
        cells[SEEN + 2 * i].day = looks->after[i];
        cells[SEEN + 2 * i + 1].day = looks->by[i];
    }
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
    cells[BAG_BY_TEXT].text = bag_by(arena, row);
    cells[FIRST_TEXT].text = range(arena, row, EVENT_FIRST);
    cells[PEAK_TEXT].text = median(arena, row, EVENT_PEAK);
    cells[LAST_TEXT].text = range(arena, row, EVENT_LAST);
    set_past(cells, row, arena);
    set_looks(cells, row);
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
             "10 futures fall.  peak: as likely before as after; usual: peak by past years alone.  "
             "open, seen: by stages noted of the graft this season, which move its later dates.  "
             "Opening and closing stand in the CSV and JSON forms.\n");
    return sheet;
}
