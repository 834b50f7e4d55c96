/* calendar.c - content lines of RFC 5545: escaped, folded, in a fixed order. */
#include "writing/calendar.h"

#include <string.h>

enum { FOLD_BYTES = 75 }; /* of a line, its end not counted: RFC 5545, 3.1 */

/* "NAME:value", folded: a line that goes on begins with a blank. */
static void add_line(struct text *out, const char *name, const char *value)
{
    struct text line;
    size_t taken = 0;

    text_init(&line, out->arena);
    text_addf(&line, "%s:%s", name, value);
    while (taken < line.length) {
        size_t room = taken == 0 ? FOLD_BYTES : FOLD_BYTES - 1, end = taken + room;

        if (end >= line.length)
            end = line.length;
        else
            while (((unsigned char)line.bytes[end] & 0xC0) == 0x80) /* within a character */
                end--;
        if (taken > 0)
            text_add(out, " ");
        text_add_bytes(out, end - taken, line.bytes + taken);
        text_add(out, "\r\n");
        taken = end;
    }
}

/* TEXT of RFC 5545, 3.3.11: printable, with backslash, semicolon, comma and line end escaped. */
static void add_text(struct text *out, const char *name, const char *value)
{
    struct text escaped, line;

    text_init(&escaped, out->arena);
    text_init(&line, out->arena);
    for (const char *at = value;;) {
        size_t length = strcspn(at, "\n");

        text_clear(&line);
        text_add_printable(&line, arena_printf(out->arena, "%.*s", (int)length, at));
        for (const char *byte = line.bytes; *byte; byte++)
            text_addf(&escaped, strchr("\\;,", *byte) ? "\\%c" : "%c", *byte);
        if (at[length] == '\0')
            break;
        text_add(&escaped, "\\n");
        at += length + 1;
    }
    add_line(out, name, escaped.bytes);
}

static const char *basic_date(struct arena *arena, daynum day)
{
    struct civil civil = day_to_civil(day);

    return arena_printf(arena, "%04d%02d%02d", civil.year, civil.month, civil.day);
}

static void add_entry(struct text *out, const struct calendar_entry *entry)
{
    struct arena *arena = out->arena;

    add_line(out, "BEGIN", "VEVENT");
    add_text(out, "UID", entry->uid);
    add_line(out, "DTSTAMP", arena_printf(arena, "%sT000000Z", basic_date(arena, entry->stamped)));
    add_line(out, "SEQUENCE", arena_printf(arena, "%d", entry->sequence));
    add_line(out, "DTSTART;VALUE=DATE", basic_date(arena, entry->day));
    if (entry->day < DAY_LAST)
        add_line(out, "DTEND;VALUE=DATE", basic_date(arena, entry->day + 1));
    add_text(out, "SUMMARY", entry->summary);
    if (entry->location)
        add_text(out, "LOCATION", entry->location);
    if (entry->description)
        add_text(out, "DESCRIPTION", entry->description);
    add_line(out, "STATUS", entry->cancelled ? "CANCELLED" : "CONFIRMED");
    add_line(out, "TRANSP", entry->cancelled ? "TRANSPARENT" : "OPAQUE");
    add_line(out, "END", "VEVENT");
}

void calendar_write(const struct calendar *calendar, const struct page_run *run, struct text *out)
{
    add_line(out, "BEGIN", "VCALENDAR");
    add_line(out, "VERSION", "2.0");
    add_line(out, "PRODID", "-//conetide//season planner " CONETIDE_VERSION "//EN");
    add_line(out, "CALSCALE", "GREGORIAN");
    add_text(out, "X-WR-CALNAME",
             run->orchard->program.name ? run->orchard->program.name : "conetide");
    for (size_t i = 0; i < calendar->count; i++)
        add_entry(out, &calendar->list[i]);
    add_line(out, "END", "VCALENDAR");
}
