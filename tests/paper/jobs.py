#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The papers of a job, one job of each demo bike: what `printed.py` asks of a bike's papers, and that they say what the commands
say."""
import json
import os
import re
import shutil
import subprocess

import reading
from reading import BIKES, DAY, DEMO, FOLDER, NAMES, PROGRAM, ask, bike_path, check, squeezed

SHOP = os.path.join(DEMO, "shop")
MOST = {"sheet": (6, 150_000), "quote": (2, 200_000), "buy-list": (2, 150_000), "handover": (2, 200_000),
        "report": (14, 600_000)}  # pages, bytes; of a long sheet a leaf more than `printed.py` allows, for the head
NEW = ("buy-list", "handover", "report")  # what `printed.py` has not looked at closely
SQUARE_MM, MARGIN_MM = 20.0, 12.0


def job_of(bike, wish, *options):
    """A job, its way agreed and a value read."""
    job = os.path.join(FOLDER.name, "job " + os.path.basename(bike)[:-5] + " ".join(options)[:7])
    ask(PROGRAM, "quote", bike, "--catalogue", SHOP, "--wish", os.path.join(DEMO, "wishes", wish + ".json"), "--date", DAY,
        "--way", "A", "--call-first", "30", "--job", job, *options)
    ask(PROGRAM, "record", job, "measured", "cassette_lockring", "40", "--at", DAY + "T10:00", "--by", "Ina")
    ask(PROGRAM, "record", job, "fault", "rim worn to its mark", "--at", DAY + "T11:00")
    return job


def ask_bytes(*command):
    return subprocess.run(command, capture_output=True, check=True).stdout.decode()


def paper(kind, job, ending, *options):
    out = os.path.join(job + " papers", f"{kind}.{ending}")
    done = ask(PROGRAM, "paper", kind, job, "--date", DAY, "--out", out, *options)
    assert done == out + "\n", done
    return out


def all_papers(job, size):
    """Every paper of a job by one run; their files."""
    folder = f"{job} {size}"
    done = ask(PROGRAM, "paper", "all", job, "--date", DAY, "--size", size, "--out", folder).splitlines()
    assert done == [os.path.join(folder, kind + ".pdf") for kind in MOST], done
    return dict(zip(MOST, done))


def head_faults(pdf, job):
    """The number in its square at the top right, and the sum above which to call."""
    width, _, words = next(reading.words_of(pdf))
    edge = (width * reading.POINT_MM - MARGIN_MM - SQUARE_MM, MARGIN_MM + SQUARE_MM)
    square = " ".join(word for left, _, _, bottom, word in words
                      if left * reading.POINT_MM > edge[0] and bottom * reading.POINT_MM < edge[1])
    if squeezed(os.path.basename(job)) not in squeezed(square) or "job's number" not in square.replace("&apos;", "'").replace("&#39;", "'"):
        yield f"in the square: {square}"
    text = " ".join(word[4] for word in words)
    for want in ("rider's phone", "promised for", "GBP 30.00"):
        if want not in text.replace("&apos;", "'").replace("&#39;", "'"):
            yield f"not in the head: {want}"


def shop_faults(name, address):
    """A shop that says its name: it heads what goes to customer and supplier, and is the author."""
    shop = os.path.join(FOLDER.name, "shop")
    shutil.copytree(SHOP, shop)
    path = os.path.join(shop, "shop.json")
    settings = json.load(open(path, encoding="utf-8")) | {"name": name, "address": address}
    json.dump(settings, open(path, "w", encoding="utf-8"))
    out = os.path.join(FOLDER.name, "named.pdf")
    for kind in ("quote", "buy-list"):
        ask(PROGRAM, "paper", kind, bike_path("harrow-stone"), "--catalogue", shop, "--date", DAY, "--out", out)
        yield from reading.paper_faults(out, "Harrow", "a4", *MOST[kind], author=name)
        if f"{name}, {address}" not in ask("pdftotext", "-layout", out, "-"):
            yield f"{kind}: not in its head"


def says_faults(pdf, *command):
    """Each line of a terminal's page stands in the PDF; rows are wrapped elsewhere, so word by word."""
    words = set(ask("pdftotext", "-raw", pdf, "-").split())
    for line in ask(PROGRAM, *command).splitlines():
        missing = [word for word in line.split() if word not in words and word[0] not in "[-"]
        if missing:
            yield f"not on paper: {missing} of {line}"


def csv_faults(folders):
    out = paper("buy-list", folders[0], "csv", *folders[1:], "--catalogue", SHOP)
    if open(out, "rb").read().decode() != ask_bytes(PROGRAM, "buy-list", *folders, "--catalogue", SHOP, "--csv"):
        yield "another table"


def several_faults(folders):
    """Each job stands at its parts; the table sums them."""
    yield from csv_faults(folders)
    text = " ".join(ask("pdftotext", "-raw", paper("buy-list", folders[0], "pdf", *folders[1:], "--catalogue", SHOP), "-").split())
    for folder in folders:
        if text.count(os.path.basename(folder)) < 2:  # in the title block and at a part
            yield f"not named: {folder}"


def report_faults(pdf, folder):
    """Each joint that `plan --why` judges, those that fit too, the values of the bike's file, and a source for each number."""
    text = " ".join(ask("pdftotext", "-raw", pdf, "-").split())
    bike, wish, shop = (os.path.join(folder, name) for name in ("bike.json", "wish.json", "shop"))
    plan = json.loads(ask(PROGRAM, "plan", bike, "--catalogue", shop, "--wish", wish, "--json", "--why"))
    for finding in plan["builds"][0]["interfaces"]:
        sentence = " ".join(finding["reason"].split())
        if squeezed(sentence) not in squeezed(text):
            yield f"no joint: {sentence}"
    for name, value in json.load(open(bike, encoding="utf-8"))["frame"].items():
        if isinstance(value, (int, float)) and f"{value:g}" not in text:
            yield f"no value: {name}"
    numbers = {int(number) for number in re.findall(r"Source (\d+)\.", text)}
    listed = text[text.index("Where do the figures come from?"):]
    for number in numbers:
        if f" {number} " not in listed:
            yield f"no source {number}"
    if max(numbers, default=0) < 5:
        yield "hardly a source"


def full_quote_faults(bike):
    """A job with all its choices, on the smaller page."""
    job = os.path.join(FOLDER.name, "full " + bike)
    ask(PROGRAM, "quote", bike_path(bike), "--catalogue", SHOP, "--wish", os.path.join(DEMO, "wishes", bike + ".json"), "--date", DAY,
        "--call-first", "30", "--job", job)
    yield from reading.paper_faults(paper("quote", job, "pdf", "--size", "letter"), "Quote", "letter", *MOST["quote"])


def ridden_faults(job):
    """The route of a job's report: a lane for the bike of now and one for the way, beside each other."""
    page = open(paper("report", job, "html"), encoding="utf-8").read()
    texts = re.findall(r"<text[^>]*>([^<]*)</text>", page[page.index(">ROUTE<"):])
    if "A" not in texts or texts.index("A") != texts.index("now") + 1:
        yield texts[:12]


def refused_faults(folder):
    for words, status, want in ((("sheet", folder, folder), 2, "one bike or job"), (("handover", bike_path("tern-road")), 3, "quote --job"),
                                (("handover", folder, "--out", "x.csv"), 2, ".pdf or .html"),
                                (("buy-list", folder, "--out", "x.doc"), 2, ".pdf, .html or .csv"), (("buy-list", folder, folder), 3, "twice")):
        out = () if "--out" in words else ("--out", os.path.join(FOLDER.name, "refused.pdf"))
        done = subprocess.run([PROGRAM, "paper", *words, *out], capture_output=True, text=True)
        if done.returncode != status or want not in done.stderr:
            yield f"{words}: {done.returncode} {done.stderr}"


jobs = {name: job_of(bike_path(name), name) for name in BIKES}
for name, job in jobs.items():
    label = json.load(open(bike_path(name), encoding="utf-8"))["label"]
    for size in ("letter", "a4"):
        for kind, pdf in all_papers(job, size).items():
            check(f"{kind} of {name} on {size}", reading.paper_faults(pdf, label, size, *MOST[kind]))
            check(f"{kind} of {name} on {size}: its head", head_faults(pdf, job))
job = jobs["harrow-stone"]
for kind in NEW:
    pdf, html = paper(kind, job, "pdf"), paper(kind, job, "html")
    check(f"{kind} as HTML", reading.html_faults(html))
    check(f"{kind}: the same words in both", reading.same_words(html, pdf))
    check(f"{kind}: the same tables in both", reading.table_faults(html, pdf))
    first = open(pdf, "rb").read()
    check(f"{kind}: the same bytes", [] if open(paper(kind, job, "pdf"), "rb").read() == first else ["other bytes"])
check("handover: what the command says", says_faults(paper("handover", job, "pdf"), "handover", job))
check("buy-list: what the command says", says_faults(paper("buy-list", job, "pdf"), "buy-list", job, "--catalogue", SHOP))
check("buy-list: as CSV what the command gives", csv_faults([job]))
check("buy-list of several jobs", several_faults(list(jobs.values())[:4]))
check("report: every joint, value and source", report_faults(paper("report", job, "pdf"), job))
check("report of a ride: before and after",
      ridden_faults(job_of(bike_path("tern-road"), "tern-road", "--route", os.path.join(DEMO, "routes", "quillmoor-loop.gpx"))))
for name in ("fallow-26", "quillmoor-trail"):
    check(f"quote of {name} with all its ways", full_quote_faults(name))
check("a shop's name", shop_faults("Quillmoor workshop", "Mill Lane 3, Quillmoor"))
check("what is refused", refused_faults(job))
for script, name in NAMES.items():
    named = job_of(reading.named(script, name), "harrow-stone")
    for kind in NEW:
        both = [paper(kind, named, ending) for ending in ("pdf", "html")]
        check(f"{kind}: a name in {script}", reading.name_faults(script, name, *both))
reading.end()
