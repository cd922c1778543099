/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Memory that runs out at every allocation in turn: the answer is then BASE_NO_MEMORY, nothing is told against a good
 * file, nothing leaks, and with memory again the same file is read.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/bike_in.h"
#include "format/catalogue_in.h"
#include "format/json_out.h"
#include "format/rider_in.h"
#include "format/shop_in.h"
#include "format/use_in.h"
#include "format/wish_in.h"
#include "given.h"
#include "support/failing.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static const char bike_text[] =
    "{\"format\": 1, \"label\": \"T\", \"frame\": {\"gap_mm\": 3}, \"wheel\": {\"tyre\": \"54-622\"},"
    " \"fitted\": {\"rings\": [{\"teeth\": 22, \"maker\": \"Orvash\"}, {\"teeth\": 36}],"
    " \"cassette\": {\"sprockets\": [11, 13], \"set\": {\"value\": \"s\", \"known\": \"table\"}}},"
    " \"suspension\": {\"axle_mm\": [-434, 18], \"pivot_mm\": [25, 35], \"travel_mm\": 140},"
    " \"overruled\": [{\"rule\": \"stay-clearance\", \"slots\": [\"crank\"], \"by\": \"K\", \"reason\": \"r\"}]}";
static const char rider_text[] = "{\"mass_kg\": 70, \"cadence_rpm\": [60, 90], \"training\": \"trained\"}";
static const char shop_text[] =
    "{\"currency\": \"EUR\", \"rate_per_hour\": 60.5, \"tax_percent\": 19, \"prices_include_tax\": true,"
    " \"minutes\": {\"rings\": 12}}";
static const char wish_text[] =
    "{\"sprockets\": [11], \"climb\": [{\"gradient_percent\": 9}], \"keep\": [\"crank\"], \"objectives\": [\"cost\"]}";
static const char rings_text[] =
    "id,price,teeth,maker,chains\nr-1,12.50,32,\"Or\"\"vash\"\"\",nine ten\nr-2,9,34,Orvash,\n";
static const char cassettes_text[] = "id,price,sprockets\nc-1,40,11 13 15\n";

static enum base_status read_bike(struct trade_names *names, struct base_faults *faults) {
    struct trade_bike bike;
    enum base_status status =
        format_bike_read(&bike, base_slice_of(bike_text), "b", names, given_rules, given_rules_n, faults);
    if (status == BASE_OK) {
        trade_bike_clear(&bike);
    }
    return status;
}

static enum base_status read_rider(struct trade_names *names, struct base_faults *faults) {
    struct trade_bike bike;
    enum base_status status =
        format_bike_read(&bike, base_slice_of(bike_text), "b", names, given_rules, given_rules_n, faults);
    if (status == BASE_OK) {
        status = format_rider_read(&bike, base_slice_of(rider_text), "r", names, faults);
        trade_bike_clear(&bike);
    }
    return status;
}

static enum base_status read_wish(struct trade_names *names, struct base_faults *faults) {
    struct trade_wish wish;
    (void)names;
    return format_wish_read(&wish, base_slice_of(wish_text), "w", faults);
}

static enum base_status read_gear_use(struct trade_names *names, struct base_faults *faults) {
    struct format_use use;
    (void)names;
    return format_use_read(&use, base_slice_of("{\"gears\": [{\"ring\": 32, \"sprocket\": 21, \"share\": 2}]}"), "u",
                           faults);
}

static enum base_status read_shop(struct trade_names *names, struct base_faults *faults) {
    struct trade_shop shop;
    (void)names;
    return format_shop_read(&shop, base_slice_of(shop_text), "s", faults);
}

static enum base_status read_catalogue(struct trade_names *names, struct base_faults *faults) {
    struct trade_shop shop;
    struct trade_catalogue catalogue;
    struct format_catalogue builder;
    trade_shop_init(&shop);
    format_catalogue_init(&builder, &shop, names, faults);
    enum base_status one = format_catalogue_add(&builder, TRADE_KIND_RING, base_slice_of(rings_text), "ring.csv");
    enum base_status two =
        format_catalogue_add(&builder, TRADE_KIND_CASSETTE, base_slice_of(cassettes_text), "cassette.csv");
    enum base_status status = format_catalogue_finish(&catalogue, &builder);
    if (status == BASE_OK) {
        assert_true(one == BASE_OK && two == BASE_OK);
        trade_catalogue_clear(&catalogue);
    }
    return status;
}

/* The library's memory comes from here, so that it fails too. */
static void *allocate(size_t n) { return malloc(n); }
static void release(void *block) { free(block); }

static void fails_in_turn(enum base_status (*read)(struct trade_names *, struct base_faults *)) {
    json_set_alloc_funcs(allocate, release);
    long n = 0;
    for (bool failed = true; failed; n++) {
        struct base_faults faults;
        struct trade_names names;
        base_faults_init(&faults);
        trade_names_init(&names);
        support_fail_after(n);
        enum base_status status = read(&names, &faults);
        failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        assert_int_equal(faults.total, 0);
        assert_int_equal(read(&names, &faults), BASE_OK);
        trade_names_clear(&names);
        base_faults_clear(&faults);
    }
    assert_true(n > 5);
}

static void of_a_bike(void **state) {
    (void)state;
    fails_in_turn(read_bike);
}

static void of_a_rider(void **state) {
    (void)state;
    fails_in_turn(read_rider);
}

static void of_a_wish(void **state) {
    (void)state;
    fails_in_turn(read_wish);
}

static void of_a_use_of_gears(void **state) {
    (void)state;
    fails_in_turn(read_gear_use);
}

static void of_a_shop(void **state) {
    (void)state;
    fails_in_turn(read_shop);
}

static void of_a_catalogue(void **state) {
    (void)state;
    fails_in_turn(read_catalogue);
}

/* A bad file is told as bad, or as too much for the memory; a fault that finds no room is counted all the same. */
static void of_a_bad_file(void **state) {
    (void)state;
    static const char *const texts[] = {"{\"rings\": 9, \"keep\": [\"carnk\"], \"budgt\": 1}", "{\"rings\": 1,}",
                                        "\xff"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        for (long n = 0;; n++) {
            struct base_faults faults;
            struct trade_wish wish;
            base_faults_init(&faults);
            support_fail_after(n);
            enum base_status status = format_wish_read(&wish, base_slice_of(texts[i]), "w", &faults);
            bool failed = support_failed();
            support_fail_after(-1);
            assert_true(status == BASE_NO_MEMORY || (status == BASE_BAD_INPUT && faults.total > 0));
            base_faults_clear(&faults);
            if (!failed) {
                assert_int_equal(status, BASE_BAD_INPUT);
                break;
            }
        }
    }
}

static void of_the_writer(void **state) {
    (void)state;
    for (long n = 0; n < 2; n++) {
        struct base_buffer b;
        struct format_out out;
        base_buffer_init(&b, 0);
        support_fail_after(n);
        format_out_init(&out, &b, true);
        format_out_array(&out);
        for (int i = 0; i < 100; i++) {
            format_out_text(&out, "text");
        }
        format_out_array_end(&out);
        format_out_done(&out);
        assert_true(support_failed());
        support_fail_after(-1);
        assert_int_equal(b.status, BASE_NO_MEMORY);
        base_buffer_clear(&b);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(of_a_rider),        cmocka_unit_test(of_a_bike),      cmocka_unit_test(of_a_wish),
        cmocka_unit_test(of_a_shop),         cmocka_unit_test(of_a_catalogue), cmocka_unit_test(of_a_bad_file),
        cmocka_unit_test(of_a_use_of_gears), cmocka_unit_test(of_the_writer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
