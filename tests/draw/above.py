#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""From above, to scale: the chain's ends stand as far apart across the bike as `line` says ring and sprocket do, a single ring as far
from the centre plane as its chain line; the lines of rings and sprockets are as long as their pitch circles (ISO 606:
d = p / sin(pi / z)), and the angle told is the answer's. Wide, dimensions end at what they name. A spacer and an offset are as
thick as the list of parts says, beside a ring that is as thick as it says; a plane that nobody measured is an open box."""
import csv
import math
import os
import re
import tempfile

import drawings
from drawings import BIKES, SHOP, SVG, bike_path, draw, load, plan_options, points, rectangle, save, tap

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
    centre = centre_of(drawing)
    rings = [teeth for kind, teeth in found if kind == "ring"]
    if len(rings) == 1 and abs((found["ring", rings[0]][1] - centre) / ACROSS[layout] - told["front_mm"]) > 2 * PLACE:
        yield f"the ring stands at {(found['ring', rings[0]][1] - centre) / ACROSS[layout]} mm"
    scales = [length * math.sin(math.pi / teeth) / 12.7 for (_, teeth), (length, _) in found.items()]
    if max(scales) - min(scales) > 2 * PLACE / 25:
        yield f"units a mm along the bike: {min(scales)} to {max(scales)}"
    if len(found) != len(rings) + len({s for _, s in angles}):
        yield f"{len(found)} discs"


def faults_of_words(drawing):
    """Both angles, the heading of the section and the word for the stay have found a place, and none of them stands over the stay."""
    texts = [text.text.removeprefix("~") for text in drawing.texts()]
    thick = [title for title, group in drawing.find("chain on ring") if group.find(SVG + "path").get("stroke-width") == "3"]
    lost = [angle for angle in (re.search(r"[0-9.]+°", title)[0] for title in thick) if angle not in texts]
    if lost or "stay" not in texts or not any(text.startswith("At the ring") for text in texts):
        yield f"nothing tells {lost}, or a heading or the stay has found no place: {texts}"
    stay = rectangle(next(group for _, group in drawing.find("chain stay")))
    yield from (f"'{text.text}' stands over the stay" for text in drawing.texts()
                if text.anchor == "middle" and abs(text.x - (stay[0] + stay[2]) / 2) < 24 and stay[1] + 4 < text.y < stay[3] + 8)


def centre_of(drawing):
    return next(points(e)[0][1] for e in drawing.root.iter(SVG + "path") if e.get("stroke-dasharray") == "18 4 3 4")


def faults_of_places(bike):
    """The dimensions of the wide layout: hub face, and the planes of the extreme sprockets, which lie as far from a measured ring
    as `line` says."""
    document, drawing = load(bike_path(bike)), draw("above", bike_path(bike), "--layout", "wide")
    ring = document["fitted"]["rings"][0]
    plane = document["fitted"]["crank"][ring.get("place", "outer") + "_plane_mm"]
    angles = [a for a in drawings.answer("line", bike_path(bike))["angles"] if a["ring"] == ring["teeth"]]
    want = {a["sprocket"]: plane - a["offset_mm"] for a in angles}
    want = {teeth: want[teeth] for teeth in (min(want), max(want))}
    want["hub face"] = document["frame"]["hub_width_mm"] / 2 + document["frame"].get("rear_offset_mm", 0)
    found = {}
    for title, group in drawing.find("from the centre plane to"):
        upright = [points(e) for e in group.findall(SVG + "path") if len(points(e)) == 2 and points(e)[0][0] == points(e)[1][0]]
        sprocket = re.search(r"sprocket (\d+) T", title)
        length = max(abs(b[1] - a[1]) for a, b in upright)
        found[int(sprocket[1]) if sprocket else "hub face"] = length / ACROSS["wide"]
    if found.keys() != want.keys():
        yield f"dimensions of {sorted(map(str, found))}, wanted {sorted(map(str, want))}"
    yield from (f"{what}: {found[what]} mm, {mm} in the answer" for what, mm in want.items()
                if what in found and abs(found[what] - mm) > PLACE)


def part(kind, name):
    with open(os.path.join(SHOP, kind + ".csv"), encoding="utf-8", newline="") as file:
        return next(row for row in csv.DictReader(file) if row["id"] == name)


def way_with(options, test):
    """The letter and the parts of the first way shown whose parts pass the test."""
    told = drawings.answer("plan", bike_path("quillmoor-trail"), *options)
    shown = [build["parts"] for build in told["builds"] if build["picks"]]
    return next((chr(ord("A") + i), parts) for i, parts in enumerate(shown) if test(parts))


def plate_of(drawing, ring):
    """The ring's plate in the section, and its units a mm."""
    group = next(g for title, g in drawing.find(f"ring {ring['teeth']} T") if g.find(SVG + "rect") is not None)
    box = rectangle(group)
    return box, (box[2] - box[0]) / float(ring["thickness_mm"])


def faults_of_spacers(layout):
    with tempfile.TemporaryDirectory() as folder:
        wish = {"rings": 1, "lowest_m_max": 1.6, "objectives": ["cost", "line_error", "lowest"]}
        options = ["--catalogue", SHOP, "--wish", save(os.path.join(folder, "wish.json"), wish)]
        letter, parts = way_with(options, lambda parts: parts["ring_washers"] not in ("none", "keep"))
        drawing = draw("above", bike_path("quillmoor-trail"), *options, "--way", letter, "--layout", layout)
    thickness = float(part("spacer", parts["ring_washers"])["thickness_mm"])
    ring, scale = plate_of(drawing, part("ring", parts["outer_ring"]))
    (title, group), = drawing.find("spacers under the ring bolts")
    box = rectangle(group)
    if abs((box[2] - box[0]) / scale - thickness) > 2 * PLACE or f"{thickness:.1f}" not in title:
        yield f"{title}: {(box[2] - box[0]) / scale} mm, {thickness} in the list"
    if abs(box[2] - ring[0]) > PLACE:
        yield f"it ends at {box[2]}, the ring begins at {ring[0]}"
    if not [e for e in group.iter(SVG + "title") if e.text == "adapted"]:
        yield "it has no tile"


def faults_of_offset(layout):
    options = plan_options("quillmoor-trail")
    letter, parts = way_with(options, lambda parts: parts["outer_ring"].startswith("pellmar-d-"))
    drawing = draw("above", bike_path("quillmoor-trail"), *options, "--way", letter, "--layout", layout)
    row = part("ring", parts["outer_ring"])
    ring, scale = plate_of(drawing, row)
    (title, group), = drawing.find("offset")
    level = [points(e) for e in group.findall(SVG + "path") if len(points(e)) == 2 and points(e)[0][1] == points(e)[1][1]]
    (x1, _), (x2, _) = level[0]
    if abs((x2 - x1) / scale - float(row["offset_mm"])) > 2 * PLACE or f"{float(row['offset_mm']):.1f}" not in title:
        yield f"{title}: {(x2 - x1) / scale} mm, {row['offset_mm']} in the list"
    if abs(x1 - (ring[0] + ring[2]) / 2) > PLACE:
        yield f"it begins at {x1}, the ring stands from {ring[0]} to {ring[2]}"


def faults_of_open(layout):
    """A bike whose spindle nobody measured, on a way that leaves the bracket: the figure is drawn as far as it is known."""
    drawing = draw("above", bike_path("wren-24"), *plan_options("wren-24"), "--layout", layout)
    boxes = [e for e in drawing.root.iter(SVG + "rect") if e.get("stroke-dasharray") == "3.4 2.7"]
    texts = [text.text for text in drawing.texts() if text.text.startswith("[")]
    if chains(drawing):
        yield "a chain on a ring whose plane is open"
    if len(boxes) < 4 or len(texts) < 2:  # the ring in plan and section, its chain line and its room
        yield f"{len(boxes)} open boxes with {texts}"
    if "waits for the spindle length of the bottom bracket" not in drawing.said("desc"):
        yield drawing.said("desc")
    hatched = [g for title, g in drawing.find("chain stay") if g.find(SVG + "path") is not None]
    if len(hatched) != 2:
        yield "the stay, which was measured, is not drawn"


def main():
    for bike in BIKES:
        lines = [line for layout in ACROSS for line in faults_of(bike, layout)]
        tap.ok(f"{bike}: across it stands as `line` says", lines)
        drawings_of = [draw("above", bike_path(bike), *plan_options(bike), "--mode", mode, "--layout", layout)
                       for mode in ("now", "way", "both") for layout in ACROSS]
        tap.ok(f"{bike}: all words find a place", [line for drawing in drawings_of for line in faults_of_words(drawing)])
        tap.ok(f"{bike}: wide, dimensions end at what they name", list(faults_of_places(bike)))
    for layout in ACROSS:
        tap.ok(f"{layout}: a spacer between ring and crank", list(faults_of_spacers(layout)))
        tap.ok(f"{layout}: the offset of a ring", list(faults_of_offset(layout)))
        tap.ok(f"{layout}: a plane that nobody measured", list(faults_of_open(layout)))
    tap.end()


if __name__ == "__main__":
    main()
