#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Papers as a reader of PDF sees them: size of the page, number of pages, title and author, all fonts embedded, no word over another or
off the page, names in five scripts, the same bytes twice, below 150 kB. And as one page of HTML: well-formed, nothing from outside."""
import json
import os
import subprocess

import reading
from reading import BIKES, DAY, DEMO, FOLDER, NAMES, PROGRAM, ask, bike_path, check, paper

MOST_PAGES, MOST_BYTES = 4, 150_000
LEAST_PT = 8.95  # of most words of a sheet: it hangs at the stand (9 pt, and what poppler rounds)


def printed_faults(kind, name, size):
    label = json.load(open(bike_path(name), encoding="utf-8"))["label"]
    pdf = paper(kind, bike_path(name), "pdf", "--size", size)
    yield from reading.paper_faults(pdf, label, size, 2 if kind == "quote" else MOST_PAGES, MOST_BYTES)
    if kind == "sheet" and reading.type_size(pdf) < LEAST_PT:
        yield f"its text stands in {reading.type_size(pdf):.1f} pt"


def twice(kind, bike):
    first = open(paper(kind, bike, "pdf"), "rb").read()
    if open(paper(kind, bike, "pdf"), "rb").read() != first:
        yield "other bytes"


def usage_faults():
    for words, want in ((("sheet", "--out", "x.doc"), "x.doc"), (("sheet",), "--out FILE"), (("bill", "--out", "x.pdf"), "bill")):
        done = subprocess.run([PROGRAM, "paper", words[0], bike_path("tern-road"), "--catalogue", os.path.join(DEMO, "shop"),
                               *words[1:]], capture_output=True, text=True)
        if done.returncode != 2 or want not in done.stderr:
            yield f"{words}: {done.returncode} {done.stderr}"


def bike_list_faults():
    """The parts of the way that is asked for, with their prices: those of the plan."""
    bike, options = bike_path("harrow-stone"), ("--way", "B")
    pdf = paper("buy-list", bike, "pdf", *options)
    plan = json.loads(ask(PROGRAM, "plan", bike, "--catalogue", os.path.join(DEMO, "shop"), "--wish",
                          os.path.join(DEMO, "wishes/harrow-stone.json"), "--json"))
    builds = [build for build in plan["builds"] if build["picks"]]
    wanted = {part for part in builds[1]["parts"].values() if part not in ("keep", "none")}
    text = ask("pdftotext", "-raw", pdf, "-")
    for part in wanted:
        if f"({part})" not in text:
            yield f"not on the list: {part}"
    if text.count("(") < len(wanted) or not wanted:
        yield "too few parts"


def job_faults():
    """A job's papers: its name in the title block, and the quote that was given, as it was given."""
    job, bike = os.path.join(FOLDER.name, "J 4711"), bike_path("harrow-stone")
    shop, wish = os.path.join(DEMO, "shop"), os.path.join(DEMO, "wishes/harrow-stone.json")
    ask(PROGRAM, "quote", bike, "--catalogue", shop, "--wish", wish, "--date", DAY, "--way", "A", "--call-first", "30",
        "--job", job)
    out = os.path.join(FOLDER.name, "job.pdf")
    for kind in ("sheet", "quote"):
        ask(PROGRAM, "paper", kind, job, "--out", out)
        text = ask("pdftotext", "-layout", out, "-")
        if "J 4711" not in text:
            yield f"{kind}: no name of the job"
    if DAY not in text or "Up to GBP 30.00 more" not in text:
        yield "not the quote of then"


for size in ("a4", "letter"):
    for kind in ("sheet", "quote"):
        for name in BIKES:
            check(f"{kind} of {name} on {size}", printed_faults(kind, name, size))
for kind in ("sheet", "quote"):
    for name in BIKES:
        check(f"{kind} of {name} as HTML", reading.html_faults(paper(kind, bike_path(name), "html")))
    both = [paper(kind, bike_path("harrow-stone"), ending) for ending in ("html", "pdf")]
    check(f"{kind}: the same words in both", reading.same_words(*both))
    check(f"{kind}: the same tables in both", reading.table_faults(*both))
    check(f"{kind}: the same bytes", twice(kind, bike_path("harrow-stone")))
for script, name in NAMES.items():
    both = [paper("sheet", reading.named(script, name), ending, wish="harrow-stone") for ending in ("pdf", "html")]
    check(f"a name in {script}", reading.name_faults(script, name, *both))
check("buy-list of a way of a bike", bike_list_faults())
check("the papers of a job", job_faults())
check("what is refused", usage_faults())
reading.end()
