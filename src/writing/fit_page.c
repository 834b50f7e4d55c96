#include "writing/fit_page.h"

#include "writing/fit_words.h"
#include "writing/head.h"
#include "writing/words.h"

#include <math.h>

enum {
    EVENT,
    SPECIES,
    SITE,
    SELECTION,
    CLOCK,
    HEAT_UNITS,
    PER_DAY,
    RESIDUAL,
    SPREAD,
    CLONE_SPREAD,
    BASIS,
    SEASONS_SEEN,
    SOURCE,
    COLUMNS
};

static const struct sheet_column columns[COLUMNS] = {
    [EVENT] = {"event", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SPECIES] = {"species", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CLOCK] = {"clock", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [HEAT_UNITS] = {"heat_units_c", "heat units", CELL_HEAT, 1, COLUMN_EVERYWHERE},
    [PER_DAY] = {"per_day_c", NULL, CELL_HEAT, 1, COLUMN_DATA_ONLY},
    [RESIDUAL] = {"residual_days", "residual", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [SPREAD] = {"spread_days", "of grafts", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [CLONE_SPREAD] = {"clone_spread_days", "of clones", CELL_NUMBER, 1, COLUMN_EVERYWHERE},
    [BASIS] = {"basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [SEASONS_SEEN] = {"seasons_seen", "seasons", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [SOURCE] = {"source", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
};

static const char *source_of(const struct event_fit *fit, const struct fit_selection *selection,
                             const struct page_run *run)
{
    char day[DAY_TEXT];
    struct text words;

    text_init(&words, run->arena);
    text_addf(&words, "fitted %s to ", day_text(run->as_of, day));
    words_add_count(&words, selection ? selection->sights : fit->sights, "date", "dates");
    text_add(&words, " of ");
    words_add_count(&words, selection ? (size_t)selection->seasons : fit->used, "season",
                    "seasons");
    text_add(&words, selection ? ", drawn toward the site's threshold" : ", ");
    if (!selection)
        fit_add_years(fit, &words);
    if (!selection && fit->judged)
        text_addf(
            &words,
            "; a season left out errs by %.1f days root mean square, the calendar mean by %.1f",
            fit_expected(fit)->rmse_days, fit->search.found.calendar.rmse_days);
    if (!selection && !fit->judged)
        text_add(&words, "; too few to tell the error, which is assumed");
    return words.bytes;
}

static void set_common(union cell *cells, const struct event_fit *fit, const char *clock)
{
    cells[EVENT].text = event_names[fit->event];
    cells[SPECIES].text = fit->species;
    cells[SITE].text = fit->site->name;
    cells[CLOCK].text = clock;
    if (fit->search.clock.per_day_c < 0)
        cells[PER_DAY].number = fit->search.clock.per_day_c;
    cells[SPREAD].number = fit->spread_days;
    cells[BASIS].text = "fitted";
}

static void add_rows(const struct event_fit *fit, const struct page_run *run, struct sheet *sheet)
{
    const char *clock = fit_clock_name(fit, run->arena);
    union cell *cells = sheet_row(sheet);

    set_common(cells, fit, clock);
    cells[HEAT_UNITS].number = fit->units_c;
    cells[RESIDUAL].number = fit->residual_days;
    cells[CLONE_SPREAD].number = fit->clone_spread_days;
    cells[SEASONS_SEEN].number = (double)fit->used;
    cells[SOURCE].text = source_of(fit, NULL, run);
    for (size_t i = 0; i < fit->selection_count; i++) {
        const struct fit_selection *of = &fit->selections[i];

        if (!(of->units_c > 0))
            continue;
        cells = sheet_row(sheet);
        set_common(cells, fit, clock);
        cells[SELECTION].text = of->selection->name;
        cells[HEAT_UNITS].number = of->units_c;
        /* a row of its own takes the spread of clones off, so what is not known of it goes here */
        cells[RESIDUAL].number = hypot(fit->residual_days, of->error_days);
        cells[SEASONS_SEEN].number = of->seasons;
        cells[SOURCE].text = source_of(fit, of, run);
    }
}

static void add_head(const struct fits *fits, const struct page_run *run, struct text *out)
{
    head_write_title(run, "Thresholds fitted to past seasons", out);
    text_add(out, "\n");
    if (fits->unknown > 0) {
        words_add_count(out, fits->unknown, "graft or tree is", "grafts and trees are");
        text_add(out, " of unknown identity and left out\n");
    }
    if (fits->count == 0)
        text_add(out, "No note tells the stage of strobili or catkins: note stages at every look, "
                      "also while nothing has come yet\n");
}

struct sheet fit_sheet(const struct fits *fits, const struct page_run *run)
{
    struct sheet sheet;
    bool searched = false;

    sheet_init(&sheet, run->arena, "conetide fit 1", COLUMNS, columns);
    add_head(fits, run, &sheet.head);
    for (size_t i = 0; i < fits->count; i++) {
        const struct event_fit *fit = &fits->list[i];

        fit_add_report(fit, run, &sheet.head);
        if (fit->fitted)
            add_rows(fit, run, &sheet);
        searched = searched || (fit->fitted && fit->search.searched);
    }
    if (searched) {
        text_add(&sheet.foot, "For \"clocks\" in program.json:\n");
        for (size_t i = 0; i < fits->count; i++)
            if (fits->list[i].fitted && fits->list[i].search.searched)
                fit_add_clock_block(&fits->list[i], run->arena, &sheet.foot);
    }
    if (sheet.row_count > 0)
        text_add(
            &sheet.foot,
            "--format csv prints the rows of thresholds.csv.  They take the place of fitted rows "
            "of the same event, species, site and selection.\n"
            "residual: what weather does not tell, of selections with what is not known of "
            "them; of grafts: of one selection; of clones: between selections; all in days.\n");
    return sheet;
}
