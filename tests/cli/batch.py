#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""A batch: every line is answered as its bike would be alone, in the order of the lines; a line that can't be read is answered by
its faults, and the others are done; a bike that is turned down is told so; the lines come from a file or standard input."""
import json
import os
import tempfile

import running
from running import REFUSED, SHOP, bike_path, load, run, tap, wish_path

NAMES = ["wren-24", "osier-ridge", "marram-gravel", "harrow-stone"]
CUT = '{"bike": {"format": 1, "label": '


def lines_of():
    lines = [json.dumps({"bike": load(bike_path(name)), "wish": load(wish_path(name))}) for name in NAMES]
    nonsense = {"format": 1, "label": "wide", "frame": {"hub_width_mm": 1350}, "wheel": {}, "fitted": {}}
    return lines + [json.dumps({"bike": load(bike_path("refused/" + REFUSED[0]))}), CUT, "", json.dumps({"bike": nonsense}),
                    json.dumps({"bike": load(bike_path(NAMES[0])), "wihs": {}}), json.dumps({"wish": {}}), lines[1]]


def alone(name):
    return json.loads(run("plan", bike_path(name), "--catalogue", SHOP, "--wish", wish_path(name), "--ways", "3", "--json").out)


def sort_of(line):
    return next(key for key in ("plan", "refused", "faults") if key in line)


def check_lines(told):
    wanted = ["plan"] * 4 + ["refused"] + ["faults"] * 5 + ["plan"]
    tap.ok("each line is answered in its place", [] if [line["line"] for line in told] == list(range(1, len(told) + 1))
           and [sort_of(line) for line in told] == wanted else [[(line["line"], sort_of(line)) for line in told]])
    tap.ok("as the schemas say", [fault for line in told for fault in running.complaints("batch", line)]
           + [fault for line in told if "plan" in line for fault in running.complaints("plan", line["plan"])]
           + [fault for line in told if "refused" in line for fault in running.complaints("refused", {"refused": line["refused"]})]
           + [fault for line in told if "faults" in line
              for fault in running.complaints("faults", {"faults": line["faults"], "total": line["total"]})])
    for at, name in list(enumerate(NAMES)) + [(10, NAMES[1])]:
        tap.ok(f"line {at + 1} as {name} alone", [] if told[at]["plan"] == alone(name) else ["another plan"])
    places = {line["faults"][0]["file"].rsplit(":", 1)[1] for line in told if "faults" in line}
    tap.ok("faults say in which line", [] if places == {"6", "7", "8", "9", "10"} else [places])
    tap.ok("a misspelt key is told with the one that was meant", [] if told[8]["faults"][0]["nearest"] == "wish" else [told[8]])


def check_batch(folder):
    path = os.path.join(folder, "fleet.jsonl")
    with open(path, "w", encoding="utf-8") as file:
        file.write("\n".join(lines_of()) + "\n")
    arguments = ["--catalogue", SHOP, "--ways", "3"]
    ran = run("plan", "--batch", path, *arguments)
    check_lines([json.loads(line) for line in ran.out.decode().splitlines()])
    tap.ok("some lines had faults: status 3, nothing on standard error", [] if ran.status == 3 and not ran.err else [ran.status, ran.err])
    with open(path, "rb") as file:
        given = file.read()
    again = run("plan", "--batch", "-", *arguments, stdin=given)
    tap.ok("from standard input the same", [] if again.out == ran.out.replace(path.encode(), b"-") else ["another answer"])
    good = run("plan", "--batch", "-", *arguments, stdin="\r\n".join(lines_of()[:2]).encode())
    tap.ok("no faults: status 0; lines may end as anywhere", [] if good.status == 0 and good.out == b"".join(ran.out.splitlines(True)[:2]) else [good.status])


def check_default_wish(folder):
    """A wish on the command line holds for lines without one."""
    line = json.dumps({"bike": load(bike_path(NAMES[0]))}).encode()
    ran = run("plan", "--batch", "-", "--catalogue", SHOP, "--wish", wish_path(NAMES[0]), "--ways", "3", stdin=line)
    tap.ok("a wish for all", [] if json.loads(ran.out)["plan"] == alone(NAMES[0]) else ["another plan"])


def check_usage():
    for what, words in (("a bike beside it", ["plan", bike_path(NAMES[0]), "--batch", "-", "--catalogue", SHOP]),
                        ("a case to save", ["plan", "--batch", "-", "--catalogue", SHOP, "--save-case", "/nowhere"]),
                        ("two from standard input", ["plan", "--batch", "-", "--wish", "-", "--catalogue", SHOP])):
        ran = run(*words)
        tap.ok(f"usage: {what}", [] if ran.status == 2 and not ran.out else [ran])
    ran = run("plan", "--batch", "/nowhere.jsonl", "--catalogue", SHOP)
    tap.ok("a file that is not there", [] if ran.status == 3 and b"/nowhere.jsonl" in ran.err else [ran])


with tempfile.TemporaryDirectory() as there:
    check_batch(there)
    check_default_wish(there)
check_usage()
tap.end()
