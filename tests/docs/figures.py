#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The figures of README.md are what the program draws, every file in docs/figures is shown, and a figure that is not what it says is
caught."""
import glob
import os
import subprocess
import sys

from pages import PROGRAM, ROOT, page, tap

TOOL = os.path.join(ROOT, "tools", "write-figures")

done = subprocess.run([sys.executable, TOOL, PROGRAM, "README.md", "--check"], capture_output=True, text=True)
tap.ok("README.md shows what the program draws", (done.stdout + done.stderr).splitlines() if done.returncode else [])

text = page("README.md")
shown = [os.path.relpath(path, ROOT) for path in glob.glob(os.path.join(ROOT, "docs", "figures", "*.svg"))]
tap.ok("every figure is shown", [path for path in shown if f"]({path})" not in text] or ([] if len(shown) > 1 else ["none"]))

planted = os.path.join(ROOT, "build", "planted-page.md")
with open(planted, "w", encoding="utf-8") as file:
    file.write(f"<!-- figure: draw steps data/demo/bikes/tern-road.json -->\n![x]({shown[0] if shown else 'none'})\n")
done = subprocess.run([sys.executable, TOOL, PROGRAM, "build/planted-page.md", "--check"], capture_output=True, text=True)
os.remove(planted)
tap.ok("caught: another figure in its place", [] if done.returncode == 1 else [done.stdout + done.stderr])
tap.end()
