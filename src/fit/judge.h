/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Calling rules: on a whole build, and over the cases of what is not measured.
 *
 * A case dimension is one property of the bike that is open, or assumed with a band, with the values that usually occur.
 * The joint cases are the product of the dimensions, at most FIT_CASES_MAX; a set of cases is a bit set over them. What a
 * rule needs and nobody knows, and for which no usual values stand in the vocabulary, makes the answer hang on it.
 */
#ifndef FIT_JUDGE_H
#define FIT_JUDGE_H

#include "fit/fit.h"
#include "trade/bike.h"

#define FIT_CASES_MAX 4096
#define FIT_CASE_WORDS (FIT_CASES_MAX / 64)
#define FIT_DIMS_MAX 24
#define FIT_CANDIDATES_MAX 8

struct fit_dim {
    uint8_t subject; /* FIT_FRAME, FIT_WHEEL, FIT_BIKE, or the slot whose part on the bike has it */
    uint16_t property;
    uint8_t n;       /* candidates, 1 when what stands on the bike together leaves only one */
    uint32_t stride; /* joint case index = sum of candidate * stride */
    struct trade_value at[FIT_CANDIDATES_MAX];
};

/* Bits 0..n-1 of the joint cases; the rest is zero. */
struct fit_case_set {
    uint64_t bits[FIT_CASE_WORDS];
};

struct fit_cases {
    struct fit_dim dims[FIT_DIMS_MAX];
    size_t n_dims;
    uint32_t n;                   /* joint cases, 1..FIT_CASES_MAX */
    bool cut;                     /* there would have been more dimensions or cases than the maximum */
    struct fit_case_set possible; /* those that don't contradict what stands on the bike together; at least one */
    struct fit_case_set likely;   /* of these, those in which every value that is assumed is as assumed; at least one */
};

/* The possible joint cases; whether a set has none of them, or every one. */
struct fit_case_set fit_all_cases(const struct fit_cases *cases);
bool fit_no_case(const struct fit_case_set *set);
bool fit_every_case(const struct fit_case_set *set, const struct fit_cases *cases);
/* Which candidate of a dimension a joint case has. */
unsigned fit_candidate(const struct fit_dim *dim, uint32_t joint);

/* The dimensions that decide whether a possible case is in the set, as a bit set: as few as tell it, and of those that
 * tell the same the ones that take less to read (what must come off first, then minutes). 0 when nothing decides. */
uint32_t fit_deciding(const struct fit_cases *cases, const struct fit_case_set *set);

/* Dimensions of the bike: every property with usual values that is open, or assumed by default with more than one usual
 * value, that some rule reads as FIT_NEEDED. Values that contradict what stands on the bike together are struck out. */
void fit_cases_of(struct fit_cases *out, const struct trade_bike *bike);

/* What a slot of a build holds. */
enum fit_choice_kind { FIT_KEEP = 0, FIT_NONE, FIT_NEW }; /* in the order of ties */
struct fit_choice {
    enum fit_choice_kind kind;
    const struct trade_part *part; /* FIT_KEEP: the bike's; FIT_NEW: the catalogue's; FIT_NONE: NULL */
};
struct fit_build {
    struct fit_choice at[TRADE_SLOTS];
};

/* The bike as it stands, as a build. */
void fit_build_now(struct fit_build *out, const struct trade_bike *bike);
/* Slots whose part is not the one of the bike: new, or nothing where there was one. Bit set of slots. */
uint32_t fit_changed(const struct fit_build *build, const struct trade_bike *bike);

/* A property, or a derived one, of a part. *scratch holds derived values; the pointer is good as long as both. */
const struct trade_value *fit_part_value(struct trade_value *scratch, const struct trade_part *part, bool fitted,
                                         unsigned property);
/* The value that a read gets on a build; NULL when the slot is empty. Measures too. */
const struct trade_value *fit_read_value(struct trade_value *scratch, const struct fit_read *read,
                                         const struct trade_bike *bike, const struct fit_build *build);
/* One term of a measure on a build; zero for an empty slot. */
struct fit_sum fit_term_value(const struct fit_term *term, const struct trade_bike *bike,
                              const struct fit_build *build);
/* A measure's sum over a build; known is BASE_OPEN when it can't be told. */
struct fit_sum fit_measure_sum(enum fit_measure_id id, const struct trade_bike *bike, const struct fit_build *build);
/* What must be measured on the bike when a measure is open: the first of the lengths behind it that nobody knows. Another
 * sum may want another length, and then asks for it once this one is known. */
struct fit_read fit_measure_asks(enum fit_measure_id id, const struct trade_bike *bike);
/* The two parts of a sum that must add up, put together: open when unknown lengths are left over. */
struct fit_sum fit_sum_close(struct fit_sum sum);

/* The dimension that a read varies with on a bike, or -1: for reads of FIT_NOW, of the fixed facts, and of a slot where
 * the part of the bike stays. */
int fit_dim_of(const struct fit_cases *cases, unsigned subject, unsigned property);

/* Every slot that a rule looks at, the terms of its measures included. Bit set. */
uint32_t fit_rule_slots(const struct fit_rule *rule);

/* What is overruled was seen on this bike, with these parts: it holds as long as the slots that are named, or else all of
 * the rule's, keep what the bike has there. The slots that decide it for a rule, of all entries that speak of it; bit set,
 * 0 when none does. */
uint32_t fit_overruled_slots(const struct trade_bike *bike, const struct fit_rule *rule);

/* Values of one rule, and for each read the dimension that it varies with, or -1. */
struct fit_inputs {
    struct fit_values v;
    int8_t dim[FIT_READS_MAX];
    uint32_t changed; /* slots that do not keep what the bike has; only those of fit_overruled_slots count */
};

/* One rule's answer over all cases. */
struct fit_finding {
    const struct fit_rule *rule;
    struct fit_verdict verdict; /* FIT_SILENT: the rule does not apply. Else the worst over the cases */
    bool conditional; /* it clashes in some cases and not in others; judged as it stands, a drawback does too */
    struct fit_case_set cases; /* in which it does not */
    uint16_t drawbacks;        /* bit set of reasons: drawbacks in some case that is left */
    bool hangs;                /* a value that is needed is open and has no usual values */
    uint8_t ask_subject;       /* conditional or hangs: whose property must be measured */
    uint16_t ask_property;
    bool asks_now;         /* it is a property of the part on the bike, whatever the build has in that slot */
    enum base_known known; /* the weakest of the values that it read */
    const struct trade_overruled *overruled; /* it clashed and the bike's file overrules it here: a drawback now */
};

/* The dimensions that one call of a rule varies, and which combinations of their candidates occur in a possible case. */
#define FIT_COMBINATIONS_MAX 512 /* three dimensions of eight candidates */
struct fit_varied {
    uint8_t dims[FIT_DIMS_MAX];
    unsigned n_dims;
    unsigned n; /* combinations */
    uint64_t occurs[FIT_COMBINATIONS_MAX / 64];
};
/* Which dimensions inputs vary with: bit set. What varies with such a set; a dimension beyond FIT_COMBINATIONS_MAX is left at
 * its first candidate. */
uint32_t fit_varied_dims(const struct fit_rule *rule, const struct fit_inputs *in);
void fit_vary(struct fit_varied *out, uint32_t dims, const struct fit_cases *cases);

/* What a rule says of inputs that the caller put together, combination by combination. */
struct fit_answer {
    struct fit_verdict worst;                     /* FIT_SILENT: it does not apply */
    unsigned n, n_clash, n_drawback;              /* combinations that occur; in which it clashes, has a drawback */
    uint64_t clash[FIT_COMBINATIONS_MAX / 64];    /* which; bit set */
    uint64_t drawback[FIT_COMBINATIONS_MAX / 64]; /* likewise */
    uint16_t drawbacks;                           /* bit set of reasons */
    bool hangs;                                   /* as in a finding, and what must be measured then */
    uint8_t ask_subject;
    uint16_t ask_property;
    bool asks_now;
    enum base_known known;
    const struct trade_overruled
        *overruled; /* it clashes and the bike's file overrules it here: a drawback in every case */
};
void fit_answer_inputs(struct fit_answer *out, const struct fit_rule *rule, const struct fit_inputs *in,
                       const struct fit_varied *varied, const struct trade_bike *bike, const struct fit_cases *cases);
/* The possible cases whose combination is not in a set. */
void fit_cases_without(struct fit_case_set *out, const struct fit_varied *varied, const uint64_t *combinations,
                       const struct fit_cases *cases);

/* One rule on one build. as_it_stands: judge also a joint at which nothing changes; else such a joint is silent unless
 * the rule says otherwise, since what stands on the bike together works together. */
void fit_judge_rule(struct fit_finding *out, const struct fit_rule *rule, const struct trade_bike *bike,
                    const struct fit_build *build, const struct fit_cases *cases, bool as_it_stands);

/* All rules on a build, in registry order, silent ones left out. Room for fit_rules_n findings. */
void fit_judge_build(struct fit_finding *out, size_t *n_out, const struct trade_bike *bike,
                     const struct fit_build *build, const struct fit_cases *cases, bool as_it_stands);

/* Why the program turns this bike down (motor, belt, gear hub, tandem, fixed, one-piece crank, coaster, damaged frame):
 * the code of a message `refused.<why>`, and the code of what can still be done; false when it does not. */
bool fit_refused(const struct trade_bike *bike, const char **why, const char **can_do);

#endif
