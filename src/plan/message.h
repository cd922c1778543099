/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Messages: the states of a set of slots, each with its least costly part lists. The files of the search share this header;
 * nothing else includes it.
 */
#ifndef PLAN_MESSAGE_H
#define PLAN_MESSAGE_H

#include "plan/search.h"

/* What a state holds behind what its consumers have seen: what was gathered so far. Of these each may be better in one
 * state than in another that has the same future. */
enum plan_gathered {
    PLAN_G_OPERATIONS = 0, /* bit set: triggered, and not paid yet */
    PLAN_G_CASES,
    PLAN_G_DRAWBACKS,                    /* two words */
    PLAN_G_HANGS = PLAN_G_DRAWBACKS + 2, /* two words */
    PLAN_G_TENTHS = PLAN_G_HANGS + 2,
    PLAN_G_CHANGED_SLOTS,
    PLAN_G_LOWEST,
    PLAN_G_COUNTED,
    PLAN_G_LINE,
    PLAN_G_IN_BAND,
    PLAN_G_WALKED,
    PLAN_G_OPEN_MASS, /* 1: some slot's change of mass is open; 0 where mass is no objective */
    PLAN_GATHERED
};

struct plan_labels {
    struct plan_label *at; /* rising cost, falling mass */
    size_t n, room;
};

struct plan_message {
    struct base_arena *arena; /* owns states and labels */
    uint32_t slots;
    uint8_t consumers[PLAN_CONSUMERS_MAX]; /* that have seen some of the slots and are not answered yet */
    unsigned n_consumers;
    bool unified;     /* made by a join, so that what goes on alike has one number already */
    unsigned n_front; /* words of a state in front of what was gathered */
    struct plan_intern states;
    struct plan_labels *labels; /* of each state */
    size_t room;
};

/* What a consumer sees of one slot over all that the slot may hold: distinct numbers. */
struct plan_glimpses {
    uint32_t *at;
    uint32_t n;
};

/* What a consumer may see of slots: one number; or two, between which all lies that differs in nothing but sums that its answer
 * rises with. */
struct plan_span {
    uint32_t low, high;
};

/* The ways in which the slots outside may go on, for one consumer. */
struct plan_outside {
    struct plan_outside *before;
    bool between;             /* one way for each kind (plan_order_of) */
    uint32_t leaves, waiting; /* slots: of leaves, and of messages that wait */
    const struct plan_span *at;
    uint32_t n; /* 0: more than the most that was asked for */
    size_t most;
};

struct plan_searching {
    struct plan_model *model;
    struct plan_message leaves[TRADE_SLOTS];
    struct plan_glimpses *glimpses; /* of consumer * TRADE_SLOTS + slot */
    unsigned turn[TRADE_SLOTS];     /* when the slot is joined: place in the tree */
    struct plan_outside
        *outside[PLAN_CONSUMERS_MAX];   /* what was gathered so far, the last first; in the model's arena */
    const struct plan_message *waiting; /* made, and to be joined with what is being made */
    size_t n_waiting;
    uint32_t paid; /* operations whose slots are all covered by a node that was made */
    bool by_mass;
    bool empty; /* some side has no state at all: there is no build */
    bool failed;
};

/* Nothing in it yet; states have front_words in front of what is gathered. */
void plan_message_init(struct plan_message *m, struct base_arena *arena, unsigned front_words);
/* Frees states and labels. */
void plan_message_clear(struct plan_message *m);

/* An arena of its own for a message or for the work of one join, within the limit; NULL and s->failed without memory. */
struct base_arena *plan_new_arena(struct plan_searching *s);

/* Is it searched without shortcuts? */
static inline bool plan_plainly(const struct plan_searching *s) { return s->model->plan->question.plain; }

/* The words of a state; a 64-bit set in two words of it. */
static inline const uint32_t *plan_state_at(const struct plan_message *m, uint32_t id) {
    return plan_intern_at(&m->states, id);
}
static inline uint64_t plan_two_words(const uint32_t *words) { return (uint64_t)words[0] | (uint64_t)words[1] << 32; }
static inline void plan_put_two_words(uint32_t *words, uint64_t bits) {
    words[0] = (uint32_t)bits;
    words[1] = (uint32_t)(bits >> 32);
}

/* The labels of a state, made when it is new; NULL and s->failed without memory. */
struct plan_labels *plan_labels_of(struct plan_searching *s, struct plan_message *m, const uint32_t *state);
/* Puts a label among those of one state: ties add up and keep the first part list; what is beaten goes. passing: the
 * label's parts are the caller's own for the moment, and are copied when the label stays. */
void plan_add_label(struct plan_searching *s, struct plan_message *m, struct plan_labels *to,
                    const struct plan_label *label, bool passing);

/* Which word of a state holds what a consumer has seen; -1 when it has seen nothing of these slots. */
int plan_word_of(const struct plan_message *m, unsigned consumer);
/* The distinct numbers of what a consumer has seen in a message's states, in the order of first sight; index, where it is not
 * NULL, is for each state which of them it has. */
void plan_distinct(struct plan_searching *s, struct base_arena *arena, struct plan_glimpses *out, uint32_t *index,
                   const struct plan_message *m, unsigned consumer);

/* Drops labels that one of another state beats whatever comes: consumers have seen the same, or sums at least as high that
 * their answers rise with. */
void plan_prune(struct plan_searching *s, struct plan_message *m);
/* States in rising cost of their first label; those without a label left are not among them. In scratch. */
uint32_t *plan_by_cost(struct plan_searching *s, struct base_arena *scratch, const struct plan_message *m, uint32_t *n);

#endif
