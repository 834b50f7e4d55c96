/*
 * options.h - the command line as a table: parsing and help come from the same rows.
 */
#ifndef CLI_OPTIONS_H
#define CLI_OPTIONS_H

#include "base/arena.h"
#include "base/day.h"
#include "base/text.h"

#include <stdbool.h>
#include <stddef.h>

#define OPTION_WORDS_MOST 16

/* What an option that may be given again collects. */
struct option_words {
    const char *list[OPTION_WORDS_MOST];
    size_t count;
};

struct options {
    bool help, version, strict, plain, shortfalls, seasons, rates, days, each, bags, crosses,
        status, pollen, moves, all, verbose, explain;
    const char *format, *units, *out, *clock, *curve, *cutoff, *event, *site, *dates, *columns,
        *firm;
    struct option_words only;
    const char *members, *leads, *issue, *season_range;
    const char *table, *replaces, *into;
    daynum as_of, from, to, week, day; /* DAY_NONE: not given */
    struct month_day start;            /* month 0: not given */
    double lower_c, upper_c;           /* NaN: not given */
    const char *counts;
    bool scions, chilling, placement, hosts, weak, in_store;
    int trees, clones;   /* 0: not given */
    double latitude_deg; /* NaN: not given */
    double utc_offset_h; /* NaN: not given */
    int digits;          /* -1: not given */
    int season;          /* a year; 0: not given */
    const char *propose, *parents, *testers;
    const char *page;
    bool dry_run;
    int wait_seconds;                        /* 0: not at all */
    int crosses_per_parent, seeds;           /* 0: not given */
    double coancestry_weight, status_number; /* NaN: not given */
    int new_tags, months, sheet;             /* 0: not given */
    const char *prefix, *after, *list, *paper;
    bool check, labels, identity;
};

enum option_kind {
    OPTION_FLAG,
    OPTION_WORD,
    OPTION_WORDS, /* may be given again */
    OPTION_DATE,
    OPTION_WEEK, /* to its Monday */
    OPTION_MONTH_DAY,
    OPTION_TEMPERATURE, /* 10, 10c or 50f, to deg C */
    OPTION_LATITUDE,    /* degrees, north positive */
    OPTION_HOURS,       /* -12 to 14 */
    OPTION_DIGITS,      /* 0 to 15 */
    OPTION_YEAR,        /* 1 to 9999 */
    OPTION_COUNT,       /* 1 to 99 */
    OPTION_MANY,        /* 1 to 1000000 */
    OPTION_AMOUNT       /* above 0, at most 1000000000 */
};

struct option_row {
    const char *name, *argument;
    enum option_kind kind;
    size_t offset; /* in struct options */
    const char *help;
};

#define OPTION(name, argument, kind, member, help)                                                 \
    {                                                                                              \
        name, argument, kind, offsetof(struct options, member), help                               \
    }
#define OPTIONS_END                                                                                \
    {                                                                                              \
        NULL, NULL, OPTION_FLAG, 0, NULL                                                           \
    }

/* Options that every command has; a command's own row of the same name stands in its place. */
extern const struct option_row common_options[];

/* NULL: there is none. */
const struct option_row *option_named(const struct option_row *rows, const char *name);

void options_init(struct options *options);

/*
 * Parse argv[1..] by the rows of `own` (NULL: none) and the common ones; options may stand
 * anywhere,
 * `--` ends them.  Operands go to operands[*operand_count].  false: `fault` says why.
 */
bool options_parse(int argc, char **argv, const struct option_row *own, struct options *options,
                   const char **operands, size_t *operand_count, struct text *fault);

#endif
