#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Colour and signs by where the answer goes: none in a pipe, none where NO_COLOR is set, on a terminal the three characters of a
tile and headings in bold, never alone; plain signs on a terminal that is not UTF-8; the same text and the same numbers under
every locale that there is. (What stands on the pages: tests/app/text_pages.py.)"""
import os
import pty
import re
import subprocess
import tempfile

import running
from running import SHOP, bike_path, run, surroundings, tap, wish_path

NAME = "quillmoor-trail"
PAGES = [[question, bike_path(NAME)] for question in ("gears", "line", "chain", "shift", "fit")]
PAGES += [["plan", bike_path(NAME), "--catalogue", SHOP, "--wish", wish_path(NAME)], ["gears", bike_path("refused/belt")],
          ["explain", "stay-clearance"], ["parts", "cassette", "--catalogue", SHOP], ["help"], ["version"]]
ESCAPE = re.compile(r"\x1b\[[0-9;]*m")
COLOURED = re.compile(r"\x1b\[(?:1;)?(3\d)(?:;1)?m(.*?)\x1b\[0?m")
TILES = {"34": "[|]", "33": "[<]", "35": "[:]", "31": "[X]", "36": "[/]"}  # as the project has set them; stays has no colour


def on_terminal(arguments, **changes):
    """What a pseudo terminal gets."""
    ours, theirs = pty.openpty()
    with subprocess.Popen([running.PROGRAM, *arguments], stdin=subprocess.DEVNULL, stdout=theirs, stderr=subprocess.DEVNULL,
                          env=surroundings(TERM="xterm", **changes)):
        os.close(theirs)
        told = b""
        try:
            while piece := os.read(ours, 65536):
                told += piece
        except OSError:  # the other end is closed
            pass
    os.close(ours)
    return told.replace(b"\r\n", b"\n")


def wrong_colours(text):
    wrong = []
    for number, inner in COLOURED.findall(text):
        if TILES.get(number) != inner:
            wrong.append(f"{number} is put on {inner!r}")
    if "\x1b" in ESCAPE.sub("", text):
        wrong.append("an escape of another kind")
    return wrong


def check_page(arguments):
    what = " ".join(os.path.basename(word) for word in arguments)
    piped = run(*arguments).out.decode("utf-8")
    coloured = on_terminal(arguments).decode("utf-8")
    wrong = ["an escape in a pipe"] if "\x1b" in piped else []
    wrong += [] if ESCAPE.sub("", coloured) == piped else ["a terminal gets another text"]
    wrong += wrong_colours(coloured)
    wrong += [] if on_terminal(arguments, NO_COLOR="1").decode("utf-8") == piped else ["NO_COLOR is not respected"]
    wrong += [] if on_terminal(arguments, NO_COLOR="").decode("utf-8") == coloured else ["an empty NO_COLOR counts"]
    plain = on_terminal(arguments, LC_ALL="C", NO_COLOR="1")
    wrong += [] if plain.isascii() else ["signs that are not ASCII on a plain terminal"]
    wrong += [] if re.findall(rb"\d+", plain) == re.findall(rb"\d+", piped.encode()) else ["other numbers on a plain terminal"]
    wrong += [f"too wide: {line}" for text in (piped, plain.decode("ascii", "replace")) for line in text.splitlines() if len(line) > 79]
    # LC_NUMERIC alone, and names of locales that are not there: the same bytes in a pipe.
    for changes in ({"LC_ALL": "C"}, {"LC_ALL": None, "LC_NUMERIC": "de_DE.UTF-8", "LANG": "C.UTF-8"}, {"LC_ALL": "xx_XX"}):
        wrong += [] if run(*arguments, env=surroundings(**changes)).out.decode("utf-8") == piped else [f"{changes} changes a pipe"]
    tap.ok(what, wrong)
    return "\x1b" in coloured


def check_progress():
    """A line that is written over, on a terminal that standard error goes to; nothing elsewhere."""
    with tempfile.TemporaryDirectory() as folder:
        draw = ["draw", "all", bike_path(NAME), "--out", folder]
        ours, theirs = pty.openpty()
        subprocess.run([running.PROGRAM, *draw], stdout=subprocess.DEVNULL, stderr=theirs, env=surroundings(), check=True)
        os.close(theirs)
        told = b""
        try:
            while piece := os.read(ours, 65536):
                told += piece
        except OSError:
            pass
        os.close(ours)
        piped = run(*draw)
        names = [line.split("/")[-1].removesuffix(".svg") for line in piped.out.decode().splitlines()]
    wanted = [f"{i + 1} of {len(names)}: {name}" for i, name in enumerate(names)]
    lines = [line for line in re.split(r"\r\x1b\[K", told.decode()) if line]
    wrong = [] if lines == wanted and told.endswith(b"\r\x1b[K") else [f"found {told}, wanted {wanted}"]
    wrong += [f"in a pipe: {piped.err}"] if piped.err else []
    tap.ok("progress is told to a terminal and taken away", wrong)


def check_planted():
    """A colour on a word, or the wrong one on a tile, is seen."""
    good = "\x1b[1;34m[|]\x1b[0m crank"
    bad = ["\x1b[1;34m[|] crank\x1b[0m", "\x1b[1;31m[|]\x1b[0m crank", "\x1b[2J"]
    tap.ok("a colour in the wrong place is seen", wrong_colours(good) + [text for text in bad if not wrong_colours(text)])


check_planted()
check_progress()
coloured = [check_page(arguments) for arguments in PAGES]
tap.ok("there is colour, or bold, on a terminal", [] if any(coloured) else ["nowhere"])
ran = run(*PAGES[5], "--json")
tap.ok("JSON has no colour on a terminal", [] if on_terminal([*PAGES[5], "--json"]) == ran.out else ["other bytes"])
tap.end()
