#include "cli/options.h"

#include "base/number.h"

#include <getopt.h>
#include <math.h>
#include <string.h>

const struct option_row common_options[] = {
    OPTION("as-of", "DATE", OPTION_DATE, as_of,
           "know nothing that is dated later; default: today at the first site"),
    OPTION("format", "NAME", OPTION_WORD, format,
           "text, csv, json, sheet (a workbook for spreadsheet programs), html or svg, where the "
           "command has it"),
    OPTION("columns", "A,B,...", OPTION_WORD, columns,
           "these columns alone, in this order, by their names in CSV"),
    OPTION("only", "COLUMN=V,...", OPTION_WORDS, only,
           "rows in which that column has one of these values, as CSV has it; may be given again"),
    OPTION("explain", NULL, OPTION_FLAG, explain,
           "instead of the rows: what each column of the tables means, its kind and unit"),
    OPTION("units", "si|us", OPTION_WORD, units, "what people read: deg C and m, or deg F and ft"),
    OPTION("out", "FILE", OPTION_WORD, out, "replace FILE whole instead of printing"),
    OPTION("plain", NULL, OPTION_FLAG, plain,
           "CSV without the apostrophe that guards spreadsheets"),
    OPTION("digits", "N", OPTION_DIGITS, digits, "digits after the point of every number"),
    OPTION("help", NULL, OPTION_FLAG, help, "this page"),
    OPTION("version", NULL, OPTION_FLAG, version, "the program's version"),
    OPTIONS_END,
};

#define OPTION_ROWS_MOST 64

void options_init(struct options *options)
{
    *options = (struct options){
        .as_of = DAY_NONE,
        .from = DAY_NONE,
        .to = DAY_NONE,
        .week = DAY_NONE,
        .day = DAY_NONE,
        .lower_c = NAN,
        .latitude_deg = NAN,
        .utc_offset_h = NAN,
        .upper_c = NAN,
        .coancestry_weight = NAN,
        .status_number = NAN,
        .digits = -1,
    };
}

/* 10, 10c, 50f: a temperature in deg C.  getopt_long gives every option but a flag its word, which
 * the analyser cannot know. */
static bool parse_temperature(const char *word, double *celsius)
{
    size_t length = strlen(word); // NOLINT(clang-analyzer-core.NonNullParamChecker)
    bool fahrenheit = false;
    double value;

    if (length > 1 && strchr("cCfF", word[length - 1])) {
        length--;
        fahrenheit = word[length] == 'f' || word[length] == 'F';
    }
    if (!number_parse(length, word, &value) || value < -100 || value > 200)
        return false;
    *celsius = fahrenheit ? (value - 32.0) / 1.8 : value;
    return true;
}

/* Put `word` where the row says; NULL, or what was expected. */
static const char *store(const struct option_row *row, const char *word, struct options *options)
{
    void *member = (char *)options + row->offset;
    size_t length = word ? strlen(word) : 0; /* only a flag comes without a word */
    int32_t count;

    switch (row->kind) {
    case OPTION_FLAG:
        *(bool *)member = true;
        return NULL;
    case OPTION_WORD:
        *(const char **)member = word;
        return NULL;
    case OPTION_WORDS: {
        struct option_words *words = member;

        if (words->count == OPTION_WORDS_MOST)
            return "given so often: 16 times at most";
        words->list[words->count++] = word;
        return NULL;
    }
    case OPTION_DATE:
        return day_parse(length, word, member) ? NULL : "a date like 2027-03-09";
    case OPTION_WEEK:
        return day_parse_week(length, word, member) ? NULL
                                                    : "an ISO week that exists, like 2027-W10";
    case OPTION_MONTH_DAY:
        return day_parse_month_day(length, word, member) ? NULL : "a month and day like 01-17";
    case OPTION_TEMPERATURE:
        return parse_temperature(word, member) ? NULL : "a temperature like 10, 10c or 50f";
    case OPTION_LATITUDE:
        if (!number_parse(length, word, member) || fabs(*(double *)member) > 90)
            return "degrees north of the equator from -90 to 90, like 33.5";
        return NULL;
    case OPTION_HOURS:
        if (!number_parse(length, word, member) || *(double *)member < -12 ||
            *(double *)member > 14)
            return "hours from -12 to 14, like -5 or 5.5";
        return NULL;
    case OPTION_DIGITS:
        if (!number_parse_integer(length, word, &count) || count < 0 || count > 15)
            return "a whole number from 0 to 15";
        *(int *)member = count;
        return NULL;
    case OPTION_YEAR:
        if (!number_parse_integer(length, word, &count) || count < 1 || count > 9999)
            return "a year like 2028";
        *(int *)member = count;
        return NULL;
    case OPTION_COUNT:
        if (!number_parse_integer(length, word, &count) || count < 1 || count > 99)
            return "a whole number from 1 to 99";
        *(int *)member = count;
        return NULL;
    case OPTION_MANY:
        if (!number_parse_integer(length, word, &count) || count < 1 || count > 1000000)
            return "a whole number from 1 to 1000000";
        *(int *)member = count;
        return NULL;
    case OPTION_AMOUNT:
        if (!number_parse(length, word, member) || !(*(double *)member > 0) ||
            *(double *)member > 1e9)
            return "a number above 0, at most 1000000000";
        return NULL;
    }
    return "nothing";
}

const struct option_row *option_named(const struct option_row *rows, const char *name)
{
    for (; rows && rows->name; rows++)
        if (strcmp(rows->name, name) == 0)
            return rows;
    return NULL;
}

static size_t gather(const struct option_row *own, const struct option_row **rows)
{
    size_t count = 0;

    for (const struct option_row *row = own; row && row->name; row++)
        rows[count++] = row;
    for (const struct option_row *row = common_options; row->name; row++)
        if (!option_named(own, row->name))
            rows[count++] = row;
    return count;
}

/* The option that a refused word stands for, or NULL: one that it begins, or is like. */
static const char *meant(const char *word, size_t count, const char *const *names,
                         struct arena *arena)
{
    size_t length = strcspn(word, "=");

    for (size_t i = 0; i < count; i++)
        if (length > 1 && strncmp(names[i], word, length) == 0)
            return names[i];
    return text_nearest(arena_text(arena, length, word), count, names);
}

/* The word of argv that getopt_long has just refused, or taken by a prefix. */
static void tell_unknown(const char *word, size_t count, const struct option_row **rows,
                         struct text *fault)
{
    const char *names[OPTION_ROWS_MOST], *nearest, *typed = word;

    for (size_t i = 0; i < count; i++)
        names[i] = rows[i]->name;
    while (*word == '-')
        word++;
    nearest = meant(word, count, names, fault->arena);
    text_add(fault, "unknown option '");
    text_add_printable(fault, typed);
    text_add(fault, "'");
    if (nearest)
        text_addf(fault, ", did you mean --%s?", nearest);
}

/* `--name` or `--name=value` spelled in full?  getopt_long takes any unique prefix, and a script
 * that relies on one breaks when an option is added. */
static bool spelled_in_full(const char *word, const char *name)
{
    size_t length = strlen(name);

    return strncmp(word, "--", 2) == 0 && strncmp(word + 2, name, length) == 0 &&
           (word[2 + length] == '\0' || word[2 + length] == '=');
}

bool options_parse(int argc, char **argv, const struct option_row *own, struct options *options,
                   const char **operands, size_t *operand_count, struct text *fault)
{
    const struct option_row *rows[OPTION_ROWS_MOST];
    struct option longs[OPTION_ROWS_MOST + 1] = {{0}};
    size_t count = gather(own, rows);
    int chosen;

    for (size_t i = 0; i < count; i++)
        longs[i] = (struct option){
            .name = rows[i]->name,
            .has_arg = rows[i]->kind == OPTION_FLAG ? no_argument : required_argument,
            .val = (int)i + 256,
        };
    opterr = 0;
    optind = 0; /* glibc: start afresh, and permute */
    for (;;) {
        int got = getopt_long(argc, argv, ":", longs, &chosen);
        const char *word, *expected;

        if (got == -1)
            break;
        /* After permuting, the option just read stands before optind (and before its argument). */
        word = argv[optind - 1];
        if (got == '?') {
            char short_option[] = {'-', (char)optopt, '\0'};

            tell_unknown(optopt > 0 && optopt < 256 ? short_option : word, count, rows, fault);
            return false;
        }
        if (got == ':') {
            text_add(fault, "option '");
            text_add_printable(fault, argv[optind - 1]);
            text_add(fault, "' needs a value");
            return false;
        }
        if (optarg && optarg == word)
            word = argv[optind - 2];
        if (!spelled_in_full(word, rows[chosen]->name)) {
            tell_unknown(word, count, rows, fault);
            return false;
        }
        expected = store(rows[chosen], optarg, options);
        if (expected) {
            text_addf(fault, "--%s is '", rows[chosen]->name);
            text_add_printable(fault, optarg);
            text_addf(fault, "', not %s", expected);
            return false;
        }
    }
    *operand_count = 0;
    for (int i = optind; i < argc; i++)
        operands[(*operand_count)++] = argv[i];
    return true;
}
