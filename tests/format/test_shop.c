/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/number.h"
#include "format/catalogue_in.h"
#include "format/shop_in.h"
#include "given.h"
#include "support/random.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* --- the shop ----------------------------------------------------------------------------------------------------- */

static struct trade_shop shop_of(const char *text) {
    struct base_faults faults;
    struct trade_shop shop;
    base_faults_init(&faults);
    enum base_status status = format_shop_read(&shop, base_slice_of(text), "shop.json", &faults);
    given_expect(&faults, "");
    assert_int_equal(status, BASE_OK);
    base_faults_clear(&faults);
    return shop;
}

static void the_rate_is_read_exactly(void **state) {
    (void)state;
    /* Decimals of the minor unit by ISO 4217: two of the pound, none of the yen, three of the dinar. */
    assert_int_equal(shop_of("{\"currency\": \"GBP\", \"rate_per_hour\": 48.55}").rate_minor, 4855);
    assert_int_equal(shop_of("{\"currency\": \"GBP\", \"rate_per_hour\": \"48.5\"}").rate_minor, 4850);
    assert_int_equal(shop_of("{\"currency\": \"GBP\", \"rate_per_hour\": 48}").rate_minor, 4800);
    assert_int_equal(shop_of("{\"currency\": \"JPY\", \"rate_per_hour\": 6000}").rate_minor, 6000);
    assert_int_equal(shop_of("{\"currency\": \"KWD\", \"rate_per_hour\": 12.345}").rate_minor, 12345);
    /* 60.00 with 20 % in it is 50.00 without: 60 / 1.2. */
    assert_int_equal(shop_of("{\"currency\": \"EUR\", \"rate_per_hour\": 60, \"tax_percent\": 20,"
                             " \"prices_include_tax\": true}")
                         .rate_minor,
                     5000);
    assert_int_equal(shop_of("{\"currency\": \"EUR\", \"rate_per_hour\": 60, \"tax_percent\": \"20.125\","
                             " \"prices_include_tax\": \"no\"}")
                         .tax_thousandths,
                     20125);
}

static void the_shops_own_minutes_win(void **state) {
    (void)state;
    struct trade_shop shop =
        shop_of("{\"currency\": \"EUR\", \"rate_per_hour\": 50, \"minutes\": {\"rings\": 7.5, \"take_in\": 0}}");
    /* 7.5 of 60 minutes at 50.00 an hour: 6.25. */
    assert_int_equal(shop.labour_minor[TRADE_OPERATION_RINGS], 625);
    assert_int_equal(shop.labour_minor[TRADE_OPERATION_TAKE_IN], 0);
    double table = trade_operation_rows[TRADE_OPERATION_ROTOR].minutes;
    assert_true(shop.minutes[TRADE_OPERATION_ROTOR] >= table && shop.minutes[TRADE_OPERATION_ROTOR] <= table);
}

/* Amounts by hand; 5 rappen is the smallest coin of CHF (common practice). */
static void what_a_quote_goes_by_is_read(void **state) {
    (void)state;
    struct trade_shop shop = shop_of("{\"currency\": \"CHF\", \"rate_per_hour\": 109, \"tax_percent\": 8.1,"
                                     " \"labour_tax_percent\": 9, \"prices_include_tax\": true,"
                                     " \"consumables_percent\": \"2.5\", \"deposit_percent\": 30,"
                                     " \"valid_days\": 14, \"call_first\": 40.5, \"name\": \"Quillmoor workshop\"}");
    assert_int_equal(shop.listed_rate_minor, 10900);
    assert_int_equal(shop.rate_minor, 10000);
    assert_int_equal(shop.tax_thousandths, 8100);
    assert_int_equal(shop.labour_tax_thousandths, 9000);
    assert_int_equal(shop.consumables_thousandths, 2500);
    assert_int_equal(shop.deposit_thousandths, 30000);
    assert_int_equal(shop.valid_days, 14);
    assert_int_equal(shop.call_first_minor, 4050);
    assert_int_equal(shop.cash_minor, 5);
    assert_string_equal(shop.name, "Quillmoor workshop");
    assert_string_equal(shop.address, "");
}

static void what_is_not_said_of_a_quote_is_open(void **state) {
    (void)state;
    struct trade_shop shop = shop_of("{\"currency\": \"EUR\", \"rate_per_hour\": 60, \"tax_percent\": 19,"
                                     " \"cash\": 0.05}");
    assert_int_equal(shop.labour_tax_thousandths, 19000);
    assert_int_equal(shop.valid_days, -1);
    assert_int_equal(shop.call_first_minor, -1);
    assert_int_equal(shop.consumables_thousandths, 0);
    assert_int_equal(shop.cash_minor, 5); /* as in the countries that round EUR */
}

static void terms_that_can_not_be_are_told(void **state) {
    (void)state;
    struct base_faults faults;
    struct trade_shop shop;
    base_faults_init(&faults);
    assert_int_equal(format_shop_read(&shop,
                                      base_slice_of("{\"currency\": \"EUR\", \"rate_per_hour\": 60, \"cash\": 0,"
                                                    " \"deposit_percent\": 101, \"valid_days\": 1.5,"
                                                    " \"call_first\": -1}"),
                                      "shop.json", &faults),
                     BASE_BAD_INPUT);
    assert_int_equal(faults.total, 4);
    base_faults_clear(&faults);
}

/* --- the catalogue ------------------------------------------------------------------------------------------------ */

struct given {
    struct base_faults faults;
    struct trade_names names;
    struct trade_shop shop;
    struct format_catalogue builder;
    struct trade_catalogue catalogue;
    enum base_status status;
};

static void begin(struct given *g, const char *shop) {
    base_faults_init(&g->faults);
    trade_names_init(&g->names);
    g->shop = shop_of(shop);
    format_catalogue_init(&g->builder, &g->shop, &g->names, &g->faults);
}

static enum base_status add(struct given *g, const char *file, const char *text) {
    enum trade_kind kind;
    assert_int_equal(format_catalogue_kind(&kind, file, &g->faults), BASE_OK);
    return format_catalogue_add(&g->builder, kind, base_slice_of(text), file);
}

static void finish(struct given *g) { g->status = format_catalogue_finish(&g->catalogue, &g->builder); }

static void clear(struct given *g) {
    if (g->status == BASE_OK) {
        trade_catalogue_clear(&g->catalogue);
    }
    trade_names_clear(&g->names);
    base_faults_clear(&g->faults);
}

static const char euros[] = "{\"currency\": \"EUR\", \"rate_per_hour\": 60}";

static void parts_are_read_and_sorted_by_id(void **state) {
    (void)state;
    struct given g;
    begin(&g, euros);
    assert_int_equal(
        add(&g, "list/ring.csv",
            "price,id,teeth,stock,days,supplier,maker\r\n12.50,r-b,32,4,0,Ferrow,Orvash\r\n9,r-B,34,,,,\r\n"
            "7.05,r-a,30,0,14,,Orvash\r\n"),
        BASE_OK);
    assert_int_equal(add(&g, "cassette.csv", "id,price,sprockets,worn\nc-1,40.00,36 11 13,no\n"), BASE_OK);
    finish(&g);
    given_expect(&g.faults, "");
    assert_int_equal(g.status, BASE_OK);
    assert_int_equal(g.catalogue.n_all, 4);
    assert_int_equal(g.catalogue.n[TRADE_KIND_RING], 3);
    const struct trade_part *ring = g.catalogue.parts[TRADE_KIND_RING];
    /* Bytes: capitals before small letters. */
    assert_string_equal(ring[0].id, "r-B");
    assert_string_equal(ring[1].id, "r-a");
    assert_string_equal(ring[2].id, "r-b");
    assert_int_equal(ring[0].price_minor, 900);
    assert_int_equal(ring[0].stock, -1);
    assert_int_equal(ring[0].days, -1);
    assert_int_equal(trade_get(&ring[0], TRADE_RING_MAKER)->known, BASE_OPEN);
    assert_int_equal(ring[1].price_minor, 705);
    assert_null(ring[1].supplier);
    assert_string_equal(ring[2].supplier, "Ferrow");
    assert_int_equal(ring[1].days, 14);
    assert_int_equal((int)trade_get_number(&ring[2], TRADE_RING_TEETH), 32);
    assert_int_equal(trade_get(&ring[2], TRADE_RING_TEETH)->known, BASE_MEASURED);
    assert_ptr_equal(trade_get(&ring[1], TRADE_RING_MAKER)->name, trade_get(&ring[2], TRADE_RING_MAKER)->name);
    const struct trade_part *cassette = trade_catalogue_find(&g.catalogue, "c-1");
    assert_non_null(cassette);
    const struct trade_counts *sprockets = trade_get(cassette, TRADE_CASSETTE_SPROCKETS)->counts;
    assert_int_equal(sprockets->n, 3);
    assert_int_equal(sprockets->at[0], 11);
    assert_int_equal(sprockets->at[2], 36);
    clear(&g);
}

/* The tax leaves a net price that is the nearest: |net * (100 + tax) - gross * 100| is at most half of the divisor, and
 * of two that are equally near the larger one. In thousandths of a percent, so that all is whole. */
static void tax_is_taken_out_exactly(void **state) {
    (void)state;
    struct random_source random = {.state = 19};
    for (int round = 0; round < 300; round++) {
        int tax = random_int(&random, 0, 100000), gross = random_int(&random, 0, 10000000);
        struct given g;
        char shop[128], table[128];
        snprintf(
            shop, sizeof shop,
            "{\"currency\": \"EUR\", \"rate_per_hour\": 60, \"tax_percent\": %d.%03d, \"prices_include_tax\": true}",
            tax / 1000, tax % 1000);
        snprintf(table, sizeof table, "id,price\nr-1,%d.%02d\n", gross / 100, gross % 100);
        begin(&g, shop);
        assert_int_equal(add(&g, "ring.csv", table), BASE_OK);
        finish(&g);
        assert_int_equal(g.status, BASE_OK);
        int64_t net = g.catalogue.parts[TRADE_KIND_RING][0].price_minor;
        int64_t divisor = 100000 + tax, off = net * divisor - (int64_t)gross * 100000;
        assert_true(2 * off <= divisor && 2 * off > -divisor);
        clear(&g);
    }
}

static void an_id_may_stand_once_in_all_files(void **state) {
    (void)state;
    struct given g;
    begin(&g, euros);
    assert_int_equal(add(&g, "shop/chain.csv", "id,price\n\nx-1,9\nx-2,9\n"), BASE_OK);
    assert_int_equal(add(&g, "shop/ring.csv", "price,id\n9,x-3\n9,x-1\n"), BASE_BAD_INPUT);
    given_expect(&g.faults, "3:3 | id | \"x-1\" | each id once; it stands in shop/chain.csv:3 already | -\n");
    assert_string_equal(g.faults.list[0].file, "shop/ring.csv");
    finish(&g);
    assert_int_equal(g.status, BASE_BAD_INPUT);
    clear(&g);
}

static void faults_of_all_files_come_in_one_go(void **state) {
    (void)state;
    struct given g;
    begin(&g, euros);
    assert_int_equal(add(&g, "chain.csv", ""), BASE_BAD_INPUT);
    assert_int_equal(add(&g, "ring.csv", "id,price\nr-1,x\n"), BASE_BAD_INPUT);
    assert_int_equal(add(&g, "rotor.csv", "id,price\nx-1,9\n"), BASE_OK);
    assert_int_equal(format_catalogue_add(&g.builder, TRADE_KIND_ROTOR, base_slice_of("id,price\n"), "more/rotor.csv"),
                     BASE_BAD_INPUT);
    given_expect(
        &g.faults,
        "0:0 | - | an empty file | a line of column names, id and price among them, then a line for each part | -\n"
        "2:5 | price | \"x\" | an amount in EUR such as 12.50 | -\n"
        "0:0 | - | a second file of this kind | one for each kind | -\n");
    memset(&g.catalogue, 0x5a, sizeof g.catalogue);
    struct trade_catalogue before;
    memset(&before, 0x5a, sizeof before);
    finish(&g);
    assert_int_equal(g.status, BASE_BAD_INPUT);
    assert_memory_equal(&g.catalogue, &before, sizeof before);
    clear(&g);
}

static void sixty_faults_in_two_files(void **state) {
    (void)state;
    struct given g;
    struct base_buffer text;
    begin(&g, euros);
    base_buffer_init(&text, 0);
    base_buffer_text(&text, "id,price\n");
    for (int i = 0; i < 30; i++) {
        base_buffer_text(&text, "r-1 ,9\n");
    }
    assert_int_equal(add(&g, "ring.csv", text.at), BASE_BAD_INPUT);
    assert_int_equal(add(&g, "chain.csv", text.at), BASE_BAD_INPUT);
    assert_int_equal(g.faults.n, 50);
    assert_int_equal(g.faults.total, 60);
    assert_string_equal(g.faults.list[49].file, "chain.csv");
    finish(&g);
    assert_int_equal(g.status, BASE_BAD_INPUT);
    base_buffer_clear(&text);
    clear(&g);
}

/* What the vocabulary takes a ring to be when it does not say. */
static void parts_are_completed(void **state) {
    (void)state;
    struct given g;
    begin(&g, euros);
    assert_int_equal(add(&g, "ring.csv", "id,price,teeth\nr-1,9,32\n"), BASE_OK);
    finish(&g);
    assert_int_equal(g.status, BASE_OK);
    const struct trade_value *thickness = trade_get(&g.catalogue.parts[TRADE_KIND_RING][0], TRADE_RING_THICKNESS_MM);
    double usual = trade_property_rows[TRADE_RING_THICKNESS_MM].fallback;
    assert_int_equal(thickness->known, BASE_ASSUMED);
    assert_true(thickness->number >= usual && thickness->number <= usual);
    clear(&g);
}

static void no_files_are_an_empty_catalogue(void **state) {
    (void)state;
    struct given g;
    begin(&g, euros);
    finish(&g);
    assert_int_equal(g.status, BASE_OK);
    assert_int_equal(g.catalogue.n_all, 0);
    assert_null(trade_catalogue_find(&g.catalogue, "x"));
    clear(&g);
}

/* Two files in the order given; which: 0 as they are, 1 and 2 with a byte of the first or second changed. */
static void revision_of(char out[32], bool turned, int which) {
    static const char *const rings[] = {"id,price\nr-1,9\n", "id,price\nr-1,8\n", "id,price\nr-1,9\n"};
    static const char *const chains[] = {"id,price\nc-1,9\n", "id,price\nc-1,9\n", "id,price\nc-1,9.0\n"};
    struct given g;
    begin(&g, euros);
    if (turned) {
        assert_int_equal(add(&g, "chain.csv", chains[which]), BASE_OK);
    }
    assert_int_equal(add(&g, "ring.csv", rings[which]), BASE_OK);
    if (!turned) {
        assert_int_equal(add(&g, "chain.csv", chains[which]), BASE_OK);
    }
    finish(&g);
    assert_int_equal(g.status, BASE_OK);
    assert_int_equal(strlen(g.catalogue.revision), 12);
    assert_int_equal(strspn(g.catalogue.revision, "0123456789abcdef"), 12);
    strcpy(out, g.catalogue.revision);
    clear(&g);
}

static void the_revision_names_the_bytes_whatever_their_order(void **state) {
    (void)state;
    char plain[32], turned[32], one[32], two[32];
    revision_of(plain, false, 0);
    revision_of(turned, true, 0);
    revision_of(one, false, 1);
    revision_of(two, false, 2);
    assert_string_equal(plain, turned);
    assert_string_not_equal(plain, one);
    assert_string_not_equal(plain, two);
    assert_string_not_equal(one, two);
}

static void many_parts_are_found_again(void **state) {
    (void)state;
    enum { MANY = 5000 };
    struct given g;
    struct base_buffer text;
    begin(&g, euros);
    base_buffer_init(&text, 0);
    base_buffer_text(&text, "id,price,teeth\n");
    for (int i = 0; i < MANY; i++) {
        char line[64];
        snprintf(line, sizeof line, "r-%d,%d.5,%d\n", i * 7919 % MANY, i, 16 + i % 49);
        base_buffer_text(&text, line);
    }
    assert_int_equal(add(&g, "ring.csv", text.at), BASE_OK);
    finish(&g);
    assert_int_equal(g.status, BASE_OK);
    assert_int_equal(g.catalogue.n_all, MANY);
    for (int i = 0; i < MANY; i++) {
        char id[32];
        snprintf(id, sizeof id, "r-%d", i * 7919 % MANY);
        const struct trade_part *part = trade_catalogue_find(&g.catalogue, id);
        assert_non_null(part);
        assert_int_equal(part->price_minor, i * 100 + 50);
        assert_int_equal((int)trade_get_number(part, TRADE_RING_TEETH), 16 + i % 49);
    }
    base_buffer_clear(&text);
    clear(&g);
}

static void the_demo_shop_is_read(void **state) {
    (void)state;
    struct given g;
    size_t n;
    struct base_slice shop = given_file("data/demo/shop/shop.json");
    char **files = given_files("data/demo/shop", ".csv", &n);
    begin(&g, shop.at);
    for (size_t i = 0; i < n; i++) {
        struct base_slice bytes = given_file(files[i]);
        assert_int_equal(add(&g, files[i], bytes.at), BASE_OK);
        free((void *)bytes.at);
    }
    finish(&g);
    given_expect(&g.faults, "");
    assert_int_equal(g.status, BASE_OK);
    assert_true(g.catalogue.n_all >= 300); /* what a demo must at least offer */
    free((void *)shop.at);
    given_files_free(files, n);
    clear(&g);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rate_is_read_exactly),
        cmocka_unit_test(the_shops_own_minutes_win),
        cmocka_unit_test(what_a_quote_goes_by_is_read),
        cmocka_unit_test(what_is_not_said_of_a_quote_is_open),
        cmocka_unit_test(terms_that_can_not_be_are_told),
        cmocka_unit_test(parts_are_read_and_sorted_by_id),
        cmocka_unit_test(tax_is_taken_out_exactly),
        cmocka_unit_test(an_id_may_stand_once_in_all_files),
        cmocka_unit_test(faults_of_all_files_come_in_one_go),
        cmocka_unit_test(sixty_faults_in_two_files),
        cmocka_unit_test(parts_are_completed),
        cmocka_unit_test(no_files_are_an_empty_catalogue),
        cmocka_unit_test(the_revision_names_the_bytes_whatever_their_order),
        cmocka_unit_test(many_parts_are_found_again),
        cmocka_unit_test(the_demo_shop_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
