/* SPDX-License-Identifier: Apache-2.0 */
#include "format/climbs_in.h"

#include "base/number.h"
#include "format/place.h"

#include <string.h>

#define ALLOWED "a climb such as 14 % for 600 m, from -35 to 35 % and 10 m to 100 km long"

static void skip_blanks(struct base_slice *s) {
    while (s->n > 0 && s->at[0] == ' ') {
        s->at++;
        s->n--;
    }
}

/* Takes a word off the front, and the blanks before it. */
static bool take_word(struct base_slice *s, const char *word) {
    size_t n = strlen(word);
    skip_blanks(s);
    if (s->n < n || memcmp(s->at, word, n) != 0) {
        return false;
    }
    s->at += n;
    s->n -= n;
    return true;
}

static bool take_number(double *out, struct base_slice *s) {
    size_t n = 0;
    skip_blanks(s);
    while (n < s->n && ((s->at[n] >= '0' && s->at[n] <= '9') || s->at[n] == '.' || s->at[n] == '-')) {
        n++;
    }
    if (base_number_read(out, (struct base_slice){s->at, n}) != BASE_OK) {
        return false;
    }
    s->at += n;
    s->n -= n;
    return true;
}

static bool read_climb(struct ride_cell *out, struct base_slice s) {
    double percent, length;
    if (!take_number(&percent, &s)) {
        return false;
    }
    (void)take_word(&s, "%");
    (void)take_word(&s, "for");
    if (!take_number(&length, &s)) {
        return false;
    }
    double metres = take_word(&s, "km") ? 1000.0 * length : take_word(&s, "m") ? length : 0.0;
    skip_blanks(&s);
    *out = (struct ride_cell){.length_m = metres, .gradient = percent / 100.0};
    return s.n == 0 && metres >= FORMAT_CLIMB_LEAST_M && metres <= FORMAT_CLIMB_MOST_M &&
           out->gradient >= -RIDE_GRADIENT_MOST && out->gradient <= RIDE_GRADIENT_MOST;
}

static void tell(const struct format_source *source, struct base_slice item, const char *allowed) {
    struct base_buffer found;
    base_buffer_init(&found, 0);
    base_buffer_char(&found, '"');
    base_buffer_slice(&found, item);
    base_buffer_char(&found, '"');
    format_fault_line(source, 0, 0, format_text(&found), allowed);
    base_buffer_clear(&found);
}

enum base_status format_climbs_read(struct ride_cell *out, size_t *n, struct base_slice text, const char *source,
                                    struct base_faults *faults) {
    const struct format_source where = {.file = source, .faults = faults};
    struct ride_cell climbs[FORMAT_CLIMBS_MAX];
    size_t count = 0, before = faults->total;
    for (struct base_slice rest = text; rest.at; count++) {
        const char *comma = memchr(rest.at, ',', rest.n);
        struct base_slice item = {rest.at, comma ? (size_t)(comma - rest.at) : rest.n};
        rest = comma ? (struct base_slice){comma + 1, rest.n - item.n - 1} : (struct base_slice){NULL, 0};
        skip_blanks(&item);
        if (count == FORMAT_CLIMBS_MAX) {
            tell(&where, item, "a list of 64 climbs at most");
            break;
        }
        if (!read_climb(&climbs[count], item)) {
            tell(&where, item, ALLOWED);
        }
    }
    if (faults->total > before) {
        return BASE_BAD_INPUT;
    }
    memcpy(out, climbs, count * sizeof *out);
    *n = count;
    return BASE_OK;
}
