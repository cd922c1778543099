#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every page that a person reads, for every demo bike: no line reaches beyond column 79 or ends with a blank, in UTF-8
and in plain ASCII; no text is left unfilled; words that people should not read do not stand there; and what a plan says
is what the same plan says to a program, which other code writes."""
import concurrent.futures
import json
import os
import pathlib
import pty
import re
import subprocess
import sys

ROOT = pathlib.Path(os.environ.get("CW_SOURCE_ROOT") or pathlib.Path(__file__).resolve().parents[2])
PROGRAM = os.environ["CHAINWRIGHT"]
DEMO = ROOT / "data" / "demo"
LAST_COLUMN = 79
# What the project never shows: signs before a share, words of a program, states of a part that are not its own.
NEVER = re.compile(r"[+−-]\d+ %|\b(options?|solutions?|configurations?|optimal|[Pp]areto|(in)?compatib\w*|warnings?|"
                   r"errors?|invalid|null|N/A|unchanged|modified|deleted|interfaces?)\b|!|\bNaN\b|\bnan\b|\binf\b")
UNFILLED = re.compile(r"\{\^?\d|<[a-z-]+\.[a-z-]+|\(null\)|  $")
COLOUR = re.compile(rb"\x1b\[[0-9;]*m")
done, failed = 0, 0


def ok(what, problems):
    global done, failed
    done += 1
    failed += bool(problems)
    print(f"{'not ok' if problems else 'ok'} {done} - {what}")
    for line in problems[:8]:
        print(f"#   {line}")


def run(*arguments):
    run = subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, env={**os.environ, "LC_ALL": "C.UTF-8"})
    return run.returncode, run.stdout, run.stderr.decode("utf-8")


def run_on_terminal(locale, *arguments):
    """What a terminal would get: colour, and plain signs where the locale is not UTF-8."""
    ours, theirs = pty.openpty()
    environment = {name: value for name, value in os.environ.items() if name != "NO_COLOR"}
    with subprocess.Popen([PROGRAM, *map(str, arguments)], stdout=theirs, stderr=subprocess.DEVNULL,
                          env={**environment, "LC_ALL": locale}):
        os.close(theirs)
        told = b""
        try:
            while piece := os.read(ours, 65536):
                told += piece
        except OSError: # the other end is closed
            pass
    os.close(ours)
    return told.replace(b"\r\n", b"\n")


def problems_of(text):
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LAST_COLUMN:
            yield f"line {number}: {len(line)} columns: {line}"
        if line != line.rstrip() or "\t" in line or "\r" in line:
            yield f"line {number}: a blank at its end or a tab: {line}"
        if UNFILLED.search(line) or NEVER.search(line):
            yield f"line {number}: {(UNFILLED.search(line) or NEVER.search(line))[0]!r}: {line}"
    if not text.endswith("\n") or text.startswith("\n") or "\n\n\n\n" in text:
        yield "the page begins or ends badly, or has a gap"


def page(what, statuses, *arguments):
    """The page into a pipe and on a terminal that is not UTF-8; its text in UTF-8."""
    status, wide, told = run(*arguments)
    plain = run_on_terminal("C", *arguments)
    text = wide.decode("utf-8")
    problems = [f"exit status {status}: {told}"] if status not in statuses else []
    problems += list(problems_of(text))
    problems += [] if plain.isascii() else ["plain text is not ASCII"]
    problems += [f"plain: {line}" for line in problems_of(COLOUR.sub(b"", plain).decode("ascii", "replace"))]
    return what, problems, text


def amount(text):
    return int(text.replace(".", ""))


def problems_of_way(letter, way, section, table):
    """What stands under a way's heading and in its row of the table, against the way as a program is told of it."""
    heading, rest = section.split("\n", 1)
    if not heading.endswith(f" GBP {way['cost'] / 100:.2f}"):
        yield f"{letter}: {heading!r} for {way['cost']}"
    row = next((line for line in table if line.startswith(f"  {letter}  ")), "")
    cells = re.findall(r"(?<= )\d+\.\d+(?= )", row)
    wanted = [way["cost"] / 100, way["lowest_m"], way["highest_m"]]
    if len(cells) != 3 or any(abs(float(cell) - value) > 0.00051 for cell, value in zip(cells, wanted)):
        yield f"{letter}: {wanted}, the row is {row!r}"
    if ("[:]" in row) == way["certain"] or ("\n   hangs on" in rest) == way["certain"]:
        yield f"{letter}: certain is {way['certain']}, the row is {row!r}"
    prices = re.findall(r"^(?:   \[\|\]| {28}).*? (\d+\.\d\d)$", rest, re.M)
    if sum(map(amount, prices)) != way["price"]:
        yield f"{letter}: prices {prices}, together {way['price']}"
    new = sum(part not in ("keep", "none") for part in way["parts"].values())
    if len(re.findall(r"^   \[\|\]", rest, re.M)) != new:
        yield f"{letter}: {new} new parts"
    if ("[_]" in rest) != bool(way["drawbacks"]):
        yield f"{letter}: drawbacks {way['drawbacks']}"
    line = re.search(r"chain line +~?(\S+) mm;\s+the\s+frame\s+wants\s+~?([\d.]+)\S([\d.]+)\s+mm\*?"
                     r"(?::\s+~?(\S+)\s+mm\s+too\s+far\s+(in|out))?", rest)
    if line:  # who reads the line and the window must come to the distance that stands beside them
        shown, low, high = map(float, line.groups()[:3])
        off = (low - shown, "in") if shown < low else (shown - high, "out") if shown > high else (0, None)
        if abs(float(line[4] or 0) - off[0]) > 0.051 or line[5] != off[1]:
            yield f"{letter}: {line[0]!r}"
    if ("\n   equals" in rest) != (way["equals"] > 0):
        yield f"{letter}: equals {way['equals']}"


def problems_of_plan(text, plan):
    picks = [way for way in plan["builds"] if way["picks"]]
    parts = re.split(r"^(?=[A-E]  )", text, flags=re.M)
    letters = [part[0] for part in parts[1:]]
    if letters != list("ABCDE"[:len(picks)]):
        yield f"ways {letters}, {len(picks)} picks"
        return
    order = [text.find(question) for question in
             ("Which way shall we build it?", "What is on the bike?", "Which gears has it now?", "\n   Next: ", "Figures are")]
    if -1 in order or order != sorted(order):
        yield f"the order of the page: {order}"
    fewest = min((len(way["drawbacks"]) for way in plan["builds"]), default=0)
    for way in picks:  # nobody wants to be shown a way with a heap of drawbacks
        if len(way["drawbacks"]) > fewest + 3:
            yield f"{way['picks']}: {way['drawbacks']}"
    if not picks and "   None." not in text:
        yield "no way, and that is not said"
    for letter, way, section in zip(letters, picks, parts[1:]):
        yield from problems_of_way(letter, way, section.split("\n\n\n")[0], parts[0].split("\n"))
    for left_out in plan["left_out"][:6]:
        if left_out["id"] not in text:
            yield f"{left_out['id']} was left out, and is not named"


def questions():
    """Every page, as (what, exit statuses, arguments)."""
    for bike in sorted((DEMO / "bikes").glob("*.json")):
        for command in ("gears", "line", "chain", "shift", "fit", "wear"):
            yield f"{command} {bike.stem}", (0, 1), (command, bike)
        for gradient in (0, 6, 9.5, 25):
            yield f"climb {bike.stem} {gradient} %", (0,), ("climb", bike, "--gradient-percent", gradient)
        for wish in sorted((DEMO / "wishes").glob(bike.stem.split("-")[0] + "*.json")):
            yield f"plan {wish.stem}", (0, 1), ("plan", bike, "--catalogue", DEMO / "shop", "--wish", wish)
    first = DEMO / "bikes" / "quillmoor-trail.json"
    examples = ROOT / "docs" / "examples"
    yield "climb of a bike that is hardly known", (0,), ("climb", examples / "first-answer.json", "--gradient-percent", 8)
    yield "climb of another rider", (0,), ("climb", first, "--gradient-percent", 8, "--rider", examples / "rider.json", "--cadence-rpm", 75)
    yield "plan for a hill", (0,), ("plan", first, "--catalogue", DEMO / "shop", "--wish", examples / "hill-wish.json")
    yield "plan without a wish, with every joint", (0,), ("plan", first, "--catalogue", DEMO / "shop", "--why")
    for bike in sorted((DEMO / "bikes" / "refused").glob("*.json")):
        yield f"turned down: {bike.stem}", (1,), ("gears", bike)
    yield "parts", (0,), ("parts", "--catalogue", DEMO / "shop")
    yield "torque", (0,), ("torque",)
    for name in ("stay-clearance", "hub_width_mm", "cup_spacers", "kinds", "rules", "slots", "[|]", "nine_key", "ring"):
        yield f"explain {name}", (0,), ("explain", name)


def look(question):
    what, statuses, arguments = question
    what, problems, text = page(what, statuses, *arguments)
    if arguments[0] == "plan":
        plan = json.loads(run(*arguments, "--ways", "5", "--json")[1])
        problems += problems_of_plan(text, plan)
        drawn = "suspension" in json.loads(pathlib.Path(arguments[1]).read_text(encoding="utf-8"))
        pedals = len(re.findall(r"^   pedalling    climbing, ", text, re.M)), text.count("rolling along, ")
        wanted = sum(bool(way["picks"]) for way in plan["builds"]) if drawn else 0
        problems += [] if pedals == (wanted, wanted) else [f"how it pedals is told of {pedals} ways, not {wanted}"]
    if what.startswith("turned down") and ("   No. " not in text or len(text.strip().split("\n\n")) < 4):
        problems.append("does not say no, or not what can be done")
    return what, problems


def untold(name):
    """What a program is told that the name means, and a person is not."""
    text = " ".join(run("explain", name)[1].decode("utf-8").lower().split())
    found = json.loads(run("explain", name, "--json")[1])["found"]
    says = {"rule": lambda it: it["what"], "slot": lambda it: it["what"] or it["label"], "mark": lambda it: it["what"],
            "property": lambda it: f"{it['kind']}.{it['name']}", "kind": lambda it: "properties", "word": lambda it: it["note"] or ""}
    return [f"{it['sort']}: {says[it['sort']](it)}" for it in found if says[it["sort"]](it).lower() not in text]


asked = list(questions())
with concurrent.futures.ThreadPoolExecutor(2) as pool:
    for what, problems in pool.map(look, asked):
        ok(what, problems)

for name in ("hanger", "worn", "shell", "chain", "adapter", "wheel"):
    ok(f"every meaning of {name}", untold(name))

coloured = run_on_terminal("C.UTF-8", "fit", asked[0][2][1])
pale = run("fit", asked[0][2][1])[1]
ok("colour is on a terminal only, and changes nothing but colour",
   [] if COLOUR.search(coloured) and not COLOUR.search(pale) and COLOUR.sub(b"", coloured) == pale else
   [coloured.decode("utf-8", "replace")])

print(f"1..{done}")
sys.exit(1 if failed or not done else 0)
