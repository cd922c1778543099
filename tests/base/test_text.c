/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/text.h"
#include "support/failing.h"

#include <string.h>

static struct base_slice bytes(const void *at, size_t n) { return (struct base_slice){.at = at, .n = n}; }

static void slices_know_their_length(void **state) {
    (void)state;
    assert_int_equal(base_slice_of(NULL).n, 0);
    assert_int_equal(base_slice_of("ring").n, 4);
    assert_true(base_slice_is(base_slice_of("ring"), "ring"));
    assert_false(base_slice_is(base_slice_of("rings"), "ring"));
    assert_false(base_slice_is(base_slice_of("rin"), "ring"));
    assert_true(base_slice_is(bytes("rings", 4), "ring"));
    assert_true(base_slice_is(base_slice_of(NULL), ""));
    assert_false(base_slice_is(bytes("a\0b", 3), "a"));
}

/* Unicode Standard 15.0, section 3.9: tables 3-8 to 3-11 (ill-formed sequences), table 3-5 (well-formed examples), and
 * the ends of each row of table 3-7. valid is the length of the well-formed front. */
static void malformed_text_is_seen_where_it_begins(void **state) {
    (void)state;
    static const struct {
        const char *text;
        size_t n, valid, length;
    } cases[] = {
        {"\xc0\xaf\xe0\x80\xbf\xf0\x81\x82\x41", 9, 0, 9},       /* table 3-8: non-shortest forms */
        {"\xed\xa0\x80\xed\xbf\xbf\xed\xaf\x41", 9, 0, 9},       /* table 3-9: surrogates */
        {"\xf4\x91\x92\x93\xff\x41\x80\xbf\x42", 9, 0, 9},       /* table 3-10: beyond U+10FFFF, no such bytes */
        {"\xe1\x80\xe2\xf0\x91\x92\xf1\xbf\x41", 9, 0, 9},       /* table 3-11: cut off */
        {"\x4d\xd0\xb0\xe4\xba\x8c\xf0\x90\x8c\x82", 10, 10, 4}, /* table 3-5: U+004D U+0430 U+4E8C U+10302 */
        {"a\xc3\xa9\xc3", 4, 3, 3},
        {"\xc2\x80\xdf\xbf", 4, 4, 2},
        {"\xe0\xa0\x80\xed\x9f\xbf\xee\x80\x80\xef\xbf\xbf", 12, 12, 4},
        {"\xf0\x90\x80\x80\xf4\x8f\xbf\xbf", 8, 8, 2},
        {"\xf0\x8f\xbf\xbf", 4, 0, 4},
        {"\xf5\x80\x80\x80", 4, 0, 4},
        {"\xe0\x9f\xbf", 3, 0, 3},
        {"\xc1\xbf", 2, 0, 2},
        {"\x80", 1, 0, 1},
        {"\0\x7f", 2, 2, 2},
        {"", 0, 0, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_slice s = bytes(cases[i].text, cases[i].n);
        assert_int_equal(base_utf8_valid(s), cases[i].valid);
        assert_int_equal(base_utf8_length(s), cases[i].length);
    }
}

static size_t encode(unsigned char *out, uint32_t c) {
    if (c < 0x80) {
        out[0] = (unsigned char)c;
        return 1;
    }
    size_t n = c < 0x800 ? 2 : c < 0x10000 ? 3 : 4;
    for (size_t i = n; i-- > 1; c >>= 6) {
        out[i] = (unsigned char)(0x80 | (c & 0x3f));
    }
    static const unsigned char lead[] = {0, 0, 0xc0, 0xe0, 0xf0};
    out[0] = (unsigned char)(lead[n] | c);
    return n;
}

/* Section 3.9, definition D92: each scalar value has exactly one form; surrogates and what lies beyond U+10FFFF none. */
static void every_scalar_value_is_well_formed_and_no_other(void **state) {
    (void)state;
    for (uint32_t c = 0; c < 0x200000; c++) {
        unsigned char form[4];
        size_t n = encode(form, c);
        bool scalar = c <= 0x10ffff && !(c >= 0xd800 && c <= 0xdfff);
        if (base_utf8_character(bytes(form, n)) != (scalar ? n : 0) ||
            (n > 1 && base_utf8_character(bytes(form, n - 1)) != 0)) {
            fail_msg("U+%04X", (unsigned)c);
        }
    }
}

static void a_buffer_gathers_text(void **state) {
    (void)state;
    struct base_buffer b;
    base_buffer_init(&b, 0);
    assert_null(b.at);
    base_buffer_put(&b, "", 0);
    assert_null(b.at);
    base_buffer_text(&b, "ring ");
    base_buffer_text(&b, NULL);
    base_buffer_slice(&b, bytes("34T", 2));
    base_buffer_char(&b, '/');
    base_buffer_int(&b, -7);
    assert_int_equal(b.status, BASE_OK);
    assert_string_equal(b.at, "ring 34/-7");
    assert_int_equal(b.n, strlen(b.at));
    base_buffer_clear(&b);
    assert_null(b.at);
    assert_int_equal(b.n, 0);
    for (int i = 0; i < 100000; i++) {
        base_buffer_char(&b, (char)('a' + i % 26));
    }
    assert_int_equal(b.n, 100000);
    for (size_t i = 0; i < b.n; i++) {
        assert_int_equal(b.at[i], 'a' + (int)(i % 26));
    }
    base_buffer_clear(&b);
}

static void a_full_buffer_stays_as_it_was(void **state) {
    (void)state;
    struct base_buffer b;
    base_buffer_init(&b, 5);
    base_buffer_text(&b, "abc");
    base_buffer_text(&b, "def");
    assert_int_equal(b.status, BASE_LIMIT);
    base_buffer_char(&b, 'g');
    assert_string_equal(b.at, "abc");
    base_buffer_clear(&b);
    assert_int_equal(b.status, BASE_OK);
    base_buffer_text(&b, "abcde");
    assert_int_equal(b.status, BASE_OK);
    base_buffer_char(&b, 'f');
    assert_int_equal(b.status, BASE_LIMIT);
    assert_string_equal(b.at, "abcde");
    base_buffer_clear(&b);
    base_buffer_init(&b, 0);
    base_buffer_text(&b, "abc");
    base_buffer_put(&b, "x", SIZE_MAX);
    assert_int_equal(b.status, BASE_NO_MEMORY);
    assert_string_equal(b.at, "abc");
    base_buffer_clear(&b);
}

static void a_buffer_survives_any_allocation_that_fails(void **state) {
    (void)state;
    bool failed = true;
    for (long n = 0; failed; n++) {
        struct base_buffer b;
        base_buffer_init(&b, 0);
        support_fail_after(n);
        for (int i = 0; i < 1000; i++) {
            base_buffer_int(&b, i);
        }
        failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(b.status, failed ? BASE_NO_MEMORY : BASE_OK);
        assert_true(failed ? b.n < 2890 : b.n == 2890); /* 10 + 90 * 2 + 900 * 3 digits */
        base_buffer_clear(&b);
    }
}

static void whole_numbers_are_written(void **state) {
    (void)state;
    static const struct {
        int64_t value;
        const char *text;
    } cases[] = {
        {0, "0"}, {7, "7"}, {-10, "-10"}, {INT64_MAX, "9223372036854775807"}, {INT64_MIN, "-9223372036854775808"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_buffer b;
        base_buffer_init(&b, 0);
        base_buffer_int(&b, cases[i].value);
        assert_string_equal(b.at, cases[i].text);
        base_buffer_clear(&b);
    }
}

/* Published distances: kitten and sitting (V. Levenshtein's measure, the textbook pair); ca and abc, which tells this
 * distance (3) from the unrestricted one with swaps (2) (L. Boytsov, Indexing methods for approximate dictionary
 * searching, J. Exp. Algorithmics 16, 2011). */
static void distances_are_the_published_ones(void **state) {
    (void)state;
    static const struct {
        const char *a, *b;
        unsigned distance;
    } cases[] = {
        {"kitten", "sitting", 3}, {"ca", "abc", 3},    {"", "", 0},        {"", "ring", 4},
        {"ring", "ring", 0},      {"rign", "ring", 1}, {"rng", "ring", 1}, {"rings", "ring", 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_slice a = base_slice_of(cases[i].a), b = base_slice_of(cases[i].b);
        assert_int_equal(base_text_distance(a, b), cases[i].distance);
        assert_int_equal(base_text_distance(b, a), cases[i].distance);
    }
}

/* The definition, word for word, without a table. */
static unsigned by_definition(const char *a, size_t i, const char *b, size_t k) {
    if (i == 0 || k == 0) {
        return (unsigned)(i + k);
    }
    unsigned best = by_definition(a, i - 1, b, k - 1) + (a[i - 1] != b[k - 1]);
    unsigned shorter = by_definition(a, i - 1, b, k) + 1;
    unsigned longer = by_definition(a, i, b, k - 1) + 1;
    best = shorter < best ? shorter : best;
    best = longer < best ? longer : best;
    if (i > 1 && k > 1 && a[i - 1] == b[k - 2] && a[i - 2] == b[k - 1]) {
        unsigned swapped = by_definition(a, i - 2, b, k - 2) + 1;
        best = swapped < best ? swapped : best;
    }
    return best;
}

static void distances_are_those_of_the_definition(void **state) {
    (void)state;
    char a[6], b[6];
    for (unsigned i = 0; i < 3000; i++) {
        size_t n = i % 6, m = i / 6 % 6;
        for (size_t k = 0; k < 5; k++) {
            a[k] = "abc"[(i * 2654435761U >> (8 + 2 * k)) % 3];
            b[k] = "abc"[(i * 2246822519U >> (9 + 2 * k)) % 3];
        }
        assert_int_equal(base_text_distance(bytes(a, n), bytes(b, m)), by_definition(a, n, b, m));
    }
}

static void a_word_that_is_too_long_is_far_from_all(void **state) {
    (void)state;
    char word[80];
    memset(word, 'a', sizeof word);
    assert_int_equal(base_text_distance(bytes(word, 64), bytes(word, 64)), 0);
    assert_true(base_text_distance(bytes(word, 65), bytes(word, 64)) > 64);
    assert_true(base_text_distance(bytes(word, 64), bytes(word, 65)) > 64);
}

static void the_nearest_word_is_named_when_one_is_near(void **state) {
    (void)state;
    static const char *const words[] = {"hub_width_mm", "chainstay_mm", "teeth", "tooth", "bar", "bor"};
    static const size_t n = sizeof words / sizeof words[0];
    assert_int_equal(base_text_nearest(base_slice_of("hub_widht_mm"), words, n), 0);
    assert_int_equal(base_text_nearest(base_slice_of("hubwidth"), words, n), -1); /* 4 edits: too far */
    assert_int_equal(base_text_nearest(base_slice_of("chain_stay_mm"), words, n), 1);
    assert_int_equal(base_text_nearest(base_slice_of("toeth"), words, n), 2); /* one edit from both: the first */
    assert_int_equal(base_text_nearest(base_slice_of("bar"), words, n), 4);
    assert_int_equal(base_text_nearest(base_slice_of("colour"), words, n), -1);
    assert_int_equal(base_text_nearest(base_slice_of("xy"), words, n), -1); /* nothing of it would be left */
    assert_int_equal(base_text_nearest(base_slice_of(""), words, n), -1);
    assert_int_equal(base_text_nearest(base_slice_of("bar"), words, 0), -1);
    char endless[100];
    memset(endless, 'b', sizeof endless);
    assert_int_equal(base_text_nearest(bytes(endless, sizeof endless), words, n), -1);
}

/* XML 1.0 (fifth edition), 2.4: & and < are never written as they are in text; > may not be in ']]>'. */
static void signs_of_markup_are_written_out(void **state) {
    (void)state;
    assert_string_equal(base_text_markup('&'), "&amp;");
    assert_string_equal(base_text_markup('<'), "&lt;");
    assert_string_equal(base_text_markup('>'), "&gt;");
    for (int c = -128; c < 128; c++) {
        assert_int_equal(base_text_markup((char)c) != NULL, c == '&' || c == '<' || c == '>');
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(slices_know_their_length),
        cmocka_unit_test(malformed_text_is_seen_where_it_begins),
        cmocka_unit_test(every_scalar_value_is_well_formed_and_no_other),
        cmocka_unit_test(a_buffer_gathers_text),
        cmocka_unit_test(a_full_buffer_stays_as_it_was),
        cmocka_unit_test(a_buffer_survives_any_allocation_that_fails),
        cmocka_unit_test(whole_numbers_are_written),
        cmocka_unit_test(distances_are_the_published_ones),
        cmocka_unit_test(distances_are_those_of_the_definition),
        cmocka_unit_test(a_word_that_is_too_long_is_far_from_all),
        cmocka_unit_test(the_nearest_word_is_named_when_one_is_near),
        cmocka_unit_test(signs_of_markup_are_written_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
