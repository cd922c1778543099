#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""tools/compile-widths reads the widths of a font as fontTools does: every character of DejaVu Sans and its bold."""
import os
import sys
from importlib.machinery import SourceFileLoader

from fontTools.ttLib import TTFont

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data"))
import tap  # noqa: E402

FOLDER = "/usr/share/fonts/truetype/dejavu"
sys.dont_write_bytecode = True
ours = SourceFileLoader("compile_widths", os.path.join(tap.ROOT, "tools", "compile-widths")).load_module()

for name in ("DejaVuSans.ttf", "DejaVuSans-Bold.ttf"):
    font = TTFont(os.path.join(FOLDER, name))
    read = ours.Font(os.path.join(FOLDER, name))
    characters, metrics = font.getBestCmap(), font["hmtx"]
    lines = [f"{c:#x}: {read.width.get(c)}, {metrics[glyph][0]} by fontTools" for c, glyph in characters.items()
             if read.width.get(c) != metrics[glyph][0]]
    lines += [f"{len(read.width)} characters, {len(characters)} by fontTools"] if len(read.width) != len(characters) else []
    lines += [f"{read.em} units an em"] if read.em != font["head"].unitsPerEm else []
    tap.ok(f"{name}: {len(characters)} characters", lines[:5])
tap.end()
