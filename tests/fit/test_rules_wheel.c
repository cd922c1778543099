/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rear wheel: in the frame, under the tyre, with the brake; rotor; chain beside the tyre.
 */
#include "fit/probe.h"
#include "fit/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <math.h>

#include <cmocka.h>

#define WHEEL TRADE_SLOT_REAR_WHEEL
#define ROTOR TRADE_SLOT_REAR_ROTOR

static struct probe hub(double frame_mm, unsigned frame_axle, double hub_mm, unsigned axle) {
    struct probe p;
    probe_init(&p, &fit_hub_frame);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_HUB_WIDTH_MM, frame_mm);
    probe_word(&p, FIT_FRAME, TRADE_FRAME_AXLE, frame_axle);
    probe_number(&p, WHEEL, TRADE_REAR_WHEEL_HUB_WIDTH_MM, hub_mm);
    probe_word(&p, WHEEL, TRADE_REAR_WHEEL_AXLE, axle);
    return p;
}

#define QUICK TRADE_AXLE_QUICK_RELEASE
#define THRU TRADE_AXLE_THRU_12

/* Widths that exist: Bicycle spacing crib sheet, sheldonbrown.com. Each fits itself, whatever the material. */
static void same_width(void **state) {
    (void)state;
    static const double widths[] = {120, 126, 130, 135, 141, 142, 148, 150, 157, 177, 197};
    for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++) {
        for (size_t j = 0; j < sizeof widths / sizeof widths[0]; j++) {
            struct probe p = hub(widths[i], THRU, widths[j], THRU);
            probe_word(&p, FIT_FRAME, TRADE_FRAME_MATERIAL, TRADE_MATERIAL_CARBON);
            enum fit_kind kind = probe_judge(&p).kind;
            /* 141 and 142 look alike and are different hubs */
            assert_true(i == j ? kind == FIT_FITS : kind == FIT_CLASH || kind == FIT_ADAPTER);
        }
    }
}

/* Steel may be spread or squeezed from 126 to 130 and between 130 and 135; aluminium, carbon and titanium never: common
 * practice of the trade. Unless the material is known there is no answer. */
static void forgiving(void **state) {
    (void)state;
    static const struct {
        double frame_mm, hub_mm;
        const char *reason;
    } steel[] = {{126, 130, "hub-frame.spread"}, {130, 135, "hub-frame.spread"}, {135, 130, "hub-frame.squeeze"}};
    for (size_t i = 0; i < sizeof steel / sizeof steel[0]; i++) {
        struct probe p = hub(steel[i].frame_mm, QUICK, steel[i].hub_mm, QUICK);
        probe_expect_ask(&p, FIT_FRAME, TRADE_FRAME_MATERIAL);
        for (unsigned material = 0; material < TRADE_MATERIAL_COUNT; material++) {
            bool forgives = material == TRADE_MATERIAL_STEEL;
            probe_word(&p, FIT_FRAME, TRADE_FRAME_MATERIAL, material);
            probe_expect(&p, forgives ? FIT_DRAWBACK : FIT_CLASH, forgives ? steel[i].reason : "hub-frame.stiff");
        }
    }
    struct probe p = hub(130, QUICK, 142, THRU); /* 12 mm are nobody's to forgive */
    probe_word(&p, FIT_FRAME, TRADE_FRAME_MATERIAL, TRADE_MATERIAL_STEEL);
    probe_expect(&p, FIT_CLASH, "hub-frame.width");
}

/* 142 is 135 with 3.5 mm more on each side, and 148 is 141 (148 mm rear hub explained, a retailer's article; How to change
 * hub spacing with end caps, a hub maker's leaflet): other end caps change the one to the other. */
static void end_caps(void **state) {
    (void)state;
    static const struct {
        double hub, frame;
        enum trade_axle axle, frame_axle;
    } pairs[] = {{135, 142, QUICK, THRU}, {142, 135, THRU, QUICK}, {148, 141, THRU, QUICK}};
    struct probe p;
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        p = hub(pairs[i].hub, pairs[i].axle, pairs[i].frame, pairs[i].frame_axle);
        probe_expect(&p, FIT_CLASH, "hub-frame.caps-untold"); /* not every hub's maker sells them: common practice */
        probe_word(&p, TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_OTHER_CAPS, TRADE_YES_NO_NO);
        probe_expect(&p, FIT_CLASH, "hub-frame.caps-untold");
        probe_word(&p, TRADE_SLOT_REAR_WHEEL, TRADE_REAR_WHEEL_OTHER_CAPS, TRADE_YES_NO_YES);
        probe_expect(&p, FIT_ADAPTER, "hub-frame.caps");
    }
    p = hub(148, THRU, 142, THRU);
    probe_expect(&p, FIT_CLASH, "hub-frame.width");
    p = hub(142, THRU, 148, THRU);
    probe_expect(&p, FIT_CLASH, "hub-frame.width");
}

static void axles(void **state) {
    (void)state;
    struct probe p = hub(135, QUICK, 135, TRADE_AXLE_NUTTED); /* the same slotted dropouts */
    probe_expect(&p, FIT_FITS, "hub-frame.fits");
    p = hub(142, THRU, 142, QUICK);
    probe_expect(&p, FIT_CLASH, "hub-frame.axle");
    p = hub(135, QUICK, 135, THRU);
    probe_expect(&p, FIT_CLASH, "hub-frame.axle");
    p = hub(130, THRU, 135, QUICK);
    probe_word(&p, FIT_FRAME, TRADE_FRAME_MATERIAL, TRADE_MATERIAL_STEEL);
    probe_expect(&p, FIT_CLASH, "hub-frame.axle");
}

/* An offset rear end wants the new rim dished back; the wheel that is there has been. */
static void offset(void **state) {
    (void)state;
    struct probe p = hub(142, THRU, 142, THRU);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_REAR_OFFSET_MM, 0);
    probe_expect(&p, FIT_FITS, "hub-frame.fits");
    probe_number(&p, FIT_FRAME, TRADE_FRAME_REAR_OFFSET_MM, 6);
    probe_expect(&p, FIT_DRAWBACK, "hub-frame.redish");
    probe_stays(&p, WHEEL);
    probe_expect(&p, FIT_FITS, "hub-frame.fits");
}

/* --- rim and tyre ----------------------------------------------------------------------------------------------- */

/* ISO 5775: 622, 590, 584, 571 and 559 are five different sizes, of which three are sold as 26 inches. */
static void bead_seats(void **state) {
    (void)state;
    static const double seats[] = {630, 622, 590, 584, 571, 559, 507, 451, 406, 349, 305};
    for (size_t i = 0; i < sizeof seats / sizeof seats[0]; i++) {
        for (size_t j = 0; j < sizeof seats / sizeof seats[0]; j++) {
            struct probe p;
            probe_init(&p, &fit_wheel_size);
            probe_number(&p, WHEEL, TRADE_REAR_WHEEL_BEAD_SEAT_MM, seats[i]);
            probe_number(&p, FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM, seats[j]);
            probe_expect(&p, i == j ? FIT_FITS : FIT_CLASH, i == j ? "wheel-size.fits" : "wheel-size.other");
        }
    }
}

static void bead_seat_open(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_wheel_size);
    probe_number(&p, WHEEL, TRADE_REAR_WHEEL_BEAD_SEAT_MM, 622);
    probe_expect_ask(&p, FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM);
    probe_number(&p, FIT_NOW + WHEEL, TRADE_REAR_WHEEL_BEAD_SEAT_MM, 584); /* the rim that the tyre sits on */
    probe_expect(&p, FIT_CLASH, "wheel-size.other");
    probe_number(&p, FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM, 622); /* the tyre itself wins */
    probe_expect(&p, FIT_FITS, "wheel-size.fits");
    probe_open(&p, WHEEL, TRADE_REAR_WHEEL_BEAD_SEAT_MM);
    probe_expect(&p, FIT_CLASH, "wheel-size.ask");
    probe_stays(&p, WHEEL);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

static void tyre_width(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_tyre_width);
    probe_number(&p, WHEEL, TRADE_REAR_WHEEL_LEAST_TYRE_MM, 35); /* such as a rim maker states for a 25 mm rim */
    probe_number(&p, WHEEL, TRADE_REAR_WHEEL_WIDEST_TYRE_MM, 57);
    static const struct {
        double mm;
        enum fit_kind kind;
    } tyres[] = {{34, FIT_CLASH}, {35, FIT_FITS}, {47, FIT_FITS}, {57, FIT_FITS}, {58, FIT_CLASH}};
    for (size_t i = 0; i < sizeof tyres / sizeof tyres[0]; i++) {
        probe_number(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, tyres[i].mm);
        assert_int_equal(probe_judge(&p).kind, tyres[i].kind);
    }
    probe_sweep(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, 20, 57, 0.5, false);
    probe_sweep(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, 35, 80, 0.5, true);
    probe_open(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM);
    probe_expect_ask(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM);
    probe_open(&p, WHEEL, TRADE_REAR_WHEEL_LEAST_TYRE_MM);
    probe_expect(&p, FIT_CLASH, "tyre-width.ask");
    probe_stays(&p, WHEEL);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

/* --- brake and rotor -------------------------------------------------------------------------------------------- */

static void wheel_and_brake(void **state) {
    (void)state;
    static const unsigned on_rim[] = {TRADE_BRAKE_RIM_CALIPER, TRADE_BRAKE_RIM_CANTILEVER, TRADE_BRAKE_RIM_LINEAR_PULL,
                                      TRADE_BRAKE_RIM_HYDRAULIC};
    static const unsigned on_disc[] = {TRADE_BRAKE_DISC_CABLE_SHORT, TRADE_BRAKE_DISC_CABLE_LONG,
                                       TRADE_BRAKE_DISC_MINERAL, TRADE_BRAKE_DISC_DOT};
    struct probe p;
    probe_init(&p, &fit_wheel_brake);
    for (size_t i = 0; i < 4; i++) {
        probe_word(&p, FIT_FRAME, TRADE_FRAME_BRAKE, on_rim[i]);
        probe_word(&p, WHEEL, TRADE_REAR_WHEEL_ROTOR_MOUNT, TRADE_ROTOR_MOUNT_SIX_BOLT);
        probe_open(&p, WHEEL, TRADE_REAR_WHEEL_RIM_BRAKE);
        probe_expect(&p, FIT_CLASH, "wheel-brake.ask");
        probe_word(&p, WHEEL, TRADE_REAR_WHEEL_RIM_BRAKE, TRADE_YES_NO_NO);
        probe_expect(&p, FIT_CLASH, "wheel-brake.no-track");
        probe_word(&p, WHEEL, TRADE_REAR_WHEEL_RIM_BRAKE, TRADE_YES_NO_YES);
        probe_expect(&p, FIT_FITS, "wheel-brake.fits");
        probe_word(&p, FIT_FRAME, TRADE_FRAME_BRAKE, on_disc[i]);
        probe_expect(&p, FIT_FITS, "wheel-brake.fits");
        probe_word(&p, WHEEL, TRADE_REAR_WHEEL_ROTOR_MOUNT, TRADE_ROTOR_MOUNT_NONE);
        probe_expect(&p, FIT_CLASH, "wheel-brake.no-mount");
        probe_open(&p, WHEEL, TRADE_REAR_WHEEL_ROTOR_MOUNT);
        probe_expect(&p, FIT_CLASH, "wheel-brake.ask");
    }
    probe_word(&p, FIT_FRAME, TRADE_FRAME_BRAKE, TRADE_BRAKE_DRUM);
    probe_expect(&p, FIT_CLASH, "wheel-brake.in-hub");
    probe_word(&p, FIT_FRAME, TRADE_FRAME_BRAKE, TRADE_BRAKE_NONE);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

static void rotor_mounts(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_rotor_mount);
    for (unsigned rotor = TRADE_ROTOR_MOUNT_SIX_BOLT; rotor < TRADE_ROTOR_MOUNT_COUNT; rotor++) {
        for (unsigned of_hub = 0; of_hub < TRADE_ROTOR_MOUNT_COUNT; of_hub++) {
            probe_word(&p, ROTOR, TRADE_ROTOR_MOUNT, rotor);
            probe_word(&p, WHEEL, TRADE_REAR_WHEEL_ROTOR_MOUNT, of_hub);
            assert_int_equal(probe_judge(&p).kind, rotor == of_hub ? FIT_FITS : FIT_CLASH);
        }
    }
    probe_open(&p, ROTOR, TRADE_ROTOR_MOUNT);
    probe_stays(&p, ROTOR);
    probe_expect_ask(&p, ROTOR, TRADE_ROTOR_MOUNT); /* on a new wheel */
    probe_stays(&p, WHEEL);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

/* Rotors of the trade: 140, 160, 180, 203 (Disc brake mounts and adaptors, a shop's page). */
static void rotor_sizes(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_rotor_size);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_LARGEST_ROTOR_MM, 180);
    probe_empty(&p, FIT_NOW + ROTOR);
    static const double sizes[] = {140, 160, 180, 203};
    for (size_t i = 0; i < 4; i++) {
        probe_number(&p, ROTOR, TRADE_ROTOR_SIZE_MM, sizes[i]);
        assert_int_equal(probe_judge(&p).kind, sizes[i] <= 180 ? FIT_FITS : FIT_CLASH);
    }
    probe_sweep(&p, ROTOR, TRADE_ROTOR_SIZE_MM, 120, 230, 1, true);
    probe_number(&p, FIT_NOW + ROTOR, TRADE_ROTOR_SIZE_MM, 160);
    probe_number(&p, ROTOR, TRADE_ROTOR_SIZE_MM, 180);
    probe_expect(&p, FIT_DRAWBACK, "rotor-size.changes");
    probe_number(&p, ROTOR, TRADE_ROTOR_SIZE_MM,
                 140); /* a worn rotor is not replaced by less brake (common practice) */
    probe_expect(&p, FIT_CLASH, "rotor-size.small");
    probe_number(&p, ROTOR, TRADE_ROTOR_SIZE_MM, 160);
    probe_expect(&p, FIT_FITS, "rotor-size.fits");
    probe_number(&p, FIT_FRAME, TRADE_FRAME_LARGEST_ROTOR_MM,
                 140); /* the frame carries today's size, whatever it says */
    probe_expect(&p, FIT_FITS, "rotor-size.fits");
    probe_number(&p, ROTOR, TRADE_ROTOR_SIZE_MM, 203);
    probe_expect(&p, FIT_CLASH, "rotor-size.large");
    probe_open(&p, ROTOR, TRADE_ROTOR_SIZE_MM);
    probe_expect(&p, FIT_CLASH, "rotor-size.ask");
    probe_stays(&p, ROTOR);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

static void rotor_needed(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_rotor_needed);
    probe_word(&p, FIT_FRAME, TRADE_FRAME_BRAKE, TRADE_BRAKE_DISC_MINERAL);
    probe_expect(&p, FIT_FITS, "rotor-needed.fits");
    probe_empty(&p, ROTOR);
    probe_expect(&p, FIT_CLASH, "rotor-needed.none");
    probe_stays(&p, WHEEL);
    probe_expect(&p, FIT_CLASH, "rotor-needed.none"); /* it was there and is taken away */
    probe_empty(&p, FIT_NOW + ROTOR);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT); /* nobody recorded it, and the wheel stays */
    probe_number(&p, WHEEL, FIT_FITTED, 0);
    probe_expect(&p, FIT_CLASH, "rotor-needed.none");
    probe_word(&p, FIT_FRAME, TRADE_FRAME_BRAKE, TRADE_BRAKE_RIM_CALIPER);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

/* About 1.5 mm is where the trade replaces a rotor. */
static void rotor_worn(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_rotor_worn);
    assert_true(fit_rotor_worn.as_it_stands);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
    probe_number(&p, ROTOR, TRADE_ROTOR_THICKNESS_MM, 1.5);
    probe_expect(&p, FIT_FITS, "rotor-worn.fits");
    probe_number(&p, ROTOR, TRADE_ROTOR_THICKNESS_MM, 1.49);
    probe_expect(&p, FIT_CLASH, "rotor-worn.thin");
    probe_sweep(&p, ROTOR, TRADE_ROTOR_THICKNESS_MM, 0.8, 3, 0.01, false);
}

/* --- chain and tyre --------------------------------------------------------------------------------------------- */

/* A ring on the outer place at ring_mm, the plane of 36 sprocket teeth at 28, a 10-speed chain, a 622 rim. */
static struct probe beside_tyre(double ring_mm, double tyre_mm) {
    struct probe p;
    probe_init(&p, &fit_chain_tyre_outer);
    probe_number(&p, FIT_MEASURE + FIT_REAR_LARGEST, FIT_VALUE, 28);
    probe_number(&p, FIT_MEASURE + FIT_OUTER_PLANE, FIT_VALUE, ring_mm);
    probe_number(&p, TRADE_SLOT_CASSETTE, FIT_LARGEST, 36);
    probe_number(&p, TRADE_SLOT_CHAIN, TRADE_CHAIN_WIDTH_MM, 5.9);
    probe_number(&p, FIT_FRAME, TRADE_FRAME_CHAINSTAY_MM, 440);
    probe_number(&p, FIT_WHEEL, TRADE_WHEEL_BEAD_SEAT_MM, 622);
    probe_number(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, tyre_mm);
    return p;
}

/* On paper: the tyre's middle is (622 + 54) / 2 = 338 from the axle, the top of 36 teeth 145.7 / 2 = 72.9 high (pitch
 * circle, tandwiel.info), so sqrt(338^2 - 72.9^2) = 330.0 ahead, 0.7501 of 440. A ring at 43: 28 + 0.7501 x 15 = 39.25;
 * less 2.95 and 27: 9.3 mm. */
static void chain_and_tyre(void **state) {
    (void)state;
    struct probe p = beside_tyre(43, 54);
    struct fit_verdict v = probe_expect(&p, FIT_FITS, "chain-tyre.fits");
    assert_true(fabs(v.facts[0].number - 9.3) < 0.05);
    probe_sweep(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM, 25, 120, 0.5, true);
    p = beside_tyre(43, 54);
    probe_sweep(&p, FIT_MEASURE + FIT_OUTER_PLANE, FIT_VALUE, 20, 60, 0.1, false);
    p = beside_tyre(35, 54); /* 8 mm further in, of which 6.0 beside the tyre: 3.3 */
    v = probe_expect(&p, FIT_DRAWBACK, "chain-tyre.near");
    assert_true(fabs(v.facts[0].number - 3.3) < 0.05);
    p = beside_tyre(30, 54);
    probe_expect(&p, FIT_CLASH, "chain-tyre.rubs");
    probe_open(&p, FIT_WHEEL, TRADE_WHEEL_TYRE_WIDTH_MM);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(same_width),     cmocka_unit_test(forgiving),      cmocka_unit_test(end_caps),
        cmocka_unit_test(axles),          cmocka_unit_test(offset),         cmocka_unit_test(bead_seats),
        cmocka_unit_test(bead_seat_open), cmocka_unit_test(tyre_width),     cmocka_unit_test(wheel_and_brake),
        cmocka_unit_test(rotor_mounts),   cmocka_unit_test(rotor_sizes),    cmocka_unit_test(rotor_needed),
        cmocka_unit_test(rotor_worn),     cmocka_unit_test(chain_and_tyre),
    };
    return cmocka_run_group_tests_name("rear wheel, rotor, tyre", tests, NULL, NULL);
}
