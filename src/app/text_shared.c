/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#include <math.h>

const char *app_held(struct app_page *page, const struct base_buffer *text) { return explain_held(page->out, text); }

void app_end_paragraph(struct app_page *page, struct base_buffer *text) {
    app_lay_paragraph(page, app_held(page, text));
    base_buffer_clear(text);
}

void app_end_sentence(struct app_page *page, struct base_buffer *text) {
    struct base_buffer sentence;
    base_buffer_init(&sentence, 0);
    explain_put_capital(&sentence, app_held(page, text));
    base_buffer_text(&sentence, ".");
    base_buffer_clear(text);
    app_end_paragraph(page, &sentence);
}

void app_end_fact(struct app_page *page, size_t column, const char *label_code, struct base_buffer *text) {
    struct base_buffer label;
    base_buffer_init(&label, 0);
    if (label_code) {
        explain_say(&label, label_code);
    }
    app_lay_fact(page, column, app_held(page, &label), app_held(page, text));
    base_buffer_clear(&label);
    base_buffer_clear(text);
}

void app_drop_point(struct base_buffer *text) {
    if (text->n > 0 && text->at[text->n - 1] == '.') {
        text->at[--text->n] = '\0';
    }
}

void app_question(struct app_page *page, const char *code) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_say(&text, code);
    app_lay_heading(page, app_held(page, &text), NULL);
    base_buffer_clear(&text);
}

void app_put_paragraph(struct app_page *page, const char *code, const struct explain_arg *args, size_t n) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, code, args, n);
    app_end_paragraph(page, &text);
}

void app_put_fact(struct app_page *page, const char *label_code, const char *code, const struct explain_arg *args,
                  size_t n) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, code, args, n);
    app_end_fact(page, APP_FACT, label_code, &text);
}

void app_title(struct app_page *page, const struct trade_bike *bike, const char *right) {
    const char *label = bike->label[0] != '\0' ? bike->label : explain_message("title.no-name");
    app_lay_heading(page, label, right);
    page->begun = page->style.paper != NULL; /* what follows is no second page: no blank lines before it */
}

void app_lay_open(struct app_page *page, const struct app_open *open) {
    if (open->n == 0) {
        return;
    }
    app_lay_blank(page, 1);
    app_paragraph(page, "open.waits", explain_count((int64_t)open->n), explain_spelt((int64_t)open->n));
    for (size_t i = 0; i < open->n; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_path(&text, open->at[i].subject, open->at[i].property);
        base_buffer_text(&text, ": ");
        explain_how(&text, open->at[i].subject, open->at[i].property);
        app_lay_at(page, APP_BODY, "-");
        app_lay_wrapped(page, APP_BODY + 2, APP_LAST_COLUMN, app_held(page, &text), NULL);
        base_buffer_clear(&text);
    }
}

double app_half(double mm) { return round(mm * 2) / 2; }

struct explain_arg app_length_arg(double length_m, enum base_known known) {
    return length_m < 1000.0 ? explain_known(length_m, 0, "m", known)
                             : explain_known(length_m / 1000.0, 1, "km", known);
}
