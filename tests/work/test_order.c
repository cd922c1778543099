/* SPDX-License-Identifier: Apache-2.0 */
/* The order of the work: allowed by the table, and as good as any that is. */
#include "work/order.h"

#include "support/failing.h"
#include "work/made_jobs.h"

#include <stdlib.h>

/* As order.h has it: turns first, then moves, then tools. */
static int compare_costs(struct work_cost a, struct work_cost b) {
    if (a.turns != b.turns) {
        return a.turns < b.turns ? -1 : 1;
    }
    if (a.moves != b.moves) {
        return a.moves < b.moves ? -1 : 1;
    }
    return a.tools == b.tools ? 0 : a.tools < b.tools ? -1 : 1;
}

static void made_list(struct work_list *out, uint64_t seed, int changing) {
    struct random_source random = {seed};
    struct job *job = calloc(1, sizeof *job);
    assert_non_null(job);
    make_job(job, &random, changing);
    work_operations(out, &job->bike, &job->build);
    trade_bike_clear(&job->bike);
    free(job);
}

static void assert_allowed(const struct work_list *list) {
    for (size_t i = 0; i < list->n; i++) {
        for (size_t j = i + 1; j < list->n; j++) {
            if (work_before(list->at[j], list->at[i])) {
                fail_msg("%s stands before %s", trade_bench_rows[list->at[i]].name, trade_bench_rows[list->at[j]].name);
            }
        }
    }
}

static void assert_same_operations(const struct work_list *a, const struct work_list *b) {
    unsigned seen[TRADE_BENCHES] = {0};
    assert_int_equal(a->n, b->n);
    for (size_t i = 0; i < a->n; i++) {
        seen[a->at[i]]++;
        seen[b->at[i]]++;
    }
    for (size_t i = 0; i < a->n; i++) {
        assert_int_equal(seen[a->at[i]], 2);
    }
}

/* A random order that is allowed. */
static void shuffle_allowed(struct work_list *list, struct random_source *random) {
    struct work_list out = {.n = 0};
    bool done[TRADE_BENCHES] = {false};
    while (out.n < list->n) {
        size_t ready[TRADE_BENCHES], n = 0;
        for (size_t i = 0; i < list->n; i++) {
            bool waits = done[list->at[i]];
            for (size_t j = 0; j < list->n; j++) {
                waits = waits || (!done[list->at[j]] && work_before(list->at[j], list->at[i]));
            }
            if (!waits) {
                ready[n++] = i;
            }
        }
        assert_true(n > 0);
        enum trade_bench next = list->at[ready[random_int(random, 0, (int)n - 1)]];
        out.at[out.n++] = next;
        done[next] = true;
    }
    *list = out;
}

static void an_order_is_allowed_and_no_random_one_is_better(void **state) {
    (void)state;
    struct random_source random = {20261};
    for (uint64_t seed = 1; seed <= 40; seed++) {
        struct work_list list, ordered, other;
        struct work_cost cost;
        made_list(&list, seed, random_int(&random, 3, 40));
        ordered = list;
        assert_int_equal(work_order(&ordered, &cost, 0), BASE_OK);
        assert_allowed(&ordered);
        assert_same_operations(&list, &ordered);
        assert_int_equal(compare_costs(cost, work_cost_of(&ordered)), 0);
        for (int i = 0; i < 30; i++) {
            other = list;
            shuffle_allowed(&other, &random);
            assert_allowed(&other);
            assert_true(compare_costs(cost, work_cost_of(&other)) <= 0);
        }
    }
}

/* --- against all orders there are ---------------------------------------------------------------------------------- */

struct every {
    struct work_list list, order, best;
    struct work_cost cost;
    bool found, done[16];
};

static bool earlier(const struct work_list *a, const struct work_list *b) {
    for (size_t i = 0; i < a->n; i++) {
        if (a->at[i] != b->at[i]) {
            return a->at[i] < b->at[i];
        }
    }
    return false;
}

static void try_all(struct every *e) {
    if (e->order.n == e->list.n) {
        struct work_cost cost = work_cost_of(&e->order);
        int better = e->found ? compare_costs(cost, e->cost) : -1;
        if (better < 0 || (better == 0 && earlier(&e->order, &e->best))) {
            e->best = e->order;
            e->cost = cost;
            e->found = true;
        }
        return;
    }
    for (size_t i = 0; i < e->list.n; i++) {
        bool waits = e->done[i];
        for (size_t j = 0; j < e->list.n; j++) {
            waits = waits || (!e->done[j] && work_before(e->list.at[j], e->list.at[i]));
        }
        if (!waits) {
            e->done[i] = true;
            e->order.at[e->order.n++] = e->list.at[i];
            try_all(e);
            e->order.n--;
            e->done[i] = false;
        }
    }
}

/* A few operations of a job, so that every order can be tried. */
static void thin_out(struct work_list *list, size_t most, struct random_source *random) {
    while (list->n > most) {
        size_t i = (size_t)random_int(random, 0, (int)list->n - 1);
        memmove(&list->at[i], &list->at[i + 1], (list->n - i - 1) * sizeof list->at[0]);
        list->n--;
    }
}

static void it_is_the_best_of_all_and_of_these_the_first(void **state) {
    (void)state;
    struct random_source random = {7};
    struct every *e = calloc(1, sizeof *e);
    assert_non_null(e);
    for (uint64_t seed = 100; seed < 250; seed++) {
        memset(e, 0, sizeof *e);
        made_list(&e->list, seed, 80);
        thin_out(&e->list, (size_t)random_int(&random, 2, 8), &random);
        try_all(e);
        struct work_list ordered = e->list;
        struct work_cost cost;
        assert_int_equal(work_order(&ordered, &cost, 0), BASE_OK);
        assert_int_equal(compare_costs(cost, e->cost), 0);
        assert_memory_equal(ordered.at, e->best.at, e->best.n * sizeof e->best.at[0]);
    }
    free(e);
}

static void the_list_s_own_order_does_not_matter(void **state) {
    (void)state;
    struct random_source random = {99};
    for (uint64_t seed = 300; seed < 320; seed++) {
        struct work_list list, first, second;
        struct work_cost cost, other;
        made_list(&list, seed, 30);
        first = second = list;
        shuffle_allowed(&second, &random);
        assert_int_equal(work_order(&first, &cost, 0), BASE_OK);
        assert_int_equal(work_order(&second, &other, 0), BASE_OK);
        assert_memory_equal(first.at, second.at, first.n * sizeof first.at[0]);
    }
}

static void nothing_to_do_is_no_order(void **state) {
    (void)state;
    struct work_list list = {.n = 0};
    struct work_cost cost;
    assert_int_equal(work_order(&list, &cost, 0), BASE_OK);
    assert_int_equal(list.n, 0);
    assert_int_equal(cost.turns + cost.moves + cost.tools, 0);
}

static void a_limit_of_sets_is_kept(void **state) {
    (void)state;
    struct work_list list, untouched;
    struct work_cost cost;
    made_list(&list, 2, 100);
    untouched = list;
    assert_int_equal(work_order(&list, &cost, 10), BASE_NO);
    assert_memory_equal(&list, &untouched, list.n * sizeof list.at[0]);
}

static void memory_may_run_out(void **state) {
    (void)state;
    struct work_list list, whole;
    struct work_cost cost;
    made_list(&whole, 1, 100);
    list = whole;
    for (long n = 0;; n++) {
        list = whole;
        support_fail_after(n);
        enum base_status status = work_order(&list, &cost, 0);
        bool failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(status, failed ? BASE_NO_MEMORY : BASE_OK);
        if (!failed) {
            break;
        }
        assert_memory_equal(list.at, whole.at, whole.n * sizeof whole.at[0]);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(an_order_is_allowed_and_no_random_one_is_better, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(it_is_the_best_of_all_and_of_these_the_first, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(the_list_s_own_order_does_not_matter, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(nothing_to_do_is_no_order, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(a_limit_of_sets_is_kept, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(memory_may_run_out, made_setup, made_clear),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
