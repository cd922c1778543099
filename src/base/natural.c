/* SPDX-License-Identifier: Apache-2.0 */
#include "base/natural.h"

#include <assert.h>
#include <string.h>

static void push_word(struct base_natural *a, uint32_t word) {
    assert(a->n < BASE_NATURAL_WORDS);
    a->word[a->n++] = word;
}

void base_natural_set(struct base_natural *a, uint64_t value) {
    a->n = 0;
    while (value > 0) {
        push_word(a, (uint32_t)value);
        value >>= 32;
    }
}

void base_natural_scale(struct base_natural *a, uint32_t factor, uint32_t term) {
    assert(factor > 0);
    uint64_t carry = term;
    for (size_t i = 0; i < a->n; i++) {
        carry += (uint64_t)a->word[i] * factor;
        a->word[i] = (uint32_t)carry;
        carry >>= 32;
    }
    if (carry > 0) {
        push_word(a, (uint32_t)carry);
    }
}

void base_natural_scale_ten(struct base_natural *a, unsigned power) {
    for (; power >= 9; power -= 9) {
        base_natural_scale(a, 1000000000, 0);
    }
    for (; power > 0; power--) {
        base_natural_scale(a, 10, 0);
    }
}

void base_natural_shift(struct base_natural *a, unsigned bits) {
    size_t words = bits / 32;
    if (a->n > 0 && words > 0) {
        assert(a->n + words <= BASE_NATURAL_WORDS);
        memmove(a->word + words, a->word, a->n * sizeof a->word[0]);
        memset(a->word, 0, words * sizeof a->word[0]);
        a->n += words;
    }
    base_natural_scale(a, UINT32_C(1) << bits % 32, 0);
}

void base_natural_add(struct base_natural *a, const struct base_natural *b) {
    uint64_t carry = 0;
    for (size_t i = 0; i < b->n || carry > 0; i++) {
        if (i == a->n) {
            push_word(a, 0);
        }
        carry += (uint64_t)a->word[i] + (i < b->n ? b->word[i] : 0);
        a->word[i] = (uint32_t)carry;
        carry >>= 32;
    }
}

void base_natural_subtract(struct base_natural *a, const struct base_natural *b) {
    assert(base_natural_compare(a, b) >= 0);
    uint64_t borrow = 0;
    for (size_t i = 0; i < b->n || borrow > 0; i++) {
        uint64_t taken = (i < b->n ? b->word[i] : 0) + borrow;
        borrow = a->word[i] < taken;
        a->word[i] = (uint32_t)(a->word[i] - taken);
    }
    while (a->n > 0 && a->word[a->n - 1] == 0) {
        a->n--;
    }
}

int base_natural_compare(const struct base_natural *a, const struct base_natural *b) {
    if (a->n != b->n) {
        return a->n < b->n ? -1 : 1;
    }
    for (size_t i = a->n; i-- > 0;) {
        if (a->word[i] != b->word[i]) {
            return a->word[i] < b->word[i] ? -1 : 1;
        }
    }
    return 0;
}

int base_natural_bits(const struct base_natural *a) {
    int bits = (int)a->n * 32;
    if (a->n > 0) {
        for (uint32_t top = a->word[a->n - 1]; !(top & 0x80000000U); top <<= 1) {
            bits--;
        }
    }
    return bits;
}
