/* SPDX-License-Identifier: Apache-2.0 */
#include "work/quote.h"

static void add_part(struct work_quote *quote, struct work_sums *sums, enum trade_slot slot,
                     const struct trade_part *part) {
    bool ordered = part->stock == 0;
    quote->parts[quote->n_parts++] = (struct work_part_line){slot, part, ordered};
    sums->parts_minor += part->listed_minor;
    sums->ordered_minor += ordered ? part->listed_minor : 0;
    if (ordered && quote->ready_days >= 0) {
        quote->ready_days = part->days < 0 || part->days > quote->ready_days ? part->days : quote->ready_days;
    }
}

static void add_labour(struct work_quote *quote, struct work_sums *sums, uint32_t operations,
                       const struct trade_shop *shop) {
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        int32_t tenths = plan_operation_tenths(shop, (enum trade_operation)o);
        if (!(operations >> o & 1) || (tenths == 0 && shop->listed_labour_minor[o] == 0)) {
            continue;
        }
        quote->labour[quote->n_labour++] =
            (struct work_labour_line){(enum trade_operation)o, shop->listed_labour_minor[o]};
        sums->labour_minor += shop->listed_labour_minor[o];
        quote->labour_minor += shop->labour_minor[o];
        quote->tenths += tenths;
    }
}

void work_quote_of(struct work_quote *out, const struct trade_bike *bike, const struct fit_build *build,
                   const struct trade_shop *shop, int32_t discount_thousandths) {
    struct work_sums sums = {.discount_thousandths = discount_thousandths};
    *out = (struct work_quote){.ready_days = 0};
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct fit_choice *choice = &build->at[s];
        bool had = trade_bike_has(bike, (enum trade_slot)s);
        if (choice->kind == FIT_NEW) {
            add_part(out, &sums, (enum trade_slot)s, choice->part);
        }
        out->stays |= had && choice->kind == FIT_KEEP ? UINT32_C(1) << s : 0;
        out->off |= had && choice->kind != FIT_KEEP ? UINT32_C(1) << s : 0;
    }
    add_labour(out, &sums, plan_build_operations(bike, build), shop);
    work_bill_of(&out->bill, &sums, shop);
}
