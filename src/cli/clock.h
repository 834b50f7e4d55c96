/*
 * clock.h - the one place that asks the clock.
 */
#ifndef CLI_CLOCK_H
#define CLI_CLOCK_H

#include "base/day.h"

/* The civil day now at so many hours east of Greenwich; the host's time zone plays no part. */
daynum clock_today(double utc_offset_h);

#endif
