/* SPDX-License-Identifier: Apache-2.0 */
/* Values, parts, names and bikes as containers: open is not zero, and memory may run out. */
#include "made.h"

#include "support/failing.h"
#include "trade/names.h"
#include "trade/vocabulary.h"

static void test_a_new_part_has_every_value_open(void **state) {
    (void)state;
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        struct trade_part part = made_part(kind);
        assert_int_equal(part.kind, kind);
        assert_int_equal(part.stock, -1);
        assert_int_equal(part.days, -1);
        for (size_t i = 0; i < trade_kind_rows[kind].n; i++) {
            assert_open(&part, (enum trade_property)(trade_kind_rows[kind].first + i));
        }
    }
}

static void test_open_is_told_from_zero(void **state) {
    (void)state;
    struct trade_part frame = made_part(TRADE_KIND_FRAME);
    assert_true(isnan(trade_get_number(&frame, TRADE_FRAME_REAR_OFFSET_MM)));
    assert_int_equal(trade_get_word(&frame, TRADE_FRAME_AXLE), -1);
    give(&frame, TRADE_FRAME_REAR_OFFSET_MM, 0);
    give_word(&frame, TRADE_FRAME_AXLE, TRADE_AXLE_QUICK_RELEASE);
    assert_near(trade_get_number(&frame, TRADE_FRAME_REAR_OFFSET_MM), 0, 0);
    assert_int_equal(trade_get_word(&frame, TRADE_FRAME_AXLE), TRADE_AXLE_QUICK_RELEASE);
}

static struct trade_value counts_of(int16_t a, int16_t b) {
    struct trade_counts *counts = base_arena_alloc(&made, 1, sizeof *counts + 2 * sizeof counts->at[0]);
    assert_non_null(counts);
    counts->n = 2;
    counts->at[0] = a;
    counts->at[1] = b;
    return (struct trade_value){.counts = counts, .known = BASE_MEASURED};
}

static void test_same_compares_what_the_type_holds(void **state) {
    (void)state;
    char copy[] = "54-622";
    struct trade_value open = trade_open();
    struct trade_value number = trade_number(3, BASE_MEASURED), assumed = trade_number(3, BASE_ASSUMED);
    struct trade_value other = trade_number(4, BASE_MEASURED);
    struct trade_value word = trade_word(2, BASE_TABLE), words = {.words = 5, .known = BASE_TABLE};
    struct trade_value name = {.name = "54-622", .known = BASE_TABLE}, again = {.name = copy, .known = BASE_TABLE};
    struct trade_value sprockets = counts_of(11, 34), twice = counts_of(11, 34), wider = counts_of(11, 36);
    assert_true(trade_same(&number, &assumed, TRADE_NUMBER));
    assert_false(trade_same(&number, &other, TRADE_COUNT));
    assert_false(trade_same(&open, &open, TRADE_NUMBER)); /* two things that nobody knows are not the same */
    assert_false(trade_same(&open, &number, TRADE_NUMBER));
    assert_true(trade_same(&word, &word, TRADE_WORD));
    assert_true(trade_same(&words, &words, TRADE_WORDS));
    assert_true(trade_same(&name, &again, TRADE_TYRE));
    assert_true(trade_same(&sprockets, &twice, TRADE_COUNTS));
    assert_false(trade_same(&sprockets, &wider, TRADE_COUNTS));
}

/* Worn, seized and damaged parts go (common practice); nobody's word is needed for the rest. */
static void test_condition_decides_whether_a_part_may_stay(void **state) {
    (void)state;
    static const bool stays[TRADE_CONDITION_COUNT] = {
        [TRADE_CONDITION_AS_NEW] = true,
        [TRADE_CONDITION_SERVICEABLE] = true,
        [TRADE_CONDITION_NOT_LOOKED_AT] = true,
    };
    struct trade_part chain = made_part(TRADE_KIND_CHAIN);
    struct trade_part frame = made_part(TRADE_KIND_FRAME);
    assert_true(trade_may_stay(&chain));
    assert_true(trade_may_stay(&frame));
    for (unsigned condition = 0; condition < TRADE_CONDITION_COUNT; condition++) {
        give_word(&chain, TRADE_CHAIN_CONDITION, condition);
        assert_int_equal(trade_may_stay(&chain), stays[condition]);
    }
}

static void test_every_part_has_a_condition_and_a_mass(void **state) {
    (void)state;
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        assert_true(trade_find_property(trade_slot_rows[slot].kind, base_slice_of("condition")) >= 0);
        assert_true(trade_find_property(trade_slot_rows[slot].kind, base_slice_of("mass_g")) >= 0);
    }
    assert_int_equal(trade_find_property(TRADE_KIND_BIKE, base_slice_of("condition")), -1);
}

static void test_equal_names_are_one_pointer(void **state) {
    (void)state;
    enum { N = 3000 }; /* many times the first room, so that the table moves */
    static const char *seen[N];
    struct trade_names names;
    char text[] = "name 0000";
    trade_names_init(&names);
    for (int round = 0; round < 2; round++) {
        for (int i = 0; i < N; i++) {
            for (int digit = 0, rest = i; digit < 4; digit++, rest /= 10) {
                text[8 - digit] = (char)('0' + rest % 10);
            }
            const char *name = trade_name(&names, base_slice_of(text));
            assert_non_null(name);
            assert_string_equal(name, text);
            assert_ptr_not_equal(name, text);
            if (round == 0) {
                seen[i] = name;
            }
            assert_ptr_equal(name, seen[i]);
        }
    }
    assert_ptr_equal(trade_name(&names, base_slice_of("")), trade_name(&names, base_slice_of("")));
    assert_ptr_equal(trade_name(&names, (struct base_slice){"name 00001", 9}), seen[0]);
    trade_names_clear(&names);
}

static void test_a_new_bike_is_not_looked_at(void **state) {
    (void)state;
    struct trade_bike bike;
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    assert_string_equal(bike.label, "");
    assert_int_equal(bike.n_overruled, 0);
    assert_open(&bike.self, TRADE_BIKE_USE);
    assert_open(&bike.frame, TRADE_FRAME_CHAINSTAY_MM);
    assert_open(&bike.wheel, TRADE_WHEEL_TYRE);
    assert_open(&bike.rider, TRADE_RIDER_MASS_KG);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        assert_int_equal(bike.fitted[slot].state, TRADE_NOT_LOOKED_AT);
        assert_int_equal(bike.fitted[slot].part.kind, trade_slot_rows[slot].kind);
        assert_int_equal(trade_bike_has(&bike, slot), trade_slot_rows[slot].absent == TRADE_ABSENT_THERE);
    }
    trade_bike_clear(&bike);
}

/* A bike without a chain can't be ridden in; one without a chain guide is usual (common practice, slots.csv). */
static void test_a_slot_that_nobody_named_holds_what_every_bike_has(void **state) {
    (void)state;
    struct trade_bike bike;
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    assert_true(trade_bike_has(&bike, TRADE_SLOT_CHAIN));
    assert_false(trade_bike_has(&bike, TRADE_SLOT_CHAIN_GUIDE));
    bike.fitted[TRADE_SLOT_CHAIN].state = TRADE_EMPTY;
    bike.fitted[TRADE_SLOT_CHAIN_GUIDE].state = TRADE_THERE;
    assert_false(trade_bike_has(&bike, TRADE_SLOT_CHAIN));
    assert_true(trade_bike_has(&bike, TRADE_SLOT_CHAIN_GUIDE));
    assert_int_equal(trade_bike_rings(&bike), 0);
    bike.fitted[TRADE_SLOT_OUTER_RING].state = TRADE_THERE;
    bike.fitted[TRADE_SLOT_MIDDLE_RING].state = TRADE_EMPTY;
    bike.fitted[TRADE_SLOT_INNER_RING].state = TRADE_THERE;
    assert_int_equal(trade_bike_rings(&bike), 2);
    trade_bike_clear(&bike);
    trade_bike_clear(&bike); /* twice is fine */
}

/* What moves a chain from ring to ring is a front derailleur, and what moves that a left shifter; with one ring there is
 * nothing to move (common practice). Known to be empty stays empty. */
static void test_several_rings_have_what_shifts_them(void **state) {
    (void)state;
    static const enum trade_slot rings[] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING};
    static const enum trade_slot shifting[] = {TRADE_SLOT_FRONT_DERAILLEUR, TRADE_SLOT_LEFT_SHIFTER};
    struct trade_bike bike;
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    for (unsigned set = 0; set < 8; set++) {
        unsigned n = 0;
        for (unsigned i = 0; i < 3; i++) {
            bool there = set >> i & 1;
            bike.fitted[rings[i]].state = there ? TRADE_THERE : i % 2 ? TRADE_EMPTY : TRADE_NOT_LOOKED_AT;
            n += there;
        }
        for (unsigned i = 0; i < 2; i++) {
            bike.fitted[shifting[i]].state = TRADE_NOT_LOOKED_AT;
            assert_int_equal(trade_bike_has(&bike, shifting[i]), n > 1);
            bike.fitted[shifting[i]].state = TRADE_EMPTY;
            assert_false(trade_bike_has(&bike, shifting[i]));
            bike.fitted[shifting[i]].state = TRADE_THERE;
            assert_true(trade_bike_has(&bike, shifting[i]));
        }
    }
    trade_bike_clear(&bike);
}

static void test_a_bike_that_finds_no_memory_is_not_made(void **state) {
    (void)state;
    struct trade_bike bike;
    long n = 0;
    for (;; n++) {
        memset(&bike, 0x5a, sizeof bike);
        support_fail_after(n);
        enum base_status status = trade_bike_init(&bike);
        bool failed = support_failed();
        support_fail_after(-1);
        if (!failed) {
            assert_int_equal(status, BASE_OK);
            break;
        }
        assert_int_equal(status, BASE_NO_MEMORY);
        assert_int_equal(((unsigned char *)&bike)[0], 0x5a); /* untouched */
    }
    assert_true(n > 0);
    trade_bike_clear(&bike);
}

static void test_names_that_find_no_memory_stay_good(void **state) {
    (void)state;
    for (long n = 0;; n++) {
        struct trade_names names;
        trade_names_init(&names);
        support_fail_after(n);
        const char *first = trade_name(&names, base_slice_of("first"));
        const char *second = trade_name(&names, base_slice_of("second"));
        bool failed = support_failed();
        support_fail_after(-1);
        assert_true(failed ? first == NULL || second == NULL : first != NULL && second != NULL);
        const char *now = trade_name(&names, base_slice_of("first"));
        assert_non_null(now);
        assert_true(first == NULL || first == now);
        trade_names_clear(&names);
        if (!failed) {
            assert_true(n > 0);
            break;
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_new_part_has_every_value_open, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(test_open_is_told_from_zero, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(test_same_compares_what_the_type_holds, made_setup, made_clear),
        cmocka_unit_test_setup_teardown(test_condition_decides_whether_a_part_may_stay, made_setup, made_clear),
        cmocka_unit_test(test_every_part_has_a_condition_and_a_mass),
        cmocka_unit_test(test_equal_names_are_one_pointer),
        cmocka_unit_test(test_a_new_bike_is_not_looked_at),
        cmocka_unit_test(test_a_slot_that_nobody_named_holds_what_every_bike_has),
        cmocka_unit_test(test_several_rings_have_what_shifts_them),
        cmocka_unit_test(test_a_bike_that_finds_no_memory_is_not_made),
        cmocka_unit_test(test_names_that_find_no_memory_stay_good),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
