/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The cage of the rear derailleur against what the gears ask of it, and how many rings it is made for.
 *
 * Capacity is slack: (largest - smallest ring) + (largest - smallest sprocket). Beyond it, a chain that is long enough
 * for large and large hangs loose in small and small; by a few teeth that is lived with, and those gears are named.
 */
#include "fit/rings.h"
#include "fit/rules.h"
#include "mech/chain.h"

enum { OUTER, MIDDLE, INNER, SMALLEST, LARGEST, CAPACITY, STEP, READS };
enum { FITS, SLACK, OVER, WIDE, TOO_WIDE };

static struct fit_verdict judge_step(const struct fit_values *v, int step) {
    int most = fit_known(v, STEP) ? fit_count(v, STEP) : step;
    if (step <= most) {
        return fit_silent();
    }
    bool tolerable = step <= most + (int)fit_limit(TRADE_LIMIT_FRONT_STEP_OVER_TEETH);
    struct fit_verdict out = fit_say(tolerable ? FIT_DRAWBACK : FIT_CLASH, tolerable ? WIDE : TOO_WIDE);
    fit_add_number(&out, step, 0, "T");
    fit_add_number(&out, most, 0, "T");
    return out;
}

static struct fit_verdict judge_slack(const struct fit_values *v, const struct fit_rings *rings) {
    int smallest = fit_count(v, SMALLEST), capacity = fit_count(v, CAPACITY);
    int needed = mech_chain_capacity_needed(rings->largest, rings->smallest, fit_count(v, LARGEST), smallest);
    int over = needed - capacity;
    struct fit_verdict out = fit_say(FIT_FITS, FITS);
    if (over > 0) {
        bool slack = over <= (int)fit_limit(TRADE_LIMIT_CAPACITY_OVER_TEETH);
        out = fit_say(slack ? FIT_DRAWBACK : FIT_CLASH, slack ? SLACK : OVER);
    }
    fit_add_number(&out, needed, 0, "T");
    fit_add_number(&out, capacity, 0, "T");
    if (out.kind == FIT_DRAWBACK) {
        fit_add_number(&out, rings->smallest, 0, "T");
        fit_add_number(&out, smallest + over, 0, "T"); /* from this sprocket on the cage holds it tight */
    }
    return out;
}

static struct fit_verdict judge(const struct fit_values *v) {
    struct fit_rings rings = fit_rings_of(v, OUTER);
    if (rings.n == 0) {
        return fit_silent();
    }
    struct fit_verdict step = judge_step(v, rings.largest - rings.smallest), slack = judge_slack(v, &rings);
    return step.kind > slack.kind ? step : slack;
}

const struct fit_rule fit_capacity = {
    .id = "capacity",
    .reads = {FIT_RING_TEETH(OUTER, MIDDLE, INNER, FIT_EMPTY_OK),
              [SMALLEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_SMALLEST, FIT_NEEDED),
              [LARGEST] = FIT_READ(TRADE_SLOT_CASSETTE, FIT_LARGEST, FIT_NEEDED),
              [CAPACITY] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, FIT_NEEDED),
              [STEP] = FIT_READ(TRADE_SLOT_REAR_DERAILLEUR, TRADE_REAR_DERAILLEUR_FRONT_STEP_TEETH, FIT_OPTIONAL)},
    .n_reads = READS,
    .reasons = {[FITS] = "capacity.fits",
                [SLACK] = "capacity.slack",
                [OVER] = "capacity.over",
                [WIDE] = "capacity.wide",
                [TOO_WIDE] = "capacity.too-wide"},
    .judge = judge,
    .source = "Capacity of the rear derailleur, De Fietssite",
};
