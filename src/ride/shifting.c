/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/shifting.h"

#include <math.h>

#define FAR_OUTSIDE 1.25 /* so many times past the band's end: nobody waits */
#define RING_GAIN 1.05   /* what another ring must bring nearer where nothing is in the band */

double ride_gear_rpm(const struct ride_choice *gear, double speed_mps) {
    return 60.0 * speed_mps / gear->development_m;
}

/* How many times a cadence lies past the nearer end of the band: 1 within it. */
static double times_outside(const struct ride_band *band, double rpm) {
    return rpm < band->low_rpm ? band->low_rpm / rpm : rpm > band->high_rpm ? rpm / band->high_rpm : 1.0;
}

/* The better of two gears is nearer the band; of two in the band, nearer its middle. */
static bool is_better(const struct ride_band *band, double rpm, double than_rpm) {
    double outside = times_outside(band, rpm), than = times_outside(band, than_rpm);
    double middle = log(band->low_rpm * band->high_rpm) / 2.0;
    return outside < than || (outside <= than && fabs(log(rpm) - middle) < fabs(log(than_rpm) - middle));
}

/* The best gear on a ring, or on any when ring is the number of gears. */
static size_t best_on(const struct ride_shifter *s, const struct ride_band *band, double speed_mps, unsigned ring,
                      bool any) {
    size_t best = s->gearing.n;
    for (size_t i = 0; i < s->gearing.n; i++) {
        const struct ride_choice *gears = s->gearing.gears;
        if ((any || gears[i].ring == ring) &&
            (best == s->gearing.n ||
             is_better(band, ride_gear_rpm(&gears[i], speed_mps), ride_gear_rpm(&gears[best], speed_mps)))) {
            best = i;
        }
    }
    return best;
}

static size_t apart(unsigned a, unsigned b) { return a > b ? a - b : b - a; }

static void shift_to(struct ride_shifter *s, size_t gear) {
    const struct ride_choice *from = &s->gearing.gears[s->gear], *to = &s->gearing.gears[gear];
    double ratio = to->development_m / from->development_m;
    s->rear += apart(from->sprocket, to->sprocket);
    s->front += apart(from->ring, to->ring);
    s->widest = fmax(s->widest, fmax(ratio, 1.0 / ratio));
    s->gear = gear;
    s->outside_s = 0.0;
}

void ride_shifter_init(struct ride_shifter *out, struct ride_gearing gearing, const struct ride_band *band,
                       double speed_mps) {
    *out = (struct ride_shifter){.gearing = gearing, .widest = 1.0};
    out->gear = best_on(out, band, speed_mps, 0, true);
}

void ride_shifter_pedal(struct ride_shifter *shifter, const struct ride_band *band, double speed_mps,
                        double duration_s) {
    const struct ride_choice *gears = shifter->gearing.gears;
    double outside = times_outside(band, ride_gear_rpm(&gears[shifter->gear], speed_mps));
    if (outside <= 1.0) {
        shifter->outside_s = 0.0;
        return;
    }
    shifter->outside_s += duration_s;
    if (shifter->outside_s < RIDE_BLIP_S && outside < FAR_OUTSIDE) {
        return;
    }
    size_t near = best_on(shifter, band, speed_mps, gears[shifter->gear].ring, false);
    size_t best = best_on(shifter, band, speed_mps, 0, true);
    double near_outside = times_outside(band, ride_gear_rpm(&gears[near], speed_mps));
    double best_outside = times_outside(band, ride_gear_rpm(&gears[best], speed_mps));
    bool ring_pays = near_outside > 1.0 && (best_outside <= 1.0 || near_outside > RING_GAIN * best_outside);
    shift_to(shifter, ring_pays ? best : near);
}

bool ride_gearing_serves(struct ride_gearing gearing, const struct ride_band *band, double speed_mps) {
    for (size_t i = 0; i < gearing.n; i++) {
        if (times_outside(band, ride_gear_rpm(&gearing.gears[i], speed_mps)) <= 1.0) {
            return true;
        }
    }
    return false;
}
