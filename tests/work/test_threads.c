/* SPDX-License-Identifier: Apache-2.0 */
/* Which way the threads turn that an operation opens or closes: tests/reference/bench_threads.csv. */
#include "work/operations.h"

#include "support/reference.h"
#include "trade/made.h"
#include "trade/vocabulary.h"

static enum trade_bench bench_of(const char *name) {
    unsigned b = 0;
    while (b < TRADE_BENCHES && strcmp(trade_bench_rows[b].name, name) != 0) {
        b++;
    }
    assert_true(b < TRADE_BENCHES);
    return (enum trade_bench)b;
}

static void every_thread_turns_as_published(void **state) {
    (void)state;
    struct trade_bike bike;
    struct reference *r = reference_open("bench_threads");
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    while (reference_next(r)) {
        if (reference_has(r, "shell")) {
            int shell = trade_find_word(TRADE_DOMAIN_SHELL, base_slice_of(reference_word(r, "shell")));
            assert_true(shell >= 0);
            give_word(&bike.frame, TRADE_FRAME_SHELL, (unsigned)shell);
        } else {
            trade_set(&bike.frame, TRADE_FRAME_SHELL, trade_open());
        }
        int hand = work_hand(bench_of(reference_word(r, "operation")), &bike);
        int wanted = trade_find_word(TRADE_DOMAIN_HAND, base_slice_of(reference_word(r, "hand")));
        reference_claim(r, wanted >= 0 && hand == wanted, "turns this way");
    }
    reference_close(r, 69);
    trade_bike_clear(&bike);
}

/* English and French shells measure the same inside: what nobody has read has no hand, never the usual one. */
static void an_unread_shell_has_no_hand(void **state) {
    (void)state;
    struct trade_bike bike;
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    assert_int_equal(work_hand(TRADE_BENCH_DRIVE_CUP_OUT_OUTBOARD, &bike), -1);
    assert_int_equal(work_hand(TRADE_BENCH_LEFT_CUP_OUT_CARTRIDGE, &bike), -1);
    trade_bike_clear(&bike);
}

/* Every operation that tightens to a torque with a hand of its own speaks of the same thread. */
static void torque_and_thread_are_of_one_bolt(void **state) {
    (void)state;
    for (unsigned b = 0; b < TRADE_BENCHES; b++) {
        const struct trade_bench_row *row = &trade_bench_rows[b];
        for (size_t i = 0; i < 2 && row->torques[i] >= 0; i++) {
            int hand = trade_torques[row->torques[i]].hand;
            if (hand < 0) {
                assert_true(row->hand_by == TRADE_HAND_BY_SHELL_DRIVE || row->hand_by == TRADE_HAND_BY_SHELL_OTHER ||
                            row->hand_by == TRADE_HAND_BY_NONE);
            } else {
                assert_int_equal(row->hand_by, TRADE_HAND_BY_TORQUE);
                assert_int_equal(trade_torques[row->hand_at].hand, hand);
            }
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(every_thread_turns_as_published, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(an_unread_shell_has_no_hand, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(torque_and_thread_are_of_one_bolt, made_setup, made_clear),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
