/* SPDX-License-Identifier: Apache-2.0 */
/* The list of blocks of a paper: which signs are drawn, what becomes a cell, what a table is. */
#include "paper/html.h"
#include "paper/paper.h"
#include "support/failing.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <string.h>

static void check_mark(const char *text, size_t from, enum paper_sign sign, size_t at, size_t n) {
    struct paper_mark mark = paper_next_mark(text, from);
    assert_int_equal(mark.sign, sign);
    assert_int_equal(mark.at, at);
    assert_int_equal(mark.n, n);
}

static void boxes_and_rules_are_found(void **state) {
    (void)state;
    check_mark("[ ] A", 0, PAPER_TICK, 0, 3);
    check_mark("read [    mm] here", 0, PAPER_BOX, 5, 8);
    check_mark("[ ] back, [ ] scrap", 3, PAPER_TICK, 10, 3);
    check_mark("name: ______________________", 0, PAPER_RULE, 6, 22);
}

static void what_is_no_box_stays_text(void **state) {
    (void)state;
    check_mark("[|] new", 0, PAPER_NO_SIGN, 7, 0);
    check_mark("[ not closed", 0, PAPER_NO_SIGN, 12, 0);
    check_mark("______________________ and on", 0, PAPER_NO_SIGN, 29, 0);
    check_mark("a_b __", 0, PAPER_NO_SIGN, 6, 0);
    check_mark("", 0, PAPER_NO_SIGN, 0, 0);
}

static void cells_make_rows(void **state) {
    struct base_arena arena;
    struct paper paper;
    (void)state;
    base_arena_init(&arena, 0);
    paper_init(&paper, &arena);
    paper_add_cell(&paper, 4, 79, "  label ");
    paper_add_cell(&paper, 17, 79, "   ");
    paper_add_cell(&paper, 0, 66, "1.00");
    assert_false(paper_is_table_row(&paper.blocks[0]));
    paper_add_cell(&paper, 0, 79, "2.00");
    paper_end_row(&paper);
    paper_add_tile(&paper, 4, EXPLAIN_NEW);
    paper_add_tile(&paper, 8, EXPLAIN_FITS);
    assert_int_equal(paper.n, 2);
    assert_int_equal(paper.blocks[0].n, 3);
    assert_string_equal(paper.blocks[0].cells[0].text, "label");
    assert_true(paper_is_table_row(&paper.blocks[0]));
    assert_int_equal(paper.blocks[1].n, 1);
    assert_true(paper.blocks[1].cells[0].tile.n > 0);
    assert_int_equal(paper.status, BASE_OK);
    base_arena_clear(&arena);
}

static void markup_in_words_stays_words(void **state) {
    struct base_arena arena;
    struct paper paper;
    struct base_buffer out;
    (void)state;
    base_arena_init(&arena, 0);
    base_buffer_init(&out, 0);
    paper_init(&paper, &arena);
    paper_add(&paper, PAPER_TITLE, "a <b> & \"c\"", NULL);
    paper_html(&out, &paper);
    assert_non_null(strstr(out.at, "<h1><span>a &lt;b&gt; &amp; &quot;c&quot;</span></h1>"));
    base_buffer_clear(&out);
    base_arena_clear(&arena);
}

/* Each allocation fails in turn; the paper says so, and is never broken. */
static void memory_runs_out(void **state) {
    (void)state;
    for (int i = 0; i < 200; i++) {
        struct base_arena arena;
        struct paper paper;
        base_arena_init(&arena, 0);
        support_fail_after(i);
        paper_init(&paper, &arena);
        paper_add(&paper, PAPER_HEADING, "heading", "right");
        paper_add_cell(&paper, 4, 79, "cell");
        paper_add_tile(&paper, 8, EXPLAIN_CLASH);
        paper_add_figure(&paper, PAPER_FIGURE, base_slice_of("<svg/>"));
        support_fail_after(-1);
        bool done = paper.status == BASE_OK;
        assert_true(done || paper.status == BASE_NO_MEMORY);
        base_arena_clear(&arena);
        if (done) {
            return;
        }
    }
    fail();
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(boxes_and_rules_are_found), cmocka_unit_test(what_is_no_box_stays_text),
        cmocka_unit_test(cells_make_rows),           cmocka_unit_test(markup_in_words_stays_words),
        cmocka_unit_test(memory_runs_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
