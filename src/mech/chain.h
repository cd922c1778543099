/* SPDX-License-Identifier: Apache-2.0 */
/*
 * How long a chain is cut: the workshop's rules, the handbooks' approximations, capacity and wear.
 *
 * One idea: the workshop lays the chain round the largest ring and the largest sprocket, past the derailleur (the bare
 * loop, loop.h), and adds what the derailleur's design asks for. Everything is counted in pitches of 12.7 mm, inner and
 * outer links alike, the joining link included. A derailleur chain has an even count.
 *
 * A bare loop is in pitches, not rounded, MECH_CHAIN_BARE_MIN to MECH_CHAIN_BARE_MAX. It comes from measured lengths:
 * within a millionth of a pitch of a whole number it is taken as that number.
 */
#ifndef MECH_CHAIN_H
#define MECH_CHAIN_H

#include "base/status.h"

#include <stdbool.h>

#define MECH_CHAIN_BARE_MIN 20.0
#define MECH_CHAIN_BARE_MAX 400.0

/* Which rule holds is a property of the derailleur. */
enum mech_chain_rule {
    MECH_CHAIN_ORDINARY,      /* bare + 2, up to even */
    MECH_CHAIN_WIDE_RIGID,    /* wide range, single ring: the whole part of bare, + 5 */
    MECH_CHAIN_WIDE_SUSPENDED /* the same with a rear suspension: + 6, bare taken at the longest chain stay */
};

/* The rule of thumb itself, in pitches; even for the ordinary rule, either for the others. Source: ordinary: two
 * pitches beyond largest ring and largest sprocket, as workshops have it (sheldonbrown.com, as quoted in a Bike Forums
 * thread, 2016); wide range: four or five links and the joining link, one more with suspension (cyclinginventory,
 * workshop page on chain length); common practice. BASE_BAD_INPUT: bare out of range; out is untouched then. */
enum base_status mech_chain_rule_links(int *out, double bare, enum mech_chain_rule rule) BASE_CHECKED;

/* Pitches to cut: the smallest even number that is at least the rule and at least bare + 2, under which the chain would
 * tear at the hanger in the largest gear pair. Source: as above; even, since a derailleur chain has no half link.
 * BASE_BAD_INPUT: as above. */
enum base_status mech_chain_links_to_cut(int *out, double bare, enum mech_chain_rule rule) BASE_CHECKED;

/* The most pitches behind an ordinary derailleur, for which its cage still takes up the slack from smallest ring to
 * smallest sprocket: the largest even number within even(bare + 2) + (capacity - needed) / 2, since one tooth of
 * difference is half a pitch of chain. Capacity and need are in teeth, 0..200. BASE_NO: more is needed than the cage has,
 * so that no length serves both ends. BASE_BAD_INPUT: out of range. Source: from the definition of capacity (De
 * Fietssite, 'Capacity of the rear derailleur'); common practice. */
enum base_status mech_chain_longest_links(int *out, double bare, int capacity_teeth, int needed_teeth) BASE_CHECKED;

/* Pitches of a chain that nothing but the axle's place keeps taut: the smallest number that is at least the bare loop, even, or
 * whole where a half link may stand in it. A half link is one pitch that is narrow at one end and wide at the other: it
 * runs on plain teeth with a single sprocket, never through a derailleur, never on teeth in turn wide and narrow (common
 * practice). BASE_BAD_INPUT: bare out of range. */
enum base_status mech_chain_single_links(int *out, double bare, bool half_link) BASE_CHECKED;

/* Teeth of capacity that the gearing needs: (largest ring - smallest ring) + (largest sprocket - smallest sprocket).
 * Teeth of rings and sprockets; with one ring both rings are that one. Source: De Fietssite, 'Capacity of the rear
 * derailleur'. */
int mech_chain_capacity_needed(int largest_ring, int smallest_ring, int largest_sprocket, int smallest_sprocket);

/* How much longer than new a run of the chain is, percent; below 0 when shorter. measured_mm: over `pitches` pitches (24
 * on a foot rule) from pin to pin or roller to roller, under tension, the joining link left out. pitches above 0. Source:
 * by definition, nominal pitch 12.7 mm. */
double mech_chain_wear_percent(double measured_mm, int pitches);

/* The other way round: how long a run of so many pitches is at an elongation, mm; NAN for NAN. */
double mech_chain_worn_mm(double percent, int pitches);

/*
 * The handbooks' approximations, for two wheels of n1 and n2 teeth in any order (sprocket.h's range), and centres that
 * stand `centres` pitches apart. They hold for any pitch. BASE_BAD_INPUT: teeth out of range, or centres not above 0 and
 * at most 10 000. Outputs are untouched on failure.
 */

/* 2 C + (n1 + n2) / 2 + ((n2 - n1) / 2 pi)^2 / C, pitches. Source: Mott, Machine Elements in Mechanical Design, 4th ed.,
 * equation of Example 7-3. */
enum base_status mech_chain_handbook_links(double *out, double centres, int n1, int n2) BASE_CHECKED;

/* 2 C + (n1 + n2) / 2 + (cosec(pi / n1) - cosec(pi / n2))^2 / (4 C), pitches. Source: Khurmi and Gupta, Theory of
 * Machines, Example 11.23. */
enum base_status mech_chain_cosec_links(double *out, double centres, int n1, int n2) BASE_CHECKED;

/* Centres, in pitches, for a chain of so many pitches; turns mech_chain_handbook_links round. BASE_NO: the chain is too
 * short to go round both. links up to 20 000. Source: as mech_chain_handbook_links. */
enum base_status mech_chain_handbook_centres(double *out, double links, int n1, int n2) BASE_CHECKED;

/* The bicycle workshop's short form, pitches, not rounded: 0.157 a + ring / 2 + sprocket / 2 + 2, a the chain stay in
 * mm, 100..1000, with the largest ring and the largest sprocket. 0.157 is 2 / 12.7 rounded, the term of the difference is
 * dropped. Source: 'Kettenlänge', germantandem.de. BASE_BAD_INPUT: out of range. */
enum base_status mech_chain_workshop_links(double *out, double stay_mm, int ring, int sprocket) BASE_CHECKED;

#endif
