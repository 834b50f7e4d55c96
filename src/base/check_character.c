/*
 * Weights are powers of two modulo 37, applied from the left as a running value that is doubled
 * after each character; the sum with the check character is 1 modulo 37.
 * Source: ISO/IEC 7064:2003, MOD 37-2; published value G123498654321 gives H (ISBT 128).
 */
#include "base/check_character.h"

#include <stddef.h>
#include <string.h>

enum { MODULUS = 37 };

static const char alphabet[MODULUS + 1] = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";

static bool is_passed_over(char byte)
{
    return byte == '-' || byte == ' ' || byte == '\t';
}

static char upper(char byte)
{
    return byte >= 'a' && byte <= 'z' ? (char)(byte - 'a' + 'A') : byte;
}

/* Check character of the first `length` bytes; 0 when nothing or something else is there. */
static char check_of(size_t length, const char *text)
{
    int sum = 0;
    bool any = false;

    for (size_t i = 0; i < length; i++) {
        if (is_passed_over(text[i]))
            continue;
        /* '*' stands for a check only */
        const char *found = memchr(alphabet, upper(text[i]), MODULUS - 1);
        if (!found)
            return 0;
        sum = (sum + (int)(found - alphabet)) * 2 % MODULUS;
        any = true;
    }
    return any ? alphabet[(MODULUS + 1 - sum) % MODULUS] : (char)0;
}

char check_character(const char *text)
{
    return check_of(strlen(text), text);
}

bool check_character_holds(const char *text)
{
    size_t length = strlen(text);
    while (length > 0 && is_passed_over(text[length - 1]))
        length--;
    if (length == 0)
        return false;
    char check = check_of(length - 1, text);
    return check != 0 && check == upper(text[length - 1]);
}
