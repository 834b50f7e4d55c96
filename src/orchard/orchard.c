/*
 * The orchard as a whole: empty, looked up by identifier, and its seasons.
 */
#include "orchard/orchard.h"

#include "orchard/words.h"

#include <math.h>
#include <string.h>

void orchard_init(struct orchard *orchard, struct arena *arena)
{
    *orchard = (struct orchard){.arena = arena, .as_of = DAY_NONE};
    program_defaults(&orchard->program, arena);
}

/* The first of a list sorted by its text at `offset` that equals `name`, or NULL. */
static const void *find(const char *name, const void *list, size_t count, size_t size,
                        size_t offset)
{
    if (!name)
        return NULL;
    size_t low = 0, high = count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        const char *text;
        memcpy(&text, (const char *)list + middle * size + offset, sizeof text);
        if (text && strcmp(text, name) >= 0)
            high = middle;
        else
            low = middle + 1; /* blank identifiers stand first */
    }
    if (low == count)
        return NULL;
    const char *found;
    memcpy(&found, (const char *)list + low * size + offset, sizeof found);
    return found && strcmp(found, name) == 0 ? (const char *)list + low * size : NULL;
}

#define FIND(type, member, rows, name)                                                             \
    find(name, (rows).list, (rows).count, sizeof(struct type), offsetof(struct type, member))

const struct site *orchard_site(const struct orchard *orchard, const char *name)
{
    return FIND(site, name, orchard->sites, name);
}

const struct station *orchard_station(const struct orchard *orchard, const char *name)
{
    return FIND(station, name, orchard->stations, name);
}

const struct record *orchard_record(const struct orchard *orchard, const char *station)
{
    return FIND(record, station, orchard->records, station);
}

const struct tree *orchard_tree(const struct orchard *orchard, const char *name)
{
    return FIND(tree, name, orchard->trees, name);
}

const struct selection *orchard_selection(const struct orchard *orchard, const char *name)
{
    return FIND(selection, name, orchard->selections, name);
}

const struct batch *orchard_batch(const struct orchard *orchard, const char *name)
{
    return FIND(batch, name, orchard->batches, name);
}

const struct cross *orchard_cross(const struct orchard *orchard, const char *name)
{
    return FIND(cross, name, orchard->crosses, name);
}

const struct lot *orchard_lot(const struct orchard *orchard, const char *name)
{
    return FIND(lot, name, orchard->lots, name);
}

const struct task_kind *orchard_task(const struct orchard *orchard, const char *name)
{
    return FIND(task_kind, task, orchard->tasks, name);
}

const struct graft *orchard_graft(const struct orchard *orchard, const char *tag)
{
    const struct graft_name *name = FIND(graft_name, tag, orchard->graft_names, tag);
    return name ? name->graft : NULL;
}

struct season_rule orchard_season_rule(const struct orchard *orchard, const struct site *site)
{
    bool southern = site && site->latitude < 0; /* false of NaN */
    return (struct season_rule){
        .starts =
            southern ? orchard->program.season_starts_south : orchard->program.season_starts_north,
        .northern = !southern,
    };
}

double site_latitude(const struct site *site)
{
    if (isnan(site->latitude) && site->station != NULL)
        return site->station->latitude;
    return site->latitude;
}

int orchard_cycle(const struct orchard *orchard, const struct graft *graft)
{
    if (graft->grafted_on == DAY_NONE)
        return 0;
    const struct site *site = graft->tree ? graft->tree->site : NULL;
    return day_season(orchard_season_rule(orchard, site), graft->grafted_on);
}

bool selection_same(const struct selection *a, const struct selection *b)
{
    return a && b && (a == b || (a->self && a->self == b->self));
}

bool selection_unsuited(const struct orchard *orchard, const struct selection *selection,
                        const struct tree *tree)
{
    for (size_t i = 0; tree->clone != NULL && i < orchard->selections.count; i++) {
        const struct selection *name = &orchard->selections.list[i];

        if (name->unsuited_clones != NULL && selection_same(name, selection) &&
            word_listed(name->unsuited_clones, tree->clone))
            return true;
    }
    return false;
}
