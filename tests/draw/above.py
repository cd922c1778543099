#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""From above, to scale: the chain's ends stand as far apart across the bike as `line` says ring and sprocket do, a single ring as far
from the centre plane as its chain line; the lines of rings and sprockets are as long as their pitch circles (ISO 606:
d = p / sin(pi / z)), and the angle told is the answer's."""
import math
import re

import drawings
from drawings import BIKES, SVG, bike_path, draw, points, tap

ACROSS = {"narrow": 3.2, "wide": 4.0}  # units a mm
PLACE = 0.012                          # of a place on the page that is written to hundredths


def line_of(group):
    return points(group.find(SVG + "path"))


def chains(drawing):
    """{(ring, sprocket): (across from sprocket to ring, title)}."""
    found = {}
    for title, group in drawing.find("chain on ring"):
        ring, sprocket = map(int, re.findall(r"\d+", title)[:2])
        (_, y1), (_, y2) = line_of(group)
        found[ring, sprocket] = y2 - y1, title
    return found


def discs(drawing):
    """{'ring' or 'sprocket', teeth: (length, y)}, of the plan."""
    found = {}
    for title, group in drawing.groups():
        match = re.match(r"(ring|sprocket) (\d+) T", title)
        if match and group.find(SVG + "path") is not None:
            (x1, y1), (x2, _) = line_of(group)
            found.setdefault((match[1], int(match[2])), (x2 - x1, y1))
    return found


def faults_of(bike, layout):
    drawing = draw("above", bike_path(bike), "--layout", layout)
    told = drawings.answer("line", bike_path(bike))
    angles = {(a["ring"], a["sprocket"]): a for a in told["angles"]}
    for gear, (across, title) in chains(drawing).items():
        want = angles[gear]
        if abs(across / ACROSS[layout] - want["offset_mm"]) > 2 * PLACE:
            yield f"{title}: {across / ACROSS[layout]} mm across, {want['offset_mm']} in the answer"
        if f"{abs(want['angle_deg']):.1f}" not in title:
            yield f"{title}: {want['angle_deg']} in the answer"
    found = discs(drawing)
    centre = next(points(e)[0][1] for e in drawing.root.iter(SVG + "path") if e.get("stroke-dasharray") == "18 4 3 4")
    rings = [teeth for kind, teeth in found if kind == "ring"]
    if len(rings) == 1 and abs((found["ring", rings[0]][1] - centre) / ACROSS[layout] - told["front_mm"]) > 2 * PLACE:
        yield f"the ring stands at {(found['ring', rings[0]][1] - centre) / ACROSS[layout]} mm"
    scales = [length * math.sin(math.pi / teeth) / 12.7 for (_, teeth), (length, _) in found.items()]
    if max(scales) - min(scales) > 2 * PLACE / 25:
        yield f"units a mm along the bike: {min(scales)} to {max(scales)}"
    if len(found) != len(rings) + len({s for _, s in angles}):
        yield f"{len(found)} discs"


def main():
    for bike in BIKES:
        lines = [line for layout in ACROSS for line in faults_of(bike, layout)]
        tap.ok(f"{bike}: across it stands as `line` says", lines)
    tap.end()


if __name__ == "__main__":
    main()
