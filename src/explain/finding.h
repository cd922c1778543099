/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A finding in words: the reason with the numbers behind it, on what it hangs, who overruled it and why.
 */
#ifndef EXPLAIN_FINDING_H
#define EXPLAIN_FINDING_H

#include "explain/words.h"

#include "base/text.h"

/* The rule's reason with its facts, one or more sentences, each with its point. The first length of a finding that rests
 * on an assumed value carries ~. For a finding that hangs on an open value: what must be measured. */
void explain_reason(struct base_buffer *out, const struct fit_finding *finding);

/* The reason, and behind it who overruled it and why. */
void explain_finding(struct base_buffer *out, const struct fit_finding *finding);

/* On what a conditional finding hangs: 'Fits if the spindle's small end reads 12.7 mm. Else: '; nothing of any other.
 * cases: those that the finding was judged over. */
void explain_condition(struct base_buffer *out, const struct fit_finding *finding, const struct fit_cases *cases);

/* The two to four words that a rule is called by: <id>.name of the messages. */
const char *explain_rule_name(const struct fit_rule *rule);

/* The readings of a dimension in which something still fits, for a set of cases: '3.0 or 4.0 mm'. mask: bit set of the
 * dimension's candidates. */
void explain_readings(struct base_buffer *out, const struct fit_dim *dim, uint32_t mask);

/* Bit set of the candidates of dimension d that occur in a set of cases. */
uint32_t explain_candidates(const struct fit_cases *cases, size_t d, const struct fit_case_set *set);

#endif
