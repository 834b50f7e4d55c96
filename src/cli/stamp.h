/*
 * stamp.h - every file of a published set names the run that made it.
 */
#ifndef CLI_STAMP_H
#define CLI_STAMP_H

#include "base/day.h"
#include "base/text.h"

#include <stdint.h>

/* What made a set. */
struct stamp {
    uint64_t run; /* hash of what went in, and as of when */
    daynum as_of;
    const char *newest; /* newest observed day of each station: "HOLM 2027-03-02;TARN none" */
};

/* Sixteen digits. */
const char *stamp_run(const struct stamp *stamp, struct arena *arena);

/*
 * `page` with the stamp where its form, told by the end of `name`, has room for it: .csv four
 * columns at the end that begin with x_, which every reader here passes over; .json a member `run`;
 * .html and .txt a last line; .svg metadata; .ics a property.
 */
struct text stamp_page(const struct stamp *stamp, const char *name, const struct text *page);

/* A stamped CSV or calendar without the stamp. */
struct text stamp_off(const struct text *page);

#endif
