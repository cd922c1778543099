/* SPDX-License-Identifier: Apache-2.0 */
/* Indexing: every system that is sold as matched passes, every pair that is known not to work does not. */
#include "mech/index.h"
#include "support/near.h"
#include "support/random.h"
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#define CLICKS_MAX 13

/* Products of figures with two digits are exact in the table. */
static void test_systems_of_the_table(void **state) {
    (void)state;
    struct reference *r = reference_open("index_systems");
    while (reference_next(r)) {
        assert_true(strlen(reference_word(r, "system")) > 0);
        int n = reference_count(r, "sprockets");
        double pull_mm = reference_number(r, "pull_mm"), ratio = reference_number(r, "ratio");
        double pitch_mm = reference_number(r, "pitch_mm");
        reference_check(r, "move_mm", mech_index_move_mm(pull_mm, ratio), 1e-9);
        reference_check(r, "click_error_mm", mech_index_click_error_mm(pull_mm, ratio, pitch_mm), 1e-9);
        reference_check(r, "total_error_mm", mech_index_total_error_mm(n, pull_mm, ratio, pitch_mm), 1e-9);
        reference_check(r, "centred_error_mm", mech_index_centred_error_mm(n, pull_mm, ratio, pitch_mm), 1e-9);
        int rejected = mech_index_judge(n, pull_mm, ratio, pitch_mm) == MECH_INDEX_NO;
        reference_claim(r, rejected == (strcmp(reference_word(r, "judged"), "rejected") == 0), "judged as stated");
        /* A matched system is not even near a limit once the tolerance is taken off. */
        reference_claim(r, rejected || mech_index_judge(n, pull_mm, ratio, pitch_mm) == MECH_INDEX_NEAR, "near");
    }
    reference_close(r, 8);
}

/* The tolerance of nominal figures is no wider and no narrower than what matched families show. */
static void test_tolerance_is_that_of_matched_families(void **state) {
    (void)state;
    double largest_percent = 0.0;
    struct reference *r = reference_open("index_families");
    while (reference_next(r)) {
        assert_true(strlen(reference_word(r, "family")) > 0);
        int n = reference_count(r, "sprockets");
        double pull_mm = reference_number(r, "pull_mm"), ratio = reference_number(r, "ratio");
        double pitch_mm = reference_number(r, "pitch_mm"), move_mm = mech_index_move_mm(pull_mm, ratio);
        reference_check(r, "move_mm", move_mm, 0.005);
        /* One decimal, from a product that was rounded to 0.01 before: 0.15 % of the pitch more. */
        double error_percent = 100.0 * (move_mm - pitch_mm) / pitch_mm;
        reference_check(r, "error_percent", error_percent, 0.05 + 0.15);
        double size_percent = fabs(error_percent);
        largest_percent = size_percent > largest_percent ? size_percent : largest_percent;
        reference_claim(r, mech_index_judge(n, pull_mm, ratio, pitch_mm) == MECH_INDEX_NEAR, "a matched family passes");
    }
    reference_close(r, 21);
    double allowed_percent = 100.0 * MECH_INDEX_TOLERANCE * sqrt(3.0);
    assert_true(largest_percent < allowed_percent && allowed_percent < 1.1 * largest_percent);
}

static void test_mixes_that_workshops_report(void **state) {
    (void)state;
    struct reference *r = reference_open("index_mixes");
    while (reference_next(r)) {
        assert_true(strlen(reference_word(r, "mix")) > 0);
        enum mech_index_class c = mech_index_judge(reference_count(r, "sprockets"), reference_number(r, "pull_mm"),
                                                   reference_number(r, "ratio"), reference_number(r, "pitch_mm"));
        int usable = strcmp(reference_word(r, "result"), "usable") == 0;
        reference_claim(r, usable ? c != MECH_INDEX_NO : c == MECH_INDEX_NO, "judged as reported");
    }
    reference_close(r, 6);
}

static size_t read_pulls(double *pulls, const char *text) {
    size_t n = 0;
    for (char *end; *text != '\0' && n < CLICKS_MAX; text = end) {
        pulls[n] = strtod(text, &end);
        if (end == text) {
            break;
        }
        n++;
    }
    return n;
}

/* With ratio 1 and a pitch of no size worth speaking of, the total error is the total pull. */
static void test_uneven_pulls_as_measured(void **state) {
    (void)state;
    const double tiny_mm = 1e-12;
    struct reference *r = reference_open("index_uneven");
    while (reference_next(r)) {
        assert_true(strlen(reference_word(r, "lever")) > 0);
        double pulls[CLICKS_MAX];
        struct mech_index_errors errors;
        size_t n = read_pulls(pulls, reference_word(r, "pulls_mm"));
        reference_check(r, "clicks", (double)n, 0.0);
        assert_int_equal(mech_index_uneven(&errors, pulls, n, 1.0, tiny_mm), BASE_OK);
        reference_check(r, "total_pull_mm", errors.total_mm, reference_number(r, "total_tolerance_mm"));
        reference_check(r, "mean_pull_mm", errors.total_mm / (double)n,
                        0.005 + reference_number(r, "total_tolerance_mm") / (double)n);
    }
    reference_close(r, 3);
}

/* Largest error of any position, with the cable set by so much. */
static double worst_at(double set_mm, const double *pulls, size_t n, double ratio, double pitch_mm) {
    double error = set_mm, worst = fabs(set_mm);
    for (size_t i = 0; i < n; i++) {
        error += pulls[i] * ratio - pitch_mm;
        worst = fmax(worst, fabs(error));
    }
    return worst;
}

/* The best that the adjuster can do, found by trying settings 0.001 mm apart. */
static void test_uneven_pulls_are_centred_as_the_adjuster_would(void **state) {
    (void)state;
    struct random_source random = {13};
    for (int round = 0; round < 20; round++) {
        double pulls[CLICKS_MAX];
        struct mech_index_errors errors;
        size_t n = (size_t)random_int(&random, 1, 12);
        double ratio = random_between(&random, 1.0, 1.8), pitch_mm = random_between(&random, 3.4, 5.5);
        for (size_t i = 0; i < n; i++) {
            pulls[i] = pitch_mm / ratio * random_between(&random, 0.9, 1.1);
        }
        double best = INFINITY;
        for (int set = -6000; set <= 6000; set++) {
            best = fmin(best, worst_at(set * 0.001, pulls, n, ratio, pitch_mm));
        }
        assert_int_equal(mech_index_uneven(&errors, pulls, n, ratio, pitch_mm), BASE_OK);
        assert_near(errors.centred_mm, best, 0.001);
    }
}

static void test_even_pulls_are_a_case_of_uneven_ones(void **state) {
    (void)state;
    struct random_source random = {14};
    for (int round = 0; round < 500; round++) {
        double pulls[CLICKS_MAX], pull_mm = random_between(&random, 2.0, 4.5),
                                  ratio = random_between(&random, 1.0, 1.8);
        double pitch_mm = random_between(&random, 3.4, 5.5);
        struct mech_index_errors errors;
        int n = random_int(&random, 2, CLICKS_MAX + 1);
        for (int i = 0; i < n - 1; i++) {
            pulls[i] = pull_mm;
        }
        assert_int_equal(mech_index_uneven(&errors, pulls, (size_t)n - 1, ratio, pitch_mm), BASE_OK);
        assert_near(errors.total_mm, mech_index_total_error_mm(n, pull_mm, ratio, pitch_mm), 1e-11);
        assert_near(errors.centred_mm, mech_index_centred_error_mm(n, pull_mm, ratio, pitch_mm), 1e-11);
    }
}

/* Worked by hand. Move and pitch 4, eleven sprockets: 5 x 0.02 x sqrt(48) = 0.69282. Move 3 (1.5 x 2), pitch 4, three
 * sprockets: 0.02 x sqrt(34) = 0.116619. */
static void test_allowance_by_hand(void **state) {
    (void)state;
    assert_near(mech_index_allowance_mm(11, 2.0, 2.0, 4.0), 0.69282, 5e-6);
    assert_near(mech_index_allowance_mm(3, 1.5, 2.0, 4.0), 0.116619, 5e-7);
    /* The error beyond it is what is judged: 2 sprockets of pitch 4, 0.5 x (4.5 - 4) = 0.25 less 0.5 x 0.02 x sqrt(56.5). */
    assert_int_equal(mech_index_judge(2, 4.5, 1.0, 4.0), MECH_INDEX_NEAR);
    /* 10 sprockets, 4.5 x 0.3 = 1.35 less 0.6555 leaves 0.69. */
    assert_int_equal(mech_index_judge(10, 4.3, 1.0, 4.0), MECH_INDEX_NOISY);
    /* 10 sprockets, 4.5 x 0.25 = 1.125 less 0.6504 leaves 0.47. */
    assert_int_equal(mech_index_judge(10, 4.25, 1.0, 4.0), MECH_INDEX_CARE);
}

/* A larger error is never judged better, on either side, and more sprockets never help. */
static void test_judgement_is_monotone(void **state) {
    (void)state;
    for (int n = 5; n <= 13; n++) {
        for (int side = -1; side <= 1; side += 2) {
            enum mech_index_class last = MECH_INDEX_NEAR;
            for (int step = 0; step <= 400; step++) {
                double move_mm = 4.0 + side * step * 0.005;
                enum mech_index_class c = mech_index_judge(n, move_mm / 1.1, 1.1, 4.0);
                assert_true(c >= last && c <= mech_index_judge(n + 1, move_mm / 1.1, 1.1, 4.0));
                last = c;
            }
            assert_int_equal(last, MECH_INDEX_NO);
        }
    }
}

static void test_classes_have_their_limits(void **state) {
    (void)state;
    assert_int_equal(mech_index_class_of(0.0), MECH_INDEX_NEAR);
    assert_int_equal(mech_index_class_of(-0.3), MECH_INDEX_NEAR);
    assert_int_equal(mech_index_class_of(0.31), MECH_INDEX_CARE);
    assert_int_equal(mech_index_class_of(-0.6), MECH_INDEX_CARE);
    assert_int_equal(mech_index_class_of(0.61), MECH_INDEX_NOISY);
    assert_int_equal(mech_index_class_of(1.0), MECH_INDEX_NOISY);
    assert_int_equal(mech_index_class_of(-1.01), MECH_INDEX_NO);
    assert_int_equal(mech_index_class_of((double)NAN), MECH_INDEX_NO);
    assert_int_equal(mech_index_judge(10, (double)NAN, 1.7, 3.95), MECH_INDEX_NO);
    assert_int_equal(mech_index_judge(10, INFINITY, 1.7, 3.95), MECH_INDEX_NO);
}

static void test_room_in_the_cassette(void **state) {
    (void)state;
    struct reference *r = reference_open("cassette_room");
    while (reference_next(r)) {
        assert_in_range(reference_count(r, "sprockets"), 8, 12);
        double room_mm = mech_index_room_mm(reference_number(r, "pitch_mm"), reference_number(r, "chain_width_mm"),
                                            reference_number(r, "thickness_mm"));
        reference_check(r, "room_mm", room_mm, 0.005);
    }
    reference_close(r, 5);
}

static void test_a_quarter_turn_of_the_adjuster(void **state) {
    (void)state;
    struct reference *r = reference_open("index_adjuster");
    while (reference_next(r)) {
        reference_check(r, "move_mm", mech_index_move_mm(reference_number(r, "cable_mm"), reference_number(r, "ratio")),
                        0.005);
    }
    reference_close(r, 3);
}

static void test_pulls_that_cannot_be_give_a_status(void **state) {
    (void)state;
    const double nan = (double)NAN;
    double pulls[CLICKS_MAX + 1] = {2.5, 2.5, 2.5};
    struct mech_index_errors errors = {-1.0, -1.0};
    assert_int_equal(mech_index_uneven(&errors, pulls, 0, 1.7, 4.34), BASE_BAD_INPUT);
    assert_int_equal(mech_index_uneven(&errors, pulls, CLICKS_MAX + 1, 1.7, 4.34), BASE_BAD_INPUT);
    assert_int_equal(mech_index_uneven(&errors, pulls, 4, 1.7, 4.34), BASE_BAD_INPUT); /* the fourth is 0 */
    assert_int_equal(mech_index_uneven(&errors, pulls, 3, 0.0, 4.34), BASE_BAD_INPUT);
    assert_int_equal(mech_index_uneven(&errors, pulls, 3, nan, 4.34), BASE_BAD_INPUT);
    assert_int_equal(mech_index_uneven(&errors, pulls, 3, 1.7, -4.34), BASE_BAD_INPUT);
    assert_int_equal(mech_index_uneven(&errors, pulls, 3, 1.7, INFINITY), BASE_BAD_INPUT);
    pulls[1] = nan;
    assert_int_equal(mech_index_uneven(&errors, pulls, 3, 1.7, 4.34), BASE_BAD_INPUT);
    assert_near(errors.total_mm, -1.0, 0.0);
    assert_near(errors.centred_mm, -1.0, 0.0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_systems_of_the_table),
        cmocka_unit_test(test_tolerance_is_that_of_matched_families),
        cmocka_unit_test(test_mixes_that_workshops_report),
        cmocka_unit_test(test_uneven_pulls_as_measured),
        cmocka_unit_test(test_uneven_pulls_are_centred_as_the_adjuster_would),
        cmocka_unit_test(test_even_pulls_are_a_case_of_uneven_ones),
        cmocka_unit_test(test_allowance_by_hand),
        cmocka_unit_test(test_judgement_is_monotone),
        cmocka_unit_test(test_classes_have_their_limits),
        cmocka_unit_test(test_room_in_the_cassette),
        cmocka_unit_test(test_a_quarter_turn_of_the_adjuster),
        cmocka_unit_test(test_pulls_that_cannot_be_give_a_status),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
