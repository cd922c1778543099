/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "explain/path.h"
#include "explain/value.h"

/* As trade_counts, with room. */
static const struct {
    size_t n;
    int16_t at[3];
} three = {3, {11, 13, 15}};

static void values_have_unit_decimals_and_mark(void **state) {
    (void)state;
    static const struct {
        enum trade_property property;
        struct trade_value value;
        const char *reads;
    } cases[] = {
        {TRADE_FRAME_CHAINSTAY_MM, {.number = 440}, "440 mm"},
        {TRADE_FRAME_CHAINSTAY_MM, {.number = 440.5}, "440.5 mm"},
        {TRADE_FRAME_HUB_WIDTH_MM, {.number = 135, .known = BASE_TABLE}, "135 mm*"},
        {TRADE_FRAME_GAP_MM, {.number = 3, .known = BASE_ASSUMED}, "~3.0 mm"},
        {TRADE_FRAME_GAP_MM, {.known = BASE_OPEN}, "[    mm]"},
        {TRADE_FRAME_CHAINSTAY_MM, {.known = BASE_OPEN}, "[   mm]"},
        {TRADE_FRAME_STAY_70_MM, {.number = 41}, "41.0 mm"},
        {TRADE_FREEHUB_BODY_LENGTH_MM, {.number = 36.8}, "36.8 mm"},
        {TRADE_FREEHUB_BODY_LENGTH_MM, {.number = 35}, "35 mm"},
        {TRADE_CASSETTE_PITCH_MM, {.number = 4.34}, "4.34 mm"},
        {TRADE_CHAIN_WORN_PERCENT, {.number = 0.9}, "0.9 %"},
        {TRADE_RING_TEETH, {.number = 36}, "36 T"},
        {TRADE_CHAIN_LINKS, {.number = 110}, "110 links"},
        {TRADE_CASSETTE_SPROCKETS, {.counts = (const struct trade_counts *)&three}, "11 13 15"},
        {TRADE_FRAME_SHELL, {.word = TRADE_SHELL_ENGLISH, .known = BASE_TABLE}, "English thread*"},
        {TRADE_BOTTOM_BRACKET_SPINDLE, {.known = BASE_OPEN}, "[    mm]"},
        {TRADE_WHEEL_TYRE, {.name = "54-622"}, "54-622"},
        {TRADE_FRAME_GUIDE_MOUNTS, {.words = 0}, "none"},
        {TRADE_FRAME_GUIDE_MOUNTS,
         {.words = UINT64_C(1) << TRADE_GUIDE_MOUNT_BAND | UINT64_C(1) << TRADE_GUIDE_MOUNT_THREE_HOLE},
         "three-hole tabs and band round the seat tube"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_buffer out;
        base_buffer_init(&out, 0);
        explain_value(&out, cases[i].property, &cases[i].value);
        assert_int_equal(out.status, BASE_OK);
        assert_string_equal(out.at, cases[i].reads);
        base_buffer_clear(&out);
    }
}

static void a_reading_is_what_the_caliper_shows(void **state) {
    (void)state;
    struct base_buffer out;
    struct trade_value low = {.word = TRADE_SPINDLE_SQUARE_ISO, .known = BASE_ASSUMED};
    struct trade_value gap = {.number = 2, .known = BASE_ASSUMED};
    base_buffer_init(&out, 0);
    explain_reading(&out, TRADE_BOTTOM_BRACKET_SPINDLE, &low);
    assert_string_equal(out.at, "less than 12.7 mm");
    base_buffer_clear(&out);
    explain_reading(&out, TRADE_FRAME_GAP_MM, &gap);
    assert_string_equal(out.at, "2.0 mm");
    base_buffer_clear(&out);
}

/* Paths are those of the bike's document, as its schema has them. */
static void places_and_names_of_values(void **state) {
    (void)state;
    static const struct {
        unsigned subject, property;
        const char *path, *name;
    } cases[] = {
        {TRADE_SLOT_BOTTOM_BRACKET, TRADE_BOTTOM_BRACKET_SPINDLE, "/fitted/bottom_bracket/spindle",
         "small end of the bottom bracket's spindle"},
        {FIT_FRAME, TRADE_FRAME_GAP_MM, "/frame/gap_mm", "gap between frame and smallest sprocket"},
        {FIT_BIKE, TRADE_BIKE_USE, "/use", "use"},
        {FIT_WHEEL, TRADE_WHEEL_ROLLING_MM, "/wheel/rolling_mm", "rolling circumference"},
        {FIT_NOW + TRADE_SLOT_CHAIN, TRADE_CHAIN_WORN_PERCENT, "/fitted/chain/worn_percent", "elongation of the chain"},
        {TRADE_SLOT_CASSETTE, FIT_LARGEST, "/fitted/cassette/sprockets", "sprockets of the cassette"},
        {FIT_MEASURE + FIT_OUTER_PLANE, FIT_VALUE, "/fitted/crank/outer_plane_mm", "plane of the crank's outer place"},
        {TRADE_SLOT_FRONT_DERAILLEUR, FIT_PRESENT, "/fitted/front_derailleur", "front derailleur"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_buffer out;
        base_buffer_init(&out, 0);
        explain_path(&out, cases[i].subject, cases[i].property);
        assert_string_equal(out.at, cases[i].path);
        base_buffer_clear(&out);
        explain_name(&out, cases[i].subject, cases[i].property);
        assert_string_equal(out.at, cases[i].name);
        base_buffer_clear(&out);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_have_unit_decimals_and_mark),
        cmocka_unit_test(a_reading_is_what_the_caliper_shows),
        cmocka_unit_test(places_and_names_of_values),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
