#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The JSON Schemas of docs/schema: well made, fresh, and of one mind with the program about what may be read."""
import glob
import json
import os
import subprocess
import sys

import jsonschema

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data"))
import tap  # noqa: E402

SCHEMAS = os.path.join(tap.ROOT, "docs", "schema")
READ = ["bike", "shop", "wish"]
ANSWERS = ["chain", "faults", "fit", "gears", "line", "plan", "refused", "shift"]


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def schema(name):
    return load(os.path.join(SCHEMAS, name + ".schema.json"))


def complaint(name, document):
    """What the schema has against the document, or None."""
    error = next(jsonschema.Draft202012Validator(schema(name)).iter_errors(document), None)
    return error and f"{error.json_path}: {error.message[:80]}"


def check_making():
    there = sorted(os.path.basename(path)[:-len(".schema.json")] for path in glob.glob(SCHEMAS + "/*.schema.json"))
    tap.ok("a schema for each document", [] if there == sorted(READ + ANSWERS) else [there])
    bad = []
    for name in there:
        try:
            jsonschema.Draft202012Validator.check_schema(schema(name))
        except jsonschema.SchemaError as error:
            bad.append(f"{name}: {error.message}")
        if schema(name)["$schema"] != "https://json-schema.org/draft/2020-12/schema":
            bad.append(f"{name}: of another draft")
    tap.ok("every schema is one of draft 2020-12", bad)
    stale = []
    for name in READ:
        made = subprocess.run([sys.executable, os.path.join(tap.ROOT, "tools", "write-schema"), tap.DATA, name],
                              capture_output=True, encoding="utf-8", check=True).stdout
        with open(os.path.join(SCHEMAS, name + ".schema.json"), encoding="utf-8") as file:
            if file.read() != made:
                stale.append(f"run: tools/write-schema data {name} > docs/schema/{name}.schema.json")
    tap.ok("what is made from data/ is not stale", stale)


def check_demo():
    demo = os.path.join(tap.DATA, "demo")
    files = {"bike": glob.glob(demo + "/bikes/**/*.json", recursive=True), "wish": glob.glob(demo + "/wishes/*.json"),
             "shop": glob.glob(demo + "/shop/shop.json")}
    for name, paths in files.items():
        refused = [f"{path}: {why}" for path in paths if (why := complaint(name, load(path)))]
        tap.ok(f"every {name} of the demo is accepted", refused if paths else ["there is none"])


def read_case(path):
    """What is read, what the case says of the schema, the document as text, and whether it is good."""
    with open(path, encoding="utf-8") as file:
        head, document, faults = file.read().split("-----\n")
    lines = dict(line.split(" ", 1) for line in head.splitlines() if not line.startswith("#"))
    return lines["read"], lines.get("schema"), document, faults == "good\n"


def check_cases():
    tried, wrong = {True: 0, False: 0}, []
    for path in sorted(glob.glob(os.path.join(tap.ROOT, "tests", "format", "cases", "*.case"))):
        name, said, document, good = read_case(path)
        if name not in READ or said == "none":
            continue
        accepted = complaint(name, json.loads(document)) is None
        tried[good] += 1
        if accepted != (good or said == "accepts"):
            wrong.append(f"{os.path.basename(path)}: {'accepted' if accepted else complaint(name, json.loads(document))}")
    tap.ok("the schemas accept and refuse what the program does", wrong)
    tap.ok("both happened often", [] if tried[True] >= 8 and tried[False] >= 60 else [tried])


# The least that each answer holds, with figures of no meaning.
FINDING = {"rule": "stay-clearance", "slots": ["crank"], "verdict": "fits", "reason": "It clears.", "measure": None}
BUILD = {"cost": 300, "price": 200, "labour": 100, "mass_g": -5, "lowest_m": 1.6, "highest_m": None, "line_error_mm": 0.5,
         "bench_min": 12.5, "changed": 1, "parts": {row["slot"]: "keep" for row in tap.table("slots")}, "certain": False,
         "cases": [{"/fitted/crank/spindle": "square_jis"}], "drawbacks": [], "equals": 0, "picks": ["least_money"]}
LEAST = {
    "gears": {"gears": [{"ring": 32, "sprocket": 11, "ratio": 2.9, "development_m": None}], "range_percent": None,
              "lowest_m": None, "highest_m": None, "steps_percent": []},
    "line": {"front_mm": 48, "rear_mm": 45.5, "target_mm": [47, 49], "error_mm": 0,
             "angles": [{"ring": 32, "sprocket": 11, "offset_mm": -3.5, "angle_deg": -0.5}]},
    "chain": {"links": 114, "bare_links": 108.4, "rule_of_thumb_links": 113, "capacity_needed_teeth": 35,
              "capacity_teeth": None, "verdict": "measure"},
    "shift": {"step_mm": None, "pitch_mm": 3.9, "error_mm_total": None, "verdict": "fits"},
    "fit": {"interfaces": [FINDING]},
    "plan": {"builds": [BUILD], "front_size": 1, "objectives": ["cost"], "complete": True},
    "refused": {"refused": {"why": "It has a motor.", "can_do": "Worn parts, like for like."}},
    "faults": {"faults": [{"file": "-", "line": None, "column": None, "path": "/frame/gap_mm", "found": "99",
                           "allowed": "0 to 20", "nearest": "9.9"}]},
}
# What must not pass: (answer, where, value); a path of keys and indexes.
WRONG = [
    ("gears", ["gears", 0, "ring"], 32.5), ("line", ["target_mm"], [47]), ("line", ["angles", 0, "angle_deg"], "flat"),
    ("chain", ["links"], 113), ("chain", ["verdict"], "ok"), ("fit", ["interfaces", 0, "slots"], ["engine"]),
    ("fit", ["interfaces", 0, "reason"], ""), ("plan", ["builds", 0, "cost"], 3.5),
    ("plan", ["builds", 0, "parts", "engine"], "none"), ("plan", ["builds", 0, "line_error_mm"], 0.3),
    ("plan", ["builds"], []), ("faults", ["faults"], []), ("faults", ["faults", 0, "line"], 0),
    ("faults", ["faults", 0, "reason"], "x"), ("refused", ["refused", "can_do"], ""),
]


def changed(document, path, value):
    document = json.loads(json.dumps(document))
    inner = document
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    return document


def without(document, key):
    return {k: v for k, v in document.items() if k != key}


def check_answers():
    tap.ok("the least of each answer is accepted", [f"{n}: {why}" for n, d in LEAST.items() if (why := complaint(n, d))])
    tap.ok("no key of it can be left out",
           [f"{n}: {key}" for n, d in LEAST.items() for key in d if not complaint(n, without(d, key))])
    tap.ok("what is wrong in it is refused",
           [f"{n}: {path}" for n, path, value in WRONG if not complaint(n, changed(LEAST[n], path, value))])
    tap.ok("an empty plan says why", [why] if (why := complaint("plan", {**LEAST["plan"], "builds": [], "because": [{}]})) else [])
    tap.ok("more keys may stand in an answer",
           [n for n in LEAST if n != "faults" and complaint(n, {**LEAST[n], "more": 1})])


def check_words():
    verdicts = [row["word"] for row in tap.table("words") if row["domain"] == "verdict"]
    slots = [row["slot"] for row in tap.table("slots")]
    wrong = []
    for name in ("chain", "fit", "plan", "shift"):
        defs = schema(name)["$defs"]
        if defs["verdict"]["enum"] != verdicts or defs["finding"]["properties"]["slots"]["items"]["enum"] != slots:
            wrong.append(name)
    if list(schema("plan")["$defs"]["build"]["properties"]["parts"]["properties"]) != slots:
        wrong.append("plan: parts")
    tap.ok("verdicts and slots are those of data/", wrong)


check_making()
check_demo()
check_cases()
check_answers()
check_words()
tap.end()
