/* SPDX-License-Identifier: Apache-2.0 */
/* The quote as the customer reads it: what it costs beside what it does, then each way line by line. */
#include "app/quote.h"
#include "app/text_shared.h"

#include "base/date.h"
#include "explain/bench.h"
#include "explain/bike.h"
#include "explain/way.h"
#include "fit/small_parts.h"
#include "work/operations.h"

#define COLUMN_WIDTH 13

struct quote_page {
    struct app_page page;
    const struct app_quote *quote;
};

/* --- pieces -------------------------------------------------------------------------------------------------------- */

static void put_day(struct base_buffer *out, int32_t day) { base_date_write(out, day); }

/* Where a choice's column ends. */
static size_t column_of(const struct app_quote *quote, size_t choice) {
    return APP_LAST_COLUMN - COLUMN_WIDTH * (quote->n - 1 - choice);
}

/* 'both rings', 'all three rings'. */
static void put_rings_kept(struct base_buffer *out, const struct app_quote *quote, const char *code) {
    explain_tell(out, code, explain_code(trade_bike_rings(quote->bike) == 2 ? "plan.both" : "plan.all-three"));
}

static enum plan_purpose first_purpose(const struct plan_way *way) {
    unsigned purpose = 0;
    while (purpose + 1 < PLAN_PURPOSES && !(way->purposes >> purpose & 1)) {
        purpose++;
    }
    return (enum plan_purpose)purpose;
}

/* --- side by side -------------------------------------------------------------------------------------------------- */

/* What a row of the table says of one choice; nothing leaves its place empty. */
typedef void put_cell(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice);

static void put_row(struct quote_page *p, const char *label, put_cell *cell) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_lay_at(&p->page, APP_BODY, label);
    for (size_t i = 0; i < p->quote->n; i++) {
        cell(&text, p->quote, &p->quote->choices[i]);
        app_lay_right(&p->page, column_of(p->quote, i), app_held(&p->page, &text));
        base_buffer_clear(&text);
    }
    app_lay_end(&p->page);
}

static void put_named_row(struct quote_page *p, const char *code, put_cell *cell) {
    put_row(p, explain_message(code), cell);
}

static void cell_name(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    if (app_quote_keeps(choice)) {
        put_rings_kept(out, quote, "quote.column-keep");
    } else {
        base_buffer_text(out, choice->letter);
    }
}
static void cell_parts(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.parts_minor, quote->shop);
}
static void cell_labour(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.labour_minor, quote->shop);
}
static void cell_consumables(struct base_buffer *out, const struct app_quote *quote,
                             const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.consumables_minor, quote->shop);
}
static void cell_discount(struct base_buffer *out, const struct app_quote *quote,
                          const struct app_quote_choice *choice) {
    explain_put_amount(out, -choice->work.bill.discount_minor, quote->shop);
}
static void cell_tax(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.taxes[0].minor, quote->shop);
}
static void cell_labour_tax(struct base_buffer *out, const struct app_quote *quote,
                            const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.taxes[1].minor, quote->shop);
}
static void cell_total(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.total_minor, quote->shop);
}
static void cell_cash(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.cash_minor, quote->shop);
}
static void cell_deposit(struct base_buffer *out, const struct app_quote *quote,
                         const struct app_quote_choice *choice) {
    explain_put_amount(out, choice->work.bill.deposit_minor, quote->shop);
}
static void cell_ready(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    if (choice->work.ready_days < 0) {
        explain_say(out, "quote.no-day");
    } else if (choice->work.ready_days == 0) {
        explain_say(out, "quote.here");
    } else {
        put_day(out, quote->day + choice->work.ready_days);
    }
}

static void cell_lowest(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    (void)quote;
    struct explain_arg metres = explain_number(choice->way->values.lowest / 10000.0, 2, "");
    if (choice->way->values.lowest > 0) {
        explain_put_arg(out, &metres);
    }
}
static void cell_highest(struct base_buffer *out, const struct app_quote *quote,
                         const struct app_quote_choice *choice) {
    (void)quote;
    struct explain_arg metres = explain_number(choice->way->values.highest / 10000.0, 2, "");
    if (choice->way->values.highest > 0) {
        explain_put_arg(out, &metres);
    }
}
static void cell_harder(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    explain_lowest_change(out, choice->way->values.lowest, quote->shown->plan->now_values.lowest);
}
static void cell_less(struct base_buffer *out, const struct app_quote *quote, const struct app_quote_choice *choice) {
    explain_highest_change(out, choice->way->values.highest, quote->shown->plan->now_values.highest);
}

/* Thousandths of a percent as percent. */
static struct explain_arg percent_of(int32_t thousandths) {
    int decimals = thousandths % 1000 == 0 ? 0 : thousandths % 100 == 0 ? 1 : 3;
    return explain_number(thousandths / 1000.0, decimals, "%");
}

static void put_percent_row(struct quote_page *p, const char *code, int32_t thousandths, put_cell *cell) {
    struct base_buffer label;
    base_buffer_init(&label, 0);
    explain_tell(&label, code, percent_of(thousandths));
    put_row(p, app_held(&p->page, &label), cell);
    base_buffer_clear(&label);
}

static void put_taxes(struct quote_page *p) {
    const struct work_bill *bill = &p->quote->choices[0].work.bill;
    static put_cell *const cells[WORK_RATES] = {cell_tax, cell_labour_tax};
    static const char *const added[WORK_RATES] = {"quote.tax", "quote.labour-tax"};
    static const char *const held[WORK_RATES] = {"quote.tax-in-it", "quote.labour-tax-in-it"};
    for (size_t i = 0; i < bill->n_taxes; i++) {
        if (bill->taxes[i].thousandths > 0) {
            put_percent_row(p, bill->includes_tax ? held[i] : added[i], bill->taxes[i].thousandths, cells[i]);
        }
    }
}

static void put_total(struct quote_page *p) {
    struct base_buffer label;
    base_buffer_init(&label, 0);
    explain_tell(&label, "quote.to-pay", explain_words(p->quote->shop->currency));
    put_row(p, app_held(&p->page, &label), cell_total);
    base_buffer_clear(&label);
}

static void put_money_rows(struct quote_page *p) {
    const struct trade_shop *shop = p->quote->shop;
    put_named_row(p, "quote.parts", cell_parts);
    put_named_row(p, "quote.labour", cell_labour);
    if (shop->consumables_thousandths > 0) {
        put_percent_row(p, "quote.consumables", shop->consumables_thousandths, cell_consumables);
    }
    if (p->quote->discount_thousandths > 0) {
        put_percent_row(p, "quote.discount", p->quote->discount_thousandths, cell_discount);
    }
    if (!shop->prices_include_tax) {
        put_taxes(p);
    }
    put_total(p);
    if (shop->prices_include_tax) {
        put_taxes(p);
    }
    if (shop->cash_minor > 1) {
        put_named_row(p, "quote.in-cash", cell_cash);
    }
    if (shop->deposit_thousandths > 0) {
        put_percent_row(p, "quote.deposit", shop->deposit_thousandths, cell_deposit);
    }
    put_named_row(p, "quote.ready", cell_ready);
}

static void put_table(struct quote_page *p) {
    put_row(p, "", cell_name);
    put_money_rows(p);
    if (p->quote->shown->plan->gears_known) {
        app_lay_blank(&p->page, 1);
        put_named_row(p, "quote.lowest", cell_lowest);
        put_named_row(p, "quote.than-now", cell_harder);
        put_named_row(p, "quote.highest", cell_highest);
        put_named_row(p, "quote.than-now", cell_less);
    }
    app_lay_figure(&p->page, p->quote->figures[0]);
    app_lay_figure(&p->page, p->quote->figures[1]);
}

/* --- the answer ---------------------------------------------------------------------------------------------------- */

static void put_holds(struct base_buffer *out, const struct app_quote *quote) {
    struct base_buffer day;
    if (quote->shop->valid_days < 0) {
        explain_say(out, "quote.holds-open");
        return;
    }
    base_buffer_init(&day, 0);
    put_day(&day, quote->last_day);
    explain_tell(out, "quote.holds", explain_buffered(&day));
    base_buffer_clear(&day);
}

/* Letters of the ways that wait for a measurement. */
static size_t put_waiting(struct base_buffer *out, const struct app_quote *quote) {
    const char *letters[APP_QUOTE_WAYS];
    size_t n = 0;
    for (size_t i = 0; i < quote->n_ways; i++) {
        if (!quote->choices[i].way->certain) {
            letters[n++] = quote->choices[i].letter;
        }
    }
    explain_put_list(out, letters, n, "list.and");
    return n;
}

static void put_answer(struct quote_page *p) {
    const struct app_quote *quote = p->quote;
    const struct app_quote_choice *last = &quote->choices[quote->n_ways - 1];
    struct base_buffer text, waiting;
    base_buffer_init(&text, 0);
    base_buffer_init(&waiting, 0);
    explain_tell(&text, quote->n_ways == 1 ? "quote.one-way" : "quote.ways", explain_spelt((int64_t)quote->n_ways),
                 explain_money(quote->choices[0].work.bill.total_minor, quote->shop),
                 explain_money(last->work.bill.total_minor, quote->shop));
    if (quote->n > quote->n_ways) {
        base_buffer_text(&text, " ");
        put_rings_kept(&text, quote, "quote.keeping");
    }
    base_buffer_text(&text, " ");
    put_holds(&text, quote);
    size_t n = put_waiting(&waiting, quote);
    if (n > 0) {
        base_buffer_text(&text, " ");
        explain_tell(&text, "quote.waits", explain_buffered(&waiting), explain_count((int64_t)n));
    }
    app_end_paragraph(&p->page, &text);
    base_buffer_clear(&waiting);
    app_lay_blank(&p->page, 1);
    put_table(p);
}

/* --- one choice ---------------------------------------------------------------------------------------------------- */

static void put_line(struct quote_page *p, enum explain_mark mark, const char *label, struct base_buffer *text,
                     int64_t minor) {
    struct base_buffer amount;
    base_buffer_init(&amount, 0);
    explain_put_amount(&amount, minor, p->quote->shop);
    app_lay_to(&p->page, APP_BODY);
    app_lay_tile(&p->page, mark);
    app_lay_at(&p->page, APP_SLOT, label);
    if (p->page.at + 2 > APP_PART) {
        app_lay_end(&p->page);
    }
    app_lay_wrapped(&p->page, APP_PART, APP_PART_LAST, app_held(&p->page, text), app_held(&p->page, &amount));
    base_buffer_clear(&amount);
    base_buffer_clear(text);
}

static bool is_ring(enum trade_slot slot) {
    return slot == TRADE_SLOT_OUTER_RING || slot == TRADE_SLOT_MIDDLE_RING || slot == TRADE_SLOT_INNER_RING;
}

static void put_parts(struct quote_page *p, const struct app_quote_choice *choice) {
    const struct work_quote *work = &choice->work;
    bool single = explain_rings_of(&choice->way->build) == 1;
    for (size_t i = 0; i < work->n_parts; i++) {
        const struct work_part_line *line = &work->parts[i];
        struct base_buffer text;
        base_buffer_init(&text, 0);
        explain_part(&text, line->part);
        if (line->ordered) {
            base_buffer_text(&text, ", ");
            explain_say(&text, "quote.ordered");
        }
        put_line(p, EXPLAIN_NEW,
                 single && is_ring(line->slot) ? explain_message("slots.ring") : explain_slot(line->slot), &text,
                 line->part->listed_minor);
    }
}

/* On paper all of it together: what each operation costs is on the bill. */
static void put_labour_at_once(struct quote_page *p, const struct work_quote *work) {
    const char *labels[TRADE_OPERATIONS];
    struct base_buffer text;
    int64_t minor = 0;
    base_buffer_init(&text, 0);
    for (size_t i = 0; i < work->n_labour; i++) {
        labels[i] = trade_operation_rows[work->labour[i].operation].label;
        minor += work->labour[i].minor;
    }
    explain_put_list(&text, labels, work->n_labour, "list.and");
    app_lay_small(&p->page, true);
    put_line(p, EXPLAIN_FITS, explain_message("quote.labour"), &text, minor);
    app_lay_small(&p->page, false);
}

static void put_labour(struct quote_page *p, const struct work_quote *work) {
    if (p->page.style.paper) {
        put_labour_at_once(p, work);
        return;
    }
    for (size_t i = 0; i < work->n_labour; i++) {
        struct base_buffer text;
        base_buffer_init(&text, 0);
        base_buffer_text(&text, trade_operation_rows[work->labour[i].operation].label);
        put_line(p, EXPLAIN_FITS, i == 0 ? explain_message("quote.labour") : "", &text, work->labour[i].minor);
    }
}

static void put_slots_fact(struct quote_page *p, const char *label, uint32_t slots) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    if (slots != 0) {
        explain_slots(&text, slots);
        app_end_fact(&p->page, APP_FACT, label, &text);
    }
    base_buffer_clear(&text);
}

static void put_drawbacks(struct quote_page *p, const struct plan_way *way) {
    struct fit_finding findings[PLAN_RULES_MAX];
    const char *label = "quote.label-drawback", *said = NULL;
    size_t n = 0;
    fit_judge_build(findings, &n, p->quote->bike, &way->build, &p->quote->shown->plan->cases, false);
    for (size_t i = 0; i < n; i++) {
        const char *reason = findings[i].rule->reasons[findings[i].verdict.reason];
        struct base_buffer text;
        if (explain_mark_of(&findings[i]) != EXPLAIN_DRAWBACK || reason == said) {
            continue;
        }
        base_buffer_init(&text, 0);
        explain_finding(&text, &findings[i]);
        app_end_fact(&p->page, APP_FACT, label, &text);
        said = reason;
        label = NULL;
    }
}

/* What its price hangs on, what no price holds. */
static void put_conditions(struct quote_page *p, const struct plan_way *way) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_hangs_on(&text, p->quote->shown->plan, way);
    if (text.n > 0) {
        app_end_fact(&p->page, APP_FACT, "way.label-hangs-on", &text);
    }
    explain_small_parts(&text, fit_small_parts(p->quote->bike, &way->build));
    if (text.n > 0) {
        app_end_fact(&p->page, APP_FACT, "quote.label-not-in-it", &text);
    }
    base_buffer_clear(&text);
}

static void put_choice_heading(struct quote_page *p, const struct app_quote_choice *choice) {
    struct base_buffer heading, price;
    base_buffer_init(&heading, 0);
    base_buffer_init(&price, 0);
    if (app_quote_keeps(choice)) {
        put_rings_kept(&heading, p->quote, "quote.heading-keep");
    } else {
        base_buffer_text(&heading, choice->letter);
        base_buffer_text(&heading, "  ");
        explain_put_capital(&heading, explain_purpose(choice->way, first_purpose(choice->way)));
    }
    struct explain_arg money = explain_money(choice->work.bill.total_minor, p->quote->shop);
    explain_put_arg(&price, &money);
    app_lay_heading(&p->page, app_held(&p->page, &heading), app_held(&p->page, &price));
    base_buffer_clear(&heading);
    base_buffer_clear(&price);
}

static void put_choice(struct quote_page *p, const struct app_quote_choice *choice) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    put_choice_heading(p, choice);
    explain_to_rider(&text, p->quote->shown->plan, choice->way);
    if (text.n > 0) {
        app_end_paragraph(&p->page, &text);
        app_lay_blank(&p->page, 1);
    }
    put_parts(p, choice);
    put_labour(p, &choice->work);
    app_lay_blank(&p->page, 1);
    put_slots_fact(p, "quote.label-stays", choice->work.stays);
    put_slots_fact(p, "quote.label-off", choice->work.off);
    put_drawbacks(p, choice->way);
    put_conditions(p, choice->way);
}

/* --- what is agreed ------------------------------------------------------------------------------------------------ */

/* What strip-down may bring to light in any of the choices, each once. */
static void put_found(struct quote_page *p) {
    bool told[TRADE_BENCHES] = {false};
    for (size_t i = 0; i < p->quote->n; i++) {
        struct work_list found;
        work_found(&found, p->quote->bike, &p->quote->choices[i].way->build);
        for (size_t k = 0; k < found.n; k++) {
            const struct trade_bench_row *row = &trade_bench_rows[found.at[k]];
            struct base_buffer text;
            if (told[found.at[k]]) {
                continue;
            }
            told[found.at[k]] = true;
            base_buffer_init(&text, 0);
            explain_tell(&text, "work.found-one", explain_words(explain_bench(found.at[k])),
                         explain_number(row->low, 0, ""), explain_number(row->high, 0, "min"));
            app_lay_at(&p->page, APP_BODY, "-");
            app_lay_wrapped(&p->page, APP_BODY + 2, APP_LAST_COLUMN, app_held(&p->page, &text), NULL);
            base_buffer_clear(&text);
        }
    }
}

static void put_opened(struct quote_page *p) {
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_put_paragraph(&p->page, "quote.may-appear", NULL, 0);
    app_lay_blank(&p->page, 1);
    app_lay_small(&p->page, true);
    put_found(p);
    app_lay_small(&p->page, false);
    app_lay_blank(&p->page, 1);
    if (p->quote->call_first_minor >= 0) {
        explain_tell(&text, "quote.call-first", explain_money(p->quote->call_first_minor, p->quote->shop));
    } else {
        explain_tell(&text, "quote.call-first-open", explain_words(p->quote->shop->currency));
    }
    if (p->quote->shop->deposit_thousandths > 0) {
        base_buffer_text(&text, " ");
        explain_say(&text, "quote.deposit-on");
    }
    app_end_paragraph(&p->page, &text);
}

static void put_agreed(struct quote_page *p) {
    const char *old = p->quote->old_parts;
    app_question(&p->page, "quote.agree-question");
    put_opened(p);
    app_lay_blank(&p->page, 1);
    app_put_paragraph(&p->page,
                      !old            ? "quote.old-parts-open"
                      : old[0] == 'b' ? "quote.old-parts-back"
                                      : "quote.old-parts-scrap",
                      NULL, 0);
    app_lay_blank(&p->page, 1);
    struct base_buffer text;
    base_buffer_init(&text, 0);
    explain_say(&text, "quote.agreed");
    for (size_t i = 0; i < p->quote->n; i++) {
        base_buffer_text(&text, "   [ ] ");
        cell_name(&text, p->quote, &p->quote->choices[i]);
    }
    app_end_paragraph(&p->page, &text);
    app_lay_blank(&p->page, 1);
    app_put_paragraph(&p->page, "quote.signed", NULL, 0);
    app_lay_blank(&p->page, 1);
    app_put_paragraph(&p->page, "end.caution", NULL, 0);
}

/* --- the page ------------------------------------------------------------------------------------------------------ */

void app_text_quote(struct base_buffer *out, const struct app_style *style, const struct app_quote *quote) {
    struct quote_page p = {.page = app_page_on(out, style), .quote = quote};
    struct base_buffer day, right;
    base_buffer_init(&day, 0);
    base_buffer_init(&right, 0);
    put_day(&day, quote->day);
    explain_tell(&right, "quote.of-day", explain_buffered(&day));
    app_title(&p.page, quote->bike, app_held(&p.page, &right));
    base_buffer_clear(&day);
    base_buffer_clear(&right);
    app_question(&p.page, "quote.question");
    if (quote->n_ways == 0) {
        app_put_paragraph(&p.page, "quote.none", NULL, 0);
        return;
    }
    put_answer(&p);
    for (size_t i = 0; i < quote->n; i++) {
        put_choice(&p, &quote->choices[i]);
    }
    put_agreed(&p);
}
