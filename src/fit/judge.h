/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Calling rules: on a whole build, and over the cases of what is not measured.
 *
 * A case dimension is one property of the bike that is open, or assumed with a band, with the values that usually occur.
 * The joint cases are the product of the dimensions, at most FIT_CASES_MAX; a set of cases is a bit set over them.
 */
#ifndef FIT_JUDGE_H
#define FIT_JUDGE_H

#include "fit/fit.h"
#include "trade/bike.h"

#define FIT_CASES_MAX 4096
#define FIT_CASE_WORDS (FIT_CASES_MAX / 64)
#define FIT_DIMS_MAX 12
#define FIT_CANDIDATES_MAX 8

struct fit_dim {
    uint8_t            subject;  /* FIT_FRAME, FIT_WHEEL, FIT_BIKE, or FIT_NOW + slot: whose property it is */
    uint16_t           property;
    uint8_t            n;        /* candidates */
    uint8_t            usual;    /* which of them is the default, when there is one; else n */
    uint32_t           stride;   /* joint case index = sum of candidate * stride */
    struct trade_value at[FIT_CANDIDATES_MAX];
};

struct fit_cases {
    struct fit_dim dims[FIT_DIMS_MAX];
    size_t         n_dims;
    uint32_t       n;    /* joint cases, 1..FIT_CASES_MAX */
    bool           cut;  /* there would have been more dimensions or cases than the maximum */
};

struct fit_case_set {
    uint64_t bits[FIT_CASE_WORDS];
};

/* What a slot of a build holds. */
enum fit_choice_kind { FIT_NONE = 0, FIT_KEEP, FIT_NEW };
struct fit_choice {
    enum fit_choice_kind     kind;
    const struct trade_part *part; /* FIT_KEEP: the bike's; FIT_NEW: the catalogue's; FIT_NONE: NULL */
};
struct fit_build {
    struct fit_choice at[TRADE_SLOTS];
};

/* The bike as it stands, as a build. */
void fit_build_now(struct fit_build *out, const struct trade_bike *bike);

/* One rule's answer on one build over all cases. */
struct fit_finding {
    const struct fit_rule *rule;
    struct fit_verdict     verdict;   /* what is told: the worst over the cases that are left, FIT_ASK when some fit and
                                         some clash */
    struct fit_case_set    cases;     /* in which it does not clash */
    bool                   conditional; /* some cases fit, some clash */
    uint64_t               hangs;     /* reserved for the caller */
    uint8_t                ask_subject; /* FIT_ASK or conditional: whose property must be measured */
    uint16_t               ask_property;
    enum base_known        known;     /* the weakest of the values that it read */
    bool                   overruled; /* it clashed, and the bike's file overrules it: a drawback now */
    const struct trade_overruled *by; /* by whom and why; NULL when not overruled */
};

/* The value that a read gets: a property, a derived one, a measure. Never NULL for a slot that is not empty.
 * The returned pointer is good until the next call with the same scratch. */
const struct trade_value *fit_read_value(struct trade_value *scratch, const struct fit_read *read,
                                         const struct trade_bike *bike, const struct fit_build *build);

/* A measure's sum over a build, mm; *known its weakest term. NAN when it is open. */
double fit_measure_sum(enum fit_measure_id id, const struct trade_bike *bike, const struct fit_build *build,
                       enum base_known *known);

/* Dimensions of the bike: every property with usual values that is open, or assumed by default with more than one usual
 * value, that some rule reads as FIT_NEEDED. Values that contradict what stands on the bike together are struck out. */
void fit_cases_of(struct fit_cases *out, const struct trade_bike *bike);

/* All rules on a build, in registry order; silent ones are left out. Room for fit_rules_n findings.
 * as_it_stands: judge also what stays as it is (for the bike itself); else such joints are silent. */
void fit_judge_build(struct fit_finding *out, size_t *n_out, const struct trade_bike *bike, const struct fit_build *build,
                     const struct fit_cases *cases, bool as_it_stands);

/* Why the program turns this bike down (motor, belt, gear hub, tandem, fixed, one-piece crank, coaster, damaged frame):
 * the code of a message `refused.<why>`, and the code of what can still be done; false when it does not. */
bool fit_refused(const struct trade_bike *bike, const char **why, const char **can_do);

#endif
