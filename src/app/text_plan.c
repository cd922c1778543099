/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text.h"

#include "explain/explain.h"

void app_text_plan(struct base_buffer *out, const struct app_style *style, const struct app_plan_shown *shown,
                   struct base_arena *scratch) {
    (void)style;
    (void)scratch;
    for (size_t i = 0; i < shown->plan->n_picks; i++) {
        const struct plan_way *way = &shown->plan->ways[shown->plan->picks[i]];
        base_buffer_char(out, (char)('A' + (char)i));
        base_buffer_text(out, "  ");
        explain_put_amount(out, way->values.cost_minor, shown->plan->question.shop);
        base_buffer_char(out, '\n');
    }
}
