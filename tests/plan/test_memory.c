/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Memory that runs out at any point of a plan, and limits of every size: never a crash, a leak, or an answer that is not
 * the plan's.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/brute.h"
#include "plan/world.h"
#include "support/failing.h"

#include <string.h>

#define MOST_BUILDS 3000

/* Worlds with ways, with cases and hangs, with any number of rings, and without a way. */
static const uint64_t seeds[] = {70001, 70002, 70003, 70004, 70005, 70006};
#define SEEDS (sizeof seeds / sizeof seeds[0])

static bool same(const struct plan *a, const struct plan *b) {
    if (a->n_ways != b->n_ways || a->n_picks != b->n_picks || a->shelf->n_left_out != b->shelf->n_left_out) {
        return false;
    }
    for (size_t i = 0; i < a->n_ways; i++) {
        struct brute_way x, y;
        brute_of_plan(&x, a, &a->ways[i]);
        brute_of_plan(&y, b, &b->ways[i]);
        if (brute_difference(&x, &y) || a->ways[i].purposes != b->ways[i].purposes) {
            return false;
        }
    }
    return true;
}

/* All of the first allocations, then ever fewer. */
static long after(long n) { return n < 200 ? n + 1 : n + 1 + n / 40; }

/* Plans again and again, each time with another allocation that fails; how many plans were tried. */
static unsigned fail_each(const struct plan_question *question, const struct plan *whole, void (*break_off)(long)) {
    unsigned tried = 0;
    for (long n = 0;; n = after(n), tried++) {
        struct plan *plan = NULL;
        break_off(n);
        enum base_status status = plan_new(&plan, question);
        bool failed = support_failed();
        support_fail_after(-1);
        if (status == BASE_OK) {
            assert_true(same(plan, whole));
            plan_free(plan);
        } else {
            assert_true(failed);
            assert_int_equal(status, BASE_NO_MEMORY);
            assert_null(plan);
        }
        if (!failed) {
            assert_int_equal(status, BASE_OK);
            return tried;
        }
    }
}

static void on_each_world(void (*check)(const struct plan_question *, const struct plan *)) {
    for (size_t i = 0; i < SEEDS; i++) {
        struct world world;
        struct plan *whole = NULL;
        world_make(&world, seeds[i], MOST_BUILDS);
        struct plan_question question = world_question(&world);
        assert_int_equal(plan_new(&whole, &question), BASE_OK);
        check(&question, whole);
        plan_free(whole);
        world_clear(&world);
    }
}

static void check_spent(const struct plan_question *question, const struct plan *whole) {
    assert_true(fail_each(question, whole, support_fail_after) > 100);
}

static void memory_that_is_spent_is_told(void **state) {
    (void)state;
    on_each_world(check_spent);
}

static void check_once(const struct plan_question *question, const struct plan *whole) {
    assert_true(fail_each(question, whole, support_fail_once) > 100);
}

static void one_failed_allocation_is_never_overlooked(void **state) {
    (void)state;
    on_each_world(check_once);
}

/* --- limits -------------------------------------------------------------------------------------------------------- */

/* Is the plan nothing, or all ways of the whole one that are certain? */
static bool certain_part(const struct plan *plan, const struct plan *whole) {
    size_t n = 0;
    for (size_t i = 0; i < whole->n_ways && plan->n_ways > 0; i++) {
        struct brute_way x, y;
        if (!whole->ways[i].certain) {
            continue;
        }
        if (n == plan->n_ways) {
            return false;
        }
        brute_of_plan(&x, whole, &whole->ways[i]);
        brute_of_plan(&y, plan, &plan->ways[n++]);
        if (brute_difference(&x, &y)) {
            return false;
        }
    }
    return n == plan->n_ways;
}

/* A plan within so many bytes: whole, or that part of it which is certain, or nothing. False when it was not whole. */
static bool within(const struct plan_question *question, const struct plan *whole, size_t bytes) {
    struct plan_question small = *question;
    struct plan *plan = NULL;
    small.limit_bytes = bytes;
    assert_int_equal(plan_new(&plan, &small), BASE_OK);
    bool complete = plan->complete;
    assert_true(complete ? same(plan, whole) : certain_part(plan, whole));
    plan_free(plan);
    return complete;
}

static void check_limits(const struct plan_question *question, const struct plan *whole) {
    bool fits = false;
    assert_false(within(question, whole, 1024));
    for (size_t bytes = 2048; bytes <= PLAN_LIMIT_BYTES; bytes *= 2) {
        bool enough = within(question, whole, bytes);
        assert_true(enough || !fits); /* what was enough is enough when there is more */
        fits = enough;
    }
    assert_true(fits);
}

static void a_limit_ends_a_plan_or_leaves_it_whole(void **state) {
    (void)state;
    on_each_world(check_limits);
}

/* Larger shops. In which of them a part of the ways is found changes with every rule; that there are such plans is tested on a
 * demo bike (tests/cli/unknown.py). */
static void what_memory_allows_is_a_part_of_the_whole(void **state) {
    (void)state;
    static const uint64_t large[] = {40127, 41304, 42681, 42708};
    unsigned limited = 0;
    for (size_t i = 0; i < sizeof large / sizeof large[0]; i++) {
        struct world world;
        struct plan *whole = NULL;
        world_make(&world, large[i], 300000);
        struct plan_question question = world_question(&world);
        assert_int_equal(plan_new(&whole, &question), BASE_OK);
        for (size_t bytes = (size_t)1 << 16; !within(&question, whole, bytes); bytes += bytes / 8) {
            limited++;
            assert_true(bytes < (size_t)64 << 20);
        }
        plan_free(whole);
        world_clear(&world);
    }
    assert_true(limited > 0);
}

/* --- other wishes -------------------------------------------------------------------------------------------------- */

static unsigned relieved;

static void check_reliefs(const struct plan_question *question, const struct plan *whole) {
    struct plan_relief reliefs[5], again[5];
    size_t n = 0, n_again = 0;
    assert_int_equal(plan_reliefs(reliefs, &n, 5, whole), BASE_OK);
    relieved += n > 0;
    for (long i = 0;; i = after(after(after(i)))) {
        memset(again, 0, sizeof again);
        support_fail_after(i);
        enum base_status status = plan_reliefs(again, &n_again, 5, whole);
        bool failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        if (!failed) {
            assert_int_equal(n_again, n);
            break;
        }
    }
    (void)question;
}

static void memory_that_is_spent_over_other_wishes(void **state) {
    (void)state;
    on_each_world(check_reliefs);
    assert_true(relieved > 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(memory_that_is_spent_is_told),
        cmocka_unit_test(one_failed_allocation_is_never_overlooked),
        cmocka_unit_test(a_limit_ends_a_plan_or_leaves_it_whole),
        cmocka_unit_test(what_memory_allows_is_a_part_of_the_whole),
        cmocka_unit_test(memory_that_is_spent_over_other_wishes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
