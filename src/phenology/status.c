/*
 * status.c - the statuses in words.
 */
#include "conetide/status.h"

const char *conetide_status_text(enum conetide_status status)
{
    switch (status) {
    case CONETIDE_OK:
        return "computed";
    case CONETIDE_NOT_REACHED:
        return "the requirement is not met on any day given";
    case CONETIDE_MISSING:
        return "a temperature or heat sum is missing";
    case CONETIDE_REVERSED:
        return "the minimum temperature is above the maximum";
    case CONETIDE_BAD_THRESHOLDS:
        return "the upper threshold is below the lower, or a threshold is missing";
    case CONETIDE_BAD_ARGUMENT:
        return "a count, probability, type or range is outside what is allowed";
    case CONETIDE_NOT_IDENTIFIABLE:
        return "no one answer fits the data best";
    }
    return "no such status";
}
