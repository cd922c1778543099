/* SPDX-License-Identifier: Apache-2.0 */
#include "fit/probe.h"
#include "support/random.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

static void set_present(struct trade_value *value, bool present) {
    *value = trade_number(present ? 1 : 0, BASE_MEASURED);
}

void probe_init(struct probe *p, const struct fit_rule *rule) {
    memset(p, 0, sizeof *p);
    p->rule = rule;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        p->values[i] = trade_open();
        if (rule->reads[i].property == FIT_PRESENT) {
            set_present(&p->values[i], true);
        } else if (rule->reads[i].property == FIT_FITTED) {
            set_present(&p->values[i], rule->reads[i].subject >= FIT_NOW);
        }
    }
}

static unsigned read_of(const struct probe *p, unsigned subject, unsigned property) {
    for (unsigned i = 0; i < p->rule->n_reads; i++) {
        if (p->rule->reads[i].subject == subject && p->rule->reads[i].property == property) {
            return i;
        }
    }
    fail_msg("%s does not read property %u of %u", p->rule->id, property, subject);
    return 0;
}

static void set(struct probe *p, unsigned subject, unsigned property, struct trade_value value) {
    unsigned i = read_of(p, subject, property);
    p->values[i] = value;
    p->empty[i] = false;
}

void probe_number(struct probe *p, unsigned subject, unsigned property, double number) {
    set(p, subject, property, trade_number(number, BASE_MEASURED));
}

void probe_word(struct probe *p, unsigned subject, unsigned property, unsigned word) {
    set(p, subject, property, trade_word(word, BASE_MEASURED));
}

void probe_words(struct probe *p, unsigned subject, unsigned property, uint64_t words) {
    set(p, subject, property, (struct trade_value){.words = words, .known = BASE_MEASURED});
}

void probe_name(struct probe *p, unsigned subject, unsigned property, const char *name) {
    set(p, subject, property, (struct trade_value){.name = name, .known = BASE_MEASURED});
}

void probe_open(struct probe *p, unsigned subject, unsigned property) { set(p, subject, property, trade_open()); }

void probe_empty(struct probe *p, unsigned subject) {
    for (unsigned i = 0; i < p->rule->n_reads; i++) {
        if (p->rule->reads[i].subject == subject) {
            p->empty[i] = p->rule->reads[i].property != FIT_PRESENT;
            set_present(&p->values[i], false);
        }
    }
}

void probe_stays(struct probe *p, unsigned slot) { set(p, slot, FIT_FITTED, trade_number(1, BASE_MEASURED)); }

/* What may stand in the union of a value that means nothing: zero, a number, a word. */
static const struct trade_value garbage[] = {{.number = 0}, {.number = 1000}, {.words = 1}};
#define GARBAGE (sizeof garbage / sizeof garbage[0])

/* Judges with this in every open value, and with this or nothing at all where no read is declared. */
static struct fit_verdict judge_with(const struct probe *p, struct trade_value open, const struct trade_value *beyond) {
    struct trade_value values[FIT_READS_MAX];
    struct fit_values v;
    open.known = BASE_OPEN;
    for (unsigned i = 0; i < FIT_READS_MAX; i++) {
        values[i] = trade_is_open(&p->values[i]) ? open : p->values[i];
        v.at[i] = i >= p->rule->n_reads ? beyond : p->empty[i] ? NULL : &values[i];
    }
    return p->rule->judge(&v);
}

static bool same(const struct fit_verdict *a, const struct fit_verdict *b) {
    if (a->kind != b->kind || (a->kind != FIT_SILENT && a->reason != b->reason) || a->n_facts != b->n_facts ||
        (a->kind == FIT_ASK && a->ask != b->ask)) {
        return false;
    }
    for (unsigned i = 0; i < a->n_facts; i++) {
        const struct fit_fact *f = &a->facts[i], *g = &b->facts[i];
        if (f->type != g->type || f->word != g->word || memcmp(&f->number, &g->number, sizeof f->number) != 0) {
            return false;
        }
    }
    return true;
}

struct fit_verdict probe_judge(const struct probe *p) {
    struct fit_verdict first = judge_with(p, garbage[0], NULL);
    for (size_t i = 0; i < GARBAGE; i++) {
        struct fit_verdict open = judge_with(p, garbage[i], NULL), beyond = judge_with(p, garbage[0], &garbage[i]);
        if (!same(&first, &open)) {
            fail_msg("%s takes an open value for a number or a word", p->rule->id);
        }
        if (!same(&first, &beyond)) {
            fail_msg("%s looks at a read that it does not declare", p->rule->id);
        }
    }
    return first;
}

static const char *const kind_names[] = {"silent", "fits", "adapter", "drawback", "ask", "clash"};

static const char *reason_of(const struct probe *p, const struct fit_verdict *v) {
    return v->kind == FIT_SILENT ? "" : p->rule->reasons[v->reason];
}

struct fit_verdict probe_expect(const struct probe *p, enum fit_kind kind, const char *reason) {
    struct fit_verdict v = probe_judge(p);
    if (v.kind != kind || strcmp(reason_of(p, &v), reason) != 0) {
        fail_msg("%s says %s %s, not %s %s", p->rule->id, kind_names[v.kind], reason_of(p, &v), kind_names[kind],
                 reason);
    }
    return v;
}

void probe_expect_ask(const struct probe *p, unsigned subject, unsigned property) {
    struct fit_verdict v = probe_judge(p);
    if (v.kind != FIT_ASK || v.ask != read_of(p, subject, property)) {
        fail_msg("%s says %s %s and not what must be measured", p->rule->id, kind_names[v.kind], reason_of(p, &v));
    }
}

void probe_sweep(struct probe *p, unsigned subject, unsigned property, double low, double high, double step,
                 bool worse_with_more) {
    unsigned first = 0, before = 0, n = 0;
    for (double x = low; x <= high + step / 2; x += step, n++) {
        probe_number(p, subject, property, x);
        unsigned kind = probe_judge(p).kind;
        if (n == 0) {
            first = kind;
        } else if (worse_with_more ? kind < before : kind > before) {
            fail_msg("%s: from %s to %s at %g", p->rule->id, kind_names[before], kind_names[kind], x);
        }
        before = kind;
    }
    if (before == first) {
        fail_msg("%s: %s from %g to %g, nothing changes", p->rule->id, kind_names[first], low, high);
    }
}

/* --- random inputs ------------------------------------------------------------------------------------------------ */

/* A whole number or one of a few lengths, from the vocabulary's usual values where it has some. Rules compare numbers of
 * one kind with each other, so that near values have to be common. */
static double some_number(struct random_source *random, const struct trade_property_row *row) {
    if (random_int(random, 0, 7) == 0) {
        return random_int(random, 0, 1) ? row->low : row->high; /* the edges of the vocabulary */
    }
    if (row->n_usual > 0 && random_int(random, 0, 2) > 0) {
        return row->usual[random_int(random, 0, (int)row->n_usual - 1)];
    }
    if (row->type == TRADE_COUNT) {
        int low = (int)row->low > 18 ? (int)row->low : 18, high = (int)row->high < 54 ? (int)row->high : 54;
        return low < high ? random_int(random, low, high) : random_int(random, (int)row->low, (int)row->high);
    }
    double low = row->low, width = row->high - row->low, part = random_between(random, 0, 1);
    return low + width * (random_int(random, 0, 1) ? part : part * part * part);
}

/* Words of one domain lie near to each other in one call, so that two reads of it are often equal; about: any bits. */
static uint32_t some_word(struct random_source *random, enum trade_domain domain, uint64_t about) {
    struct random_source of_domain = {about + (uint64_t)domain};
    size_t n = trade_domain_rows[domain].n;
    return (uint32_t)((random_bits(&of_domain) + (uint64_t)random_int(random, 0, 1)) % n);
}

static struct trade_value some_derived(struct random_source *random, unsigned property) {
    if (property == FIT_PRESENT || property == FIT_FITTED) {
        return trade_number(random_int(random, 0, 1), BASE_MEASURED);
    }
    return trade_number(property == FIT_VALUE ? random_int(random, 70, 120) / 2.0 : random_int(random, 9, 60),
                        BASE_MEASURED);
}

static struct trade_value some_value(struct random_source *random, const struct fit_read *read, uint64_t about) {
    if ((read->flags & FIT_OPTIONAL) && random_int(random, 0, 3) == 0) {
        return trade_open();
    }
    if (read->property >= TRADE_PROPERTIES) {
        return some_derived(random, read->property);
    }
    const struct trade_property_row *row = &trade_property_rows[read->property];
    if (row->type == TRADE_WORD) {
        bool usual = row->n_usual > 0 && random_int(random, 0, 3) == 0;
        return trade_word(usual ? (uint32_t)row->usual[random_int(random, 0, (int)row->n_usual - 1)]
                                : some_word(random, row->domain, about),
                          BASE_MEASURED);
    }
    if (row->type == TRADE_WORDS) {
        uint64_t words = random_bits(random) & random_bits(random);
        words |= (uint64_t)random_int(random, 0, 1) << some_word(random, row->domain, about);
        return (struct trade_value){.words = words, .known = BASE_MEASURED};
    }
    if (row->type == TRADE_NAME) {
        static const char *const names[] = {"Heron", "Plover"};
        return (struct trade_value){.name = names[random_int(random, 0, 1)], .known = BASE_MEASURED};
    }
    return trade_number(some_number(random, row), BASE_MEASURED);
}

/* Every read of a subject is empty or none; FIT_PRESENT goes with it. */
static void some_emptiness(struct probe *p, struct random_source *random, unsigned subject) {
    bool empty = random_int(random, 0, 2) == 0;
    for (unsigned i = 0; i < p->rule->n_reads; i++) {
        const struct fit_read *read = &p->rule->reads[i];
        if (read->subject == subject && !(read->flags & FIT_EMPTY_OK)) {
            empty = false;
        }
    }
    for (unsigned i = 0; i < p->rule->n_reads; i++) {
        if (p->rule->reads[i].subject == subject) {
            p->empty[i] = empty && p->rule->reads[i].property != FIT_PRESENT;
            if (p->rule->reads[i].property == FIT_PRESENT) {
                set_present(&p->values[i], !empty);
            }
        }
    }
}

static void some_input(struct probe *p, struct random_source *random, uint64_t about) {
    for (unsigned i = 0; i < p->rule->n_reads; i++) {
        p->values[i] = some_value(random, &p->rule->reads[i], about);
        if (!trade_is_open(&p->values[i]) && random_int(random, 0, 3) == 0) {
            p->values[i].known = BASE_ASSUMED;
        }
    }
    for (unsigned i = 0; i < p->rule->n_reads; i++) {
        some_emptiness(p, random, p->rule->reads[i].subject);
    }
}

static void check_verdict(const struct probe *p, const struct fit_verdict *v) {
    if (v->kind == FIT_SILENT) {
        return;
    }
    assert_true(v->kind <= FIT_CLASH);
    assert_true(v->reason < FIT_REASONS_MAX && p->rule->reasons[v->reason]);
    assert_true(v->n_facts <= FIT_FACTS_MAX);
    for (unsigned i = 0; i < v->n_facts; i++) {
        const struct fit_fact *fact = &v->facts[i];
        assert_non_null(fact->unit);
        if (fact->type == FIT_FACT_WORD) {
            assert_true(fact->domain < TRADE_DOMAINS && fact->word < trade_domain_rows[fact->domain].n);
        } else if (!(fact->number > -1e6 && fact->number < 1e6)) {
            fail_msg("%s: fact %u of %s is no number to show", p->rule->id, i, reason_of(p, v));
        }
    }
    if (v->kind == FIT_ASK) {
        /* What must be measured is open, and was declared as a read that may be. */
        assert_true(v->ask < p->rule->n_reads);
        assert_false(p->empty[v->ask]);
        assert_true(trade_is_open(&p->values[v->ask]));
        assert_true(p->rule->reads[v->ask].flags & FIT_OPTIONAL);
    }
}

/* Does changing this read alone, with all else as it is, change what the rule says? */
static bool matters(struct probe *p, struct random_source *random, unsigned read, const struct fit_verdict *before,
                    uint64_t about) {
    struct trade_value old = p->values[read];
    bool changed = false;
    if (p->rule->reads[read].property == FIT_PRESENT) {
        set_present(&p->values[read], !(p->values[read].number > 0));
    } else if (p->empty[read]) {
        return false;
    } else {
        p->values[read] = some_value(random, &p->rule->reads[read], about);
    }
    struct fit_verdict after = probe_judge(p);
    changed = !same(before, &after);
    p->values[read] = old;
    return changed;
}

#define TRIALS_LEAST 5000
#define TRIALS_MOST 500000 /* for a rule whose rarest reason wants many reads to agree */

struct tally {
    bool read[FIT_READS_MAX];
    bool reason[FIT_REASONS_MAX];
    unsigned least_facts[FIT_REASONS_MAX];
};

/* A read of whether a part stays may be there only so that the rule is not asked where there is none. */
static bool gates(const struct fit_rule *rule, unsigned read) {
    const struct fit_read *gate = &rule->reads[read];
    bool alone = gate->property == FIT_FITTED && !(gate->flags & FIT_EMPTY_OK);
    for (unsigned i = 0; i < rule->n_reads; i++) {
        const struct fit_read *other = &rule->reads[i];
        alone = alone && (i == read || other->subject != gate->subject || (other->flags & FIT_EMPTY_OK));
    }
    return alone;
}

static bool all_seen(const struct tally *tally, const struct fit_rule *rule) {
    for (unsigned i = 0; i < rule->n_reads; i++) {
        if (!tally->read[i] && !gates(rule, i)) {
            return false;
        }
    }
    for (unsigned i = 0; i < FIT_REASONS_MAX; i++) {
        if (rule->reasons[i] && !tally->reason[i]) {
            return false;
        }
    }
    return true;
}

static void run(struct tally *out, const struct fit_rule *rule, uint64_t seed) {
    struct random_source random = {seed};
    struct probe p;
    probe_init(&p, rule);
    memset(out, 0, sizeof *out);
    memset(out->least_facts, 0xff, sizeof out->least_facts);
    for (unsigned trial = 0; trial < TRIALS_LEAST || (trial < TRIALS_MOST && !all_seen(out, rule)); trial++) {
        uint64_t about = random_bits(&random);
        some_input(&p, &random, about);
        struct fit_verdict v = probe_judge(&p);
        check_verdict(&p, &v);
        if (v.kind != FIT_SILENT) {
            out->reason[v.reason] = true;
            out->least_facts[v.reason] =
                v.n_facts < out->least_facts[v.reason] ? v.n_facts : out->least_facts[v.reason];
        }
        for (unsigned read = 0; read < rule->n_reads; read++) {
            out->read[read] = out->read[read] || matters(&p, &random, read, &v, about);
        }
    }
}

static void check_tally(const struct tally *tally, const struct fit_rule *rule) {
    for (unsigned i = 0; i < rule->n_reads; i++) {
        if (!tally->read[i] && !gates(rule, i)) {
            fail_msg("%s declares read %u and never looks at it", rule->id, i);
        }
        for (unsigned j = 0; j < i; j++) {
            assert_false(rule->reads[i].subject == rule->reads[j].subject &&
                         rule->reads[i].property == rule->reads[j].property);
        }
    }
    for (unsigned i = 0; i < FIT_REASONS_MAX; i++) {
        if (rule->reasons[i] && !tally->reason[i]) {
            fail_msg("%s never says %s", rule->id, rule->reasons[i]);
        }
    }
}

/* A slot of the build whose part is not the one on the bike, as far as the rule knows. */
static bool is_new(const struct probe *p, unsigned subject) {
    for (unsigned i = 0; i < p->rule->n_reads; i++) {
        const struct fit_read *read = &p->rule->reads[i];
        if (subject < TRADE_SLOTS && read->subject == subject && read->property == FIT_FITTED) {
            return p->values[i].number <= 0;
        }
    }
    return false;
}

void probe_asks(const struct fit_rule *rule, uint64_t seed) {
    struct random_source random = {seed};
    struct probe p;
    probe_init(&p, rule);
    for (unsigned trial = 0; trial < TRIALS_LEAST; trial++) {
        some_input(&p, &random, random_bits(&random));
        struct fit_verdict v = probe_judge(&p);
        if (v.kind == FIT_ASK && is_new(&p, rule->reads[v.ask].subject) && !(rule->reads[v.ask].flags & FIT_OF_NEW)) {
            fail_msg("%s asks for read %u of a part that nobody has in hand", rule->id, v.ask);
        }
    }
}

/* Is the later verdict no worse in any respect? What is asked or held against is so for as long as nothing is forbidden. */
static bool no_worse(const struct fit_verdict *before, const struct fit_verdict *after) {
    if (before->kind == FIT_CLASH || after->kind < FIT_DRAWBACK) {
        return true;
    }
    return before->kind == after->kind && before->reason == after->reason;
}

unsigned probe_rising(const struct fit_rule *rule, uint64_t seed) {
    struct random_source random = {seed};
    struct probe p;
    unsigned better = 0;
    probe_init(&p, rule);
    for (unsigned trial = 0; trial < TRIALS_LEAST; trial++) {
        some_input(&p, &random, random_bits(&random));
        for (unsigned i = 0; i < rule->n_reads; i++) {
            if (!(rule->reads[i].flags & FIT_RISING) || trade_is_open(&p.values[i])) {
                continue;
            }
            struct trade_value was = p.values[i];
            struct fit_verdict before = probe_judge(&p);
            p.values[i].number += random_between(&random, 0, 40);
            struct fit_verdict after = probe_judge(&p);
            if (!no_worse(&before, &after)) {
                fail_msg("%s gets worse from %f to %f of read %u", rule->id, was.number, p.values[i].number, i);
            }
            better += after.kind < before.kind;
            p.values[i] = was;
        }
    }
    return better;
}

/* --- sentences ---------------------------------------------------------------------------------------------------- */

static char *file_text(const char *file) {
    char path[1024];
    snprintf(path, sizeof path, "%s/data/messages/%s", getenv("CW_SOURCE_ROOT"), file);
    FILE *in = fopen(path, "rb");
    assert_non_null(in);
    char *text = calloc(1, 1 << 20);
    assert_non_null(text);
    size_t n = fread(text, 1, (1 << 20) - 1, in);
    assert_true(n > 0 && n < (1 << 20) - 1);
    fclose(in);
    return text;
}

/* The text of a code, up to the end of its line; NULL when there is none. */
static const char *sentence_of(const char *text, const char *code) {
    char start[128];
    snprintf(start, sizeof start, "\n%s,", code);
    const char *at = strstr(text, start);
    return at ? at + strlen(start) : NULL;
}

static unsigned facts_wanted(const char *sentence) {
    unsigned wanted = 0;
    for (const char *at = sentence; *at && *at != '\n'; at++) {
        if (at[0] == '{' && at[1] >= '0' && at[1] <= '9' && at[2] == '}') {
            unsigned n = (unsigned)(at[1] - '0') + 1;
            wanted = n > wanted ? n : wanted;
        }
    }
    return wanted;
}

static void check_code(const char *text, const char *code, unsigned facts) {
    const char *sentence = sentence_of(text, code);
    if (!sentence || *sentence == '\n' || *sentence == '\0') {
        fail_msg("%s has no sentence", code);
        return;
    }
    if (facts_wanted(sentence) > facts) {
        fail_msg("%s wants %u facts and gets %u", code, facts_wanted(sentence), facts);
    }
}

static void check_sentences(const struct tally *tally, const struct fit_rule *rule, const char *file) {
    static const char *const about[] = {"name", "what", "more"};
    char *text = file_text(file), code[128];
    for (unsigned i = 0; i < FIT_REASONS_MAX; i++) {
        if (rule->reasons[i]) {
            /* A code is the rule's id, a point, and a word or two. */
            assert_memory_equal(rule->reasons[i], rule->id, strlen(rule->id));
            assert_int_equal(rule->reasons[i][strlen(rule->id)], '.');
            check_code(text, rule->reasons[i], tally->least_facts[i]);
        }
    }
    for (unsigned i = 0; i < sizeof about / sizeof about[0]; i++) {
        snprintf(code, sizeof code, "%s.%s", rule->id, about[i]);
        check_code(text, code, 0);
    }
    free(text);
}

void probe_contract(const struct fit_rule *rule, const char *file, uint64_t seed) {
    struct tally tally;
    assert_true(rule->n_reads > 0 && rule->n_reads <= FIT_READS_MAX);
    assert_non_null(rule->source);
    run(&tally, rule, seed);
    check_tally(&tally, rule);
    check_sentences(&tally, rule, file);
}
