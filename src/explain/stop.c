/* SPDX-License-Identifier: Apache-2.0 */
#include "explain/stop.h"

#include "explain/finding.h"
#include "explain/message.h"
#include "explain/pieces.h"
#include "explain/way.h"

#include "trade/vocabulary.h"

/* --- what stands in the way ---------------------------------------------------------------------------------------- */

static void put_condition(struct base_buffer *out, const struct plan *plan, enum trade_slot slot) {
    static const char *const codes[TRADE_CONDITION_COUNT] = {[TRADE_CONDITION_WORN] = "why-not.worn",
                                                             [TRADE_CONDITION_SEIZED] = "why-not.seized",
                                                             [TRADE_CONDITION_DAMAGED] = "why-not.damaged"};
    const struct trade_part *part = &plan->question.bike->fitted[slot].part;
    int property = trade_find_property(part->kind, base_slice_of("condition"));
    int condition = property < 0 ? -1 : trade_get_word(part, (enum trade_property)property);
    if (condition >= 0 && codes[condition]) {
        explain_tell(out, codes[condition], explain_words(trade_slot_rows[slot].label));
    }
}

void explain_stop(struct base_buffer *out, const struct plan *plan, const struct plan_stop *stop) {
    switch (stop->kind) {
    case PLAN_STOP_WISH:
        explain_one_wish(out, plan, (enum plan_wish_id)stop->what);
        break;
    case PLAN_STOP_KEEP:
        explain_tell(out, "why-not.must-stay", explain_words(trade_slot_rows[stop->what].label));
        break;
    case PLAN_STOP_CONDITION:
        put_condition(out, plan, (enum trade_slot)stop->what);
        break;
    case PLAN_STOP_RULE:
        base_buffer_text(out, explain_rule_name(fit_rules[stop->what]));
        break;
    }
}

/* --- what would be without it -------------------------------------------------------------------------------------- */

static void put_what_opens(struct base_buffer *out, const struct plan *plan, const struct plan_stop *stop) {
    enum plan_wish_id wish = stop->kind == PLAN_STOP_KEEP ? PLAN_WISH_KEEP : (enum plan_wish_id)stop->what;
    const struct plan_relief relief = {.given_up = 1u << wish, .values = stop->values, .build = stop->build};
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_relief(&text, plan, &relief);
    explain_tell(out, "why-not.opens", explain_buffered(&text),
                 explain_money(stop->values.cost_minor, plan->question.shop));
    base_buffer_clear(&text);
}

void explain_without(struct base_buffer *out, const struct plan *plan, const struct plan_stop *stop) {
    struct fit_finding finding;
    if (stop->kind == PLAN_STOP_WISH || stop->kind == PLAN_STOP_KEEP) {
        put_what_opens(out, plan, stop);
    } else if (stop->kind == PLAN_STOP_RULE && plan_stop_finding(&finding, plan, stop)) {
        explain_reason(out, &finding);
    }
}

/* --- what is better ------------------------------------------------------------------------------------------------ */

#define BETTER_MAX 6

struct list {
    struct base_buffer each[BETTER_MAX];
    size_t n;
};

static struct base_buffer *next(struct list *list) {
    base_buffer_init(&list->each[list->n], 0);
    return &list->each[list->n++];
}

static void list_gears(struct list *list, const struct plan_values *better, const struct plan_values *worse) {
    struct base_buffer change;
    base_buffer_init(&change, 0);
    if (better->lowest < worse->lowest) {
        explain_lowest_change(&change, better->lowest, worse->lowest);
        explain_tell(next(list), "why-not.lowest", explain_buffered(&change));
    }
    base_buffer_clear(&change);
    if (better->counted > worse->counted) {
        explain_highest_change(&change, better->highest, worse->highest);
        explain_tell(next(list), "why-not.highest", explain_buffered(&change));
    }
    base_buffer_clear(&change);
}

static void list_rest(struct list *list, const struct plan_way *better, const struct plan_way *worse) {
    int32_t lighter = worse->values.mass_g - better->values.mass_g;
    bool weighed = better->values.mass_known != BASE_OPEN && worse->values.mass_known != BASE_OPEN;
    int less = __builtin_popcountll(worse->drawbacks) - __builtin_popcountll(better->drawbacks);
    if (weighed && lighter > 0) {
        explain_tell(next(list), "why-not.lighter", explain_number(lighter, 0, "g"));
    }
    if (less > 0) {
        explain_tell(next(list), "why-not.drawbacks", explain_spelt(less));
    }
    if (better->certain && !worse->certain) {
        explain_say(next(list), "why-not.certain");
    }
}

void explain_better(struct base_buffer *out, const struct plan *plan, const struct plan_way *better,
                    const struct plan_way *worse) {
    struct list list = {.n = 0};
    const char *words[BETTER_MAX];
    int64_t less = worse->values.cost_minor - better->values.cost_minor;
    if (less > 0) {
        explain_tell(next(&list), "why-not.less", explain_money(less, plan->question.shop));
    }
    list_gears(&list, &better->values, &worse->values);
    list_rest(&list, better, worse);
    for (size_t i = 0; i < list.n; i++) {
        words[i] = explain_held(out, &list.each[i]);
    }
    if (list.n > 0) {
        explain_put_list(out, words, list.n, "list.and");
    } else {
        explain_say(out, "why-not.same");
    }
    while (list.n > 0) {
        base_buffer_clear(&list.each[--list.n]);
    }
}
