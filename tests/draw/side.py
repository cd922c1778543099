#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""From the side, to scale: where nothing hangs the chain that is drawn has just the pitches that `chain` says to cut, measured along its
own lines and arcs (a wheel of radius R takes a pitch for each 2 asin(p / 2R)); rings and sprockets are pitch circles of one scale
(ISO 606), and the axles stand as far apart as the chain stay of the answer."""
import math
import re

import drawings
from drawings import BIKES, SVG, bike_path, draw_or_wait, tap

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
    slack = {(g["ring"], g["sprocket"]): g["slack_links"] for g in chain["gears"]}
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
    if abs(apart - chain["chainstay_mm"]) > 0.1:
        yield f"the axles stand {apart:.2f} mm apart, the stay is {chain['chainstay_mm']}"


def main():
    for bike in BIKES:
        lines = [line for layout in ("narrow", "wide") for line in faults_of(bike, layout)]
        tap.ok(f"{bike}: the chain from the side is as long as `chain` says", lines)
    tap.end()


if __name__ == "__main__":
    main()
