/* SPDX-License-Identifier: Apache-2.0 */
/*
 * tabulate BIKE SHOP: what every rule says of every combination of the choices that it looks at.
 *
 * Standard input has a line for each slot: its name and the choices that it may have, each keep, none or the id of a part.
 * Each rule is judged on whole builds, one at a time, in which the slots that it doesn't look at have their first choice.
 * Nothing of the planner is asked. What is printed, in words:
 *
 *     dim PATH STRIDE TYPE VALUE...       a property of the bike that is open, with what it usually is
 *     cases N SET                         joint cases, and those that are possible; sets are hex words, case 0 lowest
 *     rule ID SLOT...                     a rule, with the slots that it looks at and that have more than one choice
 *     row CHOICE... | no                  they do not go together
 *     row CHOICE... | SET HANG CODE...    they do in these cases, or `every` possible one; HANG is a path or -; drawbacks behind
 *     plane PLACE SLOT...                 where a ring of that place lies, by the slots that it hangs on
 *     row CHOICE... | MM                   it is there, or open
 */
#include "app/load.h"
#include "cli/command.h"
#include "explain/path.h"
#include "fit/judge.h"
#include "trade/vocabulary.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CHOICES_MAX 64

struct table {
    struct app_loaded loaded;
    struct fit_cases cases;
    struct fit_choice at[TRADE_SLOTS][CHOICES_MAX];
    unsigned n[TRADE_SLOTS];
};

static void give_up(const char *why, const char *what) {
    fprintf(stderr, "tabulate: %s: %s\n", why, what);
    exit(1);
}

static const char *choice_name(const struct fit_choice *choice) {
    return choice->kind == FIT_KEEP ? "keep" : choice->kind == FIT_NONE ? "none" : choice->part->id;
}

static void add_choice(struct table *t, unsigned slot, const char *word) {
    struct fit_choice choice = {.kind = FIT_NONE};
    if (strcmp(word, "keep") == 0) {
        choice = (struct fit_choice){FIT_KEEP, &t->loaded.bike.fitted[slot].part};
    } else if (strcmp(word, "none") != 0) {
        choice = (struct fit_choice){FIT_NEW, trade_catalogue_find(&t->loaded.catalogue, word)};
        if (!choice.part || choice.part->kind != trade_slot_rows[slot].kind) {
            give_up("no such part", word);
        }
    }
    if (t->n[slot] == CHOICES_MAX) {
        give_up("too many choices", word);
    }
    t->at[slot][t->n[slot]++] = choice;
}

static void read_choices(struct table *t) {
    char line[8192];
    while (fgets(line, sizeof line, stdin)) {
        char *word = strtok(line, " \n");
        int slot = word ? trade_find_slot(base_slice_of(word)) : -1;
        if (slot < 0) {
            give_up("no such slot", word ? word : "");
        }
        while ((word = strtok(NULL, " \n"))) {
            add_choice(t, (unsigned)slot, word);
        }
    }
    for (unsigned slot = 0; slot < TRADE_SLOTS; slot++) {
        if (t->n[slot] == 0) {
            give_up("no choice", trade_slot_rows[slot].name);
        }
    }
}

static void print_set(const struct fit_case_set *set, uint32_t n) {
    for (uint32_t word = (n + 63) / 64; word-- > 0;) {
        printf("%016llx", (unsigned long long)set->bits[word]);
    }
}

static void print_path(unsigned subject, unsigned property) {
    struct base_buffer path;
    base_buffer_init(&path, 0);
    explain_path(&path, subject, property);
    printf("%s", path.at);
    base_buffer_clear(&path);
}

static void print_dims(const struct table *t) {
    for (size_t d = 0; d < t->cases.n_dims; d++) {
        const struct fit_dim *dim = &t->cases.dims[d];
        const struct trade_property_row *row = &trade_property_rows[dim->property];
        printf("dim ");
        print_path(dim->subject, dim->property);
        printf(" %u %s", dim->stride, row->type == TRADE_WORD ? "word" : "number");
        for (unsigned i = 0; i < dim->n; i++) {
            if (row->type == TRADE_WORD) {
                printf(" %s", trade_word_name(row->domain, dim->at[i].word));
            } else {
                printf(" %.17g", dim->at[i].number);
            }
        }
        printf("\n");
    }
    printf("cases %u ", t->cases.n);
    print_set(&t->cases.possible, t->cases.n);
    printf("\n");
}

/* Does the answer wait for a value of a part that is not in hand? It can't be measured then. */
static bool waits_for_new(const struct fit_finding *finding, const struct fit_build *build) {
    return finding->hangs && !finding->asks_now && finding->ask_subject < TRADE_SLOTS &&
           build->at[finding->ask_subject].kind == FIT_NEW;
}

static void print_finding(const struct table *t, const struct fit_rule *rule, const struct fit_build *build) {
    struct fit_finding finding;
    fit_judge_rule(&finding, rule, &t->loaded.bike, build, &t->cases, false);
    if (fit_no_case(&finding.cases) || waits_for_new(&finding, build)) {
        printf(" | no\n");
        return;
    }
    printf(" | ");
    if (fit_every_case(&finding.cases, &t->cases)) {
        printf("every");
    } else {
        print_set(&finding.cases, t->cases.n);
    }
    printf(" ");
    if (finding.hangs) {
        print_path(finding.ask_subject, finding.ask_property);
    } else {
        printf("-");
    }
    for (unsigned reason = 0; reason < FIT_REASONS_MAX; reason++) {
        if (finding.drawbacks >> reason & 1) {
            printf(" %s", rule->reasons[reason]);
        }
    }
    printf("\n");
}

static void print_plane(const struct table *t, unsigned place, const struct fit_build *build) {
    struct fit_sum sum = fit_measure_sum((enum fit_measure_id)(FIT_OUTER_PLANE + place), &t->loaded.bike, build);
    if (sum.known == BASE_OPEN) {
        printf(" | open\n");
    } else {
        printf(" | %.17g\n", sum.mm);
    }
}

/* Every combination of the choices of these slots; of a rule, or where rule is NULL of a ring's place. */
static void tabulate(const struct table *t, uint32_t slots, const struct fit_rule *rule, unsigned place) {
    unsigned pick[TRADE_SLOTS] = {0};
    unsigned slot = 0;
    printf(rule ? "rule %s" : "plane %s", rule ? rule->id : trade_slot_rows[TRADE_SLOT_OUTER_RING + place].name);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if ((slots >> s & 1) && t->n[s] > 1) {
            printf(" %s", trade_slot_rows[s].name);
        }
    }
    printf("\n");
    while (slot < TRADE_SLOTS) {
        struct fit_build build;
        for (unsigned s = 0; s < TRADE_SLOTS; s++) {
            build.at[s] = t->at[s][pick[s]];
        }
        printf("row");
        for (unsigned s = 0; s < TRADE_SLOTS; s++) {
            if ((slots >> s & 1) && t->n[s] > 1) {
                printf(" %s", choice_name(&build.at[s]));
            }
        }
        if (rule) {
            print_finding(t, rule, &build);
        } else {
            print_plane(t, place, &build);
        }
        for (slot = 0; slot < TRADE_SLOTS; slot++) {
            if (!(slots >> slot & 1)) {
                continue;
            }
            if (++pick[slot] < t->n[slot]) {
                break;
            }
            pick[slot] = 0;
        }
    }
}

static void print_tables(const struct table *t) {
    print_dims(t);
    for (size_t r = 0; r < fit_rules_n; r++) {
        tabulate(t, fit_rule_slots(fit_rules[r]), fit_rules[r], 0);
    }
    for (unsigned place = 0; place < 3; place++) {
        const struct fit_measure *measure = &fit_measures[FIT_OUTER_PLANE + place];
        uint32_t slots = 0;
        for (size_t i = 0; i < measure->n_terms; i++) {
            slots |= 1u << measure->terms[i].slot;
        }
        tabulate(t, slots, NULL, place);
    }
}

int main(int argc, char **argv) {
    static struct table t;
    if (argc != 3) {
        give_up("usage", "tabulate BIKE SHOP < CHOICES");
    }
    struct app_request request = {.command = "plan", .bike = argv[1], .catalogue = argv[2]};
    app_load_init(&t.loaded, &cli_world, &request);
    enum base_status status = app_load_bike(&t.loaded);
    status = status == BASE_OK ? app_load_catalogue(&t.loaded, argv[2]) : status;
    if (status != BASE_OK) {
        give_up("can't read", argv[1]);
    }
    read_choices(&t);
    fit_cases_of(&t.cases, &t.loaded.bike);
    print_tables(&t);
    app_load_clear(&t.loaded);
    return 0;
}
