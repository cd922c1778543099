/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/score.h"

#include <stdlib.h>
#include <string.h>

/* Time pedalled, by speed, on roads for one of the rider's two bands. */
struct ladder {
    double *speed_mps; /* rising */
    double *before_s;  /* n + 1: time at lower speeds than the one at this place */
    double *before_m;  /* and distance */
    size_t n;
    const struct ride_band *band;
};

struct ride_speeds {
    struct ladder flat, climb;
    struct ride_band flat_band, climb_band;
    double least_rpm;
    double time_s, coasting_s;
};

struct step {
    double speed_mps, time_s, length_m;
};

static int compare_steps(const void *a, const void *b) {
    double x = ((const struct step *)a)->speed_mps, y = ((const struct step *)b)->speed_mps;
    return (x > y) - (x < y);
}

/* The place of the first speed that is not below this one; n where all are. */
static size_t place_of(const struct ladder *l, double speed_mps) {
    size_t from = 0, to = l->n;
    while (from < to) {
        size_t middle = from + (to - from) / 2;
        if (l->speed_mps[middle] < speed_mps) {
            from = middle + 1;
        } else {
            to = middle;
        }
    }
    return from;
}

/* The time at speeds below this one. */
static double time_below(const struct ladder *l, double speed_mps) { return l->before_s[place_of(l, speed_mps)]; }

static double all_of(const struct ladder *l) { return l->before_s[l->n]; }

static enum base_status make_ladder(struct ladder *out, const struct ride_band *band, struct step *steps, size_t n) {
    out->band = band;
    out->n = n;
    out->speed_mps = calloc(n + 1, sizeof(double));
    out->before_s = calloc(n + 1, sizeof(double));
    out->before_m = calloc(n + 1, sizeof(double));
    if (!out->speed_mps || !out->before_s || !out->before_m) {
        return BASE_NO_MEMORY;
    }
    qsort(steps, n, sizeof *steps, compare_steps);
    for (size_t i = 0; i < n; i++) {
        out->speed_mps[i] = steps[i].speed_mps;
        out->before_s[i + 1] = out->before_s[i] + steps[i].time_s;
        out->before_m[i + 1] = out->before_m[i] + steps[i].length_m;
    }
    return BASE_OK;
}

/* The cells that were pedalled and for which the rider has this band; how many. */
static size_t gather(struct step *out, const struct ride_run *run, const struct ride_habits *habits,
                     const struct ride_cell *cells, size_t n, bool climb) {
    size_t found = 0;
    for (size_t i = 0; i < n; i++) {
        bool climbs = cells[i].gradient >= habits->climb_gradient;
        if (climbs == climb && run->moments[i].mode != RIDE_MODE_COASTING) {
            out[found++] = (struct step){run->moments[i].speed_mps, run->moments[i].time_s, cells[i].length_m};
        }
    }
    return found;
}

enum base_status ride_speeds_new(struct ride_speeds **out, const struct ride_run *run, const struct ride_habits *habits,
                                 const struct ride_cell *cells, size_t n) {
    struct ride_speeds *s = calloc(1, sizeof *s);
    struct step *steps = calloc(n + 1, sizeof *steps);
    enum base_status status = s && steps ? BASE_OK : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        s->flat_band = habits->flat;
        s->climb_band = habits->climb;
        s->least_rpm = habits->least_rpm;
        s->coasting_s = run->mode_s[RIDE_MODE_COASTING];
        status = make_ladder(&s->flat, &s->flat_band, steps, gather(steps, run, habits, cells, n, false));
    }
    if (status == BASE_OK) {
        status = make_ladder(&s->climb, &s->climb_band, steps, gather(steps, run, habits, cells, n, true));
    }
    free(steps);
    if (status != BASE_OK) {
        ride_speeds_free(s);
        return status;
    }
    s->time_s = all_of(&s->flat) + all_of(&s->climb) + s->coasting_s;
    *out = s;
    return BASE_OK;
}

static void clear_ladder(struct ladder *l) {
    free(l->speed_mps);
    free(l->before_s);
    free(l->before_m);
}

void ride_speeds_free(struct ride_speeds *speeds) {
    if (speeds) {
        clear_ladder(&speeds->flat);
        clear_ladder(&speeds->climb);
        free(speeds);
    }
}

/* Adds seconds: what the gears make of the speeds of one ladder. */
static void add_ladder(struct ride_score *out, const struct ladder *l, double least_rpm, const double *developments_m,
                       size_t n) {
    double low = l->band->low_rpm / 60.0, high = l->band->high_rpm / 60.0;
    double slow_s = time_below(l, developments_m[0] * low);
    size_t walked = place_of(l, developments_m[0] * (least_rpm < l->band->low_rpm ? least_rpm / 60.0 : low));
    double walked_s = l->before_s[walked];
    double above_s = all_of(l) - time_below(l, developments_m[n - 1] * high);
    double between_s = 0.0;
    for (size_t i = 0; i + 1 < n; i++) {
        if (developments_m[i] * high < developments_m[i + 1] * low) {
            between_s += time_below(l, developments_m[i + 1] * low) - time_below(l, developments_m[i] * high);
        }
    }
    out->walked += walked_s;
    out->walked_m += l->before_m[walked];
    out->below += slow_s - walked_s;
    out->above += above_s;
    out->between += between_s;
    out->in_band += all_of(l) - slow_s - above_s - between_s;
}

struct ride_score ride_score_of(const struct ride_speeds *speeds, const double *developments_m, size_t n) {
    struct ride_score score = {.coasting = speeds->coasting_s};
    add_ladder(&score, &speeds->flat, speeds->least_rpm, developments_m, n);
    add_ladder(&score, &speeds->climb, speeds->least_rpm, developments_m, n);
    double *shares[] = {&score.in_band, &score.below, &score.above, &score.between, &score.coasting, &score.walked};
    for (size_t i = 0; i < sizeof shares / sizeof shares[0]; i++) {
        *shares[i] /= speeds->time_s;
    }
    return score;
}

double ride_score_in_band(const struct ride_score *score) {
    return score->coasting < 1.0 ? score->in_band / (1.0 - score->coasting) : 1.0;
}

/* The speed below which this much time lies. */
static double speed_at(const struct ladder *l, double time_s) {
    size_t i = 0;
    while (i + 1 < l->n && l->before_s[i + 1] <= time_s) {
        i++;
    }
    return l->n > 0 ? l->speed_mps[i] : 0.0;
}

double ride_speeds_climbing_mps(const struct ride_speeds *speeds, double share) {
    return speed_at(&speeds->climb, (1.0 - share) * all_of(&speeds->climb));
}

/* The highest speed on one ladder below which, on both, lies no more than this time. */
static double speed_within(const struct ladder *l, const struct ladder *other, double time_s) {
    double speed_mps = 0.0;
    for (size_t i = 0; i < l->n && l->before_s[i] <= time_s; i++) {
        bool within = l->before_s[i] + time_below(other, l->speed_mps[i]) <= time_s;
        speed_mps = within ? l->speed_mps[i] : speed_mps;
    }
    return speed_mps;
}

double ride_speeds_pedalled_mps(const struct ride_speeds *speeds, double share) {
    double time_s = share * (all_of(&speeds->flat) + all_of(&speeds->climb));
    double flat_mps = speed_within(&speeds->flat, &speeds->climb, time_s);
    double climb_mps = speed_within(&speeds->climb, &speeds->flat, time_s);
    return flat_mps > climb_mps ? flat_mps : climb_mps;
}
