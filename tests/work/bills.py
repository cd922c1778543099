#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Random bills against Python's fractions and decimal, which reckon exactly. Half away from zero is decimal's ROUND_HALF_UP
(General Decimal Arithmetic Specification 1.70). The lines must add up to the total, to the minor unit."""
import os
import random
import subprocess
import sys
from decimal import ROUND_HALF_UP, Decimal, getcontext
from fractions import Fraction

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data"))
import tap  # noqa: E402

BILLS = os.path.join(os.environ.get("CW_BUILD_ROOT") or os.path.join(tap.ROOT, "build", "check"), "tests", "work", "bills")
KEYS = "parts labour consumables discount tax labour_tax net total cash deposit".split()
getcontext().prec = 60


def nearest(exact):
    """Of a fraction, the whole number; half away from zero."""
    return int((Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(Decimal(1), ROUND_HALF_UP))


def share(thousandths):
    return Fraction(thousandths, 100000)


def tax_of(lines, rate, includes):
    """(without, tax) of the lines of one rate."""
    if includes:
        without = nearest(lines / (1 + rate))
        return without, lines - without
    return lines, nearest(lines * rate)


def expected(parts, ordered, labour, discount, tax, labour_tax, includes, consumables, deposit, cash):
    extra = nearest(labour * share(consumables))
    rates = [(parts + labour + extra, tax)] if tax == labour_tax else [(parts, tax), (labour + extra, labour_tax)]
    bill = dict.fromkeys(KEYS, 0) | {"parts": parts, "labour": labour, "consumables": extra}
    for key, (lines, rate) in zip(("tax", "labour_tax"), rates):
        off = nearest(lines * share(discount))
        without, added = tax_of(lines - off, share(rate), includes)
        bill["discount"] += off
        bill[key] = added
        bill["net"] += without
    bill["total"] = bill["net"] + bill["tax"] + bill["labour_tax"]
    bill["cash"] = nearest(Fraction(bill["total"], cash)) * cash
    paid = ordered * (1 - share(discount)) * (1 if includes else 1 + share(tax))
    bill["deposit"] = nearest(paid * share(deposit))
    return bill


def any_bill(rng):
    most = 10 ** rng.randint(1, 10)
    parts, labour = rng.randint(0, most), rng.randint(0, most)
    percent = lambda: rng.choice([0, 5000, 19000, 20000, 7500, 100000, rng.randint(0, 100000)])  # noqa: E731
    tax = percent()
    return (parts, rng.randint(0, parts), labour, rng.choice([0, 0, percent()]), tax, rng.choice([tax, percent()]),
            rng.randint(0, 1), percent(), percent(), rng.choice([1, 1, 5, 10, 50, 100, 500]))


def adds_up(bill, includes):
    lines = bill["parts"] + bill["labour"] + bill["consumables"] - bill["discount"]
    taxes = bill["tax"] + bill["labour_tax"]
    return bill["total"] == lines + (0 if includes else taxes) == bill["net"] + taxes


def check():
    rng = random.Random(20261)
    bills = [any_bill(rng) for _ in range(20000)]
    text = "".join(" ".join(map(str, bill)) + "\n" for bill in bills)
    out = subprocess.run([BILLS], input=text, capture_output=True, encoding="ascii", check=True).stdout
    got = [dict(zip(KEYS, map(int, line.split()))) for line in out.splitlines()]
    pairs = list(zip(bills, got))
    tap.ok("every bill is answered", [] if len(got) == len(bills) else [f"{len(got)} of {len(bills)}"])
    tap.ok("as exact fractions say", [f"{bill}: {is_so}, not {expected(*bill)}" for bill, is_so in pairs
                                      if is_so != expected(*bill)][:5])
    tap.ok("the lines add up to the total", [f"{bill}: {is_so}" for bill, is_so in pairs if not adds_up(is_so, bill[6])][:5])


check()
tap.end()
