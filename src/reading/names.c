/*
 * Names join the tables, stand on tags and go through spreadsheets: they must come through as
 * typed.
 */
#include "reading/bytes.h"
#include "reading/columns.h"

#include <string.h>

bool reading_station_name(size_t length, const char *name)
{
    static const char letters[] =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-";
    if (length < 1 || length > 32)
        return false;
    for (size_t i = 0; i < length; i++)
        if (memchr(letters, name[i], sizeof letters - 1) == NULL)
            return false;
    return name[0] != '_' && name[0] != '-';
}

enum { NAME_BYTES_MOST = 64 };

bool cell_check_name(struct reader *reader, size_t length, const char *text)
{
    const char *fault = NULL;
    if (length > NAME_BYTES_MOST)
        fault = "expected a name of at most 64 bytes, shorten it";
    else if (strchr("=+-@'", text[0]) != NULL)
        fault = "expected a name that does not begin with = + - @ or an apostrophe, which a "
                "spreadsheet would change, rename it";
    else if (text[0] == ' ' || text[length - 1] == ' ')
        fault = "expected a name without blanks around it, remove them";
    else if (strpbrk(text, "\t\n") != NULL)
        fault = "expected a name of one line without tabs, remove them";
    else if (bytes_hold_invisible(text))
        fault = "expected a name without invisible characters, type it again";
    if (fault == NULL)
        return true;
    diag_error(reader->diags, reader->place, "bad-name", "name %s, %s",
               rows_quote(reader->rows, text), fault);
    return false;
}

/* What a spreadsheet makes of a name when the file is opened and saved, or NULL. */
static const char *spreadsheet_change(const char *name)
{
    size_t digits = strspn(name, "0123456789");
    const char *rest = name + digits;
    if (digits > 1 && name[0] == '0' && *rest == '\0')
        return "drops its leading zeros";
    if (digits > 0 && (*rest == 'E' || *rest == 'e') && rest[1] != '\0' &&
        rest[1 + strspn(rest + 1, "0123456789")] == '\0')
        return "turns it into a number";
    static const char months[] = "JANFEBMARAPRMAYJUNJULAUGSEPOCTNOVDEC";
    for (size_t i = 0; i < 36; i += 3)
        if (strncmp(name, months + i, 3) == 0 && (name[3] == '-' || name[3] == ' ') &&
            name[4] != '\0' && name[4 + strspn(name + 4, "0123456789")] == '\0' &&
            strlen(name + 4) <= 2)
            return "turns it into a date";
    return NULL;
}

bool cell_read_name(struct reader *reader, const struct column *column, const struct cell *cell,
                    const char **member)
{
    if (!cell_check_name(reader, cell->length, cell->text))
        return false;
    if (column->kind == COLUMN_STATION && !reading_station_name(cell->length, cell->text)) {
        diag_error(
            reader->diags, reader->place, "bad-station-name",
            "'%s' is %s, expected at most 32 of A-Z a-z 0-9 _ -, the first a letter or digit, "
            "because it names files, rename it",
            column->name, rows_quote(reader->rows, cell->text));
        return false;
    }
    /* Only where the name is given, not wherever it is used. */
    const char *change = column == reader->table->columns ? spreadsheet_change(cell->text) : NULL;
    if (change != NULL)
        diag_warning(reader->diags, reader->place, "fragile-name",
                     "'%s' is %s, a spreadsheet %s, expected a name it leaves alone", column->name,
                     rows_quote(reader->rows, cell->text), change);
    *member = arena_text(reader->arena, cell->length, cell->text);
    return true;
}
