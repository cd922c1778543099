/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/bike_in.h"
#include "given.h"

#include "trade/vocabulary.h"
#include <stdlib.h>
#include <string.h>

struct given {
    struct base_faults faults;
    struct trade_names names;
    struct trade_bike bike;
    enum base_status status;
};

static void read_bytes(struct given *g, struct base_slice bytes) {
    base_faults_init(&g->faults);
    trade_names_init(&g->names);
    memset(&g->bike, 0x5a, sizeof g->bike);
    g->status = format_bike_read(&g->bike, bytes, "bike.json", &g->names, given_rules, given_rules_n, &g->faults);
}

static void read_text(struct given *g, const char *text) { read_bytes(g, base_slice_of(text)); }

static void clear(struct given *g) {
    if (g->status == BASE_OK) {
        trade_bike_clear(&g->bike);
    }
    trade_names_clear(&g->names);
    base_faults_clear(&g->faults);
}

static const struct trade_value *of(const struct given *g, enum trade_slot slot, enum trade_property property) {
    return trade_get(&g->bike.fitted[slot].part, property);
}

static void expect_number(const struct trade_value *value, double number, enum base_known known) {
    assert_int_equal(value->known, known);
    assert_true(value->number >= number && value->number <= number); /* read, not computed: the same digits */
}

static const char good[] =
    "{\"format\": 1, \"label\": \"Grey one\", \"use\": \"off_road\",\n"
    " \"frame\": {\"hub_width_mm\": 135, \"chainstay_mm\": {\"value\": 440.5, \"known\": \"table\"},\n"
    "  \"shell_width_mm\": {\"value\": 68, \"known\": \"assumed\"}, \"largest_ring_teeth\": null,\n"
    "  \"suspension\": false, \"material\": \"aluminium\", \"guide_mounts\": [\"under_cup\", \"band\"]},\n"
    " \"wheel\": {\"tyre\": \"54-622\"},\n"
    " \"fitted\": {\n"
    "  \"rings\": [{\"teeth\": 22, \"maker\": \"Orvash\"}, {\"teeth\": 44}, {\"teeth\": 32, \"maker\": \"Orvash\"}],\n"
    "  \"cassette\": {\"sprockets\": [34, 11, 13, 15], \"worn\": \"yes\", \"set\": {\"value\": \"s\", \"known\": "
    "\"table\"}},\n"
    "  \"chain\": {\"links\": 108}, \"chain_guide\": null, \"right_shifter\": {}},\n"
    " \"rider\": {\"cadence_rpm\": [90, 60]},\n"
    " \"overruled\": [{\"rule\": \"spindle-taper\", \"by\": \"K. Orve\", \"reason\": \"done before\"},\n"
    "  {\"rule\": \"stay-clearance\", \"slots\": [\"rings\", \"crank\"], \"by\": \"K\", \"reason\": \"r\"}]}\n";

static void every_value_is_kept_with_how_it_is_known(void **state) {
    (void)state;
    struct given g;
    read_text(&g, good);
    given_expect(&g.faults, "");
    assert_int_equal(g.status, BASE_OK);
    const struct trade_part *frame = &g.bike.frame;
    assert_string_equal(g.bike.label, "Grey one");
    assert_int_equal(trade_get_word(&g.bike.self, TRADE_BIKE_USE), TRADE_USE_OFF_ROAD);
    expect_number(trade_get(frame, TRADE_FRAME_HUB_WIDTH_MM), 135, BASE_MEASURED);
    expect_number(trade_get(frame, TRADE_FRAME_CHAINSTAY_MM), 440.5, BASE_TABLE);
    expect_number(trade_get(frame, TRADE_FRAME_SHELL_WIDTH_MM), 68, BASE_ASSUMED);
    assert_int_equal(trade_get(frame, TRADE_FRAME_LARGEST_RING_TEETH)->known, BASE_OPEN);
    assert_int_equal(trade_get(frame, TRADE_FRAME_LEAST_Q_MM)->known, BASE_OPEN);
    assert_int_equal(trade_get_word(frame, TRADE_FRAME_SUSPENSION), TRADE_YES_NO_NO);
    assert_int_equal(trade_get_word(frame, TRADE_FRAME_MATERIAL), TRADE_MATERIAL_ALUMINIUM);
    assert_true(trade_get(frame, TRADE_FRAME_GUIDE_MOUNTS)->words ==
                (UINT64_C(1) << TRADE_GUIDE_MOUNT_UNDER_CUP | UINT64_C(1) << TRADE_GUIDE_MOUNT_BAND));
    assert_string_equal(trade_get(&g.bike.wheel, TRADE_WHEEL_TYRE)->name, "54-622");
    assert_int_equal(of(&g, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_WORN)->word, TRADE_YES_NO_YES);
    assert_int_equal(of(&g, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SET)->known, BASE_TABLE);
    expect_number(of(&g, TRADE_SLOT_CHAIN, TRADE_CHAIN_LINKS), 108, BASE_MEASURED);
    clear(&g);
}

static void counts_come_in_rising_order(void **state) {
    (void)state;
    struct given g;
    read_text(&g, good);
    assert_int_equal(g.status, BASE_OK);
    const struct trade_counts *sprockets = of(&g, TRADE_SLOT_CASSETTE, TRADE_CASSETTE_SPROCKETS)->counts;
    static const int16_t rising[] = {11, 13, 15, 34};
    assert_int_equal(sprockets->n, 4);
    assert_memory_equal(sprockets->at, rising, sizeof rising);
    const struct trade_counts *band = trade_get(&g.bike.rider, TRADE_RIDER_CADENCE_RPM)->counts;
    assert_int_equal(band->n, 2);
    assert_int_equal(band->at[0], 60);
    assert_int_equal(band->at[1], 90);
    clear(&g);
}

static void slots_are_there_empty_or_not_looked_at(void **state) {
    (void)state;
    struct given g;
    read_text(&g, good);
    assert_int_equal(g.status, BASE_OK);
    assert_int_equal(g.bike.fitted[TRADE_SLOT_CHAIN].state, TRADE_THERE);
    assert_int_equal(g.bike.fitted[TRADE_SLOT_CHAIN_GUIDE].state, TRADE_EMPTY);
    assert_int_equal(g.bike.fitted[TRADE_SLOT_CRANK].state, TRADE_NOT_LOOKED_AT);
    /* The slot says on which side the shifter sits. */
    assert_int_equal(of(&g, TRADE_SLOT_RIGHT_SHIFTER, TRADE_SHIFTER_SIDE)->word, TRADE_SIDE_RIGHT);
    clear(&g);
}

/* The width of a tyre is the first figure of its size. */
static void the_bike_is_completed(void **state) {
    (void)state;
    struct given g;
    read_text(&g, good);
    assert_int_equal(g.status, BASE_OK);
    const struct trade_value *width = trade_get(&g.bike.wheel, TRADE_WHEEL_TYRE_WIDTH_MM);
    assert_int_not_equal(width->known, BASE_OPEN);
    assert_true(width->number >= 54 && width->number <= 54);
    clear(&g);
}

static void equal_names_are_one_pointer(void **state) {
    (void)state;
    struct given g;
    read_text(&g, good);
    assert_int_equal(g.status, BASE_OK);
    const char *outer = of(&g, TRADE_SLOT_MIDDLE_RING, TRADE_RING_MAKER)->name;
    assert_string_equal(outer, "Orvash");
    assert_ptr_equal(outer, of(&g, TRADE_SLOT_INNER_RING, TRADE_RING_MAKER)->name);
    clear(&g);
}

static void what_was_overruled_is_kept(void **state) {
    (void)state;
    struct given g;
    read_text(&g, good);
    assert_int_equal(g.status, BASE_OK);
    assert_int_equal(g.bike.n_overruled, 2);
    assert_string_equal(g.bike.overruled[0].rule, "spindle-taper");
    assert_int_equal(g.bike.overruled[0].slots, 0);
    assert_string_equal(g.bike.overruled[0].by, "K. Orve");
    assert_string_equal(g.bike.overruled[0].reason, "done before");
    assert_int_equal(g.bike.overruled[1].slots, 1u << TRADE_SLOT_CRANK | 1u << TRADE_SLOT_OUTER_RING |
                                                    1u << TRADE_SLOT_MIDDLE_RING | 1u << TRADE_SLOT_INNER_RING);
    clear(&g);
}

/* Teeth in outer, middle, inner place; 0 for an empty one, -1 for one that was not looked at. */
static void expect_rings(const char *rings, int outer, int middle, int inner) {
    const struct {
        enum trade_slot slot;
        enum trade_place place;
        int teeth;
    } expected[] = {{TRADE_SLOT_OUTER_RING, TRADE_PLACE_OUTER, outer},
                    {TRADE_SLOT_MIDDLE_RING, TRADE_PLACE_MIDDLE, middle},
                    {TRADE_SLOT_INNER_RING, TRADE_PLACE_INNER, inner}};
    char text[512];
    strcpy(text, "{\"format\": 1, \"label\": \"T\", \"frame\": {}, \"wheel\": {}, \"fitted\": {");
    strcat(text, rings);
    strcat(text, "}}");
    struct given g;
    read_text(&g, text);
    given_expect(&g.faults, "");
    for (size_t i = 0; i < 3; i++) {
        const struct trade_fitted *fitted = &g.bike.fitted[expected[i].slot];
        int teeth = expected[i].teeth;
        assert_int_equal(fitted->state, teeth < 0 ? TRADE_NOT_LOOKED_AT : teeth == 0 ? TRADE_EMPTY : TRADE_THERE);
        if (teeth > 0) {
            assert_int_equal((int)trade_get_number(&fitted->part, TRADE_RING_TEETH), teeth);
            assert_int_equal(trade_get_word(&fitted->part, TRADE_RING_PLACE), expected[i].place);
        }
    }
    clear(&g);
}

static void rings_find_their_places(void **state) {
    (void)state;
    expect_rings("", -1, -1, -1);
    expect_rings("\"rings\": null", 0, 0, 0);
    expect_rings("\"rings\": []", 0, 0, 0);
    expect_rings("\"rings\": [{\"teeth\": 32}]", 32, 0, 0);
    expect_rings("\"rings\": [{\"teeth\": 32, \"place\": \"middle\"}]", 0, 32, 0);
    expect_rings("\"rings\": [{\"teeth\": 22}, {\"teeth\": 36}]", 36, 0, 22);
    expect_rings("\"rings\": [{\"teeth\": 32}, {\"teeth\": 22}, {\"teeth\": 44}]", 44, 32, 22);
    expect_rings("\"rings\": [{\"teeth\": 44, \"place\": \"inner\"}, {\"teeth\": 22, \"place\": \"outer\"}]", 22, 0,
                 44);
    expect_rings("\"middle_ring\": {\"teeth\": 32}, \"inner_ring\": null", -1, 32, 0);
}

/* An open ring in the only place needs no teeth; of two, teeth or places must tell them apart. */
static void a_single_ring_may_be_uncounted(void **state) {
    (void)state;
    struct given g;
    read_text(&g, "{\"format\": 1, \"label\": \"T\", \"frame\": {}, \"wheel\": {}, \"fitted\": {\"rings\": [{}]}}");
    assert_int_equal(g.status, BASE_OK);
    assert_int_equal(g.bike.fitted[TRADE_SLOT_OUTER_RING].state, TRADE_THERE);
    assert_int_equal(of(&g, TRADE_SLOT_OUTER_RING, TRADE_RING_TEETH)->known, BASE_OPEN);
    clear(&g);
}

static void nothing_half_read_is_given_back(void **state) {
    (void)state;
    struct given g;
    struct trade_bike before;
    read_text(&g, "{\"format\": 1, \"label\": \"T\", \"frame\": {\"gap_mm\": 99}, \"wheel\": {}, \"fitted\": {}}");
    memset(&before, 0x5a, sizeof before);
    assert_int_equal(g.status, BASE_BAD_INPUT);
    assert_memory_equal(&g.bike, &before, sizeof before);
    assert_string_equal(g.faults.list[0].file, "bike.json");
    clear(&g);
}

/* A bike that uses the most words: none of them may be read out in full. */
static void a_long_list_of_words_is_counted_instead(void **state) {
    (void)state;
    struct given g;
    read_text(&g, "{\"format\": 1, \"label\": \"T\", \"frame\": {}, \"wheel\": {},"
                  " \"fitted\": {\"crank\": {\"mount\": \"four_arm_l04\"}}}");
    assert_int_equal(g.faults.n, 1);
    assert_string_equal(g.faults.list[0].nearest, "four_arm_104");
    char allowed[64];
    size_t n = trade_domain_rows[TRADE_DOMAIN_RING_MOUNT].n;
    assert_true(n > 12 && n < 100);
    strcpy(allowed, "one of 00 words");
    allowed[7] = (char)('0' + n / 10);
    allowed[8] = (char)('0' + n % 10);
    assert_string_equal(g.faults.list[0].allowed, allowed);
    clear(&g);
}

static void of_sixty_faults_fifty_are_kept_and_all_counted(void **state) {
    (void)state;
    struct base_buffer text;
    struct given g;
    base_buffer_init(&text, 0);
    base_buffer_text(&text, "{\"format\": 1, \"label\": \"T\", \"wheel\": {}, \"fitted\": {}, \"frame\": {");
    for (int i = 0; i < 60; i++) {
        base_buffer_text(&text, i == 0 ? "\"x" : ", \"x");
        base_buffer_int(&text, i);
        base_buffer_text(&text, "\": 1");
    }
    base_buffer_text(&text, "}}");
    read_bytes(&g, (struct base_slice){text.at, text.n});
    assert_int_equal(g.status, BASE_BAD_INPUT);
    assert_int_equal(g.faults.n, BASE_FAULTS_MAX);
    assert_int_equal(g.faults.total, 60);
    assert_string_equal(g.faults.list[0].path, "/frame/x0");
    assert_string_equal(g.faults.list[49].path, "/frame/x49");
    clear(&g);
    base_buffer_clear(&text);
}

static void faults_of_an_earlier_file_stay(void **state) {
    (void)state;
    struct given g;
    struct trade_bike bike;
    read_text(&g, "[]");
    assert_int_equal(g.faults.total, 1);
    /* A good file is good, whatever was told before. */
    assert_int_equal(
        format_bike_read(&bike, base_slice_of(good), "b.json", &g.names, given_rules, given_rules_n, &g.faults),
        BASE_OK);
    assert_int_equal(g.faults.total, 1);
    trade_bike_clear(&bike);
    clear(&g);
}

/* Numbers of several kinds that a bike file may hold: at both ends of its range one is read, beyond them told. */
static void ranges_are_those_of_the_vocabulary(void **state) {
    (void)state;
    static const struct {
        enum trade_kind kind;
        const char *before, *after;
    } rows[] = {
        {TRADE_KIND_FRAME, "\"wheel\": {}, \"fitted\": {}, \"frame\": {", "}"},
        {TRADE_KIND_WHEEL, "\"frame\": {}, \"fitted\": {}, \"wheel\": {", "}"},
        {TRADE_KIND_CRANK, "\"frame\": {}, \"wheel\": {}, \"fitted\": {\"crank\": {", "}}"},
        {TRADE_KIND_CHAIN, "\"frame\": {}, \"wheel\": {}, \"fitted\": {\"chain\": {", "}}"},
    };
    size_t tried = 0;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct trade_kind_row *kind = &trade_kind_rows[rows[i].kind];
        for (size_t k = 0; k < 4 * kind->n; k++) {
            const struct trade_property_row *row = &trade_property_rows[kind->first + k / 4];
            double step = row->type == TRADE_COUNT ? 1 : 0.001;
            double values[] = {row->low, row->high, row->low - step, row->high + step};
            if (row->type != TRADE_NUMBER && row->type != TRADE_COUNT) {
                continue;
            }
            struct base_buffer text;
            struct given g;
            base_buffer_init(&text, 0);
            base_buffer_text(&text, "{\"format\": 1, \"label\": \"T\", ");
            base_buffer_text(&text, rows[i].before);
            base_buffer_char(&text, '"');
            base_buffer_text(&text, row->name);
            base_buffer_text(&text, "\": ");
            base_buffer_double(&text, values[k % 4]);
            base_buffer_text(&text, rows[i].after);
            base_buffer_char(&text, '}');
            read_bytes(&g, (struct base_slice){text.at, text.n});
            assert_int_equal(g.status, k % 4 < 2 ? BASE_OK : BASE_BAD_INPUT);
            clear(&g);
            base_buffer_clear(&text);
            tried++;
        }
    }
    assert_true(tried > 100);
}

static void every_demo_bike_is_read(void **state) {
    (void)state;
    static const char *const folders[] = {"data/demo/bikes", "data/demo/bikes/refused"};
    for (size_t i = 0; i < 2; i++) {
        size_t n;
        char **files = given_files(folders[i], ".json", &n);
        for (size_t k = 0; k < n; k++) {
            struct base_slice bytes = given_file(files[k]);
            struct given g;
            read_bytes(&g, bytes);
            given_expect(&g.faults, "");
            assert_int_equal(g.status, BASE_OK);
            clear(&g);
            free((void *)bytes.at);
        }
        given_files_free(files, n);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_value_is_kept_with_how_it_is_known),
        cmocka_unit_test(counts_come_in_rising_order),
        cmocka_unit_test(slots_are_there_empty_or_not_looked_at),
        cmocka_unit_test(the_bike_is_completed),
        cmocka_unit_test(equal_names_are_one_pointer),
        cmocka_unit_test(what_was_overruled_is_kept),
        cmocka_unit_test(rings_find_their_places),
        cmocka_unit_test(a_single_ring_may_be_uncounted),
        cmocka_unit_test(nothing_half_read_is_given_back),
        cmocka_unit_test(a_long_list_of_words_is_counted_instead),
        cmocka_unit_test(of_sixty_faults_fifty_are_kept_and_all_counted),
        cmocka_unit_test(faults_of_an_earlier_file_stay),
        cmocka_unit_test(ranges_are_those_of_the_vocabulary),
        cmocka_unit_test(every_demo_bike_is_read),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
