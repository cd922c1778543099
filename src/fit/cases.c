/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The cases of what is not measured.
 */
#include "fit/judge.h"

#include <string.h>

struct fit_case_set fit_all_cases(const struct fit_cases *cases) {
    struct fit_case_set set = {{0}};
    for (uint32_t i = 0; i < cases->n; i += 64)
        set.bits[i / 64] = cases->n - i >= 64 ? UINT64_MAX : (UINT64_C(1) << (cases->n - i)) - 1;
    return set;
}

bool fit_no_case(const struct fit_case_set *set) {
    for (size_t i = 0; i < FIT_CASE_WORDS; i++)
        if (set->bits[i])
            return false;
    return true;
}

bool fit_every_case(const struct fit_case_set *set, const struct fit_cases *cases) {
    struct fit_case_set all = fit_all_cases(cases);
    return memcmp(set, &all, sizeof all) == 0;
}

unsigned fit_candidate(const struct fit_dim *dim, uint32_t joint) { return (unsigned)(joint / dim->stride % dim->n); }

int fit_dim_of(const struct fit_cases *cases, unsigned subject, unsigned property) {
    for (size_t d = 0; d < cases->n_dims; d++)
        if (cases->dims[d].subject == subject && cases->dims[d].property == property)
            return (int)d;
    return -1;
}

/* The bike's own value that a read is about, or NULL when the read is not about a property of the bike. A slot's read
 * counts too: the part of the bike may stay there. */
static const struct trade_value *own_value(const struct trade_bike *bike, const struct fit_read *read,
                                           uint8_t *subject) {
    *subject = read->subject;
    if (read->property >= TRADE_PROPERTIES)
        return NULL;
    if (read->subject == FIT_BIKE)
        return trade_get(&bike->self, read->property);
    if (read->subject == FIT_FRAME)
        return trade_get(&bike->frame, read->property);
    if (read->subject == FIT_WHEEL)
        return trade_get(&bike->wheel, read->property);
    if (read->subject >= FIT_MEASURE)
        return NULL;
    *subject = (uint8_t)(read->subject >= FIT_NOW ? read->subject - FIT_NOW : read->subject);
    if (!trade_bike_has(bike, *subject))
        return NULL;
    return trade_get(&bike->fitted[*subject].part, read->property);
}

static struct trade_value usual_value(const struct trade_property_row *row, size_t i) {
    if (row->type == TRADE_WORD)
        return trade_word((uint32_t)row->usual[i], BASE_ASSUMED);
    return trade_number(row->usual[i], BASE_ASSUMED);
}

/* Open, or nothing but the vocabulary's own default. */
static bool may_vary(const struct trade_value *value, const struct trade_property_row *row) {
    if (row->n_usual < 2 || (row->type != TRADE_WORD && row->type != TRADE_NUMBER && row->type != TRADE_COUNT))
        return false;
    if (trade_is_open(value))
        return true;
    struct trade_value fallback = row->type == TRADE_WORD ? trade_word((uint32_t)row->fallback, BASE_ASSUMED)
                                                          : trade_number(row->fallback, BASE_ASSUMED);
    return value->known == BASE_ASSUMED && row->fallback == row->fallback && trade_same(value, &fallback, row->type);
}

/* Does the bike as it stands clash by this rule when the dimension has this candidate and all else is known for sure? */
static bool contradicts(const struct fit_rule *rule, const struct trade_bike *bike, const struct fit_build *now,
                        const struct fit_dim *dim, unsigned candidate) {
    struct trade_value scratch[FIT_READS_MAX];
    struct fit_values v = {{NULL}};
    bool reads_it = false;
    for (unsigned i = 0; i < rule->n_reads; i++) {
        uint8_t subject;
        const struct fit_read *read = &rule->reads[i];
        const struct trade_value *own = own_value(bike, read, &subject);
        v.at[i] = fit_read_value(&scratch[i], read, bike, now);
        if (own && subject == dim->subject && read->property == dim->property) {
            v.at[i] = &dim->at[candidate];
            reads_it = true;
        } else if (!v.at[i]) {
            if (!(read->flags & FIT_EMPTY_OK))
                return false;
        } else if (v.at[i]->known >= BASE_ASSUMED && !(read->flags & FIT_OPTIONAL)) {
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
        bool stands = true;
        for (size_t r = 0; r < fit_rules_n && stands; r++)
            stands = !contradicts(fit_rules[r], bike, &now, dim, c);
        if (stands)
            left.at[left.n++] = dim->at[c];
    }
    if (left.n > 0)
        *dim = left;
}

static void consider(struct fit_cases *out, const struct trade_bike *bike, const struct fit_read *read) {
    uint8_t subject;
    const struct trade_value *own = own_value(bike, read, &subject);
    if (!own || (read->flags & FIT_OPTIONAL) || fit_dim_of(out, subject, read->property) >= 0)
        return;
    const struct trade_property_row *row = &trade_property_rows[read->property];
    if (!may_vary(own, row))
        return;
    struct fit_dim dim = {.subject = subject, .property = read->property};
    for (size_t i = 0; i < row->n_usual && dim.n < FIT_CANDIDATES_MAX; i++)
        dim.at[dim.n++] = usual_value(row, i);
    strike_out(&dim, bike);
    if (out->n_dims == FIT_DIMS_MAX || out->n * dim.n > FIT_CASES_MAX) {
        out->cut = true;
        return;
    }
    dim.stride = out->n;
    out->n *= dim.n;
    out->dims[out->n_dims++] = dim;
}

void fit_cases_of(struct fit_cases *out, const struct trade_bike *bike) {
    memset(out, 0, sizeof *out);
    out->n = 1;
    for (size_t r = 0; r < fit_rules_n; r++)
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++)
            consider(out, bike, &fit_rules[r]->reads[i]);
}
