/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/pieces.h"

#include "explain/path.h"

#include <string.h>

void explain_piece_text(struct explain_pieces *p, const char *text) {
    if (text[0] == '\0' || (p->said && strstr(p->said, text))) {
        return;
    }
    if (p->out->n > p->start) {
        base_buffer_text(p->out, p->joint);
    }
    p->joint = ", ";
    base_buffer_text(p->out, text);
}

void explain_piece(struct explain_pieces *p, const char *code, const struct explain_arg *args, size_t n) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, code, args, n);
    explain_piece_text(p, explain_held(p->out, &text));
    base_buffer_clear(&text);
}

/* Which of the asked it is; n_asked when it is none. */
static size_t asked_index(const struct explain_pieces *p, enum trade_property property) {
    size_t i = 0;
    while (i < p->n_asked && (p->asked[i].subject != p->subject || p->asked[i].property != property)) {
        i++;
    }
    return i;
}

bool explain_is_asked(const struct explain_pieces *p, enum trade_property property) {
    return asked_index(p, property) < p->n_asked;
}

/* The value; one that is asked for as an empty box, with what it is taken as. */
static void put_value(struct base_buffer *out, struct explain_pieces *p, enum trade_property property, size_t asked) {
    const struct trade_value *value = trade_get(p->part, property);
    if (asked == p->n_asked || trade_is_open(value)) {
        explain_value(out, property, value);
        return;
    }
    struct trade_value open = trade_open();
    struct base_buffer box, taken;
    base_buffer_init(&box, 0);
    base_buffer_init(&taken, 0);
    explain_value(&box, property, &open);
    explain_value(&taken, property, value);
    explain_tell(out, "value.taken-as", explain_buffered(&box), explain_buffered(&taken));
    base_buffer_clear(&box);
    base_buffer_clear(&taken);
}

/* What the property is called in the line of its own part. */
static void put_label(struct base_buffer *out, enum trade_property property) {
    const char *own = explain_text_for("label", property);
    base_buffer_text(out, own ? own : trade_property_rows[property].label);
    base_buffer_text(out, " ");
}

void explain_piece_value(struct explain_pieces *p, enum trade_property property, const char *code) {
    size_t asked = asked_index(p, property);
    if (trade_is_open(trade_get(p->part, property)) && asked == p->n_asked) {
        return;
    }
    if (asked < p->n_asked && asked < 64) {
        p->shown |= UINT64_C(1) << asked;
    }
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (!code && asked < p->n_asked) {
        put_label(&text, property);
    }
    put_value(&text, p, property, asked);
    if (code) {
        struct explain_arg arg = explain_buffered(&text);
        explain_piece(p, code, &arg, 1);
    } else {
        explain_piece_text(p, explain_held(p->out, &text));
    }
    base_buffer_clear(&text);
}

void explain_piece_if(struct explain_pieces *p, enum trade_property property, enum trade_yes_no answer,
                      const char *code) {
    if (trade_get_word(p->part, property) == (int)answer) {
        explain_piece(p, code, NULL, 0);
    }
}

void explain_pieces_rest(struct explain_pieces *p) {
    for (size_t i = 0; i < p->n_asked && i < 64; i++) {
        const struct plan_hang *ask = &p->asked[i];
        if (ask->subject != p->subject || (p->shown >> i & 1) || ask->property >= TRADE_PROPERTIES) {
            continue;
        }
        struct base_buffer text;
        base_buffer_init(&text, 0);
        put_label(&text, (enum trade_property)ask->property);
        put_value(&text, p, (enum trade_property)ask->property, i);
        explain_piece_text(p, explain_held(p->out, &text));
        base_buffer_clear(&text);
    }
}
