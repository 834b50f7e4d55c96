#include "writing/rates_page.h"

#include "writing/head.h"
#include "writing/words.h"

#include <string.h>

enum {
    HEADING,
    RATE,
    HOST_SPECIES,
    CLONE,
    SITE,
    SELECTION,
    SEASON_NUMBER,
    OF,
    VALUE,
    LOW,
    HIGH,
    SEEN,
    SOURCE,
    FROM,
    IN_USE,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"rate", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [RATE] = {"rate", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [HOST_SPECIES] = {"host_species", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [CLONE] = {"clone", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASON_NUMBER] = {"season_number", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [OF] = {"of", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [VALUE] = {"value", NULL, CELL_NUMBER, 3, COLUMN_EVERYWHERE},
    [LOW] = {"low", NULL, CELL_NUMBER, 3, COLUMN_EVERYWHERE},
    [HIGH] = {"high", NULL, CELL_NUMBER, 3, COLUMN_EVERYWHERE},
    [SEEN] = {"seen", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SOURCE] = {"source", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [FROM] = {"from", NULL, CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [IN_USE] = {"in_use", "in use", CELL_NUMBER, 3, COLUMN_TEXT_ONLY},
};

static const char *const meanings[RATE_KINDS] = {
    [RATE_SURVIVAL] = "share of grafts made that live in that spring",
    [RATE_STROBILI_PER_LIVE_GRAFT] = "mean, grafts without any included",
    [RATE_BAGS_PER_GRAFT] = "what nine grafts of ten stay within; low: one of ten; high: the most",
    [RATE_STROBILI_PER_BAG] = "mean",
    [RATE_BAGS_LOST] = "share of bags",
    [RATE_CONELETS_KEPT] = "share of pollinated strobili that are conelets in summer",
    [RATE_CONES_KEPT] = "share of conelets that become ripe cones",
    [RATE_SEEDS_PER_CONE] = "filled seed",
    [RATE_MINUTES_EACH] = "crew-minutes per piece",
};

static void add_years(const struct rate_row *row, struct text *out)
{
    text_addf(out, "%d", row->first_season);
    if (row->last_season != row->first_season)
        text_addf(out, "-%d", row->last_season);
}

static void add_pieces(const struct rate_row *row, struct text *out)
{
    if (row->kind == RATE_MINUTES_EACH)
        words_add_count(out, row->pieces, "piece of work", "pieces of work");
    else if (row->kind <= RATE_BAGS_PER_GRAFT)
        words_add_count(out, row->pieces, "graft", "grafts");
    else
        words_add_count(out, row->pieces, "bag", "bags");
}

static const char *source_of(const struct rate_row *row, const struct page_run *run)
{
    char day[DAY_TEXT];
    struct text words;

    text_init(&words, run->arena);
    text_addf(&words, "fitted here %s, ", day_text(run->as_of, day));
    add_years(row, &words);
    text_add(&words, ", ");
    add_pieces(row, &words);
    text_add(&words, row->kind == RATE_BAGS_PER_GRAFT ? "; what nine grafts of ten stay within"
                     : row->level <= RATE_LEVEL_SEASON_NUMBER
                         ? "; range of 80 %"
                         : "; drawn toward the level above; range of 80 %");
    return words.bytes;
}

static const char *from_of(const struct rate_row *row, const struct page_run *run)
{
    struct text words;

    text_init(&words, run->arena);
    add_pieces(row, &words);
    text_add(&words, ", ");
    add_years(row, &words);
    return words.bytes;
}

/* "selection S14, first spring". */
static const char *subject_of(const struct rate_row *row, const struct page_run *run)
{
    const struct rate_subject *cells = &row->cells;
    struct text words;

    text_init(&words, run->arena);
    switch (row->level) {
    case RATE_LEVEL_HOST_SPECIES:
        text_addf(&words, "on %s", cells->host_species);
        break;
    case RATE_LEVEL_SITE:
        text_addf(&words, "at %s", cells->site);
        break;
    case RATE_LEVEL_CLONE:
        text_addf(&words, "clone %s", cells->clone);
        break;
    case RATE_LEVEL_SELECTION:
        text_addf(&words, "selection %s", cells->selection);
        break;
    default:
        text_add(&words, "all");
        break;
    }
    if (row->level > RATE_LEVEL_HOST_SPECIES && cells->host_species)
        text_addf(&words, " on %s", cells->host_species);
    if (cells->season_number > 0)
        text_add(&words, cells->season_number == 1 ? ", first spring" : ", second spring");
    return words.bytes;
}

static void add_row(const struct rate_row *row, const struct page_run *run, struct sheet *sheet)
{
    union cell *cells = sheet_row(sheet);

    cells[HEADING].text = arena_printf(run->arena, "%s: %s", row->rate, meanings[row->kind]);
    cells[RATE].text = row->rate;
    cells[HOST_SPECIES].text = row->cells.host_species;
    cells[CLONE].text = row->cells.clone;
    cells[SITE].text = row->cells.site;
    cells[SELECTION].text = row->cells.selection;
    if (row->cells.season_number > 0)
        cells[SEASON_NUMBER].number = row->cells.season_number;
    cells[OF].text = subject_of(row, run);
    cells[VALUE].number = number_of_decimal(row->value);
    cells[LOW].number = row->low;
    cells[HIGH].number = row->high;
    cells[SEEN].number = row->seen;
    cells[SOURCE].text = source_of(row, run);
    cells[FROM].text = from_of(row, run);
    cells[IN_USE].number = row->in_use;
}

/* What was hung is at most what could have been. */
static bool hangs_fewer(const struct rate_fit *fit)
{
    for (size_t i = 0; i < fit->count; i++) {
        const struct rate_row *row = &fit->list[i];

        if (row->kind == RATE_BAGS_PER_GRAFT && number_of_decimal(row->value) < row->in_use)
            return true;
    }
    return false;
}

static bool any_replaces(const struct rate_fit *fit)
{
    for (size_t i = 0; i < fit->count; i++)
        if (fit->list[i].replaces)
            return true;
    return false;
}

void rates_add_cautions(const struct rate_fit *fit, struct text *out)
{
    if (any_replaces(fit))
        text_add(out,
                 "rates.csv has rows with the same cells: take those out when you paste these, "
                 "two of them are an error\n");
    if (hangs_fewer(fit))
        text_add(out, "bags_per_graft tells what was hung; where fewer bags were wanted than a "
                      "graft could have carried, keep the larger rate in use\n");
    if (fit->contradictory > 0) {
        words_add_count(out, fit->contradictory, "count says", "counts say");
        text_add(out, " more conelets than strobili or more cones than conelets, left out\n");
    }
    if (fit->timed == 0)
        text_add(out, "no note tells minutes: give them as the value of done notes, and rows "
                      "minutes_each:TASK come\n");
}

static void add_head(const struct rate_fit *fit, const struct page_run *run, struct text *out)
{
    head_write_title(run, "Rates fitted to notes and tables", out);
    text_add(out, "\n");
    if (fit->count == 0)
        text_addf(out, "No rate was counted on %d grafts or bags or more\n", RATE_SEEN_LEAST);
}

static void add_foot(const struct rate_fit *fit, struct text *out)
{
    struct text cautions;

    text_init(&cautions, out->arena);
    rates_add_cautions(fit, &cautions);
    for (const char *line = cautions.bytes; *line != '\0'; line += strcspn(line, "\n") + 1)
        text_addf(out, "caution: %.*s\n", (int)strcspn(line, "\n"), line);
    if (fit->count == 0)
        return;
    text_addf(out,
              "--format csv prints the rows of rates.csv.  low to high: the rate lies there with "
              "80 %%, as far as these seasons can tell.  in use: by the folder's rows and those "
              "that ship.\n"
              "No row: groups of fewer than %d grafts or bags (%zu), and groups that tell no more "
              "than the level above.\n",
              RATE_SEEN_LEAST, fit->little_seen);
}

struct sheet rates_sheet(const struct rate_fit *fit, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide rates 1", COLUMNS, columns);
    add_head(fit, run, &sheet.head);
    for (size_t i = 0; i < fit->count; i++)
        add_row(&fit->list[i], run, &sheet);
    add_foot(fit, &sheet.foot);
    return sheet;
}
