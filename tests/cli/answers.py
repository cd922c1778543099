#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""gears, line, chain, shift and fit with --json on every demo bike, and on those that are turned down: one document on
standard output that its schema accepts, nothing beside it, the exit status that belongs to it; and every figure that
follows from the bike's file alone is computed again here, by exact fractions and by the formulas of the handbooks."""
import math
from fractions import Fraction

import running
from running import BIKES, REFUSED, answer, bike_path, load, tap, value_of

QUESTIONS = ["gears", "line", "chain", "shift", "fit"]
PITCH_MM = Fraction(127, 10)  # half an inch, ISO 9633
DIGITS = 1e-9  # of a millimetre or a link: what double arithmetic may lose in sums of a few dozen terms


def rings_of(bike):
    return [value_of(ring["teeth"]) for ring in bike["fitted"]["rings"]]


def sprockets_of(bike):
    return value_of(bike["fitted"]["cassette"]["sprockets"])


def near(what, got, want, tolerance):
    if want is None or got is None:
        return [] if want is got else [f"{what}: {got}, not {want}"]
    return [] if abs(got - want) <= tolerance else [f"{what}: {got}, not {float(want)}"]


# --- gears: ratio = ring / sprocket, development = ratio * rolling circumference, step = ratio of neighbours ------------


def rolling_mm(bike):
    """Measured, which wins, or the tyre's in the table."""
    measured = value_of(bike["wheel"].get("rolling_mm"))
    tyre = value_of(bike["wheel"].get("tyre"))
    return measured or next(row["rolling_mm"] for row in tap.standard("tyres") if row["tyre"] == tyre)


def check_gears(bike, told):
    rolling = Fraction(str(rolling_mm(bike)))
    gears = sorted((Fraction(ring, sprocket), ring, sprocket) for ring in rings_of(bike) for sprocket in sprockets_of(bike))
    wrong = [] if [(g["ring"], g["sprocket"]) for g in told["gears"]] == [(r, s) for _, r, s in gears] else ["other gears"]
    for gear, (ratio, _, _) in zip(told["gears"], gears):
        wrong += near("ratio", gear["ratio"], ratio, DIGITS)
        wrong += near("development", gear["development_m"], ratio * rolling / 1000, DIGITS)
    ratios = [ratio for ratio, _, _ in gears]
    wrong += near("range", told["range_percent"], 100 * ratios[-1] / ratios[0], DIGITS)
    wrong += near("lowest", told["lowest_m"], ratios[0] * rolling / 1000, DIGITS)
    wrong += near("highest", told["highest_m"], ratios[-1] * rolling / 1000, DIGITS)
    steps = [100 * (b / a - 1) for a, b in zip(ratios, ratios[1:])]
    wrong += [] if len(steps) == len(told["steps_percent"]) else ["another number of steps"]
    for got, want in zip(told["steps_percent"], steps):
        wrong += near("step", got, want, DIGITS)
    # Two gears nearer than 5 % repeat each other: common practice.
    wrong += [] if told["repeated"] == sum(step < 5 for step in steps) else [f"repeated: {told['repeated']}"]
    return wrong + ([] if told["open"] == [] else [f"open: {told['open']}"])


# --- line: y from the centre plane; angle = atan(offset / distance of the axles seen from above) ------------------------


def planes_of(bike):
    """The plane of each ring, where the file says it: in the ring, or in the crank for the ring's place."""
    crank = bike["fitted"]["crank"]
    return [value_of(ring.get("plane_mm", crank.get(ring["place"] + "_plane_mm"))) for ring in bike["fitted"]["rings"]]


def check_line(bike, told):
    planes, sprockets = planes_of(bike), sprockets_of(bike)
    frame = {key: value_of(value) for key, value in bike["frame"].items()}
    axles = math.sqrt(frame["chainstay_mm"] ** 2 - (frame.get("bottom_bracket_drop_mm") or 0) ** 2)
    wrong = near("axles", told["axles_mm"], axles, DIGITS)
    if None not in planes:
        # One ring: its plane. Two: half way. Three: the middle one's.
        front = sorted(planes)[1] if len(planes) == 3 else sum(planes) / len(planes)
        wrong += near("front", told["front_mm"], front, DIGITS)
        low, high = told["target_mm"]
        wrong += near("error", told["error_mm"], min(0, front - low) + max(0, front - high), DIGITS)
    by_ring = dict(zip(rings_of(bike), planes))
    order = sorted((Fraction(ring, sprocket), ring, sprocket) for ring in by_ring for sprocket in sprockets)
    wrong += [] if [(a["ring"], a["sprocket"]) for a in told["angles"]] == [(r, s) for _, r, s in order] else ["other gears"]
    for angle in told["angles"]:
        what = f"{angle['ring']}/{angle['sprocket']}"
        wrong += near("angle " + what, angle["angle_deg"], math.degrees(math.atan(angle["offset_mm"] / axles)), DIGITS)
        if by_ring[angle["ring"]] is not None:
            angle["plane"] = by_ring[angle["ring"]] - angle["offset_mm"]
    planes_there = [angle["plane"] for angle in told["angles"] if "plane" in angle]
    if planes_there:
        # The sprockets lie symmetric to the rear line, so that their planes have it as their mean; the line follows from
        # the stack, which is printed to 0.1 mm: good to 0.05, and half of the stack enters.
        wrong += near("rear", told["rear_mm"], sum(planes_there) / len(planes_there), 0.025 + DIGITS)
    return wrong


# --- chain: counted as spans / pitch + sum of teeth * wrap / 2 pi, on pitch circles of radius p / (2 sin(pi / z)) -------


def bare_links(ring, sprocket, stay_mm):
    pitch = float(PITCH_MM)
    difference = pitch / 2 * (1 / math.sin(math.pi / ring) - 1 / math.sin(math.pi / sprocket))
    lean = math.asin(difference / stay_mm)
    spans = 2 * stay_mm * math.cos(lean) / pitch
    return spans + ring * (math.pi + 2 * lean) / (2 * math.pi) + sprocket * (math.pi - 2 * lean) / (2 * math.pi)


def up_to_even(links):
    return 2 * math.ceil(links / 2)


def check_chain(bike, told):
    frame = {key: value_of(value) for key, value in bike["frame"].items()}
    suspended = frame.get("suspension") in ("yes", True)
    stay = frame["chainstay_longest_mm" if suspended else "chainstay_mm"]
    rings, sprockets = rings_of(bike), sprockets_of(bike)
    bare = bare_links(max(rings), max(sprockets), stay)
    wrong = near("bare", told["bare_links"], bare, DIGITS)
    # Ordinary derailleur: the bare loop and two, up to even. Wide-range single-ring one: its whole part and five, six
    # when suspended. Common practice; never under the bare loop and two.
    wide = value_of(bike["fitted"]["rear_derailleur"]["chain_rule"]) == "wide_single"
    rule = math.floor(bare) + (6 if suspended else 5) if wide else up_to_even(bare + 2)
    wrong += near("rule", told["rule_of_thumb_links"], rule, 0)
    wrong += near("links", told["links"], up_to_even(max(rule, bare + 2)), 0)
    needed = max(rings) - min(rings) + max(sprockets) - min(sprockets)
    wrong += near("capacity needed", told["capacity_needed_teeth"], needed, 0)
    capacity = value_of(bike["fitted"]["rear_derailleur"].get("capacity_teeth"))
    return wrong + near("capacity", told["capacity_teeth"], capacity, 0)


# --- shift: cable pull * ratio against the pitch; the tables of the trade give the figures of a family -------------------


def check_shift(bike, told):
    pull = value_of(bike["fitted"]["right_shifter"].get("pull"))
    family = next((row for row in tap.standard("pulls") if row["pull"] == pull), None)
    if not family or family["pull_mm"] is None:
        return [key for key in ("step_mm", "error_mm_total") if told[key] is not None]
    step = family["pull_mm"] * family["ratio"]
    wrong = near("step", told["step_mm"], step, DIGITS)
    total = (len(sprockets_of(bike)) - 1) * (step - told["pitch_mm"])
    wrong += near("total", told["error_mm_total"], total, DIGITS)
    pitches = {row["pitch_mm"] for row in tap.standard("sprockets") if row["speeds"] == len(sprockets_of(bike))}
    return wrong + ([] if told["pitch_mm"] in pitches else [f"pitch: {told['pitch_mm']}"])


# --- fit --------------------------------------------------------------------------------------------------------------


def check_fit(bike, told):
    rules = [(finding["rule"], tuple(finding["slots"])) for finding in told["interfaces"]]
    wrong = [f"twice: {rule}" for rule in set(rules) if rules.count(rule) > 1]
    for finding in told["interfaces"]:
        if (finding["verdict"] == "measure") != (finding["measure"] is not None):
            wrong.append(f"{finding['rule']}: {finding['verdict']}, but measure: {finding['measure']}")
    return wrong + ([] if len(rules) >= 20 else [f"only {len(rules)} joints"])


CHECKS = {"gears": check_gears, "line": check_line, "chain": check_chain, "shift": check_shift, "fit": check_fit}


def clashes(question, told):
    """A joint that clashes, or a part that goes whatever it fits: the answer is no."""
    return any(finding["verdict"] == "clash" for finding in told.get("interfaces", [])) or bool(told.get("goes"))


def goes(bike):
    """Slots whose part goes by its condition; worn sprockets are a worn cassette (common practice)."""
    bad, rings = ("worn", "seized", "damaged"), bike["fitted"].get("rings") or []
    parts = {**{f"{ring['place']}_ring": ring for ring in rings}, **{s: p for s, p in bike["fitted"].items() if s != "rings" and p}}
    return {slot for slot, part in parts.items()
            if running.value_of(part.get("condition")) in bad or running.value_of(part.get("worn")) in (True, "yes")}


def check_bikes():
    seen = {question: set() for question in QUESTIONS}
    for name in BIKES:
        for question in QUESTIONS:
            ran = running.run(question, "--json", bike_path(name))
            told, wrong = answer(question, question, "--json", bike_path(name), status=ran.status)
            if told is not None:
                wrong += [] if question != "fit" or set(told["goes"]) == goes(load(bike_path(name))) else [told["goes"]]
                wrong += [] if ran.status == int(clashes(question, told)) else [f"exit status {ran.status}"]
                seen[question].add(ran.status)
                wrong += CHECKS[question](load(bike_path(name)), told)
            tap.ok(f"{question} of {name}", wrong)
    tap.ok("some bikes clash as they stand and some do not", [] if seen["fit"] == {0, 1} else [seen])
    tap.ok("a clash of other joints is no clash of the gears", [] if seen["gears"] == {0} == seen["line"] else [seen])


def check_refused():
    told_apart = set()
    for name in REFUSED:
        wrong = []
        for question in QUESTIONS + ["plan"]:
            more = ["--catalogue", running.SHOP] if question == "plan" else []
            told, faults = answer("refused", question, "--json", bike_path("refused/" + name), *more, status=1)
            wrong += faults
            told_apart.add(told["refused"]["why"] if told else None)
        tap.ok(f"{name} is turned down, whatever is asked", wrong)
    reasons = {"belt", "cracked-frame", "gear-hub", "hub-motor", "mid-motor"}
    tap.ok("the reasons differ; both motors have one", [] if set(REFUSED) >= reasons and len(told_apart) >= 4 else [told_apart])


def check_own_figures():
    """The formulas above against published values, so that they are no copy of a mistake."""
    # Two sprockets, Mott, Machine Elements in Mechanical Design, 4th ed., Example 7-3: 17 and 65 teeth, 30 pitches apart,
    # 102.9 pitches; the handbook's form and the exact loop differ by a few hundredths of a pitch at such a difference.
    wrong = near("17 and 65 teeth", bare_links(65, 17, 30 * 12.7), 102.9, 0.1)
    # A polygon chain over all tooth positions, 32 and 18 teeth at 435 mm: 93.648942 pitches in the mean.
    wrong += near("32 and 18 teeth", bare_links(32, 18, 435), 93.648942, 1e-4)
    tap.ok("the count of links is that of handbooks", wrong)


check_own_figures()
check_bikes()
check_refused()
tap.end()
