/*
 * Any bytes as a forecast file: what comes out is a forecast of a few days in order, or none.
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

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
    struct memory_source memory;
    arena_init(&arena, NULL);
    orchard_init(&orchard, &arena);
    diags_init(&diags, &arena);
    *ARENA_PUSH(&arena, orchard.stations.list, orchard.stations.count, orchard.stations.capacity) =
        (struct station){.name = "HOLM", .utc_offset_h = -5};
    struct source source =
        source_of_memory("HOLM.forecast.json", &memory, size, (const char *)data);
    require(read_forecast(&orchard, "HOLM", &source, &diags));
    require(orchard.forecasts.count == (diags.errors == 0));
    for (size_t f = 0; f < orchard.forecasts.count; f++) {
        const struct forecast *forecast = &orchard.forecasts.list[f];
        require(forecast->count >= 1 && forecast->count <= FORECAST_DAYS_MOST);
        for (size_t i = 0; i < forecast->count; i++)
            require(!(forecast->tmin_c[i] > forecast->tmax_c[i]));
        require(!isnan(forecast->tmin_c[0]) || !isnan(forecast->tmax_c[0]));
    }
    arena_release(&arena);
    return 0;
}
