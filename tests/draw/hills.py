#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The figure of hills says what `climb` says: at the two ends of a bar the gear turns at the top of the rider's band and at the least
that the rider bears; the bars stand in the order of their rings and sprockets; the hatched part begins where the last ends."""
import drawings
from drawings import BIKES, LOOP, bike_path, draw, points, rectangle, tap

LOW, HIGH, MARGIN = -4.0, 20.0, 10.0
# A hundredth of a unit is 0.0007 %, and a cadence goes with the gradient by up to 30 rpm a percent.
RPM = 0.05


def numbers_of(drawing):
    """The gradients at the two edges, from the ticks' numbers."""
    found = [t for t in drawing.texts() if t.text.replace("−", "-").rstrip(" %").lstrip("-").isdigit()]
    axis = max(found, key=lambda t: t.text.endswith("%"))
    row = sorted(float(t.text.replace("−", "-").rstrip(" %")) for t in found if t.y == axis.y)
    return row[0], row[-1]


def bars(drawing):
    """{gear: (gradient at its left, at its right, y)}."""
    low, high = numbers_of(drawing)
    scale = (high - low) / (drawing.width - 2 * MARGIN)
    found = {}
    for title, group in drawing.groups():
        if ": from " in title:
            left, top, right, _ = rectangle(group)
            found[title.split(":")[0]] = (low + (left - MARGIN) * scale, low + (right - MARGIN) * scale, top)
    return found, low, high


def gear_of(label, rings):
    return tuple(map(int, label.split("/"))) if "/" in label else (rings[0], int(label))


def faults_of(bike):
    drawing = draw("hills", bike_path(bike), "--layout", "wide")
    found, low, high = bars(drawing)
    gears = drawings.answer("climb", bike_path(bike), "--gradient-percent", 5)
    rings = sorted({g["ring"] for g in gears["gears"]})
    if len(found) != len(gears["gears"]):
        yield f"{len(found)} bars, {len(gears['gears'])} gears"
    labels = list(found)
    wanted = sorted(labels, key=lambda l: (gear_of(l, rings)[0], -gear_of(l, rings)[1]))
    if labels != wanted or sorted(v[2] for v in found.values()) != [v[2] for v in found.values()]:
        yield f"order of the bars: {labels}"
    band, least = (gears["rider"][name]["value"] for name in ("climb_cadence_rpm", "least_cadence_rpm"))
    for label in (labels[0], labels[len(labels) // 2], labels[-1]):
        for gradient, rpm in zip(found[label], (band[-1], least)):
            if gradient < 0 or gradient > high - 0.01:
                continue  # off the page, or a hill that `climb` is not asked about
            told = drawings.answer("climb", bike_path(bike), "--gradient-percent", f"{gradient:.4f}")
            ring, sprocket = gear_of(label, rings)
            got = next(g["cadence_rpm"] for g in told["gears"] if (g["ring"], g["sprocket"]) == (ring, sprocket))
            if abs(got - rpm) > RPM:
                yield f"{label} at {gradient:.3f} %: {got:.3f} rpm, drawn as {rpm}"


def main():
    for bike in BIKES:
        tap.ok(f"{bike}: at the ends of its bars the cadence is that of `climb`", list(faults_of(bike)))
    drawing = draw("hills", bike_path("quillmoor-trail"), "--route", LOOP)
    ride = drawings.answer("ride", bike_path("quillmoor-trail"), "--route", LOOP)
    low, high = numbers_of(drawing)
    lines = []
    for pitch in ride["pitches"]:
        x = MARGIN + (pitch["gradient_percent"] - low) * (drawing.width - 2 * MARGIN) / (high - low)
        drawn = [points(e) for _, g in drawing.groups() if " for " in _ for e in g.findall(drawings.SVG + "path")]
        if not any(abs(p[0][0] - x) < 0.02 for p in drawn):
            lines.append(f"no upright at {x:.2f} for {pitch}")
    tap.ok("the pitches of the route stand at their gradients", lines)
    tap.end()


if __name__ == "__main__":
    main()
