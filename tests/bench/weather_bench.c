/*
 * Rows a second of read_weather, beside a bare libcsv loop over the same bytes in the same run: the
 * ratio says what dates, numbers, checks and merging cost, whatever the machine.  The C library is
 * told to keep freed memory, so that what a system takes for a page touched first is not measured.
 */
#include "orchard/orchard.h"
#include "reading/reading.h"

#include <csv.h>
#include <malloc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { YEARS = 300, FILES = 20, ROUNDS = 5 };

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* 300 years of invented days. */
static void write_days(struct text *text, struct arena *arena)
{
    text_init(text, arena);
    text_add(text, "date,tmin_c,tmax_c\n");
    char day_buffer[DAY_TEXT];
    daynum first = day_from_civil(1850, 1, 1), last = day_from_civil(1850 + YEARS, 1, 1);
    for (daynum day = first; day < last; day++) {
        int wave = (int)((day * 7919L) % 211) - 90;
        text_addf(text, "%s,%s%d.%d,%d.%d\n", day_text(day, day_buffer), wave < 0 ? "-" : "",
                  abs(wave) / 10, abs(wave) % 10, 12 + abs(wave) / 10, abs(wave) % 10);
    }
}

static void count_cell(void *bytes, size_t length, void *context)
{
    (void)bytes;
    *(size_t *)context += length;
}

static void count_row(int line_end, void *context)
{
    (void)line_end;
    ++*(size_t *)context;
}

static double time_bare(const struct text *text)
{
    size_t seen = 0;
    double start = seconds();
    for (int i = 0; i < FILES; i++) {
        struct csv_parser parser;
        csv_init(&parser, CSV_STRICT | CSV_APPEND_NULL);
        csv_parse(&parser, text->bytes, text->length, count_cell, count_row, &seen);
        csv_fini(&parser, count_cell, count_row, &seen);
        csv_free(&parser);
    }
    double taken = seconds() - start;
    return seen == 0 ? -1 : taken;
}

static double time_reading(const struct text *text, size_t *days)
{
    struct arena arena;
    struct orchard orchard;
    struct diags diags;
    arena_init(&arena, NULL);
    orchard_init(&orchard, &arena);
    diags_init(&diags, &arena);
    double start = seconds();
    for (int i = 0; i < FILES; i++) {
        char station[16];
        struct memory_source memory;
        snprintf(station, sizeof station, "S%d", i);
        struct source source = source_of_memory(station, &memory, text->length, text->bytes);
        if (!read_weather(&orchard, station, &source, &diags) || diags.errors > 0)
            exit(1);
    }
    double taken = seconds() - start;
    *days = 0;
    for (size_t i = 0; i < orchard.records.count; i++)
        *days += orchard.records.list[i].count;
    arena_release(&arena);
    return taken;
}

int main(void)
{
    struct arena arena;
    struct text text;
    mallopt(M_MMAP_MAX, 0);
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    arena_init(&arena, NULL);
    write_days(&text, &arena);
    double bare = 1e9, reading = 1e9;
    size_t days = 0;
    for (int i = 0; i < ROUNDS; i++) {
        double taken = time_bare(&text);
        bare = taken < bare ? taken : bare;
        taken = time_reading(&text, &days);
        reading = taken < reading ? taken : reading;
    }
    printf("weather: %.1f million rows/s read, %.1f by bare libcsv, ratio %.2f\n",
           (double)days / reading / 1e6, (double)days / bare / 1e6, bare / reading);
    arena_release(&arena);
    return 0;
}
