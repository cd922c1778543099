#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""plan --limit-s: what a plan says that was given little time. What it finds is a part of the answer (tests/plan); here, how it is told."""
import os
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import running  # noqa: E402
from running import SHOP, answer, bike_path, tap  # noqa: E402

ASKED = ["plan", bike_path("quillmoor-trail"), "--catalogue", SHOP]

whole, wrong = answer("plan", *ASKED, "--json")
wrong += [] if whole["complete"] and whole["open_gears"] == [] else ["complete, and nothing open"]
tap.ok("without a limit nothing is open", wrong)

unhurried, wrong = answer("plan", *ASKED, "--json", "--limit-s", "1000")
tap.ok("a limit that is not reached changes nothing", wrong + ([] if unhurried == whole else ["another answer"]))

none, wrong = answer("plan", *ASKED, "--json", "--limit-s", "0.000000001", status=4)
wrong += [] if not none["complete"] and none["open_gears"] is None and none["builds"] == [] else [none]
wrong += [] if list(none["because"][0]) == ["limit"] and "time" in none["because"][0]["limit"] else [none["because"]]
wrong += [] if none["keep_rings"] is None else ["rings that were not planned"]
tap.ok("no time: no way, and why", wrong)

ran = running.run(*ASKED, "--limit-s", "0.000000001")
tap.ok("no time, in words", [] if ran.status == 4 and "more time" in " ".join(str(ran.out).split()) else [ran.out[-300:]])

for value in ("0", "-1", "soon", "90000", ""):
    ran = running.run(*ASKED, "--limit-s", value)
    tap.ok(f"--limit-s {value!r} is refused", [] if ran.status == 2 and not ran.out else [ran.status, ran.err[:200]])

line = b'{"bike": ' + open(bike_path("quillmoor-trail"), "rb").read().replace(b"\n", b" ") + b"}\n"
batch = subprocess.run([running.PROGRAM, "plan", "--batch", "-", "--catalogue", SHOP, "--limit-s", "0.000000001"], input=line,
                       capture_output=True, timeout=120, env=running.surroundings())
tap.ok("each line of a batch has its own time", [] if batch.stdout.count(b'"open_gears":null') == 1 else [batch.stdout[:300], batch.stderr[:200]])
tap.end()
