/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "explain/message.h"
#include "fit/fit.h"
#include "support/failing.h"

#include <math.h>
#include <string.h>

static void assert_reads(struct base_buffer *out, const char *wanted) {
    assert_int_equal(out->status, BASE_OK);
    assert_string_equal(out->at ? out->at : "", wanted);
    base_buffer_clear(out);
}

static void arguments_stand_where_they_belong(void **state) {
    (void)state;
    struct base_buffer out;
    base_buffer_init(&out, 0);
    explain_tell(&out, "part.for-teeth", explain_count(28), explain_count(44));
    assert_reads(&out, "for rings of 28 to 44 T");
    explain_tell(&out, "fault.more", explain_count(1));
    assert_reads(&out, "1 more line like these.");
    explain_tell(&out, "fault.more", explain_count(7));
    assert_reads(&out, "7 more lines like these.");
    explain_say(&out, "part.clutch");
    assert_reads(&out, "clutch");
}

static void a_code_without_a_text_is_seen(void **state) {
    (void)state;
    struct base_buffer out;
    base_buffer_init(&out, 0);
    assert_null(explain_message("no.such-code"));
    explain_say(&out, "no.such-code");
    assert_reads(&out, "<no.such-code>");
    explain_tell(&out, "part.for-teeth", explain_count(28)); /* one argument too few */
    assert_reads(&out, "for rings of 28 to {1} T");
}

/* The marks of how a value is known are the project's own: plain, * from a table, ~ assumed, an empty box when open. */
static void numbers_say_how_they_are_known(void **state) {
    (void)state;
    static const struct {
        struct explain_arg arg;
        const char *reads;
    } cases[] = {
        {{.type = EXPLAIN_NUMBER, .number = 440, .text = "mm"}, "440 mm"},
        {{.type = EXPLAIN_NUMBER, .number = 135, .text = "mm", .known = BASE_TABLE}, "135 mm*"},
        {{.type = EXPLAIN_NUMBER, .number = 3, .decimals = 1, .text = "mm", .known = BASE_ASSUMED}, "~3.0 mm"},
        {{.type = EXPLAIN_NUMBER, .number = 3, .text = "mm", .known = BASE_OPEN}, "[   mm]"},
        {{.type = EXPLAIN_NUMBER, .number = NAN, .decimals = 1, .text = "mm"}, "[    mm]"},
        {{.type = EXPLAIN_NUMBER, .number = -0.7, .decimals = 1, .text = "mm"},
         "\xe2\x88\x92"
         "0.7 mm"},
        {{.type = EXPLAIN_NUMBER, .number = 2.6, .decimals = 1, .text = "\xc2\xb0", .known = BASE_ASSUMED},
         "~2.6\xc2\xb0"},
        {{.type = EXPLAIN_NUMBER, .number = 14, .text = "%"}, "14 %"},
        {{.type = EXPLAIN_COUNT, .number = 18}, "18"},
        {{.type = EXPLAIN_SPELT, .number = 4}, "four"},
        {{.type = EXPLAIN_SPELT, .number = 13}, "13"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct base_buffer out;
        base_buffer_init(&out, 0);
        explain_put_arg(&out, &cases[i].arg);
        assert_reads(&out, cases[i].reads);
    }
}

/* Decimals of the minor unit by ISO 4217: two for GBP, none for JPY, three for KWD. */
static void money_has_the_decimals_of_its_currency(void **state) {
    (void)state;
    struct trade_shop gbp = {.currency = "GBP", .currency_digits = 2};
    struct trade_shop jpy = {.currency = "JPY", .currency_digits = 0};
    struct trade_shop kwd = {.currency = "KWD", .currency_digits = 3};
    struct base_buffer out;
    base_buffer_init(&out, 0);
    struct explain_arg args[] = {explain_money(19740, &gbp), explain_money(21400, &jpy), explain_money(86100, &kwd)};
    explain_put_arg(&out, &args[0]);
    assert_reads(&out, "GBP 197.40");
    explain_put_arg(&out, &args[1]);
    assert_reads(&out, "JPY 21400");
    explain_put_arg(&out, &args[2]);
    assert_reads(&out, "KWD 86.100");
    explain_put_amount(&out, -50, &gbp);
    assert_reads(&out, "\xe2\x88\x92"
                       "0.50");
}

static void lists_end_with_their_word(void **state) {
    (void)state;
    static const char *const words[] = {"rotor", "brake lever", "rear wheel"};
    struct base_buffer out;
    base_buffer_init(&out, 0);
    explain_put_list(&out, words, 1, "list.and");
    assert_reads(&out, "rotor");
    explain_put_list(&out, words, 2, "list.or");
    assert_reads(&out, "rotor or brake lever");
    explain_put_list(&out, words, 3, "list.and");
    assert_reads(&out, "rotor, brake lever and rear wheel");
    explain_put_capital(&out, "four ways");
    assert_reads(&out, "Four ways");
}

static void the_catalogue_is_sorted_for_the_search(void **state) {
    (void)state;
    for (size_t i = 1; i < explain_messages_n; i++) {
        assert_true(strcmp(explain_messages[i - 1].code, explain_messages[i].code) < 0);
    }
    for (size_t i = 0; i < explain_messages_n; i++) {
        assert_ptr_equal(explain_message(explain_messages[i].code), explain_messages[i].text);
    }
}

static const char *of_rule(const struct fit_rule *rule, const char *what) {
    char code[80];
    assert_true(strlen(rule->id) + strlen(what) < sizeof code);
    strcpy(code, rule->id);
    strcat(code, what);
    return explain_message(code);
}

/* Of a rule's texts: what `{n}` names must be a fact that there is room for; name and what need no point at their end. */
static void every_rule_can_be_told(void **state) {
    (void)state;
    for (size_t r = 0; r < fit_rules_n; r++) {
        const struct fit_rule *rule = fit_rules[r];
        assert_non_null(of_rule(rule, ".name"));
        assert_non_null(of_rule(rule, ".what"));
        assert_non_null(of_rule(rule, ".more"));
        assert_true(strlen(of_rule(rule, ".name")) <= 40);
        for (size_t i = 0; i < FIT_REASONS_MAX && rule->reasons[i]; i++) {
            const char *text = explain_message(rule->reasons[i]);
            if (!text) {
                fail_msg("no message for %s", rule->reasons[i]);
            }
            assert_int_equal(strncmp(rule->reasons[i], rule->id, strlen(rule->id)), 0);
            assert_true(text[strlen(text) - 1] != '.');
            for (const char *at = strchr(text, '{'); at; at = strchr(at + 1, '{')) {
                assert_in_range(at[at[1] == '^' ? 2 : 1], '0', '0' + FIT_FACTS_MAX - 1);
            }
        }
    }
}

static void memory_that_runs_out_is_told(void **state) {
    (void)state;
    struct trade_shop gbp = {.currency = "GBP", .currency_digits = 2};
    for (long n = 0;; n++) {
        struct base_buffer out;
        base_buffer_init(&out, 0);
        support_fail_after(n);
        explain_tell(&out, "value.taken-as", explain_money(19740, &gbp), explain_known(-3, 1, "mm", BASE_ASSUMED));
        bool failed = support_failed();
        support_fail_after(-1);
        assert_int_equal(out.status, failed ? BASE_NO_MEMORY : BASE_OK);
        base_buffer_clear(&out);
        if (!failed) {
            break;
        }
    }
}

int main(void) {
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arguments_stand_where_they_belong),
        cmocka_unit_test(a_code_without_a_text_is_seen),
        cmocka_unit_test(numbers_say_how_they_are_known),
        cmocka_unit_test(money_has_the_decimals_of_its_currency),
        cmocka_unit_test(lists_end_with_their_word),
        cmocka_unit_test(the_catalogue_is_sorted_for_the_search),
        cmocka_unit_test(every_rule_can_be_told),
        cmocka_unit_test(memory_that_runs_out_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
