/*
 * placement_tags.c - names for new grafts: a letter, a running number, a check character.
 *
 * The series of the newest graft goes on; in a new winter the next letter begins one.  No I and no
 * O, which are taken for 1 and 0.
 */
#include "base/check_character.h"
#include "orchard/order.h"
#include "planning/placement_parts.h"

#include <string.h>

enum { DIGITS_LEAST = 3, DIGITS_MOST = 9 };

struct series {
    char letter;
    int digits;
    long long number; /* the highest used */
};

static bool is_letter(char byte)
{
    return byte >= 'A' && byte <= 'Z' && byte != 'I' && byte != 'O';
}

/* "V0079": V, 3 digits, 7. */
static bool read_tag(const char *tag, struct series *series)
{
    size_t digits = is_letter(tag[0]) ? strspn(tag + 1, "0123456789") : 0;

    if (digits > 0 && tag[digits + 1] == '\0')
        digits--; /* the last is the check character */
    if (digits < DIGITS_LEAST || digits > DIGITS_MOST || strlen(tag) != digits + 2 ||
        !check_character_holds(tag))
        return false;
    *series = (struct series){.letter = tag[0], .digits = (int)digits};
    for (size_t i = 1; i <= digits; i++)
        series->number = 10 * series->number + (tag[i] - '0');
    return true;
}

/* The newest graft with such a tag; of one day the last by tag. */
static const struct graft *newest_of(const struct orchard *orchard, struct series *series)
{
    const struct graft *newest = NULL;
    struct series read;

    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft *graft = &orchard->grafts.list[i];

        if (!read_tag(graft->tag, &read) ||
            (newest != NULL && graft->grafted_on < newest->grafted_on))
            continue;
        newest = graft;
        *series = read;
    }
    return newest;
}

static struct series next_series(const struct orchard *orchard, int season)
{
    struct series series = {'A', DIGITS_LEAST, 0}, read;
    const struct graft *newest = newest_of(orchard, &series);

    if (newest != NULL && orchard_cycle(orchard, newest) < season)
        do
            series.letter = (char)(series.letter == 'Z' ? 'A' : series.letter + 1);
        while (!is_letter(series.letter));
    series.number = 0;
    for (size_t i = 0; i < orchard->graft_names.count; i++)
        if (read_tag(orchard->graft_names.list[i].tag, &read) && read.letter == series.letter) {
            series.number = read.number > series.number ? read.number : series.number;
            series.digits = read.digits > series.digits ? read.digits : series.digits;
        }
    return series;
}

static const char *next_tag(const struct placement_maker *maker, struct series *series)
{
    for (;;) {
        const char *serial, *tag;
        char check;

        serial = arena_printf(maker->arena, "%c%0*lld", series->letter, series->digits,
                              ++series->number);
        check = check_character(serial);
        tag = arena_printf(maker->arena, "%s%c", serial, check);
        if (check != 'I' && check != 'O' && check != '*' &&
            orchard_graft(maker->orchard, tag) == NULL)
            return tag;
    }
}

void placement_name_grafts(struct placement_maker *maker)
{
    struct series series = next_series(maker->orchard, maker->placement->season);

    for (size_t i = 0; i < maker->placement->grafts.count; i++)
        maker->placement->grafts.list[i].tag = next_tag(maker, &series);
}
