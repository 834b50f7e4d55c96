/*
 * test.h - what every test file starts from: cmocka with its includes, and comparisons of doubles.
 */
#ifndef BASE_TEST_H
#define BASE_TEST_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* cmocka 1.1.5 compares floats only; a NaN on either side must fail. */
#define assert_near(got, want, within)                                                             \
    do {                                                                                           \
        double got_near_ = (got), want_near_ = (want);                                             \
        if (!(fabs(got_near_ - want_near_) <= (within)))                                           \
            fail_msg("%s is %.17g, expected %.17g, off by %.3g", #got, got_near_, want_near_,      \
                     got_near_ - want_near_);                                                      \
    } while (0)

#endif
