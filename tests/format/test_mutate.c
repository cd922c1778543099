/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Good documents, broken at random, the same way each time: whatever comes of it is read, or told with a fault. The
 * sanitizers watch.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/bike_in.h"
#include "format/catalogue_in.h"
#include "format/shop_in.h"
#include "format/wish_in.h"
#include "given.h"
#include "support/random.h"

#include <stdlib.h>
#include <string.h>

struct text {
    char *at; /* owned */
    size_t n;
};

static void cut(struct text *t, size_t from, size_t n) {
    memmove(t->at + from, t->at + from + n, t->n - from - n);
    t->n -= n;
}

static void insert(struct text *t, size_t to, const char *bytes, size_t n) {
    char *at = malloc(t->n + n + 1);
    assert_non_null(at);
    memcpy(at, t->at, to);
    memcpy(at + to, bytes, n);
    memcpy(at + to + n, t->at + to, t->n - to);
    free(t->at);
    t->at = at;
    t->n += n;
}

static size_t below(struct random_source *random, size_t n) { return (size_t)random_int(random, 0, (int)n - 1); }

/* One change: a byte, a stretch gone or doubled, the end cut off, or a piece that means something somewhere put in. */
static void break_once(struct text *t, struct random_source *random) {
    static const char *const pieces[] = {
        "\"",   "{",    "}",    "[",         "]",         ",",         ":",    "null",    "true", "-1",  "1e308",
        "1e-9", "\\u0", "\xff", "\xc3",      "\r",        "\r\n",      "\n",   "\"\"",    "0",    "999", "\"keep\"",
        "NaN",  ";",    "\t",   "\"rings\"", "\"value\"", "\"known\"", "[[[[", "{\"a\":", " ",    "é"};
    if (t->n == 0) {
        return;
    }
    size_t from = below(random, t->n), most = t->n - from, n = 1 + below(random, most < 40 ? most : 40);
    const char *piece = pieces[below(random, sizeof pieces / sizeof pieces[0])];
    char stretch[40];
    switch (random_int(random, 0, 6)) {
    case 0:
        t->at[from] = (char)random_int(random, 0, 255);
        break;
    case 1:
        cut(t, from, n);
        break;
    case 2:
        memcpy(stretch, t->at + from, n);
        insert(t, below(random, t->n), stretch, n);
        break;
    case 3:
        t->n = random_int(random, 0, 9) == 0 ? from : t->n;
        break;
    default:
        insert(t, from, piece, strlen(piece));
    }
}

static enum base_status read_bike(struct base_slice bytes, struct trade_names *names, struct base_faults *faults) {
    struct trade_bike bike;
    enum base_status status = format_bike_read(&bike, bytes, "b.json", names, given_rules, given_rules_n, faults);
    if (status == BASE_OK) {
        trade_bike_clear(&bike);
    }
    return status;
}

static enum base_status read_wish(struct base_slice bytes, struct trade_names *names, struct base_faults *faults) {
    struct trade_wish wish;
    (void)names;
    return format_wish_read(&wish, bytes, "w.json", faults);
}

static enum base_status read_shop(struct base_slice bytes, struct trade_names *names, struct base_faults *faults) {
    struct trade_shop shop;
    (void)names;
    return format_shop_read(&shop, bytes, "s.json", faults);
}

static enum base_status read_table(struct base_slice bytes, struct trade_names *names, struct base_faults *faults,
                                   enum trade_kind kind) {
    struct trade_shop shop;
    struct trade_catalogue catalogue;
    struct format_catalogue builder;
    trade_shop_init(&shop);
    format_catalogue_init(&builder, &shop, names, faults);
    enum base_status one = format_catalogue_add(&builder, kind, bytes, "t.csv");
    enum base_status status = format_catalogue_finish(&catalogue, &builder);
    assert_int_equal(one, status);
    if (status == BASE_OK) {
        trade_catalogue_clear(&catalogue);
    }
    return status;
}

static enum base_status read_rings(struct base_slice bytes, struct trade_names *names, struct base_faults *faults) {
    return read_table(bytes, names, faults, TRADE_KIND_RING);
}

static enum base_status read_cassettes(struct base_slice bytes, struct trade_names *names, struct base_faults *faults) {
    return read_table(bytes, names, faults, TRADE_KIND_CASSETTE);
}

/* Every fault must be one that a line can be made of. */
static void check_faults(const struct base_faults *faults) {
    assert_int_equal(faults->n, faults->total < BASE_FAULTS_MAX ? faults->total : BASE_FAULTS_MAX);
    for (size_t i = 0; i < faults->n; i++) {
        const struct base_fault *fault = &faults->list[i];
        assert_non_null(fault->file);
        assert_true(fault->allowed && fault->allowed[0] != '\0' && fault->allowed[0] != '?');
        assert_true(fault->found || fault->path); /* what is unknown has a name */
        assert_true(fault->line > 0 || fault->column == 0);
        for (const char *c = fault->found ? fault->found : ""; *c; c++) {
            assert_true((unsigned char)*c >= 0x20 && *c != 0x7f);
        }
    }
}

static void breaks(const char *file, int rounds,
                   enum base_status (*read)(struct base_slice, struct trade_names *, struct base_faults *)) {
    struct base_slice good = given_file(file);
    struct random_source random = {.state = 0x62696b65};
    int read_well = 0, told = 0;
    for (int round = 0; round < rounds; round++) {
        struct text t = {.at = malloc(good.n + 1), .n = good.n};
        struct base_faults faults;
        struct trade_names names;
        assert_non_null(t.at);
        memcpy(t.at, good.at, good.n);
        base_faults_init(&faults);
        trade_names_init(&names);
        for (int i = random_int(&random, 1, 4); i > 0; i--) {
            break_once(&t, &random);
        }
        /* A block of its own size, so that a byte read behind its end is seen. */
        char *exact = malloc(t.n > 0 ? t.n : 1);
        assert_non_null(exact);
        memcpy(exact, t.at, t.n);
        enum base_status status = read((struct base_slice){exact, t.n}, &names, &faults);
        assert_true(status == BASE_OK ? faults.total == 0 : status == BASE_BAD_INPUT && faults.total > 0);
        check_faults(&faults);
        read_well += status == BASE_OK;
        told += status == BASE_BAD_INPUT;
        free(exact);
        free(t.at);
        trade_names_clear(&names);
        base_faults_clear(&faults);
    }
    /* Both happened: the breaking is neither too gentle nor too rough to mean anything. */
    assert_true(read_well > 0 && told > rounds / 2);
    free((void *)good.at);
}

static void a_bike(void **state) {
    (void)state;
    breaks("data/demo/bikes/bracken-trek.json", 3000, read_bike);
}

static void a_wish(void **state) {
    (void)state;
    breaks("data/demo/wishes/quillmoor-trail.json", 5000, read_wish);
}

static void a_shop(void **state) {
    (void)state;
    breaks("data/demo/shop/shop.json", 5000, read_shop);
}

static void a_list_of_rings(void **state) {
    (void)state;
    breaks("data/demo/shop/ring.csv", 1000, read_rings);
}

static void a_list_of_cassettes(void **state) {
    (void)state;
    breaks("data/demo/shop/cassette.csv", 1000, read_cassettes);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_bike),
        cmocka_unit_test(a_wish),
        cmocka_unit_test(a_shop),
        cmocka_unit_test(a_list_of_rings),
        cmocka_unit_test(a_list_of_cassettes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
