/* SPDX-License-Identifier: Apache-2.0 */
#include "work/operations.h"

#include "plan/labour.h"

#define BIT(slot) (UINT32_C(1) << (slot))

/* What is asked of a row. */
struct call {
    const struct trade_bike *bike;
    const struct fit_build *build;
    uint32_t charged, off, on; /* charged operations; slots that lose their part, that get a new one */
};

static struct call call_of(const struct trade_bike *bike, const struct fit_build *build) {
    struct call c = {.bike = bike, .build = build, .charged = work_charged(bike, build)};
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        bool had = trade_bike_has(bike, (enum trade_slot)s);
        c.off |= had && build->at[s].kind != FIT_KEEP ? BIT(s) : 0;
        c.on |= build->at[s].kind == FIT_NEW ? BIT(s) : 0;
    }
    return c;
}

/* --- facts --------------------------------------------------------------------------------------------------------- */

/* Whose fact it is; NULL where there is no such part. */
static const struct trade_part *part_of(const struct call *c, const struct trade_bench_fact *fact) {
    switch (fact->whose) {
    case TRADE_BENCH_FRAME:
        return &c->bike->frame;
    case TRADE_BENCH_OLD:
        return trade_bike_has(c->bike, (enum trade_slot)fact->slot) ? &c->bike->fitted[fact->slot].part : NULL;
    case TRADE_BENCH_NEW:
        break;
    }
    return c->build->at[fact->slot].part;
}

static bool fact_holds(const struct call *c, const struct trade_bench_fact *fact) {
    const struct trade_part *part = part_of(c, fact);
    if (!part) {
        return false;
    }
    const struct trade_value *value = trade_get(part, fact->property);
    if (trade_is_open(value)) {
        return fact->open;
    }
    return (fact->words & (fact->set ? value->words : UINT64_C(1) << value->word)) != 0;
}

/* --- conditions that no single fact can say ------------------------------------------------------------------------- */

#define RINGS (BIT(TRADE_SLOT_OUTER_RING) | BIT(TRADE_SLOT_MIDDLE_RING) | BIT(TRADE_SLOT_INNER_RING))

static bool stays(const struct call *c, enum trade_slot slot) {
    return trade_bike_has(c->bike, slot) && c->build->at[slot].kind == FIT_KEEP;
}

static uint32_t there(const struct call *c) {
    uint32_t slots = 0;
    for (unsigned s = 0; s < TRADE_SLOTS; s++) {
        slots |= c->build->at[s].kind != FIT_NONE ? BIT(s) : 0;
    }
    return slots;
}

/* Rings that leave with their crank stay on it: it is nobody's work to take them apart. */
static bool rings_come_off(const struct call *c) {
    uint32_t kept = 0;
    for (unsigned s = TRADE_SLOT_OUTER_RING; s <= TRADE_SLOT_INNER_RING; s++) {
        kept |= stays(c, (enum trade_slot)s) ? BIT(s) : 0;
    }
    bool had = (kept | (c->off & RINGS)) != 0;
    return had && (stays(c, TRADE_SLOT_CRANK) || kept != 0);
}

/* For a ring the drive-side arm alone comes off, where each arm has its own bolt. */
static bool both_arms(const struct call *c) {
    const uint32_t cups = BIT(TRADE_OPERATION_BOTTOM_BRACKET) | BIT(TRADE_OPERATION_CUP_SPACERS);
    return !stays(c, TRADE_SLOT_CRANK) || (c->charged & cups) != 0;
}

/* A part leaves its hub when the hub stays, or when it moves to another; one that goes with its wheel is left alone. */
static bool leaves_hub(const struct call *c, enum trade_slot slot) {
    bool wheel_goes = (c->off >> TRADE_SLOT_REAR_WHEEL & 1) != 0;
    return trade_bike_has(c->bike, slot) && wheel_goes == stays(c, slot);
}

/* The cassette is taken off for what lies behind it too. */
static bool cassette_leaves(const struct call *c) {
    bool wheel_stays = stays(c, TRADE_SLOT_REAR_WHEEL);
    return trade_bike_has(c->bike, TRADE_SLOT_CASSETTE) && (wheel_stays || stays(c, TRADE_SLOT_CASSETTE));
}

static bool smallest_ten(const struct call *c) {
    const struct trade_part *cassette = c->build->at[TRADE_SLOT_CASSETTE].part;
    const struct trade_value *sprockets = cassette ? trade_get(cassette, TRADE_CASSETTE_SPROCKETS) : NULL;
    return sprockets && !trade_is_open(sprockets) && sprockets->counts->n > 0 && sprockets->counts->at[0] <= 10;
}

static bool rings_are_shifted(const struct call *c) {
    uint32_t rings = there(c) & RINGS;
    return (rings & (rings - 1)) != 0 && (there(c) & BIT(TRADE_SLOT_FRONT_DERAILLEUR)) != 0;
}

static bool condition_holds(const struct call *c, enum trade_bench_if condition) {
    uint32_t built = there(c);
    switch (condition) {
    case TRADE_BENCH_IF_ALWAYS:
        return true;
    case TRADE_BENCH_IF_RINGS_COME_OFF:
        return rings_come_off(c);
    case TRADE_BENCH_IF_RINGS_GO_ON:
        return (built & RINGS) != 0;
    case TRADE_BENCH_IF_CASSETTE_LEAVES_HUB:
        return cassette_leaves(c);
    case TRADE_BENCH_IF_BODY_LEAVES_HUB:
        return leaves_hub(c, TRADE_SLOT_FREEHUB_BODY);
    case TRADE_BENCH_IF_ROTOR_LEAVES_HUB:
        return leaves_hub(c, TRADE_SLOT_REAR_ROTOR);
    case TRADE_BENCH_IF_SMALLEST_TEN:
        return smallest_ten(c);
    case TRADE_BENCH_IF_BOTH_ARMS:
        return both_arms(c);
    case TRADE_BENCH_IF_LEFT_LEVER_STAYS:
        return stays(c, TRADE_SLOT_LEFT_BRAKE_LEVER);
    case TRADE_BENCH_IF_RIGHT_LEVER_STAYS:
        return stays(c, TRADE_SLOT_RIGHT_BRAKE_LEVER);
    case TRADE_BENCH_IF_CABLE_STAYS:
        return (c->charged >> TRADE_OPERATION_REAR_CABLE & 1) == 0;
    case TRADE_BENCH_IF_FRONT_SHIFTING_STAYS:
        return rings_are_shifted(c);
    case TRADE_BENCH_IF_COUNT:
        break;
    }
    return false;
}

/* --- rows ---------------------------------------------------------------------------------------------------------- */

static enum trade_operation payer_of(const struct trade_bench_row *row, uint32_t charged) {
    for (size_t i = 0; i < sizeof row->pays / sizeof row->pays[0] && row->pays[i] >= 0; i++) {
        if ((charged >> row->pays[i] & 1) != 0) {
            return (enum trade_operation)row->pays[i];
        }
    }
    return TRADE_OPERATIONS;
}

static bool calls(const struct call *c, const struct trade_bench_row *row) {
    bool touched = (row->off | row->on) == 0 || (row->off & c->off) != 0 || (row->on & c->on) != 0;
    if (payer_of(row, c->charged) == TRADE_OPERATIONS || !touched) {
        return false;
    }
    for (size_t i = 0; i < row->n_facts; i++) {
        if (!fact_holds(c, &row->facts[i])) {
            return false;
        }
    }
    return condition_holds(c, row->when);
}

static void list(struct work_list *out, const struct trade_bike *bike, const struct fit_build *build, bool found) {
    struct call c = call_of(bike, build);
    out->n = 0;
    for (unsigned b = 0; b < TRADE_BENCHES; b++) {
        if ((trade_bench_rows[b].phase == TRADE_BENCH_PHASE_FOUND) == found && calls(&c, &trade_bench_rows[b])) {
            out->at[out->n++] = (enum trade_bench)b;
        }
    }
}

void work_operations(struct work_list *out, const struct trade_bike *bike, const struct fit_build *build) {
    list(out, bike, build, false);
}

void work_found(struct work_list *out, const struct trade_bike *bike, const struct fit_build *build) {
    list(out, bike, build, true);
}

/* --- what is charged ----------------------------------------------------------------------------------------------- */

uint32_t work_charged(const struct trade_bike *bike, const struct fit_build *build) {
    uint32_t charged = plan_build_operations(bike, build);
    return charged == 0 ? 0 : charged | BIT(TRADE_OPERATION_TAKE_IN);
}

enum trade_operation work_payer(enum trade_bench operation, uint32_t charged) {
    return payer_of(&trade_bench_rows[operation], charged);
}

struct work_minutes work_minutes_of(const struct work_list *list, uint32_t charged, const struct trade_shop *shop) {
    struct work_minutes out = {0, 0, 0};
    for (unsigned o = 0; o < TRADE_OPERATIONS; o++) {
        out.charged += (charged >> o & 1) != 0 ? plan_operation_tenths(shop, (enum trade_operation)o) / 10.0 : 0;
    }
    for (size_t i = 0; i < list->n; i++) {
        const struct trade_bench_row *row = &trade_bench_rows[list->at[i]];
        enum trade_operation payer = work_payer(list->at[i], charged);
        double table = payer < TRADE_OPERATIONS ? trade_operation_rows[payer].minutes : 0;
        double scale = table > 0 ? shop->minutes[payer] / table : 1;
        out.low += scale * row->low;
        out.high += scale * row->high;
    }
    return out;
}

/* --- threads ------------------------------------------------------------------------------------------------------- */

static const struct trade_shells_row *shell_of(const struct trade_bike *bike) {
    int shell = trade_get_word(&bike->frame, TRADE_FRAME_SHELL);
    for (size_t i = 0; i < trade_shells_n; i++) {
        if (trade_shells[i].shell == shell) {
            return &trade_shells[i];
        }
    }
    return NULL;
}

int work_hand(enum trade_bench operation, const struct trade_bike *bike) {
    const struct trade_bench_row *row = &trade_bench_rows[operation];
    const struct trade_shells_row *shell = shell_of(bike);
    switch (row->hand_by) {
    case TRADE_HAND_BY_TORQUE:
        return trade_torques[row->hand_at].hand;
    case TRADE_HAND_BY_THREAD:
        return trade_threads[row->hand_at].hand;
    case TRADE_HAND_BY_SHELL_DRIVE:
        return shell ? shell->drive_hand : -1;
    case TRADE_HAND_BY_SHELL_OTHER:
        return shell ? shell->other_hand : -1;
    case TRADE_HAND_BY_NONE:
        break;
    }
    return -1;
}

enum base_known work_torque_known(const struct trade_torques_row *row) {
    return row->mark == TRADE_MARK_SEEN || row->mark == TRADE_MARK_CALC ? BASE_TABLE : BASE_ASSUMED;
}
