/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/shelf.h"

#include "fit/judge.h"
#include "plan/intern.h"
#include "plan/mass.h"
#include "trade/vocabulary.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* --- what keeps a part out ----------------------------------------------------------------------------------------- */

/* The first property that this part lacks although a rule needs it of one of the part's slots; -1 when none. */
static int lacking(const struct trade_part *part) {
    struct trade_value scratch;
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++) {
            const struct fit_read *read = &fit_rules[r]->reads[i];
            if (read->subject >= TRADE_SLOTS || trade_slot_rows[read->subject].kind != part->kind ||
                (read->flags & (FIT_OPTIONAL | FIT_OF_NEW)) == FIT_OPTIONAL) {
                continue;
            }
            if (trade_is_open(fit_part_value(&scratch, part, false, read->property))) {
                return read->property < TRADE_PROPERTIES ? (int)read->property : (int)TRADE_CASSETTE_SPROCKETS;
            }
        }
    }
    return -1;
}

/* What a new part must say for the measures: it is not in hand and can't be measured. Rings lie where the crank's maker
 * says; a spindle of a bracket has a length; a cassette has a stack. */
static int crank_lacks(const struct trade_part *part) {
    static const enum trade_property planes[3] = {TRADE_CRANK_OUTER_PLANE_MM, TRADE_CRANK_MIDDLE_PLANE_MM,
                                                  TRADE_CRANK_INNER_PLANE_MM};
    const struct trade_value *has = trade_get(part, TRADE_CRANK_PLACES);
    if (trade_is_open(has)) {
        return TRADE_CRANK_PLACES;
    }
    for (unsigned i = 0; i < 3; i++) {
        if ((has->words >> i & 1) && isnan(trade_get_number(part, planes[i]))) {
            return TRADE_CRANK_LINE_MM;
        }
    }
    return -1;
}

static int bracket_lacks(const struct trade_part *part) {
    int spindle = trade_get_word(part, TRADE_BOTTOM_BRACKET_SPINDLE);
    bool its_own = spindle == TRADE_SPINDLE_SQUARE_JIS || spindle == TRADE_SPINDLE_SQUARE_ISO ||
                   spindle == TRADE_SPINDLE_SPLINED_8_SHALLOW || spindle == TRADE_SPINDLE_SPLINED_8_DEEP ||
                   spindle == TRADE_SPINDLE_SPLINED_10;
    bool open = isnan(trade_get_number(part, TRADE_BOTTOM_BRACKET_SPINDLE_MM));
    return its_own && open ? TRADE_BOTTOM_BRACKET_SPINDLE_MM : -1;
}

static int cassette_lacks(const struct trade_part *part) {
    return isnan(trade_get_number(part, TRADE_CASSETTE_STACK_MM)) ? TRADE_CASSETTE_STACK_MM : -1;
}

/* The property that keeps a part out of every plan; -1 when none does. */
static int what_it_lacks(const struct trade_part *part) {
    int property = lacking(part);
    if (property >= 0) {
        return property;
    }
    switch (part->kind) {
    case TRADE_KIND_CRANK:
        return crank_lacks(part);
    case TRADE_KIND_BOTTOM_BRACKET:
        return bracket_lacks(part);
    case TRADE_KIND_CASSETTE:
        return cassette_lacks(part);
    default:
        return -1;
    }
}

/* --- what is read of a kind ---------------------------------------------------------------------------------------- */

#define READ_MAX 63 /* so that which of them are open fits a word */

struct reading {
    uint16_t property[READ_MAX];
    unsigned n;
};

static void add_read(struct reading *reading, unsigned property) {
    for (unsigned i = 0; i < reading->n; i++) {
        if (reading->property[i] == property) {
            return;
        }
    }
    assert(reading->n < READ_MAX);
    reading->property[reading->n++] = (uint16_t)property;
}

static bool is_of(unsigned subject, enum trade_kind kind) {
    return subject < TRADE_SLOTS && trade_slot_rows[subject].kind == kind;
}

static void add_reads(struct reading *reading, const struct fit_read *reads, unsigned n, enum trade_kind kind) {
    for (unsigned i = 0; i < n; i++) {
        if (is_of(reads[i].subject, kind) && reads[i].property != FIT_PRESENT && reads[i].property != FIT_FITTED) {
            add_read(reading, reads[i].property);
        }
    }
}

/* What the planner itself looks at: gears, the wished number of sprockets, which slot takes the part, what keeps it out. */
static void add_own_reads(struct reading *reading, enum trade_kind kind) {
    static const uint16_t own[] = {TRADE_RING_TEETH,
                                   TRADE_CRANK_PLACES,
                                   TRADE_CRANK_OUTER_PLANE_MM,
                                   TRADE_CRANK_MIDDLE_PLANE_MM,
                                   TRADE_CRANK_INNER_PLANE_MM,
                                   TRADE_BOTTOM_BRACKET_SPINDLE,
                                   TRADE_BOTTOM_BRACKET_SPINDLE_MM,
                                   TRADE_CASSETTE_STACK_MM};
    for (size_t i = 0; i < sizeof own / sizeof own[0]; i++) {
        if (trade_property_rows[own[i]].kind == kind) {
            add_read(reading, own[i]);
        }
    }
    for (unsigned property = FIT_SMALLEST; property <= FIT_TEETH && kind == TRADE_KIND_CASSETTE; property++) {
        add_read(reading, property);
    }
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        enum trade_property property;
        unsigned word;
        if (trade_slot_rows[slot].kind == kind && trade_slot_wants((enum trade_slot)slot, &property, &word)) {
            add_read(reading, property);
        }
    }
}

static void read_of(struct reading *out, enum trade_kind kind) {
    out->n = 0;
    for (size_t r = 0; r < fit_rules_n; r++) {
        add_reads(out, fit_rules[r]->reads, fit_rules[r]->n_reads, kind);
    }
    for (unsigned m = 0; m < FIT_MEASURES; m++) {
        for (size_t t = 0; t < fit_measures[m].n_terms; t++) {
            add_reads(out, fit_measures[m].terms[t].reads, fit_measures[m].terms[t].n_reads, kind);
        }
    }
    add_own_reads(out, kind);
}

/* --- classes ------------------------------------------------------------------------------------------------------- */

/* The values that are read, then which of them are open. */
static void fill_key(uint64_t *key, const struct reading *reading, const struct trade_part *part) {
    struct trade_value scratch;
    key[reading->n] = 0;
    for (unsigned i = 0; i < reading->n; i++) {
        const struct trade_value *value = fit_part_value(&scratch, part, false, reading->property[i]);
        key[i] = 0;
        if (trade_is_open(value)) {
            key[reading->n] |= UINT64_C(1) << i;
        } else {
            memcpy(&key[i], value, sizeof key[i]); /* the union comes first */
        }
    }
}

/* The class of each part, and how many there are. */
static enum base_status classify(uint32_t *of, uint32_t *n_classes, const struct plan_shelf *shelf,
                                 enum trade_kind kind, struct base_arena *scratch) {
    struct reading reading;
    struct plan_intern keys;
    uint64_t key[READ_MAX + 1];
    read_of(&reading, kind);
    plan_intern_init(&keys, scratch, (reading.n + 1) * sizeof *key);
    for (size_t i = 0; i < shelf->catalogue->n[kind]; i++) {
        fill_key(key, &reading, &shelf->catalogue->parts[kind][i]);
        of[i] = plan_intern_id(&keys, key, NULL);
        if (of[i] == PLAN_NO_ID) {
            return BASE_NO_MEMORY;
        }
    }
    *n_classes = keys.n;
    return BASE_OK;
}

static struct plan_shelved shelve(const struct plan_shelf *shelf, enum trade_kind kind, uint32_t index) {
    const struct trade_part *part = &shelf->catalogue->parts[kind][index];
    double mass = trade_get_number(part, plan_mass_property(kind));
    return (struct plan_shelved){part->price_minor, isnan(mass) ? shelf->usual_mass_g[kind] : mass, index};
}

static int compare_shelved(const void *x, const void *y) {
    const struct plan_shelved *a = x, *b = y;
    int by = (a->price_minor > b->price_minor) - (a->price_minor < b->price_minor);
    by = by ? by : (a->mass_g > b->mass_g) - (a->mass_g < b->mass_g);
    return by ? by : (a->index > b->index) - (a->index < b->index);
}

/* Puts the parts of a kind class by class. */
static enum base_status sort_kind(struct plan_shelf *shelf, enum trade_kind kind, const uint32_t *of, uint32_t n) {
    size_t n_parts = shelf->catalogue->n[kind];
    struct plan_class *classes = base_arena_alloc(&shelf->arena, n, sizeof *classes);
    struct plan_shelved *parts = base_arena_alloc(&shelf->arena, n_parts, sizeof *parts);
    if (!classes || !parts) {
        return BASE_NO_MEMORY;
    }
    for (size_t i = 0; i < n_parts; i++) {
        classes[of[i]].n++;
    }
    for (uint32_t c = 1; c < n; c++) {
        classes[c].from = classes[c - 1].from + classes[c - 1].n;
        classes[c - 1].n = 0;
    }
    if (n > 0) {
        classes[n - 1].n = 0;
    }
    for (size_t i = 0; i < n_parts; i++) {
        struct plan_class *class = &classes[of[i]];
        parts[class->from + class->n++] = shelve(shelf, kind, (uint32_t)i);
    }
    for (uint32_t c = 0; c < n; c++) {
        qsort(&parts[classes[c].from], classes[c].n, sizeof *parts, compare_shelved);
    }
    shelf->classes[kind] = classes;
    shelf->n_classes[kind] = n;
    shelf->parts[kind] = parts;
    return BASE_OK;
}

/* Notes what the classes of a kind lack. */
static enum base_status leave_out(struct plan_shelf *shelf, enum trade_kind kind, const uint32_t *of,
                                  struct base_arena *scratch) {
    int *lacking_of = base_arena_alloc(scratch, shelf->n_classes[kind], sizeof *lacking_of);
    shelf->lacks[kind] = base_arena_alloc(&shelf->arena, shelf->catalogue->n[kind], sizeof *shelf->lacks[kind]);
    if (!lacking_of || !shelf->lacks[kind]) {
        return BASE_NO_MEMORY;
    }
    for (size_t c = 0; c < shelf->n_classes[kind]; c++) {
        struct plan_class *class = &shelf->classes[kind][c];
        lacking_of[c] = what_it_lacks(&shelf->catalogue->parts[kind][shelf->parts[kind][class->from].index]);
        class->lacks = lacking_of[c] >= 0;
    }
    for (size_t i = 0; i < shelf->catalogue->n[kind]; i++) {
        int property = lacking_of[of[i]];
        shelf->lacks[kind][i] = property >= 0;
        if (property >= 0) {
            shelf->left_out[shelf->n_left_out++] = (struct trade_left_out){.id = shelf->catalogue->parts[kind][i].id,
                                                                           .property = (enum trade_property)property};
        }
    }
    return BASE_OK;
}

static enum base_status fill_kind(struct plan_shelf *shelf, enum trade_kind kind) {
    struct base_arena scratch;
    uint32_t n = 0;
    base_arena_init(&scratch, 0);
    uint32_t *of = base_arena_alloc(&scratch, shelf->catalogue->n[kind], sizeof *of);
    enum base_status status = of ? classify(of, &n, shelf, kind, &scratch) : BASE_NO_MEMORY;
    if (status == BASE_OK) {
        status = sort_kind(shelf, kind, of, n);
    }
    if (status == BASE_OK) {
        status = leave_out(shelf, kind, of, &scratch);
    }
    base_arena_clear(&scratch);
    return status;
}

static enum base_status fill(struct plan_shelf *shelf) {
    struct base_arena scratch;
    base_arena_init(&scratch, 0);
    enum base_status status = plan_usual_masses(shelf->usual_mass_g, shelf->catalogue, &scratch);
    base_arena_clear(&scratch);
    shelf->left_out = base_arena_alloc(&shelf->arena, shelf->catalogue->n_all, sizeof *shelf->left_out);
    status = status == BASE_OK && !shelf->left_out ? BASE_NO_MEMORY : status;
    for (unsigned kind = 0; kind < TRADE_KINDS && status == BASE_OK; kind++) {
        status = fill_kind(shelf, (enum trade_kind)kind);
    }
    return status;
}

enum base_status plan_shelf_new(struct plan_shelf **out, const struct trade_catalogue *catalogue) {
    struct plan_shelf *shelf = calloc(1, sizeof *shelf);
    if (!shelf) {
        return BASE_NO_MEMORY;
    }
    base_arena_init(&shelf->arena, 0);
    shelf->catalogue = catalogue;
    enum base_status status = fill(shelf);
    if (status == BASE_OK) {
        *out = shelf;
    } else {
        plan_shelf_free(shelf);
    }
    return status;
}

void plan_shelf_free(struct plan_shelf *shelf) {
    if (shelf) {
        base_arena_clear(&shelf->arena);
        free(shelf);
    }
}
