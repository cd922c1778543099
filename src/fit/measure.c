/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The sums over slots: planes of the rings, planes of the cassette.
 *
 * Front. A ring lies where its place on the crank lies, moved by its own offset. A crank that stays gives its place as
 * measured on this bike, with the bracket, spacers, ring washers and front derailleur plate that were there; so each of these
 * takes its own part out of the crank's term and puts it back with whatever the build has there. A cartridge's spindle moves the
 * drive-side ring by half the change of its length (common practice for symmetric spindles; the overhang is the rest).
 *
 * Rear. The datum is the shoulder of the freehub body, which stays when the cassette changes:
 * shoulder = hub width / 2 - recess - gap - stack - spacers behind + overhang + rear offset, of the cassette that was
 * measured. A new one sits on the same shoulder with its own stack and overhang.
 */
#include "fit/rule.h"

#include <math.h>

static struct fit_sum sum_of(double mm, enum base_known known) { return (struct fit_sum){.mm = mm, .known = known}; }

static struct fit_sum sum_open(void) { return (struct fit_sum){.mm = 0, .known = BASE_OPEN}; }

/* Adds factor times a value that must be known for the sum to be known; an empty slot adds nothing. */
static void add(struct fit_sum *s, const struct fit_values *v, unsigned i, double factor) {
    if (!fit_has(v, i)) {
        return;
    }
    s->mm += factor * fit_number(v, i);
    s->known = base_weakest(s->known, v->at[i]->known);
}

/* Units in which lengths that may cancel are counted: no multiple of one that can come up is one of another. */
enum { SPINDLE_LENGTH = 1, SPINDLE_OVERHANG = 16, CUP_SPACERS = 256, RING_OFFSET = 4096, RING_WASHERS = 65536 };
enum { CASSETTE_ENDS = 1, CASSETTE_SPACERS = 16 };

/* The same for a length that may cancel: unless it was measured it is counted. */
static void add_or_count(struct fit_sum *s, const struct fit_values *v, unsigned i, double factor, int unit) {
    int count = factor < 0 ? -unit : unit;
    if (!fit_has(v, i)) {
        return;
    }
    s->mm += fit_known(v, i) ? factor * fit_number(v, i) : 0;
    s->unknown += !fit_known(v, i) ? count : 0;
    s->assumed += v->at[i]->known == BASE_ASSUMED ? count : 0;
    s->table += v->at[i]->known == BASE_TABLE ? count : 0;
}

bool fit_bracket_spindle(unsigned word) {
    return word == TRADE_SPINDLE_SQUARE_JIS || word == TRADE_SPINDLE_SQUARE_ISO ||
           word == TRADE_SPINDLE_SPLINED_8_SHALLOW || word == TRADE_SPINDLE_SPLINED_8_DEEP ||
           word == TRADE_SPINDLE_SPLINED_10;
}

enum {
    CRANK_PLANE,
    CRANK_FITTED,
    CRANK_SPINDLE,
    CRANK_REFERENCE,
    CRANK_NOW_LENGTH,
    CRANK_NOW_OVERHANG,
    CRANK_NOW_SPACERS,
    CRANK_NOW_OFFSET,
    CRANK_NOW_WASHERS
};

/* Which way washers under the ring bolts move a ring: the outer one outboard, the inner one inboard. */
enum { WASHERS_IN = -1, WASHERS_NOT = 0, WASHERS_OUT = 1 };

/* The place of a crank that stays, less what the bracket and the spacers of now have in it. It was read at the teeth of the
 * ring that is in it: the place lies as far outboard of them as that ring is offset towards the frame. */
static struct fit_sum crank_fitted(const struct fit_values *v, int washers) {
    struct fit_sum s = sum_of(0, BASE_MEASURED);
    add(&s, v, CRANK_PLANE, 1);
    add_or_count(&s, v, CRANK_NOW_SPACERS, -1, CUP_SPACERS);
    add_or_count(&s, v, CRANK_NOW_OFFSET, 1, RING_OFFSET);
    if (washers != WASHERS_NOT) {
        add_or_count(&s, v, CRANK_NOW_WASHERS, -washers, RING_WASHERS);
    }
    if (fit_known(v, CRANK_SPINDLE) && !fit_bracket_spindle(fit_word(v, CRANK_SPINDLE))) {
        return s;
    }
    add_or_count(&s, v, CRANK_NOW_LENGTH, -0.5, SPINDLE_LENGTH);
    if (fit_known(v, CRANK_NOW_OVERHANG)) {
        add_or_count(&s, v, CRANK_NOW_OVERHANG, -1, SPINDLE_OVERHANG);
    }
    return s;
}

/* The place of a new crank, from its maker's chain line on the spindle that this is stated for. */
static struct fit_sum crank_new(const struct fit_values *v) {
    struct fit_sum s = sum_of(0, BASE_MEASURED);
    if (!fit_known(v, CRANK_SPINDLE)) {
        return sum_open();
    }
    add(&s, v, CRANK_PLANE, 1);
    if (fit_bracket_spindle(fit_word(v, CRANK_SPINDLE))) {
        if (!fit_known(v, CRANK_REFERENCE)) {
            return sum_open();
        }
        add(&s, v, CRANK_REFERENCE, -0.5);
    }
    return s;
}

static struct fit_sum crank_term(const struct fit_values *v, int washers) {
    if (!fit_known(v, CRANK_PLANE)) {
        return sum_open();
    }
    return fit_number(v, CRANK_FITTED) != 0 ? crank_fitted(v, washers) : crank_new(v);
}
static struct fit_sum crank_outer(const struct fit_values *v) { return crank_term(v, WASHERS_OUT); }
static struct fit_sum crank_middle(const struct fit_values *v) { return crank_term(v, WASHERS_NOT); }
static struct fit_sum crank_inner(const struct fit_values *v) { return crank_term(v, WASHERS_IN); }

enum { BRACKET_SPINDLE, BRACKET_LENGTH, BRACKET_OVERHANG, BRACKET_FITTED, BRACKET_NOW_PLATE };

static struct fit_sum bracket_term(const struct fit_values *v) {
    struct fit_sum s = sum_of(0, BASE_MEASURED);
    bool fitted = fit_number(v, BRACKET_FITTED) != 0;
    if (fitted && fit_known(v, BRACKET_NOW_PLATE)) {
        add(&s, v, BRACKET_NOW_PLATE, -1);
    }
    if (fit_known(v, BRACKET_SPINDLE) && !fit_bracket_spindle(fit_word(v, BRACKET_SPINDLE))) {
        return s;
    }
    if (!fitted && (!fit_known(v, BRACKET_SPINDLE) || !fit_known(v, BRACKET_LENGTH))) {
        return sum_open();
    }
    if (fitted) {
        add_or_count(&s, v, BRACKET_LENGTH, 0.5, SPINDLE_LENGTH);
    } else {
        add(&s, v, BRACKET_LENGTH, 0.5);
    }
    if (fitted && fit_known(v, BRACKET_OVERHANG)) {
        add_or_count(&s, v, BRACKET_OVERHANG, 1, SPINDLE_OVERHANG);
    } else if (fit_known(v, BRACKET_OVERHANG)) {
        add(&s, v, BRACKET_OVERHANG, 1);
    }
    return s;
}

enum { OWN_LENGTH, OWN_FITTED };

static struct fit_sum plus_term(const struct fit_values *v) {
    if (!fit_known(v, OWN_LENGTH)) {
        return sum_open();
    }
    return sum_of(fit_number(v, OWN_LENGTH), v->at[OWN_LENGTH]->known);
}

static struct fit_sum minus_term(const struct fit_values *v) {
    struct fit_sum s = plus_term(v);
    s.mm = -s.mm;
    return s;
}

/* A plate between shell and cup is 0 where nobody says that there is one; the one that stays is in what was measured. */
static struct fit_sum plate_term(const struct fit_values *v) {
    bool fitted = fit_number(v, OWN_FITTED) != 0;
    return fit_known(v, OWN_LENGTH) ? plus_term(v) : sum_of(0, fitted ? BASE_MEASURED : BASE_ASSUMED);
}

/* A part that moves others outboard (way 1) or inboard (-1) by its length; one that stays in the unit in which the term that was
 * measured with it counts it. */
static struct fit_sum part_that_moves(const struct fit_values *v, int way, int unit) {
    struct fit_sum s = sum_of(0, BASE_MEASURED);
    if (fit_number(v, OWN_FITTED) == 0) {
        return way > 0 ? plus_term(v) : minus_term(v);
    }
    add_or_count(&s, v, OWN_LENGTH, way, unit);
    return s;
}
static struct fit_sum cups_term(const struct fit_values *v) { return part_that_moves(v, 1, CUP_SPACERS); }
static struct fit_sum cassette_spacer_term(const struct fit_values *v) {
    return part_that_moves(v, 1, CASSETTE_SPACERS);
}
static struct fit_sum washers_out(const struct fit_values *v) { return part_that_moves(v, WASHERS_OUT, RING_WASHERS); }
static struct fit_sum washers_in(const struct fit_values *v) { return part_that_moves(v, WASHERS_IN, RING_WASHERS); }
/* A ring that stays lies where it was read, whatever its offset towards the frame (crank_fitted). */
static struct fit_sum ring_term(const struct fit_values *v) { return part_that_moves(v, -1, RING_OFFSET); }

#define READ(SUBJECT, PROPERTY, FLAGS)                                                                                 \
    { .subject = (uint8_t)(SUBJECT), .property = (PROPERTY), .flags = (FLAGS) }
#define MAYBE (FIT_OPTIONAL | FIT_EMPTY_OK)

#define CRANK_TERM(PLANE, RING, TERM, N_READS)                                                                         \
    {                                                                                                                  \
        .slot = TRADE_SLOT_CRANK, .term = (TERM), .n_reads = (N_READS), .reads = {                                     \
            READ(TRADE_SLOT_CRANK, PLANE, FIT_OPTIONAL),                                                               \
            READ(TRADE_SLOT_CRANK, FIT_FITTED, 0),                                                                     \
            READ(TRADE_SLOT_CRANK, TRADE_CRANK_SPINDLE, FIT_OPTIONAL),                                                 \
            READ(TRADE_SLOT_CRANK, TRADE_CRANK_SPINDLE_MM, FIT_OPTIONAL),                                              \
            READ(FIT_NOW + TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE_MM, MAYBE),                         \
            READ(FIT_NOW + TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, MAYBE),                  \
            READ(FIT_NOW + TRADE_SLOT_CUP_SPACERS, TRADE_SPACER_THICKNESS_MM, MAYBE),                                  \
            READ(FIT_NOW + (RING), TRADE_RING_OFFSET_MM, MAYBE),                                                       \
            READ(FIT_NOW + TRADE_SLOT_RING_WASHERS, TRADE_SPACER_THICKNESS_MM, MAYBE),                                 \
        }                                                                                                              \
    }
#define BRACKET_TERM                                                                                                   \
    {                                                                                                                  \
        .slot = TRADE_SLOT_BOTTOM_BRACKET, .term = bracket_term, .n_reads = 5, .reads = {                              \
            READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, FIT_OPTIONAL),                               \
            READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE_MM, FIT_OPTIONAL),                            \
            READ(TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, FIT_OPTIONAL),                     \
            READ(TRADE_SLOT_BOTTOM_BRACKET, FIT_FITTED, 0),                                                            \
            READ(FIT_NOW + TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_BRACKET_MM, MAYBE),                     \
        }                                                                                                              \
    }
#define ONE_TERM(SLOT, PROPERTY, TERM)                                                                                 \
    {                                                                                                                  \
        .slot = (SLOT), .term = (TERM), .n_reads = 2, .reads = {                                                       \
            READ(SLOT, PROPERTY, FIT_OPTIONAL),                                                                        \
            READ(SLOT, FIT_FITTED, 0),                                                                                 \
        }                                                                                                              \
    }
#define PLATE_TERM ONE_TERM(TRADE_SLOT_FRONT_DERAILLEUR, TRADE_FRONT_DERAILLEUR_BRACKET_MM, plate_term)
#define CUPS_TERM ONE_TERM(TRADE_SLOT_CUP_SPACERS, TRADE_SPACER_THICKNESS_MM, cups_term)
#define RING_TERM(SLOT) ONE_TERM(SLOT, TRADE_RING_OFFSET_MM, ring_term)
#define WASHERS_TERM(TERM) ONE_TERM(TRADE_SLOT_RING_WASHERS, TRADE_SPACER_THICKNESS_MM, TERM)

static const struct fit_term outer_terms[] = {
    CRANK_TERM(TRADE_CRANK_OUTER_PLANE_MM, TRADE_SLOT_OUTER_RING, crank_outer, 9),
    BRACKET_TERM,
    PLATE_TERM,
    CUPS_TERM,
    RING_TERM(TRADE_SLOT_OUTER_RING),
    WASHERS_TERM(washers_out)};
static const struct fit_term middle_terms[] = {
    CRANK_TERM(TRADE_CRANK_MIDDLE_PLANE_MM, TRADE_SLOT_MIDDLE_RING, crank_middle, 8), BRACKET_TERM, PLATE_TERM,
    CUPS_TERM, RING_TERM(TRADE_SLOT_MIDDLE_RING)};
static const struct fit_term inner_terms[] = {
    CRANK_TERM(TRADE_CRANK_INNER_PLANE_MM, TRADE_SLOT_INNER_RING, crank_inner, 9),
    BRACKET_TERM,
    PLATE_TERM,
    CUPS_TERM,
    RING_TERM(TRADE_SLOT_INNER_RING),
    WASHERS_TERM(washers_in)};

enum {
    HUB_FITTED,
    HUB_WIDTH,
    HUB_RECESS,
    HUB_GAP,
    HUB_OFFSET,
    HUB_NOW_STACK,
    HUB_NOW_OVERHANG,
    HUB_NOW_SPACER,
    HUB_SHOULDER
};

/* A new wheel whose shoulder nobody states is taken to have it where this one has it: hubs of one width are made so. */
static struct fit_sum shoulder_term(const struct fit_values *v) {
    struct fit_sum s = sum_of(0, BASE_MEASURED);
    bool fitted = fit_number(v, HUB_FITTED) != 0;
    if (!fitted && fit_known(v, HUB_SHOULDER)) {
        add(&s, v, HUB_SHOULDER, 1);
        add(&s, v, HUB_OFFSET, 1);
        return s;
    }
    if (!fit_known(v, HUB_WIDTH) || !fit_known(v, HUB_RECESS) || !fit_known(v, HUB_GAP) ||
        !fit_known(v, HUB_NOW_STACK)) {
        return sum_open();
    }
    add(&s, v, HUB_WIDTH, 0.5);
    add(&s, v, HUB_RECESS, -1);
    add(&s, v, HUB_GAP, -1);
    add(&s, v, HUB_OFFSET, 1);
    add(&s, v, HUB_NOW_STACK, -1);
    add_or_count(&s, v, HUB_NOW_SPACER, -1, CASSETTE_SPACERS);
    add_or_count(&s, v, HUB_NOW_OVERHANG, 1, CASSETTE_ENDS);
    if (!fitted) {
        s.known = base_weakest(s.known, BASE_ASSUMED);
    }
    return s;
}

enum { CASSETTE_STACK, CASSETTE_OVERHANG, CASSETTE_SPROCKET, CASSETTE_FITTED };

/* From the shoulder to the plane that is wanted; stack_factor of the stack, sprocket_factor of a sprocket's thickness. */
static struct fit_sum cassette_term(const struct fit_values *v, double stack_factor, double sprocket_factor) {
    struct fit_sum s = sum_of(0, BASE_MEASURED);
    if (!fit_known(v, CASSETTE_STACK) || !fit_known(v, CASSETTE_SPROCKET)) {
        return sum_open();
    }
    add(&s, v, CASSETTE_STACK, stack_factor);
    add(&s, v, CASSETTE_SPROCKET, sprocket_factor);
    if (fit_number(v, CASSETTE_FITTED) != 0) {
        add_or_count(&s, v, CASSETTE_OVERHANG, -1, CASSETTE_ENDS);
    } else if (fit_known(v, CASSETTE_OVERHANG)) {
        add(&s, v, CASSETTE_OVERHANG, -1);
    } else {
        return sum_open();
    }
    return s;
}
static struct fit_sum cassette_middle(const struct fit_values *v) { return cassette_term(v, 0.5, 0); }
static struct fit_sum cassette_outer(const struct fit_values *v) { return cassette_term(v, 1, 0); }
static struct fit_sum cassette_largest(const struct fit_values *v) { return cassette_term(v, 0, 0.5); }

#define SHOULDER_TERM                                                                                                  \
    {                                                                                                                  \
        .slot = TRADE_SLOT_REAR_WHEEL, .term = shoulder_term, .n_reads = 9, .reads = {                                 \
            READ(TRADE_SLOT_REAR_WHEEL, FIT_FITTED, 0),                                                                \
            READ(FIT_FRAME, TRADE_FRAME_HUB_WIDTH_MM, FIT_OPTIONAL),                                                   \
            READ(FIT_FRAME, TRADE_FRAME_RECESS_MM, FIT_OPTIONAL),                                                      \
            READ(FIT_FRAME, TRADE_FRAME_GAP_MM, FIT_OPTIONAL),                                                         \
            READ(FIT_FRAME, TRADE_FRAME_REAR_OFFSET_MM, FIT_OPTIONAL),                                                 \
            READ(FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_STACK_MM, MAYBE),                                       \
            READ(FIT_NOW + TRADE_SLOT_CASSETTE, TRADE_CASSETTE_OVERHANG_MM, MAYBE),                                    \
            READ(FIT_NOW + TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM, MAYBE),                              \
            READ(TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_SHOULDER_MM, FIT_OPTIONAL),                                   \
        }                                                                                                              \
    }
#define CASSETTE_TERM(TERM)                                                                                            \
    {                                                                                                                  \
        .slot = TRADE_SLOT_CASSETTE, .term = (TERM), .n_reads = 4, .reads = {                                          \
            READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_STACK_MM, FIT_OPTIONAL),                                          \
            READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_OVERHANG_MM, FIT_OPTIONAL),                                       \
            READ(TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPROCKET_MM, FIT_OPTIONAL),                                       \
            READ(TRADE_SLOT_CASSETTE, FIT_FITTED, 0),                                                                  \
        }                                                                                                              \
    }
#define SPACER_TERM ONE_TERM(TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM, cassette_spacer_term)

static const struct fit_term rear_middle_terms[] = {SHOULDER_TERM, SPACER_TERM, CASSETTE_TERM(cassette_middle)};
static const struct fit_term rear_outer_terms[] = {SHOULDER_TERM, SPACER_TERM, CASSETTE_TERM(cassette_outer)};
static const struct fit_term rear_largest_terms[] = {SHOULDER_TERM, SPACER_TERM, CASSETTE_TERM(cassette_largest)};

#define NOW(SLOT, PROPERTY) READ(FIT_NOW + TRADE_SLOT_##SLOT, PROPERTY, 0)
#define LAST READ(0, FIT_VALUE, 0)

/* The plane of a crank that stays is read; that of a new one follows from the length of a spindle that stays. */
#define PLANE_ASKS(PLANE, RING)                                                                                        \
    {                                                                                                                  \
        NOW(CRANK, PLANE), NOW(BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE_MM),                                       \
            NOW(RING_WASHERS, TRADE_SPACER_THICKNESS_MM), NOW(CUP_SPACERS, TRADE_SPACER_THICKNESS_MM),                 \
            NOW(RING, TRADE_RING_OFFSET_MM), LAST                                                                      \
    }
#define REAR_ASKS                                                                                                      \
    {                                                                                                                  \
        READ(FIT_FRAME, TRADE_FRAME_GAP_MM, 0), READ(FIT_FRAME, TRADE_FRAME_HUB_WIDTH_MM, 0),                          \
            READ(FIT_FRAME, TRADE_FRAME_RECESS_MM, 0), NOW(CASSETTE, TRADE_CASSETTE_STACK_MM),                         \
            NOW(CASSETTE_SPACER, TRADE_SPACER_THICKNESS_MM), NOW(CASSETTE, TRADE_CASSETTE_OVERHANG_MM), LAST           \
    }

#define MEASURE(ID, TERMS, ...)                                                                                        \
    { .id = (ID), .terms = (TERMS), .n_terms = sizeof(TERMS) / sizeof(TERMS)[0], .asks = __VA_ARGS__ }

const struct fit_measure fit_measures[FIT_MEASURES] = {
    [FIT_OUTER_PLANE] = MEASURE("outer-plane", outer_terms, PLANE_ASKS(TRADE_CRANK_OUTER_PLANE_MM, OUTER_RING)),
    [FIT_MIDDLE_PLANE] = MEASURE("middle-plane", middle_terms, PLANE_ASKS(TRADE_CRANK_MIDDLE_PLANE_MM, MIDDLE_RING)),
    [FIT_INNER_PLANE] = MEASURE("inner-plane", inner_terms, PLANE_ASKS(TRADE_CRANK_INNER_PLANE_MM, INNER_RING)),
    [FIT_REAR_MIDDLE] = MEASURE("rear-middle", rear_middle_terms, REAR_ASKS),
    [FIT_REAR_OUTER] = MEASURE("rear-outer", rear_outer_terms, REAR_ASKS),
    [FIT_REAR_LARGEST] = MEASURE("rear-largest", rear_largest_terms, REAR_ASKS),
};
