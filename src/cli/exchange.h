/*
 * exchange.h - one folder put in the place of another in one step.
 *
 * Where the system can exchange two names at once (Linux, most of its file systems) the new folder
 * and the old one change places.  Where it cannot, OUT is a link to a folder beside it, and the
 * link is replaced.  Either way a reader finds the old folder or the new one, at every moment.
 */
#ifndef CLI_EXCHANGE_H
#define CLI_EXCHANGE_H

#include "base/arena.h"

#include <stdbool.h>

/*
 * Put `made` in the place of `out`, which is absent, an empty folder, a folder, or a link to one
 * beside it.  *old is the folder that stood there and can go now; NULL: none.  false leaves errno
 * and everything as it was; ENOTSUP: `out` is a folder and the system cannot exchange two.
 */
bool exchange_folder(const char *made, const char *out, struct arena *arena, const char **old);

/* The same by a link, whatever the system can; `out` is absent, empty or a link. */
bool exchange_link(const char *made, const char *out, struct arena *arena, const char **old);

#endif
