#include "planning/hosts.h"

#include "orchard/order.h"
#include "orchard/words.h"
#include "planning/rate_fit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct host_maker {
    const struct state *state;
    struct arena *arena;
    struct hosts hosts;
    struct rate_fit fit;
    struct rate_pieces pieces;
};

static bool same_text(const char *a, const char *b)
{
    return order_text(a, b) == 0;
}

static bool same_host(const struct host *host, const char *species, const char *clone,
                      const struct site *site)
{
    return same_text(host->species, species) && same_text(host->clone, clone) && host->site == site;
}

static struct host *host_of(struct host_maker *maker, const struct tree *tree,
                            const struct site *site)
{
    struct hosts *hosts = &maker->hosts;
    struct host *host;

    for (size_t i = 0; i < hosts->count; i++)
        if (same_host(&hosts->list[i], tree->species, tree->clone, site))
            return &hosts->list[i];
    host = ARENA_PUSH(maker->arena, hosts->list, hosts->count, hosts->capacity);
    *host = (struct host){
        .species = tree->species,
        .clone = tree->clone,
        .site = site,
        .reach_low_m = NAN,
        .reach_high_m = NAN,
        .strobili_per_graft = NAN,
    };
    return host;
}

static void add_tree(const struct state *state, struct host *host, const struct tree *tree)
{
    double reach = tree->reach_needed_m;

    if (tree->health == HEALTH_DEAD)
        return;
    host->trees++;
    if (!(host->reach_low_m <= reach))
        host->reach_low_m = isnan(reach) ? host->reach_low_m : reach;
    if (!(host->reach_high_m >= reach))
        host->reach_high_m = isnan(reach) ? host->reach_high_m : reach;
    for (int crown = CROWN_TOP; tree->health != HEALTH_WEAK && crown < CROWNS; crown++) {
        int free = state_free_places(state, tree, (enum crown)crown);

        host->free[crown] += free > 0 ? free : 0;
        host->uncounted += free < 0;
    }
}

static void add_trees(struct host_maker *maker)
{
    const struct orchard *orchard = maker->state->orchard;

    for (size_t i = 0; i < orchard->trees.count; i++) {
        const struct tree *tree = &orchard->trees.list[i];

        if (!(tree->uses & USE_GRAFT))
            continue;
        add_tree(maker->state, host_of(maker, tree, NULL), tree);
        if (tree->site != NULL)
            add_tree(maker->state, host_of(maker, tree, tree->site), tree);
    }
}

static void add_grafts(struct host_maker *maker)
{
    const struct state *state = maker->state;

    for (size_t i = 0; i < state->orchard->grafts.count; i++) {
        const struct graft_state *of = &state->grafts[i];
        const struct tree *tree = of->graft->tree;

        if (tree == NULL || !(tree->uses & USE_GRAFT))
            continue;
        for (int at = 0; at < (tree->site != NULL ? 2 : 1); at++) {
            struct host *host = host_of(maker, tree, at == 0 ? NULL : tree->site);

            host->grafts++;
            host->living += !condition_is_gone(of->condition);
        }
    }
}

static struct host_figure *figure_of(struct host_spring *spring, enum rate_kind kind)
{
    return kind == RATE_SURVIVAL ? &spring->survival : &spring->strobili;
}

static bool is_of_host(const struct host *host, const struct rate_subject *subject)
{
    return same_text(host->species, subject->host_species) &&
           same_text(host->clone, subject->clone) &&
           (host->site == NULL || same_text(host->site->name, subject->site));
}

static void count_pieces(const struct host_maker *maker, struct host *host)
{
    for (size_t i = 0; i < maker->pieces.count; i++) {
        const struct rate_piece *piece = &maker->pieces.list[i];
        int number = piece->subject.season_number;

        if ((piece->kind != RATE_SURVIVAL && piece->kind != RATE_STROBILI_PER_LIVE_GRAFT) ||
            number < 1 || number > SPRINGS || !is_of_host(host, &piece->subject))
            continue;
        struct host_figure *figure = figure_of(&host->spring[number - 1], piece->kind);
        figure->counted += piece->counted;
        figure->of += piece->of;
    }
}

/* The fitted row of just these cells. */
static const struct rate_row *row_of(const struct host_maker *maker, enum rate_kind kind,
                                     const struct rate_subject *cells)
{
    for (size_t i = 0; i < maker->fit.count; i++) {
        const struct rate_row *row = &maker->fit.list[i];

        if (row->kind == kind && row->cells.season_number == cells->season_number &&
            same_text(row->cells.host_species, cells->host_species) &&
            same_text(row->cells.clone, cells->clone) && row->cells.site == NULL &&
            row->cells.selection == NULL)
            return row;
    }
    return NULL;
}

static const char *const rate_names[] = {
    [RATE_SURVIVAL] = "survival",
    [RATE_STROBILI_PER_LIVE_GRAFT] = "strobili_per_live_graft",
};

static double value_in_rates(const struct orchard *orchard, enum rate_kind kind,
                             struct rate_subject subject)
{
    const struct rate *rate = rate_find(orchard, rate_names[kind], subject);

    return rate != NULL ? number_of_decimal(rate->value) : NAN;
}

static void set_figure(const struct host_maker *maker, const struct host *host, enum rate_kind kind,
                       int number, struct host_figure *figure)
{
    struct rate_subject cells = {
        .host_species = host->species, .clone = host->clone, .season_number = number};
    const struct rate_row *row = NULL;
    int basis = figure->of > 0 && host->clone != NULL ? HOST_OWN : HOST_SPECIES;

    for (; basis < HOST_RATES; basis++) {
        cells.clone = basis == HOST_OWN ? host->clone : NULL;
        cells.host_species = basis == HOST_GENERAL ? NULL : host->species;
        if (basis != HOST_SPECIES || host->species != NULL)
            row = row_of(maker, kind, &cells);
        if (row != NULL)
            break;
    }
    figure->basis = (enum host_basis)basis;
    if (row != NULL) {
        figure->value = number_of_decimal(row->value);
        figure->low = basis == HOST_OWN ? row->low : NAN;
        figure->high = basis == HOST_OWN ? row->high : NAN;
        return;
    }
    cells.clone = host->clone;
    cells.host_species = host->species;
    figure->low = figure->high = NAN;
    figure->value = value_in_rates(maker->state->orchard, kind, cells);
    figure->basis = isnan(figure->value) ? HOST_NOTHING : HOST_RATES;
}

static void set_figures(struct host_maker *maker, struct host *host)
{
    count_pieces(maker, host);
    for (int spring = 0; spring < SPRINGS; spring++)
        for (int kind = RATE_SURVIVAL; kind <= RATE_STROBILI_PER_LIVE_GRAFT; kind++) {
            struct host_figure *figure = figure_of(&host->spring[spring], (enum rate_kind)kind);

            if (host->site == NULL)
                set_figure(maker, host, (enum rate_kind)kind, spring + 1, figure);
            else
                figure->value = figure->low = figure->high = NAN;
        }
    host->strobili_per_graft = 0;
    for (int spring = 0; spring < SPRINGS; spring++)
        host->strobili_per_graft +=
            host->spring[spring].survival.value * host->spring[spring].strobili.value;
}

/* Best first; what is not known last. */
static int order_host(const void *left, const void *right)
{
    const struct host *a = left, *b = right;
    int order = order_number(b->strobili_per_graft, a->strobili_per_graft);

    if (isnan(a->strobili_per_graft) != isnan(b->strobili_per_graft))
        return isnan(a->strobili_per_graft) ? 1 : -1;
    if (order == 0)
        order = order_text(a->species, b->species);
    if (order == 0)
        order = order_text(a->clone, b->clone);
    return order != 0 ? order
                      : order_text(a->site != NULL ? a->site->name : NULL,
                                   b->site != NULL ? b->site->name : NULL);
}

static size_t sites_of(const struct hosts *hosts, const struct host *whole)
{
    size_t sites = 0;

    for (size_t i = 0; i < hosts->count; i++)
        sites += hosts->list[i].site != NULL && same_text(hosts->list[i].species, whole->species) &&
                 same_text(hosts->list[i].clone, whole->clone);
    return sites;
}

/* Sites follow their clone. */
static void sort_hosts(struct host_maker *maker)
{
    struct hosts *hosts = &maker->hosts;
    struct host *sorted = ARENA_ARRAY(maker->arena, hosts->count, struct host);
    size_t made = 0;

    if (hosts->count > 1)
        qsort(hosts->list, hosts->count, sizeof *hosts->list, order_host);
    for (size_t i = 0; i < hosts->count; i++) {
        const struct host *whole = &hosts->list[i];

        if (whole->site != NULL)
            continue;
        sorted[made++] = *whole;
        if (sites_of(hosts, whole) < 2)
            continue;
        for (size_t j = 0; j < hosts->count; j++)
            if (hosts->list[j].site != NULL &&
                same_host(&hosts->list[j], whole->species, whole->clone, hosts->list[j].site))
                sorted[made++] = hosts->list[j];
    }
    hosts->list = sorted;
    hosts->count = made;
}

struct hosts hosts_of(const struct state *state, struct arena *arena)
{
    struct host_maker maker = {
        .state = state,
        .arena = arena,
        .hosts = {.state = state},
        .fit = rate_fit_each_clone(state, arena),
        .pieces = rate_pieces_of(state, arena),
    };

    add_trees(&maker);
    add_grafts(&maker);
    for (size_t i = 0; i < maker.hosts.count; i++)
        set_figures(&maker, &maker.hosts.list[i]);
    sort_hosts(&maker);
    return maker.hosts;
}

/* What rates.csv says of this selection and site, by what it says of the clone. */
static double more_or_less(const struct orchard *orchard, enum rate_kind kind,
                           struct rate_subject subject)
{
    struct rate_subject host = {.host_species = subject.host_species,
                                .clone = subject.clone,
                                .season_number = subject.season_number};
    double ratio = value_in_rates(orchard, kind, subject) / value_in_rates(orchard, kind, host);

    return isfinite(ratio) ? ratio : 1;
}

struct host_promise hosts_promise(const struct hosts *hosts, const struct tree *tree,
                                  const struct selection *selection)
{
    const struct orchard *orchard = hosts->state->orchard;
    struct host_promise promise = {{NAN, NAN}, {NAN, NAN}, NULL};

    for (size_t i = 0; i < hosts->count && promise.host == NULL; i++)
        if (same_host(&hosts->list[i], tree->species, tree->clone, NULL))
            promise.host = &hosts->list[i];
    if (promise.host == NULL)
        return promise;
    for (int spring = 0; spring < SPRINGS; spring++) {
        const struct host_spring *of = &promise.host->spring[spring];
        struct rate_subject subject = {.host_species = tree->species,
                                       .clone = tree->clone,
                                       .site = tree->site != NULL ? tree->site->name : NULL,
                                       .selection = selection->name,
                                       .season_number = spring + 1};
        double lives = of->survival.value * more_or_less(orchard, RATE_SURVIVAL, subject);

        promise.survival[spring] = lives > 1 ? 1 : lives;
        promise.strobili[spring] =
            of->strobili.value * more_or_less(orchard, RATE_STROBILI_PER_LIVE_GRAFT, subject);
    }
    return promise;
}

double host_promise_sum(const struct host_promise *promise)
{
    double sum = 0;

    for (int spring = 0; spring < SPRINGS; spring++)
        sum += promise->survival[spring] * promise->strobili[spring];
    return sum;
}
