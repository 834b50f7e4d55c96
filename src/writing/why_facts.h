/*
 * why_facts.h - the reasons for a graft's dates as rows: a fact, its number or days, its words and
 * its place.
 */
#ifndef WRITING_WHY_FACTS_H
#define WRITING_WHY_FACTS_H

#include "planning/why.h"
#include "writing/pages.h"

struct facts {
    struct sheet sheet;
    const struct page_run *run;
    const struct why *why;
    const char *section; /* of the rows to come: "graft" */
    const char *title;   /* of the section in text */
    int season;          /* 0: of none */
    bool data_only;      /* text has no room for the rows to come */
};

enum fact_form { FACT_EVERYWHERE, FACT_TEXT_ONLY, FACT_DATA_ONLY };

struct fact {
    const char *name;  /* "heat so far" */
    const char *event; /* NULL: of none */
    const char *words; /* what text shows */
    daynum days[THREE_DATES];
    double number;
    const char *unit;          /* of the number */
    const struct place *place; /* NULL: from no file */
    enum fact_form form;
};

/* An empty sheet; `run` and `why` are set. */
void facts_init(struct facts *facts);

/* All blank; days DAY_NONE, number NaN. */
struct fact fact_of(const char *name, const char *words);

/* With one day. */
struct fact fact_of_day(const char *name, const char *words, daynum day);

struct fact fact_of_number(const char *name, const char *words, double number, const char *unit);

void facts_add(struct facts *facts, struct fact fact);

/* Where rows go from here on. */
void facts_section(struct facts *facts, const char *section, int season, const char *title);

/* Parts of the page. */
void facts_add_graft(struct facts *facts);
void facts_add_weather(struct facts *facts);
void facts_add_notes(struct facts *facts);
/* `before`: the season printed above, or NULL; what is the same as there is said in one line. */
void facts_add_season(struct facts *facts, const struct why_season *season,
                      const struct why_season *before);
void facts_add_moves(struct facts *facts);
void facts_add_clock(struct facts *facts, const struct why_clock *clock);
void facts_add_so_far(struct facts *facts, const struct why_clock *clock);
void facts_add_rows(struct facts *facts, const struct why_season *season);
void facts_add_years(struct facts *facts, const struct why_season *season);

/* Words.  " (thresholds.csv:7)"; nothing when the place is nowhere. */
void why_add_place(struct text *out, const struct place *place);
/* "bag by". */
const char *why_event_words(enum event event);
/* What a clock counts: "degree-days C", "chilling hours"; as data it is always C. */
const char *why_unit(const struct clock *clock);
/* What a row of a sum asks for, in that unit. */
double why_need(const struct threshold *row);
/* An amount of that unit: "466.9", degree-days in the units that people read. */
void why_add_amount(struct text *out, const struct page_run *run, const struct clock *clock,
                    double amount);
/* A date of the row, WORDS_UNCHILLED where only chilling keeps it from coming. */
daynum why_date(const struct flowering_row *row, enum event event, int which);
/* "466.9", in the units that people read. */
void why_add_heat(struct text *out, const struct page_run *run, double heat_c);
/* "2.8 C", "37 F". */
void why_add_temperature(struct text *out, const struct page_run *run, double c);
/* "60 m", "197 ft". */
void why_add_length(struct text *out, const struct page_run *run, double m);
/* "2.5 days", "1 day". */
void why_add_days(struct text *out, double days);
/* "3 days earlier", "1 day later", "on the same day". */
void why_add_move(struct text *out, int days);

#endif
