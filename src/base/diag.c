#include "base/diag.h"

#include <assert.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { QUOTE_COLUMNS = 60 };

struct diag_tally {
    const char *file;
    size_t kept[2]; /* by level */
};

void diags_init(struct diags *diags, struct arena *arena)
{
    *diags = (struct diags){.arena = arena, .most = DIAG_MOST};
}

/* No file sorts before every file. */
static int compare_files(const char *left, const char *right)
{
    if (left == right)
        return 0;
    if (!left || !right)
        return left ? 1 : -1;
    return strcmp(left, right);
}

static struct diag_tally *tally_of(struct diags *diags, const char *file)
{
    /* A run reads a few dozen files, and mostly the newest one is asked for. */
    for (size_t i = diags->tally_count; i-- > 0;)
        if (compare_files(diags->tallies[i].file, file) == 0)
            return &diags->tallies[i];
    struct diag_tally *tally =
        ARENA_PUSH(diags->arena, diags->tallies, diags->tally_count, diags->tally_capacity);
    tally->file = file;
    return tally;
}

__attribute__((format(printf, 3, 0))) static void add(struct diags *diags, struct diag diag,
                                                      const char *format, va_list arguments)
{
    assert(diag.code);
    if (diag.level == DIAG_ERROR)
        diags->errors++;
    else
        diags->warnings++;

    /* Errors have a limit of their own, lest warnings crowd out what stops the run. */
    struct diag_tally *tally = tally_of(diags, diag.place.file);
    if (tally->kept[diag.level] >= diags->most) {
        diags->dropped++;
        return;
    }
    tally->kept[diag.level]++;

    struct text told, shown;
    text_init(&told, diags->arena);
    text_addv(&told, format, arguments);
    text_init(&shown, diags->arena);
    text_add_printable(&shown, told.bytes);
    diag.message = shown.bytes;

    struct diag *kept = ARENA_PUSH(diags->arena, diags->list, diags->count, diags->capacity);
    *kept = diag;
}

void diag_error(struct diags *diags, struct place place, const char *code, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add(diags, (struct diag){.place = place, .level = DIAG_ERROR, .code = code}, format, arguments);
    va_end(arguments);
}

void diag_warning(struct diags *diags, struct place place, const char *code, const char *format,
                  ...)
{
    va_list arguments;
    va_start(arguments, format);
    add(diags, (struct diag){.place = place, .level = DIAG_WARNING, .code = code}, format,
        arguments);
    va_end(arguments);
}

const char *diag_quote(struct diags *diags, const char *text)
{
    if (!text)
        return "nothing";

    struct text quoted;
    text_init(&quoted, diags->arena);
    text_add(&quoted, "'");
    text_add_cut(&quoted, QUOTE_COLUMNS, text);
    text_add(&quoted, "'");
    return quoted.bytes;
}

#define COMPARE(left, right)                                                                       \
    do {                                                                                           \
        if ((left) != (right))                                                                     \
            return (left) < (right) ? -1 : 1;                                                      \
    } while (0)

/* Total: what is equal here is printed alike. */
static int compare_diags(const void *a, const void *b)
{
    const struct diag *left = a, *right = b;
    int order = compare_files(left->place.file, right->place.file);
    if (order)
        return order;
    COMPARE(left->place.line, right->place.line);
    COMPARE(left->place.cell, right->place.cell);
    COMPARE(left->level, right->level);
    order = strcmp(left->code, right->code);
    return order ? order : strcmp(left->message, right->message);
}

void diags_sort(struct diags *diags)
{
    if (diags->count > 1)
        qsort(diags->list, diags->count, sizeof *diags->list, compare_diags);
}

static void write_place(struct place place, struct text *out)
{
    if (!place.file)
        return;
    text_add_printable(out, place.file);
    if (place.line > 0)
        text_addf(out, ":%u", place.line);
    if (place.line > 0 && place.cell > 0)
        text_addf(out, ":%u", place.cell);
    text_add(out, ": ");
}

void diags_write(const struct diags *diags, struct text *out)
{
    for (size_t i = 0; i < diags->count; i++) {
        const struct diag *diag = &diags->list[i];
        write_place(diag->place, out);
        text_addf(out, "%s: %s [%s]\n", diag->level == DIAG_ERROR ? "error" : "warning",
                  diag->message, diag->code);
    }
    if (diags->dropped == 1)
        text_add(out, "1 further fault is not shown\n");
    else if (diags->dropped > 1)
        text_addf(out, "%zu further faults are not shown\n", diags->dropped);
}
