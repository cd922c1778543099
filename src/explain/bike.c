/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/bike.h"

#include "explain/message.h"
#include "explain/value.h"

#include "trade/vocabulary.h"

#include <math.h>

static const enum trade_slot rings[3] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};

#define BIT(slot) (UINT32_C(1) << (slot))
#define LEVERS (BIT(TRADE_SLOT_RIGHT_BRAKE_LEVER) | BIT(TRADE_SLOT_LEFT_BRAKE_LEVER))

static int condition_of(const struct trade_part *part) {
    int property = trade_find_property(part->kind, base_slice_of("condition"));
    return property < 0 ? -1 : trade_get_word(part, (enum trade_property)property);
}

/* --- faults -------------------------------------------------------------------------------------------------------- */

static void put_fault(struct base_buffer *out, const char *code, const struct explain_arg *args, size_t n) {
    base_buffer_text(out, out->n > 0 ? " " : "");
    explain_say(out, "fault-seen.label");
    base_buffer_text(out, " ");
    explain_put(out, code, args, n);
}

static bool is_ring(enum trade_slot slot) { return slot == rings[0] || slot == rings[1] || slot == rings[2]; }

/* Elongation at which a chain of this family goes, percent; NAN when it is not told. */
static double chain_limit(const struct trade_part *chain) {
    int family = trade_get_word(chain, TRADE_CHAIN_FAMILY);
    for (size_t i = 0; i < trade_chains_n; i++) {
        if (family >= 0 && trade_chains[i].chain_family == family) {
            return trade_chains[i].worn_percent;
        }
    }
    return NAN;
}

/* A chain is told by its elongation where that is known and past the limit. */
static bool put_chain_wear(struct base_buffer *out, const struct trade_part *chain) {
    const struct trade_value *worn = trade_get(chain, TRADE_CHAIN_WORN_PERCENT);
    double limit = chain_limit(chain);
    if (trade_is_open(worn) || isnan(limit) || worn->number < limit) {
        return false;
    }
    int decimals = explain_decimals(TRADE_CHAIN_WORN_PERCENT, worn->number);
    const struct explain_arg args[] = {explain_known(worn->number, decimals, "%", worn->known),
                                       explain_known(limit, 2, "%", BASE_TABLE)};
    put_fault(out, "fault-seen.chain", args, 2);
    return true;
}

/* Of several rings it is told which one. */
static bool put_condition(struct base_buffer *out, const struct trade_bike *bike, enum trade_slot slot) {
    static const char *const codes[TRADE_CONDITION_COUNT] = {[TRADE_CONDITION_WORN] = "fault-seen.worn",
                                                             [TRADE_CONDITION_SEIZED] = "fault-seen.seized",
                                                             [TRADE_CONDITION_DAMAGED] = "fault-seen.damaged"};
    static const char *const ring_codes[TRADE_CONDITION_COUNT] = {[TRADE_CONDITION_WORN] = "fault-seen.ring-worn",
                                                                  [TRADE_CONDITION_SEIZED] = "fault-seen.ring-seized",
                                                                  [TRADE_CONDITION_DAMAGED] =
                                                                      "fault-seen.ring-damaged"};
    int condition = condition_of(&bike->fitted[slot].part);
    if (condition < 0 || !codes[condition]) {
        return false;
    }
    const struct explain_arg label = explain_words(trade_slot_rows[slot].label);
    bool which = is_ring(slot) && trade_bike_rings(bike) > 1;
    put_fault(out, which ? ring_codes[condition] : codes[condition], &label, 1);
    return true;
}

static bool says(const struct trade_part *part, enum trade_property property, unsigned word) {
    return trade_get_word(part, property) == (int)word;
}

unsigned explain_faults(struct base_buffer *out, const struct trade_bike *bike, enum trade_slot slot) {
    const struct trade_part *part = &bike->fitted[slot].part;
    unsigned n = 0;
    if (!trade_bike_has(bike, slot)) {
        return 0;
    }
    bool told = slot == TRADE_SLOT_CHAIN && put_chain_wear(out, part);
    told = told || put_condition(out, bike, slot);
    n += told;
    if (slot == TRADE_SLOT_CASSETTE && !told && says(part, TRADE_CASSETTE_WORN, TRADE_YES_NO_YES)) {
        put_fault(out, "fault-seen.worn", NULL, 0);
        n++;
    }
    if (slot == TRADE_SLOT_HANGER && !told && says(part, TRADE_HANGER_STRAIGHT, TRADE_YES_NO_NO)) {
        put_fault(out, "fault-seen.bent", NULL, 0);
        n++;
    }
    if (slot == TRADE_SLOT_OUTER_RING &&
        says(&bike->fitted[TRADE_SLOT_CRANK].part, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_YES)) {
        put_fault(out, "fault-seen.rings-fixed", NULL, 0);
        n++;
    }
    return n;
}

/* --- the whole ----------------------------------------------------------------------------------------------------- */

struct explain_counts explain_count_bike(const struct trade_bike *bike) {
    struct explain_counts counts = {.rings = trade_bike_rings(bike)};
    const struct trade_value *sprockets = trade_get(&bike->fitted[TRADE_SLOT_CASSETTE].part, TRADE_CASSETTE_SPROCKETS);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        counts.parts += bike->fitted[s].state == TRADE_THERE;
        counts.faults += explain_faults(&text, bike, (enum trade_slot)s);
        base_buffer_clear(&text);
    }
    counts.sprockets = trade_is_open(sprockets) ? 0 : sprockets->counts->n;
    return counts;
}

void explain_rings(struct base_buffer *out, const struct trade_bike *bike) {
    struct base_buffer teeth[3];
    const char *words[3] = {NULL};
    size_t n = 0;
    for (size_t i = 0; i < 3; i++) {
        if (!trade_bike_has(bike, rings[i])) {
            continue;
        }
        const struct trade_value *value = trade_get(&bike->fitted[rings[i]].part, TRADE_RING_TEETH);
        struct explain_arg number = explain_known(trade_is_open(value) ? NAN : value->number, 0, "", value->known);
        base_buffer_init(&teeth[n], 0);
        explain_put_arg(&teeth[n], &number);
        words[n] = explain_held(out, &teeth[n]);
        n++;
    }
    if (n > 0) {
        explain_put_list(out, words, n, "list.and");
        base_buffer_text(out, " ");
        explain_say(out, "unit.teeth");
        base_buffer_text(out, ".");
    }
    for (size_t i = 0; i < n; i++) {
        base_buffer_clear(&teeth[i]);
    }
}

uint32_t explain_not_looked_at(const struct trade_bike *bike) {
    uint32_t slots = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        int condition = condition_of(&bike->fitted[s].part);
        if (trade_bike_has(bike, (enum trade_slot)s) && (bike->fitted[s].state == TRADE_NOT_LOOKED_AT ||
                                                         condition < 0 || condition == TRADE_CONDITION_NOT_LOOKED_AT)) {
            slots |= BIT(s);
        }
    }
    return slots;
}

const char *explain_slot(enum trade_slot slot) {
    return slot == TRADE_SLOT_CABLES ? explain_message("slots.cables") : trade_slot_rows[slot].label;
}

void explain_slots(struct base_buffer *out, uint32_t slots) {
    const char *words[TRADE_SLOTS] = {NULL};
    size_t n = 0;
    bool both = (slots & LEVERS) == LEVERS;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (!(slots & BIT(s)) || (both && s == TRADE_SLOT_LEFT_BRAKE_LEVER)) {
            continue;
        }
        bool levers = both && s == TRADE_SLOT_RIGHT_BRAKE_LEVER;
        words[n++] = levers ? explain_message("slots.brake-levers") : explain_slot((enum trade_slot)s);
    }
    explain_put_list(out, words, n, "list.and");
}
