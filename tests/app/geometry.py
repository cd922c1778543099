#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""path, suspension and the cages of chain through the whole program: every loop and every suspension of tests/reference, to the digits that
are told there; what can't be, with exit status 1 and a reason; bad input; the same figures as a person reads them."""
import csv
import glob
import json
import math
import os
import random
import subprocess
import sys

import jsonschema

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data"))
import tap  # noqa: E402

PROGRAM = os.environ["CHAINWRIGHT"]
SCHEMAS = {}


def schema(name):
    if name not in SCHEMAS:
        with open(os.path.join(tap.ROOT, "docs", "schema", name + ".schema.json"), encoding="utf-8") as file:
            SCHEMAS[name] = jsonschema.Draft202012Validator(json.load(file))
    return SCHEMAS[name]


def run(command, document, *options):
    text = document if isinstance(document, str) else json.dumps(document)
    environment = dict(os.environ, LC_ALL="C.UTF-8", ASAN_OPTIONS="exitcode=99", UBSAN_OPTIONS="exitcode=99")
    return subprocess.run([PROGRAM, command, "-", *options], input=text, capture_output=True, encoding="utf-8",
                          env=environment, timeout=60)


def no_constant(word):
    raise ValueError(word)


def ask(command, document, status=0):
    """An answer as data and what is wrong with how it was given; the document is one that the schema takes."""
    done = run(command, document, "--json")
    wrong = [f"exit status {done.returncode}, not {status}: {done.stderr[:200]}"] if done.returncode != status else []
    wrong += [f"input: {e.message[:80]}" for e in schema(command + "_input").iter_errors(document)]
    try:
        told = json.loads(done.stdout, parse_constant=no_constant)
    except ValueError as error:
        return None, wrong + [f"no JSON: {error}"]
    wrong += [f"answer: {e.message[:80]}" for e in schema(command).iter_errors(told)]
    return told, wrong


def reference(name):
    with open(os.path.join(tap.ROOT, "tests", "reference", name + ".csv"), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def near(what, got, cell, tolerance):
    bad = got is None or abs(got - float(cell)) > tolerance + 1e-9
    return [f"{what}: {got}, not {cell}"] if bad else []


def wheel(row):
    size = {"teeth": int(row["teeth"])} if row["teeth"] else {"radius_mm": float(row["radius_mm"])}
    return {"x_mm": float(row["x_mm"]), "y_mm": float(row["y_mm"]), **size, "sense": "cw" if row["sense"] == "-1" else "ccw"}


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


REST = {"wheel_radius_mm": 370, "wheelbase_mm": 1200, "centre_of_mass_height_mm": 1100}
LAYOUTS = {
    "single pivot": {"axle_mm": [-434, 30], "pivot_mm": [30, 60]},
    "on the bottom bracket": {"axle_mm": [-434, 30], "pivot_mm": [0, 0]},
    "four-bar": {"axle_mm": [-435, 28], "lower": {"frame_mm": [-5, 45], "joint_mm": [-395, 18]},
                 "upper": {"frame_mm": [-20, 260], "joint_mm": [-90, 285]}},
}
COLUMNS = [("stay_mm", "chain_stay_mm", 1e-5), ("kick_held_deg", "kickback_held_deg", 1e-5),
           ("kick_rolling_deg", "kickback_rolling_deg", 1e-5), ("anti_squat_percent", "anti_squat_percent", 1e-3)]


def suspension(layout, travels, ring=32, sprocket=21, **more):
    return {**LAYOUTS[layout], **REST, "ring": ring, "sprocket": sprocket, "travel_mm": travels, **more}


def check_suspensions():
    wrong, seen = [], 0
    for row in reference("suspension_travel"):
        travel = float(row["travel_mm"])
        told, faults = ask("suspension", suspension(row["layout"], [0, travel], int(row["ring"]), int(row["sprocket"])))
        what = f"{row['layout']} {row['ring']}/{row['sprocket']} {travel:g}"
        wrong += [f"{what}: {fault}" for fault in faults]
        rest, at = told["rows"]
        for column, key, tolerance in COLUMNS:
            if row[column]:
                wrong += near(f"{what} {key}", at[key], row[column], tolerance)
                seen += 1
        if row["axle_x_mm"]:
            wrong += near(what, at["axle_mm"][0], row["axle_x_mm"], 1e-5)
        if row["span_growth_mm"]:
            wrong += near(what, at["span_mm"] - rest["span_mm"], row["span_growth_mm"], 1e-5)
        if row["centre_x_mm"]:
            wrong += near(what, at["instant_centre_mm"][0], row["centre_x_mm"], 1e-3)
    for row in reference("suspension_gears"):
        told, faults = ask("suspension", suspension("single pivot", [40], int(row["ring"]), int(row["sprocket"])))
        wrong += faults + near(row, told["rows"][0]["anti_squat_percent"], row["anti_squat_percent"], 1e-3)
    tap.ok("every suspension of the tables", wrong)
    tap.ok("often enough", [] if seen >= 60 else [seen])


IDLER = {"x_mm": -25, "y_mm": 115, "teeth": 16}
HIGH = {"axle_mm": [-434, -18], "pivot_mm": [-20, 130], **REST}


def check_loops_of_gears():
    """Every row's loop is the path round its wheels; the longest is not shorter than any of them, nor than at any travel between."""
    travels, wrong = [0, 20, 40, 80, 120, 150], []
    for document in (suspension("single pivot", travels), suspension("four-bar", travels, 30, 51),
                     {**HIGH, "ring": 34, "sprocket": 24, "travel_mm": travels, "idler": IDLER}):
        told, faults = ask("suspension", document)
        gear = told["gears"][0]
        wrong += faults + ([] if gear["rows"] == told["rows"] else ["other rows"])
        for row in gear["rows"]:
            wheels = [{"x_mm": row["axle_mm"][0], "y_mm": row["axle_mm"][1], "teeth": document["sprocket"], "sense": "cw"},
                      {"x_mm": 0, "y_mm": 0, "teeth": document["ring"], "sense": "cw"}]
            wheels[1:1] = [{**document["idler"], "sense": "cw"}] if "idler" in document else []
            wrong += near("loop", row["loop_links"], ask("path", {"wheels": wheels})[0]["links"], 1e-9)
        between, _ = ask("suspension", {**document, "travel_mm": [n / 2 for n in range(301)]})
        most = max(row["loop_links"] for row in between["rows"])
        wrong += [] if most - 1e-9 <= gear["longest_links"] < most + 1e-3 else [f"longest: {gear['longest_links']}, not {most}"]
        wrong += near("growth", gear["growth_links"], gear["longest_links"] - gear["rest"]["loop_links"], 1e-12)
    tap.ok("the loop of a gear through the travel, with and without an idler, and where it is longest", wrong)


def check_new_gear():
    """A new ring is told as if it had been asked about alone; the words go the way that the figures go."""
    travels, wrong = [0, 40, 150], []
    cases = [(28, None, "held up more", "feel more"), (38, None, "sinks more", "feel less"), (32, None, "feels as now", "about the same"),
             (32, 51, "feels as now", "feel more"), (None, 10, "sinks more", "feel less")]
    for ring, sprocket, squat, kick in cases:
        asked = suspension("single pivot", travels, sag_mm=40, **({"new_ring": ring} if ring else {}),
                           **({"new_sprocket": sprocket} if sprocket else {}))
        told, faults = ask("suspension", asked)
        alone, _ = ask("suspension", suspension("single pivot", travels, ring or 32, sprocket or 21, sag_mm=40))
        wrong += faults + ([] if told["gears"][1] == alone["gears"][0] else [f"{ring} {sprocket}: not as alone"])
        wrong += [] if told["gears"][0]["sag"]["travel_mm"] == 40 and not told["sag_assumed"] else ["sag"]
        page = run("suspension", asked).stdout
        words = " ".join(page.split())
        wrong += [f"{ring} {sprocket}: {page}" for word in (squat, kick) if word not in words]
        wrong += [line for line in page.splitlines() if len(line) > 79 or line.endswith(" ")]
    told, faults = ask("suspension", suspension("single pivot", travels))
    wrong += faults + ([] if len(told["gears"]) == 1 and told["sag_assumed"] and abs(told["sag_mm"] - 45) < 1e-9 else ["assumed sag"])
    rings = [ask("suspension", {**HIGH, "ring": ring, "sprocket": 24, "travel_mm": [40], "idler": IDLER})[0]["rows"][0] for ring in (30, 34)]
    wrong += near("with an idler", rings[0]["anti_squat_percent"], rings[1]["anti_squat_percent"], 1e-9)
    tap.ok("what another ring or sprocket does, in figures and in words", wrong)


def check_points():
    """Points measured on the four-bar, 25 mm apart, tell what the linkage tells: to 0.002 mm and 0.3 %."""
    travels = [0, 25, 50, 75, 100, 125, 150]
    told, wrong = ask("suspension", suspension("four-bar", travels + [12.5, 87.5]))
    points = {"axle_path_mm": [row["axle_mm"] for row in told["rows"][:len(travels)]]}
    document = {**points, **REST, "ring": 32, "sprocket": 21, "travel_mm": travels + [12.5, 87.5]}
    again, faults = ask("suspension", document)
    for real, seen in zip(told["rows"], again["rows"]):
        wrong += near("x", seen["axle_mm"][0], real["axle_mm"][0], 0.002)
        wrong += near("anti-squat", seen["anti_squat_percent"], real["anti_squat_percent"], 0.3)
        wrong += near("kick", seen["kickback_held_deg"], real["kickback_held_deg"], 0.005)
        wrong += [] if seen["instant_centre_mm"] is None else ["a centre of points"]
    tap.ok("measured points stand for the linkage", wrong + faults)


def check_no_suspension():
    pivot_on_axle = {**suspension("single pivot", [10]), "pivot_mm": [-434, 30]}
    no_link = {**suspension("four-bar", [10]), "lower": {"frame_mm": [-5, 45], "joint_mm": [-5, 45]}}
    points = {**REST, "ring": 32, "sprocket": 21, "axle_path_mm": [[-434, 30], [-436, 80]], "travel_mm": [20, 51]}
    cases = {"pivot on the axle": (pivot_on_axle, "pivot lies on the axle"), "no link": (no_link, "both ends in one place"),
             "the linkage stops": (suspension("four-bar", [0, 40, 450]), "450.0 mm"),
             "not measured": (points, "51.0 mm"),
             "wheels overlap": (suspension("single pivot", [0], 130, 130), "cut into each other"),
             "an idler in the ring": ({**HIGH, "ring": 34, "sprocket": 24, "travel_mm": [0], "idler": {**IDLER, "y_mm": 60}}, "cut into"),
             "an idler under the chain": (suspension("single pivot", [0], idler={**IDLER, "x_mm": -200, "y_mm": 0}), "not press on the idler"),
             "an idler that the chain leaves": ({**HIGH, "ring": 30, "sprocket": 10, "travel_mm": [0, 300], "idler": {"x_mm": -150, "y_mm": 60, "teeth": 12}}, "mm of travel")}
    wrong = []
    for what, (document, words) in cases.items():
        told, faults = ask("suspension", document, status=1)
        wrong += [f"{what}: {fault}" for fault in faults]
        if words not in (told["reason"] or "") or told["rows"]:
            wrong.append(f"{what}: {told}")
        page = run("suspension", document)
        if page.returncode != 1 or words not in " ".join(page.stdout.split()):
            wrong.append(f"{what}: page {page.stdout}")
    tap.ok("a suspension that can't be is answered with the reason", wrong)


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
    size = [{"x_mm": -stay * i, "y_mm": 0, "teeth": teeth, "sense": "cw"} for i, teeth in enumerate((ring, sprocket))]
    return ask("path", {"wheels": size})[0]["links"]


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
            links, tensions = [], []
            for shape in shapes.values():  # one of them is the bike's
                wheel_teeth, body, cage = int(shape["wheel_teeth"]), math.radians(shape["body_deg"]), math.radians(gear["cage_deg"])
                apart = tips(gear["sprocket"]) + tips(wheel_teeth) + gear["gap_mm"]
                guide = (axle[0] + apart * math.sin(body), axle[1] - apart * math.cos(body))
                tension = (guide[0] + shape["apart_mm"] * math.sin(cage), guide[1] - shape["apart_mm"] * math.cos(cage))
                tensions.append((tension, wheel_teeth))
                wheels = [(*axle, gear["sprocket"], "cw"), (0, 0, gear["ring"], "cw"), (*tension, wheel_teeth, "cw"),
                          (*guide, wheel_teeth, "ccw")]
                done = run("path", {"wheels": [{"x_mm": x, "y_mm": y, "teeth": t, "sense": s} for x, y, t, s in wheels]}, "--json")
                links.append(json.loads(done.stdout)["links"])
            if not any(n is not None and abs(n - (told["links"] - gear["slack_links"])) < 1e-5 for n in links):
                wrong.append(f"{what}: {links} for {told['links']} less {gear['slack_links']}")
            wheel = json.loads(text)["wheel"]
            size = wheel.get("tyre", "").split("-") if "rolling_mm" not in wheel else None
            rows = {row["tyre"]: row["rolling_mm"] for row in tap.standard("tyres")}
            turn = wheel["rolling_mm"] if size is None else rows["-".join(size)]
            turn = turn["value"] if isinstance(turn, dict) else turn
            low = [turn / 2 / math.pi + (tension[1] - axle[1]) - 12.7 / 2 / math.sin(math.pi / wheel_teeth) - 8.5 / 2
                   for tension, wheel_teeth in tensions]
            if not any(abs(gear["ground_mm"] - one) < 1e-6 for one in low):
                wrong.append(f"{what}: {gear['ground_mm']} over the ground, not one of {low}")
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
    def loop(ring, sprocket, stay):
        radius = [12.7 / 2 / math.sin(math.pi / teeth) for teeth in (ring, sprocket)]
        lean = math.asin((radius[0] - radius[1]) / stay)
        return 2 * stay * math.cos(lean) / 12.7 + ring * (math.pi + 2 * lean) / 2 / math.pi + sprocket * (math.pi - 2 * lean) / 2 / math.pi
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
                bare = loop(ring, sprocket, 430)
                even, whole = 2 * math.ceil(bare / 2), math.ceil(bare)
                half = [whole] if whole % 2 and profile != "wide_narrow" else []
                halves += len(half)
                got = [(way["links"], way["half_link"]) for way in told["taut"]]
                if got != [(even - 2, False)] + [(n, True) for n in half] + [(even, False)] or told["links"] != even:
                    wrong.append(f"{ring}/{sprocket} {profile}: {told['links']}, {got} for {bare}")
                wrong += [f"{ring}/{sprocket}: {way}" for way in told["taut"] if abs(loop(ring, sprocket, way["chainstay_mm"]) - way["links"]) > 1e-9]
                page = " ".join(run("chain", bike).stdout.split())
                wrong += [] if ("half link" in page) == bool(half) and f"Cut to {even} links" in page else [page]
    tap.ok("a chain that the axle keeps taut", wrong)
    tap.ok("some with a half link", [] if halves >= 3 else [halves])


def check_bike():
    """A bike that says how its rear axle goes: each gear's growth, kick and anti-squat are those of the bare suspension with the
    same figures; the chain stays follow from it where nobody measured them; the plan tells how each way pedals."""
    drawn = {"axle_mm": [-434.6, 18], "pivot_mm": [25, 35], "travel_mm": 140, "sag_mm": 40}
    bike = {"format": 1, "label": "x", "use": "off_road", "frame": {"hub_width_mm": 148, "wheelbase_mm": 1200},
            "wheel": {"tyre": "57-584", "rolling_mm": 2200}, "suspension": drawn, "rider": {"com_height_mm": 1120},
            "fitted": {"rings": [{"teeth": 36}, {"teeth": 26}], "cassette": {"sprockets": [11, 21, 42]},
                       "rear_derailleur": {"cage": "long", "capacity_teeth": 47}}}
    told = json.loads(run("chain", bike, "--json").stdout)
    wrong = [e.message[:80] for e in schema("bike").iter_errors(bike)] + [e.message[:80] for e in schema("chain").iter_errors(told)]
    bare = {**{key: drawn[key] for key in ("axle_mm", "pivot_mm", "sag_mm")}, "wheel_radius_mm": 2200 / 2 / math.pi, "wheelbase_mm": 1200,
            "centre_of_mass_height_mm": 1120, "travel_mm": [140]}
    for gear in told["gears"]:
        alone = ask("suspension", {**bare, "ring": gear["ring"], "sprocket": gear["sprocket"]})[0]
        what, one = f"{gear['ring']}/{gear['sprocket']}", alone["gears"][0]
        wrong += near(what + " growth", gear["growth_links"], one["growth_links"], 1e-9)
        wrong += near(what + " longest", gear["longest_at_mm"], one["longest_at_mm"], 1e-9)
        wrong += near(what + " kick", gear["kickback_held_deg"], one["full"]["kickback_held_deg"], 1e-9)
        wrong += near(what + " anti-squat", gear["anti_squat_percent"], one["sag"]["anti_squat_percent"], 1e-9)
        wrong += near(what + " stay", told["chainstay_mm"], alone["longest"]["chain_stay_mm"], 1e-9)
    wrong += [] if len(told["gears"]) == 6 and told["open"] == [] else [told["open"]]
    read = {**bike, "frame": {**bike["frame"], "chainstay_longest_mm": 450}}
    wrong += near("a stay that was read", json.loads(run("chain", read, "--json").stdout)["chainstay_mm"], 450, 0)
    plain = json.loads(run("chain", {key: value for key, value in bike.items() if key != "suspension"} |
                           {"frame": {**bike["frame"], "chainstay_mm": 435}}, "--json").stdout)
    wrong += [] if all(gear["growth_links"] is None for gear in plain["gears"]) else ["growth without a suspension"]
    tap.ok("what a bike's own suspension does to each gear", wrong)
    shop, name = os.path.join(tap.DATA, "demo", "shop"), os.path.join(tap.DATA, "demo", "bikes", "osier-ridge.json")
    done = subprocess.run([PROGRAM, "plan", name, "--catalogue", shop, "--wish", name.replace("bikes", "wishes")], capture_output=True,
                          encoding="utf-8", env=dict(os.environ, LC_ALL="C.UTF-8"), timeout=280)
    pages = done.stdout.count("pedalling    climbing"), done.stdout.count("rolling along, ")
    tap.ok("a plan tells how each way pedals", [] if pages[0] >= 2 and pages[0] == pages[1] else [pages, done.stdout[-500:]])


check_loops()
check_bike()
check_single()
check_cages()
check_no_path()
check_suspensions()
check_loops_of_gears()
check_new_gear()
check_points()
check_no_suspension()
check_bad_input()
check_random()
check_pages()
tap.end()
