/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/wrap.h"

#include <string.h>

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

/* Does a unit stand at the front of s, alone or with signs behind it? */
static bool begins_with_unit(struct base_slice s) {
    static const char *const units[] = {"mm",  "m", "cm",   "T",          "%",   "g",   "kg",  "links",
                                        "rpm", "W", "km/h", "N\xc2\xb7m", "N.m", "min", "deg", "days"};
    size_t word = 0;
    while (word < s.n && !strchr(" ,.;:)*]", s.at[word])) {
        word++;
    }
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (word == strlen(units[i]) && memcmp(s.at, units[i], word) == 0) {
            return true;
        }
    }
    return false;
}

/* 'GBP 197.40': a currency's code and its amount. */
static bool is_currency(struct base_slice word, struct base_slice next) {
    if (word.n < 3 || next.n == 0 || !is_digit(next.at[0])) {
        return false;
    }
    for (size_t i = word.n - 3; i < word.n; i++) {
        if (word.at[i] < 'A' || word.at[i] > 'Z') {
            return false;
        }
    }
    return word.n == 3 || word.at[word.n - 4] == '(';
}

size_t explain_unbroken(struct base_slice s) {
    bool in_box = false;
    for (size_t i = 0, start = 0; i < s.n; i++) {
        if (s.at[i] != ' ' || in_box) {
            in_box = s.at[i] == '[' || (in_box && s.at[i] != ']');
            continue;
        }
        struct base_slice word = {.at = s.at + start, .n = i - start};
        struct base_slice next = {.at = s.at + i + 1, .n = s.n - i - 1};
        bool counts = i > 0 && is_digit(s.at[i - 1]);
        if (!(counts && begins_with_unit(next)) && !is_currency(word, next)) {
            return i;
        }
        start = i + 1;
    }
    return s.n;
}
