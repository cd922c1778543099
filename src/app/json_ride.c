/* SPDX-License-Identifier: Apache-2.0 */
#include "app/json_parts.h"
#include "app/ride.h"

#include <math.h>

static const char *const modes[RIDE_MODES] = {[RIDE_MODE_IN_BAND] = "in_band",
                                              [RIDE_MODE_BELOW] = "below",
                                              [RIDE_MODE_ABOVE] = "above",
                                              [RIDE_MODE_COASTING] = "coasting",
                                              [RIDE_MODE_WALKED] = "walked"};

static void key_energy(struct format_out *out, const struct ride_energy *e) {
    format_out_key(out, "energy_j");
    format_out_object(out);
    app_json_key_number(out, "rider", e->rider);
    app_json_key_number(out, "air", e->air);
    app_json_key_number(out, "rolling", e->rolling);
    app_json_key_number(out, "bearings", e->bearings);
    app_json_key_number(out, "gravity", e->gravity);
    app_json_key_number(out, "kinetic", e->kinetic);
    app_json_key_number(out, "drive", e->drive);
    app_json_key_number(out, "brakes", e->brakes);
    format_out_object_end(out);
}

/* Of each mode; null where no gears are known to tell. */
static void key_modes(struct format_out *out, const char *key, const double *values, double of, bool known) {
    format_out_key(out, key);
    if (!known) {
        format_out_null(out);
        return;
    }
    format_out_object(out);
    for (unsigned i = 0; i < RIDE_MODES; i++) {
        app_json_key_number(out, modes[i], values[i] / of);
    }
    format_out_object_end(out);
}

static void key_shifts(struct format_out *out, const struct app_ride_bike *bike) {
    format_out_key(out, "shifts");
    if (bike->n == 0) {
        format_out_null(out);
        return;
    }
    format_out_object(out);
    app_json_key_int(out, "rear", (int64_t)bike->run.rear_shifts);
    app_json_key_int(out, "front", (int64_t)bike->run.front_shifts);
    format_out_object_end(out);
}

static void key_gears(struct format_out *out, const struct app_ride_bike *bike) {
    format_out_key(out, "gears");
    format_out_array(out);
    for (size_t i = 0; i < bike->n; i++) {
        format_out_object(out);
        app_json_key_int(out, "ring", bike->gears[i].ring);
        app_json_key_int(out, "sprocket", bike->gears[i].sprocket);
        app_json_key_number(out, "development_m", bike->choices[i].development_m);
        app_json_key_number(out, "efficiency", bike->choices[i].efficiency);
        app_json_key_number(out, "time_s", bike->run.gear_s[i]);
        app_json_key_number(out, "time_share", bike->run.gear_s[i] / bike->run.time_s);
        app_json_key_number(out, "distance_m", bike->run.gear_m[i]);
        app_json_key_number(out, "climbing_m", bike->run.gear_climb_m[i]);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

/* What one bike makes of the route, into the object that is open. */
static void put_run(struct format_out *out, const struct app_ride_bike *bike) {
    const struct ride_run *run = &bike->run;
    bool known = bike->n > 0;
    app_json_key_number(out, "time_s", run->time_s);
    key_energy(out, &run->energy);
    key_modes(out, "time_share", run->mode_s, run->time_s, known);
    key_modes(out, "distance_share", run->mode_m, run->distance_m, known);
    key_shifts(out, bike);
    app_json_key_number(out, "widest_step_percent", known ? 100.0 * (run->widest_step - 1.0) : (double)NAN);
    app_json_key_number(out, "slowest_cadence_rpm", known && run->slowest_rpm > 0.0 ? run->slowest_rpm : (double)NAN);
    app_json_key_number(out, "fastest_mps", run->fastest_mps);
    key_gears(out, bike);
}

static void key_pitches(struct format_out *out, const struct app_ride *ride) {
    format_out_key(out, "pitches");
    format_out_array(out);
    for (size_t i = 0; i < ride->n_pitches; i++) {
        format_out_object(out);
        app_json_key_number(out, "from_m", ride->pitches[i].from_m);
        app_json_key_number(out, "length_m", ride->pitches[i].length_m);
        app_json_key_number(out, "gradient_percent", 100.0 * ride->pitches[i].gradient);
        format_out_key(out, "cadence_rpm");
        format_out_array(out);
        for (size_t b = 0; b < ride->n_bikes; b++) {
            double rpm = ride->bikes[b].pitches[i].rpm;
            format_out_double(out, rpm > 0.0 ? rpm : (double)NAN);
        }
        format_out_array_end(out);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void key_score(struct format_out *out, const struct ride_score *score) {
    app_json_key_number(out, "in_band", score->in_band);
    app_json_key_number(out, "below", score->below);
    app_json_key_number(out, "above", score->above);
    app_json_key_number(out, "between", score->between);
    app_json_key_number(out, "coasting", score->coasting);
    app_json_key_number(out, "walked", score->walked);
    app_json_key_number(out, "walked_m", score->walked_m);
}

/* Every way that nothing beats, in the order of the plan. */
static void key_front(struct format_out *out, const struct app_ride *ride) {
    format_out_key(out, "front");
    format_out_array(out);
    for (size_t i = 0; i < ride->n_front; i++) {
        const struct app_ride_scored *scored = &ride->front[i];
        format_out_object(out);
        app_json_key_int(out, "cost", scored->way->values.cost_minor);
        app_json_key_number(out, "lowest_m", scored->lowest_m);
        app_json_key_number(out, "highest_m", scored->highest_m);
        key_score(out, &scored->score);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void key_rings(struct format_out *out, const struct app_ride *ride) {
    format_out_key(out, "rings");
    format_out_array(out);
    for (size_t i = 0; i < ride->n_rings; i++) {
        const struct app_ride_ring *ring = &ride->rings[i];
        format_out_object(out);
        app_json_key_int(out, "ring", ring->ring);
        app_json_key_number(out, "lowest_m", ring->lowest_m);
        app_json_key_number(out, "highest_m", ring->highest_m);
        key_score(out, &ring->score);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void key_left_out(struct format_out *out, const struct app_ride *ride) {
    const struct ride_route *route = ride->route;
    format_out_key(out, "left_out");
    format_out_object(out);
    app_json_key_int(out, "breaks", (int64_t)route->breaks);
    app_json_key_number(out, "breaks_m", route->breaks_m);
    app_json_key_number(out, "without_heights_m", ride->road->profile.unknown_m);
    app_json_key_number(out, "bridged_heights_m", ride->road->profile.bridged_m);
    app_json_key_int(out, "height_spikes", (int64_t)(ride->road->profile.spikes + route->heights_wild));
    app_json_key_int(out, "positions_astray", (int64_t)route->astray);
    app_json_key_int(out, "points_standing", (int64_t)route->standing);
    app_json_key_int(out, "times_back", (int64_t)route->times_back);
    format_out_object_end(out);
}

/* A way of the plan by its letter and the ids of its parts. */
static void key_ways(struct format_out *out, const struct app_ride *ride) {
    format_out_key(out, "ways");
    format_out_array(out);
    for (size_t i = 1; i < ride->n_bikes; i++) {
        const struct app_ride_bike *bike = &ride->bikes[i];
        const char letter[] = {bike->letter, '\0'};
        format_out_object(out);
        app_json_key_text(out, "letter", letter);
        app_json_build_parts(out, &bike->way->build);
        app_json_key_number(out, "longer_s", -bike->saved_s);
        app_json_key_number(out, "longer_downhill_s", bike->down_lost_s);
        put_run(out, bike);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

static void key_rider(struct format_out *out, const struct app_ride *ride) {
    enum base_known known;
    const struct ride_machine machine = ride_rider_machine(&ride->road->rider, &known);
    format_out_key(out, "rider");
    format_out_object(out);
    app_json_key_number(out, "power_w", ride->road->habits.power_w);
    app_json_key_number(out, "mass_kg", machine.mass_kg);
    format_out_key(out, "cadence_rpm");
    format_out_array(out);
    format_out_double(out, ride->road->habits.flat.low_rpm);
    format_out_double(out, ride->road->habits.flat.high_rpm);
    format_out_array_end(out);
    app_json_key_number(out, "least_cadence_rpm", ride->road->habits.least_rpm);
    app_json_key_number(out, "coasts_from_mps", ride->road->habits.coast_mps);
    app_json_key_number(out, "brakes_at_mps", ride->road->habits.brake_mps);
    app_json_key_number(out, "walks_at_mps", ride->road->habits.walk_mps);
    format_out_object_end(out);
}

void app_json_ride(struct base_buffer *buffer, const struct app_ride *ride) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_number(&out, "distance_m", ride->road->profile.length_m);
    app_json_key_number(&out, "climb_m", ride->road->profile.climb_m);
    app_json_key_number(&out, "descent_m", ride->road->profile.descent_m);
    put_run(&out, &ride->bikes[0]);
    app_json_key_number(&out, "steepest_percent", 100.0 * ride->steepest);
    bool stated = ride->n_stated > 0;
    app_json_key_number(&out, "gradient_over_m", stated ? (double)NAN : ride->road->profile.slope_m);
    app_json_key_number(&out, "climb_from_m", stated ? (double)NAN : ride->road->profile.reversal_m);
    app_json_key_number(&out, "height_noise_m", stated ? (double)NAN : ride->road->profile.noise_m);
    app_json_key_number(&out, "needed_development_m", ride->needed_m);
    app_json_key_number(&out, "highest_development_m", ride->highest_m);
    key_pitches(&out, ride);
    key_rings(&out, ride);
    key_ways(&out, ride);
    key_front(&out, ride);
    key_rider(&out, ride);
    key_left_out(&out, ride);
    app_json_key_text(&out, "known", app_json_known(ride->road->known));
    format_out_key(&out, "open");
    format_out_array(&out);
    for (size_t i = 0; i < ride->open.n; i++) {
        app_json_path(&out, ride->open.at[i].subject, ride->open.at[i].property);
    }
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}
