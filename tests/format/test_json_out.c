/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/json_out.h"

#include "support/random.h"
#include <jansson.h>
#include <math.h>

static void sample(struct format_out *out) {
    format_out_object(out);
    format_out_key(out, "gears");
    format_out_array(out);
    format_out_int(out, -7);
    format_out_double(out, 0.1);
    format_out_fixed(out, 2.675, 2);
    format_out_bool(out, true);
    format_out_null(out);
    format_out_array_end(out);
    format_out_key(out, "none");
    format_out_object(out);
    format_out_object_end(out);
    format_out_key(out, "label");
    format_out_text(out, "Ørvash \"R\"");
    format_out_object_end(out);
    format_out_done(out);
}

/* Written by hand after RFC 8259. 2.675 to two decimals is 2.68, as people round the number that they read. */
static void compact_and_indented(void **state) {
    (void)state;
    static const char *const expected[] = {
        "{\"gears\":[-7,0.1,2.68,true,null],\"none\":{},\"label\":\"Ørvash \\\"R\\\"\"}\n",
        "{\n  \"gears\": [\n    -7,\n    0.1,\n    2.68,\n    true,\n    null\n  ],\n  \"none\": {},\n"
        "  \"label\": \"Ørvash \\\"R\\\"\"\n}\n"};
    for (int indent = 0; indent < 2; indent++) {
        struct base_buffer b;
        struct format_out out;
        base_buffer_init(&b, 0);
        format_out_init(&out, &b, indent == 1);
        sample(&out);
        assert_string_equal(b.at, expected[indent]);
        base_buffer_clear(&b);
    }
}

static void expect_text(struct base_slice text, const char *written) {
    struct base_buffer b;
    struct format_out out;
    base_buffer_init(&b, 0);
    format_out_init(&out, &b, false);
    format_out_slice(&out, text);
    assert_string_equal(b.at, written);
    base_buffer_clear(&b);
}

static void texts_are_escaped(void **state) {
    (void)state;
    expect_text(base_slice_of("a\"b\\c/d"), "\"a\\\"b\\\\c/d\"");
    expect_text(base_slice_of("\n\r\t\x01\x1f\x7f"), "\"\\n\\r\\t\\u0001\\u001f\x7f\"");
    expect_text((struct base_slice){"a\0b", 3}, "\"a\\u0000b\"");
    expect_text(base_slice_of("ä€😀"), "\"ä€😀\"");
    expect_text(base_slice_of("a\xff\xc3z"), "\"a\xef\xbf\xbd\xef\xbf\xbdz\"");
    expect_text(base_slice_of(""), "\"\"");
}

static void numbers_that_are_none_are_null(void **state) {
    (void)state;
    struct base_buffer b;
    struct format_out out;
    base_buffer_init(&b, 0);
    format_out_init(&out, &b, false);
    format_out_array(&out);
    format_out_double(&out, NAN);
    format_out_double(&out, INFINITY);
    format_out_fixed(&out, NAN, 1);
    format_out_fixed(&out, 1e15, 1);
    format_out_text(&out, NULL);
    format_out_array_end(&out);
    assert_string_equal(b.at, "[null,null,null,null,null]");
    base_buffer_clear(&b);
}

static json_t *random_text(struct random_source *random, struct base_buffer *text) {
    static const char *const pieces[] = {"a", "\"", "\\", "\n", "/", "ß", "€", "😀", "\x1b", "{", ",", " "};
    base_buffer_init(text, 0);
    for (int i = random_int(random, 0, 6); i > 0; i--) {
        base_buffer_text(text, pieces[random_int(random, 0, sizeof pieces / sizeof pieces[0] - 1)]);
    }
    return json_stringn(text->at ? text->at : "", text->n);
}

/* The same random value to the writer and to the library's tree. */
static json_t *both(struct format_out *out, struct random_source *random, int depth) {
    json_t *tree;
    struct base_buffer text;
    int64_t whole = (int64_t)random_bits(random) >> random_int(random, 0, 63);
    double real = random_between(random, -1, 1) * pow(10, random_int(random, -300, 300));
    int n = random_int(random, 0, 4);
    switch (random_int(random, 0, depth > 0 ? 6 : 4)) {
    case 0:
        format_out_int(out, whole);
        return json_integer(whole);
    case 1:
        format_out_double(out, real);
        return json_real(real);
    case 2:
        format_out_bool(out, n > 2);
        return json_boolean(n > 2);
    case 3:
        format_out_null(out);
        return json_null();
    case 4:
        tree = random_text(random, &text);
        format_out_slice(out, (struct base_slice){text.at, text.n});
        base_buffer_clear(&text);
        return tree;
    case 5:
        tree = json_array();
        format_out_array(out);
        for (int i = 0; i < n; i++) {
            json_array_append_new(tree, both(out, random, depth - 1));
        }
        format_out_array_end(out);
        return tree;
    default:
        tree = json_object();
        format_out_object(out);
        for (int i = 0; i < n; i++) {
            char key[] = "k\"é0";
            key[4] = (char)('0' + i);
            format_out_key(out, key);
            json_object_set_new(tree, key, both(out, random, depth - 1));
        }
        format_out_object_end(out);
        return tree;
    }
}

/* Reals compare by number: the library writes 100.0 where the shortest digits are 100, and reads that as an integer. */
static bool same(const json_t *a, const json_t *b) {
    if (json_is_number(a) && json_is_number(b)) {
        return json_is_integer(a) && json_is_integer(b)
                   ? json_integer_value(a) == json_integer_value(b)
                   : !(json_number_value(a) < json_number_value(b) || json_number_value(a) > json_number_value(b));
    }
    if (json_typeof(a) != json_typeof(b)) {
        return false;
    }
    if (json_is_array(a)) {
        bool is_same = json_array_size(a) == json_array_size(b);
        for (size_t i = 0; is_same && i < json_array_size(a); i++) {
            is_same = same(json_array_get(a, i), json_array_get(b, i));
        }
        return is_same;
    }
    if (json_is_object(a)) {
        bool is_same = json_object_size(a) == json_object_size(b);
        const char *key;
        json_t *value;
        json_object_foreach((json_t *)a, key, value) {
            is_same = is_same && json_object_get(b, key) && same(value, json_object_get(b, key));
        }
        return is_same;
    }
    return json_equal(a, b);
}

static void another_reader_reads_what_was_meant(void **state) {
    (void)state;
    struct random_source random = {.state = 8259};
    for (int round = 0; round < 3000; round++) {
        struct base_buffer b;
        struct format_out out;
        base_buffer_init(&b, 0);
        format_out_init(&out, &b, round % 2 == 1);
        format_out_array(&out);
        json_t *meant = json_pack("[o]", both(&out, &random, 4));
        format_out_array_end(&out);
        format_out_done(&out);
        assert_int_equal(b.status, BASE_OK);
        assert_int_equal(b.at[b.n - 1], '\n');
        json_error_t error;
        json_t *read = json_loadb(b.at, b.n, JSON_REJECT_DUPLICATES, &error);
        if (!read || !same(meant, read)) {
            fail_msg("round %d: %s\n%s", round, read ? "another value" : error.text, b.at);
        }
        json_decref(meant);
        json_decref(read);
        base_buffer_clear(&b);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(compact_and_indented),
        cmocka_unit_test(texts_are_escaped),
        cmocka_unit_test(numbers_that_are_none_are_null),
        cmocka_unit_test(another_reader_reads_what_was_meant),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
