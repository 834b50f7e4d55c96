/*
 * glance_script.h - the style of the season at a glance, and the script that sorts and filters.
 */
#ifndef WRITING_GLANCE_SCRIPT_H
#define WRITING_GLANCE_SCRIPT_H

extern const char glance_style[], glance_script[];

#endif
