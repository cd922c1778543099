# SPDX-License-Identifier: Apache-2.0
"""A shop cut from the demo's for general solvers, as tests/plan/solver.py makes it and gives it to gringo and clasp;
here to MiniZinc and gecode too.

The MiniZinc model has a variable for each slot, and for each rule a variable that says what the rule tells: one table
constraint of the slots that it looks at and of what is told. What is open of the bike, drawbacks and what a build hangs
on follow from these variables; gears are tables of teeth and cassette; operations of the bench are disjunctions. Both
solvers list every build, which is then reduced to the front by the same code: a front that is ordered by cases and
drawbacks too can't be had by bounding one objective after the other, and on what they finish listing is quicker."""
import os
import re
import subprocess
import sys
import time
from fractions import Fraction

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "tests", "plan"))
import solver  # noqa: E402
from solver import RINGS, SLOTS, half_up, value_of  # noqa: E402

# One of those of solver.py; more parts; more parts and slots.
TERN = [(3, "grebbin-e130-40 grebbin-r130-42 grebbin-e130-38"), (3, "orvash-8-114 orvash-9-116 orvash-8-116"),
        (6, "dunvar-n8-11-30 dunvar-n8-11-34 dunvar-n8-11-32 dunvar-n8-11-40 dunvar-n36 norrbek-8-11-28"),
        (2, "grebbin-x4 tarnel-x6"), (2, "grebbin-box-8 teskel-8w"), (4, "osthem-c1 osthem-l1 osthem-l2 osthem-d1")]
LOOSE = solver.LEFT + ["right_brake_lever", "left_brake_lever"]
INSTANCES = [
    solver.INSTANCES[1],
    ("tern-road", 3, ["cost", "lowest", "highest"], TERN + [(1, "ottrick-d1")], LOOSE, {}),
    ("tern-road", 3, ["cost", "lowest", "highest"],
     TERN + [(2, "ottrick-d1 ottrick-d2"), (2, "tarnel-gb grebbin-ggb")], LOOSE, {}),
]


# --- the model ------------------------------------------------------------------------------------------------------------


def read_rules(lines):
    """What tabulate printed: (rule or plane, name, slots, rows of (choices, what is told))."""
    blocks = []
    for line in lines:
        head, *rest = line.split()
        if head in ("rule", "plane"):
            blocks.append((head, rest[0], rest[1:], []))
        elif head == "row":
            bar = rest.index("|")
            blocks[-1][3].append((rest[:bar], rest[bar + 1:]))
    return blocks


class Model:
    def __init__(self, instance, tables, lines):
        self.instance, self.tables = instance, tables
        self.text, self.shown = ['include "table.mzn";'], []
        self.by_drawback, self.by_hang, self.by_dead = {}, {}, {}
        for s, slot in enumerate(SLOTS):
            self.text.append(f"var 0..{len(instance.choices[slot]) - 1}: x{s};")
            self.shown.append(f'"at({s},\\(x{s}))"')
        for number, block in enumerate(read_rules(lines)):
            (self.add_rule if block[0] == "rule" else self.add_plane)(number, *block[1:])
        for name, by in (("drawback", self.by_drawback), ("hang", self.by_hang), ("dead", self.by_dead)):
            for key, terms in by.items():
                self.show(name, key, " \\/ ".join(terms))
        if len(self.by_dead) == len(tables.classes) > 0:  # else some class is never dead
            self.text.append("constraint not (" + " /\\ ".join(f"dead{k}" for k in self.by_dead) + ");")
        self.add_labour()
        self.add_gears()
        self.add_bounds()
        slots = ", ".join(f"x{s}" for s in range(len(SLOTS)))
        self.text.append(f"solve :: int_search([{slots}], first_fail, indomain_min) satisfy;")
        self.text.append('output [join(" ", [' + ", ".join(self.shown) + '])];')

    def show(self, name, key, condition):
        self.text.append(f"var bool: {name}{key} = {condition};")
        self.shown.append(f'if fix({name}{key}) then "{name}({key})" else "" endif')

    def table(self, variables, rows):
        flat = ", ".join(str(v) for row in rows for v in row)
        shape = f"1..{len(rows)}, 1..{len(variables)}"
        self.text.append(f"constraint table([{', '.join(variables)}], array2d({shape}, [{flat}]));")

    def index(self, slots, choices):
        return [self.instance.choices[slot].index(choice) for slot, choice in zip(slots, choices)]

    def add_rule(self, number, _, slots, rows):
        told, allowed = {}, []
        for choices, said in rows:
            if said[0] != "no":
                allowed.append(self.index(slots, choices) + [told.setdefault(tuple(said), len(told))])
        if not allowed:
            self.text.append("constraint false;")
            return
        self.text.append(f"var 0..{len(told) - 1}: told{number};")
        self.table([f"x{SLOTS.index(slot)}" for slot in slots] + [f"told{number}"], allowed)
        for (cases, hang, *drawbacks), o in told.items():
            term = f"told{number} == {o}"
            for code in drawbacks:
                self.by_drawback.setdefault(self.tables.numbers[code], []).append(term)
            if hang != "-":
                self.by_hang.setdefault(self.tables.numbers[hang], []).append(term)
            for k, (_, members) in enumerate(self.tables.classes):
                if cases != "every" and not int(cases, 16) >> min(members) & 1:
                    self.by_dead.setdefault(k, []).append(term)

    def add_plane(self, number, place, slots, rows):
        if "line_error" not in self.instance.objectives:
            return
        steps = []
        for choices, (mm,) in rows:
            there = dict(zip(slots, choices)).get(place, self.instance.choices[place][0]) != "none"
            step = 1000 if mm == "open" else self.instance.line_steps(float(mm))
            steps.append(self.index(slots, choices) + [step if there else -1])
        self.text.append(f"var -1..1000: line{number};")
        self.table([f"x{SLOTS.index(slot)}" for slot in slots] + [f"line{number}"], steps)
        self.shown.append(f'if fix(line{number}) >= 0 then "line(\\(line{number}))" else "" endif')

    def is_one_of(self, slot, wanted):
        """A condition: the choice of the slot is one for which wanted(choice)."""
        return " \\/ ".join(f"x{SLOTS.index(slot)} == {c}" for c, choice in enumerate(self.instance.choices[slot])
                            if wanted(choice)) or "false"

    def add_labour(self):
        instance = self.instance
        for o, (slots, _, _) in enumerate(instance.operations):
            terms = [self.is_one_of(slot, lambda c, s=slot: c != instance.same(s)) for slot in slots]
            terms += [self.is_one_of(slot, lambda c: c in instance.parts) for slot in instance.only_new[o]]
            self.show("do", o, " \\/ ".join(terms) or "false")

    def column(self, slot, of):
        """The number of a choice, as an expression."""
        numbers = ", ".join(str(of(choice)) for choice in self.instance.choices[slot])
        return f"[{numbers}][x{SLOTS.index(slot)} + 1]"

    def add_gears(self):
        instance = self.instance

        def teeth(slot, none):
            return lambda c: none if c == "none" else int(value_of(instance.part(slot, c)["teeth"]))

        sizes = sorted({teeth(slot, 0)(c) for slot in RINGS for c in instance.choices[slot]} - {0})
        smallest = ", ".join(self.column(slot, teeth(slot, 999)) for slot in RINGS)
        largest = ", ".join(self.column(slot, teeth(slot, 0)) for slot in RINGS)
        self.text.append(f"var 0..999: teeth_least = min([{smallest}]); var 0..999: teeth_most = max([{largest}]);")
        cassette = f"x{SLOTS.index('cassette')}"
        for name, ring, of in (("lowest", "teeth_least", max), ("highest", "teeth_most", min)):
            rows = [(size, c, instance.gear(size, of(instance.sprockets(choice))))
                    for size in sizes for c, choice in enumerate(instance.choices["cassette"])]
            self.text.append(f"var 0..10000000: {name};")
            self.table([ring, cassette, name], rows)
            self.shown.append(f'"{name}(\\({name}))"')
        count = " + ".join(f"bool2int({self.is_one_of(slot, lambda c: c != 'none')})" for slot in RINGS)
        self.text.append(f"constraint {count} == {instance.wish['rings']};")

    def price(self, choice):
        parts = self.instance.parts
        return int(Fraction(parts[choice][1]["price"]) * 100) if choice in parts else 0

    def add_bounds(self):
        instance, wish = self.instance, self.instance.wish
        if "lowest_m_max" in wish:
            self.text.append(f"constraint lowest <= {half_up(Fraction(str(wish['lowest_m_max'])) * 10000)};")
        if "highest_m_min" in wish:
            self.text.append(f"constraint highest >= {half_up(Fraction(str(wish['highest_m_min'])) * 10000)};")
        if "budget" in wish:
            terms = [self.column(slot, self.price) for slot in SLOTS]
            terms += [f"{labour} * bool2int(do{o})" for o, (_, _, labour) in enumerate(instance.operations)]
            self.text.append(f"constraint {' + '.join(terms)} <= {wish['budget']};")


def gecode(model, most_s):
    """What is printed of every solution, one a line; seconds, as gecode itself counts them."""
    done = subprocess.run(["minizinc", "--solver", "gecode", "--input-from-stdin", "-a", "-s"],
                          input="\n".join(model).encode(), capture_output=True, timeout=most_s)
    text = done.stdout.decode()
    if done.returncode or ("==========" not in text and "=UNSATISFIABLE=" not in text):
        raise AssertionError("minizinc: " + done.stderr.decode()[:1000] + text[-300:])
    return text, sum(map(float, re.findall(r"(?:init|solve)Time=([0-9.]+)", text)))


# --- a row ----------------------------------------------------------------------------------------------------------------


def compare(folder, given, time_plan):
    """All three on one instance, same front: (what it is, ms of the planner, seconds of clasp, of gecode)."""
    instance = solver.Instance(folder, *given)
    lines = instance.tables()
    tables = solver.Tables(instance)
    plan, _ = solver.answer("plan", "plan", instance.bike_path, "--json", "--catalogue", instance.shop_path,
                            "--wish", instance.wish_path, "--ways", "1000000", status=None)
    grounded = solver.ground(solver.program(instance, tables))
    start = time.monotonic()
    printed = solver.solve(grounded)
    clasp_s = time.monotonic() - start
    front, builds, _ = solver.front_of(instance, tables, solver.answer_sets(printed))
    printed, gecode_s = gecode(Model(instance, tables, lines).text, 600)
    other, builds_too, _ = solver.front_of(instance, tables, solver.answer_sets(printed))
    wrong = solver.differences(instance, tables, front, plan)
    if wrong or front != other or builds != builds_too:
        raise AssertionError(f"{given[0]}, seed {given[1]}: the fronts differ: {wrong[:3]}, {len(front)} {len(other)}")
    ms = time_plan(instance.shop_path, instance.wish_path, instance.bike_path)
    return f"{len(instance.parts)} parts, {builds:,} builds, front {len(front)}", ms, clasp_s, gecode_s
