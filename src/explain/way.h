/* SPDX-License-Identifier: Apache-2.0 */
/*
 * A plan in words: what a way is best at, what it changes and why, what it gives up, what must be measured, what opens
 * when a wish goes.
 */
#ifndef EXPLAIN_WAY_H
#define EXPLAIN_WAY_H

#include "base/text.h"
#include "explain/words.h"
#include "plan/next.h"
#include "plan/plan.h"

/* What a way is best at: 'least money'; the short form has at most 23 characters. */
const char *explain_purpose(const struct plan_way *way, enum plan_purpose purpose);
/* Purposes of a way, as many as there is room for: 'Easiest climbing, closest to now'. most: characters;
 * capital: of the first. Returns those that
 * are left, 0 when all stand there. */
uint32_t explain_purposes(struct base_buffer *out, const struct plan_way *way, uint32_t purposes, size_t most,
                          bool capital);

/* A gear against now: '14 % harder', '4 % easier', 'same' for the lowest; '11 % less', '5 % more' for the highest. */
void explain_lowest_change(struct base_buffer *out, int32_t way, int32_t now);
void explain_highest_change(struct base_buffer *out, int32_t way, int32_t now);

/* What a build has of a part that a slot of the bike loses, gets or keeps. */
enum explain_mark explain_slot_mark(const struct plan *plan, const struct fit_build *build, enum trade_slot slot);

/* Why a slot of a way changes, in sentences with their points: the old part is worn; with it the wish would not be met; with
 * it a rule would clash, or ask, or find a drawback; or what the new one is better at. Nothing when there is no reason. */
void explain_change(struct base_buffer *out, const struct plan *plan, const struct plan_way *way, enum trade_slot slot);

/* What a way gives up against the bike as it stands, and what it costs more than the cheapest one, `letter`; "" when it is
 * that one. Nothing when it gives up nothing. */
void explain_gives_up(struct base_buffer *out, const struct plan *plan, const struct plan_way *way,
                      const struct plan_way *cheapest, const char *letter);

/* What a way does to its gears, in a rider's sentences: 'Your lowest gear gets 14 % harder: where you turn 60 a minute now, you
 * then turn 53.' Nothing of a gear that nobody knows. */
void explain_to_rider(struct base_buffer *out, const struct plan *plan, const struct plan_way *way);

/* Small parts: 'short bolts for the single ring and an end cap for the gear cable'. needed: bit set of
 * enum trade_small_part; nothing when there are none. */
void explain_small_parts(struct base_buffer *out, uint32_t needed);

/* '0.52 kg lighter than now', '~40 g heavier than now', 'as heavy as now', 'not known: no weight is stated for
 * cassette'. */
void explain_mass(struct base_buffer *out, const struct plan *plan, const struct plan_way *way);

/* On what a way hangs: 'The small end of the bottom bracket's spindle must read 12.7 mm.' for each open value. */
void explain_hangs_on(struct base_buffer *out, const struct plan *plan, const struct plan_way *way);

/* What to measure next, how, what comes off for it, and what then stands. Picks are called by their letters. */
void explain_next(struct base_buffer *out, const struct plan *plan, const struct plan_next *next);

/* One part of the wish, behind what out holds with a comma: 'lowest gear at most 1.60 m'; nothing where it was not given, and
 * of PLAN_WISH_KEEP. */
void explain_one_wish(struct base_buffer *out, const struct plan *plan, enum plan_wish_id id);

/* The wish: 'one ring, lowest gear at most 1.60 m, ...'; and the slots that must stay, 'keep rear wheel'; nothing when
 * there are none. */
void explain_wish(struct base_buffer *out, const struct plan *plan);
void explain_kept(struct base_buffer *out, const struct plan *plan);

/* What opens when wishes go: 'GBP 41.00 more', 'a lowest gear of 1.66 m, 4 % harder than wished', 'let the rear wheel go'. */
void explain_relief(struct base_buffer *out, const struct plan *plan, const struct plan_relief *relief);

/* The new rings of a build, and why the bike's own go: 'The inner ring is worn: a new one of 22 T takes its place.' Nothing
 * when no ring is new. */
void explain_new_rings(struct base_buffer *out, const struct trade_bike *bike, const struct fit_build *build);

/* What the wish compares: 'cost, lowest and highest gear'. */
void explain_objectives(struct base_buffer *out, const struct trade_wish *wish);

/* Rings of a build, 0..3. */
unsigned explain_rings_of(const struct fit_build *build);

#endif
