/* SPDX-License-Identifier: Apache-2.0 */
#include "app/climb.h"

#include "app/text_shared.h"

#include <math.h>

#define KMH_PER_MPS 3.6
#define NEIGHBOURS 3 /* gears shown outside the band, on either side */

/* Where the columns of the gears end, and the word behind them begins. */
enum { GEAR_END = 11, TURN_END = 22, RPM_END = 30, SPEED_END = 38, LOSS_END = 49, STATE = 53 };
/* And of the rings. */
enum { RING_END = 8, LOWEST_END = 19, HERE_END = 29, SERVES = 32, HIGHEST_END = 53, TOP_END = 68, NOW_END = 79 };

static struct explain_arg rpm(double value, enum base_known known) { return explain_known(value, 0, "rpm", known); }

/* A cadence against a bound: in tenths where a whole number would hide that it is below. */
static struct explain_arg rpm_against(double value, double bound, enum base_known known) {
    bool hides = value < bound && round(value) >= bound;
    return explain_known(value, hides ? 1 : 0, "rpm", known);
}

static struct explain_arg watts(double value, enum base_known known) {
    return explain_known(value, value < 10.0 ? 1 : 0, "W", known);
}

static struct explain_arg percent_of(double value, enum base_known known) {
    return explain_known(value, 0, "%", known);
}

static struct explain_arg wanted(const struct app_climb *climb) {
    return rpm(climb->cadence_rpm, climb->band.known == BASE_ASSUMED ? BASE_ASSUMED : BASE_MEASURED);
}

static void put_gear_name(struct base_buffer *out, const struct app_climb_gear *gear) {
    base_buffer_int(out, gear->gear.ring);
    base_buffer_text(out, "/");
    base_buffer_int(out, gear->gear.sprocket);
}

/* --- the answer ---------------------------------------------------------------------------------------------------- */

/* All gears are on one side of the band, so that the one that is taken is the last one on that side. */
static bool all_are(const struct app_climb *climb, enum ride_state state) {
    for (size_t i = 0; i < climb->n; i++) {
        if (climb->gears[i].in.state != state) {
            return false;
        }
    }
    return true;
}

static const char *answer_code(const struct app_climb *climb) {
    const struct app_climb_gear *taken = &climb->gears[climb->taken];
    if (taken->in.state == RIDE_IN_BAND) {
        return "climb.yes";
    }
    if (all_are(climb, RIDE_ABOVE)) {
        return "climb.spun";
    }
    return !all_are(climb, RIDE_BELOW) ? "climb.between" : taken->walked ? "climb.no" : "climb.hardly";
}

/* What no gear changes, where the hill is steeper than that. */
static void put_no_gear_helps(struct base_buffer *text, const struct app_climb *climb) {
    bool lifts = climb->gradient_percent >= climb->lift_percent;
    bool slips = climb->gradient_percent >= climb->slip_percent;
    if (!lifts && !slips) {
        return;
    }
    bool slips_first = slips && !(climb->lift_percent < climb->slip_percent);
    struct base_buffer why;
    base_buffer_init(&why, 0);
    explain_tell(&why, slips_first ? "climb.slips-at" : "climb.lifts-at",
                 percent_of(slips_first ? climb->slip_percent : climb->lift_percent, BASE_ASSUMED));
    base_buffer_text(text, " ");
    explain_tell(text, "climb.no-gear-helps", explain_buffered(&why));
    base_buffer_clear(&why);
}

/* Where the length was stated. On foot it takes longer. */
static void put_how_long(struct base_buffer *text, const struct app_climb *climb) {
    double minutes = climb->length_m / climb->speed_mps / 60.0;
    bool rides = !climb->has_cadences || !climb->gears[climb->taken].walked;
    if (!isnan(minutes) && rides) {
        base_buffer_text(text, " ");
        explain_tell(text, "climb.takes", app_length_arg(climb->length_m, BASE_MEASURED),
                     explain_known(minutes, minutes < 10.0 ? 1 : 0, "min", climb->known));
    }
}

static void put_answer(struct app_page *page, const struct app_climb *climb) {
    struct base_buffer text, gear, band;
    struct explain_arg speed = explain_known(KMH_PER_MPS * climb->speed_mps, 1, "km/h", climb->known);
    struct explain_arg needed = explain_known(climb->needed_m, 2, "m", climb->known);
    base_buffer_init(&text, 0);
    base_buffer_init(&gear, 0);
    base_buffer_init(&band, 0);
    if (climb->has_cadences) {
        const struct app_climb_gear *taken = &climb->gears[climb->taken];
        put_gear_name(&gear, taken);
        explain_tell(&band, "climb.band", explain_known(climb->band.low_rpm, 0, "", climb->band.known),
                     rpm(climb->band.high_rpm, BASE_MEASURED));
        explain_tell(&text, answer_code(climb), explain_buffered(&gear),
                     rpm_against(taken->in.cadence_rpm, climb->band.low_rpm, climb->known), speed, needed,
                     wanted(climb), explain_number(climb->gears[0].gear.development_m, 2, "m"),
                     explain_buffered(&band));
    } else {
        explain_tell(&text, "climb.open", speed, wanted(climb), needed);
    }
    put_no_gear_helps(&text, climb);
    put_how_long(&text, climb);
    app_end_paragraph(page, &text);
    base_buffer_clear(&gear);
    base_buffer_clear(&band);
}

/* --- the gears ----------------------------------------------------------------------------------------------------- */

/* Within the band, or among the nearest outside it. Rising ratio: those above the band come first. */
static bool is_shown(const struct app_climb *climb, size_t i) {
    size_t nearer = 0;
    enum ride_state state = climb->gears[i].in.state;
    for (size_t k = 0; k < climb->n; k++) {
        bool between = state == RIDE_ABOVE ? k > i : k < i;
        nearer += between && climb->gears[k].in.state == state;
    }
    return state == RIDE_IN_BAND || nearer < NEIGHBOURS || i == climb->taken;
}

static void lay_arg(struct app_page *page, size_t end, struct explain_arg arg) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    arg.text = ""; /* the unit stands at the head of the column */
    explain_put_arg(&text, &arg);
    app_lay_right(page, end, app_held(page, &text));
    base_buffer_clear(&text);
}

static void lay_number(struct app_page *page, size_t end, double value, int decimals) {
    lay_arg(page, end, explain_number(value, decimals, ""));
}

static const char *state_code(const struct app_climb *climb, size_t i) {
    static const char *const codes[] = {
        [RIDE_BELOW] = "climb.state-below", [RIDE_IN_BAND] = "climb.state-in", [RIDE_ABOVE] = "climb.state-above"};
    const struct app_climb_gear *gear = &climb->gears[i];
    if (gear->walked) {
        return "climb.state-walked";
    }
    return i == climb->taken && gear->in.state == RIDE_IN_BAND ? "climb.taken" : codes[gear->in.state];
}

/* What the cadence of a gear is held against. */
static double bound_below(const struct app_climb *climb, const struct app_climb_gear *gear) {
    return gear->walked ? climb->rider.least_rpm.value : climb->band.low_rpm;
}

static void put_gear(struct app_page *page, const struct app_climb *climb, size_t i) {
    const struct app_climb_gear *gear = &climb->gears[i];
    struct base_buffer name;
    base_buffer_init(&name, 0);
    put_gear_name(&name, gear);
    app_lay_right(page, GEAR_END, app_held(page, &name));
    lay_number(page, TURN_END, gear->gear.development_m, 3);
    lay_arg(page, RPM_END, rpm_against(gear->in.cadence_rpm, bound_below(climb, gear), BASE_MEASURED));
    lay_number(page, SPEED_END, KMH_PER_MPS * gear->in.speed_mps, 1);
    lay_number(page, LOSS_END, climb->rider.power_w.value * (1.0 - gear->in.efficiency), 1);
    app_lay_at(page, STATE, explain_message(state_code(climb, i)));
    app_lay_end(page);
    base_buffer_clear(&name);
}

static void put_gears(struct app_page *page, const struct app_climb *climb) {
    size_t hidden = 0;
    app_lay_blank(page, 1);
    app_lay_right(page, GEAR_END, explain_message("climb.column-gear"));
    app_lay_right(page, TURN_END, explain_message("climb.column-turn"));
    app_lay_right(page, RPM_END, explain_message("climb.column-rpm"));
    app_lay_right(page, SPEED_END, explain_message("climb.column-speed"));
    app_lay_right(page, LOSS_END, explain_message("climb.column-loss"));
    app_lay_end(page);
    for (size_t i = 0; i < climb->n; i++) {
        if (is_shown(climb, i)) {
            put_gear(page, climb, i);
        } else {
            hidden++;
        }
    }
    if (hidden > 0) {
        app_lay_blank(page, 1);
        app_paragraph(page, "climb.gears-left-out", explain_spelt((int64_t)hidden));
    }
    app_lay_blank(page, 1);
}

/* --- figures behind it --------------------------------------------------------------------------------------------- */

static void put_power(struct app_page *page, const struct app_climb *climb) {
    const struct ride_load *load = &climb->load;
    app_fact(page, "climb.label-power", "climb.power",
             explain_known(climb->rider.power_w.value, 0, "W", climb->rider.power_w.known),
             watts(ride_load_total_w(load), climb->known), watts(load->gravity_w, climb->known),
             watts(load->rolling_w, climb->known), watts(load->air_w, climb->known),
             watts(load->bearings_w, climb->known));
}

static void put_losses(struct app_page *page, const struct app_climb *climb) {
    struct explain_arg lost = watts(climb->drive_loss_w, climb->known);
    if (climb->rider.drive_efficiency.known != BASE_OPEN) {
        app_fact(page, "climb.label-losses", "climb.loss-fixed", lost);
        return;
    }
    if (!climb->has_cadences) {
        app_fact(page, "climb.label-losses", "climb.loss-usual", lost);
        return;
    }
    const struct app_climb_gear *taken = &climb->gears[climb->taken];
    double power_w = climb->rider.power_w.value;
    struct base_buffer gear;
    base_buffer_init(&gear, 0);
    put_gear_name(&gear, taken);
    app_fact(page, "climb.label-losses", isnan(taken->gear.angle_deg) ? "climb.losses-no-angle" : "climb.losses", lost,
             explain_buffered(&gear), watts(power_w * taken->in.loss.seating, climb->known),
             watts(power_w * taken->in.loss.wheels, climb->known),
             watts(power_w * taken->in.loss.crooked, climb->known));
    base_buffer_clear(&gear);
}

static void put_push(struct app_page *page, const struct app_climb *climb) {
    if (!isnan(climb->pedal_force_n)) {
        enum base_known known = base_weakest(climb->known, climb->rider.crank_mm.known);
        app_fact(page, "climb.label-push", "climb.push", explain_known(climb->pedal_force_n, 0, "N", known),
                 explain_number(trade_limits[TRADE_LIMIT_PEDAL_PEAK_RATIO].value, 1, ""));
    }
}

static void put_limits(struct app_page *page, const struct app_climb *climb) {
    struct base_buffer waits;
    if (climb->limits_open.n > 0) {
        base_buffer_init(&waits, 0);
        for (size_t i = 0; i < climb->limits_open.n; i++) {
            base_buffer_text(&waits, i > 0 ? ", " : "");
            base_buffer_text(&waits, trade_property_rows[climb->limits_open.at[i].property].label);
        }
        app_fact(page, "climb.label-limits", "climb.limits-open", explain_buffered(&waits));
        base_buffer_clear(&waits);
        return;
    }
    struct explain_arg grip = explain_known(climb->rider.grip.value, 2, "", climb->rider.grip.known);
    struct explain_arg lift = percent_of(climb->lift_percent, BASE_ASSUMED);
    if (climb->never_slips || climb->slip_percent > climb->lift_percent) {
        app_fact(page, "climb.label-limits", "climb.limits-lift", lift, grip);
    } else {
        app_fact(page, "climb.label-limits", "climb.limits", lift, percent_of(climb->slip_percent, BASE_ASSUMED), grip);
    }
}

static const char *word_of(const struct trade_bike *bike, enum trade_property property) {
    int word = trade_get_word(&bike->rider, property);
    return word < 0 ? NULL : trade_domain_rows[trade_property_rows[property].domain].words[word].label;
}

static void put_rider(struct app_page *page, const struct trade_bike *bike, const struct app_climb *climb) {
    static const char *const codes[] = {[APP_POWER_GIVEN] = "climb.power-given",
                                        [APP_POWER_CLIMB] = "climb.power-known-climb",
                                        [APP_POWER_PER_KG] = "climb.power-per-kg",
                                        [APP_POWER_TRAINING] = "climb.power-training"};
    const struct ride_rider *rider = &climb->rider;
    const char *training = word_of(bike, TRADE_RIDER_TRAINING);
    struct base_buffer power;
    base_buffer_init(&power, 0);
    explain_tell(&power, codes[climb->power_from], explain_known(rider->power_w.value, 0, "W", rider->power_w.known),
                 explain_words(training ? training : ""));
    app_fact(page, "climb.label-rider", "climb.rider",
             explain_known(rider->mass_kg.value, 0, "kg", rider->mass_kg.known),
             explain_known(rider->bike_mass_kg.value, 1, "kg", rider->bike_mass_kg.known), explain_buffered(&power));
    base_buffer_clear(&power);
    app_fact(page, "climb.label-cadence", "climb.cadence", explain_known(climb->band.low_rpm, 0, "", climb->band.known),
             explain_known(climb->band.high_rpm, 0, "rpm", climb->band.known),
             explain_known(rider->least_rpm.value, 0, "rpm", rider->least_rpm.known));
}

/* What a table's word told, said with the word; a figure that was given stands alone. */
static void put_surroundings(struct app_page *page, const struct trade_bike *bike, const struct app_climb *climb) {
    const struct ride_rider *rider = &climb->rider;
    const char *ground = word_of(bike, TRADE_RIDER_TYRE_AND_GROUND), *position = word_of(bike, TRADE_RIDER_POSITION);
    app_fact(page, "climb.label-road", rider->crr.known == BASE_MEASURED || !ground ? "climb.road-alone" : "climb.road",
             explain_known(rider->crr.value, 4, "", rider->crr.known), explain_words(ground ? ground : ""));
    struct explain_arg air = explain_known(rider->air_density_kg_m3.value, 3, "kg/m³", rider->air_density_kg_m3.known);
    app_fact(page, "climb.label-air",
             rider->drag_area_m2.known == BASE_MEASURED || !position ? "climb.air-alone" : "climb.air",
             explain_known(rider->drag_area_m2.value, 2, "m²", rider->drag_area_m2.known), air,
             explain_words(position ? position : ""));
}

/* --- which ring ---------------------------------------------------------------------------------------------------- */

static const char *ring_code(const struct app_climb *climb) {
    if (climb->largest_ring == 0) {
        return "climb.ring-none";
    }
    return climb->rings[0].serves ? "climb.ring-most" : "climb.ring";
}

static void put_than_now(struct app_page *page, double percent) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text,
                 fabs(percent) < 0.5 ? "climb.same"
                 : percent < 0.0     ? "climb.less"
                                     : "climb.more",
                 explain_number(fabs(percent), 0, "%"));
    app_lay_right(page, NOW_END, app_held(page, &text));
    base_buffer_clear(&text);
}

static void put_ring(struct app_page *page, const struct app_climb *climb, const struct app_climb_ring *ring) {
    lay_number(page, RING_END, ring->ring, 0);
    lay_number(page, LOWEST_END, ring->lowest_m, 3);
    lay_arg(page, HERE_END, rpm_against(ring->cadence_rpm, climb->cadence_rpm, BASE_MEASURED));
    app_lay_at(page, SERVES, explain_message(ring->serves ? "climb.serves" : "climb.serves-not"));
    lay_number(page, HIGHEST_END, ring->highest_m, 3);
    lay_number(page, TOP_END, ring->top_kmh, 0);
    put_than_now(page, ring->than_now_percent);
    app_lay_end(page);
}

static void put_ring_head(struct app_page *page, const struct app_climb *climb) {
    struct base_buffer top;
    base_buffer_init(&top, 0);
    explain_tell(&top, "climb.column-top", rpm(climb->rider.flat.high_rpm, BASE_MEASURED));
    app_lay_right(page, RING_END, explain_message("climb.column-ring"));
    app_lay_right(page, LOWEST_END, explain_message("climb.column-lowest"));
    app_lay_right(page, HERE_END, explain_message("climb.column-here"));
    app_lay_right(page, HIGHEST_END, explain_message("climb.column-highest"));
    app_lay_right(page, TOP_END, app_held(page, &top));
    app_lay_right(page, NOW_END, explain_message("climb.column-than-now"));
    app_lay_end(page);
    base_buffer_clear(&top);
}

static void put_rings(struct app_page *page, const struct app_climb *climb) {
    if (climb->n_rings == 0) {
        return;
    }
    app_question(page, "climb.rings-question");
    int named = climb->largest_ring > 0 ? climb->largest_ring : climb->rings[climb->n_rings - 1].ring;
    app_paragraph(page, ring_code(climb), explain_count(climb->largest_sprocket), explain_count(named), wanted(climb),
                  explain_gradient(climb->gradient_percent));
    app_lay_blank(page, 1);
    put_ring_head(page, climb);
    for (size_t i = 0; i < climb->n_rings; i++) {
        put_ring(page, climb, &climb->rings[i]);
    }
    app_lay_blank(page, 1);
    struct explain_arg bare = explain_gradient(climb->gradient_percent);
    bare.text = "";
    app_paragraph(page, "climb.wish-says", bare, explain_number(climb->cadence_rpm, 0, ""));
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

void app_text_climb(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_climb *climb) {
    struct app_page page = app_page_on(out, style);
    struct base_buffer hill;
    struct explain_arg percent = explain_gradient(climb->gradient_percent);
    base_buffer_init(&hill, 0);
    if (isnan(climb->length_m)) {
        explain_put_arg(&hill, &percent);
    } else {
        explain_tell(&hill, "climb.hill", percent, app_length_arg(climb->length_m, BASE_MEASURED));
    }
    app_title(&page, bike, app_held(&page, &hill));
    base_buffer_clear(&hill);
    app_question(&page, "climb.question");
    put_answer(&page, climb);
    if (climb->has_cadences) {
        put_gears(&page, climb);
    } else {
        app_lay_blank(&page, 1);
    }
    put_power(&page, climb);
    put_losses(&page, climb);
    put_push(&page, climb);
    put_limits(&page, climb);
    put_rider(&page, bike, climb);
    put_surroundings(&page, bike, climb);
    put_rings(&page, climb);
    app_lay_open(&page, &climb->open);
    app_lay_blank(&page, 1);
    app_put_paragraph(&page, "climb.caution", NULL, 0);
}
