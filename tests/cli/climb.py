#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""climb with --json on every demo bike and on riders of one's own: every figure is worked out again here, by bisection where the
program goes by Newton, from what the answer says that it reckoned with; the published speeds, air and limits; the gear and the ring
that a cadence takes; and a hill in a wish, which is the bound that climb tells."""
import csv
import json
import math
import os
import tempfile

import running
from running import BIKES, SHOP, bike_path, load, run, save, tap

GRAVITY = 9.80665  # ISO 80000-3
BEARINGS = (0.091, 0.0087)  # N, N s/m, both wheels: Martin et al. 1998
PITCH_M, PIN_MM, HALF_WIDTH_MM = 0.0127, 1.83, 3.0  # ISO 9633; pin and half width as the source of the crooked term took them
LIMITS = {row["name"]: row["value"] for row in tap.standard("limits")}
FOLDER = tempfile.TemporaryDirectory()


def near(what, got, want, share=1e-9):
    if got is None or want is None:
        return [] if got is want else [f"{what}: {got}, not {want}"]
    return [] if abs(got - want) <= share * max(1e-3, abs(want)) else [f"{what}: {got}, not {want}"]


def answer(command, *arguments):
    """The answer, whose schema accepts it and beside which nothing stands."""
    told, faults = running.answer(command, command, *arguments, "--json")
    if faults:
        raise AssertionError(f"{command} {arguments}: {faults}")
    return told


def climb(bike, gradient, *more, rider=None):
    if rider is not None:
        more += ("--rider", save(os.path.join(FOLDER.name, "rider.json"), rider))
    return answer("climb", bike, "--gradient-percent", gradient, *more)


# --- the physics again ----------------------------------------------------------------------------------------------------


def terms(rider, gradient, v):
    """Watts at the wheel by cause, at a steady speed."""
    mass, angle = rider["mass_kg"] + rider["bike_mass_kg"], math.atan(gradient / 100)
    return {"air": 0.5 * rider["air_density_kg_m3"] * (rider["cda_m2"] + rider["wheel_drag_area_m2"]) * v ** 3,
            "rolling": rider["crr"] * mass * GRAVITY * math.cos(angle) * v,
            "bearings": (BEARINGS[0] + BEARINGS[1] * v) * v,
            "gravity": mass * GRAVITY * math.sin(angle) * v}


def speed(rider, gradient, wheel_w):
    low, high = 0.0, 100.0
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (low, middle) if sum(terms(rider, gradient, middle).values()) > wheel_w else (middle, high)
    return low


def losses(gear, power, cadence, angle_deg, wheel_teeth):
    """Watts lost where: work of friction in the joints, one bend in and one out, on every wheel that a joint passes."""
    friction, slack_n = LIMITS["chain_friction_ratio"], LIMITS["cage_tension_n"]
    pull_n = power / (gear["ring"] * PITCH_M * cadence / 60)
    seating = sum(friction / (2 * teeth) * ((pull_n + slack_n) + slack_n) * 2 / pull_n for teeth in (gear["ring"], gear["sprocket"]))
    wheels = 2 * friction / (2 * wheel_teeth) * (slack_n + slack_n) * 2 / pull_n
    crooked = friction * HALF_WIDTH_MM / (math.pi * PIN_MM) * math.radians(abs(angle_deg))
    return {"ring_and_sprocket": power * seating, "derailleur_wheels": power * wheels, "chain_angle": power * crooked}


def state_of(cadence, band):
    return "below" if cadence < band[0] else "above" if cadence > band[1] else "in_band"


def rider_of(told):
    return {key: figure["value"] for key, figure in told["rider"].items() if isinstance(figure, dict)}


def check_gear(told, gear, angle, wheel_teeth):
    rider = rider_of(told)
    power, cadence = rider["power_w"], gear["cadence_rpm"]
    wrong = near("cadence", cadence, gear["speed_mps"] * 60 / gear["development_m"])
    wrong += near("speed", gear["speed_mps"], speed(rider, told["gradient_percent"], power * gear["efficiency"]))
    wrong += near("drive", gear["drive_loss_w"], power * (1 - gear["efficiency"]))
    if rider["drive_efficiency"] is None:
        lost = losses(gear, power, cadence, angle, wheel_teeth)
        wrong += [line for where in lost for line in near(where, gear["losses_w"][where], lost[where], 1e-8)]
        wrong += near("all losses", gear["drive_loss_w"], sum(lost.values()), 1e-8)
    else:
        wrong += near("efficiency", gear["efficiency"], rider["drive_efficiency"])
        wrong += [] if gear["losses_w"] is None else ["losses by where, though the share is fixed"]
    wrong += [] if gear["state"] == state_of(cadence, rider["climb_cadence_rpm"]) else [f"{cadence} is {gear['state']}"]
    wrong += [] if gear["walked"] == (cadence < rider["least_cadence_rpm"]) else [f"{cadence}: walked {gear['walked']}"]
    return [f"{gear['ring']}/{gear['sprocket']}: {line}" for line in wrong]


def outside(cadence, band):
    """How far from the band, or from its middle, as a logarithm; a twentieth is not felt."""
    if band[0] <= cadence <= band[1]:
        return max(0.05, abs(math.log(cadence / math.sqrt(band[0] * band[1]))))
    return max(0.05, math.log(band[0] / cadence) if cadence < band[0] else math.log(cadence / band[1]))


def check_taken(told):
    band, gears = rider_of(told)["climb_cadence_rpm"], told["gears"]
    best = min(gears, key=lambda g: (g["state"] != "in_band", round(outside(g["cadence_rpm"], band), 12), -g["efficiency"]))
    taken = gears[told["taken"]]
    wrong = [] if (taken["ring"], taken["sprocket"]) == (best["ring"], best["sprocket"]) else [f"{taken}, not {best}"]
    return wrong + near("speed of the gear that is taken", told["speed_mps"], taken["speed_mps"])


def check_rings(told, bike_gears):
    """The needed development, the largest ring that has it, and each ring alone."""
    wrong = near("needed", told["needed_development_m"], told["speed_mps"] * 60 / told["wanted_cadence_rpm"])
    sprockets = sorted({gear["sprocket"] for gear in told["gears"]})
    rolling_m = told["gears"][0]["development_m"] * told["gears"][0]["sprocket"] / told["gears"][0]["ring"]
    serve = [ring for ring in range(20, 61) if ring * rolling_m / sprockets[-1] <= told["needed_development_m"] * (1 + 1e-12)]
    wrong += [] if told["largest_ring"] == (serve[-1] if serve else None) else [f"largest ring {told['largest_ring']}, not {serve[-1:]}"]
    top_rpm = rider_of(told)["cadence_rpm"][1]
    for ring in told["rings"]:
        wrong += near("lowest", ring["lowest_m"], ring["ring"] * rolling_m / sprockets[-1])
        wrong += near("highest", ring["highest_m"], ring["ring"] * rolling_m / sprockets[0])
        wrong += near("cadence", ring["cadence_rpm"], told["speed_mps"] * 60 / ring["lowest_m"])
        wrong += near("top", ring["top_km_h"], ring["highest_m"] * top_rpm * 60 / 1000)
        wrong += near("than now", ring["than_now_percent"], 100 * (ring["highest_m"] / bike_gears["highest_m"] - 1), 1e-7)
        wrong += [] if ring["serves"] == (ring["ring"] in serve) else [f"{ring['ring']} serves: {ring['serves']}"]
    return wrong + ([] if told["rings"] else ["no ring"])


def check_bike(name, gradient, *more, rider=None):
    told = climb(bike_path(name), gradient, *more, rider=rider)
    gears, line = answer("gears", bike_path(name)), answer("line", bike_path(name))
    angles = {(a["ring"], a["sprocket"]): a["angle_deg"] or 0 for a in line["angles"]}
    wheel_teeth = tap.standard("cage_shapes")[0]["wheel_teeth"]  # the same for every class
    wrong = [] if [(g["ring"], g["sprocket"], g["development_m"]) for g in told["gears"]] == [
        (g["ring"], g["sprocket"], g["development_m"]) for g in gears["gears"]] else ["other gears"]
    for gear in told["gears"]:
        wrong += check_gear(told, gear, angles[gear["ring"], gear["sprocket"]], wheel_teeth)
    power = terms(rider_of(told), gradient, told["speed_mps"])
    wrong += [line for cause in power for line in near(cause, told["wheel_power_w"][cause], power[cause])]
    wrong += near("balance", sum(told["wheel_power_w"].values()) + told["drive_loss_w"], rider_of(told)["power_w"])
    arm_m = rider_of(told)["crank_mm"] and rider_of(told)["crank_mm"] / 1000
    cadence = told["gears"][told["taken"]]["cadence_rpm"]
    wrong += near("push", told["pedal_force_n"], arm_m and rider_of(told)["power_w"] / (2 * math.pi * cadence / 60) / arm_m)
    tap.ok(f"{name} on {gradient} %" + (" " + " ".join(map(str, more)) if more else ""), wrong + check_taken(told) + check_rings(told, gears))


# --- published figures through the program ----------------------------------------------------------------------------------


def reference(name):
    with open(os.path.join(tap.ROOT, "tests", "reference", name + ".csv"), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


# The rider of load_speed.csv.
TABLE_RIDER = {"mass_kg": 75, "bike_mass_kg": 10, "cda_m2": 0.32, "wheel_drag_area_m2": 0, "crr": 0.005, "air_density_kg_m3": 1.225,
               "drive_efficiency": 0.976}


def check_published_speeds():
    rows = [row for row in reference("load_speed") if float(row["gradient"]) >= 0 and float(row["rider_w"]) > 0]
    wrong = [] if len(rows) == 6 else [f"{len(rows)} rows"]
    for row in rows:
        told = climb(bike_path("tern-road"), f"{100 * float(row['gradient']):g}", rider={**TABLE_RIDER, "power_w": float(row["rider_w"])})
        if abs(told["speed_mps"] - float(row["speed_mps"])) > 1e-5:
            wrong.append(f"{row['rider_w']} W on {row['gradient']}: {told['speed_mps']}, not {row['speed_mps']}")
        wrong += [] if all(abs(g["speed_mps"] - told["speed_mps"]) < 1e-12 for g in told["gears"]) else ["a speed hangs on the gear"]
    tap.ok("published speeds", wrong)


def check_published_limits():
    """The benchmark bicycle of Meijaard et al. 2007, with the peak of a pedal stroke."""
    bike = load(bike_path("quillmoor-trail"))
    bike["frame"]["wheelbase_mm"] = 1020
    bike["rider"].update(com_forward_mm=342.127660, com_height_mm=861.170213, grip=0.3)
    told = climb(save(os.path.join(FOLDER.name, "bike.json"), bike), 10)
    rows = {(row["peak"], row["grip"]): row for row in reference("statics_limits")}
    wrong = near("lift", told["lift_gradient_percent"], 100 * float(rows["1.8", ""]["lift"]), 1e-5)
    wrong += near("slip", told["slip_gradient_percent"], 100 * float(rows["1.8", "0.3"]["slip"]), 1e-5)
    wrong += [] if not told["never_slips"] and told["open"] == [] else [told["never_slips"], told["open"]]
    bike["rider"]["grip"] = 1.2  # more than 1020 / 861
    told = climb(save(os.path.join(FOLDER.name, "bike.json"), bike), 10)
    wrong += [] if told["never_slips"] and told["slip_gradient_percent"] is None else ["slips with a grip of 1.2"]
    tap.ok("the benchmark bicycle's limits", wrong)


def air(**weather):
    return climb(bike_path("tern-road"), 5, rider=weather)["rider"]["air_density_kg_m3"]


def check_air():
    wrong = near("nothing said", air()["value"], 1.225, 5e-5) + near("1000 m", air(height_m=1000)["value"], 1.111659, 1e-6)
    for row in reference("air_moist"):
        got = air(air_temperature_c=float(row["temperature_c"]), air_pressure_hpa=float(row["pressure_pa"]) / 100,
                  air_humidity_percent=100 * float(row["humidity"]))
        wrong += near(f"{row['temperature_c']} C", got["value"], float(row["density_kg_m3"]), 1e-3)
        wrong += [] if got["known"] == "measured" else [got["known"]]
    wrong += [] if [air()["known"], air(height_m=400)["known"], air(air_temperature_c=3)["known"]] == ["assumed", "table", "assumed"] else ["known"]
    wrong += near("given", air(air_density_kg_m3=1.1, height_m=3000)["value"], 1.1)
    tap.ok("air by ISO 2533 and CIPM-2007", wrong)


# --- the rider's power --------------------------------------------------------------------------------------------------------


def check_power():
    hill = climb(bike_path("tern-road"), 10, rider={**TABLE_RIDER, "power_w": 250})
    timed = {**TABLE_RIDER, "known_climb_gradient_percent": 10, "known_climb_length_m": 1000, "known_climb_time_s": 363.477}
    told = climb(bike_path("tern-road"), 10, rider=timed)  # 1000 m / 2.751203 m/s: 250 W, worked apart from the code
    wrong = near("from a timed climb", told["rider"]["power_w"]["value"], 250, 1e-5)
    wrong += near("and its speed", told["speed_mps"], hill["speed_mps"], 1e-5)
    wrong += [] if told["rider"]["power_from"] == "known_climb" else [told["rider"]["power_from"]]
    told = climb(bike_path("tern-road"), 10, rider={"mass_kg": 70, "power_w_per_kg": 3})
    wrong += near("W/kg", told["rider"]["power_w"]["value"], 210)
    for row in tap.standard("trainings"):
        told = climb(bike_path("tern-road"), 10, rider={"mass_kg": 70, "training": row["training"]})["rider"]
        wrong += near(row["training"], told["power_w"]["value"], 35 * (row["low_w_kg"] + row["high_w_kg"]))
        wrong += [] if told["power_w"]["known"] == "assumed" and told["power_from"] == "training" else [told]
    told = climb(bike_path("tern-road"), 10, rider={**timed, "power_w": 180, "training": "elite"})["rider"]
    wrong += [] if told["power_w"] == {"value": 180, "known": "measured"} and told["power_from"] == "given" else [told]
    tap.ok("power: given, from a timed climb, by W/kg, by training", wrong)


def check_usual():
    """What is assumed where nobody said anything comes from the tables, by use and bar, and is said to be assumed."""
    wrong = []
    for name, position, ground in (("tern-road", "hoods", "racing_asphalt"), ("quillmoor-trail", "flat_bar", "off_road_trail"),
                                   ("tiller-city", "upright", "town_asphalt"), ("marram-gravel", "hoods", "wide_gravel")):
        told = climb(bike_path(name), 7, rider={})["rider"]
        row = lambda table, key, word: next(r for r in tap.standard(table) if r[key] == word)
        wrong += near(f"{name}: drag", told["cda_m2"]["value"], row("positions", "position", position)["cda_m2"])
        wrong += near(f"{name}: rolling", told["crr"]["value"], row("grounds", "ground", ground)["crr"])
        wrong += near(f"{name}: grip", told["grip"]["value"], row("grips", "ground", ground)["grip"])
        wrong += [f"{name}: {key} {told[key]}" for key in ("mass_kg", "bike_mass_kg", "power_w", "cda_m2", "crr", "grip", "cadence_rpm")
                  if told[key]["known"] != "assumed"]
    told = climb(bike_path("tern-road"), 7, rider={"position": "drops", "tyre_and_ground": "racing_asphalt"})["rider"]
    wrong += [] if [told["cda_m2"]["known"], told["crr"]["known"], told["grip"]["known"]] == ["table", "table", "assumed"] else [told]
    tap.ok("what is usual on such a bike", wrong)


# --- what must hold ---------------------------------------------------------------------------------------------------------


def check_cadence():
    """A cadence that is asked for moves what it takes, and no speed."""
    plain, asked = climb(bike_path("quillmoor-trail"), 12), climb(bike_path("quillmoor-trail"), 12, "--cadence-rpm", 80)
    wrong = near("speed", asked["speed_mps"], plain["speed_mps"]) + near("wanted", asked["wanted_cadence_rpm"], 80)
    wrong += near("needed", asked["needed_development_m"], plain["needed_development_m"] * plain["wanted_cadence_rpm"] / 80)
    wrong += [] if asked["gears"] == plain["gears"] else ["other gears"]
    own = climb(bike_path("quillmoor-trail"), 12, rider={"cadence_rpm": [60, 95], "climb_cadence_rpm": [50, 70]})
    wrong += near("the band uphill", own["wanted_cadence_rpm"], 50)
    tap.ok("a cadence that is asked for", wrong)


def check_open():
    """Without gears or wheel the speed is told all the same, and what the rest waits for."""
    bare = save(os.path.join(FOLDER.name, "bare.json"), {"format": 1, "label": "x", "frame": {}, "wheel": {}, "fitted": {}})
    told = climb(bare, 7)
    rider = rider_of(told)
    wrong = near("speed", told["speed_mps"], speed(rider, 7, LIMITS["drive_efficiency_ratio"] * rider["power_w"]))
    wrong += [] if told["gears"] == [] and told["taken"] is None and told["known"] == "open" else ["gears"]
    wanted = {"/fitted/cassette/sprockets", "/fitted/outer_ring/teeth", "/wheel/rolling_mm", "/rider/com_forward_mm",
              "/rider/com_height_mm", "/frame/wheelbase_mm"}
    wrong += [] if set(told["open"]) == wanted else [told["open"]]
    bike = load(bike_path("wren-24"))
    bike["wheel"] = {}
    told = climb(save(bare, bike), 7)
    wrong += [] if told["gears"] and all(g["cadence_rpm"] is None and g["state"] is None for g in told["gears"]) else ["cadences"]
    tap.ok("what is open", wrong)


# --- a hill as a wish -------------------------------------------------------------------------------------------------------


def plan(name, wish, *more):
    path = save(os.path.join(FOLDER.name, "wish.json"), wish)
    return running.document_of(run("plan", bike_path(name), "--catalogue", SHOP, "--wish", path, "--ways", 20, "--json", *more).out)


def check_wish(name, gradient, cadence, **more):
    needed = climb(bike_path(name), gradient, "--cadence-rpm", cadence)["needed_development_m"]
    hill, metres = plan(name, {"climb": {"gradient_percent": gradient, "cadence_rpm": cadence}, **more}), plan(name, {"lowest_m_max": needed, **more})
    told = hill.pop("climbs", [])
    wrong = running.complaints("plan", {**hill, "climbs": told}) + ([] if hill == metres else ["another plan than with lowest_m_max"])
    wrong += [] if told == [{"gradient_percent": gradient, "cadence_rpm": cadence, "lowest_m_max": needed, "known": "assumed"}] else [told]
    wrong += [f"{build['lowest_m']} over {needed}" for build in hill["builds"] if build["lowest_m"] > needed + 5e-5]
    tap.ok(f"a hill of {gradient} % at {cadence} rpm as a wish: {name}", wrong)


def check_wishes():
    check_wish("quillmoor-trail", 14, 60)
    check_wish("harrow-stone", 12, 65, budget=60000)
    needed = climb(bike_path("quillmoor-trail"), 14)["needed_development_m"]
    several = plan("quillmoor-trail", {"climb": [{"gradient_percent": 6, "cadence_rpm": 80}, {"gradient_percent": 14}]})
    wrong = [] if [c["cadence_rpm"] for c in several["climbs"]] == [80, 60] else [several["climbs"]]
    wrong += near("the low end of the band where no cadence stands", several["climbs"][1]["lowest_m_max"], needed)
    several.pop("climbs")
    wrong += [] if several == plan("quillmoor-trail", {"lowest_m_max": needed}) else ["not the stricter one"]
    stricter = plan("quillmoor-trail", {"climb": {"gradient_percent": 6, "cadence_rpm": 60}, "lowest_m_max": 1.3})
    stricter.pop("climbs")
    wrong += [] if stricter == plan("quillmoor-trail", {"lowest_m_max": 1.3}) else ["a wish in metres that is stricter does not hold"]
    tap.ok("several hills, and a hill beside metres", wrong)


def check_wish_elsewhere():
    """The rider's own file, a fleet and the page know the same hill."""
    wish = {"climb": {"gradient_percent": 14, "cadence_rpm": 60}}
    rider = save(os.path.join(FOLDER.name, "strong.json"), {"mass_kg": 78, "bike_mass_kg": 13.5, "power_w": 260, "cadence_rpm": [60, 95]})
    plain, strong = plan("quillmoor-trail", wish), plan("quillmoor-trail", wish, "--rider", rider)
    wrong = [] if strong["climbs"][0]["lowest_m_max"] > 1.25 * plain["climbs"][0]["lowest_m_max"] else ["power does not tell"]
    line = json.dumps({"bike": load(bike_path("quillmoor-trail")), "wish": wish})
    batch = run("plan", "--batch", "-", "--catalogue", SHOP, "--ways", 20, stdin=line.encode() + b"\n")
    wrong += [] if json.loads(batch.out)["plan"] == plain else ["a fleet has another plan"]
    path = save(os.path.join(FOLDER.name, "wish.json"), wish)
    page = " ".join(run("plan", bike_path("quillmoor-trail"), "--catalogue", SHOP, "--wish", path).out.decode().split())
    wrong += [f"not on the page: {words}" for words in ("for 60 rpm on 14 %", "60 rpm on 14 % take a gear of ~") if words not in page]
    tap.ok("a hill: a rider's own file, a fleet, the page", wrong)


def check_list():
    """Each of a list is the hill of its gradient, and takes its length by its speed; what goes down is no climb."""
    bike, wrong = bike_path("quillmoor-trail"), []
    told = answer("climb", bike, "--climb", "14 % for 600 m, 8 for 1.2 km, 0 % for 30 m")["climbs"]
    for hill, gradient, metres in zip(told, (14, 8, 0), (600, 1200, 30)):
        one = climb(bike, gradient)
        wrong += near("length", hill.pop("length_m"), metres, 1e-12) + near("time", hill.pop("time_s"), metres / one["speed_mps"], 1e-9)
        rounded = lambda told: json.loads(json.dumps(told), parse_float=lambda digits: round(float(digits), 8))
        wrong += [] if len(told) == 3 and rounded(hill) == rounded(one) else [f"{gradient} % is another hill"]
    page = " ".join(run("climb", bike, "--climb", "8 % for 1.2 km, 3 % for 2 km").out.decode().split())
    wrong += [f"not on the page: {words}" for words in ("8 % for 1.2 km", "The 1.2 km take ~", "3 % for 2.0 km", "The 2.0 km take ~") if words not in page]
    for arguments, status, words in ((["--climb", "-4 % for 1 km"], 3, "a way down"), (["--climb", "4 % for 1"], 3, "4 % for 1"),
                                     (["--climb", "4 % for 1 km", "--gradient-percent", "3"], 2, "one or the other"),
                                     ([], 2, "--gradient-percent G or --climb LIST")):
        ran = run("climb", bike, *arguments)
        wrong += [] if ran.status == status and words in ran.err.decode() and not ran.out else [ran]
    tap.ok("a list of climbs", wrong)


for bike in BIKES:
    check_bike(bike, 8)
for steep in (0, 3.5, 20):
    check_bike("quillmoor-trail", steep)
check_bike("harrow-stone", 11, "--cadence-rpm", 55)
check_bike("tern-road", 6, rider={**TABLE_RIDER, "power_w": 210, "cadence_rpm": [70, 95], "crank_mm": 172.5})
check_published_speeds()
check_published_limits()
check_air()
check_power()
check_usual()
check_cadence()
check_open()
check_list()
check_wishes()
check_wish_elsewhere()
tap.end()
