/* SPDX-License-Identifier: Apache-2.0 */
/* The C library's gmtime_r is the measure here: it has the Gregorian calendar before it was in use, too (POSIX.1-2017, 4.16). */
#define _POSIX_C_SOURCE 200809L

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/date.h"

#include <stdio.h>
#include <time.h>

#define FIRST (-719162)

static void check_day(int32_t day) {
    char expected[64];
    struct base_buffer text;
    struct tm parts;
    int32_t again = day + 1;
    time_t seconds = (time_t)day * 86400;
    base_buffer_init(&text, 0);
    base_date_write(&text, day);
    assert_non_null(gmtime_r(&seconds, &parts));
    snprintf(expected, sizeof expected, "%04d-%02d-%02d", parts.tm_year + 1900, parts.tm_mon + 1, parts.tm_mday);
    assert_string_equal(text.at, expected);
    assert_true(base_date_read(&again, base_slice_of(expected)));
    assert_int_equal(again, day);
    base_buffer_clear(&text);
}

static void days_are_those_of_the_c_library_both_ways(void **state) {
    (void)state;
    for (int32_t day = 0; day < 146097; day++) { /* 400 years, after which the calendar begins anew */
        check_day(day);
    }
    for (int32_t day = FIRST; day < BASE_DATE_LAST; day += 997) {
        check_day(day);
    }
    check_day(BASE_DATE_LAST);
}

static void what_is_no_day_is_not_read(void **state) {
    (void)state;
    static const char *const none[] = {"",           "2026-02-29", "2026-13-01", "2026-00-10",  "2026-04-31",
                                       "2026-4-01",  "26-04-01",   "2026/04/01", "2026-04-01 ", "2026-04-00",
                                       "0000-01-01", "2100-02-29", "2026-04",    "x026-04-01",  "2026-04-01T10:00"};
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++) {
        int32_t day = 77;
        assert_false(base_date_read(&day, base_slice_of(none[i])));
        assert_int_equal(day, 77);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_are_those_of_the_c_library_both_ways),
        cmocka_unit_test(what_is_no_day_is_not_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
