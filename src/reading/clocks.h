/*
 * clocks.h - the clocks of program.json.
 */
#ifndef READING_CLOCKS_H
#define READING_CLOCKS_H

#include "reading/json.h"

/* The value of `clocks`, {NAME: {...}}, into a struct program: a known name is replaced, another
 * one added; a clock with a fault is told and left out. */
void json_read_clocks(struct json_reader *reader, const char *path, const cJSON *item,
                      void *program);

#endif
