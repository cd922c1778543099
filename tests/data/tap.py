# SPDX-License-Identifier: Apache-2.0
"""What the scripts of this folder share: paths, reading tables, and telling results (TAP)."""
import csv
import os
import subprocess
import sys

ROOT = os.environ.get("CW_SOURCE_ROOT") or os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
DATA = os.path.join(ROOT, "data")
COMPILE = [sys.executable, os.path.join(ROOT, "tools", "compile-data")]

_done, _failed = 0, 0


def table(name):
    """Rows of data/<name>.csv, cells as text."""
    with open(os.path.join(DATA, name + ".csv"), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def standard(name):
    """Rows of data/standards/<name>.csv; cells that are numbers as numbers, empty ones as None."""
    types = {row["column"]: row["type"] for row in table("standards/columns")}
    def value(column, cell):
        if cell == "":
            return None
        if types[column] in ("number", "count"):
            return float(cell)
        return [float(item) for item in cell.split(" ")] if types[column] == "numbers" else cell
    return [{column: value(column, cell) for column, cell in row.items()} for row in table("standards/" + name)]


def ok(what, failures):
    """One result: failures is a list of lines in words, empty when all is well."""
    global _done, _failed
    _done += 1
    _failed += bool(failures)
    print(f"{'not ok' if failures else 'ok'} {_done} - {what}")
    for line in failures:
        print("#   " + str(line))


def made_page(name, tool, argument, shown):
    """The text of a page that a tool of the project makes, once it is told whether it is what the tool makes now; the argument is
    told as it is shown."""
    made = subprocess.run([sys.executable, os.path.join(ROOT, "tools", tool), argument], capture_output=True, encoding="utf-8")
    with open(os.path.join(ROOT, *name.split("/")), encoding="utf-8") as file:
        page = file.read()
    ok("the page is made without a word on standard error", [made.stderr] if made.stderr or made.returncode else [])
    ok(f"{name} is not stale", [] if page == made.stdout else [f"run: tools/{tool} {shown} > {name}"])
    return page


def end():
    print(f"1..{_done}")
    sys.exit(1 if _failed or not _done else 0)
