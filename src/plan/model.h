/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The plan as the search sees it: consumers, and what each of them has seen.
 *
 * A consumer is a rule, or one of four cells: the number of rings, the gears, the chain line, the road. It reads variables: a
 * property of one slot, or a measure (a sum over slots). What a consumer has seen of some slots is the tuple of the values
 * that these slots give it, and whether anything changes there. Two part lists of which every consumer has seen the same
 * have the same future, and nothing else of them need be kept. Where a consumer is judged and when a value is forgotten
 * follows from the declared reads alone.
 *
 * What a consumer answers is an outcome: allowed in which cases, with which drawbacks, hanging on what, and the values of
 * a cell. Outcomes, sets of cases, values and what was seen are interned, so that the search handles numbers only.
 */
#ifndef PLAN_MODEL_H
#define PLAN_MODEL_H

#include "plan/choice.h"
#include "plan/intern.h"

#define PLAN_VARIABLES_MAX 256
#define PLAN_CONSUMERS_MAX 128
#define PLAN_CONSUMER_VARIABLES_MAX 32

/* One value of a variable. A property: its bits, or empty, or open; which dimension it varies with. A partial sum: whole
 * micrometres, how often the unknown length is in it, or open. */
struct plan_entry {
    uint64_t bits; /* the union of trade_value, or micrometres as int64 */
    int32_t unknown;
    int8_t dim; /* -1: none */
    uint8_t open;
    uint8_t empty;
    uint8_t zero; /* padding, always 0 */
};

struct plan_variable {
    bool sum;
    uint8_t subject; /* slot, or enum fit_measure_id */
    uint16_t property;
    uint32_t slots;             /* bit set */
    struct plan_intern entries; /* of struct plan_entry */
};

enum plan_consumer_kind { PLAN_RULE, PLAN_RINGS, PLAN_GEARS, PLAN_LINE, PLAN_ROAD };

/* What is seen, as it stands among what differs in nothing but sums that the consumer's answer rises with. */
struct plan_order {
    uint32_t kind; /* the number of what is seen with these sums taken out */
    int64_t total; /* of these sums */
};

struct plan_consumer {
    enum plan_consumer_kind kind;
    const struct fit_rule *rule; /* of PLAN_RULE */
    uint32_t slots;              /* bit set of all that it covers */
    bool any;                    /* silent while nothing changes in its slots */
    uint32_t rising;             /* of variables, bit set: sums with which its answer gets no worse when they rise */
    uint16_t variables[PLAN_CONSUMER_VARIABLES_MAX];
    unsigned n_variables;
    int8_t source[FIT_READS_MAX]; /* of a rule's read: index in variables, or -1: a fixed fact */
    const struct trade_value *fixed[FIT_READS_MAX];
    struct trade_value scratch[FIT_READS_MAX]; /* home of derived fixed facts */
    uint32_t overruled;                        /* slots whose staying decides whether an overruling holds */
    int8_t dim[FIT_READS_MAX];                 /* of a fixed fact */
    struct plan_intern seen; /* of n_variables entry numbers, PLAN_NO_ID where not seen, then 1 if changed */
    uint32_t *answers;       /* outcome of each number seen that is whole; PLAN_NO_ID: not asked yet */
    size_t answers_room;
    struct plan_order *orders; /* of each number seen; kind 0: not asked yet */
    size_t orders_room;
};

#define PLAN_SEEN_NOTHING 0u /* the number of what a consumer has seen of no slot */
#define PLAN_SEEN_SILENT 1u  /* of a slot seen empty without which its rule does not apply: it stays silent */

struct plan_outcome {
    uint64_t drawbacks;
    uint64_t hangs;
    uint32_t cases;                                   /* number of the set of cases */
    uint32_t allowed;                                 /* 1 or 0; all else is 0 when it is not */
    int32_t lowest, counted, line, in_band, walked_m; /* of a cell whose value is an objective; else 0 */
    int32_t zero;
};

/* In which combinations of the candidates of these dimensions something clashes. */
struct plan_clash {
    uint64_t dims; /* bit set */
    uint64_t combinations[FIT_COMBINATIONS_MAX / 64];
};

struct plan_model {
    struct plan *plan;
    struct base_arena *arena; /* of the search: freed when it ends */
    struct plan_variable variables[PLAN_VARIABLES_MAX];
    unsigned n_variables;
    struct plan_consumer consumers[PLAN_CONSUMERS_MAX];
    unsigned n_consumers;
    struct plan_intern cases; /* of struct fit_case_set; number 0 is all */
    struct plan_intern meets; /* pairs of set numbers that were met */
    uint32_t *meet_of;        /* the set of each pair */
    size_t meet_room;
    struct plan_intern dims;      /* sets of dimensions that rules vary, and */
    struct fit_varied *varied;    /* what varies with each */
    struct fit_varied varies_not; /* with none */
    size_t varied_room;
    struct plan_intern clashes; /* of struct plan_clash, and */
    uint32_t *cases_of_clash;   /* the set of cases that each leaves */
    size_t clash_room;
    struct plan_intern outcomes; /* number 0 is not allowed, 1 is allowed and nothing else */
    int32_t cap;
    int32_t lowest_most, highest_least; /* bounds of the wish, 0.1 mm; INT32_MAX and 0 without */
    bool open_mass; /* of the ways whose change of mass is open, and no others; false: of those where it is known */
    bool certain;   /* only ways that fit in every case and hang on nothing */
    bool failed;    /* memory was spent */
};

#define PLAN_OUTCOME_NO 0u
#define PLAN_OUTCOME_PLAIN 1u

/* All consumers of plan->wish, with nothing seen. plan is borrowed and takes the drawbacks and hangs that are met; arena
 * owns the rest. BASE_NO_MEMORY. */
enum base_status plan_model_init(struct plan_model *out, struct plan *plan, struct base_arena *arena) BASE_CHECKED;

/* One value of a variable, by number; a partial sum that is whole; the outcome of a consumer whose variables have these
 * values, n_variables of them. The files of the model share them. */
const struct plan_entry *plan_entry_at(const struct plan_model *model, const struct plan_consumer *c,
                                       const uint32_t *values, unsigned i);
struct fit_sum plan_sum_of(const struct plan_entry *entry);
uint32_t plan_judge(struct plan_model *model, const struct plan_consumer *consumer, const struct plan_entry *values,
                    bool changed);

/* What a slot that holds this choice gives each variable: entry numbers, PLAN_NO_ID where it gives nothing. */
void plan_entries_of(struct plan_model *model, uint32_t entries[PLAN_VARIABLES_MAX], enum trade_slot slot,
                     const struct fit_choice *choice);
/* What a consumer sees of a slot that gives these; changed: is the choice not what the bike has there? Number in seen. */
uint32_t plan_see(struct plan_model *model, struct plan_consumer *consumer, const uint32_t entries[PLAN_VARIABLES_MAX],
                  bool changed);
/* What it has seen of two sets of slots that have none in common. */
uint32_t plan_see_both(struct plan_model *model, struct plan_consumer *consumer, uint32_t a, uint32_t b);
/* What it answers when it has seen all of its slots: number in outcomes. */
uint32_t plan_answer(struct plan_model *model, struct plan_consumer *consumer, uint32_t seen);
/* What it answers when it has seen all of its slots in two sets that have none in common; keeps no record of it. */
uint32_t plan_answer_both(struct plan_model *model, struct plan_consumer *consumer, uint32_t a, uint32_t b);

/* Where a number seen stands among its like. */
struct plan_order plan_order_of(struct plan_model *model, struct plan_consumer *consumer, uint32_t seen);
/* Of two of one kind: is each of these sums of a no higher than that of b? */
bool plan_no_higher(const struct plan_model *model, const struct plan_consumer *consumer, uint32_t a, uint32_t b);
/* Of two of one kind: what would be seen with the lower, or the higher, of each of these sums. */
uint32_t plan_extreme(struct plan_model *model, struct plan_consumer *consumer, uint32_t a, uint32_t b, bool high);

/* The cases that two sets have in common, by number; PLAN_NO_ID when memory is spent. */
uint32_t plan_meet(struct plan_model *model, uint32_t a, uint32_t b);

#endif
