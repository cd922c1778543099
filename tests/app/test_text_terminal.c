/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "app/terminal.h"
#include "support/failing.h"

#include <string.h>

static const struct app_style utf8 = {.colour = false}, plain = {.plain = true}, coloured = {.colour = true};

struct sheet {
    struct base_buffer out;
    struct app_page page;
};

static void open_sheet(struct sheet *sheet, const struct app_style *style) {
    base_buffer_init(&sheet->out, 0);
    sheet->page = app_page_on(&sheet->out, style);
}

static void assert_sheet(struct sheet *sheet, const char *wanted) {
    assert_int_equal(sheet->out.status, BASE_OK);
    assert_string_equal(sheet->out.at ? sheet->out.at : "", wanted);
    base_buffer_clear(&sheet->out);
}

/* Columns by the project's pattern: body at 4, tiles at 4 and 7, slot at 11, part from 29 to 69, price ends at 79. */
static void a_part_stands_in_its_columns(void **state) {
    (void)state;
    struct sheet s;
    open_sheet(&s, &utf8);
    app_lay_to(&s.page, APP_BODY);
    app_lay_tile(&s.page, EXPLAIN_NEW);
    app_lay_tile(&s.page, EXPLAIN_ADAPTED);
    app_lay_at(&s.page, APP_SLOT, "rings");
    app_lay_wrapped(&s.page, APP_PART, APP_PART_LAST, "32 T, wide and narrow teeth, Pellmar 104-32; on spacers",
                    "17.00");
    assert_sheet(&s, "   [|][<] rings             32 T, wide and narrow teeth, Pellmar          17.00\n"
                     "                            104-32; on spacers\n");
}

static void a_number_keeps_its_unit_and_a_box_its_blanks(void **state) {
    (void)state;
    struct sheet s;
    open_sheet(&s, &utf8);
    app_lay_wrapped(&s.page, 1, 24, "the stay clears it by 6.5 mm, and the small end [    mm] is open at GBP 197.40",
                    NULL);
    assert_sheet(&s, "the stay clears it by\n"
                     "6.5 mm, and the small\n"
                     "end [    mm] is open at\n"
                     "GBP 197.40\n");
}

/* Widths are of characters: twelve here, in sixteen bytes. */
static void widths_are_counted_in_characters(void **state) {
    (void)state;
    struct sheet s;
    open_sheet(&s, &utf8);
    assert_int_equal(app_width(&s.page, "48\xe2\x80\x93"
                                        "50 mm \xc2\xb1 1"),
                     12);
    app_lay_wrapped(&s.page, 1, 12,
                    "48\xe2\x80\x93"
                    "50 mm \xc2\xb1 1 x",
                    NULL);
    assert_sheet(&s, "48\xe2\x80\x93"
                     "50 mm \xc2\xb1 1\nx\n");
}

static void what_is_longer_than_a_line_is_cut(void **state) {
    (void)state;
    struct sheet s;
    open_sheet(&s, &utf8);
    app_lay_wrapped(&s.page, 1, 5, "abcdefghijkl mn", NULL);
    assert_sheet(&s, "abcde\nfghij\nkl mn\n");
}

/* The signs and what stands for them are the project's own. Wrapping comes after: ' deg' is four characters. */
static void signs_are_replaced_before_the_layout(void **state) {
    (void)state;
    struct sheet s;
    open_sheet(&s, &plain);
    app_lay_wrapped(&s.page, 1, 20,
                    "68 \xc3\x97 113, 2.6\xc2\xb0 48\xe2\x80\x93"
                    "50, \xe2\x88\x92"
                    "0.7 N\xc2\xb7m",
                    NULL);
    assert_sheet(&s, "68 x 113, 2.6 deg\n48-50, -0.7 N.m\n");
    open_sheet(&s, &plain);
    app_lay(&s.page, "M\xc3\xbcller");
    assert_sheet(&s, "M?ller");
}

/* Colour is of tiles, never of words; new is blue (34), stays is ink. A heading is bold. */
static void only_tiles_and_headings_are_coloured(void **state) {
    (void)state;
    struct sheet s;
    open_sheet(&s, &coloured);
    app_lay_tile(&s.page, EXPLAIN_NEW);
    app_lay(&s.page, " new ");
    app_lay_tile(&s.page, EXPLAIN_STAYS);
    app_lay_right(&s.page, 20, "stays");
    app_lay_end(&s.page);
    assert_sheet(&s, "\x1b[1;34m[|]\x1b[0m new [#]    stays\n");
    open_sheet(&s, &coloured);
    app_lay_heading(&s.page, "Does it fit?", NULL);
    assert_sheet(&s, "\x1b[1mDoes it fit?\x1b[0m\n\n");
}

static void headings_are_set_off(void **state) {
    (void)state;
    struct sheet s;
    open_sheet(&s, &utf8);
    app_lay_heading(&s.page, "A  Least money", "GBP 197.40");
    app_lay_paragraph(&s.page, "Text.");
    app_lay_heading(&s.page, "B", NULL);
    app_lay_fact(&s.page, APP_FACT, "chain line", "47.5 mm");
    app_lay_fact(&s.page, APP_FACT, "a label too long", "x");
    assert_sheet(&s, "A  Least money                                                       GBP 197.40\n\n"
                     "   Text.\n\n\n"
                     "B\n\n"
                     "   chain line   47.5 mm\n"
                     "   a label too long\n"
                     "                x\n");
}

/* No line ends with a blank, none is wider than 79: for every width of a heading and of what stands beside it. */
static void nothing_stands_beyond_the_last_column(void **state) {
    (void)state;
    char text[130] = "";
    for (size_t n = 1; n < sizeof text - 1; n++) {
        struct sheet s;
        text[n - 1] = n % 9 == 0 ? ' ' : 'a';
        text[n] = '\0';
        open_sheet(&s, &utf8);
        app_lay_heading(&s.page, text, "from two rings to one");
        app_lay_fact(&s.page, APP_FACT, "label", text);
        size_t width = 0;
        for (size_t i = 0; i < s.out.n; i++) {
            width = s.out.at[i] == '\n' ? 0 : width + 1;
            assert_in_range(width, 0, APP_LAST_COLUMN);
        }
        base_buffer_clear(&s.out);
    }
}

static void memory_that_runs_out_is_told(void **state) {
    (void)state;
    for (long n = 0;; n++) {
        struct sheet s;
        open_sheet(&s, &plain);
        support_fail_after(n);
        app_lay_heading(&s.page, "A  Least money", "GBP 197.40");
        app_lay_wrapped(&s.page, 4, 40, "The ring clears the stay by 6.5 mm, and 3.0 mm are needed of it", "17.00");
        bool failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(s.out.status, failed ? BASE_NO_MEMORY : BASE_OK);
        base_buffer_clear(&s.out);
        if (!failed) {
            break;
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_stands_in_its_columns),
        cmocka_unit_test(a_number_keeps_its_unit_and_a_box_its_blanks),
        cmocka_unit_test(widths_are_counted_in_characters),
        cmocka_unit_test(what_is_longer_than_a_line_is_cut),
        cmocka_unit_test(signs_are_replaced_before_the_layout),
        cmocka_unit_test(only_tiles_and_headings_are_coloured),
        cmocka_unit_test(headings_are_set_off),
        cmocka_unit_test(nothing_stands_beyond_the_last_column),
        cmocka_unit_test(memory_that_runs_out_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
