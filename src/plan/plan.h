/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The planner: every build from the shop's catalogue and the bike's own parts that no rule forbids and that meets the
 * wish, of which no other beats it.
 *
 * A build chooses a part, `keep` or `none` for each slot. One build beats another if it fits in every case in which the
 * other fits, has no drawback that the other does not, is at least as good in every objective of the wish, and better in
 * one of all these. A change of mass that nobody knows is worse than any that is known. Distinct results are listed once,
 * with the number of equals; the build that stands for them is the first in slot order, where keep comes before none, and
 * none before parts by their ids compared as bytes.
 *
 * The answer is the same for the same input, to the byte. Everything lives in the plan's arena until plan_free.
 */
#ifndef PLAN_PLAN_H
#define PLAN_PLAN_H

#include "fit/judge.h"
#include "plan/score.h"
#include "plan/shelf.h"
#include "trade/shop.h"
#include "trade/wish.h"

/* What is asked. Borrowed; must outlive the plan. */
struct plan_question {
    const struct trade_bike *bike;
    const struct trade_wish *wish;
    const struct trade_shop *shop;
    const struct trade_catalogue *catalogue;
    const struct plan_shelf *shelf;   /* of the catalogue; NULL: made for this plan alone */
    const struct ride_speeds *speeds; /* of the road that the wish's TRADE_OF_ROAD are about; NULL: they are open */
    size_t limit_bytes;               /* most memory of the plan; 0 is PLAN_LIMIT_BYTES */
    bool (*enough)(void *self); /* asked now and then; true: the plan ends, with what is final then. NULL: never */
    void *self;                 /* handed to it */
    bool
        plain; /* without the shortcuts that change the time and never the result, and never stopped: what tests hold the
                   search against */
};

#define PLAN_LIMIT_BYTES ((size_t)1 << 30)

/* What a build is worth. Every value is computed for every build that is shown; the wish says which are compared. */
struct plan_values {
    int64_t cost_minor;  /* parts and labour, without tax */
    int64_t price_minor; /* parts */
    int64_t labour_minor;
    int32_t mass_g;             /* change against the bike as it stands; 0 and meaningless when it is open */
    enum base_known mass_known; /* assumed: a part was not weighed, so that its kind's usual mass stands in (mass.h) */
    int32_t lowest;             /* development of the lowest gear, 0.1 mm; ratio * 10,000 where the wheel is open */
    int32_t highest;            /* of the highest gear */
    int32_t counted;            /* the highest, up to the cap: what is compared */
    int32_t line_steps;         /* chain line error in steps of 0.5 mm; -1 open */
    int32_t tenths;             /* bench time, 0.1 minutes */
    uint32_t changed;           /* bit set of slots */
    struct plan_score score;    /* on the road of the question */
};

/* Purposes of picks. */
enum plan_purpose {
    PLAN_LEAST_MONEY = 0,
    PLAN_LEAST_CHANGE,
    PLAN_EASIEST, /* lowest gear */
    PLAN_FASTEST, /* highest gear */
    PLAN_CLOSEST, /* to the range of now */
    PLAN_CERTAIN, /* least money with nothing left to measure */
    PLAN_CLEAN,   /* least money with the fewest drawbacks */
    PLAN_LIGHTEST,
    PLAN_MOST_IN_BAND,  /* of a road: most time in the band */
    PLAN_LEAST_ON_FOOT, /* fewest metres walked */
    PLAN_PURPOSES
};

/* Something that a build hangs on and that has no usual values. */
struct plan_hang {
    uint8_t subject; /* a slot, FIT_FRAME, FIT_WHEEL or FIT_BIKE */
    uint16_t property;
};

struct plan_way {
    struct fit_build build;
    struct plan_values values;
    uint32_t rank[TRADE_SLOTS]; /* 0 keep, 1 none, 2 + index in the catalogue's list of the kind */
    struct fit_case_set cases;  /* in which it fits */
    bool certain;               /* in every case, and it hangs on nothing */
    uint64_t drawbacks;         /* bits of plan->drawbacks */
    uint64_t hangs;             /* bits of plan->hangs */
    uint64_t equals;            /* other part lists with the same values, cases and drawbacks; saturates */
    bool beaten;                /* while fronts are merged; false in an answer */
    uint32_t purposes;          /* bit set of enum plan_purpose; 0 when it is no pick */
};

/* Lowest and highest gear as they are compared, in the units of plan_values; 0 where they are no objective. */
struct plan_gearing {
    int32_t lowest, counted;
};

#define PLAN_DRAWBACKS_MAX 64
#define PLAN_HANGS_MAX 64
#define PLAN_RULES_MAX 128

/* What a plan is asked beyond the wish, when it is compared with another. All zero: nothing. */
struct plan_beyond {
    const bool *only[TRADE_SLOTS]; /* by rank: may the slot hold it? NULL: any */
    bool waived[PLAN_RULES_MAX];   /* by the index in fit_rules: the rule counts as fitting */
    uint32_t may_stay;             /* slots whose part may stay whatever its condition is; bit set */
};

struct plan {
    struct base_arena arena;
    struct plan_question question;
    struct trade_wish wish; /* as it was worked out: the default wish filled in */
    struct fit_cases cases;
    struct fit_build now; /* the bike as it stands */
    struct plan_values now_values;
    bool gears_known;               /* false: the wheel is open; lowest and highest are ratios * 10,000 */
    struct plan_beyond beyond;      /* while it is searched */
    const struct plan_shelf *shelf; /* of the catalogue */
    struct plan_shelf *own_shelf;   /* the same where the question brought none, else NULL */

    struct plan_way *ways; /* what nothing beats, in rising cost; ties by mass (open last), lowest, highest, slots */
    size_t n_ways;
    size_t picks[PLAN_PURPOSES]; /* indexes of the ways that are picks, in rising cost */
    size_t n_picks;              /* at most 5 */
    bool
        complete; /* false: limit_bytes was reached, and the ways are those of the front that are certain, or none; or it
                      was stopped, and they are those that nothing beats of what was not looked at */
    bool stopped;  /* question.enough said so */
    bool all_open; /* before any gearing was looked at whole */
    struct plan_gearing
        *open_gears; /* stopped: those that were not looked at whole; best first, in each number of rings */
    size_t n_open_gears, open_gears_room;

    const char *drawbacks[PLAN_DRAWBACKS_MAX]; /* codes, "rule.reason" */
    size_t n_drawbacks;
    struct plan_hang hangs[PLAN_HANGS_MAX];
    size_t n_hangs;
};

/* Plans. BASE_OK with n_ways 0 when nothing fits, or when limit_bytes is too little for the certain ways too (not complete);
 * BASE_NO_MEMORY. *out is owned by the caller: plan_free. */
enum base_status plan_new(struct plan **out, const struct plan_question *question) BASE_CHECKED;
void plan_free(struct plan *plan);

/* The plan of a wish that differs from that of a complete plan in bounds only (lowest and highest gear, budget), none of them
 * wider, and narrower only where the objective is compared: its ways within the bounds, without a search; the same as of
 * plan_new. *can false, and *out untouched, where the wish is another: plan anew then. *out borrows the wish and what the plan
 * does, is owned by the caller (plan_free) and must be freed before the plan. BASE_NO_MEMORY. */
enum base_status plan_tighten(struct plan **out, bool *can, const struct plan *plan,
                              const struct trade_wish *wish) BASE_CHECKED;

/* Does a beat b? Both of one plan. */
bool plan_beats(const struct plan *plan, const struct plan_way *a, const struct plan_way *b);

/* A wish, or a fixed fact, that stands in the way, and what giving it up opens. */
enum plan_wish_id {
    PLAN_WISH_RINGS = 0,
    PLAN_WISH_SPROCKETS,
    PLAN_WISH_LOWEST,
    PLAN_WISH_HIGHEST,
    PLAN_WISH_BUDGET,
    PLAN_WISH_KEEP,
    PLAN_WISHES
};
struct plan_relief {
    uint32_t given_up;         /* bit set of enum plan_wish_id */
    struct plan_values values; /* of the way that it opens */
    struct fit_build build;
};
/* How far a build lies beyond the bounds of the wish that are given up (bit set of enum plan_wish_id), as the sum of the shares:
 * cost over the budget, lowest gear over the most, highest under the least. 0 within all of them. */
double plan_excess(const struct plan_values *values, const struct trade_wish *wish, uint32_t given_up);

/* When nothing fits: the smallest sets of wishes whose giving up opens a way, at most max, all of the smallest size that
 * helps, least money. Of each the way that is told lies least beyond the bounds that are given up (plan_excess); of several
 * the cheapest. *n 0: no set of wishes helps; the catalogue has no way for this bike.
 * Giving up the number of rings means: the rings of now, each the bike's own or a new one of its size; where that gives no
 * way at all, as many rings as now. */
enum base_status plan_reliefs(struct plan_relief *out, size_t *n, size_t max, const struct plan *plan) BASE_CHECKED;

/* Ways of having the rings of now, in the same sense, no harder and no slower than now, with the slots that the wish keeps:
 * the cheapest, and the cheapest that has no drawback (which may be the same). */
struct plan_kept_rings {
    bool found, clean_found;
    struct plan_way way, clean;
};
enum base_status plan_keep_rings(struct plan_kept_rings *out, struct plan *plan) BASE_CHECKED;

#endif
