/* SPDX-License-Identifier: Apache-2.0 */
/* Chain length: textbook examples, the workshop's rules on their edges, capacity and wear. */
#include "mech/chain.h"
#include "mech/constants.h"
#include "mech/loop.h"
#include "mech/sprocket.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <string.h>

#include <cmocka.h>

static const enum mech_chain_rule all_rules[] = {MECH_CHAIN_ORDINARY, MECH_CHAIN_WIDE_RIGID, MECH_CHAIN_WIDE_SUSPENDED};

/* The pitch of a row: as given, or from the pitch circle of a wheel. */
static double pitch_of(struct reference *r) {
    if (!reference_has(r, "wheel_teeth")) {
        return reference_has(r, "pitch_mm") ? reference_number(r, "pitch_mm") : 1.0;
    }
    double circle_mm = 0.0;
    assert_int_equal(mech_sprocket_pitch_diameter_mm(&circle_mm, reference_count(r, "wheel_teeth")), BASE_OK);
    double pitch_mm = MECH_PITCH_MM * reference_number(r, "wheel_pitch_diameter_mm") / circle_mm;
    if (reference_has(r, "pitch_mm")) {
        reference_check(r, "pitch_mm", pitch_mm, 0.05);
    }
    return pitch_mm;
}

static double links_of(struct reference *r, double pitch_mm) {
    const char *form = reference_word(r, "form");
    int a = reference_count(r, "teeth_a"), b = reference_count(r, "teeth_b");
    double links = -1.0;
    if (strcmp(form, "workshop") == 0) {
        assert_int_equal(mech_chain_workshop_links(&links, reference_number(r, "centres_mm"), a, b), BASE_OK);
        return links;
    }
    double centres = reference_has(r, "centres_mm") ? reference_number(r, "centres_mm") / pitch_mm
                                                    : reference_number(r, "centres_pitches");
    if (strcmp(form, "cosec") == 0) {
        assert_int_equal(mech_chain_cosec_links(&links, centres, a, b), BASE_OK);
    } else {
        assert_string_equal(form, "handbook");
        assert_int_equal(mech_chain_handbook_links(&links, centres, a, b), BASE_OK);
    }
    return links;
}

static double chosen_from(double links, const char *choice) {
    if (strcmp(choice, "up") == 0) {
        return ceil(links);
    }
    return strcmp(choice, "up to even") == 0 ? 2.0 * ceil(links / 2.0) : 2.0 * round(links / 2.0);
}

static void test_textbook_examples(void **state) {
    (void)state;
    struct reference *r = reference_open("chain_length");
    while (reference_next(r)) {
        assert_true(strlen(reference_word(r, "example")) > 0);
        double pitch_mm = pitch_of(r), links = links_of(r, pitch_mm);
        if (reference_has(r, "links")) {
            reference_check(r, "links", links, reference_number(r, "links_tolerance"));
        }
        if (reference_has(r, "choice")) {
            double chosen = chosen_from(links, reference_word(r, "choice")), centres = -1.0;
            reference_check(r, "chosen_links", chosen, 0.0);
            if (reference_has(r, "new_centres")) {
                assert_int_equal(mech_chain_handbook_centres(&centres, chosen, reference_count(r, "teeth_a"),
                                                             reference_count(r, "teeth_b")),
                                 BASE_OK);
                reference_check(r, "new_centres", centres, reference_number(r, "new_centres_tolerance"));
            }
            /* Where a sheet rounds the pitch and the count before it multiplies, so does the check. */
            links = chosen;
            pitch_mm = reference_has(r, "pitch_mm") ? reference_number(r, "pitch_mm") : pitch_mm;
        }
        if (reference_has(r, "length_mm")) {
            reference_check(r, "length_mm", links * pitch_mm, reference_number(r, "length_tolerance_mm"));
        }
    }
    reference_close(r, 11);
}

/* The rules as the workshop says them, worked by hand. */
static void test_rules_by_hand(void **state) {
    (void)state;
    const struct {
        double bare;
        enum mech_chain_rule rule;
        int rule_links, cut;
    } cases[] = {
        {108.4, MECH_CHAIN_ORDINARY, 112, 112},       /* 110.4, up to even */
        {107.9, MECH_CHAIN_ORDINARY, 110, 110},       /* 109.9 */
        {108.0, MECH_CHAIN_ORDINARY, 110, 110},       /* 110 is even already */
        {108.001, MECH_CHAIN_ORDINARY, 112, 112},     /* and no shorter than bare + 2 */
        {108.4, MECH_CHAIN_WIDE_RIGID, 113, 114},     /* 108 + 5 */
        {107.5, MECH_CHAIN_WIDE_RIGID, 112, 112},     /* 107 + 5 */
        {108.4, MECH_CHAIN_WIDE_SUSPENDED, 114, 114}, /* 108 + 6 */
        {107.5, MECH_CHAIN_WIDE_SUSPENDED, 113, 114}, /* 107 + 6 */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int rule = 0, cut = 0;
        assert_int_equal(mech_chain_rule_links(&rule, cases[i].bare, cases[i].rule), BASE_OK);
        assert_int_equal(mech_chain_links_to_cut(&cut, cases[i].bare, cases[i].rule), BASE_OK);
        assert_int_equal(rule, cases[i].rule_links);
        assert_int_equal(cut, cases[i].cut);
    }
}

/* Even, enough, and the next shorter chain would not be. */
static void test_cut_is_the_shortest_even_chain_that_is_enough(void **state) {
    (void)state;
    struct random_source random = {7};
    for (int round = 0; round < 20000; round++) {
        double bare = random_between(&random, 60.0, 160.0);
        enum mech_chain_rule rule = all_rules[random_int(&random, 0, 2)];
        int by_rule = 0, cut = 0;
        assert_int_equal(mech_chain_rule_links(&by_rule, bare, rule), BASE_OK);
        assert_int_equal(mech_chain_links_to_cut(&cut, bare, rule), BASE_OK);
        assert_int_equal(cut % 2, 0);
        assert_true(cut >= by_rule && cut >= bare + 2.0 - 1e-6);
        assert_true(cut - 2 < by_rule || cut - 2 < bare + 2.0);
    }
}

/* Equal wheels at a whole number of half pitches make a whole bare loop: rounding in the geometry must not cost two
 * pitches. 34 pitches apart, 2 x 34 + 20 = 88, whatever the sums leave. */
static void test_a_whole_bare_loop_is_taken_as_whole(void **state) {
    (void)state;
    for (int teeth = 10; teeth <= 40; teeth++) {
        double bare = 0.0;
        int rule = 0;
        assert_int_equal(mech_loop_bare_links(&bare, teeth, teeth, 34.0 * 12.7), BASE_OK);
        assert_near(bare, 68.0 + teeth, 1e-9);
        for (int noise = -1; noise <= 1; noise++) {
            assert_int_equal(mech_chain_rule_links(&rule, bare + noise * 1e-9, MECH_CHAIN_WIDE_RIGID), BASE_OK);
            assert_int_equal(rule, 68 + teeth + 5);
            assert_int_equal(mech_chain_rule_links(&rule, bare + noise * 1e-9, MECH_CHAIN_ORDINARY), BASE_OK);
            assert_int_equal(rule, 70 + teeth + teeth % 2);
        }
    }
}

/* Four teeth to spare are two pitches more; none to spare leave the shortest chain; too few leave none. */
static void test_longest_chain_uses_up_the_spare_capacity(void **state) {
    (void)state;
    int longest = -1, cut = 0;
    assert_int_equal(mech_chain_longest_links(&longest, 108.4, 43, 43), BASE_OK);
    assert_int_equal(longest, 112);
    assert_int_equal(mech_chain_longest_links(&longest, 108.4, 43, 40), BASE_OK);
    assert_int_equal(longest, 112);
    assert_int_equal(mech_chain_longest_links(&longest, 108.4, 43, 39), BASE_OK);
    assert_int_equal(longest, 114);
    assert_int_equal(mech_chain_longest_links(&longest, 108.4, 43, 25), BASE_OK);
    assert_int_equal(longest, 120);
    longest = -1;
    assert_int_equal(mech_chain_longest_links(&longest, 108.4, 42, 43), BASE_NO);
    assert_int_equal(mech_chain_longest_links(&longest, 108.4, -1, 0), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_longest_links(&longest, 108.4, 43, -1), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_longest_links(&longest, (double)NAN, 43, 39), BASE_BAD_INPUT);
    assert_int_equal(longest, -1);
    struct random_source random = {8};
    for (int round = 0; round < 5000; round++) {
        double bare = random_between(&random, 60.0, 160.0);
        int needed = random_int(&random, 0, 50), spare = random_int(&random, 0, 30);
        assert_int_equal(mech_chain_longest_links(&longest, bare, needed + spare, needed), BASE_OK);
        assert_int_equal(mech_chain_links_to_cut(&cut, bare, MECH_CHAIN_ORDINARY), BASE_OK);
        assert_int_equal(longest % 2, 0);
        assert_true(longest >= cut && longest <= cut + spare / 2.0 && longest + 2 > cut + spare / 2.0);
    }
}

static void test_capacity_sums_as_published(void **state) {
    (void)state;
    struct reference *r = reference_open("capacity");
    while (reference_next(r)) {
        int needed =
            mech_chain_capacity_needed(reference_count(r, "largest_ring"), reference_count(r, "smallest_ring"),
                                       reference_count(r, "largest_sprocket"), reference_count(r, "smallest_sprocket"));
        reference_check(r, "capacity_teeth", needed, 0.0);
    }
    reference_close(r, 5);
    assert_int_equal(mech_chain_capacity_needed(32, 32, 51, 11), 40);
}

/* Without a derailleur nothing is added: the next even number, or the next whole one with a half link (common practice). */
static void test_a_chain_that_the_axle_keeps_taut(void **state) {
    (void)state;
    static const struct {
        double bare;
        int even, whole;
    } rows[] = {{97.2, 98, 98},  {98.0, 98, 98},   {98.2, 100, 99},
                {99.0, 100, 99}, {99.3, 100, 100}, {98.0000001, 98, 98}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int links;
        assert_int_equal(mech_chain_single_links(&links, rows[i].bare, false), BASE_OK);
        assert_int_equal(links, rows[i].even);
        assert_int_equal(mech_chain_single_links(&links, rows[i].bare, true), BASE_OK);
        assert_int_equal(links, rows[i].whole);
    }
    int links = 7;
    assert_int_equal(mech_chain_single_links(&links, 5.0, true), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_single_links(&links, (double)NAN, false), BASE_BAD_INPUT);
    assert_int_equal(links, 7);
}

static void test_wear_over_a_foot(void **state) {
    (void)state;
    struct reference *r = reference_open("chain_wear");
    while (reference_next(r)) {
        int pitches = reference_count(r, "pitches");
        double measured_mm = 304.8 + reference_number(r, "longer_mm");
        reference_check(r, "wear_percent", mech_chain_wear_percent(measured_mm, pitches),
                        reference_number(r, "tolerance_percent"));
    }
    reference_close(r, 2);
    assert_near(mech_chain_wear_percent(12.7 * 48, 48), 0.0, 1e-12);
    for (double mm = 303.0; mm < 320.0; mm += 0.7) { /* and back */
        assert_near(mech_chain_worn_mm(mech_chain_wear_percent(mm, 24), 24), mm, 1e-12 * 320.0);
    }
    assert_true(mech_chain_wear_percent(304.7, 24) < 0.0);
}

/* The handbook form drops terms of the order of (difference / 2 pi)^4 / C^3: on bicycle drives below 0.01 pitch. */
static void test_handbook_form_is_near_the_exact_bare_loop(void **state) {
    (void)state;
    struct random_source random = {9};
    for (int round = 0; round < 2000; round++) {
        int ring = random_int(&random, 22, 56), sprocket = random_int(&random, 9, 52);
        double stay_mm = random_between(&random, 380.0, 480.0), exact = 0.0, handbook = 0.0, swapped = 0.0;
        assert_int_equal(mech_loop_bare_links(&exact, ring, sprocket, stay_mm), BASE_OK);
        assert_int_equal(mech_chain_handbook_links(&handbook, stay_mm / 12.7, ring, sprocket), BASE_OK);
        assert_int_equal(mech_chain_handbook_links(&swapped, stay_mm / 12.7, sprocket, ring), BASE_OK);
        double turn = (ring - sprocket) / (2.0 * MECH_PI), c = stay_mm / 12.7;
        assert_near(handbook, exact, 2e-3 + pow(turn, 4.0) / pow(c, 3.0));
        assert_near(swapped, handbook, 0.0);
        double cosec = 0.0;
        assert_int_equal(mech_chain_cosec_links(&cosec, c, ring, sprocket), BASE_OK);
        assert_near(cosec, exact, 0.03);
    }
}

static void test_centres_turn_the_handbook_form_round(void **state) {
    (void)state;
    struct random_source random = {10};
    for (int round = 0; round < 2000; round++) {
        int a = random_int(&random, 10, 70), b = random_int(&random, 10, 70);
        double centres = random_between(&random, 25.0, 80.0), links = 0.0, again = 0.0;
        assert_int_equal(mech_chain_handbook_links(&links, centres, a, b), BASE_OK);
        assert_int_equal(mech_chain_handbook_centres(&again, links, a, b), BASE_OK);
        assert_near(again, centres, 1e-10);
    }
}

static void test_what_has_no_length_gives_a_status(void **state) {
    (void)state;
    const double nan = (double)NAN, bares[] = {nan, INFINITY, -INFINITY, -108.0, 0.0, 19.9, 400.1, 1e308};
    int whole = -1;
    double real = -1.0;
    for (size_t i = 0; i < sizeof bares / sizeof bares[0]; i++) {
        for (size_t rule = 0; rule < 3; rule++) {
            assert_int_equal(mech_chain_rule_links(&whole, bares[i], all_rules[rule]), BASE_BAD_INPUT);
            assert_int_equal(mech_chain_links_to_cut(&whole, bares[i], all_rules[rule]), BASE_BAD_INPUT);
        }
    }
    assert_int_equal(whole, -1);
    assert_int_equal(mech_chain_handbook_links(&real, 0.0, 17, 34), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_handbook_links(&real, nan, 17, 34), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_handbook_links(&real, 30.0, 0, 34), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_cosec_links(&real, -1.0, 17, 34), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_cosec_links(&real, 30.0, 17, 0), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_handbook_centres(&real, nan, 17, 34), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_handbook_centres(&real, 0.0, 17, 34), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_handbook_centres(&real, 80.0, 17, 1), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_handbook_centres(&real, 20.0, 17, 34), BASE_NO);  /* shorter than half of both wheels */
    assert_int_equal(mech_chain_handbook_centres(&real, 70.5, 10, 120), BASE_NO); /* no room for the difference */
    assert_int_equal(mech_chain_workshop_links(&real, nan, 44, 28), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_workshop_links(&real, 42.0, 44, 28), BASE_BAD_INPUT);
    assert_int_equal(mech_chain_workshop_links(&real, 420.0, 44, 0), BASE_BAD_INPUT);
    assert_near(real, -1.0, 0.0);
}

/* The edges of the stated ranges still belong to them. */
static void test_lengths_on_the_edge_are_taken(void **state) {
    (void)state;
    int whole = -1;
    double real = -1.0;
    assert_int_equal(mech_chain_links_to_cut(&whole, 20.0, MECH_CHAIN_ORDINARY), BASE_OK);
    assert_int_equal(whole, 22);
    assert_int_equal(mech_chain_links_to_cut(&whole, 400.0, MECH_CHAIN_WIDE_SUSPENDED), BASE_OK);
    assert_int_equal(whole, 406);
    assert_int_equal(mech_chain_longest_links(&whole, 100.0, 200, 0), BASE_OK);
    assert_int_equal(whole, 202);
    assert_int_equal(mech_chain_longest_links(&whole, 100.0, 200, 200), BASE_OK);
    assert_int_equal(whole, 102);
    assert_int_equal(mech_chain_handbook_links(&real, 10000.0, 6, 130), BASE_OK);
    assert_int_equal(mech_chain_handbook_centres(&real, 20000.0, 130, 6), BASE_OK);
    assert_int_equal(mech_chain_workshop_links(&real, 100.0, 6, 6), BASE_OK);
    assert_near(real, 23.7, 1e-12);
    assert_int_equal(mech_chain_workshop_links(&real, 1000.0, 130, 130), BASE_OK);
    assert_near(real, 289.0, 1e-12);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_textbook_examples),
        cmocka_unit_test(test_rules_by_hand),
        cmocka_unit_test(test_cut_is_the_shortest_even_chain_that_is_enough),
        cmocka_unit_test(test_a_whole_bare_loop_is_taken_as_whole),
        cmocka_unit_test(test_longest_chain_uses_up_the_spare_capacity),
        cmocka_unit_test(test_capacity_sums_as_published),
        cmocka_unit_test(test_a_chain_that_the_axle_keeps_taut),
        cmocka_unit_test(test_wear_over_a_foot),
        cmocka_unit_test(test_handbook_form_is_near_the_exact_bare_loop),
        cmocka_unit_test(test_centres_turn_the_handbook_form_round),
        cmocka_unit_test(test_what_has_no_length_gives_a_status),
        cmocka_unit_test(test_lengths_on_the_edge_are_taken),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
