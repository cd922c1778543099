/* SPDX-License-Identifier: Apache-2.0 */
/* The reader of reference tables is itself a check: here it is shown each fault that it is there to catch. */
#include "support/reference.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const char table[] = "teeth,radius_mm,tolerance_mm,mark,source,note\n"
                            "10,20.5,0.1,printed,\"A book, 2nd ed., p. 7\",\n"
                            "11,22.5,,derived,\"computed \"\"twice\"\"\",a note\n";

static struct reference *parse(const char *text) {
    char fault[REFERENCE_FAULT_MAX];
    return reference_parse("test", text, strlen(text), fault);
}

static void test_a_table_that_is_used_up_has_no_fault(void **state) {
    (void)state;
    char fault[REFERENCE_FAULT_MAX];
    struct reference *r = parse(table);
    assert_non_null(r);
    assert_true(reference_next(r));
    assert_int_equal(reference_count(r, "teeth"), 10);
    assert_string_equal(reference_word(r, "source"), "A book, 2nd ed., p. 7");
    reference_check(r, "radius_mm", 20.45, reference_number(r, "tolerance_mm"));
    assert_true(reference_next(r));
    assert_int_equal(reference_count(r, "teeth"), 11);
    assert_false(reference_has(r, "tolerance_mm"));
    assert_string_equal(reference_word(r, "source"), "computed \"twice\"");
    reference_check(r, "radius_mm", 22.5, 0.0);
    assert_false(reference_next(r));
    assert_false(reference_fault(r, 2, fault));
    reference_free(r);
}

static void test_a_value_out_of_tolerance_does_not_agree(void **state) {
    (void)state;
    struct reference *r = parse(table);
    assert_true(reference_next(r));
    assert_true(reference_agrees(r, "radius_mm", 20.6, 0.1));
    assert_false(reference_agrees(r, "radius_mm", 20.61, 0.1));
    assert_false(reference_agrees(r, "radius_mm", 20.39, 0.1));
    assert_false(reference_agrees(r, "radius_mm", (double)NAN, 0.1));
    assert_false(reference_agrees(r, "diameter_mm", 20.5, 0.1));
    assert_false(reference_agrees(r, "source", 20.5, 0.1));
    reference_free(r);
}

static void test_rows_and_cells_that_are_left_over_are_told(void **state) {
    (void)state;
    char fault[REFERENCE_FAULT_MAX];
    struct reference *r = parse(table);
    while (reference_next(r)) {
        reference_check(r, "radius_mm", reference_number(r, "radius_mm"), 0.0);
    }
    assert_true(reference_fault(r, 2, fault));
    assert_non_null(strstr(fault, "row 1: teeth was not used"));
    assert_true(reference_fault(r, 3, fault));
    assert_non_null(strstr(fault, "2 rows"));
    reference_free(r);

    r = parse(table);
    assert_true(reference_next(r));
    reference_claim(r, reference_count(r, "teeth") == 10 && reference_number(r, "radius_mm") > 20.0, "ten teeth");
    assert_true(reference_number(r, "tolerance_mm") > 0.0);
    assert_true(reference_next(r));
    assert_int_equal(reference_count(r, "teeth"), 11);
    assert_true(reference_number(r, "radius_mm") > 22.0);
    assert_true(reference_fault(r, 2, fault));
    assert_non_null(strstr(fault, "row 2: nothing was checked"));
    reference_free(r);
}

static void test_what_is_no_table_is_refused(void **state) {
    (void)state;
    static const char *const broken[] = {
        "",
        "teeth,source\n10,a book\n",
        "teeth,mark\n10,printed\n",
        "teeth,mark,source\n10,seen,a book\n",
        "teeth,mark,source\n10,printed,\n",
        "teeth,mark,source\n10,printed\n",
        "teeth,mark,source\n10,printed,a book,more\n",
        "teeth,mark,source\n10,printed,\"a book\n",
        "teeth,mark,source\n10,printed,\"a\" book\n",
    };
    for (size_t i = 0; i < sizeof broken / sizeof broken[0]; i++) {
        assert_null(parse(broken[i]));
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_table_that_is_used_up_has_no_fault),
        cmocka_unit_test(test_a_value_out_of_tolerance_does_not_agree),
        cmocka_unit_test(test_rows_and_cells_that_are_left_over_are_told),
        cmocka_unit_test(test_what_is_no_table_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
