/* SPDX-License-Identifier: Apache-2.0 */
#include "format/wish_in.h"

#include "format/document.h"
#include "format/item.h"
#include "format/json.h"
#include "format/slots_in.h"

#include <math.h>

/* Development of a gear, m a turn: from a child's smallest bike to far beyond any that is ridden. */
static const struct format_range development = {.low = 0.1, .high = 30};

static const struct format_range sprocket_range = {.low = 1, .high = 20, .whole = true};

/* null says 'any number', which is not the same as leaving it out. */
static void read_rings(struct trade_wish *wish, const struct format_key *key) {
    double rings = 0;
    if (key->there && (key->item.type == FORMAT_NOTHING ||
                       format_read_number(&rings, &key->place, &key->item, (struct format_range){1, 3, true}))) {
        wish->rings = (unsigned)rings;
    }
}

static void read_sprockets(struct trade_wish *wish, const struct format_key *key) {
    struct format_list list;
    struct format_item one;
    struct format_place at;
    if (key->item.type == FORMAT_NOTHING ||
        !format_list_init(&list, &key->place, &key->item, "a list of the numbers of sprockets that may be")) {
        return;
    }
    while (format_list_next(&list, &one, &at)) {
        double n = 0;
        if (!format_read_number(&n, &at, &one, sprocket_range)) {
            continue;
        }
        if (wish->sprockets >> (unsigned)n & 1) {
            format_fault_item(&at, &one, "each number once in the list", NULL);
        }
        wish->sprockets |= 1u << (unsigned)n;
    }
    if (json_array_size(key->item.json) == 0) {
        format_fault(&key->place, "an empty list", "at least one number, or null for any", NULL);
    }
}

static void read_number(double *out, const struct format_key *key, struct format_range range) {
    if (key->item.type != FORMAT_NOTHING && !format_read_number(out, &key->place, &key->item, range)) {
        *out = NAN;
    }
}

/* --- climbs -------------------------------------------------------------------------------------------------------- */

static const struct format_range gradient = {.low = 1, .high = 60};
static const struct format_range cadence = {.low = 20, .high = 200};

/* One hill; without a cadence it is the low end of the rider's band. */
static void read_climb(struct trade_climb *out, struct format_reader *reader, const struct format_path *path,
                       json_t *object) {
    static const char *const names_of_climb[] = {"gradient_percent", "cadence_rpm"};
    struct format_path gradient_step = {.up = path, .key = "gradient_percent"},
                       cadence_step = {.up = path, .key = "cadence_rpm"};
    struct format_place gradient_at = format_at(&reader->source, &gradient_step),
                        cadence_at = format_at(&reader->source, &cadence_step);
    struct format_item gradient_item = format_item_json(json_object_get(object, "gradient_percent")),
                       cadence_item = format_item_json(json_object_get(object, "cadence_rpm"));
    *out = (struct trade_climb){NAN, NAN, NAN, BASE_OPEN};
    format_json_check_keys(object, &reader->source, path, names_of_climb, 2, "gradient_percent or cadence_rpm");
    if (!format_read_number(&out->gradient_percent, &gradient_at, &gradient_item, gradient)) {
        return; /* the fault is told; it must be there */
    }
    if (cadence_item.type != FORMAT_NOTHING &&
        !format_read_number(&out->cadence_rpm, &cadence_at, &cadence_item, cadence)) {
        return;
    }
}

/* An object, or a list of up to TRADE_CLIMBS_MAX. */
static void read_climbs(struct trade_wish *wish, struct format_reader *reader, const struct format_key *key) {
    static const char wanted[] = "an object of gradient_percent and cadence_rpm, or a list of 1 to 8 of them";
    struct format_list list;
    struct format_item one;
    struct format_place at;
    if (key->item.type == FORMAT_NOTHING) {
        return;
    }
    if (key->item.type == FORMAT_OBJECT) {
        read_climb(&wish->climbs[wish->n_climbs++], reader, &key->step, key->item.json);
        return;
    }
    size_t n = json_array_size(key->item.json);
    if (key->item.type == FORMAT_LIST && (n == 0 || n > TRADE_CLIMBS_MAX)) {
        format_fault(&key->place, n == 0 ? "an empty list" : "more of them", wanted, NULL);
        return;
    }
    if (!format_list_init(&list, &key->place, &key->item, wanted)) {
        return;
    }
    while (format_list_next(&list, &one, &at)) {
        if (one.type == FORMAT_OBJECT) {
            read_climb(&wish->climbs[wish->n_climbs++], reader, at.path, one.json);
        } else {
            format_fault_item(&at, &one, "an object of gradient_percent and cadence_rpm", NULL);
        }
    }
}

/* --- money, slots, what is compared -------------------------------------------------------------------------------- */

/* Whole JSON numbers only: 400.00 would be taken for the currency's units, not for its cents. */
static void read_budget(struct trade_wish *wish, const struct format_key *key) {
    static const json_int_t most = 1000000000000;
    if (key->item.type == FORMAT_NOTHING) {
        return;
    }
    json_int_t budget = json_integer_value(key->item.json);
    if (!json_is_integer(key->item.json) || budget < 0 || budget > most) {
        format_fault_item(&key->place, &key->item, "a whole number of minor units, such as 40000 for 400.00", NULL);
        return;
    }
    wish->budget_minor = budget;
}

static void read_keep(struct trade_wish *wish, const struct format_key *key) {
    if (key->item.type != FORMAT_NOTHING &&
        !format_read_slots(&wish->keep, &key->place, &key->item, FORMAT_EVERY_SLOT)) {
        wish->keep = 0;
    }
}

static void read_objectives(struct trade_wish *wish, const struct format_key *key) {
    uint64_t set;
    if (key->item.type == FORMAT_NOTHING ||
        !format_read_words(&set, &key->place, &key->item, trade_objective_names, TRADE_OBJECTIVES)) {
        return;
    }
    if (set == 0) {
        format_fault(&key->place, "an empty list", "at least one objective", NULL);
    }
    wish->objectives = (uint32_t)set;
    wish->objectives_named = true;
}

enum {
    RINGS,
    SPROCKETS,
    LOWEST_M_MAX,
    CLIMB,
    HIGHEST_M_MIN,
    HIGHEST_M_CAP,
    BUDGET,
    KEEP,
    LEAST_DIFFERENCE,
    OBJECTIVES,
    KEYS
};

static const char *const names[KEYS] = {
    [RINGS] = "rings",
    [SPROCKETS] = "sprockets",
    [LOWEST_M_MAX] = "lowest_m_max",
    [CLIMB] = "climb",
    [HIGHEST_M_MIN] = "highest_m_min",
    [HIGHEST_M_CAP] = "highest_m_cap",
    [BUDGET] = "budget",
    [KEEP] = "keep",
    [LEAST_DIFFERENCE] = "least_difference",
    [OBJECTIVES] = "objectives",
};

enum base_status format_wish_read(struct trade_wish *out, struct base_slice bytes, const char *file,
                                  struct base_faults *faults) {
    struct format_document document;
    enum base_status status = format_document_init(&document, bytes, file, faults, names, KEYS, "a key of a wish");
    if (status != BASE_OK) {
        return status;
    }
    const struct format_key *keys = document.keys;
    struct trade_wish wish;
    trade_wish_init(&wish);
    read_rings(&wish, &keys[RINGS]);
    read_sprockets(&wish, &keys[SPROCKETS]);
    read_number(&wish.lowest_m_max, &keys[LOWEST_M_MAX], development);
    read_climbs(&wish, &document.reader, &keys[CLIMB]);
    read_number(&wish.highest_m_min, &keys[HIGHEST_M_MIN], development);
    read_number(&wish.highest_m_cap, &keys[HIGHEST_M_CAP], development);
    read_budget(&wish, &keys[BUDGET]);
    read_keep(&wish, &keys[KEEP]);
    read_number(&wish.least_difference, &keys[LEAST_DIFFERENCE], (struct format_range){.low = 0, .high = 1});
    read_objectives(&wish, &keys[OBJECTIVES]);
    for (size_t i = 0; i < KEYS; i++) {
        wish.given = wish.given || keys[i].there;
    }
    status = format_reader_end(&document.reader);
    if (status == BASE_OK) {
        *out = wish;
    }
    format_document_clear(&document);
    return status;
}
