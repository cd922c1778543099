#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Choices: every way of the plan stands where its cost and the logarithm of its lowest gear put it, picks with their letters, dashed
where they wait for a measurement; the scales are read off the axes' own numbers."""
import math

import drawings
from drawings import BIKES, SVG, bike_path, draw, plan_options, tap

PLACE = 0.03  # two places of hundredths
ASIDE = 90    # a letter is moved no further
DOTS = 200


def axes(drawing):
    """(cost -> x, lowest -> y) by the outermost numbers of each axis."""
    texts = [t for t in drawing.texts() if t.text.replace(".", "").isdigit()]
    costs = sorted((float(t.text), t.x) for t in texts if t.anchor == "middle" and not t.bold)
    gears = sorted((float(t.text), t.y) for t in texts if t.anchor == "end")
    (c1, x1), (c2, x2), (g1, y1), (g2, y2) = costs[0], costs[-1], gears[0], gears[-1]
    base = 5  # a number's base line stands so far below its tick
    return (lambda cost: x1 + (cost - c1) * (x2 - x1) / (c2 - c1),
            lambda gear: y1 - base + (y2 - y1) * math.log(gear / g1) / math.log(g2 / g1))


def squares(group):
    found = []
    for e in group.iter(SVG + "rect"):
        x, y, w, h = (float(e.get(name)) for name in ("x", "y", "width", "height"))
        found.append((x + w / 2, y + h / 2, e.get("stroke-dasharray")))
    return found


def faults_of(bike):
    drawing = draw("choices", bike_path(bike), *plan_options(bike), "--layout", "wide")
    plan = drawings.answer("plan", bike_path(bike), *plan_options(bike), "--ways", "1000")
    builds = sorted(plan["builds"], key=lambda b: b["cost"])
    picks = [b for b in builds if b.get("picks")]
    x_of, y_of = axes(drawing)
    # Stretches over the numbers that the axis shows: a hundredth there is more at its ends.
    near = lambda a, b: abs(a - b) < 12 * PLACE
    letters = [(title, squares(group)[0]) for title, group in drawing.groups() if title[1:3] == ", "]
    if len(letters) != len(picks):
        yield f"{len(letters)} letters, {len(picks)} picks"
    for letter, pick in zip("ABCDE", picks):
        x, y, dashes = next(square for title, square in letters if title.startswith(letter + ","))
        if not near(y, y_of(pick["lowest_m"])) or abs(x - x_of(pick["cost"] / 100)) > ASIDE:
            yield f"{letter} at {x}, {y}; the plan puts it at {x_of(pick['cost'] / 100)}, {y_of(pick['lowest_m'])}"
        if (dashes is None) != pick["certain"]:
            yield f"{letter}: certain is {pick['certain']}"
    order = [title for title, _ in drawing.groups()]
    if any(order.index(title) < next(i for i, t in enumerate(order) if t.startswith("now")) for title, _ in letters):
        yield "the line of now strikes a letter"
    dots = squares(drawing.find("ways that have no letter")[0][1])
    rest = [b for b in builds if not b.get("picks")]
    if len(dots) != min(len(rest), DOTS):
        yield f"{len(dots)} small squares, {len(rest)} other ways"
    for x, y, _ in dots:
        if not any(near(x, x_of(b["cost"] / 100)) and near(y, y_of(b["lowest_m"])) for b in rest):
            yield f"no way for the small square at {x}, {y}"
            break


def main():
    for bike in BIKES:
        tap.ok(f"{bike}: its ways stand where the plan puts them", list(faults_of(bike)))
    tap.end()


if __name__ == "__main__":
    main()
