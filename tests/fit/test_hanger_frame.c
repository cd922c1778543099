/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A new hanger on the frame that it was not made for. That hangers are shaped for their frame, that the universal one is a
 * shape of its own, and that a claw needs an open dropout: common practice.
 */
#include "fit/probe.h"
#include "fit/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define HANGER TRADE_SLOT_HANGER

static struct probe hanger(unsigned kind, unsigned now) {
    struct probe p;
    probe_init(&p, &fit_hanger_frame);
    probe_word(&p, HANGER, TRADE_HANGER_KIND, kind);
    probe_word(&p, FIT_NOW + HANGER, TRADE_HANGER_KIND, now);
    return p;
}

static void kinds(void **state) {
    (void)state;
    struct probe p = hanger(TRADE_HANGER_KIND_STANDARD, TRADE_HANGER_KIND_STANDARD);
    probe_expect(&p, FIT_FITS, "hanger-frame.same");
    p = hanger(TRADE_HANGER_KIND_UNIVERSAL, TRADE_HANGER_KIND_UNIVERSAL);
    probe_expect(&p, FIT_FITS, "hanger-frame.same");
    p = hanger(TRADE_HANGER_KIND_LONG_DIRECT, TRADE_HANGER_KIND_STANDARD);
    probe_expect(&p, FIT_FITS, "hanger-frame.longer");
    p = hanger(TRADE_HANGER_KIND_UNIVERSAL, TRADE_HANGER_KIND_STANDARD);
    probe_expect(&p, FIT_CLASH, "hanger-frame.other");
    p = hanger(TRADE_HANGER_KIND_LONG_DIRECT, TRADE_HANGER_KIND_UNIVERSAL);
    probe_expect(&p, FIT_CLASH, "hanger-frame.other");
}

static void claw(void **state) {
    (void)state;
    struct probe p = hanger(TRADE_HANGER_KIND_AXLE_CLAW, TRADE_HANGER_KIND_AXLE_CLAW);
    probe_word(&p, FIT_FRAME, TRADE_FRAME_AXLE, TRADE_AXLE_NUTTED);
    probe_expect(&p, FIT_FITS, "hanger-frame.same");
    probe_word(&p, FIT_FRAME, TRADE_FRAME_AXLE, TRADE_AXLE_THRU_12);
    probe_expect(&p, FIT_CLASH, "hanger-frame.claw");
    p = hanger(TRADE_HANGER_KIND_AXLE_CLAW, TRADE_HANGER_KIND_STANDARD);
    probe_word(&p, FIT_FRAME, TRADE_FRAME_AXLE, TRADE_AXLE_QUICK_RELEASE);
    probe_expect(&p, FIT_CLASH, "hanger-frame.claw");
}

static void part_of_the_frame(void **state) {
    (void)state;
    struct probe p = hanger(TRADE_HANGER_KIND_STANDARD, TRADE_HANGER_KIND_STANDARD);
    probe_word(&p, FIT_NOW + HANGER, TRADE_HANGER_REPLACEABLE, TRADE_YES_NO_NO);
    probe_expect(&p, FIT_CLASH, "hanger-frame.fixed");
    probe_stays(&p, HANGER);
    assert_int_equal(probe_judge(&p).kind, FIT_SILENT);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kinds),
        cmocka_unit_test(claw),
        cmocka_unit_test(part_of_the_frame),
    };
    return cmocka_run_group_tests_name("hanger on the frame", tests, NULL, NULL);
}
