#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The title block of a figure that stands alone on paper: across the foot, 180 × 12 mm, with seven cells; it names the bike, the way, the
day, the list of parts as `plan` names it, the scale that the figure is drawn to, and its number among those that are drawn. Nowhere
else is there one."""
import math
import os
import re
import tempfile

from drawings import LOOP, SVG, Drawing, bike_path, draw, load, plan_options, points, run, tap

BIKE, DAY = "osier-ridge", "2026-05-01"
LABELS = ["job", "bike", "way", "date", "list of parts", "scale", "sheet"]
PAPER = ["--layout", "wide", "--ground", "print", "--date", DAY]
PITCH, PRINT = 12.7, 4.0  # mm; units a mm on paper


def block(drawing):
    """[(label, text)] of the cells, from the left; [] without a block."""
    frames = [e for e in drawing.root.iter(SVG + "rect") if (e.get("width"), e.get("height")) == ("719", "47")]
    if not frames:
        return []
    top = float(frames[0].get("y"))
    inside = sorted((t for t in drawing.texts() if t.y > top), key=lambda t: (t.x, t.y))
    if top + 47.5 != drawing.height or drawing.width != 720:
        raise AssertionError(f"the block stands at {top} of {drawing.height}")
    cells = {}
    for text in inside:
        cells.setdefault(text.x, []).append(text.text)
    return [(texts[0], "".join(texts[1:])) for _, texts in sorted(cells.items())]


def units(drawing, word):
    """Units a mm, by the pitch circles of what is called so (ISO 606: d = p / sin(pi / z))."""
    for title, group in drawing.find(word + " "):
        teeth = re.match(rf"{word} (\d+) T", title)
        circle, path = group.find(SVG + "circle"), group.find(SVG + "path")
        if teeth and circle is not None:
            return 2 * float(circle.get("r")) * math.sin(math.pi / int(teeth[1])) / PITCH
        if teeth and path is not None:
            (x1, _), (x2, _) = points(path)
            return (x2 - x1) * math.sin(math.pi / int(teeth[1])) / PITCH
    raise AssertionError(f"no {word}")


def faults_of(figure, scale):
    options = plan_options(BIKE)
    drawing = draw(figure, bike_path(BIKE), *options, "--way", "B", "--route", LOOP, *PAPER)
    cells = block(drawing)
    revision = re.search(r"revision\s+(\w+)", run("plan", bike_path(BIKE), *options).out.decode())[1]
    want = ["", load(bike_path(BIKE))["label"], "" if figure == "choices" else "B", DAY, revision, scale(drawing), "1 of 1"]
    return [] if cells == list(zip(LABELS, want)) else [f"found {cells}, wanted {want}"]


def one_to(n):
    return f"1 : {n:.0f}" if abs(n - round(n)) < 0.05 else f"1 : {n:.1f}"


def faults_of_numbers(bike, *options):
    """Sheets are numbered among those that are drawn, whatever is left out."""
    with tempfile.TemporaryDirectory() as folder:
        told = run("draw", "all", bike, *options, "--out", folder, *PAPER).out.decode().splitlines()
        drawn = [line for line in told if line.startswith(folder)]
        found = []
        for path in drawn:
            with open(path, encoding="utf-8") as file:
                found.append(dict(block(Drawing(file.read())))["sheet"])
    want = [f"{i + 1} of {len(drawn)}" for i in range(len(drawn))]
    return [] if found == want and len(drawn) > 2 else [f"{told}: found {found}, wanted {want}"]


def main():
    tap.ok("above: two scales", faults_of("above", lambda d: f"1 : 1, along {one_to(PRINT / units(d, 'sprocket'))}"))
    tap.ok("side: one scale", faults_of("side", lambda d: one_to(PRINT / units(d, "sprocket"))))
    for figure in ("hills", "steps", "changes", "choices", "route"):
        tap.ok(f"{figure}: to no scale", faults_of(figure, lambda d: ""))
    tap.ok("all figures of a way", faults_of_numbers(bike_path(BIKE), "--route", LOOP, *plan_options(BIKE)))
    tap.ok("some figures wait", faults_of_numbers(os.path.join(tap.ROOT, "docs", "examples", "first-answer.json")))
    narrow = draw("above", bike_path(BIKE), "--ground", "print", "--date", DAY)
    screen = draw("above", bike_path(BIKE), "--layout", "wide", "--date", DAY)
    tap.ok("none on a screen or on a narrow figure", [] if not block(narrow) and not block(screen) else ["there is one"])
    tap.ok("none of the bike of now names a way", [] if dict(block(draw("above", bike_path(BIKE), *PAPER)))["way"] == "" else ["it does"])
    tap.end()


if __name__ == "__main__":
    main()
