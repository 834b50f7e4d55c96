/*
 * oracle.h - rows of the reference tables that may stand beside the repository.
 *
 * The tables are not part of it: tests skip when they are absent.  They lie in $SHARED/oracle, and
 * SHARED is ../shared when it is not set; tests run from the repository root.  A program of its own
 * per test, so the functions stand here.
 */
#ifndef TESTS_ORACLE_H
#define TESTS_ORACLE_H

#include "base/test.h"

enum { ORACLE_CELLS = 64, ORACLE_LINE = 2048 };

struct oracle {
    FILE *file;
    size_t columns;
    char *names[ORACLE_CELLS];
    char *cells[ORACLE_CELLS];
    char header[ORACLE_LINE];
    char line[ORACLE_LINE];
};

/* Cut a line into its cells, quotes taken off, in place; how many. */
static inline size_t oracle_split(char *line, char *cells[ORACLE_CELLS])
{
    char *from = line, *to = line;
    bool quoted = false, more = true;
    size_t count = 0;

    while (more) {
        assert_true(count < ORACLE_CELLS);
        cells[count++] = to;
        for (; *from != '\0' && *from != '\n' && *from != '\r' && (quoted || *from != ',');
             from++) {
            if (*from == '"')
                quoted = !quoted;
            else
                *to++ = *from;
        }
        more = *from == ',';
        from += more;
        *to++ = '\0';
    }
    return count;
}

/* Where a table stands; good until the next is asked for. */
static inline const char *oracle_path(const char *name)
{
    static char path[1024];
    const char *shared = getenv("SHARED");

    snprintf(path, sizeof path, "%s/oracle/%s", shared != NULL ? shared : "../shared", name);
    return path;
}

/* Open a table and read its header; the test is skipped when there is none. */
static inline void oracle_open(struct oracle *oracle, const char *name)
{
    const char *path = oracle_path(name);

    oracle->file = fopen(path, "r");
    if (oracle->file == NULL) {
        print_message("%s is not here\n", path);
        skip();
    }
    assert_non_null(fgets(oracle->header, ORACLE_LINE, oracle->file));
    oracle->columns = oracle_split(oracle->header, oracle->names);
}

/* The next row; false, and the table closed, after the last. */
static inline bool oracle_next(struct oracle *oracle)
{
    if (fgets(oracle->line, ORACLE_LINE, oracle->file) == NULL) {
        fclose(oracle->file);
        return false;
    }
    assert_int_equal(oracle_split(oracle->line, oracle->cells), oracle->columns);
    return true;
}

/* The cell of a named column in the row at hand. */
static inline const char *oracle_text(const struct oracle *oracle, const char *column)
{
    for (size_t i = 0; i < oracle->columns; i++) {
        if (strcmp(oracle->names[i], column) == 0)
            return oracle->cells[i];
    }
    fail_msg("the table has no column %s", column);
    return "";
}

/* Its number; NaN when it is empty. */
static inline double oracle_number(const struct oracle *oracle, const char *column)
{
    const char *text = oracle_text(oracle, column);
    char *end;
    double value = strtod(text, &end);

    if (*text == '\0')
        return NAN;
    if (*end != '\0')
        fail_msg("column %s: %s is no number", column, text);
    return value;
}

#endif
