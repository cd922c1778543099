#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Bench sheets: what a bike and a way call for is worked out here anew, from the tables and the files, for every pick of the demo
bikes and for bikes of which facts were changed at random. Every operation that must be there is, none is that may not, each comes
after what it must come after; labour is the plan's, to the minor unit."""
import json
import os
import random
import tempfile

import running
from running import SHOP, bike_path, load, run, tap, wish_path

ROWS = tap.table("bench_operations")
ROW = {row["operation"]: row for row in ROWS}
CHARGED = tap.table("operations")
SLOT = {row["slot"]: row for row in tap.table("slots")}
PHASES = [row["word"] for row in tap.table("words") if row["domain"] == "bench_phase"]
TORQUES = {row["name"]: row for row in tap.table("standards/torques")}
RINGS = ["outer_ring", "middle_ring", "inner_ring"]
OPEN, MAYBE = None, object()  # nobody has read it; it may have been filled in from a table
NAMES = [name for name in ("quillmoor-trail", "osier-ridge", "marram-gravel", "tiller-city", "bracken-trek", "harrow-stone",
                           "wren-24", "tern-road", "fallow-26")]
SOLD = running.catalogue_rows()


# --- what a bike has, and what becomes of it ----------------------------------------------------------------------------

def fitted(bike):
    """Each slot's part as it stands in the file, {} where nobody looked at one that is there, None where there is none."""
    parts = bike["fitted"]
    rings = {ring["place"] + "_ring": ring for ring in parts.get("rings", [])}
    have = {}
    for slot, row in SLOT.items():
        if slot in RINGS:
            have[slot] = rings.get(slot)
        elif slot in parts:
            have[slot] = parts[slot]
        else:
            there = row["absent"] == "there" or (row["absent"] == "several_rings" and len(rings) > 1)
            have[slot] = {} if there else None
    return have


def value(part, name):
    """A word of a part of the bike, as it is read: a bare word, one with how it is known, or open."""
    cell = part.get(name, MAYBE)
    cell = cell.get("value") if isinstance(cell, dict) else cell
    return MAYBE if cell is OPEN else {True: "yes", False: "no"}[cell] if isinstance(cell, bool) else cell


class Job:
    def __init__(self, bike, parts):
        self.bike, self.old, self.parts = bike, fitted(bike), parts
        self.off = {slot for slot, part in self.old.items() if part is not None and parts[slot] != "keep"}
        self.on = {slot for slot in SLOT if parts[slot] not in ("keep", "none")}
        self.charged = {row["operation"] for row in CHARGED if self.is_charged(row)}
        self.charged |= {"take_in"} if self.charged else set()

    def has(self, slot):
        return self.old[slot] is not None

    def stays(self, slot):
        return self.has(slot) and self.parts[slot] == "keep"

    def built(self, slot):
        return self.parts[slot] != "none" and (self.has(slot) or self.parts[slot] != "keep")

    def is_charged(self, row):
        changed = self.off | self.on
        slots = set(row["slots"].split())
        if row["had"]:
            slot, _, condition = row["had"].partition(".")
            name, _, word = condition.partition("=")
            if self.has(slot) and (not name or value(self.old[slot], name) == word):
                slots |= set(row["had_slots"].split())
        return bool(slots & changed or set(row["new_slots"].split()) & self.on)

    def fact(self, cell):
        """True, False, or MAYBE where a table may have told it."""
        whose, _, rest = cell.rpartition(":")
        left, sign = (rest.split("!=")[0], "!=") if "!=" in rest else (rest.split("=")[0], "=")
        listed = rest[len(left) + len(sign):].split("/")
        slot, name = left.split(".")
        if slot == "frame":
            held = value(self.bike["frame"], name)
        elif whose == "old":
            if not self.has(slot):
                return False
            held = value(self.old[slot], name)
        else:
            if not self.built(slot):
                return False
            kept = self.parts[slot] == "keep"
            held = value(self.old[slot], name) if kept else SOLD[self.parts[slot]][1].get(name) or MAYBE
        if held is MAYBE:
            return MAYBE
        held = held.split() if isinstance(held, str) else held
        return any((word in listed) == (sign == "=") for word in held)

    def condition(self, name):
        kept_rings = [slot for slot in RINGS if self.stays(slot)]
        had_rings = [slot for slot in RINGS if self.has(slot)]
        cups = {"bottom_bracket", "cup_spacers"} & self.charged
        return {
            "": lambda: True,
            "rings_come_off": lambda: bool(had_rings) and (self.stays("crank") or bool(kept_rings)),
            "rings_go_on": lambda: any(self.built(slot) for slot in RINGS),
            "both_arms": lambda: not self.stays("crank") or bool(cups),
            "cassette_leaves_hub": lambda: self.stays("rear_wheel") or self.stays("cassette"),
            "body_leaves_hub": lambda: self.has("freehub_body") and ("rear_wheel" in self.off) == self.stays("freehub_body"),
            "rotor_leaves_hub": lambda: self.has("rear_rotor") and ("rear_wheel" in self.off) == self.stays("rear_rotor"),
            "smallest_ten": lambda: self.smallest() <= 10,
            "left_lever_stays": lambda: self.stays("left_brake_lever"),
            "right_lever_stays": lambda: self.stays("right_brake_lever"),
            "cable_stays": lambda: "rear_cable" not in self.charged,
            "front_shifting_stays": lambda: sum(self.built(slot) for slot in RINGS) > 1 and self.built("front_derailleur"),
        }[name]()

    def smallest(self):
        if self.parts["cassette"] == "keep":
            return min(self.old["cassette"]["sprockets"])
        return min(map(int, SOLD[self.parts["cassette"]][1]["sprockets"].split()))

    def calls(self, row):
        slots_off, slots_on = set(row["off"].split()), set(row["on"].split())
        touched = not (slots_off | slots_on) or bool(slots_off & self.off or slots_on & self.on)
        if not set(row["pays"].split()) & self.charged or not touched or not self.condition(row["if"]):
            return False
        facts = [self.fact(cell) for cell in row["facts"].split()]
        return False if False in facts else MAYBE if MAYBE in facts else True


# --- the checks ---------------------------------------------------------------------------------------------------------

def before(name, seen=None):
    """All that must come before an operation in the table, also through others."""
    seen = set() if seen is None else seen
    for after in ROW[name]["after"].split():
        for other in ROWS:
            if after in (other["operation"], other["gives"]) and other["operation"] not in seen:
                seen.add(other["operation"])
                before(other["operation"], seen)
    return seen


BEFORE = {name: before(name) for name in ROW}


def wrong_steps(sheet, job):
    names = [step["operation"] for step in sheet["steps"]]
    wrong = [] if len(set(names)) == len(names) else ["an operation twice"]
    for row in ROWS:
        there = row["operation"] in names + [found["operation"] for found in sheet["found"]]
        called = job.calls(row)
        if called is not MAYBE and called != there:
            wrong.append(f"{row['operation']}: {'missing' if called else 'idle'}")
    for i, name in enumerate(names):
        later = set(names[i + 1:])
        wrong += [f"{name} before {other}" for other in BEFORE[name] & later]
        wrong += [f"{name} before {other}, of an earlier phase" for other in later
                  if PHASES.index(ROW[other]["phase"]) < PHASES.index(ROW[name]["phase"])]
    return wrong


def wrong_figures(sheet, way):
    wrong = []
    if sheet["labour"] != way["labour"] or sum(row["labour"] for row in sheet["charged"]) != way["labour"]:
        wrong.append(f"labour {sheet['labour']}, the plan says {way['labour']}")
    if abs(sheet["charged_min"] - way["bench_min"]) > 0.5:
        wrong.append(f"{sheet['charged_min']} min charged, the plan says {way['bench_min']}")
    for step in sheet["steps"]:
        row = ROW[step["operation"]]
        figures = [(torque["name"], torque["low_nm"], torque["high_nm"]) for torque in step["torques"]]
        told = [(name, *(float(TORQUES[name][b]) if TORQUES[name][b] else None for b in ("low_nm", "high_nm")))
                for name in row["torque"].split()]
        wrong += [] if figures == told else [f"{row['operation']}: {figures}"]
        wrong += [] if step["tools"] == sorted(row["tools"].split(), key=[t["tool"] for t in tap.table("bench_tools")].index) \
            else [f"{row['operation']}: tools {step['tools']}"]
    return wrong


def wrong_minutes(sheet):
    """The range of the operations holds what is charged for them; each is paid by what stands first for it and is charged."""
    charged = {row["operation"] for row in sheet["charged"]}
    wrong = [f"{step['operation']} paid by {step['paid_by']}" for step in sheet["steps"]
             if step["paid_by"] != next(name for name in ROW[step["operation"]]["pays"].split() if name in charged)]
    idle = charged - {step["paid_by"] for step in sheet["steps"]}
    wrong += [f"{name}: charged, and nothing is done for it" for name in idle]
    if not sheet["low_min"] <= sheet["charged_min"] <= sheet["high_min"]:
        wrong.append(f"{sheet['charged_min']} min charged, {sheet['low_min']} to {sheet['high_min']} at the bench")
    return wrong


def wrong_safety(sheet):
    names = [step["operation"] for step in sheet["steps"]]
    wrong = [] if names.index("both_brakes_tried") < names.index("test_ridden") else ["ridden before the brakes were tried"]
    wrong += [] if names[0] == "damage_looked_for" else ["not looked for damage first"]
    for side in ("left", "right"):
        hose = next((step for step in sheet["steps"] if step["operation"] == f"{side}_hose_off"), None)
        wrong += [] if hose is None or "fluid" in (hose["caution"] or "") else ["a hose without its caution"]
    for ask in sheet["to_measure"]:
        new = [i for i, step in enumerate(sheet["steps"]) if step["phase"] == "fit"]
        wrong += [] if not new or ask["before_step"] <= new[0] else [f"{ask['path']}: asked for after new parts are on"]
    return wrong


NEEDS_OFF = {(row["kind"], row["property"]): row["needs_off"] for row in tap.table("vocabulary")}
OPENS = {"wheel": "wheel_out", "cassette": "cassette_off", "crank": "right_arm_off", "bracket": "drive_cup_out",
         "controls": "right_bar_bare"}


def wrong_asks(sheet):
    """What lies behind a part is asked for right behind the operation that takes this one off, if one does."""
    wrong = []
    for ask in sheet["to_measure"]:
        where = ask["path"].split("/")[1:]
        kind = where[0] if len(where) == 2 else SLOT.get(where[1], {"kind": "ring"})["kind"]
        gives = OPENS.get(NEEDS_OFF.get((kind, where[-1])))
        opening = [i for i, step in enumerate(sheet["steps"]) if step["phase"] == "strip" and ROW[step["operation"]]["gives"] == gives]
        wanted = opening[-1] + 1 if gives and opening else [step["phase"] for step in sheet["steps"]].index("strip")
        wrong += [] if ask["before_step"] == wanted else [f"{ask['path']}: before step {ask['before_step']}, not {wanted}"]
    return wrong


def wrong_page(page):
    lines = page.splitlines()
    wrong = [f"wider than 79: {line}" for line in lines if len(line) > 79]
    text = " ".join(page.split())
    for words in ("Figures are guides. The component maker's instructions come first", "trained mechanic", "Local rules"):
        wrong += [] if words in text else [f"does not say: {words}"]
    return wrong


def picks(bike, wish):
    ran = run("plan", bike, "--catalogue", SHOP, "--wish", wish, "--ways", "5", "--json")
    if ran.status != 0 or b'"builds"' not in ran.out:
        return []
    return [way for way in json.loads(ran.out)["builds"] if way["picks"]]


def check(bike_file, wish_file, ways):
    asked = ["work", bike_file, "--catalogue", SHOP, "--wish", wish_file]
    wrong = []
    for letter, way in zip("ABCDE", ways):
        sheet = json.loads(run(*asked, "--way", letter, "--json").out)
        job = Job(load(bike_file), way["parts"])
        faults = [f"parts {sheet['parts']}"] if sheet["parts"] != way["parts"] else []
        faults += wrong_steps(sheet, job) + wrong_figures(sheet, way) + wrong_safety(sheet)
        faults += wrong_minutes(sheet) + wrong_asks(sheet)
        wrong += [f"{os.path.basename(bike_file)} {letter}: {fault}" for fault in faults]
    return wrong


checked = 0
for name in NAMES:
    ways = picks(bike_path(name), wish_path(name))
    checked += len(ways)
    tap.ok(f"{name}: every pick's sheet misses nothing, does nothing idle, keeps the order and the plan's labour",
           check(bike_path(name), wish_path(name), ways))
tap.ok("there were picks to check", [] if checked >= 20 else [f"{checked}"])


# --- bikes changed at random --------------------------------------------------------------------------------------------

def changed_at_random(bike, dice):
    """Other facts that change what is done, none that the program turns down; some of them open."""
    def put(part, name, words):
        word = dice.choice(words)
        if word is None:
            part.pop(name, None)
        else:
            part[name] = word

    put(bike["frame"], "axle", ["quick_release", "nutted", "thru_12", None])
    put(bike["frame"], "shell", ["english", "italian", "french", "swiss", "t47", None])
    put(bike["frame"], "front_cable", ["inside", "outside", None])
    parts = bike["fitted"]
    if parts.get("hanger"):
        put(parts["hanger"], "kind", ["standard", "universal", "axle_claw"])
    if parts.get("front_derailleur"):
        put(parts["front_derailleur"], "mount", ["band_34_9", "cup_bracket", "brazed_tab", None])
    if parts.get("chain"):
        put(parts["chain"], "joining", ["quick_link", "pin", None])
    if parts.get("rear_rotor"):
        put(parts["rear_rotor"], "mount", ["six_bolt", "centre_spline"])
    return bike


with tempfile.TemporaryDirectory() as folder:
    dice, wrong, sheets = random.Random(2026), [], 0
    for i in range(14):
        name = dice.choice(NAMES)
        path = running.save(os.path.join(folder, f"{name}-{i}.json"), changed_at_random(load(bike_path(name)), dice))
        ways = picks(path, wish_path(name))
        sheets += len(ways)
        wrong += check(path, wish_path(name), ways)
    tap.ok("bikes with other facts, and with open ones, too", wrong)
    tap.ok("there were some", [] if sheets >= 10 else [f"{sheets}"])

# --- the page, and what is no sheet -------------------------------------------------------------------------------------

DEMO = [bike_path("quillmoor-trail"), "--catalogue", SHOP, "--wish", wish_path("quillmoor-trail")]
page = run("work", *DEMO, "--way", "c").out.decode()
tap.ok("the page keeps to 79 columns and ends with what comes first", wrong_page(page))
tap.ok("the hand of each cup stands on it", [] if "drive side left-hand thread, left side right-hand thread" in " ".join(page.split()) else [page[:900]])
sheet = json.loads(run("work", *DEMO, "--json").out)
asks = [ask for ask in sheet["to_measure"] if ask["path"] == "/fitted/bottom_bracket/spindle"]
tap.ok("what the way hangs on is to be read, with the reading that it needs",
       [] if [(ask["decides"], ask["stands"]) for ask in asks] == [(True, ["square_jis"])] else [str(asks)])
tap.ok("without a letter it is the first way",
       [] if run("work", *DEMO).out == run("work", *DEMO, "--way", "A").out else ["another"])
ran = run("work", *DEMO, "--way", "Q")
tap.ok("a way that the plan has not is wrong usage, with those that it has",
       [] if ran.status == 2 and b"A to E" in ran.err and not ran.out else [f"{ran.status}: {ran.err}"])
ran = run("work", bike_path("refused/mid-motor"), "--catalogue", SHOP, "--json")
tap.ok("a motor is turned down here too", [] if ran.status == 1 and "refused" in json.loads(ran.out) else [f"{ran.status}: {ran.out}"])
ran = run("work", DEMO[0], "--catalogue", SHOP, "--wish", wish_path("quillmoor-impossible"), "--json")
tap.ok("no way is no sheet", [] if ran.status == 1 and json.loads(ran.out)["way"] is None else [f"{ran.status}: {ran.out[:200]}"])
tap.end()
