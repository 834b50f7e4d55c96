#include "orchard/new_tags.h"

#include "base/check_character.h"
#include "base/text.h"
#include "orchard/order.h"

#include <stdlib.h>
#include <string.h>

enum { DIGITS_LEAST = 3, DIGITS_MOST = 9 };
static const int64_t number_most = 999999999;

static bool is_letter(char byte)
{
    return byte >= 'A' && byte <= 'Z' && byte != 'I' && byte != 'O';
}

static size_t count_letters(const char *text)
{
    size_t letters = 0;
    while (is_letter(text[letters]))
        letters++;
    return letters;
}

bool tag_letters_may_be(const char *letters)
{
    size_t count = count_letters(letters);
    return count >= 1 && count <= TAG_LETTERS_MOST && letters[count] == '\0';
}

/* How many digits stand between the letters and the check character; 0: not of that form. */
static size_t count_digits(const char *tag, size_t letters)
{
    size_t digits =
        letters >= 1 && letters <= TAG_LETTERS_MOST ? strspn(tag + letters, "0123456789") : 0;
    if (digits > 0 && tag[letters + digits] == '\0')
        digits--; /* the last is the check character */
    if (digits < DIGITS_LEAST || digits > DIGITS_MOST || strlen(tag) != letters + digits + 1)
        return 0;
    char check = tag[letters + digits];
    return (check >= '0' && check <= '9') || (check >= 'A' && check <= 'Z') ? digits : 0;
}

bool tag_has_series_form(const char *tag, bool *check_holds)
{
    *check_holds = check_character_holds(tag);
    return count_digits(tag, count_letters(tag)) > 0;
}

bool tag_series_read(const char *tag, struct tag_series *series)
{
    size_t letters = count_letters(tag), digits = count_digits(tag, letters);

    if (digits == 0 || !check_character_holds(tag))
        return false;
    *series = (struct tag_series){.digits = (int)digits};
    memcpy(series->letters, tag, letters);
    for (size_t i = 0; i < digits; i++)
        series->number = 10 * series->number + (tag[letters + i] - '0');
    return true;
}

/* The newest graft with such a tag; of one day the last by tag. */
static const struct graft *newest_of(const struct orchard *orchard, struct tag_series *series)
{
    const struct graft *newest = NULL;
    struct tag_series read;

    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft *graft = &orchard->grafts.list[i];

        if (!tag_series_read(graft->tag, &read) ||
            (newest != NULL && graft->grafted_on < newest->grafted_on))
            continue;
        newest = graft;
        *series = read;
    }
    return newest;
}

/* "V" to "W", "Z" to "A", "AZ" to "BA". */
static void step_letters(char *letters)
{
    for (size_t i = strlen(letters); i > 0; i--) {
        char *letter = &letters[i - 1];

        if (*letter != 'Z') {
            do
                ++*letter;
            while (!is_letter(*letter));
            return;
        }
        *letter = 'A';
    }
}

static struct tag_series choose_series(const struct orchard *orchard, int winter,
                                       const char *letters)
{
    struct tag_series series = {"A", DIGITS_LEAST, 0}, read;

    if (letters != NULL) {
        memcpy(series.letters, letters, strlen(letters) + 1);
    } else {
        const struct graft *newest = newest_of(orchard, &series);

        if (newest != NULL && orchard_cycle(orchard, newest) < winter)
            step_letters(series.letters);
    }
    series.number = 0;
    for (size_t i = 0; i < orchard->graft_names.count; i++)
        if (tag_series_read(orchard->graft_names.list[i].tag, &read) &&
            strcmp(read.letters, series.letters) == 0) {
            series.number = read.number > series.number ? read.number : series.number;
            series.digits = read.digits > series.digits ? read.digits : series.digits;
        }
    return series;
}

static int order_taken(const void *left, const void *right)
{
    return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static const char *fold(struct arena *arena, const char *name)
{
    struct text text;
    text_init(&text, arena);
    text_add_folded(&text, name);
    return text.bytes;
}

static void gather_taken(struct new_tags *tags, const struct orchard *orchard)
{
    const size_t names = orchard->graft_names.count;

    tags->taken = ARENA_ARRAY(tags->arena, names + orchard->notes.count, const char *);
    for (size_t i = 0; i < names; i++)
        tags->taken[i] = fold(tags->arena, orchard->graft_names.list[i].tag);
    tags->taken_count = names;
    for (size_t i = 0; i < orchard->notes.count; i++)
        if (orchard->notes.list[i].bag != NULL)
            tags->taken[tags->taken_count++] = fold(tags->arena, orchard->notes.list[i].bag);
    if (tags->taken_count > 1)
        qsort(tags->taken, tags->taken_count, sizeof *tags->taken, order_taken);
}

void new_tags_begin(struct new_tags *tags, const struct orchard *orchard, int winter,
                    const char *letters, struct arena *arena)
{
    *tags = (struct new_tags){.arena = arena, .series = choose_series(orchard, winter, letters)};
    gather_taken(tags, orchard);
}

void new_tags_go_on_after(struct new_tags *tags, const struct tag_series *last)
{
    tags->series = *last;
}

static bool is_taken(const struct new_tags *tags, const char *tag)
{
    const char *folded = fold(tags->arena, tag);

    return tags->taken_count > 0 && bsearch(&folded, tags->taken, tags->taken_count,
                                            sizeof *tags->taken, order_taken) != NULL;
}

const char *new_tags_next(struct new_tags *tags)
{
    struct tag_series *series = &tags->series;

    while (series->number < number_most) {
        const char *serial, *tag;
        char check;

        serial = arena_printf(tags->arena, "%s%0*lld", series->letters, series->digits,
                              (long long)++series->number);
        check = check_character(serial);
        if (check == 'I' || check == 'O' || check == '*')
            continue;
        tag = arena_printf(tags->arena, "%s%c", serial, check);
        if (!is_taken(tags, tag))
            return tag;
    }
    return NULL;
}
