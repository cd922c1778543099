/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a mechanic overrules, and how far it goes. The clashes are facts of the trade (common practice): a rear derailleur does
 * not pass a sprocket four teeth larger than it is rated for; a nine-speed chain is not made for the rings of a twelve.
 */
#include "fit/judge.h"
#include "fit/rules.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#define SLOT(NAME) (1u << TRADE_SLOT_##NAME)

/* A bike with a derailleur to 36 teeth, and with rings for chains of nine; new parts: a cassette to 40 teeth, a derailleur
 * like its own, rings and a chain of twelve. */
struct situation {
    struct trade_bike bike;
    struct trade_overruled entry;
    struct trade_part parts[TRADE_KINDS];
    struct fit_build build;
};

static struct trade_part *part_of(struct situation *s, enum trade_slot slot) { return &s->bike.fitted[slot].part; }

static void set_cassette(struct situation *s, struct trade_part *cassette, int16_t largest) {
    struct trade_counts *teeth = base_arena_alloc(&s->bike.arena, 1, sizeof *teeth + 2 * sizeof teeth->at[0]);
    assert_non_null(teeth);
    teeth->n = 2;
    teeth->at[0] = 11;
    teeth->at[1] = largest;
    trade_set(cassette, TRADE_CASSETTE_SPROCKETS, (struct trade_value){.counts = teeth, .known = BASE_MEASURED});
}

static void set_ring(struct trade_part *ring, unsigned family) {
    trade_set(ring, TRADE_RING_CHAINS, (struct trade_value){.words = UINT64_C(1) << family, .known = BASE_MEASURED});
    trade_set(ring, TRADE_RING_TEETH, trade_number(36, BASE_MEASURED));
}

static void set_derailleur(struct trade_part *derailleur) {
    trade_set(derailleur, TRADE_REAR_DERAILLEUR_LARGEST_TEETH, trade_number(36, BASE_MEASURED));
}

static struct trade_part *new_part(struct situation *s, enum trade_kind kind) {
    assert_int_equal(trade_part_init(&s->parts[kind], &s->bike.arena, kind), BASE_OK);
    return &s->parts[kind];
}

static void set_up(struct situation *s) {
    static const enum trade_slot there[] = {TRADE_SLOT_OUTER_RING, TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_CHAIN,
                                            TRADE_SLOT_CASSETTE, TRADE_SLOT_REAR_DERAILLEUR};
    assert_int_equal(trade_bike_init(&s->bike), BASE_OK);
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        s->bike.fitted[slot].state = TRADE_EMPTY;
    }
    for (size_t i = 0; i < sizeof there / sizeof *there; i++) {
        s->bike.fitted[there[i]].state = TRADE_THERE;
    }
    s->bike.overruled = &s->entry;
    set_cassette(s, part_of(s, TRADE_SLOT_CASSETTE), 34);
    set_derailleur(part_of(s, TRADE_SLOT_REAR_DERAILLEUR));
    set_ring(part_of(s, TRADE_SLOT_OUTER_RING), TRADE_CHAIN_FAMILY_NINE);
    set_ring(part_of(s, TRADE_SLOT_MIDDLE_RING), TRADE_CHAIN_FAMILY_NINE);
    trade_set(part_of(s, TRADE_SLOT_CHAIN), TRADE_CHAIN_FAMILY, trade_word(TRADE_CHAIN_FAMILY_NINE, BASE_MEASURED));
    set_cassette(s, new_part(s, TRADE_KIND_CASSETTE), 40);
    set_derailleur(new_part(s, TRADE_KIND_REAR_DERAILLEUR));
    set_ring(new_part(s, TRADE_KIND_RING), TRADE_CHAIN_FAMILY_NINE);
    trade_set(new_part(s, TRADE_KIND_CHAIN), TRADE_CHAIN_FAMILY, trade_word(TRADE_CHAIN_FAMILY_TWELVE, BASE_MEASURED));
    fit_build_now(&s->build, &s->bike);
}

static void change(struct situation *s, enum trade_slot slot) {
    s->build.at[slot] = (struct fit_choice){FIT_NEW, &s->parts[trade_slot_rows[slot].kind]};
}

static void overrule(struct situation *s, const char *rule, uint32_t slots) {
    s->entry = (struct trade_overruled){rule, slots, "K. Orve", "seen it work"};
    s->bike.n_overruled = 1;
}

/* A drawback that says who overruled it, or a clash. */
static void expect(const struct situation *s, const struct fit_rule *rule, bool overruled) {
    static struct fit_cases cases;
    struct fit_finding finding;
    fit_cases_of(&cases, &s->bike);
    fit_judge_rule(&finding, rule, &s->bike, &s->build, &cases, false);
    assert_int_equal(finding.verdict.kind, overruled ? FIT_DRAWBACK : FIT_CLASH);
    assert_ptr_equal(finding.overruled, overruled ? &s->entry : NULL);
    assert_int_equal(finding.drawbacks, overruled ? 1u << finding.verdict.reason : 0);
    assert_int_equal(fit_no_case(&finding.cases), !overruled);
}

static void it_holds_while_the_named_part_stays(void **state) {
    (void)state;
    struct situation s;
    set_up(&s);
    change(&s, TRADE_SLOT_CASSETTE);
    expect(&s, &fit_largest_sprocket, false);
    overrule(&s, "largest-sprocket", SLOT(REAR_DERAILLEUR));
    expect(&s, &fit_largest_sprocket, true);
    change(&s, TRADE_SLOT_REAR_DERAILLEUR); /* one like it, which nobody has seen work */
    expect(&s, &fit_largest_sprocket, false);
    trade_bike_clear(&s.bike);
}

static void a_named_part_that_goes_ends_it(void **state) {
    (void)state;
    struct situation s;
    set_up(&s);
    change(&s, TRADE_SLOT_CASSETTE);
    overrule(&s, "largest-sprocket", SLOT(REAR_DERAILLEUR) | SLOT(CASSETTE));
    expect(&s, &fit_largest_sprocket, false);
    overrule(&s, "largest-sprocket", SLOT(CASSETTE));
    expect(&s, &fit_largest_sprocket, false);
    trade_bike_clear(&s.bike);
}

/* Without names it is about the joint as it stands. */
static void without_names_all_of_it_must_stay(void **state) {
    (void)state;
    static struct fit_cases cases;
    struct fit_finding finding;
    struct situation s;
    set_up(&s);
    overrule(&s, "largest-sprocket", 0);
    change(&s, TRADE_SLOT_CASSETTE);
    expect(&s, &fit_largest_sprocket, false);
    set_cassette(&s, part_of(&s, TRADE_SLOT_CASSETTE), 40);
    fit_build_now(&s.build, &s.bike);
    fit_cases_of(&cases, &s.bike);
    fit_judge_rule(&finding, &fit_largest_sprocket, &s.bike, &s.build, &cases, true);
    assert_int_equal(finding.verdict.kind, FIT_DRAWBACK);
    assert_ptr_equal(finding.overruled, &s.entry);
    trade_bike_clear(&s.bike);
}

/* What is empty and stays so keeps what the bike has there; what is put in does not. */
static void an_empty_slot_may_be_named(void **state) {
    (void)state;
    struct situation s;
    set_up(&s);
    change(&s, TRADE_SLOT_CASSETTE);
    overrule(&s, "largest-sprocket", SLOT(HANGER_EXTENDER));
    expect(&s, &fit_largest_sprocket, true);
    struct trade_part *extender = new_part(&s, TRADE_KIND_HANGER_EXTENDER);
    trade_set(extender, TRADE_HANGER_EXTENDER_ADDS_TEETH, trade_number(1, BASE_MEASURED));
    change(&s, TRADE_SLOT_HANGER_EXTENDER);
    expect(&s, &fit_largest_sprocket, false);
    trade_bike_clear(&s.bike);
}

/* A rule that is registered for each ring is overruled for the rings that are named, or, with none of them named, for all. */
static void a_named_place_leaves_the_others(void **state) {
    (void)state;
    struct situation s;
    set_up(&s);
    change(&s, TRADE_SLOT_CHAIN);
    expect(&s, &fit_ring_chain_outer, false);
    overrule(&s, "ring-chain", SLOT(OUTER_RING));
    expect(&s, &fit_ring_chain_outer, true);
    expect(&s, &fit_ring_chain_middle, false);
    overrule(&s, "ring-chain", SLOT(OUTER_RING) | SLOT(MIDDLE_RING) | SLOT(INNER_RING));
    expect(&s, &fit_ring_chain_outer, true);
    expect(&s, &fit_ring_chain_middle, true);
    change(&s, TRADE_SLOT_MIDDLE_RING);
    expect(&s, &fit_ring_chain_outer, true);
    expect(&s, &fit_ring_chain_middle, false);
    overrule(&s, "ring-chain", SLOT(CHAIN));
    expect(&s, &fit_ring_chain_outer, false);
    trade_bike_clear(&s.bike);
}

/* Of several entries one that holds is enough; another rule's entry does nothing. */
static void the_entry_that_holds_counts(void **state) {
    (void)state;
    struct situation s;
    struct trade_overruled entries[] = {{"ring-chain", 0, "K. Orve", "seen it work"},
                                        {"largest-sprocket", SLOT(CASSETTE), "K. Orve", "seen it work"},
                                        {"largest-sprocket", SLOT(REAR_DERAILLEUR), "K. Orve", "seen it work"}};
    static struct fit_cases cases;
    struct fit_finding finding;
    set_up(&s);
    change(&s, TRADE_SLOT_CASSETTE);
    s.bike.overruled = entries;
    s.bike.n_overruled = 3;
    fit_cases_of(&cases, &s.bike);
    fit_judge_rule(&finding, &fit_largest_sprocket, &s.bike, &s.build, &cases, false);
    assert_ptr_equal(finding.overruled, &entries[2]);
    assert_int_equal(fit_overruled_slots(&s.bike, &fit_largest_sprocket), SLOT(CASSETTE) | SLOT(REAR_DERAILLEUR));
    assert_int_equal(fit_overruled_slots(&s.bike, &fit_ring_chain_middle), SLOT(MIDDLE_RING) | SLOT(CHAIN));
    assert_int_equal(fit_overruled_slots(&s.bike, &fit_ring_order), 0);
    trade_bike_clear(&s.bike);
}

static void what_stops_the_bike_is_never_overruled(void **state) {
    (void)state;
    struct situation s;
    set_up(&s);
    for (size_t r = 0; r < fit_rules_n; r++) {
        overrule(&s, fit_rules[r]->id, 0);
        assert_int_equal(fit_overruled_slots(&s.bike, fit_rules[r]) == 0, fit_rules[r]->safety);
    }
    trade_bike_clear(&s.bike);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_holds_while_the_named_part_stays),    cmocka_unit_test(a_named_part_that_goes_ends_it),
        cmocka_unit_test(without_names_all_of_it_must_stay),      cmocka_unit_test(an_empty_slot_may_be_named),
        cmocka_unit_test(a_named_place_leaves_the_others),        cmocka_unit_test(the_entry_that_holds_counts),
        cmocka_unit_test(what_stops_the_bike_is_never_overruled),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
