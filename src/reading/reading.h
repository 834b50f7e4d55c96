/*
 * reading.h - from the bytes of a file to checked nouns.
 *
 * Nothing here opens a file: bytes come from a source that cli makes.  All faults of a file are
 * told in one go; only the source itself failing ends a read.  A row is left out when a required
 * cell, its number of cells or a rule between its cells is a fault; another faulty cell is told and
 * left blank, so that one bad date does not make every row that names this one a fault as well.
 */
#ifndef READING_READING_H
#define READING_READING_H

#include "base/diag.h"
#include "orchard/orchard.h"

#include <stdbool.h>
#include <stddef.h>

struct source {
    const char *name; /* as a person names it: "grafts.csv", "weather/HOLM.csv", "-" */
    void *context;
    /* Up to `size` bytes into `bytes`: how many, 0 at the end, -1 when the system refused. */
    long (*read)(void *context, size_t size, char *bytes);
};

/* A source over bytes in memory (shipped defaults, tests). */
struct memory_source {
    const char *bytes;
    size_t length, given;
};
struct source source_of_memory(const char *name, struct memory_source *memory, size_t length,
                               const char *bytes);

#define READING_CELL_BYTES_MOST 65536         /* a longer cell is refused at its opening line */
#define READING_TABLE_BYTES_MOST (256u << 20) /* a longer table is refused */
#define READING_JSON_BYTES_MOST (16u << 20)

/* The names of the tables of a folder in the order of docs/tables.md: "sites.csv" ..., NULL-ended.
 */
extern const char *const reading_tables[];

/* Is this table needed (sites, trees, selections, grafts)? */
bool reading_table_required(const char *table);

/* Read one table (its name decides which) and append its rows to the orchard.  `shipped`: rows of
 * data/defaults.  false: the source failed. */
bool read_table(struct orchard *orchard, const char *table, const struct source *source,
                bool shipped, struct diags *diags);

/* program.json over the defaults already there; before the tables, because its `stage_map` says
 * what the stages of notes.csv mean.  false: the source failed. */
bool read_program(struct orchard *orchard, const struct source *source, struct diags *diags);

/*
 * A generic weather CSV (date, tmin_c/tmin_f, tmax_c/tmax_f) merged into the record of `station`,
 * made when there is none.  Later files win over earlier ones, with a warning where they differ.
 * false: the source failed.
 */
bool read_weather(struct orchard *orchard, const char *station, const struct source *source,
                  struct diags *diags);

/*
 * A forecast file (JSON, the grid-point form of docs/tables.md) appended to the forecasts of
 * `station`, by the civil days of its utc_offset_h or, without one, of the first of its sites; so
 * after sites.csv and stations.csv.  A file with a fault gives no forecast.  false: the source
 * failed.
 */
bool read_forecast(struct orchard *orchard, const char *station, const struct source *source,
                   struct diags *diags);

/* May this be the name of a station (letters, digits, _ and -, at most 32)? */
bool reading_station_name(size_t length, const char *name);

/* How a CSV file is written, so that rows can be added in its own manner. */
struct manner {
    size_t count;
    const char *const *columns; /* [count]: names of the header line; "": none */
    char delimiter;
    bool crlf; /* lines end in CR LF */
};

/* false: there is no header line that can be used. */
bool reading_manner(size_t length, const char *bytes, struct arena *arena, struct manner *manner);

/* Column `index` of a table in the order of docs/tables.md; false past the last one. */
struct column_info {
    const char *name;
    bool required;
};
bool reading_column(const char *table, size_t index, struct column_info *column);

#endif
