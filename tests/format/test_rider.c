/* SPDX-License-Identifier: Apache-2.0 */
/* A rider's own file: it stands in for the bike's whole rider, and a bad one leaves the bike as it was. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/rider_in.h"
#include "given.h"
#include "support/near.h"

static const char bike_text[] = "{\"format\": 1, \"label\": \"T\", \"frame\": {}, \"wheel\": {}, \"fitted\": {},"
                                " \"rider\": {\"power_w\": 250, \"mass_kg\": 70, \"cadence_rpm\": [65, 95]}}";

struct given {
    struct trade_names names;
    struct base_faults faults;
    struct trade_bike bike;
};

static void begin(struct given *g) {
    trade_names_init(&g->names);
    base_faults_init(&g->faults);
    assert_int_equal(format_bike_read(&g->bike, base_slice_of(bike_text), "bike.json", &g->names, given_rules,
                                      given_rules_n, &g->faults),
                     BASE_OK);
}

static enum base_status read(struct given *g, const char *text) {
    return format_rider_read(&g->bike, base_slice_of(text), "rider.json", &g->names, &g->faults);
}

static void end(struct given *g) {
    trade_bike_clear(&g->bike);
    base_faults_clear(&g->faults);
    trade_names_clear(&g->names);
}

static void the_file_stands_in_for_the_whole_rider(void **state) {
    (void)state;
    struct given g;
    begin(&g);
    assert_int_equal(read(&g, "{\"format\": 1, \"label\": \"Jo\", \"note\": \"Thursday\", \"mass_kg\": 81.5,"
                              " \"power_w_per_kg\": {\"value\": 3.1, \"known\": \"assumed\"}}"),
                     BASE_OK);
    const struct trade_part *rider = &g.bike.rider;
    assert_near(trade_get_number(rider, TRADE_RIDER_MASS_KG), 81.5, 0.0);
    assert_int_equal(trade_get(rider, TRADE_RIDER_MASS_KG)->known, BASE_MEASURED);
    assert_int_equal(trade_get(rider, TRADE_RIDER_POWER_W_PER_KG)->known, BASE_ASSUMED);
    assert_true(trade_is_open(trade_get(rider, TRADE_RIDER_POWER_W)));
    assert_true(trade_is_open(trade_get(rider, TRADE_RIDER_CADENCE_RPM)));
    assert_int_equal(trade_get(rider, TRADE_RIDER_BIKE_MASS_KG)->known, BASE_ASSUMED);
    end(&g);
}

static void an_empty_one_knows_only_what_is_usual(void **state) {
    (void)state;
    struct given g;
    begin(&g);
    assert_int_equal(read(&g, "{}"), BASE_OK);
    assert_int_equal(trade_get(&g.bike.rider, TRADE_RIDER_MASS_KG)->known, BASE_ASSUMED);
    assert_int_equal(g.faults.total, 0);
    end(&g);
}

static void faults_are_told_and_the_bike_keeps_its_rider(void **state) {
    (void)state;
    struct given g;
    begin(&g);
    assert_int_equal(
        read(&g, "{\"format\": 2, \"label\": \"\", \"mass_kg\": 8, \"powr_w\": 200, \"position\": \"drop\"}"),
        BASE_BAD_INPUT);
    assert_int_equal(g.faults.total, 5);
    assert_near(trade_get_number(&g.bike.rider, TRADE_RIDER_POWER_W), 250.0, 0.0);
    assert_near(trade_get_number(&g.bike.rider, TRADE_RIDER_MASS_KG), 70.0, 0.0);
    assert_int_equal(read(&g, "[]"), BASE_BAD_INPUT);
    assert_int_equal(read(&g, ""), BASE_BAD_INPUT);
    assert_near(trade_get_number(&g.bike.rider, TRADE_RIDER_POWER_W), 250.0, 0.0);
    end(&g);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_file_stands_in_for_the_whole_rider),
        cmocka_unit_test(an_empty_one_knows_only_what_is_usual),
        cmocka_unit_test(faults_are_told_and_the_bike_keeps_its_rider),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
