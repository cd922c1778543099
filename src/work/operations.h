/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Which operations at the bench a build of a bike calls for.
 *
 * One idea: an operation is one hand's work, a row of data/bench_operations.csv, and is called for by four things that the
 * row states: a charged operation (plan/labour.h) that pays for it is called for; a part in one of its slots comes off, or
 * a new one goes in; facts of the old part, the new part or the frame hold; and a condition that no single fact can say.
 * So what is charged and what is done follow from the same change, and the labour of plan and quote stays one sum.
 *
 * What is only done when it is found (a seized cup, a bolt that spins) is never among them: work_found lists what this
 * strip-down can bring to light.
 */
#ifndef WORK_OPERATIONS_H
#define WORK_OPERATIONS_H

#include "fit/judge.h"
#include "trade/shop.h"

/* Operations in the order of the table. */
struct work_list {
    enum trade_bench at[TRADE_BENCHES];
    size_t n;
};

/* What the build calls for; nothing where it changes nothing. */
void work_operations(struct work_list *out, const struct trade_bike *bike, const struct fit_build *build);
/* What may be found on the way and then takes an operation of its own. */
void work_found(struct work_list *out, const struct trade_bike *bike, const struct fit_build *build);

/* Charged operations that the build calls for, with the taking in that every job begins with; bit set. */
uint32_t work_charged(const struct trade_bike *bike, const struct fit_build *build);
/* Which of the charged operations pays for this one: the first of its row that does; TRADE_OPERATIONS when none does. */
enum trade_operation work_payer(enum trade_bench operation, uint32_t charged);

/* Time at the bench, min: what is charged by the shop's minutes, and the range of the operations in the list, each scaled
 * as the shop's minutes of its payer are to the table's. */
struct work_minutes {
    double charged, low, high;
};
struct work_minutes work_minutes_of(const struct work_list *list, uint32_t charged, const struct trade_shop *shop);

/* How a torque is known: published figures from a table; practice and memory are assumed. */
enum base_known work_torque_known(const struct trade_torques_row *row);

/* Which way a thread turns that an operation opens or closes: enum trade_hand, of the shell's row where it is the shell's.
 * -1: it has none, or nobody has read the shell. */
int work_hand(enum trade_bench operation, const struct trade_bike *bike);

#endif
