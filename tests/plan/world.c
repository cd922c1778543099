/* SPDX-License-Identifier: Apache-2.0 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "plan/world.h"

#include "fit/fit.h"
#include "plan/world_parts.h"
#include "trade/vocabulary.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* True in n of m cases. */
static bool chance(struct random_source *random, int n, int m) { return random_int(random, 1, m) <= n; }

/* --- words to values ----------------------------------------------------------------------------------------------- */

static uint64_t words_of(enum trade_domain domain, const char *text) {
    uint64_t words = 0;
    for (const char *at = text; *at;) {
        size_t n = strcspn(at, ",");
        int word = trade_find_word(domain, (struct base_slice){at, n});
        if (word < 0) {
            fail_msg("no word '%s'", text);
        }
        words |= UINT64_C(1) << word;
        at += n + (at[n] == ',');
    }
    return words;
}

static const struct trade_counts *counts_of(struct world *world, const char *text) {
    struct trade_counts *counts = base_arena_alloc(&world->arena, 1, sizeof *counts + 20 * sizeof counts->at[0]);
    assert_non_null(counts);
    for (char *at = (char *)(uintptr_t)text; *at && counts->n < 20; at += *at == ',') {
        counts->at[counts->n++] = (int16_t)strtol(at, &at, 10);
    }
    return counts;
}

static struct trade_value value_of(struct world *world, const struct trade_property_row *row, const char *text) {
    struct trade_value value = {.known = BASE_MEASURED};
    switch (row->type) {
    case TRADE_NUMBER:
    case TRADE_COUNT:
        value.number = strtod(text, NULL);
        break;
    case TRADE_WORD:
        value.word = (uint32_t)__builtin_ctzll(words_of(row->domain, text));
        break;
    case TRADE_WORDS:
        value.words = words_of(row->domain, text);
        break;
    case TRADE_COUNTS:
        value.counts = counts_of(world, text);
        break;
    default:
        value.name = trade_name(&world->names, base_slice_of(text));
        assert_non_null(value.name);
        break;
    }
    return value;
}

/* Sets the values that stand in the text. */
static void set_words(struct world *world, struct trade_part *part, const char *text) {
    char pair[128];
    for (const char *at = text; *at; at += strspn(at, " ")) {
        size_t n = strcspn(at, " ");
        snprintf(pair, sizeof pair, "%.*s", (int)n, at);
        char *equals = strchr(pair, '=');
        int property =
            equals ? trade_find_property(part->kind, (struct base_slice){pair, (size_t)(equals - pair)}) : -1;
        if (property < 0) {
            fail_msg("no property in '%s'", pair);
        }
        struct trade_value value = value_of(world, &trade_property_rows[property], equals + 1);
        trade_set(part, (enum trade_property)property, value);
        at += n;
    }
}

/* --- the bike ------------------------------------------------------------------------------------------------------ */

static struct trade_part *part_at(struct trade_bike *bike, const char *where) {
    int slot = trade_find_slot(base_slice_of(where));
    if (slot >= 0) {
        bike->fitted[slot].state = TRADE_THERE;
        return &bike->fitted[slot].part;
    }
    return strcmp(where, "bike") == 0    ? &bike->self
           : strcmp(where, "frame") == 0 ? &bike->frame
           : strcmp(where, "wheel") == 0 ? &bike->wheel
                                         : &bike->rider;
}

static void set_condition(struct trade_part *part, enum trade_condition condition) {
    int property = trade_find_property(part->kind, base_slice_of("condition"));
    assert_true(property >= 0);
    trade_set(part, (enum trade_property)property, trade_word(condition, BASE_MEASURED));
}

static void set_mass(struct trade_part *part, double mass_g) {
    int property = trade_find_property(part->kind, base_slice_of("mass_g"));
    trade_set(part, (enum trade_property)property, isnan(mass_g) ? trade_open() : trade_number(mass_g, BASE_MEASURED));
}

/* On every eighth bike nobody has looked at what shifts the rings. */
static bool shifts_unread(const struct world *world, int slot) {
    return world->seed % 8 == 5 && slot >= 0 && trade_slot_rows[slot].absent == TRADE_ABSENT_SEVERAL_RINGS;
}

/* What the words name is there, but for a part now and then that nobody has looked at; the rest is known to be empty, or
 * nobody has looked. */
static void fill_slots(struct world *world, struct random_source *random, const struct in_words *words, size_t n) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        const struct trade_slot_row *row = &trade_slot_rows[s];
        bool open = (row->absent == TRADE_ABSENT_THERE && !row->may_be_none) || chance(random, 1, 4) ||
                    shifts_unread(world, (int)s);
        world->bike.fitted[s].state = open ? TRADE_NOT_LOOKED_AT : TRADE_EMPTY;
    }
    for (size_t i = 0; i < n; i++) {
        int slot = trade_find_slot(base_slice_of(words[i].where));
        bool named = slot < 0 || trade_slot_rows[slot].absent != TRADE_ABSENT_THERE || chance(random, 19, 20);
        if (named && !shifts_unread(world, slot)) {
            set_words(world, part_at(&world->bike, words[i].where), words[i].text);
        }
    }
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (world->bike.fitted[s].state == TRADE_THERE) {
            const double masses[] = {100, 150, 200, NAN};
            set_mass(&world->bike.fitted[s].part, masses[random_int(random, 0, 3)]);
            set_condition(&world->bike.fitted[s].part, TRADE_CONDITION_SERVICEABLE);
        }
    }
}

/* A property of the bike that some rule about a free slot reads; more often one with usual values, so that it makes
 * cases. */
static struct trade_value *some_value(struct world *world, struct random_source *random) {
    bool usual = chance(random, 2, 3);
    for (;;) {
        const struct fit_rule *rule = fit_rules[random_int(random, 0, (int)fit_rules_n - 1)];
        const struct fit_read *read = &rule->reads[random_int(random, 0, rule->n_reads - 1)];
        bool now = read->subject >= FIT_NOW && read->subject < FIT_MEASURE;
        unsigned subject = now ? read->subject - FIT_NOW : read->subject;
        if (read->property >= TRADE_PROPERTIES || subject >= FIT_MEASURE ||
            !(fit_rule_slots(rule) & world->free_slots) ||
            (usual && (trade_property_rows[read->property].n_usual < 2 || (read->flags & FIT_OPTIONAL)))) {
            continue;
        }
        struct trade_part *part = subject == FIT_BIKE    ? &world->bike.self
                                  : subject == FIT_FRAME ? &world->bike.frame
                                  : subject == FIT_WHEEL ? &world->bike.wheel
                                                         : &world->bike.fitted[subject].part;
        if (subject >= TRADE_SLOTS || trade_bike_has(&world->bike, subject)) {
            return &part->values[read->property - trade_kind_rows[part->kind].first];
        }
    }
}

/* Before the tables fill in what follows: nobody has measured it. Behind them: it can't be told at all. Now and then it is
 * only taken for so. */
static void take_away(struct world *world, struct random_source *random, int most) {
    for (int n = random_int(random, 0, most); n > 0; n--) {
        struct trade_value *value = some_value(world, random);
        if (!trade_is_open(value) && chance(random, 1, 3)) {
            value->known = BASE_ASSUMED;
        } else {
            *value = trade_open();
        }
    }
}

/* Somebody wrote half of it down from memory. */
static void doubt(struct world *world, struct random_source *random) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        struct trade_part *part = &world->bike.fitted[s].part;
        for (size_t i = 0; i < trade_kind_rows[part->kind].n; i++) {
            if (!trade_is_open(&part->values[i]) && chance(random, 1, 2)) {
                part->values[i].known = BASE_ASSUMED;
            }
        }
    }
}

/* Moves what is known of some properties in a row. */
static void move(struct trade_part *part, unsigned first, unsigned n, double mm) {
    for (unsigned property = first; property < first + n; property++) {
        const struct trade_value *value = trade_get(part, (enum trade_property)property);
        if (!trade_is_open(value)) {
            trade_set(part, (enum trade_property)property, trade_number(value->number + mm, value->known));
        }
    }
}

/* The chain stay comes so close to a place for rings that a few millimetres decide. */
static void narrow(struct world *world, struct random_source *random) {
    const struct trade_part *crank = &world->bike.fitted[TRADE_SLOT_CRANK].part;
    const struct trade_value *face = trade_get(&world->bike.frame, TRADE_FRAME_STAY_70_MM);
    unsigned place = TRADE_CRANK_OUTER_PLANE_MM + (unsigned)random_int(random, 0, 2);
    if (trade_bike_has(&world->bike, TRADE_SLOT_CRANK) && !trade_is_open(face) &&
        !trade_is_open(trade_get(crank, (enum trade_property)place))) {
        double clear_mm = trade_get_number(crank, (enum trade_property)place) - face->number;
        move(&world->bike.frame, TRADE_FRAME_STAY_60_MM, 4, clear_mm - 4 + random_int(random, -4, 4));
    }
}

static void make_bike(struct world *world, struct random_source *random) {
    static const struct {
        const struct in_words *words;
        size_t n;
    } bikes[] = {{bike_a, sizeof bike_a / sizeof *bike_a},
                 {bike_b, sizeof bike_b / sizeof *bike_b},
                 {bike_c, sizeof bike_c / sizeof *bike_c},
                 {bike_d, sizeof bike_d / sizeof *bike_d}};
    size_t which = world->seed % 4;
    assert_int_equal(trade_bike_init(&world->bike), BASE_OK);
    world->bike.label = "bike";
    fill_slots(world, random, bikes[which].words, bikes[which].n);
    if (chance(random, 1, 3)) {
        narrow(world, random);
    }
    if (chance(random, 1, 2)) {
        take_away(world, random, 4);
    }
    assert_int_equal(trade_bike_complete(&world->bike), BASE_OK);
    if (chance(random, 1, 2)) {
        take_away(world, random, 3);
    }
    if (chance(random, 1, 6)) {
        doubt(world, random);
    }
}

/* --- what is free, and what may go there --------------------------------------------------------------------------- */

#define SLOT(NAME) (1u << TRADE_SLOT_##NAME)
#define RINGS (SLOT(OUTER_RING) | SLOT(MIDDLE_RING) | SLOT(INNER_RING))

/* Slots that change together on a stand. */
static const uint32_t groups[] = {
    RINGS | SLOT(FRONT_DERAILLEUR) | SLOT(LEFT_SHIFTER),
    RINGS | SLOT(FRONT_DERAILLEUR) | SLOT(LEFT_SHIFTER) | SLOT(CHAIN_GUIDE) | SLOT(CASSETTE),
    RINGS | SLOT(FRONT_DERAILLEUR) | SLOT(LEFT_SHIFTER) | SLOT(CUP_SPACERS) | SLOT(CRANK),
    SLOT(CASSETTE) | SLOT(CHAIN) | SLOT(REAR_DERAILLEUR) | SLOT(CABLES),
    SLOT(CASSETTE) | SLOT(RIGHT_SHIFTER) | SLOT(REAR_DERAILLEUR) | SLOT(CABLES) | SLOT(CHAIN),
    SLOT(CRANK) | SLOT(BOTTOM_BRACKET) | SLOT(CUP_SPACERS) | SLOT(OUTER_RING),
    SLOT(CRANK) | SLOT(BOTTOM_BRACKET) | SLOT(RING_WASHERS) | SLOT(OUTER_RING),
    SLOT(REAR_WHEEL) | SLOT(FREEHUB_BODY) | SLOT(CASSETTE) | SLOT(REAR_ROTOR) | SLOT(CASSETTE_SPACER),
    SLOT(HANGER) | SLOT(HANGER_EXTENDER) | SLOT(REAR_DERAILLEUR) | SLOT(CABLES),
    SLOT(RIGHT_SHIFTER) | SLOT(RIGHT_BRAKE_LEVER) | SLOT(CABLES),
    SLOT(LEFT_SHIFTER) | SLOT(LEFT_BRAKE_LEVER) | SLOT(FRONT_DERAILLEUR),
    SLOT(OUTER_RING) | SLOT(RING_WASHERS) | SLOT(CHAIN),
    SLOT(CASSETTE_SPACER) | SLOT(FREEHUB_BODY) | SLOT(CASSETTE) | SLOT(CHAIN),
};

static uint32_t some_slots(struct random_source *random) {
    uint32_t slots = groups[random_int(random, 0, (int)(sizeof groups / sizeof *groups) - 1)];
    if (chance(random, 1, 2)) {
        slots |= groups[random_int(random, 0, (int)(sizeof groups / sizeof *groups) - 1)];
    }
    if (chance(random, 1, 2)) {
        slots |= 1u << random_int(random, 0, TRADE_SLOTS - 1);
    }
    return slots;
}

static struct trade_part *room_for(struct world *world, enum trade_kind kind) {
    struct trade_catalogue *catalogue = &world->catalogue;
    size_t n = catalogue->n[kind];
    struct trade_part *parts = base_arena_alloc(&catalogue->arena, n + 1, sizeof *parts);
    assert_non_null(parts);
    if (n > 0) {
        memcpy(parts, catalogue->parts[kind], n * sizeof *parts);
    }
    catalogue->parts[kind] = parts;
    catalogue->n[kind]++;
    catalogue->n_all++;
    return parts;
}

/* Puts the part that is behind the others where its id belongs. */
static struct trade_part *settle(struct world *world, enum trade_kind kind, struct trade_part part) {
    struct trade_part *parts = room_for(world, kind);
    size_t at = world->catalogue.n[kind] - 1;
    for (; at > 0 && strcmp(parts[at - 1].id, part.id) > 0; at--) {
        parts[at] = parts[at - 1];
    }
    parts[at] = part;
    return &parts[at];
}

struct trade_part *world_add(struct world *world, const struct trade_part *like, const char *id) {
    struct trade_part part = *like;
    size_t n = trade_kind_rows[like->kind].n;
    part.values = base_arena_alloc(&world->catalogue.arena, n, sizeof *part.values);
    part.id = base_arena_copy(&world->catalogue.arena, id, strlen(id));
    assert_non_null(part.values);
    assert_non_null(part.id);
    memcpy(part.values, like->values, n * sizeof *part.values);
    return settle(world, like->kind, part);
}

void world_drop(struct world *world, enum trade_kind kind, size_t index) {
    struct trade_catalogue *catalogue = &world->catalogue;
    memmove(&catalogue->parts[kind][index], &catalogue->parts[kind][index + 1],
            (catalogue->n[kind] - index - 1) * sizeof *catalogue->parts[kind]);
    catalogue->n[kind]--;
    catalogue->n_all--;
}

/* A pool part of this kind, more often one that is meant for the bike; NULL when the pool has none. */
static const struct in_words *some_words(struct random_source *random, enum trade_kind kind, char bike) {
    const struct in_words *found = NULL;
    int n = 0;
    bool meant = chance(random, 15, 16);
    for (size_t i = 0; i < sizeof pool / sizeof *pool; i++) {
        bool counts = !meant || strchr(pool[i].bikes, bike);
        if (trade_find_kind(base_slice_of(pool[i].where)) == (int)kind && counts && chance(random, 1, ++n)) {
            found = &pool[i];
        }
    }
    return found;
}

/* Ids whose order by bytes is not the order in which they come: capitals before small letters, '-' before digits. */
static void some_id(char *out, size_t room, struct random_source *random, size_t n) {
    static const char *const starts[] = {"b", "B", "a", "a-", "a1", "ab", "Z", "z", "10-", "9-"};
    snprintf(out, room, "%s%zu", starts[random_int(random, 0, 9)], n);
}

/* Changes what decides the gears, so that results differ. */
static void vary_teeth(struct world *world, struct random_source *random, struct trade_part *part) {
    int more = 2 * random_int(random, -2, 2);
    if (part->kind == TRADE_KIND_RING && !trade_is_open(trade_get(part, TRADE_RING_TEETH))) {
        trade_set(part, TRADE_RING_TEETH, trade_number(trade_get_number(part, TRADE_RING_TEETH) + more, BASE_MEASURED));
    }
    const struct trade_value *list =
        part->kind == TRADE_KIND_CASSETTE ? trade_get(part, TRADE_CASSETTE_SPROCKETS) : NULL;
    if (list && !trade_is_open(list)) {
        size_t bytes = sizeof *list->counts + list->counts->n * sizeof list->counts->at[0];
        struct trade_counts *counts = base_arena_alloc(&world->arena, 1, bytes);
        assert_non_null(counts);
        memcpy(counts, list->counts, bytes);
        counts->at[counts->n - 1] = (int16_t)(counts->at[counts->n - 1] + (more > 0 ? more : -more));
        trade_set(part, TRADE_CASSETTE_SPROCKETS, (struct trade_value){.counts = counts, .known = BASE_MEASURED});
    }
}

/* Changes where it lies, so that what is further in or out competes. */
static void vary_plane(struct random_source *random, struct trade_part *part) {
    double mm = random_int(random, -4, 4);
    switch (part->kind) {
    case TRADE_KIND_CRANK:
        move(part, TRADE_CRANK_LINE_MM, 1, mm);
        move(part, TRADE_CRANK_OUTER_PLANE_MM, 3, mm);
        break;
    case TRADE_KIND_BOTTOM_BRACKET:
        move(part, TRADE_BOTTOM_BRACKET_SPINDLE_MM, 1, 2 * mm);
        break;
    case TRADE_KIND_RING:
        move(part, TRADE_RING_OFFSET_MM, 1, mm / 2);
        break;
    case TRADE_KIND_CASSETTE:
        move(part, TRADE_CASSETTE_OVERHANG_MM, 1, mm / 2);
        break;
    default:
        break;
    }
}

/* Like one that is there, at its price or another. */
static void add_twin(struct world *world, struct random_source *random, enum trade_kind kind, const char *id) {
    const struct trade_part *parts = world->catalogue.parts[kind];
    struct trade_part *twin = world_add(world, &parts[random_int(random, 0, (int)world->catalogue.n[kind] - 1)], id);
    if (chance(random, 1, 2)) {
        twin->price_minor = 500 * random_int(random, 0, 4);
    }
    if (chance(random, 1, 2)) {
        vary_teeth(world, random, twin);
    }
    if (chance(random, 1, 2)) {
        vary_plane(random, twin);
    }
}

static void add_part(struct world *world, struct random_source *random, enum trade_kind kind) {
    static const int64_t prices[] = {500, 1000, 1500, 2000};
    const double masses[] = {50, 100, 150, NAN};
    const struct in_words *words = some_words(random, kind, "abcd"[world->seed % 4]);
    struct trade_part part;
    char id[32];
    size_t n = world->catalogue.n[kind];
    some_id(id, sizeof id, random, world->catalogue.n_all);
    if (n > 0 && chance(random, 1, 2)) {
        add_twin(world, random, kind, id);
        return;
    }
    if (!words) {
        return;
    }
    assert_int_equal(trade_part_init(&part, &world->arena, kind), BASE_OK);
    set_words(world, &part, words->text);
    set_mass(&part, masses[random_int(random, 0, 9) % 4]);
    trade_part_complete(&part);
    if (chance(random, 1, 15)) {
        part.values[random_int(random, 0, (int)trade_kind_rows[kind].n - 1)] = trade_open();
    }
    part.price_minor = prices[random_int(random, 0, 3)];
    world_add(world, &part, id);
}

struct trade_part *world_grow(struct world *world, struct random_source *random) {
    const struct in_words *words = NULL;
    char id[32];
    for (int tries = 0; tries < 40 && !words; tries++) {
        unsigned s = (unsigned)random_int(random, 0, TRADE_SLOTS - 1);
        if (world->free_slots >> s & 1) {
            words = some_words(random, trade_slot_rows[s].kind, "abcd"[world->seed % 4]);
        }
    }
    if (!words) {
        return NULL;
    }
    struct trade_part part;
    assert_int_equal(
        trade_part_init(&part, &world->arena, (enum trade_kind)trade_find_kind(base_slice_of(words->where))), BASE_OK);
    set_words(world, &part, words->text);
    set_mass(&part, 50 * random_int(random, 1, 3));
    trade_part_complete(&part);
    part.price_minor = 250 * random_int(random, 0, 8);
    some_id(id, sizeof id, random, 1000 + world->catalogue.n_all);
    return world_add(world, &part, id);
}

void world_weigh(struct world *world) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        struct trade_part *part = &world->bike.fitted[s].part;
        int property = trade_find_property(part->kind, base_slice_of("mass_g"));
        if (trade_is_open(trade_get(part, (enum trade_property)property))) {
            set_mass(part, 120);
        }
    }
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        for (size_t i = 0; i < world->catalogue.n[kind]; i++) {
            struct trade_part *part = &world->catalogue.parts[kind][i];
            int property = trade_find_property(part->kind, base_slice_of("mass_g"));
            if (trade_is_open(trade_get(part, (enum trade_property)property))) {
                set_mass(part, 100);
            }
        }
    }
}

void world_lose_scales(struct world *world, struct random_source *random) {
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        enum trade_kind kind = trade_slot_rows[s].kind;
        if (!(world->free_slots >> s & 1) || chance(random, 1, 3)) {
            continue;
        }
        for (size_t i = 0; i < world->catalogue.n[kind]; i++) {
            set_mass(&world->catalogue.parts[kind][i], NAN);
        }
        if (trade_bike_has(&world->bike, s) && chance(random, 1, 2)) {
            set_mass(&world->bike.fitted[s].part, NAN);
        }
    }
}

/* --- counting ------------------------------------------------------------------------------------------------------ */

double world_builds(const struct world *world) {
    double builds = 1;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool has = trade_bike_has(&world->bike, s), keep = (world->wish.keep >> s & 1) != 0;
        size_t n = (has ? 1u : 0u) + (!has || (trade_slot_rows[s].may_be_none && !keep) ? 1u : 0u);
        for (size_t i = 0; !keep && i < world->catalogue.n[trade_slot_rows[s].kind]; i++) {
            enum trade_property property;
            unsigned word;
            const struct trade_part *part = &world->catalogue.parts[trade_slot_rows[s].kind][i];
            int of_part = trade_slot_wants(s, &property, &word) ? trade_get_word(part, property) : 0;
            n += !trade_slot_wants(s, &property, &word) || of_part == (int)word ||
                 (property != TRADE_SPACER_PLACE && of_part == TRADE_SIDE_EITHER);
        }
        builds *= (double)n;
    }
    return builds;
}

/* Parts for the free slots, one more for each in turn, as long as there are not too many builds. */
static void make_catalogue(struct world *world, struct random_source *random, double most_builds) {
    trade_catalogue_init(&world->catalogue);
    for (int round = random_int(random, 1, 5); round > 0; round--) {
        for (unsigned s = 0; s < TRADE_SLOTS; s++) {
            if ((world->free_slots >> s & 1) && chance(random, 4, 5)) {
                add_part(world, random, trade_slot_rows[s].kind);
            }
        }
    }
    while (world_builds(world) > most_builds && world->catalogue.n_all > 0) {
        enum trade_kind kind = (enum trade_kind)random_int(random, 0, TRADE_KINDS - 1);
        if (world->catalogue.n[kind] > 0) {
            world_drop(world, kind, (size_t)random_int(random, 0, (int)world->catalogue.n[kind] - 1));
        }
    }
}

/* --- conditions, overruled findings, shop, wish -------------------------------------------------------------------- */

static void disturb_conditions(struct world *world, struct random_source *random) {
    static const enum trade_condition conditions[] = {TRADE_CONDITION_WORN, TRADE_CONDITION_DAMAGED,
                                                      TRADE_CONDITION_AS_NEW, TRADE_CONDITION_NOT_LOOKED_AT};
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        int worst = world->free_slots >> s & 1 ? 0 : 2; /* what is kept stays in a state in which it may */
        if (world->bike.fitted[s].state == TRADE_THERE && chance(random, 1, 16)) {
            set_condition(&world->bike.fitted[s].part, conditions[random_int(random, worst, 3)]);
        }
    }
}

/* Something that the shop has parts for can't stay, so that leaving all as it is is no way. */
static void wear_out(struct world *world, struct random_source *random) {
    uint32_t left = world->free_slots;
    for (int tries = random_int(random, 0, 6); tries > 0; tries--) {
        unsigned s = (unsigned)random_int(random, 0, TRADE_SLOTS - 1);
        if ((left >> s & 1) && world->bike.fitted[s].state == TRADE_THERE &&
            world->catalogue.n[trade_slot_rows[s].kind] > 1) {
            set_condition(&world->bike.fitted[s].part, TRADE_CONDITION_SEIZED);
            left = 0;
        }
    }
}

/* Of a rule's slots any, or none by name; or those that the wish keeps, so that it holds whatever is new. */
static uint32_t named_slots(const struct world *world, const struct fit_rule *rule, size_t number, bool any) {
    struct random_source own = {world->seed * 1000 + number};
    uint32_t of_rule = fit_rule_slots(rule), kept = of_rule & ~world->free_slots;
    return any || kept == 0 ? (uint32_t)random_int(&own, 0, (1 << TRADE_SLOTS) - 1) & of_rule : kept;
}

/* A few findings overruled; or by somebody who has built everything, most of them, so that many builds stand. */
static void overrule(struct world *world, struct random_source *random) {
    size_t n = chance(random, 1, 3) ? (size_t)random_int(random, 1, 6) : 0;
    bool bold = chance(random, 1, 4);
    n = bold ? fit_rules_n : n;
    world->bike.overruled = base_arena_alloc(&world->arena, n, sizeof *world->bike.overruled);
    assert_non_null(world->bike.overruled);
    for (size_t i = 0; i < n; i++) {
        const struct fit_rule *rule = fit_rules[bold ? i : (size_t)random_int(random, 0, (int)fit_rules_n - 1)];
        bool any = rule->reads[0].subject < TRADE_SLOTS && chance(random, 1, 3);
        uint32_t slots = named_slots(world, rule, i, any);
        if (!bold || chance(random, 2, 3)) {
            world->bike.overruled[world->bike.n_overruled++] =
                (struct trade_overruled){rule->id, slots, "somebody", "seen it work"};
        }
    }
}

static void make_shop(struct world *world, struct random_source *random) {
    static const int64_t rates[] = {0, 1200, 3000, 6000};
    trade_shop_init(&world->shop);
    world->shop.rate_minor = rates[random_int(random, 0, 3)];
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        static const double minutes[] = {0, 2.25, 5, 10};
        if (chance(random, 1, 3)) {
            world->shop.minutes[o] = minutes[random_int(random, 0, 3)];
        }
    }
    trade_shop_settle(&world->shop);
}

static uint32_t some_objectives(struct random_source *random) {
    static const uint32_t common = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_HIGHEST;
    uint32_t any = (uint32_t)random_int(random, 1, (1 << TRADE_OBJECTIVES) - 1);
    switch (random_int(random, 0, 5)) {
    case 0:
        return common;
    case 1:
        return common | 1u << (chance(random, 1, 2) ? TRADE_LINE_ERROR : TRADE_MASS);
    case 2:
        return chance(random, 1, 2) ? any | common : 1u << random_int(random, 0, TRADE_OBJECTIVES - 1);
    case 3:
        return any | 1u << TRADE_COST;
    case 4:
        return (any & (uint32_t)random_int(random, 0, (1 << TRADE_OBJECTIVES) - 1)) | 1u << TRADE_COST;
    default:
        return any;
    }
}

static void make_bounds(struct trade_wish *wish, struct random_source *random) {
    if (chance(random, 1, 8)) {
        wish->lowest_m_max = random_int(random, 15, 40) / 10.0;
    }
    if (chance(random, 1, 8)) {
        wish->highest_m_min = random_int(random, 50, 80) / 10.0;
    }
    if (chance(random, 1, 4)) {
        wish->highest_m_cap = chance(random, 1, 4) ? INFINITY : random_int(random, 50, 85) / 10.0;
    }
    if (chance(random, 1, 6)) {
        wish->budget_minor = 500 * random_int(random, 0, 40);
    }
    if (chance(random, 1, 10)) {
        wish->sprockets = (uint32_t)random_int(random, 1, 7) << 8 | (uint32_t)random_int(random, 0, 1) << 7;
    }
}

static void make_wish(struct world *world, struct random_source *random) {
    struct trade_wish *wish = &world->wish;
    trade_wish_init(wish);
    wish->given = chance(random, 19, 20);
    unsigned rings = trade_bike_rings(&world->bike);
    int kind = random_int(random, 0, 9);
    wish->rings = kind < 5 ? rings : kind < 7 ? 1 : kind < 9 ? 0 : (unsigned)random_int(random, 1, 3);
    wish->objectives = some_objectives(random);
    make_bounds(wish, random);
    wish->keep = ~world->free_slots & ((1u << TRADE_SLOTS) - 1);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (chance(random, 1, 12)) {
            wish->keep &= ~(1u << s);
        }
    }
}

/* --- a road -------------------------------------------------------------------------------------------------------- */

#define ROAD_CELLS 60

/* Some worlds have a road: up, down and level, at speeds for which some gears are too high and others too low, or spaced too
 * widely. Drawn by itself, so that it changes nothing else of the world. */
static void make_road(struct world *world) {
    struct random_source random = {world->seed * 31 + 7};
    struct ride_cell cells[ROAD_CELLS];
    struct ride_moment moments[ROAD_CELLS];
    struct ride_run run = {.moments = moments};
    const struct ride_habits habits = {
        .flat = {70, 80, BASE_MEASURED}, .climb = {60, 75, BASE_MEASURED}, .least_rpm = 45, .climb_gradient = 0.03};
    if (chance(&random, 1, 6)) {
        return;
    }
    for (size_t i = 0; i < ROAD_CELLS; i++) {
        bool climbs = chance(&random, 1, 2), coasts = chance(&random, 1, 8);
        float speed_mps = (float)random_int(&random, climbs ? 8 : 30, climbs ? 60 : 140) / 10.0F;
        float time_s = (float)random_int(&random, 5, 40);
        cells[i] = (struct ride_cell){(double)speed_mps * time_s, climbs ? 0.06 : 0.0};
        moments[i] = (struct ride_moment){
            .speed_mps = speed_mps, .time_s = time_s, .mode = coasts ? RIDE_MODE_COASTING : RIDE_MODE_IN_BAND};
        run.mode_s[RIDE_MODE_COASTING] += coasts ? time_s : 0;
    }
    assert_int_equal(ride_speeds_new(&world->speeds, &run, &habits, cells, ROAD_CELLS), BASE_OK);
}

/* --- whole --------------------------------------------------------------------------------------------------------- */

static void init(struct world *out, uint64_t seed) {
    memset(out, 0, sizeof *out);
    out->seed = seed;
    base_arena_init(&out->arena, 0);
    trade_names_init(&out->names);
}

void world_make(struct world *out, uint64_t seed, double most_builds) {
    struct random_source random = {seed};
    init(out, seed);
    out->free_slots = some_slots(&random);
    make_bike(out, &random);
    disturb_conditions(out, &random);
    overrule(out, &random);
    make_shop(out, &random);
    make_wish(out, &random);
    make_catalogue(out, &random, most_builds);
    wear_out(out, &random);
    make_road(out);
}

/* What a few millimetres decide here: the chain stay, a wide tyre, a line for which the tables have no window, so that
 * the cassette has a say; and of some bikes nobody knows where the rings lie. */
static void crowd_bike(struct world *world, struct random_source *random) {
    static const enum trade_slot gone[] = {TRADE_SLOT_MIDDLE_RING, TRADE_SLOT_INNER_RING, TRADE_SLOT_FRONT_DERAILLEUR,
                                           TRADE_SLOT_LEFT_SHIFTER};
    struct trade_bike *bike = &world->bike;
    make_bike(world, random);
    for (size_t i = 0; i < sizeof gone / sizeof *gone; i++) {
        bike->fitted[gone[i]].state = TRADE_EMPTY;
    }
    narrow(world, random);
    if (chance(random, 1, 2)) {
        trade_set(&bike->wheel, TRADE_WHEEL_TYRE_WIDTH_MM, trade_number(random_int(random, 50, 80), BASE_MEASURED));
    }
    if (chance(random, 1, 2)) {
        trade_set(&bike->frame, TRADE_FRAME_HUB_WIDTH_MM, trade_number(133, BASE_MEASURED));
    }
    if (chance(random, 1, 3)) {
        for (unsigned i = 0; i < 3; i++) {
            trade_set(&bike->fitted[TRADE_SLOT_CRANK].part, (enum trade_property)(TRADE_CRANK_OUTER_PLANE_MM + i),
                      trade_open());
        }
    }
}

void world_make_crowded(struct world *out, uint64_t seed, double most_builds) {
    static const enum trade_kind kinds[] = {TRADE_KIND_CRANK, TRADE_KIND_BOTTOM_BRACKET, TRADE_KIND_RING,
                                            TRADE_KIND_CASSETTE};
    struct random_source random = {seed};
    init(out, seed);
    out->free_slots =
        SLOT(CRANK) | SLOT(BOTTOM_BRACKET) | SLOT(CUP_SPACERS) | SLOT(RING_WASHERS) | SLOT(OUTER_RING) | SLOT(CASSETTE);
    crowd_bike(out, &random);
    make_shop(out, &random);
    make_wish(out, &random);
    out->wish.rings = 1;
    if (chance(&random, 1, 2)) {
        out->wish.objectives = 1u << TRADE_COST | 1u << TRADE_LOWEST | 1u << TRADE_LINE_ERROR;
    }
    out->wish.keep = ~out->free_slots & ((1u << TRADE_SLOTS) - 1);
    trade_catalogue_init(&out->catalogue);
    for (int tries = 0; tries < 400 && world_builds(out) < most_builds / 2; tries++) {
        add_part(out, &random, tries % 16 ? kinds[random_int(&random, 0, 3)] : TRADE_KIND_SPACER);
    }
    make_road(out);
}

void world_clear(struct world *world) {
    ride_speeds_free(world->speeds);
    trade_bike_clear(&world->bike);
    trade_catalogue_clear(&world->catalogue);
    trade_names_clear(&world->names);
    base_arena_clear(&world->arena);
}

struct plan_question world_question(const struct world *world) {
    return (struct plan_question){.bike = &world->bike,
                                  .wish = &world->wish,
                                  .shop = &world->shop,
                                  .catalogue = &world->catalogue,
                                  .speeds = world->speeds};
}

/* --- in words ------------------------------------------------------------------------------------------------------ */

static void tell_value(const struct trade_property_row *row, const struct trade_value *value) {
    print_error(" %s=", row->name);
    switch (row->type) {
    case TRADE_NUMBER:
    case TRADE_COUNT:
        print_error("%g", value->number);
        break;
    case TRADE_WORD:
        print_error("%s", trade_word_name(row->domain, value->word));
        break;
    case TRADE_WORDS:
        for (unsigned i = 0; i < trade_domain_rows[row->domain].n; i++) {
            print_error("%s", value->words >> i & 1 ? trade_word_name(row->domain, i) : "");
            print_error("%s", value->words >> i & 1 ? "," : "");
        }
        break;
    case TRADE_COUNTS:
        for (size_t i = 0; i < value->counts->n; i++) {
            print_error("%d,", value->counts->at[i]);
        }
        break;
    default:
        print_error("%s", value->name);
        break;
    }
    print_error("%s", value->known == BASE_ASSUMED ? "~" : "");
}

static void tell_part(const char *where, const struct trade_part *part) {
    const struct trade_kind_row *kind = &trade_kind_rows[part->kind];
    print_error("  %s", where);
    if (part->id) {
        print_error(" %s %ld", part->id, (long)part->price_minor);
    }
    for (size_t i = 0; i < kind->n; i++) {
        if (!trade_is_open(&part->values[i])) {
            tell_value(&trade_property_rows[kind->first + i], &part->values[i]);
        }
    }
    print_error("\n");
}

static void tell_slots(const char *what, uint32_t slots) {
    print_error("  %s:", what);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        print_error("%s%s", slots >> s & 1 ? " " : "", slots >> s & 1 ? trade_slot_rows[s].name : "");
    }
    print_error("\n");
}

static void tell_wish(const struct world *world) {
    const struct trade_wish *wish = &world->wish;
    print_error("  rings %u, sprockets %x, lowest at most %g, highest at least %g, cap %g, budget %ld, rate %ld\n  by",
                wish->rings, wish->sprockets, wish->lowest_m_max, wish->highest_m_min, wish->highest_m_cap,
                (long)wish->budget_minor, (long)world->shop.rate_minor);
    for (unsigned o = 0; o < TRADE_OBJECTIVES; o++) {
        print_error("%s%s", wish->objectives >> o & 1 ? " " : "",
                    wish->objectives >> o & 1 ? trade_objective_names[o] : "");
    }
    print_error("\n");
    tell_slots("may change", ~wish->keep & ((1u << TRADE_SLOTS) - 1));
    for (size_t i = 0; i < world->bike.n_overruled; i++) {
        print_error("  overruled: %s %x\n", world->bike.overruled[i].rule, world->bike.overruled[i].slots);
    }
}

void world_tell(const struct world *world) {
    print_error("seed %llu, %g builds\n", (unsigned long long)world->seed, world_builds(world));
    tell_wish(world);
    tell_part("bike", &world->bike.self);
    tell_part("frame", &world->bike.frame);
    tell_part("wheel", &world->bike.wheel);
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        if (trade_bike_has(&world->bike, s)) {
            tell_part(trade_slot_rows[s].name, &world->bike.fitted[s].part);
        }
    }
    for (unsigned kind = 0; kind < TRADE_KINDS; kind++) {
        for (size_t i = 0; i < world->catalogue.n[kind]; i++) {
            tell_part(trade_kind_rows[kind].name, &world->catalogue.parts[kind][i]);
        }
    }
}
