#include "writing/words.h"

#include <math.h>
#include <string.h>

/* Days that no calendar has; false when `day` is one. */
static bool add_unknown(struct text *out, daynum day)
{
    if (day == DAY_NONE)
        text_add(out, "-");
    else if (day == DAY_NEVER)
        text_add(out, "not reached");
    else if (day == WORDS_UNCHILLED)
        text_add(out, "chilling not met");
    return day == DAY_NONE || day >= WORDS_UNCHILLED;
}

void words_add_day(struct text *out, daynum day)
{
    if (add_unknown(out, day))
        return;
    struct civil civil = day_to_civil(day);
    text_addf(out, "%s %d %s %d", day_weekday_name(day_weekday(day)), civil.day,
              day_month_name(civil.month), civil.year);
}

void words_add_day_short(struct text *out, daynum day)
{
    if (add_unknown(out, day))
        return;
    struct civil civil = day_to_civil(day);
    text_addf(out, "%d %s", civil.day, day_month_name(civil.month));
}

void words_add_range(struct text *out, daynum from, daynum to)
{
    if (from == to || from == DAY_NONE || to == DAY_NONE || from >= WORDS_UNCHILLED) {
        words_add_day_short(out, from == DAY_NONE ? to : from);
        return;
    }
    if (to >= WORDS_UNCHILLED) {
        text_add(out, "from ");
        words_add_day_short(out, from);
        return;
    }
    struct civil first = day_to_civil(from), last = day_to_civil(to);
    if (first.month == last.month && first.year == last.year)
        text_addf(out, "%d-", first.day);
    else
        text_addf(out, "%d %s-", first.day, day_month_name(first.month));
    words_add_day_short(out, to);
}

const char *words_day_short(struct arena *arena, daynum day)
{
    return words_range(arena, day, day);
}

const char *words_range(struct arena *arena, daynum from, daynum to)
{
    struct text words;

    if (from == DAY_NONE)
        return NULL;
    text_init(&words, arena);
    words_add_range(&words, from, to);
    return words.bytes;
}

void words_add_chance(struct text *out, double chance)
{
    if (!isfinite(chance))
        text_add(out, "-");
    else if (chance > 0 && chance < 0.01)
        text_add(out, "<1 %");
    else if (chance > 0.99 && chance < 1)
        text_add(out, ">99 %");
    else
        text_addf(out, "%.0f %%", chance * 100);
}

void words_add_count(struct text *out, size_t count, const char *one, const char *many)
{
    text_addf(out, "%zu %s", count, count == 1 ? one : many);
}

void words_add_amount(struct text *out, double amount)
{
    size_t start = out->length;
    text_addf(out, "%.2f", amount);
    if (!memchr(out->bytes + start, '.', out->length - start))
        return; /* not finite */
    while (out->bytes[out->length - 1] == '0')
        out->bytes[--out->length] = '\0';
    if (out->bytes[out->length - 1] == '.')
        out->bytes[--out->length] = '\0';
}
