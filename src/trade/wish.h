/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the rider and the mechanic want.
 */
#ifndef TRADE_WISH_H
#define TRADE_WISH_H

#include "base/known.h"
#include "trade/tables.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum trade_objective {
    TRADE_COST = 0,   /* parts and labour, minor units; lower is better */
    TRADE_LOWEST,     /* lowest gear, 0.1 mm of development; lower is better */
    TRADE_HIGHEST,    /* highest gear, 0.1 mm, up to the cap; higher is better */
    TRADE_MASS,       /* change against the bike, g; lower is better */
    TRADE_LINE_ERROR, /* steps of 0.5 mm outside the window; lower is better */
    TRADE_MINUTES,    /* on the bench; lower is better */
    TRADE_CHANGED,    /* changed slots; lower is better */
    TRADE_IN_BAND,    /* of the time on a road that is not coasted, thousandths in the rider's band; higher is better */
    TRADE_WALKED,     /* metres of the road on foot; lower is better */
    TRADE_OBJECTIVES
};

#define TRADE_OF_ROAD (1u << TRADE_IN_BAND | 1u << TRADE_WALKED) /* objectives that need a road */

extern const char *const trade_objective_names[TRADE_OBJECTIVES]; /* as they stand in a wish */

/* A hill that is to be climbed, and how fast the cranks are to turn on it. */
struct trade_climb {
    double gradient_percent; /* above 0 */
    double cadence_rpm;      /* NAN: the low end of the rider's band */
    double lowest_m_max;     /* the development that this takes; NAN until it was reckoned from the bike's rider */
    enum base_known known;   /* how that is known; BASE_OPEN until then */
};
#define TRADE_CLIMBS_MAX 8

struct trade_wish {
    unsigned rings;                              /* 1..3, 0 is any number */
    uint32_t sprockets;                          /* allowed counts as a bit set (bit n for n sprockets); 0 is any */
    double lowest_m_max;                         /* development of the lowest gear, metres, at most; NAN no wish */
    double highest_m_min;                        /* development of the highest gear, metres, at least; NAN no wish */
    double highest_m_cap;                        /* higher counts no more; NAN: what 90 rpm turns at 45 km/h */
    struct trade_climb climbs[TRADE_CLIMBS_MAX]; /* what else bounds the lowest gear */
    size_t n_climbs;
    int64_t budget_minor;    /* cost at most; -1 no wish */
    uint32_t keep;           /* bit set of slots that must stay as they are */
    uint32_t objectives;     /* bit set of enum trade_objective */
    bool objectives_named;   /* false: the usual ones */
    double least_difference; /* the least share of cost or gear that two picks must differ by; default 0.03 */
    bool given;              /* false: nobody gave one, the default wish holds */
};

/* One ring, cost, lowest and highest; lowest not harder than now is set by the planner when nothing was given. */
void trade_wish_init(struct trade_wish *out);

#endif
