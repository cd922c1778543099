/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Jobs at random: a bike of which any word may be open, and a build that changes any slots of it. They need not fit: what
 * is done at the bench follows from what changes.
 */
#ifndef WORK_MADE_JOBS_H
#define WORK_MADE_JOBS_H

#include "support/random.h"
#include "trade/made.h"
#include "work/operations.h"

struct job {
    struct trade_bike bike;
    struct trade_part parts[TRADE_SLOTS];
    struct fit_build build;
};

/* Every word of the part, each open one time in six. */
static inline void scatter_words(struct trade_part *part, struct random_source *random) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    for (size_t i = 0; i < kind->n; i++) {
        enum trade_property property = (enum trade_property)(kind->first + i);
        const struct trade_property_row *row = &trade_property_rows[property];
        bool words = row->type == TRADE_WORDS, word = row->type == TRADE_WORD;
        if ((!word && !words) || random_int(random, 0, 5) == 0) {
            continue;
        }
        int n = (int)trade_domain_rows[row->domain].n;
        if (word) {
            give_word(part, property, (unsigned)random_int(random, 0, n - 1));
        } else {
            give_words(part, property, UINT64_C(1) << random_int(random, 0, n - 1));
        }
    }
    if (part->kind == TRADE_KIND_CASSETTE) {
        give_sprockets(part, random_int(random, 5, 12), random_int(random, 9, 13), random_int(random, 25, 52));
    }
}

/* changing: how many slots in a hundred change. The caller clears the bike. */
static inline void make_job(struct job *job, struct random_source *random, int changing) {
    assert_int_equal(trade_bike_init(&job->bike), BASE_OK);
    scatter_words(&job->bike.frame, random);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool may_be_none = trade_slot_rows[s].may_be_none;
        job->bike.fitted[s].state = !may_be_none || random_int(random, 0, 2) > 0 ? TRADE_THERE : TRADE_EMPTY;
        scatter_words(&job->bike.fitted[s].part, random);
        job->parts[s] = made_part(trade_slot_rows[s].kind);
        job->parts[s].id = "new";
        scatter_words(&job->parts[s], random);
    }
    fit_build_now(&job->build, &job->bike);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool changes = random_int(random, 0, 99) < changing;
        bool goes = trade_slot_rows[s].may_be_none && random_int(random, 0, 2) == 0;
        if (changes && goes && job->bike.fitted[s].state == TRADE_THERE) {
            job->build.at[s] = (struct fit_choice){FIT_NONE, NULL};
        } else if (changes && !goes) {
            job->build.at[s] = (struct fit_choice){FIT_NEW, &job->parts[s]};
        }
    }
}

#endif
