#include "orchard/words.h"

#include <string.h>

static bool is_digit(char byte)
{
    return byte >= '0' && byte <= '9';
}

bool bag_name_read(const char *name, struct bag_name *bag)
{
    if (!name)
        return false;
    size_t length = strlen(name), at = length;
    while (at > 0 && is_digit(name[at - 1]))
        at--;
    size_t number_at = at;
    int32_t number;
    /* TAG - two digits - number: at least one byte of tag before "-YY-". */
    if (number_at == length || name[number_at] == '0' || number_at < 5 ||
        name[number_at - 1] != '-' || !is_digit(name[number_at - 2]) ||
        !is_digit(name[number_at - 3]) || name[number_at - 4] != '-' ||
        !number_parse_integer(length - number_at, name + number_at, &number))
        return false;
    *bag = (struct bag_name){
        .tag_length = number_at - 4,
        .season = 2000 + 10 * (name[number_at - 3] - '0') + (name[number_at - 2] - '0'),
        .number = number,
    };
    return true;
}

bool stage_read(const char *text, int *low, int *high)
{
    size_t length = text ? strlen(text) : 0;
    if (length != 1 && !(length == 3 && text[1] == '-'))
        return false;
    int first = text[0] - '0', last = text[length - 1] - '0';
    if (first < 1 || last > 6 || first > last || (length == 3 && first == last))
        return false;
    *low = first;
    *high = last;
    return true;
}

bool condition_read(const char *text, enum condition *condition)
{
    static const char *const words[] = {
        [CONDITION_ALIVE] = "alive", [CONDITION_DOUBTFUL] = "doubtful", [CONDITION_DEAD] = "dead",
        [CONDITION_LOST] = "lost",   [CONDITION_REMOVED] = "removed",
    };
    for (int i = CONDITION_ALIVE; text && i <= CONDITION_REMOVED; i++) {
        if (strcmp(text, words[i]) == 0) {
            *condition = (enum condition)i;
            return true;
        }
    }
    return false;
}

bool crown_read(const char *text, enum crown *crown)
{
    static const char *const words[CROWNS] = {
        [CROWN_TOP] = "top", [CROWN_MIDDLE] = "middle", [CROWN_LOW] = "low"};
    for (int i = CROWN_TOP; text && i < CROWNS; i++) {
        if (strcmp(text, words[i]) == 0) {
            *crown = (enum crown)i;
            return true;
        }
    }
    return false;
}

bool ratio_read(const char *text, int *counted, int *of)
{
    const char *slash = text ? strchr(text, '/') : NULL;
    int32_t above, below;
    if (!slash || !number_parse_integer((size_t)(slash - text), text, &above) ||
        !number_parse_integer(strlen(slash + 1), slash + 1, &below) || above < 0 || below < 1 ||
        above > below)
        return false;
    *counted = above;
    *of = below;
    return true;
}

bool condition_is_gone(enum condition condition)
{
    return condition == CONDITION_DEAD || condition == CONDITION_LOST ||
           condition == CONDITION_REMOVED;
}

bool word_listed(const char *list, const char *word)
{
    static const char between[] = "; ,+";
    size_t length = strlen(word);
    for (const char *at = list + strspn(list, between); *at;) {
        size_t here = strcspn(at, between);
        if (here == length && memcmp(at, word, length) == 0)
            return true;
        at += here;
        at += strspn(at, between);
    }
    return false;
}
