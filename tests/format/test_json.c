/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/json.h"
#include "given.h"

#include <stdlib.h>
#include <string.h>

/* Texts that no text case can hold: other encodings, sizes. What JSON itself refuses stands in cases/json-*.case. */

static enum base_status read_bytes(struct base_slice bytes, struct base_faults *faults) {
    struct format_source source = {.file = "t.json", .faults = faults};
    json_t *root = NULL;
    enum base_status status = format_json_read(&root, bytes, &source);
    assert_true((status == BASE_OK) == (root != NULL));
    json_decref(root);
    return status;
}

static void expect(struct base_slice bytes, const char *told) {
    struct base_faults faults;
    base_faults_init(&faults);
    enum base_status status = read_bytes(bytes, &faults);
    given_expect(&faults, told);
    assert_int_equal(status, told[0] == '\0' ? BASE_OK : BASE_BAD_INPUT);
    base_faults_clear(&faults);
}

static void an_empty_file_is_told(void **state) {
    (void)state;
    expect(base_slice_of(""), "0:0 | - | an empty file | a JSON object | -\n");
    expect(base_slice_of("\n\n  "), "0:0 | - | an empty file | a JSON object | -\n");
    expect((struct base_slice){NULL, 0}, "0:0 | - | an empty file | a JSON object | -\n");
}

static void other_encodings_are_told(void **state) {
    (void)state;
    expect((struct base_slice){"\xff\xfe{\0}\0", 6}, "1:1 | - | text in UTF-16 | text in UTF-8 | -\n");
    expect((struct base_slice){"\0{\0}", 4}, "1:1 | - | text in UTF-16 | text in UTF-8 | -\n");
    expect(base_slice_of("{\"a\":\n \"L\xfcneburg\"}"), "2:4 | - | the byte FC | text in UTF-8 | -\n");
    expect(base_slice_of("{\"a\": \"\xc0\xaf\"}"), "1:8 | - | the byte C0 | text in UTF-8 | -\n");
    expect((struct base_slice){"{\"a\": \"b\0\"}", 11}, "1:9 | - | a zero byte | text in UTF-8 | -\n");
}

static void a_mark_of_byte_order_is_no_text(void **state) {
    (void)state;
    expect(base_slice_of("\xef\xbb\xbf{}"), "");
    expect(base_slice_of("\xef\xbb\xbf{,}"), "1:2 | - | , | a name in double quotes, or } behind the last value | -\n");
}

static void lines_may_end_with_cr_lf(void **state) {
    (void)state;
    expect(base_slice_of("{\"a\": 1,\r\n \"b\": 2}\r\n"), "");
    expect(base_slice_of("{\"a\": 1,\r\n \"b\" 2}\r\n"), "2:6 | - | 2 | a colon behind a name | -\n");
}

/* n brackets within each other, and as many that close them unless cut. Owned by the caller. */
static struct base_slice nested(size_t n, bool cut) {
    struct base_buffer b;
    base_buffer_init(&b, 0);
    base_buffer_text(&b, "{\"a\": ");
    for (size_t i = 1; i < n; i++) {
        base_buffer_char(&b, '[');
    }
    for (size_t i = 1; i < n && !cut; i++) {
        base_buffer_char(&b, ']');
    }
    base_buffer_char(&b, '}');
    return (struct base_slice){b.at, b.n};
}

static void deep_nesting_is_told(void **state) {
    (void)state;
    static const struct {
        size_t depth;
        bool cut;
        const char *told;
    } rows[] = {
        {FORMAT_JSON_DEPTH, false, ""},
        {FORMAT_JSON_DEPTH + 1, false, "1:38 | - | one more within these | 32 brackets within each other | -\n"},
        {200000, false, "1:38 | - | one more within these | 32 brackets within each other | -\n"},
        {200000, true, "1:38 | - | one more within these | 32 brackets within each other | -\n"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct base_slice text = nested(rows[i].depth, rows[i].cut);
        expect(text, rows[i].told);
        free((void *)text.at);
    }
}

static void brackets_in_texts_are_no_nesting(void **state) {
    (void)state;
    expect(base_slice_of("{\"a\": \"\\\"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\", \"b\": []}"), "");
}

static void a_text_of_ten_megabytes_is_read_and_of_twenty_told(void **state) {
    (void)state;
    static const size_t sizes[] = {10 * 1000 * 1000, 20 * 1000 * 1000};
    for (size_t i = 0; i < 2; i++) {
        char *text = malloc(sizes[i] + 1);
        assert_non_null(text);
        memset(text, 'x', sizes[i]);
        memcpy(text, "{\"a\": \"", 7);
        memcpy(text + sizes[i] - 2, "\"}", 3);
        expect((struct base_slice){text, sizes[i]},
               i == 0 ? "" : "0:0 | - | a larger one | a file of at most 16 MiB | -\n");
        text[sizes[0] - 2] = 'x'; /* cut off within the text, far to the right */
        expect((struct base_slice){text, sizes[0]},
               "1:10000001 | - | the end of the file | a text with a double quote at each end | -\n");
        free(text);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_file_is_told),
        cmocka_unit_test(other_encodings_are_told),
        cmocka_unit_test(a_mark_of_byte_order_is_no_text),
        cmocka_unit_test(lines_may_end_with_cr_lf),
        cmocka_unit_test(deep_nesting_is_told),
        cmocka_unit_test(brackets_in_texts_are_no_nesting),
        cmocka_unit_test(a_text_of_ten_megabytes_is_read_and_of_twenty_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
