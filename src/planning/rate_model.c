#include "planning/rate_model.h"

#include <math.h>

static const double least = 0.0005; /* half of the last digit told */

double rate_held(bool share, double rate)
{
    if (rate < least)
        return least;
    return share && rate > 1 - least ? 1 - least : rate;
}

double rate_unit(bool share, double rate)
{
    return share ? sqrt(rate * (1 - rate)) : rate;
}

double rate_times(bool share, double rate, double factor)
{
    double times = rate * factor;

    return rate_held(share, share ? times / (1 - rate + times) : times);
}

static double factor_of(bool share, double from, double to)
{
    return share ? to / (1 - to) / (from / (1 - from)) : to / from;
}

/* What the pieces of a group are worth, as independent things counted (a share) or as their count
 * expected (a mean). */
static double worth_of(bool share, double scatter, const struct rate_group *group)
{
    return group->of * (share ? 1 : group->expected) / scatter;
}

struct rate_apart rate_apart_of(bool share, double scatter, struct rate_prior prior, size_t count,
                                const struct rate_group *groups)
{
    double weights = 0, squares = 0, apart = 0, degrees = -1, spread = 0;

    for (size_t i = 0; i < count; i++) {
        const struct rate_group *group = &groups[i];
        double weight = worth_of(share, scatter, group);
        double off =
            (group->counted / group->of - group->expected) / rate_unit(share, group->expected);

        if (group->pieces < prior.pieces_least)
            continue;
        weights += weight;
        squares += weight * weight;
        apart += weight * off * off;
        degrees++;
    }
    if (!(degrees > 0))
        return (struct rate_apart){prior.spread, prior.worth, false};
    spread = (apart - degrees) / (weights - squares / weights);
    spread = spread > 0 ? spread : 0;
    spread = (prior.spread * prior.worth + spread * degrees) / (prior.worth + degrees);
    return (struct rate_apart){spread < 0.9 ? spread : 0.9, prior.worth + degrees,
                               apart > degrees + sqrt(2 * degrees)};
}

void rate_draw(bool share, double scatter, const struct rate_apart *level, struct rate_group *group)
{
    double prior = 1 / level->spread - (share ? 1 : 0);
    double worth = worth_of(share, scatter, group), whole = prior + worth;
    double seen = group->counted / group->of;
    double drawn = share ? (prior * group->expected + worth * seen) / whole
                         : group->expected * (prior + worth * seen / group->expected) / whole;
    double own = 1 / (whole + (share ? 1 : 0));
    double of_above = prior / whole;
    double off = (seen - group->expected) / rate_unit(share, group->expected);

    /* of a gamma of shape prior + worth * seen / expected: own by the mean expected */
    if (!share)
        own = 1 / (prior + worth * seen / group->expected);
    drawn = rate_held(share, drawn);
    group->factor = factor_of(share, group->expected, drawn);
    group->value = rate_times(share, group->above, group->factor);
    group->spread =
        own + of_above * of_above * (group->above_spread + 2 / level->degrees * off * off);
}
