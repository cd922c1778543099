/* SPDX-License-Identifier: Apache-2.0 */
/* What follows from the entries of a record, and what jobs need from the shelf. */
#include "trade/made.h"

#include "work/buy.h"
#include "work/record.h"

#include <math.h>

static struct trade_bike bike;

static int setup(void **state) {
    made_setup(state);
    return trade_bike_init(&bike) == BASE_OK ? 0 : -1;
}

static int teardown(void **state) {
    trade_bike_clear(&bike);
    return made_clear(state);
}

#define DONE(NAME)                                                                                                     \
    { .kind = WORK_DONE, .name = (NAME) }
#define SWAPPED(SLOT)                                                                                                  \
    { .kind = WORK_SWAPPED, .name = (SLOT), .text = "other" }

/* A chain that is swapped is sized and joined anew and the gears are set; the old chain is off already, and the hanger, which no
 * chain touches, stays straight (common practice). */
static void a_swap_undoes_what_was_fitted_for_its_slot_and_nothing_else(void **state) {
    (void)state;
    const struct work_entry entries[] = {DONE("chain_off_link"), DONE("chain_sized"), DONE("hanger_gauged"),
                                         DONE("indexed"),        SWAPPED("chain"),    DONE("chain_sized")};
    const int off = work_find_bench(base_slice_of("chain_off_link")),
              sized = work_find_bench(base_slice_of("chain_sized")),
              hanger = work_find_bench(base_slice_of("hanger_gauged")),
              index = work_find_bench(base_slice_of("indexed"));
    assert_true(off >= 0 && sized >= 0 && hanger >= 0 && index >= 0);
    assert_int_equal(work_done(entries, 4, (enum trade_bench)sized, &bike), 1);
    assert_int_equal(work_done(entries, 5, (enum trade_bench)sized, &bike), 5);
    assert_int_equal(work_done(entries, 6, (enum trade_bench)sized, &bike), 5);
    assert_int_equal(work_done(entries, 6, (enum trade_bench)off, &bike), 0);
    assert_int_equal(work_done(entries, 6, (enum trade_bench)hanger, &bike), 2);
    assert_int_equal(work_done(entries, 6, (enum trade_bench)index, &bike), 6);
    assert_int_equal(work_find_bench(base_slice_of("no_such_operation")), -1);
}

static void the_last_yes_counts(void **state) {
    (void)state;
    const struct work_entry entries[] = {
        {.kind = WORK_AGREED, .name = "A"}, DONE("hanger"), {.kind = WORK_AGREED, .name = "C"}};
    assert_null(work_agreed(entries, 0));
    assert_string_equal(work_agreed(entries, 2), "A");
    assert_string_equal(work_agreed(entries, 3), "C");
}

static void limits_belong_to_the_allowed(void **state) {
    (void)state;
    struct work_entry entry = {.kind = WORK_MEASURED, .low = 12, .high = 14, .value = 14};
    assert_false(work_out_of_limit(&entry));
    entry.value = 14.1;
    assert_true(work_out_of_limit(&entry));
    entry.value = 11.9;
    assert_true(work_out_of_limit(&entry));
    entry.low = entry.high = NAN; /* nobody knows a limit */
    assert_false(work_out_of_limit(&entry));
}

static struct trade_part part_of(const char *id, const char *supplier, int32_t stock) {
    struct trade_part part = made_part(TRADE_KIND_CHAIN);
    part.id = id;
    part.supplier = supplier;
    part.stock = stock;
    return part;
}

static void the_same_part_of_two_jobs_stands_once(void **state) {
    (void)state;
    const struct trade_part b = part_of("b", "Zeal", 1), a = part_of("a", NULL, 5), c = part_of("c", "Ferrow", -1);
    struct work_buys buys = {.arena = &made};
    assert_int_equal(work_buy_add(&buys, &a, 0), BASE_OK);
    assert_int_equal(work_buy_add(&buys, &b, 0), BASE_OK);
    assert_int_equal(work_buy_add(&buys, &b, 1), BASE_OK);
    assert_int_equal(work_buy_add(&buys, &c, 1), BASE_OK);
    work_buy_settle(&buys);
    assert_int_equal(buys.n, 3);
    assert_ptr_equal(buys.at[0].part, &c); /* Ferrow, Zeal, and who is not said last */
    assert_ptr_equal(buys.at[1].part, &b);
    assert_ptr_equal(buys.at[2].part, &a);
    assert_int_equal(work_to_order(&buys.at[0]), 1); /* how many are here is not said */
    assert_int_equal(buys.at[1].pieces, 2);
    assert_int_equal(buys.at[1].from_shelf, 1);
    assert_int_equal(work_to_order(&buys.at[1]), 1);
    assert_int_equal(buys.at[1].jobs, 3);
    assert_int_equal(work_to_order(&buys.at[2]), 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_swap_undoes_what_was_fitted_for_its_slot_and_nothing_else, setup, teardown),
        cmocka_unit_test(the_last_yes_counts),
        cmocka_unit_test(limits_belong_to_the_allowed),
        cmocka_unit_test_setup_teardown(the_same_part_of_two_jobs_stands_once, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
