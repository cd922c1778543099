#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""A job from quote to handover, its files, what its record takes and refuses, and writers at once."""
import csv
import io
import os
import shutil
import subprocess
import tempfile

import running
from running import answer, bike_path, complaints, load, run, save, tap, wish_path

ASKED = [bike_path("quillmoor-trail"), "--catalogue", running.SHOP, "--wish", wish_path("quillmoor-trail"), "--date", "2026-11-30"]
WRITERS = 12


def new_job(folder, ways="C"):
    job = os.path.join(folder, "job")
    ran = run("quote", *ASKED, "--way", ways, "--job", job)
    assert ran.status == 0, ran
    return job


def record(job, *words, at="2026-12-01T10:00"):
    return run("record", job, *words, "--at", at)


def state(job):
    document, faults = answer("record", "record", job, "--json")
    assert not faults, faults
    return document


def taken(ran):
    return [] if ran.status == 0 and not ran.err else [ran]


def refused(ran, status, *texts):
    return [] if ran.status == status and not ran.out and all(text.encode() in ran.err for text in texts) else [ran]


def check_folder():
    with tempfile.TemporaryDirectory() as folder:
        job = new_job(folder, "A,C")
        faults = [name for name in ("bike", "wish") if open(os.path.join(job, name + ".json")).read() !=
                  open({"bike": ASKED[0], "wish": ASKED[4]}[name]).read()]
        faults += complaints("quote", load(os.path.join(job, "quote.json")))
        same, _ = answer("plan", "plan", os.path.join(job, "bike.json"), "--catalogue", os.path.join(job, "shop"), "--wish",
                         os.path.join(job, "wish.json"), "--json")
        faults += [] if same["front_size"] > 0 else ["the job's own files give no plan"]
        before = sorted(os.listdir(job))
        again = run("quote", *ASKED, "--way", "A", "--job", job)
        faults += refused(again, 3, "new or empty") or ([] if sorted(os.listdir(job)) == before else ["written over"])
        tap.ok("a job is a folder of what the quote was made from, and is never written over", faults)
        faults = refused(record(job, "done", "1"), 1, "No way is agreed") + refused(record(job, "agreed", "B"), 2, "A, C or keep")
        tap.ok("work begins with a yes", faults + taken(record(job, "agreed", "A")) + ([] if state(job)["agreed"] == "A" else ["not A"]))
    with tempfile.TemporaryDirectory() as folder:
        none = run("quote", ASKED[0], "--catalogue", running.SHOP, "--wish", wish_path("quillmoor-impossible"), "--job", os.path.join(folder, "job"))
        tap.ok("no way makes no job", [] if none.status == 1 and not os.listdir(folder) else [none, os.listdir(folder)])


def check_ride():
    """A wish about a ride is answered on the ride that the job keeps."""
    ways = {"--route": os.path.join(running.DEMO, "routes", "quillmoor-loop.gpx"), "--climb": "9 % for 2 km, 14 % for 600 m"}
    for option, value in ways.items():
        with tempfile.TemporaryDirectory() as folder:
            job, wish = os.path.join(folder, "job"), os.path.join(folder, "wish.json")
            save(wish, {"rings": 1, "objectives": ["cost", "in_band"]})
            asked = [bike_path("tern-road"), "--catalogue", running.SHOP, "--wish", wish]
            faults = refused(run("work", *asked), 3, "/objectives", "--route FILE")
            faults += [] if run("quote", *asked, option, value, "--way", "B", "--job", job).status == 0 else ["no quote"]
            sheet, more = answer("work", "work", job, "--json")
            same, again = answer("work", "work", *asked, option, value, "--way", "B", "--json")
            tap.ok(f"a job keeps its {option[2:]}", faults + more + again + ([] if sheet == same else ["another sheet"]))


def check_entries():
    with tempfile.TemporaryDirectory() as folder:
        job = new_job(folder)
        steps = [step["operation"] for step in state(job)["steps"]]
        sheet, faults = answer("work", "work", job, "--json")
        faults += [] if steps == [step["operation"] for step in sheet["steps"]] else [steps]
        plain, more = answer("work", "work", *ASKED[:-2], "--way", "C", "--json")
        tap.ok("the steps are those of the sheet of the way", faults + more + ([] if plain == sheet else ["another sheet"]))
        faults = taken(record(job, "done", steps[3], "9")) + refused(record(job, "done", "4"), 1, "done already")
        faults += refused(record(job, "done", "right_lever_off"), 2, "no step of this job", steps[0]) + refused(record(job, "done", "1", "x"), 2, "minutes")
        faults += refused(record(job, "done", str(len(steps) + 1)), 2, "no step of this job") + refused(record(job, "done", "0"), 2, "no step")
        tap.ok("a step is done once, and is one of the job, by its number or its name", faults)
        # cassette lockring 40 N·m: common practice, printed on most lockrings
        faults = taken(record(job, "measured", "cassette_lockring", "40")) + refused(record(job, "measured", "cassette_lockring", "70"), 1, "N·m", "--reason")
        faults += taken(run("record", job, "measured", "cassette_lockring", "70", "--reason", "maker says 70"))
        faults += refused(record(job, "measured", "spokes", "3"), 2, "torque") + refused(record(job, "measured", "gap_mm", "300"), 2, "number from")
        faults += taken(record(job, "measured", "hanger", "3.5")) + refused(record(job, "measured", "hanger", "5"), 1, "at most 4")
        page = run("record", job).out.decode()
        faults += [] if "It is outside. Reason:" in " ".join(page.split()) else [page]
        tap.ok("a value outside its limits asks for a reason, and stays visible", faults)
        check_swaps(job)
        faults = taken(record(job, "fault", "a ring bolt spins")) + refused(record(job, "signed", "Ann"), 1, "not done", steps[0])
        for step in steps:
            record(job, "done", step)
        faults += taken(record(job, "minutes", "104")) + taken(record(job, "signed", "Ann"))
        handover, more = answer("handover", "handover", job, "--json")
        wanted = {"signed_by": "Ann", "letter": "C"}
        faults += more + [key for key, value in wanted.items() if handover[key] != value]
        faults += [] if [entry["value"] for entry in handover["measured"]] == [70, 3.5] else [handover["measured"]]
        page = " ".join(run("handover", job).out.decode().split())
        faults += [text for text in ("signed by Ann", "a ring bolt spins", "It is outside", "the quick link", "component maker's instructions") if text not in page]
        tap.ok("what was done and found goes with the bike", faults)
        entries = [load(os.path.join(job, "record", name)) for name in sorted(os.listdir(os.path.join(job, "record")))]
        tap.ok("every entry is a document as its schema says", [line for entry in entries for line in complaints("entry", entry)])


def check_swaps(job):
    """A part that does not go together is not taken; with one that does, what it touches is to be done again, and the rest stays."""
    faults = refused(record(job, "swapped", "chain", "mirrowan-13-118"), 1, "13-speed chain") + refused(record(job, "swapped", "chin", "keep"), 2, "slot")
    faults += refused(record(job, "swapped", "chain", "dunvar-n40"), 2, "no part") + taken(record(job, "done", "hanger_gauged")) + taken(record(job, "done", "indexed"))
    faults += taken(record(job, "swapped", "chain", "wendrake-j9-114"))
    now = state(job)
    done = {step["operation"] for step in now["steps"] if step["done_at"]}
    faults += [] if now["parts"]["chain"] == "wendrake-j9-114" and "hanger_gauged" in done and not done & {"indexed", "chain_sized"} else [now["parts"]["chain"], done]
    tap.ok("a part is swapped mid-way, and done work kept", faults)


def check_writers():
    with tempfile.TemporaryDirectory() as folder:
        job = new_job(folder)
        writers = [subprocess.Popen([running.PROGRAM, "record", job, "fault", f"fault {i}"], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
                                    env=running.surroundings()) for i in range(WRITERS)]
        told = [writer.communicate(timeout=300)[1] for writer in writers]
        texts = sorted(entry["text"] for entry in state(job)["entries"])
        faults = [text for text in told if text] + ([] if texts == sorted(f"fault {i}" for i in range(WRITERS)) else [texts])
        names = sorted(os.listdir(os.path.join(job, "record")))
        faults += [] if names == [f"{i + 1:04}.json" for i in range(WRITERS)] else [names]
        tap.ok(f"of {WRITERS} who write at once nobody is lost", faults)
        faults = refused(run("record", job, "fault", "late", "--after", WRITERS - 1), 1, f"{WRITERS} is the last now")
        tap.ok("who names an entry that is not the last is told", faults + taken(run("record", job, "fault", "in time", "--after", WRITERS)))


def check_bad_files():
    good = '{"format": 1, "kind": "fault", "at": "2026-12-01T10:00", "text": "x"}'
    bad = {"cut off": (good[:30], "line"), "no kind": (good.replace("fault", "fun"), "/kind"), "no time": (good.replace("T10:00", ""), "/at"),
           "an hour that is none": (good.replace("T10", "T24"), "/at"), "another key": (good.replace('"text"', '"txt"'), "/txt"),
           "a text that is none": (good.replace('"x"', "3"), "/text"), "another form": (good.replace("1,", "2,", 1), "/format"), "no object": ("[]", "object"),
           "a part that is none": ('{"format": 1, "kind": "swapped", "at": "2026-12-01T10:00", "name": "chain", "text": "nothing-like-it"}', "nothing-like-it"),
           "an operation that is none": ('{"format": 1, "kind": "done", "at": "2026-12-01T10:00", "name": "polish"}', "/name")}
    with tempfile.TemporaryDirectory() as folder:
        job = new_job(folder)
        entry = os.path.join(job, "record", "0001.json")
        os.makedirs(os.path.dirname(entry))
        for what, (text, told) in bad.items():
            with open(entry, "w", encoding="utf-8") as file:
                file.write(text)
            tap.ok(f"an entry with {what} is told", refused(run("record", job), 3, "0001.json", told if told != "line" else ":1:"))
        os.rename(entry, entry.replace("0001", "0002"))
        tap.ok("a gap in the record is told", refused(run("record", job), 3, "0001.json", "nothing to read"))
        shutil.rmtree(os.path.dirname(entry))
        quote = load(os.path.join(job, "quote.json"))
        for what, change, told in (("no choices", {"choices": []}, "/choices"), ("a part that is none", None, "nowhere-1"), ("a total that is none", 0, "/choices/0/total")):
            planted = load(os.path.join(job, "quote.json"))
            if change is None:
                planted["choices"][0]["build"]["parts"]["chain"] = "nowhere-1"
            elif change == 0:
                planted["choices"][0]["total"] = "12.50"
            else:
                planted.update(change)
            save(os.path.join(job, "quote.json"), planted)
            tap.ok(f"a quote with {what} is told", refused(run("record", job), 3, "quote.json", told))
            save(os.path.join(job, "quote.json"), quote)
        os.remove(os.path.join(job, "quote.json"))
        for command in (["record", job], ["work", job], ["handover", job], ["buy-list", job, "--catalogue", running.SHOP]):
            tap.ok(f"{command[0]} of a job that was not written to its end is told", refused(run(*command), 3, "without quote.json"))
        tap.ok("a folder that is none is told", refused(run("record", os.path.join(folder, "none")), 3, "no folder to read"))
        tap.ok("a bike without a catalogue is told what it lacks", refused(run("work", ASKED[0]), 3, "--catalogue FOLDER"))


def check_buying():
    rows = running.catalogue_rows()
    with tempfile.TemporaryDirectory() as folder:
        jobs = [new_job(os.path.join(folder, name)) for name in ("one", "two", "three")]
        faults = taken(record(jobs[2], "swapped", "chain", "wendrake-j9-114"))
        needed = {}
        for job in jobs:
            for slot, part in state(job)["parts"].items():
                if part not in ("keep", "none"):
                    needed.setdefault(part, []).append(job)
        listed, more = answer("buy-list", "buy-list", *jobs, "--catalogue", running.SHOP, "--json")
        faults += more
        faults += [] if {part["id"]: part["jobs"] for part in listed["parts"]} == needed else [listed]
        for part in listed["parts"]:
            here = int(rows[part["id"]][1]["stock"] or 0)
            wanted = (len(needed[part["id"]]), min(here, len(needed[part["id"]])), max(0, len(needed[part["id"]]) - here))
            faults += [] if (part["pieces"], part["from_shelf"], part["order"]) == wanted else [part]
            faults += [] if part["supplier"] == (rows[part["id"]][1]["supplier"] or None) else [part]
        suppliers = [part["supplier"] or "\uffff" for part in listed["parts"]]
        faults += [] if suppliers == sorted(suppliers) else [suppliers]
        tap.ok("the same part of three jobs stands once, with what is on the shelf taken first", faults)
        table = list(csv.DictReader(io.StringIO(run("buy-list", *jobs, "--catalogue", running.SHOP, "--csv").out.decode(), newline="")))
        faults = [] if [(row["id"], int(row["order"])) for row in table] == [(part["id"], part["order"]) for part in listed["parts"]] else [table]
        tap.ok("and so as CSV", faults)
        tap.ok("the same job twice is told", refused(run("buy-list", jobs[0], jobs[0], "--catalogue", running.SHOP), 3, "twice"))


check_folder()
check_ride()
check_entries()
check_writers()
check_bad_files()
check_buying()
tap.end()
