/* SPDX-License-Identifier: Apache-2.0 */
#include "plan/conflict.h"

#include "plan/relief.h"

#include <math.h>
#include <string.h>

#define CONSTRAINTS_MAX (PLAN_WISHES + 2 * TRADE_SLOTS + PLAN_RULES_MAX)

struct constraint {
    enum plan_stop_kind kind;
    unsigned what;
};

/* Constraints of a question, in the order in which they are blamed. */
struct constraints {
    const struct plan *plan;
    struct trade_wish wish;
    struct plan_beyond beyond;
    struct constraint all[CONSTRAINTS_MAX];
    size_t n;
};

static void add(struct constraints *c, enum plan_stop_kind kind, unsigned what) {
    c->all[c->n++] = (struct constraint){kind, what};
}

/* What can be given up: wishes, slots that are kept, conditions of parts. */
static void collect_wishes(struct constraints *c) {
    const struct trade_bike *bike = c->plan->question.bike;
    const struct trade_wish *wish = &c->plan->wish;
    uint32_t given = plan_wishes_given(wish) & ~(1u << PLAN_WISH_KEEP); /* kept slots are blamed one by one */
    for (unsigned w = 0; w < PLAN_WISHES; w++) {
        if (given >> w & 1) {
            add(c, PLAN_STOP_WISH, w);
        }
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (wish->keep >> s & 1) {
            add(c, PLAN_STOP_KEEP, s);
        }
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (trade_bike_has(bike, (enum trade_slot)s) && !trade_may_stay(&bike->fitted[s].part)) {
            add(c, PLAN_STOP_CONDITION, s);
        }
    }
}

static void collect_rules(struct constraints *c) {
    for (unsigned r = 0; r < fit_rules_n && r < PLAN_RULES_MAX; r++) {
        if (fit_find_rule(fit_rules[r]->id) == fit_rules[r]) {
            add(c, PLAN_STOP_RULE, r);
        }
    }
}

static void drop_wish(struct trade_wish *wish, unsigned which) {
    plan_give_up(wish, 1u << which);
    wish->rings = which == PLAN_WISH_RINGS ? 0 : wish->rings;
}

static void drop_rule(struct plan_beyond *beyond, const char *id) {
    for (size_t r = 0; r < fit_rules_n && r < PLAN_RULES_MAX; r++) {
        beyond->waived[r] = beyond->waived[r] || strcmp(fit_rules[r]->id, id) == 0;
    }
}

static void drop(struct trade_wish *wish, struct plan_beyond *beyond, const struct constraint *constraint) {
    switch (constraint->kind) {
    case PLAN_STOP_WISH:
        drop_wish(wish, constraint->what);
        break;
    case PLAN_STOP_KEEP:
        wish->keep &= ~(1u << constraint->what);
        break;
    case PLAN_STOP_CONDITION:
        beyond->may_stay |= 1u << constraint->what;
        break;
    case PLAN_STOP_RULE:
        drop_rule(beyond, fit_rules[constraint->what]->id);
        break;
    }
}

/* The plan of least cost under the constraints that hold, and no others. *out is the caller's. */
static enum base_status plan_holding(struct plan **out, const struct constraints *c, const bool *holds) {
    struct trade_wish wish = c->wish;
    struct plan_beyond beyond = c->beyond;
    for (size_t i = 0; i < c->n; i++) {
        if (!holds[i]) {
            drop(&wish, &beyond, &c->all[i]);
        }
    }
    return plan_again(out, c->plan, &wish, &beyond);
}

/* Is there a way under the members so far and the first `prefix` constraints? *known false: memory ended it. */
static enum base_status has_way(bool *has, bool *known, const struct constraints *c, const bool *member,
                                size_t prefix) {
    bool holds[CONSTRAINTS_MAX];
    struct plan *plan;
    for (size_t i = 0; i < c->n; i++) {
        holds[i] = member[i] || i < prefix;
    }
    enum base_status status = plan_holding(&plan, c, holds);
    if (status == BASE_OK) {
        *has = plan->n_ways > 0;
        *known = *has || plan->complete;
        plan_free(plan);
    }
    return status;
}

/* Members of a minimal conflict. With the members and the first `most` constraints there is no way; the last constraint of
 * the shortest prefix of which that is true belongs to every conflict that is left, and is the next member. */
static enum base_status find_members(bool *member, bool *known, const struct constraints *c) {
    size_t most = c->n, n = 0;
    enum base_status status = BASE_OK;
    while (status == BASE_OK && *known) {
        bool has = false;
        size_t low = 0, high = most; /* no way with high; one with low, once that is known */
        status = has_way(&has, known, c, member, 0);
        if (status != BASE_OK || !*known || !has) {
            break;
        }
        while (high - low > 1 && status == BASE_OK && *known) {
            size_t middle = low + (high - low) / 2;
            status = has_way(&has, known, c, member, middle);
            low = has ? middle : low;
            high = has ? high : middle;
        }
        member[high - 1] = true;
        most = high - 1;
        *known = *known && ++n < PLAN_STOPS_MAX;
    }
    return status;
}

/* What opens when one member is dropped. */
static enum base_status open_without(struct plan_stop *out, bool *known, const struct constraints *c,
                                     const bool *member, size_t dropped) {
    bool holds[CONSTRAINTS_MAX];
    struct plan *plan;
    memcpy(holds, member, sizeof holds);
    holds[dropped] = false;
    enum base_status status = plan_holding(&plan, c, holds);
    if (status == BASE_OK) {
        *known = plan->n_ways > 0;
        *out = (struct plan_stop){.kind = c->all[dropped].kind, .what = c->all[dropped].what};
        if (*known) {
            out->values = plan->ways[0].values;
            out->build = plan->ways[0].build;
        }
        plan_free(plan);
    }
    return status;
}

/* A minimal conflict of these constraints, which no build meets all. */
static enum base_status find_conflict(struct plan_conflict *out, const struct constraints *c) {
    bool member[CONSTRAINTS_MAX] = {false};
    enum base_status status = find_members(member, &out->complete, c);
    for (size_t i = 0; i < c->n && status == BASE_OK && out->complete; i++) {
        if (member[i]) {
            status = open_without(&out->stops[out->n++], &out->complete, c, member, i);
        }
    }
    return status;
}

/* Gives all constraints up for good: what comes next is asked of a wish without them. */
static void give_all_up(struct constraints *c) {
    for (size_t i = 0; i < c->n; i++) {
        drop(&c->wish, &c->beyond, &c->all[i]);
    }
    c->n = 0;
}

enum base_status plan_conflict(struct plan_conflict *out, const struct plan *plan, const struct plan_beyond *beyond) {
    static const struct plan_beyond nothing;
    static const bool no_members[CONSTRAINTS_MAX];
    struct constraints c = {.plan = plan, .wish = plan->wish, .beyond = beyond ? *beyond : nothing};
    bool has = false;
    memset(out, 0, sizeof *out);
    out->complete = true;
    c.wish.objectives = 1u << TRADE_COST;
    collect_wishes(&c);
    enum base_status status = has_way(&has, &out->complete, &c, no_members, 0);
    if (status == BASE_OK && out->complete && !has) {
        give_all_up(&c);
        collect_rules(&c);
    }
    return status == BASE_OK && out->complete ? find_conflict(out, &c) : status;
}

bool plan_stop_finding(struct fit_finding *out, const struct plan *plan, const struct plan_stop *stop) {
    struct fit_finding finding;
    bool found = false;
    for (size_t r = 0; stop->kind == PLAN_STOP_RULE && r < fit_rules_n; r++) {
        if (strcmp(fit_rules[r]->id, fit_rules[stop->what]->id) != 0) {
            continue;
        }
        fit_judge_rule(&finding, fit_rules[r], plan->question.bike, &stop->build, &plan->cases, false);
        if (fit_no_case(&finding.cases)) {
            *out = finding;
            return true;
        }
        if (!found && (finding.hangs || finding.conditional)) {
            *out = finding;
            found = true;
        }
    }
    return found;
}
