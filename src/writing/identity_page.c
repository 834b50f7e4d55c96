#include "writing/identity_page.h"

#include "conetide/binomial.h"
#include "writing/head.h"
#include "writing/visit.h"
#include "writing/words.h"

#include <math.h>

enum { SHOWN_MOST = 12 }; /* rows of a concern that people are shown: own choice */

enum { HEADING, CONCERN, KIND, SUBJECT, SELECTION, SITE, TREE, SINCE, BAGS, WHAT, COLUMNS };

static const struct sheet_column columns[COLUMNS] = {
    [HEADING] = {"heading", NULL, CELL_TEXT, 0, COLUMN_HEADING},
    [CONCERN] = {"concern", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [KIND] = {"kind", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SUBJECT] = {"subject", "name", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_DATA_ONLY},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SINCE] = {"since", NULL, CELL_DAY, 0, COLUMN_EVERYWHERE},
    [BAGS] = {"bags", NULL, CELL_INTEGER, 0, COLUMN_EVERYWHERE},
    [WHAT] = {"what", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

/* As data, and as a heading. */
static const struct {
    const char *word, *heading;
} concerns[CONCERNS] = {
    [CONCERN_DOUBTED] = {"wrong or disputed", "Wrong or disputed, and not settled"},
    [CONCERN_CHANGED] = {"relabelled", "Relabelled"},
    [CONCERN_COUNTS] = {"counts", "Counts that do not add up: one may belong to another bag or "
                                  "graft"},
    [CONCERN_APART] = {"apart", "Flower apart from the others of their selection: check the "
                                "label"},
    [CONCERN_NOT_LISTED] = {"not in grafts.csv", "Tags that grafts.csv does not list"},
    [CONCERN_TWO_NAMES] = {"two names", "Clones under two names"},
    [CONCERN_NOT_SEEN] = {"not seen", "Nothing written of them for long"},
    [CONCERN_NEVER_CHECKED] = {"never checked", "Labels never checked"},
    [CONCERN_CHECKED] = {"checked", "Checked and right"},
};

static const char *const kinds[] = {[IDENTITY_GRAFT] = "graft",
                                    [IDENTITY_TREE] = "tree",
                                    [IDENTITY_LOT] = "lot",
                                    [IDENTITY_BAG] = "bag",
                                    [IDENTITY_SELECTION] = "selection"};

static void set_row(union cell *cells, const struct identity_row *row, const char *heading)
{
    const struct tree *tree = row->graft != NULL ? row->graft->tree : NULL;

    cells[HEADING].text = heading;
    cells[CONCERN].text = concerns[row->concern].word;
    cells[KIND].text = kinds[row->kind];
    cells[SUBJECT].text = row->subject;
    cells[SELECTION].text = row->selection_name;
    cells[SITE].text = tree != NULL ? tree->site_name : NULL;
    cells[TREE].text = row->graft != NULL ? row->graft->tree_name : NULL;
    cells[SINCE].day = row->since;
    if (row->graft != NULL && row->kind == IDENTITY_GRAFT)
        cells[BAGS].number = (double)row->bags;
    cells[WHAT].text = row->what;
}

/* "Labels never checked (247; the first 12, all in --format csv)". */
static const char *heading_of(const struct identity_list *identity, size_t first, size_t end,
                              struct arena *arena)
{
    const char *words = concerns[identity->list[first].concern].heading;
    struct text heading;

    text_init(&heading, arena);
    text_addf(&heading, "%s (%zu", words, end - first);
    if (end - first > SHOWN_MOST)
        text_addf(&heading, "; %d of them here, all in --format csv", SHOWN_MOST);
    text_add(&heading, ")");
    return heading.bytes;
}

static void add_rows(struct sheet *sheet, const struct identity_list *identity)
{
    for (size_t first = 0, end; first < identity->count; first = end) {
        enum identity_concern concern = identity->list[first].concern;
        const char *heading;

        for (end = first; end < identity->count && identity->list[end].concern == concern; end++)
            ;
        heading = heading_of(identity, first, end, sheet->arena);
        for (size_t i = first; i < end; i++) {
            set_row(sheet_row(sheet), &identity->list[i], heading);
            if (concern != CONCERN_CHECKED && i - first < SHOWN_MOST)
                set_row(sheet_row(sheet_shown(sheet)), &identity->list[i], heading);
        }
    }
    (void)sheet_shown(sheet);
}

static void add_found(struct text *out, const struct identity_list *identity)
{
    static const double z_of_95 = 1.959964;
    double low, high;

    words_add_count(out, identity->grafts, "graft may live", "grafts may live");
    if (identity->checked == 0) {
        text_add(out, "; no label was checked\n");
        return;
    }
    text_addf(out, "; labels checked: %zu, of these not right: %zu", identity->checked,
              identity->wrong);
    if (conetide_wilson((int64_t)identity->checked, (int64_t)identity->wrong, z_of_95, &low,
                        &high) == CONETIDE_OK) {
        text_add(out, " (if drawn at random, a share of ");
        text_addf(out, "%.0f to %.0f %%)", 100 * low, 100 * high);
    }
    text_add(out, "\n");
}

static double expected_wrong(const struct identity_list *identity, double share)
{
    return share * (double)(identity->grafts - identity->checked);
}

static void add_expected(struct text *out, const struct identity_list *identity)
{
    size_t others = identity->grafts - identity->checked;

    if (others == 0)
        return;
    text_addf(out,
              "Of the %zu others about %.0f are something else if %.0f %% of labels are wrong "
              "(%.0f to %.0f at %.0f to %.0f %%)\n",
              others, expected_wrong(identity, MISLABELLED_SHARE), 100 * MISLABELLED_SHARE,
              expected_wrong(identity, MISLABELLED_LEAST),
              expected_wrong(identity, MISLABELLED_MOST), 100 * MISLABELLED_LEAST,
              100 * MISLABELLED_MOST);
    text_addf(out,
              "To find a wrong one with 95 %%: test %lld labels drawn at random; %lld at %.0f "
              "%%, %lld at %.0f %%\n",
              (long long)mislabelled_tests(MISLABELLED_SHARE, 0.95),
              (long long)mislabelled_tests(MISLABELLED_LEAST, 0.95), 100 * MISLABELLED_LEAST,
              (long long)mislabelled_tests(MISLABELLED_MOST, 0.95), 100 * MISLABELLED_MOST);
}

static void add_facts(struct sheet *sheet, const struct identity_list *identity)
{
    sheet_add_fact(sheet, "grafts", (double)identity->grafts);
    sheet_add_fact(sheet, "labels_checked", (double)identity->checked);
    sheet_add_fact(sheet, "labels_wrong", (double)identity->wrong);
    sheet_add_fact(sheet, "share_assumed", MISLABELLED_SHARE);
    sheet_add_fact(sheet, "wrong_expected", expected_wrong(identity, MISLABELLED_SHARE));
    sheet_add_fact(sheet, "tests_needed", (double)mislabelled_tests(MISLABELLED_SHARE, 0.95));
    sheet_add_fact(sheet, "months", identity->months);
}

struct sheet identity_sheet(const struct identity_list *identity, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide identity 1", COLUMNS, columns);
    add_rows(&sheet, identity);
    add_facts(&sheet, identity);
    head_write_title(run, "Identity of grafts, trees and lots", &sheet.head);
    text_add(&sheet.head, "\n");
    add_found(&sheet.head, identity);
    add_expected(&sheet.head, identity);
    text_addf(
        &sheet.foot,
        "The share of 5 %% is an own choice: none is published for pine grafts.  At 5 %% both "
        "labels of a cross are right with %.0f %%.  Nothing written for long: for %d months "
        "(--months).\n",
        100 * labels_all_right(MISLABELLED_SHARE, 2), identity->months);
    return sheet;
}
