/*
 * pictures.h - each picture of a planned session, drawn.
 */
#ifndef CLI_PICTURES_H
#define CLI_PICTURES_H

#include "cli/crossing_plan.h"

/* What is drawn; a site NULL: all. */
struct picture_asked {
    const struct site *site;
    int season;       /* a year; 0: the next in which a graft of the site flowers */
    enum event event; /* of the heat sum's requirements */
    daynum from, to;  /* of crew-hours; DAY_NONE: as of; the last day with work */
};

void draw_windows(struct session *session, const struct planned *planned,
                  const struct picture_asked *asked, struct text *out);
void draw_minutes(struct session *session, const struct planned *planned,
                  const struct picture_asked *asked, struct text *out);

/* These need no plan. */
void draw_heat(struct session *session, const struct opened *opened,
               const struct flowering_rows *flowering, const struct picture_asked *asked,
               struct text *out);
void draw_map(const struct opened *opened, const struct picture_asked *asked, struct text *out);

/* The season at a glance: pictures and tables in one HTML file. */
void draw_glance(struct session *session, struct planned *planned, struct text *out);

#endif
