/*
 * status.h - the exit statuses, as --help and the handbook print them.
 */
#ifndef CLI_STATUS_H
#define CLI_STATUS_H

enum exit_status {
    STATUS_DONE = 0,   /* a result, even one with nothing in it */
    STATUS_FAULTS = 1, /* `check` found errors (--strict: or warnings) */
    STATUS_USAGE = 2,  /* the command line is not understood */
    STATUS_INPUT = 3,  /* faults in the input: all are told, no result */
    STATUS_SYSTEM = 4, /* a file, the disk or memory was refused */
    STATUS_LOCKED = 5, /* another run holds the output folder */
    STATUSES
};

#endif
