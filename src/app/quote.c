/* SPDX-License-Identifier: Apache-2.0 */
#include "app/quote.h"

#include "trade/bike.h"

/* What a customer chooses between: least money, a price that is firm, the gears of now or easier ones; then what is left. */
static const uint32_t sorts[] = {1u << PLAN_LEAST_MONEY, 1u << PLAN_CERTAIN, 1u << PLAN_EASIEST | 1u << PLAN_CLOSEST,
                                 UINT32_MAX};

static const struct plan_way *way_of(const struct app_plan_shown *shown, size_t pick) {
    return &shown->plan->ways[shown->plan->picks[pick]];
}

/* The picks of a quote where nobody named them: the cheapest of each sort; bit set. */
static uint32_t usual_picks(const struct app_plan_shown *shown) {
    uint32_t picks = 0;
    for (size_t s = 0; s < sizeof sorts / sizeof sorts[0]; s++) {
        for (size_t i = 0; i < shown->plan->n_picks; i++) {
            bool wanted = (way_of(shown, i)->purposes & sorts[s]) != 0 && !(picks >> i & 1);
            if (wanted && __builtin_popcount(picks) < APP_QUOTE_WAYS) {
                picks |= UINT32_C(1) << i;
                if (sorts[s] != UINT32_MAX) {
                    break;
                }
            }
        }
    }
    return picks;
}

/* 'A,C' as a bit set of picks; false when it is not that. */
static bool read_letters(uint32_t *picks, const char *letters, size_t n_picks) {
    *picks = 0;
    for (const char *at = letters;; at += 2) {
        unsigned pick = (unsigned)(*at - 'A');
        if (*at < 'A' || pick >= n_picks || (*picks >> pick & 1)) {
            return false;
        }
        *picks |= UINT32_C(1) << pick;
        if (at[1] == '\0') {
            return __builtin_popcount(*picks) <= APP_QUOTE_WAYS;
        }
        if (at[1] != ',') {
            return false;
        }
    }
}

static void add_choice(struct app_quote *quote, char letter, const struct plan_way *way) {
    struct app_quote_choice *choice = &quote->choices[quote->n++];
    *choice = (struct app_quote_choice){.letter = {letter, '\0'}, .way = way};
    work_quote_of(&choice->work, quote->bike, &way->build, quote->shop, quote->discount_thousandths);
}

/* Keeping the rings is told wherever there is another number of them; without a drawback where that can be. */
static void add_kept(struct app_quote *quote, const struct plan_kept_rings *kept) {
    unsigned rings = trade_bike_rings(quote->bike);
    if (kept->found && rings > 1 && quote->shown->plan->wish.rings != rings) {
        add_choice(quote, '\0', kept->clean_found ? &kept->clean : &kept->way);
    }
}

bool app_quote_keeps(const struct app_quote_choice *choice) { return choice->letter[0] == '\0'; }

enum base_status app_quote_of(struct app_quote *out, const struct app_plan_shown *shown, const char *letters,
                              int32_t discount_thousandths) {
    const struct plan *plan = shown->plan;
    uint32_t picks = usual_picks(shown);
    if (letters && !read_letters(&picks, letters, plan->n_picks)) {
        return BASE_BAD_INPUT;
    }
    *out = (struct app_quote){.shown = shown,
                              .bike = plan->question.bike,
                              .shop = plan->question.shop,
                              .call_first_minor = plan->question.shop->call_first_minor,
                              .discount_thousandths = discount_thousandths};
    for (size_t i = 0; i < plan->n_picks; i++) {
        if (picks >> i & 1) {
            add_choice(out, (char)('A' + (char)i), way_of(shown, i));
        }
    }
    out->n_ways = out->n;
    add_kept(out, &shown->kept);
    return BASE_OK;
}
