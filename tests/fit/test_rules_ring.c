/* SPDX-License-Identifier: Apache-2.0 */
/* Rings: on the crank, among themselves, on washers, with the chain. */
#include "fit/probe.h"
#include "fit/rules.h"
#include "support/near.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define OUTER TRADE_SLOT_OUTER_RING
#define MIDDLE TRADE_SLOT_MIDDLE_RING
#define INNER TRADE_SLOT_INNER_RING
#define CRANK TRADE_SLOT_CRANK
#define BIT(WORD) (UINT64_C(1) << (WORD))

/* A new ring for a crank that stays and has this mount in all its places; the old ring of the place is there. */
static struct probe ring_on(const struct fit_rule *rule, unsigned slot, uint64_t places, unsigned mount, int teeth) {
    struct probe p;
    probe_init(&p, rule);
    probe_number(&p, slot, TRADE_RING_TEETH, teeth);
    probe_word(&p, slot, TRADE_RING_MOUNT, mount);
    probe_stays(&p, CRANK);
    probe_words(&p, CRANK, TRADE_CRANK_PLACES, places);
    probe_word(&p, CRANK, TRADE_CRANK_MOUNT, mount);
    probe_word(&p, CRANK, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_NO);
    probe_word(&p, FIT_NOW + CRANK, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_NO);
    return p;
}

static struct probe outer_on(unsigned mount, int teeth) {
    return ring_on(&fit_ring_mount_outer, OUTER, BIT(TRADE_PLACE_OUTER) | BIT(TRADE_PLACE_INNER), mount, teeth);
}

/* Smallest rings: Numbers - bicycle crib sheet, sheldonbrown.com. Four arms on 104 mm: 32 there; 30 with special rings,
 * How to convert to a 1X drivetrain, mtbiking.com.au. Five arms on 110 mm: 34, and 33 exists. */
static void smallest_rings(void **state) {
    (void)state;
    static const struct {
        unsigned mount;
        int smallest, special;
    } printed[] = {
        {TRADE_RING_MOUNT_FIVE_ARM_144, 41, 41}, {TRADE_RING_MOUNT_FIVE_ARM_135, 39, 39},
        {TRADE_RING_MOUNT_FIVE_ARM_130, 38, 38}, {TRADE_RING_MOUNT_FIVE_ARM_110, 34, 33},
        {TRADE_RING_MOUNT_FIVE_ARM_94, 29, 29},  {TRADE_RING_MOUNT_FIVE_ARM_74, 24, 24},
        {TRADE_RING_MOUNT_FOUR_ARM_104, 32, 30}, {TRADE_RING_MOUNT_FOUR_ARM_64, 22, 22},
    };
    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        struct probe p = outer_on(printed[i].mount, printed[i].smallest);
        probe_expect(&p, FIT_FITS, "ring-mount.fits");
        for (int teeth = printed[i].special; teeth < printed[i].smallest; teeth++) {
            p = outer_on(printed[i].mount, teeth);
            probe_expect(&p, FIT_FITS, "ring-mount.raised");
        }
        p = outer_on(printed[i].mount, printed[i].special - 1);
        struct fit_verdict v = probe_expect(&p, FIT_CLASH, "ring-mount.small");
        assert_near(v.facts[0].number, printed[i].special - 1, 0);
        assert_near(v.facts[2].number, printed[i].special, 0);
        probe_sweep(&p, OUTER, TRADE_RING_TEETH, 18, 50, 1, false);
    }
}

/* A direct-mount ring brings its own spider, so that no bolt circle bounds it; a mount known from weak memory only (four
 * arms on 107 mm) decides nothing. Common practice. */
static void no_smallest(void **state) {
    (void)state;
    struct probe p = outer_on(TRADE_RING_MOUNT_DIRECT_3_BOLT, 26);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
    p = outer_on(TRADE_RING_MOUNT_FOUR_ARM_107, 30);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
}

/* A symmetric ring does not bolt to four uneven arms of the same circle, nor five arms' ring to four. Common practice. */
static void other_mount(void **state) {
    (void)state;
    struct probe p = outer_on(TRADE_RING_MOUNT_FOUR_ARM_110_ASYMMETRIC, 36);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
    probe_word(&p, OUTER, TRADE_RING_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_110);
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "ring-mount.other");
    assert_int_equal(v.facts[0].word, TRADE_RING_MOUNT_FOUR_ARM_110);
    assert_int_equal(v.facts[1].word, TRADE_RING_MOUNT_FOUR_ARM_110_ASYMMETRIC);
    probe_word(&p, OUTER, TRADE_RING_MOUNT, TRADE_RING_MOUNT_FIVE_ARM_110);
    probe_expect(&p, FIT_CLASH, "ring-mount.other");
}

static void places(void **state) {
    (void)state;
    struct probe p = ring_on(&fit_ring_mount_middle, MIDDLE, BIT(TRADE_PLACE_OUTER) | BIT(TRADE_PLACE_INNER),
                             TRADE_RING_MOUNT_FOUR_ARM_104, 34);
    probe_expect(&p, FIT_CLASH, "ring-mount.place");
    probe_words(&p, CRANK, TRADE_CRANK_PLACES, BIT(TRADE_PLACE_MIDDLE));
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
    /* Nobody wrote down the places: one that holds a ring now is there, another has to be looked at. */
    probe_open(&p, CRANK, TRADE_CRANK_PLACES);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
    probe_empty(&p, FIT_NOW + MIDDLE);
    probe_expect_ask(&p, CRANK, TRADE_CRANK_PLACES);
}

/* The inner ring of a triple has a bolt circle of its own (four arms on 64 mm inside 104); the inner one of a double sits
 * on the back of the outer one's arms (five arms on 110 mm). Numbers - bicycle crib sheet, sheldonbrown.com. */
static void inner_place(void **state) {
    (void)state;
    uint64_t two = BIT(TRADE_PLACE_OUTER) | BIT(TRADE_PLACE_INNER), three = two | BIT(TRADE_PLACE_MIDDLE);
    struct probe p = ring_on(&fit_ring_mount_inner, INNER, three, TRADE_RING_MOUNT_FOUR_ARM_104, 22);
    probe_word(&p, CRANK, TRADE_CRANK_INNER_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_64);
    probe_expect(&p, FIT_CLASH, "ring-mount.other");
    probe_word(&p, INNER, TRADE_RING_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_64);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
    probe_open(&p, CRANK, TRADE_CRANK_INNER_MOUNT);
    probe_expect_ask(&p, CRANK, TRADE_CRANK_INNER_MOUNT);
    p = ring_on(&fit_ring_mount_inner, INNER, two, TRADE_RING_MOUNT_FIVE_ARM_110, 34);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
}

/* Riveted rings stay with their crank: none comes off, none goes on, none moves. Common practice. */
static void riveted(void **state) {
    (void)state;
    struct probe p = outer_on(TRADE_RING_MOUNT_FOUR_ARM_104, 36);
    probe_word(&p, CRANK, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_YES);
    probe_word(&p, FIT_NOW + CRANK, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_YES);
    probe_expect(&p, FIT_CLASH, "ring-mount.full");
    probe_stays(&p, OUTER);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
    probe_number(&p, CRANK, FIT_FITTED, 0); /* another crank, also with rings that can't come off */
    probe_expect(&p, FIT_CLASH, "ring-mount.old-held");
    probe_word(&p, CRANK, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_NO);
    probe_expect(&p, FIT_CLASH, "ring-mount.old-held");
    probe_empty(&p, OUTER); /* both go */
    probe_expect(&p, FIT_SILENT, "");
    probe_stays(&p, CRANK); /* one ring of a crank that stays */
    probe_word(&p, CRANK, TRADE_CRANK_RINGS_FIXED, TRADE_YES_NO_YES);
    probe_expect(&p, FIT_CLASH, "ring-mount.held");
    probe_empty(&p, FIT_NOW + OUTER); /* there was none in this place */
    probe_expect(&p, FIT_SILENT, "");
    p = outer_on(TRADE_RING_MOUNT_RIVETED, 42); /* the mount alone says it too */
    probe_expect(&p, FIT_CLASH, "ring-mount.full");
}

/* What is open of a ring that stays on a crank that stays alarms nobody; of one that goes elsewhere it has to be read. */
static void open_mounts(void **state) {
    (void)state;
    struct probe p = outer_on(TRADE_RING_MOUNT_FOUR_ARM_104, 36);
    probe_stays(&p, OUTER);
    probe_open(&p, OUTER, TRADE_RING_MOUNT);
    probe_expect(&p, FIT_FITS, "ring-mount.fits");
    probe_number(&p, CRANK, FIT_FITTED, 0);
    probe_expect_ask(&p, OUTER, TRADE_RING_MOUNT);
}

static void order(void **state) {
    (void)state;
    struct probe p;
    probe_init(&p, &fit_ring_order);
    probe_number(&p, OUTER, TRADE_RING_TEETH, 44);
    probe_number(&p, MIDDLE, TRADE_RING_TEETH, 32);
    probe_number(&p, INNER, TRADE_RING_TEETH, 22);
    probe_expect(&p, FIT_FITS, "ring-order.fits");
    probe_number(&p, INNER, TRADE_RING_TEETH, 32); /* as large is not smaller */
    probe_expect(&p, FIT_CLASH, "ring-order.order");
    probe_empty(&p, MIDDLE);
    probe_expect(&p, FIT_FITS, "ring-order.fits");
    probe_sweep(&p, OUTER, TRADE_RING_TEETH, 24, 44, 1, false);
    probe_number(&p, OUTER, TRADE_RING_TEETH, 30); /* outer and inner without a middle one are compared too */
    struct fit_verdict v = probe_expect(&p, FIT_CLASH, "ring-order.order");
    assert_near(v.facts[0].number, 32, 0);
    assert_near(v.facts[1].number, 30, 0);
    probe_empty(&p, INNER);
    probe_expect(&p, FIT_SILENT, "");
}

/* A single bolted ring in one place; washers of this thickness. */
static struct probe washers(double thickness_mm, bool outer) {
    struct probe p;
    probe_init(&p, &fit_ring_washers);
    probe_number(&p, TRADE_SLOT_RING_WASHERS, TRADE_SPACER_THICKNESS_MM, thickness_mm);
    probe_empty(&p, MIDDLE);
    probe_empty(&p, outer ? INNER : OUTER);
    probe_word(&p, outer ? OUTER : INNER, TRADE_RING_MOUNT, TRADE_RING_MOUNT_FOUR_ARM_104);
    probe_word(&p, outer ? OUTER : INNER, TRADE_RING_TAKES_WASHERS, TRADE_YES_NO_YES);
    return p;
}

/* At most about 1 to 1.5 mm; out in the outer place, in in the inner one, nothing in the middle; none under raised threads
 * or recessed tabs. Common practice. */
static void washers_under_bolts(void **state) {
    (void)state;
    for (int outer = 0; outer < 2; outer++) {
        struct probe p = washers(1.5, outer);
        struct fit_verdict v = probe_expect(&p, FIT_ADAPTER, "ring-washers.fits");
        assert_near(v.facts[0].number, 1.5, 0);
        assert_int_equal(v.n_facts, 1);
        p = washers(1.6, outer);
        probe_expect(&p, FIT_CLASH, "ring-washers.thick");
        probe_sweep(&p, TRADE_SLOT_RING_WASHERS, TRADE_SPACER_THICKNESS_MM, 0.5, 3, 0.1, true);
        p = washers(1.0, outer);
        probe_word(&p, outer ? OUTER : INNER, TRADE_RING_TAKES_WASHERS, TRADE_YES_NO_NO);
        probe_expect(&p, FIT_CLASH, "ring-washers.takes-none");
        probe_word(&p, outer ? OUTER : INNER, TRADE_RING_MOUNT, TRADE_RING_MOUNT_DIRECT_3_BOLT);
        probe_expect(&p, FIT_CLASH, "ring-washers.no-bolts");
    }
    struct probe p = washers(1.0, true);
    probe_number(&p, MIDDLE, FIT_PRESENT, 1);
    probe_expect(&p, FIT_CLASH, "ring-washers.several");
    probe_empty(&p, OUTER);
    probe_expect(&p, FIT_CLASH, "ring-washers.no-place");
    probe_empty(&p, MIDDLE);
    probe_expect(&p, FIT_SILENT, "");
}

static struct probe ring_chain(uint64_t chains, unsigned profile, int teeth, unsigned family) {
    struct probe p;
    probe_init(&p, &fit_ring_chain_outer);
    probe_words(&p, OUTER, TRADE_RING_CHAINS, chains);
    probe_word(&p, OUTER, TRADE_RING_PROFILE, profile);
    probe_number(&p, OUTER, TRADE_RING_TEETH, teeth);
    probe_word(&p, TRADE_SLOT_CHAIN, TRADE_CHAIN_FAMILY, family);
    return p;
}

/* Wide inner plates and large rollers want rings of their kind; an 8-speed chain on a ring with wide and narrow teeth for
 * narrower chains runs and is held less. Common practice. */
static void chain_families(void **state) {
    (void)state;
    uint64_t narrow = BIT(TRADE_CHAIN_FAMILY_NINE) | BIT(TRADE_CHAIN_FAMILY_TEN) | BIT(TRADE_CHAIN_FAMILY_ELEVEN);
    struct probe p = ring_chain(narrow, TRADE_PROFILE_WIDE_NARROW, 32, TRADE_CHAIN_FAMILY_TEN);
    probe_expect(&p, FIT_FITS, "ring-chain.fits");
    p = ring_chain(narrow, TRADE_PROFILE_WIDE_NARROW, 32, TRADE_CHAIN_FAMILY_UP_TO_8);
    probe_expect(&p, FIT_DRAWBACK, "ring-chain.holds-less");
    p = ring_chain(narrow, TRADE_PROFILE_RAMPED, 32, TRADE_CHAIN_FAMILY_UP_TO_8);
    probe_expect(&p, FIT_CLASH, "ring-chain.other");
    static const unsigned own_kind[] = {TRADE_CHAIN_FAMILY_TWELVE_WIDE_INNER, TRADE_CHAIN_FAMILY_TWELVE_LARGE_ROLLER,
                                        TRADE_CHAIN_FAMILY_THIRTEEN, TRADE_CHAIN_FAMILY_SINGLE_WIDE};
    for (size_t i = 0; i < sizeof own_kind / sizeof own_kind[0]; i++) {
        p = ring_chain(narrow | BIT(TRADE_CHAIN_FAMILY_TWELVE), TRADE_PROFILE_WIDE_NARROW, 32, own_kind[i]);
        probe_expect(&p, FIT_CLASH, "ring-chain.other");
        p = ring_chain(BIT(own_kind[i]), TRADE_PROFILE_PLAIN, 32, own_kind[i]);
        probe_expect(&p, FIT_FITS, "ring-chain.fits");
    }
}

/* Links go in turn inner and outer, teeth in turn wide and narrow: an odd count would meet itself wrong. Geometry. */
static void odd_wide_narrow(void **state) {
    (void)state;
    uint64_t any = UINT64_MAX;
    for (int teeth = 28; teeth <= 40; teeth++) {
        struct probe p = ring_chain(any, TRADE_PROFILE_WIDE_NARROW, teeth, TRADE_CHAIN_FAMILY_NINE);
        probe_expect(&p, teeth % 2 ? FIT_CLASH : FIT_FITS, teeth % 2 ? "ring-chain.odd" : "ring-chain.fits");
        probe_stays(&p, OUTER); /* also where it stands on the bike: a wrong count is found */
        probe_stays(&p, TRADE_SLOT_CHAIN);
        probe_expect(&p, teeth % 2 ? FIT_CLASH : FIT_FITS, teeth % 2 ? "ring-chain.odd" : "ring-chain.fits");
        p = ring_chain(any, TRADE_PROFILE_PLAIN, teeth, TRADE_CHAIN_FAMILY_NINE);
        probe_expect(&p, FIT_FITS, "ring-chain.fits");
    }
}

static void open_chains(void **state) {
    (void)state;
    struct probe p = ring_chain(0, TRADE_PROFILE_RAMPED, 32, TRADE_CHAIN_FAMILY_NINE);
    probe_open(&p, OUTER, TRADE_RING_CHAINS);
    probe_stays(&p, OUTER);
    probe_expect_ask(&p, OUTER, TRADE_RING_CHAINS); /* an old ring under a new chain */
    probe_stays(&p, TRADE_SLOT_CHAIN);
    probe_expect(&p, FIT_SILENT, ""); /* both stay: they run */
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(smallest_rings), cmocka_unit_test(no_smallest),     cmocka_unit_test(other_mount),
        cmocka_unit_test(places),         cmocka_unit_test(inner_place),     cmocka_unit_test(riveted),
        cmocka_unit_test(open_mounts),    cmocka_unit_test(order),           cmocka_unit_test(washers_under_bolts),
        cmocka_unit_test(chain_families), cmocka_unit_test(odd_wide_narrow), cmocka_unit_test(open_chains),
    };
    return cmocka_run_group_tests_name("rules of the rings", tests, NULL, NULL);
}
