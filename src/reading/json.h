/*
 * json.h - a JSON file as a checked tree, and objects described by their keys.
 *
 * cJSON alone takes duplicate keys, invalid UTF-8, control characters, a cut-off \u0000 and
 * anything after the end; all of these are told here.  A byte-order mark is passed over.
 */
#ifndef READING_JSON_H
#define READING_JSON_H

#include "base/arena.h"
#include "base/diag.h"
#include "reading/columns.h"
#include "reading/reading.h"

#include <cjson/cJSON.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum key_kind {
    KEY_TEXT,      /* const char * */
    KEY_NUMBER,    /* double */
    KEY_WHOLE,     /* int */
    KEY_MONTH_DAY, /* struct month_day, from "07-01" */
    KEY_OWN        /* what `read` makes of it */
};

struct json_reader {
    const char *file;
    struct diags *diags;
    struct arena *arena;   /* for what stays */
    struct arena *scratch; /* for paths */
    size_t errors_before;  /* told before this file */
};

/* What becomes of the tree of a file, when there is one. */
struct json_taker {
    void (*take)(struct json_reader *reader, const cJSON *tree, void *context);
    void *context;
};

/* Load a file, take its tree and delete it.  What stays goes to `arena`.  false: the source failed.
 */
bool json_read(const struct source *source, struct arena *arena, struct diags *diags,
               struct json_taker taker);

struct key {
    const char *name;
    enum key_kind kind;
    size_t offset;   /* of the member; twins of two units share it */
    int least, most; /* of a number, as typed */
    enum column_unit unit;
    void (*read)(struct json_reader *reader, const char *path, const cJSON *item, void *object);
};

#define KEYS_MOST 64

/*
 * Read the members of `item` into `object`.  `path` names the item: "clocks.early", "" for the
 * whole. Unknown and doubled keys, twins, wrong types and ranges are told by their path and leave
 * the member as it was.  Returns the keys that were there and good, bit by bit in the order of
 * `keys`.
 */
uint64_t json_object(struct json_reader *reader, const char *path, const cJSON *item,
                     const struct key *keys, size_t count, void *object);

/* "path.name", or "name" at the top; in the scratch arena. */
const char *json_path(const struct json_reader *reader, const char *path, const char *name);

/* What kind of value it is, for messages: "a text". */
const char *json_kind(const cJSON *item);

/* Tell that the value of a path is of the wrong kind. */
void json_wrong(struct json_reader *reader, const char *path, const cJSON *item,
                const char *expected);

/* Tell a fault of a path ("": of the whole file); false. */
bool json_tell(struct json_reader *reader, const char *path, const char *code, const char *message);

/* A word that is none of a NULL-ended list, told with the list and the nearest one. */
void json_tell_word(struct json_reader *reader, const char *path, const char *word,
                    const char *const *list);

/* The value of a number within least to most, or told; NaN when it is not. */
double json_number(struct json_reader *reader, const char *path, const cJSON *item,
                   const struct key *key);

/* A text such as "07-01" into its month and day; false: told. */
bool json_month_day(struct json_reader *reader, const char *path, const cJSON *item,
                    struct month_day *month_day);

#endif
