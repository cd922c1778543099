#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""wear through the whole program: lengths and percents by exact fractions, the limits of every class, what may stay under a new
chain on every demo bike, readings that no chain gives, and the page."""
import json
from fractions import Fraction

import running
from running import BIKES, answer, bike, bike_path, given, load, run, tap, value_of

FOOT_MM = 24 * Fraction(127, 10)  # 24 pitches of half an inch, ISO 9633
DIGITS = 1e-9
# At which elongation a chain goes: 0.75 % to ten speeds, 0.5 % from eleven (common practice; 0.5 % as the general limit: a
# personal technical page on chain stretch); from 1.0 % sprockets and rings are worn too (the same page).
LIMITS = {"single_wide": 0.75, "up_to_8": 0.75, "nine": 0.75, "ten": 0.75, "eleven": 0.5, "twelve": 0.5,
          "twelve_wide_inner": 0.5, "twelve_large_roller": 0.5, "thirteen": 0.5}


def ask(document, *options, status=0):
    told, wrong = answer("wear", "wear", "--json", "-", *options, stdin=given(document), status=status)
    assert told is not None and not wrong, (wrong, told)
    return told


def worn(percent=None, family="nine", sprockets="serviceable", ring=None, **cassette):
    rings = [{"teeth": 32, **({"condition": ring} if ring else {})}]
    chain = {"family": family, **({} if percent is None else {"worn_percent": percent})}
    return bike(fitted={"rings": rings, "chain": chain,
                        "cassette": {"sprockets": [11, 13, 15, 18, 21, 24, 28, 32, 36], "condition": sprockets, **cassette}})


def verdicts(told):
    return {part["slot"]: part["verdict"] for part in told["under_new_chain"]}


def check_limits():
    wrong = []
    for family, limit in LIMITS.items():
        for share in ("0.2", "0.5", "0.51", "0.99", "1", "1.5", "2.1"):
            percent = Fraction(str(limit)) * Fraction(share)
            goes = percent >= Fraction(str(limit))
            told = ask(worn(float(percent), family), status=1 if goes else 0)
            wanted = {"goes_at_percent": limit, "goes_at_mm": FOOT_MM * (1 + Fraction(str(limit)) / 100),
                      "over_24_mm": FOOT_MM * (1 + percent / 100), "new_sprockets_up_to_percent": limit / 2}
            wrong += [f"{family} {share}: {key} {told[key]}" for key, value in wanted.items() if abs(told[key] - value) > DIGITS]
            sprockets = "clash" if goes else "drawback" if Fraction(share) > Fraction(1, 2) else "fits"
            got = told["chain"]["verdict"], told["new_sprockets_under_it"]["verdict"]
            wrong += [] if got == ("clash" if goes else "fits", sprockets) else [f"{family} {share}: {got}"]
    tap.ok("every class goes at its limit, and past half of it takes no new sprockets", wrong)
    classes = {row["family"]: row["goes_at_percent"] for row in ask(worn(0.1))["classes"]}
    tap.ok("the table of classes", [] if classes == LIMITS else [classes])


def check_under_new():
    cases = [(worn(0.3), "fits", "fits", 0), (worn(0.8), "drawback", "fits", 1),
             (worn(1.2, sprockets="not_looked_at"), "clash", "drawback", 1),
             (worn(1.2, sprockets="not_looked_at", worn=False), "drawback", "drawback", 1),
             (worn(1.2, ring="serviceable", sprockets="not_looked_at"), "clash", "fits", 1),
             (worn(0.3, ring="worn"), "fits", "clash", 0), (worn(0.3, sprockets="worn"), "clash", "fits", 0),
             (worn(0.3, ring="damaged"), "fits", "clash", 0),
             (worn(sprockets="not_looked_at"), "measure", "measure", 0), (worn(ring="as_new"), "measure", "fits", 0)]
    wrong = []
    for document, cassette, ring, status in cases:
        told = ask(document, status=status)
        got = verdicts(told)
        wrong += [] if got == {"cassette": cassette, "outer_ring": ring} else [f"{json.dumps(document['fitted'])}: {got}"]
    tap.ok("sprockets and ring under a new chain, by what was seen and what the old chain tells", wrong)


def check_readings():
    wrong = []
    for mm, status, near in [("304.8", 0, False), ("306.9", 0, True), ("307.2", 1, True), ("308", 1, False), ("306", 0, False)]:
        told = ask(worn(2), "--ruler", mm, status=status)
        percent = 100 * (Fraction(mm) - FOOT_MM) / FOOT_MM
        wrong += [] if abs(told["worn_percent"] - percent) < DIGITS and told["too_near"] is near else [(mm, told)]
        wrong += [] if abs(told["reading_band_percent"] - 100 * Fraction("0.25") / FOOT_MM) < DIGITS else [(mm, told)]
    told = ask(worn(2), "--gauge", "0.4")
    wrong += [] if told["worn_percent"] == 0.4 and told["reading_band_percent"] is None else [told]
    tap.ok("a reading by rule or gauge stands over the file", wrong)
    wrong = []
    for options in (["--ruler", "300"], ["--ruler", "330"], ["--gauge", "9"], ["--ruler", "-1"], ["--ruler", "x"], ["--gauge", "nan"],
                    ["--ruler", "306", "--gauge", "0.4"], ["--ruler"]):
        ran = run("wear", bike_path("wren-24"), *options)
        wrong += [] if ran.status == 2 and not ran.out and ran.err else [(options, ran)]
    tap.ok("a reading that no chain gives is wrong usage, and told", wrong)


def check_demo():
    wrong = []
    for name in BIKES:
        document = load(bike_path(name))
        chain = document["fitted"].get("chain") or {}
        percent, goes = value_of(chain.get("worn_percent")), chain.get("condition") == "worn"
        told, faults = answer("wear", "wear", "--json", bike_path(name),
                              status=1 if goes or percent is not None and percent >= LIMITS[value_of(chain["family"])] else 0)
        wrong += [f"{name}: {fault}" for fault in faults] + ([] if told["worn_percent"] == percent else [name])
        page = run("wear", bike_path(name)).out.decode()
        wrong += [f"{name}: {line}" for line in page.splitlines() if len(line) > 79 or line != line.rstrip()]
    tap.ok("every demo bike, as data and as a page", wrong)


check_limits()
check_under_new()
check_readings()
check_demo()
tap.end()
