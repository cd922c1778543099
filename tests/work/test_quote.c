/* SPDX-License-Identifier: Apache-2.0 */
/* Random builds of random bikes in random shops: the labour of the quote is that of the plan, to the minor unit. The plan's own
 * labour is held against rate and minutes by tests/trade and tests/plan. */
#include "trade/made.h"

#include "plan/made_values.h"
#include "support/random.h"
#include "work/quote.h"

#define BUILDS 3000

static struct trade_bike bike;
static struct trade_part parts[TRADE_SLOTS];

static int setup(void **state) {
    (void)state;
    return made_bike_and_parts(&bike, parts);
}

static int teardown(void **state) {
    trade_bike_clear(&bike);
    return made_clear(state);
}

static void any_shop(struct trade_shop *shop, struct random_source *random) {
    trade_shop_init(shop);
    shop->rate_minor = shop->listed_rate_minor = random_int(random, 0, 20000);
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        shop->minutes[o] = random_int(random, 0, 240) / 8.0;
    }
    trade_shop_settle(shop);
}

static void any_build(struct fit_build *build, struct random_source *random) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        static const enum trade_fitted_state states[] = {TRADE_NOT_LOOKED_AT, TRADE_EMPTY, TRADE_THERE};
        bike.fitted[s].state = states[random_int(random, 0, 2)];
    }
    fit_build_now(build, &bike);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        parts[s].price_minor = parts[s].listed_minor = random_int(random, 0, 30000);
        parts[s].stock = random_int(random, -1, 2);
        parts[s].days = random_int(random, -1, 20);
        switch (random_int(random, 0, 3)) {
        case 0:
            build->at[s] = (struct fit_choice){FIT_NEW, &parts[s]};
            break;
        case 1:
            build->at[s] = (struct fit_choice){FIT_NONE, NULL};
            break;
        default:
            break; /* as it stands */
        }
    }
}

static void the_labour_of_a_quote_is_the_plans(void **state) {
    (void)state;
    struct random_source random = {20261130};
    int64_t charged = 0;
    for (int i = 0; i < BUILDS; i++) {
        struct trade_shop shop;
        struct fit_build build;
        struct work_quote quote;
        any_shop(&shop, &random);
        any_build(&build, &random);
        work_quote_of(&quote, &bike, &build, &shop, 0);
        const struct plan_values values = made_values(&bike, &build, &shop);
        int64_t lines = 0;
        for (size_t l = 0; l < quote.n_labour; l++) {
            lines += quote.labour[l].minor;
        }
        assert_int_equal(quote.bill.labour_minor, values.labour_minor);
        assert_int_equal(lines, values.labour_minor);
        assert_int_equal(quote.labour_minor, values.labour_minor);
        assert_int_equal(quote.bill.parts_minor, values.price_minor);
        assert_int_equal(quote.bill.total_minor, values.cost_minor); /* no tax, nothing off */
        assert_int_equal(quote.tenths, values.tenths);
        charged += values.labour_minor;
    }
    assert_true(charged > 0);
}

/* Ordered is what is not here; the last of it counts, and where the list says no day nobody knows. */
static void parts_are_here_when_the_last_is(void **state) {
    (void)state;
    struct random_source random = {3};
    for (int i = 0; i < BUILDS; i++) {
        struct trade_shop shop;
        struct fit_build build;
        struct work_quote quote;
        int32_t last = 0;
        bool open = false;
        any_shop(&shop, &random);
        any_build(&build, &random);
        work_quote_of(&quote, &bike, &build, &shop, 0);
        for (size_t l = 0; l < quote.n_parts; l++) {
            const struct trade_part *part = quote.parts[l].part;
            assert_true(quote.parts[l].ordered == (part->stock == 0));
            open = open || (part->stock == 0 && part->days < 0);
            last = part->stock == 0 && part->days > last ? part->days : last;
        }
        assert_int_equal(quote.ready_days, open ? -1 : last);
        assert_int_equal(quote.stays & quote.off, 0);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_labour_of_a_quote_is_the_plans, setup, teardown),
        cmocka_unit_test_setup_teardown(parts_are_here_when_the_last_is, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
