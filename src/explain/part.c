/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/part.h"

#include "explain/pieces.h"

#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

static const char dash[] = "\xe2\x80\x93";

/* A part of a catalogue is told by what sets it apart there, one of the bike by what decides whether it can stay. */
static bool of_bike(const struct explain_pieces *p) { return p->said == NULL; }

static const char *text_value(const struct trade_part *part, const char *property) {
    int found = trade_find_property(part->kind, base_slice_of(property));
    if (found < 0 || trade_is_open(trade_get(part, (enum trade_property)found))) {
        return "";
    }
    return trade_get(part, (enum trade_property)found)->name;
}

/* --- one kind each ------------------------------------------------------------------------------------------------- */

/* A short form of a word where there is one, else its label. */
static void put_short(struct explain_pieces *p, enum trade_property property, const char *prefix) {
    int word = trade_get_word(p->part, property);
    if (word < 0) {
        explain_piece_value(p, property, NULL);
        return;
    }
    const char *const words[] = {prefix, trade_word_name(trade_property_rows[property].domain, (unsigned)word)};
    const char *text = explain_message_of(words, 2);
    if (text && !explain_is_asked(p, property)) {
        explain_piece_text(p, text);
    } else {
        explain_piece_value(p, property, NULL);
    }
}

static void put_crank(struct explain_pieces *p) {
    put_short(p, TRADE_CRANK_SPINDLE, "part.crank.");
    explain_piece_value(p, TRADE_CRANK_ARM_MM, NULL);
    explain_piece_value(p, TRADE_CRANK_MOUNT, NULL);
    const struct trade_value *places = trade_get(p->part, TRADE_CRANK_PLACES);
    int n = trade_is_open(places) ? 0 : __builtin_popcountll(places->words);
    if (n > 1) {
        struct explain_arg count = explain_spelt(n);
        explain_piece(p, "part.places", &count, 1);
    }
}

static void put_ring(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_RING_TEETH, NULL);
    explain_piece_value(p, TRADE_RING_PROFILE, NULL);
    double offset = trade_get_number(p->part, TRADE_RING_OFFSET_MM);
    if (!isnan(offset) && offset != 0) {
        explain_piece_value(p, TRADE_RING_OFFSET_MM, "part.offset");
    }
}

static void put_bottom_bracket(struct explain_pieces *p) {
    put_short(p, TRADE_BOTTOM_BRACKET_SPINDLE, "part.bracket.");
    explain_piece_value(p, TRADE_BOTTOM_BRACKET_SPINDLE_MM, "part.long");
    explain_piece_value(p, TRADE_BOTTOM_BRACKET_SHELL, NULL);
}

static void put_chain(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_CHAIN_FAMILY, NULL);
    explain_piece_value(p, TRADE_CHAIN_LINKS, NULL);
}

static void put_cassette(struct explain_pieces *p) {
    const struct trade_value *sprockets = trade_get(p->part, TRADE_CASSETTE_SPROCKETS);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    bool threaded = trade_get_word(p->part, TRADE_CASSETTE_SPLINE) == TRADE_SPLINE_THREADED;
    if (!of_bike(p) && !trade_is_open(sprockets)) {
        explain_tell(&text, "part.speed", explain_count((int64_t)sprockets->counts->n));
        base_buffer_text(&text, " ");
        explain_sprocket_range(&text, p->part);
        explain_piece_text(p, explain_held(p->out, &text));
    } else {
        explain_piece_value(p, TRADE_CASSETTE_SPROCKETS, NULL);
    }
    base_buffer_clear(&text);
    if (threaded || (!of_bike(p) && trade_get_word(p->part, TRADE_CASSETTE_SPLINE) != TRADE_SPLINE_NINE_KEY)) {
        explain_piece_value(p, TRADE_CASSETTE_SPLINE, NULL);
    }
}

static void put_freehub_body(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_FREEHUB_BODY_SPLINE, NULL);
    explain_piece_value(p, TRADE_FREEHUB_BODY_LENGTH_MM, NULL);
}

static void put_rear_wheel(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_REAR_WHEEL_HUB_WIDTH_MM, NULL);
    explain_piece_value(p, TRADE_REAR_WHEEL_AXLE, NULL);
    explain_piece_value(p, TRADE_REAR_WHEEL_KIND, NULL);
    if (!of_bike(p)) {
        explain_piece_value(p, TRADE_REAR_WHEEL_BEAD_SEAT_MM, "part.bead-seat");
        explain_piece_value(p, TRADE_REAR_WHEEL_COMES_WITH_BODY, "part.comes-with-body");
        explain_piece_value(p, TRADE_REAR_WHEEL_COMES_WITH_BODY_MM, NULL);
    }
    explain_piece_if(p, TRADE_REAR_WHEEL_BODY_FIXED, TRADE_YES_NO_YES, "part.body-fixed");
    if (of_bike(p)) {
        explain_piece_value(p, TRADE_REAR_WHEEL_BODIES, "part.bodies");
    }
}

static void put_rotor(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_ROTOR_SIZE_MM, NULL);
    explain_piece_value(p, TRADE_ROTOR_MOUNT, NULL);
}

static void put_extender(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_HANGER_EXTENDER_ADDS_TEETH, "part.adds-teeth");
}

/* 'electronic', 'for its own set only', or how far it moves. */
static void put_rear_derailleur(struct explain_pieces *p) {
    if (trade_get_word(p->part, TRADE_REAR_DERAILLEUR_ACTUATION) == TRADE_ACTUATION_ELECTRONIC) {
        explain_piece_value(p, TRADE_REAR_DERAILLEUR_ACTUATION, NULL);
    }
    explain_piece_value(p, TRADE_REAR_DERAILLEUR_LARGEST_TEETH, "part.to-teeth");
    explain_piece_value(p, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH, "part.cage");
    explain_piece_if(p, TRADE_REAR_DERAILLEUR_CLUTCH, TRADE_YES_NO_YES, "part.clutch");
    explain_piece_if(p, TRADE_REAR_DERAILLEUR_SINGLE_ONLY, TRADE_YES_NO_YES, "part.single-only");
    if (of_bike(p)) {
        explain_piece_if(p, TRADE_REAR_DERAILLEUR_CLUTCH, TRADE_YES_NO_NO, "part.no-clutch");
    }
    explain_piece_value(p, TRADE_REAR_DERAILLEUR_RATIO, "part.moves");
    explain_piece_value(p, TRADE_REAR_DERAILLEUR_SET, "part.closed-set");
}

static void put_front_derailleur(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_FRONT_DERAILLEUR_MOUNT, NULL);
}

static void put_shifter(struct explain_pieces *p) {
    int actuation = trade_get_word(p->part, TRADE_SHIFTER_ACTUATION);
    if (actuation == TRADE_ACTUATION_FRICTION || actuation == TRADE_ACTUATION_ELECTRONIC) {
        explain_piece_value(p, TRADE_SHIFTER_ACTUATION, NULL);
    }
    double positions = trade_get_number(p->part, TRADE_SHIFTER_POSITIONS);
    if (!isnan(positions)) {
        struct explain_arg count = explain_spelt((int64_t)positions);
        explain_piece(p, "part.positions", &count, 1);
    }
    explain_piece_value(p, TRADE_SHIFTER_SEAT, NULL);
    if (trade_get_word(p->part, TRADE_SHIFTER_SIDE) != TRADE_SIDE_LEFT) {
        explain_piece_value(p, TRADE_SHIFTER_PULL_MM, "part.pulls");
    }
    explain_piece_value(p, TRADE_SHIFTER_SET, "part.closed-set");
}

static void put_brake_lever(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_BRAKE_LEVER_PULL, NULL);
    explain_piece_if(p, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_YES, "part.carries-shifter");
    if (of_bike(p)) {
        explain_piece_if(p, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, TRADE_YES_NO_NO, "part.no-shifter");
    }
}

static void put_chain_guide(struct explain_pieces *p) {
    explain_piece_value(p, TRADE_CHAIN_GUIDE_MOUNT, NULL);
    double least = trade_get_number(p->part, TRADE_CHAIN_GUIDE_LEAST_TEETH);
    double most = trade_get_number(p->part, TRADE_CHAIN_GUIDE_MOST_TEETH);
    if (!isnan(least) && !isnan(most)) {
        struct explain_arg range[] = {explain_count((int64_t)least), explain_count((int64_t)most)};
        explain_piece(p, "part.for-teeth", range, 2);
    }
}

static void put_spacer(struct explain_pieces *p) { explain_piece_value(p, TRADE_SPACER_THICKNESS_MM, NULL); }

static void put_hanger(struct explain_pieces *p) { explain_piece_value(p, TRADE_HANGER_KIND, NULL); }

static void put_cables(struct explain_pieces *p) { explain_piece_value(p, TRADE_CABLE_SET_USE, "part.cables"); }

typedef void put_kind(struct explain_pieces *p);
static put_kind *const put_kinds[TRADE_KINDS] = {
    [TRADE_KIND_CRANK] = put_crank,
    [TRADE_KIND_RING] = put_ring,
    [TRADE_KIND_SPACER] = put_spacer,
    [TRADE_KIND_BOTTOM_BRACKET] = put_bottom_bracket,
    [TRADE_KIND_CHAIN] = put_chain,
    [TRADE_KIND_CASSETTE] = put_cassette,
    [TRADE_KIND_FREEHUB_BODY] = put_freehub_body,
    [TRADE_KIND_REAR_WHEEL] = put_rear_wheel,
    [TRADE_KIND_ROTOR] = put_rotor,
    [TRADE_KIND_HANGER] = put_hanger,
    [TRADE_KIND_HANGER_EXTENDER] = put_extender,
    [TRADE_KIND_REAR_DERAILLEUR] = put_rear_derailleur,
    [TRADE_KIND_FRONT_DERAILLEUR] = put_front_derailleur,
    [TRADE_KIND_SHIFTER] = put_shifter,
    [TRADE_KIND_BRAKE_LEVER] = put_brake_lever,
    [TRADE_KIND_CHAIN_GUIDE] = put_chain_guide,
    [TRADE_KIND_CABLE_SET] = put_cables,
};

/* --- parts --------------------------------------------------------------------------------------------------------- */

bool explain_sprocket_range(struct base_buffer *out, const struct trade_part *cassette) {
    const struct trade_value *sprockets = trade_get(cassette, TRADE_CASSETTE_SPROCKETS);
    if (trade_is_open(sprockets)) {
        return false;
    }
    base_buffer_int(out, sprockets->counts->at[0]);
    base_buffer_text(out, dash);
    base_buffer_int(out, sprockets->counts->at[sprockets->counts->n - 1]);
    return true;
}

void explain_part_name(struct base_buffer *out, const struct trade_part *part) {
    const char *maker = text_value(part, "maker"), *model = text_value(part, "model");
    base_buffer_text(out, maker);
    base_buffer_text(out, maker[0] && model[0] ? " " : "");
    base_buffer_text(out, model);
    if (!maker[0] && !model[0] && part->id) {
        base_buffer_text(out, part->id);
    }
}

/* Small things are called by what they are, and their model's name says it. */
static bool named_by_model(const struct trade_part *part) {
    return (part->kind == TRADE_KIND_SPACER || part->kind == TRADE_KIND_CABLE_SET) && text_value(part, "model")[0];
}

/* 'rear inner cable and ferrules, flat bar, Ottrick' */
static void put_model_first(struct base_buffer *out, const struct trade_part *part) {
    const char *model = text_value(part, "model"), *maker = text_value(part, "maker");
    char first = model[0];
    base_buffer_char(out, (char)(first >= 'A' && first <= 'Z' ? first - 'A' + 'a' : first));
    base_buffer_text(out, model + 1);
    base_buffer_text(out, maker[0] ? ", " : "");
    base_buffer_text(out, maker);
}

void explain_part(struct base_buffer *out, const struct trade_part *part) {
    struct base_buffer name;
    if (named_by_model(part)) {
        put_model_first(out, part);
        return;
    }
    base_buffer_init(&name, 0);
    explain_part_name(&name, part);
    struct explain_pieces pieces = {
        .out = out, .start = out->n, .said = explain_held(out, &name), .joint = ", ", .part = part};
    if (put_kinds[part->kind]) {
        put_kinds[part->kind](&pieces);
    }
    pieces.said = NULL;
    explain_piece_text(&pieces, explain_held(out, &name));
    base_buffer_clear(&name);
}

static struct explain_pieces pieces_of(struct base_buffer *out, const struct trade_part *part, unsigned subject,
                                       const struct plan_hang *asked, size_t n_asked) {
    return (struct explain_pieces){.out = out,
                                   .start = out->n,
                                   .joint = ", ",
                                   .part = part,
                                   .subject = subject,
                                   .asked = asked,
                                   .n_asked = n_asked};
}

void explain_fitted(struct base_buffer *out, const struct trade_bike *bike, enum trade_slot slot,
                    const struct plan_hang *asked, size_t n_asked) {
    const struct trade_part *part = &bike->fitted[slot].part;
    struct explain_pieces pieces = pieces_of(out, part, slot, asked, n_asked);
    if (put_kinds[part->kind]) {
        put_kinds[part->kind](&pieces);
    }
    pieces.joint = "; ";
    explain_pieces_rest(&pieces);
    if (slot == TRADE_SLOT_REAR_WHEEL) {
        struct explain_pieces frame = pieces;
        frame.part = &bike->frame;
        frame.subject = FIT_FRAME;
        explain_piece_value(&frame, TRADE_FRAME_GAP_MM, "part.gap");
    }
}

void explain_frame(struct base_buffer *out, const struct trade_bike *bike, const struct plan_hang *asked,
                   size_t n_asked) {
    struct explain_pieces p = pieces_of(out, &bike->frame, FIT_FRAME, asked, n_asked);
    explain_piece_value(&p, TRADE_FRAME_MATERIAL, NULL);
    explain_piece_value(&p, TRADE_FRAME_HUB_WIDTH_MM, "part.hub-width");
    explain_piece_value(&p, TRADE_FRAME_AXLE, NULL);
    explain_piece_value(&p, TRADE_FRAME_SHELL_WIDTH_MM, "part.shell-width");
    explain_piece_value(&p, TRADE_FRAME_SHELL, NULL);
    explain_piece_value(&p, TRADE_FRAME_CHAINSTAY_MM, "part.chainstay");
    explain_piece_value(&p, TRADE_FRAME_CHAINSTAY_LONGEST_MM, "part.chainstay-longest");
    explain_piece_value(&p, TRADE_FRAME_BOTTOM_BRACKET_DROP_MM, "part.drop");
    explain_piece_value(&p, TRADE_FRAME_STAY_70_MM, "part.stay-70");
    explain_piece_value(&p, TRADE_FRAME_LARGEST_RING_TEETH, "part.largest-ring");
    for (size_t i = 0; i < n_asked && i < 64; i++) { /* it stands in the wheel's line */
        p.shown |= asked[i].subject == FIT_FRAME && asked[i].property == TRADE_FRAME_GAP_MM ? UINT64_C(1) << i : 0;
    }
    p.joint = "; ";
    explain_pieces_rest(&p);
}

void explain_wheel(struct base_buffer *out, const struct trade_bike *bike, const struct plan_hang *asked,
                   size_t n_asked) {
    struct explain_pieces p = pieces_of(out, &bike->wheel, FIT_WHEEL, asked, n_asked);
    explain_piece_value(&p, TRADE_WHEEL_ROLLING_MM, "part.rolls");
    explain_piece_value(&p, TRADE_WHEEL_TYRE, "part.tyre");
    explain_pieces_rest(&p);
}
