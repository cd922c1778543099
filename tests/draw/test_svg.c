/* SPDX-License-Identifier: Apache-2.0 */
#include "draw/svg.h"

#include "support/failing.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const struct draw_head head = {.name = "x",
                                      .title = "T",
                                      .question = "Is 1 < 2 & 2 > 1?",
                                      .answer = "yes\x01\xef\xbf\xbe.",
                                      .subject = "s",
                                      .foot = "foot"};

static void end(struct base_buffer *out, struct draw_sheet *sheet) {
    base_buffer_init(out, 0);
    draw_sheet_end(out, sheet, &head, 50.0);
}

static void text_is_never_put_over_text_or_past_the_edge(void **state) {
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 100.0);
    assert_true(draw_text(&sheet, 50.0, 20.0, draw_centred, "abc"));
    assert_false(draw_text(&sheet, 55.0, 25.0, draw_centred, "d"));
    assert_true(draw_text(&sheet, 50.0, 40.0, draw_centred, "d"));
    assert_false(draw_text(&sheet, 99.0, 60.0, draw_left, "abc"));
    assert_false(draw_text(&sheet, 1.0, 60.0, draw_right, "abc"));
    assert_false(draw_text(&sheet, 50.0, 5.0, draw_centred, "above"));
    assert_false(draw_text(&sheet, 50.0, 60.0, draw_centred, ""));
    end(&out, &sheet);
    assert_non_null(strstr(out.at, ">abc</text>"));
    assert_null(strstr(out.at, "above"));
    base_buffer_clear(&out);
}

static void the_first_place_that_is_free_is_taken(void **state) {
    const struct draw_point places[] = {{50.0, 20.0}, {50.0, 38.0}, {50.0, 56.0}};
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 100.0);
    assert_true(draw_text_near(&sheet, places, 3, draw_centred, "one"));
    assert_true(draw_text_near(&sheet, places, 3, draw_centred, "two"));
    assert_true(draw_text_near(&sheet, places, 3, draw_centred, "three"));
    assert_false(draw_text_near(&sheet, places, 3, draw_centred, "four"));
    end(&out, &sheet);
    assert_non_null(strstr(out.at, "y=\"38\""));
    base_buffer_clear(&out);
}

/* A place over a line is taken only where there is no other, and then paper lies under the text. */
static void text_keeps_off_lines_where_it_can(void **state) {
    static const struct draw_point places[] = {{50.0, 40.0}, {50.0, 80.0}, {50.0, 120.0}};
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 200.0);
    draw_keep_off(&sheet, 0.0, 10.0, 200.0, 50.0); /* across the first place */
    draw_keep_off(&sheet, 60.0, 110.0, 60.0, 200.0);
    assert_int_equal(draw_find_place(&sheet, places, 3, draw_left, "words"), 1);
    assert_true(draw_text_near(&sheet, places, 3, draw_left, "words"));
    assert_false(sheet.body.at && strstr(sheet.body.at, "<rect"));
    assert_int_equal(draw_find_place(&sheet, places, 3, draw_left, "words"), 0);
    assert_true(draw_value_near(&sheet, places, 3, draw_left, 1.0, 1, "mm", BASE_MEASURED));
    assert_non_null(strstr(sheet.body.at, "<rect"));
    assert_true(draw_text_near(&sheet, &places[2], 1, draw_left, "words"));
    assert_int_equal(draw_find_place(&sheet, places, 3, draw_left, "words"), 3);
    end(&out, &sheet);
    base_buffer_clear(&out);
}

/* A drawing keeps one blank of several, and an open box would shrink. */
static void blanks_stay_as_many_as_they_are(void **state) {
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 200.0);
    assert_true(draw_value(&sheet, 50.0, 80.0, draw_left, 0.0, 0, "mm", BASE_OPEN));
    end(&out, &sheet);
    assert_non_null(strstr(out.at, ">[ \xc2\xa0\xc2\xa0mm]<"));
    base_buffer_clear(&out);
}

static void long_text_is_cut(void **state) {
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 100.0);
    assert_true(draw_text_cut(&sheet, 0.0, 20.0, draw_left, "one two three four five six", 100.0));
    end(&out, &sheet);
    assert_non_null(strstr(out.at, ">one two\xe2\x80\xa6</text>"));
    base_buffer_clear(&out);
}

static void markup_in_words_stays_words(void **state) {
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 100.0);
    end(&out, &sheet);
    assert_non_null(strstr(out.at, "Is 1 &lt; 2 &amp; 2 &gt; 1?"));
    assert_non_null(strstr(out.at, ">yes \xc2\xa0.</desc>")); /* no XML may hold these two */
    base_buffer_clear(&out);
}

/* A square of 10 by 10: the lines x + y = 5 and 15 when they stand 10 / sqrt 2 apart. */
static void hatches_end_at_their_box(void **state) {
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 100.0);
    draw_hatch(&sheet, (struct draw_box){0.0, 0.0, 10.0, 10.0}, 7.0710678118654752, false);
    draw_hatch(&sheet, (struct draw_box){5.0, 0.0, 5.0, 10.0}, 7.0, false); /* nothing to hatch */
    end(&out, &sheet);
    assert_non_null(strstr(out.at, "d=\"M0 5L5 0M5 10L10 5\""));
    base_buffer_clear(&out);
}

static void numbers_have_two_decimals_at_most(void **state) {
    struct draw_sheet sheet;
    struct base_buffer out;
    (void)state;
    draw_sheet_begin(&sheet, DRAW_LIGHT, 100.0);
    draw_line(&sheet, DRAW_THIN, 1.0, 2.5, -0.001, 1.0 / 3.0);
    end(&out, &sheet);
    assert_non_null(strstr(out.at, "d=\"M1 2.5L0 0.33\""));
    base_buffer_clear(&out);
}

/* However memory runs out, the answer says so and nothing is lost or read behind its end. */
static void memory_runs_out(void **state) {
    (void)state;
    for (int n = 0; n < 40; n++) {
        struct draw_sheet sheet;
        struct base_buffer out;
        support_fail_after(n);
        draw_sheet_begin(&sheet, DRAW_LIGHT, 200.0);
        (void)draw_head_of(&sheet, &head);
        draw_hatch(&sheet, (struct draw_box){0.0, 0.0, 100.0, 100.0}, 2.0, true);
        draw_tile(&sheet, EXPLAIN_CLASH, 1.0, 2.0, 20.0);
        (void)draw_value(&sheet, 60.0, 100.0, draw_left, 4.25, 2, "mm", BASE_ASSUMED);
        end(&out, &sheet);
        support_fail_after(-1);
        if (out.status == BASE_OK) {
            assert_non_null(strstr(out.at, "</svg>"));
            base_buffer_clear(&out);
            return;
        }
        assert_int_equal(out.status, BASE_NO_MEMORY);
        base_buffer_clear(&out);
    }
    fail();
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_is_never_put_over_text_or_past_the_edge),
        cmocka_unit_test(the_first_place_that_is_free_is_taken),
        cmocka_unit_test(text_keeps_off_lines_where_it_can),
        cmocka_unit_test(blanks_stay_as_many_as_they_are),
        cmocka_unit_test(long_text_is_cut),
        cmocka_unit_test(markup_in_words_stays_words),
        cmocka_unit_test(hatches_end_at_their_box),
        cmocka_unit_test(numbers_have_two_decimals_at_most),
        cmocka_unit_test(memory_runs_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
