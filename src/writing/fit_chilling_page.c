#include "writing/fit_chilling_page.h"

#include "writing/fit_words.h"
#include "writing/sheet.h"

static void add_quoted(const char *value, struct text *out)
{
    text_add(out, "\"");
    for (; *value != '\0'; value++)
        text_addf(out, *value == '"' || *value == '\\' ? "\\%c" : "%c", *value);
    text_add(out, "\"");
}

static void add_clock(const char *name, const struct clock *clock, struct text *out)
{
    const struct chilling_need *need = &clock->after_chilling;

    text_add(out, "  ");
    add_quoted(name, out);
    text_addf(
        out,
        ": {\"counts\": \"heat\", \"curve\": \"%s\", \"cutoff\": \"none\", \"lower_c\": %.0f, "
        "\"start\": \"%02d-%02d\", \"end_days\": %d, \"after_chilling\": {\"counts\": "
        "\"%s\", \"need\": %.0f, \"start\": \"%02d-%02d\"}}\n",
        clock->rule.curve->name, clock->rule.lower, clock->start.month, clock->start.day,
        clock->end_days, need->counts->name, need->units, need->start.month, need->start.day);
}

static void add_row(const struct event_fit *fit, const char *clock,
                    const struct fit_chilling *chilling, struct text *out)
{
    text_addf(out,
              "  event,species,site,clock,heat_units_c,residual_days,basis,seasons_seen\n  %s,",
              event_names[fit->event]);
    if (fit->species)
        csv_add_text(out, fit->species, false);
    text_add(out, ",");
    csv_add_text(out, fit->site->name, false);
    text_add(out, ",");
    csv_add_text(out, clock, false);
    text_addf(out, ",%.1f,%.1f,fitted,%zu\n", chilling->units_c, chilling->nested.rmse_days,
              fit->used);
}

void fit_add_chilling(const struct event_fit *fit, const struct fit_chilling *chilling,
                      const struct page_run *run, struct text *out)
{
    const char *clock;

    if (!chilling->tried) {
        text_addf(out, "  heat after chilling not tried: %s\n", chilling->reason);
        return;
    }
    if (chilling->hours == 0) {
        text_add(out,
                 "  heat after chilling does not help: not even 200 chilling hours came before "
                 "the event in every season\n");
        return;
    }
    text_addf(out,
              "  heat after %zu chilling hours: root mean square error %.2f days instead of %.2f, "
              "search repeated: %s\n",
              chilling->hours, chilling->nested.rmse_days, chilling->plain.rmse_days,
              chilling->helps ? "offered" : "does not help");
    if (!chilling->helps)
        return;
    clock = arena_printf(run->arena, "%s-after-chilling", fit_clock_name(fit, run->arena));
    add_clock(clock, &chilling->clock.clock, out);
    add_row(fit, clock, chilling, out);
}
