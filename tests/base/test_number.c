/* SPDX-License-Identifier: Apache-2.0 */
/* The C library's strtod and snprintf, in the C locale, are the measure here: both round correctly (glibc manual, 20.11). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/number.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static uint64_t bits_of(double value) {
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static double double_of(uint64_t bits) {
    double value;
    memcpy(&value, &bits, sizeof value);
    return value;
}

/* xorshift64 (G. Marsaglia, Xorshift RNGs, J. Stat. Soft. 8 (14), 2003): the same numbers on every machine. */
static uint64_t next_random(uint64_t *seed) {
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

/* A finite double with every exponent about as often as any other; negative ones too. */
static double random_double(uint64_t *seed) {
    double value;
    do {
        value = double_of(next_random(seed));
    } while (!isfinite(value));
    return value;
}

static void check_as_strtod(const char *text) {
    double expected = strtod(text, NULL);
    double got = 12345;
    enum base_status status = base_number_read(&got, base_slice_of(text));
    if (isfinite(expected) && (status != BASE_OK || bits_of(got) != bits_of(expected))) {
        fail_msg("%s: status %d, got %a, strtod %a", text, (int)status, got, expected);
    }
    if (!isfinite(expected) && (status != BASE_BAD_INPUT || got != 12345)) {
        fail_msg("%s: status %d, got %a, strtod overflows", text, (int)status, got);
    }
}

static void hard_numbers_are_read_as_strtod_reads_them(void **state) {
    (void)state;
    static const char *const hard[] = {
        "0", "-0", "0.0", "0e5", "1", "-1", "0.1", "0.2", "0.3", "2.675", "1e22", "1e23", "8.5e22", "9e22", "007",
        "12.7000", "123456789012345678901234567890", "0.000000000000000000000000000001",
        /* Next to, at and between the ends of the normal and the subnormal range. */
        "1.7976931348623157e308", "1.7976931348623158e308", "1.7976931348623159e308", "1e308", "1e309", "1e310",
        "17976931348623158079372897140530341507993413271003782693617377898044496829276475094664901797758720709633028641"
        "6"
        "69288791094655554785194040263065748867150582068190890200070838367627385484581771153176447573027006985557136695"
        "9"
        "622842914819860834936475292719074168444365510704342711559699508093042880",
        "17976931348623158079372897140530341507993413271003782693617377898044496829276475094664901797758720709633028641"
        "6"
        "69288791094655554785194040263065748867150582068190890200070838367627385484581771153176447573027006985557136695"
        "9"
        "622842914819860834936475292719074168444365510704342711559699508093042879.999",
        "2.2250738585072014e-308", "2.2250738585072011e-308", "2.2250738585072012e-308", "2.225073858507201e-308",
        "4.9406564584124654e-324", "2.4703282292062327e-324", "2.4703282292062328e-324", "2.48e-324", "7.4109e-324",
        "1e-323", "1e-324", "1e-325", "1e-400", "-1e-400", "3e-324",
        /* Half-way between two doubles, and a little to each side. */
        "9007199254740993", "9007199254740993.0000000000000000000000000000000000001", "9007199254740992.9999999999999",
        "9007199254740995", "1.00000000000000011102230246251565404236316680908203125",
        "1.00000000000000011102230246251565404236316680908203124",
        "1.00000000000000011102230246251565404236316680908203126",
        "0.500000000000000166533453693773481063544750213623046875", "1e-1000000000000000000000",
        "1e1000000000000000000000", "0e1000000000000000000000", "6929495644600919.5", "3.518437208883201171875e13",
        "62.5364939768271845828", "8.10109172351e-10", "1.50000000000000011102230246251565", "5e-324", "1.1e+5",
        "1.1E5", "1E-5"};
    for (size_t i = 0; i < sizeof hard / sizeof hard[0]; i++) {
        check_as_strtod(hard[i]);
    }
}

static void random_doubles_are_read_as_strtod_reads_them(void **state) {
    (void)state;
    uint64_t seed = 20;
    char text[64];
    for (int i = 0; i < 30000; i++) {
        int digits = (int)(next_random(&seed) % 22);
        snprintf(text, sizeof text, "%.*e", digits, random_double(&seed));
        check_as_strtod(text);
    }
}

static void random_digits_are_read_as_strtod_reads_them(void **state) {
    (void)state;
    uint64_t seed = 21;
    char text[64];
    for (int i = 0; i < 30000; i++) {
        unsigned long long whole = next_random(&seed) >> next_random(&seed) % 64;
        unsigned long long fraction = next_random(&seed) >> next_random(&seed) % 64;
        int exponent = (int)(next_random(&seed) % 61) - 30;
        snprintf(text, sizeof text, "%llu.%llue%d", whole, fraction, exponent);
        check_as_strtod(text);
    }
}

/* The exact decimal value of the middle between a double and its neighbour, up to 770 digits, then with its last digit
 * moved down or up by a digit behind it. A long double (64 bits or more) holds the middle exactly. */
static void middles_between_doubles_go_to_even(void **state) {
    (void)state;
    if (LDBL_MANT_DIG < 64) {
        fail_msg("long double is too narrow for this test");
    }
    uint64_t seed = 22;
    char text[1200];
    for (int i = 0; i < 1000; i++) {
        double low = fabs(random_double(&seed));
        double high = nextafter(low, INFINITY);
        if (!isfinite(high)) {
            continue;
        }
        long double middle = ((long double)low + (long double)high) / 2;
        snprintf(text, sizeof text - 8, "%.800Le", middle);
        check_as_strtod(text);
        char *exponent = strchr(text, 'e');
        int power = atoi(exponent + 1);
        snprintf(exponent, 16, "1e%d", power);
        check_as_strtod(text);
        double got;
        assert_int_equal(base_number_read(&got, base_slice_of(text)), BASE_OK);
        assert_true(got == high);
    }
}

static void very_long_numbers_count_to_the_last_digit(void **state) {
    (void)state;
    enum { N = 200000 };
    char *text = malloc(N + 32);
    assert_non_null(text);
    /* 1 + 2^-53, half-way to the next double, then zeros, then perhaps a one. */
    int n = snprintf(text, 64, "1.00000000000000011102230246251565404236316680908203125");
    memset(text + n, '0', N - (size_t)n);
    text[N] = '\0';
    check_as_strtod(text);
    text[N - 1] = '1';
    check_as_strtod(text);
    memcpy(text, "0.", 2);
    memset(text + 2, '0', N - 2);
    snprintf(text + N - 2, 32, "15e%d", N);
    check_as_strtod(text);
    free(text);
}

static void what_is_no_number_is_refused_and_nothing_written(void **state) {
    (void)state;
    static const char *const bad[] = {
        "",       " ",     "-",    ".",        "e5",   "1e",  "1e+", "1e-", "+1",    ".5",    "5.",    "1.e5", "nan",
        "NaN",    "inf",   "-inf", "Infinity", "0x10", "1,5", "1 ",  " 1",  "1 2",   "1.2.3", "1e5.0", "--1",  "1e309",
        "-1e309", "1_000", "1'0",  "12mm",     "1\n",  "\t1", "½",   "１",  "1e5e5", "1-",    "0x1p3", "1d5"};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double out = 12345;
        if (base_number_read(&out, base_slice_of(bad[i])) != BASE_BAD_INPUT || out != 12345) {
            fail_msg("'%s' was taken for a number", bad[i]);
        }
    }
    double out = 12345;
    assert_int_equal(base_number_read(&out, (struct base_slice){.at = "1\0"
                                                                      "2",
                                                                .n = 3}),
                     BASE_BAD_INPUT);
    assert_int_equal(base_number_read(&out, base_slice_of(NULL)), BASE_BAD_INPUT);
    assert_true(out == 12345);
}

static void a_slice_ends_where_it_says(void **state) {
    (void)state;
    double out;
    assert_int_equal(base_number_read(&out, (struct base_slice){.at = "1234", .n = 2}), BASE_OK);
    assert_true(out == 12);
}

static void integers_keep_to_their_range(void **state) {
    (void)state;
    static const struct {
        const char *text;
        int64_t low, high, value;
        enum base_status status;
    } cases[] = {
        {"0", 0, 0, 0, BASE_OK},
        {"-0", 0, 0, 0, BASE_OK},
        {"11", 0, 60, 11, BASE_OK},
        {"007", 0, 60, 7, BASE_OK},
        {"-5", -5, 5, -5, BASE_OK},
        {"-6", -5, 5, 0, BASE_BAD_INPUT},
        {"6", -5, 5, 0, BASE_BAD_INPUT},
        {"9223372036854775807", INT64_MIN, INT64_MAX, INT64_MAX, BASE_OK},
        {"-9223372036854775807", INT64_MIN, INT64_MAX, -INT64_MAX, BASE_OK},
        {"9223372036854775808", INT64_MIN, INT64_MAX, 0, BASE_BAD_INPUT},
        {"18446744073709551617", INT64_MIN, INT64_MAX, 0, BASE_BAD_INPUT},
        {"99999999999999999999999999", INT64_MIN, INT64_MAX, 0, BASE_BAD_INPUT},
        {"1.0", 0, 60, 0, BASE_BAD_INPUT},
        {"1e1", 0, 60, 0, BASE_BAD_INPUT},
        {"", 0, 60, 0, BASE_BAD_INPUT},
        {"-", -5, 60, 0, BASE_BAD_INPUT},
        {"+1", 0, 60, 0, BASE_BAD_INPUT},
        {"1 ", 0, 60, 0, BASE_BAD_INPUT},
        {"0x1f", 0, 60, 0, BASE_BAD_INPUT},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t out = 12345;
        enum base_status status = base_integer_read(&out, base_slice_of(cases[i].text), cases[i].low, cases[i].high);
        int64_t expected = cases[i].status == BASE_OK ? cases[i].value : 12345;
        if (status != cases[i].status || out != expected) {
            fail_msg("'%s': status %d, value %lld", cases[i].text, (int)status, (long long)out);
        }
    }
}

static void money_is_read_exactly_or_not_at_all(void **state) {
    (void)state;
    static const struct {
        const char *text;
        int digits;
        int64_t value;
        enum base_status status;
    } cases[] = {
        {"12.34", 2, 1234, BASE_OK},
        {"12.3", 2, 1230, BASE_OK},
        {"12", 2, 1200, BASE_OK},
        {"12", 0, 12, BASE_OK},
        {"12.000", 0, 12, BASE_OK},
        {"12.3400", 2, 1234, BASE_OK},
        {"12.341", 2, 0, BASE_BAD_INPUT},
        {"12.5", 0, 0, BASE_BAD_INPUT},
        {"1.2345", 4, 12345, BASE_OK},
        {"-0.05", 2, -5, BASE_OK},
        {"0.29", 2, 29, BASE_OK}, /* 0.29 * 100 is 28.999999999999996 in doubles */
        {"4.35", 2, 435, BASE_OK},
        {"90000000000000.00", 2, INT64_C(9000000000000000), BASE_OK},
        {"-9000000000000000", 0, INT64_C(-9000000000000000), BASE_OK},
        {"90000000000000.01", 2, 0, BASE_BAD_INPUT},
        {"900000000000000", 2, 0, BASE_BAD_INPUT},
        {"99999999999999999999999999999999", 2, 0, BASE_BAD_INPUT},
        {"1e2", 2, 0, BASE_BAD_INPUT},
        {"12,34", 2, 0, BASE_BAD_INPUT},
        {"12.", 2, 0, BASE_BAD_INPUT},
        {".34", 2, 0, BASE_BAD_INPUT},
        {"", 2, 0, BASE_BAD_INPUT},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t out = 12345;
        enum base_status status = base_minor_read(&out, base_slice_of(cases[i].text), cases[i].digits);
        int64_t expected = cases[i].status == BASE_OK ? cases[i].value : 12345;
        if (status != cases[i].status || out != expected) {
            fail_msg("'%s': status %d, value %lld", cases[i].text, (int)status, (long long)out);
        }
    }
}

static void scaling_rounds_half_away_from_zero(void **state) {
    (void)state;
    assert_int_equal(base_scale(5, 1, 2), 3);
    assert_int_equal(base_scale(-5, 1, 2), -3);
    assert_int_equal(base_scale(5, -1, 2), -3);
    assert_int_equal(base_scale(4, 1, 3), 1);
    assert_int_equal(base_scale(5, 1, 3), 2);
    assert_int_equal(base_scale(-4, 1, 3), -1);
    assert_int_equal(base_scale(-5, 1, 3), -2);
    assert_int_equal(base_scale(0, 7, 9), 0);
    /* Every small fraction against the definition: the whole part of |a / b| + 1 / 2, with a's sign. */
    for (int64_t a = -60; a <= 60; a++) {
        for (int64_t b = 1; b <= 24; b++) {
            int64_t size = (2 * (a < 0 ? -a : a) + b) / (2 * b);
            assert_int_equal(base_scale(a, 1, b), a < 0 ? -size : size);
        }
    }
}

static void scaling_does_not_overflow_on_the_way(void **state) {
    (void)state;
    assert_int_equal(base_scale(INT64_MAX, INT64_MAX, INT64_MAX), INT64_MAX);
    assert_int_equal(base_scale(INT64_MAX, -INT64_MAX, INT64_MAX), -INT64_MAX);
    assert_int_equal(base_scale(INT64_MAX - 1, 1, 2), INT64_MAX / 2);
    assert_int_equal(base_scale(INT64_MAX, 2, 1), INT64_MAX);
    assert_int_equal(base_scale(INT64_MAX, -2, 1), INT64_MIN);
}

static void rounding_is_half_away_from_zero(void **state) {
    (void)state;
    assert_int_equal(base_round(0.5), 1);
    assert_int_equal(base_round(-0.5), -1);
    assert_int_equal(base_round(1.5), 2);
    assert_int_equal(base_round(2.5), 3);
    assert_int_equal(base_round(-2.5), -3);
    assert_int_equal(base_round(0.49999999999999994), 0); /* the double before 0.5: adding 0.5 would give 1 */
    assert_int_equal(base_round(4503599627370497.0), INT64_C(4503599627370497));
    assert_int_equal(base_round(-8999999999999999.0), INT64_C(-8999999999999999));
    assert_int_equal(base_round(0), 0);
}

static void check_written(int64_t minor, int digits, const char *text) {
    struct base_buffer out;
    int64_t again = -1;
    base_buffer_init(&out, 0);
    base_minor_write(&out, minor, digits);
    assert_string_equal(out.at, text);
    assert_int_equal(base_minor_read(&again, base_slice_of(out.at), digits), BASE_OK);
    assert_true(again == minor);
    base_buffer_clear(&out);
}

/* And read back as the same: both ways. */
static void minor_units_are_written_with_their_digits(void **state) {
    (void)state;
    check_written(1234, 2, "12.34");
    check_written(-5, 2, "-0.05");
    check_written(0, 2, "0.00");
    check_written(100, 0, "100");
    check_written(-12005, 3, "-12.005");
    check_written(7, 4, "0.0007");
    check_written(INT64_C(9000000000000000), 2, "90000000000000.00");
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hard_numbers_are_read_as_strtod_reads_them),
        cmocka_unit_test(random_doubles_are_read_as_strtod_reads_them),
        cmocka_unit_test(random_digits_are_read_as_strtod_reads_them),
        cmocka_unit_test(middles_between_doubles_go_to_even),
        cmocka_unit_test(very_long_numbers_count_to_the_last_digit),
        cmocka_unit_test(what_is_no_number_is_refused_and_nothing_written),
        cmocka_unit_test(a_slice_ends_where_it_says),
        cmocka_unit_test(integers_keep_to_their_range),
        cmocka_unit_test(money_is_read_exactly_or_not_at_all),
        cmocka_unit_test(scaling_rounds_half_away_from_zero),
        cmocka_unit_test(scaling_does_not_overflow_on_the_way),
        cmocka_unit_test(rounding_is_half_away_from_zero),
        cmocka_unit_test(minor_units_are_written_with_their_digits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
