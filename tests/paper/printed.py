#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Papers as a reader of PDF sees them: size of the page, number of pages, title and author, all fonts embedded, no word over another or
off the page, names in five scripts, the same bytes twice, below 150 kB. And as one page of HTML: well-formed, nothing from outside."""
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
DAY, MOST_BYTES, MOST_PAGES = "2026-05-01", 150_000, 4
POINT_MM = 25.4 / 72
LEAST_PT = 8.95  # of most words of a sheet: it hangs at the stand (9 pt, and what poppler rounds)
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


def paper_faults(pdf, kind, bike, size):
    facts = facts_of(pdf)
    yield from size_faults(facts, size)
    yield from font_faults(pdf)
    yield from layout_faults(pdf)
    label = json.load(open(bike, encoding="utf-8"))["label"]
    pages = int(facts["Pages"])
    if pages > (2 if kind == "quote" else MOST_PAGES):
        yield f"{pages} pages"
    if kind == "sheet" and type_size(pdf) < LEAST_PT:
        yield f"its text stands in {type_size(pdf):.1f} pt"
    if label not in facts.get("Title", "") or facts.get("Author") != "Chainwright" or facts.get("Tagged") != "yes":
        yield f"title, author or tags: {facts}"
    if os.path.getsize(pdf) > MOST_BYTES:
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


def same_words(kind, bike):
    """What the page says, the PDF says: each paragraph of it, line ends aside."""
    tree = ET.fromstring(open(paper(kind, bike, "html"), encoding="utf-8").read().replace("<!DOCTYPE html>\n", ""))
    pdf = squeezed(ask("pdftotext", "-raw", paper(kind, bike, "pdf"), "-")).replace("\u00ad", "")
    spans = [span for span in tree.iter("span") if len(span) == 0 and span.text and "_" not in span.text]
    assert len(spans) > 40
    for span in spans:
        words = squeezed(span.text)
        # poppler takes a hyphen at a line's end for one that it may leave out
        if words not in pdf and words.replace("-", "") not in pdf.replace("-", ""):
            yield f"not in the PDF: {span.text}"


def named(script, name):
    path = os.path.join(FOLDER.name, f"{script}.json")
    bike = json.load(open(bike_path("harrow-stone"), encoding="utf-8"))
    bike["label"] = name
    json.dump(bike, open(path, "w", encoding="utf-8"))
    return path


def name_faults(script, name):
    pdf = paper("sheet", named(script, name), "pdf", wish="harrow-stone")
    yield from font_faults(pdf)
    yield from layout_faults(pdf)
    if facts_of(pdf)["Title"].find(name) < 0:
        yield "not in the title"
    text = squeezed(ask("pdftotext", "-raw", pdf, "-"))
    if script != "Arabic" and squeezed(name) not in text:  # poppler gives shaped forms of Arabic
        yield f"not in the text: {name}"
    yield from html_faults(paper("sheet", named(script, name), "html", wish="harrow-stone"))


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
            pdf = paper(kind, bike_path(name), "pdf", "--size", size)
            check(f"{kind} of {name} on {size}", paper_faults(pdf, kind, bike_path(name), size))
for kind in ("sheet", "quote"):
    for name in BIKES:
        check(f"{kind} of {name} as HTML", html_faults(paper(kind, bike_path(name), "html")))
    check(f"{kind}: the same words in both", same_words(kind, bike_path("harrow-stone")))
    check(f"{kind}: the same bytes", twice(kind, bike_path("harrow-stone")))
for script, name in NAMES.items():
    check(f"a name in {script}", name_faults(script, name))
check("the papers of a job", job_faults())
check("what is refused", usage_faults())
print(f"1..{n}")
raise SystemExit(failed > 0)
