/* SPDX-License-Identifier: Apache-2.0 */
/* The shop's money and catalogue, and what a wish is when nobody says anything. */
#include "made.h"

#include "trade/shop.h"
#include "trade/wish.h"

/* Decimals of minor units: ISO 4217. */
static void test_currencies_have_the_decimals_of_iso_4217(void **state) {
    (void)state;
    static const struct {
        const char *code;
        int digits;
    } iso[] = {
        {"EUR", 2}, {"GBP", 2}, {"USD", 2}, {"CHF", 2}, {"SEK", 2}, {"PLN", 2}, {"JPY", 0}, {"KRW", 0},
        {"ISK", 0}, {"CLP", 0}, {"VND", 0}, {"KWD", 3}, {"BHD", 3}, {"TND", 3}, {"JOD", 3}, {"OMR", 3},
    };
    for (size_t i = 0; i < sizeof iso / sizeof iso[0]; i++) {
        assert_int_equal(trade_currency_digits(iso[i].code), iso[i].digits);
    }
    assert_int_equal(trade_currency_digits("eur"), -1);
    assert_int_equal(trade_currency_digits("EURO"), -1);
    assert_int_equal(trade_currency_digits("XYZ"), -1);
    assert_int_equal(trade_currency_digits("XAU"), -1); /* gold has no minor unit */
    assert_int_equal(trade_currency_digits(""), -1);
}

static void test_every_currency_is_three_capitals(void **state) {
    (void)state;
    for (size_t i = 0; i < trade_currencies_n; i++) {
        const char *code = trade_currencies[i].code;
        assert_int_equal(strlen(code), 3);
        assert_int_equal(strspn(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"), 3);
        assert_int_equal(trade_currency_digits(code), trade_currencies[i].digits);
    }
}

static void test_a_shop_starts_with_the_minutes_of_the_table(void **state) {
    (void)state;
    struct trade_shop shop;
    trade_shop_init(&shop);
    assert_string_equal(shop.currency, "EUR");
    assert_int_equal(shop.currency_digits, 2);
    assert_int_equal(shop.rate_minor, 6000);
    assert_false(shop.prices_include_tax);
    for (size_t i = 0; i < TRADE_OPERATIONS; i++) {
        assert_near(shop.minutes[i], trade_operation_rows[i].minutes, 0);
        /* 60.00 an hour is 1.00 a minute */
        assert_near((double)shop.labour_minor[i], 100 * trade_operation_rows[i].minutes, 0.5);
    }
}

/* minutes * rate / 60, on paper: 10 * 5525 / 60 = 920.83; 12.5 * 5001 / 60 = 1041.875; 7.5 * 100 / 60 = 12.5, half away
 * from zero. */
static void test_labour_is_rounded_once_half_away_from_zero(void **state) {
    (void)state;
    static const struct {
        double minutes;
        int64_t rate_minor, labour_minor;
    } paper[] = {{10, 5525, 921}, {12.5, 5001, 1042}, {7.5, 100, 13}, {0, 5525, 0}, {600, 900000000, 9000000000}};
    struct trade_shop shop;
    trade_shop_init(&shop);
    for (size_t i = 0; i < sizeof paper / sizeof paper[0]; i++) {
        shop.rate_minor = paper[i].rate_minor;
        shop.minutes[TRADE_OPERATION_BODY] = paper[i].minutes;
        trade_shop_settle(&shop);
        assert_int_equal(shop.labour_minor[TRADE_OPERATION_BODY], paper[i].labour_minor);
    }
}

static struct trade_part *list_of(enum trade_kind kind, const char *const *ids, size_t n) {
    struct trade_part *parts = base_arena_alloc(&made, n, sizeof *parts);
    assert_non_null(parts);
    for (size_t i = 0; i < n; i++) {
        parts[i] = made_part(kind);
        parts[i].id = ids[i];
    }
    return parts;
}

static void test_a_part_is_found_by_its_id_among_all_kinds(void **state) {
    (void)state;
    static const char *const chains[] = {"a", "ab", "b", "\xc3\xa9"}; /* in the order of their bytes */
    static const char *const rings[] = {"aa"};
    struct trade_catalogue catalogue;
    trade_catalogue_init(&catalogue);
    assert_null(trade_catalogue_find(&catalogue, "a"));
    catalogue.parts[TRADE_KIND_CHAIN] = list_of(TRADE_KIND_CHAIN, chains, 4);
    catalogue.n[TRADE_KIND_CHAIN] = 4;
    catalogue.parts[TRADE_KIND_RING] = list_of(TRADE_KIND_RING, rings, 1);
    catalogue.n[TRADE_KIND_RING] = 1;
    for (size_t i = 0; i < 4; i++) {
        assert_ptr_equal(trade_catalogue_find(&catalogue, chains[i]), &catalogue.parts[TRADE_KIND_CHAIN][i]);
    }
    assert_ptr_equal(trade_catalogue_find(&catalogue, "aa"), &catalogue.parts[TRADE_KIND_RING][0]);
    assert_null(trade_catalogue_find(&catalogue, "ac"));
    assert_null(trade_catalogue_find(&catalogue, ""));
    trade_catalogue_clear(&catalogue);
    assert_null(trade_catalogue_find(&catalogue, "a"));
}

/* No wish given: one ring; least money, easiest climbing, and speed (what the shop asks at the counter). */
static void test_no_wish_is_one_ring_by_cost_and_gears(void **state) {
    (void)state;
    struct trade_wish wish;
    trade_wish_init(&wish);
    assert_int_equal(wish.rings, 1);
    assert_int_equal(wish.sprockets, 0);
    assert_int_equal(wish.keep, 0);
    assert_int_equal(wish.budget_minor, -1);
    assert_true(isnan(wish.lowest_m_max) && isnan(wish.highest_m_min) && isnan(wish.highest_m_cap));
    assert_near(wish.least_difference, 0.03, 0);
    assert_false(wish.given);
    static const char *const named[] = {"cost", "lowest", "highest"};
    size_t n = 0;
    for (size_t i = 0; i < TRADE_OBJECTIVES; i++) {
        if ((wish.objectives >> i & 1) != 0) {
            assert_string_equal(trade_objective_names[i], named[n]);
            n++;
        }
    }
    assert_int_equal(n, 3);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_currencies_have_the_decimals_of_iso_4217),
        cmocka_unit_test(test_every_currency_is_three_capitals),
        cmocka_unit_test(test_a_shop_starts_with_the_minutes_of_the_table),
        cmocka_unit_test(test_labour_is_rounded_once_half_away_from_zero),
        cmocka_unit_test_setup_teardown(test_a_part_is_found_by_its_id_among_all_kinds, made_setup, made_clear),
        cmocka_unit_test(test_no_wish_is_one_ring_by_cost_and_gears),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
