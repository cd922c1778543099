/* SPDX-License-Identifier: Apache-2.0 */
/* Every name of the compiled tables is found again, and only there. */
#include "made.h"

#include "trade/vocabulary.h"

static void test_every_kind_and_property_is_found_by_its_name(void **state) {
    (void)state;
    size_t n = 0;
    for (int kind = 0; kind < TRADE_KINDS; kind++) {
        const struct trade_kind_row *row = &trade_kind_rows[kind];
        assert_int_equal(trade_find_kind(base_slice_of(row->name)), kind);
        for (size_t i = 0; i < row->n; i++) {
            const struct trade_property_row *property = &trade_property_rows[row->first + i];
            assert_int_equal(property->kind, kind);
            assert_int_equal(trade_find_property((enum trade_kind)kind, base_slice_of(property->name)), row->first + i);
            n++;
        }
    }
    assert_int_equal(n, TRADE_PROPERTIES); /* each belongs to one kind */
}

static void test_every_slot_and_operation_is_found_by_its_name(void **state) {
    (void)state;
    for (int slot = 0; slot < TRADE_SLOTS; slot++) {
        assert_int_equal(trade_find_slot(base_slice_of(trade_slot_rows[slot].name)), slot);
    }
    for (int operation = 0; operation < TRADE_OPERATIONS; operation++) {
        assert_int_equal(trade_find_operation(base_slice_of(trade_operation_rows[operation].name)), operation);
    }
}

static void test_every_word_is_found_by_its_name(void **state) {
    (void)state;
    for (unsigned domain = 0; domain < TRADE_DOMAINS; domain++) {
        for (unsigned word = 0; word < trade_domain_rows[domain].n; word++) {
            const char *name = trade_word_name(domain, word);
            assert_int_equal(trade_find_word(domain, base_slice_of(name)), word);
            assert_true(strlen(trade_word_label(domain, word)) > 0);
        }
    }
}

static void test_what_is_not_there_is_not_found(void **state) {
    (void)state;
    struct base_slice strange = base_slice_of("bell");
    assert_int_equal(trade_find_kind(strange), -1);
    assert_int_equal(trade_find_slot(strange), -1);
    assert_int_equal(trade_find_operation(strange), -1);
    assert_int_equal(trade_find_word(TRADE_DOMAIN_AXLE, strange), -1);
    assert_int_equal(trade_find_property(TRADE_KIND_RING, strange), -1);
    /* a name that only starts or ends like one */
    assert_int_equal(trade_find_kind(base_slice_of("ring ")), -1);
    assert_int_equal(trade_find_kind((struct base_slice){"rings", 3}), -1);
    assert_int_equal(trade_find_kind((struct base_slice){"rings", 4}), TRADE_KIND_RING);
    /* a property of another kind */
    assert_int_equal(trade_find_property(TRADE_KIND_FRAME, base_slice_of("teeth")), -1);
}

static void test_slots_name_the_side_or_place_that_they_want(void **state) {
    (void)state;
    static const struct {
        enum trade_slot slot;
        enum trade_property property;
        unsigned word;
    } wanted[] = {
        {TRADE_SLOT_RING_WASHERS, TRADE_SPACER_PLACE, TRADE_SPACER_PLACE_RING_BOLTS},
        {TRADE_SLOT_CUP_SPACERS, TRADE_SPACER_PLACE, TRADE_SPACER_PLACE_CUPS},
        {TRADE_SLOT_CASSETTE_SPACER, TRADE_SPACER_PLACE, TRADE_SPACER_PLACE_CASSETTE},
        {TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_SIDE, TRADE_SIDE_RIGHT},
        {TRADE_SLOT_LEFT_SHIFTER, TRADE_SHIFTER_SIDE, TRADE_SIDE_LEFT},
        {TRADE_SLOT_RIGHT_BRAKE_LEVER, TRADE_BRAKE_LEVER_SIDE, TRADE_SIDE_RIGHT},
        {TRADE_SLOT_LEFT_BRAKE_LEVER, TRADE_BRAKE_LEVER_SIDE, TRADE_SIDE_LEFT},
    };
    size_t n = 0;
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        enum trade_property property;
        unsigned word;
        bool wants = trade_slot_wants(slot, &property, &word);
        for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
            if (wanted[i].slot == slot) {
                assert_true(wants);
                assert_int_equal(property, wanted[i].property);
                assert_int_equal(word, wanted[i].word);
                n++;
            }
        }
        assert_int_equal(wants, trade_slot_rows[slot].only[0] != '\0');
    }
    assert_int_equal(n, sizeof wanted / sizeof wanted[0]);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_kind_and_property_is_found_by_its_name),
        cmocka_unit_test(test_every_slot_and_operation_is_found_by_its_name),
        cmocka_unit_test(test_every_word_is_found_by_its_name),
        cmocka_unit_test(test_what_is_not_there_is_not_found),
        cmocka_unit_test(test_slots_name_the_side_or_place_that_they_want),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
