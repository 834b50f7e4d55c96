/*
 * A weather file: which form it has, by its content, and what came of it.
 */
#include "reading/weather.h"

#include <string.h>

/* The last one takes what is no other. */
static const struct weather_form *const forms[] = {&weather_month_lines, &weather_element_rows,
                                                   &weather_day_rows, &weather_columns_form};

enum { HEAD_BYTES = 16384 }; /* of a file are looked at to know its form */

/* ---- looking ahead --------------------------------------------------------------------------- */

/* A source whose first bytes were read before. */
struct peeked {
    const struct source *source;
    size_t length, given;
    bool failed;
    char bytes[HEAD_BYTES];
};

static long read_peeked(void *context, size_t size, char *bytes)
{
    struct peeked *peeked = context;
    size_t left = peeked->length - peeked->given, count = left < size ? left : size;
    if (count == 0)
        return peeked->failed ? -1 : peeked->source->read(peeked->source->context, size, bytes);
    memcpy(bytes, peeked->bytes + peeked->given, count);
    peeked->given += count;
    return (long)count;
}

static void peek(struct peeked *peeked)
{
    while (peeked->length < HEAD_BYTES) {
        long got = peeked->source->read(peeked->source->context, HEAD_BYTES - peeked->length,
                                        peeked->bytes + peeked->length);
        peeked->failed = got < 0;
        if (got <= 0)
            return;
        peeked->length += (size_t)got;
    }
}

/* Its first line that is not blank, also cut into cells. */
static struct weather_head head_of(const struct peeked *peeked, struct arena *scratch)
{
    struct weather_head head = {.line = peeked->bytes};
    const char *end = peeked->bytes + peeked->length;
    struct memory_source memory;
    struct diags unheard;
    if (peeked->length >= 3 && memcmp(peeked->bytes, "\xef\xbb\xbf", 3) == 0)
        head.line += 3;
    while (head.line < end && strchr(" \t\r\n", *head.line) != NULL && *head.line != '\0')
        head.line++;
    while (head.line + head.length < end && head.line[head.length] != '\n')
        head.length++;
    diags_init(&unheard, scratch);
    struct source source = source_of_memory("", &memory, (size_t)(end - head.line), head.line);
    if (!rows_header(rows_open(&source, "", scratch, &unheard), &head.row))
        head.row.count = 0;
    return head;
}

/* ---- reading --------------------------------------------------------------------------------- */

static void note_file(const struct weather_reading *reading, const struct weather_form *form)
{
    struct orchard *orchard = reading->orchard;
    const struct weather_days *days = &reading->days;
    struct weather_file *file =
        ARENA_PUSH(orchard->arena, orchard->weather_files.list, orchard->weather_files.count,
                   orchard->weather_files.capacity);
    *file = (struct weather_file){
        .place = {.file = reading->file},
        .station = arena_text(orchard->arena, strlen(reading->station), reading->station),
        .form = form->name,
        .unit = reading->unit,
        .first_day = days->first,
        .last_day = days->last,
        .days = weather_days_count(days),
        .flagged = weather_flags_dropped(&reading->flags),
        .flags = weather_flags_words(&reading->flags, orchard->arena)};
}

static bool read_days(struct weather_reading *reading, const struct weather_head *head)
{
    size_t form = 0;
    weather_days_init(&reading->days, reading->scratch);
    while (!forms[form]->is(head))
        form++;
    if (!forms[form]->read(reading))
        return false;
    weather_days_merge(&reading->days, reading->orchard, reading->station,
                       (struct place){.file = reading->file}, reading->diags);
    note_file(reading, forms[form]);
    return true;
}

bool read_weather(struct orchard *orchard, const char *station, const struct source *source,
                  struct diags *diags)
{
    struct arena scratch;
    arena_init(&scratch, orchard->arena->refused);
    struct peeked *peeked = ARENA_NEW(&scratch, struct peeked);
    peeked->source = source;
    peek(peeked);
    struct source whole = {.name = source->name, .context = peeked, .read = read_peeked};
    struct weather_head head = head_of(peeked, &scratch);
    struct weather_reading reading = {
        .orchard = orchard,
        .station = station,
        .file = arena_text(orchard->arena, strlen(source->name), source->name),
        .source = &whole,
        .diags = diags,
        .scratch = &scratch};
    bool read = head.length > 0 && head.line[0] == '{'
                    ? read_forecast(orchard, station, &whole, diags)
                    : read_days(&reading, &head);
    arena_release(&scratch);
    return read;
}
