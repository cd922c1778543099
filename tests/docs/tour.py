#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every file that docs/tour.md names is there, and every function is defined in its file: the one behind 'in', else the one
that was named last."""
import os
import re

from pages import ROOT, page, tap

MARKED = re.compile(r"`([^`\n]+)`")
IN_FILE = re.compile(r"(?:,?(?: and)?\s+`\w+\(\)`)*\s+in\s+`([^`\n]+)`")
FILE = re.compile(r"(src|data|docs|tests|tools)/[\w./-]+$")
FUNCTION = re.compile(r"(\w+)\(\)$")


def defines(text, function):
    """As the formatter leaves it, a definition begins at the margin; a header may hold a whole inline one."""
    return re.search(rf"^[a-z][^;=\n]*\b{function}\([^;]*?\) \{{", text, re.M) is not None


def stops(tour):
    """(file, function) in their order; function is None where a file is named."""
    here = None
    for word in MARKED.finditer(tour):
        function, behind = FUNCTION.match(word[1]), IN_FILE.match(tour, word.end())
        if FILE.match(word[1]):
            here = word[1]
            yield here, None
        elif function:
            yield behind[1] if behind else here, function[1]


def faults(tour, read=page):
    for path, function in stops(tour):
        if path is None:
            yield f"{function}() stands before any file"
        elif not os.path.exists(os.path.join(ROOT, path)):
            yield f"{path}: no such file"
        elif function and not defines(read(path), function):
            yield f"{path}: {function}() is not defined there"


tour = page("docs/tour.md")
named = list(stops(tour))
tap.ok("each file and function of the tour is where it says", list(faults(tour)))
tap.ok("the tour names files of every layer that a plan runs through",
       [layer for layer in ("cli", "app", "format", "trade", "fit", "mech", "plan", "explain")
        if not any(path and path.startswith(f"src/{layer}/") for path, _ in named)])

planted = {
    "a file that is not there": "`src/plan/plans.c`",
    "a function that is not in its file": "`src/plan/plan.c`: `plan_search()`",
    "a function that is only called in its file": "`src/plan/plan.c`: `plan_shelf_new()`",
    "a function behind which another file stands": "`src/plan/plan.c`: `plan_new()` in `src/plan/search.c`",
    "a function before any file": "`plan_new()`, which `src/plan/plan.c` holds",
}
for what, text in planted.items():
    tap.ok(f"caught: {what}", [] if len(list(faults(text))) == 1 else [f"told: {list(faults(text))}"])
tap.end()
