#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""torque through the whole program: every row of the table, what it pulls by T = K F d with K as much off either way as handbooks
tell, one row by a word of it, the maker's figure, names that there are not, and the pages."""
from fractions import Fraction

import running
from running import answer, run, tap

TABLE = {row["name"]: row for row in tap.standard("torques")}
FACTORS = {row["surface"]: Fraction(str(row["factor"])) for row in tap.standard("frictions")}
# Shigley and Mischke, 5th ed., as a drawing program's help has it: dry 0.30, zinc 0.20, greased 0.18, anti-seize 0.12, unknown 0.20.
PRINTED = {"plain": "0.30", "zinc": "0.20", "greased": "0.18", "anti_seize": "0.12", "unknown": "0.20"}
SCATTER = Fraction("0.3")  # handbooks differ by a third: a forum thread quoting Bickford and Nassar


def pulled_n(row, low_nm, high_nm):
    if row["thread_mm"] is None or low_nm is None:
        return None, None
    factor = FACTORS[row["surface"] or "unknown"]
    metres = Fraction(str(row["thread_mm"])) / 1000
    exact = lambda nm: Fraction(str(nm))
    return exact(low_nm) / (factor * (1 + SCATTER) * metres), exact(high_nm) / (factor * (1 - SCATTER) * metres)


def faults_of(told, low_nm=None, high_nm=None):
    row = TABLE[told["name"]]
    wanted = pulled_n(row, low_nm or row["low_nm"], high_nm or row["high_nm"])
    wrong = [f"{told['name']}: {key}" for key in ("what", "low_nm", "high_nm", "source", "mark", "operation") if told[key] != row[key]]
    for key, value in zip(("preload_low_n", "preload_high_n"), wanted):
        same = told[key] is None if value is None else told[key] is not None and abs(told[key] - value) < 1e-9 * value
        wrong += [] if same else [f"{told['name']}: {key} {told[key]}, not {value and float(value)}"]
    return wrong


def check_rows():
    tap.ok("the friction factors are the printed ones", [s for s, k in PRINTED.items() if FACTORS[s] != Fraction(k)])
    told, wrong = answer("torque", "torque", "--json")
    tap.ok("every row of the table, and what it pulls", wrong + [line for row in told["torques"] for line in faults_of(row)])
    tap.ok("none is missing", sorted(set(TABLE) ^ {row["name"] for row in told["torques"]}))
    pulls = sum(row["preload_low_n"] is not None for row in told["torques"])
    tap.ok("many pull", [] if pulls >= 12 else [pulls])


def check_one():
    wrong = []
    for words, name in [("pinch", "pinch_bolts"), ("pinch_bolts", "pinch_bolts"), ("T47", "t47_cups"), ("left pedal", "pedal_left")]:
        told, faults = answer("torque", "torque", words, "--json")
        wrong += faults + ([] if [row["name"] for row in told["torques"]] == [name] else [words])
    for nm, unusual in [("12", False), ("14", False), ("10", True), ("14.5", True)]:
        told, faults = answer("torque", "torque", "pinch_bolts", "--nm", nm, "--json")
        row = told["torques"][0]
        wrong += faults + faults_of(row, nm, nm) + ([] if (row["maker_nm"], row["unusual"]) == (float(nm), unusual) else [row])
    tap.ok("one row by its name or a word of it, and the maker's figure", wrong)
    wrong = []
    for words in (["torque", "no such thing"], ["torque", "ring", "--nm", "8"], ["torque", "--nm", "8"], ["torque", "pinch", "--nm", "0"],
                  ["torque", "pinch", "--nm", "nan"], ["torque", "pinch", "--nm", "9999"], ["torque", "pinch", "more"]):
        ran = run(*words)
        wrong += [] if ran.status == 2 and not ran.out and ran.err else [(words, ran)]
    tap.ok("what is not there, or more than one thing, is wrong usage, and told", wrong)


def check_pages():
    wrong = []
    pages = {name: run("torque", name).out.decode() for name in TABLE}
    pages["all"] = run("torque").out.decode()
    for name, page in pages.items():
        wrong += [f"{name}: {line}" for line in page.splitlines() if len(line) > 79 or line != line.rstrip()]
        wrong += [] if "maker" in page else [f"{name}: whose figure comes first is not said"]
    left = [name for name, page in pages.items() if name in TABLE and "left-hand thread" in " ".join(page.split())]
    wrong += [] if sorted(left) == ["pedal_left", "universal_hanger_bolt"] else [left]
    wrong += [row["what"] for row in TABLE.values() if row["what"] not in pages["all"]]
    tap.ok("the pages: within 79 columns, the maker first, left-hand threads named", wrong)


check_rows()
check_one()
check_pages()
tap.end()
