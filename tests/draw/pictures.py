#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""A picture shows what the SVG says: two pixels a unit, ink on the edges of every bar and paper inside, paper in the corners, the text in
its place; each channel within 8 of 255. And what --out takes and refuses."""
import os
import re
import struct
import subprocess
import tempfile
import zlib

from drawings import bike_path, draw, rectangle, run, tap

SCALE, NEAR = 2, 8
UNITS_PER_MM = 4
BIKE = bike_path("tern-road")


def pixels(png):
    """(width, height, rows of RGBA bytes) of a picture with 8 bits a channel, not interlaced; PNG, ISO/IEC 15948."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n", "no PNG"
    at, data = 8, b""
    while at < len(png):
        size, kind = struct.unpack(">I4s", png[at:at + 8])
        if kind == b"IHDR":
            width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", png[at + 8:at + 21])
        data += png[at + 8:at + 8 + size] if kind == b"IDAT" else b""
        at += 12 + size
    n = {2: 3, 6: 4}[colour]
    assert (depth, interlaced) == (8, 0)
    raw, rows, before = zlib.decompress(data), [], bytearray(width * n)
    for y in range(height):
        line = raw[y * (width * n + 1):(y + 1) * (width * n + 1)]
        row = bytearray(line[1:])
        for i in range(len(row)):
            left, up = row[i - n] if i >= n else 0, before[i]
            corner = before[i - n] if i >= n else 0
            if line[0] == 4:
                guess = left + up - corner
                near = min((abs(guess - left), 0, left), (abs(guess - up), 1, up), (abs(guess - corner), 2, corner))[2]
            else:
                near = (0, left, up, (left + up) // 2)[line[0]]
            row[i] = (row[i] + near) & 255
        rows.append([bytes(row[i:i + 3]) for i in range(0, len(row), n)])
        before = row
    return width, height, rows


def is_colour(pixel, colour):
    return all(abs(got - want) <= NEAR for got, want in zip(pixel, bytes.fromhex(colour)))


def faults_of(drawing, png, ground):
    width, height, rows = pixels(png)
    colours = {row["role"]: row[ground] for row in tap.table("palette")}
    if (width, height) != (SCALE * drawing.width, SCALE * drawing.height):
        yield f"{width} by {height} pixels"
        return
    at = lambda x, y: rows[int(y * SCALE)][int(x * SCALE)]
    for x, y in ((0.5, 0.5), (drawing.width - 0.5, drawing.height - 0.5)):
        if not is_colour(at(x, y), colours["paper"]):
            yield f"corner {x}, {y}: {at(x, y).hex()}"
    for title, group in drawing.find(""):
        if ": from " in title:
            left, top, right, bottom = rectangle(group)
            middle = (left + right) / 2
            for place in ((middle, top), (middle, bottom - 0.25), (right - 0.25, (top + bottom) / 2)):
                if not is_colour(at(*place), colours["ink"]):
                    yield f"{title}: edge at {place} is {at(*place).hex()}"
            if not is_colour(at(right - 3, bottom - 3), colours["paper"]):
                yield f"{title}: inside is {at(right - 3, bottom - 3).hex()}"
    heading = drawing.texts()[0]
    inked = sum(is_colour(rows[y][x], colours["ink"]) for y in range(int((heading.y - 10) * SCALE), int(heading.y * SCALE))
                for x in range(int(heading.x * SCALE), int((heading.x + 60) * SCALE)))
    if not 0.1 < inked / (10 * 60 * SCALE * SCALE) < 0.6:
        yield f"the heading's place has {inked} pixels of ink"


def page_faults(drawing, path):
    """A page of its own size, 4 units to the millimetre: its title, its words as text, its fonts in it (poppler)."""
    told = subprocess.run(["pdfinfo", path], capture_output=True, text=True, check=True).stdout
    size = [float(number) * 25.4 / 72 for number in re.search(r"Page size: +([\d.]+) x ([\d.]+)", told).groups()]
    if any(abs(got - want / UNITS_PER_MM) > 0.1 for got, want in zip(size, (drawing.width, drawing.height))):
        yield f"{size} mm"
    if not re.search(r"^Title: +Will these gears climb it\? \S", told, re.M):
        yield told
    words = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, text=True, check=True).stdout
    page = re.sub(r"\s", "", words)
    yield from (f"not on the page: {text.text}" for text in drawing.texts() if re.sub(r"\s", "", text.text) not in page)
    fonts = subprocess.run(["pdffonts", path], capture_output=True, text=True, check=True).stdout.splitlines()[2:]
    yield from (f"not in it: {font}" for font in fonts if font.split()[-5] != "yes")
    if not fonts:
        yield "no font"


def main():
    with tempfile.TemporaryDirectory() as folder:
        for ground in ("light", "dark", "print"):
            path = os.path.join(folder, ground, "hills.png")
            done = run("draw", "hills", BIKE, "--ground", ground, "--out", path)
            lines = [] if (done.status, done.out, done.err) == (0, b"", b"") else [str(done)]
            with open(path, "rb") as file:
                lines += faults_of(draw("hills", BIKE, "--ground", ground), file.read(), ground)
            tap.ok(f"{ground}: the picture shows what the SVG says", lines)
        path = os.path.join(folder, "hills.pdf")
        lines = [run("draw", "hills", BIKE, "--ground", "print", "--out", path).err]
        tap.ok("a page has the size, the words and the fonts of the SVG",
               [line for line in lines if line] + list(page_faults(draw("hills", BIKE, "--ground", "print"), path)))
        path = os.path.join(folder, "steps.svg")
        run("draw", "steps", BIKE, "--out", path)
        with open(path, encoding="utf-8") as file:
            tap.ok("a file holds what standard output would", [] if file.read() == draw("steps", BIKE).svg else ["it differs"])
        tried = {("hills", "--out", os.path.join(folder, "x.gif")): 2, ("hill",): 2, ("route",): 2, ("choices",): 2, ("all",): 2,
                 ("hills", "--way", "A"): 2, ("hills", "--mode", "both"): 2, ("hills", "--way", "a"): 2,
                 ("all", "--out", path): 2, ("hills", "--out", os.path.join(path, "below-a-file.svg")): 4}
        for words, status in tried.items():
            done = run("draw", words[0], BIKE, *words[1:])
            tap.ok(f"turned down with a reason: {' '.join(words[:2])}",
                   [] if done.status == status and done.err and not done.out else [str(done)])
    tap.end()


if __name__ == "__main__":
    main()
