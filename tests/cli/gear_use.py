#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""line --gear-use through the whole program: the mean is that of the told offsets by the given shares, what is used alike changes
nothing, what brings the used gears straight comes first; and every kind of a bad file."""
import json
import os
import random
import tempfile

import running
from running import BIKES, answer, bike_path, load, run, tap


# A direct-mount ring, which is had with other offsets: the one bike here whose line can be moved.
DIRECT = running.bike(
    use="off_road", frame={"hub_width_mm": 148, "chainstay_mm": 435, "gap_mm": 3, "recess_mm": 3.5},
    fitted={"crank": {"places": ["outer"], "mount": "direct_3_bolt", "outer_plane_mm": 55, "spindle": "hollow_24", "rings_fixed": False},
            "rings": [{"teeth": 32, "place": "outer", "mount": "direct_3_bolt", "offset_mm": 0, "profile": "wide_narrow"}],
            "cassette": {"sprockets": [10, 12, 14, 16, 18, 21, 24, 28, 32, 36, 42, 50], "stack_mm": 41.7, "pitch_mm": 3.65,
                         "sprocket_mm": 1.6, "overhang_mm": 3}})


def saved(folder, gears, **more):
    return running.save(os.path.join(folder, "use.json"), {"gears": gears, **more})


def gears_of(told):
    return [(angle["ring"], angle["sprocket"], angle["offset_mm"]) for angle in told["angles"]]


def mean_of(told, shares):
    """Of |ring's plane - sprocket's|, by shares."""
    return sum(shares.get((r, s), 0) * abs(offset) for r, s, offset in gears_of(told)) / sum(shares.values())


def check_means():
    numbers, wrong, seen = random.Random(4), [], 0
    with tempfile.TemporaryDirectory() as folder:
        for name in [*BIKES, "direct mount"]:
            bike = bike_path(name) if name in BIKES else running.save(os.path.join(folder, "bike.json"), DIRECT)
            plain, faults = answer("line", "line", bike, "--json")
            wrong += [f"{name}: {fault}" for fault in faults]
            gears = [(ring, sprocket) for ring, sprocket, offset in gears_of(plain) if offset is not None]
            if not gears:
                continue
            alike = {gear: 1 for gear in gears}
            if abs(plain["mean_offset_mm"] - mean_of(plain, alike)) > 1e-9 or plain["weighted"]:
                wrong.append(f"{name}: {plain['mean_offset_mm']}, not {mean_of(plain, alike)}")
            for shares in (alike, {gear: numbers.randint(0, 9) for gear in gears} | {gears[0]: 3}, {gears[-1]: 0.25}, {gears[0]: 3, gears[1]: 2}):
                path = saved(folder, [{"ring": r, "sprocket": s, "share": n} for (r, s), n in shares.items()])
                told, faults = answer("line", "line", bike, "--json", "--gear-use", path)
                wrong += [f"{name}: {fault}" for fault in faults] + ([] if told["weighted"] else [f"{name}: not by use"])
                if abs(told["mean_offset_mm"] - mean_of(told, shares)) > 1e-9:
                    wrong.append(f"{name} {shares}: {told['mean_offset_mm']}, not {mean_of(told, shares)}")
                clean = [way["mean_offset_mm"] for way in told["arrangements"] if not way["drawback"]]
                rest = [way["mean_offset_mm"] for way in told["arrangements"]][len(clean):]
                wrong += [] if all(way["drawback"] for way in told["arrangements"][len(clean):]) else [f"{name}: a drawback first"]
                means = clean
                wrong += [] if rest == sorted(rest) else [f"{name}: {rest}"]
                if means != sorted(means) or any(mean >= told["mean_offset_mm"] for mean in means):
                    wrong.append(f"{name} {shares}: {means} beside {told['mean_offset_mm']}")
                seen += len(means)
                page = run("line", bike, "--gear-use", path).out.decode()
                wrong += [] if "as the gears are used" in " ".join(page.split()) else [page]
                wrong += [line for line in page.splitlines() if len(line) > 79 or line != line.rstrip()]
    tap.ok("the mean by use, and the order of what brings it nearer", wrong)
    tap.ok("something brought it nearer", [] if seen >= 1 else [seen])


def check_bad():
    good = {"ring": 32, "sprocket": 34, "share": 1}
    bike = os.path.join(tap.ROOT, "docs", "examples", "bike.json")
    cases = [{}, {"gears": []}, {"gears": {}}, {"gears": [3]}, {"gears": [{**good, "more": 1}]}, {"gears": [{"ring": 32, "sprocket": 34}]},
             {"gears": [{**good, "share": -1}]}, {"gears": [{**good, "share": 0}]}, {"gears": [{**good, "share": "much"}]},
             {"gears": [good, good]}, {"gears": [{**good, "ring": 33}]}, {"gears": [{**good, "sprocket": 35}]}, {"gear": [good]},
             {"gears": [good] * 65}, [], {"format": 2, "gears": [good]}]
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        for document in cases:
            path = running.save(os.path.join(folder, "use.json"), document)
            ran = run("line", bike, "--gear-use", path, "--json")
            told = json.loads(ran.err or b"{}")
            wrong += [] if ran.status == 3 and not ran.out and told.get("faults") else [f"{document}: {ran.status} {ran.err[:200]}"]
        wrong += [] if run("line", bike, "--gear-use", os.path.join(folder, "none.json")).status == 3 else ["no file"]
    wrong += [] if run("line", "-", "--gear-use", "-").status == 2 else ["standard input twice"]
    wrong += [] if run("gears", bike, "--gear-use", "x").status == 2 else ["an option of another command"]
    example = os.path.join(tap.ROOT, "docs", "examples", "gear-use.json")
    wrong += running.complaints("gear_use", load(example))
    with open(example, "rb") as file:
        wrong += [] if run("line", bike, "--gear-use", "-", stdin=file.read()).status == 0 else ["from standard input"]
    tap.ok("a bad file is exit 3 with its faults", wrong)


check_means()
check_bad()
tap.end()
