#include "reading/tables.h"

#include <stddef.h>
#include <string.h>

#include <math.h>

/* ---- crews.csv ------------------------------------------------------------------------------ */

#define AT(member) .offset = offsetof(struct crew_time, member)

static const char *const weekdays[] = {"Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"};
static const struct words weekday_words = {COUNT_OF(weekdays), weekdays};

/* `Mo Tu We`: bit 1 << weekday of each. */
static bool read_weekdays(struct reader *reader, const struct cell *cell, void *noun)
{
    unsigned found = 0;
    for (const char *at = cell->text + strspn(cell->text, " "); *at != '\0';) {
        char word[8] = "";
        size_t length = strcspn(at, " ");
        if (length < sizeof word)
            memcpy(word, at, length);
        int day = words_find(word, weekday_words);
        if (day < 0 || (found & (2u << day))) {
            diag_error(
                reader->diags, reader->place, "bad-weekdays",
                "'weekdays' is %s, expected days once each with blanks between, like Mo Tu We "
                "Th Fr Sa Su",
                rows_quote(reader->rows, cell->text));
            return false;
        }
        found |= 2u << day;
        at += length;
        at += strspn(at, " ");
    }
    ((struct crew_time *)noun)->weekdays = found;
    return true;
}

static const struct column crew_columns[] = {
    {.name = "crew", .kind = COLUMN_NAME, .required = true, AT(crew)},
    {.name = "lift", .kind = COLUMN_NAME, AT(lift_name)},
    {.name = "site", .kind = COLUMN_NAME, AT(site_name)},
    {.name = "from", .kind = COLUMN_DAY, .required = true, AT(from)},
    {.name = "to", .kind = COLUMN_DAY, .required = true, AT(to)},
    {.name = "weekdays", .kind = COLUMN_OWN, .read = read_weekdays},
    {.name = "hours_per_day",
     .kind = COLUMN_NUMBER,
     .required = true,
     AT(hours_per_day),
     .least = 0,
     .most = 24,
     .blank = NAN},
    {.name = "work",
     .kind = COLUMN_WORD,
     AT(work),
     .words = {WORK_WORDS, work_words},
     .blank = WORK_ANY},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static bool finish_crew(struct reader *reader, void *row)
{
    (void)reader;
    struct crew_time *crew = row;
    if (crew->weekdays == 0)
        crew->weekdays = 2u << 0 | 2u << 1 | 2u << 2 | 2u << 3 | 2u << 4; /* Monday to Friday */
    return true;
}

static void append_crew(struct orchard *orchard, const void *row)
{
    APPEND(orchard, crew_time, crews, row);
}

const struct table crew_table = {.name = "crews.csv",
                                 .row_bytes = sizeof(struct crew_time),
                                 TABLE_COLUMNS(crew_columns),
                                 .finish = finish_crew,
                                 .append = append_crew};

#undef AT

/* ---- lifts.csv ------------------------------------------------------------------------------ */

#define AT(member) .offset = offsetof(struct lift_time, member)

static const struct column lift_columns[] = {
    {.name = "lift", .kind = COLUMN_NAME, .required = true, AT(lift)},
    {.name = "site", .kind = COLUMN_NAME, AT(site_name)},
    {.name = "from", .kind = COLUMN_DAY, .required = true, AT(from)},
    {.name = "to", .kind = COLUMN_DAY, .required = true, AT(to)},
    {.name = "hours_per_day",
     .kind = COLUMN_NUMBER,
     AT(hours_per_day),
     .least = 0,
     .most = 24,
     .blank = NAN},
    {.name = "reach_m", .kind = COLUMN_NUMBER, AT(reach_m), .least = 0, .most = 100, .blank = NAN},
    {.name = "reach_ft",
     .kind = COLUMN_NUMBER,
     AT(reach_m),
     .least = 0,
     .most = 330,
     .blank = NAN,
     .unit = UNIT_FEET},
    {.name = "notes", .kind = COLUMN_TEXT, AT(notes)},
};

static void append_lift(struct orchard *orchard, const void *row)
{
    APPEND(orchard, lift_time, lifts, row);
}

const struct table lift_table = {.name = "lifts.csv",
                                 .row_bytes = sizeof(struct lift_time),
                                 TABLE_COLUMNS(lift_columns),
                                 .append = append_lift};
