/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rules that say of a sum that they rise with it (FIT_RISING): the further out a ring or a sprocket lies, the better it clears
 * the stay and the tyre (common practice, and the geometry of both rules). The search leaves out what lies further in
 * for more money, so that a rule that turned round would hide ways.
 */
#include "fit/probe.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static bool rises(const struct fit_rule *rule) {
    for (unsigned i = 0; i < rule->n_reads; i++) {
        if (rule->reads[i].flags & FIT_RISING) {
            return true;
        }
    }
    return false;
}

static void what_rises_never_gets_worse(void **state) {
    (void)state;
    unsigned rising = 0;
    for (size_t r = 0; r < fit_rules_n; r++) {
        if (rises(fit_rules[r])) {
            assert_true(probe_rising(fit_rules[r], 40 + r) > 0);
            rising++;
        }
    }
    assert_int_equal(rising, 6); /* stay and tyre, in three places */
}

/* Only sums over slots can rise: what is read of one part is what it is. */
static void only_measures_rise(void **state) {
    (void)state;
    for (size_t r = 0; r < fit_rules_n; r++) {
        for (unsigned i = 0; i < fit_rules[r]->n_reads; i++) {
            const struct fit_read *read = &fit_rules[r]->reads[i];
            assert_true(!(read->flags & FIT_RISING) || read->subject >= FIT_MEASURE);
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_rises_never_gets_worse),
        cmocka_unit_test(only_measures_rise),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
