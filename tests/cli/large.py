#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Much at once: a shop of 50,000 parts is answered, or the program stops at its limit with a line that says what to do, and takes
no more memory than it is given; memory that is refused by the machine ends in a line, too; two runs at once do not disturb each
other. Nothing is timed here."""
import csv
import os
import resource
import subprocess
import tempfile

import running
from running import SHOP, bike_path, document_of, load, run, surroundings, tap, wish_path

PARTS = 50000
NAME = "quillmoor-trail"
RELEASE = os.path.join(tap.ROOT, "build", "release", "chainwright")
GIB = 1 << 30


def write_large(folder):
    """The demo's rows again and again, each time with a new id and a price that nobody else has."""
    rows = {}
    for kind, row in running.catalogue_rows().values():
        rows.setdefault(kind, []).append(row)
    times = PARTS // sum(map(len, rows.values())) + 1
    os.makedirs(folder)
    running.save(os.path.join(folder, "shop.json"), load(os.path.join(SHOP, "shop.json")))
    written = 0
    for kind, list_of in rows.items():
        with open(os.path.join(folder, kind + ".csv"), "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, list(list_of[0]), lineterminator="\n")
            writer.writeheader()
            for turn in range(times):
                for row in list_of:
                    price = f"{float(row['price']) + turn * 0.01:.2f}"
                    writer.writerow({**row, "id": f"{row['id']}-{turn}", "price": price})
                    written += 1
    return written


def run_within(program, limit, *arguments):
    """Runs a program that gets no more address space than this."""
    done = subprocess.run([program, *arguments], capture_output=True, env=surroundings(), timeout=240,
                          preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (limit, limit)))
    return running.check_sane(running.Ran(done.returncode, done.stdout, done.stderr), arguments)


def wrong_end(ran):
    """An answer, or one line that says what it stopped at and what to do."""
    if ran.status in (0, 1):
        return ([] if not ran.err else ["something on standard error"]) + running.complaints("plan", document_of(ran.out))
    lines = ran.err.decode().splitlines()
    said = len(lines) == 1 and lines[0].startswith("chainwright: ") and lines[0].endswith(".") and not ran.out
    return [] if ran.status == 4 and said else [f"exit status {ran.status}, {ran.out[:60]}, {ran.err[:200]}"]


def check_large(there):
    shop = os.path.join(there, "large")
    written = write_large(shop)
    ran = run("check-data", shop, "--json")
    told = document_of(ran.out) if ran.status == 0 else {"parts": None}
    tap.ok("a shop of 50,000 parts is read", [] if told["parts"] == written >= PARTS else [told["parts"], ran.err[:200]])
    asked = ["plan", bike_path(NAME), "--catalogue", shop, "--wish", wish_path(NAME), "--json", "--ways", "10"]
    if os.path.exists(RELEASE):
        tap.ok("a plan from it ends, within 4 GiB", wrong_end(run_within(RELEASE, 4 * GIB, *asked)))
        tap.ok("a plan from it ends in a line where memory is short", wrong_end(run_within(RELEASE, GIB // 8, *asked)))
    else:
        tap.ok("there is a release to try", ["build/release is not there"])


def check_at_once():
    asked = [running.PROGRAM, "plan", bike_path(NAME), "--catalogue", SHOP, "--wish", wish_path(NAME), "--json"]
    alone = run(*asked[1:])
    both = [subprocess.Popen(asked, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=surroundings()) for _ in range(2)]
    told = [process.communicate() for process in both]
    tap.ok("two runs at once tell what one tells", [] if told == [(alone.out, alone.err)] * 2 else ["other bytes"])
    with tempfile.TemporaryDirectory() as there:
        cases = [os.path.join(there, name) for name in ("one", "two")]
        both = [subprocess.Popen([*asked, "--save-case", case], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                 env=surroundings()) for case in cases]
        told = [process.communicate()[0] for process in both]
        saved = []
        for case in cases:
            with open(os.path.join(case, "expected.json"), "rb") as file:
                saved.append(file.read())
        left = [name for case in cases for _, _, names in os.walk(case) for name in names if name.endswith(".part")]
        tap.ok("two cases saved at once are whole", left + ([] if saved == told == [alone.out] * 2 else ["other bytes"]))


with tempfile.TemporaryDirectory() as folder:
    check_large(folder)
check_at_once()
tap.end()
