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
WRITE = [sys.executable, os.path.join(tap.ROOT, "tools", "write-schema"), tap.DATA]


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
    named = subprocess.run(WRITE, capture_output=True, encoding="utf-8", check=True).stdout.split()
    tap.ok("a schema for each document", [] if there == sorted(named) and set(READ) < set(named) else [there])
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
    for name in named:
        made = subprocess.run([*WRITE, name], capture_output=True, encoding="utf-8", check=True).stdout
        with open(os.path.join(SCHEMAS, name + ".schema.json"), encoding="utf-8") as file:
            if file.read() != made:
                stale.append(f"run: tools/write-schema data {name} > docs/schema/{name}.schema.json")
    tap.ok("none is stale", stale)


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


check_making()
check_demo()
check_cases()
tap.end()
