/* SPDX-License-Identifier: Apache-2.0 */
/*
 * In which order the pairs of a join are made.
 *
 * One consumer is the key: states of either side are put into buckets by what it sees of them, cheaper ones first, and only
 * buckets that it allows together are paired. At the root that is the gears: buckets are paired gearing by gearing, the
 * best ones first, so that a result can be beaten only by results of its own gearing or of those before.
 */
#ifndef PLAN_PAIRING_H
#define PLAN_PAIRING_H

#include "plan/join.h"

struct plan_bucketed {
    uint32_t *states; /* bucket by bucket, each in rising cost */
    uint32_t *from;   /* of each bucket: where it begins; one more behind the last */
    uint32_t n;
};

struct plan_bucket_pair {
    uint32_t a, b;
    int32_t lowest, counted; /* at the root, as in an outcome; else 0 */
};

struct plan_pairing {
    const struct plan_judged *key; /* NULL: one bucket a side */
    unsigned key_word;
    struct plan_bucketed side[2];
    struct plan_bucket_pair *pairs;
    size_t n;
};

/* In the join's scratch. */
void plan_pairing_init(struct plan_searching *s, struct plan_pairing *out, const struct plan_join *join);

/* Is the gearing of the second pair another one than that of the first? */
static inline bool plan_other_gearing(const struct plan_bucket_pair *a, const struct plan_bucket_pair *b) {
    return a->lowest != b->lowest || a->counted != b->counted;
}

#endif
