#include "writing/remedy.h"

#include <string.h>

const char *shortfall_remedy_text(struct arena *arena, const struct shortfall *shortfall)
{
    char day[DAY_TEXT];

    if (shortfall->remedy == NULL)
        return NULL;
    if (shortfall->remedy_by == DAY_NONE ||
        strstr(shortfall->remedy, day_text(shortfall->remedy_by, day)) != NULL)
        return arena_printf(arena, "remedy: %s", shortfall->remedy);
    return arena_printf(arena, "remedy: %s (helps until %s)", shortfall->remedy, day);
}
