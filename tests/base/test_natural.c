/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/natural.h"

#include <stdbool.h>

static struct base_natural natural(uint64_t value) {
    struct base_natural a;
    base_natural_set(&a, value);
    return a;
}

static bool equal(struct base_natural a, struct base_natural b) { return base_natural_compare(&a, &b) == 0; }

static void small_numbers_behave_as_the_machine_s(void **state) {
    (void)state;
    static const uint64_t some[] = {0, 1, 2, 9, 10, 0x7fffffff, 0xffffffff, 0x100000000, 0x7fffffffffffffff};
    for (size_t i = 0; i < sizeof some / sizeof some[0]; i++) {
        for (size_t k = 0; k < sizeof some / sizeof some[0]; k++) {
            struct base_natural a = natural(some[i]), b = natural(some[k]);
            int order = base_natural_compare(&a, &b);
            assert_true(some[i] < some[k] ? order < 0 : some[i] > some[k] ? order > 0 : order == 0);
            base_natural_add(&a, &b);
            assert_true(equal(a, natural(some[i] + some[k])));
            base_natural_subtract(&a, &b);
            assert_true(equal(a, natural(some[i])));
        }
    }
}

static void bits_counts_to_the_highest(void **state) {
    (void)state;
    struct base_natural a = natural(0);
    assert_int_equal(base_natural_bits(&a), 0);
    a = natural(1);
    for (int bits = 1; bits < 4000; bits++) {
        assert_int_equal(base_natural_bits(&a), bits);
        base_natural_shift(&a, 1);
    }
}

static void shifting_at_once_is_shifting_in_steps(void **state) {
    (void)state;
    for (unsigned bits = 0; bits < 300; bits++) {
        struct base_natural at_once = natural(0x123456789abcdef), in_steps = at_once;
        base_natural_shift(&at_once, bits);
        for (unsigned i = 0; i < bits; i++) {
            struct base_natural same = in_steps;
            base_natural_add(&in_steps, &same);
        }
        assert_true(equal(at_once, in_steps));
    }
}

static void ten_to_a_power_is_ten_times_ten_times_ten(void **state) {
    (void)state;
    struct base_natural stepped = natural(7);
    for (unsigned power = 0; power <= 1126; power++) {
        struct base_natural at_once = natural(7);
        base_natural_scale_ten(&at_once, power);
        assert_true(equal(at_once, stepped));
        base_natural_scale(&stepped, 10, 0);
    }
}

static void borrowing_and_carrying_run_through(void **state) {
    (void)state;
    struct base_natural large = natural(1), one = natural(1);
    base_natural_shift(&large, 1000);
    struct base_natural less = large;
    base_natural_subtract(&less, &one);
    assert_int_equal(base_natural_bits(&less), 1000);
    assert_true(base_natural_compare(&less, &large) < 0);
    base_natural_add(&less, &one);
    assert_true(equal(less, large));
    base_natural_subtract(&less, &large);
    assert_true(equal(less, natural(0)));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(small_numbers_behave_as_the_machine_s),
        cmocka_unit_test(bits_counts_to_the_highest),
        cmocka_unit_test(shifting_at_once_is_shifting_in_steps),
        cmocka_unit_test(ten_to_a_power_is_ten_times_ten_times_ten),
        cmocka_unit_test(borrowing_and_carrying_run_through),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
