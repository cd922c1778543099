#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Papers as a browser lays them out, at the widths of small and large phones, a tablet and a desktop: nothing stands past
the right edge, so that nothing scrolls sideways, and no text is smaller than 16 px, in figures 14 px. Chromium measures,
headless; where there is none the test is left out, and says so: it is larger than all else that the tests need."""
import json
import os
import re
import shutil
import subprocess
import tempfile

from pages import BIKES, FOLDER, KINDS, page_of, tap

LEFT_OUT = 77
WIDTHS = (360, 390, 768, 1280)
LEAST, LEAST_IN_FIGURES = 16, 14  # px
MEASURE = """
function measured(frame, name) {
  const page = frame.contentDocument, edge = page.documentElement.clientWidth, faults = [];
  if (page.documentElement.scrollWidth > edge) faults.push('scrolls to ' + page.documentElement.scrollWidth);
  for (const e of page.querySelectorAll('main *, footer *')) {
    const own = [...e.childNodes].some(n => n.nodeType == 3 && n.data.trim());
    const svg = e.ownerSVGElement, told = e.textContent.trim().slice(0, 40);
    const px = parseFloat(page.defaultView.getComputedStyle(e).fontSize) * (svg ? svg.getScreenCTM().a : 1);
    if (!svg && e.getBoundingClientRect().right > edge + 0.5) faults.push('past the edge: ' + told);
    if (own && (!svg || e.tagName == 'text') && px < (svg ? %d : %d) - 0.01) faults.push(px + ' px: ' + told);
  }
  return {name: name, width: frame.clientWidth, faults: faults.slice(0, 4)};
}
addEventListener('load', () => {
  const all = [...document.querySelectorAll('iframe')].map(f => measured(f, f.title));
  document.body.innerHTML = '<pre></pre>';
  document.querySelector('pre').textContent = JSON.stringify(all);
});
""" % (LEAST_IN_FIGURES, LEAST)


def escaped(text):
    return text.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")


def measured(browser, pages):
    """[{name, width, faults}] of each page at each width."""
    frames = "".join(f'<iframe title="{name}" style="width:{width}px;height:800px;border:0" srcdoc="{escaped(text)}"></iframe>'
                     for name, text in pages.items() for width in WIDTHS)
    path = os.path.join(FOLDER.name, "frames.html")
    with open(path, "w", encoding="utf-8") as file:
        file.write(f"<!DOCTYPE html><meta charset='utf-8'><body>{frames}<script>{MEASURE}</script>")
    with tempfile.TemporaryDirectory() as profile:
        done = subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", f"--user-data-dir={profile}", "--dump-dom",
                               "file://" + path], capture_output=True, encoding="utf-8", timeout=300)
    found = re.search(r"<pre>(.*)</pre>", done.stdout, re.S)
    if not found:
        raise AssertionError(f"{browser}: {done.returncode} {done.stderr[-500:]}")
    return json.loads(found[1].replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&"))


def main():
    browser = shutil.which("chromium")
    if not browser:
        print("no chromium is installed")
        raise SystemExit(LEFT_OUT)
    pages = {f"{kind} of {bike}": page_of(kind, bike) for kind in KINDS for bike in BIKES}
    found = measured(browser, pages)
    for name in pages:
        told = [one for one in found if one["name"] == name]
        tap.ok(name, [f"{one['width']} px: {fault}" for one in told for fault in one["faults"]] +
               ([] if [one["width"] for one in told] == list(WIDTHS) else [f"{told}"]))
    text = pages["quote of tern-road"].replace("<main>", '<main><p style="width:50em;font-size:9px">planted</p>')
    caught = measured(browser, {"planted": text})
    tap.ok("caught: too wide, and too small", [] if any("9 px: planted" in f for f in caught[0]["faults"]) and
           any("past the edge" in f for f in caught[0]["faults"]) else [str(caught)])
    tap.end()


main()
