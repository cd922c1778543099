/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What is worn, and what may stay: the chain, and sprockets and rings under a new one. Data first; json_wear.c and
 * text_wear.c show the same. The limits are those of the class of the chain (fit/wear.h), the verdicts those of the rules.
 */
#ifndef APP_WEAR_H
#define APP_WEAR_H

#include "app/answers.h"
#include "app/text.h"
#include "explain/words.h"

/* The rule is laid over a foot of chain. */
#define APP_WEAR_PITCHES 24

/* One part, and whether it may stay. */
struct app_worn {
    enum trade_slot slot;
    const char *code; /* what was seen of the part alone, as a message; NULL: what the rule says */
    enum explain_mark mark;
    struct fit_finding finding; /* of a rule that has something to say, else FIT_SILENT */
};

#define APP_WORN_MAX 4 /* cassette and three rings */

struct app_wear {
    double worn_percent; /* NAN while it is open */
    enum base_known known;
    int family;                                                     /* enum trade_chain_family; -1 while it is open */
    double limit_percent, sprockets_percent, new_sprockets_percent; /* the chain goes at; sprockets are worn too from;
                                                                       new sprockets take it up to */
    double over_mm, new_mm, limit_mm;        /* over APP_WEAR_PITCHES pitches, as it is, new, at its limit */
    double band_percent;                     /* either way, of a reading by rule; NAN where it was not one */
    bool too_near;                           /* the limit lies within that */
    struct app_worn chain;                   /* on the sprockets of now */
    struct app_worn new_sprockets;           /* under the chain of now; EXPLAIN_OFF: it would ruin them */
    struct app_worn under_new[APP_WORN_MAX]; /* what stays under a new chain */
    size_t n;
    struct app_open open;
};

/* by_rule: the elongation was read by a rule over APP_WEAR_PITCHES pitches. */
void app_wear_of(struct app_wear *out, const struct trade_bike *bike, const struct fit_build *now,
                 const struct fit_cases *cases, bool by_rule);

/* Why a part may stay or not, a sentence. */
void app_worn_reason(struct base_buffer *out, const struct app_worn *worn);

/* As a JSON document: wear.schema.json. */
void app_json_wear(struct base_buffer *out, const struct app_wear *wear);
/* As a person reads it. */
void app_text_wear(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                   const struct app_wear *wear);

#endif
