/*
 * Any bytes as program.json: whatever it says, the settings that come out are ones the program can
 * reckon with.
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

static bool is_share(double value)
{
    return value >= 0 && value <= 1;
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
    struct source source = source_of_memory("program.json", &memory, size, (const char *)data);
    require(read_program(&orchard, &source, &diags));
    const struct program *program = &orchard.program;
    require(is_share(program->assurance) && is_share(program->clean_chance));
    require(is_share(program->uncounted_share) && is_share(program->keep_share));
    require(program->members_most >= 1 && program->firm_days >= 0);
    require(program->clock_count >= 3);
    for (size_t i = 0; i < program->clock_count; i++) {
        const struct clock *clock = &program->clocks[i];
        require(clock->name != NULL && clock->rule.curve != NULL && isfinite(clock->rule.lower));
        require(clock->rule.cutoff == CONETIDE_CUTOFF_NONE ||
                clock->rule.upper > clock->rule.lower);
        require(clock->start.month >= 1 && clock->end_days >= 1);
    }
    for (size_t i = 0; i < program->stage_map_count; i++)
        require(program->stage_map[i].stage >= 1 && program->stage_map[i].stage <= 6);
    arena_release(&arena);
    return 0;
}
