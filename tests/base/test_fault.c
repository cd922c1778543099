/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/fault.h"
#include "support/failing.h"

#include <string.h>

static void a_fault_is_copied(void **state) {
    (void)state;
    struct base_faults faults;
    base_faults_init(&faults);
    char found[] = "hub_widht_mm";
    base_faults_add(&faults, &(struct base_fault){.file = "bike.json",
                                                  .path = "/frame/hub_widht_mm",
                                                  .found = found,
                                                  .allowed = "a property of a frame",
                                                  .nearest = "hub_width_mm"});
    memset(found, 'x', sizeof found - 1);
    base_faults_add(&faults, &(struct base_fault){.file = "-", .line = 3, .column = 17, .allowed = "a number"});
    assert_int_equal(faults.n, 2);
    assert_int_equal(faults.total, 2);
    assert_string_equal(faults.list[0].file, "bike.json");
    assert_string_equal(faults.list[0].path, "/frame/hub_widht_mm");
    assert_string_equal(faults.list[0].found, "hub_widht_mm");
    assert_string_equal(faults.list[0].allowed, "a property of a frame");
    assert_string_equal(faults.list[0].nearest, "hub_width_mm");
    assert_int_equal(faults.list[0].line, 0);
    assert_int_equal(faults.list[1].line, 3);
    assert_int_equal(faults.list[1].column, 17);
    assert_null(faults.list[1].path);
    assert_null(faults.list[1].found);
    assert_null(faults.list[1].nearest);
    base_faults_clear(&faults);
    assert_int_equal(faults.n, 0);
    assert_int_equal(faults.total, 0);
}

static void what_was_found_is_safe_to_show(void **state) {
    (void)state;
    static const struct {
        const char *found, *shown;
    } cases[] = {
        {"", ""},
        {"12 mm", "12 mm"},
        {"\x1b[31mred\a\n", "?[31mred??"},
        {"\x7f", "?"},
        {"\xc2\x9b"
         "31m",
         "??31m"},                                /* U+009B, which some terminals take for ESC [ */
        {"\xc2\xa0\xc3\xa9", "\xc2\xa0\xc3\xa9"}, /* U+00A0, the first behind those controls */
        {"a\xff\xc3!", "a?"
                       "?!"}, /* not UTF-8 */
        {"\xe2\x82\xac 30", "\xe2\x82\xac 30"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_faults faults;
        base_faults_init(&faults);
        base_faults_add(
            &faults,
            &(struct base_fault){.file = "-", .found = cases[i].found, .path = cases[i].found, .allowed = "a number"});
        assert_string_equal(faults.list[0].found, cases[i].shown);
        assert_string_equal(faults.list[0].path, cases[i].shown);
        base_faults_clear(&faults);
    }
}

static void what_was_found_is_cut_by_characters(void **state) {
    (void)state;
    char euros[3 * 100 + 1] = "";
    for (size_t i = 0; i < 100; i++) {
        memcpy(euros + 3 * i, "\xe2\x82\xac", 4);
    }
    for (size_t n = 55; n < 65; n++) {
        struct base_faults faults;
        base_faults_init(&faults);
        euros[3 * n] = '\0';
        base_faults_add(&faults, &(struct base_fault){.file = "-", .found = euros, .allowed = "a number"});
        euros[3 * n] = '\xe2';
        struct base_slice shown = base_slice_of(faults.list[0].found);
        assert_int_equal(base_utf8_length(shown), n < BASE_FAULT_CHARS ? n : BASE_FAULT_CHARS);
        assert_int_equal(base_utf8_valid(shown), shown.n);
        bool cut = memcmp(shown.at + shown.n - 3, "\xe2\x80\xa6", 3) == 0;
        assert_true(cut == (n > BASE_FAULT_CHARS));
        base_faults_clear(&faults);
    }
}

static void faults_beyond_the_last_are_counted(void **state) {
    (void)state;
    struct base_faults faults;
    base_faults_init(&faults);
    for (uint32_t line = 1; line <= 200; line++) {
        base_faults_add(&faults, &(struct base_fault){.file = "-", .line = line, .allowed = "a number"});
    }
    assert_int_equal(faults.n, BASE_FAULTS_MAX);
    assert_int_equal(faults.total, 200);
    assert_int_equal(faults.list[BASE_FAULTS_MAX - 1].line, BASE_FAULTS_MAX);
    base_faults_clear(&faults);
}

/* Both the arena's own count and the allocator's: a fault is kept whole or only counted. */
static void a_fault_that_finds_no_memory_is_counted(void **state) {
    (void)state;
    const struct base_fault fault = {.file = "a", .path = "b", .found = "c", .allowed = "d", .nearest = "e"};
    for (int64_t n = 0; n <= 5; n++) {
        struct base_faults faults;
        base_faults_init(&faults);
        faults.arena.fail_after = n;
        base_faults_add(&faults, &fault);
        assert_int_equal(faults.total, 1);
        assert_int_equal(faults.n, n == 5);
        base_faults_clear(&faults);
    }
    struct base_faults faults;
    base_faults_init(&faults);
    support_fail_after(0);
    base_faults_add(&faults, &fault);
    bool failed = support_failed();
    support_fail_after(-1);
    assert_true(failed);
    assert_int_equal(faults.n, 0);
    assert_int_equal(faults.total, 1);
    base_faults_clear(&faults);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fault_is_copied),
        cmocka_unit_test(what_was_found_is_safe_to_show),
        cmocka_unit_test(what_was_found_is_cut_by_characters),
        cmocka_unit_test(faults_beyond_the_last_are_counted),
        cmocka_unit_test(a_fault_that_finds_no_memory_is_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
