# SPDX-License-Identifier: Apache-2.0
"""What the tests of papers share: papers made once each, and what a reader of PDF and of the page sees of them."""
import csv
import json
import os
import re
import subprocess
import tempfile
import xml.etree.ElementTree as ET

ROOT, PROGRAM = os.environ["CW_SOURCE_ROOT"], os.environ["CHAINWRIGHT"]
DEMO = os.path.join(ROOT, "data/demo")
BIKES = ("quillmoor-trail", "bracken-trek", "fallow-26", "harrow-stone", "marram-gravel", "osier-ridge", "tern-road",
         "tiller-city", "wren-24")
DAY, FEWEST_SPANS = "2026-05-01", 20
POINT_MM = 25.4 / 72
LINE = 1.164  # height of a word's box in DejaVu Sans, of its size: ascent and descent of its table hhea
EDGE_MM = 7.0  # no printer needs a wider edge (common practice: 5 mm)
TOUCH_PT = 0.75  # two words may touch by as much: a box is as tall as the font, not as its ink
NAMES = {"Latin": "Überlandfahrrad mit sehr langem Namen, dunkelgrün, Größe M, <zweite> & letzte Hand",
         "Greek": "Ποδήλατο βουνού με πολύ μεγάλο όνομα, γκρι, μέγεθος Μ",
         "Cyrillic": "Горный велосипед с очень длинным названием, серый, размер М",
         "Chinese": "名字非常长的二手灰色山地自行车", "Arabic": "دراجة جبلية ذات اسم طويل"}
FOLDER = tempfile.TemporaryDirectory()
n, failed = 0, 0


def check(name, faults):
    global n, failed
    n, faults = n + 1, list(faults)
    failed += bool(faults)
    print(f"{'not ok' if faults else 'ok'} {n} - {name}")
    for fault in faults[:8]:
        print(f"# {fault}")


def bike_path(name):
    return os.path.join(DEMO, "bikes", name + ".json")


def paper(kind, bike, ending, *options, wish=None):
    out = os.path.join(FOLDER.name, f"{kind}-{os.path.basename(bike)}.{ending}")
    done = subprocess.run([PROGRAM, "paper", kind, bike, "--catalogue", os.path.join(DEMO, "shop"), "--date", DAY,
                           "--wish", os.path.join(DEMO, "wishes", (wish or os.path.basename(bike)[:-5]) + ".json"),
                           "--out", out, *options], capture_output=True, text=True)
    assert done.returncode == 0 and done.stdout == out + "\n", done.stderr + done.stdout
    return out


def ask(*command):
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def facts_of(pdf):
    return dict(re.findall(r"^([A-Za-z ]+):\s+(.*)$", ask("pdfinfo", pdf), re.M))


def size_faults(facts, size):
    with open(os.path.join(ROOT, "tests/reference/paper_sizes.csv"), encoding="utf-8") as table:
        row = next(row for row in csv.DictReader(table) if row["size"] == size)
    for got, want in zip(re.findall(r"[\d.]+", facts["Page size"]), (row["width_mm"], row["height_mm"])):
        if abs(float(got) * POINT_MM - float(want)) > float(row["tolerance_mm"]):
            yield f"{size}: {facts['Page size']}"


def words_of(pdf):
    """(page, width, height, [(left, top, right, bottom, word)]); points."""
    text = ask("pdftotext", "-bbox", pdf, "-")
    for page in re.findall(r"<page .*?</page>", text, re.S):
        width, height = map(float, re.search(r'width="([\d.]+)" height="([\d.]+)"', page).groups())
        words = re.findall(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>', page)
        yield width, height, [(*map(float, word[:4]), word[4]) for word in words]


def layout_faults(pdf):
    for width, height, words in words_of(pdf):
        edge = EDGE_MM / POINT_MM
        for left, top, right, bottom, word in words:
            if left < edge or top < edge or right > width - edge or bottom > height - edge:
                yield f"off the page: {word} at {left}, {top}"
        words.sort(key=lambda word: word[1])
        for i, a in enumerate(words):
            for b in words[i + 1:]:
                if b[1] >= a[3] - TOUCH_PT:
                    break
                if min(a[2], b[2]) - max(a[0], b[0]) > TOUCH_PT:
                    yield f"{a[4]} over {b[4]} at {b[0]}, {b[1]}"


def type_size(pdf):
    """Of the middle one of all words; points."""
    heights = sorted(bottom - top for _, _, words in words_of(pdf) for _, top, _, bottom, _ in words)
    return heights[len(heights) // 2] / LINE


def font_faults(pdf):
    rows = ask("pdffonts", pdf).splitlines()[2:]
    if not any("DejaVuSans" in row for row in rows):
        yield "no DejaVu Sans"
    for row in rows:
        if row.split()[-5:-2] != ["yes", "yes", "yes"]:
            yield f"not embedded as a part, with its signs: {row}"


def paper_faults(pdf, title, size, most_pages, most_bytes, author="Chainwright"):
    facts = facts_of(pdf)
    yield from size_faults(facts, size)
    yield from font_faults(pdf)
    yield from layout_faults(pdf)
    pages = int(facts["Pages"])
    if pages > most_pages:
        yield f"{pages} pages"
    if title not in facts.get("Title", "") or facts.get("Author") != author or facts.get("Tagged") != "yes":
        yield f"title, author or tags: {facts}"
    if os.path.getsize(pdf) > most_bytes:
        yield f"{os.path.getsize(pdf)} bytes"
    text = ask("pdftotext", "-layout", pdf, "-")
    for page in range(1, pages + 1):
        if f"{page} of {pages}" not in text:
            yield f"no page number {page} of {pages}"


def html_faults(path):
    text = open(path, encoding="utf-8").read()
    ET.fromstring(text.replace("<!DOCTYPE html>\n", ""))
    for word in re.findall(r"""(?:src|href)=["'](?!#)[^"']*|url\((?!#)[^)]*|@import""", text):
        yield f"from outside: {word}"
    if "<script" in text:
        yield "a script"


def squeezed(text):
    return re.sub(r"\s+", "", text)


def same_words(html, pdf):
    """What the page says, the PDF says: each paragraph of it, line ends aside."""
    tree = ET.fromstring(open(html, encoding="utf-8").read().replace("<!DOCTYPE html>\n", ""))
    set_text = squeezed(ask("pdftotext", "-raw", pdf, "-")).replace("\u00ad", "")
    spans = [span for span in tree.iter("span") if len(span) == 0 and span.text and "_" not in span.text]
    assert len(spans) > FEWEST_SPANS
    for span in spans:
        words = squeezed(span.text)
        # poppler takes a hyphen at a line's end for one that it may leave out
        if words not in set_text and words.replace("-", "") not in set_text.replace("-", ""):
            yield f"not in the PDF: {span.text}"


def table_faults(html, pdf):
    """The tables of the page are tables of the PDF: as many rows, as many cells, and no cell outside of a row."""
    page = open(html, encoding="utf-8").read()
    tree = re.findall(r"^ *(Table|TR|TH|TD)\b", ask("pdfinfo", "-struct", pdf), re.M)
    rows, cells = len(re.findall(r"<tr[ >]", page)), len(re.findall(r"<t[hd][ >/]", page)) - page.count('<td role="cell"></td>')
    if tree.count("TR") != rows or len([tag for tag in tree if tag in ("TH", "TD")]) != cells:
        yield f"{rows} rows with {cells} cells on the page, in the PDF {tree.count('TR')}"
    if rows > 0 and tree[:2] != ["Table", "TR"]:
        yield f"begins with {tree[:2]}"


def named(script, name):
    """A bike of this name."""
    path = os.path.join(FOLDER.name, f"{script}.json")
    bike = json.load(open(bike_path("harrow-stone"), encoding="utf-8"))
    bike["label"] = name
    json.dump(bike, open(path, "w", encoding="utf-8"))
    return path


def name_faults(script, name, pdf, html):
    """A name on paper: in fonts that come with it, none of it over another, and to be found."""
    yield from font_faults(pdf)
    yield from layout_faults(pdf)
    if facts_of(pdf)["Title"].find(name) < 0:
        yield "not in the title"
    text = squeezed(ask("pdftotext", "-raw", pdf, "-"))
    if script != "Arabic" and squeezed(name) not in text:  # poppler gives shaped forms of Arabic
        yield f"not in the text: {name}"
    yield from html_faults(html)


def end():
    print(f"1..{n}")
    raise SystemExit(failed > 0)
