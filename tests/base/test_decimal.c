/* SPDX-License-Identifier: Apache-2.0 */
/* The C library's snprintf and strtod, in the C locale, are the measure here: both round correctly (glibc manual, 20.11). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/decimal.h"
#include "base/text.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* xorshift64 (G. Marsaglia, Xorshift RNGs, J. Stat. Soft. 8 (14), 2003): the same numbers on every machine. */
static uint64_t next_random(uint64_t *seed) {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

static double random_double(uint64_t *seed) {
    double value;
    do {
        uint64_t bits = next_random(seed);
        memcpy(&value, &bits, sizeof value);
    } while (!isfinite(value));
    return value;
}

/* value with n significant digits as the C library rounds it, one unit in the last place lower or higher. */
static double neighbour(double value, int n, int step) {
    char text[64], moved[96];
    snprintf(text, sizeof text, "%.*e", n - 1, value);
    char *exponent = strchr(text, 'e');
    int power = atoi(exponent + 1);
    *exponent = '\0';
    char digits[32];
    size_t k = 0;
    for (const char *c = text; *c; c++) {
        if (*c >= '0' && *c <= '9') {
            digits[k++] = *c;
        }
    }
    digits[k] = '\0';
    snprintf(moved, sizeof moved, "%s%llde%d", text[0] == '-' ? "-" : "", atoll(digits) + step, power - (n - 1));
    return strtod(moved, NULL);
}

static void check_shortest(double value) {
    struct base_buffer b;
    base_buffer_init(&b, 0);
    base_buffer_double(&b, value);
    assert_int_equal(b.status, BASE_OK);
    char *end;
    double back = strtod(b.at, &end);
    if (back != value || *end != '\0') {
        fail_msg("%a was written as %s", value, b.at);
    }
    base_buffer_clear(&b);

    struct base_decimal d;
    base_decimal_shortest(&d, value);
    assert_in_range(d.n, 1, BASE_DECIMAL_DIGITS);
    /* No number with one digit less reads back as value: not the nearest, nor those beside it. */
    for (int step = -1; d.n > 1 && step <= 1; step++) {
        if (neighbour(value, d.n - 1, step) == value) {
            fail_msg("%a (%.17g) needs fewer than %d digits", value, value, d.n);
        }
    }
    /* Where the nearest number with so many digits reads back, it is the one that was written; where two are equally
     * near, the C library takes the even one, and so do we. */
    char nearest[64];
    snprintf(nearest, sizeof nearest, "%.*e", d.n - 1, fabs(value));
    if (strtod(nearest, NULL) == fabs(value)) {
        assert_int_equal(d.digit[0], nearest[0]);
        assert_memory_equal(d.digit + 1, nearest + 2, (size_t)d.n - 1);
        assert_int_equal(d.point - 1, atoi(strchr(nearest, 'e') + 1));
    }
}

static void the_fewest_digits_read_back_as_the_same_double(void **state) {
    (void)state;
    uint64_t seed = 30;
    for (int i = 0; i < 20000; i++) {
        check_shortest(random_double(&seed));
    }
    for (int i = 0; i < 5000; i++) { /* numbers as people write them */
        check_shortest((double)(next_random(&seed) % 1000000) / 1000 + 0.001);
    }
}

static void the_edges_of_the_range_read_back(void **state) {
    (void)state;
    for (int power = -1074; power <= 1023; power++) {
        double value = ldexp(1, power);
        check_shortest(value);
        check_shortest(-value);
        check_shortest(nextafter(value, INFINITY));
        if (power > -1074) {
            check_shortest(nextafter(value, 0));
        }
    }
    check_shortest(DBL_MAX);
    for (double value = 1; value < 1e300; value *= 10) {
        check_shortest(value);
        check_shortest(1 / value);
    }
    for (int i = 1; i < 2000; i++) {
        check_shortest(i * 5e-324);
    }
}

/* n significant digits of value, rounded half away from zero, from the 800 that the C library gives: always exact. */
static void round_by_hand(char *digits, int *point, double value, int n) {
    char exact[900];
    snprintf(exact, sizeof exact, "%.800e", fabs(value));
    *point = atoi(strchr(exact, 'e') + 1) + 1;
    memmove(exact + 1, exact + 2, 800); /* over the point */
    memcpy(digits, exact, (size_t)n);
    int i = n - 1;
    if (exact[n] >= '5') {
        for (; i >= 0 && digits[i] == '9'; i--) {
            digits[i] = '0';
        }
        if (i >= 0) {
            digits[i]++;
        } else {
            digits[0] = '1';
            ++*point;
        }
    }
}

static void digits_are_rounded_on_the_exact_value(void **state) {
    (void)state;
    uint64_t seed = 31;
    for (int i = 0; i < 20000; i++) {
        double value = i % 2 == 0 ? random_double(&seed) : (double)(next_random(&seed) >> 11) / 8;
        int n = 1 + (int)(next_random(&seed) % BASE_DECIMAL_DIGITS);
        char expected[BASE_DECIMAL_DIGITS];
        int point;
        round_by_hand(expected, &point, value, n);
        struct base_decimal d;
        base_decimal_rounded(&d, value, n);
        assert_true(d.n >= 1 && d.n <= n && d.digit[d.n - 1] != '0');
        memset(d.digit + d.n, '0', (size_t)(n - d.n));
        assert_memory_equal(d.digit, expected, (size_t)n);
        assert_int_equal(d.point, point);
        assert_int_equal(d.negative, value < 0);
    }
}

static void json_numbers_look_like_json(void **state) {
    (void)state;
    static const struct {
        double value;
        const char *text;
    } cases[] = {
        {0, "0"},
        {-0.0, "0"},
        {1, "1"},
        {-1.5, "-1.5"},
        {42, "42"},
        {0.1, "0.1"},
        {0.001, "0.001"},
        {0.000001, "0.000001"},
        {0.0000015, "0.0000015"},
        {1e-7, "1e-7"},
        {-1.25e-7, "-1.25e-7"},
        {100, "100"},
        {123456789012345680.0, "123456789012345680"},
        {1e20, "100000000000000000000"},
        {1e21, "1e21"},
        {1.5e300, "1.5e300"},
        {5e-324, "5e-324"},
        {DBL_MAX, "1.7976931348623157e308"},
        {0.1 + 0.2, "0.30000000000000004"},
        {NAN, "null"},
        {INFINITY, "null"},
        {-INFINITY, "null"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_buffer b;
        base_buffer_init(&b, 0);
        base_buffer_double(&b, cases[i].value);
        assert_string_equal(b.at, cases[i].text);
        base_buffer_clear(&b);
    }
}

static void check_fixed(double value, int decimals, const char *expected) {
    struct base_buffer b;
    base_buffer_init(&b, 0);
    base_buffer_fixed(&b, value, decimals);
    assert_string_equal(b.at, expected);
    base_buffer_clear(&b);
}

static void decimals_are_rounded_as_people_round(void **state) {
    (void)state;
    check_fixed(2.675, 2, "2.68"); /* the double lies just below */
    check_fixed(-2.675, 2, "-2.68");
    check_fixed(1.005, 2, "1.01");
    check_fixed(0.5, 0, "1");
    check_fixed(1.5, 0, "2");
    check_fixed(2.5, 0, "3");
    check_fixed(0.49, 0, "0");
    check_fixed(-0.4, 0, "0");
    check_fixed(-0.004, 2, "0.00");
    check_fixed(0.05, 1, "0.1");
    check_fixed(0.04, 1, "0.0");
    check_fixed(0.005, 2, "0.01");
    check_fixed(0.0005, 2, "0.00");
    check_fixed(9.995, 2, "10.00");
    check_fixed(99.99, 1, "100.0");
    check_fixed(0.999, 2, "1.00");
    check_fixed(0, 3, "0.000");
    check_fixed(-0.0, 1, "0.0");
    check_fixed(535.454545454545, 1, "535.5");
    check_fixed(2105, 0, "2105");
    check_fixed(1e-300, 9, "0.000000000");
    check_fixed(123456789.125, 9, "123456789.125000000");
    check_fixed(999999999999999.0, 2, "999999999999999.00");
    check_fixed(-999999999999999.0, 0, "-999999999999999");
    check_fixed(1e15, 0, "?");
    check_fixed(-1e15, 0, "?");
    check_fixed(NAN, 1, "?");
    check_fixed(-INFINITY, 1, "?");
}

/* Away from the middle between two results, the C library's own rounding says the same. */
static void decimals_are_those_of_the_c_library(void **state) {
    (void)state;
    uint64_t seed = 32;
    for (int i = 0; i < 20000; i++) {
        int decimals = (int)(next_random(&seed) % 5);
        double value = ((double)(next_random(&seed) % 2000000001) - 1e9) / 7e4;
        double scaled = fabs(value) * pow(10, decimals);
        if (fabs(scaled - floor(scaled) - 0.5) < 1e-5) {
            continue;
        }
        char expected[64];
        snprintf(expected, sizeof expected, "%.*f", decimals, value);
        if (strtod(expected, NULL) == 0) {
            snprintf(expected, sizeof expected, "%.*f", decimals, 0.0);
        }
        check_fixed(value, decimals, expected);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_fewest_digits_read_back_as_the_same_double),
        cmocka_unit_test(the_edges_of_the_range_read_back),
        cmocka_unit_test(digits_are_rounded_on_the_exact_value),
        cmocka_unit_test(json_numbers_look_like_json),
        cmocka_unit_test(decimals_are_rounded_as_people_round),
        cmocka_unit_test(decimals_are_those_of_the_c_library),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
