#include "reading/bytes.h"

#include <stdint.h>
#include <string.h>

bool bytes_are_plain(size_t length, const char *text)
{
    const uint64_t ones = UINT64_C(0x0101010101010101), tops = ones << 7;
    size_t i = 0;
    for (; i + 8 <= length; i += 8) {
        uint64_t word;
        memcpy(&word, text + i, 8);
        /* a top bit set; or below 0x20; or 0x7f */
        if ((word | (word - ones * 0x20) | (word + ones)) & tops)
            break;
    }
    for (; i < length; i++) {
        unsigned char byte = (unsigned char)text[i];
        if ((byte < 0x20 && byte != '\t') || byte > 0x7e)
            return false;
    }
    return true;
}

/* The first control character of well-formed UTF-8 but tab and line feed: its offset, or `length`.
 */
size_t bytes_find_control(size_t length, const char *text)
{
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)text[i];
        if ((byte < 0x20 && byte != '\t' && byte != '\n') || byte == 0x7f)
            return i;
        if (byte == 0xc2 && i + 1 < length && (unsigned char)text[i + 1] < 0xa0)
            return i;
    }
    return length;
}

bool bytes_hold_invisible(const char *name)
{
    static const char *const prefixes[] = {"\xc2\xa0",     "\xc2\xad",     "\xe2\x80\xa8",
                                           "\xe2\x80\xa9", "\xe2\x81\x9f", "\xe3\x80\x80",
                                           "\xef\xbb\xbf"};
    for (size_t i = 0; i < sizeof prefixes / sizeof *prefixes; i++)
        if (strstr(name, prefixes[i]) != NULL)
            return true;
    for (const char *at = strstr(name, "\xe2\x80"); at != NULL; at = strstr(at + 2, "\xe2\x80")) {
        unsigned char last = (unsigned char)at[2];
        if (last <= 0x8f || (last >= 0xaa && last <= 0xaf)) /* U+2000-200F, U+202A-202F */
            return true;
    }
    for (const char *at = strstr(name, "\xe2\x81"); at != NULL; at = strstr(at + 2, "\xe2\x81"))
        if ((unsigned char)at[2] >= 0xa0 && (unsigned char)at[2] <= 0xaf) /* U+2060-206F */
            return true;
    return false;
}
