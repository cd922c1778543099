/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "explain/finding.h"
#include "explain/message.h"

static void assert_reads(struct base_buffer *out, const char *wanted) {
    assert_int_equal(out->status, BASE_OK);
    assert_string_equal(out->at, wanted);
    base_buffer_clear(out);
}

/* Index of a reason of a rule. */
static uint8_t reason_of(const struct fit_rule *rule, const char *code) {
    for (uint8_t i = 0; i < FIT_REASONS_MAX && rule->reasons[i]; i++) {
        if (base_slice_is(base_slice_of(rule->reasons[i]), code)) {
            return i;
        }
    }
    fail_msg("%s has no %s", rule->id, code);
    return 0;
}

static struct fit_finding clearance(const char *code, enum fit_kind kind) {
    const struct fit_rule *rule = fit_find_rule("stay-clearance");
    struct fit_finding finding = {.rule = rule, .verdict = fit_say(kind, reason_of(rule, code))};
    fit_add_number(&finding.verdict, 1.5, 1, "mm");
    fit_add_number(&finding.verdict, 3, 1, "mm");
    return finding;
}

static void a_reason_has_its_numbers_and_a_point(void **state) {
    (void)state;
    struct base_buffer out;
    struct fit_finding finding = clearance("stay-clearance.close", FIT_CLASH);
    base_buffer_init(&out, 0);
    explain_reason(&out, &finding);
    assert_reads(&out, "The ring clears the stay by 1.5 mm, 3.0 mm needed.");
    finding.known = BASE_ASSUMED; /* what was computed carries the mark, the limit does not */
    explain_reason(&out, &finding);
    assert_reads(&out, "The ring clears the stay by ~1.5 mm, 3.0 mm needed.");
    assert_int_equal(explain_mark_of(&finding), EXPLAIN_CLASH);
    assert_string_equal(explain_rule_name(finding.rule), "ring and stay");
}

static void an_overruled_finding_says_by_whom_and_why(void **state) {
    (void)state;
    struct base_buffer out;
    struct trade_overruled overruled = {.rule = "stay-clearance", .by = "Ann", .reason = "have built this pair"};
    struct fit_finding finding = clearance("stay-clearance.close", FIT_DRAWBACK);
    finding.overruled = &overruled;
    base_buffer_init(&out, 0);
    explain_finding(&out, &finding);
    assert_reads(&out, "The ring clears the stay by 1.5 mm, 3.0 mm needed. Overruled by Ann: have built this pair.");
    assert_int_equal(explain_mark_of(&finding), EXPLAIN_DRAWBACK);
}

static void a_conditional_finding_says_what_must_be_read(void **state) {
    (void)state;
    struct base_buffer out;
    struct fit_cases cases = {.n_dims = 1, .n = 3, .possible = {{7}}};
    cases.dims[0] = (struct fit_dim){
        .subject = FIT_FRAME,
        .property = TRADE_FRAME_GAP_MM,
        .n = 3,
        .stride = 1,
        .at = {trade_number(2, BASE_ASSUMED), trade_number(3, BASE_ASSUMED), trade_number(4, BASE_ASSUMED)}};
    struct fit_finding finding = clearance("stay-clearance.close", FIT_CLASH);
    finding.conditional = true;
    finding.cases.bits[0] = 6; /* the second and the third */
    base_buffer_init(&out, 0);
    explain_condition(&out, &finding, &cases);
    explain_finding(&out, &finding);
    assert_reads(
        &out,
        "Fits if the gap between frame and smallest sprocket reads 3.0 mm or 4.0 mm. Else: The ring clears the stay by "
        "1.5 mm, 3.0 mm needed.");
    assert_int_equal(explain_mark_of(&finding), EXPLAIN_MEASURE);
}

static void a_finding_that_hangs_names_the_property(void **state) {
    (void)state;
    struct base_buffer out;
    struct fit_finding finding = {.rule = fit_find_rule("spindle"),
                                  .verdict = {.kind = FIT_ASK, .reason = UINT8_MAX},
                                  .hangs = true,
                                  .ask_subject = TRADE_SLOT_BOTTOM_BRACKET,
                                  .ask_property = TRADE_BOTTOM_BRACKET_SPINDLE};
    base_buffer_init(&out, 0);
    explain_reason(&out, &finding);
    assert_reads(&out, "To be measured: small end of the bottom bracket's spindle.");
    assert_int_equal(explain_mark_of(&finding), EXPLAIN_MEASURE);
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_reason_has_its_numbers_and_a_point),
        cmocka_unit_test(an_overruled_finding_says_by_whom_and_why),
        cmocka_unit_test(a_conditional_finding_says_what_must_be_read),
        cmocka_unit_test(a_finding_that_hangs_names_the_property),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
