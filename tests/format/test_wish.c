/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/wish_in.h"
#include "given.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct trade_wish read_text(const char *text) {
    struct base_faults faults;
    struct trade_wish wish;
    base_faults_init(&faults);
    assert_int_equal(format_wish_read(&wish, base_slice_of(text), "wish.json", &faults), BASE_OK);
    assert_int_equal(faults.total, 0);
    base_faults_clear(&faults);
    return wish;
}

static bool equal(double a, double b) { return (isnan(a) && isnan(b)) || (a >= b && a <= b); }

static void expect_same(const struct trade_wish *a, const struct trade_wish *b) {
    assert_int_equal(a->rings, b->rings);
    assert_int_equal(a->sprockets, b->sprockets);
    assert_true(equal(a->lowest_m_max, b->lowest_m_max));
    assert_true(equal(a->highest_m_min, b->highest_m_min));
    assert_true(equal(a->highest_m_cap, b->highest_m_cap));
    assert_int_equal(a->budget_minor, b->budget_minor);
    assert_int_equal(a->keep, b->keep);
    assert_int_equal(a->objectives, b->objectives);
    assert_true(equal(a->least_difference, b->least_difference));
}

static void an_empty_object_is_no_wish(void **state) {
    (void)state;
    struct trade_wish plain, wish = read_text("{}");
    trade_wish_init(&plain);
    expect_same(&wish, &plain);
    assert_false(wish.given);
    wish = read_text("{\"format\": 1, \"label\": \"as it comes\"}");
    expect_same(&wish, &plain);
    assert_false(wish.given);
}

static void every_key_is_kept(void **state) {
    (void)state;
    struct trade_wish wish =
        read_text("{\"rings\": 2, \"sprockets\": [11, 10], \"lowest_m_max\": 1.6, \"highest_m_min\": 5.5,"
                  " \"highest_m_cap\": 8, \"budget\": 40000, \"keep\": [\"rings\", \"rear_wheel\"],"
                  " \"least_difference\": 0, \"objectives\": [\"line_error\", \"cost\"]}");
    const struct trade_wish expected = {
        .rings = 2,
        .sprockets = 1u << 10 | 1u << 11,
        .lowest_m_max = 1.6,
        .highest_m_min = 5.5,
        .highest_m_cap = 8,
        .budget_minor = 40000,
        .keep = 1u << TRADE_SLOT_REAR_WHEEL | 1u << TRADE_SLOT_OUTER_RING | 1u << TRADE_SLOT_MIDDLE_RING |
                1u << TRADE_SLOT_INNER_RING,
        .objectives = 1u << TRADE_COST | 1u << TRADE_LINE_ERROR,
        .least_difference = 0,
    };
    expect_same(&wish, &expected);
    assert_true(wish.given);
}

/* null is 'any' where that differs from leaving the key out, and no wish elsewhere. */
static void null_wishes_for_nothing(void **state) {
    (void)state;
    struct trade_wish plain,
        wish = read_text("{\"rings\": null, \"sprockets\": null, \"lowest_m_max\": null, \"budget\": null}");
    trade_wish_init(&plain);
    plain.rings = 0;
    expect_same(&wish, &plain);
    assert_true(wish.given);
}

/* One hill, or a list of them; a cadence that nobody names is left to the rider's band. */
static void hills_are_kept(void **state) {
    (void)state;
    struct trade_wish wish = read_text("{\"climb\": {\"gradient_percent\": 14, \"cadence_rpm\": 60}}");
    assert_int_equal(wish.n_climbs, 1);
    assert_true(equal(wish.climbs[0].gradient_percent, 14));
    assert_true(equal(wish.climbs[0].cadence_rpm, 60));
    assert_true(isnan(wish.climbs[0].lowest_m_max) && isnan(wish.lowest_m_max));
    assert_true(wish.given);
    wish = read_text("{\"climb\": [{\"gradient_percent\": 6.5, \"cadence_rpm\": null}, {\"gradient_percent\": 20}]}");
    assert_int_equal(wish.n_climbs, 2);
    assert_true(equal(wish.climbs[0].gradient_percent, 6.5) && isnan(wish.climbs[0].cadence_rpm));
    assert_true(equal(wish.climbs[1].gradient_percent, 20));
    wish = read_text("{\"climb\": null}");
    assert_int_equal(wish.n_climbs, 0);
}

static void hills_that_are_none_are_told(void **state) {
    (void)state;
    const struct {
        const char *text;
        size_t faults;
    } bad[] = {{"{\"climb\": []}", 1},
               {"{\"climb\": 14}", 1},
               {"{\"climb\": {}}", 1},
               {"{\"climb\": {\"gradient_percent\": 0.14}}", 1},
               {"{\"climb\": {\"gradient_percent\": 14, \"cadence\": 60}}", 1},
               {"{\"climb\": [14, {\"gradient_percent\": 61, \"cadence_rpm\": 10}]}", 2},
               {"{\"climb\": [{\"gradient_percent\": 1}, {\"gradient_percent\": 2}, {\"gradient_percent\": 3},"
                " {\"gradient_percent\": 4}, {\"gradient_percent\": 5}, {\"gradient_percent\": 6},"
                " {\"gradient_percent\": 7}, {\"gradient_percent\": 8}, {\"gradient_percent\": 9}]}",
                1}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct base_faults faults;
        struct trade_wish wish;
        base_faults_init(&faults);
        assert_int_equal(format_wish_read(&wish, base_slice_of(bad[i].text), "w", &faults), BASE_BAD_INPUT);
        assert_int_equal(faults.total, bad[i].faults);
        base_faults_clear(&faults);
    }
}

static void nothing_half_read_is_given_back(void **state) {
    (void)state;
    struct base_faults faults;
    struct trade_wish wish, before;
    base_faults_init(&faults);
    memset(&wish, 0x5a, sizeof wish);
    memset(&before, 0x5a, sizeof before);
    assert_int_equal(format_wish_read(&wish, base_slice_of("{\"rings\": 2, \"budget\": \"400\"}"), "w", &faults),
                     BASE_BAD_INPUT);
    assert_memory_equal(&wish, &before, sizeof wish);
    base_faults_clear(&faults);
}

static void every_demo_wish_is_read(void **state) {
    (void)state;
    size_t n;
    char **files = given_files("data/demo/wishes", ".json", &n);
    for (size_t i = 0; i < n; i++) {
        struct base_slice bytes = given_file(files[i]);
        (void)read_text(bytes.at);
        free((void *)bytes.at);
    }
    given_files_free(files, n);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_object_is_no_wish),   cmocka_unit_test(every_key_is_kept),
        cmocka_unit_test(null_wishes_for_nothing),      cmocka_unit_test(hills_are_kept),
        cmocka_unit_test(hills_that_are_none_are_told), cmocka_unit_test(nothing_half_read_is_given_back),
        cmocka_unit_test(every_demo_wish_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
