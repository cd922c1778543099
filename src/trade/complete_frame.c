/* SPDX-License-Identifier: Apache-2.0 */
/* The frame from its hub width and shell; the wheel from its tyre. */
#include "trade/complete.h"

#include "base/number.h"

#include <math.h>
#include <string.h>

/* Quick-release and nutted axles sit in the same slotted dropouts; a thru-axle does not. */
static bool same_dropouts(int a, int b) {
    return a < 0 || b < 0 || (a == TRADE_AXLE_THRU_12) == (b == TRADE_AXLE_THRU_12);
}

static void fill_hub(struct trade_part *frame) {
    const struct trade_value *width = trade_get(frame, TRADE_FRAME_HUB_WIDTH_MM);
    int axle = trade_get_word(frame, TRADE_FRAME_AXLE);
    struct trade_said axles = {0};
    struct trade_said recess = {0};
    if (trade_is_open(width)) {
        return;
    }
    for (size_t i = 0; i < trade_hub_widths_n; i++) {
        const struct trade_hub_widths_row *row = &trade_hub_widths[i];
        if (trade_near(row->width_mm, width->number)) {
            trade_hear(&axles, row->axle, row->mark);
            if (same_dropouts(row->axle, axle)) {
                trade_hear(&recess, row->recess_mm, row->mark);
            }
        }
    }
    trade_fill(frame, TRADE_FRAME_RECESS_MM, trade_said_number(&recess, width->known));
    /* The table names the usual axle of a width; others exist. */
    trade_fill(frame, TRADE_FRAME_AXLE, trade_said_word(&axles, base_weakest(width->known, BASE_ASSUMED)));
}

/* Some shells come in one width only. */
static void fill_shell_width(struct trade_part *frame) {
    const struct trade_value *shell = trade_get(frame, TRADE_FRAME_SHELL);
    struct trade_said width = {0};
    for (size_t i = 0; i < trade_shells_n; i++) {
        const struct trade_shells_row *row = &trade_shells[i];
        if (!trade_is_open(shell) && row->shell == (int)shell->word) {
            trade_hear(&width, row->widths_n == 1 ? row->widths[0] : NAN, row->mark);
        }
    }
    trade_fill(frame, TRADE_FRAME_SHELL_WIDTH_MM, trade_said_number(&width, shell->known));
}

void trade_complete_frame(struct trade_part *frame) {
    fill_hub(frame);
    fill_shell_width(frame);
}

/* "54-622": width and bead seat diameter in mm (ISO 5775-1). False when it is not written so. */
static bool read_tyre(const char *tyre, int64_t *width, int64_t *bead) {
    const char *dash = strchr(tyre, '-');
    if (!dash) {
        return false;
    }
    struct base_slice first = {tyre, (size_t)(dash - tyre)};
    return base_integer_read(width, first, 1, 999) == BASE_OK &&
           base_integer_read(bead, base_slice_of(dash + 1), 1, 999) == BASE_OK;
}

static void fill_from_tyre(struct trade_part *wheel, const struct trade_value *tyre) {
    int64_t width, bead;
    struct trade_said rolling = {0};
    enum base_known known = trade_follows(tyre).known;
    if (trade_is_open(tyre) || !read_tyre(tyre->name, &width, &bead)) {
        return;
    }
    for (size_t i = 0; i < trade_tyres_n; i++) {
        const struct trade_tyres_row *row = &trade_tyres[i];
        if (trade_near(row->width_mm, (double)width) && trade_near(row->bead_mm, (double)bead)) {
            trade_hear(&rolling, row->rolling_mm, row->mark);
        }
    }
    trade_fill(wheel, TRADE_WHEEL_ROLLING_MM, trade_said_number(&rolling, known));
    trade_fill(wheel, TRADE_WHEEL_TYRE_WIDTH_MM, trade_number((double)width, known));
    trade_fill(wheel, TRADE_WHEEL_BEAD_SEAT_MM, trade_number((double)bead, known));
}

/* Circumference of a tyre as high as it is wide: pi (bead seat + 2 width) (Wheel size chart discussion with formula,
 * Cycling Forums). Up to 4 % more than the printed tables for small and wide tyres, so it is assumed. */
static void fill_by_formula(struct trade_part *wheel) {
    const double pi = 3.14159265358979323846;
    double rolling = pi * (trade_get_number(wheel, TRADE_WHEEL_BEAD_SEAT_MM) +
                           2 * trade_get_number(wheel, TRADE_WHEEL_TYRE_WIDTH_MM));
    if (!isnan(rolling)) {
        trade_fill(wheel, TRADE_WHEEL_ROLLING_MM, trade_number(rolling, BASE_ASSUMED));
    }
}

void trade_complete_wheel(struct trade_part *wheel) {
    fill_from_tyre(wheel, trade_get(wheel, TRADE_WHEEL_TYRE));
    fill_by_formula(wheel);
}
