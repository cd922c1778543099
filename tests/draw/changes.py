#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What changes: every slot of a pick has a tile that says what the plan says of it; of a bike as it stands the tiles of its joints are
among the verdicts of `fit`, and the worst of these is drawn."""
import drawings
from drawings import BIKES, SVG, bike_path, draw, plan_options, run, tap

LABELS = {row["slot"]: row["label"] for row in tap.table("slots")}
RINGS = ["outer_ring", "middle_ring", "inner_ring"]
MARKS = {"adapter": "adapted", "drawback": "drawback", "measure": "measure", "clash": "clash"}
WORST = ["adapter", "drawback", "measure", "clash"]
NAMES = {"cables": "cable set"}


def tiles(group):
    """The words of the tiles within a group."""
    return [g.find(SVG + "title").text for g in group.iter(SVG + "g") if g is not group and g.get("transform")]


def rows(drawing):
    """{label: word of its first tile} of every part."""
    found = {}
    for title, group in drawing.groups():
        name, _, rest = title.partition(": ")
        if rest and " and " not in name and tiles(group) and not group.get("transform"):
            found[name] = tiles(group)[0]
    return found


def label_of(slot, parts):
    alone = slot in RINGS and parts[slot] != "none" and sum(parts[r] != "none" for r in RINGS) == 1
    return "ring" if alone else NAMES.get(slot, LABELS[slot])


def faults_of_pick(bike):
    drawing = draw("changes", bike_path(bike), *plan_options(bike), "--way", "A")
    plan = drawings.answer("plan", bike_path(bike), *plan_options(bike))
    parts = next(build for build in plan["builds"] if build.get("picks"))["parts"]
    found = rows(drawing)
    for slot, part in parts.items():
        word = found.get(label_of(slot, parts))
        if part not in ("keep", "none") and word != "new" or part == "none" and word not in (None, "comes off") or \
                part == "keep" and word not in (None, "stays"):
            yield f"{slot}: {part} in the plan, '{word}' in the figure"


def faults_of_now(bike):
    drawing = draw("changes", bike_path(bike))
    told = run("fit", bike_path(bike), "--json")
    verdicts = {finding["verdict"] for finding in drawings.running.json.loads(told.out)["interfaces"]} - {"fits"}
    drawn = {word for _, group in drawing.groups() for word in tiles(group)} - {"stays"}
    if not drawn <= {MARKS[v] for v in verdicts}:
        yield f"drawn {sorted(drawn)}, told {sorted(verdicts)}"
    worst = next((v for v in reversed(WORST) if v in verdicts), None)
    if worst and MARKS[worst] not in drawn:
        yield f"{worst} is not drawn"


def main():
    for bike in BIKES:
        tap.ok(f"{bike}: a way's tiles are what the plan says", list(faults_of_pick(bike)))
        tap.ok(f"{bike}: the tiles of now are what `fit` says", list(faults_of_now(bike)))
    tap.end()


if __name__ == "__main__":
    main()
