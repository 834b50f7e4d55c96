#include "writing/head.h"
#include "writing/visit.h"
#include "writing/words.h"

#include <math.h>

enum { TAGS_MOST = 8, EVENTS_TOLD = 5 };

enum {
    HEADING,
    SUBHEADING,
    SEASON,
    SITE,
    SELECTION,
    TAG,
    GRAFTS,
    DAY_TEXT_CELL,
    DAY,
    BY,
    RECEPTIVE = BY + EVENTS_TOLD,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SUBHEADING] = {"subheading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [GRAFTS] = {"grafts", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [DAY_TEXT_CELL] = {"day", "day", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [DAY] = {"day", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BY] = {"opening_by", "opened", CELL_CHANCE, 4, COLUMN_EVERYWHERE},
    [BY + 1] = {"first_by", "first", CELL_CHANCE, 4, COLUMN_EVERYWHERE},
    [BY + 2] = {"peak_by", "peak", CELL_CHANCE, 4, COLUMN_EVERYWHERE},
    [BY + 3] = {"last_by", "last", CELL_CHANCE, 4, COLUMN_EVERYWHERE},
    [BY + 4] = {"closed_by", "closed", CELL_CHANCE, 4, COLUMN_EVERYWHERE},
    [RECEPTIVE] = {"receptive", "receptive", CELL_CHANCE, 4, COLUMN_EVERYWHERE},
};

/* "S101: T002E and 11 more", all of them up to TAGS_MOST. */
static const char *who(const struct day_span *span, struct arena *arena)
{
    size_t shown = span->count <= TAGS_MOST ? span->count : TAGS_MOST - 1;
    struct text words;

    text_init(&words, arena);
    text_add_printable(&words, graft_selection_name(span->row->graft));
    text_add(&words, ":");
    for (size_t i = 0; i < shown; i++) {
        text_add(&words, i > 0 ? ", " : " ");
        text_add_printable(&words, span->rows[i]->graft->graft->tag);
    }
    if (shown < span->count)
        text_addf(&words, " and %zu more", span->count - shown);
    if (span->row->bloom->looks)
        text_add(&words, "; as seen this season");
    return words.bytes;
}

static void set_day(union cell *cells, const struct day_span *span, daynum day, struct arena *arena)
{
    const struct flowering_row *row = span->row;
    struct text words;

    text_init(&words, arena);
    words_add_day_short(&words, day);
    cells[HEADING].text = arena_printf(arena, "%d, %s", row->season, row->site->name);
    cells[SUBHEADING].text = who(span, arena);
    cells[SEASON].number = row->season;
    cells[SITE].text = row->site->name;
    cells[SELECTION].text = graft_selection_name(row->graft);
    cells[TAG].text = row->graft->graft->tag;
    cells[GRAFTS].number = (double)span->count;
    cells[DAY_TEXT_CELL].text = words.bytes;
    cells[DAY].day = day;
    for (int i = 0; i < EVENTS_TOLD; i++) {
        enum event event = (enum event)(EVENT_OPENING + i);

        if (row->bloom->days[event])
            cells[BY + i].number = bloom_by(row->bloom, event, day);
    }
    cells[RECEPTIVE].number = bloom_receptive(row->bloom, day);
}

struct sheet flowering_days_sheet(const struct flowering_days *days, const struct page_run *run)
{
    struct sheet sheet;
    struct head head;

    sheet_init(&sheet, run->arena, "conetide flowering days 1", COLUMNS, columns);
    head_init(&head, run);
    for (size_t i = 0; i < days->count; i++) {
        const struct day_span *span = &days->list[i];

        head_see(&head, span->row->site, span->row->season, span->row->bloom);
        for (daynum day = span->first; day <= span->last; day++)
            set_day(sheet_row(&sheet), span, day, run->arena);
    }
    head_write(&head, "Flowering of grafts, day by day", &sheet.head);
    text_add(&sheet.foot,
             "opened, first, peak, last, closed: chance that the event has come by the end of the "
             "day.  receptive: chance that the day lies in first to last.  They are asked of whole "
             "futures: receptive is not what the columns beside it give by themselves.\n");
    return sheet;
}
