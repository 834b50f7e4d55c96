/*
 * tag_check.h - tags that somebody typed or read, against those that grafts have or had.
 */
#ifndef ORCHARD_TAG_CHECK_H
#define ORCHARD_TAG_CHECK_H

#include "orchard/orchard.h"

enum tag_character {
    TAG_UNCHECKED, /* an old tag that has no check character, or nothing that can be told */
    TAG_RIGHT,
    TAG_WRONG /* by the form of the tag or of those near to it there is one, and it does not hold */
};

#define TAG_NEAR_MOST 4

struct tag_check {
    const char *typed;         /* the tag, or the name of a bag */
    const char *tag;           /* the same, or the tag in the bag's name */
    const struct graft *graft; /* that has or had exactly this tag; NULL: unknown */
    enum tag_character character;
    const char *near[TAG_NEAR_MOST]; /* of an unknown one */
    size_t near_count, near_all;     /* those kept, and how many there are */
    bool respelled; /* the first near differs only by case, blanks, hyphens or leading zeros */
};

/* The tags of an orchard, made ready for many checks. */
struct tag_checker {
    const struct orchard *orchard;
    const char **bare;     /* [graft_names.count] upper case, without blanks and hyphens */
    unsigned char *differ; /* [graft_names.count] of the tag in hand */
    struct arena *arena;
};

/* After orchard_link. */
struct tag_checker tag_checker_of(const struct orchard *orchard, struct arena *arena);

/*
 * Check one; `typed` without blanks around it, kept and not copied.  What is near to an unknown tag
 * is a known one that differs by its spelling, by a swap of two neighbours, by one character, or by
 * one character too many or too few, in this order, then by tag; case, blanks and hyphens apart.
 */
struct tag_check tag_check_of(const struct tag_checker *checker, const char *typed);

#endif
