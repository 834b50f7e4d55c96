/*
 * Any bytes as any table: the first byte chooses which.  Nothing may crash, leak or read beyond its
 * memory; every noun that is read keeps the promises of nouns.h; and reading again in small pieces
 * gives the same rows and the same faults.
 */
#include "orchard/orchard.h"
#include "reading/reading.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

struct pieces {
    const char *bytes;
    size_t left, most;
};

static long read_piece(void *context, size_t size, char *bytes)
{
    struct pieces *pieces = context;
    size_t count = size < pieces->most ? size : pieces->most;
    count = count < pieces->left ? count : pieces->left;
    memcpy(bytes, pieces->bytes, count);
    pieces->bytes += count;
    pieces->left -= count;
    return (long)count;
}

static size_t count_rows(const struct orchard *orchard)
{
    return orchard->sites.count + orchard->stations.count + orchard->trees.count +
           orchard->selections.count + orchard->batches.count + orchard->grafts.count +
           orchard->crosses.count + orchard->lots.count + orchard->crews.count +
           orchard->lifts.count + orchard->thresholds.count + orchard->rates.count +
           orchard->tasks.count + orchard->notes.count;
}

static void require(bool held)
{
    if (!held)
        abort();
}

/* What later rooms rely on. */
static void check_nouns(const struct orchard *orchard)
{
    for (size_t i = 0; i < orchard->grafts.count; i++) {
        const struct graft *graft = &orchard->grafts.list[i];
        require(graft->tag != NULL && graft->tree_name != NULL && graft->selection_name != NULL);
        require(graft->grafted_on >= day_from_civil(1800, 1, 1) &&
                graft->grafted_on <= day_from_civil(2199, 12, 31));
    }
    for (size_t i = 0; i < orchard->lots.count; i++) {
        const struct lot *lot = &orchard->lots.list[i];
        double sum = 0;
        require((lot->selection_name != NULL) != (lot->part_count > 0));
        for (size_t j = 0; j < lot->part_count; j++)
            sum += lot->parts[j].share;
        require(lot->part_count == 0 || (sum > 0.999999 && sum < 1.000001));
    }
    for (size_t i = 0; i < orchard->rates.count; i++)
        require(orchard->rates.list[i].rate != NULL && orchard->rates.list[i].value.units >= 0);
    for (size_t i = 0; i < orchard->crews.count; i++)
        require(orchard->crews.list[i].weekdays > 1 && orchard->crews.list[i].weekdays < 256);
}

static char *read_once(const char *table, size_t size, const char *bytes, size_t most, size_t *rows)
{
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
    struct text text;
    arena_init(&arena, NULL);
    orchard_init(&orchard, &arena);
    diags_init(&diags, &arena);
    text_init(&text, &arena);
    struct pieces pieces = {bytes, size, most};
    struct source source = {.name = table, .context = &pieces, .read = read_piece};
    require(read_table(&orchard, table, &source, false, &diags));
    check_nouns(&orchard);
    *rows = count_rows(&orchard);
    diags_sort(&diags);
    diags_write(&diags, &text);
    char *told = strdup(text.bytes);
    arena_release(&arena);
    return told;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    size_t tables = 0, whole_rows, small_rows;
    if (size == 0)
        return 0;
    while (reading_tables[tables] != NULL)
        tables++;
    const char *table = reading_tables[data[0] % tables];
    char *whole = read_once(table, size - 1, (const char *)data + 1, SIZE_MAX, &whole_rows);
    char *small = read_once(table, size - 1, (const char *)data + 1, 7, &small_rows);
    require(whole_rows == small_rows && strcmp(whole, small) == 0);
    free(whole);
    free(small);
    return 0;
}
