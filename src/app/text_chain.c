/* SPDX-License-Identifier: Apache-2.0 */
#include "app/text_shared.h"

#include <math.h>

static struct explain_arg links_arg(const struct app_chain *chain, double links, int decimals, const char *unit) {
    enum base_known known =
        chain->known == BASE_TABLE ? BASE_MEASURED : chain->known; /* teeth from a table are whole */
    return explain_known(links, decimals, unit, known);
}

void app_chain_sentence(struct base_buffer *text, const struct app_chain *chain) {
    static const char *const codes[2][2] = {{"chain.cut-pin", "chain.cut-quick-link"},
                                            {"chain.cut-pin-single", "chain.cut-quick-link-single"}};
    explain_tell(text, codes[chain->single][chain->quick_link],
                 links_arg(chain, chain->links, 0, explain_message("unit.pitches")),
                 links_arg(chain, chain->bare_links, 1, ""), links_arg(chain, chain->rule_links, 0, ""),
                 explain_count(chain->links - 1));
}

void app_cage_sentence(struct base_buffer *text, const struct app_chain *chain) {
    if (chain->capacity < 0) {
        explain_tell(text, "chain.cage-open", explain_number(chain->capacity_needed, 0, "T"));
    } else {
        explain_tell(text, chain->capacity_needed <= chain->capacity ? "chain.cage" : "chain.cage-over",
                     explain_count(chain->capacity_needed),
                     explain_known(chain->capacity, 0, "", chain->capacity_known));
    }
}

/* Where the axle stands when a chain of so many links is taut. */
static void put_taut(struct app_page *page, const struct app_chain *chain) {
    for (size_t i = 0; i < chain->n_taut; i++) {
        const struct app_taut *taut = &chain->taut[i];
        double by_mm = taut->stay_mm - chain->stay_mm;
        const char *plain = !taut->half_link       ? "chain.taut"
                            : chain->half_if_plain ? "chain.taut-if-plain"
                                                   : "chain.taut-half";
        app_fact(page, i == 0 ? "chain.label-taut" : NULL, plain, explain_count(taut->links),
                 explain_number(taut->stay_mm, 0, "mm"), explain_number(fabs(by_mm), 1, "mm"),
                 explain_code(by_mm < 0 ? "chain.shorter" : "chain.longer"));
    }
    app_put_fact(page, NULL, "chain.tensioner", NULL, 0);
}

static void put_rule(struct app_page *page, const struct app_chain *chain) {
    if (chain->single) {
        put_taut(page, chain);
        return;
    }
    const char *code = "chain.rule-ordinary";
    enum trade_limit added = TRADE_LIMIT_ORDINARY_ADD_PITCHES;
    if (chain->wide_single) {
        code = chain->suspended ? "chain.rule-suspended" : "chain.rule-rigid";
        added = chain->suspended ? TRADE_LIMIT_WIDE_SINGLE_SUSPENDED_ADD_PITCHES : TRADE_LIMIT_WIDE_SINGLE_ADD_PITCHES;
    }
    app_fact(page, "chain.label-rule", code, explain_spelt((int64_t)trade_limits[added].value),
             explain_count(chain->rule_links), explain_count(chain->links));
}

/* One gear: where the cage stands, or why it does not. */
static void put_stand(struct app_page *page, const char *label, const struct app_cage_gear *gear) {
    const char *code = gear->cage_deg < 0 ? "chain.back" : "chain.forward";
    double value = fabs(gear->cage_deg);
    const char *unit = "°";
    int decimals = 0;
    if (isnan(gear->cage_deg)) {
        code = "chain.no-cage";
    } else if (gear->slack_links < 0 || gear->slack_links > 0) {
        code = gear->slack_links < 0 ? "chain.short" : "chain.slack";
        value = fabs(gear->slack_links);
        unit = "";
        decimals = 1;
    }
    app_fact(page, label, code, explain_count(gear->ring), explain_count(gear->sprocket),
             explain_known(value, decimals, unit, BASE_ASSUMED));
}

/* With a spring behind, the chain hangs most at rest. */
static void put_rest(struct app_page *page, const struct app_cage_gear *least) {
    if (!isnan(least->rest_deg)) {
        app_fact(page, NULL, least->rest_slack_links > 0 ? "chain.rest-slack" : "chain.rest",
                 explain_count(least->ring), explain_count(least->sprocket),
                 explain_known(least->rest_slack_links > 0 ? least->rest_slack_links : fabs(least->rest_deg),
                               least->rest_slack_links > 0, least->rest_slack_links > 0 ? "" : "°", BASE_ASSUMED),
                 explain_code(least->rest_deg < 0 ? "chain.way-back" : "chain.way-forward"));
    }
}

/* The gear whose loop grows most over the travel; nothing where the bike does not say how its axle goes. */
static void put_growth(struct app_page *page, const struct app_chain *chain) {
    const struct app_cage_gear *most = NULL;
    for (size_t i = 0; i < chain->n_gears; i++) {
        const struct app_cage_gear *gear = &chain->gears[i];
        most = !isnan(gear->growth_links) && (!most || gear->growth_links > most->growth_links) ? gear : most;
    }
    if (most) {
        app_fact(page, "chain.label-travel", "chain.growth", explain_number(most->growth_links, 1, ""),
                 explain_number(most->longest_mm, 0, "mm"), explain_count(most->ring), explain_count(most->sprocket));
    }
}

/* The gear in which the cage hangs nearest to the ground. */
static void put_ground(struct app_page *page, const struct app_chain *chain) {
    const struct app_cage_gear *lowest = NULL;
    for (size_t i = 0; i < chain->n_gears; i++) {
        const struct app_cage_gear *gear = &chain->gears[i];
        lowest = !isnan(gear->ground_mm) && (!lowest || gear->ground_mm < lowest->ground_mm) ? gear : lowest;
    }
    if (lowest) {
        app_fact(page, NULL, "chain.ground", explain_count(lowest->ring), explain_count(lowest->sprocket),
                 explain_known(lowest->ground_mm, 0, "mm", BASE_ASSUMED));
    }
}

/* Largest to largest, smallest to smallest: nothing while the length is open. */
static void put_stands(struct app_page *page, const struct app_chain *chain) {
    const struct app_cage_gear *most = NULL, *least = NULL;
    for (size_t i = 0; i < chain->n_gears; i++) {
        const struct app_cage_gear *gear = &chain->gears[i];
        int teeth = gear->ring + gear->sprocket;
        most = !most || teeth > most->ring + most->sprocket ? gear : most;
        least = !least || teeth < least->ring + least->sprocket ? gear : least;
    }
    if (!most || chain->links == 0) {
        return;
    }
    put_stand(page, "chain.label-stands", most);
    if (least != most) {
        put_stand(page, NULL, least);
    }
    put_rest(page, least);
    put_ground(page, chain);
    app_fact(page, NULL, "chain.shape", explain_words(trade_domain_rows[TRADE_DOMAIN_CAGE].words[chain->cage].label));
}

void app_text_chain(struct base_buffer *out, const struct app_style *style, const struct trade_bike *bike,
                    const struct app_chain *chain) {
    struct app_page page = app_page_on(out, style);
    struct fit_cases cases;
    struct base_buffer text;
    base_buffer_init(&text, 0);
    app_title(&page, bike, NULL);
    app_question(&page, "chain.question");
    if (chain->links == 0) {
        app_put_paragraph(&page, "chain.open", NULL, 0);
    } else {
        app_chain_sentence(&text, chain);
        app_end_sentence(&page, &text);
        app_lay_blank(&page, 1);
        app_fact(&page, "chain.label-loop", chain->suspended ? "chain.loop-longest" : "chain.loop",
                 explain_count(chain->ring), explain_count(chain->sprocket),
                 explain_known(chain->stay_mm, 0, "mm", BASE_MEASURED));
        put_rule(&page, chain);
    }
    if (chain->capacity_needed > 0) {
        app_cage_sentence(&text, chain);
        app_end_fact(&page, APP_FACT, "chain.label-cage", &text);
        put_stands(&page, chain);
        put_growth(&page, chain);
    }
    fit_cases_of(&cases, bike);
    app_lay_findings(&page, chain->findings, chain->n_findings, &cases);
    app_lay_open(&page, &chain->open);
}
