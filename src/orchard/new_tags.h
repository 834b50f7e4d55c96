/*
 * new_tags.h - names for new grafts: one or two letters, a running number, a check character.
 *
 * The one rule for every tag that the program proposes: it starts with a letter, holds no I and no
 * O (taken for 1 and 0), is never digit-E-digit (a spreadsheet makes a number of that), and ends in
 * the check character of base/check_character.h; a number whose check character would be I, O or *
 * is passed over.
 */
#ifndef ORCHARD_NEW_TAGS_H
#define ORCHARD_NEW_TAGS_H

#include "orchard/orchard.h"

#define TAG_LETTERS_MOST 2 /* three could be a month, which spreadsheets take for a date */

/* What a tag of that form says: "V0079" is V, 3 digits, 7. */
struct tag_series {
    char letters[TAG_LETTERS_MOST + 1];
    int digits; /* 3 to 9 */
    int64_t number;
};

/* May these be the letters of new tags: one or two of A-Z, no I and no O? */
bool tag_letters_may_be(const char *letters);

/* Is `tag` of the form of new tags, whatever its last character?  *check_holds: is that the check
 * character of the rest? */
bool tag_has_series_form(const char *tag, bool *check_holds);

/* False when it is not of that form or its check character does not hold. */
bool tag_series_read(const char *tag, struct tag_series *series);

struct new_tags {
    struct tag_series series; /* of the tag given last */
    const char **taken;       /* [taken_count] folded as text_add_folded does, sorted */
    size_t taken_count;
    struct arena *arena;
};

/*
 * Tags of a winter (a season, as a year), after orchard_link: the series of the newest graft goes
 * on; when that was made in an earlier winter the next letter begins one, Z is followed by A, and
 * where no graft has such a tag A begins.  With `letters` (NULL: none; else as tag_letters_may_be)
 * their series goes on, or begins.
 *
 * The highest number of the series that any graft has or had is the last that is used, so the same
 * orchard always gives the same tags; those that were given once count as soon as they stand in
 * grafts.csv or notes.csv.
 */
void new_tags_begin(struct new_tags *tags, const struct orchard *orchard, int winter,
                    const char *letters, struct arena *arena);

/* Go on after a tag that was given before and stands nowhere yet. */
void new_tags_go_on_after(struct new_tags *tags, const struct tag_series *last);

/* The next, in the arena: not a tag that a graft has or had nor a bag's name, nor like one but for
 * case, blanks, hyphens and leading zeros.  NULL when the numbers of nine digits are used up. */
const char *new_tags_next(struct new_tags *tags);

#endif
