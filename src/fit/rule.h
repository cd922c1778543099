/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What the files of single rules share. Nothing outside this folder includes it.
 *
 * A rule file names its reads by an enum that ends in READS, its reasons by another, and gives both tables by these
 * names, so that the number of a read or a reason never stands beside its meaning:
 *
 *     enum { TEETH, LARGEST, READS };
 *     enum { FITS, TOO_LARGE };
 *     const struct fit_rule fit_... = {.reads = {[TEETH] = FIT_READ(...), ...}, .n_reads = READS,
 *                                      .reasons = {[FITS] = "rule-id.fits", ...}, ...};
 */
#ifndef FIT_RULE_H
#define FIT_RULE_H

#include "fit/fit.h"

#include <math.h>

#define FIT_READ(SUBJECT, PROPERTY, FLAGS)                                                                             \
    { .subject = (uint8_t)(SUBJECT), .property = (uint16_t)(PROPERTY), .flags = (uint8_t)(FLAGS) }

/* The rule copes with an open value and with an empty slot. */
#define FIT_MAYBE (FIT_OPTIONAL | FIT_EMPTY_OK)
/* Of a part that stays it may be open; what a new part's sheet does not tell can't be measured, and leaves it out. */
#define FIT_SHEET (FIT_OPTIONAL | FIT_OF_NEW)

/* The value of a row of data/standards/limits.csv, in the unit that its name ends with. */
static inline double fit_limit(enum trade_limit limit) { return trade_limits[limit].value; }

/* A yes-or-no value that is known and says yes; the slot may be empty. */
static inline bool fit_known_yes(const struct fit_values *v, unsigned i) { return fit_known(v, i) && fit_yes(v, i); }

/* A whole number, such as teeth. */
static inline int fit_count(const struct fit_values *v, unsigned i) { return (int)(fit_number(v, i) + 0.5); }

/* A length that was read: with a digit behind the point only where it has one ("170 mm", "172.5 mm"). */
static inline void fit_add_read_mm(struct fit_verdict *out, double mm) {
    fit_add_number(out, mm, fabs(mm - round(mm)) < 0.05 ? 0 : 1, "mm");
}

/* Is the part the one on the bike? i reads FIT_FITTED; an empty slot gives false. */
static inline bool fit_stays(const struct fit_values *v, unsigned i) { return fit_has(v, i) && fit_number(v, i) > 0; }

/* A value that the rule needs and nobody knows. Of a part that stays, it must be measured; a part that is not in hand
 * can't be measured and so does not go together with anything. stays reads FIT_FITTED of the part that read is about. */
static inline struct fit_verdict fit_lacks(const struct fit_values *v, unsigned stays, unsigned read, unsigned reason) {
    return fit_stays(v, stays) ? fit_ask(read, reason) : fit_say(FIT_CLASH, reason);
}

/* Is there a part? i reads FIT_PRESENT. */
static inline bool fit_there(const struct fit_values *v, unsigned i) { return fit_number(v, i) > 0; }

/* Does a spindle of this kind belong to the bottom bracket, and not to the crank? Square and splined ones do. */
bool fit_bracket_spindle(unsigned word);

#endif
