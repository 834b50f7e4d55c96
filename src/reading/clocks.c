#include "reading/clocks.h"

#include "conetide/heat.h"

#include <math.h>
#include <string.h>

enum { CLOCKS_MOST = 100, NAME_BYTES_MOST = 64 };

struct clock_keys {
    struct clock clock;
    const char *curve, *cutoff, *counts;
};

#define AT(member) .offset = offsetof(struct clock_keys, member)

enum {
    CLOCK_CURVE,
    CLOCK_CUTOFF,
    CLOCK_LOWER_C,
    CLOCK_LOWER_F,
    CLOCK_UPPER_C,
    CLOCK_UPPER_F,
    CLOCK_START,
    CLOCK_COUNTS
};

static void read_after_chilling(struct json_reader *reader, const char *path, const cJSON *item,
                                void *object);

static const struct key clock_keys[] = {
    [CLOCK_CURVE] = {.name = "curve", .kind = KEY_TEXT, AT(curve)},
    [CLOCK_CUTOFF] = {.name = "cutoff", .kind = KEY_TEXT, AT(cutoff)},
    [CLOCK_LOWER_C] =
        {.name = "lower_c", .kind = KEY_NUMBER, AT(clock.rule.lower), .least = -50, .most = 50},
    [CLOCK_LOWER_F] = {.name = "lower_f",
                       .kind = KEY_NUMBER,
                       AT(clock.rule.lower),
                       .least = -58,
                       .most = 122,
                       .unit = UNIT_FAHRENHEIT},
    [CLOCK_UPPER_C] =
        {.name = "upper_c", .kind = KEY_NUMBER, AT(clock.rule.upper), .least = -50, .most = 60},
    [CLOCK_UPPER_F] = {.name = "upper_f",
                       .kind = KEY_NUMBER,
                       AT(clock.rule.upper),
                       .least = -58,
                       .most = 140,
                       .unit = UNIT_FAHRENHEIT},
    [CLOCK_START] = {.name = "start", .kind = KEY_MONTH_DAY, AT(clock.start)},
    [CLOCK_COUNTS] = {.name = "counts", .kind = KEY_TEXT, AT(counts)},
    {.name = "after_chilling", .kind = KEY_OWN, .read = read_after_chilling},
    {.name = "end_days", .kind = KEY_WHOLE, AT(clock.end_days), .least = 1, .most = 366},
};

#undef AT

static const char heat_word[] = "heat";

/* The count of a word, or NULL: told.  `heat` is a word too where `with_heat`; it gives NULL. */
static const struct conetide_count *find_count(struct json_reader *reader, const char *path,
                                               const char *word, bool with_heat)
{
    const struct conetide_count *found = conetide_count_named(word);
    const char *names[32];
    size_t count = 0;
    if (found != NULL || (with_heat && strcmp(word, heat_word) == 0))
        return found;
    if (with_heat)
        names[count++] = heat_word;
    for (size_t i = 0; conetide_counts[i] != NULL && count + 1 < COUNT_OF(names); i++)
        if (with_heat || conetide_counts[i]->chills)
            names[count++] = conetide_counts[i]->name;
    names[count] = NULL;
    json_tell_word(reader, path, word, names);
    return NULL;
}

struct chilling_keys {
    struct chilling_need need;
    const char *counts;
};

static const struct key chilling_keys[] = {
    {.name = "counts", .kind = KEY_TEXT, .offset = offsetof(struct chilling_keys, counts)},
    {.name = "need",
     .kind = KEY_NUMBER,
     .offset = offsetof(struct chilling_keys, need.units),
     .most = 20000},
    {.name = "start", .kind = KEY_MONTH_DAY, .offset = offsetof(struct chilling_keys, need.start)},
};

static void read_after_chilling(struct json_reader *reader, const char *path, const cJSON *item,
                                void *object)
{
    struct clock_keys *keys = object;
    struct chilling_keys chilling = {.need = {.units = NAN}};
    uint64_t all = (1u << COUNT_OF(chilling_keys)) - 1;
    size_t errors = reader->diags->errors;
    uint64_t good =
        json_object(reader, path, item, chilling_keys, COUNT_OF(chilling_keys), &chilling);
    if (chilling.counts != NULL) {
        const char *word = json_path(reader, path, "counts");
        chilling.need.counts = find_count(reader, word, chilling.counts, false);
        if (chilling.need.counts != NULL && !chilling.need.counts->chills)
            json_tell(reader, word, "no-chilling",
                      "is a count that cold does not add to, expected one of chilling, such as "
                      "\"chilling-hours-0-8\", correct it");
    }
    if (chilling.need.units <= 0)
        json_tell(reader, json_path(reader, path, "need"), "out-of-range",
                  "a need of nothing, expected a number over 0, correct it or take the object out");
    if (good != all && reader->diags->errors == errors)
        json_tell(reader, path, "incomplete-clock",
                  "expected 'counts', 'need' and 'start', as in {\"counts\": "
                  "\"chilling-hours-0-8\", \"need\": 700, \"start\": \"10-01\"}, add what is "
                  "missing");
    if (reader->diags->errors == errors)
        keys->clock.after_chilling = chilling.need;
}

static void find_curve(struct json_reader *reader, const char *path, struct clock_keys *keys)
{
    const char *names[32];
    size_t count = 0;
    keys->clock.rule.curve = conetide_curve_named(keys->curve);
    for (; conetide_curves[count] != NULL && count + 1 < COUNT_OF(names); count++)
        names[count] = conetide_curves[count]->name;
    names[count] = NULL;
    if (keys->clock.rule.curve == NULL)
        json_tell_word(reader, json_path(reader, path, "curve"), keys->curve, names);
}

/* A clock that counts something else has no curve and no thresholds of temperature. */
static bool check_count(struct json_reader *reader, const char *path, struct clock_keys *keys,
                        uint64_t good)
{
    const struct conetide_count *counts = keys->clock.counts;
    uint64_t of_heat = (1u << CLOCK_START) - 1; /* all keys before it */
    if (good & of_heat)
        return json_tell(
            reader, path, "heat-key",
            "curve, cutoff and thresholds belong to a clock that counts heat, expected none of "
            "them beside this 'counts', take them out");
    if (counts->of == CONETIDE_OF_DAY_LENGTH && keys->clock.after_chilling.counts != NULL)
        return json_tell(reader, path, "reading-after-chilling",
                         "day length is read, not summed, expected no 'after_chilling', take it "
                         "out");
    if ((good & 1u << CLOCK_START) == 0)
        return json_tell(
            reader, path, "incomplete-clock",
            "no 'start', expected the day on which counting starts like \"10-01\", add it");
    return true;
}

/* The rules between the keys of a clock. */
static bool check_clock(struct json_reader *reader, const char *path, struct clock_keys *keys,
                        uint64_t good, bool sound)
{
    struct conetide_heat_rule *rule = &keys->clock.rule;
    bool lower = good & (1u << CLOCK_LOWER_C | 1u << CLOCK_LOWER_F);
    bool upper = good & (1u << CLOCK_UPPER_C | 1u << CLOCK_UPPER_F);
    if (keys->curve != NULL)
        find_curve(reader, path, keys);
    if (keys->cutoff != NULL && !conetide_cutoff_named(keys->cutoff, &rule->cutoff))
        json_tell_word(reader, json_path(reader, path, "cutoff"), keys->cutoff,
                       conetide_cutoff_names);
    if (keys->counts != NULL)
        keys->clock.counts =
            find_count(reader, json_path(reader, path, "counts"), keys->counts, true);
    if (!sound)
        return false; /* a key that was a fault is not missing */
    if (keys->counts != NULL && strcmp(keys->counts, heat_word) != 0)
        return keys->clock.counts != NULL && check_count(reader, path, keys, good);
    if (keys->curve == NULL)
        return json_tell(reader, path, "incomplete-clock", "no 'curve', expected one, add it");
    if (!lower)
        return json_tell(reader, path, "incomplete-clock",
                         "no 'lower_c' or 'lower_f', expected the lower threshold, add it");
    if ((good & 1u << CLOCK_START) == 0)
        return json_tell(
            reader, path, "incomplete-clock",
            "no 'start', expected the day on which summing starts like \"01-01\", add it");
    if (rule->cutoff == CONETIDE_CUTOFF_NONE && upper)
        return json_tell(
            reader, path, "upper-without-cutoff",
            "an upper threshold with cutoff none, expected no upper threshold or another "
            "cutoff: horizontal, intermediate or vertical");
    if (rule->cutoff != CONETIDE_CUTOFF_NONE && !upper)
        return json_tell(
            reader, path, "incomplete-clock",
            "a cutoff without 'upper_c' or 'upper_f', expected the upper threshold, add it");
    if (upper && rule->upper <= rule->lower)
        return json_tell(
            reader, path, "thresholds-crossed",
            "the upper threshold is not above the lower one, expected it to be, correct "
            "one");
    return rule->curve != NULL;
}

static void put_clock(struct json_reader *reader, struct program *program, struct clock clock)
{
    for (size_t i = 0; i < program->clock_count; i++)
        if (strcmp(program->clocks[i].name, clock.name) == 0) {
            program->clocks[i] = clock;
            return;
        }
    struct clock *clocks = ARENA_ARRAY(reader->arena, program->clock_count + 1, struct clock);
    memcpy(clocks, program->clocks, program->clock_count * sizeof *clocks);
    clocks[program->clock_count] = clock;
    program->clocks = clocks;
    program->clock_count++;
}

static void read_clock(struct json_reader *reader, const char *path, const cJSON *item,
                       struct program *program)
{
    struct clock_keys keys = {.clock = {.rule = {.upper = NAN}, .end_days = 240}};
    size_t errors = reader->diags->errors;
    if (item->string[0] == '\0' || strlen(item->string) > NAME_BYTES_MOST) {
        json_tell(reader, path, "bad-name", "a clock without a name of at most 64 bytes, name it");
        return;
    }
    uint64_t good = json_object(reader, path, item, clock_keys, COUNT_OF(clock_keys), &keys);
    bool sound = reader->diags->errors == errors;
    if (!check_clock(reader, path, &keys, good, sound) || reader->diags->errors > errors)
        return;
    keys.clock.name = arena_text(reader->arena, strlen(item->string), item->string);
    keys.clock.place = (struct place){.file = reader->file};
    put_clock(reader, program, keys.clock);
}

void json_read_clocks(struct json_reader *reader, const char *path, const cJSON *item, void *object)
{
    if (!cJSON_IsObject(item)) {
        json_wrong(reader, path, item, "an object of clocks by their names");
        return;
    }
    size_t count = 0;
    const cJSON *child;
    cJSON_ArrayForEach(child, item)
    {
        if (++count > CLOCKS_MOST) {
            json_tell(reader, path, "too-many",
                      "more than 100 clocks, expected fewer, remove some");
            return;
        }
        const char *full = json_path(reader, path, child->string);
        for (const cJSON *other = item->child; other != child; other = other->next)
            if (strcmp(other->string, child->string) == 0)
                json_tell(reader, full, "duplicate-key",
                          "stands twice, expected it once, remove one");
        read_clock(reader, full, child, object);
    }
}
