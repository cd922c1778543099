/* SPDX-License-Identifier: Apache-2.0 */
#include "app/climb.h"

#include "ride/statics.h"

#include <math.h>
#include <string.h>

#define PERCENT 100.0

static double limit(enum trade_limit id) { return trade_limits[id].value; }

/* --- the gears as the bike has them -------------------------------------------------------------------------------- */

/* The chain's angle in a gear; NAN where the chain line is open. */
static double angle_of(const struct app_line *line, int ring, int sprocket) {
    for (size_t i = 0; i < line->n_angles; i++) {
        if (line->angles[i].ring == ring && line->angles[i].sprocket == sprocket) {
            return line->angles[i].angle_deg;
        }
    }
    return NAN;
}

static enum base_status list_gears(struct app_climb *out, struct app_gears *gears, struct base_arena *arena,
                                   const struct trade_bike *bike, const struct fit_build *build) {
    struct app_line *line = base_arena_alloc(arena, 1, sizeof *line);
    enum base_status status = line ? app_gears_of(gears, arena, bike, build) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        status = app_line_of(line, arena, bike, build);
    }
    if (status == BASE_OK && gears->n > 0) {
        out->gears = base_arena_alloc(arena, gears->n, sizeof *out->gears);
        status = out->gears ? BASE_OK : BASE_NO_MEMORY;
    }
    if (status != BASE_OK) {
        return status;
    }
    out->open = gears->open;
    out->n = gears->n;
    out->has_cadences = gears->n > 0 && !isnan(gears->lowest_m);
    for (size_t i = 0; i < out->n; i++) {
        const struct mech_gear *gear = &gears->gears[i];
        out->gears[i].gear = (struct ride_gear){gear->ring, gear->sprocket, gears->development_m[i],
                                                angle_of(line, gear->ring, gear->sprocket)};
        out->largest_sprocket = gear->sprocket > out->largest_sprocket ? gear->sprocket : out->largest_sprocket;
    }
    return BASE_OK;
}

/* --- the hill ------------------------------------------------------------------------------------------------------ */

/* Every gear on the hill, and which one is taken. */
static enum base_status ride_gears(struct app_climb *out, struct base_arena *arena, const struct ride_machine *machine,
                                   const struct ride_road *road, const struct ride_drive *drive) {
    struct ride_in_gear *in = base_arena_alloc(arena, out->n, sizeof *in);
    enum base_status status = in ? BASE_OK : BASE_NO_MEMORY;
    for (size_t i = 0; i < out->n && status == BASE_OK; i++) {
        status =
            ride_climb_in_gear(&in[i], machine, road, out->rider.power_w.value, drive, &out->gears[i].gear, &out->band);
        out->gears[i].in = in[i];
        out->gears[i].walked = in[i].cadence_rpm < out->rider.least_rpm.value;
    }
    if (status == BASE_OK) {
        out->taken = ride_climb_choose(in, out->n, &out->band);
        out->speed_mps = in[out->taken].speed_mps;
    }
    return status;
}

/* Without gears: what a drive usually hands on. */
static enum base_status ride_without_gears(struct app_climb *out, const struct ride_machine *machine,
                                           const struct ride_road *road, const struct ride_drive *drive) {
    double efficiency = isnan(drive->efficiency) ? limit(TRADE_LIMIT_DRIVE_EFFICIENCY_RATIO) : drive->efficiency;
    return ride_load_speed_mps(&out->speed_mps, machine, road, efficiency * out->rider.power_w.value);
}

static enum base_status ride_hill(struct app_climb *out, struct base_arena *arena, const struct trade_bike *bike) {
    enum base_known known;
    const struct ride_machine machine = ride_rider_machine(&out->rider, &known);
    const struct ride_road road = {.gradient = out->gradient_percent / PERCENT};
    const struct ride_drive drive = app_drive_of(&out->rider, bike);
    enum base_status status = out->has_cadences ? ride_gears(out, arena, &machine, &road, &drive)
                                                : ride_without_gears(out, &machine, &road, &drive);
    if (status != BASE_OK) {
        return status;
    }
    out->load = ride_load_steady(&machine, &road, out->speed_mps);
    out->drive_loss_w = out->rider.power_w.value - ride_load_total_w(&out->load);
    out->needed_m = ride_climb_development_m(out->speed_mps, out->cadence_rpm);
    /* The losses of a chain are reckoned from usual friction. */
    enum base_known of_drive = isnan(drive.efficiency) ? BASE_ASSUMED : out->rider.drive_efficiency.known;
    out->known = base_weakest(base_weakest(known, out->rider.power_w.known), of_drive);
    return BASE_OK;
}

/* --- limits that no gear changes ----------------------------------------------------------------------------------- */

static void set_limits(struct app_climb *out, const struct trade_bike *bike) {
    const struct ride_stance stance = {out->rider.com_forward_mm.value, out->rider.com_height_mm.value,
                                       trade_get_number(&bike->frame, TRADE_FRAME_WHEELBASE_MM)};
    double peak = limit(TRADE_LIMIT_PEDAL_PEAK_RATIO), gradient;
    if (ride_statics_lift(&gradient, &stance, peak) == BASE_OK) {
        out->lift_percent = PERCENT * gradient;
    }
    enum base_status slips = ride_statics_slip(&gradient, &stance, out->rider.grip.value, peak);
    out->slip_percent = slips == BASE_OK ? PERCENT * gradient : NAN;
    out->never_slips = slips == BASE_NO;
    if (isnan(stance.forward_mm)) {
        app_wait_for(&out->limits_open, FIT_BIKE, TRADE_RIDER_COM_FORWARD_MM);
    }
    if (isnan(stance.height_mm)) {
        app_wait_for(&out->limits_open, FIT_BIKE, TRADE_RIDER_COM_HEIGHT_MM);
    }
    if (isnan(stance.wheelbase_mm)) {
        app_wait_for(&out->limits_open, FIT_FRAME, TRADE_FRAME_WHEELBASE_MM);
    }
}

/* --- the other way round: which ring ------------------------------------------------------------------------------- */

static struct app_climb_ring ring_alone(const struct app_climb *climb, int ring, double rolling_mm,
                                        int smallest_sprocket, double highest_now_m) {
    struct app_climb_ring alone = {.ring = ring};
    alone.lowest_m = mech_gear_development_m(mech_gear_ratio(ring, climb->largest_sprocket), rolling_mm);
    alone.highest_m = mech_gear_development_m(mech_gear_ratio(ring, smallest_sprocket), rolling_mm);
    alone.cadence_rpm = ride_climb_cadence_rpm(climb->speed_mps, alone.lowest_m);
    alone.serves = ring <= climb->largest_ring;
    alone.top_kmh = mech_gear_speed_kmh(alone.highest_m, climb->rider.flat.high_rpm);
    alone.than_now_percent = mech_gear_step_percent(highest_now_m, alone.highest_m);
    return alone;
}

/* Even rings, as most are made, about the largest one that serves: two that do not, and four that do. */
static void list_rings(struct app_climb *out, const struct app_gears *gears, double rolling_mm) {
    const int least = (int)limit(TRADE_LIMIT_RING_LEAST_TEETH), most = (int)limit(TRADE_LIMIT_RING_MOST_TEETH),
              step = (int)limit(TRADE_LIMIT_RING_STEP_TEETH);
    int smallest = out->largest_sprocket;
    for (size_t i = 0; i < out->n; i++) {
        smallest = out->gears[i].gear.sprocket < smallest ? out->gears[i].gear.sprocket : smallest;
    }
    double teeth = out->needed_m * 1000.0 * out->largest_sprocket / rolling_mm;
    out->largest_ring = teeth < least ? 0 : teeth > most ? most : (int)floor(teeth + 1e-9);
    int even = out->largest_ring - out->largest_ring % step;
    int first = (out->largest_ring > 0 ? even : least - step) + 2 * step;
    for (int ring = first; out->n_rings < APP_CLIMB_RINGS && ring >= least; ring -= step) {
        if (ring <= most) {
            out->rings[out->n_rings++] = ring_alone(out, ring, rolling_mm, smallest, gears->highest_m);
        }
    }
}

/* --- the whole ----------------------------------------------------------------------------------------------------- */

enum base_status app_climb_of(struct app_climb *out, struct base_arena *arena, const struct trade_bike *bike,
                              const struct fit_build *build, double gradient_percent, double cadence_rpm) {
    struct app_gears gears;
    memset(out, 0, sizeof *out);
    out->gradient_percent = gradient_percent;
    out->length_m = out->pedal_force_n = out->lift_percent = out->slip_percent = NAN;
    out->power_from = app_rider_of(&out->rider, bike);
    out->band = out->rider.climb;
    out->cadence_rpm = isnan(cadence_rpm) ? out->band.low_rpm : cadence_rpm;
    enum base_status status = list_gears(out, &gears, arena, bike, build);
    if (status == BASE_OK) {
        status = ride_hill(out, arena, bike);
    }
    if (status != BASE_OK) {
        return status;
    }
    set_limits(out, bike);
    if (out->has_cadences) {
        out->known = base_weakest(out->known, gears.known);
        list_rings(out, &gears, trade_get_number(&bike->wheel, TRADE_WHEEL_ROLLING_MM));
        if (!isnan(out->rider.crank_mm.value)) {
            out->pedal_force_n = ride_statics_pedal_force_n(
                out->rider.power_w.value, out->gears[out->taken].in.cadence_rpm, out->rider.crank_mm.value);
        }
    }
    return BASE_OK;
}

enum base_status app_climb_bound(struct trade_wish *wish, const struct trade_bike *bike) {
    struct base_arena arena;
    struct fit_build now;
    enum base_status status = BASE_OK;
    base_arena_init(&arena, 0);
    fit_build_now(&now, bike);
    for (size_t i = 0; i < wish->n_climbs && status == BASE_OK; i++) {
        struct trade_climb *wished = &wish->climbs[i];
        struct app_climb *climb = base_arena_alloc(&arena, 1, sizeof *climb);
        status = climb ? app_climb_of(climb, &arena, bike, &now, wished->gradient_percent, wished->cadence_rpm)
                       : BASE_NO_MEMORY;
        if (status == BASE_OK) {
            wished->cadence_rpm = climb->cadence_rpm;
            wished->lowest_m_max = climb->needed_m;
            wished->known = base_weakest(climb->known, climb->band.known);
            wish->lowest_m_max = fmin(wish->lowest_m_max, climb->needed_m); /* fmin passes over NAN */
        }
    }
    base_arena_clear(&arena);
    return status;
}
