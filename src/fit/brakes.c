/* SPDX-License-Identifier: Apache-2.0 */
#include "fit/brakes.h"

#include <assert.h>

const struct trade_brakes_row *fit_brake_row(unsigned brake) {
    const struct trade_brakes_row *row = trade_brakes;
    while (row->brake != (int)brake) {
        row++;
        assert(row < trade_brakes + trade_brakes_n); /* the compiler of the tables sees to completeness */
    }
    return row;
}
