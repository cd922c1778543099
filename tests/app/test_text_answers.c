/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "app/text.h"

#include <math.h>
#include <string.h>

static const struct app_style utf8 = {.colour = false};

static struct trade_bike bike;

static int make_bike(void **state) {
    (void)state;
    if (trade_bike_init(&bike) != BASE_OK) {
        return -1;
    }
    bike.label = "Quillmoor trail, grey, M";
    return 0;
}

static int drop_bike(void **state) {
    (void)state;
    trade_bike_clear(&bike);
    return 0;
}

static void assert_page(struct base_buffer *out, const char *wanted) {
    assert_int_equal(out->status, BASE_OK);
    assert_string_equal(out->at, wanted);
    base_buffer_clear(out);
}

/* Three gears of a wheel that rolls 2281 mm: 22/36, 36/36 and 36/32. Developments and steps by definition. */
static void gears_rise_in_columns_and_say_what_repeats(void **state) {
    (void)state;
    struct base_buffer out;
    struct mech_gear gears[] = {{22, 36, 22 / 36.0}, {36, 36, 1}, {36, 35, 36 / 35.0}, {36, 32, 1.125}};
    double metres[] = {1.3939, 2.281, 2.3462, 2.5661};
    double steps[] = {63.636, 2.857, 9.375};
    struct app_gears answer = {.gears = gears,
                               .development_m = metres,
                               .steps_percent = steps,
                               .n = 4,
                               .repeats = 1,
                               .differ = 3,
                               .range_percent = 184.09,
                               .lowest_m = 1.3939,
                               .highest_m = 2.5661,
                               .rings = 2};
    base_buffer_init(&out, 0);
    app_text_gears(&out, &utf8, &bike, &answer);
    assert_page(&out, "Quillmoor trail, grey, M\n\n"
                      "Which gears has it now?\n\n"
                      "   4 gears, 3 that differ; 1.394 to 2.566 m a turn, 184.1 %.\n\n"
                      "   22/36  1.394 m           36/35  2.346 m   same\n"
                      "   36/36  2.281 m   64 %    36/32  2.566 m    9 %\n\n"
                      "   Step to the gear before; \"same\" where it is under 5 %. One pair repeats.\n");
}

static void one_ring_is_a_row_of_sprockets(void **state) {
    (void)state;
    struct base_buffer out;
    struct mech_gear gears[] = {{32, 46, 32 / 46.0}, {32, 39, 32 / 39.0}, {32, 33, 32 / 33.0}};
    double metres[] = {1.5868, 1.8716, 2.2119}, steps[] = {17.949, 18.182};
    struct app_gears answer = {.gears = gears,
                               .development_m = metres,
                               .steps_percent = steps,
                               .n = 3,
                               .differ = 3,
                               .range_percent = 139.39,
                               .lowest_m = 1.5868,
                               .highest_m = 2.2119,
                               .known = BASE_TABLE,
                               .rings = 1};
    base_buffer_init(&out, 0);
    app_text_gears(&out, &utf8, &bike, &answer);
    assert_page(&out, "Quillmoor trail, grey, M\n\n"
                      "Which gears has it now?\n\n"
                      "   3 gears, all different; 1.587* to 2.212 m* a turn, 139.4 %.\n\n"
                      "     sprocket      46   39   33\n"
                      "     m a turn    1.59 1.87 2.21\n"
                      "     step, %            18   18\n");
}

/* What can't be told says what it waits for, where that stands in the bike's file, and how it is measured. */
static void an_open_answer_says_what_it_waits_for(void **state) {
    (void)state;
    struct base_buffer out;
    struct app_gears answer = {.range_percent = NAN, .lowest_m = NAN, .highest_m = NAN};
    answer.open.n = 1;
    answer.open.at[0].subject = TRADE_SLOT_CASSETTE;
    answer.open.at[0].property = TRADE_CASSETTE_SPROCKETS;
    base_buffer_init(&out, 0);
    app_text_gears(&out, &utf8, &bike, &answer);
    assert_page(&out, "Quillmoor trail, grey, M\n\n"
                      "Which gears has it now?\n\n"
                      "   It can't be told yet.\n\n"
                      "   One value is open; with it the answer is whole:\n"
                      "   - /fitted/cassette/sprockets: Mark one tooth, count the largest and the\n"
                      "     smallest, then all.\n");
}

static void faults_are_one_line_each(void **state) {
    (void)state;
    struct base_faults faults;
    struct base_buffer out;
    base_faults_init(&faults);
    base_buffer_init(&out, 0);
    base_faults_add(&faults, &(struct base_fault){.file = "bike.json",
                                                  .path = "/frame/hub_width_mm",
                                                  .found = "1350",
                                                  .allowed = "100 to 200",
                                                  .nearest = "135.0"});
    base_faults_add(&faults, &(struct base_fault){.file = "rings.csv",
                                                  .line = 14,
                                                  .column = 6,
                                                  .path = "teeth",
                                                  .found = "\"3O\"",
                                                  .allowed = "a whole number from 16 to 62"});
    app_text_faults(&out, &faults);
    assert_page(&out, "bike.json: /frame/hub_width_mm: found 1350, allowed 100 to 200. Is it 135.0?\n"
                      "rings.csv:14:6: teeth: found \"3O\", a whole number from 16 to 62 is allowed.\n");
    base_faults_clear(&faults);
}

/* Every rule, property, slot, kind and word can be asked for, and nothing else. */
static void whatever_has_a_name_is_explained(void **state) {
    (void)state;
    struct base_buffer out;
    base_buffer_init(&out, 0);
    for (size_t r = 0; r < fit_rules_n; r++) {
        assert_true(app_text_explain(&out, &utf8, base_slice_of(fit_rules[r]->id)));
        for (size_t i = 0; i < FIT_REASONS_MAX && fit_rules[r]->reasons[i]; i++) {
            assert_true(app_text_explain(&out, &utf8, base_slice_of(fit_rules[r]->reasons[i])));
        }
    }
    for (size_t p = 0; p < TRADE_PROPERTIES; p++) {
        assert_true(app_text_explain(&out, &utf8, base_slice_of(trade_property_rows[p].name)));
    }
    for (size_t s = 0; s < TRADE_SLOTS; s++) {
        assert_true(app_text_explain(&out, &utf8, base_slice_of(trade_slot_rows[s].name)));
    }
    for (size_t d = 0; d < TRADE_DOMAINS; d++) {
        for (size_t w = 0; w < trade_domain_rows[d].n; w++) {
            assert_true(app_text_explain(&out, &utf8, base_slice_of(trade_domain_rows[d].words[w].word)));
        }
    }
    static const char *const others[] = {"stays", "keep", "[:]", "*", "~", "way", "frame.gap_mm", "rules", "kinds"};
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        assert_true(app_text_explain(&out, &utf8, base_slice_of(others[i])));
    }
    assert_null(strstr(out.at, "{"));
    base_buffer_clear(&out);
    assert_false(app_text_explain(&out, &utf8, base_slice_of("frame.teeth")));
    assert_false(app_text_explain(&out, &utf8, base_slice_of("")));
    assert_int_equal(out.n, 0);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gears_rise_in_columns_and_say_what_repeats), cmocka_unit_test(one_ring_is_a_row_of_sprockets),
        cmocka_unit_test(an_open_answer_says_what_it_waits_for),      cmocka_unit_test(faults_are_one_line_each),
        cmocka_unit_test(whatever_has_a_name_is_explained),
    };
    return cmocka_run_group_tests(tests, make_bike, drop_bike);
}
