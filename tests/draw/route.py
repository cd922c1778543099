#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The figure of a route says what `ride` says: the stretches of a lane add up to the distances that are below the band, above it and on
foot, stand where their words say, and the pitches between their lines; the profile rises as far as the route. Wide, the steps of a
ring's lane run in each of its gears as far as `ride` pedals in it."""
import re

import drawings
from drawings import BIKES, LOOP, SVG, bike_path, draw, plan_options, points, tap

RIGHT, LEAST = 10, 4
STATES = {"below the band": "below", "no gear is high enough": "above", "on foot": "walked"}


def left_of(drawing):
    """Where distances begin: at the left edge of the lanes."""
    return min(float(e.get("x")) for e in drawing.root.iter(SVG + "rect") if e.get("fill") == "none")


def stretches(drawing):
    """[(state, from_m, metres, left, right, top)]"""
    found = []
    for title, group in drawing.groups():
        state = next((s for s in STATES if title.startswith(s)), None)
        if state is None:
            continue
        km, metres = map(float, re.findall(r"\d+(?:\.\d+)?", title)[:2])
        box = group.find(SVG + "rect")
        if box is not None:
            left, width = float(box.get("x")), float(box.get("width"))
            found.append((STATES[state], km * 1000, metres, left, left + width, float(box.get("y"))))
        else:
            xs = [x for e in group.findall(SVG + "path") for x, _ in points(e)]
            ys = [y for e in group.findall(SVG + "path") for _, y in points(e)]
            found.append((STATES[state], km * 1000, metres, min(xs), max(xs), min(ys)))
    return found


def faults_of(drawing, told, tops):
    found, left_edge = [s for s in stretches(drawing) if tops(s[5])], left_of(drawing)
    lines = sorted({points(e)[0][0] for e in drawing.root.iter(SVG + "path") if e.get("stroke-dasharray") == "2 3"})
    edges = sorted(at for p in told["pitches"] for at in (p["from_m"], p["from_m"] + p["length_m"]))
    scale = (lines[-1] - left_edge) / edges[-1]
    length = (drawing.width - left_edge - RIGHT) / scale
    if [round(left_edge + at * scale - x) for at, x in zip(edges, lines)] != [0] * len(edges) or len(lines) != len(edges):
        yield f"pitches at {edges} m, lines at {lines}"
    if abs(length / told["distance_m"] - 1) > 0.005:  # along the road, and as a map has it
        yield f"{length} m from end to end, {told['distance_m']} are told"
    for state in STATES.values():
        metres = [s[2] for s in found if s[0] == state]
        want = told["distance_share"][state] * length
        if abs(sum(metres) - want) > 0.5 * len(metres) + 0.01 * scale + 0.5:
            yield f"{state}: {sum(metres)} m are drawn, {want} are told"
    for state, start, metres, left, right, _ in found:
        wide = max(metres * scale, LEAST)
        if abs((left + right) / 2 - (left_edge + (start + metres / 2) * scale)) > 60 * scale + 4 or right - left > wide + 0.1:
            yield f"{state} at {start} m: drawn from {left} to {right}"


def faults_of_gears(bike):
    drawing = draw("route", bike_path(bike), "--route", LOOP, "--layout", "wide")
    told = drawings.answer("ride", bike_path(bike), "--route", LOOP)
    unit = told["distance_m"] / (drawing.width - left_of(drawing) - RIGHT)  # metres
    used = [g for g in told["gears"] if g["distance_m"] > 0]
    sprockets = sorted({g["sprocket"] for g in used})
    lanes = {int(re.search(r"\d+", title)[0]): group for title, group in drawing.find("sprocket in use")}
    if lanes.keys() != {g["ring"] for g in used}:
        yield f"lanes of {sorted(lanes)}"
    ends = {text.text.split("/")[-1] for text in drawing.texts() if "/" in text.text or text.text.isdigit()}
    yield from (f"no label {teeth}" for teeth in (sprockets[0], sprockets[-1]) if str(teeth) not in ends)
    heights = sorted({y for group in lanes.values() for y in {y for _, y in points(group.find(SVG + "path"))}})
    for ring, group in lanes.items():
        way = points(group.find(SVG + "path"))
        foot = max(heights) if len(lanes) == 1 else float(max(group.findall(SVG + "text"), key=lambda e: float(e.get("y"))).get("y")) - 5
        drawn = {}
        for (x1, y1), (x2, y2) in zip(way[::2], way[1::2]):
            level = round((foot - y1) / 48 * (len(sprockets) - 1))
            drawn[sprockets[level]] = drawn.get(sprockets[level], 0) + (x2 - x1) * unit
            if y1 != y2:
                yield f"ring {ring}: a tread from {x1}, {y1} to {x2}, {y2}"
        for gear in (g for g in used if g["ring"] == ring):
            metres = drawn.pop(gear["sprocket"], 0)
            # Stretches shorter than a unit are not drawn; a dozen of them come to this.
            if abs(metres - gear["distance_m"]) > max(12 * unit, 0.1 * gear["distance_m"]):
                yield f"{ring}/{gear['sprocket']}: {metres} m are drawn, {gear['distance_m']} are pedalled"
        yield from (f"{ring}/{sprocket} is drawn and not used" for sprocket in drawn)


def main():
    for bike in BIKES:
        told = drawings.answer("ride", bike_path(bike), "--route", LOOP)
        lines = [line for layout in ("narrow", "wide")
                 for line in faults_of(draw("route", bike_path(bike), "--route", LOOP, "--layout", layout), told, lambda y: True)]
        tap.ok(f"{bike}: its lane is what `ride` says", lines)
        tap.ok(f"{bike}: its gears are those that `ride` uses", list(faults_of_gears(bike)))
    both = draw("route", bike_path("quillmoor-trail"), "--route", LOOP, *plan_options("quillmoor-trail"), "--way", "E")
    told = drawings.answer("ride", bike_path("quillmoor-trail"), "--route", LOOP)
    tops = sorted({s[5] for s in stretches(both)})
    lines = list(faults_of(both, told, lambda y: y < tops[0] + 20))
    lines += [] if tops[-1] > tops[0] + 24 else ["only one lane"]
    tap.ok("beside a way the lane of now is the same", lines)
    tap.end()


if __name__ == "__main__":
    main()
