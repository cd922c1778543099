/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "format/csv.h"
#include "given.h"

#include "support/random.h"
#include <stdlib.h>
#include <string.h>

static struct base_slice bytes_of(const char *text) { return base_slice_of(text); }

/* Reads all records and writes each field as line:column(text), a line a record. */
static enum base_status dump(struct base_buffer *out, struct base_slice bytes, struct base_faults *faults) {
    struct format_source source = {.file = "t.csv", .faults = faults};
    struct format_csv csv;
    enum base_status status = format_csv_init(&csv, bytes, &source, "a table");
    if (status != BASE_OK) {
        return status;
    }
    while ((status = format_csv_next(&csv)) == BASE_OK) {
        for (size_t i = 0; i < csv.n; i++) {
            base_buffer_int(out, csv.fields[i].line);
            base_buffer_char(out, ':');
            base_buffer_int(out, format_csv_column(&csv.fields[i]));
            base_buffer_char(out, '(');
            base_buffer_slice(out, csv.fields[i].text);
            base_buffer_char(out, ')');
        }
        base_buffer_char(out, '\n');
    }
    format_csv_clear(&csv);
    return status;
}

static void expect(struct base_slice bytes, const char *records, const char *told) {
    struct base_faults faults;
    struct base_buffer out;
    base_faults_init(&faults);
    base_buffer_init(&out, 0);
    enum base_status status = dump(&out, bytes, &faults);
    given_expect(&faults, told);
    assert_string_equal(out.at ? out.at : "", records);
    assert_true(status == BASE_NO || faults.n > 0);
    base_buffer_clear(&out);
    base_faults_clear(&faults);
}

/* The examples of RFC 4180, section 2, rules 1 to 7, with lines ended as it says and as most systems end them. */
static void the_rules_of_rfc_4180(void **state) {
    (void)state;
    const char *plain = "1:1(aaa)1:5(bbb)1:9(ccc)\n2:1(zzz)2:5(yyy)2:9(xxx)\n";
    expect(bytes_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), plain, "");
    expect(bytes_of("aaa,bbb,ccc\r\nzzz,yyy,xxx"), plain, "");
    expect(bytes_of("aaa,bbb,ccc\nzzz,yyy,xxx\n"), plain, "");
    expect(bytes_of("\"aaa\",\"bbb\",\"ccc\"\nzzz,yyy,xxx\n"), "1:1(aaa)1:7(bbb)1:13(ccc)\n2:1(zzz)2:5(yyy)2:9(xxx)\n",
           "");
    expect(bytes_of("\"aaa\",\"b\r\nbb\",\"ccc\"\nzzz,yyy,xxx\n"),
           "1:1(aaa)1:7(b\r\nbb)2:5(ccc)\n3:1(zzz)3:5(yyy)3:9(xxx)\n", "");
    expect(bytes_of("\"aaa\",\"b\"\"bb\",\"ccc\""), "1:1(aaa)1:7(b\"bb)1:15(ccc)\n", "");
}

static void empty_fields_and_empty_lines(void **state) {
    (void)state;
    expect(bytes_of("\n\na,,\n\r\n,b,\"\"\n\n"), "3:1(a)3:3()3:4()\n5:1()5:2(b)5:4()\n", "");
    expect(bytes_of("a,"), "1:1(a)1:3()\n", "");
    expect(bytes_of("\"\"\"\"\n"), "1:1(\")\n", "");
    expect(bytes_of(" a , b "), "1:1( a )1:5( b )\n", "");
}

static void a_mark_of_byte_order_is_no_text(void **state) {
    (void)state;
    expect(bytes_of("\xef\xbb\xbf"
                    "a,b\n"),
           "1:1(a)1:3(b)\n", "");
    expect(bytes_of("\xef\xbb\xbf"), "", "0:0 | - | an empty file | a table | -\n");
}

static void columns_count_characters(void **state) {
    (void)state;
    expect(bytes_of("ä€😀,b,\"ö,\n€\",c\n"), "1:1(ä€😀)1:5(b)1:7(ö,\n€)2:4(c)\n", "");
}

static void what_is_no_text_in_utf8(void **state) {
    (void)state;
    expect(bytes_of(""), "", "0:0 | - | an empty file | a table | -\n");
    expect(bytes_of(" \n\r\n\t"), "", "0:0 | - | an empty file | a table | -\n");
    expect(bytes_of("id\nr\xe5ng\n"), "", "2:2 | - | the byte E5 | text in UTF-8 | -\n");
    expect(bytes_of("id\n\xc3\xa4\xed\xa0\x80\n"), "", "2:2 | - | the byte ED | text in UTF-8 | -\n");
    expect((struct base_slice){"\xff\xfei\0d\0", 6}, "", "1:1 | - | text in UTF-16 | text in UTF-8 | -\n");
    expect((struct base_slice){"\xfe\xff\0i\0d", 6}, "", "1:1 | - | text in UTF-16 | text in UTF-8 | -\n");
    expect((struct base_slice){"i\0d\0", 4}, "", "1:1 | - | text in UTF-16 | text in UTF-8 | -\n");
    expect((struct base_slice){"id\nr\0-1\n", 8}, "", "2:2 | - | a zero byte | text in UTF-8 | -\n");
}

/* Old systems' line ends would make one long line of a file. */
static void a_carriage_return_alone_is_told(void **state) {
    (void)state;
    expect(bytes_of("a,b\nc\rd\n1,2\n"), "1:1(a)1:3(b)\n3:1(1)3:3(2)\n",
           "2:2 | - | a carriage return alone | lines that end with LF or CR LF | -\n");
    /* At the very end, in a block that ends there too. */
    char *end = malloc(2);
    assert_non_null(end);
    memcpy(end, "a\r", 2);
    expect((struct base_slice){end, 2}, "",
           "1:2 | - | a carriage return alone | lines that end with LF or CR LF | -\n");
    free(end);
}

static void nothing_is_read_behind_a_faulty_first_line(void **state) {
    (void)state;
    expect(bytes_of("a,b\"\nc,d\ne\n"), "",
           "1:4 | - | a quote within a field | quotes round the whole field, doubled within it | -\n");
}

/* A text of this many bytes: before, then filler, then behind. Owned by the caller. */
static struct base_slice long_text(const char *before, size_t filler, const char *behind) {
    struct base_buffer b;
    base_buffer_init(&b, 0);
    base_buffer_text(&b, before);
    char *block = malloc(filler);
    assert_non_null(block);
    memset(block, 'x', filler);
    base_buffer_put(&b, block, filler);
    free(block);
    base_buffer_text(&b, behind);
    assert_int_equal(b.status, BASE_OK);
    return (struct base_slice){.at = b.at, .n = b.n};
}

static void expect_long(const char *before, size_t filler, const char *behind, const char *records, const char *told) {
    struct base_slice text = long_text(before, filler, behind);
    expect(text, records, told);
    free((void *)text.at);
}

static void a_line_of_ten_megabytes_is_told(void **state) {
    (void)state;
    const size_t ten = 10 * 1000 * 1000;
    expect_long("a\n", ten, "\nb\n", "1:1(a)\n3:1(b)\n", "2:0 | - | a longer line | lines of at most 1 MiB | -\n");
    expect_long("a\n", ten, "", "1:1(a)\n", "2:0 | - | a longer line | lines of at most 1 MiB | -\n");
    expect_long("a\n\"\n", ten, "\"\nb\n", "1:1(a)\n",
                "2:1 | - | a quote that is never closed | a field with a quote at each end, of at most 1 MiB | -\n");
}

static void a_line_of_one_mebibyte_is_read(void **state) {
    (void)state;
    struct base_slice text = long_text("", FORMAT_CSV_RECORD - 1, "\nb\n");
    struct base_faults faults;
    base_faults_init(&faults);
    struct format_source source = {.file = "t.csv", .faults = &faults};
    struct format_csv csv;
    assert_int_equal(format_csv_init(&csv, text, &source, "a table"), BASE_OK);
    assert_int_equal(format_csv_next(&csv), BASE_OK);
    assert_int_equal(csv.fields[0].text.n, FORMAT_CSV_RECORD - 1);
    assert_int_equal(format_csv_next(&csv), BASE_OK);
    assert_int_equal(format_csv_next(&csv), BASE_NO);
    assert_int_equal(faults.total, 0);
    format_csv_clear(&csv);
    free((void *)text.at);
}

static void a_file_of_more_than_256_mebibytes_is_told(void **state) {
    (void)state;
    /* Only the length is looked at. */
    expect((struct base_slice){"a\n", (size_t)256 * 1024 * 1024 + 1}, "",
           "0:0 | - | a larger one | a file of at most 256 MiB | -\n");
}

static void more_than_256_fields_are_told(void **state) {
    (void)state;
    char line[600];
    size_t n = 0;
    for (int i = 0; i < FORMAT_CSV_FIELDS; i++) {
        line[n++] = 'a';
        line[n++] = ',';
    }
    line[n - 1] = '\n'; /* 256 fields */
    line[n] = '\0';
    struct base_faults faults;
    struct base_buffer out;
    base_faults_init(&faults);
    base_buffer_init(&out, 0);
    assert_int_equal(dump(&out, bytes_of(line), &faults), BASE_NO);
    assert_int_equal(faults.total, 0);
    base_buffer_clear(&out);
    strcpy(line + n - 1, ",a\n");
    expect(bytes_of(line), "", "1:513 | - | more fields | at most 256 fields in a line | -\n");
    base_faults_clear(&faults);
}

static void of_sixty_faults_fifty_are_kept_and_all_counted(void **state) {
    (void)state;
    struct base_buffer text, out;
    struct base_faults faults;
    base_buffer_init(&text, 0);
    base_buffer_init(&out, 0);
    base_faults_init(&faults);
    base_buffer_text(&text, "a,b\n");
    for (int i = 0; i < 60; i++) {
        base_buffer_text(&text, "1\n");
    }
    base_buffer_text(&text, "1,2\n");
    assert_int_equal(dump(&out, (struct base_slice){text.at, text.n}, &faults), BASE_NO);
    assert_int_equal(faults.n, 50);
    assert_int_equal(faults.total, 60);
    assert_int_equal(faults.list[49].line, 51);
    assert_string_equal(out.at, "1:1(a)1:3(b)\n62:1(1)62:3(2)\n");
    base_buffer_clear(&text);
    base_buffer_clear(&out);
    base_faults_clear(&faults);
}

static void put_random_field(struct base_buffer *b, struct random_source *random) {
    static const char *const pieces[] = {"a", "\"", ",", "\n", "\r\n", " ", "ä", "12", "'", ";", "\r"};
    for (int i = random_int(random, 0, 5); i > 0; i--) {
        base_buffer_text(b, pieces[random_int(random, 0, sizeof pieces / sizeof pieces[0] - 1)]);
    }
}

/* Whatever a field holds, what is written reads back as the same. */
static void what_is_written_reads_back(void **state) {
    (void)state;
    struct random_source random = {.state = 4180};
    for (int round = 0; round < 2000; round++) {
        struct base_buffer field[4], line;
        struct base_faults faults;
        base_faults_init(&faults);
        base_buffer_init(&line, 0);
        base_buffer_text(&line, "x");
        for (int i = 0; i < 4; i++) {
            base_buffer_init(&field[i], 0);
            put_random_field(&field[i], &random);
            base_buffer_char(&line, ',');
            format_csv_put(&line, (struct base_slice){field[i].at, field[i].n});
        }
        base_buffer_char(&line, '\n');
        struct format_source source = {.file = "t.csv", .faults = &faults};
        struct format_csv csv;
        assert_int_equal(format_csv_init(&csv, (struct base_slice){line.at, line.n}, &source, ""), BASE_OK);
        assert_int_equal(format_csv_next(&csv), BASE_OK);
        assert_int_equal(csv.n, 5);
        for (int i = 0; i < 4; i++) {
            assert_int_equal(csv.fields[i + 1].text.n, field[i].n);
            if (field[i].n > 0) {
                assert_memory_equal(csv.fields[i + 1].text.at, field[i].at, field[i].n);
            }
            base_buffer_clear(&field[i]);
        }
        assert_int_equal(format_csv_next(&csv), BASE_NO);
        assert_int_equal(faults.total, 0);
        format_csv_clear(&csv);
        base_buffer_clear(&line);
    }
}

static void plain_fields_are_written_without_quotes(void **state) {
    (void)state;
    static const struct {
        const char *text, *written;
    } rows[] = {{"", ""},           {"ring-32", "ring-32"}, {"12.50", "12.50"}, {"a b", "a b"},
                {"a,b", "\"a,b\""}, {"a\"b", "\"a\"\"b\""}, {" a", "\" a\""},   {"a ", "\"a \""}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct base_buffer out;
        base_buffer_init(&out, 0);
        format_csv_put(&out, bytes_of(rows[i].text));
        assert_string_equal(out.at ? out.at : "", rows[i].written);
        base_buffer_clear(&out);
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rules_of_rfc_4180),
        cmocka_unit_test(empty_fields_and_empty_lines),
        cmocka_unit_test(a_mark_of_byte_order_is_no_text),
        cmocka_unit_test(columns_count_characters),
        cmocka_unit_test(what_is_no_text_in_utf8),
        cmocka_unit_test(a_carriage_return_alone_is_told),
        cmocka_unit_test(nothing_is_read_behind_a_faulty_first_line),
        cmocka_unit_test(a_line_of_ten_megabytes_is_told),
        cmocka_unit_test(a_line_of_one_mebibyte_is_read),
        cmocka_unit_test(a_file_of_more_than_256_mebibytes_is_told),
        cmocka_unit_test(more_than_256_fields_are_told),
        cmocka_unit_test(of_sixty_faults_fifty_are_kept_and_all_counted),
        cmocka_unit_test(what_is_written_reads_back),
        cmocka_unit_test(plain_fields_are_written_without_quotes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
