#include "cli/stamp.h"

#include "writing/pages.h"

#include <inttypes.h>
#include <string.h>

static const char csv_columns[] = ",x_run,x_version,x_as_of,x_newest_observed";

const char *stamp_run(const struct stamp *stamp, struct arena *arena)
{
    return arena_printf(arena, "%016" PRIx64, stamp->run);
}

static const char *words_of(const struct stamp *stamp, struct arena *arena)
{
    char day[DAY_TEXT];

    return arena_printf(arena, "Run %s of conetide %s, as of %s; newest observed: %s",
                        stamp_run(stamp, arena), CONETIDE_VERSION, day_text(stamp->as_of, day),
                        stamp->newest);
}

/* The end of the row that begins at `at`: its line feed, or the end of the text. */
static const char *row_end(const char *at)
{
    bool quoted = false;

    for (; *at && (quoted || *at != '\n'); at++)
        quoted ^= *at == '"';
    return at;
}

static struct text stamp_csv(const struct stamp *stamp, const struct text *page)
{
    struct text out;
    char day[DAY_TEXT];
    const char *cells = arena_printf(page->arena, ",%s,%s,%s,%s", stamp_run(stamp, page->arena),
                                     CONETIDE_VERSION, day_text(stamp->as_of, day), stamp->newest);

    text_init(&out, page->arena);
    for (const char *at = page->bytes, *end; *at; at = *end ? end + 1 : end) {
        end = row_end(at);
        text_add_bytes(&out, (size_t)(end - at), at);
        text_add(&out, at == page->bytes ? csv_columns : cells);
        text_add(&out, "\n");
    }
    return out;
}

/* What a row is without its last four cells, which hold no quote and no comma. */
static size_t unstamped(const char *row, const char *end)
{
    for (int cells = 0; cells < 4 && end > row;)
        cells += *--end == ',';
    return (size_t)(end - row);
}

/* A calendar without the property and its further lines. */
static struct text calendar_off(const struct text *page)
{
    const char *at = strstr(page->bytes, "X-CONETIDE-RUN:"), *end = at;
    struct text out;

    if (!at)
        return *page;
    do {
        end += strcspn(end, "\n");
        end += *end == '\n';
    } while (*end == ' ');
    text_init(&out, page->arena);
    text_add_bytes(&out, (size_t)(at - page->bytes), page->bytes);
    text_add(&out, end);
    return out;
}

struct text stamp_off(const struct text *page)
{
    struct text out;
    const char *first = page->bytes + strcspn(page->bytes, "\n");
    size_t columns = sizeof csv_columns - 1;

    if (strncmp(page->bytes, "BEGIN:VCALENDAR", 15) == 0)
        return calendar_off(page);
    if ((size_t)(first - page->bytes) < columns ||
        strncmp(first - columns, csv_columns, columns) != 0)
        return *page;
    text_init(&out, page->arena);
    for (const char *at = page->bytes, *end; *at; at = *end ? end + 1 : end) {
        end = row_end(at);
        text_add_bytes(&out, unstamped(at, end), at);
        text_add(&out, "\n");
    }
    return out;
}

static struct text insert(const struct text *page, const char *at, const char *what)
{
    struct text out;

    text_init(&out, page->arena);
    text_add_bytes(&out, (size_t)(at - page->bytes), page->bytes);
    text_add(&out, what);
    text_add(&out, at);
    return out;
}

/* Before the last `mark`, or at the end where there is none. */
static struct text insert_before(const struct text *page, const char *mark, const char *what)
{
    const char *last = page->bytes + page->length;

    for (const char *at = strstr(page->bytes, mark); at; at = strstr(at + 1, mark))
        last = at;
    return insert(page, last, what);
}

static struct text stamp_json(const struct stamp *stamp, const struct text *page)
{
    char day[DAY_TEXT];

    if (page->bytes[0] != '{')
        return *page;
    return insert(page, page->bytes + 1,
                  arena_printf(page->arena,
                               "\"run\":{\"id\":\"%s\",\"version\":\"%s\",\"as_of\":\"%s\","
                               "\"newest_observed\":\"%s\"},",
                               stamp_run(stamp, page->arena), CONETIDE_VERSION,
                               day_text(stamp->as_of, day), stamp->newest));
}

/* A property in lines of at most 75 bytes, each further one with a blank before it (RFC 5545, 3.1).
 */
static const char *property(const char *words, struct arena *arena)
{
    struct text out;
    size_t line = 0;

    text_init(&out, arena);
    text_add(&out, "X-CONETIDE-RUN:");
    line = out.length;
    for (; *words; words++) {
        bool escaped = *words == ';' || *words == ',';

        if (line + (escaped ? 2 : 1) > 75) {
            text_add(&out, "\r\n ");
            line = 1;
        }
        text_addf(&out, "%s%c", escaped ? "\\" : "", *words);
        line += escaped ? 2 : 1;
    }
    text_add(&out, "\r\n");
    return out.bytes;
}

static bool ends_in(const char *name, const char *end)
{
    size_t length = strlen(name), end_length = strlen(end);

    return length > end_length && strcmp(name + length - end_length, end) == 0;
}

struct text stamp_page(const struct stamp *stamp, const char *name, const struct text *page)
{
    struct arena *arena = page->arena;
    const char *words = words_of(stamp, arena);
    const char *first;

    if (ends_in(name, ".csv"))
        return stamp_csv(stamp, page);
    if (ends_in(name, ".json"))
        return stamp_json(stamp, page);
    if (ends_in(name, ".html"))
        return insert_before(page, "</body>", arena_printf(arena, "<p>%s</p>\n", words));
    if (ends_in(name, ".svg"))
        return insert_before(page, "</svg>",
                             arena_printf(arena, "<metadata>%s</metadata>\n", words));
    if (!ends_in(name, ".ics"))
        return insert(page, page->bytes + page->length, arena_printf(arena, "\n%s\n", words));
    first = strstr(page->bytes, "BEGIN:VEVENT");
    if (!first)
        first = strstr(page->bytes, "END:VCALENDAR");
    return insert(page, first ? first : page->bytes + page->length, property(words, arena));
}
