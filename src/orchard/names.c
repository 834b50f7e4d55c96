/*
 * The words of the tables, in the order of their enumerations.
 */
#include "orchard/nouns.h"

const char *const event_names[EVENTS] = {
    [EVENT_BAG_BY] = "bag_by",
    [EVENT_OPENING] = "opening",
    [EVENT_FIRST] = "first",
    [EVENT_PEAK] = "peak",
    [EVENT_LAST] = "last",
    [EVENT_CLOSED] = "closed",
    [EVENT_SHED_FIRST] = "shed_first",
    [EVENT_SHED_PEAK] = "shed_peak",
    [EVENT_SHED_LAST] = "shed_last",
    [EVENT_GRAFT_OPEN] = "graft_open",
    [EVENT_GRAFT_CLOSE] = "graft_close",
};

const char *const basis_names[BASES] = {
    [BASIS_FITTED_HERE] = "fitted here",
    [BASIS_OTHER_SITE] = "other site",
    [BASIS_BORROWED] = "borrowed",
    [BASIS_CALENDAR] = "calendar",
};

const char *const note_names[NOTES] = {
    [NOTE_GRAFTED] = "grafted",       [NOTE_RETAGGED] = "retagged",
    [NOTE_RELABELLED] = "relabelled", [NOTE_VERIFIED] = "verified",
    [NOTE_SURVIVAL] = "survival",     [NOTE_STAGE] = "stage",
    [NOTE_STROBILI] = "strobili",     [NOTE_CATKINS] = "catkins",
    [NOTE_MALE_STAGE] = "male_stage", [NOTE_BAGGED] = "bagged",
    [NOTE_POLLINATED] = "pollinated", [NOTE_UNBAGGED] = "unbagged",
    [NOTE_BAG_LOST] = "bag_lost",     [NOTE_CONELETS] = "conelets",
    [NOTE_CONES] = "cones",           [NOTE_SEEDS] = "seeds",
    [NOTE_RIPENESS] = "ripeness",     [NOTE_GERMINATION] = "germination",
    [NOTE_COLLECTED] = "collected",   [NOTE_DISCARDED] = "discarded",
    [NOTE_FROST] = "frost",           [NOTE_STORM] = "storm",
    [NOTE_SPRAYED] = "sprayed",       [NOTE_DONE] = "done",
    [NOTE_NOT_DONE] = "not_done",
};

const char *const subject_words[SUBJECT_KINDS] = {
    "graft", "bag", "tree", "lot", "batch", "site", "selection", "cross", "programme",
};
