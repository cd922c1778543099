/* SPDX-License-Identifier: Apache-2.0 */
/* The rider: where nobody asked, what the use of the bike and its bar tell, and what follows from that. */
#include "trade/complete.h"

#include <math.h>

/* What is usual on such a bike is assumed, however well use and bar are known. */
static void assume_word(struct trade_part *rider, enum trade_property property, const struct trade_said *said) {
    trade_fill(rider, property, trade_said_word(said, BASE_ASSUMED));
}

static bool is_use(uint64_t uses, int use) { return use >= 0 && (uses >> use & 1); }

/* Where the hands usually are. With no use, as on a bike that is ridden off road: the bar alone decides between rows. */
static void assume_position(struct trade_part *rider, int bar, int use) {
    struct trade_said said = {0};
    int as_use = use >= 0 ? use : TRADE_USE_OFF_ROAD;
    for (size_t i = 0; i < trade_positions_n; i++) {
        const struct trade_positions_row *row = &trade_positions[i];
        if (row->of_bar == bar && is_use(row->uses, as_use)) {
            trade_hear(&said, row->position, row->mark);
        }
    }
    assume_word(rider, TRADE_RIDER_POSITION, &said);
}

/* With no use, the tyres and roads of a town. */
static void assume_ground(struct trade_part *rider, int use) {
    struct trade_said said = {0};
    int as_use = use >= 0 ? use : TRADE_USE_CITY;
    for (size_t i = 0; i < trade_grounds_n; i++) {
        const struct trade_grounds_row *row = &trade_grounds[i];
        if (is_use(row->uses, as_use)) {
            trade_hear(&said, row->ground, row->mark);
        }
    }
    assume_word(rider, TRADE_RIDER_TYRE_AND_GROUND, &said);
}

static bool is_child_of(const struct trade_bike *bike) {
    return trade_get_word(&bike->self, TRADE_BIKE_USE) == TRADE_USE_CHILD;
}

void trade_rider_complete(struct trade_part *rider, const struct trade_bike *bike) {
    if (is_child_of(bike)) {
        trade_fill(rider, TRADE_RIDER_MASS_KG,
                   trade_number(trade_limits[TRADE_LIMIT_CHILD_MASS_KG].value, BASE_ASSUMED));
    }
    trade_part_complete(rider);
}

/* The rows are of grown-ups. Of bodies of one shape the areas are as the masses to the power of two thirds. */
static void shrink_drag(struct trade_value *cda, const struct trade_part *rider) {
    double grown_kg = trade_property_rows[TRADE_RIDER_MASS_KG].fallback;
    double share = fmin(pow(trade_get_number(rider, TRADE_RIDER_MASS_KG) / grown_kg, 2.0 / 3.0), 1.0);
    if (!trade_is_open(cda)) {
        *cda = trade_number(cda->number * share, BASE_ASSUMED);
    }
}

static void fill_drag(struct trade_part *rider, bool child) {
    const struct trade_value *position = trade_get(rider, TRADE_RIDER_POSITION);
    struct trade_said said = {0};
    for (size_t i = 0; i < trade_positions_n; i++) {
        if (!trade_is_open(position) && trade_positions[i].position == (int)position->word) {
            trade_hear(&said, trade_positions[i].cda_m2, trade_positions[i].mark);
        }
    }
    struct trade_value cda = trade_said_number(&said, trade_follows(position).known);
    if (child) {
        shrink_drag(&cda, rider);
    }
    trade_fill(rider, TRADE_RIDER_CDA_M2, cda);
}

static void fill_rolling_and_grip(struct trade_part *rider) {
    const struct trade_value *ground = trade_get(rider, TRADE_RIDER_TYRE_AND_GROUND);
    struct trade_said crr = {0}, grip = {0};
    for (size_t i = 0; i < trade_grounds_n; i++) {
        if (!trade_is_open(ground) && trade_grounds[i].ground == (int)ground->word) {
            trade_hear(&crr, trade_grounds[i].crr, trade_grounds[i].mark);
        }
    }
    for (size_t i = 0; i < trade_grips_n; i++) {
        if (!trade_is_open(ground) && trade_grips[i].ground == (int)ground->word) {
            trade_hear(&grip, trade_grips[i].grip, trade_grips[i].mark);
        }
    }
    trade_fill(rider, TRADE_RIDER_CRR, trade_said_number(&crr, trade_follows(ground).known));
    trade_fill(rider, TRADE_RIDER_GRIP, trade_said_number(&grip, trade_follows(ground).known));
}

/* The middle of what riders in this state hold. */
static void fill_power(struct trade_part *rider) {
    trade_fill(rider, TRADE_RIDER_TRAINING, trade_word(TRADE_TRAINING_RECREATIONAL, BASE_ASSUMED));
    const struct trade_value *training = trade_get(rider, TRADE_RIDER_TRAINING);
    struct trade_said said = {0};
    for (size_t i = 0; i < trade_trainings_n; i++) {
        const struct trade_trainings_row *row = &trade_trainings[i];
        if (row->training == (int)training->word) {
            trade_hear(&said, 0.5 * (row->low_w_kg + row->high_w_kg), row->mark);
        }
    }
    trade_fill(rider, TRADE_RIDER_POWER_W_PER_KG, trade_said_number(&said, trade_follows(training).known));
}

void trade_bike_complete_rider(struct trade_bike *bike) {
    struct trade_part *rider = &bike->rider;
    int use = trade_get_word(&bike->self, TRADE_BIKE_USE);
    assume_position(rider, trade_get_word(&bike->frame, TRADE_FRAME_BAR), use);
    assume_ground(rider, use);
    fill_drag(rider, is_child_of(bike));
    fill_rolling_and_grip(rider);
    fill_power(rider);
    struct trade_part *crank = trade_part_in(bike, TRADE_SLOT_CRANK);
    if (crank) {
        trade_fill(rider, TRADE_RIDER_CRANK_MM, *trade_get(crank, TRADE_CRANK_ARM_MM));
    }
}
