#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The stairs say what `gears` says: a tread for each gear in rising order, as wide as the others, as high as the logarithm of its metres,
boxes round the gears that repeat each other."""
import math

import drawings
from drawings import BIKES, SVG, bike_path, draw, plan_options, points, rectangle, tap

HUNDREDTH = 0.011  # a place on the page is written to a hundredth
REPEATED = next(row["value"] for row in tap.standard("limits") if row["name"] == "repeated_step_percent")


def treads(drawing):
    """[(metres as told, left, right, y)] in the order of the drawing."""
    found = []
    for title, group in drawing.groups():
        if " a turn" in title:
            (left, y), (right, _) = points(group.find(SVG + "path"))
            found.append((title, left, right, y))
    return found


def faults_of(bike):
    gears = drawings.answer("gears", bike_path(bike))["gears"]
    metres = [gear["development_m"] for gear in gears]
    drawing = draw("steps", bike_path(bike))
    found = treads(drawing)
    if len(found) != len(gears):
        yield f"{len(found)} treads, {len(gears)} gears"
        return
    low, high = found[0][3], found[-1][3]
    for gear, (title, left, right, y) in zip(gears, found):
        share = math.log(gear["development_m"] / metres[0]) / math.log(metres[-1] / metres[0])
        told = float(title.split(": ")[1].split(" ")[0])
        if abs(y - (low + share * (high - low))) > HUNDREDTH or abs(told - gear["development_m"]) > 0.00051:
            yield f"{title}: at {y}, {gear['development_m']} m in the answer"
        if abs(right - left - (found[-1][2] - found[0][1]) / len(found)) > 2 * HUNDREDTH:
            yield f"{title}: {right - left} wide"
    steps = [100 * (b / a - 1) for a, b in zip(metres, metres[1:])]
    boxed = {i for _, group in drawing.find("gears that feel as one") for i, t in enumerate(found)
             if rectangle(group)[0] < (t[1] + t[2]) / 2 < rectangle(group)[2]}
    wanted = {i + k for i, step in enumerate(steps) if step < REPEATED for k in (0, 1)}
    if boxed != wanted:
        yield f"boxes round {sorted(boxed)}, not {sorted(wanted)}"


def main():
    for bike in BIKES:
        tap.ok(f"{bike}: its stairs are those of `gears`", list(faults_of(bike)))
    both = draw("steps", bike_path("quillmoor-trail"), *plan_options("quillmoor-trail"), "--way", "D")
    now = drawings.answer("gears", bike_path("quillmoor-trail"))["gears"]
    plan = drawings.answer("plan", bike_path("quillmoor-trail"), *plan_options("quillmoor-trail"))
    pick = [build for build in plan["builds"] if build.get("picks")][3]
    told = treads(both)
    way = told[len(now):]
    lines = [] if len(told) > len(now) else ["no way beside now"]
    for which, value in ((0, pick["lowest_m"]), (-1, pick["highest_m"])):
        if way and f"{value:.3f} m" not in way[which][0]:
            lines.append(f"{way[which][0]}: the plan has {value}")
    tap.ok("a way beside now ends where the plan says", lines)
    tap.end()


if __name__ == "__main__":
    main()
