/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A bench for single rules: values put in by what they are about, never by the number of the read.
 *
 * A fresh probe holds a new part in every slot, the old one present too, every property open, FIT_PRESENT 1 and
 * FIT_FITTED 0 (of FIT_NOW: 1). Reads that the rule does not declare point at nonsense that changes from call to call,
 * and so does what an open value holds, so that a rule that looks there gives itself away.
 */
#ifndef FIT_PROBE_H
#define FIT_PROBE_H

#include "fit/fit.h"

struct probe {
    const struct fit_rule *rule;
    struct trade_value values[FIT_READS_MAX];
    bool empty[FIT_READS_MAX];
};

void probe_init(struct probe *p, const struct fit_rule *rule);

/* Each fails the test when the rule has no such read. subject: enum fit_subject, slot, FIT_NOW + slot ... */
void probe_number(struct probe *p, unsigned subject, unsigned property, double number);
void probe_word(struct probe *p, unsigned subject, unsigned property, unsigned word);
void probe_words(struct probe *p, unsigned subject, unsigned property, uint64_t words);
void probe_name(struct probe *p, unsigned subject, unsigned property, const char *name); /* static */
void probe_open(struct probe *p, unsigned subject, unsigned property);
/* All reads of this subject become empty; FIT_PRESENT becomes 0. */
void probe_empty(struct probe *p, unsigned subject);
/* The part of this slot is the one on the bike, in every read that asks. */
void probe_stays(struct probe *p, unsigned slot);

/* The verdict, the same with each kind of nonsense. */
struct fit_verdict probe_judge(const struct probe *p);

/* Fails the test unless the verdict has this kind and this reason code; gives it for a look at its facts. */
struct fit_verdict probe_expect(const struct probe *p, enum fit_kind kind, const char *reason);
/* Fails the test unless it asks for this property of this subject. */
void probe_expect_ask(const struct probe *p, unsigned subject, unsigned property);

/* Sweeps one number from low to high in steps and fails the test unless the kind moves in one direction only: never
 * worse (rising false) or never better (rising true) as the number grows; and unless it is another kind at the end than
 * at the beginning. Monotone rules have no second change of sign. */
void probe_sweep(struct probe *p, unsigned subject, unsigned property, double low, double high, double step,
                 bool worse_with_more);

/* The contract of a rule, from random inputs: it touches no read that it does not declare and each that it does; it
 * takes what its flags say; verdicts have reasons and asks that exist; each reason is given for some input, and has its
 * sentence in data/messages/<file>, which wants no fact that the verdict does not carry. So have name, what and more. */
void probe_contract(const struct fit_rule *rule, const char *file, uint64_t seed);

/* From random inputs: where a sum rises that the rule says it rises with (FIT_RISING), what it answers is no worse in any
 * respect. How often it was better. */
unsigned probe_rising(const struct fit_rule *rule, uint64_t seed);

/* What it asks to be measured is on the bike; of a new part, only what leaves that part out (FIT_OF_NEW). */
void probe_asks(const struct fit_rule *rule, uint64_t seed);

#endif
