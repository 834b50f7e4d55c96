#include "writing/hosts_page.h"

#include "writing/head.h"
#include "writing/words.h"

#include <math.h>

enum { FIGURE_COLUMNS = 6, SPRING_COLUMNS = 2 * FIGURE_COLUMNS };

enum {
    CLONE,
    SPECIES,
    SITE,
    TREES,
    REACH_LOW,
    REACH_HIGH,
    FREE_TOP,
    FREE_MIDDLE,
    FREE_LOW,
    GRAFTS,
    LIVING,
    FIGURES,
    TEXTS = FIGURES + SPRINGS * SPRING_COLUMNS,
    PER_GRAFT = TEXTS + 2 * SPRINGS,
    SEEN_TEXT,
    PLACES_TEXT,
    COLUMNS
};

#define FIGURE(at, name, kind, digits)                                                             \
    [at] = {name, NULL, kind, digits, COLUMN_DATA_ONLY},                                           \
    [at + 1] = {name "_low", NULL, kind, digits, COLUMN_DATA_ONLY},                                \
    [at + 2] = {name "_high", NULL, kind, digits, COLUMN_DATA_ONLY},                               \
    [at + 3] = {name "_counted", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},                         \
    [at + 4] = {name "_of", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},                              \
    [at + 5] = {name "_basis", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY}

static const struct sheet_column columns[COLUMNS] = {
    [CLONE] = {"clone", "interstock clone", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SPECIES] = {"species", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TREES] = {"trees", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [REACH_LOW] = {"reach_low_m", NULL, CELL_LENGTH, 1, COLUMN_DATA_ONLY},
    [REACH_HIGH] = {"reach_high_m", NULL, CELL_LENGTH, 1, COLUMN_DATA_ONLY},
    [FREE_TOP] = {"free_top", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [FREE_MIDDLE] = {"free_middle", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [FREE_LOW] = {"free_low", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    [GRAFTS] = {"grafts_made", "grafts made", CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [LIVING] = {"grafts_living", NULL, CELL_INTEGER, 0, COLUMN_DATA_ONLY},
    FIGURE(FIGURES, "alive_season_1", CELL_CHANCE, 3),
    FIGURE(FIGURES + FIGURE_COLUMNS, "strobili_season_1", CELL_NUMBER, 1),
    FIGURE(FIGURES + SPRING_COLUMNS, "alive_season_2", CELL_CHANCE, 3),
    FIGURE(FIGURES + SPRING_COLUMNS + FIGURE_COLUMNS, "strobili_season_2", CELL_NUMBER, 1),
    [TEXTS] = {"alive_1", "alive, first spring", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [TEXTS + 1] = {"strobili_1", "strobili if alive", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [TEXTS + 2] = {"alive_2", "alive, second spring", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [TEXTS + 3] = {"strobili_2", "strobili if alive", CELL_TEXT, 0, COLUMN_TEXT_ONLY},
    [PER_GRAFT] = {"strobili_per_graft", "strobili a graft made", CELL_NUMBER, 1,
                   COLUMN_EVERYWHERE},
    [SEEN_TEXT] = {"seen", NULL, CELL_TEXT, 0, COLUMN_BELOW},
    [PLACES_TEXT] = {"places", NULL, CELL_TEXT, 0, COLUMN_BELOW},
};

static const char *const basis_words[] = {
    [HOST_OWN] = "own grafts",  [HOST_SPECIES] = "its species", [HOST_GENERAL] = "all grafts",
    [HOST_RATES] = "rates.csv", [HOST_NOTHING] = "no rate",
};

static void set_figure(union cell *cells, const struct host_figure *figure)
{
    cells[0].number = figure->value;
    cells[1].number = figure->low;
    cells[2].number = figure->high;
    cells[3].number = figure->counted;
    cells[4].number = figure->of;
    cells[5].text = isnan(figure->value) ? NULL : basis_words[figure->basis];
}

static void set_data(union cell *cells, const struct host *host)
{
    cells[CLONE].text = host->clone;
    cells[SPECIES].text = host->species;
    cells[SITE].text = host->site != NULL ? host->site->name : NULL;
    cells[TREES].number = (double)host->trees;
    cells[REACH_LOW].number = host->reach_low_m;
    cells[REACH_HIGH].number = host->reach_high_m;
    for (int crown = CROWN_TOP; crown < CROWNS; crown++)
        cells[FREE_TOP + crown - CROWN_TOP].number = host->free[crown];
    cells[GRAFTS].number = (double)host->grafts;
    cells[LIVING].number = (double)host->living;
    for (int spring = 0; spring < SPRINGS; spring++) {
        union cell *at = &cells[FIGURES + spring * SPRING_COLUMNS];

        set_figure(at, &host->spring[spring].survival);
        set_figure(at + FIGURE_COLUMNS, &host->spring[spring].strobili);
    }
    cells[PER_GRAFT].number = host->strobili_per_graft;
}

/* "72 % (60-83)", "7.4 (5.8-9.1)"; what is not of its own grafts without a range. */
static const char *figure_text(struct arena *arena, const struct host_figure *figure, bool share)
{
    double times = share ? 100 : 1;
    int digits = share ? 0 : 1;
    const char *unit = share ? " %" : "";

    if (isnan(figure->value))
        return NULL;
    if (isnan(figure->low))
        return arena_printf(arena, "%.*f%s", digits, times * figure->value, unit);
    return arena_printf(arena, "%.*f%s (%.*f-%.*f)", digits, times * figure->value, unit, digits,
                        times * figure->low, digits, times * figure->high);
}

/* "; as slash: alive and strobili in the second spring". */
static void add_basis(struct text *text, const struct host *host, enum host_basis basis,
                      const char *what)
{
    static const char *const names[SPRINGS][2] = {
        {"alive in the first spring", "strobili in the first spring"},
        {"alive in the second", "strobili in the second"}};
    int count = 0;

    for (int i = 0; i < SPRINGS; i++) {
        const struct host_figure *figures[] = {&host->spring[i].survival,
                                               &host->spring[i].strobili};

        for (int k = 0; k < 2; k++)
            if (figures[k]->basis == basis)
                text_addf(text, "%s%s", count++ ? ", " : what, names[i][k]);
    }
}

/* "lived: 22 of 24, 9 of 10; strobili counted on 25 and 12 grafts". */
static const char *seen_text(struct arena *arena, const struct host *host)
{
    const struct host_spring *spring = host->spring;
    struct text text;

    text_init(&text, arena);
    if (spring[0].survival.of + spring[1].survival.of + spring[0].strobili.of +
            spring[1].strobili.of >
        0)
        text_addf(&text,
                  "lived: %.0f of %.0f, %.0f of %.0f; strobili counted on %.0f and %.0f grafts",
                  spring[0].survival.counted, spring[0].survival.of, spring[1].survival.counted,
                  spring[1].survival.of, spring[0].strobili.of, spring[1].strobili.of);
    else
        text_add(&text, "nothing seen on it yet");
    add_basis(&text, host, HOST_SPECIES,
              arena_printf(arena, "; as %s: ", host->species != NULL ? host->species : "-"));
    add_basis(&text, host, HOST_GENERAL, "; as all grafts: ");
    add_basis(&text, host, HOST_RATES, "; by the rates in use: ");
    add_basis(&text, host, HOST_NOTHING, "; no rate: ");
    return text.bytes;
}

static int free_on(const struct host *host)
{
    return host->free[CROWN_TOP] + host->free[CROWN_MIDDLE] + host->free[CROWN_LOW];
}

static void add_reach(struct text *text, const struct host *host, bool units_us)
{
    double times = units_us ? 1 / 0.3048 : 1;
    const char *unit = units_us ? "ft" : "m";

    if (isnan(host->reach_low_m))
        return;
    text_addf(text, "; reach %.1f", host->reach_low_m * times);
    if (host->reach_high_m > host->reach_low_m)
        text_addf(text, " to %.1f", host->reach_high_m * times);
    text_addf(text, " %s", unit);
}

/* "free: 12 top, 20 middle, 3 low (Hawkfell 11, Larkmoor 9); reach 9.0 to 14.8 m". */
static const char *places_text(const struct page_run *run, const struct hosts *hosts, size_t at)
{
    const struct host *host = &hosts->list[at];
    struct text text;
    bool several = at + 1 < hosts->count && hosts->list[at + 1].site != NULL;

    text_init(&text, run->arena);
    text_addf(&text, "free places: %d top, %d middle, %d low", host->free[CROWN_TOP],
              host->free[CROWN_MIDDLE], host->free[CROWN_LOW]);
    for (size_t i = at + 1; several && i < hosts->count && hosts->list[i].site != NULL; i++)
        text_addf(&text, "%s%s %d", i == at + 1 ? " (" : ", ", hosts->list[i].site->name,
                  free_on(&hosts->list[i]));
    text_add(&text, several ? ")" : "");
    if (host->uncounted > 0) {
        text_add(&text, "; not counted in ");
        words_add_count(&text, host->uncounted, "zone", "zones");
    }
    add_reach(&text, host, run->units_us);
    return text.bytes;
}

static void show(struct sheet *sheet, const struct hosts *hosts, size_t at,
                 const struct page_run *run)
{
    const struct host *host = &hosts->list[at];
    union cell *cells = sheet_row(sheet_shown(sheet));

    set_data(cells, host);
    for (int spring = 0; spring < SPRINGS; spring++) {
        const struct host_spring *of = &host->spring[spring];

        cells[TEXTS + 2 * spring].text = figure_text(run->arena, &of->survival, true);
        cells[TEXTS + 2 * spring + 1].text = figure_text(run->arena, &of->strobili, false);
    }
    cells[SEEN_TEXT].text = seen_text(run->arena, host);
    cells[PLACES_TEXT].text = places_text(run, hosts, at);
}

struct sheet hosts_sheet(const struct hosts *hosts, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide grafting hosts 1", COLUMNS, columns);
    (void)sheet_shown(&sheet);
    for (size_t i = 0; i < hosts->count; i++) {
        set_data(sheet_row(&sheet), &hosts->list[i]);
        if (hosts->list[i].site == NULL)
            show(&sheet, hosts, i, run);
    }
    head_write_title(run, "What interstock clones have given to grafts, the best first",
                     &sheet.head);
    text_add(&sheet.head, "\n");
    text_add(&sheet.foot,
             "Alive: of grafts made; strobili: of a live graft, those without any among them; in "
             "brackets what holds with 80 %.  Each is drawn toward the other clones of the species "
             "the more, the fewer grafts it has.  A clone's own cones say nothing of what it does "
             "to grafts and are not asked.\n");
    return sheet;
}
