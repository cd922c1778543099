/* SPDX-License-Identifier: Apache-2.0 */
/* Bills that were reckoned by hand; random ones are held against exact fractions by bills.py. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/number.h"
#include "support/reference.h"
#include "work/tax.h"

static struct work_bill bill_of(const struct trade_shop *shop, int64_t parts, int64_t labour, int32_t discount) {
    struct work_bill bill;
    const struct work_sums sums = {
        .parts_minor = parts, .ordered_minor = parts, .labour_minor = labour, .discount_thousandths = discount};
    work_bill_of(&bill, &sums, shop);
    return bill;
}

static struct trade_shop shop_of(int32_t tax, int32_t labour_tax, bool includes) {
    struct trade_shop shop;
    trade_shop_init(&shop);
    shop.tax_thousandths = tax;
    shop.labour_tax_thousandths = labour_tax;
    shop.prices_include_tax = includes;
    return shop;
}

/* By hand: 186.50 and 76.80 are 263.30; a fifth of it is 52.66; together 315.96. */
static void tax_is_added_where_prices_have_none(void **state) {
    (void)state;
    const struct trade_shop shop = shop_of(20000, 20000, false);
    const struct work_bill bill = bill_of(&shop, 18650, 7680, 0);
    assert_int_equal(bill.n_taxes, 1);
    assert_int_equal(bill.taxes[0].minor, 5266);
    assert_int_equal(bill.net_minor, 26330);
    assert_int_equal(bill.total_minor, 31596);
}

/* By hand: 119.00 with 19 % in it is 100.00 and 19.00. 0.03 with 20 % in it is 0.025, so 0.03, and no tax is left. */
static void tax_is_taken_out_where_prices_hold_it(void **state) {
    (void)state;
    struct trade_shop shop = shop_of(19000, 19000, true);
    struct work_bill bill = bill_of(&shop, 5900, 6000, 0);
    assert_int_equal(bill.total_minor, 11900);
    assert_int_equal(bill.net_minor, 10000);
    assert_int_equal(bill.taxes[0].minor, 1900);
    shop = shop_of(20000, 20000, true);
    bill = bill_of(&shop, 3, 0, 0);
    assert_int_equal(bill.total_minor, 3);
    assert_int_equal(bill.taxes[0].minor, 0);
}

/* By hand: 100.00 at 21 %, 50.00 and its 3 % at 9 %: 21.00 and 4.64 (of 51.50: 4.635, half away from zero). */
static void labour_may_be_taxed_at_a_rate_of_its_own(void **state) {
    (void)state;
    struct trade_shop shop = shop_of(21000, 9000, false);
    shop.consumables_thousandths = 3000;
    const struct work_bill bill = bill_of(&shop, 10000, 5000, 0);
    assert_int_equal(bill.n_taxes, 2);
    assert_int_equal(bill.consumables_minor, 150);
    assert_int_equal(bill.taxes[0].minor, 2100);
    assert_int_equal(bill.taxes[1].minor, 464);
    assert_int_equal(bill.total_minor, 15150 + 2564);
}

/* By hand: 5 % of 263.30 is 13.165, half away from zero 13.17; of the rest, 250.13, a fifth is 50.026: 50.03. */
static void a_discount_goes_before_the_tax(void **state) {
    (void)state;
    const struct trade_shop shop = shop_of(20000, 20000, false);
    const struct work_bill bill = bill_of(&shop, 18650, 7680, 5000);
    assert_int_equal(bill.discount_minor, 1317);
    assert_int_equal(bill.taxes[0].minor, 5003);
    assert_int_equal(bill.total_minor, 30016);
}

/* By hand: 30 % of 100.00 with 20 % is 36.00; with the tax in the price, 30.00; less a tenth, 27.00. */
static void a_deposit_is_a_share_of_what_is_ordered(void **state) {
    (void)state;
    struct trade_shop shop = shop_of(20000, 20000, false);
    shop.deposit_thousandths = 30000;
    assert_int_equal(bill_of(&shop, 10000, 5000, 0).deposit_minor, 3600);
    shop.prices_include_tax = true;
    assert_int_equal(bill_of(&shop, 10000, 5000, 0).deposit_minor, 3000);
    assert_int_equal(bill_of(&shop, 10000, 5000, 10000).deposit_minor, 2700);
}

static void cash_is_rounded_as_the_currency_is(void **state) {
    (void)state;
    struct trade_shop shop = shop_of(0, 0, false);
    struct reference *r = reference_open("cash_rounding");
    while (reference_next(r)) {
        shop.cash_minor = trade_currency_cash(reference_word(r, "currency"));
        const struct work_bill bill = bill_of(&shop, reference_count(r, "total_minor"), 0, 0);
        reference_check(r, "cash_minor", (double)bill.cash_minor, 0);
    }
    reference_close(r, 20);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tax_is_added_where_prices_have_none),
        cmocka_unit_test(tax_is_taken_out_where_prices_hold_it),
        cmocka_unit_test(labour_may_be_taxed_at_a_rate_of_its_own),
        cmocka_unit_test(a_discount_goes_before_the_tax),
        cmocka_unit_test(a_deposit_is_a_share_of_what_is_ordered),
        cmocka_unit_test(cash_is_rounded_as_the_currency_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
