#include "reading/rows.h"

#include <string.h>

bool reading_manner(size_t length, const char *bytes, struct arena *arena, struct manner *manner)
{
    struct memory_source memory;
    const struct source source = source_of_memory("", &memory, length, bytes);
    struct diags unheard;
    struct row header;

    diags_init(&unheard, arena);
    struct rows *rows = rows_open(&source, "", arena, &unheard);
    if (!rows_header(rows, &header))
        return false;
    const char **columns = ARENA_ARRAY(arena, header.count, const char *);
    for (size_t i = 0; i < header.count; i++)
        columns[i] = arena_text(arena, header.cells[i].length, header.cells[i].text);
    const char *end = memchr(bytes, '\n', length);
    *manner = (struct manner){.count = header.count,
                              .columns = columns,
                              .delimiter = rows_delimiter(rows),
                              .crlf = end > bytes && end[-1] == '\r'};
    return true;
}
