#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The figures of one demo bike are those of the golden pictures (golden/README.md), to the tolerance of
tools/write-goldens. Elements moved by three units, left out or with other dashes are caught, in each figure; a word
changed is not."""
import os
import sys
from importlib.machinery import SourceFileLoader

from drawings import FIGURES, tap
from planting import planted
from running import PROGRAM

sys.path.insert(0, os.path.join(tap.ROOT, "tools"))
write = SourceFileLoader("write_goldens", os.path.join(tap.ROOT, "tools", "write-goldens")).load_module()
raster = write.raster

PLANTED = 60     # faults in a figure, at most
LARGEST = 8_000  # bytes of a golden picture


def faults_of_catching(svg):
    """Planted faults that nobody saw. One that changes no pixel by 32 of 255 can't be seen: its element lies under others."""
    sketch, faults = raster.sketch(svg), list(planted(svg))
    tried = faults[::max(1, -(-len(faults) // PLANTED)) | 1]  # odd: in turn each of the four kinds
    hidden = 0
    for what, changed in tried:
        other = raster.sketch(changed)
        if raster.differing(sketch, other, 1, 1, 32):
            yield from [] if write.differing(sketch, other) else [f"not caught: {what}"]
        else:
            hidden += 1
    if len(tried) < 10 or hidden > len(tried) / 5:
        yield f"{len(tried)} faults, {hidden} of them hidden"


def main():
    figures = write.drawn(PROGRAM)
    held = write.held()
    tap.ok("one golden picture for each figure", [] if set(FIGURES) == set(figures) == held else [str(sorted(held))])
    for figure, svg in sorted(figures.items()):
        fault = write.fault_of(figure, svg)
        size = os.path.getsize(write.path_of(figure))
        tap.ok(f"{figure} is drawn as it was", ([fault] if fault else []) + ([] if size < LARGEST else [f"{size} bytes"]))
        tap.ok(f"{figure}: a planted fault is caught", list(faults_of_catching(svg)))
        words = svg.replace("</text>", " and so on</text>")
        same = words != svg and write.fault_of(figure, words) == fault
        tap.ok(f"{figure}: another word is no fault", [] if same else ["it is one"])
    tap.end()


if __name__ == "__main__":
    main()
