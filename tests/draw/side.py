#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""From the side, to scale: where nothing hangs the chain that is drawn has just the pitches that `chain` says to cut, measured along its
own lines and arcs (a wheel of radius R takes a pitch for each 2 asin(p / 2R)); rings and sprockets are pitch circles of one scale
(ISO 606), and the axles stand as far apart as the chain stay of the answer. A bike that says how its axle goes is drawn at rest, and
at full travel where `suspension` says that the axle is."""
import math
import os
import re
import tempfile

import drawings
from drawings import BIKES, SVG, bike_path, draw, draw_or_wait, load, points, save, tap

PITCH = 12.7
WORD = re.compile(r"[MLA]|-?\d+(?:\.\d+)?")
# Places are written to hundredths of a unit, at some 0.5 units a mm: half a millimetre over a dozen ends.
PITCHES = 0.05


def pieces(path):
    """The lines and arcs of a closed path: ('L', from, to) and ('A', radius, clockwise on the page)."""
    words, at, found, command, i = WORD.findall(path.get("d")), None, [], None, 0
    while i < len(words):
        if words[i] in "MLA":
            command, i = words[i], i + 1
        if command == "A":
            radius, _, _, _, sweep, x, y = map(float, words[i:i + 7])
            found.append(("A", radius, sweep == 1))
            i += 7
        else:
            x, y = map(float, words[i:i + 2])
            i += 2
            if command == "L" and (x, y) != at:
                found.append(("L", at, (x, y)))
        at = x, y
    return found


def heading(line):
    (x1, y1), (x2, y2) = line[1:]
    return math.atan2(y2 - y1, x2 - x1)


def pitches(path, scale):
    """Pitches along a path of lines and arcs. What an arc turns is what the line behind it is turned from the line before: its ends
    alone would not tell near half a turn."""
    found, total = pieces(path), 0.0
    lines = [piece for piece in found if piece[0] == "L"]
    for i, piece in enumerate(found):
        if piece[0] == "L":
            total += math.dist(*piece[1:]) / scale / PITCH
        else:
            before = next(p for p in reversed(found[:i]) if p[0] == "L")
            after = next((p for p in found[i:] if p[0] == "L"), lines[0])
            turn = (heading(after) - heading(before)) * (1 if piece[2] else -1)
            total += turn % (2 * math.pi) / (2 * math.asin(PITCH * scale / 2 / piece[1]))
    return total


def circles(drawing):
    """{title: (x, y, r)} of rings and sprockets."""
    found = {}
    for title, group in drawing.groups():
        if title.startswith(("ring ", "sprocket ")) and title.endswith(" T"):
            e = group.find(SVG + "circle")
            found[title] = tuple(float(e.get(name)) for name in ("cx", "cy", "r"))
    return found


def faults_of(bike, layout):
    drawing = draw_or_wait("side", bike_path(bike), "--layout", layout)
    if drawing is None:
        return
    chain = drawings.running.json.loads(drawings.run("chain", bike_path(bike), "--json").out)
    found = circles(drawing)
    scales = [r * 2 * math.sin(math.pi / int(title.split()[1])) / PITCH for title, (_, _, r) in found.items()]
    if max(scales) - min(scales) > 0.02 / 20:
        yield f"scales {scales}"
    at_rest = "suspension" in load(bike_path(bike))
    slack = {(g["ring"], g["sprocket"]): g["rest_slack_links" if at_rest else "slack_links"] for g in chain["gears"]}
    loops = drawing.find("ring ")
    for title, group in loops:
        match = re.match(r"ring (\d+), sprocket (\d+): ", title)
        if not match:
            continue
        gear = int(match[1]), int(match[2])
        path = next(e for e in group.findall(SVG + "path") if "A" in e.get("d"))
        got = pitches(path, scales[0])
        want = chain["links"] - (slack[gear] or 0.0)
        if abs(got - want) > PITCHES:
            yield f"{title}: {got:.3f} pitches are drawn, {want:.3f} are there"
    ring = next(v for k, v in found.items() if k.startswith("ring"))
    sprocket = next(v for k, v in found.items() if k.startswith("sprocket"))
    apart = math.hypot(ring[0] - sprocket[0], ring[1] - sprocket[1]) / scales[0]
    stay = load(bike_path(bike))["frame"]["chainstay_mm"] if at_rest else chain["chainstay_mm"]
    if abs(apart - stay) > 0.1:
        yield f"the axles stand {apart:.2f} mm apart, the stay is {stay}"


def faults_of_travel(bike, layout):
    """The loop at full travel: as long as the chain, about an axle that is where the suspension brings it."""
    given, drawing = load(bike_path(bike))["suspension"], draw("side", bike_path(bike), "--layout", layout)
    (title, group), = drawing.find("at full travel")
    ring, sprocket = map(int, re.search(r"ring (\d+), sprocket (\d+)", title).groups())
    question = {key: given[key] for key in ("axle_mm", "pivot_mm")}
    question |= {"ring": ring, "sprocket": sprocket, "travel_mm": [0, given["travel_mm"]]}
    question |= {"wheel_radius_mm": 360, "wheelbase_mm": 1200, "centre_of_mass_height_mm": 1100}  # no part of where the axle is
    with tempfile.TemporaryDirectory() as folder:
        told = drawings.answer("suspension", save(os.path.join(folder, "suspension.json"), question))
    x, y, _ = circles(drawing)[f"ring {ring} T"]
    scale = next(r for name, (_, _, r) in circles(drawing).items() if name == f"ring {ring} T")
    scale *= 2 * math.sin(math.pi / ring) / PITCH
    circle = group.find(SVG + "circle")
    at = (float(circle.get("cx")) - x) / scale, (y - float(circle.get("cy"))) / scale
    want = next(tuple(row["axle_mm"]) for row in told["rows"] if row["travel_mm"] == given["travel_mm"])
    if math.dist(at, want) > 0.05:
        yield f"the axle at full travel is drawn at {at}, it is at {want}"
    path = next(points(e) for e in group.findall(SVG + "path") if "A" not in e.get("d") and e.get("d").count("L") > 3)
    start = (path[0][0] - x) / scale, (y - path[0][1]) / scale
    if math.dist(start, given["axle_mm"]) > 0.05:
        yield f"its way begins at {start}, the axle at rest is at {given['axle_mm']}"
    links = drawings.answer("chain", bike_path(bike))["links"]
    got = pitches(next(e for e in group.findall(SVG + "path") if "A" in e.get("d")), scale)
    if abs(got - links) > PITCHES:
        yield f"{got:.3f} pitches at full travel, {links} are there"


def main():
    for bike in BIKES:
        lines = [line for layout in ("narrow", "wide") for line in faults_of(bike, layout)]
        tap.ok(f"{bike}: the chain from the side is as long as `chain` says", lines)
    for layout in ("narrow", "wide"):
        tap.ok(f"osier-ridge, {layout}: full travel", list(faults_of_travel("osier-ridge", layout)))
    tap.end()


if __name__ == "__main__":
    main()
