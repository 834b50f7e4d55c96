#include "reading/weather_flags.h"

#include "base/text.h"

static const struct {
    char flag;
    const char *check;
} checks[WEATHER_FLAGS] = {
    {'D', "duplicate"},
    {'G', "gap"},
    {'I', "internal consistency"},
    {'K', "streak"},
    {'L', "length of several days"},
    {'M', "megaconsistency"},
    {'N', "naught"},
    {'O', "climatological outlier"},
    {'R', "lagged range"},
    {'S', "spatial consistency"},
    {'T', "temporal consistency"},
    {'W', "too warm for snow"},
    {'X', "bounds"},
    {'Z', "official investigation"},
    {'\0', "another check"},
};

bool weather_flag_drops(struct flag_counts *counts, char flag)
{
    size_t i = 0;
    if (flag == ' ' || flag == '\0')
        return false;
    while (checks[i].flag != '\0' && checks[i].flag != flag)
        i++;
    counts->count[i]++;
    return true;
}

size_t weather_flags_dropped(const struct flag_counts *counts)
{
    size_t dropped = 0;
    for (size_t i = 0; i < WEATHER_FLAGS; i++)
        dropped += counts->count[i];
    return dropped;
}

const char *weather_flags_words(const struct flag_counts *counts, struct arena *arena)
{
    struct text text;
    text_init(&text, arena);
    for (size_t i = 0; i < WEATHER_FLAGS; i++)
        if (counts->count[i] > 0)
            text_addf(&text, "%s%zu %s", text.length > 0 ? ", " : "", counts->count[i],
                      checks[i].check);
    return text.bytes;
}
