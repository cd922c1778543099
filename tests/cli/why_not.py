#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Why not: what the program says stops a part is held against plans of its own. A plan of a shop that sells of that kind only
this part says whether it fits; without a wish that is blamed there is a plan, at the price that was told; the nearest part that
would do fits, and none that is nearer."""
import json
import os
import tempfile

import running
from running import SHOP, bike_path, load, run, tap, wish_path

NAME = "quillmoor-trail"
WISH = load(wish_path(NAME))
PARTS = ["dunvar-n36", "dunvar-n46", "karvane-v12-10-50", "norrbek-12-11-52", "orvash-12-118", "teskel-9w", "dunvar-e46", "grebbin-t5-170", "mirrowan-13-10-44"]


SOLD = running.catalogue_rows()


def shop_with_only(folder, part):
    """The demo's shop, which sells of the part's kind that one alone."""
    rows, own = {}, SOLD[part][0]
    for id, (kind, row) in SOLD.items():
        rows.setdefault(kind, []).extend([row] if kind != own or id == part else [])
    running.write_catalogue(os.path.join(folder, part), rows, load(os.path.join(SHOP, "shop.json")))
    return os.path.join(folder, part)


def least_with(folder, part, wish):
    """Cost of the cheapest way that holds the part, by a plan; None when there is none."""
    path = running.save(os.path.join(folder, "wish.json"), dict(wish, objectives=["cost", "lowest", "highest", "changed"]))
    ran = run("plan", bike_path(NAME), "--catalogue", shop_with_only(folder, part), "--wish", path, "--ways", "100000", "--json")
    costs = [way["cost"] for way in json.loads(ran.out)["builds"] if part in way["parts"].values()]
    return min(costs) if costs else None


def wrong_stops(folder, part, answer):
    wrong = []
    for stop in answer["against"]:
        wish = dict(WISH)
        if stop["kind"] == "wish":
            wish[stop["name"]] = None
        elif stop["kind"] == "keep":
            wish["keep"] = [slot for slot in wish["keep"] if slot != stop["name"]]
        else:
            continue
        least = least_with(folder, part, wish)
        wrong += [] if least == stop["without"]["cost"] else [f"without {stop['name']}: {stop['without']['cost']}, a plan says {least}"]
    return wrong


def check_part(folder, part):
    ran = run("why-not", bike_path(NAME), "--catalogue", SHOP, "--wish", wish_path(NAME), "--part", part, "--json")
    answer = json.loads(ran.out)
    least = least_with(folder, part, WISH)
    wrong = [] if answer["fits"] == (least is not None) else [f"fits: {answer['fits']}, a plan says {least}"]
    wrong += [] if ran.status == (0 if answer["fits"] else 1) else [f"exit status {ran.status}"]
    wrong += [] if not answer["fits"] or part in answer["build"]["parts"].values() else ["the way does not hold it"]
    wrong += [] if (answer["fits"] or answer["left_out"] is not None) == (answer["against"] == []) else [f"against: {answer['against']}"]
    wrong += wrong_stops(folder, part, answer)
    if answer["nearest"]:
        nearest = least_with(folder, answer["nearest"], WISH)
        wrong += [] if nearest == answer["nearest_build"]["cost"] else [f"nearest {answer['nearest']}: {nearest}"]
    tap.ok(f"why not {part}", wrong)
    return answer


def check_words(answers):
    """The kinds of answers that there are, each at least once, and what a person reads of them."""
    tap.ok("some fit, some are beaten, some don't fit",
           [] if {a["fits"] for a in answers} == {True, False} and any(a["beaten_by"] for a in answers) else ["not so"])
    text = run("why-not", bike_path(NAME), "--catalogue", SHOP, "--wish", wish_path(NAME), "--part", "karvane-v12-10-50").out.decode()
    told = ["Why not Karvane V12 10-50?", "Parts and labour up to GBP 480.00. Instead: GBP", "Cassette on its body:", "The nearest that would do:"]
    tap.ok("what a person reads", [line for line in told if line not in " ".join(text.split())])


def check_no_way(folder):
    """Of a plan without a way: one wish alone is too much."""
    path = running.save(os.path.join(folder, "steep.json"), {"rings": 1, "lowest_m_max": 0.5})
    ran = run("why-not", bike_path(NAME), "--catalogue", SHOP, "--wish", path, "--json")
    answer = json.loads(ran.out)
    found = [(stop["kind"], stop["name"]) for stop in answer["against"]]
    tap.ok("why there is no way", [] if ran.status == 1 and found == [("wish", "lowest_m_max")] and not answer["asked"] else [ran, found])


def check_usage():
    plan = ["--catalogue", SHOP, "--wish", wish_path(NAME)]
    for what, more, told in (("a part that is not sold", ["--part", "karvane-v12-10-5"], "the nearest is karvane-v12-10-50"),
                             ("two parts for one place", ["--part", "dunvar-n36", "--with", "dunvar-n46"], "the same place"),
                             ("a second part alone", ["--with", "dunvar-n46"], "--part ID")):
        ran = run("why-not", bike_path(NAME), *plan, *more)
        tap.ok(what, [] if ran.status == 2 and told in ran.err.decode() and not ran.out else [ran])
    pair = json.loads(run("why-not", bike_path(NAME), *plan, "--part", "karvane-v12-10-50", "--with", "teskel-9c", "--json").out)
    tap.ok("a pair that shifts badly", [] if not pair["fits"] and "shift-family" in [stop["name"] for stop in pair["against"]] else [pair])


with tempfile.TemporaryDirectory() as there:
    check_words([check_part(there, part) for part in PARTS])
    check_no_way(there)
check_usage()
tap.end()
