#include "writing/labels_page.h"

#include "writing/visit.h"
#include "writing/words.h"

const struct label_paper label_papers[] = {
    {"a4", 210, 297},         /* ISO 216 */
    {"letter", 215.9, 279.4}, /* 8.5 x 11 in */
    {NULL, 0, 0},
};

enum { TAG, SELECTION, FLAG, SITE, TREE, CROWN, BRANCH, GRAFTED_ON, COLUMNS };

static const struct sheet_column columns[COLUMNS] = {
    [TAG] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [FLAG] = {"flag_colour", "flag", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [SITE] = {"site", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CROWN] = {"crown", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [BRANCH] = {"branch", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [GRAFTED_ON] = {"grafted_on", "grafted on", CELL_DAY, 0, COLUMN_EVERYWHERE},
};

static const char *flag_of(const struct graft_state *graft)
{
    return graft->selection != NULL ? graft->selection->flag_colour : NULL;
}

static const char *site_of(const struct graft *graft)
{
    return graft->tree != NULL ? graft->tree->site_name : NULL;
}

struct sheet labels_sheet(const struct labels *labels, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide labels 1", COLUMNS, columns);
    for (size_t i = 0; i < labels->count; i++) {
        const struct label *label = &labels->list[i];
        union cell *row = sheet_row(&sheet);

        row[TAG].text = label->tag;
        if (label->graft == NULL)
            continue;
        row[SELECTION].text = graft_selection_name(label->graft);
        row[FLAG].text = flag_of(label->graft);
        row[SITE].text = site_of(label->graft->graft);
        row[TREE].text = label->graft->graft->tree_name;
        row[CROWN].text = crown_word(label->graft->graft->crown);
        row[BRANCH].text = label->graft->graft->branch;
        row[GRAFTED_ON].day = label->graft->graft->grafted_on;
    }
    return sheet;
}

static const char *place_words(const struct graft *graft, struct arena *arena)
{
    struct text words;
    const char *site = site_of(graft), *crown = crown_word(graft->crown);

    text_init(&words, arena);
    text_addf(&words, "tree %s", graft->tree_name != NULL ? graft->tree_name : "not told");
    if (crown != NULL)
        text_addf(&words, ", %s", crown);
    if (graft->branch != NULL)
        text_addf(&words, ", branch %s", graft->branch);
    if (site != NULL)
        text_addf(&words, ", %s", site);
    return words.bytes;
}

struct label_lines label_lines_of(const struct label *label, struct arena *arena)
{
    const char *selection, *flag;
    struct text day;

    if (label->graft == NULL)
        return (struct label_lines){{"selection", "flag", "place", "grafted on"}, true};
    selection = graft_selection_name(label->graft);
    flag = flag_of(label->graft);
    text_init(&day, arena);
    text_add(&day, "grafted ");
    words_add_day(&day, label->graft->graft->grafted_on);
    return (struct label_lines){{selection != NULL ? selection : "selection not known",
                                 flag != NULL ? arena_printf(arena, "flag: %s", flag) : "no flag",
                                 place_words(label->graft->graft, arena), day.bytes},
                                false};
}

size_t labels_pages(const struct labels *labels)
{
    return labels->count == 0 ? 1 : (labels->count + LABELS_A_SHEET - 1) / LABELS_A_SHEET;
}

struct sheet new_tags_sheet(const struct labels *labels, const struct page_run *run)
{
    struct sheet sheet;

    sheet_init(&sheet, run->arena, "conetide new tags 1", 1, columns);
    for (size_t i = 0; i < labels->count; i++)
        sheet_row(&sheet)[TAG].text = labels->list[i].tag;
    return sheet;
}

void new_tags_write_text(const struct labels *labels, const struct page_run *run, struct text *out)
{
    struct text list;

    text_init(&list, run->arena);
    for (size_t i = 0; i < labels->count; i++)
        text_addf(&list, "%s%s", i > 0 ? "  " : "", labels->list[i].tag);
    text_add_wrapped(out, 80, 0, list.bytes);
    text_add(out, "\n\n");
    text_add_wrapped(out, 80, 0,
                     "The last character checks the others.  The same call gives the same tags "
                     "until they stand in grafts.csv or notes.csv; --after goes on behind those "
                     "that are printed already.");
    text_add(out, "\n");
}

enum { TYPED, KNOWN, CHARACTER, NOW, CHECK_SELECTION, CHECK_TREE, NEAR, REMARK, CHECK_COLUMNS };

static const struct sheet_column check_columns[CHECK_COLUMNS] = {
    [TYPED] = {"tag", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [KNOWN] = {"state", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CHARACTER] = {"check_character", "check character", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [NOW] = {"tag_now", "tag now", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CHECK_SELECTION] = {"selection", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [CHECK_TREE] = {"tree", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [NEAR] = {"nearest", "nearest known", CELL_TEXT, 0, COLUMN_EVERYWHERE},
    [REMARK] = {"remark", NULL, CELL_TEXT, 0, COLUMN_EVERYWHERE},
};

static const char *const character_words[] = {
    [TAG_UNCHECKED] = "unchecked", [TAG_RIGHT] = "right", [TAG_WRONG] = "wrong"};

static const char *near_words(const struct tag_check *check, struct arena *arena)
{
    struct text words;

    text_init(&words, arena);
    for (size_t i = 0; i < check->near_count; i++)
        text_addf(&words, "%s%s", i > 0 ? ", " : "", check->near[i]);
    if (check->near_all > check->near_count)
        text_addf(&words, " and %zu more", check->near_all - check->near_count);
    return words.length > 0 ? words.bytes : NULL;
}

static const char *remark_of(const struct tag_check *check)
{
    if (check->graft != NULL)
        return check->character == TAG_UNCHECKED ? "no check character, valid as it is" : NULL;
    if (check->respelled)
        return "spelled in another way";
    if (check->character == TAG_WRONG)
        return "misread or mistyped";
    if (check->character == TAG_RIGHT)
        return "of no graft: not used yet, or of another folder";
    return check->near_count > 0 ? "perhaps mistyped" : NULL;
}

struct sheet tag_checks_sheet(const struct tag_checks *checks, const struct page_run *run)
{
    struct sheet sheet;
    size_t unknown = 0, wrong = 0;

    sheet_init(&sheet, run->arena, "conetide tag check 1", CHECK_COLUMNS, check_columns);
    for (size_t i = 0; i < checks->count; i++) {
        const struct tag_check *check = &checks->list[i];
        union cell *row = sheet_row(&sheet);

        row[TYPED].text = check->typed;
        row[KNOWN].text = check->graft != NULL ? "known" : "unknown";
        row[CHARACTER].text = character_words[check->character];
        row[NEAR].text = near_words(check, run->arena);
        row[REMARK].text = remark_of(check);
        unknown += check->graft == NULL;
        wrong += check->character == TAG_WRONG;
        if (check->graft == NULL)
            continue;
        row[NOW].text = check->graft->tag;
        row[CHECK_TREE].text = check->graft->tree_name;
        row[CHECK_SELECTION].text = graft_selection_name(state_graft(checks->state, check->graft));
    }
    words_add_count(&sheet.foot, checks->count, "tag", "tags");
    text_addf(&sheet.foot, ", %zu unknown, of these %zu with a wrong check character\n", unknown,
              wrong);
    return sheet;
}
