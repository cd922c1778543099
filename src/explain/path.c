/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/path.h"

#include "explain/message.h"

#include <string.h>

/* What is measured when a sum over slots is open. */
static const struct {
    unsigned subject;
    enum trade_property property;
} behind_measure[FIT_MEASURES] = {
    [FIT_OUTER_PLANE] = {TRADE_SLOT_CRANK, TRADE_CRANK_OUTER_PLANE_MM},
    [FIT_MIDDLE_PLANE] = {TRADE_SLOT_CRANK, TRADE_CRANK_MIDDLE_PLANE_MM},
    [FIT_INNER_PLANE] = {TRADE_SLOT_CRANK, TRADE_CRANK_INNER_PLANE_MM},
    [FIT_REAR_MIDDLE] = {FIT_FRAME, TRADE_FRAME_GAP_MM},
    [FIT_REAR_OUTER] = {FIT_FRAME, TRADE_FRAME_GAP_MM},
    [FIT_REAR_LARGEST] = {FIT_FRAME, TRADE_FRAME_GAP_MM},
};

enum trade_property explain_property_behind(unsigned *subject, unsigned property) {
    if (*subject >= FIT_MEASURE) {
        unsigned measure = *subject - FIT_MEASURE;
        *subject = behind_measure[measure].subject;
        return behind_measure[measure].property;
    }
    if (*subject >= FIT_NOW) {
        *subject -= FIT_NOW;
    }
    if (property < TRADE_PROPERTIES) {
        return (enum trade_property)property;
    }
    bool teeth = property == FIT_SMALLEST || property == FIT_LARGEST || property == FIT_SPEEDS || property == FIT_TEETH;
    return teeth ? TRADE_CASSETTE_SPROCKETS : TRADE_PROPERTIES;
}

void explain_path(struct base_buffer *out, unsigned subject, unsigned property) {
    enum trade_property behind = explain_property_behind(&subject, property);
    if (subject == FIT_FRAME || subject == FIT_WHEEL) {
        base_buffer_text(out, subject == FIT_FRAME ? "/frame" : "/wheel");
    } else if (behind < TRADE_PROPERTIES && trade_property_rows[behind].kind == TRADE_KIND_RIDER) {
        base_buffer_text(out, "/rider");
    } else if (subject < TRADE_SLOTS) {
        base_buffer_text(out, "/fitted/");
        base_buffer_text(out, trade_slot_rows[subject].name);
    }
    if (behind < TRADE_PROPERTIES) {
        base_buffer_text(out, "/");
        base_buffer_text(out, trade_property_rows[behind].name);
    }
}

const char *explain_text_for(const char *what, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    const char *const words[] = {what, ".", trade_kind_rows[row->kind].name, ".", row->name};
    return explain_message_of(words, sizeof words / sizeof words[0]);
}

/* The message name.<kind>.<property>, {0}: the slot. */
static void put_own_name(struct base_buffer *out, const struct trade_property_row *row, const char *slot) {
    struct base_buffer code;
    base_buffer_init(&code, 0);
    base_buffer_text(&code, "name.");
    base_buffer_text(&code, trade_kind_rows[row->kind].name);
    base_buffer_text(&code, ".");
    base_buffer_text(&code, row->name);
    explain_tell(out, explain_held(out, &code), explain_words(slot));
    base_buffer_clear(&code);
}

void explain_name(struct base_buffer *out, unsigned subject, unsigned property) {
    enum trade_property behind = explain_property_behind(&subject, property);
    if (behind == TRADE_PROPERTIES) {
        base_buffer_text(out, subject < TRADE_SLOTS ? trade_slot_rows[subject].label : "");
        return;
    }
    const struct trade_property_row *row = &trade_property_rows[behind];
    const char *slot = subject < TRADE_SLOTS ? trade_slot_rows[subject].label : "";
    if (explain_text_for("name", behind)) {
        put_own_name(out, row, slot);
    } else if (subject < TRADE_SLOTS) {
        explain_tell(out, "name.of", explain_words(row->label), explain_words(slot));
    } else {
        base_buffer_text(out, row->label);
    }
}

/* Does the way of measuring say itself what comes off first? */
static bool says_what_comes_off(const struct trade_property_row *row) {
    return strstr(row->measure, row->needs_off == TRADE_NEEDS_OFF_WHEEL ? "wheel out" : " off") != NULL;
}

void explain_how(struct base_buffer *out, unsigned subject, unsigned property) {
    static const char *const off[TRADE_NEEDS_OFF_COUNT] = {[TRADE_NEEDS_OFF_WHEEL] = "off.wheel",
                                                           [TRADE_NEEDS_OFF_CASSETTE] = "off.cassette",
                                                           [TRADE_NEEDS_OFF_CRANK] = "off.crank",
                                                           [TRADE_NEEDS_OFF_BRACKET] = "off.bracket",
                                                           [TRADE_NEEDS_OFF_CONTROLS] = "off.controls"};
    enum trade_property behind = explain_property_behind(&subject, property);
    if (behind == TRADE_PROPERTIES) {
        return;
    }
    const struct trade_property_row *row = &trade_property_rows[behind];
    if (off[row->needs_off] && !says_what_comes_off(row)) {
        explain_say(out, off[row->needs_off]);
        base_buffer_text(out, row->measure[0] != '\0' ? " " : "");
    }
    base_buffer_text(out, row->measure);
}
