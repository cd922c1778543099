/* SPDX-License-Identifier: Apache-2.0 */
#include "app/json_parts.h"
#include "app/wear.h"

#include "fit/wear.h"
#include "mech/chain.h"

#include <math.h>

static void put_worn(struct format_out *out, const struct app_worn *worn) {
    static const char *const verdicts[EXPLAIN_MARKS] = {[EXPLAIN_STAYS] = "fits",
                                                        [EXPLAIN_ADAPTED] = "adapter",
                                                        [EXPLAIN_OFF] = "clash",
                                                        [EXPLAIN_MEASURE] = "measure",
                                                        [EXPLAIN_DRAWBACK] = "drawback"};
    struct base_buffer reason;
    base_buffer_init(&reason, 0);
    app_worn_reason(&reason, worn);
    format_out_object(out);
    app_json_key_text(out, "slot", trade_slot_rows[worn->slot].name);
    app_json_key_text(out, "verdict", verdicts[worn->mark]);
    format_out_key(out, "reason");
    format_out_slice(out, (struct base_slice){reason.at, reason.n});
    format_out_object_end(out);
    base_buffer_clear(&reason);
}

static void put_class(struct format_out *out, const struct trade_chains_row *row) {
    double limit = fit_chain_limit_percent(row->chain_family);
    format_out_object(out);
    app_json_key_text(out, "family", trade_domain_rows[TRADE_DOMAIN_CHAIN_FAMILY].words[row->chain_family].word);
    app_json_key_number(out, "goes_at_percent", limit);
    app_json_key_number(out, "goes_at_mm", mech_chain_worn_mm(limit, APP_WEAR_PITCHES));
    app_json_key_text(out, "source", row->source);
    format_out_object_end(out);
}

static const char *family_word(int family) {
    return family < 0 ? NULL : trade_domain_rows[TRADE_DOMAIN_CHAIN_FAMILY].words[family].word;
}

void app_json_wear(struct base_buffer *buffer, const struct app_wear *wear) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "family", family_word(wear->family));
    app_json_key_number(&out, "worn_percent", wear->worn_percent);
    app_json_key_number(&out, "over_24_mm", wear->over_mm);
    app_json_key_number(&out, "reading_band_percent", wear->band_percent);
    app_json_key_bool(&out, "too_near", wear->too_near);
    app_json_key_number(&out, "goes_at_percent", wear->limit_percent);
    app_json_key_number(&out, "goes_at_mm", wear->limit_mm);
    app_json_key_number(&out, "new_sprockets_up_to_percent", wear->new_sprockets_percent);
    app_json_key_number(&out, "sprockets_worn_from_percent", wear->sprockets_percent);
    format_out_key(&out, "chain");
    put_worn(&out, &wear->chain);
    format_out_key(&out, "new_sprockets_under_it");
    put_worn(&out, &wear->new_sprockets);
    format_out_key(&out, "under_new_chain");
    format_out_array(&out);
    for (size_t i = 0; i < wear->n; i++) {
        put_worn(&out, &wear->under_new[i]);
    }
    format_out_array_end(&out);
    format_out_key(&out, "classes");
    format_out_array(&out);
    for (size_t i = 0; i < trade_chains_n; i++) {
        put_class(&out, &trade_chains[i]);
    }
    format_out_array_end(&out);
    app_json_put_waits(&out, wear->known, &wear->open);
    format_out_object_end(&out);
    format_out_done(&out);
}
