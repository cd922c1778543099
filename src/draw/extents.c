/* SPDX-License-Identifier: Apache-2.0 */
#include "draw/extents.h"

#include <stdbool.h>

/* The character of n bytes at the front; malformed bytes stand for themselves. */
static uint32_t character_of(const char *at, size_t n) {
    static const unsigned char first_bits[] = {0, 0x7f, 0x1f, 0x0f, 0x07};
    uint32_t character = (unsigned char)at[0] & first_bits[n];
    for (size_t i = 1; i < n; i++) {
        character = character << 6 | ((unsigned char)at[i] & 0x3fu);
    }
    return character;
}

/* The width of one character, in units of the font; a whole em where it has none. */
static double width_of(const struct draw_font *font, uint32_t character) {
    size_t low = 0, high = font->n_runs;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        const struct draw_run *run = &font->runs[middle];
        if (character < run->first) {
            high = middle;
        } else if (character >= run->first + run->n) {
            low = middle + 1;
        } else {
            return font->widths[run->at + (character - run->first)];
        }
    }
    return font->em;
}

/* Bytes of the character at the front, at least 1, and its width in units of the font. */
static size_t step(const struct draw_font *font, struct base_slice text, double *width) {
    size_t n = base_utf8_character(text);
    *width = n > 0 ? width_of(font, character_of(text.at, n)) : font->em;
    return n > 0 ? n : 1;
}

double draw_text_width(const struct draw_font *font, struct base_slice text, double size) {
    double width = 0.0, more;
    while (text.n > 0) {
        size_t n = step(font, text, &more);
        width += more;
        text = (struct base_slice){text.at + n, text.n - n};
    }
    return width * size / font->em;
}

/* A number keeps its unit. */
static bool is_before_unit(struct base_slice text, size_t blank) {
    return blank > 0 && text.at[blank - 1] >= '0' && text.at[blank - 1] <= '9';
}

struct base_slice draw_text_fitting(const struct draw_font *font, struct base_slice text, double size, double room) {
    double width = 0.0, more, units = room * font->em / size;
    size_t at = 0, word_end = 0;
    while (at < text.n) {
        size_t n = step(font, (struct base_slice){text.at + at, text.n - at}, &more);
        width += more;
        if (text.at[at] == ' ') {
            word_end = is_before_unit(text, at) ? word_end : at;
        } else if (width > units) {
            break;
        }
        at += n;
    }
    if (at >= text.n) {
        return text;
    }
    size_t least = step(font, text, &more);
    return (struct base_slice){text.at, word_end > 0 ? word_end : at > 0 ? at : least};
}
