/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#include "explain/bike.h"

#include <string.h>

#define NAME_COLUMN 8
#define SENTENCE_COLUMN 30
#define ASKED_MOST 8 /* measurements that the answer names */

/* Worst first; a joint that must be measured comes before one that works with a drawback. */
static const enum explain_mark worst_first[] = {EXPLAIN_CLASH, EXPLAIN_MEASURE, EXPLAIN_DRAWBACK, EXPLAIN_ADAPTED};
#define N_MARKS (sizeof worst_first / sizeof worst_first[0])

static size_t count_of(const struct fit_finding *findings, size_t n, enum explain_mark mark) {
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        count += explain_mark_of(&findings[i]) == mark;
    }
    return count;
}

static void put_finding(struct app_page *page, const struct fit_finding *finding, const struct fit_cases *cases) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_condition(&text, finding, cases);
    explain_finding(&text, finding);
    app_lay_to(page, APP_BODY);
    app_lay_tile(page, explain_mark_of(finding));
    app_lay_at(page, NAME_COLUMN, explain_rule_name(finding->rule));
    if (page->at + 3 > SENTENCE_COLUMN) { /* two blanks between them, or a line of its own */
        app_lay_end(page);
    }
    app_lay_wrapped(page, SENTENCE_COLUMN, APP_LAST_COLUMN, app_held(page, &text), NULL);
    base_buffer_clear(&text);
}

/* Is there an earlier finding of the same rule that fits? Places of one rule are named once. */
static bool named_before(const struct fit_finding *findings, size_t i) {
    for (size_t k = 0; k < i; k++) {
        if (explain_mark_of(&findings[k]) == EXPLAIN_FITS && strcmp(findings[k].rule->id, findings[i].rule->id) == 0) {
            return true;
        }
    }
    return false;
}

static void put_fitting(struct app_page *page, const struct fit_finding *findings, size_t n, size_t count) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_tell(&text, "fit.these-fit", explain_count((int64_t)count));
    bool first = true;
    for (size_t i = 0; i < n; i++) {
        if (explain_mark_of(&findings[i]) != EXPLAIN_FITS || named_before(findings, i)) {
            continue;
        }
        base_buffer_text(&text, first ? " " : ", ");
        base_buffer_text(&text, explain_rule_name(findings[i].rule));
        first = false;
    }
    base_buffer_text(&text, ".");
    app_end_paragraph(page, &text);
}

void app_lay_findings(struct app_page *page, const struct fit_finding *findings, size_t n,
                      const struct fit_cases *cases) {
    bool any = false;
    for (size_t m = 0; m < N_MARKS; m++) {
        for (size_t i = 0; i < n; i++) {
            if (explain_mark_of(&findings[i]) == worst_first[m]) {
                app_lay_blank(page, any ? 0 : 1);
                put_finding(page, &findings[i], cases);
                any = true;
            }
        }
    }
    size_t fitting = count_of(findings, n, EXPLAIN_FITS);
    if (fitting > 0) {
        app_lay_blank(page, 1);
        put_fitting(page, findings, n, fitting);
    }
}

/* What must be measured, each once; how many there are. */
static size_t put_asked(struct base_buffer *out, const struct fit_finding *findings, size_t n) {
    struct base_buffer names[ASKED_MOST];
    const char *words[ASKED_MOST] = {NULL};
    size_t count = 0;
    for (size_t i = 0; i < n && count < ASKED_MOST; i++) {
        if (explain_mark_of(&findings[i]) != EXPLAIN_MEASURE) {
            continue;
        }
        base_buffer_init(&names[count], 0);
        explain_name(&names[count], findings[i].ask_subject, findings[i].ask_property);
        words[count] = explain_held(out, &names[count]);
        bool seen = false;
        for (size_t k = 0; k < count; k++) {
            seen = seen || strcmp(words[k], words[count]) == 0;
        }
        if (seen) {
            base_buffer_clear(&names[count]);
        } else {
            count++;
        }
    }
    explain_put_list(out, words, count, "list.and");
    for (size_t i = 0; i < count; i++) {
        base_buffer_clear(&names[i]);
    }
    return count;
}

/* 'The cassette and the outer ring go: worn, seized or damaged.' */
static void put_goes(struct app_page *page, const struct trade_bike *bike) {
    struct base_buffer text, slots;
    uint32_t goes = app_goes(bike);
    if (goes == 0) {
        return;
    }
    base_buffer_init(&text, 0);
    base_buffer_init(&slots, 0);
    explain_slots(&slots, goes);
    explain_tell(&text, "fit.goes", explain_buffered(&slots), explain_count(__builtin_popcount(goes)));
    app_lay_blank(page, 1);
    app_end_paragraph(page, &text);
    base_buffer_clear(&slots);
}

/* 'No. Two joints clash.', 'One measurement is open: ... All else fits.', 'Yes. All 21 joints fit.' */
static void put_answer(struct app_page *page, const struct fit_finding *findings, size_t n) {
    static const char *const codes[] = {"fit.clash", "fit.measure", "fit.drawback", "fit.adapted"};
    struct base_buffer text, asked;
    base_buffer_init(&text, 0);
    base_buffer_init(&asked, 0);
    size_t others = 0, to_measure = put_asked(&asked, findings, n);
    for (size_t m = 0; m < N_MARKS; m++) {
        size_t count = count_of(findings, n, worst_first[m]);
        if (count > 0) {
            size_t told = worst_first[m] == EXPLAIN_MEASURE ? to_measure : count;
            base_buffer_text(&text, others > 0 ? " " : "");
            explain_tell(&text, codes[m], explain_spelt((int64_t)told), explain_buffered(&asked));
        }
        others += count;
    }
    base_buffer_text(&text, others > 0 && n > others ? " " : "");
    if (n == 0) {
        explain_say(&text, "fit.nothing");
    } else if (others == 0) {
        explain_tell(&text, n == 1 ? "fit.one" : "fit.all", explain_count((int64_t)n));
    } else if (n > others) {
        explain_tell(&text, "fit.rest", explain_count((int64_t)(n - others)));
    }
    base_buffer_clear(&asked);
    app_end_paragraph(page, &text);
}

void app_text_fit(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                  const struct fit_finding *findings, size_t n) {
    struct app_page page = app_page_on(out, style);
    struct fit_cases cases;
    app_title(&page, bike, NULL);
    app_question(&page, "fit.question");
    put_answer(&page, findings, n);
    put_goes(&page, bike);
    fit_cases_of(&cases, bike);
    app_lay_findings(&page, findings, n, &cases);
}
