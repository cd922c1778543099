/* SPDX-License-Identifier: Apache-2.0 */
#include "mech/chain.h"

#include "mech/constants.h"
#include "mech/sprocket.h"

#include <math.h>
#include <stdbool.h>

/* Pitches; far below what a bicycle can be measured to, far above what a sum of doubles is off by. */
#define WHOLE_WITHIN 1e-6

#define CAPACITY_MAX 200
#define CENTRES_MAX 10000.0
#define LINKS_MAX 20000.0
#define STAY_MIN_MM 100.0
#define STAY_MAX_MM 1000.0

/* Comparisons are false for a value that is not a number. */
static bool bare_allowed(double bare) { return bare >= MECH_CHAIN_BARE_MIN && bare <= MECH_CHAIN_BARE_MAX; }

static bool wheels_allowed(int n1, int n2) {
    return mech_sprocket_teeth_allowed(n1) && mech_sprocket_teeth_allowed(n2);
}

static int whole_part(double links) { return (int)floor(links + WHOLE_WITHIN); }

static int up_to_even(double links) { return 2 * (int)ceil((links - WHOLE_WITHIN) / 2.0); }

static int rule_links(double bare, enum mech_chain_rule rule) {
    switch (rule) {
    case MECH_CHAIN_WIDE_RIGID:
        return whole_part(bare) + 5;
    case MECH_CHAIN_WIDE_SUSPENDED:
        return whole_part(bare) + 6;
    case MECH_CHAIN_ORDINARY:
        break;
    }
    return up_to_even(bare + 2.0);
}

enum base_status mech_chain_rule_links(int *out, double bare, enum mech_chain_rule rule) {
    if (!bare_allowed(bare)) {
        return BASE_BAD_INPUT;
    }
    *out = rule_links(bare, rule);
    return BASE_OK;
}

enum base_status mech_chain_links_to_cut(int *out, double bare, enum mech_chain_rule rule) {
    if (!bare_allowed(bare)) {
        return BASE_BAD_INPUT;
    }
    double least = fmax(rule_links(bare, rule), bare + 2.0);
    *out = up_to_even(least);
    return BASE_OK;
}

enum base_status mech_chain_single_links(int *out, double bare, bool half_link) {
    if (!bare_allowed(bare)) {
        return BASE_BAD_INPUT;
    }
    *out = half_link ? (int)ceil(bare - WHOLE_WITHIN) : up_to_even(bare);
    return BASE_OK;
}

enum base_status mech_chain_longest_links(int *out, double bare, int capacity_teeth, int needed_teeth) {
    if (!bare_allowed(bare) || capacity_teeth < 0 || capacity_teeth > CAPACITY_MAX || needed_teeth < 0 ||
        needed_teeth > CAPACITY_MAX) {
        return BASE_BAD_INPUT;
    }
    if (needed_teeth > capacity_teeth) {
        return BASE_NO;
    }
    /* Half a pitch a tooth, and two pitches at a time: so four teeth to spare allow the next even number. */
    *out = up_to_even(bare + 2.0) + 2 * ((capacity_teeth - needed_teeth) / 4);
    return BASE_OK;
}

int mech_chain_capacity_needed(int largest_ring, int smallest_ring, int largest_sprocket, int smallest_sprocket) {
    return (largest_ring - smallest_ring) + (largest_sprocket - smallest_sprocket);
}

double mech_chain_wear_percent(double measured_mm, int pitches) {
    double nominal_mm = MECH_PITCH_MM * pitches;
    return 100.0 * (measured_mm - nominal_mm) / nominal_mm;
}

double mech_chain_worn_mm(double percent, int pitches) { return MECH_PITCH_MM * pitches * (1.0 + percent / 100.0); }

static bool drive_allowed(double centres, int n1, int n2) {
    return centres > 0.0 && centres <= CENTRES_MAX && wheels_allowed(n1, n2);
}

static double squared(double x) { return x * x; }

enum base_status mech_chain_handbook_links(double *out, double centres, int n1, int n2) {
    if (!drive_allowed(centres, n1, n2)) {
        return BASE_BAD_INPUT;
    }
    *out = 2.0 * centres + (n1 + n2) / 2.0 + squared((n2 - n1) / (2.0 * MECH_PI)) / centres;
    return BASE_OK;
}

enum base_status mech_chain_cosec_links(double *out, double centres, int n1, int n2) {
    if (!drive_allowed(centres, n1, n2)) {
        return BASE_BAD_INPUT;
    }
    double difference = 1.0 / sin(MECH_PI / n1) - 1.0 / sin(MECH_PI / n2);
    *out = 2.0 * centres + (n1 + n2) / 2.0 + squared(difference) / (4.0 * centres);
    return BASE_OK;
}

enum base_status mech_chain_handbook_centres(double *out, double links, int n1, int n2) {
    if (!(links > 0.0 && links <= LINKS_MAX) || !wheels_allowed(n1, n2)) {
        return BASE_BAD_INPUT;
    }
    double straight = links - (n1 + n2) / 2.0;
    double root = squared(straight) - 8.0 * squared((n2 - n1) / (2.0 * MECH_PI));
    if (straight <= 0.0 || root < 0.0) {
        return BASE_NO;
    }
    *out = (straight + sqrt(root)) / 4.0;
    return BASE_OK;
}

enum base_status mech_chain_workshop_links(double *out, double stay_mm, int ring, int sprocket) {
    if (!(stay_mm >= STAY_MIN_MM && stay_mm <= STAY_MAX_MM) || !wheels_allowed(ring, sprocket)) {
        return BASE_BAD_INPUT;
    }
    *out = 0.157 * stay_mm + ring / 2.0 + sprocket / 2.0 + 2.0;
    return BASE_OK;
}
