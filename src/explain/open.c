/* SPDX-License-Identifier: Apache-2.0 */
/*
 * What is open: on what a way hangs, what to measure next, and what then stands.
 */
#include "explain/way.h"

#include "explain/finding.h"
#include "explain/message.h"
#include "explain/path.h"
#include "explain/value.h"

#define OTHERS_MOST 8

static bool in_set(const struct fit_case_set *set, uint32_t joint) {
    return (set->bits[joint / 64] >> (joint % 64) & 1) != 0;
}

/* Do the readings of the deciding values, each for itself, tell the set? False when only some combinations of them do. */
static bool is_product(const struct fit_cases *cases, const struct fit_case_set *set, uint32_t deciding) {
    uint32_t masks[FIT_DIMS_MAX];
    for (size_t d = 0; d < cases->n_dims; d++) {
        masks[d] = explain_candidates(cases, d, set);
    }
    for (uint32_t joint = 0; joint < cases->n; joint++) {
        bool wanted = in_set(&cases->possible, joint);
        for (size_t d = 0; d < cases->n_dims; d++) {
            wanted = wanted && (!(deciding >> d & 1) || (masks[d] >> fit_candidate(&cases->dims[d], joint) & 1));
        }
        if (wanted && !in_set(set, joint)) {
            return false;
        }
    }
    return true;
}

static void put_must_read(struct base_buffer *out, const struct fit_dim *dim, uint32_t mask) {
    struct base_buffer name, readings;
    base_buffer_init(&name, 0);
    base_buffer_init(&readings, 0);
    explain_name(&name, dim->subject, dim->property);
    explain_readings(&readings, dim, mask);
    base_buffer_text(out, out->n > 0 ? " " : "");
    explain_tell(out, "hangs.must-read", explain_buffered(&name), explain_buffered(&readings));
    base_buffer_clear(&name);
    base_buffer_clear(&readings);
}

/* What has no usual values: it is read before anybody can say whether the way stands. */
static void put_to_read(struct base_buffer *text, const struct plan *plan, const struct plan_way *way) {
    struct base_buffer names;
    base_buffer_init(&names, 0);
    for (size_t h = 0; h < plan->n_hangs; h++) {
        if (way->hangs >> h & 1) {
            base_buffer_text(&names, names.n > 0 ? "; " : "");
            explain_name(&names, plan->hangs[h].subject, plan->hangs[h].property);
        }
    }
    if (names.n > 0) {
        base_buffer_text(text, text->n > 0 ? " " : "");
        explain_tell(text, "hangs.open", explain_buffered(&names));
    }
    base_buffer_clear(&names);
}

void explain_hangs_on(struct base_buffer *out, const struct plan *plan, const struct plan_way *way) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    uint32_t deciding = fit_deciding(&plan->cases, &way->cases);
    for (size_t d = 0; d < plan->cases.n_dims; d++) {
        if (deciding >> d & 1) {
            put_must_read(&text, &plan->cases.dims[d], explain_candidates(&plan->cases, d, &way->cases));
        }
    }
    if (!is_product(&plan->cases, &way->cases, deciding)) {
        base_buffer_text(&text, " ");
        explain_say(&text, "hangs.not-all");
    }
    put_to_read(&text, plan, way);
    base_buffer_text(out, explain_held(out, &text));
    base_buffer_clear(&text);
}

/* --- what to measure next ------------------------------------------------------------------------------------------ */

/* Letters of picks in a list: 'A', 'A and C'. */
static void put_letters(struct base_buffer *out, uint32_t picks) {
    static const char *const letters[] = {"A", "B", "C", "D", "E"};
    const char *words[5] = {NULL};
    size_t n = 0;
    for (size_t i = 0; i < 5; i++) {
        if (picks >> i & 1) {
            words[n++] = letters[i];
        }
    }
    explain_put_list(out, words, n, "list.and");
}

/* 'A stands', 'B and C fall', or both, of the picks that wait for the value. */
static void put_outcome(struct base_buffer *out, const struct plan_next *next, uint32_t stand) {
    uint32_t up = stand & next->waiting, down = next->waiting & ~stand;
    struct base_buffer letters;
    base_buffer_init(&letters, 0);
    if (up) {
        put_letters(&letters, up);
        explain_tell(out, "next.stand", explain_buffered(&letters), explain_count(__builtin_popcount(up)));
    }
    base_buffer_clear(&letters);
    if (down) {
        base_buffer_text(out, up ? ", " : "");
        put_letters(&letters, down);
        explain_tell(out, "next.fall", explain_buffered(&letters), explain_count(__builtin_popcount(down)));
    }
    base_buffer_clear(&letters);
    if (stand && (stand & 1) == 0) { /* picks stand in rising cost */
        base_buffer_text(out, ", ");
        put_letters(&letters, stand & -stand);
        explain_tell(out, "next.cheapest", explain_buffered(&letters));
    }
    base_buffer_clear(&letters);
    base_buffer_text(out, ".");
}

/* A sentence for each group of readings with which the same picks stand. */
static void put_readings(struct base_buffer *out, const struct plan *plan, const struct plan_next *next) {
    const struct fit_dim *dim = &plan->cases.dims[next->dim];
    for (unsigned c = 0; c < next->n; c++) {
        uint32_t group = 0;
        for (unsigned other = 0; other < next->n; other++) {
            group |= next->stand[other] == next->stand[c] ? UINT32_C(1) << other : 0;
        }
        group &= next->occurs;
        if (!(group >> c & 1) || (group & ((UINT32_C(1) << c) - 1)) != 0 || group == next->occurs) {
            continue; /* told with an earlier one, or no reading decides alone */
        }
        struct base_buffer readings, outcome;
        base_buffer_init(&readings, 0);
        base_buffer_init(&outcome, 0);
        explain_readings(&readings, dim, group);
        put_outcome(&outcome, next, next->stand[c]);
        base_buffer_text(out, " ");
        explain_tell(out, "next.reads", explain_buffered(&readings), explain_buffered(&outcome));
        base_buffer_clear(&readings);
        base_buffer_clear(&outcome);
    }
}

static void put_box(struct base_buffer *out, const struct plan_next *next) {
    unsigned subject = next->subject;
    enum trade_property property = explain_property_behind(&subject, next->property);
    struct trade_value open = trade_open();
    if (property < TRADE_PROPERTIES) {
        explain_value(out, property, &open);
    }
}

/* The other values that picks wait for, by name. */
static void put_others(struct base_buffer *out, const struct plan *plan, const struct plan_next *next) {
    struct plan_hang asked[OTHERS_MOST];
    struct base_buffer names[OTHERS_MOST];
    const char *words[OTHERS_MOST] = {NULL};
    size_t n = plan_asked(asked, OTHERS_MOST, plan), others = 0;
    for (size_t i = 0; i < n; i++) {
        if (asked[i].subject == next->subject && asked[i].property == next->property) {
            continue;
        }
        struct base_buffer name;
        base_buffer_init(&name, 0);
        base_buffer_init(&names[others], 0);
        explain_name(&name, asked[i].subject, asked[i].property);
        explain_tell(&names[others], "name.the", explain_buffered(&name));
        base_buffer_clear(&name);
        words[others] = explain_held(out, &names[others]);
        others++;
    }
    base_buffer_text(out, " ");
    if (others == 0) {
        explain_say(out, "next.no-others");
    } else {
        struct base_buffer list;
        base_buffer_init(&list, 0);
        explain_put_list(&list, words, others, "list.and");
        explain_tell(out, "next.others", explain_buffered(&list));
        base_buffer_clear(&list);
    }
    while (others > 0) {
        base_buffer_clear(&names[--others]);
    }
}

void explain_next(struct base_buffer *out, const struct plan *plan, const struct plan_next *next) {
    struct base_buffer name, box, how;
    base_buffer_init(&name, 0);
    base_buffer_init(&box, 0);
    base_buffer_init(&how, 0);
    explain_name(&name, next->subject, next->property);
    put_box(&box, next);
    explain_how(&how, next->subject, next->property);
    explain_tell(out, "next.measure", explain_buffered(&name), explain_buffered(&box));
    base_buffer_text(out, how.n > 0 ? " " : "");
    base_buffer_text(out, explain_held(out, &how));
    if (next->dim >= 0) {
        put_readings(out, plan, next);
    } else {
        base_buffer_clear(&box);
        put_letters(&box, next->waiting);
        base_buffer_text(out, " ");
        explain_tell(out, "next.waits", explain_buffered(&box), explain_count(__builtin_popcount(next->waiting)));
    }
    put_others(out, plan, next);
    base_buffer_clear(&name);
    base_buffer_clear(&box);
    base_buffer_clear(&how);
}
