#include "reading/json.h"

#include "base/day.h"
#include "base/text.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { PIECE_BYTES = 16384, NAME_BYTES_MOST = 64 };

/* ---- bytes ---------------------------------------------------------------------------------- */

static bool take_all(const struct source *source, struct text *text, bool *too_long)
{
    char piece[PIECE_BYTES];
    for (;;) {
        long got = source->read(source->context, sizeof piece, piece);
        if (got < 0)
            return false;
        *too_long = text->length + (size_t)got > READING_JSON_BYTES_MOST;
        if (got == 0 || *too_long)
            return true;
        text_add_bytes(text, (size_t)got, piece);
    }
}

/* The line of an offset, and the byte in that line, both from 1. */
static struct place place_at(const char *file, const struct text *text, size_t offset, size_t *byte)
{
    unsigned line = 1;
    size_t start = 0;
    for (size_t i = 0; i < offset && i < text->length; i++)
        if (text->bytes[i] == '\n') {
            line++;
            start = i + 1;
        }
    *byte = offset - start + 1;
    return (struct place){.file = file, .line = line};
}

/* The first \u0000, which cJSON takes for the end of a text; or the length. */
static size_t find_null_escape(const struct text *text)
{
    for (size_t i = 0; i + 1 < text->length; i++) {
        if (text->bytes[i] != '\\')
            continue;
        if (strncmp(text->bytes + i, "\\u0000", 6) == 0)
            return i;
        i++;
    }
    return text->length;
}

static bool check_bytes(const char *file, const struct text *text, struct diags *diags)
{
    size_t at = 0, byte;
    struct place place;
    if (!text_is_utf8(text->length, text->bytes, &at)) {
        place = place_at(file, text, at, &byte);
        diag_error(diags, place, "not-utf8",
                   "byte 0x%02x, byte %zu of the line, is not UTF-8, save the file as UTF-8",
                   (unsigned)(unsigned char)text->bytes[at], byte);
        return false;
    }
    for (at = 0; at < text->length; at++) {
        unsigned char c = (unsigned char)text->bytes[at];
        if ((c < 0x20 && c != '\n' && c != '\r' && c != '\t') || c == 0x7f)
            break;
    }
    size_t null = find_null_escape(text);
    if (at == text->length && null == text->length)
        return true;
    place = place_at(file, text, at < null ? at : null, &byte);
    diag_error(diags, place, "control-character",
               "a control character, byte %zu of the line, expected plain text, remove it", byte);
    return false;
}

/* The tree of a whole file, to be given to cJSON_Delete.  NULL: it cannot be used, which has been
 * told, or the source failed (*failed). */
static cJSON *json_load(const struct source *source, const char *file, struct arena *scratch,
                        struct diags *diags, bool *failed)
{
    struct text text;
    bool too_long = false;
    text_init(&text, scratch);
    *failed = !take_all(source, &text, &too_long);
    if (*failed)
        return NULL;
    if (too_long) {
        diag_error(diags, (struct place){.file = file}, "file-too-long",
                   "more than %u MiB, expected a smaller file", READING_JSON_BYTES_MOST >> 20);
        return NULL;
    }
    if (!check_bytes(file, &text, diags))
        return NULL;
    size_t mark = strncmp(text.bytes, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
    const char *end = NULL;
    cJSON *tree = cJSON_ParseWithLengthOpts(text.bytes + mark, text.length - mark + 1, &end, true);
    if (tree != NULL)
        return tree;
    size_t byte, at = end == NULL ? 0 : (size_t)(end - text.bytes);
    struct place place = place_at(file, &text, at, &byte);
    diag_error(diags, place, "bad-json",
               "not JSON from byte %zu of the line on, expected one JSON value, look for a missing "
               "comma, quote or bracket",
               byte);
    return NULL;
}

bool json_read(const struct source *source, struct arena *arena, struct diags *diags,
               struct json_taker taker)
{
    struct arena scratch;
    arena_init(&scratch, arena->refused);
    struct json_reader reader = {
        .file = arena_text(arena, strlen(source->name), source->name),
        .diags = diags,
        .arena = arena,
        .scratch = &scratch,
        .errors_before = diags->errors,
    };
    bool failed;
    cJSON *tree = json_load(source, reader.file, &scratch, diags, &failed);
    if (tree != NULL)
        taker.take(&reader, tree, taker.context);
    cJSON_Delete(tree);
    arena_release(&scratch);
    return !failed;
}

/* ---- values --------------------------------------------------------------------------------- */

const char *json_path(const struct json_reader *reader, const char *path, const char *name)
{
    /* A name that nobody can have meant is cut. */
    int length = (int)strnlen(name, NAME_BYTES_MOST);
    return arena_printf(reader->scratch, "%s%s%.*s", path, path[0] == '\0' ? "" : ".", length,
                        name);
}

const char *json_kind(const cJSON *item)
{
    return cJSON_IsString(item)   ? "a text"
           : cJSON_IsNumber(item) ? "a number"
           : cJSON_IsArray(item)  ? "a list"
           : cJSON_IsObject(item) ? "an object"
           : cJSON_IsBool(item)   ? "true or false"
                                  : "null";
}

static struct place place_of(const struct json_reader *reader)
{
    return (struct place){.file = reader->file};
}

void json_wrong(struct json_reader *reader, const char *path, const cJSON *item,
                const char *expected)
{
    diag_error(reader->diags, place_of(reader), "wrong-type", "%s is %s, expected %s, correct it",
               path, json_kind(item), expected);
}

bool json_tell(struct json_reader *reader, const char *path, const char *code, const char *message)
{
    diag_error(reader->diags, place_of(reader), code, "%s%s%s", path, path[0] == '\0' ? "" : ": ",
               message);
    return false;
}

void json_tell_word(struct json_reader *reader, const char *path, const char *word,
                    const char *const *list)
{
    struct words words = {.list = list};
    while (list[words.count] != NULL)
        words.count++;
    const char *near = words_nearest(word, words);
    diag_error(reader->diags, place_of(reader), "unknown-word",
               "%s is %s, expected one of %s%s%s%s", path, diag_quote(reader->diags, word),
               words_joined(reader->diags->arena, words), near == NULL ? "" : ", did you mean '",
               near == NULL ? "" : near, near == NULL ? "" : "'?");
}

double json_number(struct json_reader *reader, const char *path, const cJSON *item,
                   const struct key *key)
{
    if (!cJSON_IsNumber(item)) {
        json_wrong(reader, path, item, "a number");
        return NAN;
    }
    double value = item->valuedouble;
    bool whole = key->kind != KEY_WHOLE || value == floor(value);
    if (isfinite(value) && whole && value >= key->least && value <= key->most)
        return value;
    diag_error(reader->diags, place_of(reader), "out-of-range",
               "%s lies outside its range, expected a %snumber from %d to %d, correct it", path,
               key->kind == KEY_WHOLE ? "whole " : "", key->least, key->most);
    return NAN;
}

bool json_month_day(struct json_reader *reader, const char *path, const cJSON *item,
                    struct month_day *month_day)
{
    if (cJSON_IsString(item) &&
        day_parse_month_day(strlen(item->valuestring), item->valuestring, month_day))
        return true;
    if (cJSON_IsString(item))
        diag_error(reader->diags, place_of(reader), "bad-date",
                   "%s is %s, expected a day of the year like \"03-09\", write month and day so",
                   path, diag_quote(reader->diags, item->valuestring));
    else
        json_wrong(reader, path, item, "a day of the year like \"03-09\"");
    return false;
}

static bool read_value(struct json_reader *reader, const char *path, const cJSON *item,
                       const struct key *key, void *object)
{
    void *member = (char *)object + key->offset;
    size_t errors = reader->diags->errors;
    switch (key->kind) {
    case KEY_TEXT:
        if (!cJSON_IsString(item))
            json_wrong(reader, path, item, "a text");
        else
            *(const char **)member =
                arena_text(reader->arena, strlen(item->valuestring), item->valuestring);
        break;
    case KEY_NUMBER:
    case KEY_WHOLE: {
        double value = json_number(reader, path, item, key);
        if (isnan(value))
            break;
        if (key->kind == KEY_WHOLE)
            *(int *)member = (int)value;
        else
            *(double *)member = unit_in_metric(key->unit, value);
        break;
    }
    case KEY_MONTH_DAY:
        json_month_day(reader, path, item, member);
        break;
    case KEY_OWN:
        key->read(reader, path, item, object);
        break;
    }
    return reader->diags->errors == errors;
}

/* ---- objects -------------------------------------------------------------------------------- */

static void tell_unknown(struct json_reader *reader, const char *path, const char *name,
                         const struct key *keys, size_t count)
{
    if (reader->diags->errors - reader->errors_before >= reader->diags->most) {
        diag_error(reader->diags, place_of(reader), "unknown-key", "a key is not known");
        return; /* only counted: no need of its text */
    }
    const char *names[KEYS_MOST];
    for (size_t i = 0; i < count; i++)
        names[i] = keys[i].name;
    struct words words = {count, names};
    const char *near = words_nearest(name, words);
    const char *full = diag_quote(reader->diags, json_path(reader, path, name));
    if (near != NULL)
        diag_error(reader->diags, place_of(reader), "unknown-key",
                   "key %s is not known, did you mean '%s'?", full, near);
    else
        diag_error(reader->diags, place_of(reader), "unknown-key",
                   "key %s is not known, expected one of %s", full,
                   words_joined(reader->diags->arena, words));
}

/* Are two keys one member in two units? */
static bool is_twin(const struct key *a, const struct key *b)
{
    return a != b && a->kind == KEY_NUMBER && b->kind == KEY_NUMBER && a->offset == b->offset;
}

/* Was this key, or its twin, there before?  Then it is told. */
static bool tell_again(struct json_reader *reader, const char *path, const struct key *keys,
                       const struct key *key, uint64_t seen)
{
    for (size_t i = 0; i < KEYS_MOST && seen >> i != 0; i++) {
        if ((seen >> i & 1) == 0 || (&keys[i] != key && !is_twin(&keys[i], key)))
            continue;
        if (&keys[i] == key)
            diag_error(reader->diags, place_of(reader), "duplicate-key",
                       "%s stands twice, expected it once, remove one", path);
        else
            diag_error(reader->diags, place_of(reader), "twin-keys",
                       "%s stands beside '%s', expected one unit, remove one", path, keys[i].name);
        return true;
    }
    return false;
}

uint64_t json_object(struct json_reader *reader, const char *path, const cJSON *item,
                     const struct key *keys, size_t count, void *object)
{
    assert(count <= KEYS_MOST);
    if (!cJSON_IsObject(item)) {
        json_wrong(reader, path[0] == '\0' ? "the file" : path, item, "an object");
        return 0;
    }
    uint64_t seen = 0, good = 0;
    const cJSON *child;
    cJSON_ArrayForEach(child, item)
    {
        size_t i = 0;
        while (i < count && strcmp(keys[i].name, child->string) != 0)
            i++;
        if (i == count) {
            tell_unknown(reader, path, child->string, keys, count);
            continue;
        }
        const char *full = json_path(reader, path, child->string);
        if (tell_again(reader, full, keys, &keys[i], seen))
            continue;
        seen |= UINT64_C(1) << i;
        if (read_value(reader, full, child, &keys[i], object))
            good |= UINT64_C(1) << i;
    }
    return good;
}
