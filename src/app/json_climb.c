/* SPDX-License-Identifier: Apache-2.0 */
#include "app/climb.h"

#include "app/json_parts.h"

#include <math.h>

static const char *const state_names[] = {[RIDE_BELOW] = "below", [RIDE_IN_BAND] = "in_band", [RIDE_ABOVE] = "above"};
static const char *const power_names[] = {[APP_POWER_GIVEN] = "given",
                                          [APP_POWER_CLIMB] = "known_climb",
                                          [APP_POWER_PER_KG] = "power_w_per_kg",
                                          [APP_POWER_TRAINING] = "training"};

static void put_power(struct format_out *out, const struct ride_load *load) {
    format_out_key(out, "wheel_power_w");
    format_out_object(out);
    app_json_key_number(out, "air", load->air_w);
    app_json_key_number(out, "rolling", load->rolling_w);
    app_json_key_number(out, "bearings", load->bearings_w);
    app_json_key_number(out, "gravity", load->gravity_w);
    format_out_object_end(out);
}

/* Watts that the drive loses in a gear: each where the chain's losses are reckoned, else the whole alone. */
static void put_losses(struct format_out *out, const struct ride_in_gear *in, double power_w, bool is_fixed) {
    app_json_key_number(out, "drive_loss_w", power_w * (1.0 - in->efficiency));
    format_out_key(out, "losses_w");
    if (is_fixed) {
        format_out_null(out);
        return;
    }
    format_out_object(out);
    app_json_key_number(out, "ring_and_sprocket", power_w * in->loss.seating);
    app_json_key_number(out, "derailleur_wheels", power_w * in->loss.wheels);
    app_json_key_number(out, "chain_angle", power_w * in->loss.crooked);
    format_out_object_end(out);
}

static void put_in_gear(struct format_out *out, const struct app_climb *climb, const struct app_climb_gear *gear) {
    app_json_key_number(out, "cadence_rpm", gear->in.cadence_rpm);
    app_json_key_text(out, "state", state_names[gear->in.state]);
    app_json_key_bool(out, "walked", gear->walked);
    app_json_key_number(out, "speed_mps", gear->in.speed_mps);
    app_json_key_number(out, "efficiency", gear->in.efficiency);
    put_losses(out, &gear->in, climb->rider.power_w.value, climb->rider.drive_efficiency.known != BASE_OPEN);
}

static void put_no_cadence(struct format_out *out) {
    static const char *const keys[] = {"cadence_rpm", "state",        "walked",  "speed_mps",
                                       "efficiency",  "drive_loss_w", "losses_w"};
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        format_out_key(out, keys[i]);
        format_out_null(out);
    }
}

static void put_gears(struct format_out *out, const struct app_climb *climb) {
    format_out_key(out, "gears");
    format_out_array(out);
    for (size_t i = 0; i < climb->n; i++) {
        const struct app_climb_gear *gear = &climb->gears[i];
        format_out_object(out);
        app_json_key_int(out, "ring", gear->gear.ring);
        app_json_key_int(out, "sprocket", gear->gear.sprocket);
        app_json_key_number(out, "development_m", gear->gear.development_m);
        if (climb->has_cadences) {
            put_in_gear(out, climb, gear);
        } else {
            put_no_cadence(out);
        }
        format_out_object_end(out);
    }
    format_out_array_end(out);
    format_out_key(out, "taken");
    if (climb->has_cadences) {
        format_out_int(out, (int64_t)climb->taken);
    } else {
        format_out_null(out);
    }
}

static void put_rings(struct format_out *out, const struct app_climb *climb) {
    format_out_key(out, "largest_ring");
    if (climb->largest_ring > 0) {
        format_out_int(out, climb->largest_ring);
    } else {
        format_out_null(out);
    }
    format_out_key(out, "rings");
    format_out_array(out);
    for (size_t i = 0; i < climb->n_rings; i++) {
        const struct app_climb_ring *ring = &climb->rings[i];
        format_out_object(out);
        app_json_key_int(out, "ring", ring->ring);
        app_json_key_bool(out, "serves", ring->serves);
        app_json_key_number(out, "lowest_m", ring->lowest_m);
        app_json_key_number(out, "cadence_rpm", ring->cadence_rpm);
        app_json_key_number(out, "highest_m", ring->highest_m);
        app_json_key_number(out, "top_km_h", ring->top_kmh);
        app_json_key_number(out, "than_now_percent", ring->than_now_percent);
        format_out_object_end(out);
    }
    format_out_array_end(out);
}

/* Under a key, a figure that the answer rests on and how it is known. */
static void put_figure(struct format_out *out, const char *key, struct ride_figure figure) {
    format_out_key(out, key);
    format_out_object(out);
    app_json_key_number(out, "value", figure.known == BASE_OPEN ? (double)NAN : figure.value);
    app_json_key_text(out, "known", app_json_known(figure.known));
    format_out_object_end(out);
}

static void put_band(struct format_out *out, const char *key, const struct ride_band *band) {
    format_out_key(out, key);
    format_out_object(out);
    format_out_key(out, "value");
    format_out_array(out);
    format_out_double(out, band->low_rpm);
    format_out_double(out, band->high_rpm);
    format_out_array_end(out);
    app_json_key_text(out, "known", app_json_known(band->known));
    format_out_object_end(out);
}

static void put_rider(struct format_out *out, const struct app_climb *climb) {
    const struct ride_rider *rider = &climb->rider;
    format_out_key(out, "rider");
    format_out_object(out);
    put_figure(out, "mass_kg", rider->mass_kg);
    put_figure(out, "bike_mass_kg", rider->bike_mass_kg);
    put_figure(out, "power_w", rider->power_w);
    app_json_key_text(out, "power_from", power_names[climb->power_from]);
    put_band(out, "cadence_rpm", &rider->flat);
    put_band(out, "climb_cadence_rpm", &rider->climb);
    put_figure(out, "least_cadence_rpm", rider->least_rpm);
    put_figure(out, "cda_m2", rider->drag_area_m2);
    put_figure(out, "wheel_drag_area_m2", rider->wheel_drag_area_m2);
    put_figure(out, "crr", rider->crr);
    put_figure(out, "air_density_kg_m3", rider->air_density_kg_m3);
    put_figure(out, "drive_efficiency", rider->drive_efficiency);
    put_figure(out, "crank_mm", rider->crank_mm);
    put_figure(out, "com_forward_mm", rider->com_forward_mm);
    put_figure(out, "com_height_mm", rider->com_height_mm);
    put_figure(out, "grip", rider->grip);
    format_out_object_end(out);
}

static void put_paths(struct format_out *out, const struct app_open *open) {
    for (size_t i = 0; i < open->n; i++) {
        app_json_path(out, open->at[i].subject, open->at[i].property);
    }
}

/* Into the object that is open. */
static void put_climb(struct format_out *out, const struct app_climb *climb) {
    app_json_key_number(out, "gradient_percent", climb->gradient_percent);
    app_json_key_number(out, "wanted_cadence_rpm", climb->cadence_rpm);
    app_json_key_number(out, "speed_mps", climb->speed_mps);
    put_power(out, &climb->load);
    app_json_key_number(out, "drive_loss_w", climb->drive_loss_w);
    put_gears(out, climb);
    app_json_key_number(out, "needed_development_m", climb->needed_m);
    put_rings(out, climb);
    app_json_key_number(out, "pedal_force_n", climb->pedal_force_n);
    app_json_key_number(out, "lift_gradient_percent", climb->lift_percent);
    app_json_key_number(out, "slip_gradient_percent", climb->slip_percent);
    app_json_key_bool(out, "never_slips", climb->never_slips);
    put_rider(out, climb);
    app_json_key_text(out, "known", app_json_known(climb->open.n > 0 ? BASE_OPEN : climb->known));
    format_out_key(out, "open");
    format_out_array(out);
    put_paths(out, &climb->open);
    put_paths(out, &climb->limits_open);
    format_out_array_end(out);
}

void app_json_climb(struct base_buffer *buffer, const struct app_climb *climb) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    put_climb(&out, climb);
    format_out_object_end(&out);
    format_out_done(&out);
}

void app_json_climbs(struct base_buffer *buffer, const struct app_climb *climbs, size_t n) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    format_out_key(&out, "climbs");
    format_out_array(&out);
    for (size_t i = 0; i < n; i++) {
        format_out_object(&out);
        app_json_key_number(&out, "length_m", climbs[i].length_m);
        app_json_key_number(&out, "time_s", climbs[i].length_m / climbs[i].speed_mps);
        put_climb(&out, &climbs[i]);
        format_out_object_end(&out);
    }
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}
