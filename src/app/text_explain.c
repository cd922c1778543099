/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#include "trade/vocabulary.h"

#include <math.h>
#include <string.h>

#define FACT 17

/* A text of a rule: <id><what>. */
static const char *of_rule(const char *id, const char *what) {
    const char *const words[] = {id, what};
    const char *text = explain_message_of(words, 2);
    return text ? text : "";
}

static void put_question(struct app_page *page, const char *code, const char *name) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, code, explain_words(name));
    app_lay_heading(page, app_held(page, &text), NULL);
    base_buffer_clear(&text);
}

static void put_capital(struct app_page *page, const char *words) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put_capital(&text, words);
    if (text.n > 0 && text.at[text.n - 1] != '.') {
        base_buffer_text(&text, ".");
    }
    app_end_paragraph(page, &text);
}

/* --- rules and reasons --------------------------------------------------------------------------------------------- */

/* What a rule reads: slots and fixed facts, each once. */
static void put_reads(struct app_page *page, const struct fit_rule *rule) {
    struct base_buffer text, name;
    base_buffer_init(&text, 0);
    base_buffer_init(&name, 0);
    for (unsigned i = 0; i < rule->n_reads; i++) {
        unsigned subject = rule->reads[i].subject;
        if (rule->reads[i].property >= TRADE_PROPERTIES && subject < FIT_MEASURE) {
            continue;
        }
        explain_name(&name, subject, rule->reads[i].property);
        if (!strstr(app_held(page, &text), app_held(page, &name))) {
            base_buffer_text(&text, text.n > 0 ? "; " : "");
            base_buffer_text(&text, app_held(page, &name));
        }
        base_buffer_clear(&name);
    }
    if (app_held(page, &text)[0] != '\0') {
        base_buffer_text(&text, ".");
        app_end_fact(page, FACT, "explain.reads", &text);
    }
    base_buffer_clear(&text);
}

/* A sentence of a rule with dots where its facts go. */
static void put_reason(struct base_buffer *out, const char *code) {
    struct explain_arg dots[FIT_FACTS_MAX];
    for (size_t i = 0; i < FIT_FACTS_MAX; i++) {
        dots[i] = explain_words("\xe2\x80\xa6");
    }
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_put(&text, code, dots, FIT_FACTS_MAX);
    explain_put_capital(out, explain_held(out, &text));
    base_buffer_clear(&text);
}

static void put_rule(struct app_page *page, const struct fit_rule *rule) {
    put_question(page, "explain.what", rule->id);
    put_capital(page, of_rule(rule->id, ".what"));
    app_lay_blank(page, 1);
    app_lay_paragraph(page, of_rule(rule->id, ".more"));
    app_lay_blank(page, 1);
    put_reads(page, rule);
    app_fact(page, "explain.overruling", rule->safety ? "explain.never-overruled" : "explain.overruled",
             explain_words(rule->id));
    app_fact(page, "explain.source", "explain.as-it-is", explain_words(rule->source));
    app_lay_blank(page, 1);
    app_put_paragraph(page, "explain.says", NULL, 0);
    for (size_t i = 0; i < FIT_REASONS_MAX && rule->reasons[i]; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        put_reason(&text, rule->reasons[i]);
        base_buffer_text(&text, ".");
        app_lay_at(page, APP_BODY, "-");
        app_lay_wrapped(page, APP_BODY + 2, APP_LAST_COLUMN, app_held(page, &text), NULL);
        base_buffer_clear(&text);
    }
}

static void put_reason_of(struct app_page *page, const struct fit_rule *rule, const char *reason) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    put_question(page, "explain.what", reason);
    put_reason(&text, reason);
    base_buffer_text(&text, ".");
    app_end_paragraph(page, &text);
    put_rule(page, rule);
}

static bool explain_rule(struct app_page *page, struct base_slice name) {
    bool any = false;
    for (size_t r = 0; r < fit_rules_n; r++) {
        const struct fit_rule *rule = fit_rules[r];
        if (fit_find_rule(rule->id) != rule) {
            continue; /* a variant of one that was there */
        }
        if (base_slice_is(name, rule->id)) {
            put_rule(page, rule);
            any = true;
        }
        for (size_t i = 0; i < FIT_REASONS_MAX && rule->reasons[i]; i++) {
            if (base_slice_is(name, rule->reasons[i])) {
                put_reason_of(page, rule, rule->reasons[i]);
                any = true;
            }
        }
    }
    return any;
}

/* --- properties ---------------------------------------------------------------------------------------------------- */

static void put_range(struct app_page *page, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    if (isnan(row->low)) {
        return;
    }
    app_fact(page, "explain.range", "explain.from-to",
             explain_number(row->low, explain_decimals(property, row->low), ""),
             explain_number(row->high, explain_decimals(property, row->high), explain_unit(property)));
}

static void put_one(struct base_buffer *text, enum trade_property property, double value) {
    const struct trade_property_row *row = &trade_property_rows[property];
    if (row->domain < TRADE_DOMAINS) {
        base_buffer_text(text, trade_word_name(row->domain, (unsigned)value));
        return;
    }
    struct explain_arg number = explain_number(value, explain_decimals(property, value), explain_unit(property));
    explain_put_arg(text, &number);
}

static void put_words(struct app_page *page, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    if (row->domain == TRADE_DOMAINS || row->domain == TRADE_DOMAIN_YES_NO) {
        return;
    }
    for (size_t i = 0; i < trade_domain_rows[row->domain].n; i++) {
        app_fact(page, i == 0 ? "explain.words" : NULL, "explain.word",
                 explain_words(trade_word_name(row->domain, (unsigned)i)),
                 explain_words(trade_word_label(row->domain, (unsigned)i)));
    }
}

static void put_usual(struct app_page *page, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    struct base_buffer text;
    base_buffer_init(&text, 0);
    for (size_t i = 0; i < row->n_usual; i++) {
        base_buffer_text(&text, i > 0 ? ", " : "");
        put_one(&text, property, row->usual[i]);
    }
    if (row->n_usual > 0) {
        base_buffer_text(&text, ".");
        app_end_fact(page, FACT, "explain.usual", &text);
    }
    if (!isnan(row->fallback)) {
        put_one(&text, property, row->fallback);
        struct base_buffer whole;
        base_buffer_init(&whole, 0);
        explain_tell(&whole, "explain.taken-as", explain_buffered(&text));
        app_end_fact(page, FACT, "explain.if-open", &whole);
    }
    base_buffer_clear(&text);
}

/* The subject that a property of a kind has in a path: the first slot that takes the kind, or the fixed fact. */
static unsigned subject_of(enum trade_kind kind) {
    if (kind == TRADE_KIND_BIKE || kind == TRADE_KIND_FRAME || kind == TRADE_KIND_WHEEL) {
        return kind == TRADE_KIND_BIKE ? FIT_BIKE : kind == TRADE_KIND_FRAME ? FIT_FRAME : FIT_WHEEL;
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (trade_slot_rows[s].kind == kind) {
            return s;
        }
    }
    return FIT_BIKE; /* the rider */
}

static void put_property(struct app_page *page, enum trade_property property) {
    const struct trade_property_row *row = &trade_property_rows[property];
    struct base_buffer text;
    base_buffer_init(&text, 0);
    base_buffer_text(&text, trade_kind_rows[row->kind].name);
    base_buffer_text(&text, ".");
    base_buffer_text(&text, row->name);
    put_question(page, "explain.what", app_held(page, &text));
    base_buffer_clear(&text);
    explain_name(&text, subject_of(row->kind), property);
    put_capital(page, app_held(page, &text));
    base_buffer_clear(&text);
    app_lay_blank(page, 1);
    explain_how(&text, subject_of(row->kind), property);
    if (app_held(page, &text)[0] != '\0') {
        app_end_fact(page, FACT, "explain.measure", &text);
    }
    base_buffer_clear(&text);
    put_range(page, property);
    put_usual(page, property);
    put_words(page, property);
}

/* 'hub_width_mm' of every kind that has it, or 'frame.hub_width_mm'. */
static bool explain_property(struct app_page *page, struct base_slice name) {
    const char *point = name.n > 0 ? memchr(name.at, '.', name.n) : NULL;
    size_t of_kind = point ? (size_t)(point - name.at) : 0;
    struct base_slice kind = {.at = name.at, .n = of_kind};
    struct base_slice property = point ? (struct base_slice){.at = point + 1, .n = name.n - of_kind - 1} : name;
    bool any = false;
    for (unsigned k = 0; k < TRADE_KINDS; k++) {
        int found = trade_find_property((enum trade_kind)k, property);
        if (found >= 0 && (!point || base_slice_is(kind, trade_kind_rows[k].name))) {
            put_property(page, (enum trade_property)found);
            any = true;
        }
    }
    return any;
}

/* --- kinds, slots, words, marks ------------------------------------------------------------------------------------ */

static void put_names(struct app_page *page, const char *label, const char *const *names, size_t n) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    for (size_t i = 0; i < n; i++) {
        base_buffer_text(&text, i > 0 ? ", " : "");
        base_buffer_text(&text, names[i]);
    }
    base_buffer_text(&text, ".");
    app_end_fact(page, FACT, label, &text);
}

static void put_properties(struct app_page *page, enum trade_kind kind) {
    const char *names[TRADE_PROPERTIES];
    const struct trade_kind_row *row = &trade_kind_rows[kind];
    for (size_t i = 0; i < row->n; i++) {
        names[i] = trade_property_rows[row->first + i].name;
    }
    put_names(page, "explain.properties", names, row->n);
}

static void put_rules_of(struct app_page *page, unsigned slot) {
    const char *names[64];
    size_t n = 0;
    for (size_t r = 0; r < fit_rules_n && n < 64; r++) {
        bool again = n > 0 && strcmp(names[n - 1], fit_rules[r]->id) == 0;
        if (!again && (fit_rule_slots(fit_rules[r]) >> slot & 1)) {
            names[n++] = fit_rules[r]->id;
        }
    }
    if (n > 0) {
        put_names(page, "explain.rules", names, n);
    }
}

static bool explain_slot(struct app_page *page, struct base_slice name) {
    int slot = trade_find_slot(name);
    if (slot < 0) {
        return false;
    }
    const struct trade_slot_row *row = &trade_slot_rows[slot];
    put_question(page, "explain.what", row->name);
    put_capital(page, row->what[0] != '\0' ? row->what : row->label);
    app_lay_blank(page, 1);
    app_fact(page, "explain.may-be-none", row->may_be_none ? "explain.yes" : "explain.no", explain_count(0));
    put_properties(page, row->kind);
    put_rules_of(page, (unsigned)slot);
    return true;
}

static bool explain_kind(struct app_page *page, struct base_slice name) {
    int kind = trade_find_kind(name);
    if (kind < 0) {
        return false;
    }
    put_question(page, "explain.kind", trade_kind_rows[kind].name);
    put_properties(page, (enum trade_kind)kind);
    return true;
}

/* Everything there is of a sort: rules, slots, kinds. */
static bool explain_list(struct app_page *page, struct base_slice name) {
    const char *names[256];
    size_t n = 0;
    const char *what = "explain.all-rules";
    if (base_slice_is(name, "rules")) {
        for (size_t r = 0; r < fit_rules_n && n < 256; r++) {
            if (n == 0 || strcmp(names[n - 1], fit_rules[r]->id) != 0) {
                names[n++] = fit_rules[r]->id;
            }
        }
    } else if (base_slice_is(name, "slots")) {
        what = "explain.all-slots";
        for (; n < TRADE_SLOTS; n++) {
            names[n] = trade_slot_rows[n].name;
        }
    } else if (base_slice_is(name, "kinds")) {
        what = "explain.all-kinds";
        for (; n < TRADE_KINDS; n++) {
            names[n] = trade_kind_rows[n].name;
        }
    } else {
        return false;
    }
    app_question(page, what);
    for (size_t i = 0; i < n; i++) {
        const char *more = base_slice_is(name, "rules") ? of_rule(names[i], ".what") : "";
        more = base_slice_is(name, "slots") ? trade_slot_rows[i].label : more;
        app_lay_fact(page, APP_PART, names[i], more);
    }
    return true;
}

static bool is_word(struct base_slice name, const struct explain_word *word) {
    return base_slice_is(name, word->document) || base_slice_is(name, explain_message(word->code));
}

/* sign: what the terminal writes for it, or "". */
static bool explain_if(struct app_page *page, struct base_slice name, const struct explain_word *word,
                       const char *sign) {
    bool is = is_word(name, word) || (sign[0] != '\0' && base_slice_is(name, sign));
    if (is) {
        put_question(page, "explain.what", explain_message(word->code));
        app_lay_paragraph(page, explain_message(word->what));
    }
    return is;
}

static bool explain_word_of_people(struct app_page *page, struct base_slice name) {
    static const char *const signs_of_known[EXPLAIN_KNOWN] = {"", "*", "~", "[]"};
    bool any = false;
    for (size_t i = 0; i < EXPLAIN_MARKS; i++) {
        any = explain_if(page, name, &explain_marks[i], app_tile_of((enum explain_mark)i)) || any;
    }
    for (size_t i = 0; explain_words_of_documents[i].document; i++) {
        any = explain_if(page, name, &explain_words_of_documents[i], "") || any;
    }
    for (size_t i = 0; i < EXPLAIN_KNOWN; i++) {
        any = explain_if(page, name, &explain_known_words[i], signs_of_known[i]) || any;
    }
    return any;
}

/* Does a word's row say more than its name? 'none: none' does not. */
static bool says_more(const struct trade_word_row *row) {
    return row->note[0] != '\0' || strcmp(row->label, row->word) != 0;
}

/* A word of the vocabulary, in every domain that has it; where something was told before (page->begun), only what says
 * more than the name. */
static bool explain_word(struct app_page *page, struct base_slice name) {
    bool told = page->begun, any = false;
    for (unsigned d = 0; d < TRADE_DOMAINS; d++) {
        int word = trade_find_word((enum trade_domain)d, name);
        const struct trade_word_row *row = word >= 0 ? &trade_domain_rows[d].words[word] : NULL;
        if (!row || (told && !says_more(row))) {
            continue;
        }
        if (!any) {
            put_question(page, "explain.what", row->word);
        }
        app_fact(page, "explain.means", row->note[0] != '\0' ? "explain.label-and-note" : "explain.as-it-is",
                 explain_words(row->label), explain_words(row->note));
        any = true;
    }
    return any;
}

/* A slot tells what its kind has: the kind of the same name would say it again. */
static bool explain_slot_or_kind(struct app_page *page, struct base_slice name) {
    return explain_slot(page, name) || explain_kind(page, name);
}

bool app_text_explain(struct base_buffer *out, const struct app_style *style, struct base_slice name) {
    static bool (*const sorts[])(struct app_page *, struct base_slice) = {
        explain_rule, explain_list, explain_slot_or_kind, explain_property, explain_word_of_people, explain_word};
    struct app_page page = app_page_on(out, style);
    bool any = false;
    for (size_t i = 0; i < sizeof sorts / sizeof sorts[0]; i++) {
        any = sorts[i](&page, name) || any;
    }
    return any;
}
