/* SPDX-License-Identifier: Apache-2.0 */
#include "draw/extents.h"

#include "support/near.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static double width(const char *text) { return draw_text_width(&draw_regular, base_slice_of(text), 2048.0); }

/* The horizontal metrics of DejaVu Sans 2.37, units of 2048 an em. */
static void letters_are_as_wide_as_the_font_says(void **state) {
    (void)state;
    assert_true(width("0") == 1303.0 && width("9") == 1303.0); /* figures are all one width */
    assert_true(width("i") == 569.0);
    assert_true(width("0i") == 1872.0);
    assert_true(width("") == 0.0);
}

static void what_the_font_lacks_takes_an_em(void **state) {
    (void)state;
    assert_true(width("\xe4\xb8\xad") == 2048.0);                       /* U+4E2D */
    assert_true(width("\xff") == 2048.0);                               /* no UTF-8 at all */
    assert_true(width("\xf0\x9f\x9a\xb2\xe4\xb8\xad") == 2.0 * 2048.0); /* U+1F6B2, U+4E2D */
}

static struct base_slice fitting(const char *text, double room) {
    return draw_text_fitting(&draw_regular, base_slice_of(text), 2048.0, room);
}

static void a_line_breaks_between_words(void **state) {
    (void)state;
    assert_true(base_slice_is(fitting("ab cd", width("ab c")), "ab"));
    assert_true(base_slice_is(fitting("ab cd", width("ab cd")), "ab cd"));
    assert_true(base_slice_is(fitting("abcd", width("ab")), "ab"));
    assert_true(base_slice_is(fitting("\xe4\xb8\xad\xe4\xb8\xad", 1.0), "\xe4\xb8\xad")); /* never nothing */
    assert_true(base_slice_is(fitting("", 10.0), ""));
}

static void a_number_keeps_its_unit(void **state) {
    (void)state;
    assert_true(base_slice_is(fitting("at 200 W now", width("at 200 ")), "at"));
    assert_true(base_slice_is(fitting("at 200 W now", width("at 200 W n")), "at 200 W"));
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(letters_are_as_wide_as_the_font_says),
        cmocka_unit_test(what_the_font_lacks_takes_an_em),
        cmocka_unit_test(a_line_breaks_between_words),
        cmocka_unit_test(a_number_keeps_its_unit),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
