#include "orchard/tag_check.h"

#include "base/check_character.h"
#include "base/text.h"
#include "orchard/new_tags.h"
#include "orchard/words.h"

#include <string.h>

/* How two tags differ, the likeliest first. */
enum difference { RESPELLED, SWAPPED, ONE_WRONG, ONE_MORE_OR_LESS, FAR };

static char upper(char byte)
{
    return byte >= 'a' && byte <= 'z' ? (char)(byte - 'a' + 'A') : byte;
}

/* Upper case, without blanks and hyphens: as the check character sees it. */
static const char *bare(struct arena *arena, const char *tag)
{
    char *copy = arena_text(arena, strlen(tag), tag), *end = copy;
    for (const char *at = tag; *at != '\0'; at++)
        if (*at != ' ' && *at != '-')
            *end++ = upper(*at);
    *end = '\0';
    return copy;
}

static bool same_folded(struct arena *arena, const char *a, const char *b)
{
    struct text left, right;
    text_init(&left, arena);
    text_init(&right, arena);
    text_add_folded(&left, a);
    text_add_folded(&right, b);
    return strcmp(left.bytes, right.bytes) == 0;
}

/* `shorter` is `longer` without one character; both agree before `at`. */
static bool lacks_one(const char *longer, const char *shorter, size_t at)
{
    return strcmp(longer + at + 1, shorter + at) == 0;
}

/* Of two bare tags. */
static enum difference difference_of(const char *a, const char *b)
{
    size_t length_a = strlen(a), length_b = strlen(b), at = 0;

    while (a[at] != '\0' && a[at] == b[at])
        at++;
    if (length_a == length_b) {
        if (at == length_a)
            return RESPELLED;
        if (strcmp(a + at + 1, b + at + 1) == 0)
            return ONE_WRONG;
        if (a[at] == b[at + 1] && a[at + 1] == b[at] && strcmp(a + at + 2, b + at + 2) == 0)
            return SWAPPED;
    } else if ((length_a == length_b + 1 && lacks_one(a, b, at)) ||
               (length_b == length_a + 1 && lacks_one(b, a, at))) {
        return ONE_MORE_OR_LESS;
    }
    return FAR;
}

struct tag_checker tag_checker_of(const struct orchard *orchard, struct arena *arena)
{
    const size_t names = orchard->graft_names.count;
    struct tag_checker checker = {.orchard = orchard,
                                  .bare = ARENA_ARRAY(arena, names, const char *),
                                  .differ = ARENA_ARRAY(arena, names, unsigned char),
                                  .arena = arena};

    for (size_t i = 0; i < names; i++)
        checker.bare[i] = bare(arena, orchard->graft_names.list[i].tag);
    return checker;
}

static void find_near(const struct tag_checker *checker, const char *typed, struct tag_check *check)
{
    const struct orchard *orchard = checker->orchard;
    const size_t names = orchard->graft_names.count;

    for (size_t i = 0; i < names; i++) {
        enum difference difference = difference_of(typed, checker->bare[i]);

        if (difference != FAR &&
            same_folded(checker->arena, check->tag, orchard->graft_names.list[i].tag))
            difference = RESPELLED;
        checker->differ[i] = (unsigned char)difference;
    }
    for (int wanted = RESPELLED; wanted < FAR; wanted++) {
        for (size_t i = 0; i < names; i++) {
            if (checker->differ[i] != wanted)
                continue;
            check->respelled = check->respelled || wanted == RESPELLED;
            check->near_all++;
            if (check->near_count < TAG_NEAR_MOST)
                check->near[check->near_count++] = orchard->graft_names.list[i].tag;
        }
    }
}

static enum tag_character character_of(const struct tag_check *check, const char *tag)
{
    bool holds, holds_near;

    if (tag_has_series_form(tag, &holds)) {
        if (holds)
            return TAG_RIGHT;
        return check->graft != NULL ? TAG_UNCHECKED : TAG_WRONG;
    }
    /* a letter among the digits: the form is gone, and what was meant still shows it */
    for (size_t i = 0; !holds && i < check->near_count; i++)
        if (tag_has_series_form(check->near[i], &holds_near) && holds_near)
            return TAG_WRONG;
    return TAG_UNCHECKED;
}

struct tag_check tag_check_of(const struct tag_checker *checker, const char *typed)
{
    const struct orchard *orchard = checker->orchard;
    struct tag_check check = {.typed = typed, .tag = typed};
    struct bag_name bag;
    const char *plain;

    check.graft = orchard_graft(orchard, typed);
    if (check.graft == NULL && bag_name_read(typed, &bag)) {
        check.tag = arena_text(checker->arena, bag.tag_length, typed);
        check.graft = orchard_graft(orchard, check.tag);
    }
    plain = bare(checker->arena, check.tag);
    if (check.graft == NULL)
        find_near(checker, plain, &check);
    check.character = character_of(&check, plain);
    return check;
}
