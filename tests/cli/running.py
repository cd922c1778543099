# SPDX-License-Identifier: Apache-2.0
"""What the scripts of this folder share: running the program, the demo, small bikes, schemas."""
import csv
import json
import os
import subprocess
import sys
from collections import namedtuple

import jsonschema

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data"))
import tap  # noqa: E402

PROGRAM = os.environ.get("CHAINWRIGHT") or os.path.join(tap.ROOT, "build", "check", "chainwright")
DEMO = os.path.join(tap.DATA, "demo")
SHOP = os.path.join(DEMO, "shop")
SCHEMAS = os.path.join(tap.ROOT, "docs", "schema")
SANITIZED = 99  # the exit status of a sanitizer that found something; no answer of the program
SLOTS = [row["slot"] for row in tap.table("slots")]

Ran = namedtuple("Ran", "status out err")


def surroundings(**changes):
    """The environment of a run: the C locale in UTF-8, sanitizers that can't be taken for the program."""
    environment = {key: value for key, value in os.environ.items()
                   if not key.startswith("LC_") and key not in ("LANG", "LANGUAGE", "NO_COLOR", "CLICOLOR_FORCE")}
    environment.update(LC_ALL="C.UTF-8", ASAN_OPTIONS=f"exitcode={SANITIZED}:" + os.environ.get("CW_ASAN", ""),
                       UBSAN_OPTIONS=f"exitcode={SANITIZED}:print_stacktrace=1")
    environment.update(changes)
    return {key: value for key, value in environment.items() if value is not None}


def check_sane(ran, arguments):
    told = ran.err.decode(errors="replace")
    if ran.status == SANITIZED or ran.status < 0 or "Sanitizer" in told or "runtime error" in told:
        raise AssertionError(f"{' '.join(map(str, arguments))}: broke off, {ran.status}\n{told[:3000]}")
    return ran


def run(*arguments, stdin=b"", env=None, timeout=120, **more):
    """Runs the program; a sanitizer that speaks up ends the test."""
    done = subprocess.run([PROGRAM, *map(str, arguments)], input=stdin, capture_output=True, timeout=timeout,
                          env=env or surroundings(), **more)
    return check_sane(Ran(done.returncode, done.stdout, done.stderr), arguments)


def load(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def save(path, document):
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path, "w", encoding="utf-8") as file:
        json.dump(document, file)
    return path


def names_in(folder):
    return sorted(name[:-len(".json")] for name in os.listdir(folder) if name.endswith(".json"))


def bike_path(name):
    return os.path.join(DEMO, "bikes", name + ".json")


def wish_path(name):
    return os.path.join(DEMO, "wishes", name + ".json")


BIKES = names_in(os.path.join(DEMO, "bikes"))
REFUSED = names_in(os.path.join(DEMO, "bikes", "refused"))

_validators = {}


def complaints(name, document):
    """What docs/schema/<name>.schema.json has against the document."""
    if name not in _validators:
        _validators[name] = jsonschema.Draft202012Validator(load(os.path.join(SCHEMAS, name + ".schema.json")))
    return [f"{error.json_path}: {error.message[:120]}" for error in _validators[name].iter_errors(document)]


class Twice(Exception):
    pass


def no_twice(pairs):
    if len({key for key, _ in pairs}) != len(pairs):
        raise Twice([key for key, _ in pairs])
    return dict(pairs)


def no_constant(word):
    raise ValueError(word)  # NaN and Infinity are no JSON


def document_of(out):
    """The one JSON document that out is, read strictly: UTF-8, no key twice, no NaN, one line end behind it."""
    text = out.decode("utf-8")
    if not text.endswith("}\n") or text.startswith("\ufeff"):
        raise ValueError("it is not an object with one line end behind it")
    return json.loads(text, object_pairs_hook=no_twice, parse_constant=no_constant)


def answer(schema, *arguments, status=0, **more):
    """An answer as data, with what is wrong with how it was given: (document or None, faults)."""
    ran = run(*arguments, **more)
    faults = [] if ran.status == status else [f"exit status {ran.status}, not {status}"]
    faults += [f"on standard error: {ran.err[:200]}"] if ran.err else []
    try:
        document = document_of(ran.out)
    except (ValueError, Twice) as error:
        return None, faults + [f"not one JSON document: {error}: {ran.out[:80]}"]
    return document, faults + complaints(schema, document)


def value_of(item):
    """What a value in a bike's file says, however it is known."""
    return item.get("value") if isinstance(item, dict) else item


def weigh(bike):
    """Writes a mass, each another, into every part of the bike's document."""
    for number, (_, part) in enumerate(sorted(bike["fitted"].items())):
        for each in part if isinstance(part, list) else [part]:
            if each is not None:
                each["mass_g"] = 50 + 37 * number


def catalogue_rows(folder=SHOP):
    """Every part of a shop: id -> (kind, row)."""
    parts = {}
    for name in sorted(os.listdir(folder)):
        if name.endswith(".csv"):
            with open(os.path.join(folder, name), encoding="utf-8", newline="") as file:
                parts.update({row["id"]: (name[:-len(".csv")], row) for row in csv.DictReader(file)})
    return parts


def write_catalogue(folder, kinds, shop):
    """kinds: kind -> list of rows, dictionaries; an empty list writes the header alone, from the demo."""
    os.makedirs(folder, exist_ok=True)
    save(os.path.join(folder, "shop.json"), shop)
    for kind, rows in kinds.items():
        with open(os.path.join(SHOP, kind + ".csv"), encoding="utf-8", newline="") as file:
            header = next(csv.reader(file))
        with open(os.path.join(folder, kind + ".csv"), "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, header, lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
    return folder


def bike(label="A bike", **parts):
    """A bike file's object: what is not said is not there."""
    document = {"format": 1, "label": label, "frame": {}, "wheel": {}, "fitted": {}}
    document.update(parts)
    return document


def given(document):
    """A document as bytes for standard input."""
    return json.dumps(document).encode()
