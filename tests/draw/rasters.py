#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every figure of every demo bike as the program's PNG (librsvg) and as CairoSVG renders the same SVG, two pixels a unit:
each square of 2 by 2 units that no text touches has the same mean in every channel within 8 of 255 (arcs differ by 4:
each makes them of other curves). CairoSVG reads the SVG with code of its own; both fill with cairo. Text is left out,
since CairoSVG paints its halo over it: where it stands is held by layout.py. An element moved, left out or dashed
otherwise is caught."""
import os
import sys
import tempfile

from drawings import BIKES, LOOP, bike_path, draw, plan_options, run, tap
from layout import all_of, box
from planting import planted

sys.path.insert(0, os.path.join(tap.ROOT, "tools"))
import raster  # noqa: E402

SCALE, SIZE, NEAR = 2, 4, 8
HALO = 3             # units around a text: its halo is two wide, an underline stands below
MOST_MASKED = 0.5    # of a page; least is left where a narrow figure has many labels
FOLDER = tempfile.TemporaryDirectory()


def masks_of(drawing):
    """Where text stands, in pixels."""
    return [[SCALE * (edge + more) for edge, more in zip(box(text), (-HALO, -HALO, HALO, HALO))] for text in drawing.texts()]


def differing(one, other, masks, near=NEAR):
    return raster.differing(raster.blanked(one, masks), raster.blanked(other, masks), SIZE, SIZE, near)


def picture_of(figure, bike, *options):
    """The program's PNG."""
    path = os.path.join(FOLDER.name, "picture.png")
    done = run("draw", figure, bike, *options, "--out", path)
    if (done.status, done.out, done.err) != (0, b"", b""):
        raise AssertionError(f"draw {figure} {bike}: {done}")
    with open(path, "rb") as file:
        return raster.colours(file.read())


def faults_of(figure, drawing, picture):
    other, masks = raster.shapes(drawing.svg, SCALE), masks_of(drawing)
    if (picture.width, picture.height) != (other.width, other.height):
        yield f"{figure}: {picture.width} by {picture.height} pixels, not {other.width} by {other.height}"
    masked = sum((m[2] - m[0]) * (m[3] - m[1]) for m in masks) / (picture.width * picture.height)
    if masked > MOST_MASKED:
        yield f"{figure}: {masked:.2f} of the page is text"
    for x, y, by in differing(picture, other, masks)[:3]:
        yield f"{figure}: differs at {x / SCALE:g}, {y / SCALE:g} by {by:.0f} of 255"


def faults_of_bike(bike, *options):
    for figure, drawing in all_of(bike, *options):
        yield from faults_of(figure, drawing, picture_of(figure, bike, *options))


def faults_of_catching():
    """Of one figure, planted faults that nobody saw; an underline stands among text, and is not looked at."""
    asked = ("side", bike_path("quillmoor-trail"), *plan_options("quillmoor-trail"))
    drawing, picture = draw(*asked), picture_of(*asked)
    masks, shapes, seen = masks_of(drawing), raster.shapes(drawing.svg, SCALE), 0
    for what, changed in planted(drawing.svg):
        other = raster.shapes(changed, SCALE)
        seen += bool(caught := differing(picture, other, masks))
        if not caught and differing(shapes, other, masks, 1):
            yield f"not caught: {what}"
    if seen < 40:
        yield f"only {seen} faults were caught"


def main():
    for bike in BIKES:
        options = ("--route", LOOP, *plan_options(bike))
        tap.ok(f"{bike}: both draw the same", list(faults_of_bike(bike_path(bike), *options)))
    for more in (("--layout", "wide"), ("--ground", "dark"), ("--ground", "print")):
        options = ("--route", LOOP, *plan_options("quillmoor-trail"), *more)
        tap.ok(f"{' '.join(more)}: both draw the same", list(faults_of_bike(bike_path("quillmoor-trail"), *options)))
    tap.ok("a planted fault is caught", list(faults_of_catching()))
    tap.end()


if __name__ == "__main__":
    main()
