/* SPDX-License-Identifier: Apache-2.0 */
/* The cassette from its sprockets and splines, the freehub body and the one on a new wheel from their splines, the chain from
 * its family. */
#include "trade/complete.h"

#include <math.h>

int trade_sprockets_of(const struct trade_part *cassette) {
    const struct trade_value *sprockets = trade_get(cassette, TRADE_CASSETTE_SPROCKETS);
    return trade_is_open(sprockets) ? 0 : (int)sprockets->counts->n;
}

/* Does the row speak of such a cassette, as far as splines and number of sprockets tell? */
static bool row_speaks(const struct trade_cassettes_row *row, const struct trade_part *cassette) {
    return trade_has_word(cassette, TRADE_CASSETTE_SPLINE, (unsigned)row->spline) &&
           row->speeds == trade_sprockets_of(cassette);
}

void trade_complete_class(struct trade_part *cassette, double longest_mm) {
    struct trade_said classes = {0};
    for (size_t i = 0; i < trade_cassettes_n; i++) {
        const struct trade_cassettes_row *row = &trade_cassettes[i];
        if (row_speaks(row, cassette) && !(row->class_mm > longest_mm + 0.05)) {
            trade_hear(&classes, row->class_mm, row->mark);
        }
    }
    trade_fill(cassette, TRADE_CASSETTE_CLASS_MM,
               trade_said_number(&classes, trade_get(cassette, TRADE_CASSETTE_SPLINE)->known));
}

static void fill_spacing(struct trade_part *cassette) {
    double class_mm = trade_get_number(cassette, TRADE_CASSETTE_CLASS_MM);
    struct trade_said spacings = {0};
    for (size_t i = 0; i < trade_cassettes_n; i++) {
        const struct trade_cassettes_row *row = &trade_cassettes[i];
        bool class_agrees = isnan(class_mm) || isnan(row->class_mm) || trade_near(class_mm, row->class_mm);
        if (row_speaks(row, cassette) && class_agrees) {
            trade_hear(&spacings, row->spacing, row->mark);
        }
    }
    trade_fill(cassette, TRADE_CASSETTE_SPACING,
               trade_said_word(&spacings, trade_get(cassette, TRADE_CASSETTE_SPLINE)->known));
    trade_fill_default(cassette, TRADE_CASSETTE_SPACING); /* the other tables are looked up by it */
}

static bool row_is_for(const struct trade_sprockets_row *row, int n, int spacing) {
    return row->speeds == n && row->spacing == spacing;
}

/* Has the table a row for just this width class? If not, the row without a class holds. */
static bool class_has_row(int n, int spacing, double class_mm) {
    for (size_t i = 0; i < trade_sprockets_n; i++) {
        if (row_is_for(&trade_sprockets[i], n, spacing) && trade_near(trade_sprockets[i].class_mm, class_mm)) {
            return true;
        }
    }
    return false;
}

static bool class_agrees(const struct trade_sprockets_row *row, double class_mm) {
    if (isnan(class_mm)) {
        return true;
    }
    return isnan(row->class_mm) ? !class_has_row(row->speeds, row->spacing, class_mm)
                                : trade_near(row->class_mm, class_mm);
}

/* stack = (sprockets - 1) * pitch + sprocket thickness; what the mechanic measured goes before the table. */
static void fill_stack(struct trade_part *cassette, int n) {
    struct trade_said pitches = {0}, sprockets = {0}, stacks = {0};
    const struct trade_value *spacing = trade_get(cassette, TRADE_CASSETTE_SPACING);
    const struct trade_value *class_mm = trade_get(cassette, TRADE_CASSETTE_CLASS_MM);
    for (size_t i = 0; i < trade_sprockets_n; i++) {
        const struct trade_sprockets_row *row = &trade_sprockets[i];
        if (row_is_for(row, n, (int)spacing->word) &&
            class_agrees(row, trade_get_number(cassette, TRADE_CASSETTE_CLASS_MM))) {
            trade_hear(&pitches, row->pitch_mm, row->mark);
            trade_hear(&stacks, row->stack_mm, row->mark);
            /* All sprockets of a speed are within 0.1 mm: it decides nothing, so that weak memory will do. */
            trade_hear(&sprockets, row->sprocket_mm, row->mark == TRADE_MARK_MEM_LOW ? TRADE_MARK_MEM : row->mark);
        }
    }
    enum base_known keys = trade_is_open(class_mm) ? spacing->known : base_weakest(spacing->known, class_mm->known);
    const struct trade_value *pitch = trade_get(cassette, TRADE_CASSETTE_PITCH_MM);
    const struct trade_value *sprocket = trade_get(cassette, TRADE_CASSETTE_SPROCKET_MM);
    const struct trade_value *stack = trade_get(cassette, TRADE_CASSETTE_STACK_MM);
    trade_fill(cassette, TRADE_CASSETTE_SPROCKET_MM, trade_said_number(&sprockets, keys));
    if (!trade_is_open(pitch) && !trade_is_open(sprocket)) {
        trade_fill(
            cassette, TRADE_CASSETTE_STACK_MM,
            trade_number((n - 1) * pitch->number + sprocket->number, base_weakest(pitch->known, sprocket->known)));
    }
    trade_fill(cassette, TRADE_CASSETTE_PITCH_MM, trade_said_number(&pitches, keys));
    trade_fill(cassette, TRADE_CASSETTE_STACK_MM, trade_said_number(&stacks, keys));
    if (n > 1 && !trade_is_open(stack) && !trade_is_open(sprocket)) {
        trade_fill(
            cassette, TRADE_CASSETTE_PITCH_MM,
            trade_number((stack->number - sprocket->number) / (n - 1), base_weakest(stack->known, sprocket->known)));
    }
}

static bool made_for(const struct trade_chains_row *chain, int n) {
    for (size_t i = 0; i < chain->for_speeds_n; i++) {
        if (trade_near(chain->for_speeds[i], n)) {
            return true;
        }
    }
    return false;
}

/* Closed sets and the family that shares one spacing name their chain themselves. */
static void fill_chain(struct trade_part *cassette, int n) {
    const struct trade_value *spacing = trade_get(cassette, TRADE_CASSETTE_SPACING);
    struct trade_said families = {0};
    if (spacing->word != TRADE_SPACING_COMMON && spacing->word != TRADE_SPACING_DEEP_8) {
        return;
    }
    for (size_t i = 0; i < trade_chains_n; i++) {
        if (made_for(&trade_chains[i], n)) {
            trade_hear(&families, trade_chains[i].chain_family, trade_chains[i].mark);
        }
    }
    trade_fill(cassette, TRADE_CASSETTE_CHAIN, trade_said_word(&families, spacing->known));
}

/* Could the sprockets lie flat on nine keys, or on a freewheel? A 10-tooth sprocket goes on neither. */
static bool plain_body(int spline, int smallest) {
    if (spline == TRADE_SPLINE_THREADED) {
        return true;
    }
    for (size_t i = 0; i < trade_bodies_n; i++) {
        if (trade_bodies[i].spline == TRADE_SPLINE_NINE_KEY && smallest < trade_bodies[i].smallest_teeth) {
            return false;
        }
    }
    return spline < 0 || spline == TRADE_SPLINE_NINE_KEY;
}

/* A plain stack ends at the shoulder; how far a wide one overhangs can't be said without measuring. */
static void fill_overhang(struct trade_part *cassette, int n) {
    const struct trade_value *sprockets = trade_get(cassette, TRADE_CASSETTE_SPROCKETS);
    int smallest = sprockets->counts->at[0];
    int largest = sprockets->counts->at[n - 1];
    if (plain_body(trade_get_word(cassette, TRADE_CASSETTE_SPLINE), smallest) &&
        largest <= trade_limits[TRADE_LIMIT_PLAIN_STACK_MOST_TEETH].value) {
        trade_fill(cassette, TRADE_CASSETTE_OVERHANG_MM, trade_number(0, BASE_ASSUMED));
    }
}

/* Worn sprockets are a worn cassette. */
static void fill_condition(struct trade_part *cassette) {
    if (trade_has_word(cassette, TRADE_CASSETTE_WORN, TRADE_YES_NO_YES)) {
        trade_fill(cassette, TRADE_CASSETTE_CONDITION,
                   trade_word(TRADE_CONDITION_WORN, trade_get(cassette, TRADE_CASSETTE_WORN)->known));
    }
}

void trade_complete_cassette(struct trade_part *cassette) {
    fill_condition(cassette);
    int n = trade_sprockets_of(cassette);
    if (n > 0) {
        trade_complete_class(cassette, INFINITY);
        fill_spacing(cassette);
        fill_stack(cassette, n);
        fill_chain(cassette, n);
        fill_overhang(cassette, n);
    }
}

/* Length of a body by its splines, where the table has only one for them. */
static struct trade_value body_length(const struct trade_value *spline) {
    struct trade_said lengths = {0};
    for (size_t i = 0; i < trade_bodies_n && !trade_is_open(spline); i++) {
        if (trade_bodies[i].spline == (int)spline->word) {
            trade_hear(&lengths, trade_bodies[i].length_mm, trade_bodies[i].mark);
        }
    }
    return trade_said_number(&lengths, spline->known);
}

void trade_complete_rear_wheel(struct trade_part *wheel) {
    trade_fill(wheel, TRADE_REAR_WHEEL_COMES_WITH_BODY_MM,
               body_length(trade_get(wheel, TRADE_REAR_WHEEL_COMES_WITH_BODY)));
}

void trade_complete_freehub_body(struct trade_part *body) {
    const struct trade_value *spline = trade_get(body, TRADE_FREEHUB_BODY_SPLINE);
    double length_mm = trade_get_number(body, TRADE_FREEHUB_BODY_LENGTH_MM);
    struct trade_said smallest = {0};
    for (size_t i = 0; i < trade_bodies_n && !trade_is_open(spline); i++) {
        const struct trade_bodies_row *row = &trade_bodies[i];
        if (row->spline == (int)spline->word) {
            if (isnan(length_mm) || isnan(row->length_mm) || trade_near(length_mm, row->length_mm)) {
                trade_hear(&smallest, row->smallest_teeth < 0 ? (double)NAN : row->smallest_teeth, row->mark);
            }
        }
    }
    trade_fill(body, TRADE_FREEHUB_BODY_LENGTH_MM, body_length(spline));
    trade_fill(body, TRADE_FREEHUB_BODY_SMALLEST_TEETH, trade_said_number(&smallest, spline->known));
}

/* A chain that nobody can read is told by its width, where the widths of the families do not overlap. */
static void fill_family(struct trade_part *chain) {
    const struct trade_value *width = trade_get(chain, TRADE_CHAIN_WIDTH_MM);
    struct trade_said families = {0};
    for (size_t i = 0; i < trade_chains_n && !trade_is_open(width); i++) {
        const struct trade_chains_row *row = &trade_chains[i];
        if (width->number >= row->width_low_mm - 0.005 && width->number <= row->width_high_mm + 0.005) {
            trade_hear(&families, row->chain_family, row->mark);
        }
    }
    trade_fill(chain, TRADE_CHAIN_FAMILY, trade_said_word(&families, width->known));
}

void trade_complete_chain(struct trade_part *chain) {
    fill_family(chain);
    const struct trade_value *family = trade_get(chain, TRADE_CHAIN_FAMILY);
    struct trade_said widths = {0};
    for (size_t i = 0; i < trade_chains_n && !trade_is_open(family); i++) {
        if (trade_chains[i].chain_family == (int)family->word) {
            trade_hear(&widths, trade_chains[i].width_mm, trade_chains[i].mark);
        }
    }
    trade_fill(chain, TRADE_CHAIN_WIDTH_MM, trade_said_number(&widths, family->known));
}
