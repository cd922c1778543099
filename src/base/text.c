/* SPDX-License-Identifier: Apache-2.0 */
#include "base/text.h"

#include "base/decimal.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct base_slice base_slice_of(const char *zero_terminated) {
    return (struct base_slice){.at = zero_terminated, .n = zero_terminated ? strlen(zero_terminated) : 0};
}

bool base_slice_is(struct base_slice s, const char *zero_terminated) {
    struct base_slice other = base_slice_of(zero_terminated);
    return s.n == other.n && (s.n == 0 || memcmp(s.at, other.at, s.n) == 0);
}

/* The rows are those of Unicode 15, table 3-7: what the first byte may be and what the second; further ones are 80..BF. */
size_t base_utf8_character(struct base_slice s) {
    static const struct {
        unsigned char first_low, first_high, second_low, second_high, length;
    } rows[] = {
        {0x00, 0x7f, 0x00, 0x00, 1}, {0xc2, 0xdf, 0x80, 0xbf, 2}, {0xe0, 0xe0, 0xa0, 0xbf, 3},
        {0xe1, 0xec, 0x80, 0xbf, 3}, {0xed, 0xed, 0x80, 0x9f, 3}, {0xee, 0xef, 0x80, 0xbf, 3},
        {0xf0, 0xf0, 0x90, 0xbf, 4}, {0xf1, 0xf3, 0x80, 0xbf, 4}, {0xf4, 0xf4, 0x80, 0x8f, 4},
    };
    const unsigned char *at = (const unsigned char *)s.at;
    for (size_t i = 0; s.n > 0 && i < sizeof rows / sizeof rows[0]; i++) {
        if (at[0] < rows[i].first_low || at[0] > rows[i].first_high) {
            continue;
        }
        size_t length = rows[i].length;
        if (length > s.n || (length > 1 && (at[1] < rows[i].second_low || at[1] > rows[i].second_high))) {
            return 0;
        }
        for (size_t k = 2; k < length; k++) {
            if (at[k] < 0x80 || at[k] > 0xbf) {
                return 0;
            }
        }
        return length;
    }
    return 0;
}

static struct base_slice slice_from(struct base_slice s, size_t start) {
    return (struct base_slice){.at = s.at + start, .n = s.n - start};
}

size_t base_utf8_valid(struct base_slice s) {
    size_t valid = 0;
    while (valid < s.n) {
        size_t length = base_utf8_character(slice_from(s, valid));
        if (length == 0) {
            break;
        }
        valid += length;
    }
    return valid;
}

size_t base_utf8_length(struct base_slice s) {
    size_t characters = 0;
    for (size_t i = 0; i < s.n; characters++) {
        size_t length = base_utf8_character(slice_from(s, i));
        i += length > 0 ? length : 1;
    }
    return characters;
}

bool base_take_digits(int *out, struct base_slice *text, size_t digits, int low, int high) {
    int value = 0;
    if (text->n < digits) {
        return false;
    }
    for (size_t i = 0; i < digits; i++) {
        if (text->at[i] < '0' || text->at[i] > '9') {
            return false;
        }
        value = value * 10 + (text->at[i] - '0');
    }
    text->at += digits;
    text->n -= digits;
    *out = value;
    return value >= low && value <= high;
}

bool base_take_char(struct base_slice *text, char c) {
    if (text->n == 0 || text->at[0] != c) {
        return false;
    }
    text->at++;
    text->n--;
    return true;
}

void base_buffer_init(struct base_buffer *b, size_t limit_bytes) {
    *b = (struct base_buffer){.limit = limit_bytes, .status = BASE_OK};
}

void base_buffer_clear(struct base_buffer *b) {
    free(b->at);
    base_buffer_init(b, b->limit);
}

/* Room for n more bytes and the zero behind them; false, and the status set, when there is none. */
static bool make_room(struct base_buffer *b, size_t n) {
    if (b->limit > 0 && n > b->limit - b->n) {
        b->status = BASE_LIMIT;
        return false;
    }
    if (n < b->room - b->n) {
        return true;
    }
    size_t room = b->room < 64 ? 64 : b->room;
    while (room <= SIZE_MAX / 2 && room - b->n <= n) {
        room *= 2;
    }
    char *home = room - b->n > n ? realloc(b->at, room) : NULL;
    if (!home) {
        b->status = BASE_NO_MEMORY;
        return false;
    }
    b->at = home;
    b->room = room;
    return true;
}

void base_buffer_put(struct base_buffer *b, const char *bytes, size_t n) {
    if (b->status != BASE_OK || n == 0 || !make_room(b, n)) {
        return;
    }
    memcpy(b->at + b->n, bytes, n);
    b->n += n;
    b->at[b->n] = '\0';
}

void base_buffer_text(struct base_buffer *b, const char *zero_terminated) {
    base_buffer_slice(b, base_slice_of(zero_terminated));
}

void base_buffer_slice(struct base_buffer *b, struct base_slice s) { base_buffer_put(b, s.at, s.n); }

void base_buffer_char(struct base_buffer *b, char c) { base_buffer_put(b, &c, 1); }

void base_buffer_int(struct base_buffer *b, int64_t value) {
    char text[20]; /* INT64_MIN: a sign and 19 digits */
    size_t start = sizeof text;
    uint64_t size = value < 0 ? 0 - (uint64_t)value : (uint64_t)value;
    do {
        text[--start] = (char)('0' + size % 10);
        size /= 10;
    } while (size > 0);
    if (value < 0) {
        text[--start] = '-';
    }
    base_buffer_put(b, text + start, sizeof text - start);
}

/* The digits of d whose places lie in [from, to), counted from the point: place -1 is the last whole digit, 0 the first
 * decimal. Places without a digit are '0'. */
static void put_places(struct base_buffer *b, const struct base_decimal *d, int from, int to) {
    for (int place = from; place < to; place++) {
        int i = place + d->point;
        base_buffer_char(b, i >= 0 && i < d->n ? d->digit[i] : '0');
    }
}

static void put_positional(struct base_buffer *b, const struct base_decimal *d, int decimals) {
    if (d->negative) {
        base_buffer_char(b, '-');
    }
    put_places(b, d, d->point > 0 ? -d->point : -1, 0);
    if (decimals > 0) {
        base_buffer_char(b, '.');
        put_places(b, d, 0, decimals);
    }
}

void base_buffer_fixed(struct base_buffer *b, double value, int decimals) {
    assert(decimals >= 0 && decimals <= 9);
    if (!(fabs(value) < 1e15)) {
        base_buffer_char(b, '?');
        return;
    }
    struct base_decimal d;
    base_decimal_rounded(&d, value, 15);
    base_decimal_cut(&d, d.point + decimals);
    put_positional(b, &d, decimals);
}

void base_buffer_double(struct base_buffer *b, double value) {
    if (!isfinite(value)) {
        base_buffer_text(b, "null");
        return;
    }
    struct base_decimal d;
    base_decimal_shortest(&d, value);
    if (d.n == 0 || (d.point > -6 && d.point <= 21)) {
        put_positional(b, &d, d.n > d.point ? d.n - d.point : 0);
        return;
    }
    if (d.negative) {
        base_buffer_char(b, '-');
    }
    base_buffer_char(b, d.digit[0]);
    if (d.n > 1) {
        base_buffer_char(b, '.');
        base_buffer_put(b, d.digit + 1, (size_t)d.n - 1);
    }
    base_buffer_char(b, 'e');
    base_buffer_int(b, d.point - 1);
}

static unsigned least(unsigned a, unsigned b) { return a < b ? a : b; }

/* Dynamic programming over the prefixes of a (rows) and b (columns); a row needs only the two above it. */
unsigned base_text_distance(struct base_slice a, struct base_slice b) {
    enum { LONGEST = 64, FAR_APART = 1000 };
    if (a.n > LONGEST || b.n > LONGEST) {
        return FAR_APART;
    }
    unsigned rows[3][LONGEST + 1];
    for (size_t k = 0; k <= b.n; k++) {
        rows[0][k] = (unsigned)k;
    }
    for (size_t i = 1; i <= a.n; i++) {
        unsigned *row = rows[i % 3];
        const unsigned *above = rows[(i + 2) % 3];
        const unsigned *second = rows[(i + 1) % 3];
        row[0] = (unsigned)i;
        for (size_t k = 1; k <= b.n; k++) {
            bool same = a.at[i - 1] == b.at[k - 1];
            row[k] = least(least(above[k], row[k - 1]) + 1, above[k - 1] + !same);
            if (i > 1 && k > 1 && a.at[i - 1] == b.at[k - 2] && a.at[i - 2] == b.at[k - 1]) {
                row[k] = least(row[k], second[k - 2] + 1);
            }
        }
    }
    return rows[a.n % 3][b.n];
}

int base_text_nearest(struct base_slice wanted, const char *const *words, size_t n_words) {
    size_t allowed = wanted.n / 3 > 2 ? wanted.n / 3 : 2;
    int nearest = -1;
    unsigned best = (unsigned)(wanted.n > allowed ? allowed + 1 : wanted.n);
    for (size_t i = 0; i < n_words && wanted.n <= 64; i++) {
        unsigned distance = base_text_distance(wanted, base_slice_of(words[i]));
        if (distance < best) {
            best = distance;
            nearest = (int)i;
        }
    }
    return nearest;
}

const char *base_text_markup(char c) {
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    default:
        return NULL;
    }
}
