/*
 * Any bytes as a file of the daily archive, under a name that leaves its unit open and under each
 * that says it: values stay within what the reader promises, no minimum lies above its maximum, and
 * what is told of the file agrees with its record.
 */
#include "orchard/orchard.h"
#include "reading/reading.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void require(bool held)
{
    if (!held)
        abort();
}

static void check_record(const struct record *record, const struct weather_file *file)
{
    size_t days = 0;
    require(record->count <= 146097);
    for (size_t i = 0; i < record->count; i++) {
        double tmin_c = record->tmin_c[i], tmax_c = record->tmax_c[i];
        require(isnan(tmin_c) || (tmin_c >= -90 && tmin_c <= 60));
        require(isnan(tmax_c) || (tmax_c >= -90 && tmax_c <= 60));
        require(!(tmin_c > tmax_c));
        days += !isnan(tmin_c) || !isnan(tmax_c);
    }
    require(days == file->days);
    require((file->flagged > 0) == (file->flags[0] != '\0'));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const names[] = {"HOLM.csv", "HOLM-metric.csv", "HOLM-standard.csv",
                                        "HOLM-tenths.csv"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct arena arena;
        struct orchard orchard;
        struct diags diags;
        struct memory_source memory;
        struct source source = source_of_memory(names[i], &memory, size, (const char *)data);
        arena_init(&arena, NULL);
        orchard_init(&orchard, &arena);
        diags_init(&diags, &arena);
        require(read_weather(&orchard, "HOLM", &source, &diags));
        require(orchard.records.count <= 1);
        if (orchard.records.count == 1 && diags.errors == 0)
            check_record(orchard.records.list, orchard.weather_files.list);
        arena_release(&arena);
    }
    return 0;
}
