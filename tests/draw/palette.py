#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The palette: every colour that text or a tile is set in stands out from the paper by 4.5 : 1, and any two of ink and the
six roles are at least 12 apart (CIEDE2000) for all cones, and under protanopia, deuteranopia and tritanopia, each by two
models (tools/colours.py, held against the pairs of Sharma, Wu and Dalal 2005). docs/colours.md says how far."""
import csv
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data"))
import tap  # noqa: E402

sys.path.insert(0, os.path.join(tap.ROOT, "tools"))
from colours import EYES, GROUNDS, ROLES, ciede2000, contrast, nearest  # noqa: E402

LEAST_CONTRAST, LEAST_DISTANCE = 4.5, 12.0


def published():
    with open(os.path.join(tap.ROOT, "tests", "reference", "ciede2000.csv"), encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            v = {key: float(row[key]) for key in "l1 a1 b1 l2 a2 b2 distance tolerance".split()}
            got = ciede2000((v["l1"], v["a1"], v["b1"]), (v["l2"], v["a2"], v["b2"]))
            back = ciede2000((v["l2"], v["a2"], v["b2"]), (v["l1"], v["a1"], v["b1"]))
            if abs(got - v["distance"]) > v["tolerance"] or abs(got - back) > 1e-12:
                yield f"{row['source']}: {got:.4f}, {v['distance']} is printed"


def main():
    palette = {row["role"]: row for row in tap.table("palette")}
    tap.ok("the distance is that of the published pairs", list(published()))
    for ground in GROUNDS:
        low = [f"{role}: {contrast(palette[role][ground], palette['paper'][ground]):.2f} : 1" for role in ROLES
               if contrast(palette[role][ground], palette["paper"][ground]) < LEAST_CONTRAST]
        low += [f"ink on {on}" for on in ("field", "tint")
                if contrast(palette["ink"][ground], palette[on][ground]) < LEAST_CONTRAST]
        tap.ok(f"{ground}: everything stands out from its ground by {LEAST_CONTRAST} : 1", low)
        for eyes, see in EYES.items():
            distance, one, other = nearest(palette, ground, see)
            tap.ok(f"{ground}, {eyes}: the nearest two are {distance:.1f} apart ({one}, {other})",
                   [f"{LEAST_DISTANCE} is the least"] if distance < LEAST_DISTANCE else [])
    tap.made_page("docs/colours.md", "write-colours-page", tap.DATA, "data")
    tap.end()


if __name__ == "__main__":
    main()
