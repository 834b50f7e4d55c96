/* calendar.c - content lines unfolded, and of each event what a later calendar has to know. */
#include "reading/calendar.h"

#include "base/text.h"
#include "reading/lines.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

struct reader {
    struct lines lines;
    struct calendar *calendar;
    struct arena *arena;
    struct diags *diags;
    const char *file;
    struct text content;  /* the line unfolded so far */
    unsigned number;      /* of its first line in the file */
    bool begun, in_event; /* a calendar has begun; an event */
    bool refused;         /* it is none, and that has been told */
    bool faulty;          /* the event: left out */
    struct calendar_entry entry;
    unsigned event_line;
};

static void tell(struct reader *reader, unsigned line, const char *message)
{
    diag_error(reader->diags, (struct place){.file = reader->file, .line = line}, "bad-calendar",
               "%s, expected a calendar as this program writes it, give that file or none",
               message);
    reader->faulty = true;
}

/* TEXT without its escapes. */
static const char *plain_text(struct arena *arena, const char *value)
{
    struct text plain;

    text_init(&plain, arena);
    for (; *value; value++) {
        if (*value == '\\' && value[1] != '\0') {
            value++;
            text_add_bytes(&plain, 1, *value == 'n' || *value == 'N' ? "\n" : value);
        } else {
            text_add_bytes(&plain, 1, value);
        }
    }
    return plain.bytes;
}

/* YYYYMMDD at the start of `value`, and nothing after it but what `rest` says (NULL: anything). */
static bool basic_day(const char *value, const char *rest, daynum *day)
{
    char text[DAY_TEXT];

    if (strlen(value) < 8 || strspn(value, "0123456789") < 8 ||
        (rest != NULL && strcmp(value + 8, rest) != 0))
        return false;
    memcpy(text, value, 4);
    text[4] = text[7] = '-';
    memcpy(text + 5, value + 4, 2);
    memcpy(text + 8, value + 6, 2);
    return day_parse(10, text, day);
}

static void take_sequence(struct reader *reader, const char *value)
{
    char *end;
    long number = strtol(value, &end, 10);

    if (*value < '0' || *value > '9' || *end != '\0' || number >= INT_MAX)
        tell(reader, reader->number, "SEQUENCE is no whole number");
    else
        reader->entry.sequence = (int)number;
}

static void take_property(struct reader *reader, const char *name, const char *value)
{
    struct calendar_entry *entry = &reader->entry;

    if (strcmp(name, "UID") == 0)
        entry->uid = plain_text(reader->arena, value);
    else if (strcmp(name, "SUMMARY") == 0)
        entry->summary = plain_text(reader->arena, value);
    else if (strcmp(name, "LOCATION") == 0)
        entry->location = plain_text(reader->arena, value);
    else if (strcmp(name, "DESCRIPTION") == 0)
        entry->description = plain_text(reader->arena, value);
    else if (strcmp(name, "SEQUENCE") == 0)
        take_sequence(reader, value);
    else if (strcmp(name, "STATUS") == 0)
        entry->cancelled = strcmp(value, "CANCELLED") == 0;
    else if (strcmp(name, "DTSTART") == 0 && !basic_day(value, "", &entry->day))
        tell(reader, reader->number, "DTSTART is no whole day");
    else if (strcmp(name, "DTSTAMP") == 0 && !basic_day(value, NULL, &entry->stamped))
        tell(reader, reader->number, "DTSTAMP is no day");
}

static void begin_event(struct reader *reader)
{
    reader->entry = (struct calendar_entry){.day = DAY_NONE, .stamped = DAY_NONE};
    reader->event_line = reader->number;
    reader->in_event = true;
    reader->faulty = false;
}

static void end_event(struct reader *reader)
{
    const struct calendar_entry *entry = &reader->entry;

    reader->in_event = false;
    if (!reader->faulty &&
        (!entry->uid || !entry->summary || entry->day == DAY_NONE || entry->stamped == DAY_NONE))
        tell(reader, reader->event_line, "an event without UID, SUMMARY, DTSTART or DTSTAMP");
    if (!reader->faulty)
        *ARENA_PUSH(reader->arena, reader->calendar->list, reader->calendar->count,
                    reader->calendar->capacity) = *entry;
}

/* The first line of a calendar; else that is told, once. */
static void begin_calendar(struct reader *reader)
{
    reader->begun = strcmp(reader->content.bytes, "BEGIN:VCALENDAR") == 0;
    reader->refused = !reader->begun;
    if (reader->refused)
        tell(reader, reader->number, "no BEGIN:VCALENDAR");
}

/* "NAME;PARAMETER=x:value": parameters are passed over. */
static void take_content(struct reader *reader)
{
    char *line = reader->content.bytes, *colon = strchr(line, ':'), *semicolon;

    if (reader->content.length == 0 || reader->refused)
        return;
    if (!reader->begun) {
        begin_calendar(reader);
        return;
    }
    if (colon == NULL) {
        tell(reader, reader->number, "a line without a colon");
        return;
    }
    *colon = '\0';
    semicolon = strchr(line, ';');
    if (semicolon != NULL)
        *semicolon = '\0';
    if (strcmp(line, "BEGIN") == 0 && strcmp(colon + 1, "VEVENT") == 0)
        begin_event(reader);
    else if (strcmp(line, "END") == 0 && strcmp(colon + 1, "VEVENT") == 0 && reader->in_event)
        end_event(reader);
    else if (reader->in_event)
        take_property(reader, line, colon + 1);
}

static int compare_entries(const void *left, const void *right)
{
    const struct calendar_entry *a = left, *b = right;
    int order;

    if (a->day != b->day)
        return a->day < b->day ? -1 : 1;
    order = strcmp(a->uid, b->uid);
    return order != 0 ? order : (a->sequence < b->sequence) - (a->sequence > b->sequence);
}

static void sort_entries(struct calendar *calendar)
{
    size_t kept = 0;

    if (calendar->count == 0)
        return;
    qsort(calendar->list, calendar->count, sizeof *calendar->list, compare_entries);
    for (size_t i = 0; i < calendar->count; i++)
        if (kept == 0 || strcmp(calendar->list[kept - 1].uid, calendar->list[i].uid) != 0)
            calendar->list[kept++] = calendar->list[i];
    calendar->count = kept;
}

bool read_calendar(struct calendar *calendar, const struct source *source, struct diags *diags)
{
    struct reader reader = {.calendar = calendar,
                            .arena = diags->arena,
                            .diags = diags,
                            .file = arena_printf(diags->arena, "%s", source->name)};
    struct line line;

    *calendar = (struct calendar){NULL, 0, 0};
    text_init(&reader.content, diags->arena);
    lines_open(&reader.lines, source, reader.file, diags->arena, diags);
    while (lines_take(&reader.lines, &line) == LINES_TAKEN) {
        bool goes_on = line.length > 0 && (*line.bytes == ' ' || *line.bytes == '\t');

        if (!goes_on) {
            take_content(&reader);
            text_clear(&reader.content);
            reader.number = line.number;
        }
        if (line.length > (goes_on ? 1u : 0u))
            text_add_bytes(&reader.content, line.length - (goes_on ? 1 : 0),
                           line.bytes + (goes_on ? 1 : 0));
    }
    take_content(&reader);
    if (!reader.begun && !reader.refused)
        tell(&reader, 0, "an empty file");
    sort_entries(calendar);
    return !reader.lines.failed;
}
