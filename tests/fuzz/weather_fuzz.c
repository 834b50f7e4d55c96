/*
 * Any bytes as a weather file, read twice into one station: the record stays dense and its values
 * within what the reader promises, and the second reading, being equal, is told of nothing new but
 * what the first was told.
 */
#include "orchard/orchard.h"
#include "reading/reading.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool held)
{
    if (!held)
        abort();
}

static void check_value(double value)
{
    require(isnan(value) || (value >= -90 && value <= 60));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
    size_t errors[2], warnings[2];
    arena_init(&arena, NULL);
    orchard_init(&orchard, &arena);
    for (int i = 0; i < 2; i++) {
        struct memory_source memory;
        struct source source = source_of_memory("HOLM.csv", &memory, size, (const char *)data);
        diags_init(&diags, &arena);
        require(read_weather(&orchard, "HOLM", &source, &diags));
        errors[i] = diags.errors;
        warnings[i] = diags.warnings;
    }
    require(errors[0] == errors[1] && warnings[0] == warnings[1]);
    for (size_t i = 0; i < orchard.records.count; i++) {
        const struct record *record = &orchard.records.list[i];
        require(record->count == 0 || record->first_day >= day_from_civil(1800, 1, 1));
        require(record->count <= 146097);
        for (size_t day = 0; day < record->count; day++) {
            check_value(record->tmin_c[day]);
            check_value(record->tmax_c[day]);
        }
    }
    arena_release(&arena);
    return 0;
}
