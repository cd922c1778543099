/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Rules: does what meets at a joint fit together?
 *
 * A rule declares what it reads, gets exactly these values and nothing else, and answers with a verdict: a code, and
 * the numbers behind it as data. It makes no sentence (src/explain does) and searches nothing (src/plan does).
 *
 * A rule is called with one definite value for each read. Where a property of the bike is open, or assumed with a band,
 * the caller (judge.h) calls it once for each value that usually occurs and keeps the set of cases in which it fits, so
 * that no rule knows of three-valued logic. Two exceptions are declared in the read itself: FIT_OPTIONAL (the rule wants
 * to see an open value as open) and FIT_EMPTY_OK (the rule has something to say when the slot is empty).
 */
#ifndef FIT_FIT_H
#define FIT_FIT_H

#include "trade/tables.h"
#include "trade/value.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What a read is about: a slot of the build, the bike's fixed facts, a slot of the bike as it stands now, or a measure. */
enum fit_subject {
    /* 0 .. TRADE_SLOTS - 1: the part that the build has in this slot */
    FIT_BIKE = TRADE_SLOTS,
    FIT_FRAME,
    FIT_WHEEL,
    FIT_NOW, /* FIT_NOW + slot: the part that the bike has there now, whatever the build does */
    FIT_MEASURE = FIT_NOW + TRADE_SLOTS /* FIT_MEASURE + enum fit_measure_id: a sum over slots */
};

/* What can be read of any slot beside its kind's own properties. Numbers behind the last trade_property. */
enum fit_derived {
    FIT_PRESENT = TRADE_PROPERTIES, /* number 1 or 0: is there a part? Never open, defined for an empty slot too */
    FIT_FITTED,                     /* number 1 when the part is the one on the bike (it stays), 0 when it is new */
    FIT_SMALLEST,                   /* of a cassette: teeth of the smallest sprocket */
    FIT_LARGEST,                    /* of a cassette: teeth of the largest sprocket */
    FIT_SPEEDS,                     /* of a cassette: number of sprockets */
    FIT_TEETH,                      /* of a cassette: all its sprockets, bit n of words for n teeth */
    FIT_VALUE                       /* of a measure: its sum, mm; open when one of its terms is open */
};

enum fit_read_flag {
    FIT_NEEDED = 0,   /* slot empty: the rule does not apply. Open: judged in each case, or it must be measured */
    FIT_OPTIONAL = 1, /* the rule gets an open value as it is and copes */
    FIT_EMPTY_OK = 2, /* the rule is asked although this slot is empty; its value is then NULL (FIT_PRESENT: 0) */
    FIT_OF_NEW = 4,   /* with FIT_OPTIONAL: a part of a catalogue that lacks it can't be judged, and is left out */
    FIT_RISING = 16,  /* of a measure: the larger its sum, the better the answer or as good, all else alike */
    FIT_TRIED = 8 /* with FIT_OPTIONAL: tried with its usual values all the same, as long as there is room for cases */
};

struct fit_read {
    uint8_t subject;   /* enum fit_subject, or slot, or FIT_NOW + slot, or FIT_MEASURE + id */
    uint8_t flags;     /* bit set of enum fit_read_flag */
    uint16_t property; /* enum trade_property or enum fit_derived */
};

#define FIT_READS_MAX 20
#define FIT_FACTS_MAX 6

/* The values in the order of the rule's reads. NULL: the slot is empty (FIT_EMPTY_OK only). */
struct fit_values {
    const struct trade_value *at[FIT_READS_MAX];
};

static inline bool fit_has(const struct fit_values *v, unsigned i) { return v->at[i] != NULL; }
static inline bool fit_known(const struct fit_values *v, unsigned i) { return v->at[i] && !trade_is_open(v->at[i]); }
static inline double fit_number(const struct fit_values *v, unsigned i) { return v->at[i]->number; }
static inline unsigned fit_word(const struct fit_values *v, unsigned i) { return v->at[i]->word; }
static inline bool fit_yes(const struct fit_values *v, unsigned i) { return v->at[i]->word == TRADE_YES_NO_YES; }
static inline bool fit_among(const struct fit_values *v, unsigned i, unsigned word) {
    return ((v->at[i]->words >> word) & 1u) != 0;
}

/* From best to worst. */
enum fit_kind {
    FIT_SILENT = 0, /* the rule does not apply here; never shown */
    FIT_FITS,
    FIT_ADAPTER,  /* fits with an adapter that is part of the build */
    FIT_DRAWBACK, /* works, with something to know */
    FIT_ASK,      /* must be measured: the read numbered `ask` */
    FIT_CLASH
};

/* A number or word behind a verdict, for the sentence. */
enum fit_fact_type {
    FIT_FACT_NUMBER, /* with decimals digits and a unit */
    FIT_FACT_WORD    /* a word of a domain */
};
struct fit_fact {
    uint8_t type;
    uint8_t decimals;
    uint16_t word;
    uint16_t domain; /* enum trade_domain */
    double number;
    const char *unit; /* "mm", "T", "" ...; static */
};

struct fit_verdict {
    uint8_t kind;   /* enum fit_kind */
    uint8_t reason; /* index in the rule's reasons; undefined for FIT_SILENT */
    uint8_t ask;    /* FIT_ASK: which read must be measured */
    uint8_t n_facts;
    struct fit_fact facts[FIT_FACTS_MAX];
};

/* Verdicts without facts: the rule has nothing to say; a verdict for one of the rule's reasons; a read to be measured. */
struct fit_verdict fit_silent(void);
struct fit_verdict fit_say(enum fit_kind kind, unsigned reason);
struct fit_verdict fit_ask(unsigned read, unsigned reason);
/* Adds a fact; the n-th added is {n} of the reason's sentence, counted from 0. At most FIT_FACTS_MAX. */
void fit_add_number(struct fit_verdict *v, double number, int decimals, const char *unit);
void fit_add_word(struct fit_verdict *v, enum trade_domain domain, unsigned word);

#define FIT_REASONS_MAX 12

/* One rule. A rule about each of several places (three ring slots, two levers) is registered once for each place, with
 * the same id, judge and reasons. */
struct fit_rule {
    const char *id; /* words, such as "stay-clearance": it means the same for ever */
    struct fit_read reads[FIT_READS_MAX];
    uint8_t n_reads;
    uint8_t variant;                      /* which of several registrations of the same id; else 0 */
    bool safety;                          /* a clash or drawback here can't be overruled */
    bool as_it_stands;                    /* true: judged even where every slot that it reads stays as it is. False for
                                                 most: what stands on the bike together works together */
    const char *reasons[FIT_REASONS_MAX]; /* codes "rule.reason" of data/messages.csv; NULL behind the last */
    struct fit_verdict (*judge)(const struct fit_values *v); /* pure */
    const char *source; /* published source or standard behind it, or "common practice" */
};

/* Every rule there is, in the order in which findings are told. */
extern const struct fit_rule *const fit_rules[];
extern const size_t fit_rules_n;

/* The first rule of this id, or NULL. */
const struct fit_rule *fit_find_rule(const char *id);

/* Does a rule or a sum look at this property of this subject (a slot, FIT_BIKE, FIT_FRAME, FIT_WHEEL), of the build or of the
 * bike as it stands? What nobody reads need not be told. */
bool fit_is_read(unsigned subject, unsigned property);

/* Sums over slots, 0.001 mm inside. */
enum fit_measure_id {
    FIT_OUTER_PLANE = 0, /* tooth plane of the ring in the outer place, from the bike's centre plane */
    FIT_MIDDLE_PLANE,
    FIT_INNER_PLANE,
    FIT_REAR_MIDDLE,  /* middle of the cassette, from the centre plane */
    FIT_REAR_OUTER,   /* outer face of the smallest sprocket, from the centre plane */
    FIT_REAR_LARGEST, /* plane of the largest sprocket */
    FIT_MEASURES
};

#define FIT_TERM_READS_MAX 10

/* A partial sum. Where a length of the bike is not known but cancels (the spindle of a bracket that stays under a crank
 * that stays), each term carries how often it holds that length, each length counted in a unit of its own; the sum is
 * known when these add up to zero. A length that is only assumed, or from a table, is in mm and counted in the same way:
 * where it cancels it does not weaken the sum. */
struct fit_sum {
    double mm;
    int unknown;           /* times the unknown lengths of this measure */
    int assumed, table;    /* times the assumed ones, and those from a table */
    enum base_known known; /* weakest other value used; BASE_OPEN when a term can't be told at all */
};

/* What one slot adds to a measure. The part's own values only, and fixed facts of the bike (FIT_FRAME, FIT_NOW ...). */
struct fit_term {
    uint8_t slot;
    struct fit_read reads[FIT_TERM_READS_MAX];
    uint8_t n_reads;
    struct fit_sum (*term)(const struct fit_values *v); /* not called for an empty slot */
};
#define FIT_ASKS_MAX 7

struct fit_measure {
    const char *id;
    const struct fit_term *terms;
    size_t n_terms;
    struct fit_read
        asks[FIT_ASKS_MAX]; /* lengths of the bike (FIT_FRAME, FIT_NOW) that may leave it open, in the order in
                                           which they are asked for; FIT_VALUE behind the last */
};
extern const struct fit_measure fit_measures[FIT_MEASURES];

#endif
