/* fit.c - "fit": thresholds from what was seen in past seasons. */
#include "cli/command.h"

#include "cli/past_dates.h"
#include "planning/fit.h"
#include "planning/fit_chilling.h"
#include "planning/rate_fit.h"
#include "writing/fit_chilling_page.h"
#include "writing/fit_page.h"
#include "writing/rates_page.h"

#include <string.h>

static const struct option_row fit_options[] = {
    OPTION("event", "NAME", OPTION_WORD, event,
           "only this event: opening, first, peak, last, "
           "shed_first, shed_last; with --dates any"),
    OPTION("site", "NAME", OPTION_WORD, site, "only this site"),
    OPTION("dates", "FILE", OPTION_WORD, dates,
           "dates of past seasons in place of the notes: a CSV with the columns site, selection, "
           "event, date, not_before and, where it is known, tag; - is standard input"),
    OPTION("curve", "NAME", OPTION_WORD, curve,
           "search with this curve alone; sine for thresholds that are to serve other sites"),
    OPTION("chilling", NULL, OPTION_FLAG, chilling,
           "also try heat that is counted only after 200 to 1400 chilling hours"),
    OPTION("rates", NULL, OPTION_FLAG, rates,
           "rows of rates.csv instead: survival, strobili, bags, conelets, cones, seeds, minutes"),
    OPTIONS_END,
};

/* What the rows alone do not tell. */
static void say_cautions(struct session *session, const struct fits *fits,
                         const struct page_run *run)
{
    bool searched = false;

    for (size_t i = 0; i < fits->count; i++) {
        const struct event_fit *fit = &fits->list[i];
        struct text warnings;

        text_init(&warnings, session->arena);
        fit_add_warnings(fit, run, &warnings);
        for (const char *line = warnings.bytes; *line != '\0'; line += strcspn(line, "\n") + 1)
            session_say(session, "%s: %.*s", fit_title(fit, session->arena),
                        (int)strcspn(line, "\n"), line);
        searched = searched || (fit->fitted && fit->search.searched);
    }
    if (searched)
        session_say(session,
                    "these rows need their clocks in program.json, --format text prints them");
}

static void say_lines(struct session *session, const char *lines)
{
    for (const char *line = lines; *line != '\0'; line += strcspn(line, "\n") + 1)
        session_say(session, "%.*s", (int)strcspn(line, "\n"), line);
}

/* What heat after chilling would do: at the end of the text, else beside the rows. */
static void tell_chilling(struct session *session, const struct fits *fits,
                          const struct page_run *run, struct text *foot)
{
    struct text words;

    text_init(&words, session->arena);
    for (size_t i = 0; i < fits->count; i++) {
        const struct event_fit *fit = &fits->list[i];
        struct fit_chilling chilling = fit_chilling_of(fit, &session->orchard, session->arena);

        text_addf(&words, "%s:\n", fit_title(fit, session->arena));
        fit_add_chilling(fit, &chilling, run, &words);
    }
    if (session_format(session) == FORMAT_TEXT)
        text_add(foot, words.bytes);
    else
        say_lines(session, words.bytes);
}

static enum exit_status run_rates(struct session *session)
{
    const struct options *options = &session->options;
    struct opened opened;
    struct rate_fit fit;
    struct sheet sheet;
    struct text cautions;
    enum exit_status status;

    if (options->event || options->site || options->dates || options->curve || options->chilling) {
        session_say(session, "--rates takes the notes of the whole folder, expected it without "
                             "--event, --site, --dates, --curve and --chilling");
        return STATUS_USAGE;
    }
    status = session_plan(session, &opened);
    if (status != STATUS_DONE)
        return status;
    fit = rate_fit_of(opened.state, session->arena);
    sheet = rates_sheet(&fit, &opened.run);
    if (session_format(session) != FORMAT_TEXT) {
        text_init(&cautions, session->arena);
        rates_add_cautions(&fit, &cautions);
        say_lines(session, cautions.bytes);
    }
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

static enum exit_status run_fit(struct session *session)
{
    if (session->options.rates)
        return run_rates(session);
    struct opened opened;
    struct sights sights;
    struct fits fits;
    struct sheet sheet;
    const struct conetide_curve *curve;
    int event;
    enum exit_status status = past_event(session, &event);

    if (status == STATUS_DONE)
        status = past_curve(session, &curve);
    if (status == STATUS_DONE)
        status = session_plan(session, &opened);
    if (status != STATUS_DONE)
        return status;
    status = past_sights(session, opened.state, &sights);
    if (status != STATUS_DONE)
        return status;
    past_keep(session, event, &sights);
    fits = fits_of(&sights, &session->orchard, curve, session->arena);
    sheet = fit_sheet(&fits, &opened.run);
    if (session_format(session) != FORMAT_TEXT)
        say_cautions(session, &fits, &opened.run);
    if (session->options.chilling)
        tell_chilling(session, &fits, &opened.run, &sheet.foot);
    session_sheet(session, &sheet);
    return STATUS_DONE;
}

const struct command command_fit = {
    .name = "fit",
    .summary =
        "thresholds and their errors from stages noted, or dates kept, of past seasons; rates",
    .operands = "FOLDER",
    .operands_least = 1,
    .operands_most = 1,
    .formats = "text csv json sheet",
    .options = fit_options,
    .about =
        "For every site, species and event: the clock (curve, lower threshold, start of summing, "
        "declining requirement) that tells past seasons best, from five seasons on; the clocks "
        "about as good; what each selection needs, drawn toward the site's where little was seen; "
        "errors of seasons left out beside those of the calendar mean; grafts that run apart from "
        "the others of their name. Dates lie between two looks: note stages also while nothing "
        "has come yet. Rows out are those of thresholds.csv. With --rates: what was counted on "
        "grafts and bags, by season number, host species, site, clone and selection, each level "
        "drawn toward the one above and the top toward the shipped rate, with ranges of 80 %; "
        "rows out are those of rates.csv.",
    .example = "conetide fit --event first my-programme",
    .run = run_fit,
};
