/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The cases of what is not measured.
 */
#include "fit/judge.h"

#include "trade/likely.h"

#include <string.h>

#define FOUND_MAX 64 /* more properties with usual values than rules read */

struct fit_case_set fit_all_cases(const struct fit_cases *cases) {
    return cases->possible;
}

bool fit_no_case(const struct fit_case_set *set) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++) {
        if (set->bits[i]) {
            return false;
        }
    }
    return true;
}

bool fit_every_case(const struct fit_case_set *set, const struct fit_cases *cases) {
    struct fit_case_set all = fit_all_cases(cases);
    return memcmp(set, &all, sizeof all) == 0;
}

/* Is it the same for all possible cases with the same candidates in these dimensions, whether they are in the set? */
static bool decided_by(const struct fit_cases *cases, const struct fit_case_set *set, uint32_t dims) {
    signed char in[FIT_CASES_MAX]; /* of each combination of these dimensions: -1 not met yet */
    memset(in, -1, sizeof in);
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        uint32_t at = 0;
        if (!(cases->possible.bits[joint / 64] >> (joint % 64) & 1)) {
            continue;
        }
        for (size_t d = 0; d < cases->n_dims; d++) {
            at += (dims >> d & 1) ? fit_candidate(&cases->dims[d], joint) * cases->dims[d].stride : 0;
        }
        signed char here = (signed char)(set->bits[joint / 64] >> (joint % 64) & 1);
        if (in[at] >= 0 && in[at] != here) {
            return false;
        }
        in[at] = here;
    }
    return true;
}

/* Does it take more to read the first? */
static bool dearer(const struct fit_dim *a, const struct fit_dim *b) {
    const struct trade_property_row *x = &trade_property_rows[a->property], *y = &trade_property_rows[b->property];
    return x->needs_off != y->needs_off ? x->needs_off > y->needs_off : x->minutes > y->minutes;
}

uint32_t fit_deciding(const struct fit_cases *cases, const struct fit_case_set *set) {
    uint32_t dims = cases->n_dims ? (1u << cases->n_dims) - 1 : 0, left = dims;
    while (left) { /* gives up the dearest that can be given up, one after the other */
        size_t dearest = FIT_DIMS_MAX;
        for (size_t d = 0; d < cases->n_dims; d++) {
            if ((left >> d & 1) && (dearest == FIT_DIMS_MAX || dearer(&cases->dims[d], &cases->dims[dearest]))) {
                dearest = d;
            }
        }
        left &= ~(1u << dearest);
        if (decided_by(cases, set, dims & ~(1u << dearest))) {
            dims &= ~(1u << dearest);
        }
    }
    return dims;
}

unsigned fit_candidate(const struct fit_dim *dim, uint32_t joint) { return (unsigned)(joint / dim->stride % dim->n); }

int fit_dim_of(const struct fit_cases *cases, unsigned subject, unsigned property) {
    for (size_t d = 0; d < cases->n_dims; d++) {
        if (cases->dims[d].subject == subject && cases->dims[d].property == property) {
            return (int)d;
        }
    }
    return -1;
}

/* The bike's own value that a read is about, or NULL when the read is not about a property of the bike. A slot's read
 * counts too: the part of the bike may stay there. */
static const struct trade_value *own_value(const struct trade_bike *bike, const struct fit_read *read,
                                           uint8_t *subject) {
    *subject = read->subject;
    if (read->property >= TRADE_PROPERTIES) {
        return NULL;
    }
    if (read->subject == FIT_BIKE) {
        return trade_get(&bike->self, read->property);
    }
    if (read->subject == FIT_FRAME) {
        return trade_get(&bike->frame, read->property);
    }
    if (read->subject == FIT_WHEEL) {
        return trade_get(&bike->wheel, read->property);
    }
    if (read->subject >= FIT_MEASURE) {
        return NULL;
    }
    *subject = (uint8_t)(read->subject >= FIT_NOW ? read->subject - FIT_NOW : read->subject);
    if (!trade_bike_has(bike, *subject)) {
        return NULL;
    }
    return trade_get(&bike->fitted[*subject].part, read->property);
}

static struct trade_value usual_value(const struct trade_property_row *row, size_t i) {
    if (row->type == TRADE_WORD) {
        return trade_word((uint32_t)row->usual[i], BASE_ASSUMED);
    }
    return trade_number(row->usual[i], BASE_ASSUMED);
}

/* Open, or nothing but the vocabulary's own default. */
static bool may_vary(const struct trade_value *value, const struct trade_property_row *row) {
    if (row->n_usual < 2 || (row->type != TRADE_WORD && row->type != TRADE_NUMBER && row->type != TRADE_COUNT)) {
        return false;
    }
    if (trade_is_open(value)) {
        return true;
    }
    struct trade_value fallback = row->type == TRADE_WORD ? trade_word((uint32_t)row->fallback, BASE_ASSUMED)
                                                          : trade_number(row->fallback, BASE_ASSUMED);
    return value->known == BASE_ASSUMED && row->fallback == row->fallback && trade_same(value, &fallback, row->type);
}

/* One dimension at a candidate, or all dimensions as one joint case has them. */
struct guess {
    const struct fit_cases *cases;
    uint32_t joint;
    const struct fit_dim *dim; /* NULL: all of cases */
    unsigned candidate;
};

static const struct trade_value *guessed(const struct guess *guess, unsigned subject, unsigned property) {
    if (guess->dim) {
        bool it = guess->dim->subject == subject && guess->dim->property == property;
        return it ? &guess->dim->at[guess->candidate] : NULL;
    }
    int d = fit_dim_of(guess->cases, subject, property);
    return d < 0 ? NULL : &guess->cases->dims[d].at[fit_candidate(&guess->cases->dims[d], guess->joint)];
}

static bool makes_cases(const struct fit_read *read) {
    return !(read->flags & FIT_OPTIONAL) || (read->flags & FIT_TRIED);
}

/* Does the bike as it stands clash by this rule with what is guessed, all else that it needs being known for sure? Not by a
 * rule that is judged as it stands: a worn chain may well be on the bike. */
static bool contradicts(const struct fit_rule *rule, const struct trade_bike *bike, const struct fit_build *now,
                        const struct guess *guess) {
    struct trade_value scratch[FIT_READS_MAX];
    struct fit_values v = {{NULL}};
    bool reads_it = false;
    if (rule->as_it_stands) {
        return false;
    }
    for (unsigned i = 0; i < rule->n_reads; i++) {
        uint8_t subject;
        const struct fit_read *read = &rule->reads[i];
        const struct trade_value *own = own_value(bike, read, &subject);
        const struct trade_value *guess_value = own ? guessed(guess, subject, read->property) : NULL;
        v.at[i] = guess_value ? guess_value : fit_read_value(&scratch[i], read, bike, now);
        reads_it = reads_it || guess_value;
        if (!v.at[i]) {
            if (!(read->flags & FIT_EMPTY_OK)) {
                return false;
            }
        } else if (!guess_value && v.at[i]->known >= BASE_ASSUMED && makes_cases(read)) {
            return false;
        }
    }
    return reads_it && rule->judge(&v).kind == FIT_CLASH;
}

static void strike_out(struct fit_dim *dim, const struct trade_bike *bike) {
    struct fit_build now;
    struct fit_dim left = *dim;
    left.n = 0;
    fit_build_now(&now, bike);
    for (unsigned c = 0; c < dim->n; c++) {
        const struct guess guess = {.dim = dim, .candidate = c};
        bool stands = true;
        for (size_t r = 0; r < fit_rules_n && stands; r++) {
            stands = !contradicts(fit_rules[r], bike, &now, &guess);
        }
        if (stands) {
            left.at[left.n++] = dim->at[c];
        }
    }
    if (left.n > 0) {
        *dim = left;
    }
}

/* How many dimensions a rule reads. */
static unsigned dims_read(const struct fit_rule *rule, const struct fit_cases *cases, const struct trade_bike *bike) {
    uint32_t seen = 0;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        uint8_t subject;
        int d = own_value(bike, &rule->reads[i], &subject) ? fit_dim_of(cases, subject, rule->reads[i].property) : -1;
        seen |= d < 0 ? 0 : 1u << d;
    }
    return (unsigned)__builtin_popcount(seen);
}

/* Strikes out joint cases that contradict what stands on the bike together; a rule that would leave none says nothing. */
static void narrow(struct fit_cases *cases, const struct trade_bike *bike) {
    struct fit_build now;
    fit_build_now(&now, bike);
    for (size_t r = 0; r < fit_rules_n; r++) {
        struct fit_case_set left = cases->possible;
        if (dims_read(fit_rules[r], cases, bike) < 2) {
            continue;
        }
        for (uint32_t joint = 0; joint < cases->n; joint++) {
            const struct guess guess = {.cases = cases, .joint = joint};
            if ((left.bits[joint / 64] >> (joint % 64) & 1) && contradicts(fit_rules[r], bike, &now, &guess)) {
                left.bits[joint / 64] &= ~(UINT64_C(1) << (joint % 64));
            }
        }
        if (!fit_no_case(&left)) {
            cases->possible = left;
        }
    }
}

/* Dimensions before it is known for how many there is room, in the order of the rules. */
struct found {
    struct fit_dim at[FOUND_MAX];
    size_t n;
};

static bool has_been_found(const struct found *found, unsigned subject, unsigned property) {
    for (size_t i = 0; i < found->n; i++) {
        if (found->at[i].subject == subject && found->at[i].property == property) {
            return true;
        }
    }
    return false;
}

/* The values that usually occur; with a bike, those that the tables do not rule out beside what is known of it. */
static void add_usual(struct fit_dim *dim, const struct trade_bike *bike, const struct trade_property_row *row) {
    for (size_t i = 0; i < row->n_usual && dim->n < FIT_CANDIDATES_MAX; i++) {
        struct trade_value value = usual_value(row, i);
        if (!bike || dim->subject >= TRADE_SLOTS ||
            trade_may_stand(bike, (enum trade_slot)dim->subject, (enum trade_property)dim->property, &value)) {
            dim->at[dim->n++] = value;
        }
    }
}

/* A part that is taken to be there for the sake of several rings goes with them: nobody looks at it for a case. */
static bool goes_unread(const struct trade_bike *bike, unsigned subject) {
    return subject < TRADE_SLOTS && bike->fitted[subject].state == TRADE_NOT_LOOKED_AT &&
           trade_slot_rows[subject].absent == TRADE_ABSENT_SEVERAL_RINGS;
}

static void consider(struct found *found, const struct trade_bike *bike, const struct fit_read *read) {
    uint8_t subject;
    const struct trade_value *own = own_value(bike, read, &subject);
    if (!own || !makes_cases(read) || goes_unread(bike, subject) || has_been_found(found, subject, read->property)) {
        return;
    }
    const struct trade_property_row *row = &trade_property_rows[read->property];
    if (!may_vary(own, row) || found->n == FOUND_MAX) {
        return;
    }
    struct fit_dim *dim = &found->at[found->n++];
    *dim = (struct fit_dim){.subject = subject, .property = read->property};
    add_usual(dim, bike, row);
    if (dim->n == 0) {
        add_usual(dim, NULL, row);
    }
    strike_out(dim, bike);
}

static void take(struct fit_cases *out, const struct fit_dim *dim) {
    struct fit_dim *at = &out->dims[out->n_dims++];
    *at = *dim;
    at->stride = out->n;
    out->n *= dim->n;
}

/* As many dimensions as there is room for: those with few values first, so that more of what is open is told in cases. They
 * stay in the order of the rules. */
static void take_all(struct fit_cases *out, const struct found *found) {
    bool taken[FOUND_MAX] = {false};
    size_t n_taken = 0;
    uint32_t n = 1;
    for (unsigned size = 1; size <= FIT_CANDIDATES_MAX; size++) {
        for (size_t i = 0; i < found->n; i++) {
            if (found->at[i].n == size) {
                taken[i] = n_taken < FIT_DIMS_MAX && n * size <= FIT_CASES_MAX;
                n_taken += taken[i];
                n *= taken[i] ? size : 1;
                out->cut = out->cut || !taken[i];
            }
        }
    }
    for (size_t i = 0; i < found->n; i++) {
        if (taken[i]) {
            take(out, &found->at[i]);
        }
    }
}

/* The bike's own value of a dimension. */
static const struct trade_value *value_of(const struct trade_bike *bike, const struct fit_dim *dim) {
    uint8_t subject;
    const struct fit_read read = {.subject = dim->subject, .property = dim->property};
    return own_value(bike, &read, &subject);
}

static void find_likely(struct fit_cases *cases, const struct trade_bike *bike) {
    struct fit_case_set likely = cases->possible;
    for (size_t d = 0; d < cases->n_dims; d++) {
        const struct fit_dim *dim = &cases->dims[d];
        const struct trade_value *own = value_of(bike, dim);
        for (uint32_t joint = 0; joint < cases->n && !trade_is_open(own); joint++) {
            if (!trade_same(own, &dim->at[fit_candidate(dim, joint)], trade_property_rows[dim->property].type)) {
                likely.bits[joint / 64] &= ~(UINT64_C(1) << (joint % 64));
            }
        }
    }
    cases->likely = fit_no_case(&likely) ? cases->possible : likely;
}

void fit_cases_of(struct fit_cases *out, const struct trade_bike *bike) {
    struct found found = {.n = 0};
    memset(out, 0, sizeof *out);
    out->n = 1;
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++) {
            consider(&found, bike, &fit_rules[r]->reads[i]);
        }
    }
    take_all(out, &found);
    for (uint32_t i = 0; i < out->n; i += 64) {
        out->possible.bits[i / 64] = out->n - i >= 64 ? UINT64_MAX : (UINT64_C(1) << (out->n - i)) - 1;
    }
    narrow(out, bike);
    find_likely(out, bike);
}
