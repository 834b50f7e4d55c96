#include "cli/clock.h"

#include <time.h>

daynum clock_today(double utc_offset_h)
{
    long long seconds = (long long)time(NULL) + (long long)(utc_offset_h * 3600.0);

    return (daynum)(seconds / 86400); /* the clock stands after 1970: no negative seconds */
}
