#include "orchard/anchor.h"

#include <stdlib.h>
#include <string.h>

bool cycle_day_read(const char *text, struct cycle_day *day)
{
    struct month_day month_day;

    if (text == NULL || strlen(text) != strlen("Y1-02-01") || text[0] != 'Y' || text[1] < '0' ||
        text[1] > '9' || text[2] != '-' || !day_parse_month_day(5, text + 3, &month_day))
        return false;
    *day = (struct cycle_day){text[1] - '0', month_day};
    return true;
}

/* Takes "+10" or "-7" off the end; what is left is *length bytes.  No count at all is +0. */
static bool take_days(const char *text, size_t *length, int *days)
{
    size_t digits = 0, at = *length;

    *days = 0;
    while (at > 0 && text[at - 1] >= '0' && text[at - 1] <= '9') {
        at--;
        digits++;
    }
    if (digits == 0)
        return at == 0 || (text[at - 1] != '+' && text[at - 1] != '-');
    if (at == 0 || (text[at - 1] != '+' && text[at - 1] != '-'))
        return true; /* digits of a name */
    if (digits > 4)
        return false;
    *days = atoi(text + at);
    if (text[at - 1] == '-')
        *days = -*days;
    *length = at - 1;
    return *days >= -ANCHOR_DAYS_MOST && *days <= ANCHOR_DAYS_MOST;
}

static bool is_word(const char *text, size_t length, const char *word)
{
    return strlen(word) == length && memcmp(text, word, length) == 0;
}

static bool read_word(const char *text, size_t length, struct anchor *anchor)
{
    if (is_word(text, length, "when"))
        anchor->kind = ANCHOR_WHEN;
    else if (is_word(text, length, "order_by"))
        anchor->kind = ANCHOR_ORDER_BY;
    for (int event = 0; event < EVENTS && anchor->kind == ANCHOR_NONE; event++)
        if (is_word(text, length, event_names[event])) {
            anchor->kind = ANCHOR_EVENT;
            anchor->event = (enum event)event;
        }
    return anchor->kind != ANCHOR_NONE;
}

static bool read_task(const char *text, size_t length, struct anchor *anchor)
{
    static const struct {
        const char *end;
        enum anchor_kind kind;
    } ends[] = {{".open", ANCHOR_OPEN}, {".close", ANCHOR_CLOSE}, {".done", ANCHOR_DONE}};

    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        size_t end = strlen(ends[i].end);

        if (length > end && memcmp(text + length - end, ends[i].end, end) == 0) {
            anchor->kind = ends[i].kind;
            anchor->task_name = text;
            anchor->task_length = length - end;
            return true;
        }
    }
    return false;
}

bool anchor_read(const char *text, struct anchor *anchor)
{
    size_t length;

    *anchor = (struct anchor){.kind = ANCHOR_NONE};
    if (text == NULL)
        return false;
    if (cycle_day_read(text, &anchor->day)) {
        anchor->kind = ANCHOR_CYCLE_DAY;
        return true;
    }
    length = strlen(text);
    if (take_days(text, &length, &anchor->days) && length > 0 &&
        (read_word(text, length, anchor) || read_task(text, length, anchor)))
        return true;
    *anchor = (struct anchor){.kind = ANCHOR_NONE};
    return false;
}
