#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""path and the cages of chain through the whole program: every loop of tests/reference, to the digits that are told there; a chain that the
axle keeps taut; what can't be, with exit status 1 and a reason; bad input; the same figures as a person reads them."""
import glob
import json
import math
import os
import random

from asking import IDLER, ask, near, no_constant, reference, run, schema, suspension, tap, wheel


def check_loops():
    wrong, seen = [], 0
    for total in reference("loop_totals"):
        rows = [row for row in reference("loop_wheels") if row["loop"] == total["loop"]]
        told, faults = ask("path", {"wheels": [wheel(row) for row in rows]})
        wrong += faults + near(total["loop"], told["length_mm"], total["length_mm"], 1e-6)
        if total["links"]:
            wrong += near(total["loop"], told["links"], total["links"], 1e-6)
        elif told["links"] is not None:
            wrong.append(f"{total['loop']}: links without teeth")
        for i, row in enumerate(rows):
            wrong += near(f"{total['loop']} {i}", told["spans_mm"][i], row["span_mm"], 1e-6)
            wrong += near(f"{total['loop']} {i}", told["wraps_deg"][i], row["wrap_deg"], 1e-6)
            seen += 1
    tap.ok("every loop of the table, to a millionth of a millimetre", wrong)
    tap.ok("there were 29 wheels", [] if seen == 29 else [seen])


def presser(y):
    size = [(0, 0, 80, "ccw"), (400, 0, 40, "ccw"), (200, y, 25, "cw")]
    return {"wheels": [{"x_mm": x, "y_mm": y, "radius_mm": r, "sense": s} for x, y, r, s in size]}


def two(distance, *senses):
    return {"wheels": [{"x_mm": i * distance, "y_mm": 0, "radius_mm": 50 - 20 * i, "sense": sense}
                       for i, sense in enumerate(senses)]}


def check_no_path():
    cases = {"a presser that hangs free": (presser(95), "wheel 3"), "far free": (presser(300), "wheel 3"),
             "very far free": (presser(3000), "wheel 3"),
             "one in the other": (two(15, "cw", "cw"), "from wheel 1"), "on one axle": (two(0, "cw", "cw"), "from wheel 1"),
             "overlapping, crossed": (two(79, "cw", "ccw"), "from wheel 1")}
    wrong = []
    for what, (document, words) in cases.items():
        told, faults = ask("path", document, status=1)
        wrong += [f"{what}: {fault}" for fault in faults]
        if words not in (told["reason"] or "") or told["length_mm"] is not None or told["links"] is not None:
            wrong.append(f"{what}: {told}")
        page = run("path", document)
        if page.returncode != 1 or words not in " ".join(page.stdout.split()):
            wrong.append(f"{what}: page {page.stdout}")
    wrong += ask("path", presser(75))[1] + ask("path", two(81, "cw", "cw"))[1]
    tap.ok("a path that can't be is answered with the wheel and the reason", wrong)


def check_bad_input():
    good = suspension("single pivot", [0])
    cases = [("suspension", {**good, "new_ring": 5}), ("suspension", {**good, "new_sprocket": "21"}), ("suspension", {**good, "sag_mm": -1}),
             ("suspension", {**good, "idler": {"x_mm": 1, "y_mm": 2}}), ("suspension", {**good, "idler": [1, 2]}),
             ("suspension", {**good, "idler": {**IDLER, "sense": "cw"}}), ("path", {}), ("path", {"wheels": []}), ("path", "[]"), ("path", '{"wheels": NaN}'), ("path", "{"),
             ("path", {**two(100, "cw", "cw"), "more": 1}), ("suspension", {}), ("suspension", {**good, "ring": 0}),
             ("suspension", {**good, "travel_mm": 40}), ("suspension", {**good, "axle_mm": [1, 2, 3]}),
             ("suspension", {key: value for key, value in good.items() if key != "wheelbase_mm"})]
    wrong = []
    for command, document in cases:
        done = run(command, document, "--json")
        if done.returncode != 3 or done.stdout or not json.loads(done.stderr)["faults"]:
            wrong.append(f"{command} {document}: {done.returncode} {done.stderr[:100]}")
        if isinstance(document, dict) and not list(schema(command + "_input").iter_errors(document)):
            wrong.append(f"{command} {document}: the schema takes it")
        lines = run(command, document)
        if lines.returncode != 3 or not lines.stderr.startswith("-:"):
            wrong.append(f"{command} {document}: {lines.stderr[:100]}")
    tap.ok("bad input is exit 3 with its faults", wrong)


def check_random():
    """Whatever stands there, it is an answer or a reason, the same each time, and never not a number."""
    numbers, wrong, answered = random.Random(21), [], 0
    for _ in range(60):
        wheels = [{"x_mm": numbers.randint(-5, 5) * 60, "y_mm": numbers.randint(-3, 3) * 60,
                   "radius_mm": numbers.choice([20, 30, 60, 120]), "sense": numbers.choice(["cw", "ccw"])}
                  for _ in range(numbers.randint(2, 5))]
        done = run("path", {"wheels": wheels}, "--json")
        told = json.loads(done.stdout, parse_constant=no_constant)
        answered += done.returncode == 0
        if done.returncode not in (0, 1) or (done.returncode == 0) != (told["reason"] is None):
            wrong.append(f"{wheels}: {done.returncode}")
    tap.ok("random wheels have an answer or a reason", wrong)
    tap.ok("both happened", [] if 5 <= answered <= 55 else [answered])


def check_pages():
    page = run("path", {"wheels": [wheel(row) for row in reference("loop_wheels") if row["loop"] == "derailleur 32/51"]})
    wrong = [] if "1486.186 mm through the pins, 116.938 pitches" in page.stdout else [page.stdout]
    page_s = run("suspension", suspension("four-bar", [0, 40, 150]))
    for words in ("15.9 mm longer", "kick back by 7.3°", "71 % at rest", "longest at 150.0 mm"):
        wrong += [] if words in " ".join(page_s.stdout.split()) else [f"{words}: {page_s.stdout}"]
    wrong += [line for line in (page.stdout + page_s.stdout).splitlines() if len(line) > 79 or line.endswith(" ")]
    tap.ok("a person reads the same figures, within 79 columns", wrong)


def tips(teeth):
    return 12.7 * (0.6 + 1 / math.tan(math.pi / teeth)) / 2  # ASME B29.1


def bare_links(ring, sprocket, stay):
    """An open belt of two wheels, in pitches as a chain counts them (closed form)."""
    radius = [12.7 / 2 / math.sin(math.pi / teeth) for teeth in (ring, sprocket)]
    lean = math.asin((radius[0] - radius[1]) / stay)
    return 2 * stay * math.cos(lean) / 12.7 + ring * (math.pi + 2 * lean) / 2 / math.pi + sprocket * (math.pi - 2 * lean) / 2 / math.pi


def place(shape, axle, gear):
    """The wheels of a gear when the cage has this shape, and how high the chain on the tension wheel lies over the axle; a plate
    is 8.5 mm high (from memory)."""
    teeth, body, cage = int(shape["wheel_teeth"]), math.radians(shape["body_deg"]), math.radians(gear["cage_deg"])
    apart = tips(gear["sprocket"]) + tips(teeth) + gear["gap_mm"]
    guide = (axle[0] + apart * math.sin(body), axle[1] - apart * math.cos(body))
    tension = (guide[0] + shape["apart_mm"] * math.sin(cage), guide[1] - shape["apart_mm"] * math.cos(cage))
    wheels = [(*axle, gear["sprocket"], "cw"), (0, 0, gear["ring"], "cw"), (*tension, teeth, "cw"), (*guide, teeth, "ccw")]
    return {"wheels": [{"x_mm": x, "y_mm": y, "teeth": t, "sense": s} for x, y, t, s in wheels],
            "low_mm": tension[1] - axle[1] - 12.7 / 2 / math.sin(math.pi / teeth) - 8.5 / 2}


def wheel_radius_mm(wheel):
    """By its turn, measured or from the table of tyres."""
    turn = wheel.get("rolling_mm") or next(row["rolling_mm"] for row in tap.standard("tyres") if row["tyre"] == wheel["tyre"])
    return (turn["value"] if isinstance(turn, dict) else turn) / 2 / math.pi


def check_cages():
    """In every gear of every demo bike: the wheels that cage_deg and gap_mm tell make a path of as many links as are cut,
    less those that hang; a gear needs more than its bare loop; and an assumed shape never makes a clash."""
    shapes = {row["cage"]: row for row in tap.standard("cage_shapes")}
    wrong, seen, bikes = [], 0, sorted(glob.glob(os.path.join(tap.DATA, "demo", "bikes", "*.json")))
    for bike in bikes:
        with open(bike, encoding="utf-8") as file:
            text = file.read()
        told = json.loads(run("chain", text, "--json").stdout)
        if told["links"] is None or not told["gears"]:
            continue
        drop = json.loads(text)["frame"].get("bottom_bracket_drop_mm") or 0
        drop = drop["value"] if isinstance(drop, dict) else drop
        stay = told["chainstay_mm"]
        axle = (-math.sqrt(stay ** 2 - drop ** 2), drop)
        wheel = wheel_radius_mm(json.loads(text)["wheel"])
        most = max(told["gears"], key=lambda gear: gear["ring"] + gear["sprocket"])
        wrong += [] if (most["ring"], most["sprocket"]) == (told["ring"], told["sprocket"]) else [f"{bike}: {most}"]
        ratios = [gear["ring"] / gear["sprocket"] for gear in told["gears"]]
        wrong += [] if ratios == sorted(ratios) else [f"{bike}: not in rising ratio"]
        for gear in told["gears"]:
            what = f"{os.path.basename(bike)} {gear['ring']}/{gear['sprocket']}"
            if gear["verdict"] not in ("fits", "measure") or (gear["verdict"] == "fits" and gear["slack_links"] != 0):
                wrong.append(f"{what}: {gear}")
            if gear["cage_deg"] is None:
                continue
            seen += 1
            if not bare_links(gear["ring"], gear["sprocket"], stay) < gear["path_links"]:
                wrong.append(f"{what}: needs {gear['path_links']}, less than past the derailleur")
            placed = [place(shape, axle, gear) for shape in shapes.values()]  # one of them is the bike's: the one that hangs so low
            hung = [one for one in placed if abs(gear["ground_mm"] - (wheel + one["low_mm"])) < 1e-6]
            if len(hung) != 1:
                wrong.append(f"{what}: {gear['ground_mm']} over the ground, as none of {placed}")
                continue
            links = json.loads(run("path", {"wheels": hung[0]["wheels"]}, "--json").stdout)["links"]
            if links is None or abs(links - (told["links"] - gear["slack_links"])) > 1e-5:
                wrong.append(f"{what}: {links} for {told['links']} less {gear['slack_links']}")
            if not (0 < gear["sprocket_wrap_deg"] < 300 and 0 < gear["ring_wrap_deg"] < 300 and gear["tension_n"] >= 0):
                wrong.append(f"{what}: {gear}")
            if (gear["slack_links"] == 0) != (gear["tension_n"] > 0):
                wrong.append(f"{what}: a taut chain bears something, {gear}")
            sprung = json.loads(text)["frame"].get("suspension") is True
            if sprung != (gear["rest_slack_links"] is not None) or (sprung and gear["slack_links"] > gear["rest_slack_links"]):
                wrong.append(f"{what}: at rest {gear['rest_slack_links']}, longest {gear['slack_links']}")
        page = run("chain", text).stdout
        if f"{most['ring']}/{most['sprocket']}: " not in page or "taken from a usual" not in " ".join(page.split()):
            wrong.append(f"{bike}: {page}")
    tap.ok("the cage stands so that the chain fits, in every gear of the demo bikes", wrong)
    tap.ok("there were many", [] if seen >= 60 else [seen])


def check_single():
    """One ring, one sprocket, no derailleur: the counts next to the loop, each at the stay where the loop round the two wheels is
    that long; a half link on plain teeth only. Belt of two wheels, and pitches as a chain counts them."""
    wrong, halves = [], 0
    for ring in (39, 42):
        for sprocket in (16, 17, 18):
            for profile in ("plain", "wide_narrow", None):
                if profile == "wide_narrow" and ring % 2:
                    continue
                bike = {"format": 1, "label": "x", "frame": {"chainstay_mm": 430, "hub_width_mm": 120}, "wheel": {"tyre": "32-622"},
                        "fitted": {"rings": [{"teeth": ring, **({"profile": profile} if profile else {})}],
                                   "cassette": {"sprockets": [sprocket], "spline": "threaded"}, "rear_derailleur": None}}
                told = json.loads(run("chain", bike, "--json").stdout)
                wrong += [f"{e.message[:80]}" for e in schema("chain").iter_errors(told)]
                bare = bare_links(ring, sprocket, 430)
                even, whole = 2 * math.ceil(bare / 2), math.ceil(bare)
                half = [whole] if whole % 2 and profile != "wide_narrow" else []
                halves += len(half)
                got = [(way["links"], way["half_link"]) for way in told["taut"]]
                if got != [(even - 2, False)] + [(n, True) for n in half] + [(even, False)] or told["links"] != even:
                    wrong.append(f"{ring}/{sprocket} {profile}: {told['links']}, {got} for {bare}")
                wrong += [f"{ring}/{sprocket}: {way}" for way in told["taut"] if abs(bare_links(ring, sprocket, way["chainstay_mm"]) - way["links"]) > 1e-9]
                page = " ".join(run("chain", bike).stdout.split())
                wrong += [] if ("half link" in page) == bool(half) and f"Cut to {even} links" in page else [page]
    tap.ok("a chain that the axle keeps taut", wrong)
    tap.ok("some with a half link", [] if halves >= 3 else [halves])


check_loops()
check_single()
check_cages()
check_no_path()
check_bad_input()
check_random()
check_pages()
tap.end()
