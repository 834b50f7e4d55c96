#include "planning/grafting_row.h"

const double three_chances[THREE_DATES] = {0.1, 0.5, 0.9};
