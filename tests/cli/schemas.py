#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The schemas of docs/schema/ describe what the program really answers, and are strict enough to say when it does not:
every key of real answers is named there with a sentence; no fixed key can be left out, nor hold what it must not."""
import copy
import os
import re
import tempfile

import running
from running import bike_path, complaints, document_of, load, run, tap, wish_path

# The keys that other programs rely on, as the project has fixed them: [] is every item of an array.
FIXED = {
    "gears": ["gears[].ring", "gears[].sprocket", "gears[].ratio", "gears[].development_m", "range_percent", "lowest_m",
              "highest_m", "steps_percent"],
    "line": ["front_mm", "rear_mm", "target_mm", "error_mm", "angles[].ring", "angles[].sprocket", "angles[].offset_mm",
             "angles[].angle_deg"],
    "chain": ["links", "bare_links", "rule_of_thumb_links", "capacity_needed_teeth", "capacity_teeth", "verdict"]
             + ["gears[]." + key for key in ("ring", "sprocket", "path_links", "cage_deg", "gap_mm", "slack_links", "verdict")],
    "shift": ["step_mm", "pitch_mm", "error_mm_total", "verdict"],
    "fit": ["interfaces[]." + key for key in ("rule", "slots", "verdict", "reason", "measure")],
    "climb": ["speed_mps", "needed_development_m", "lift_gradient_percent", "slip_gradient_percent"]
             + ["wheel_power_w." + cause for cause in ("air", "rolling", "bearings", "gravity")]
             + ["gears[]." + key for key in ("ring", "sprocket", "development_m", "cadence_rpm", "state")],
    "wear": ["family", "worn_percent", "over_24_mm", "goes_at_percent", "goes_at_mm", "chain.verdict", "chain.reason"]
            + ["under_new_chain[]." + key for key in ("slot", "verdict", "reason")],
    "torque": ["torques[]." + key for key in ("name", "what", "low_nm", "high_nm", "hand", "preload_low_n", "preload_high_n", "source")],
    "plan": ["front_size", "objectives", "complete", "keep_rings", "left_out[].id", "left_out[].property"]
            + ["builds[]." + key for key in ("cost", "price", "labour", "mass_g", "lowest_m", "highest_m", "line_error_mm",
                                            "bench_min", "changed", "parts", "picks", "certain", "cases", "drawbacks", "equals")]
            + ["builds[].parts." + slot for slot in running.SLOTS],
    "quote": ["day", "holds_until", "currency", "amounts_include_tax", "keep_rings"]
             + ["choices[]." + key for key in ("letter", "net", "total", "cash", "deposit", "parts_amount", "labour_amount", "stays",
                                               "comes_off", "part_lines[].id", "part_lines[].amount", "labour_lines[].operation",
                                               "labour_lines[].amount", "taxes[].percent", "taxes[].amount", "build.cost")],
    "record": ["last", "agreed", "steps[].operation", "steps[].done_at", "entries[].kind", "entries[].at", "signed"],
    "handover": ["letter", "signed_by", "links", "chain_goes_at_percent", "measured[].kind", "look_at"],
    "buy-list": ["currency"] + ["parts[]." + key for key in ("supplier", "id", "pieces", "from_shelf", "order", "days", "price", "jobs")],
    "why-not": ["fits", "complete", "build", "against[].kind", "against[].name", "nearest", "on_bike", "asked[].id"],
    "work": ["way", "charged_min", "low_min", "high_min", "turns", "moves", "tool_changes", "least", "labour", "red", "parts.crank"]
            + ["charged[]." + key for key in ("operation", "minutes", "labour")]
            + ["steps[]." + key for key in ("operation", "what", "paid_by", "phase", "place", "position", "tools", "torques", "low_min", "high_min", "source")]
            + ["readings[]." + key for key in ("step", "what", "unit", "known")]
            + ["to_measure[]." + key for key in ("before_step", "decides", "stands")] + ["found[].operation"],
    "ride": ["distance_m", "climb_m", "time_s"]
            + ["energy_j." + key for key in ("rider", "air", "rolling", "bearings", "gravity", "kinetic", "drive", "brakes")]
            + ["time_share." + key for key in ("in_band", "below", "above", "coasting", "walked")]
            + ["shifts.rear", "shifts.front"] + ["gears[]." + key for key in ("ring", "sprocket", "development_m", "time_s")],
    "refused": ["refused.why", "refused.can_do"],
    "faults": ["faults[]." + key for key in ("file", "line", "column", "path", "found", "allowed", "nearest")],
    "explain": ["found"], "parts": ["parts"], "check-data": ["parts"], "version": ["version"],
}
# What no key may hold, whatever it is: a list where a number was, and so on.
SWAPS = {int: ["3", None, []], float: ["3.5", []], str: [3, []], bool: ["yes", 1], list: ["x", {}], dict: ["x", []]}
MAY_BE_NULL = {"target_mm", "measure", "line_error_mm", "development_m", "found", "nearest", "path", "column", "line",
               "capacity_teeth", "capacity_needed_teeth", "links", "rule_of_thumb_links", "range_percent", "lowest_m",
               "highest_m", "front_mm", "rear_mm", "error_mm", "offset_mm", "angle_deg", "step_mm", "pitch_mm", "bare_links",
               "error_mm_total", "keep_rings", "cadence_rpm", "state", "lift_gradient_percent", "slip_gradient_percent", "path_links", "cage_deg", "gap_mm", "slack_links", "mass_g",
               "family", "worn_percent", "over_24_mm", "low_nm", "high_nm", "hand", "preload_low_n", "preload_high_n", "holds_until", "letter", "done_at", "agreed", "signed_by", "chain_goes_at_percent", "supplier", "days"}


def sample(folder):
    """One rich answer of each kind."""
    shop = running.SHOP
    bike = bike_path("quillmoor-trail")
    cut = os.path.join(folder, "cut.json")
    with open(cut, "w", encoding="utf-8") as file:
        file.write('{"format": 1, "label": "x", "frame": {"hub_width_mm": 1350}, "wheel": {}, "fitted": {"chain": {"lnks": 3}}}')
    hill_wish = os.path.join(running.tap.ROOT, "docs", "examples", "hill-wish.json")
    asked = {question: [[question, bike]] for question in ("gears", "line", "chain", "shift", "fit", "wear")}
    asked["line"].append(["line", bike_path("sallow-tourer")])
    asked["climb"] = [["climb", bike, "--gradient-percent", "11"], ["climb", bike_path("tern-road"), "--gradient-percent", "6"]]
    asked["plan"] = [["plan", bike, "--catalogue", shop, "--wish", wish_path("quillmoor-trail"), "--why", "--ways", "3"],
                     ["plan", bike, "--catalogue", shop, "--wish", wish_path("quillmoor-impossible")],
                     ["plan", bike, "--catalogue", shop, "--wish", hill_wish],
                     ["plan", bike_path("tern-road"), "--catalogue", shop, "--climb", "9 % for 2 km", "--ways", "3"]]
    wish = ["--catalogue", shop, "--wish", wish_path("quillmoor-trail")]
    asked["quote"] = [["quote", bike, *wish, "--date", "2026-11-30", "--old-parts", "back"]]
    asked["why-not"] = [["why-not", bike, *wish, "--part", part] for part in ("karvane-v12-10-50", "dunvar-f7-13-28")]
    job = os.path.join(folder, "job")
    run("quote", bike, *wish, "--date", "2026-11-30", "--way", "A", "--job", job)
    run("record", job, "measured", "cassette_lockring", "40", "--at", "2026-12-01T09:00")
    asked["record"], asked["handover"] = [["record", job]], [["handover", job]]
    asked["buy-list"] = [["buy-list", job, "--catalogue", shop]]
    asked["work"] = [["work", bike, *wish], ["work", bike, *wish, "--way", "E"],
                     ["work", bike, "--catalogue", shop, "--wish", wish_path("quillmoor-impossible")]]
    route = ["--route", os.path.join(running.DEMO, "routes", "quillmoor-loop.gpx")]
    asked["ride"] = [["ride", bike, *route], ["ride", bike, *route, *wish]]
    asked["refused"] = [["gears", bike_path("refused/mid-motor")]]
    asked["faults"] = [["gears", cut]]
    asked["explain"] = [["explain", name] for name in ("stay-clearance", "chain-hold.wants-guide", "crank", "teeth", "gap_mm",
                                                       "cassette", "rules", "slots", "kinds", "adapter", "quick_release")]
    asked["parts"] = [["parts", "--catalogue", shop]]
    asked["check-data"] = [["check-data", shop]]
    asked["torque"] = [["torque"], ["torque", "pedal_left"], ["torque", "pinch", "--nm", "20"]]
    asked["version"] = [["version"]]
    answers = {}
    for name, questions in asked.items():
        for arguments in questions:
            ran = run(*arguments, "--json")
            answers.setdefault(name, []).append(document_of(ran.err if name == "faults" else ran.out))
    return answers


def places(document, path):
    """Every (holder, key) that a path such as gears[].ring leads to."""
    steps = path.replace("[]", ".[]").split(".")
    holders = [document]
    for step in steps[:-1]:
        holders = [inner for holder in holders for inner in (holder if step == "[]" else [holder[step]])]
    return [(holder, steps[-1]) for holder in holders]


def check_fixed(name, document):
    """Each fixed key is there; planted in a copy: without it, or with what it must not hold, the schema says no."""
    wrong = complaints(name, document)
    for path in FIXED[name]:
        if not places(document, path):
            wrong.append(f"{path}: the sample has none")
            continue
        holder, key = places(document, path)[0]
        if key not in holder:
            wrong.append(f"{path}: not there")
            continue
        planted = copy.deepcopy(document)
        holder, key = places(planted, path)[0]
        value = holder.pop(key)
        wrong += [] if complaints(name, planted) else [f"{path}: may be left out"]
        for other in SWAPS.get(type(value), []):
            if other is None and key in MAY_BE_NULL:
                continue
            holder[key] = other
            wrong += [] if complaints(name, planted) else [f"{path}: may be {other!r}"]
    return wrong


# --- is every key described? ----------------------------------------------------------------------------------------------


def resolved(schema, root):
    while "$ref" in schema:
        schema = {**root["$defs"][schema["$ref"].rsplit("/", 1)[1]], **{k: v for k, v in schema.items() if k != "$ref"}}
    return schema


def branches(schema, root):
    schema = resolved(schema, root)
    inner = [branch for key in ("anyOf", "oneOf") for part in schema.get(key, []) for branch in branches(part, root)]
    return [schema] + inner


def undescribed(document, schema, root, path=""):
    """Keys of an answer that no schema names, or names without a word on what they are."""
    wrong = []
    here = branches(schema, root)
    if isinstance(document, dict):
        for key, value in document.items():
            of_key = [b["properties"][key] for b in here if key in b.get("properties", {})]
            free = [b["additionalProperties"] for b in here if isinstance(b.get("additionalProperties"), dict)]
            if not of_key and not free:
                wrong.append(f"{path}/{key}: not named")
            elif of_key and not any("description" in resolved(b, root) or "const" in b for b in of_key):
                wrong.append(f"{path}/{key}: not described")
            for inner in of_key or free:
                wrong += undescribed(value, inner, root, f"{path}/{key}")
                break
    for item in document if isinstance(document, list) else []:
        items = [b["items"] for b in here if isinstance(b.get("items"), dict)]
        wrong += undescribed(item, items[0], root, path + "[]") if items else []
    return wrong


def check_described(name, document):
    root = load(os.path.join(running.SCHEMAS, name + ".schema.json"))
    return sorted(set(undescribed(document, root, root)))


def units_without_a_word(node, path=""):
    """Keys that end with a unit say it in their sentence."""
    words = {"_mm": "mm", "_m": r"\bm\b|[Mm]etres", "_g": r"\bg\b", "_min": "[Mm]inutes", "_deg": "degrees", "_teeth": "teeth",
             "_percent": "percent|Highest ratio", "_links": "pitches"}
    wrong = []
    for key, value in node.items() if isinstance(node, dict) else []:
        if key == "properties":
            for named, schema in value.items():
                unit = next((u for u in words if named.endswith(u)), None)
                if unit and not re.search(words[unit], schema.get("description", "")):
                    wrong.append(f"{path}/{named}: no unit in '{schema.get('description')}'")
        wrong += units_without_a_word(value, f"{path}/{key}")
    for item in node if isinstance(node, list) else []:
        wrong += units_without_a_word(item, path)
    return wrong


def check_planted():
    """The walk over keys sees one that is not named, and one without a word."""
    root = {"type": "object", "properties": {"a": {"type": "integer"}, "b": {"description": "B.", "type": "integer"}}}
    found = undescribed({"a": 1, "b": 2, "c": 3}, root, root)
    tap.ok("a key that no schema names is seen", [] if found == ["/a: not described", "/c: not named"] else found)
    bad = {"properties": {"stay_mm": {"description": "The stay."}, "links": {"description": "Links."}}}
    tap.ok("a unit that is not told is seen", [] if len(units_without_a_word(bad)) == 1 else units_without_a_word(bad))


check_planted()
with tempfile.TemporaryDirectory() as there:
    for name, documents in sample(there).items():
        tap.ok(f"{name}: no fixed key can be left out or hold another thing", check_fixed(name, documents[0]))
        tap.ok(f"{name}: every answer is accepted", [line for document in documents for line in complaints(name, document)])
        tap.ok(f"{name}: every key is named and described",
               sorted({line for document in documents for line in check_described(name, document)}))
        schema = load(os.path.join(running.SCHEMAS, name + ".schema.json"))
        tap.ok(f"{name}: units are told", units_without_a_word(schema))
        more = {**documents[0], "more": 1}
        tap.ok(f"{name}: more keys may stand in an answer", complaints(name, more))
tap.end()
