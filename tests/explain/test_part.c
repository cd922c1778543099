/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "explain/part.h"

#include "trade/vocabulary.h"

static void set_name(struct trade_part *part, const char *property, const char *name) {
    int found = trade_find_property(part->kind, base_slice_of(property));
    assert_true(found >= 0);
    trade_set(part, (enum trade_property)found, (struct trade_value){.name = name});
}

static struct trade_part part_of(struct base_arena *arena, enum trade_kind kind, const char *maker, const char *model) {
    struct trade_part part;
    assert_int_equal(trade_part_init(&part, arena, kind), BASE_OK);
    part.id = "some-id";
    if (maker) {
        set_name(&part, "maker", maker);
    }
    if (model) {
        set_name(&part, "model", model);
    }
    return part;
}

static void assert_part(const struct trade_part *part, const char *wanted) {
    struct base_buffer out;
    base_buffer_init(&out, 0);
    explain_part(&out, part);
    assert_int_equal(out.status, BASE_OK);
    assert_string_equal(out.at, wanted);
    base_buffer_clear(&out);
}

static void a_part_is_what_a_mechanic_calls_it(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    struct trade_part ring = part_of(&arena, TRADE_KIND_RING, "Pellmar", "104-32");
    trade_set(&ring, TRADE_RING_TEETH, trade_number(32, BASE_MEASURED));
    trade_set(&ring, TRADE_RING_PROFILE, trade_word(TRADE_PROFILE_WIDE_NARROW, BASE_MEASURED));
    trade_set(&ring, TRADE_RING_OFFSET_MM, trade_number(0, BASE_MEASURED));
    assert_part(&ring, "32 T, wide and narrow teeth, Pellmar 104-32");
    trade_set(&ring, TRADE_RING_OFFSET_MM, trade_number(6, BASE_MEASURED));
    assert_part(&ring, "32 T, wide and narrow teeth, 6 mm offset, Pellmar 104-32");

    static struct {
        size_t n;
        int16_t at[9];
    } wide = {9, {11, 13, 15, 18, 22, 27, 33, 39, 46}};
    struct trade_part cassette = part_of(&arena, TRADE_KIND_CASSETTE, "Dunvar", "N46");
    trade_set(&cassette, TRADE_CASSETTE_SPROCKETS, (struct trade_value){.counts = (const struct trade_counts *)&wide});
    trade_set(&cassette, TRADE_CASSETTE_SPLINE, trade_word(TRADE_SPLINE_NINE_KEY, BASE_MEASURED));
    assert_part(&cassette, "9-speed 11\xe2\x80\x93"
                           "46, Dunvar N46");
    base_arena_clear(&arena);
}

static void what_the_name_says_is_not_said_twice(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    struct trade_part chain = part_of(&arena, TRADE_KIND_CHAIN, "Orvash", "9, 116 links");
    trade_set(&chain, TRADE_CHAIN_FAMILY, trade_word(TRADE_CHAIN_FAMILY_NINE, BASE_MEASURED));
    trade_set(&chain, TRADE_CHAIN_LINKS, trade_number(116, BASE_MEASURED));
    assert_part(&chain, "9-speed chain, Orvash 9, 116 links");
    base_arena_clear(&arena);
}

static void a_part_without_a_name_has_its_id(void **state) {
    (void)state;
    struct base_arena arena;
    base_arena_init(&arena, 0);
    struct trade_part hanger = part_of(&arena, TRADE_KIND_HANGER, NULL, NULL);
    assert_part(&hanger, "some-id");
    base_arena_clear(&arena);
}

/* What nobody asks for is left out while it is open; what is asked for is an empty box, with what it is taken as. */
static void gaps_show_where_they_matter(void **state) {
    (void)state;
    struct trade_bike bike;
    struct base_buffer out;
    const struct plan_hang asked[] = {{TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE},
                                      {FIT_FRAME, TRADE_FRAME_GAP_MM}};
    assert_int_equal(trade_bike_init(&bike), BASE_OK);
    struct trade_part *bracket = &bike.fitted[TRADE_SLOT_BOTTOM_BRACKET].part;
    trade_set(bracket, TRADE_BOTTOM_BRACKET_SPINDLE_MM, trade_number(113, BASE_TABLE));
    base_buffer_init(&out, 0);
    explain_fitted(&out, &bike, TRADE_SLOT_BOTTOM_BRACKET, NULL, 0);
    assert_string_equal(out.at, "113 mm* long");
    base_buffer_clear(&out);
    explain_fitted(&out, &bike, TRADE_SLOT_BOTTOM_BRACKET, asked, 2);
    assert_string_equal(out.at, "spindle's small end [    mm], 113 mm* long");
    base_buffer_clear(&out);
    trade_set(&bike.frame, TRADE_FRAME_GAP_MM, trade_number(3, BASE_ASSUMED));
    explain_fitted(&out, &bike, TRADE_SLOT_REAR_WHEEL, asked, 2);
    assert_string_equal(out.at, "frame to smallest sprocket [    mm], taken as ~3.0 mm");
    base_buffer_clear(&out);
    trade_bike_clear(&bike);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_is_what_a_mechanic_calls_it),
        cmocka_unit_test(what_the_name_says_is_not_said_twice),
        cmocka_unit_test(a_part_without_a_name_has_its_id),
        cmocka_unit_test(gaps_show_where_they_matter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
