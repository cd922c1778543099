#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""tools/compile-data refuses what is wrong: each fault is planted in a copy of the tables, and must be told by its
file, line and column, with exit status 1 and nothing written."""
import os
import re
import shutil
import subprocess
import tempfile

import tap


def compile_data(folder):
    out = os.path.join(folder, "..", "out.h"), os.path.join(folder, "..", "out.c")
    run = subprocess.run(tap.COMPILE + [folder, *out], capture_output=True, encoding="utf-8")
    return run.returncode, run.stderr.splitlines(), any(map(os.path.exists, out))


def line_of(lines, start):
    """Number of the only line that starts so."""
    found = [number for number, line in enumerate(lines, 1) if line.startswith(start)]
    assert len(found) == 1, (start, found)
    return found[0]


def plant(what, file, start, change, column, words):
    """Plants a fault at the line that begins with start: change(line) gives the lines to stand there instead, and which
    of them is at fault (None: it is told elsewhere in the file). words must stand in the line that tells it."""
    with tempfile.TemporaryDirectory() as folder:
        copy = os.path.join(folder, "data")
        shutil.copytree(tap.DATA, copy)
        path = os.path.join(copy, file)
        with open(path, encoding="utf-8") as handle:
            lines = handle.read().splitlines()
        number = line_of(lines, start)
        new, offset = change(lines[number - 1])
        lines[number - 1:number] = new
        with open(path, "w", encoding="utf-8") as handle:
            handle.write("\n".join(lines) + "\n")
        status, told, written = compile_data(copy)
    place = r"\d+" if offset is None else str(number + offset)
    want = re.compile(f"{re.escape(path)}:{place}: {column}: found '.*', allowed .")
    failures = [] if status == 1 else [f"exit status {status}, not 1"]
    failures += ["something was written"] if written else []
    if not any(want.match(line) and words in line for line in told):
        failures += [f"no line with '{words}'", *told[:5]]
    tap.ok(what, failures)


def swap(old, new):
    def change(line):
        assert old in line, (old, line)
        return [line.replace(old, new, 1)], 0
    return change


def twice(line):
    return [line, line], 1


def gone(line):
    return [], None


with tempfile.TemporaryDirectory() as folder:
    shutil.copytree(tap.DATA, os.path.join(folder, "data"))
    status, told, written = compile_data(os.path.join(folder, "data"))
    tap.ok("the tables as they stand pass", told + ([] if status == 0 and written else [f"exit status {status}"]))

plant("a word that no domain has, with the nearest one", "vocabulary.csv", "frame,axle,",
      swap("thru_12", "thru_21"), "usual", "nearest: thru_12")
plant("a property twice", "vocabulary.csv", "frame,recess_mm,", twice, "property", "frame recess_mm")
plant("a word twice", "words.csv", "axle,nutted,", twice, "word", "axle nutted")
plant("a key of a standards table twice", "standards/tyres.csv", "54-622,", twice, "tyre", "54-622")
plant("a source left out", "standards/bead_seats.csv", "571,",
      lambda line: ([",".join(line.split(",")[:2]) + ",,seen,"], 0), "source", "found ''")
plant("a mark that does not exist", "standards/tyres.csv", "20-622,", swap(",seen,", ",sure,"), "mark", "mem-low")
plant("a number out of sense", "standards/tyres.csv", "28-622,", swap("2136", "21360"), "rolling_mm",
      "from 600 to 2600")
plant("a comma in a number", "standards/body_spacers.csv", "nine_key,35,36.8,", swap("1.85", '"1,85"'), "spacer_mm",
      "'1,85'")
plant("not a number", "standards/limits.csv", "arm_to_stay_mm,", swap(",4,", ",nan,"), "value", "'nan'")
plant("least over most", "standards/torques.csv", "pinch_bolts,", swap("12,14", "15,14"), "high_nm", "low_nm, 15")
plant("a row with a column too many", "standards/tyres.csv", "25-622,", swap("25-622,", "25-622,25,"), "row",
      "allowed 8")
plant("a row cut off", "words.csv", "use,road,", lambda line: (["use,road"], 0), "row", "2 columns")
plant("an unknown word in a standards table", "standards/hub_fits.csv", "126,130,steel,", swap("drawback", "draw"),
      "verdict", "nearest: drawback")
plant("an empty cell where none may be", "standards/hub_fits.csv", "126,130,steel,", swap(",drawback,", ",,"),
      "verdict", "no empty cell")
plant("a word without its row", "standards/pulls.csv", "r17_8,", gone, "pull", "no row for r17_8")
plant("a default out of its range", "vocabulary.csv", "frame,rear_offset_mm,", swap(",0,offset", ",25,offset"),
      "default", "from -20 to 20")
plant("an inverted range", "vocabulary.csv", "frame,recess_mm,", swap("mm,0,10,", "mm,10,0,"), "high", "more than low")
plant("no way of measuring", "vocabulary.csv", "chain,width_mm,", swap("Caliper.", ""), "measure", "how to measure it")
plant("a kind in two places", "vocabulary.csv", "chain_guide,mount,",
      lambda line: ([line, "crank,bash,yes_no,,,,yes_no,,,bash ring,nothing,0,"], 1), "kind", "together")
plant("a name that two things would get", "vocabulary.csv", "hanger,kind,",
      lambda line: ([line, "hanger,kind_standard,yes_no,,,,yes_no,,,twice named,nothing,0,"], None), "name",
      "TRADE_HANGER_KIND_STANDARD")
plant("a slot that does not exist", "operations.csv", "chain_guide,", swap(",chain_guide,", ",chain_gide,"), "slots",
      "nearest: chain_guide")
plant("an operation without the part that it needs", "operations.csv", "rotor,", swap(",rear_rotor,rear_wheel,", ",,rear_wheel,"),
      "had", "a slot where there are had_slots")
plant("an operation for a part of a kind that does not exist", "operations.csv", "bottom_bracket,",
      swap("mount=cup_bracket", "mount=cup_braket"), "had", "nearest: cup_bracket")
plant("an operation for a property that does not exist", "operations.csv", "bottom_bracket,",
      swap(".mount=cup", ".mont=cup"), "had", "nearest: mount")
plant("a slot twice in an operation", "operations.csv", "rotor,", swap(",rear_rotor,rear_wheel,", ",rear_rotor,rear_rotor,"),
      "had_slots", "once in a row")
plant("a condition that nobody judges", "small_parts.csv", "bar_tape,", swap(",drop_bar,", ",drop_barr,"), "needed_if",
      "nearest: drop_bar")
plant("a small part that nothing calls for", "small_parts.csv", "brake_pads,", swap(",,rear_rotor,,", ",,,,"), "slots",
      "at least one slot")
plant("a bench operation that nothing pays for", "bench_operations.csv", "guide_on,", swap(",chain_guide,fit,", ",,fit,"), "pays",
      "charged operations")
plant("a bench operation after what is never done", "bench_operations.csv", "extender_on,", swap("hanger_straight", "hanger_strait"),
      "after", "'hanger_strait'")
plant("bench operations in a circle", "bench_operations.csv", "drive_cup_in_outboard,", swap("shell_clean spacers_laid", "left_cup_in"),
      "after", "no circle")
plant("a bench operation that waits for a later phase", "bench_operations.csv", "shell_prepared,", swap(",shell_clean,,,,,,", ",shell_clean,,,,,high_limit,"),
      "after", "same phase or before")
plant("a thread that no table has", "bench_operations.csv", "left_pedal_on,", swap("pedal_left,pedal_left", "pedal_left,pedal_lefty"),
      "thread", "'pedal_lefty'")
plant("a torque that no table has", "bench_operations.csv", "pinch_bolts_tight,", swap(",pinch_bolts,pinch", ",pinch_boltz,pinch"),
      "torque", "nearest: pinch_bolts")
plant("a tool that no table has", "bench_operations.csv", "lockring_on,", swap("lockring_tool", "lockring_tol"), "tools",
      "nearest: lockring_tool")
plant("a fact of a word that does not exist", "bench_operations.csv", "hanger_on_universal,", swap("kind=universal", "kind=universel"),
      "facts", "nearest: universal")
plant("a fact without whose it is", "bench_operations.csv", "hanger_on_universal,", swap("new:hanger", "hanger"), "facts", "old:slot")
plant("a longer time at least than at most", "bench_operations.csv", "hanger_gauged,", swap(",3,8,", ",9,8,"), "high", "low, 9")
plant("a check with a bench operation that does not exist", "bench_checks.csv", "b_gap,", swap("b_gap_set", "b_gap_sat"), "operations",
      "nearest: b_gap_set")
plant("a ring that is taken to be there", "slots.csv", "inner_ring,", swap(",empty,", ",there,"), "absent", "empty")
plant("a place that no part has", "slots.csv", "left_shifter,", swap(",left,", ",port,"), "only", "right, left, either")
plant("blanks at the end of a cell", "words.csv", "axle,nutted,", swap(",nutted,", ",nutted ,"), "word", "'nutted '")
plant("a column that columns.csv does not name", "standards/cages.csv", "cage,", swap("cage,", "kage,"), "header",
      "'kage'")
plant("a column that no table has", "standards/columns.csv", "how,",
      lambda line: ([line, "why,text,,,,no,why"], 1), "column", "'why'")
plant("a standards table that is not listed", "standards/tables.csv", "cages,", gone, "table", "no row for cages.csv")
plant("more words than a bit each", "words.csv", "hand,left,",
      lambda line: ([line] + [f"hand,more_{n},more," for n in range(63)], None), "word", "65 words in hand")


def write_bytes(content):
    def write(path):
        with open(path, "wb") as file:
            file.write(content)
    return write


for what, spoil in (("a file that is missing", os.remove), ("an empty file", write_bytes(b"")),
                    ("a file in another encoding", write_bytes("word,naïve\n".encode("latin-1")))):
    for name in ("words.csv", "vocabulary.csv", "standards/tables.csv", "standards/tyres.csv"):
        with tempfile.TemporaryDirectory() as folder:
            copy = os.path.join(folder, "data")
            shutil.copytree(tap.DATA, copy)
            spoil(os.path.join(copy, name))
            status, told, written = compile_data(copy)
            named = any(line.startswith(os.path.join(copy, name) + ":1: ") for line in told)
            fine = status == 1 and named and not written
            tap.ok(f"{what}: {name}", [] if fine else [f"exit status {status}", *told[:5]])
tap.end()
