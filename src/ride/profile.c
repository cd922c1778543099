/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/profile.h"

#include <math.h>
#include <string.h>

#define NEIGHBOURS 4          /* a spike is judged by so many heights before and behind it */
#define SPIKE_M 8.0           /* it stands off their median by this much at least, ... */
#define SPIKE_SLOPE 0.5       /* ... and by more than this slope makes over their reach */
#define BRIDGED_LEAST_M 100.0 /* a shorter gap between heights is not worth a word */
#define SLOPE_ERROR 0.015     /* how good a gradient should be, one standard error */
#define SCATTER_MOST_M 10.0   /* one bad height must not make the whole route noisy */
#define REVERSAL_SCATTERS 3.0 /* a turn of so many standard errors is a turn */
#define REVERSAL_MOST_M 10.0
#define MEAN_OF_NORMAL 0.797884560802865 /* mean size of a standard normal variable: sqrt(2 / pi) */

double ride_cell_rise_m(const struct ride_cell *cell) {
    return cell->length_m * cell->gradient / sqrt(1.0 + cell->gradient * cell->gradient);
}

/* --- climb and slope ----------------------------------------------------------------------------------------------- */

void ride_climb_of(double *up, double *down, const double *heights_m, size_t n, double reversal_m) {
    *up = *down = 0.0;
    if (n == 0) {
        return;
    }
    double from = heights_m[0]; /* the last turning point ... */
    double far = from;          /* ... and how far it went since then */
    int way = 0;                /* 1 up, -1 down, 0 not known yet */
    double low = from, high = from;
    for (size_t i = 1; i < n; i++) {
        double h = heights_m[i];
        if (way == 0) {
            low = fmin(low, h);
            high = fmax(high, h);
            if (high - low >= reversal_m && high > low) {
                way = h > low ? 1 : -1;
                from = way > 0 ? low : high;
                far = h;
            }
        } else if ((h - far) * way >= 0.0) {
            far = h;
        } else if ((far - h) * way >= reversal_m) {
            *(way > 0 ? up : down) += (far - from) * way;
            way = -way;
            from = far;
            far = h;
        }
    }
    if (way != 0) {
        *(way > 0 ? up : down) += (far - from) * way;
    }
}

double ride_slope_of(const double *heights_m, size_t n, double spacing_m) {
    double middle = 0.5 * ((double)n - 1.0), moment = 0.0;
    for (size_t i = 0; i < n; i++) {
        moment += ((double)i - middle) * heights_m[i];
    }
    return moment * 12.0 / ((double)n * ((double)n * (double)n - 1.0)) / spacing_m;
}

/* --- heights of a piece, point by point ---------------------------------------------------------------------------- */

/* A piece of the route between two breaks, with heights that may be mended. */
struct piece {
    const struct ride_point *points;
    double *heights_m;
    size_t n;
};

static double length_of(const struct piece *p) { return p->points[p->n - 1].distance_m - p->points[0].distance_m; }

static double median_of(double *values, size_t n) {
    for (size_t i = 1; i < n; i++) {
        double value = values[i];
        size_t at = i;
        for (; at > 0 && values[at - 1] > value; at--) {
            values[at] = values[at - 1];
        }
        values[at] = value;
    }
    return n % 2 ? values[n / 2] : 0.5 * (values[n / 2 - 1] + values[n / 2]);
}

/* Does this height stand off those around it more than any road could? */
static bool is_spike(const struct piece *p, size_t at) {
    size_t from = at > NEIGHBOURS ? at - NEIGHBOURS : 0, to = at + NEIGHBOURS < p->n ? at + NEIGHBOURS : p->n - 1;
    double around[2 * NEIGHBOURS + 1] = {0}, least = INFINITY, most = -INFINITY;
    size_t n = 0;
    for (size_t i = from; i <= to; i++) {
        if (!isnan(p->points[i].height_m)) {
            around[n++] = p->points[i].height_m;
            least = fmin(least, p->points[i].height_m);
            most = fmax(most, p->points[i].height_m);
        }
    }
    double reach_m = p->points[to].distance_m - p->points[from].distance_m;
    double allowed_m = SPIKE_M + SPIKE_SLOPE * reach_m;
    return most - least > allowed_m && fabs(p->points[at].height_m - median_of(around, n)) > allowed_m;
}

/* Straight from one known height to the next; the first and the last go on level to the ends. */
static void fill(struct ride_profile *out, struct piece *p, size_t from, size_t to) {
    const struct ride_point *points = p->points;
    bool has_from = !isnan(p->heights_m[from]), has_to = !isnan(p->heights_m[to]);
    double length_m = points[to].distance_m - points[from].distance_m;
    double low = has_from ? p->heights_m[from] : p->heights_m[to];
    double rise = has_from && has_to ? p->heights_m[to] - low : 0.0;
    for (size_t i = from; i <= to; i++) {
        if (isnan(p->heights_m[i])) {
            p->heights_m[i] = low + rise * (points[i].distance_m - points[from].distance_m) / length_m;
        }
    }
    out->bridged_m += length_m > BRIDGED_LEAST_M ? length_m : 0.0;
}

/* Copies the heights without spikes and fills what is missing; false when none is known. */
static bool mend(struct ride_profile *out, struct piece *p) {
    size_t known = 0;
    for (size_t i = 0; i < p->n; i++) {
        p->heights_m[i] = p->points[i].height_m;
        if (!isnan(p->heights_m[i]) && is_spike(p, i)) {
            p->heights_m[i] = (double)NAN;
            out->spikes++;
        }
        known += isnan(p->heights_m[i]) ? 0 : 1;
    }
    size_t last = 0;
    for (size_t i = 1; i < p->n && known > 0; i++) {
        if (!isnan(p->heights_m[i]) || i == p->n - 1) {
            if (i > last + 1 || isnan(p->heights_m[last]) || isnan(p->heights_m[i])) {
                fill(out, p, last, i);
            }
            last = i;
        }
    }
    return known > 0;
}

/* --- evenly along the way ------------------------------------------------------------------------------------------ */

static size_t cells_of(double length_m) { return length_m > RIDE_CELL_M ? (size_t)(length_m / RIDE_CELL_M + 0.5) : 1; }

/* Heights at even distances: cells + 1 of them. */
static void set_out(double *even_m, size_t cells, const struct piece *p) {
    double start_m = p->points[0].distance_m, length_m = length_of(p);
    size_t at = 0;
    for (size_t i = 0; i <= cells; i++) {
        double here_m = start_m + length_m * (double)i / (double)cells;
        while (at + 2 < p->n && p->points[at + 1].distance_m < here_m) {
            at++;
        }
        const struct ride_point *a = &p->points[at], *b = a + 1;
        double share = fmin((here_m - a->distance_m) / (b->distance_m - a->distance_m), 1.0);
        even_m[i] = p->heights_m[at] + share * (p->heights_m[at + 1] - p->heights_m[at]);
    }
}

/* How far heights lie off the line through their neighbours, added up: sqrt(6) times the scatter of one height, were they
 * independent and the road straight. */
static void add_scatter(double *sum_m, size_t *count, const double *even_m, size_t n) {
    for (size_t i = 1; i + 1 < n; i++) {
        *sum_m += fmin(fabs(even_m[i - 1] - 2.0 * even_m[i] + even_m[i + 1]), SCATTER_MOST_M);
        ++*count;
    }
}

/* The line over which a slope is good enough for heights of this noise; standard error sqrt(12 / (n (n^2 - 1))) noise /
 * spacing for n of them. */
static double slope_length(double noise_m) {
    double length_m = RIDE_SLOPE_LEAST_M;
    for (; length_m < RIDE_SLOPE_MOST_M; length_m += 2.0 * RIDE_CELL_M) {
        double n = length_m / RIDE_CELL_M;
        if (sqrt(12.0 / (n * (n * n - 1.0))) * noise_m / RIDE_CELL_M <= SLOPE_ERROR) {
            break;
        }
    }
    return length_m;
}

/* The gradients of a piece's cells: of each the line through the heights around it, as many before as behind, fewer at
 * the ends. */
static void find_gradients(struct ride_profile *out, size_t first, size_t cells, double spacing_m,
                           const double *even_m) {
    size_t half = (size_t)(out->slope_m / spacing_m / 2.0 + 0.5);
    half = half > 0 ? half : 1;
    for (size_t i = 0; i < cells; i++) {
        size_t from = i + 1 > half ? i + 1 - half : 0, to = i + half < cells ? i + half : cells;
        double gradient = ride_slope_of(even_m + from, to - from + 1, spacing_m);
        if (fabs(gradient) > RIDE_GRADIENT_MOST) {
            gradient = copysign(RIDE_GRADIENT_MOST, gradient);
            out->clamped++;
        }
        out->cells[first + i] =
            (struct ride_cell){.length_m = spacing_m * sqrt(1.0 + gradient * gradient), .gradient = gradient};
    }
}

/* --- the whole route ----------------------------------------------------------------------------------------------- */

struct work {
    const struct ride_route *route;
    double *mended_m; /* of each point */
    double *even_m;   /* of each cell and one more a piece, behind each other */
    size_t *used;     /* cells of each piece; 0 where it was left out */
    size_t pieces;
};

/* The next piece from *at on; false behind the last. Pieces without a length are passed over. */
static bool next_piece(struct piece *out, size_t *at, const struct work *w) {
    while (*at < w->route->n) {
        size_t from = *at, to = from + 1;
        while (to < w->route->n && !w->route->points[to].after_break) {
            to++;
        }
        *at = to;
        *out = (struct piece){w->route->points + from, w->mended_m + from, to - from};
        if (out->n > 1) {
            return true;
        }
    }
    return false;
}

/* Room for every cell that there may be. BASE_NO_MEMORY. */
static enum base_status make_room(struct ride_profile *out, struct work *w, struct base_arena *arena,
                                  struct base_arena *scratch) {
    struct piece piece;
    size_t at = 0, most = 0, pieces = 0;
    w->mended_m = base_arena_alloc(scratch, w->route->n, sizeof(double));
    while (w->mended_m && next_piece(&piece, &at, w)) {
        most += cells_of(length_of(&piece)) + 1;
        pieces++;
    }
    w->even_m = base_arena_alloc(scratch, most, sizeof(double));
    w->used = base_arena_alloc(scratch, pieces, sizeof(size_t));
    out->cells = base_arena_alloc(arena, most, sizeof *out->cells);
    out->heights_m = base_arena_alloc(arena, most + 1, sizeof(double));
    return w->mended_m && w->even_m && w->used && out->cells && out->heights_m ? BASE_OK : BASE_NO_MEMORY;
}

/* Heights of each piece, evenly; how noisy they are. */
static void set_out_all(struct ride_profile *out, struct work *w) {
    struct piece piece;
    double scatter_m = 0.0, *even_m = w->even_m;
    size_t at = 0, count = 0;
    while (next_piece(&piece, &at, w)) {
        size_t cells = mend(out, &piece) ? cells_of(length_of(&piece)) : 0;
        w->used[w->pieces++] = cells;
        if (cells == 0) {
            out->unknown_m += length_of(&piece);
            continue;
        }
        set_out(even_m, cells, &piece);
        add_scatter(&scatter_m, &count, even_m, cells + 1);
        even_m += cells + 1;
    }
    out->noise_m = count > 0 ? scatter_m / (double)count / MEAN_OF_NORMAL / sqrt(6.0) : 0.0;
    out->slope_m = slope_length(out->noise_m);
    out->reversal_m = fmin(fmax(RIDE_REVERSAL_LEAST_M, REVERSAL_SCATTERS * out->noise_m), REVERSAL_MOST_M);
}

static void find_all_gradients(struct ride_profile *out, const struct work *w) {
    struct piece piece;
    const double *even_m = w->even_m;
    size_t at = 0;
    for (size_t i = 0; next_piece(&piece, &at, w); i++) {
        size_t cells = w->used[i];
        if (cells > 0) {
            find_gradients(out, out->n, cells, length_of(&piece) / (double)cells, even_m);
            out->n += cells;
            out->length_m += length_of(&piece);
            even_m += cells + 1;
        }
    }
}

static void add_up(struct ride_profile *out, double start_m) {
    out->heights_m[0] = start_m;
    for (size_t i = 0; i < out->n; i++) {
        out->heights_m[i + 1] = out->heights_m[i] + ride_cell_rise_m(&out->cells[i]);
    }
    ride_climb_of(&out->climb_m, &out->descent_m, out->heights_m, out->n + 1, out->reversal_m);
}

enum base_status ride_profile_of(struct ride_profile *out, struct base_arena *arena, const struct ride_route *route) {
    struct ride_profile profile = {0};
    struct work work = {.route = route};
    struct base_arena scratch;
    base_arena_init(&scratch, 0);
    enum base_status status = make_room(&profile, &work, arena, &scratch);
    if (status == BASE_OK) {
        set_out_all(&profile, &work);
        find_all_gradients(&profile, &work);
        status = profile.n > 0 ? BASE_OK : BASE_NO;
    }
    if (status == BASE_OK) {
        add_up(&profile, work.even_m[0]);
        *out = profile;
    }
    base_arena_clear(&scratch);
    return status;
}

/* --- stated climbs ------------------------------------------------------------------------------------------------- */

static size_t parts_of(const struct ride_cell *climb) { return (size_t)ceil(climb->length_m / RIDE_CELL_M); }

enum base_status ride_profile_of_climbs(struct ride_profile *out, struct base_arena *arena,
                                        const struct ride_cell *climbs, size_t n) {
    struct ride_profile profile = {0};
    size_t most = 0;
    for (size_t i = 0; i < n; i++) {
        most += parts_of(&climbs[i]);
    }
    profile.cells = base_arena_alloc(arena, most, sizeof *profile.cells);
    profile.heights_m = base_arena_alloc(arena, most + 1, sizeof(double));
    if (!profile.cells || !profile.heights_m) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < n; i++) {
        size_t parts = parts_of(&climbs[i]);
        for (size_t k = 0; k < parts; k++) {
            profile.cells[profile.n++] = (struct ride_cell){climbs[i].length_m / (double)parts, climbs[i].gradient};
        }
        double rise_m = ride_cell_rise_m(&climbs[i]);
        profile.length_m += sqrt(climbs[i].length_m * climbs[i].length_m - rise_m * rise_m);
    }
    add_up(&profile, 0.0);
    *out = profile;
    return BASE_OK;
}
