/* SPDX-License-Identifier: Apache-2.0 */
/* What goes with the bike: what was fitted and how, what was measured, what to look at after the first rides. */
#include "app/record.h"
#include "app/text_shared.h"

#include "app/json_parts.h"
#include "explain/bike.h"
#include "explain/record.h"

#include <math.h>

/* --- what follows from the build ----------------------------------------------------------------------------------- */

/* Where the chain goes, by its family; NAN when that is open. */
static double chain_goes_at_percent(const struct fit_build *build) {
    const struct trade_part *chain = build->at[TRADE_SLOT_CHAIN].part;
    int family = chain ? trade_get_word(chain, TRADE_CHAIN_FAMILY) : -1;
    for (size_t i = 0; i < trade_chains_n; i++) {
        if (family >= 0 && trade_chains[i].chain_family == family) {
            return trade_chains[i].worn_percent;
        }
    }
    return NAN;
}

/* What to look at after the first rides, by what is new: codes of messages. */
struct watch {
    uint32_t slots; /* any of which is new, or changed; 0: always */
    const char *code;
};
#define BIT(slot) (UINT32_C(1) << (slot))
static const struct watch watches[] = {
    {BIT(TRADE_SLOT_CABLES) | BIT(TRADE_SLOT_RIGHT_SHIFTER) | BIT(TRADE_SLOT_REAR_DERAILLEUR), "handover.cables"},
    {BIT(TRADE_SLOT_OUTER_RING) | BIT(TRADE_SLOT_MIDDLE_RING) | BIT(TRADE_SLOT_INNER_RING), "handover.ring-bolts"},
    {BIT(TRADE_SLOT_CRANK) | BIT(TRADE_SLOT_BOTTOM_BRACKET), "handover.crank"},
    {BIT(TRADE_SLOT_CASSETTE) | BIT(TRADE_SLOT_FREEHUB_BODY) | BIT(TRADE_SLOT_REAR_WHEEL), "handover.lockring"},
    {BIT(TRADE_SLOT_REAR_WHEEL), "handover.wheel"},
    {BIT(TRADE_SLOT_REAR_ROTOR) | BIT(TRADE_SLOT_REAR_WHEEL) | BIT(TRADE_SLOT_RIGHT_BRAKE_LEVER) |
         BIT(TRADE_SLOT_LEFT_BRAKE_LEVER),
     "handover.brakes"},
    {0, "handover.skips"},
};
#define WATCHES (sizeof watches / sizeof watches[0])

static bool is_watched(const struct watch *watch, const struct app_job *job) {
    return watch->slots == 0 || (fit_changed(&job->build, &job->loaded.bike) & watch->slots) != 0;
}

/* --- as a page ----------------------------------------------------------------------------------------------------- */

static void put_answer(struct app_page *page, const struct app_job *job) {
    struct app_progress progress;
    app_progress_of(&progress, job);
    if (progress.sign) {
        app_paragraph(page, "record.signed", explain_words(progress.sign->text), explain_words(progress.sign->at));
    } else {
        app_paragraph(page, "handover.not-signed", explain_count((int64_t)progress.n_done),
                      explain_count((int64_t)progress.n));
    }
}

static void put_fitted(struct app_page *page, const struct app_job *job) {
    app_lay_blank(page, 1);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct fit_choice *choice = &job->build.at[s];
        struct base_buffer text;
        if (choice->kind != FIT_NEW) {
            continue;
        }
        base_buffer_init(&text, 0);
        explain_part(&text, choice->part);
        app_lay_to(page, APP_BODY);
        app_lay_tile(page, EXPLAIN_NEW);
        app_lay_at(page, APP_SLOT, explain_slot((enum trade_slot)s));
        app_lay_wrapped(page, APP_PART, APP_LAST_COLUMN, app_held(page, &text), NULL);
        base_buffer_clear(&text);
    }
}

static void put_chain(struct app_page *page, const struct app_job *job) {
    const struct app_chain *chain = job->chain;
    struct base_buffer text;
    double goes = chain_goes_at_percent(&job->build);
    base_buffer_init(&text, 0);
    app_lay_blank(page, 1);
    if (chain->links > 0) {
        app_chain_sentence(&text, chain);
        app_end_fact(page, APP_FACT, "way.label-chain", &text);
    } else {
        app_fact(page, "way.label-chain", "way.chain-open", explain_count(0));
    }
    if (!isnan(goes)) {
        app_fact(page, "handover.label-limit", "handover.chain-goes", explain_number(goes, 2, "%"));
    }
    if (chain->capacity_needed > 0) {
        app_cage_sentence(&text, chain);
        app_end_fact(page, APP_FACT, "chain.label-cage", &text);
    }
}

static void put_measured(struct app_page *page, const struct app_job *job) {
    const char *label = "handover.label-measured";
    for (size_t i = 0; i < job->n; i++) {
        const struct work_entry *entry = &job->entries[i];
        if (entry->kind != WORK_MEASURED || app_job_read(job, entry->name) != entry) {
            continue;
        }
        struct base_buffer text;
        base_buffer_init(&text, 0);
        app_tell_measured(&text, job, entry);
        app_end_fact(page, APP_FACT, label, &text);
        label = NULL;
    }
    if (label) {
        app_fact(page, label, "handover.nothing-measured", explain_count(0));
    }
}

static void put_faults(struct app_page *page, const struct app_job *job) {
    const char *label = "handover.label-found";
    for (size_t i = 0; i < job->n; i++) {
        if (job->entries[i].kind == WORK_FAULT) {
            app_fact(page, label, "handover.as-it-is", explain_words(job->entries[i].text));
            label = NULL;
        }
    }
}

static void put_watches(struct app_page *page, const struct app_job *job) {
    app_question(page, "handover.watch-question");
    for (size_t i = 0; i < WATCHES; i++) {
        if (is_watched(&watches[i], job)) {
            app_lay_at(page, APP_BODY, "-");
            app_lay_wrapped(page, APP_BODY + 2, APP_LAST_COLUMN, explain_message(watches[i].code), NULL);
        }
    }
    app_lay_blank(page, 1);
    app_put_paragraph(page, "handover.before-a-ride", NULL, 0);
    app_lay_blank(page, 1);
    app_put_paragraph(page, "end.caution", NULL, 0);
}

void app_text_handover(struct base_buffer *out, const struct app_style *style, const struct app_job *job,
                       const struct base_slice *figures, size_t n_figures) {
    struct app_page page = app_page_on(out, style);
    struct base_buffer right;
    base_buffer_init(&right, 0);
    explain_tell(&right, "record.way", explain_words(job->way->letter));
    app_title(&page, &job->loaded.bike, app_held(&page, &right));
    base_buffer_clear(&right);
    app_question(&page, "handover.question");
    put_answer(&page, job);
    put_fitted(&page, job);
    for (size_t i = 0; i < n_figures; i++) {
        app_lay_figure(&page, figures[i]);
    }
    put_chain(&page, job);
    put_measured(&page, job);
    put_faults(&page, job);
    put_watches(&page, job);
}

/* --- as a document ------------------------------------------------------------------------------------------------- */

static void put_entries_of(struct format_out *out, const char *key, const struct app_job *job,
                           enum work_entry_kind kind) {
    format_out_key(out, key);
    format_out_array(out);
    for (size_t i = 0; i < job->n; i++) {
        if (job->entries[i].kind == kind &&
            (kind != WORK_MEASURED || app_job_read(job, job->entries[i].name) == &job->entries[i])) {
            app_json_put_entry(out, &job->entries[i]);
        }
    }
    format_out_array_end(out);
}

void app_json_handover(struct base_buffer *buffer, const struct app_job *job) {
    struct format_out out;
    size_t sign = work_last(job->entries, job->n, WORK_SIGNED);
    format_out_init(&out, buffer, true);
    format_out_object(&out);
    app_json_key_text(&out, "label", job->loaded.bike.label);
    app_json_key_text(&out, "letter", job->way->letter);
    app_json_key_text(&out, "signed_by", sign < job->n ? job->entries[sign].text : NULL);
    app_json_build_parts(&out, &job->build);
    app_json_key_number(&out, "links", job->chain->links > 0 ? job->chain->links : (double)NAN);
    app_json_key_number(&out, "chain_goes_at_percent", chain_goes_at_percent(&job->build));
    put_entries_of(&out, "measured", job, WORK_MEASURED);
    put_entries_of(&out, "faults", job, WORK_FAULT);
    format_out_key(&out, "look_at");
    format_out_array(&out);
    for (size_t i = 0; i < WATCHES; i++) {
        if (is_watched(&watches[i], job)) {
            format_out_text(&out, explain_message(watches[i].code));
        }
    }
    format_out_array_end(&out);
    format_out_object_end(&out);
    format_out_done(&out);
}
