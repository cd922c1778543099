#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The catalogue of messages: tools/compile-messages tells each fault that is planted in a copy, by file and line, and
writes nothing then; no message is idle, and none that the code speaks of is missing."""
import csv
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(os.environ.get("CW_SOURCE_ROOT") or pathlib.Path(__file__).resolve().parents[2])
MESSAGES = ROOT / "data" / "messages"
done, failed = 0, 0


def ok(what, problems):
    global done, failed
    done += 1
    failed += bool(problems)
    print(f"{'not ok' if problems else 'ok'} {done} - {what}")
    for line in problems:
        print(f"#   {line}")


def compiled(folder, out):
    return subprocess.run([sys.executable, ROOT / "tools" / "compile-messages", folder, out], capture_output=True,
                          encoding="utf-8")


def plant(what, text, words):
    """Plants a file of this text (bytes, or rows behind the header) beside the others; words must be told of it."""
    with tempfile.TemporaryDirectory() as folder:
        copy, out = pathlib.Path(folder, "messages"), pathlib.Path(folder, "out.c")
        shutil.copytree(MESSAGES, copy)
        (copy / "planted.csv").write_bytes(text if isinstance(text, bytes) else ("code,text\n" + text).encode())
        run = compiled(copy, out)
        problems = [] if run.returncode == 1 else [f"exit status {run.returncode}"]
        problems += ["something was written"] if out.exists() else []
        if not re.search(r"planted\.csv:\d+: .*" + re.escape(words), run.stderr):
            problems.append(f"not told: {run.stderr[:200]}")
        ok(what, problems)


def codes():
    for path in sorted(MESSAGES.glob("*.csv")):
        for row in csv.DictReader(path.open(encoding="utf-8", newline="")):
            yield path.name, row["code"]


plant("a code twice", "arm-length.name,arms\n", "each once; it stands in")
plant("a brace that is no argument", "planted.a,{one}\n", "braces")
plant("an argument that is never closed", "planted.a,{0 of\n", "braces")
plant("an exclamation mark", "planted.a,Order the ring!\n", "exclamation")
plant("a word that is not for people", "planted.a,An error was found\n", "not a word for people")
plant("a text that is too long", "planted.a," + "ring " * 130 + "ring\n", "characters")
plant("a text that is not UTF-8", b"code,text\nplanted.a,\xff\xfe\n", "file")
plant("a blank at the end", "planted.a,The ring \n", "blanks")
plant("a code of one word", "planted,The ring\n", "points between")
plant("a row of three columns", "planted.a,The ring,32\n", "columns")
plant("another header", b"name,text\nplanted.a,The ring\n", "header")

with tempfile.TemporaryDirectory() as folder:
    out = pathlib.Path(folder, "out.c")
    run = compiled(MESSAGES, out)
    ok("the messages as they stand are compiled", [] if run.returncode == 0 and out.exists() else [run.stderr])

source = "\n".join(path.read_text(encoding="utf-8") for path in sorted((ROOT / "src").rglob("*.[ch]")))
literals = set(re.findall(r'"([^"\\\n]+)"', source))
rules = set(re.findall(r'\.id\s*=\s*"([^"]+)"', source))
words = {(row["domain"], row["word"]) for row in csv.DictReader((ROOT / "data/words.csv").open(encoding="utf-8"))}
properties = {(row["kind"], row["property"])
              for row in csv.DictReader((ROOT / "data/vocabulary.csv").open(encoding="utf-8"))}
benches = {row["operation"] for row in csv.DictReader((ROOT / "data/bench_operations.csv").open(encoding="utf-8"))}
checks = {row["check"] for row in csv.DictReader((ROOT / "data/bench_checks.csv").open(encoding="utf-8"))}
small_parts = [[row["id"]] for row in csv.DictReader((ROOT / "data/small_parts.csv").open(encoding="utf-8"))]


def is_used(file, code):
    """By its own name, as a text of a rule, or by a name that is made of a word or a property."""
    first, *rest = code.split(".")
    if code in literals or (first in rules and rest in (["name"], ["what"], ["more"])):
        return True
    if first == "small-part":
        return rest in small_parts
    if first == "bench":
        return rest[0] in benches and rest[1:] in ([], ["caution"])
    if first == "check":
        return rest[0] in checks and not rest[1:]
    if first == "reads" and len(rest) == 2:
        return tuple(rest) in words
    if first in ("name", "label") and len(rest) == 2:
        return tuple(rest) in properties
    if code.startswith(("part.crank.", "part.bracket.")):
        return ("spindle", rest[1]) in words
    return file == "refused.csv" and re.search(r'"refused\.', source) is not None


ok("no message is idle", [f"{file}: {code}" for file, code in codes() if not is_used(file, code)])

known = {code for _, code in codes()}
families = {code.split(".")[0] for code in known}
spoken = {text for text in literals if re.fullmatch(r"[a-z][a-z0-9_-]*(\.[a-z0-9_-]+)+", text)}
missing = {text for text in spoken if text.split(".")[0] in families and text not in known}
ok("every small part has its words", [id for [id] in small_parts if f"small-part.{id}" not in known])
ok("every bench operation has its words", sorted(id for id in benches if f"bench.{id}" not in known))
ok("every check has its words", sorted(id for id in checks if f"check.{id}" not in known))
ok("no message that the code speaks of is missing", sorted(text for text in missing if not text.endswith(".json")))

print(f"1..{done}")
sys.exit(1 if failed else 0)
