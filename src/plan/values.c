/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What one build is worth.
 */
#include "plan/values.h"

#include "plan/labour.h"
#include "plan/line.h"
#include "plan/mass.h"

#include "base/number.h"
#include "mech/gear.h"

#include <math.h>

#define TOP_SPEED_KMH 45.0 /* a fast road; common practice of the trade's advice on the highest gear */
#define TOP_CADENCE_RPM 90.0

static const enum trade_slot ring_slots[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

int32_t plan_cap(const struct trade_wish *wish, const struct trade_bike *bike) {
    if (isinf(wish->highest_m_cap)) {
        return INT32_MAX; /* no cap */
    }
    if (!isnan(wish->highest_m_cap)) {
        return (int32_t)base_round(wish->highest_m_cap * 10000);
    }
    const struct trade_value *band = trade_get(&bike->rider, TRADE_RIDER_CADENCE_RPM);
    double cadence = trade_is_open(band) ? TOP_CADENCE_RPM : band->counts->at[band->counts->n - 1];
    return (int32_t)base_round(TOP_SPEED_KMH / 3.6 / (cadence / 60) * 10000);
}

static void set_money_and_time(struct plan_values *out, const struct plan_question *question,
                               const struct fit_build *build) {
    const struct trade_shop *shop = question->shop;
    uint32_t operations = plan_build_operations(question->bike, build);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (build->at[s].kind == FIT_NEW) {
            out->price_minor += build->at[s].part->price_minor;
        }
    }
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        if (operations >> o & 1) {
            out->labour_minor += shop->labour_minor[o];
            out->tenths += plan_operation_tenths(shop, o);
        }
    }
    out->cost_minor = out->price_minor + out->labour_minor;
}

static void set_mass(struct plan_values *out, const struct trade_bike *bike, const struct fit_build *build,
                     const double usual_mass_g[TRADE_KINDS]) {
    out->mass_known = BASE_MEASURED;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        out->mass_g += plan_slot_mass_g(&out->mass_known, bike, s, &build->at[s], usual_mass_g);
    }
    out->mass_g = out->mass_known == BASE_OPEN ? 0 : out->mass_g;
}

int32_t plan_development(int ring, int sprocket, const struct trade_bike *bike) {
    double rolling = trade_get_number(&bike->wheel, TRADE_WHEEL_ROLLING_MM);
    double ratio = mech_gear_ratio(ring, sprocket);
    return (int32_t)base_round(isnan(rolling) ? ratio * 10000 : ratio * rolling * 10);
}

/* Teeth of each ring; 0 where there is none, or nobody knows. */
static void rings_of(int out[3], const struct fit_build *build) {
    for (unsigned i = 0; i < 3; i++) {
        const struct fit_choice *choice = &build->at[ring_slots[i]];
        double teeth = choice->kind == FIT_NONE ? NAN : trade_get_number(choice->part, TRADE_RING_TEETH);
        out[i] = isnan(teeth) ? 0 : (int)teeth;
    }
}

/* Teeth of the smallest and the largest ring; false without a ring whose teeth are known. */
static bool outermost(int *smallest, int *largest, const int rings[3]) {
    *smallest = 0;
    *largest = 0;
    for (unsigned i = 0; i < 3; i++) {
        bool smaller = rings[i] > 0 && (*smallest == 0 || rings[i] < *smallest);
        *smallest = smaller ? rings[i] : *smallest;
        *largest = rings[i] > *largest ? rings[i] : *largest;
    }
    return *largest > 0;
}

static void set_gears(struct plan_values *out, const struct plan_question *question, const struct fit_build *build,
                      int32_t cap) {
    struct trade_value small, large, all;
    const struct trade_bike *bike = question->bike;
    const struct fit_choice *choice = &build->at[TRADE_SLOT_CASSETTE];
    int rings[3], smallest_ring, largest_ring;
    rings_of(rings, build);
    if (choice->kind == FIT_NONE || !outermost(&smallest_ring, &largest_ring, rings)) {
        return;
    }
    const struct trade_value *smallest = fit_part_value(&small, choice->part, false, FIT_SMALLEST);
    const struct trade_value *largest = fit_part_value(&large, choice->part, false, FIT_LARGEST);
    if (trade_is_open(smallest) || trade_is_open(largest)) {
        return;
    }
    out->lowest = plan_development(smallest_ring, (int)largest->number, bike);
    out->highest = plan_development(largest_ring, (int)smallest->number, bike);
    out->counted = out->highest < cap ? out->highest : cap;
    out->score =
        plan_score_of(question->speeds, rings, fit_part_value(&all, choice->part, false, FIT_TEETH)->words, bike);
}

void plan_values_of(struct plan_values *out, const struct plan_question *question, const struct fit_build *build,
                    const double usual_mass_g[TRADE_KINDS], int32_t cap_mm10) {
    struct plan_line line;
    *out = (struct plan_values){.changed = fit_changed(build, question->bike), .score = {PLAN_NO_SCORE, PLAN_NO_SCORE}};
    set_money_and_time(out, question, build);
    set_mass(out, question->bike, build, usual_mass_g);
    set_gears(out, question, build, cap_mm10);
    plan_line_of(&line, question->bike, build);
    out->line_steps = line.error_steps;
}
