# SPDX-License-Identifier: Apache-2.0
"""Drawings that differ from another by one element: faults that a comparison of pictures must see."""
import copy
import xml.etree.ElementTree as xml

SVG = "{http://www.w3.org/2000/svg}"
SHIFT = 3  # units
SHAPES = {SVG + name for name in ("path", "rect", "circle")}


def shapes_of(root):
    """Its lines and outlines, as (parent, element) in the order of the page: neither the ground nor a blank under a text."""
    return [(parent, e) for parent in root.iter() for e in parent if e.tag in SHAPES and e.get("stroke")]


def moved(parent, element, dx, dy):
    element.set("transform", f"translate({dx} {dy})")


def other_dashes(parent, element):
    if element.get("stroke-dasharray"):
        del element.attrib["stroke-dasharray"]
    else:
        element.set("stroke-dasharray", "2 2")


FAULTS = {"moved right": lambda *e: moved(*e, SHIFT, 0), "moved down": lambda *e: moved(*e, 0, SHIFT),
          "left out": lambda parent, element: parent.remove(element), "other dashes": other_dashes}


def planted(svg):
    """(what was done to which element, the drawing with it) for each fault of each shape."""
    root = xml.fromstring(svg)
    for i, (_, element) in enumerate(shapes_of(root)):
        for name, plant in FAULTS.items():
            changed = copy.deepcopy(root)
            plant(*shapes_of(changed)[i])
            yield f"{name}: {xml.tostring(element).decode().strip()[:100]}", xml.tostring(changed).decode()
