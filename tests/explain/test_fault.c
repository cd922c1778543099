/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "explain/fault.h"

/* The three lines that the project has set as the pattern of all, then what else the readers tell. */
static void faults_read_as_one_line(void **state) {
    (void)state;
    static const struct {
        struct base_fault fault;
        const char *reads;
    } cases[] = {
        {{.file = "bike.json",
          .path = "/frame/hub_width_mm",
          .found = "1350",
          .allowed = "100 to 200",
          .nearest = "135.0"},
         "bike.json: /frame/hub_width_mm: found 1350, allowed 100 to 200. Is it 135.0?"},
        {{.file = "bike.json",
          .path = "/fitted/cassette/sproket",
          .allowed = "a property of cassette",
          .nearest = "sprockets"},
         "bike.json: /fitted/cassette/sproket: unknown. Did you mean sprockets?"},
        {{.file = "rings.csv",
          .line = 14,
          .column = 6,
          .path = "teeth",
          .found = "\"3O\"",
          .allowed = "a whole number from 16 to 62"},
         "rings.csv:14:6: teeth: found \"3O\", a whole number from 16 to 62 is allowed."},
        {{.file = "-", .path = "/frame/stand", .allowed = "a property of frame"},
         "-: /frame/stand: unknown, a property of frame is allowed."},
        {{.file = "wish.json", .line = 3, .column = 12, .found = "the end of the file", .allowed = "a comma or }"},
         "wish.json:3:12: found the end of the file, a comma or } is allowed."},
        {{.file = "ring.csv", .line = 9, .found = "5 fields", .allowed = "4 fields, as in the first line"},
         "ring.csv:9: found 5 fields, allowed 4 fields, as in the first line."},
        {{.file = "ring.csv",
          .line = 1,
          .column = 1,
          .path = "theeth",
          .found = "it twice",
          .allowed = "each column once"},
         "ring.csv:1:1: theeth: found it twice, allowed: each column once."},
        {{.file = "bike.json",
          .path = "/frame/material",
          .found = "\"steal\"",
          .allowed = "one of steel, aluminium, carbon, titanium",
          .nearest = "steel"},
         "bike.json: /frame/material: found \"steal\", one of steel, aluminium, carbon, titanium is allowed. Did you "
         "mean steel?"},
        {{.file = "bike.json",
          .path = "/frame/gap_mm",
          .found = "\"3,5\"",
          .allowed = "a number from 0 to 20",
          .nearest = "3.5"},
         "bike.json: /frame/gap_mm: found \"3,5\", a number from 0 to 20 is allowed. Is it 3.5?"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_buffer out;
        base_buffer_init(&out, 0);
        explain_fault(&out, &cases[i].fault);
        assert_int_equal(out.status, BASE_OK);
        assert_string_equal(out.at, cases[i].reads);
        base_buffer_clear(&out);
    }
}

static void faults_beyond_the_list_are_counted(void **state) {
    (void)state;
    struct base_faults faults;
    struct base_buffer out;
    base_faults_init(&faults);
    base_buffer_init(&out, 0);
    for (int i = 0; i < BASE_FAULTS_MAX; i++) {
        base_faults_add(&faults, &(struct base_fault){.file = "ring.csv", .allowed = "a ring"});
    }
    explain_faults_left(&out, &faults);
    assert_int_equal(out.n, 0);
    base_faults_add(&faults, &(struct base_fault){.file = "ring.csv", .allowed = "a ring"});
    explain_faults_left(&out, &faults);
    assert_string_equal(out.at, "1 more line like these.");
    base_buffer_clear(&out);
    base_faults_clear(&faults);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(faults_read_as_one_line),
        cmocka_unit_test(faults_beyond_the_list_are_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
