# SPDX-License-Identifier: Apache-2.0
"""What the scripts of this folder share: drawing, and reading a drawing back."""
import os
import re
import sys
import xml.etree.ElementTree as xml
from collections import namedtuple

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cli"))
import running  # noqa: E402
from running import BIKES, DEMO, SHOP, bike_path, load, run, save, tap, wish_path  # noqa: E402, F401

SVG = "{http://www.w3.org/2000/svg}"
FIGURES = ["hills", "steps", "above", "changes", "choices", "side", "route"]
LOOP = os.path.join(DEMO, "routes", "quillmoor-loop.gpx")
LARGEST = 40000  # bytes

Text = namedtuple("Text", "x y anchor bold text")
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


class Drawing:
    """One SVG, parsed: raises where it is not well-formed."""

    def __init__(self, svg):
        self.svg, self.root = svg, xml.fromstring(svg)
        self.width, self.height = (float(self.root.get(name)) for name in ("width", "height"))

    def texts(self):
        return [Text(float(e.get("x")), float(e.get("y")), e.get("text-anchor", "start"),
                     e.get("font-weight") == "bold", e.text) for e in self.root.iter(SVG + "text")]

    def said(self, element):
        found = self.root.find(SVG + element)
        return found.text if found is not None else None

    def groups(self):
        """[(title, element)] of everything that can be asked about."""
        found = [(group.find(SVG + "title"), group) for group in self.root.iter(SVG + "g")]
        return [(title.text, group) for title, group in found if title is not None]

    def find(self, start):
        """The groups whose title begins so."""
        return [(title, group) for title, group in self.groups() if title.startswith(start)]

    def palette(self):
        return {value for e in self.root.iter() for value in (e.get("fill"), e.get("stroke")) if value}


def rectangle(group):
    e = group.find(SVG + "rect")
    x, y, w, h = (float(e.get(name)) for name in ("x", "y", "width", "height"))
    return x, y, x + w, y + h


def points(element):
    """The numbers of a path's data, two by two."""
    numbers = [float(n) for n in NUMBER.findall(element.get("d"))]
    return list(zip(numbers[::2], numbers[1::2]))


def draw(figure, bike, *options):
    done = run("draw", figure, bike, *options)
    if done.status != 0 or done.err:
        raise AssertionError(f"draw {figure} {bike} {options}: {done.status} {done.err.decode()}")
    return Drawing(done.out.decode())


def draw_or_wait(figure, bike, *options):
    """The drawing; None where the figure says which value of the bike it waits for."""
    done = run("draw", figure, bike, *options)
    if done.status == 1 and done.err.startswith(b"The figure waits for") and b"\n/" in done.err and not done.out:
        return None
    return draw(figure, bike, *options)


def answer(command, *arguments):
    told, faults = running.answer(command, command, *arguments, "--json")
    if faults:
        raise AssertionError(f"{command} {arguments}: {faults}")
    return told


def plan_options(bike):
    """The shop, and the bike's wish where it has one; of one bike only another wish has a way."""
    wish = wish_path({"sallow-tourer": "sallow-tourer-three"}.get(bike, bike))
    return ["--catalogue", SHOP] + (["--wish", wish] if os.path.exists(wish) else [])
