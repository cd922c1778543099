/* SPDX-License-Identifier: Apache-2.0 */
#include "shop.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#define BIT(WORD) (UINT64_C(1) << (WORD))

/* One of the rows of a table for which the condition on `row` holds, each as likely; NULL when there is none. */
#define SOME_ROW(out, random, table, condition)                                                                        \
    do {                                                                                                               \
        int found_ = 0;                                                                                                \
        (out) = NULL;                                                                                                  \
        for (size_t i_ = 0; i_ < table##_n; i_++) {                                                                    \
            const struct table##_row *row = &table[i_];                                                                \
            if ((condition) && random_int(random, 1, ++found_) == 1) {                                                 \
                (out) = row;                                                                                           \
            }                                                                                                          \
        }                                                                                                              \
    } while (0)

/* --- drawing ------------------------------------------------------------------------------------------------------- */

/* True in n of m cases. */
static bool chance(struct random_source *random, int n, int m) { return random_int(random, 1, m) <= n; }

/* Mostly a word that the property usually is, where the vocabulary knows such; else any that is not left out. */
static unsigned some_word(struct random_source *random, enum trade_property property, uint64_t without) {
    const struct trade_property_row *row = &trade_property_rows[property];
    unsigned word = 0;
    do {
        bool usual = row->n_usual > 0 && chance(random, 2, 3);
        size_t n = usual ? row->n_usual : trade_domain_rows[row->domain].n;
        int i = random_int(random, 0, (int)n - 1);
        word = usual ? (unsigned)row->usual[i] : (unsigned)i;
    } while (without >> word & 1);
    return word;
}

static double some_usual(struct random_source *random, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    return row->usual[random_int(random, 0, (int)row->n_usual - 1)];
}

static double some_step(struct random_source *random, double low, double step, int steps) {
    return low + step * random_int(random, 0, steps);
}

/* --- filling in ---------------------------------------------------------------------------------------------------- */

static char *cell_of(struct shop_class *out, enum trade_property property) {
    return out->cells[property - trade_kind_rows[trade_property_rows[property].kind].first];
}

static void set_text(struct shop_class *out, enum trade_property property, const char *text) {
    snprintf(cell_of(out, property), SHOP_CELL, "%s", text);
}

/* NAN leaves it open. */
static void set_number(struct shop_class *out, enum trade_property property, double number) {
    if (!isnan(number)) {
        snprintf(cell_of(out, property), SHOP_CELL, "%g", number);
    }
}

static const char *word_name(enum trade_property property, unsigned word) {
    return trade_word_name(trade_property_rows[property].domain, word);
}

static void set_word(struct shop_class *out, enum trade_property property, unsigned word) {
    set_text(out, property, word_name(property, word));
}

static void set_yes(struct shop_class *out, enum trade_property property, bool yes) {
    set_word(out, property, yes ? TRADE_YES_NO_YES : TRADE_YES_NO_NO);
}

static void set_words(struct shop_class *out, enum trade_property property, uint64_t words) {
    char *cell = cell_of(out, property);
    size_t n = 0;
    for (unsigned word = 0; word < 64 && n < SHOP_CELL; word++) {
        if (words >> word & 1) {
            n += (size_t)snprintf(cell + n, SHOP_CELL - n, "%s%s", n ? " " : "", word_name(property, word));
        }
    }
}

__attribute__((format(printf, 2, 3))) static void set_stem(struct shop_class *out, const char *format, ...) {
    va_list list;
    va_start(list, format);
    vsnprintf(out->stem, sizeof out->stem, format, list);
    va_end(list);
    for (char *at = out->stem; *at; at++) {
        *at = *at == '_' ? '-' : *at;
    }
}

__attribute__((format(printf, 2, 3))) static void set_name(struct shop_class *out, const char *format, ...) {
    va_list list;
    va_start(list, format);
    vsnprintf(out->name, sizeof out->name, format, list);
    va_end(list);
}

static void set_worth(struct shop_class *out, double price, double mass_g) {
    out->price = price;
    out->mass_g = mass_g;
}

/* --- front --------------------------------------------------------------------------------------------------------- */

static bool is_direct(unsigned mount) {
    return mount == TRADE_RING_MOUNT_DIRECT_3_BOLT || mount == TRADE_RING_MOUNT_DIRECT_8_BOLT ||
           mount == TRADE_RING_MOUNT_DIRECT_LOCKRING;
}

static const char *mount_label(unsigned mount) { return word_name(TRADE_RING_MOUNT, mount); }

static const struct trade_ring_mounts_row *mount_row(unsigned mount) {
    size_t i = 0;
    while (trade_ring_mounts[i].ring_mount != (int)mount) {
        i++; /* the table has a row for every word */
    }
    return &trade_ring_mounts[i];
}

/* A few families that lie side by side, the widest first. */
static uint64_t some_chains(struct random_source *random) {
    int last = (int)trade_domain_rows[TRADE_DOMAIN_CHAIN_FAMILY].n - 1;
    int first = random_int(random, TRADE_CHAIN_FAMILY_UP_TO_8, last), n = random_int(random, 1, 4);
    uint64_t chains = 0;
    for (int word = first; word < first + n && word <= last; word++) {
        chains |= BIT(word);
    }
    return chains;
}

static void draw_ring(struct shop_class *out, struct random_source *random) {
    unsigned mount = some_word(random, TRADE_CRANK_MOUNT, BIT(TRADE_RING_MOUNT_RIVETED));
    unsigned profile = some_word(random, TRADE_RING_PROFILE, 0);
    int smallest = mount_row(mount)->smallest_teeth;
    int teeth = (smallest > 0 ? smallest : 28) + 2 * random_int(random, 0, 7) + chance(random, 1, 6);
    bool direct = is_direct(mount);
    set_number(out, TRADE_RING_TEETH, teeth);
    set_word(out, TRADE_RING_MOUNT, mount);
    set_word(out, TRADE_RING_PROFILE, profile);
    set_words(out, TRADE_RING_CHAINS, some_chains(random));
    set_number(out, TRADE_RING_OFFSET_MM, direct ? some_step(random, 0, 1, 7) : 3 * chance(random, 1, 8));
    set_number(out, TRADE_RING_THICKNESS_MM, some_step(random, 2.0, 0.1, 1));
    set_yes(out, TRADE_RING_TAKES_WASHERS, !direct && chance(random, 3, 4));
    set_stem(out, "r-%s-%d", mount_label(mount), teeth);
    set_name(out, "%d T %s", teeth, word_name(TRADE_RING_PROFILE, profile));
    set_worth(out, 22 + 0.4 * (teeth - 30), 50 + 3.0 * (teeth - 30) + (direct ? 25 : 0));
    out->mass_g = fmax(out->mass_g, 24);
}

static bool is_square(unsigned spindle) {
    return spindle == TRADE_SPINDLE_SQUARE_JIS || spindle == TRADE_SPINDLE_SQUARE_ISO;
}

/* The planes of as many places as the crank has, round the chain line that is stated. */
static void set_places(struct shop_class *out, struct random_source *random, int places, double line_mm) {
    static const enum trade_property planes[] = {TRADE_CRANK_OUTER_PLANE_MM, TRADE_CRANK_MIDDLE_PLANE_MM,
                                                 TRADE_CRANK_INNER_PLANE_MM};
    const uint64_t words = places == 1   ? BIT(TRADE_PLACE_OUTER)
                           : places == 2 ? BIT(TRADE_PLACE_OUTER) | BIT(TRADE_PLACE_INNER)
                                         : BIT(TRADE_PLACE_OUTER) | BIT(TRADE_PLACE_MIDDLE) | BIT(TRADE_PLACE_INNER);
    double spacing_mm = some_step(random, 6.6, 0.2, 3), plane_mm = line_mm + spacing_mm * (places - 1) / 2;
    set_words(out, TRADE_CRANK_PLACES, words);
    set_number(out, TRADE_CRANK_LINE_MM, line_mm);
    set_number(out, TRADE_CRANK_SPACING_MM, places > 1 ? spacing_mm : NAN);
    for (unsigned place = 0; place < 3; place++) {
        if (words >> place & 1) {
            set_number(out, planes[place], plane_mm);
            plane_mm -= spacing_mm;
        }
    }
}

static void draw_crank(struct shop_class *out, struct random_source *random) {
    unsigned spindle = some_word(random, TRADE_CRANK_SPINDLE, BIT(TRADE_SPINDLE_ONE_PIECE));
    unsigned mount = some_word(random, TRADE_CRANK_MOUNT, chance(random, 1, 20) ? 0 : BIT(TRADE_RING_MOUNT_RIVETED));
    bool direct = is_direct(mount), square = is_square(spindle);
    int places = direct || chance(random, 2, 3) ? 1 : random_int(random, 2, 3);
    double arm_mm = chance(random, 1, 6) ? some_step(random, 152, 2.5, 8) : some_usual(random, TRADE_CRANK_ARM_MM);
    unsigned hold = square                               ? TRADE_CRANK_HOLD_TAPER_BOLT
                    : spindle == TRADE_SPINDLE_HOLLOW_24 ? TRADE_CRANK_HOLD_PINCH_BOLTS
                                                         : TRADE_CRANK_HOLD_AXIAL_BOLT;
    set_word(out, TRADE_CRANK_SPINDLE, spindle);
    set_number(out, TRADE_CRANK_SPINDLE_MM, square ? some_usual(random, TRADE_BOTTOM_BRACKET_SPINDLE_MM) : NAN);
    set_number(out, TRADE_CRANK_ARM_MM, arm_mm);
    set_word(out, TRADE_CRANK_HOLD, hold);
    set_word(out, TRADE_CRANK_MOUNT, mount);
    if (places == 3) {
        set_word(out, TRADE_CRANK_INNER_MOUNT, some_word(random, TRADE_CRANK_INNER_MOUNT, 0));
    }
    set_yes(out, TRADE_CRANK_RINGS_FIXED, mount == TRADE_RING_MOUNT_RIVETED);
    set_places(out, random, places, direct ? some_step(random, 49, 3, 2) : some_step(random, 43.5, 1, 7));
    set_number(out, TRADE_CRANK_Q_MM, some_step(random, 146, 2, 16));
    set_stem(out, "c-%s-%s-%g", word_name(TRADE_CRANK_SPINDLE, spindle), mount_label(mount), arm_mm);
    set_name(out, "%g mm on %d places", arm_mm, places);
    set_worth(out, 70 + 30 * !square, 560 + 90 * square + 0.6 * (arm_mm - 170));
}

static void draw_bottom_bracket(struct shop_class *out, struct random_source *random) {
    unsigned shell = some_word(random, TRADE_FRAME_SHELL, BIT(TRADE_SHELL_ONE_PIECE_51));
    const struct trade_shells_row *made;
    SOME_ROW(made, random, trade_shells, row->shell == (int)shell);
    uint64_t others = made->drive_hand >= 0 ? 0 : BIT(TRADE_SPINDLE_HOLLOW_24) - 1;
    unsigned spindle = some_word(random, TRADE_CRANK_SPINDLE, others | BIT(TRADE_SPINDLE_ONE_PIECE));
    size_t narrow = (size_t)random_int(random, 0, (int)made->widths_n - 1);
    size_t wide = narrow + 1 < made->widths_n && chance(random, 1, 3) ? narrow + 1 : narrow;
    bool own = spindle < TRADE_SPINDLE_HOLLOW_24;
    double length_mm = own ? some_usual(random, TRADE_BOTTOM_BRACKET_SPINDLE_MM) : NAN;
    set_word(out, TRADE_BOTTOM_BRACKET_SHELL, shell);
    set_number(out, TRADE_BOTTOM_BRACKET_LEAST_SHELL_MM, made->widths[narrow]);
    set_number(out, TRADE_BOTTOM_BRACKET_WIDEST_SHELL_MM, made->widths[wide]);
    set_word(out, TRADE_BOTTOM_BRACKET_SPINDLE, spindle);
    set_number(out, TRADE_BOTTOM_BRACKET_SPINDLE_MM, length_mm);
    set_number(out, TRADE_BOTTOM_BRACKET_RIGHT_OVERHANG_MM, own ? some_step(random, 0, 0.5, 3) : 0);
    set_stem(out, "b-%s-%g-%s", word_name(TRADE_BOTTOM_BRACKET_SHELL, shell), made->widths[narrow],
             word_name(TRADE_CRANK_SPINDLE, spindle));
    set_name(out, "%s %g mm", word_name(TRADE_BOTTOM_BRACKET_SHELL, shell), made->widths[narrow]);
    set_worth(out, own ? 18 : 34, own ? 290 : 105);
}

static void draw_front_derailleur(struct shop_class *out, struct random_source *random) {
    unsigned mount = some_word(random, TRADE_FRONT_DERAILLEUR_MOUNT, 0);
    int step = random_int(random, 10, 22);
    set_word(out, TRADE_FRONT_DERAILLEUR_MOUNT, mount);
    set_number(out, TRADE_FRONT_DERAILLEUR_BRACKET_MM, mount == TRADE_FRONT_MOUNT_CUP_BRACKET ? 2.5 : 0);
    set_number(out, TRADE_FRONT_DERAILLEUR_STEP_TEETH, step);
    set_stem(out, "f-%s-%d", word_name(TRADE_FRONT_DERAILLEUR_MOUNT, mount), step);
    set_name(out, "%s %d T", word_name(TRADE_FRONT_DERAILLEUR_MOUNT, mount), step);
    set_worth(out, 26, 140);
}

static void draw_chain_guide(struct shop_class *out, struct random_source *random) {
    unsigned mount = some_word(random, TRADE_CHAIN_GUIDE_MOUNT, 0);
    int least = random_int(random, 24, 34), most = least + random_int(random, 6, 16);
    set_word(out, TRADE_CHAIN_GUIDE_MOUNT, mount);
    set_number(out, TRADE_CHAIN_GUIDE_LEAST_TEETH, least);
    set_number(out, TRADE_CHAIN_GUIDE_MOST_TEETH, most);
    set_yes(out, TRADE_CHAIN_GUIDE_SINGLE_ONLY, true);
    set_stem(out, "g-%s-%d-%d", word_name(TRADE_CHAIN_GUIDE_MOUNT, mount), least, most);
    set_name(out, "%s %d-%d T", word_name(TRADE_CHAIN_GUIDE_MOUNT, mount), least, most);
    set_worth(out, 29, 75);
}

static void draw_spacer(struct shop_class *out, struct random_source *random) {
    unsigned place = some_word(random, TRADE_SPACER_PLACE, 0);
    const struct trade_body_spacers_row *behind;
    SOME_ROW(behind, random, trade_body_spacers, row->spacer_mm > 0);
    double mm = place == TRADE_SPACER_PLACE_RING_BOLTS ? some_step(random, 0.5, 0.1, 10)
                : place == TRADE_SPACER_PLACE_CUPS     ? some_step(random, 0.5, 0.1, 20)
                                                       : behind->spacer_mm;
    set_word(out, TRADE_SPACER_PLACE, place);
    set_number(out, TRADE_SPACER_THICKNESS_MM, mm);
    set_stem(out, "s-%s-%g", word_name(TRADE_SPACER_PLACE, place), mm);
    set_name(out, "%g mm", mm);
    set_worth(out, 2, 2 + 2 * mm);
}

/* --- rear ---------------------------------------------------------------------------------------------------------- */

static void draw_chain(struct shop_class *out, struct random_source *random) {
    unsigned family = some_word(random, TRADE_CHAIN_FAMILY, 0);
    int links = 106 + 2 * random_int(random, 0, 12);
    const struct trade_chains_row *sized;
    SOME_ROW(sized, random, trade_chains, row->chain_family == (int)family);
    set_word(out, TRADE_CHAIN_FAMILY, family);
    set_number(out, TRADE_CHAIN_LINKS, links);
    set_number(out, TRADE_CHAIN_WIDTH_MM, chance(random, 1, 2) ? sized->width_mm : sized->width_high_mm);
    set_number(out, TRADE_CHAIN_WORN_PERCENT, 0);
    set_word(out, TRADE_CHAIN_JOINING, chance(random, 4, 5) ? TRADE_JOINING_QUICK_LINK : TRADE_JOINING_PIN);
    set_stem(out, "h-%s-%d", word_name(TRADE_CHAIN_FAMILY, family), links);
    set_name(out, "%s %d links", word_name(TRADE_CHAIN_FAMILY, family), links);
    set_worth(out, 14 + 3.0 * family, links * (2.7 - 0.06 * family));
}

/* From the smallest to the largest in even steps, now and then one a tooth off. */
static void set_sprockets(struct shop_class *out, struct random_source *random, int n, int smallest, int largest) {
    char *cell = cell_of(out, TRADE_CASSETTE_SPROCKETS);
    size_t written = 0;
    int last = smallest - 1, odd = random_int(random, 1, 3 * n);
    for (int i = 0; i < n && written < SHOP_CELL; i++) {
        int even = (int)lround(smallest * pow((double)largest / smallest, (double)i / (n - 1)));
        int teeth = even + (i == odd && i < n - 1 && even + 1 < largest);
        teeth = teeth > last ? teeth : last + 1;
        written += (size_t)snprintf(cell + written, SHOP_CELL - written, "%s%d", i ? " " : "", teeth);
        last = teeth;
    }
}

static unsigned chain_of_speeds(struct random_source *random, int speeds) {
    const struct trade_chains_row *chain;
    SOME_ROW(chain, random, trade_chains,
             row->for_speeds[0] <= speeds && speeds <= row->for_speeds[row->for_speeds_n - 1]);
    return (unsigned)chain->chain_family;
}

static int smallest_on(struct random_source *random, unsigned spline) {
    const struct trade_bodies_row *body;
    SOME_ROW(body, random, trade_bodies, row->spline == (int)spline);
    return body->smallest_teeth > 0 ? body->smallest_teeth : 13;
}

/* One set in sixteen is closed: its parts know each other by its name alone. */
static bool set_closed(struct shop_class *out, struct random_source *random, enum trade_property set) {
    char name[16];
    bool closed = chance(random, 1, 16);
    snprintf(name, sizeof name, "line-%d", random_int(random, 1, 8));
    set_text(out, set, closed ? name : "");
    return closed;
}

static void draw_cassette(struct shop_class *out, struct random_source *random) {
    unsigned spline = some_word(random, TRADE_FREEHUB_BODY_SPLINE, 0);
    const struct trade_cassettes_row *usual;
    SOME_ROW(usual, random, trade_cassettes, row->spline == (int)spline);
    int speeds = usual->speeds, smallest = smallest_on(random, spline) + random_int(random, 0, 2);
    int most = 6 + 4 * speeds < 52 ? 6 + 4 * speeds : 52;
    int largest = most - 2 * random_int(random, 0, (most - 26) / 2);
    largest = largest < smallest + speeds - 1 ? smallest + speeds - 1 : largest;
    bool plain = largest <= 36, closed = set_closed(out, random, TRADE_CASSETTE_SET);
    set_sprockets(out, random, speeds, smallest, largest);
    set_word(out, TRADE_CASSETTE_SPLINE, spline);
    set_number(out, TRADE_CASSETTE_CLASS_MM, usual->class_mm);
    set_number(out, TRADE_CASSETTE_SPACER_MM, speeds == 10 && chance(random, 1, 4));
    set_word(out, TRADE_CASSETTE_SPACING, closed ? TRADE_SPACING_CLOSED : (unsigned)usual->spacing);
    set_number(out, TRADE_CASSETTE_OVERHANG_MM, plain ? 0 : some_step(random, 1, 1, 3));
    set_word(out, TRADE_CASSETTE_CHAIN, chain_of_speeds(random, speeds));
    set_yes(out, TRADE_CASSETTE_WORN, false);
    set_stem(out, "k%d-%d-%d", speeds, smallest, largest);
    set_name(out, "%d sprockets %d-%d", speeds, smallest, largest);
    set_worth(out, 12 + 5.0 * (speeds - 6) + 0.5 * largest, 150 + 6.0 * largest + 8.0 * speeds);
}

static void draw_freehub_body(struct shop_class *out, struct random_source *random) {
    unsigned spline = some_word(random, TRADE_FREEHUB_BODY_SPLINE, BIT(TRADE_SPLINE_THREADED));
    const struct trade_bodies_row *body;
    SOME_ROW(body, random, trade_bodies, row->spline == (int)spline);
    double length_mm = isnan(body->length_mm) ? some_step(random, 33, 0.5, 7) : body->length_mm;
    set_word(out, TRADE_FREEHUB_BODY_SPLINE, spline);
    set_number(out, TRADE_FREEHUB_BODY_LENGTH_MM, length_mm);
    set_number(out, TRADE_FREEHUB_BODY_SMALLEST_TEETH, body->smallest_teeth);
    set_stem(out, "y-%s-%g", word_name(TRADE_FREEHUB_BODY_SPLINE, spline), length_mm);
    set_name(out, "%s %g mm", word_name(TRADE_FREEHUB_BODY_SPLINE, spline), length_mm);
    set_worth(out, 38, 110);
}

/* What can slide on: the bodies that are sold for the hub, and the one that it comes with. */
static void set_bodies(struct shop_class *out, struct random_source *random, double shoulder_mm) {
    const struct trade_bodies_row *body;
    uint64_t bodies = 0;
    SOME_ROW(body, random, trade_bodies, !isnan(row->length_mm) && row->length_mm < 37);
    for (int n = random_int(random, 1, 3); n > 0; n--) {
        bodies |= BIT(some_word(random, TRADE_FREEHUB_BODY_SPLINE, BIT(TRADE_SPLINE_THREADED)));
    }
    set_words(out, TRADE_REAR_WHEEL_BODIES, bodies | BIT(body->spline));
    set_yes(out, TRADE_REAR_WHEEL_BODY_FIXED, chance(random, 1, 10));
    set_yes(out, TRADE_REAR_WHEEL_LONG_BODY, body->length_mm > 36);
    set_word(out, TRADE_REAR_WHEEL_COMES_WITH_BODY, (unsigned)body->spline);
    set_number(out, TRADE_REAR_WHEEL_COMES_WITH_BODY_MM, body->length_mm);
    set_number(out, TRADE_REAR_WHEEL_SHOULDER_MM, shoulder_mm - fmax(body->length_mm - 35, 0));
}

static double some_bead(struct random_source *random) {
    const struct trade_bead_seats_row *bead;
    SOME_ROW(bead, random, trade_bead_seats, true);
    return chance(random, 1, 2) ? 622 : bead->bead_mm;
}

static void draw_rear_wheel(struct shop_class *out, struct random_source *random) {
    const struct trade_hub_widths_row *hub;
    double width_mm = some_usual(random, TRADE_REAR_WHEEL_HUB_WIDTH_MM), bead_mm = some_bead(random);
    bool any = chance(random, 1, 4), threaded = chance(random, 1, 12), rim = chance(random, 1, 3);
    int least_mm = random_int(random, 4, 9) * 5;
    SOME_ROW(hub, random, trade_hub_widths, any || row->width_mm == width_mm);
    set_number(out, TRADE_REAR_WHEEL_HUB_WIDTH_MM, hub->width_mm);
    set_word(out, TRADE_REAR_WHEEL_AXLE, (unsigned)hub->axle);
    set_yes(out, TRADE_REAR_WHEEL_OTHER_CAPS, chance(random, 1, 3));
    set_word(out, TRADE_REAR_WHEEL_KIND, threaded ? TRADE_HUB_KIND_THREADED : TRADE_HUB_KIND_CASSETTE);
    if (threaded) {
        set_words(out, TRADE_REAR_WHEEL_BODIES, BIT(TRADE_SPLINE_THREADED));
    } else {
        set_bodies(out, random, hub->width_mm / 2 - hub->recess_mm - 40.5);
    }
    set_number(out, TRADE_REAR_WHEEL_BEAD_SEAT_MM, bead_mm);
    set_yes(out, TRADE_REAR_WHEEL_RIM_BRAKE, rim);
    set_word(out, TRADE_REAR_WHEEL_ROTOR_MOUNT,
             rim ? TRADE_ROTOR_MOUNT_NONE : some_word(random, TRADE_ROTOR_MOUNT, BIT(TRADE_ROTOR_MOUNT_NONE)));
    set_number(out, TRADE_REAR_WHEEL_LEAST_TYRE_MM, least_mm);
    set_number(out, TRADE_REAR_WHEEL_WIDEST_TYRE_MM, least_mm + 5.0 * random_int(random, 3, 5));
    set_stem(out, "w-%g-%g-%s", hub->width_mm, bead_mm, rim ? "rim" : "disc");
    set_name(out, "%g mm for %g", hub->width_mm, bead_mm);
    set_worth(out, 110, 700 + bead_mm / 2);
}

static void draw_rotor(struct shop_class *out, struct random_source *random) {
    unsigned mount = some_word(random, TRADE_ROTOR_MOUNT, BIT(TRADE_ROTOR_MOUNT_NONE));
    double size_mm = chance(random, 1, 4) ? some_step(random, 140, 20, 4) : some_usual(random, TRADE_ROTOR_SIZE_MM);
    set_number(out, TRADE_ROTOR_SIZE_MM, size_mm);
    set_word(out, TRADE_ROTOR_MOUNT, mount);
    set_number(out, TRADE_ROTOR_THICKNESS_MM, some_step(random, 1.8, 0.1, 5));
    set_stem(out, "o-%g-%s", size_mm, word_name(TRADE_ROTOR_MOUNT, mount));
    set_name(out, "%g mm", size_mm);
    set_worth(out, 12 + size_mm / 12, size_mm - 40);
}

static void draw_hanger(struct shop_class *out, struct random_source *random) {
    unsigned kind = some_word(random, TRADE_HANGER_KIND, 0);
    set_word(out, TRADE_HANGER_KIND, kind);
    set_yes(out, TRADE_HANGER_STRAIGHT, true);
    set_yes(out, TRADE_HANGER_REPLACEABLE, chance(random, 7, 8));
    set_stem(out, "n-%s", word_name(TRADE_HANGER_KIND, kind));
    set_name(out, "%s", word_name(TRADE_HANGER_KIND, kind));
    set_worth(out, 18, 26);
}

static void draw_hanger_extender(struct shop_class *out, struct random_source *random) {
    unsigned kind = chance(random, 3, 4) ? TRADE_HANGER_KIND_STANDARD : TRADE_HANGER_KIND_LONG_DIRECT;
    int adds = random_int(random, 3, 10);
    set_word(out, TRADE_HANGER_EXTENDER_KIND, kind);
    set_number(out, TRADE_HANGER_EXTENDER_ADDS_TEETH, adds);
    set_stem(out, "x-%s-%d", word_name(TRADE_HANGER_KIND, kind), adds);
    set_name(out, "%d T more", adds);
    set_worth(out, 12, 30);
}

/* --- shifting ------------------------------------------------------------------------------------------------------ */

/* A family and those of its neighbours that take each other's derailleurs. */
static uint64_t some_pulls(struct random_source *random, unsigned pull) {
    uint64_t pulls = BIT(pull);
    for (size_t i = 0; i < trade_pulls_n; i++) {
        if (trade_share_derailleurs(pull, (unsigned)trade_pulls[i].pull) && chance(random, 3, 4)) {
            pulls |= BIT(trade_pulls[i].pull);
        }
    }
    return pulls;
}

static void set_reach(struct shop_class *out, struct random_source *random, bool single) {
    const struct trade_cages_row *cage;
    SOME_ROW(cage, random, trade_cages, true);
    int largest = random_int(random, cage->largest_low_teeth, cage->largest_high_teeth);
    set_number(out, TRADE_REAR_DERAILLEUR_LARGEST_TEETH, largest);
    set_number(out, TRADE_REAR_DERAILLEUR_LEAST_LARGEST_TEETH, largest - random_int(random, 2, 10));
    set_number(out, TRADE_REAR_DERAILLEUR_CAPACITY_TEETH,
               random_int(random, cage->capacity_low_teeth, cage->capacity_high_teeth));
    set_word(out, TRADE_REAR_DERAILLEUR_CAGE, (unsigned)cage->cage);
    set_number(out, TRADE_REAR_DERAILLEUR_REACH_MM, 105 + 20.0 * cage->cage);
    set_word(out, TRADE_REAR_DERAILLEUR_CHAIN_RULE,
             single && largest > 40 ? TRADE_CHAIN_RULE_WIDE_SINGLE : TRADE_CHAIN_RULE_ORDINARY);
    set_worth(out, 20 + largest, 200 + 45.0 * cage->cage + largest);
}

static void draw_rear_derailleur(struct shop_class *out, struct random_source *random) {
    unsigned pull = some_word(random, TRADE_SHIFTER_PULL, BIT(TRADE_PULL_CLOSED));
    unsigned mount =
        chance(random, 2, 3) ? TRADE_DERAILLEUR_MOUNT_STANDARD : some_word(random, TRADE_REAR_DERAILLEUR_MOUNTS, 0);
    bool single = chance(random, 1, 2), closed = set_closed(out, random, TRADE_REAR_DERAILLEUR_SET);
    bool electronic = closed && chance(random, 1, 2);
    set_word(out, TRADE_REAR_DERAILLEUR_ACTUATION, electronic ? TRADE_ACTUATION_ELECTRONIC : TRADE_ACTUATION_INDEXED);
    set_words(out, TRADE_REAR_DERAILLEUR_PULLS, closed ? BIT(TRADE_PULL_CLOSED) : some_pulls(random, pull));
    set_yes(out, TRADE_REAR_DERAILLEUR_CLUTCH, chance(random, 1, 2));
    set_yes(out, TRADE_REAR_DERAILLEUR_SINGLE_ONLY, single);
    set_number(out, TRADE_REAR_DERAILLEUR_FRONT_STEP_TEETH, single ? 0 : random_int(random, 12, 22));
    set_words(out, TRADE_REAR_DERAILLEUR_MOUNTS, BIT(mount));
    set_reach(out, random, single);
    set_stem(out, "d-%s-%s", closed ? "closed" : word_name(TRADE_SHIFTER_PULL, pull),
             cell_of(out, TRADE_REAR_DERAILLEUR_LARGEST_TEETH));
    set_name(out, "to %s T", cell_of(out, TRADE_REAR_DERAILLEUR_LARGEST_TEETH));
}

/* The lever and the shifter of a combined unit know each other by this name. */
static void set_unit(struct shop_class *out, enum trade_property unit, unsigned side, unsigned bar, unsigned speeds) {
    char name[SHOP_CELL];
    snprintf(name, sizeof name, "unit-%s-%s-%u", trade_word_name(TRADE_DOMAIN_SIDE, side),
             trade_word_name(TRADE_DOMAIN_BAR, bar), speeds);
    set_text(out, unit, name);
}

/* Where a shifter sits on which bar. The shifter of a combined unit is sold with its lever. */
static void set_seat(struct shop_class *out, struct random_source *random, unsigned side, unsigned speeds) {
    unsigned seat = some_word(random, TRADE_SHIFTER_SEAT, 0);
    const struct trade_seat_bars_row *on;
    SOME_ROW(on, random, trade_seat_bars, row->seat == (int)seat && row->verdict == TRADE_VERDICT_FITS);
    set_word(out, TRADE_SHIFTER_SEAT, seat);
    set_word(out, TRADE_SHIFTER_BAR, (unsigned)on->bar);
    set_worth(out, 8 + 3.0 * speeds, 80 + 5.0 * speeds);
    if (seat == TRADE_SEAT_IN_LEVER) {
        set_unit(out, TRADE_SHIFTER_UNIT, side, (unsigned)on->bar, speeds);
        set_worth(out, 0, 0);
    }
}

static void draw_shifter(struct shop_class *out, struct random_source *random) {
    bool left = chance(random, 1, 8), closed = set_closed(out, random, TRADE_SHIFTER_SET) && !left;
    unsigned side = left ? TRADE_SIDE_LEFT : TRADE_SIDE_RIGHT;
    unsigned pull = some_word(random, TRADE_SHIFTER_PULL, BIT(TRADE_PULL_CLOSED));
    const struct trade_pulls_row *family;
    SOME_ROW(family, random, trade_pulls, row->pull == (int)pull);
    unsigned positions = left ? (unsigned)random_int(random, 2, 3) : (unsigned)family->speeds;
    set_word(out, TRADE_SHIFTER_SIDE, side);
    set_word(out, TRADE_SHIFTER_ACTUATION, TRADE_ACTUATION_INDEXED);
    if (!left) {
        set_word(out, TRADE_SHIFTER_PULL, closed ? TRADE_PULL_CLOSED : pull);
    } else {
        set_text(out, TRADE_SHIFTER_SET, "");
    }
    set_number(out, TRADE_SHIFTER_POSITIONS, positions);
    set_seat(out, random, side, positions);
    set_stem(out, "t-%s-%u", left ? "left" : word_name(TRADE_SHIFTER_PULL, pull), positions);
    set_name(out, "%u positions %s", positions, left ? "left" : "right");
}

static void draw_brake_lever(struct shop_class *out, struct random_source *random) {
    unsigned pull = some_word(random, TRADE_BRAKE_LEVER_PULL, 0), bar = (unsigned)random_int(random, 0, 1);
    bool carries = chance(random, 1, 2);
    unsigned side = some_word(random, TRADE_BRAKE_LEVER_SIDE, carries ? BIT(TRADE_SIDE_EITHER) : 0);
    const struct trade_seat_fits_row *bracket;
    SOME_ROW(bracket, random, trade_seat_fits, true);
    set_word(out, TRADE_BRAKE_LEVER_SIDE, side);
    set_word(out, TRADE_BRAKE_LEVER_PULL, pull);
    set_yes(out, TRADE_BRAKE_LEVER_CARRIES_SHIFTER, carries);
    set_word(out, TRADE_BRAKE_LEVER_BAR, bar);
    if (carries) {
        set_unit(out, TRADE_BRAKE_LEVER_UNIT, side, bar, (unsigned)random_int(random, 6, 13));
    } else if (bar == TRADE_BAR_FLAT && chance(random, 1, 2)) {
        set_words(out, TRADE_BRAKE_LEVER_BRACKETS, BIT(bracket->bracket_seat));
    }
    set_stem(out, "l-%s-%s", word_name(TRADE_BRAKE_LEVER_PULL, pull), word_name(TRADE_BRAKE_LEVER_SIDE, side));
    set_name(out, "%s pull %s bar", word_name(TRADE_BRAKE_LEVER_PULL, pull), word_name(TRADE_BRAKE_LEVER_BAR, bar));
    set_worth(out, carries ? 90 : 30, carries ? 260 : 120);
}

static void draw_cable_set(struct shop_class *out, struct random_source *random) {
    unsigned use = some_word(random, TRADE_CABLE_SET_USE, 0);
    bool housing = chance(random, 1, 2);
    set_word(out, TRADE_CABLE_SET_USE, use);
    set_yes(out, TRADE_CABLE_SET_HOUSING, housing);
    set_stem(out, "z-%s", word_name(TRADE_CABLE_SET_USE, use));
    set_name(out, "%s %s housing", word_name(TRADE_CABLE_SET_USE, use), housing ? "with" : "without");
    set_worth(out, housing ? 10 : 5, housing ? 90 : 30);
}

const struct shop_kind shop_kinds[] = {
    {TRADE_KIND_RING, 270, draw_ring},
    {TRADE_KIND_CASSETTE, 150, draw_cassette},
    {TRADE_KIND_CRANK, 120, draw_crank},
    {TRADE_KIND_SHIFTER, 90, draw_shifter},
    {TRADE_KIND_BOTTOM_BRACKET, 80, draw_bottom_bracket},
    {TRADE_KIND_REAR_DERAILLEUR, 80, draw_rear_derailleur},
    {TRADE_KIND_BRAKE_LEVER, 45, draw_brake_lever},
    {TRADE_KIND_CHAIN, 45, draw_chain},
    {TRADE_KIND_REAR_WHEEL, 40, draw_rear_wheel},
    {TRADE_KIND_FREEHUB_BODY, 15, draw_freehub_body},
    {TRADE_KIND_SPACER, 15, draw_spacer},
    {TRADE_KIND_ROTOR, 12, draw_rotor},
    {TRADE_KIND_CHAIN_GUIDE, 10, draw_chain_guide},
    {TRADE_KIND_FRONT_DERAILLEUR, 10, draw_front_derailleur},
    {TRADE_KIND_CABLE_SET, 8, draw_cable_set},
    {TRADE_KIND_HANGER, 6, draw_hanger},
    {TRADE_KIND_HANGER_EXTENDER, 4, draw_hanger_extender},
};
const size_t shop_kinds_n = sizeof shop_kinds / sizeof *shop_kinds;
