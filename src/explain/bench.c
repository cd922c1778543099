/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/bench.h"

#include "explain/message.h"
#include "explain/value.h"
#include "trade/vocabulary.h"

#include <math.h>

const char *explain_bench(enum trade_bench operation) {
    return explain_message_of((const char *const[]){"bench.", trade_bench_rows[operation].name}, 2);
}

const char *explain_bench_caution(enum trade_bench operation) {
    return explain_message_of((const char *const[]){"bench.", trade_bench_rows[operation].name, ".caution"}, 3);
}

/* A comma before everything but the first. */
static void next(struct base_buffer *out) { base_buffer_text(out, out->n > 0 ? ", " : ""); }

void explain_tools(struct base_buffer *out, uint64_t tools) {
    for (unsigned t = 0; t < TRADE_TOOLS; t++) {
        if ((tools >> t & 1) != 0) {
            next(out);
            base_buffer_text(out, trade_tool_rows[t].label);
        }
    }
}

/* --- torques and threads -------------------------------------------------------------------------------------------- */

static void put_torque(struct base_buffer *out, const struct trade_torques_row *row) {
    if (isnan(row->low_nm)) {
        explain_say(out, "torque.as-marked");
    } else {
        explain_range(out, row->low_nm, row->high_nm, explain_message("unit.nm"), work_torque_known(row));
    }
}

void explain_torques(struct base_buffer *out, enum trade_bench operation) {
    const int *rows = trade_bench_rows[operation].torques;
    bool several = rows[0] >= 0 && rows[1] >= 0;
    for (size_t i = 0; i < 2 && rows[i] >= 0; i++) {
        next(out);
        if (several) {
            base_buffer_text(out, trade_torques[rows[i]].what);
            base_buffer_char(out, ' ');
        }
        put_torque(out, &trade_torques[rows[i]]);
    }
}

void explain_thread(struct base_buffer *out, enum trade_bench operation, const struct trade_bike *bike) {
    const struct trade_bench_row *row = &trade_bench_rows[operation];
    int hand = work_hand(operation, bike);
    bool of_shell = row->hand_by == TRADE_HAND_BY_SHELL_DRIVE || row->hand_by == TRADE_HAND_BY_SHELL_OTHER;
    int surface = row->torques[0] >= 0 ? trade_torques[row->torques[0]].surface : row->surface;
    if (hand == TRADE_HAND_LEFT || (of_shell && hand >= 0)) {
        base_buffer_text(out, trade_word_label(TRADE_DOMAIN_HAND, (unsigned)hand));
    } else if (of_shell) {
        explain_say(out, "work.hand-unread");
    }
    if (surface >= 0 && surface != TRADE_SURFACE_UNKNOWN && surface != TRADE_SURFACE_PLAIN) {
        next(out);
        base_buffer_text(out, trade_word_label(TRADE_DOMAIN_SURFACE, (unsigned)surface));
    }
}

/* --- readings ------------------------------------------------------------------------------------------------------- */

void explain_reading_name(struct base_buffer *out, const struct work_reading *reading) {
    if (reading->torque >= 0) {
        base_buffer_text(out, trade_torques[reading->torque].what);
        return;
    }
    const char *text = explain_message_of((const char *const[]){"check.", trade_check_rows[reading->check].name}, 2);
    base_buffer_text(out, text ? text : trade_check_rows[reading->check].name);
}

void explain_limits(struct base_buffer *out, const struct work_reading *reading) {
    const char *unit = explain_unit_of(reading->unit);
    bool low = !isnan(reading->low), high = !isnan(reading->high);
    if (low && high) {
        explain_range(out, reading->low, reading->high, unit, reading->known);
    } else if (low) {
        explain_tell(out, "work.at-least",
                     explain_known(reading->low, explain_tenths_of(reading->low), unit, reading->known));
    } else if (high) {
        explain_tell(out, "work.at-most",
                     explain_known(reading->high, explain_tenths_of(reading->high), unit, reading->known));
    } else {
        explain_say(out, "torque.as-marked");
    }
}

/* --- what spoils the job -------------------------------------------------------------------------------------------- */

/* Sentences as they are added. */
struct sentences {
    struct base_buffer *at;
    size_t n;
};

static struct base_buffer *add(struct sentences *s) {
    base_buffer_init(&s->at[s->n], 0);
    return &s->at[s->n++];
}

static struct explain_arg hand_of(int hand) {
    return explain_words(trade_word_label(TRADE_DOMAIN_HAND, (unsigned)hand));
}

static void add_threads(struct sentences *s, const struct work_red *red) {
    if (red->cups && red->drive_hand >= 0) {
        explain_tell(add(s), "work.red-cups", hand_of(red->drive_hand),
                     hand_of(red->other_hand >= 0 ? red->other_hand : TRADE_HAND_RIGHT));
    } else if (red->cups) {
        explain_say(add(s), "work.red-cups-unread");
    }
    for (size_t i = 0; i < red->n_left; i++) {
        explain_tell(add(s), "work.red-left", explain_words(trade_torques[red->left[i]].what));
    }
}

static void add_spacers(struct sentences *s, const struct work_red *red) {
    if (red->spacers) {
        enum base_known known = trade_known_of(red->spacers->mark);
        explain_tell(add(s), "work.red-spacers", explain_known(red->spacers->drive_mm, 1, "mm", known),
                     explain_known(red->spacers->other_mm, 1, "mm", known));
    }
    if (!isnan(red->drive_spacer_mm)) {
        explain_tell(add(s), "work.red-drive-spacer", explain_number(red->drive_spacer_mm, 1, "mm"));
    }
    if (!isnan(red->offset_mm)) {
        explain_tell(add(s), "work.red-offset", explain_number(red->offset_mm, 1, "mm"));
    }
    if (!isnan(red->behind_mm)) {
        explain_tell(add(s), red->behind_mm > 0 ? "work.red-behind" : "work.red-behind-none",
                     explain_number(red->behind_mm, 2, "mm"));
    }
}

size_t explain_red(struct base_buffer out[EXPLAIN_RED_MAX], const struct work_red *red) {
    static const char *const sides[2] = {"work.red-fluid-right", "work.red-fluid-left"};
    struct sentences s = {out, 0};
    add_threads(&s, red);
    add_spacers(&s, red);
    if (red->links > 0) {
        explain_tell(add(&s), red->quick_link ? "work.red-chain-link" : "work.red-chain-pin", explain_count(red->links),
                     explain_count(red->links - 1));
    }
    for (size_t i = 0; i < 2; i++) {
        if (red->fluid[i] >= 0) {
            explain_tell(add(&s), sides[i],
                         explain_words(trade_word_label(TRADE_DOMAIN_LEVER_PULL, (unsigned)red->fluid[i])));
        }
    }
    return s.n;
}
