#include "cli/refresh_baseline.h"

#include <string.h>

const char *const input_names[INPUTS] = {"tables", "notes", "weather", "forecasts", "members"};
const char *const input_words[INPUTS] = {"table edit", "note", "new weather", "forecast",
                                         "past years used as futures"};

const char *marker_value(const char *marker, const char *what, struct arena *arena)
{
    const char *start = arena_printf(arena, "\n%s,", what);
    const char *line = strstr(marker, start);

    if (!line)
        return "";
    line += strlen(start);
    return arena_text(arena, strcspn(line, "\n"), line);
}

static daynum marker_day(const char *marker, const char *what, struct arena *arena)
{
    const char *text = marker_value(marker, what, arena);
    daynum day;

    return day_parse(strlen(text), text, &day) ? day : DAY_NONE;
}

struct baseline baseline_of(const char *out, const char *marker, daynum as_of, struct arena *arena)
{
    struct baseline baseline = {.as_of = DAY_NONE};
    bool earlier;

    for (int i = 0; i < INPUTS; i++)
        baseline.inputs[i] = "";
    if (!marker)
        return baseline;
    baseline.as_of = marker_day(marker, "as_of", arena);
    earlier = baseline.as_of != DAY_NONE && baseline.as_of < as_of;
    if (!earlier)
        baseline.as_of = marker_day(marker, "issued_as_of", arena);
    if (baseline.as_of == DAY_NONE || baseline.as_of >= as_of)
        return (struct baseline){.as_of = DAY_NONE};
    baseline.plan = arena_printf(arena, "%s/%s.csv", out, earlier ? "crossing" : "issued");
    baseline.calendar = arena_printf(arena, "%s/%s.ics", out, earlier ? "calendar" : "issued");
    for (int i = 0; i < INPUTS; i++)
        baseline.inputs[i] = marker_value(
            marker, arena_printf(arena, "%s%s", earlier ? "" : "issued_", input_names[i]), arena);
    return baseline;
}
