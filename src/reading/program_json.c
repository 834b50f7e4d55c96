/*
 * program.json: every key, its kind and its range stand in the tables below; what is left out keeps
 * its default.
 */
#include "base/number.h"
#include "conetide/heat.h"
#include "reading/clocks.h"
#include "reading/json.h"

#include <math.h>
#include <string.h>

enum { SCHEMA = 1, STAGES = 6, LIST_MOST = 200 };

/* ---- small objects and lists ---------------------------------------------------------------- */

#define AT(member) .offset = offsetof(struct program, member)

static const struct key season_keys[] = {
    {.name = "north", .kind = KEY_MONTH_DAY, AT(season_starts_north)},
    {.name = "south", .kind = KEY_MONTH_DAY, AT(season_starts_south)},
};

static const struct key graft_calendar_keys[] = {
    {.name = "open", .kind = KEY_MONTH_DAY, AT(graft_calendar_open)},
    {.name = "close", .kind = KEY_MONTH_DAY, AT(graft_calendar_close)},
};

static void read_season_starts(struct json_reader *reader, const char *path, const cJSON *item,
                               void *object)
{
    json_object(reader, path, item, season_keys, COUNT_OF(season_keys), object);
}

static void read_graft_calendar(struct json_reader *reader, const char *path, const cJSON *item,
                                void *object)
{
    json_object(reader, path, item, graft_calendar_keys, COUNT_OF(graft_calendar_keys), object);
}

static void read_schema(struct json_reader *reader, const char *path, const cJSON *item,
                        void *object)
{
    static const struct key schema = {
        .name = "schema", .kind = KEY_WHOLE, .least = 1, .most = SCHEMA};
    (void)object;
    if (!cJSON_IsNumber(item) || !(item->valuedouble > SCHEMA)) {
        (void)json_number(reader, path, item, &schema);
        return;
    }
    diag_error(reader->diags, (struct place){.file = reader->file}, "newer-schema",
               "%s is newer than this program knows, expected at most %d, use a newer program",
               path, SCHEMA);
}

static void read_units(struct json_reader *reader, const char *path, const cJSON *item,
                       void *object)
{
    static const char *const units[] = {"si", "us", NULL};
    if (!cJSON_IsString(item))
        json_wrong(reader, path, item, "\"si\" or \"us\"");
    else if (strcmp(item->valuestring, "si") != 0 && strcmp(item->valuestring, "us") != 0)
        json_tell_word(reader, path, item->valuestring, units);
    else
        ((struct program *)object)->units_us = strcmp(item->valuestring, "us") == 0;
}

static void read_weights(struct json_reader *reader, const char *path, const cJSON *item,
                         void *object)
{
    static const struct key weight = {.kind = KEY_NUMBER, .least = 0, .most = 1000};
    double weights[PRIORITIES];
    size_t count = 0;
    const cJSON *child;
    if (!cJSON_IsArray(item)) {
        json_wrong(reader, path, item, "a list of 5 numbers");
        return;
    }
    cJSON_ArrayForEach(child, item)
    {
        if (count < PRIORITIES) {
            weights[count] = json_number(reader, path, child, &weight);
            if (isnan(weights[count]))
                return;
        }
        count++;
    }
    if (count != PRIORITIES)
        json_tell(reader, path, "wrong-length",
                  "expected 5 numbers, one for each priority, correct it");
    else
        memcpy(((struct program *)object)->priority_weights, weights, sizeof weights);
}

static void read_task_order(struct json_reader *reader, const char *path, const cJSON *item,
                            void *object)
{
    struct program *program = object;
    const cJSON *child;
    size_t count = 0;
    if (!cJSON_IsArray(item)) {
        json_wrong(reader, path, item, "a list of tasks");
        return;
    }
    const char **tasks = ARENA_ARRAY(reader->arena, LIST_MOST, const char *);
    cJSON_ArrayForEach(child, item)
    {
        if (!cJSON_IsString(child)) {
            json_wrong(reader, path, child, "a task in each place of the list");
            return;
        }
        if (count == LIST_MOST) {
            json_tell(reader, path, "too-many", "more than 200 tasks, expected fewer, remove some");
            return;
        }
        for (size_t i = 0; i < count; i++)
            if (strcmp(tasks[i], child->valuestring) == 0)
                json_tell(reader, path, "duplicate-word", "a task stands twice, expected it once");
        tasks[count++] = arena_text(reader->arena, strlen(child->valuestring), child->valuestring);
    }
    program->task_order = tasks;
    program->task_order_count = count;
}

static void read_stage_map(struct json_reader *reader, const char *path, const cJSON *item,
                           void *object)
{
    static const struct key stage = {.kind = KEY_WHOLE, .least = 1, .most = STAGES};
    struct program *program = object;
    const cJSON *child;
    size_t count = 0;
    if (!cJSON_IsObject(item)) {
        json_wrong(reader, path, item, "an object of stages 1 to 6 by the words of your scale");
        return;
    }
    struct stage_word *map = ARENA_ARRAY(reader->arena, LIST_MOST, struct stage_word);
    cJSON_ArrayForEach(child, item)
    {
        const char *full = json_path(reader, path, child->string);
        double value = json_number(reader, full, child, &stage);
        if (count == LIST_MOST) {
            json_tell(reader, path, "too-many",
                      "more than 200 stages, expected fewer, remove some");
            return;
        }
        for (size_t i = 0; i < count; i++)
            if (strcmp(map[i].word, child->string) == 0)
                json_tell(reader, full, "duplicate-key",
                          "stands twice, expected it once, remove one");
        if (isnan(value))
            continue;
        map[count++] = (struct stage_word){
            arena_text(reader->arena, strlen(child->string), child->string), (int)value};
    }
    program->stage_map = map;
    program->stage_map_count = count;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static const struct key program_keys[] = {
    {.name = "name", .kind = KEY_TEXT, AT(name)},
    {.name = "schema", .kind = KEY_OWN, .read = read_schema},
    {.name = "season_starts", .kind = KEY_OWN, .read = read_season_starts},
    {.name = "units", .kind = KEY_OWN, .read = read_units},
    {.name = "clocks", .kind = KEY_OWN, .read = json_read_clocks},
    {.name = "members_most", .kind = KEY_WHOLE, AT(members_most), .least = 1, .most = 400},
    {.name = "coancestry_warn", .kind = KEY_NUMBER, AT(coancestry_warn), .most = 1},
    {.name = "coancestry_refuse", .kind = KEY_NUMBER, AT(coancestry_refuse), .most = 1},
    {.name = "assurance", .kind = KEY_NUMBER, AT(assurance), .most = 1},
    {.name = "priority_weights", .kind = KEY_OWN, .read = read_weights},
    {.name = "uncounted_share", .kind = KEY_NUMBER, AT(uncounted_share), .most = 1},
    {.name = "clean_chance", .kind = KEY_NUMBER, AT(clean_chance), .most = 1},
    {.name = "firm_days", .kind = KEY_WHOLE, AT(firm_days), .most = 366},
    {.name = "keep_share", .kind = KEY_NUMBER, AT(keep_share), .most = 1},
    {.name = "stay_bonus", .kind = KEY_NUMBER, AT(stay_bonus), .most = 1},
    {.name = "dose_ml", .kind = KEY_NUMBER, AT(dose_ml), .most = 1000},
    {.name = "germination_full_pct", .kind = KEY_NUMBER, AT(germination_full_pct), .most = 100},
    {.name = "germination_refuse_pct", .kind = KEY_NUMBER, AT(germination_refuse_pct), .most = 100},
    {.name = "freeze_c", .kind = KEY_NUMBER, AT(freeze_c), .least = -60, .most = 20},
    {.name = "freeze_f",
     .kind = KEY_NUMBER,
     AT(freeze_c),
     .least = -76,
     .most = 68,
     .unit = UNIT_FAHRENHEIT},
    {.name = "freeze_days", .kind = KEY_WHOLE, AT(freeze_days), .most = 366},
    {.name = "stage_map", .kind = KEY_OWN, .read = read_stage_map},
    {.name = "task_order", .kind = KEY_OWN, .read = read_task_order},
    {.name = "graft_night_c", .kind = KEY_NUMBER, AT(graft_night_c), .least = -60, .most = 40},
    {.name = "graft_night_f",
     .kind = KEY_NUMBER,
     AT(graft_night_c),
     .least = -76,
     .most = 104,
     .unit = UNIT_FAHRENHEIT},
    {.name = "graft_day_low_c", .kind = KEY_NUMBER, AT(graft_day_low_c), .least = -60, .most = 60},
    {.name = "graft_day_low_f",
     .kind = KEY_NUMBER,
     AT(graft_day_low_c),
     .least = -76,
     .most = 140,
     .unit = UNIT_FAHRENHEIT},
    {.name = "graft_day_high_c",
     .kind = KEY_NUMBER,
     AT(graft_day_high_c),
     .least = -60,
     .most = 60},
    {.name = "graft_day_high_f",
     .kind = KEY_NUMBER,
     AT(graft_day_high_c),
     .least = -76,
     .most = 140,
     .unit = UNIT_FAHRENHEIT},
    {.name = "graft_open_share", .kind = KEY_NUMBER, AT(graft_open_share), .most = 2},
    {.name = "graft_close_share", .kind = KEY_NUMBER, AT(graft_close_share), .most = 2},
    {.name = "graft_calendar", .kind = KEY_OWN, .read = read_graft_calendar},
};

#undef AT

/* Rules between settings, given or not. */
static void check_program(struct json_reader *reader, const struct program *program)
{
    if (program->coancestry_warn > program->coancestry_refuse)
        json_tell(reader, "", "limits-crossed",
                  "coancestry_warn is above coancestry_refuse, expected it not to be, correct one");
    if (program->germination_refuse_pct > program->germination_full_pct)
        json_tell(
            reader, "", "limits-crossed",
            "germination_refuse_pct is above germination_full_pct, expected it not to be, correct "
            "one");
    if (program->graft_day_low_c > program->graft_day_high_c)
        json_tell(reader, "", "limits-crossed",
                  "graft_day_low_c is above graft_day_high_c, expected it not to be, correct one");
    if (program->graft_open_share > program->graft_close_share)
        json_tell(
            reader, "", "limits-crossed",
            "graft_open_share is above graft_close_share, expected it not to be, correct one");
}

static bool is_newer(const cJSON *tree)
{
    const cJSON *schema = cJSON_GetObjectItemCaseSensitive(tree, "schema");
    return cJSON_IsNumber(schema) && schema->valuedouble > SCHEMA;
}

static void take_program(struct json_reader *reader, const cJSON *tree, void *context)
{
    struct orchard *orchard = context;
    struct program program = orchard->program;

    if (is_newer(tree)) {
        /* What a newer schema means by its keys is not known here. */
        read_schema(reader, "schema", cJSON_GetObjectItemCaseSensitive(tree, "schema"), &program);
        return;
    }
    json_object(reader, "", tree, program_keys, COUNT_OF(program_keys), &program);
    check_program(reader, &program);
    orchard->program = program;
}

bool read_program(struct orchard *orchard, const struct source *source, struct diags *diags)
{
    return json_read(source, orchard->arena, diags, (struct json_taker){take_program, orchard});
}
