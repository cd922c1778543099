/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The shortcut at the root: pairs that are beaten need not be made.
 *
 * Gearings are worked through with the lower lowest gear first. Of the results so far that have the same caveats a row is kept for
 * each highest gear that occurs: the least cost of those that are at least as fast, by line error or by mass. What costs more is
 * beaten if nothing less is said against it: a row is at any time the cost of real builds.
 */
#ifndef PLAN_LEAST_H
#define PLAN_LEAST_H

#include "plan/caveat.h"
#include "plan/join.h"
#include "plan/tuning.h"

/* What was found with one set of caveats. */
struct plan_least_known {
    uint32_t caveat;
    bool changed;  /* the row of the gearing that is worked on, since that was begun */
    int64_t *rows; /* of counted: row after row */
};

/* A set of caveats as it stands to those that are known. */
struct plan_least_caveat {
    uint32_t weight;  /* 0: not worked out yet, and nothing else here either */
    uint32_t place;   /* among the known, from 1; 0: it is none of them */
    uint32_t version; /* of the list of the known, for which the next was worked out */
    uint64_t under;   /* which of the known are no worse; bit set */
};

struct plan_least {
    bool on; /* at the root, when gears and line, or gears and mass, are all that is compared beside cost */
    bool by_mass;
    int32_t offset;   /* of a row's first entry: the least mass that occurs; 0 by line */
    int32_t lightest; /* least mass of the second side */
    uint32_t n;       /* entries of a row */
    int32_t *counted; /* the highest gears that occur, rising */
    uint32_t n_rows;
    uint32_t row; /* of the gearing that is worked on */
    struct plan_caveats caveats;
    struct base_arena *arena;
    struct plan_least_known known[PLAN_LEAST_KNOWN]; /* those of the lightest caveats that were met */
    unsigned n_known;
    unsigned heaviest;              /* of these */
    uint32_t version;               /* of the list of these */
    struct plan_least_caveat *seen; /* of each set of caveats */
    size_t seen_room;
};

/* For a join whose result is `root`; off unless that is the root of the tree and it can help. */
void plan_least_init(struct plan_searching *s, struct plan_least *out, const struct plan_join *join,
                     const struct plan_message *root);
/* A gearing with this highest gear is worked on from here. */
void plan_least_begin(struct plan_least *least, int32_t counted);
/* Are all results of this state of the first side with any of the second beaten that cost at least this? By the line and the
 * caveats of the first alone, which no pair undercuts. */
bool plan_least_rejects(struct plan_searching *s, struct plan_least *least, const struct plan_join *join, uint32_t a,
                        int64_t cost);
/* Those of two states? By what the two say. */
bool plan_least_rejects_both(struct plan_searching *s, struct plan_least *least, const struct plan_join *join,
                             uint32_t a, uint32_t b, int64_t cost);
/* Is this result beaten? caveat: the number of its own. */
bool plan_least_beats(struct plan_searching *s, struct plan_least *least, uint32_t caveat, int32_t line,
                      const struct plan_label *label);
/* A result was found: what is no better and dearer need not be looked at any more. */
void plan_least_learns(struct plan_searching *s, struct plan_least *least, uint32_t caveat, int32_t line,
                       const struct plan_label *label);

#endif
