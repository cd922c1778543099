#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Papers as pages of HTML, for who reads them by ear or in the dark: one first heading and no level left out, tables with
header cells as wide as their rows, every figure named by its own title, every box and line named (WCAG 2.2, 1.1.1, 1.3.1,
3.1.1; HTML Living Standard: one of each id); each colour of the figures has its dark one in the style sheet."""
import os
import re
import sys
import tempfile
import xml.etree.ElementTree as xml

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cli"))
from running import BIKES, SHOP, bike_path, load, run, save, tap, wish_path  # noqa: E402

SVG = "{http://www.w3.org/2000/svg}"
FOLDER = tempfile.TemporaryDirectory()
KINDS = ("sheet", "quote", "report", "buy-list")


def page_of(kind, bike, path=None):
    """The text of a paper; None where the wish has no way."""
    out = os.path.join(FOLDER.name, f"{kind}-{bike}.html")
    wish = wish_path({"sallow-tourer": "sallow-tourer-three"}.get(bike, bike))
    done = run("paper", kind, path or bike_path(bike), "--catalogue", SHOP, "--wish", wish, "--date", "2026-05-01", "--out", out)
    if done.status != 0:
        raise AssertionError(f"{kind} {bike}: {done}")
    with open(out, encoding="utf-8") as file:
        return file.read()


def tree_of(text):
    return xml.fromstring(text.replace("<!DOCTYPE html>\n", ""))


def heading_faults(tree):
    levels = [int(e.tag[1]) for e in tree.iter() if re.fullmatch("h[1-6]", e.tag)]
    if levels[:1] != [1] or levels.count(1) != 1 or any(b > a + 1 for a, b in zip(levels, levels[1:])):
        yield f"headings: {levels}"
    if tree.get("lang") != "en" or tree.find(".//main") is None or tree.find(".//footer") is None:
        yield "no language, no main part or no foot"


BESIDE = 4  # values of a row that stand beside each other on a phone


def table_faults(tree):
    for table in tree.iter("table"):
        rows = [list(row) for row in table.iter("tr")]
        values = len(rows[0]) - 1
        labelled = any(cell.get("scope") == "row" for row in rows for cell in row)
        if table.get("style") != f"--n:{min(values, BESIDE)}":
            yield f"{values} values, {table.get('style')} beside each other on a phone"
        for row in rows:
            if len(row) != values + 1:
                yield f"{len(row)} cells, not {values} and a label"
            first = next(cell for cell in row if "".join(cell.itertext()))
            if first.tag != "th" and labelled:
                yield "a row without a header cell"
        if table.find("thead") is not None and any((cell.tag == "th") != bool(cell.text) for cell in rows[0]):
            yield "no header cells above the columns"
        roles = {e.tag: e.get("role") for e in table.iter()}
        if table.get("role") != "table" or roles["tr"] != "row" or roles.get("td", "cell") != "cell":
            yield f"roles: {roles}"


def name_faults(tree):
    ids = [e.get("id") for e in tree.iter() if e.get("id")]
    if len(ids) != len(set(ids)):
        yield f"an id twice: {ids}"
    for svg in tree.iter(SVG + "svg"):
        named = svg.get("aria-labelledby")
        title = [e for e in svg.iter(SVG + "title")]
        if not title or (named and title[0].get("id") != named) or (svg.get("width") != "16" and not named):
            yield f"a figure without its title: {named}"
    for e in tree.iter("span"):
        if e.get("class") in ("box", "tick", "rule") and not (e.get("role") == "img" and e.get("aria-label")):
            yield f"a {e.get('class')} without a name"
        if e.text and "____" in e.text:
            yield f"a line of underscores: {e.text}"


def colour_faults(tree, text):
    """Screen readers aside: what the figures are drawn in, by night."""
    dark = text.split("prefers-color-scheme:dark")[1].split("\n}\n")[0]
    print_of = {row["print"]: row["dark"] for row in reversed(tap.table("palette")) if row["role"] not in ("field", "tint")}
    for e in tree.iter():
        for name in ("fill", "stroke"):
            colour = e.get(name)
            if colour and colour != "none" and f'[{name}="{colour}"]{{{name}:#{print_of[colour[1:]]}}}' not in dark:
                yield f"{name} {colour} has no dark one"


def faults_of(text):
    tree = tree_of(text)
    return [*heading_faults(tree), *table_faults(tree), *name_faults(tree), *colour_faults(tree, text)]


def faults_of_catching(text):
    plants = {"<h2>": "<h4>", ' id="f': ' id="g', 'role="img" aria-label': "title", "<th ": "<td ", 'fill="#ffffff"': 'fill="#10141b"'}
    for old, new in plants.items():
        planted = re.sub(f"{old}(.*?)</{old[1:3]}>", rf"{new}\1</{new[1:3]}>", text) if old.startswith("<") else text.replace(old, new)
        try:
            if planted == text or not faults_of(planted):
                yield f"not caught: {new} for {old}"
        except KeyError:
            pass


def title_faults():
    """A name stays within the string of the style sheet that prints it on each page."""
    bike = load(bike_path("harrow-stone"))
    bike["label"] = 'a "b" \\ </style> & ü'
    text = page_of("quote", "harrow-stone", save(os.path.join(FOLDER.name, "named.json"), bike))
    told = re.search(r'@bottom-left\{content:"((?:[^"\\]|\\.)*)"', text)[1]
    read = re.sub(r"\\([0-9a-f]{2}) ", lambda m: chr(int(m[1], 16)), told)  # CSS Syntax, 4.3.7
    if not read.endswith(bike["label"]) or "<" in told or "&" in told:
        yield told
    yield from faults_of(text)


def main():
    for kind in KINDS:
        for bike in BIKES:
            tap.ok(f"{kind} of {bike}", faults_of(page_of(kind, bike)))
    tap.ok("a planted fault is caught", list(faults_of_catching(page_of("quote", "quillmoor-trail"))))
    tap.ok("a name of any signs at the foot of each page", list(title_faults()))
    tap.end()


if __name__ == "__main__":
    main()
