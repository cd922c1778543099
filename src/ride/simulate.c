/* SPDX-License-Identifier: Apache-2.0 */
#include "ride/simulate.h"

#include <math.h>
#include <string.h>

#define COAST_MPS 12.5
#define BRAKE_MPS (60.0 / 3.6)
#define WALK_MPS 1.0
#define CLIMB_GRADIENT 0.03
#define SPIN_LEAST_RPM 115.0
#define SPIN_OVER_BAND_RPM 15.0
#define WALK_LEAST_M 20.0 /* nobody gets on again for less */
#define BREAKS_DOWN 0.8   /* slower in the middle of a cell than this share of the speed before it */
#define ROUNDING_J 1e-6   /* what is left over of a cell that is coasted */
#define STEPS_MAX 100

struct ride_habits ride_habits_of(const struct ride_rider *rider) {
    double band_top = fmax(rider->flat.high_rpm, rider->climb.high_rpm);
    return (struct ride_habits){
        .power_w = rider->power_w.value,
        .flat = rider->flat,
        .climb = rider->climb,
        .least_rpm = rider->least_rpm.value,
        .spin_rpm = fmax(SPIN_LEAST_RPM, band_top + SPIN_OVER_BAND_RPM),
        .efficiency = rider->drive_efficiency.known == BASE_OPEN ? 1.0 : rider->drive_efficiency.value,
        .climb_gradient = CLIMB_GRADIENT,
        .coast_mps = COAST_MPS,
        .brake_mps = BRAKE_MPS,
        .walk_mps = WALK_MPS,
    };
}

const struct ride_band *ride_habits_band(const struct ride_habits *habits, double gradient) {
    return gradient >= habits->climb_gradient ? &habits->climb : &habits->flat;
}

/* --- one cell ------------------------------------------------------------------------------------------------------ */

/* Without wind the resistance is a parabola in the speed, of which only the first term knows the slope. */
struct resistance {
    double still_n, linear_n_s_m, square_n_s2_m2;
};

static double resists_n(const struct resistance *r, double speed_mps) {
    return r->still_n + (r->linear_n_s_m + r->square_n_s2_m2 * speed_mps) * speed_mps;
}

/* Three values tell a parabola. */
static struct resistance resistance_of(const struct ride_machine *machine) {
    const struct ride_road level = {0.0, 0.0};
    double at_0 = ride_load_force_n(machine, &level, 0.0), by_1 = ride_load_force_n(machine, &level, 1.0) - at_0,
           by_2 = ride_load_force_n(machine, &level, 2.0) - at_0;
    return (struct resistance){at_0, 2.0 * by_1 - by_2 / 2.0, by_2 / 2.0 - by_1};
}

/* The ride so far. */
struct rider_on_way {
    const struct ride_machine *machine;
    const struct ride_habits *habits;
    struct resistance resistance; /* of the cell in hand */
    double inert_kg;
    double speed_mps; /* at the end of the last cell */
    double over_mps;  /* and over it */
    bool on_foot;
    double foot_m; /* walked since the rider got off */
    struct ride_shifter shifter;
    bool has_gears;
    struct ride_run *run;
};

/* How a cell is passed: the speed over it, and at its end. */
struct passage {
    double over_mps, end_mps;
};

/* The one root above 0 of I (v^3 - v0^2 v) + F(v) v - P, which is convex there, so that Newton's steps from beyond it
 * come down to it. 0 where nothing drives any more. */
static double driven_speed(const struct rider_on_way *r, double inertia_kg_m, double wheel_w) {
    double cubic = inertia_kg_m + r->resistance.square_n_s2_m2, square = r->resistance.linear_n_s_m,
           linear = r->resistance.still_n - inertia_kg_m * r->speed_mps * r->speed_mps;
    if (wheel_w <= 0.0 && linear >= 0.0) {
        return 0.0;
    }
    /* Beyond the root: what either driving term alone would reach against the cubic one, added up. */
    double v = sqrt(fmax(-linear, 0.0) / cubic) + cbrt(fmax(wheel_w, 0.0) / cubic);
    for (int i = 0; i < STEPS_MAX; i++) {
        double value = ((cubic * v + square) * v + linear) * v - wheel_w;
        double step = value / ((3.0 * cubic * v + 2.0 * square) * v + linear);
        v -= step;
        if (fabs(step) <= 1e-12 * v) {
            break;
        }
    }
    return v;
}

/* A power at the wheel over a cell. The midpoint's energy lies half way between those of the ends. Where the speed settles
 * within the cell (slow on a steep slope) or breaks down, the midpoint would swing: there the speed is that of the end. */
static struct passage drive(const struct rider_on_way *r, double length_m, double wheel_w) {
    double v0 = r->speed_mps, middle = driven_speed(r, r->inert_kg / length_m, wheel_w);
    if (wheel_w * length_m < r->inert_kg * middle * middle * middle && middle > BREAKS_DOWN * v0) {
        return (struct passage){middle, sqrt(2.0 * middle * middle - v0 * v0)};
    }
    double end = driven_speed(r, 0.5 * r->inert_kg / length_m, wheel_w);
    return (struct passage){end, end};
}

/* To an end speed that the rider or the brakes see to. */
static struct passage hold(const struct rider_on_way *r, double end_mps) {
    return (struct passage){sqrt(0.5 * (r->speed_mps * r->speed_mps + end_mps * end_mps)), end_mps};
}

/* Passes the cell and books what it took. The rider or the brakes give what is missing. */
static double book(struct rider_on_way *r, const struct ride_cell *cell, struct passage way, double efficiency,
                   bool driven) {
    struct ride_energy *e = &r->run->energy;
    const struct ride_road road = {cell->gradient, 0.0};
    double time_s = cell->length_m / way.over_mps;
    struct ride_load load = ride_load_steady(r->machine, &road, way.over_mps);
    load.kinetic_w = ride_load_kinetic_w(r->machine, r->speed_mps, way.end_mps, time_s);
    double wheel_j = ride_load_total_w(&load) * time_s;
    e->air += load.air_w * time_s;
    e->rolling += load.rolling_w * time_s;
    e->bearings += load.bearings_w * time_s;
    e->gravity += load.gravity_w * time_s;
    e->kinetic += load.kinetic_w * time_s;
    if (driven && wheel_j > 0.0) {
        e->rider += wheel_j / efficiency;
        e->drive += wheel_j / efficiency - wheel_j;
    } else if (wheel_j < -ROUNDING_J) {
        e->brakes -= wheel_j;
    }
    r->speed_mps = way.end_mps;
    r->over_mps = way.over_mps;
    return time_s;
}

static double efficiency_of(const struct rider_on_way *r) {
    return r->has_gears ? r->shifter.gearing.gears[r->shifter.gear].efficiency : r->habits->efficiency;
}

/* Beyond this speed the rider no longer gives the whole power. */
static double ease_mps(const struct rider_on_way *r) {
    if (!r->has_gears) {
        return r->habits->coast_mps;
    }
    const struct ride_choice *highest = &r->shifter.gearing.gears[r->shifter.gearing.n - 1];
    return fmin(r->habits->coast_mps, r->habits->spin_rpm * highest->development_m / 60.0);
}

/* Rides a cell; whether it was pedalled. */
static bool ride_cell(struct rider_on_way *r, double *time_s, const struct ride_cell *cell) {
    double efficiency = efficiency_of(r), ease = ease_mps(r);
    struct passage driven = drive(r, cell->length_m, r->habits->power_w * efficiency);
    if (driven.end_mps <= ease) {
        *time_s = book(r, cell, driven, efficiency, true);
        return true;
    }
    struct passage free = drive(r, cell->length_m, 0.0);
    if (free.end_mps < ease) {
        *time_s = book(r, cell, hold(r, ease), efficiency, true);
        return true;
    }
    bool brakes = free.end_mps > r->habits->brake_mps;
    *time_s = book(r, cell, brakes ? hold(r, r->habits->brake_mps) : free, efficiency, false);
    return false;
}

/* --- on foot ------------------------------------------------------------------------------------------------------- */

/* The slowest speed that can be ridden: the least cadence in the lowest gear. */
static double least_mps(const struct rider_on_way *r) {
    return r->habits->least_rpm * r->shifter.gearing.gears[0].development_m / 60.0;
}

static bool power_holds(const struct rider_on_way *r, double speed_mps) {
    double wheel_w = r->habits->power_w * r->shifter.gearing.gears[0].efficiency;
    return resists_n(&r->resistance, speed_mps) * speed_mps <= wheel_w;
}

/* Gets off, or on again, before a cell. */
static void mount(struct rider_on_way *r) {
    if (!r->has_gears) {
        return;
    }
    bool holds = power_holds(r, least_mps(r));
    if (!r->on_foot && !holds && r->speed_mps < least_mps(r)) {
        r->on_foot = true;
        r->foot_m = 0.0;
    } else if (r->on_foot && holds && r->foot_m >= WALK_LEAST_M) {
        r->on_foot = false;
        r->shifter.gear = 0;
    }
}

/* --- the whole way ------------------------------------------------------------------------------------------------- */

static enum ride_mode mode_of(const struct rider_on_way *r, const struct ride_band *band) {
    const struct ride_gearing *gearing = &r->shifter.gearing;
    if (!r->has_gears || ride_gearing_serves(*gearing, band, r->over_mps)) {
        return RIDE_MODE_IN_BAND;
    }
    return ride_gear_rpm(&gearing->gears[r->shifter.gear], r->over_mps) < band->low_rpm ? RIDE_MODE_BELOW
                                                                                        : RIDE_MODE_ABOVE;
}

/* What a pedalled cell adds to its gear; then the rider may shift. */
static void pedal(struct rider_on_way *r, struct ride_moment *moment, const struct ride_cell *cell, double time_s) {
    const struct ride_band *band = ride_habits_band(r->habits, cell->gradient);
    if (!r->has_gears) {
        return;
    }
    size_t gear = r->shifter.gear;
    double rpm = ride_gear_rpm(&r->shifter.gearing.gears[gear], r->over_mps);
    r->run->gear_s[gear] += time_s;
    r->run->gear_m[gear] += cell->length_m;
    r->run->gear_climb_m[gear] += cell->gradient >= r->habits->climb_gradient ? cell->length_m : 0.0;
    r->run->slowest_rpm = r->run->slowest_rpm > 0.0 ? fmin(r->run->slowest_rpm, rpm) : rpm;
    moment->rpm = (float)rpm;
    ride_shifter_pedal(&r->shifter, band, r->over_mps, time_s);
}

static void go(struct rider_on_way *r, struct ride_moment *moment, const struct ride_cell *cell) {
    const struct ride_road road = {cell->gradient, 0.0};
    enum ride_mode mode;
    double time_s;
    r->resistance.still_n = ride_load_force_n(r->machine, &road, 0.0);
    mount(r);
    *moment = (struct ride_moment){.gear = (uint8_t)r->shifter.gear};
    if (r->on_foot) {
        time_s = book(r, cell, (struct passage){r->habits->walk_mps, r->habits->walk_mps}, 1.0, true);
        r->foot_m += cell->length_m;
        mode = RIDE_MODE_WALKED;
    } else if (ride_cell(r, &time_s, cell)) {
        mode = mode_of(r, ride_habits_band(r->habits, cell->gradient));
        pedal(r, moment, cell, time_s);
    } else {
        mode = RIDE_MODE_COASTING;
    }
    moment->speed_mps = (float)r->over_mps;
    moment->time_s = (float)time_s;
    moment->mode = (uint8_t)mode;
    r->run->distance_m += cell->length_m;
    r->run->time_s += time_s;
    r->run->mode_s[mode] += time_s;
    r->run->mode_m[mode] += cell->length_m;
    r->run->fastest_mps = fmax(r->run->fastest_mps, r->speed_mps);
}

static enum base_status make_room(struct ride_run *run, struct base_arena *arena, size_t gears, size_t cells) {
    run->moments = base_arena_alloc(arena, cells, sizeof *run->moments);
    if (gears > 0) {
        run->gear_s = base_arena_alloc(arena, gears, sizeof(double));
        run->gear_m = base_arena_alloc(arena, gears, sizeof(double));
        run->gear_climb_m = base_arena_alloc(arena, gears, sizeof(double));
    }
    return run->moments && (gears == 0 || (run->gear_s && run->gear_m && run->gear_climb_m)) ? BASE_OK : BASE_NO_MEMORY;
}

/* At the speed that the power holds on the first cell, or as fast as it is ridden; in the gear for it. */
static enum base_status begin(struct rider_on_way *r, struct ride_gearing gearing, const struct ride_cell *first) {
    const struct ride_road road = {first->gradient, 0.0};
    r->has_gears = gearing.n > 0;
    r->shifter = (struct ride_shifter){.gearing = gearing, .widest = 1.0};
    enum base_status status =
        ride_load_speed_mps(&r->speed_mps, r->machine, &road, r->habits->power_w * efficiency_of(r));
    if (status == BASE_OK) {
        r->speed_mps = fmin(r->speed_mps, ease_mps(r));
        if (r->has_gears) {
            ride_shifter_init(&r->shifter, gearing, ride_habits_band(r->habits, first->gradient), r->speed_mps);
        }
    }
    return status;
}

enum base_status ride_simulate(struct ride_run *out, struct base_arena *arena, const struct ride_machine *machine,
                               const struct ride_habits *habits, struct ride_gearing gearing,
                               const struct ride_cell *cells, size_t n) {
    struct ride_run run = {0};
    struct rider_on_way rider = {.machine = machine,
                                 .habits = habits,
                                 .resistance = resistance_of(machine),
                                 .inert_kg = ride_load_inert_mass_kg(machine),
                                 .run = &run};
    enum base_status status = n > 0 && gearing.n <= UINT8_MAX ? begin(&rider, gearing, &cells[0]) : BASE_BAD_INPUT;
    if (status == BASE_OK) {
        status = make_room(&run, arena, gearing.n, n);
    }
    if (status != BASE_OK) {
        return status;
    }
    for (size_t i = 0; i < n; i++) {
        go(&rider, &run.moments[i], &cells[i]);
    }
    run.rear_shifts = rider.shifter.rear;
    run.front_shifts = rider.shifter.front;
    run.widest_step = rider.shifter.widest;
    *out = run;
    return BASE_OK;
}
