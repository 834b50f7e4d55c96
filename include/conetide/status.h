/*
 * status.h - what a function of the phenology library says of its result.
 *
 * Negative: not computed, numeric outputs hold NaN.  Zero: computed.  Positive: computed, with the
 * caution that the name tells.
 */
#ifndef CONETIDE_STATUS_H
#define CONETIDE_STATUS_H

enum conetide_status {
    CONETIDE_OK = 0,
    CONETIDE_NOT_REACHED = 1,    /* the requirement is not met on any day given */
    CONETIDE_MISSING = -1,       /* a temperature is NaN or infinite */
    CONETIDE_REVERSED = -2,      /* tmin above tmax */
    CONETIDE_BAD_THRESHOLDS = -3, /* upper below lower, or a cut-off without an upper threshold */
    CONETIDE_BAD_ARGUMENT = -4   /* a count, probability, type or range outside what is stated */
};

/* One English sentence without a full stop. */
const char *conetide_status_text(enum conetide_status status);

#endif
