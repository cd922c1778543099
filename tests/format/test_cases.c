/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Runs the text cases of tests/format/cases: a document, and the faults that reading it tells. README.md there says how
 * a case is written.
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

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct text_case {
    char what[64];              /* bike, wish, shop, or a CSV's name */
    struct base_slice document; /* in the case's own bytes */
    const char *faults;         /* lines; "" for none */
};

/* The next line, without its end; moves *at behind it. */
static struct base_slice take_line(const char **at) {
    const char *end = strchr(*at, '\n');
    assert_non_null(end);
    struct base_slice line = {.at = *at, .n = (size_t)(end - *at)};
    *at = end + 1;
    return line;
}

static struct text_case parse(const char *at) {
    static const char rule[] = "\n-----\n";
    struct text_case c = {.faults = ""};
    for (struct base_slice line = take_line(&at); !base_slice_is(line, "-----"); line = take_line(&at)) {
        if (line.n > 5 && memcmp(line.at, "read ", 5) == 0) {
            assert_true(line.n - 5 < sizeof c.what);
            memcpy(c.what, line.at + 5, line.n - 5);
        }
    }
    const char *end = strstr(at, rule);
    assert_non_null(end);
    c.document = (struct base_slice){.at = at, .n = (size_t)(end - at)};
    c.faults = end + sizeof rule - 1;
    assert_true(c.what[0] != '\0' && c.faults[0] != '\0');
    if (strcmp(c.faults, "good\n") == 0) {
        c.faults = "";
    }
    return c;
}

static enum base_status read_table(struct base_slice bytes, const char *file, struct trade_names *names,
                                   struct base_faults *faults) {
    enum trade_kind kind;
    struct trade_shop shop;
    struct format_catalogue builder;
    struct trade_catalogue catalogue;
    if (format_catalogue_kind(&kind, file, faults) != BASE_OK) {
        return BASE_BAD_INPUT;
    }
    trade_shop_init(&shop);
    format_catalogue_init(&builder, &shop, names, faults);
    enum base_status one = format_catalogue_add(&builder, kind, bytes, file);
    enum base_status all = format_catalogue_finish(&catalogue, &builder);
    assert_int_equal(one, all);
    if (all == BASE_OK) {
        trade_catalogue_clear(&catalogue);
    }
    return all;
}

static enum base_status read_document(const struct text_case *c, struct trade_names *names,
                                      struct base_faults *faults) {
    struct trade_bike bike;
    struct trade_wish wish;
    struct trade_shop shop;
    if (strcmp(c->what, "bike") == 0) {
        enum base_status status =
            format_bike_read(&bike, c->document, "bike.json", names, given_rules, given_rules_n, faults);
        if (status == BASE_OK) {
            trade_bike_clear(&bike);
        }
        return status;
    }
    if (strcmp(c->what, "wish") == 0) {
        return format_wish_read(&wish, c->document, "wish.json", faults);
    }
    if (strcmp(c->what, "shop") == 0) {
        return format_shop_read(&shop, c->document, "shop.json", faults);
    }
    return read_table(c->document, c->what, names, faults);
}

static void reads_as_told(void **state) {
    struct base_slice bytes = given_file(*state);
    struct text_case c = parse(bytes.at);
    struct base_faults faults;
    struct trade_names names;
    base_faults_init(&faults);
    trade_names_init(&names);
    enum base_status status = read_document(&c, &names, &faults);
    given_expect(&faults, c.faults);
    assert_int_equal(status, c.faults[0] == '\0' ? BASE_OK : BASE_BAD_INPUT);
    trade_names_clear(&names);
    base_faults_clear(&faults);
    free((void *)bytes.at);
}

int main(void) {
    size_t n;
    char **files = given_files("tests/format/cases", ".case", &n);
    struct CMUnitTest *tests = calloc(n, sizeof *tests);
    for (size_t i = 0; i < n; i++) {
        tests[i] = (struct CMUnitTest){.name = files[i], .test_func = reads_as_told, .initial_state = files[i]};
    }
    int failed = _cmocka_run_group_tests("cases", tests, n, NULL, NULL);
    free(tests);
    given_files_free(files, n);
    return failed;
}
