#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""plan with a ride: the ways are scored as `ride` scores them, their scores are compared when the wish says so, or says nothing,
and name picks; without a ride such a wish is refused."""
import json
import os
import re
import tempfile

import running
from running import SHOP, bike_path, load, run, tap, wish_path

ROUTE = ["--route", os.path.join(running.DEMO, "routes", "quillmoor-loop.gpx")]
CLIMBS = ["--climb", "9 % for 3 km, 0 % for 5 km"]
BIKES = ["tern-road", "bracken-trek", "quillmoor-trail", "osier-ridge"]
PICKS = {"most_in_band": ("in_band", max), "least_on_foot": ("walked_m", min)}


def plan(bike, *more):
    ran = run("plan", bike_path(bike), "--catalogue", SHOP, "--json", "--ways", "1000000", *more)
    return json.loads(ran.out)


def wish_of(folder, **wish):
    return ["--wish", running.save(os.path.join(folder, "wish.json"), {"rings": 1, **wish})]


def merits(way, objectives):
    """What is compared here, smaller is better; highest gears past the cap are told apart, so that it is left out."""
    values = {"cost": way["cost"], "lowest": way["lowest_m"], "in_band": -way["in_band"], "walked": way["walked_m"]}
    return [values[objective] for objective in objectives]


def check_front(folder):
    """Of the ways that are certain none beats another."""
    failures = []
    for bike in BIKES:
        for objectives in (["cost", "in_band"], ["cost", "lowest", "in_band", "walked"], ["cost", "walked"]):
            found = plan(bike, *ROUTE, *wish_of(folder, objectives=objectives))
            rated = [(merits(way, objectives), set(way["drawbacks"])) for way in found["builds"] if way["certain"]]
            failures += [f"{bike} {objectives}: {b} is beaten by {a}" for a, x in rated for b, y in rated
                         if x <= y and all(p <= q for p, q in zip(a, b)) and (a, x) != (b, y)]
            failures += running.complaints("plan", found)
    return failures[:5]


def check_as_ride(_folder):
    """The same ways, and the same scores as in the front of `ride`."""
    failures = []
    for bike in BIKES:
        arguments = ["--catalogue", SHOP, "--json"]
        ridden = json.loads(run("ride", bike_path(bike), *ROUTE, *arguments).out)["front"]
        score = lambda way: (way["cost"], round(way["in_band"] / (1 - way["coasting"]), 3), round(way["walked_m"]))
        planned = sorted((way["cost"], way["in_band"], way["walked_m"]) for way in plan(bike, *ROUTE)["builds"])
        off = [pair for pair in zip(planned, sorted(map(score, ridden)))
               if pair[0][0] != pair[1][0] or abs(pair[0][1] - pair[1][1]) > 0.00101 or abs(pair[0][2] - pair[1][2]) > 1]
        failures += [f"{bike}: {pair}" for pair in off[:2]]
        failures += [] if len(planned) == len(ridden) > 10 else [f"{bike}: {len(planned)} ways, and {len(ridden)}"]
    return failures


def check_more_is_found(folder):
    """Where the time in the band counts, some way is in it longer than any that is found without it."""
    better = 0
    failures = []
    for bike in BIKES:
        common = ["cost", "highest"]
        without = plan(bike, *ROUTE, *wish_of(folder, objectives=common))["builds"]
        within = plan(bike, *ROUTE, *wish_of(folder, objectives=common + ["in_band"]))["builds"]
        longest = [max(way["in_band"] for way in ways) for ways in (without, within)]
        failures += [f"{bike}: {longest}"] if longest[1] < longest[0] else []
        better += longest[1] > longest[0]
        missing = [way["cost"] for way in without if way["certain"] and not any((way["cost"], way["highest_m"]) == (other["cost"], other["highest_m"]) for other in within)]
        failures += [f"{bike}: no longer found {missing}"] if missing else []
    return failures + ([] if better > 0 else ["no bike gains by it: it tells nothing"])


def check_picks(_folder):
    failures, seen = [], set()
    for bike in BIKES:
        for road in (ROUTE, CLIMBS):
            ways = plan(bike, *road)["builds"]
            fewest = min(len(way["drawbacks"]) for way in ways)
            now = 0.6 * json.loads(run("gears", bike_path(bike), "--json").out)["highest_m"]
            clean = [way for way in ways if len(way["drawbacks"]) <= fewest + 1]
            clean = [way for way in clean if way["highest_m"] >= now] or clean
            for purpose in PICKS:
                key, best = PICKS[purpose]
                picked = [way for way in ways if purpose in way["picks"]]
                seen |= {purpose} if picked else set()
                failures += [f"{bike}: {purpose} {way[key]}" for way in picked if way[key] != best(way[key] for way in clean)]
    return failures + ([] if seen == set(PICKS) else [f"seen were only {seen}"])


def check_usual_objectives(folder):
    """A wish that names none compares the ride, too; one that names some compares these."""
    usual, named = plan("tern-road", *CLIMBS), plan("tern-road", *CLIMBS, *wish_of(folder, objectives=["cost"]))
    without = plan("tern-road")
    keys = [key for way in without["builds"] for key in way if key in ("in_band", "walked_m")]
    return ([] if usual["objectives"] == ["cost", "lowest", "highest", "in_band", "walked"] else [usual["objectives"]]) \
        + ([] if named["objectives"] == ["cost"] and "in_band" in named["builds"][0] else [named["objectives"]]) \
        + ([f"told without a ride: {keys}"] if keys else [])


def check_without_a_ride(folder):
    failures = []
    wish = wish_of(folder, objectives=["cost", "in_band"])
    for arguments in (["plan", bike_path("tern-road")], ["why-not", bike_path("tern-road")]):
        ran = run(*arguments, "--catalogue", SHOP, *wish)
        told = ran.err.decode()
        failures += [] if ran.status == 3 and "/objectives" in told and "--route FILE or --climb LIST" in told else [ran]
    one = run("plan", bike_path("tern-road"), "--catalogue", SHOP, "--route", os.path.join(folder, "none.gpx"))
    two = run("plan", bike_path("tern-road"), "--catalogue", SHOP, *ROUTE, *CLIMBS)
    return failures + ([] if (one.status, two.status) == (3, 2) else [one, two])


def check_open_wheel(folder):
    """While the wheel is open nobody can tell: null, and no pick by the ride."""
    bike = load(bike_path("tern-road"))
    bike["wheel"] = {}
    path = running.save(os.path.join(folder, "open.json"), bike)
    found = json.loads(run("plan", path, "--catalogue", SHOP, "--json", *CLIMBS).out)
    ways = found["builds"]
    return running.complaints("plan", found) + ([] if ways and all(way["in_band"] is None and way["walked_m"] is None for way in ways) else ["not open"]) \
        + [way["picks"] for way in ways if set(way["picks"]) & set(PICKS)]


def check_batch(_folder):
    """Each bike of a batch with its own rider on the one road."""
    lines = [json.dumps({"bike": load(bike_path(name)), "wish": {"rings": 1}}) for name in BIKES]
    ran = run("plan", "--batch", "-", "--catalogue", SHOP, "--ways", "3", *ROUTE, stdin="\n".join(lines).encode())
    told = [json.loads(line)["plan"] for line in ran.out.decode().splitlines()]
    with tempfile.TemporaryDirectory() as folder:
        alone = [json.loads(run("plan", bike_path(name), "--catalogue", SHOP, "--ways", "3", "--json", *ROUTE, *wish_of(folder)).out) for name in BIKES]
    bad = run("plan", "--batch", "-", "--catalogue", SHOP,
              stdin=json.dumps({"bike": load(bike_path("tern-road")), "wish": {"objectives": ["walked"]}}).encode())
    fault = json.loads(bad.out)
    return ([] if told == alone else ["not as alone"]) + ([] if bad.status == 3 and fault["faults"][0]["path"] == "/objectives" else [bad])


def check_page(folder):
    """The page says it of each way, and on which road."""
    page = run("plan", bike_path("tern-road"), "--catalogue", SHOP, *ROUTE).out.decode()
    words = " ".join(page.split())
    ways = page.count("\n   cost         ")
    return ([] if ways >= 2 and page.count("\n   ride         in the band for ") == ways else ["not of every way"]) \
        + ([] if "The ride is 24.0 km with " in words and "for a rider of 180 W" in words else ["the road is not told"]) \
        + ([f"wider than 80: {line}" for line in page.splitlines() if len(line) > 80])


def check_page_of_a_ride(_folder):
    """Where a pick is in the band as long as any way, the page names its letter; and a cadence is held against another one only."""
    failures = []
    for bike in ("tern-road", "quillmoor-trail"):
        page = " ".join(run("ride", bike_path(bike), "--catalogue", SHOP, *ROUTE).out.decode().split())
        failures += [f"{bike}: {words[0]}" for words in re.finditer(r"(~?\d+ rpm) instead of \1", page)]
        named = re.search(r"Of all (\d+) ways that nothing beats, ([A-E]) stays in the band longest", page)
        picked = re.search(r"([A-E]) most in the band", page)
        failures += [] if named and picked and named[2] == picked[1] else [f"{bike}: {named and named[0]}, {picked and picked[0]}"]
    return failures


with tempfile.TemporaryDirectory() as there:
    for check in (check_front, check_as_ride, check_more_is_found, check_picks, check_usual_objectives, check_without_a_ride,
                  check_open_wheel, check_batch, check_page, check_page_of_a_ride):
        tap.ok(check.__name__.removeprefix("check_").replace("_", " "), check(there))
tap.end()
