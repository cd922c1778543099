#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What must hold between plans of one bike from shops of a thousand parts and more, where no oracle is asked: rows and columns in
another order, a part twice, a part that is dearer and heavier, less money, a harder gear, two shops together. Any slot may change."""
import json
import os
import random
import sys
import tempfile

import instances
import running
from instances import tap

BIKES = [("fallow-26", 1000, 5), ("harrow-stone", 1000, 5), ("marram-gravel", 1500, 3)]


class Question:
    """A demo bike, weighed, with its own wish, and a made-up shop with the demo's parts."""

    def __init__(self, folder, name, size, seed):
        self.folder, self.name, self.n, self.draw = folder, name, 0, random.Random(seed)
        self.bike, self.wish = running.load(running.bike_path(name)), running.load(running.wish_path(name))
        self.shop = running.load(os.path.join(running.SHOP, "shop.json"))
        running.weigh(self.bike)
        self.wish["objectives"] = self.wish.get("objectives", ["cost", "lowest", "highest"])
        self.kinds = instances.made_up(os.path.join(folder, "made"), size, seed)
        for kind, rows in instances.read_shop(running.SHOP).items():
            self.kinds.setdefault(kind, []).extend(rows)
        for kind, rows in self.kinds.items():  # ties; and no mass that hangs on the others'
            for row in rows:
                row["price"] = f"{5 * max(1, round(float(row['price']) / 5)):.2f}" if float(row["price"]) else row["price"]
                row["mass_g"] = row.get("mass_g") or "100"
        self.first = self.ask()
        self.ways = json.loads(self.first)["builds"]

    def ask(self, kinds=None, wish=None):
        """The answer's bytes."""
        self.n += 1
        there = os.path.join(self.folder, str(self.n))
        shop = instances.write_shop(os.path.join(there, "shop"), kinds or self.kinds, self.shop)
        bike = running.save(os.path.join(there, "bike.json"), self.bike)
        wish = running.save(os.path.join(there, "wish.json"), wish or self.wish)
        return running.run("plan", bike, "--json", "--catalogue", shop, "--wish", wish, "--ways", "1000000").out

    def plan(self, **changes):
        return json.loads(self.ask(**changes))["builds"]

    def with_part(self, part, **changes):
        kind = next(kind for kind, rows in self.kinds.items() for row in rows if row["id"] == part)
        row = next(row for row in self.kinds[kind] if row["id"] == part)
        return {**self.kinds, kind: self.kinds[kind] + [{**row, **{key: change(row[key]) for key, change in changes.items()}}]}

    def used(self):
        """Parts of the shop that some way has, in order."""
        return sorted({part for way in self.ways for part in way["parts"].values() if part and part not in ("keep", "none")})


def cap_m(q):
    """The highest gear counts up to what the rider's top cadence turns at 45 km/h."""
    return round(750 / (running.value_of((q.bike.get("rider") or {}).get("cadence_rpm")) or [90])[-1], 4)


def bare(way, *without):
    return {key: value for key, value in way.items() if key not in ("interfaces", "picks", "stand_ins", *without)}


def by_parts(ways, *without):
    return {json.dumps(way["parts"]): bare(way, *without) for way in ways}


def unlike(before, after):
    """What differs, and in which way."""
    wrong = [f"only before: {key}" for key in before.keys() - after.keys()]
    wrong += [f"only after: {key}" for key in after.keys() - before.keys()]
    for key in before.keys() & after.keys():
        wrong += [f"{what}: {before[key][what]}, then {after[key].get(what)}: {key}" for what in before[key]
                  if before[key][what] != after[key].get(what)]
    return wrong[:3]


def check_mixed(q):
    mixed = {}
    for kind, rows in q.kinds.items():
        columns = list(dict.fromkeys(column for row in rows for column in row))
        q.draw.shuffle(columns)
        mixed[kind] = [{column: row.get(column, "") for column in columns} for row in q.draw.sample(rows, len(rows))]
    tap.ok(f"{q.name}: rows and columns in any order, to the byte", [] if q.ask(kinds=mixed) == q.first else ["other bytes"])


def check_twin(q):
    part = q.draw.choice(q.used())
    after = q.plan(kinds=q.with_part(part, id=lambda id: id + "~"))
    wrong = unlike(by_parts(q.ways, "equals"), by_parts(after, "equals"))
    more = {key: way["equals"] for key, way in by_parts(after).items()}
    for way in q.ways:
        key, grows = json.dumps(way["parts"]), part in way["parts"].values()
        if key in more and (more[key] <= way["equals"] if grows else more[key] < way["equals"]):
            wrong.append(f"{way['equals']} equals, then {more[key]}: {key}")
    tap.ok(f"{q.name}: {part} twice", wrong[:3])


def check_dominated(q):
    for part in q.draw.sample(q.used(), min(2, len(q.used()))):
        kinds = q.with_part(part, id=lambda id: "!" + id, price=lambda price: f"{float(price) + 1:.2f}",
                            mass_g=lambda grams: str(float(grams) + 1))
        tap.ok(f"{q.name}: one like {part}, dearer and heavier", unlike(by_parts(q.ways), by_parts(q.plan(kinds=kinds))))


def check_cuts(q):
    """A tighter bound at what some way has."""
    at = q.draw.choice(q.ways)
    bounds = [("budget", at["cost"], lambda way: way["cost"] <= at["cost"])]
    if "lowest" in q.wish["objectives"]:
        bounds.append(("lowest_m_max", at["lowest_m"], lambda way: way["lowest_m"] <= at["lowest_m"]))
    for bound, value, keeps in bounds:
        after = q.plan(wish={**q.wish, bound: value})
        left = [way for way in q.ways if keeps(way)]
        tap.ok(f"{q.name}: {bound} {value}, {len(left)} of {len(q.ways)} ways", unlike(by_parts(left), by_parts(after)))


def merits(q, way):
    """What is compared, smaller is better. A line error that is not known is worse than any."""
    values = {"cost": way["cost"], "lowest": way["lowest_m"], "highest": -min(way["highest_m"], cap_m(q)), "mass": way["mass_g"],
              "line_error": 1e9 if way["line_error_mm"] is None else way["line_error_mm"]}
    return [values[objective] for objective in q.wish["objectives"]]


def check_halves(q):
    """Of each way of a half of the shop the whole has one that is no worse in all that is compared."""
    first = {kind: q.draw.sample(rows, len(rows) // 2) for kind, rows in q.kinds.items()}
    ids = {row["id"] for rows in first.values() for row in rows}
    second = {kind: [row for row in rows if row["id"] not in ids] for kind, rows in q.kinds.items()}
    whole = [(set(way["drawbacks"]), merits(q, way)) for way in q.ways]
    for half in (first, second):
        ways = q.plan(kinds=half)
        wrong = [way["parts"] for way in ways if not any(
            drawbacks <= set(way["drawbacks"]) and all(x <= y for x, y in zip(values, merits(q, way))) for drawbacks, values in whole)]
        tap.ok(f"{q.name}: half of the shop, {len(ways)} ways", wrong[:2])


def main():
    for name, size, seed in BIKES:
        with tempfile.TemporaryDirectory() as folder:
            q = Question(folder, name, size, seed)
            tap.ok(f"{name}: {len(q.ways)} ways", [] if len(q.ways) > 10 else ["hardly any"])
            for check in (check_mixed, check_twin, check_dominated, check_cuts, check_halves):
                check(q)
    tap.end()


if __name__ == "__main__":
    sys.exit(main())
