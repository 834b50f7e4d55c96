#include "cli/starter.h"

#include "base/text.h"
#include "cli/shipped.h"
#include "reading/reading.h"

#include <string.h>

/* Names and numbers are invented. */
static const struct {
    const char *name, *text;
} examples[] = {
    {"README.txt",
     "A programme folder for conetide, with an example of three grafts.\n"
     "\n"
     "1. Replace the rows of sites.csv, trees.csv, selections.csv and grafts.csv by your own.\n"
     "2. Put the daily weather of your stations into weather/, one file a station, named like the\n"
     "   station of sites.csv: some ten past years give dates, and files of GHCN-Daily are read "
     "as\n"
     "   they come.\n"
     "3. conetide check FOLDER tells every fault, with its file, line and cell.\n"
     "4. conetide flowering FOLDER projects when the grafts flower. Crosses, pollen and crews\n"
     "   (crosses.csv, pollen.csv, crews.csv, lifts.csv) add the crossing plan. The columns of "
     "every\n"
     "   table stand in docs/tables.md.\n"
     "\n"
     "What is set in program.json is what holds without it.\n"},
    {"program.json", "{\n"
                     "  \"schema\": 1,\n"
                     "  \"name\": \"My programme\",\n"
                     "  \"units\": \"si\",\n"
                     "  \"season_starts\": {\"north\": \"07-01\", \"south\": \"01-01\"},\n"
                     "  \"members_most\": 30,\n"
                     "  \"coancestry_warn\": 0.0625,\n"
                     "  \"coancestry_refuse\": 0.125,\n"
                     "  \"assurance\": 0.95,\n"
                     "  \"priority_weights\": [1, 0.7, 0.5, 0.35, 0.25],\n"
                     "  \"uncounted_share\": 0.8,\n"
                     "  \"clean_chance\": 0.9,\n"
                     "  \"firm_days\": 7,\n"
                     "  \"keep_share\": 0.6,\n"
                     "  \"stay_bonus\": 0.02,\n"
                     "  \"dose_ml\": 0.5,\n"
                     "  \"germination_full_pct\": 50,\n"
                     "  \"germination_refuse_pct\": 10,\n"
                     "  \"freeze_c\": -3,\n"
                     "  \"freeze_days\": 30,\n"
                     "  \"graft_night_c\": -3,\n"
                     "  \"graft_day_low_c\": 7,\n"
                     "  \"graft_day_high_c\": 29,\n"
                     "  \"graft_open_share\": 0.25,\n"
                     "  \"graft_close_share\": 0.8,\n"
                     "  \"graft_calendar\": {\"open\": \"02-01\", \"close\": \"03-10\"}\n"
                     "}\n"},
    {"sites.csv", "site,station,latitude,longitude,elevation_m,utc_offset_h,notes\n"
                  "North field,FIELD,31.5,-38,90,-3,example\n"},
    {"trees.csv",
     "tree,site,block,row,position,species,clone,uses,places_top,places_middle,places_low,"
     "reach_needed_m,health,notes\n"
     "N-1-1,North field,north,1,1,slash,K1,graft,4,4,2,12,sound,example\n"
     "N-1-2,North field,north,1,2,slash,K1,graft,4,4,2,12,sound,example\n"
     "N-2-1,North field,north,2,1,slash,K2,graft+pollen,4,4,2,11,sound,example\n"},
    {"selections.csv", "selection,species,breeding_value,flag_colour,notes\n"
                       "S1,loblolly,12.5,red,example\n"
                       "S2,loblolly,11,blue,example\n"
                       "S3,loblolly,9.5,yellow,example\n"},
    {"grafts.csv", "tag,selection,tree,crown,branch,grafted_on,condition,condition_on,notes\n"
                   "A001,S1,N-1-1,top,T1,2025-02-11,,,example\n"
                   "A002,S2,N-1-2,top,T1,2025-02-11,,,example\n"
                   "A003,S3,N-2-1,middle,M1,2025-02-12,,,example\n"},
    {"weather/FIELD.csv", "date,tmin_c,tmax_c\n"
                          "2025-02-11,3.5,17\n"
                          "2025-02-12,6,19.5\n"
                          "2025-02-13,1,12.5\n"},
};

enum { EXAMPLES = sizeof examples / sizeof *examples, FILES_MOST = EXAMPLES + 32 };

static bool is_example(const char *name)
{
    for (size_t i = 0; i < EXAMPLES; i++)
        if (strcmp(examples[i].name, name) == 0)
            return true;
    return false;
}

/* Its first line as docs/tables.md orders it, of the two columns of a quantity that in deg C or
 * metres; the rows that ship where a table of one's own takes their place. */
static struct folder_file other_table(const char *table, struct arena *arena)
{
    struct column_info column;
    struct text text;

    text_init(&text, arena);
    for (const struct shipped *shipped = shipped_tables; shipped->table; shipped++)
        if (strcmp(table, "tasks.csv") == 0 && strcmp(shipped->table, table) == 0)
            text_add_bytes(&text, shipped->length, (const char *)shipped->bytes);
    for (size_t i = 0; text.length == 0 || text.bytes[text.length - 1] != '\n'; i++) {
        if (!reading_column(table, i, &column)) {
            text_add(&text, "\n");
        } else {
            size_t length = strlen(column.name);
            bool other_unit =
                length > 2 && (strcmp(column.name + length - 2, "_f") == 0 ||
                               (length > 3 && strcmp(column.name + length - 3, "_ft") == 0));

            if (!other_unit)
                text_addf(&text, "%s%s", i > 0 ? "," : "", column.name);
        }
    }
    return (struct folder_file){table, text.length, text.bytes};
}

const struct folder_file *starter_files(bool all, struct arena *arena, size_t *count)
{
    struct folder_file *files = ARENA_ARRAY(arena, FILES_MOST, struct folder_file);

    *count = 0;
    for (size_t i = 0; i < EXAMPLES; i++)
        files[(*count)++] =
            (struct folder_file){examples[i].name, strlen(examples[i].text), examples[i].text};
    for (const char *const *table = reading_tables; all && *table; table++)
        if (!is_example(*table))
            files[(*count)++] = other_table(*table, arena);
    return files;
}
