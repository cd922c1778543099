#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""docs/operations.md is what tools/write-operations-page makes of the tables, and leaves no operation out."""
import tap

page = tap.made_page("docs/operations.md", "write-operations-page", tap.DATA, "data")
rows = tap.table("bench_operations")
lines = {line.split("`")[1]: line for line in page.splitlines() if line.startswith("| `")}
tap.ok("every operation and every check stands there",
       [row["operation"] for row in rows if row["operation"] not in lines]
       + [row["check"] for row in tap.table("bench_checks") if row["check"] not in lines])
tap.ok("each with its source, or 'common practice', or 'from memory'",
       [row["operation"] for row in rows if not lines[row["operation"]].rstrip(" |").endswith(row["source"])])
tap.ok("a torque where there is one",
       [row["operation"] for row in rows
        if row["torque"] and "N·m" not in lines[row["operation"]] and "as marked" not in lines[row["operation"]]])

# What the shop is taught to do must be there: each of these has a row of its own, by the trade's practice.
WANTED = """right_arm_off_square cartridge_in_square left_cup_out_cartridge drive_cup_in_outboard left_arm_on_pinch pinch_bolts_tight
left_arm_on_axial collar_set cassette_off cassette_on cassette_ten_seated lockring_on rotor_on_bolts rear_derailleur_off
rear_derailleur_on right_shifter_on rear_cable_in housing_cut hanger_gauged chain_off_link chain_sized chain_joined_link
high_limit_set low_limit_set b_gap_set indexed clutch_on right_lever_on tyre_on back_pedalled test_ridden extractor_thread_gone
ring_bolt_spins cup_stuck pedal_stuck sprockets_bitten_in rotor_bolt_rounded""".split()
tap.ok("at least sixty operations, and those that every shop does",
       [name for name in WANTED if name not in lines] + ([f"{len(rows)} rows"] if len(rows) < 60 else []))
tap.end()
