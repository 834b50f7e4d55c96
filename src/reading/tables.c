#include "reading/tables.h"

#include "reading/reading.h"

#include <assert.h>
#include <string.h>

static const struct table *const tables[] = {
    &site_table,      &station_table, &tree_table,   &selection_table, &scion_table,
    &graft_table,     &cross_table,   &pollen_table, &crew_table,      &lift_table,
    &threshold_table, &rate_table,    &task_table,   &note_table,
};

const char *const reading_tables[] = {
    "sites.csv",      "stations.csv", "trees.csv",  "selections.csv", "scions.csv",
    "grafts.csv",     "crosses.csv",  "pollen.csv", "crews.csv",      "lifts.csv",
    "thresholds.csv", "rates.csv",    "tasks.csv",  "notes.csv",      NULL,
};

const char *const crown_words[CROWN_WORDS] = {"top", "middle", "low"};
const char *const work_words[WORK_WORDS] = {"any", "lift", "ground"};

static const struct table *table_named(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(tables); i++)
        if (strcmp(tables[i]->name, name) == 0)
            return tables[i];
    return NULL;
}

bool reading_table_required(const char *table)
{
    const struct table *found = table_named(table);
    return found != NULL && found->required;
}

bool reading_column(const char *table, size_t index, struct column_info *column)
{
    const struct table *found = table_named(table);
    if (found == NULL || index >= found->column_count)
        return false;
    *column = (struct column_info){found->columns[index].name, found->columns[index].required};
    return true;
}

static void append_noun(struct reader *reader, const void *noun, void *orchard)
{
    reader->table->append(orchard, noun);
}

bool read_table(struct orchard *orchard, const char *table, const struct source *source,
                bool shipped, struct diags *diags)
{
    struct reader reader = {.table = table_named(table),
                            .diags = diags,
                            .arena = orchard->arena,
                            .program = &orchard->program,
                            .shipped = shipped};

    assert(reader.table != NULL);
    return reader_run(&reader, source, (struct row_taker){append_noun, orchard});
}
