/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/arena.h"

#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

static void blocks_are_zeroed_aligned_and_apart(void **state) {
    (void)state;
    enum { N = 2000 };
    struct base_arena arena;
    base_arena_init(&arena, 0);
    unsigned char *blocks[N];
    for (size_t i = 0; i < N; i++) {
        size_t size = i * 37 % 211;
        blocks[i] = base_arena_alloc(&arena, size, 1);
        assert_non_null(blocks[i]);
        assert_int_equal((uintptr_t)blocks[i] % alignof(max_align_t), 0);
        for (size_t k = 0; k < size; k++) {
            assert_int_equal(blocks[i][k], 0);
        }
        memset(blocks[i], (int)(i % 251) + 1, size);
    }
    for (size_t i = 0; i < N; i++) {
        for (size_t k = 0; k < i * 37 % 211; k++) {
            assert_int_equal(blocks[i][k], i % 251 + 1);
        }
    }
    base_arena_clear(&arena);
    assert_int_equal(arena.used, 0);
}

static void a_large_block_leaves_the_small_ones_in_place(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    char *before = base_arena_copy(&arena, "before", 6);
    unsigned char *large = base_arena_alloc(&arena, 3, 1000 * 1000);
    char *after = base_arena_copy(&arena, "after", 5);
    assert_non_null(before);
    assert_non_null(large);
    assert_non_null(after);
    memset(large, 255, 3 * 1000 * 1000);
    assert_string_equal(before, "before");
    assert_string_equal(after, "after");
    base_arena_clear(&arena);
}

static void nothing_is_a_block_too(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    assert_non_null(base_arena_alloc(&arena, 0, 8));
    assert_non_null(base_arena_alloc(&arena, 8, 0));
    char *empty = base_arena_copy(&arena, NULL, 0);
    assert_non_null(empty);
    assert_string_equal(empty, "");
    base_arena_clear(&arena);
}

static void a_product_that_overflows_is_refused(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    assert_null(base_arena_alloc(&arena, SIZE_MAX, 2));
    assert_null(base_arena_alloc(&arena, SIZE_MAX, 1));
    assert_null(base_arena_alloc(&arena, SIZE_MAX / 8 + 1, 8));
    assert_int_equal(arena.used, 0);
    base_arena_clear(&arena);
}

static void the_limit_holds_and_clearing_opens_it_again(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 1024);
    for (int round = 0; round < 3; round++) {
        size_t handed_out = 0;
        while (base_arena_alloc(&arena, 64, 1)) {
            handed_out += 64;
        }
        assert_int_equal(handed_out, 1024);
        assert_null(base_arena_alloc(&arena, 1, 1));
        base_arena_clear(&arena);
    }
}

static void the_nth_block_fails(void **state) {
    (void)state;
    for (int64_t n = 0; n < 5; n++) {
        struct base_arena arena;
        base_arena_init(&arena, 0);
        arena.fail_after = n;
        for (int64_t i = 0; i < n; i++) {
            assert_non_null(base_arena_alloc(&arena, 1, 1));
        }
        assert_null(base_arena_alloc(&arena, 1, 1));
        assert_null(base_arena_copy(&arena, "x", 1));
        base_arena_clear(&arena);
    }
}

static void growing_keeps_the_items_and_doubles(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    int *items = NULL;
    size_t room = 0;
    size_t moves = 0;
    for (size_t n = 0; n < 10000; n++) {
        int *home = base_arena_grow(&arena, items, n, &room, n + 1, sizeof *items);
        assert_non_null(home);
        moves += home != items;
        items = home;
        items[n] = (int)n;
        assert_true(room > n);
    }
    for (int n = 0; n < 10000; n++) {
        assert_int_equal(items[n], n);
    }
    /* From 8 doubling to 16384: 12 homes. */
    assert_int_equal(moves, 12);
    base_arena_clear(&arena);
}

static void growing_that_fails_changes_nothing(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    size_t room = 0;
    int *items = base_arena_grow(&arena, NULL, 0, &room, 8, sizeof *items);
    assert_non_null(items);
    size_t had = room;
    assert_null(base_arena_grow(&arena, items, 8, &room, SIZE_MAX, sizeof *items));
    assert_null(base_arena_grow(&arena, items, 8, &room, SIZE_MAX / 2, sizeof *items));
    arena.fail_after = 0;
    assert_null(base_arena_grow(&arena, items, 8, &room, had + 1, sizeof *items));
    assert_int_equal(room, had);
    assert_ptr_equal(base_arena_grow(&arena, items, 8, &room, had, sizeof *items), items);
    base_arena_clear(&arena);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(blocks_are_zeroed_aligned_and_apart),
        cmocka_unit_test(a_large_block_leaves_the_small_ones_in_place),
        cmocka_unit_test(nothing_is_a_block_too),
        cmocka_unit_test(a_product_that_overflows_is_refused),
        cmocka_unit_test(the_limit_holds_and_clearing_opens_it_again),
        cmocka_unit_test(the_nth_block_fails),
        cmocka_unit_test(growing_keeps_the_items_and_doubles),
        cmocka_unit_test(growing_that_fails_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
