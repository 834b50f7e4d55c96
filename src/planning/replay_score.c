#include "planning/replay_score.h"

#include "conetide/binomial.h"
#include "conetide/projection.h"
#include "conetide/quantile.h"
#include "conetide/score.h"

#include <math.h>

static const double shares[3] = {0.1, 0.5, 0.9};
static const double inside_share = 0.8;

/* Days on which a distribution lies, the event's own and a day either side with them. */
struct span {
    daynum first, last;
};

static struct span span_of(const struct replay_forecast *forecast, daynum observed)
{
    struct span span = {observed - 1, observed + 1};

    for (size_t m = 0; m < forecast->members; m++) {
        daynum day = forecast->days[m], reach = forecast->shifts->reach;

        if (day == CONETIDE_NEVER)
            continue;
        span.first = day - reach < span.first ? day - reach : span.first;
        span.last = day + reach > span.last ? day + reach : span.last;
    }
    return span;
}

/* What no member brings counts as if it came on the last day that any does. */
static void score_days(const struct replay_forecast *forecast, struct arena *arena,
                       struct replay_told *told)
{
    struct span span = span_of(forecast, told->observed);
    size_t n = (size_t)(span.last - span.first + 1);
    double *days = ARENA_ARRAY(arena, n, double), *weight = ARENA_ARRAY(arena, n, double);
    struct conetide_weighted_days distribution = {n, days, weight};
    double before = 0;
    enum conetide_status status;

    for (size_t i = 0; i < n; i++) {
        daynum day = span.first + (daynum)i;
        double by = i + 1 == n ? 1
                               : conetide_event_by(forecast->members, forecast->days,
                                                   forecast->shifts, day);

        days[i] = day;
        weight[i] = by > before ? by - before : 0;
        before = by > before ? by : before;
    }
    status = conetide_crps_weighted(&distribution, told->observed, &told->score_days);
    if (status == CONETIDE_OK)
        status = conetide_pit(&distribution, told->observed, &told->below, &told->up_to);
    (void)status;
}

static daynum date_of(const struct replay_forecast *forecast, double share)
{
    int32_t day;

    return conetide_event_date(forecast->members, forecast->days, forecast->shifts, share, &day) ==
                   CONETIDE_OK
               ? day
               : DAY_NEVER;
}

static void score_past(const struct replay_forecast *forecast, struct arena *arena,
                       struct replay_told *told)
{
    double *past = ARENA_ARRAY(arena, forecast->past_count, double), fair, value[3];
    enum conetide_status status = CONETIDE_OK;

    for (size_t i = 0; i < forecast->past_count; i++)
        past[i] = forecast->past[i];
    for (size_t i = 0; i < 3 && status == CONETIDE_OK; i++)
        status = conetide_quantile(8, forecast->past_count, past, shares[i], &value[i]);
    if (status == CONETIDE_OK)
        status = conetide_crps_ensemble(forecast->past_count, past, told->observed,
                                        &told->past_score_days, &fair);
    if (status != CONETIDE_OK)
        return;
    told->past_p10 = (daynum)floor(value[0]);
    told->past_p50 = (daynum)lround(value[1]);
    told->past_p90 = (daynum)ceil(value[2]);
}

void replay_score(const struct replay_forecast *forecast, struct arena *arena,
                  struct replay_told *told)
{
    const daynum *dates[3] = {&told->p10, &told->p50, &told->p90};

    told->p10 = date_of(forecast, shares[0]);
    told->p50 = date_of(forecast, shares[1]);
    told->p90 = date_of(forecast, shares[2]);
    told->past_p10 = told->past_p50 = told->past_p90 = DAY_NONE;
    told->past_score_days = NAN;
    told->inside = told->p10 <= told->observed && told->observed <= told->p90;
    for (size_t i = 0; i < 3; i++)
        told->pinball_days[i] = *dates[i] == DAY_NEVER
                                    ? (double)NAN
                                    : conetide_pinball(shares[i], *dates[i], told->observed);
    score_days(forecast, arena, told);
    if (forecast->past_count > 0)
        score_past(forecast, arena, told);
}

/* A season lies evenly between `below` and `up_to`. */
static void fill_bins(const struct replay_told *told, double *bins)
{
    for (size_t b = 0; b < REPLAY_BINS; b++) {
        double low = (double)b / REPLAY_BINS, high = (double)(b + 1) / REPLAY_BINS;
        double from = fmax(low, told->below), to = fmin(high, told->up_to);

        if (to > from)
            bins[b] += (to - from) / (told->up_to - told->below);
    }
}

static void add_told(const struct replay_told *told, struct replay_line *line)
{
    line->seasons++;
    line->mae_days += fabs((double)told->p50 - told->observed);
    line->bias_days += (double)told->p50 - told->observed;
    line->inside += told->inside;
    line->width_days += (double)told->p90 - told->p10;
    line->past_width_days += (double)told->past_p90 - told->past_p10;
    for (size_t i = 0; i < 3; i++)
        line->pinball_days[i] += told->pinball_days[i];
    line->score_days += told->score_days;
    line->past_score_days += told->past_score_days;
    line->unmoved_score_days += told->unmoved_score_days;
    line->past_mae_days += fabs((double)told->past_p50 - told->observed);
    fill_bins(told, line->bins);
}

void replay_sum_up(size_t count, const struct replay_told *told, size_t issue,
                   struct replay_line *line)
{
    double *means[] = {&line->mae_days,           &line->bias_days,       &line->width_days,
                       &line->past_width_days,    &line->pinball_days[0], &line->pinball_days[1],
                       &line->pinball_days[2],    &line->score_days,      &line->past_score_days,
                       &line->unmoved_score_days, &line->past_mae_days};

    for (size_t i = 0; i < count; i++) {
        if (told[i].issue == issue)
            add_told(&told[i], line);
    }
    for (size_t i = 0; i < sizeof means / sizeof *means; i++)
        *means[i] = line->seasons > 0 ? *means[i] / (double)line->seasons : (double)NAN;
    line->skill = 1 - line->score_days / line->past_score_days;
    line->inside_p = line->seasons > 0 ? conetide_binomial_test((int64_t)line->seasons,
                                                                (int64_t)line->inside, inside_share)
                                       : (double)NAN;
}
