#include "planning/demand_parts.h"

const struct decimal demand_scion_spare = {125, 2};

int64_t demand_with_spares(int64_t n, struct decimal each, struct decimal spare)
{
    struct decimal both = {each.units * spare.units, each.scale + spare.scale};

    return number_multiply_up(n, both);
}

int demand_spring_of(const struct demand_maker *maker, const struct flowering_row *row)
{
    struct season_rule rule = orchard_season_rule(maker->orchard, row->site);

    return row->season - day_season(rule, maker->orchard->as_of);
}

struct demand_tally *demand_tally_of(const struct demand_maker *maker,
                                     const struct selection *selection)
{
    const struct selection *self = selection->self != NULL ? selection->self : selection;

    return &maker->tallies[self - maker->orchard->selections.list];
}
