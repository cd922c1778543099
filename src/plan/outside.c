/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/outside.h"

#include "plan/tuning.h"

/* Ways while they are gathered: each once, or each kind of them once. */
struct gathering {
    struct plan_searching *s;
    struct plan_consumer *consumer;
    bool between; /* one way for each kind */
    struct plan_intern seen;
    struct plan_span *at;
    size_t room;
};

static void gather_init(struct gathering *out, struct plan_searching *s, unsigned consumer, bool between) {
    *out = (struct gathering){.s = s, .consumer = &s->model->consumers[consumer], .between = between};
    plan_intern_init(&out->seen, s->model->arena, sizeof(uint32_t));
}

static void gather_way(struct gathering *to, struct plan_span way) {
    struct plan_model *model = to->s->model;
    struct plan_consumer *consumer = to->consumer;
    uint32_t number = to->between ? plan_order_of(model, consumer, way.low).kind : way.low;
    bool is_new;
    uint32_t id = plan_intern_id(&to->seen, &number, &is_new);
    struct plan_span *at =
        id == PLAN_NO_ID ? NULL : base_arena_grow(to->seen.arena, to->at, id, &to->room, (size_t)id + 1, sizeof *at);
    if (!at || model->failed) {
        to->s->failed = true;
        return;
    }
    to->at = at;
    at[id] = is_new ? way
                    : (struct plan_span){plan_extreme(model, consumer, at[id].low, way.low, false),
                                         plan_extreme(model, consumer, at[id].high, way.high, true)};
}

/* What a consumer can see of several sets of slots together. */
static struct plan_ways see_more(struct plan_searching *s, unsigned consumer, struct plan_ways sofar,
                                 struct plan_glimpses more, bool between, size_t most) {
    struct gathering single, both;
    gather_init(&single, s, consumer, between);
    for (uint32_t i = 0; i < more.n && !s->failed; i++) {
        gather_way(&single, (struct plan_span){more.at[i], more.at[i]});
    }
    gather_init(&both, s, consumer, between);
    if ((size_t)sofar.n * single.seen.n > PLAN_TRIES_A_WAY * most) {
        return (struct plan_ways){NULL, 0};
    }
    for (uint32_t i = 0; i < sofar.n && both.seen.n <= most; i++) {
        for (uint32_t k = 0; k < single.seen.n && !s->failed; k++) {
            uint32_t low = plan_see_both(s->model, both.consumer, sofar.at[i].low, single.at[k].low);
            bool same = sofar.at[i].low == sofar.at[i].high && single.at[k].low == single.at[k].high;
            gather_way(&both, (struct plan_span){low, same ? low
                                                           : plan_see_both(s->model, both.consumer, sofar.at[i].high,
                                                                           single.at[k].high)});
        }
    }
    return (struct plan_ways){both.at, both.seen.n <= most ? both.seen.n : 0};
}

/* The slots outside that no waiting message has: the one that is joined next, or TRADE_SLOTS when there is none. */
static unsigned next_outside(const struct plan_searching *s, uint32_t leaves) {
    unsigned next = TRADE_SLOTS;
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        if ((leaves >> slot & 1) && (next == TRADE_SLOTS || s->turn[slot] < s->turn[next])) {
            next = slot;
        }
    }
    return next;
}

/* What a consumer can see of all the messages that wait. */
static struct plan_ways all_waiting(struct plan_searching *s, unsigned consumer, bool between, size_t most) {
    static const struct plan_span nothing = {PLAN_SEEN_NOTHING, PLAN_SEEN_NOTHING};
    struct plan_ways sofar = {&nothing, 1};
    for (size_t w = 0; w < s->n_waiting && !s->failed && sofar.n > 0; w++) {
        const struct plan_message *m = &s->waiting[w];
        struct plan_glimpses of_message;
        if (s->model->consumers[consumer].slots & m->slots) {
            plan_distinct(s, s->model->arena, &of_message, NULL, m, consumer);
            sofar = see_more(s, consumer, sofar, of_message, between, most);
        }
    }
    return sofar;
}

static const struct plan_outside *find(const struct plan_searching *s, unsigned consumer,
                                       const struct plan_outside *like) {
    const struct plan_outside *known = s->outside[consumer];
    while (known && (known->between != like->between || known->leaves != like->leaves ||
                     known->waiting != like->waiting || (known->n == 0 && known->most < like->most))) {
        known = known->before;
    }
    return known;
}

/* Gathers what is not known yet: the slot that is joined next comes last, so that the rest serves again when it is. */
static struct plan_ways gather(struct plan_searching *s, unsigned consumer, const struct plan_outside *wanted) {
    unsigned slot = next_outside(s, wanted->leaves);
    if (slot == TRADE_SLOTS) {
        return all_waiting(s, consumer, wanted->between, wanted->most);
    }
    struct plan_ways ways =
        plan_ways_outside(s, consumer, wanted->leaves & ~(1u << slot), wanted->between, wanted->most);
    if (ways.n == 0 || s->failed) {
        return ways;
    }
    return see_more(s, consumer, ways, s->glimpses[(size_t)consumer * TRADE_SLOTS + slot], wanted->between,
                    wanted->most);
}

struct plan_ways plan_ways_outside(struct plan_searching *s, unsigned consumer, uint32_t slots, bool between,
                                   size_t most) {
    struct plan_outside wanted = {.between = between, .leaves = slots, .most = most};
    for (size_t w = 0; w < s->n_waiting; w++) {
        wanted.waiting |= s->waiting[w].slots;
        wanted.leaves &= ~s->waiting[w].slots;
    }
    const struct plan_outside *known = find(s, consumer, &wanted);
    if (known) {
        return (struct plan_ways){known->at, known->n};
    }
    struct plan_ways ways = gather(s, consumer, &wanted);
    struct plan_outside *made = base_arena_alloc(s->model->arena, 1, sizeof *made);
    s->failed = s->failed || !made;
    if (!s->failed) {
        *made = wanted;
        made->before = s->outside[consumer];
        made->at = ways.at;
        made->n = ways.n;
        s->outside[consumer] = made;
    }
    return ways;
}
