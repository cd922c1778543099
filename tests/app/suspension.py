#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Rear suspensions through the whole program: the tables of tests/reference, an idler, the loop of a gear through the travel, a new
gear beside the old one, measured points, what can't be, and what a bike says of its own."""
import json
import math

from asking import HIGH, IDLER, LAYOUTS, REST, ask, near, reference, run, schema, suspension, tap


COLUMNS = [("stay_mm", "chain_stay_mm", 1e-5), ("kick_held_deg", "kickback_held_deg", 1e-5),
           ("kick_rolling_deg", "kickback_rolling_deg", 1e-5), ("anti_squat_percent", "anti_squat_percent", 1e-3)]


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


def check_bike():
    """A bike that says how its rear axle goes: each gear's growth, kick and anti-squat are those of the bare suspension with the
    same figures; the chain stays follow from it where nobody measured them."""
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


check_suspensions()
check_loops_of_gears()
check_new_gear()
check_points()
check_no_suspension()
check_bike()
tap.end()
