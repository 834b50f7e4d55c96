#include "writing/head.h"
#include "writing/words.h"

#include <math.h>

enum {
    HEADING,
    SELECTION,
    SOURCE,
    TREE,
    TAG,
    SITE,
    SEASON,
    SHED_TEXT,
    PEAK_TEXT,
    OVER_TEXT,
    SHED,
    CATKINS = SHED + 9,
    CATKINS_ON,
    ML,
    READY_TEXT,
    READY,
    STATE = READY + 3,
    BASIS,
    CROSS,
    CROSS_SITE,
    CROSS_FIRST,
    CROSS_LAST,
    BY_FIRST,
    BY_LAST,
    CROSSES_TEXT,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SOURCE] = {"source", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASON] = {"season", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [SHED_TEXT] = {"sheds_from", "sheds from", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [PEAK_TEXT] = {"peak", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [OVER_TEXT] = {"over_by", "over by", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    SHEET_THREE_DATES(SHED, "shed_first"),
    SHEET_THREE_DATES(SHED + 3, "shed_peak"),
    SHEET_THREE_DATES(SHED + 6, "shed_last"),
    [CATKINS] = {"catkins", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [CATKINS_ON] = {"catkins_on", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [ML] = {"pollen_ml", "pollen [ml]", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [READY_TEXT] = {"ready", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    SHEET_THREE_DATES(READY, "ready"),
    [STATE] = {"state", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [BASIS] = {"basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CROSS] = {"cross", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CROSS_SITE] = {"seed_parent_site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CROSS_FIRST] = {"receptive_first_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [CROSS_LAST] = {"receptive_last_p50", NULL, CELL_DAY, 0, COLUMN_DATA_ONLY},
    [BY_FIRST] = {"ready_by_first", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [BY_LAST] = {"ready_by_last", NULL, CELL_CHANCE, 3, COLUMN_DATA_ONLY},
    [CROSSES_TEXT] = {"crosses", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

static void set_source(union cell *cells, const struct pollen_source *source, struct arena *arena)
{
    cells[HEADING].text = arena_printf(arena, "%d, %s; shed dates %s", source->season,
                                       source->site->name, basis_names[source->bloom->basis]);
    cells[SELECTION].text = source->selection->name;
    cells[SOURCE].text = source->graft != NULL ? source->graft->graft->tag : source->tree->name;
    cells[TREE].text = source->tree->name;
    cells[TAG].text = source->graft != NULL ? source->graft->graft->tag : NULL;
    cells[SITE].text = source->site->name;
    cells[SEASON].number = source->season;
    cells[SHED_TEXT].text =
        source->over ? "over"
                     : words_range(arena, source->shed[0][0], source->shed[0][THREE_DATES - 1]);
    cells[PEAK_TEXT].text = words_day_short(arena, source->shed[1][1]);
    cells[OVER_TEXT].text = words_day_short(arena, source->shed[2][THREE_DATES - 1]);
    for (int e = 0; e < 3; e++)
        for (int i = 0; i < THREE_DATES; i++)
            cells[SHED + e * THREE_DATES + i].day = source->shed[e][i];
    if (source->catkins >= 0)
        cells[CATKINS].number = source->catkins;
    cells[CATKINS_ON].day = source->catkins_on;
    cells[ML].number = source->ml;
    cells[READY_TEXT].text =
        source->over ? NULL : words_range(arena, source->ready[0], source->ready[THREE_DATES - 1]);
    for (int i = 0; i < THREE_DATES; i++)
        cells[READY + i].day = source->ready[i];
    cells[STATE].text = source->over ? "over" : "to come";
    cells[BASIS].text = basis_names[source->bloom->basis];
}

static void set_use(union cell *cells, const struct pollen_use *use)
{
    cells[CROSS].text = use->cross->name;
    cells[CROSS_SITE].text = use->site->name;
    cells[CROSS_FIRST].day = use->first;
    cells[CROSS_LAST].day = use->last;
    cells[BY_FIRST].number = use->ready_by_first;
    cells[BY_LAST].number = use->ready_by_last;
}

/* "in time for S104xS201 62 %/97 %, ...". */
static const char *crosses_text(struct arena *arena, const struct pollen_forecast *forecast,
                                size_t source, size_t *at)
{
    struct text words;

    text_init(&words, arena);
    for (; *at < forecast->use_count && forecast->uses[*at].source == source; (*at)++) {
        const struct pollen_use *use = &forecast->uses[*at];

        text_addf(&words, "%s%s ", words.length > 0 ? ", " : "in time for ", use->cross->name);
        words_add_chance(&words, use->ready_by_first);
        text_add(&words, "/");
        words_add_chance(&words, use->ready_by_last);
    }
    return words.length > 0 ? words.bytes : NULL;
}

static void add_foot(const struct pollen_forecast *forecast, struct text *foot)
{
    text_addf(foot,
              "sheds from: days between which 8 of 10 futures fall.  ready: gathered on the first "
              "day of shed, dried %d days and tested %d (common practice, no source).  in "
              "time for: chance of being ready before the seed parent is receptive/before it is "
              "over, at the site where it flowers first.  ",
              POLLEN_DRYING_DAYS, POLLEN_TEST_DAYS);
    if (isnan(forecast->ml_per_catkin))
        text_add(foot, "Millilitres are not told: no tree has a note of catkins and one of pollen "
                       "collected in one season.  ");
    else
        text_addf(foot, "Millilitres: %.2f a catkin, as %zu %s of a tree gave here.  ",
                  forecast->ml_per_catkin, forecast->ml_seasons,
                  forecast->ml_seasons == 1 ? "season" : "seasons");
    text_add(foot,
             "Grafts seldom carry catkins in their first spring: they are listed once catkins "
             "have been counted on them.\n");
}

struct sheet pollen_sheet(const struct pollen_forecast *forecast, const struct page_run *run)
{
    struct sheet sheet, *shown;
    struct head head;
    size_t at = 0, shown_at = 0;

    sheet_init(&sheet, run->arena, "conetide pollen 1", COLUMNS, columns);
    shown = sheet_shown(&sheet);
    head_init(&head, run);
    for (size_t i = 0; i < forecast->source_count; i++) {
        const struct pollen_source *source = &forecast->sources[i];
        union cell *cells;
        bool used = false;

        for (; at < forecast->use_count && forecast->uses[at].source == i; at++) {
            cells = sheet_row(&sheet);
            set_source(cells, source, run->arena);
            set_use(cells, &forecast->uses[at]);
            used = true;
        }
        if (!used)
            set_source(sheet_row(&sheet), source, run->arena);
        if (used || source->catkins > 0) {
            cells = sheet_row(shown);
            set_source(cells, source, run->arena);
            cells[CROSSES_TEXT].text = crosses_text(run->arena, forecast, i, &shown_at);
        }
        head_see(&head, source->site, source->season, source->bloom);
    }
    head_write(&head, "Own pollen of the season", &sheet.head);
    add_foot(forecast, &sheet.foot);
    return sheet;
}
