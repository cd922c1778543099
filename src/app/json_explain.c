/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What a name means, as JSON: everything that is called so, whatever it is.
 */
#include "app/json.h"
#include "app/json_parts.h"
#include "explain/explain.h"
#include "explain/words.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

static void begin(struct format_out *out, const char *sort, const char *name) {
    format_out_object(out);
    app_json_key_text(out, "sort", sort);
    app_json_key_text(out, "name", name);
}

/* --- rules and reasons --------------------------------------------------------------------------------------------- */

/* The message <id><of>, or null. */
static void key_message(struct format_out *out, const char *key, const char *id, const char *of) {
    struct base_buffer code;
    base_buffer_init(&code, 0);
    base_buffer_text(&code, id);
    base_buffer_text(&code, of);
    app_json_key_text(out, key, code.status == BASE_OK ? explain_message(code.at) : NULL);
    base_buffer_clear(&code);
}

static void put_rule(struct format_out *out, const struct fit_rule *rule) {
    begin(out, "rule", rule->id);
    key_message(out, "what", rule->id, ".what");
    key_message(out, "more", rule->id, ".more");
    app_json_key_bool(out, "never_overruled", rule->safety);
    app_json_key_text(out, "source", rule->source);
    format_out_key(out, "reasons");
    format_out_array(out);
    for (size_t i = 0; i < FIT_REASONS_MAX && rule->reasons[i]; i++) {
        format_out_text(out, rule->reasons[i]);
    }
    format_out_array_end(out);
    format_out_object_end(out);
}

static void put_rules(struct format_out *out, struct base_slice name) {
    for (size_t r = 0; r < fit_rules_n; r++) {
        const struct fit_rule *rule = fit_rules[r];
        if (fit_find_rule(rule->id) != rule) {
            continue; /* a variant of one that was there */
        }
        if (base_slice_is(name, rule->id)) {
            put_rule(out, rule);
        }
        for (size_t i = 0; i < FIT_REASONS_MAX && rule->reasons[i]; i++) {
            if (base_slice_is(name, rule->reasons[i])) {
                begin(out, "reason", rule->reasons[i]);
                app_json_key_text(out, "rule", rule->id);
                app_json_key_text(out, "text",
                                  explain_message(rule->reasons[i])); /* {0}: where its first figure goes */
                format_out_object_end(out);
            }
        }
    }
}

/* --- kinds, properties, slots -------------------------------------------------------------------------------------- */

static void put_properties_of(struct format_out *out, enum trade_kind kind) {
    format_out_key(out, "properties");
    format_out_array(out);
    for (size_t i = 0; i < trade_kind_rows[kind].n; i++) {
        format_out_text(out, trade_property_rows[trade_kind_rows[kind].first + i].name);
    }
    format_out_array_end(out);
}

static void put_kind(struct format_out *out, struct base_slice name) {
    int kind = trade_find_kind(name);
    if (kind >= 0) {
        begin(out, "kind", trade_kind_rows[kind].name);
        put_properties_of(out, (enum trade_kind)kind);
        format_out_object_end(out);
    }
}

static void put_slot(struct format_out *out, struct base_slice name) {
    int slot = trade_find_slot(name);
    if (slot < 0) {
        return;
    }
    const struct trade_slot_row *row = &trade_slot_rows[slot];
    begin(out, "slot", row->name);
    app_json_key_text(out, "label", row->label);
    app_json_key_text(out, "kind", trade_kind_rows[row->kind].name);
    app_json_key_text(out, "what", row->what[0] != '\0' ? row->what : NULL);
    app_json_key_bool(out, "may_be_none", row->may_be_none);
    format_out_key(out, "rules");
    format_out_array(out);
    for (size_t r = 0; r < fit_rules_n; r++) {
        if (fit_find_rule(fit_rules[r]->id) == fit_rules[r] && (fit_rule_slots(fit_rules[r]) >> slot & 1)) {
            format_out_text(out, fit_rules[r]->id);
        }
    }
    format_out_array_end(out);
    format_out_object_end(out);
}

static void put_value(struct format_out *out, const struct trade_property_row *row, double value) {
    if (row->domain < TRADE_DOMAINS && !isnan(value)) {
        format_out_text(out, trade_word_name(row->domain, (unsigned)value));
    } else {
        format_out_double(out, value);
    }
}

static void put_property(struct format_out *out, const struct trade_property_row *row) {
    begin(out, "property", row->name);
    app_json_key_text(out, "kind", trade_kind_rows[row->kind].name);
    app_json_key_text(out, "label", row->label);
    app_json_key_text(out, "unit", row->unit[0] != '\0' ? row->unit : NULL);
    app_json_key_number(out, "low", row->low);
    app_json_key_number(out, "high", row->high);
    format_out_key(out, "words");
    format_out_array(out);
    for (size_t i = 0; row->domain < TRADE_DOMAINS && i < trade_domain_rows[row->domain].n; i++) {
        format_out_text(out, trade_domain_rows[row->domain].words[i].word);
    }
    format_out_array_end(out);
    format_out_key(out, "usual");
    format_out_array(out);
    for (size_t i = 0; i < row->n_usual; i++) {
        put_value(out, row, row->usual[i]);
    }
    format_out_array_end(out);
    format_out_key(out, "assumed");
    put_value(out, row, row->fallback);
    app_json_key_text(out, "measure", row->measure[0] != '\0' ? row->measure : NULL);
    app_json_key_number(out, "minutes", row->minutes);
    format_out_object_end(out);
}

/* 'hub_width_mm' of every kind that has it, or 'frame.hub_width_mm'. */
static void put_properties(struct format_out *out, struct base_slice name) {
    const char *point = name.n > 0 ? memchr(name.at, '.', name.n) : NULL;
    size_t of_kind = point ? (size_t)(point - name.at) : 0;
    struct base_slice kind = {.at = name.at, .n = of_kind};
    struct base_slice property = point ? (struct base_slice){.at = point + 1, .n = name.n - of_kind - 1} : name;
    for (unsigned k = 0; k < TRADE_KINDS; k++) {
        int found = trade_find_property((enum trade_kind)k, property);
        if (found >= 0 && (!point || base_slice_is(kind, trade_kind_rows[k].name))) {
            put_property(out, &trade_property_rows[found]);
        }
    }
}

/* --- words --------------------------------------------------------------------------------------------------------- */

static void put_words(struct format_out *out, struct base_slice name) {
    for (unsigned d = 0; d < TRADE_DOMAINS; d++) {
        int word = trade_find_word((enum trade_domain)d, name);
        if (word >= 0) {
            const struct trade_word_row *row = &trade_domain_rows[d].words[word];
            begin(out, "word", row->word);
            app_json_key_text(out, "of", trade_domain_rows[d].name);
            app_json_key_text(out, "label", row->label);
            app_json_key_text(out, "note", row->note[0] != '\0' ? row->note : NULL);
            format_out_object_end(out);
        }
    }
}

static void put_people_word(struct format_out *out, struct base_slice name, const struct explain_word *word) {
    if (base_slice_is(name, word->document) || base_slice_is(name, explain_message(word->code))) {
        begin(out, "mark", word->document);
        app_json_key_text(out, "label", explain_message(word->code));
        app_json_key_text(out, "what", explain_message(word->what));
        format_out_object_end(out);
    }
}

static void put_marks(struct format_out *out, struct base_slice name) {
    for (size_t i = 0; i < EXPLAIN_KNOWN; i++) {
        put_people_word(out, name, &explain_known_words[i]);
    }
    for (size_t i = 0; i < EXPLAIN_MARKS; i++) {
        put_people_word(out, name, &explain_marks[i]);
    }
    for (size_t i = 0; explain_words_of_documents[i].document; i++) {
        put_people_word(out, name, &explain_words_of_documents[i]);
    }
}

/* Everything that there is of a sort. */
static void put_lists(struct format_out *out, struct base_slice name) {
    bool rules = base_slice_is(name, "rules"), slots = base_slice_is(name, "slots");
    if (!rules && !slots && !base_slice_is(name, "kinds")) {
        return;
    }
    begin(out, "list", rules ? "rules" : slots ? "slots" : "kinds");
    format_out_key(out, "names");
    format_out_array(out);
    for (size_t i = 0; i < (rules ? fit_rules_n : slots ? (size_t)TRADE_SLOTS : (size_t)TRADE_KINDS); i++) {
        if (!rules || fit_find_rule(fit_rules[i]->id) == fit_rules[i]) {
            format_out_text(out, rules ? fit_rules[i]->id : slots ? trade_slot_rows[i].name : trade_kind_rows[i].name);
        }
    }
    format_out_array_end(out);
    format_out_object_end(out);
}

void app_json_explain(struct base_buffer *buffer, struct base_slice name) {
    struct format_out out;
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    format_out_key(&out, "found");
    format_out_array(&out);
    put_rules(&out, name);
    put_lists(&out, name);
    put_slot(&out, name);
    put_properties(&out, name);
    put_kind(&out, name);
    put_marks(&out, name);
    put_words(&out, name);
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}
