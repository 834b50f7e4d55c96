/*
 * status.h - what a function of the phenology library says of its result.
 *
 * Negative: not computed, numeric outputs hold NaN (or what the function's comment says).
 * Zero: computed.  Positive: computed, with the caution that the name tells.
 */
#ifndef CONETIDE_STATUS_H
#define CONETIDE_STATUS_H

enum conetide_status {
    CONETIDE_OK = 0,
    CONETIDE_NOT_REACHED = 1,      /* the requirement is not met on any day given */
    CONETIDE_MISSING = -1,         /* a temperature or heat sum is NaN, or a temperature infinite */
    CONETIDE_REVERSED = -2,        /* tmin above tmax */
    CONETIDE_BAD_THRESHOLDS = -3,  /* upper below lower, or a threshold that is needed is missing */
    CONETIDE_BAD_ARGUMENT = -4,    /* a count, probability, type or range outside what is stated */
    CONETIDE_NOT_IDENTIFIABLE = -5 /* no one answer fits the data best */
};

/*
 * conetide_status_text - a status in words.
 *
 * Returned (function value): one English sentence without a capital or a full stop, of static
 *   storage; never NULL, "no such status" for any other number.
 */
const char *conetide_status_text(enum conetide_status status);

#endif
