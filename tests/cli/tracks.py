#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Routes as they really come: what `ride` makes of tracks that are awkward, and what it says of those that are none."""
import json
import math
import os
import subprocess
import sys
import tempfile

import running
from running import bike_path, run, tap

BIKE = bike_path("quillmoor-trail")
DEMO = os.path.join(running.DEMO, "routes", "quillmoor-loop.gpx")
# The rider of whom speeds were derived apart from the program: 250 W on 10 % make 2.751203 m/s, tests/reference.
RIDER = {"mass_kg": 75, "bike_mass_kg": 10, "power_w": 250, "cda_m2": 0.32, "wheel_drag_area_m2": 0, "crr": 0.005,
         "air_density_kg_m3": 1.225, "drive_efficiency": 0.976, "cadence_rpm": [60, 90]}
DEGREE_M = 111131.787  # of the meridian at 45 degrees: tests/reference/earth_legs.csv


def gpx(points, version="1.1", head="", between=""):
    """A track: each point is (latitude, longitude, height or None, time or None), or BREAK."""
    body = ""
    for point in points:
        if point is BREAK:
            body += "</trkseg><trkseg>\n"
            continue
        lat, lon, height, time = point
        body += f'<trkpt lat="{lat:.7f}" lon="{lon:.7f}">'
        body += f"<ele>{height}</ele>" if height is not None else ""
        body += f"<time>{time}</time>" if time is not None else ""
        body += "</trkpt>\n" + between
    space = "" if version is None else f' xmlns="http://www.topografix.com/GPX/1/{version[-1]}" version="{version}"'
    return f'<?xml version="1.0"?>\n{head}<gpx{space}>\n<trk><trkseg>\n{body}</trkseg></trk></gpx>\n'


BREAK = object()


def north(heights, step=10.0, lat=45.0, lon=7.0):
    """Points due north, each `step` metres on."""
    return [(lat + i * step / DEGREE_M, lon, height, None) for i, height in enumerate(heights)]


def ride(folder, text, *more, name="track.gpx", bike=BIKE):
    path = os.path.join(folder, name)
    with open(path, "wb") as file:
        file.write(text if isinstance(text, bytes) else text.encode())
    return run("ride", bike, "--route", path, *more)


def answer(folder, text, *more, **others):
    ran = ride(folder, text, "--json", *more, **others)
    if ran.status != 0:
        raise AssertionError(f"exit status {ran.status}: {ran.err.decode()}")
    return json.loads(ran.out)


def near(what, got, wanted, within):
    return [] if abs(got - wanted) <= within else [f"{what} is {got}, not {wanted} within {within}"]


def rider_file(folder, **changes):
    return running.save(os.path.join(folder, "rider.json"), {**RIDER, **changes})


# --- what is known from elsewhere ---------------------------------------------------------------------------------------


def check_ramp(folder):
    """A kilometre of 10 % from a steady speed: the road is longer than the map by sqrt(1.01)."""
    found = answer(folder, gpx(north([100 + i for i in range(101)])), "--rider", rider_file(folder))
    road_m = 1000 * math.hypot(1, 0.1)
    return (near("distance_m", found["distance_m"], 1000, 0.05) + near("climb_m", found["climb_m"], 100, 0.01)
            + near("time_s", found["time_s"], road_m / 2.751203, 0.05)
            + near("gravity", found["energy_j"]["gravity"], 85 * 9.80665 * 100, 20)
            + near("rider", found["energy_j"]["rider"], 250 * found["time_s"], 1e-3)
            + near("drive", found["energy_j"]["drive"], 0.024 * 250 * found["time_s"], 1e-3))


def check_balance(folder):
    failures = []
    for more in ([], ["--rider", rider_file(folder)], ["--rider", rider_file(folder, power_w=90, cadence_rpm=[75, 80])]):
        found = json.loads(run("ride", BIKE, "--route", DEMO, "--json", *more).out)
        energy = found["energy_j"]
        failures += near("the sum of the energies", sum(v for k, v in energy.items() if k != "rider"), energy["rider"], 1e-6 * energy["rider"])
        failures += near("the shares of the time", sum(found["time_share"].values()), 1, 1e-9)
        pedalled = sum(found["time_share"][mode] for mode in ("in_band", "below", "above")) * found["time_s"]
        failures += near("the time in the gears", sum(gear["time_s"] for gear in found["gears"]), pedalled, 1e-6 * pedalled)
    return failures


def check_efficiency(_folder):
    """A ride takes the losses of a gear at the middle of the band. At the cadence of each hill they are hardly others."""
    gears = {(gear["ring"], gear["sprocket"]): gear["efficiency"] for gear in json.loads(run("ride", BIKE, "--route", DEMO, "--json").out)["gears"]}
    failures, seen = [], 0
    for gradient in range(0, 15, 2):
        for gear in json.loads(run("climb", BIKE, "--gradient-percent", str(gradient), "--json").out)["gears"]:
            if gear["state"] == "in_band":
                failures += near(f"efficiency on {gradient} %", gear["efficiency"], gears[gear["ring"], gear["sprocket"]], 0.001)
                seen += 1
    return failures + ([] if seen > 20 else [f"only {seen} gears were in the band"])


def check_demo(_folder):
    made = subprocess.run([sys.executable, os.path.join(running.DEMO, "routes", "make-quillmoor-loop")], capture_output=True, check=True)
    with open(DEMO, "rb") as file:
        return [] if file.read() == made.stdout else ["quillmoor-loop.gpx is not what make-quillmoor-loop writes"]


def check_lower_gears(_folder):
    """More teeth on the largest sprocket can't make it harder."""
    bike = running.load(BIKE)
    failures, before = [], None
    with tempfile.TemporaryDirectory() as folder:
        for largest in (28, 32, 36, 40):
            bike["fitted"]["cassette"]["sprockets"] = [11, 13, 15, 17, 20, 22, 24, 26, largest]
            found = json.loads(run("ride", running.save(os.path.join(folder, "bike.json"), bike), "--route", DEMO, "--json").out)
            hard = found["time_share"]["below"] + found["time_share"]["walked"]
            failures += [f"{largest} T: {hard}, before {before}"] if before is not None and hard > before + 1e-9 else []
            before = hard
    return failures


def check_front(_folder):
    """Every way of the plan is scored; a ride in full makes nearly the same of its picks."""
    wish = ["--catalogue", running.SHOP, "--wish", running.wish_path("quillmoor-trail")]
    found = json.loads(run("ride", BIKE, "--route", DEMO, *wish, "--json").out)
    planned = json.loads(run("plan", BIKE, *wish, "--json", "--ways", "100000").out)
    front = found["front"]
    failures = [] if [way["cost"] for way in front] == sorted(way["cost"] for way in planned["builds"]) else ["the ways are not those of the plan"]
    for way in front:
        failures += near("the shares of a way", sum(way[mode] for mode in ("in_band", "below", "above", "between", "coasting", "walked")), 1, 1e-9)
    for pick in found["ways"]:
        gears = pick["gears"]
        scored = [way for way in front if abs(way["lowest_m"] - gears[0]["development_m"]) + abs(way["highest_m"] - gears[-1]["development_m"]) < 1e-9]
        off = min((abs(way["in_band"] + way["between"] - pick["time_share"]["in_band"]) for way in scored), default=1)
        failures += [f"{pick['letter']}: in the band by {off} more or less than its score"] if off > 0.06 else []
    return failures


# --- awkward tracks -----------------------------------------------------------------------------------------------------

HILL = [100 + 30 * math.sin(i / 40) for i in range(400)]


def check_as_plain(folder, text, climb_within=0.5, length=3990, length_within=0.5):
    """It is ridden as the same hill without whatever is wrong."""
    plain, found = answer(folder, gpx(north(HILL))), answer(folder, text)
    return (near("distance_m", found["distance_m"], length, length_within)
            + near("climb_m", found["climb_m"], plain["climb_m"], climb_within))


def spiked(folder):
    heights = list(HILL)
    heights[100], heights[200], heights[300] = 10000, -9999, heights[300] + 900
    text = gpx(north(heights))
    return check_as_plain(folder, text) + near("spikes", answer(folder, text)["left_out"]["height_spikes"], 3, 0)


def astray(folder):
    points = north(HILL)
    points[150] = (46.0, 8.0, HILL[150], None)
    text = gpx(points)
    return check_as_plain(folder, text) + near("astray", answer(folder, text)["left_out"]["positions_astray"], 1, 0)


def whole_metres(folder):
    return check_as_plain(folder, gpx(north([round(h) for h in HILL])), climb_within=3)


def half_without_heights(folder):
    return check_as_plain(folder, gpx(north([h if i % 2 == 0 or i < 100 else None for i, h in enumerate(HILL)])))


def standing(folder):
    points = north(HILL)
    wander = [(points[200][0] + 1e-5 * math.sin(i), 7.0 + 1e-5 * math.cos(1.7 * i), HILL[200] + 0.1 * (i % 3), None) for i in range(300)]
    return check_as_plain(folder, gpx(points[:201] + wander + points[201:]), length_within=5)


def paused(folder):
    points = north(HILL)
    return check_as_plain(folder, gpx(points[:200] + [BREAK, BREAK] + points[201:]))


def broken(folder):
    """12.7 km away and 500 m higher it goes on: that is nobody's climb."""
    away = [(45.0 + (i * 10 + 12700) / DEGREE_M, 7.0, h + 500, None) for i, h in enumerate(HILL)]
    text = gpx(north(HILL)[:200] + [BREAK] + away[200:])
    found = answer(folder, text)
    return (near("breaks", found["left_out"]["breaks"], 1, 0) + near("breaks_m", found["left_out"]["breaks_m"], 12710, 20)
            + check_as_plain(folder, text, climb_within=1.5, length=3980))


def times_back(folder):
    points = [(lat, lon, h, f"2026-05-01T10:{i // 60:02d}:{i % 60:02d}Z") for i, (lat, lon, h, _) in enumerate(north(HILL))]
    points[36] = (*points[36][:3], "2026-05-01T09:00:00Z")
    text = gpx(points)
    told = ride(folder, text).out.decode()
    wanted = "The times go back at point 37: they are not used, the points are taken in\n   the order of the file."
    return check_as_plain(folder, text) + ([] if wanted in told else [f"it does not say so:\n{told[-900:]}"])


def over_the_date_line(folder):
    east = [(0.0, (179.99 + i * 1e-4 + 180) % 360 - 180, h, None) for i, h in enumerate(HILL)]
    return check_as_plain(folder, gpx(east), length=399 * 11.1319490793, climb_within=6)


def over_the_pole(folder):
    step = 10 / 111694.0
    points = [(90 - abs(i - 200) * step, 20.0 if i < 200 else -160.0, h, None) for i, h in enumerate(HILL)]
    return check_as_plain(folder, gpx(points))


def as_a_route(folder):
    """A planned route has no segments; GPX 1.0, and no version at all."""
    text = gpx(north(HILL)).replace("trkpt", "rtept").replace("<trk><trkseg>", "<rte>").replace("</trkseg></trk>", "</rte>")
    return (check_as_plain(folder, text) + check_as_plain(folder, gpx(north(HILL), version="1.0"))
            + check_as_plain(folder, gpx(north(HILL), version=None)))


def with_all_sorts_of_things(folder):
    extra = "<!-- a comment --><extensions><x:y xmlns:x='urn:x'><trkpt lat='1' lon='1'/></x:y></extensions>"
    text = gpx(north(HILL), head="<!DOCTYPE gpx>\n", between=extra)
    return check_as_plain(folder, text) + check_as_plain(folder, b"\xef\xbb\xbf" + gpx(north(HILL)).encode())


AWKWARD = [spiked, astray, whole_metres, half_without_heights, standing, paused, broken, times_back, over_the_date_line, over_the_pole,
           as_a_route, with_all_sorts_of_things]

# --- no tracks ----------------------------------------------------------------------------------------------------------

NO_HEIGHTS = "a height (ele) in its points: record it with heights, or draw it where heights are filled in"
TWO_PLACES = "a track or a route with two places at least is allowed."
BOMB = ('<!DOCTYPE gpx [<!ENTITY a "ha">' + "".join(f'<!ENTITY {c} "&{chr(ord(c) - 1)};&{chr(ord(c) - 1)};">' for c in "bcdefghijklmnop")
        + "]>\n")


def wrong():
    """(name, text, what must be told)"""
    plain = gpx(north(HILL))
    yield "no heights", gpx(north([None] * 50)), f": found no heights, {NO_HEIGHTS} is allowed."
    yield "heights that are all 0", gpx(north([0] * 50)), f": found no height but 0, {NO_HEIGHTS} is allowed."
    yield "one point", gpx(north([5])), f": found one point, {TWO_PLACES}"
    yield "one place", gpx([(45, 7, 5, None)] * 20), f": found points that all lie in one place, {TWO_PLACES}"
    yield "no points", gpx([]), f": found no track and no route, {TWO_PLACES}"
    yield "heights on one side of a break only", gpx(north([5]) + [BREAK] + [(46 + i / 9999, 7, None, None) for i in range(9)]), \
        ": found no stretch with heights at both ends, a track or a route with heights (ele) is allowed."
    yield "cut off", plain[:2000], ":28:41: found the end of the file, the rest of the track, up to </gpx>: copy or export the file again is allowed."
    yield "empty", "", ": found an empty file, a file that begins with <gpx>: a track or a route, exported as GPX is allowed."
    yield "something else", "lat,lon\n1,2\n", ":1:1: found something else, a file that begins with <gpx>: a track or a route, exported as GPX is allowed."
    yield "entities", BOMB + plain.split("?>\n")[1], ":1:27: found the entity \"a\", a file without entities of its own: export the track again is allowed."
    yield "a latitude of 91", plain.replace('lat="45.0004499"', 'lat="91"'), \
        ":9:1: found latitude \"91\", a latitude from -90 to 90 as lat is allowed."
    yield "a height in words", plain.replace("<ele>100.0</ele>", "<ele>high</ele>", 1), \
        ":4:50: found height \"high\", a number of metres as ele is allowed."


def check_wrong(folder, text, wanted):
    ran, as_json = ride(folder, text), ride(folder, text, "--json")
    told = ran.err.decode().strip().replace(os.path.join(folder, "track.gpx"), "")
    failures = [] if ran.status == as_json.status == 3 else [f"exit status {ran.status}, {as_json.status}"]
    failures += [] if told == wanted else [f"told: {told}", f"not:  {wanted}"]
    failures += [] if not ran.out and not as_json.out else ["something stands on standard output"]
    return failures + running.complaints("faults", json.loads(as_json.err))


def check_usage(folder):
    failures = []
    for arguments, told in [(["ride", BIKE], "missing: --route FILE or --climb LIST"), (["ride", BIKE, "--route", DEMO, "--climb", "1 % for 1 km"], "one or the other"), (["ride", BIKE, "--route"], "--route"),
                            (["ride", "-", "--route", "-"], "standard input is one file"),
                            (["ride", BIKE, "--route", DEMO, "--wish", running.wish_path("quillmoor-trail")], "missing: --catalogue FOLDER")]:
        ran = run(*arguments)
        failures += [] if ran.status == 2 and told in ran.err.decode() else [f"{arguments}: {ran.status}, {ran.err.decode()}"]
    for path in (os.path.join(folder, "nowhere.gpx"), folder):
        ran = run("ride", BIKE, "--route", path)
        failures += [] if ran.status == 3 and "a file that is there and may be read is allowed" in ran.err.decode() else [f"{path}: {ran.err.decode()}"]
    return failures


def check_stated(folder):
    """Climbs in words, in place of a route."""
    rider = ["--rider", rider_file(folder), "--json"]
    found = json.loads(run("ride", BIKE, "--climb", "10 % for 1 km", *rider).out)
    failures = (near("time_s", found["time_s"], 1000 / 2.751203, 1e-3) + near("distance_m", found["distance_m"], 1000 / math.hypot(1, 0.1), 1e-6)
                + near("climb_m", found["climb_m"], 100 / math.hypot(1, 0.1), 1e-6) + running.complaints("ride", found))
    same = [json.loads(run("ride", BIKE, "--climb", words, *rider).out)
            for words in ("14 % for 600 m, 8 % for 1.2 km", "14 600m,8 for 1200 m", " 14%for 0.6km , 8.0 % for 1.20 km ")]
    failures += [] if same[0] == same[1] == same[2] else ["the same climbs in other words are others"]
    for words in ("", "steep", "14 %", "14 % for 600", "14 % for 600 ft", "36 % for 1 km", "5 % for 5 m", "5 % for 101 km", "5 % for 1 km, ", "5 % for 1 km x"):
        ran = run("ride", BIKE, "--climb", words)
        told = ran.err.decode()
        item = words.split(", ")[-1]
        wanted = f'--climb: found "{item}", a climb such as 14 % for 600 m, from -35 to 35 % and 10 m to 100 km long is allowed.\n'
        failures += [] if ran.status == 3 and told == wanted else [f"{words!r}: {ran.status}, {told}"]
    many = run("ride", BIKE, "--climb", ",".join(["1 % for 1 km"] * 65))
    failures += [] if many.status == 3 and b"a list of 64 climbs at most" in many.err else [many.err.decode()]
    page = run("ride", BIKE, "--climb", "14 % for 600 m, -5 % for 2 km").out.decode()
    failures += [line for line in page.splitlines() if len(line) > 79]
    return failures + ([] if "2 climbs as stated" in page else [page])


def check_pages(folder):
    """Within 79 columns, whatever is open; from standard input as from a file."""
    failures = []
    open_bike = running.save(os.path.join(folder, "open.json"), {"format": 1, "label": "open", "frame": {}, "wheel": {}, "fitted": {}})
    example = os.path.join(tap.ROOT, "docs", "examples", "first-answer.json")
    wish = ["--catalogue", running.SHOP, "--wish", running.wish_path("quillmoor-trail")]
    with open(DEMO, "rb") as file:
        demo = file.read()
    for arguments in ([BIKE], [open_bike], [example], [BIKE, *wish]):
        page = run("ride", *arguments, "--route", DEMO).out
        failures += [f"{arguments}: {line}" for line in page.decode().splitlines() if len(line) > 79 or "nan" in line or line != line.rstrip()]
        piped = run("ride", *arguments, "--route", "-", stdin=demo).out
        failures += [] if piped.splitlines()[1:] == page.splitlines()[1:] else [f"{arguments}: another answer from standard input"]
    found = json.loads(run("ride", open_bike, "--route", DEMO, "--json").out)
    if found["time_share"] is not None or found["shifts"] is not None or found["gears"] or not found["open"] or not found["time_s"] > 0:
        failures.append(f"an open bike: {found}")
    return failures + running.complaints("ride", found)


def main():
    with tempfile.TemporaryDirectory() as folder:
        tap.ok("a steady climb takes as long as derived", check_ramp(folder))
        tap.ok("energy, shares and gears add up", check_balance(folder))
        tap.ok("the losses of a gear hang little on the cadence", check_efficiency(folder))
        tap.ok("a larger sprocket never makes it harder", check_lower_gears(folder))
        tap.ok("all ways of a plan are scored", check_front(folder))
        tap.ok("the demo's route is what its script writes", check_demo(folder))
        for awkward in AWKWARD:
            tap.ok(awkward.__name__.replace("_", " "), awkward(folder))
        for name, text, wanted in wrong():
            tap.ok(f"refused: {name}", check_wrong(folder, text, wanted))
        tap.ok("climbs in words", check_stated(folder))
        tap.ok("wrong usage", check_usage(folder))
        tap.ok("the page", check_pages(folder))
    tap.end()


if __name__ == "__main__":
    main()
