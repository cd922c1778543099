/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#define PRICE_END 33
#define STOCK_COLUMN 36
#define TEXT_COLUMN 45

/* '3 here', '5 days', or a dash when the list does not say. */
static void put_stock(struct app_page *page, const struct trade_part *part) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (part->stock > 0) {
        explain_tell(&text, "parts.here", explain_count(part->stock));
    } else if (part->days >= 0) {
        explain_tell(&text, "parts.days", explain_count(part->days));
    } else {
        explain_say(&text, part->stock == 0 ? "parts.not-here" : "parts.not-said");
    }
    app_lay_at(page, STOCK_COLUMN, app_held(page, &text));
    base_buffer_clear(&text);
}

static void put_part(struct app_page *page, const struct trade_part *part, const struct trade_shop *shop) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_lay_at(page, 1, part->id);
    explain_put_amount(&text, part->price_minor, shop);
    app_lay_right(page, PRICE_END, app_held(page, &text));
    base_buffer_clear(&text);
    put_stock(page, part);
    explain_part(&text, part);
    app_lay_wrapped(page, TEXT_COLUMN, APP_LAST_COLUMN, app_held(page, &text), NULL);
    base_buffer_clear(&text);
}

static void put_head(struct app_page *page, enum trade_kind kind, size_t n, const struct trade_shop *shop) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, "parts.of-kind", explain_words(trade_kind_rows[kind].name), explain_count((int64_t)n));
    app_lay_heading(page, app_held(page, &text), NULL);
    base_buffer_clear(&text);
    app_lay_at(page, 1, explain_message("parts.id"));
    app_lay_right(page, PRICE_END, shop->currency);
    app_lay_at(page, STOCK_COLUMN, explain_message("parts.stock"));
    app_lay_at(page, TEXT_COLUMN, explain_message("parts.part"));
    app_lay_end(page);
}

void app_text_parts(struct base_buffer *out, const struct app_style *style, const struct trade_catalogue *catalogue,
                    const struct trade_shop *shop, int kind) {
    struct app_page page = app_page_on(out, style);
    bool any = false;
    for (unsigned k = 0; k < TRADE_KINDS; k++) {
        if ((kind >= 0 && k != (unsigned)kind) || catalogue->n[k] == 0) {
            continue;
        }
        any = true;
        put_head(&page, (enum trade_kind)k, catalogue->n[k], shop);
        for (size_t i = 0; i < catalogue->n[k]; i++) {
            put_part(&page, &catalogue->parts[k][i], shop);
        }
    }
    if (!any) {
        app_put_paragraph(&page, "parts.none", NULL, 0);
    }
}
