#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every figure of every demo bike, light, dark and in print: each text and each line stands out from what is painted under
it, at the middle of its first stretch, by 4.5 : 1 (WCAG 2.2: 4.5 for text in 1.4.3, 3 for lines in 1.4.11; the palette
keeps 4.5 for both). And grey tells the same: with colour taken away, lines of two meanings differ in weight or dashes or
else by 25 in L* (black from middle grey), and tiles of two words in shape. The meaning of a line is the role of its
colour; a figure's name for it, its title, says whether it is of the bike now."""
import itertools
import os
import re
import sys
from collections import defaultdict, namedtuple

from drawings import BIKES, LOOP, NUMBER, SVG, Drawing, bike_path, plan_options, tap
from layout import all_of

sys.path.insert(0, os.path.join(tap.ROOT, "tools"))
from colours import GROUNDS, contrast, lightness  # noqa: E402

LEAST, APART = 4.5, 25
FULL = re.compile(r"M1(\.9)? 1(\.9)?h1[24]")  # a tile's path that fills its field
PALETTE = tap.table("palette")

# What is drawn, in the order of painting: x, y a point of it, box what it fills (None: nothing that others stand on)
Painted = namedtuple("Painted", "element x y box is_now tile")


def place_of(e, origin, scale):
    """A point of an element, and the box that it fills if it is large enough to stand on."""
    if e.tag == SVG + "rect":
        x, y, w, h = (float(e.get(name, 0)) for name in ("x", "y", "width", "height"))
        return x, y, (x, y, x + w, y + h)
    if e.tag == SVG + "path" and origin:
        full = (origin[0], origin[1], origin[0] + 16 * scale, origin[1] + 16 * scale)
        return origin[0] + 8 * scale, origin[1] + 8 * scale, full if FULL.match(e.get("d")) else None
    if e.tag == SVG + "path":
        x1, y1, x2, y2 = (float(n) for n in NUMBER.findall(e.get("d"))[:4])
        return (x1 + x2) / 2, (y1 + y2) / 2, None
    return float(e.get("cx", e.get("x", 0))), float(e.get("cy", e.get("y", 0))), None


def painted(element, origin=None, scale=1, is_now=False, tile=None):
    title = element.find(SVG + "title")
    moved = element.get("transform")
    if element.tag == SVG + "g" and title is not None:
        is_now = is_now or title.text.startswith("now")
        tile = title.text if moved else None
    if moved:
        x, y, scale = (float(n) for n in NUMBER.findall(moved))
        origin = (x, y)
    for e in element:
        if e.tag in (SVG + "path", SVG + "rect", SVG + "circle", SVG + "text"):
            yield Painted(e, *place_of(e, origin, scale), is_now, tile)
        yield from painted(e, origin, scale, is_now, tile)


def ground_under(one, below):
    """The colour of the topmost fill under a point; a text brings its own, its halo."""
    if one.element.tag == SVG + "text" and one.element.get("stroke"):
        return one.element.get("stroke")
    for other in reversed(below):
        box, fill = other.box, other.element.get("fill")
        if box and fill and fill != "none" and box[0] <= one.x <= box[2] and box[1] <= one.y <= box[3]:
            return fill
    return None


def contrast_faults(drawing):
    """A fill in the colour of its ground tells nothing by itself: it is a blank, or the inside of an outline."""
    below, ink = [], drawing.root.get("fill")
    for one in painted(drawing.root):
        e, ground = one.element, ground_under(one, below)
        is_text = e.tag == SVG + "text"
        shown = [e.get("fill", ink)] if is_text else [e.get("fill"), e.get("stroke")]
        for colour in shown:
            if ground and colour not in (None, "none", ground) and contrast(colour[1:], ground[1:]) < LEAST:
                yield f"{colour} on {ground}: {contrast(colour[1:], ground[1:]):.2f} : 1, {(e.text or e.get('d') or e.tag)[:40]}"
        if is_text and ground == e.get("fill", ink):
            yield f"{e.text} has the colour of its ground"
        below.append(one)


def grey_faults(drawing, ground):
    roles = {"#" + row[ground]: row["role"] for row in reversed(PALETTE)}
    lines, shapes = defaultdict(set), defaultdict(list)
    for one in painted(drawing.root):
        e = one.element
        look = (e.get("stroke-width", "1"), e.get("stroke-dasharray"))
        if one.tile:
            paper = "paper" if roles.get(e.get("stroke")) == "paper" else None
            shapes[one.tile].append((e.get("d"), e.get("stroke") is None, e.get("stroke-dasharray"), paper))
        elif e.tag != SVG + "text" and e.get("stroke"):
            lines[look].add((e.get("stroke"), one.is_now))
    for look, found in lines.items():
        for (one, one_now), (other, other_now) in itertools.combinations(sorted(found), 2):
            far = abs(lightness(one[1:]) - lightness(other[1:])) >= APART
            if not far and (one != other or roles[one] != "ink"):  # ink measures and underlines both
                yield f"{roles[one]}{' now' * one_now} and {roles[other]}{' now' * other_now} are both {look}"
    looks = defaultdict(set)
    for word, parts in shapes.items():
        # Tiles of a word are drawn one after another: its look is the parts that one of them has.
        looks[tuple(sorted(set(map(str, parts))))].add(word)
    yield from (f"tiles look alike: {sorted(words)}" for words in looks.values() if len(words) > 1)


def faults_of(drawing, ground):
    return [*contrast_faults(drawing), *grey_faults(drawing, ground)]


def faults_of_catching(drawings):
    """Faults planted in the colours of the light ground: (figure, what is replaced, by what, in how many places)."""
    plants = {"pale text": ("hills", 'fill="#10141c">', 'fill="#9a9a9a">', 1),
              "text on a fill": ("hills", 'stroke="#f7f4ec" stroke-width="4"', 'stroke="#696c75" stroke-width="4"', 1),
              "pale lines": ("steps", 'stroke="#696c75"', 'stroke="#b0b0b0"', -1),
              "now as what is new": ("above", 'stroke="#696c75" stroke-width="2" stroke-dasharray="5 3"',
                                     'stroke="#696c75" stroke-width="3"', -1),
              "adapted as what stays": ("changes", "M1 1h14l-8 7 8 7h-14z", "M1 1h14v14h-14z", -1)}
    for what, (figure, old, new, times) in plants.items():
        svg = drawings[figure].svg
        changed = svg.replace(old, new, times)
        if changed == svg or not faults_of(Drawing(changed), "light"):
            yield f"not caught: {what}"


def main():
    kept = {}
    for bike in BIKES:
        for ground in GROUNDS:
            found = all_of(bike_path(bike), "--ground", ground, "--route", LOOP, *plan_options(bike))
            tap.ok(f"{bike}, {ground}", [f"{figure}: {fault}" for figure, drawing in found for fault in faults_of(drawing, ground)])
            kept = dict(found) if (bike, ground) == ("quillmoor-trail", "light") else kept
    tap.ok("a planted fault is caught", list(faults_of_catching(kept)))
    tap.end()


if __name__ == "__main__":
    main()
