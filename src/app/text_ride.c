/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A ride on a terminal: the answer in words, the bikes side by side, the hardest pitches, the gears, the rings.
 */
#include "app/ride.h"
#include "app/text_shared.h"

#include "explain/way.h"

#include <math.h>
#include <string.h>

/* Columns of the bikes side by side; those of numbers are where they end. */
#define LETTER 3
#define PURPOSE 6
#define TIME_END 35
#define BAND_END 43
#define BELOW_END 51
#define ABOVE_END 59
#define FOOT_END 67
#define REAR_END 73
/* Of the pitches. */
#define FROM_END 13
#define LENGTH_END 23
#define GRADIENT_END 33
#define BIKE_END 44
#define BIKE_WIDTH 7
/* Of the rings. */
#define RING_END 9
#define RING_WIDTH 10

#define NOTHING_S 1.0 /* shorter than this is nothing */

/* --- quantities in words ------------------------------------------------------------------------------------------- */

static const char *mark_of(enum base_known known) { return known == BASE_ASSUMED ? "~" : ""; }

/* 40 s, 4.2 min, 1 h 32 min. */
static void put_time(struct base_buffer *out, double time_s, enum base_known known) {
    base_buffer_text(out, mark_of(known));
    if (time_s < 100.0) {
        base_buffer_fixed(out, time_s, 0);
        base_buffer_text(out, " s");
        return;
    }
    if (time_s < 5970.0) {
        base_buffer_fixed(out, time_s / 60.0, time_s < 600.0 ? 1 : 0);
        base_buffer_text(out, " min");
        return;
    }
    long minutes = lround(time_s / 60.0);
    base_buffer_int(out, minutes / 60);
    base_buffer_text(out, " h ");
    base_buffer_int(out, minutes % 60);
    base_buffer_text(out, " min");
}

static struct explain_arg rpm_arg(double rpm, enum base_known known) { return explain_known(rpm, 0, "rpm", known); }

/* The band of the rider, both of them where they differ: 60-90 rpm. */
static void put_band(struct base_buffer *out, const struct ride_band *band) {
    base_buffer_text(out, mark_of(band->known));
    base_buffer_fixed(out, band->low_rpm, 0);
    base_buffer_text(out, "\xe2\x80\x93");
    base_buffer_fixed(out, band->high_rpm, 0);
    base_buffer_text(out, " rpm");
}

static void put_bands(struct base_buffer *out, const struct app_ride *ride) {
    const struct ride_band *flat = &ride->road->habits.flat, *climb = &ride->road->habits.climb;
    put_band(out, flat);
    if (flat->low_rpm != climb->low_rpm || flat->high_rpm != climb->high_rpm) {
        struct base_buffer uphill;
        base_buffer_init(&uphill, 0);
        put_band(&uphill, climb);
        base_buffer_text(out, " ");
        explain_tell(out, "ride.uphill", explain_buffered(&uphill));
        base_buffer_clear(&uphill);
    }
}

static void lay_number(struct app_page *page, size_t last, double value, int decimals) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_fixed(&text, value, decimals);
    app_lay_right(page, last, app_held(page, &text));
    base_buffer_clear(&text);
}

static void lay_arg(struct app_page *page, size_t last, struct explain_arg arg) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_arg(&text, &arg);
    app_lay_right(page, last, app_held(page, &text));
    base_buffer_clear(&text);
}

/* --- the answer ---------------------------------------------------------------------------------------------------- */

static double below_s(const struct app_ride_bike *bike) { return bike->run.mode_s[RIDE_MODE_BELOW]; }
static double above_s(const struct app_ride_bike *bike) { return bike->run.mode_s[RIDE_MODE_ABOVE]; }
static double foot_m(const struct app_ride_bike *bike) { return bike->run.mode_m[RIDE_MODE_WALKED]; }

/* Whether the bike as it stands does, in the first line. */
static void put_verdict(struct base_buffer *text, const struct app_ride *ride) {
    const struct app_ride_bike *now = &ride->bikes[0];
    struct base_buffer route, band, time;
    base_buffer_init(&route, 0);
    base_buffer_init(&band, 0);
    base_buffer_init(&time, 0);
    explain_tell(&route, "ride.route", app_length_arg(ride->road->profile.length_m, BASE_MEASURED),
                 app_length_arg(ride->road->profile.climb_m, BASE_MEASURED));
    put_bands(&band, ride);
    put_time(&time, now->n > 0 && foot_m(now) <= 0.0 ? below_s(now) : now->run.time_s, ride->road->known);
    struct explain_arg way = explain_buffered(&route);
    if (now->n == 0) {
        explain_tell(text, "ride.open", explain_buffered(&time));
    } else if (foot_m(now) > 0.0) {
        explain_tell(text, "ride.not", way, app_length_arg(foot_m(now), ride->road->known),
                     rpm_arg(ride->road->habits.least_rpm, ride->road->rider.least_rpm.known));
    } else if (below_s(now) >= NOTHING_S) {
        explain_tell(text, "ride.hardly", way, explain_buffered(&time), rpm_arg(now->below_rpm, ride->road->known));
    } else {
        explain_tell(text, "ride.all", way, explain_buffered(&band));
    }
    base_buffer_clear(&route);
    base_buffer_clear(&band);
    base_buffer_clear(&time);
}

/* A sentence with one time in it. */
static void put_timed(struct base_buffer *text, const char *code, double time_s, enum base_known known) {
    struct base_buffer time;
    base_buffer_init(&time, 0);
    put_time(&time, time_s, known);
    base_buffer_text(text, text->n > 0 ? " " : "");
    explain_tell(text, code, explain_buffered(&time));
    base_buffer_clear(&time);
}

static void lay_answer(struct app_page *page, const struct app_ride *ride) {
    const struct app_ride_bike *now = &ride->bikes[0];
    struct base_buffer text;
    base_buffer_init(&text, 0);
    put_verdict(&text, ride);
    if (now->n > 0 && above_s(now) >= NOTHING_S) {
        put_timed(&text, "ride.way-above", above_s(now), ride->road->known);
    }
    if (now->n > 0) {
        put_timed(&text, "ride.takes", now->run.time_s, ride->road->known);
    }
    app_end_paragraph(page, &text);
}

/* --- side by side -------------------------------------------------------------------------------------------------- */

static void lay_heads(struct app_page *page) {
    app_lay_right(page, TIME_END, explain_message("ride.column-time"));
    app_lay_right(page, BAND_END, explain_message("ride.column-band"));
    app_lay_right(page, BELOW_END, explain_message("ride.column-below"));
    app_lay_right(page, ABOVE_END, explain_message("ride.column-above"));
    app_lay_right(page, FOOT_END, explain_message("ride.column-foot"));
    app_lay_right(page, APP_LAST_COLUMN, explain_message("ride.column-shifts"));
    app_lay_end(page);
    app_lay_right(page, TIME_END, explain_message("ride.column-minutes"));
    app_lay_right(page, BAND_END, explain_message("ride.column-percent"));
    app_lay_right(page, BELOW_END, explain_message("ride.column-minutes"));
    app_lay_right(page, ABOVE_END, explain_message("ride.column-minutes"));
    app_lay_right(page, FOOT_END, explain_message("ride.column-metres"));
    app_lay_right(page, REAR_END, explain_message("ride.column-rear"));
    app_lay_right(page, APP_LAST_COLUMN, explain_message("ride.column-front"));
    app_lay_end(page);
}

static enum plan_purpose first_purpose(const struct plan_way *way) {
    unsigned purpose = 0;
    while (purpose + 1 < PLAN_PURPOSES && !(way->purposes >> purpose & 1)) {
        purpose++;
    }
    return (enum plan_purpose)purpose;
}

static void lay_bike(struct app_page *page, const struct app_ride_bike *bike) {
    const struct ride_run *run = &bike->run;
    const char letter[] = {bike->letter, '\0'};
    app_lay_at(page, LETTER, letter);
    app_lay_at(page, PURPOSE,
               bike->way ? explain_purpose(bike->way, first_purpose(bike->way))
                         : explain_message("table.as-it-stands"));
    lay_number(page, TIME_END, run->time_s / 60.0, 1);
    if (bike->n > 0) {
        double busy_s = run->time_s - run->mode_s[RIDE_MODE_COASTING];
        lay_number(page, BAND_END, busy_s > 0.0 ? 100.0 * run->mode_s[RIDE_MODE_IN_BAND] / busy_s : 100.0, 0);
        lay_number(page, BELOW_END, below_s(bike) / 60.0, 1);
        lay_number(page, ABOVE_END, above_s(bike) / 60.0, 1);
        lay_number(page, FOOT_END, foot_m(bike), 0);
        lay_number(page, REAR_END, (double)run->rear_shifts, 0);
        lay_number(page, APP_LAST_COLUMN, (double)run->front_shifts, 0);
    }
    app_lay_end(page);
}

/* Two bikes with the same gears make the same of the route. */
static bool same_gears(const struct app_ride_bike *a, const struct app_ride_bike *b) {
    bool same = a->n == b->n;
    for (size_t i = 0; same && i < a->n; i++) {
        same = a->gears[i].ring == b->gears[i].ring && a->gears[i].sprocket == b->gears[i].sprocket;
    }
    return same;
}

/* 'A', or 'A and B' where others have the same gears; false when an earlier one spoke for this one. */
static bool put_letters(struct base_buffer *out, const struct app_ride *ride, size_t at) {
    char letters[APP_RIDE_BIKES][2];
    const char *words[APP_RIDE_BIKES];
    size_t n = 0;
    for (size_t i = 1; i < ride->n_bikes; i++) {
        if (same_gears(&ride->bikes[i], &ride->bikes[at])) {
            if (i < at) {
                return false;
            }
            letters[n][0] = ride->bikes[i].letter;
            letters[n][1] = '\0';
            words[n] = letters[n];
            n++;
        }
    }
    explain_put_list(out, words, n, "list.and");
    return true;
}

/* Where a way has too high a lowest gear, against the bike as it stands. */
static void put_below(struct base_buffer *text, const struct app_ride *ride, const struct app_ride_bike *bike) {
    struct base_buffer time;
    base_buffer_init(&time, 0);
    put_time(&time, below_s(bike), ride->road->known);
    bool differs = fabs(bike->below_rpm - bike->now_rpm) >= 1.0; /* not where one of them is NAN */
    if (below_s(bike) >= NOTHING_S && differs) {
        explain_tell(text, "ride.way-below-now", explain_buffered(&time), rpm_arg(bike->below_rpm, ride->road->known),
                     rpm_arg(bike->now_rpm, ride->road->known));
    } else if (below_s(bike) >= NOTHING_S) {
        explain_tell(text, "ride.way-below", explain_buffered(&time), rpm_arg(bike->below_rpm, ride->road->known));
    } else if (foot_m(bike) <= 0.0) {
        explain_say(text, "ride.way-all");
    }
    if (foot_m(bike) > 0.0) {
        base_buffer_text(text, below_s(bike) >= NOTHING_S ? " " : "");
        explain_tell(text, below_s(bike) >= NOTHING_S ? "ride.way-foot-too" : "ride.way-foot",
                     app_length_arg(foot_m(bike), ride->road->known));
    }
    base_buffer_clear(&time);
}

static void lay_way(struct app_page *page, const struct app_ride *ride, size_t at) {
    const struct app_ride_bike *bike = &ride->bikes[at];
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (bike->n == 0 || !put_letters(&text, ride, at)) {
        return;
    }
    base_buffer_text(&text, ": ");
    put_below(&text, ride, bike);
    if (above_s(bike) >= NOTHING_S) {
        put_timed(&text, "ride.way-above", above_s(bike), ride->road->known);
    }
    if (bike->down_lost_s < NOTHING_S) {
        base_buffer_text(&text, " ");
        explain_say(&text, "ride.down-nothing");
    } else {
        put_timed(&text, "ride.down-lost", bike->down_lost_s, ride->road->known);
    }
    if (fabs(bike->saved_s) >= NOTHING_S) {
        put_timed(&text, bike->saved_s < 0.0 ? "ride.longer" : "ride.shorter", fabs(bike->saved_s), ride->road->known);
    }
    app_end_paragraph(page, &text);
}

/* Which of all ways is in the band longest, and what it costs where it is none of those in the table. */
static void lay_front(struct app_page *page, const struct app_ride *ride) {
    const struct app_ride_scored *best = ride->most_in_band;
    char letter[] = "A";
    if (!best || ride->n_front <= ride->n_bikes - 1) {
        return;
    }
    for (size_t i = 1; i < ride->n_bikes; i++) {
        letter[0] = ride->bikes[i].way == best->way ? ride->bikes[i].letter : letter[0];
    }
    app_lay_blank(page, 1);
    if (best->way->purposes) {
        app_paragraph(page, "ride.front-pick", explain_count((int64_t)ride->n_front), explain_words(letter));
    } else {
        app_paragraph(page, "ride.front", explain_count((int64_t)ride->n_front), explain_number(best->lowest_m, 2, "m"),
                      explain_number(best->highest_m, 2, "m"),
                      explain_money(best->way->values.cost_minor, ride->plan->question.shop));
    }
}

static void lay_bikes(struct app_page *page, const struct app_ride *ride) {
    struct base_buffer bands;
    if (ride->bikes[0].n == 0 && ride->n_bikes == 1) {
        return;
    }
    app_lay_blank(page, 1);
    lay_heads(page);
    for (size_t i = 0; i < ride->n_bikes; i++) {
        lay_bike(page, &ride->bikes[i]);
    }
    app_lay_blank(page, 1);
    for (size_t i = 1; i < ride->n_bikes; i++) {
        lay_way(page, ride, i);
    }
    lay_front(page, ride);
    app_lay_blank(page, ride->n_bikes > 1 ? 1 : 0);
    base_buffer_init(&bands, 0);
    put_bands(&bands, ride);
    app_paragraph(page, "ride.columns", explain_buffered(&bands));
    base_buffer_clear(&bands);
}

/* --- pitches ------------------------------------------------------------------------------------------------------- */

static void lay_pitch(struct app_page *page, const struct app_ride *ride, size_t i) {
    const struct ride_pitch *pitch = &ride->pitches[i];
    lay_arg(page, FROM_END, app_length_arg(pitch->from_m, BASE_MEASURED));
    lay_arg(page, LENGTH_END, app_length_arg(pitch->length_m, BASE_MEASURED));
    lay_arg(page, GRADIENT_END, explain_number(100.0 * pitch->gradient, 0, "%"));
    for (size_t b = 0; b < ride->n_bikes; b++) {
        const struct ride_stretch *stretch = &ride->bikes[b].pitches[i];
        size_t end = BIKE_END + b * BIKE_WIDTH;
        if (stretch->foot_m > 0.0) {
            app_lay_right(page, end, explain_message("ride.foot"));
        } else if (stretch->rpm > 0.0) {
            lay_number(page, end, stretch->rpm, 0);
        }
    }
    app_lay_end(page);
}

static void lay_pitches(struct app_page *page, const struct app_ride *ride) {
    app_question(page, "ride.pitches-question");
    if (ride->n_pitches == 0) {
        app_put_paragraph(page, "ride.no-pitch", NULL, 0);
        return;
    }
    app_lay_right(page, FROM_END, explain_message("ride.column-from"));
    app_lay_right(page, LENGTH_END, explain_message("ride.column-length"));
    app_lay_right(page, GRADIENT_END, explain_message("ride.column-gradient"));
    for (size_t b = 0; b < ride->n_bikes && ride->bikes[0].n > 0; b++) {
        const char letter[] = {ride->bikes[b].letter, '\0'};
        app_lay_right(page, BIKE_END + b * BIKE_WIDTH, b == 0 ? explain_message("ride.column-now") : letter);
    }
    app_lay_end(page);
    for (size_t i = 0; i < ride->n_pitches; i++) {
        lay_pitch(page, ride, i);
    }
    if (ride->bikes[0].n > 0) {
        app_lay_blank(page, 1);
        app_put_paragraph(page, "ride.pitches", NULL, 0);
    }
}

/* --- gears --------------------------------------------------------------------------------------------------------- */

#define GEAR_COLUMNS 3
#define GEAR_WIDTH 25
#define GEAR_TURN_END 13
#define GEAR_SHARE_END 19

static void lay_gear(struct app_page *page, const struct app_ride_bike *bike, size_t i, size_t left,
                     double pedalled_s) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_int(&text, bike->gears[i].ring);
    base_buffer_text(&text, "/");
    base_buffer_int(&text, bike->gears[i].sprocket);
    app_lay_at(page, left, app_held(page, &text));
    base_buffer_clear(&text);
    lay_arg(page, left + GEAR_TURN_END, explain_number(bike->choices[i].development_m, 2, "m"));
    double share = 100.0 * bike->run.gear_s[i] / pedalled_s;
    lay_arg(page, left + GEAR_SHARE_END, explain_number(share, share < 9.95 ? 1 : 0, "%"));
}

static void lay_gears(struct app_page *page, const struct app_ride *ride) {
    const struct app_ride_bike *now = &ride->bikes[0];
    size_t used[UINT8_MAX], n = 0;
    double pedalled_s = 0.0;
    for (size_t i = 0; i < now->n && i < UINT8_MAX; i++) {
        pedalled_s += now->run.gear_s[i];
        if (now->run.gear_s[i] > 0.0) {
            used[n++] = i;
        }
    }
    if (n == 0) {
        return;
    }
    app_question(page, "ride.gears-question");
    size_t rows = (n + GEAR_COLUMNS - 1) / GEAR_COLUMNS;
    for (size_t row = 0; row < rows; row++) {
        for (size_t i = row, column = 0; i < n; i += rows, column++) {
            lay_gear(page, now, used[i], APP_BODY + column * GEAR_WIDTH, pedalled_s);
        }
        app_lay_end(page);
    }
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, "ride.gears", explain_number(100.0 * (now->run.widest_step - 1.0), 0, "%"));
    if (n < now->n) {
        base_buffer_text(&text, " ");
        explain_tell(&text, "ride.unused", explain_spelt((int64_t)(now->n - n)));
    }
    app_lay_blank(page, 1);
    app_end_paragraph(page, &text);
}

/* --- rings --------------------------------------------------------------------------------------------------------- */

static void lay_ring(struct app_page *page, const struct app_ride *ride, const struct app_ride_ring *ring) {
    double time_min = ride->bikes[0].run.time_s / 60.0;
    const double minutes[] = {ring->score.below, ring->score.above, ring->score.between, ring->score.walked};
    double busy = 1.0 - ring->score.coasting;
    lay_number(page, RING_END, ring->ring, 0);
    lay_number(page, RING_END + RING_WIDTH, ring->lowest_m, 2);
    lay_number(page, RING_END + 2 * RING_WIDTH, ring->highest_m, 2);
    lay_number(page, RING_END + 3 * RING_WIDTH, busy > 0.0 ? 100.0 * ring->score.in_band / busy : 100.0, 0);
    for (size_t i = 0; i < 4; i++) {
        lay_number(page, RING_END + (4 + i) * RING_WIDTH, time_min * minutes[i], 1);
    }
    app_lay_end(page);
}

static void lay_rings(struct app_page *page, const struct app_ride *ride) {
    static const char *const heads[] = {"ride.column-ring",    "ride.column-lowest", "ride.column-highest",
                                        "ride.column-in-band", "ride.column-below",  "ride.column-above",
                                        "ride.column-between", "ride.column-foot"};
    struct explain_arg highest = explain_known(ride->highest_m, 2, "m", ride->road->known);
    if (ride->n_rings == 0) {
        return;
    }
    app_question(page, "ride.rings-question");
    if (isnan(ride->needed_m)) {
        app_paragraph(page, "ride.ring-flat", highest);
    } else {
        app_paragraph(page, "ride.ring-needs", explain_known(ride->needed_m, 2, "m", ride->road->known),
                      rpm_arg(ride->road->habits.climb.low_rpm, ride->road->habits.climb.known), highest);
    }
    app_lay_blank(page, 1);
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        app_lay_right(page, RING_END + i * RING_WIDTH, explain_message(heads[i]));
    }
    app_lay_end(page);
    for (size_t i = 0; i < ride->n_rings; i++) {
        lay_ring(page, ride, &ride->rings[i]);
    }
    app_lay_blank(page, 1);
    app_paragraph(page, "ride.between", rpm_arg(ride->road->habits.least_rpm, ride->road->rider.least_rpm.known));
}

/* --- what it rests on ---------------------------------------------------------------------------------------------- */

static void lay_route(struct app_page *page, const struct app_ride *ride) {
    const struct ride_profile *p = &ride->road->profile;
    struct explain_arg points = explain_count((int64_t)ride->route->given);
    if (ride->n_stated > 0) {
        app_fact(page, "ride.label-route", "ride.stated", explain_count((int64_t)ride->n_stated),
                 app_length_arg(p->length_m, BASE_MEASURED), explain_number(p->climb_m, 0, "m"),
                 explain_number(p->descent_m, 0, "m"));
        return;
    }
    if (ride->way->is_track) {
        app_fact(page, "ride.label-route", "ride.track", points, app_length_arg(p->length_m, BASE_MEASURED));
    } else {
        app_fact(page, "ride.label-route", "ride.planned", points,
                 app_length_arg(p->length_m / (double)(ride->route->given - 1), BASE_MEASURED));
    }
    app_fact(page, "ride.label-climb", "ride.climb", explain_number(p->climb_m, 0, "m"),
             explain_number(p->descent_m, 0, "m"), explain_number(p->reversal_m, 0, "m"),
             explain_number(100.0 * ride->steepest, 0, "%"), explain_number(p->slope_m, 0, "m"));
}

static void lay_rider(struct app_page *page, const struct app_ride *ride) {
    const struct ride_habits *h = &ride->road->habits;
    struct ride_figure total_kg = ride_rider_total_kg(&ride->road->rider);
    struct base_buffer bands;
    base_buffer_init(&bands, 0);
    put_bands(&bands, ride);
    app_fact(page, "ride.label-rider", "ride.rider", explain_known(h->power_w, 0, "W", ride->road->rider.power_w.known),
             explain_known(total_kg.value, 0, "kg", total_kg.known), explain_buffered(&bands),
             rpm_arg(h->least_rpm, ride->road->rider.least_rpm.known));
    base_buffer_clear(&bands);
    app_fact(page, "ride.label-ridden", "ride.ridden",
             explain_known(h->power_w, 0, "W", ride->road->rider.power_w.known),
             explain_known(h->coast_mps * 3.6, 0, "km/h", BASE_ASSUMED),
             explain_known(h->brake_mps * 3.6, 0, "km/h", BASE_ASSUMED),
             explain_known(h->walk_mps * 3.6, 1, "km/h", BASE_ASSUMED));
}

/* What resists, each figure as it is known. */
static void lay_road(struct app_page *page, const struct app_ride *ride) {
    const struct ride_rider *r = &ride->road->rider;
    app_fact(page, "climb.label-road", "climb.road-alone", explain_known(r->crr.value, 4, "", r->crr.known));
    app_fact(page, "climb.label-air", "climb.air-alone",
             explain_known(r->drag_area_m2.value, 2, "m\xc2\xb2", r->drag_area_m2.known),
             explain_known(r->air_density_kg_m3.value, 3, "kg/m\xc2\xb3", r->air_density_kg_m3.known));
}

static struct explain_arg energy_arg(double energy_j, enum base_known known) {
    return explain_known(energy_j / 1000.0, 0, "kJ", known);
}

static void lay_energy(struct app_page *page, const struct app_ride *ride) {
    const struct ride_energy *e = &ride->bikes[0].run.energy;
    app_fact(page, "ride.label-energy", "ride.energy", energy_arg(e->rider, ride->road->known),
             energy_arg(e->air, ride->road->known), energy_arg(e->rolling + e->bearings, ride->road->known),
             energy_arg(e->drive, ride->road->known), energy_arg(e->brakes, ride->road->known),
             energy_arg(e->gravity + e->kinetic, ride->road->known));
}

/* Adds a phrase to what was left out. */
static void add(struct base_buffer *list, const char *code, struct explain_arg what, struct explain_arg more) {
    base_buffer_text(list, list->n > 0 ? "; " : "");
    explain_tell(list, code, what, more);
}

static void lay_left_out(struct app_page *page, const struct app_ride *ride) {
    const struct ride_route *route = ride->route;
    const struct ride_profile *p = &ride->road->profile;
    const struct {
        const char *code;
        size_t n;
    } counts[] = {{"ride.spikes", p->spikes + route->heights_wild},
                  {"ride.astray", route->astray},
                  {"ride.standing", route->standing}};
    struct base_buffer list;
    const struct explain_arg none = explain_words("");
    base_buffer_init(&list, 0);
    if (route->breaks > 0) {
        add(&list, "ride.break", explain_count((int64_t)route->breaks), app_length_arg(route->breaks_m, BASE_MEASURED));
    }
    if (p->unknown_m > 0.0) {
        add(&list, "ride.unknown", app_length_arg(p->unknown_m, BASE_MEASURED), none);
    }
    for (size_t i = 0; i < sizeof counts / sizeof counts[0]; i++) {
        if (counts[i].n > 0) {
            add(&list, counts[i].code, explain_count((int64_t)counts[i].n), none);
        }
    }
    if (p->bridged_m > 0.0) {
        add(&list, "ride.bridged", app_length_arg(p->bridged_m, BASE_MEASURED), none);
    }
    if (p->clamped > 0) {
        add(&list, "ride.clamped", app_length_arg((double)p->clamped * RIDE_CELL_M, BASE_MEASURED), none);
    }
    if (list.n > 0) {
        app_end_fact(page, APP_FACT, "ride.label-left-out", &list);
    }
    base_buffer_clear(&list);
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

/* NULL for standard input. */
static const char *name_of(const char *path) {
    const char *slash = strrchr(path, '/');
    return strcmp(path, "-") == 0 ? NULL : slash ? slash + 1 : path;
}

void app_lay_ride(struct app_page *page, const struct app_ride *ride) {
    app_question(page, "ride.question");
    lay_answer(page, ride);
    lay_bikes(page, ride);
    app_lay_open(page, &ride->open);
    lay_pitches(page, ride);
    lay_gears(page, ride);
    lay_rings(page, ride);
    app_lay_blank(page, 2);
    lay_route(page, ride);
    lay_rider(page, ride);
    lay_road(page, ride);
    lay_energy(page, ride);
    lay_left_out(page, ride);
    if (ride->route->times_back > 0) {
        app_lay_blank(page, 1);
        app_paragraph(page, "ride.times-back", explain_count((int64_t)ride->route->first_back));
    }
    app_lay_blank(page, 1);
    app_put_paragraph(page, "ride.caution", NULL, 0);
}

void app_text_ride(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                   const struct app_ride *ride) {
    struct app_page page = app_page_on(out, style);
    app_title(&page, bike, ride->way->file ? name_of(ride->way->file) : NULL);
    app_lay_ride(&page, ride);
}
