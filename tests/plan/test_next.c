/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/next.h"

#include <string.h>

/* Two open values: the gap with three readings (nothing comes off, 2 minutes) and the spindle's end with two (the crank
 * comes off: the shop's minutes and 6 more). Joint case = gap + 3 x spindle. */
#define GAPS 3
#define CASES 6
#define ALL ((UINT64_C(1) << CASES) - 1)

static struct plan_way ways[5];
static struct trade_shop shop;

static struct plan plan_of(size_t picks) {
    struct plan plan = {.ways = ways, .n_ways = picks, .n_picks = picks, .question.shop = &shop};
    trade_shop_init(&shop);
    memset(ways, 0, sizeof ways);
    plan.cases.n = CASES;
    plan.cases.n_dims = 2;
    plan.cases.possible.bits[0] = ALL;
    plan.cases.dims[0] = (struct fit_dim){.subject = FIT_FRAME, .property = TRADE_FRAME_GAP_MM, .n = GAPS, .stride = 1};
    plan.cases.dims[1] = (struct fit_dim){
        .subject = TRADE_SLOT_BOTTOM_BRACKET, .property = TRADE_BOTTOM_BRACKET_SPINDLE, .n = 2, .stride = GAPS};
    for (size_t i = 0; i < picks; i++) {
        plan.picks[i] = i;
        ways[i].cases.bits[0] = ALL;
    }
    return plan;
}

static void nothing_is_asked_when_all_is_certain(void **state) {
    (void)state;
    struct plan plan = plan_of(3);
    struct plan_next next;
    struct plan_hang asked[4];
    plan_next(&next, &plan);
    assert_false(next.any);
    assert_int_equal(plan_asked(asked, 4, &plan), 0);
}

/* The first pick stands with the first reading of the spindle only: one bit, and nothing else decides. */
static void the_value_that_decides_is_asked_for(void **state) {
    (void)state;
    struct plan plan = plan_of(2);
    struct plan_next next;
    struct plan_hang asked[4];
    ways[0].cases.bits[0] = 7;
    plan_next(&next, &plan);
    assert_true(next.any);
    assert_int_equal(next.subject, TRADE_SLOT_BOTTOM_BRACKET);
    assert_int_equal(next.property, TRADE_BOTTOM_BRACKET_SPINDLE);
    assert_int_equal(next.waiting, 1);
    assert_int_equal(next.n, 2);
    assert_int_equal(next.occurs, 3);
    assert_int_equal(next.stand[0], 3); /* both stand */
    assert_int_equal(next.stand[1], 2); /* only the second */
    assert_int_equal(plan_asked(asked, 4, &plan), 1);
    assert_int_equal(asked[0].subject, TRADE_SLOT_BOTTOM_BRACKET);
}

/* The gap tells less (a third of the cases falls: 0.92 bits, as -1/3 log2 1/3 - 2/3 log2 2/3) but takes 2 minutes, where the
 * spindle's whole bit takes 18: 0.46 bits a minute against 0.06. */
static void what_is_read_sooner_comes_first(void **state) {
    (void)state;
    struct plan plan = plan_of(2);
    struct plan_next next;
    struct plan_hang asked[4];
    ways[0].cases.bits[0] = 7;
    ways[1].cases.bits[0] = 0x36; /* all but the first reading of the gap */
    plan_next(&next, &plan);
    assert_int_equal(next.property, TRADE_FRAME_GAP_MM);
    assert_int_equal(next.waiting, 2);
    assert_int_equal(plan_asked(asked, 4, &plan), 2);
}

/* Two values can each tell nothing and decide together: one of them is asked for all the same. The pick stands where the
 * two readings agree, of two each. */
static void values_that_decide_together_are_asked_for(void **state) {
    (void)state;
    struct plan plan = plan_of(1);
    struct plan_next next;
    plan.cases.dims[0].n = 2;
    plan.cases.dims[1].stride = 2;
    plan.cases.n = 4;
    plan.cases.possible.bits[0] = 15;
    ways[0].cases.bits[0] = 9;
    plan_next(&next, &plan);
    assert_true(next.any);
    assert_int_equal(next.stand[0], 1);
    assert_int_equal(next.stand[1], 1);
}

/* A reading that can't occur on this bike has no say. */
static void impossible_cases_do_not_count(void **state) {
    (void)state;
    struct plan plan = plan_of(1);
    struct plan_next next;
    plan.cases.possible.bits[0] = 7; /* the spindle can only read as the first */
    ways[0].cases.bits[0] = 7;
    plan_next(&next, &plan);
    assert_false(next.any);
    ways[0].cases.bits[0] = 3;
    plan_next(&next, &plan);
    assert_int_equal(next.property, TRADE_FRAME_GAP_MM);
    assert_int_equal(next.occurs, 7);
}

/* What has no usual readings is asked for by its own; a pick waits for it. */
static void an_open_value_without_usual_readings_is_asked_for(void **state) {
    (void)state;
    struct plan plan = plan_of(2);
    struct plan_next next;
    struct plan_hang asked[4];
    plan.hangs[0] = (struct plan_hang){TRADE_SLOT_CRANK, TRADE_CRANK_OUTER_PLANE_MM};
    plan.n_hangs = 1;
    ways[1].hangs = 1;
    plan_next(&next, &plan);
    assert_true(next.any);
    assert_int_equal(next.dim, -1);
    assert_int_equal(next.property, TRADE_CRANK_OUTER_PLANE_MM);
    assert_int_equal(next.waiting, 2);
    assert_int_equal(plan_asked(asked, 4, &plan), 1);
    assert_int_equal(plan_asked(asked, 0, &plan), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_asked_when_all_is_certain),
        cmocka_unit_test(the_value_that_decides_is_asked_for),
        cmocka_unit_test(what_is_read_sooner_comes_first),
        cmocka_unit_test(values_that_decide_together_are_asked_for),
        cmocka_unit_test(impossible_cases_do_not_count),
        cmocka_unit_test(an_open_value_without_usual_readings_is_asked_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
