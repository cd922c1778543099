/* SPDX-License-Identifier: Apache-2.0 */
/* Rear derailleur and shifter from their shifting families. */
#include "trade/complete.h"
#include "trade/vocabulary.h"

#include <math.h>

static void fill_ratio(struct trade_part *derailleur) {
    const struct trade_value *pulls = trade_get(derailleur, TRADE_REAR_DERAILLEUR_PULLS);
    struct trade_said ratios = {0};
    for (unsigned pull = 0; pull < TRADE_PULL_COUNT && !trade_is_open(pulls); pull++) {
        if ((pulls->words >> pull & 1) != 0) {
            const struct trade_pulls_row *row = trade_pulls_of(pull);
            trade_hear(&ratios, row ? row->ratio : NAN, row ? row->mark : TRADE_MARK_MEM_LOW);
        }
    }
    trade_fill(derailleur, TRADE_REAR_DERAILLEUR_RATIO, trade_said_number(&ratios, pulls->known));
}

/* The least that such cages take up which are rated for as large a sprocket, so that an assumption never promises slack
 * that is not there. */
static void fill_capacity(struct trade_part *derailleur) {
    int cage = trade_get_word(derailleur, TRADE_REAR_DERAILLEUR_CAGE);
    double largest = trade_get_number(derailleur, TRADE_REAR_DERAILLEUR_LARGEST_TEETH);
    double least = INFINITY;
    for (size_t i = 0; i < trade_cages_n; i++) {
        if (trade_cages[i].cage == cage && largest >= trade_cages[i].largest_low_teeth &&
            largest <= trade_cages[i].largest_high_teeth) {
            least = fmin(least, trade_cages[i].capacity_low_teeth);
        }
    }
    if (isfinite(least)) {
        trade_fill(derailleur, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, trade_number(least, BASE_ASSUMED));
    }
}

void trade_complete_rear_derailleur(struct trade_part *derailleur) {
    fill_ratio(derailleur);
    fill_capacity(derailleur);
}

/* The families are those of the rear derailleur: a left shifter has none. */
void trade_complete_shifter(struct trade_part *shifter) {
    const struct trade_value *pull = trade_get(shifter, TRADE_SHIFTER_PULL);
    const struct trade_pulls_row *row = trade_is_open(pull) ? NULL : trade_pulls_of(pull->word);
    struct trade_said pull_mm = {0};
    if (!row || trade_get_word(shifter, TRADE_SHIFTER_SIDE) == TRADE_SIDE_LEFT) {
        return;
    }
    trade_hear(&pull_mm, row->pull_mm, row->mark);
    trade_fill(shifter, TRADE_SHIFTER_PULL_MM, trade_said_number(&pull_mm, pull->known));
    if (row->speeds > 0) { /* the family is named by it, however well the rest of the row is known */
        trade_fill(shifter, TRADE_SHIFTER_POSITIONS, trade_number(row->speeds, trade_follows(pull).known));
    }
}
