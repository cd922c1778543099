#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Whole situations as folders: each of tests/cases/ is run, and its answer must hold what its expected.json selects. What
--save-case writes is such a folder, and running it again gives the same bytes.

A case: bike.json; wish.json and shop/ where they matter; rider.json and route.gpx, where there is one; case.json (command, ways, why; without it, plan where there is a
shop, else fit); expected.json. Every key of expected.json must stand in the answer with the same value. A list must be the
answer's list, item by item; an object within a list may select, too. Numbers are equal to nine digits: what follows from
the same figures by the same formulas."""
import json
import os
import shutil
import tempfile

import running
from running import BIKES, SHOP, bike_path, document_of, load, run, tap, wish_path

CASES = os.path.join(tap.ROOT, "tests", "cases")


def arguments_of(folder):
    """What a case asks of the program."""
    there = lambda name: os.path.join(folder, name) if os.path.exists(os.path.join(folder, name)) else None
    shop, wish = there("shop"), there("wish.json")
    asked = load(there("case.json")) if there("case.json") else {"command": "plan" if shop else "fit"}
    words = [asked["command"], os.path.join(folder, "bike.json"), "--json"]
    words += ["--catalogue", shop] if shop and asked["command"] in ("plan", "why-not", "ride") else []
    words += ["--wish", wish] if wish else []
    words += ["--rider", there("rider.json")] if there("rider.json") else []
    words += ["--route", there("route.gpx")] if there("route.gpx") else []
    words += ["--climb", asked["climb"]] if "climb" in asked else []
    words += [word for key in ("gradient_percent", "cadence_rpm") if key in asked
              for word in ("--" + key.replace("_", "-"), str(asked[key]))]
    words += ["--ways", str(asked["ways"])] if "ways" in asked else []
    words += [word for key in ("part", "with") if key in asked for word in ("--" + key, asked[key])]
    words += ["--gear-use", there("gear_use.json")] if there("gear_use.json") else []
    words += ["--ruler", str(asked["ruler_mm"])] if "ruler_mm" in asked else []
    words += ["--gauge", str(asked["gauge_percent"])] if "gauge_percent" in asked else []
    words += ["--memory", str(asked["memory_mib"])] if "memory_mib" in asked else []
    words += ["--limit-s", str(asked["limit_s"])] if "limit_s" in asked else []
    return words + (["--why"] if asked.get("why") else [])


def differences(told, wanted, path=""):
    """Where the answer is not what is wanted of it."""
    if isinstance(wanted, dict) and isinstance(told, dict):
        missing = [f"{path}/{key}: not there" for key in wanted if key not in told]
        return missing + [line for key in wanted if key in told for line in differences(told[key], wanted[key], f"{path}/{key}")]
    if isinstance(wanted, list) and isinstance(told, list):
        if len(told) != len(wanted):
            return [f"{path}: {len(told)} items, not {len(wanted)}"]
        return [line for i, pair in enumerate(zip(told, wanted)) for line in differences(*pair, f"{path}/{i}")]
    number = lambda value: isinstance(value, (int, float)) and not isinstance(value, bool)
    if number(told) and number(wanted):
        same = abs(told - wanted) <= 1e-9 * max(1, abs(wanted))
    else:
        same = type(told) is type(wanted) and told == wanted
    return [] if same else [f"{path}: {told!r}, not {wanted!r}"]


def check_differences():
    """The comparison sees what differs."""
    told = {"a": 1, "b": [{"c": None, "d": "x"}, {"c": 0.5, "d": "y"}], "e": {"f": True}}
    same = [{}, {"a": 1}, {"a": 1.0000000000001}, {"b": [{"c": None}, {"d": "y"}]}, {"e": {"f": True}}]
    other = [{"a": 2}, {"z": 1}, {"b": []}, {"b": [{"c": 0}, {}]}, {"e": {"f": 1}}, {"e": None}, {"a": "1"}, {"a": True}]
    tap.ok("a case tells what differs", [w for w in same if differences(told, w)] + [w for w in other if not differences(told, w)])


def check_case(name):
    folder = os.path.join(CASES, name)
    ran = run(*arguments_of(folder))
    if ran.status not in (0, 1) or ran.err:
        tap.ok(name, [f"exit status {ran.status}", ran.err.decode()[:500]])
        return
    tap.ok(name, differences(document_of(ran.out), load(os.path.join(folder, "expected.json"))))


# --- what is saved --------------------------------------------------------------------------------------------------------

SMALL = {"cassette": ["dunvar-n46", "dunvar-e42"], "chain": ["orvash-9-116"], "cable_set": ["ottrick-f1"],
         "ring": ["pellmar-104-32"], "crank": ["pellmar-s4-175"], "rear_derailleur": ["teskel-9w"]}


def small_shop(folder):
    """A few parts of the demo, so that a plan takes no time."""
    parts = running.catalogue_rows()
    return running.write_catalogue(folder, {kind: [parts[id][1] for id in ids] for kind, ids in SMALL.items()},
                                   load(os.path.join(SHOP, "shop.json")))


def check_saved(what, files, *arguments, stdin=b""):
    with tempfile.TemporaryDirectory() as there:
        case = os.path.join(there, "new", "case")
        plain, saved = run(*arguments, stdin=stdin), run(*arguments, "--save-case", case, stdin=stdin)
        wrong = [] if plain == saved else ["saving changes the answer"]
        found = sorted(os.path.relpath(os.path.join(place, name), case) for place, _, names in os.walk(case) for name in names)
        wrong += [] if found == sorted(files) else [f"saved: {found}"]
        moved = os.path.join(there, "moved")
        shutil.copytree(case, moved)
        wrong += running.complaints("case", load(os.path.join(moved, "case.json")))
        again = run(*arguments_of(moved))
        if "--json" in arguments:
            wrong += [] if again == plain else [f"run again: {again.status}, {again.err[:200]}, other bytes"]
            with open(os.path.join(moved, "expected.json"), "rb") as file:
                wrong += [] if file.read() == plain.out else ["expected.json is not the answer"]
        else:
            wrong += [] if again.status == plain.status else [f"run again: {again.status}"]
        tap.ok("saved and run again: " + what, wrong)


def check_saving():
    for question, name in zip(["gears", "line", "chain", "shift", "fit"], BIKES):
        check_saved(question, ["bike.json", "case.json", "expected.json"], question, bike_path(name), "--json")
    check_saved("climb", ["bike.json", "case.json", "expected.json"], "climb", bike_path("wren-24"), "--gradient-percent", "9.5",
                "--cadence-rpm", "62", "--json")
    check_saved("climbs in words", ["bike.json", "case.json", "expected.json"], "climb", bike_path("wren-24"), "--climb", "6 % for 1 km, 9 % for 300 m",
                "--json")
    check_saved("another rider", ["bike.json", "case.json", "expected.json", "rider.json"], "climb", bike_path("wren-24"),
                "--gradient-percent", "6", "--rider", os.path.join(tap.ROOT, "docs", "examples", "rider.json"), "--json")
    check_saved("wear by rule", ["bike.json", "case.json", "expected.json"], "wear", bike_path("wren-24"), "--json", "--ruler", "306.25")
    with tempfile.TemporaryDirectory() as there:
        first = {"gears": [{"ring": 44, "sprocket": 34, "share": 2}]}
        use = running.save(os.path.join(there, "use.json"), first)
        check_saved("a line by use of gears", ["bike.json", "case.json", "expected.json", "gear_use.json"], "line",
                    os.path.join(tap.ROOT, "docs", "examples", "bike.json"), "--json", "--gear-use", use)
    check_saved("a bike that is turned down", ["bike.json", "case.json", "expected.json"], "gears",
                bike_path("refused/belt"), "--json")
    check_saved("an answer for people", ["bike.json", "case.json"], "fit", bike_path("wren-24"))
    with open(bike_path("quillmoor-trail"), "rb") as file:
        check_saved("a bike from standard input", ["bike.json", "case.json", "expected.json"], "chain", "-", "--json",
                    stdin=file.read())
    with tempfile.TemporaryDirectory() as there:
        shop = small_shop(os.path.join(there, "shop"))
        with open(os.path.join(shop, "notes.txt"), "w", encoding="utf-8") as file:
            file.write("nothing that an answer hangs on\n")
        of_shop = ["bike.json", "case.json", "expected.json", "shop/shop.json"] + [f"shop/{kind}.csv" for kind in SMALL]
        asked = ["plan", bike_path("quillmoor-trail"), "--catalogue", shop, "--json"]
        check_saved("a plan", of_shop, *asked)
        route = os.path.join(running.DEMO, "routes", "quillmoor-loop.gpx")
        check_saved("a ride", ["bike.json", "case.json", "expected.json", "route.gpx"], "ride", bike_path("tern-road"), "--route", route, "--json")
        check_saved("a ride on climbs with a plan", of_shop, "ride", bike_path("quillmoor-trail"), "--catalogue", shop, "--json",
                    "--climb", "14 % for 600 m, 8 % for 1.2 km")
        check_saved("a plan on a road", of_shop + ["route.gpx"], *asked, "--route", route)
        check_saved("a plan with a wish, a few ways and why", of_shop + ["wish.json"], *asked, "--why", "--ways", "2",
                    "--wish", wish_path("quillmoor-trail"))


def check_refused_folder():
    """Two cases in one folder would be one that nobody saved."""
    with tempfile.TemporaryDirectory() as there:
        first = run("gears", bike_path("wren-24"), "--save-case", there)
        second = run("line", bike_path("tern-road"), "--save-case", there)
        kept = load(os.path.join(there, "bike.json"))["label"] == load(bike_path("wren-24"))["label"]
        tap.ok("a folder with files in it takes no case",
               [] if (first.status, second.status, kept) == (0, 3, True) and there.encode() in second.err else [first, second])
    with tempfile.TemporaryDirectory() as there:
        bad = os.path.join(there, "bike.json")
        with open(bad, "w", encoding="utf-8") as file:
            file.write('{"format": 1')
        case = os.path.join(there, "case")
        ran = run("gears", bad, "--json", "--save-case", case)
        tap.ok("a bike that can't be read is saved too, so that it can be shown",
               [] if ran.status == 3 and sorted(os.listdir(case)) == ["bike.json", "case.json"] else [ran])


check_differences()
for name in sorted(os.listdir(CASES)):
    if os.path.isdir(os.path.join(CASES, name)):
        check_case(name)
check_saving()
check_refused_folder()
tap.end()
