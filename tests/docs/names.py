#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What the pages speak of is there: properties, slots, rules and words of the vocabulary, files, and what links point at."""
import glob
import json
import os
import re

from pages import ROOT, page, tap

PAGES = ["README.md", "CHANGES.md", "CONTRIBUTING.md"] + sorted(
    os.path.relpath(path, ROOT) for folder in ("docs", "data", "src", "tests", "tools")
    for path in glob.glob(os.path.join(ROOT, folder, "**", "*.md"), recursive=True))
PROPERTY = re.compile(r"`(\w+)\.(\w+)`")
LINK = re.compile(r"\[([^\]\n]*)\]\(([^)\s]+)\)")
FILE = re.compile(r"`([\w./-]+\.(?:c|h|py|md|csv|json|build))`")

kinds = {}
for row in tap.table("vocabulary"):
    kinds.setdefault(row["kind"], set()).add(row["property"])
slots = {row["slot"]: row["kind"] for row in tap.table("slots")}


def headings(path):
    """Anchors of a page: its headings in small letters, blanks as hyphens, other signs gone."""
    return {re.sub(r"[^\w -]", "", line.lstrip("# ")).strip().lower().replace(" ", "-")
            for line in page(path).splitlines() if line.startswith("#")}


def property_faults(text):
    """`frame.gap_mm`: a kind, or a slot, and a property of it."""
    for owner, name in PROPERTY.findall(text):
        kind = slots.get(owner, owner)
        if kind in kinds and name not in kinds[kind] | kinds["any"] and name not in ("c", "h", "csv", "json", "md"):
            yield f"{owner}.{name}: no such property"


def link_faults(path, text):
    for _, target in LINK.findall(text):
        if re.match(r"[a-z]+:", target):
            continue
        file, _, anchor = target.partition("#")
        file = os.path.normpath(os.path.join(os.path.dirname(path), file)) if file else path
        if not os.path.exists(os.path.join(ROOT, file)):
            yield f"{path}: {target}: no such file"
        elif anchor and anchor not in headings(file):
            yield f"{path}: {target}: no such heading"


def file_faults(path, text):
    """A file that a README names lies beside it, in the tree's root, under src or tests, or is one of a shop or a case."""
    for name in FILE.findall(text):
        places = (os.path.dirname(path), "", "src", "tests", "data/demo/shop", "docs/examples", "tests/cases/*")
        if not any(glob.glob(os.path.join(ROOT, place, name)) for place in places):
            yield f"{path}: {name}: no such file"


def measuring_faults(text):
    """Each property of docs/measuring.md links to its kind's table."""
    linked = re.findall(r"\[`(\w+)\.(\w+)`\]\(parts\.md#([\w-]+)\)", text)
    for kind, name, anchor in linked:
        if name not in kinds.get(kind, ()):
            yield f"{kind}.{name}: no such property"
        elif anchor != ("every-part" if kind == "any" else kind):
            yield f"{kind}.{name}: links to {anchor}"
    if len(linked) != sum(kind in kinds for kind, _ in PROPERTY.findall(text)):
        yield "a property that is not a link"


tap.ok("every property that a page names is there",
       [f"{path}: {fault}" for path in PAGES for fault in property_faults(page(path))])
tap.ok("every link between pages leads somewhere", [fault for path in PAGES for fault in link_faults(path, page(path))])
readmes = [path for path in PAGES if path.endswith("README.md") and path != "README.md"]
tap.ok("every file that a folder's README names is there",
       [fault for path in readmes for fault in file_faults(path, page(path))])
tap.ok("a folder's README has at most ten lines and says where to start",
       [path for path in readmes if not path.startswith("tests/cases/") or path == "tests/cases/README.md"
        if len(page(path).splitlines()) > 10 or not re.search(r"[Ss]tart |first\b", page(path))])

measuring = page("docs/measuring.md")
tap.ok("docs/measuring.md links each property to its table", list(measuring_faults(measuring)))
# What has usual values and no default is what a plan asks for; hub width and axle of the wheel are those of the frame.
tap.ok("docs/measuring.md tells how to read whatever a plan may ask for",
       [f"{row['kind']}.{row['property']}" for row in tap.table("vocabulary")
        if row["usual"] and not row["default"] and f"`{row['kind']}.{row['property']}`" not in measuring
        and not (row["kind"] == "rear_wheel" and row["property"] in kinds["frame"])])

example = json.loads(page("docs/examples/overruled.json"))
quoted = re.search(r'```json\n("overruled": .*?)```', page("README.md"), re.S)
tap.ok("what README.md overrules is in its example",
       [] if quoted and json.loads("{" + quoted[1] + "}")["overruled"] == example["overruled"] else ["another one"])
told = set(re.findall(r"^\| `([a-z_]+)`(?:, `([a-z_]+)`)? \|", page("README.md"), re.M))
wish = set(json.loads(page("docs/schema/wish.schema.json"))["properties"]) - {"format", "label"}
tap.ok("README.md tells every key of a wish", sorted(wish - {name for pair in told for name in pair}))

tap.ok("caught: a property, a link, a heading, a file, an anchor",
       [] if [len(list(found)) for found in (
           property_faults("`frame.gab_mm` and `hanger.kind`"), link_faults("docs/tour.md", "[a](no.md) [b](parts.md#no)"),
           file_faults("src/fit/README.md", "`none.c` and `fit.h`"),
           measuring_faults("[`frame.gap_mm`](parts.md#crank), `frame.axle`"))] == [1, 2, 1, 2] else ["missed"])
tap.end()
