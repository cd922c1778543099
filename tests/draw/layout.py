#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every figure of every demo bike, and of bikes with long names in five scripts: well-formed, below 40 kB, named for a screen reader,
in the colours of the palette only; no text stands over another or past the edge, as Pango measures the ink of each; text stands in
the base size; the same question gives the same bytes."""
import os
import tempfile

import gi

gi.require_version("Pango", "1.0")
gi.require_version("PangoCairo", "1.0")
from gi.repository import Pango, PangoCairo  # noqa: E402

import drawings  # noqa: E402
from drawings import (BIKES, FIGURES, LARGEST, LOOP, SVG, Drawing, bike_path, draw_or_wait, load, plan_options, run,  # noqa: E402
                      save, tap)

SIZE = 14
NAMES = {"Latin": "Überlandfahrrad mit sehr langem Namen, dunkelgrün, Größe M, zweite Hand <&>",
         "Greek": "Ποδήλατο βουνού με πολύ μεγάλο όνομα, γκρι, μέγεθος Μ, μεταχειρισμένο",
         "Cyrillic": "Горный велосипед с очень длинным названием, серый, размер М, подержанный",
         "Chinese": "名字非常非常长的二手灰色山地自行车中号带有两个牙盘和九片飞轮的旅行车",
         "Arabic": "دراجة جبلية ذات اسم طويل جدا رمادية اللون مقاس متوسط مستعملة للبيع هنا"}
FOLDER = tempfile.TemporaryDirectory()


class Measure:
    """The ink of a text as Pango sets it, in units around (0, 0) of its base line's left end."""

    def __init__(self):
        context = PangoCairo.FontMap.get_default().create_context()
        PangoCairo.context_set_resolution(context, 72)
        context.set_round_glyph_positions(False)
        self.layout, self.kept = Pango.Layout.new(context), {}

    def ink(self, text, bold):
        if (text, bold) not in self.kept:
            font = Pango.FontDescription.from_string("DejaVu Sans Bold" if bold else "DejaVu Sans")
            font.set_absolute_size(SIZE * Pango.SCALE)
            self.layout.set_font_description(font)
            self.layout.set_text(text, -1)
            ink, logical = self.layout.get_extents()
            base = self.layout.get_baseline()
            self.kept[text, bold] = [n / Pango.SCALE for n in (
                ink.x, ink.y - base, ink.x + ink.width, ink.y + ink.height - base, logical.width)]
        return self.kept[text, bold]


MEASURE = Measure()


def box(text):
    left, top, right, bottom, width = MEASURE.ink(text.text, text.bold)
    x = text.x - {"start": 0, "middle": width / 2, "end": width}[text.anchor]
    return x + left, text.y + top, x + right, text.y + bottom


def faults_of_texts(drawing):
    boxes = [(text.text, box(text)) for text in drawing.texts()]
    for i, (one, a) in enumerate(boxes):
        if a[0] < 0 or a[1] < 0 or a[2] > drawing.width or a[3] > drawing.height:
            yield f"'{one}' leaves the page: {a}"
        for other, b in boxes[:i]:
            # Half a unit: Pango's ink is of whole pixels outward.
            if min(a[2], b[2]) - max(a[0], b[0]) > 0.5 and min(a[3], b[3]) - max(a[1], b[1]) > 0.5:
                yield f"'{one}' stands over '{other}'"


def faults_of(drawing, ground="light"):
    yield from faults_of_texts(drawing)
    if len(drawing.svg.encode()) >= LARGEST:
        yield f"{len(drawing.svg.encode())} bytes"
    if not drawing.said("title") or not drawing.said("desc") or "document" not in (drawing.root.get("role") or ""):
        yield "no title, no description or no role"
    ids = [e.get("id") for e in drawing.root.iter() if e.get("id")]
    if [drawing.root.get("aria-labelledby"), drawing.root.get("aria-describedby")] != ids:
        yield f"its role names {drawing.root.get('aria-labelledby')}, the ids are {ids}"
    allowed = {"#" + row[ground] for row in tap.table("palette")} | {"none"}
    yield from (f"{colour} is no colour of the palette" for colour in drawing.palette() - allowed)
    if ground == "print" and [e for e in drawing.root.iter(SVG + "text") if e.get("fill")]:
        yield "words in colour, on paper"
    if drawing.root.get("font-size") != str(SIZE) or [e for e in drawing.root.iter(SVG + "text") if e.get("font-size")]:
        yield "text of another size"
    if any("NaN" in value or "nan" in value or "?" in value for e in drawing.root.iter() for value in e.attrib.values()):
        yield "a number that is none"
    if "[left" in drawing.svg or "<draw." in drawing.svg or "&lt;draw." in drawing.svg:
        yield "a code in place of a sentence"


def faults_of_catching():
    planted = Drawing('<svg xmlns="http://www.w3.org/2000/svg" width="100" height="50"><text x="10" y="20">abc</text>'
                      '<text x="20" y="24">def</text><text x="90" y="40">ghi</text></svg>')
    found = list(faults_of_texts(planted))
    return [] if len(found) == 2 and "stands over" in found[0] and "leaves" in found[1] else [f"found: {found}"]


def named(bike, script):
    document = load(bike_path(bike))
    document["label"] = NAMES[script]
    return save(os.path.join(FOLDER.name, script + ".json"), document)


def all_of(bike, *options):
    """[(figure, drawing)] of `draw all`; what it names in words instead of a file waits for a value of the bike."""
    with tempfile.TemporaryDirectory() as folder:
        done = run("draw", "all", bike, "--out", folder, *options)
        if done.status != 0 or done.err:
            raise AssertionError(f"draw all {bike} {options}: {done.status} {done.err.decode()}")
        told = done.out.decode().splitlines()
        written = {name[:-len(".svg")] for name in os.listdir(folder)}
        waits = {line.split(" ")[0] for line in told if " is left out; " in line}
        if len(told) != len(written | waits) or written & waits:
            raise AssertionError(f"{told}: {sorted(written)} are there")
        found = []
        for figure in sorted(written):
            with open(os.path.join(folder, figure + ".svg"), encoding="utf-8") as file:
                found.append((figure, Drawing(file.read())))
        return found


def faults_of_all(bike, *options, ground="light"):
    return [f"{figure}: {fault}" for figure, drawing in all_of(bike, *options) for fault in faults_of(drawing, ground)]


def faults_of_waiting(bike):
    """All figures but those that say for what they wait."""
    drawn = {figure for figure, _ in all_of(bike_path(bike), "--route", LOOP, *plan_options(bike))}
    for figure in sorted(set(FIGURES) - drawn):
        if draw_or_wait(figure, bike_path(bike), "--route", LOOP, *plan_options(bike)) is not None:
            yield f"{figure} is drawn alone, and not among all"


def main():
    for bike in BIKES:
        lines = list(faults_of_waiting(bike))
        for layout in ("narrow", "wide"):
            lines += faults_of_all(bike_path(bike), "--layout", layout, "--route", LOOP)
            lines += faults_of_all(bike_path(bike), "--layout", layout, "--route", LOOP, *plan_options(bike))
        tap.ok(f"{bike}: all figures of now, and of a way over now, narrow and wide", lines)
    quillmoor = ("--route", LOOP, *plan_options("quillmoor-trail"))
    for letter in "BCDE":
        lines = faults_of_all(bike_path("quillmoor-trail"), "--mode", "way", "--way", letter, *quillmoor)
        tap.ok(f"quillmoor-trail: way {letter} alone", lines)
    for script in NAMES:
        bike = named("quillmoor-trail", script)
        lines = faults_of_all(bike, *quillmoor)
        lines += faults_of_all(bike, "--layout", "wide", "--ground", "print", *quillmoor, ground="print")  # with a title block
        tap.ok(f"a long name, {script}", lines)
    for ground in ("dark", "print"):
        lines = faults_of_all(bike_path("quillmoor-trail"), "--ground", ground, *quillmoor, ground=ground)
        tap.ok(f"on {ground} ground in its colours", lines)
    twice = [[drawing.svg for _, drawing in all_of(bike_path("marram-gravel"), *quillmoor)] for _ in range(2)]
    tap.ok("the same question gives the same bytes", [] if twice[0] == twice[1] and len(twice[0]) > 5 else ["it does not"])
    tap.ok("caught: text over text, and past the edge", faults_of_catching())
    tap.end()


if __name__ == "__main__":
    main()
