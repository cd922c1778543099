# SPDX-License-Identifier: Apache-2.0
"""What the scripts about bare geometry share: asking the program, its schemas, tables of tests/reference."""
import csv
import json
import os
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


REST = {"wheel_radius_mm": 370, "wheelbase_mm": 1200, "centre_of_mass_height_mm": 1100}
LAYOUTS = {
    "single pivot": {"axle_mm": [-434, 30], "pivot_mm": [30, 60]},
    "on the bottom bracket": {"axle_mm": [-434, 30], "pivot_mm": [0, 0]},
    "four-bar": {"axle_mm": [-435, 28], "lower": {"frame_mm": [-5, 45], "joint_mm": [-395, 18]},
                 "upper": {"frame_mm": [-20, 260], "joint_mm": [-90, 285]}},
}
IDLER = {"x_mm": -25, "y_mm": 115, "teeth": 16}
HIGH = {"axle_mm": [-434, -18], "pivot_mm": [-20, 130], **REST}


def suspension(layout, travels, ring=32, sprocket=21, **more):
    return {**LAYOUTS[layout], **REST, "ring": ring, "sprocket": sprocket, "travel_mm": travels, **more}
