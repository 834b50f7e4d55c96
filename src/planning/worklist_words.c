/*
 * worklist_words.c - words for the crown and for safety.
 *
 * Stages are those of the six-stage scale: 1 small bud, 2 large bud, 3 tip out, 4 scales beginning
 * to part, 5 scales wide open, 6 closed.  Cautions repeat nobody's limits: machine manuals, labels,
 * local codes and licensed practice go first, and say so.
 */
#include "planning/worklist_words.h"

const char *const decide_words[BAG_TASKS] = {
    [TASK_BAG] = "stage 1 or 2: hang it, count what is in it. 3: hang it, write 3 (not clean). "
                 "4 or later: leave it, write the stage. nothing there: write 0.",
    [TASK_POLLINATE_1] = "stage 4 or 5: pollinate. mixed: pollinate, write them as 3-5. none at 4: "
                         "not yet, write it. all at 6: too late. rain or wet bag: not done.",
    [TASK_POLLINATE_2] = "any at stage 4 or 5: pollinate again from the lot on the bag. all at 6: "
                         "leave it, write 6. rain or wet bag: not done.",
    [TASK_UNBAG] = "all at stage 6: take it off, count, leave its name on the branch. any before: "
                   "leave it on, write the stage. torn: write it lost and why.",
};

const char *const decide_briefly[REMARKS][BAG_TASKS] = {
    [REMARK_NONE] =
        {
            [TASK_BAG] =
                "stage 1-2: hang it, count; 3: hang it, write 3; 4+: leave it; none: write 0",
            [TASK_POLLINATE_1] =
                "stage 4-5: pollinate; none at 4: not yet; all 6: too late; wet: not done",
            [TASK_POLLINATE_2] =
                "any at stage 4-5: pollinate again; all at 6: leave it; wet: not done",
            [TASK_UNBAG] =
                "all at stage 6: take it off, count, label; any before: leave it, write stage",
        },
    [REMARK_NO_LATER_DAY] =
        {
            [TASK_BAG] =
                "no later day: stage 1-2: hang it, count; 3: hang it, write 3; 4+: leave it",
        },
    [REMARK_NOT_CLEAN] =
        {
            [TASK_POLLINATE_1] =
                "not clean, label it so. stage 4-5: pollinate; none at 4: not yet; 6: late",
            [TASK_POLLINATE_2] =
                "not clean, label it so. any at stage 4-5: pollinate again; 6: leave it",
            [TASK_UNBAG] =
                "not clean, label it so. all at stage 6: take it off; any before: leave it",
        },
    [REMARK_NEVER_POLLINATED] =
        {
            [TASK_UNBAG] =
                "never pollinated. all at stage 6: take it off; any before: write the stage",
        },
};

const char *const result_words[NOTES] = {
    [NOTE_GRAFTED] = "graft it, hang its tag, write the branch; other place or scion: write which",
    [NOTE_RETAGGED] = "write the new tag",
    [NOTE_RELABELLED] = "write what it truly is",
    [NOTE_VERIFIED] = "compare label, flag and list; write how it was checked",
    [NOTE_SURVIVAL] = "look at bud and union; write alive, doubtful, dead or lost",
    [NOTE_STAGE] = "write the stage that is seen, 1 to 6, or 3-5 when mixed",
    [NOTE_STROBILI] = "count the strobili; none: write 0",
    [NOTE_CATKINS] = "count the catkins; none: write 0",
    [NOTE_MALE_STAGE] = "tap a branch; write not yet, shedding or over",
    [NOTE_BAGGED] = "hang it; write the strobili inside",
    [NOTE_POLLINATED] = "pollinate; write the ml used",
    [NOTE_UNBAGGED] = "take it off; write the strobili left",
    [NOTE_BAG_LOST] = "write why it was lost",
    [NOTE_CONELETS] = "count the conelets that hold; none: write 0",
    [NOTE_CONES] = "count the cones as they go into the sack; none: write 0",
    [NOTE_SEEDS] = "write the filled seeds",
    [NOTE_RIPENESS] = "float the sample; write how many of how many float, as 19/20",
    [NOTE_GERMINATION] = "write the percent that germinated",
    [NOTE_COLLECTED] = "write the ml collected",
    [NOTE_DISCARDED] = "write the ml thrown away",
    [NOTE_FROST] = "write the lowest degrees C",
    [NOTE_STORM] = "write what the storm did",
    [NOTE_SPRAYED] = "write the re-entry hours of the label",
    [NOTE_DONE] = "tick it when it is done",
    [NOTE_NOT_DONE] = "write why not",
};

enum { CAUTIONS_MOST = 12 };

/* Aloft: what can fall, and what can be fallen from. */
static size_t add_lift_cautions(const char **list, size_t count)
{
    list[count++] = "Lift: test it before use, stay tied to the basket, never work aloft alone. "
                    "Its manual, local codes and a licensed operator decide.";
    list[count++] = "Wind: come down before the limit in the lift's manual is near.";
    return count;
}

const char *const *cautions_of(struct hazards hazards, struct arena *arena)
{
    const char **list = ARENA_ARRAY(arena, CAUTIONS_MOST + 1, const char *);
    bool visits = hazards.tasks[TASK_POLLINATE_1] || hazards.tasks[TASK_POLLINATE_2];
    bool unbag = hazards.tasks[TASK_UNBAG];
    bool any = hazards.tasks[TASK_BAG] || visits || unbag || hazards.other;
    size_t count = 0;

    if (hazards.crowns && any)
        count = add_lift_cautions(list, count);
    if (any)
        list[count++] =
            "Thunder: come down and take shelter when it is first heard. Weather "
            "services advise to wait half an hour after the last; local rules go first.";
    if (unbag || hazards.blades)
        list[count++] = "Blades: gloves, and cut away from hands and tie. Wipe the knife between "
                        "clones.";
    if (hazards.hot)
        list[count++] =
            "Hot wax: a fixed pot with a lid, gloves, no open flame near dry grass. The "
            "maker's label and local fire rules go first.";
    if (hazards.sprays && any)
        list[count++] = "Sprays: stay out until the re-entry time on the label is over, of several "
                        "products the longest.";
    if (visits || hazards.pollen)
        list[count++] = "Pollen dust: eye cover, and a mask for whoever it troubles; no flame near "
                        "it. The employer's rules decide.";
    if (any)
        list[count++] = "Stings and bites: look before you reach. Who is allergic carries what the "
                        "doctor gave and tells the crew.";
    if (visits || unbag || (hazards.other && hazards.warm))
        list[count++] =
            "Heat: water, shade and rest by the advice for the day. Who feels ill comes "
            "down first.";
    list[count] = NULL;
    return list;
}
