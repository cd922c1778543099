/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Dynamic programming over the sets of operations that may be done first (the lower sets of the precedence), each with how
 * the bike stands, where the hands are and which tools they hold: what the rest costs depends on nothing else.
 *
 * One cut keeps it small: an operation that is free (it needs no turn, no move, no other tools, and leaves none behind) is
 * done at once. Taking it out of where it stood costs nothing, since all three costs keep the triangle's inequality, and
 * here it adds nothing; so some best order does it now.
 */
#include "work/order.h"

#include <string.h>

#define NOWHERE 255 /* no position or place yet */
#define NO_TOOLS 255

/* Turns, moves and tools in one number, so that they compare in this order and add up. */
#define TURN (UINT64_C(1) << 40)
#define MOVE (UINT64_C(1) << 20)
#define TOOL UINT64_C(1)
#define COST_MASK (MOVE - 1)

/* How the bike and the mechanic stand. tools: the operation, in the phases' order, whose tools are in hand. */
struct stand {
    uint8_t position, place, tools;
};

struct state {
    uint64_t done; /* of its phase, a bit each */
    uint8_t phase;
    struct stand at;
};

struct known {
    struct state state;
    bool used;
    uint64_t cost; /* of all that is left */
};

struct phase {
    size_t first, n; /* in the list */
    uint64_t all;
};

struct search {
    struct base_arena arena;
    const struct trade_bench_row *rows[TRADE_BENCHES]; /* by phase, in the order of the table */
    enum trade_bench at[TRADE_BENCHES];
    uint64_t before[TRADE_BENCHES]; /* within its phase */
    uint8_t same_tools[TRADE_BENCHES];
    struct phase phases[TRADE_BENCH_PHASE_COUNT];
    size_t n_phases;
    struct known *known;
    size_t n_known, room, limit;
    enum base_status status;
};

/* --- what a step costs --------------------------------------------------------------------------------------------- */

static unsigned count_bits(uint64_t bits) {
    unsigned n = 0;
    for (; bits != 0; bits &= bits - 1) {
        n++;
    }
    return n;
}

static uint64_t step_cost(const struct trade_bench_row *row, uint64_t held, struct stand from) {
    bool turns =
        row->position != TRADE_BENCH_POSITION_ANY && from.position != NOWHERE && from.position != row->position;
    bool moves = from.place != NOWHERE && from.place != row->place;
    return (turns ? TURN : 0) + (moves ? MOVE : 0) + count_bits(row->tools & ~held) * TOOL;
}

static uint64_t held(const struct search *s, struct stand at) {
    return at.tools == NO_TOOLS ? 0 : s->rows[at.tools]->tools;
}

static struct stand stand_after(const struct search *s, size_t i, struct stand from) {
    const struct trade_bench_row *row = s->rows[i];
    return (struct stand){row->position == TRADE_BENCH_POSITION_ANY ? from.position : (uint8_t)row->position,
                          (uint8_t)row->place, row->tools == 0 ? from.tools : s->same_tools[i]};
}

/* Does it leave everything as it is, at no cost? */
static bool is_free(const struct search *s, size_t i, struct stand at) {
    struct stand after = stand_after(s, i, at);
    return step_cost(s->rows[i], held(s, at), at) == 0 && after.position == at.position && after.place == at.place &&
           after.tools == at.tools;
}

/* --- states -------------------------------------------------------------------------------------------------------- */

static bool can_follow(const struct search *s, const struct state *state, size_t k) {
    const struct phase *phase = &s->phases[state->phase];
    return (state->done >> k & 1) == 0 && (s->before[phase->first + k] & ~state->done) == 0;
}

/* Behind the k-th operation of its phase; at the end of a phase, the beginning of the next. */
static struct state after(const struct search *s, const struct state *state, size_t k) {
    const struct phase *phase = &s->phases[state->phase];
    struct state next = {state->done | UINT64_C(1) << k, state->phase, stand_after(s, phase->first + k, state->at)};
    while (next.phase < s->n_phases && next.done == s->phases[next.phase].all) {
        next.done = 0;
        next.phase++;
    }
    return next;
}

static bool same_state(const struct state *a, const struct state *b) {
    return a->done == b->done && a->phase == b->phase && a->at.position == b->at.position &&
           a->at.place == b->at.place && a->at.tools == b->at.tools;
}

static struct known *find(struct known *table, size_t room, const struct state *state) {
    uint64_t key = state->done ^ (uint64_t)state->phase << 56 ^ (uint64_t)state->at.position << 48 ^
                   (uint64_t)state->at.place << 40 ^ (uint64_t)state->at.tools << 32;
    key *= UINT64_C(0x9E3779B97F4A7C15); /* Knuth's multiplicative hashing */
    size_t i = (size_t)(key >> 20) & (room - 1);
    while (table[i].used && !same_state(&table[i].state, state)) {
        i = (i + 1) & (room - 1);
    }
    return &table[i];
}

/* Twice the room once it is half full. */
static bool make_room(struct search *s) {
    if (s->n_known * 2 < s->room) {
        return true;
    }
    size_t room = s->room == 0 ? 1024 : s->room * 2;
    struct known *table = base_arena_alloc(&s->arena, room, sizeof *table);
    if (!table) {
        s->status = BASE_NO_MEMORY;
        return false;
    }
    for (size_t i = 0; i < s->room; i++) {
        if (s->known[i].used) {
            *find(table, room, &s->known[i].state) = s->known[i];
        }
    }
    base_arena_release(&s->arena, s->known);
    s->known = table;
    s->room = room;
    return true;
}

static void remember(struct search *s, const struct state *state, uint64_t cost) {
    if (s->status != BASE_OK || !make_room(s)) {
        return;
    }
    if (s->n_known >= s->limit) {
        s->status = BASE_NO;
        return;
    }
    *find(s->known, s->room, state) = (struct known){*state, true, cost};
    s->n_known++;
}

/* --- the search ---------------------------------------------------------------------------------------------------- */

static uint64_t rest_cost(struct search *s, const struct state *state);

static uint64_t cost_with(struct search *s, const struct state *state, size_t k) {
    struct state next = after(s, state, k);
    size_t i = s->phases[state->phase].first + k;
    return step_cost(s->rows[i], held(s, state->at), state->at) + rest_cost(s, &next);
}

static uint64_t least_of_all(struct search *s, const struct state *state) {
    const struct phase *phase = &s->phases[state->phase];
    uint64_t least = UINT64_MAX;
    for (size_t k = 0; k < phase->n; k++) {
        if (can_follow(s, state, k) && is_free(s, phase->first + k, state->at)) {
            return cost_with(s, state, k);
        }
    }
    for (size_t k = 0; k < phase->n && s->status == BASE_OK; k++) {
        if (can_follow(s, state, k)) {
            uint64_t cost = cost_with(s, state, k);
            least = cost < least ? cost : least;
        }
    }
    return least;
}

/* Recursion as deep as the list is long. */
static uint64_t rest_cost(struct search *s, const struct state *state) {
    if (state->phase == s->n_phases || s->status != BASE_OK) {
        return 0;
    }
    if (s->room > 0) {
        const struct known *known = find(s->known, s->room, state);
        if (known->used) {
            return known->cost;
        }
    }
    uint64_t cost = least_of_all(s, state);
    remember(s, state, cost);
    return cost;
}

/* --- setting up ---------------------------------------------------------------------------------------------------- */

bool work_before(enum trade_bench a, enum trade_bench b) {
    const struct trade_bench_row *row = &trade_bench_rows[b];
    return trade_bench_rows[a].phase < row->phase || (row->before[a / 64] >> (a % 64) & 1) != 0;
}

/* The operations of a phase, in the order of the table. */
static bool add_phase(struct search *s, const struct work_list *list, enum trade_bench_phase phase, size_t *n) {
    struct phase *p = &s->phases[s->n_phases];
    *p = (struct phase){.first = *n};
    for (unsigned b = 0; b < TRADE_BENCHES; b++) {
        for (size_t i = 0; i < list->n; i++) {
            if (list->at[i] == (enum trade_bench)b && trade_bench_rows[b].phase == phase) {
                s->at[*n] = (enum trade_bench)b;
                s->rows[(*n)++] = &trade_bench_rows[b];
            }
        }
    }
    p->n = *n - p->first;
    p->all = p->n >= WORK_PHASE_MAX ? UINT64_MAX : (UINT64_C(1) << p->n) - 1;
    s->n_phases += p->n > 0;
    return p->n <= WORK_PHASE_MAX;
}

static void link(struct search *s, const struct phase *phase) {
    for (size_t i = phase->first; i < phase->first + phase->n; i++) {
        for (size_t j = phase->first; j < phase->first + phase->n; j++) {
            s->before[i] |= j != i && work_before(s->at[j], s->at[i]) ? UINT64_C(1) << (j - phase->first) : 0;
        }
    }
}

static bool set_up(struct search *s, const struct work_list *list) {
    size_t n = 0;
    for (unsigned phase = 0; phase < TRADE_BENCH_PHASE_COUNT; phase++) {
        if (!add_phase(s, list, (enum trade_bench_phase)phase, &n)) {
            return false;
        }
    }
    for (size_t p = 0; p < s->n_phases; p++) {
        link(s, &s->phases[p]);
    }
    for (size_t i = 0; i < n; i++) {
        size_t first = 0;
        while (s->rows[first]->tools != s->rows[i]->tools) {
            first++;
        }
        s->same_tools[i] = (uint8_t)first;
    }
    return true;
}

/* At each place the first operation of the table with which the rest still costs the least. */
static void follow(struct search *s, struct work_list *out) {
    struct state state = {0, 0, {NOWHERE, NOWHERE, NO_TOOLS}};
    out->n = 0;
    while (state.phase < s->n_phases && s->status == BASE_OK) {
        uint64_t least = rest_cost(s, &state);
        size_t k = 0;
        while (s->status == BASE_OK && (!can_follow(s, &state, k) || cost_with(s, &state, k) != least)) {
            k++;
        }
        out->at[out->n++] = s->at[s->phases[state.phase].first + k];
        state = after(s, &state, k);
    }
}

enum base_status work_order(struct work_list *list, struct work_cost *cost, size_t limit_sets) {
    struct search s;
    struct work_list ordered = {.n = 0};
    memset(&s, 0, sizeof s);
    base_arena_init(&s.arena, 0);
    s.limit = limit_sets > 0 ? limit_sets : WORK_SETS_MAX;
    s.status = set_up(&s, list) ? BASE_OK : BASE_NO;
    if (s.status == BASE_OK) {
        follow(&s, &ordered);
    }
    base_arena_clear(&s.arena);
    if (s.status == BASE_OK) {
        *list = ordered;
        *cost = work_cost_of(list);
    }
    return s.status;
}

struct work_cost work_cost_of(const struct work_list *list) {
    struct stand at = {NOWHERE, NOWHERE, NO_TOOLS};
    uint64_t tools = 0, sum = 0;
    for (size_t i = 0; i < list->n; i++) {
        const struct trade_bench_row *row = &trade_bench_rows[list->at[i]];
        sum += step_cost(row, tools, at);
        at.position = row->position == TRADE_BENCH_POSITION_ANY ? at.position : (uint8_t)row->position;
        at.place = (uint8_t)row->place;
        tools = row->tools == 0 ? tools : row->tools;
    }
    return (struct work_cost){(unsigned)(sum / TURN), (unsigned)(sum / MOVE & COST_MASK), (unsigned)(sum & COST_MASK)};
}
