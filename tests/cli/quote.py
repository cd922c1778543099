#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""quote against the plan and against Python's decimal: labour line by line from minutes and rate, sums, tax, days. Rounding is half
away from zero (decimal's ROUND_HALF_UP); days are those of Python's datetime."""
import copy
import csv
import datetime
import os
import random
import shutil
import tempfile
from decimal import ROUND_HALF_UP, Decimal

import running
from running import answer, bike_path, run, tap, wish_path

MINUTES = {row["operation"]: Decimal(row["minutes"]) for row in tap.table("operations")}
PAIRS = [(name, wish_path(name)) for name in running.BIKES if os.path.exists(wish_path(name))]
DIGITS = {"GBP": 2, "EUR": 2, "JPY": 0, "KWD": 3, "CHF": 2, "SEK": 2}
CASH = {"CHF": 5, "SEK": 100}
DAY = datetime.date(2026, 11, 30)


def nearest(amount):
    return int(amount.quantize(Decimal(1), ROUND_HALF_UP))


def any_shop(rng):
    """Terms and minutes as a shop may have them; the demo's prices, in whatever currency, are whole units where it has no minor."""
    currency = rng.choice(sorted(DIGITS))
    shop = {"currency": currency, "rate_per_hour": f"{rng.randint(1000, 99999) / 100:.2f}" if DIGITS[currency] else rng.randint(1000, 9999),
            "tax_percent": rng.choice([0, 19, 20, "8.1", 25]), "prices_include_tax": rng.choice([True, False]),
            "consumables_percent": rng.choice([0, "2.5", 3]), "deposit_percent": rng.choice([0, 30]), "valid_days": rng.randint(0, 400),
            "minutes": {name: rng.choice([0, 3, 7.5, 12.25]) for name in rng.sample(sorted(MINUTES), 6)}}
    if rng.random() < 0.5:
        shop["labour_tax_percent"] = rng.choice([0, 9, "5.5"])
    return shop


def folder_with(folder, shop):
    """The demo's lists, their prices whole where the currency has no minor unit."""
    for name in os.listdir(running.SHOP):
        if not name.endswith(".csv"):
            continue
        with open(os.path.join(running.SHOP, name), encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        for row in rows:
            row["price"] = row["price"] if DIGITS[shop["currency"]] else row["price"].split(".")[0]
        with open(os.path.join(folder, name), "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, rows[0], lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
    running.save(os.path.join(folder, "shop.json"), shop)


def rates(shop):
    goods = Decimal(str(shop["tax_percent"]))
    return goods, Decimal(str(shop.get("labour_tax_percent", goods)))


def labour_faults(choice, shop):
    """Each line is its minutes at the rate; without tax they are the plan's labour."""
    rate = Decimal(str(shop["rate_per_hour"])) * 10 ** DIGITS[shop["currency"]]
    net = nearest(rate * 100 / (100 + rates(shop)[1])) if shop["prices_include_tax"] else rate
    minutes = MINUTES | {name: Decimal(str(value)) for name, value in shop["minutes"].items()}
    plan = 0
    for line in choice["labour_lines"]:
        took = minutes[line["operation"]]
        plan += nearest(net * took / 60)
        if line["amount"] != nearest(rate * took / 60):
            yield f"{line}: {took} min at {rate}"
    if plan != choice["build"]["labour"]:
        yield f"labour of the plan is {choice['build']['labour']}, {plan} by the lines"
    if not shop["prices_include_tax"] and choice["labour_amount"] != choice["build"]["labour"]:
        yield f"labour {choice['labour_amount']}, in the plan {choice['build']['labour']}"


def money_faults(choice, shop):
    lines = choice["parts_amount"] + choice["labour_amount"] + choice["consumables_amount"] - choice["discount_amount"]
    taxes = sum(tax["amount"] for tax in choice["taxes"])
    if choice["parts_amount"] != sum(line["amount"] for line in choice["part_lines"]):
        yield "the parts do not add up"
    if choice["labour_amount"] != sum(line["amount"] for line in choice["labour_lines"]):
        yield "labour does not add up"
    if choice["total"] != lines + (0 if shop["prices_include_tax"] else taxes) or choice["total"] != choice["net"] + taxes:
        yield "the lines do not add up to the total"
    goods, labour = rates(shop)
    if goods == labour and not shop["prices_include_tax"] and taxes != nearest(lines * goods / 100):
        yield f"tax {taxes} of {lines}"
    step = CASH.get(shop["currency"], 1)
    if choice["cash"] != nearest(Decimal(choice["total"]) / step) * step:
        yield f"cash {choice['cash']} of {choice['total']}"


def parts_faults(choice, rows):
    parts = choice["build"]["parts"]
    if {line["slot"]: line["id"] for line in choice["part_lines"]} != \
            {slot: what for slot, what in parts.items() if what not in ("keep", "none")}:
        yield "the parts are not the plan's"
    if not set(choice["stays"]) <= {slot for slot, what in parts.items() if what == "keep"}:
        yield "what stays is not the plan's"
    ordered = [rows[line["id"]][1] for line in choice["part_lines"] if rows[line["id"]][1]["stock"] == "0"]
    days = [row["days"] for row in ordered]
    here = None if "" in days else str(DAY + datetime.timedelta(days=max(map(int, days), default=0)))
    if choice["parts_here"] != here:
        yield f"parts here {choice['parts_here']}, not {here}"


def quote_faults(quote, shop, rows, discount):
    until = str(DAY + datetime.timedelta(days=shop["valid_days"]))
    if quote["day"] != str(DAY) or quote["holds_until"] != until:
        yield f"holds until {quote['holds_until']}, not {until}"
    for choice in quote["choices"] + [quote["keep_rings"]] * (quote["keep_rings"] is not None):
        yield from labour_faults(choice, shop)
        yield from money_faults(choice, shop)
        yield from parts_faults(choice, rows)
        if (choice["discount_amount"] > 0) != (discount > 0 and choice["parts_amount"] + choice["labour_amount"] > 0):
            yield "a discount where none was given, or the reverse"


def check_random_shops():
    rng, rows = random.Random(7), running.catalogue_rows()
    for name, wish in PAIRS:
        shop, discount = any_shop(rng), rng.choice([0, 5, 12.5])
        with tempfile.TemporaryDirectory() as folder:
            folder_with(folder, shop)
            wished = running.load(wish)
            wished.pop("budget", None)
            wish_file = running.save(os.path.join(folder, "wish", "wish.json"), wished)
            asked = [bike_path(name), "--catalogue", folder, "--wish", wish_file, "--json"]
            status = run("plan", *asked).status
            plan, more = answer("plan", "plan", *asked, status=status)
            quote, faults = answer("quote", "quote", *asked, "--date", DAY, "--discount-percent", discount, status=status)
        faults += more
        faults += list(quote_faults(quote, shop, rows, discount)) if quote else []
        picks = [build for build in (plan or {"builds": []})["builds"] if build["picks"]]
        for choice in quote["choices"] if quote else []:
            if choice["build"] != picks[ord(choice["letter"]) - ord("A")]:
                faults.append(f"{choice['letter']} is not the plan's")
        tap.ok(f"{name}: the quote is the plan's, line by line, to the minor unit ({shop['currency']})", faults)


QUILLMOOR = [bike_path("quillmoor-trail"), "--catalogue", running.SHOP, "--wish", wish_path("quillmoor-trail")]


def check_choices():
    quote, faults = answer("quote", "quote", *QUILLMOOR, "--date", DAY, "--way", "C,A", "--json")
    faults += [] if [choice["letter"] for choice in quote["choices"]] == ["A", "C"] else ["not A and C"]
    tap.ok("the ways that are asked for are quoted", faults)
    for given in ("F", "A,B,C,D", "A,A", "A,", "a", "", "AB", ",A"):
        ran = run("quote", *QUILLMOOR, "--date", DAY, "--way", given)
        tap.ok(f"--way '{given}' is told, with what is allowed", [] if (ran.status, ran.out) == (2, b"") and b"A to E" in ran.err else [ran])


def check_options():
    for option, given, status in (("--date", "2026-02-29", 2), ("--date", "1969-12-31", 2), ("--date", "3000-01-01", 2), ("--discount-percent", "100.1", 2),
                                  ("--discount-percent", "-1", 2), ("--discount-percent", "1.0001", 2), ("--old-parts", "away", 2),
                                  ("--call-first", "12,50", 3), ("--call-first", "-1", 3), ("--call-first", "1.005", 3)):
        ran = run("quote", *QUILLMOOR, option, given)
        tap.ok(f"{option} {given} is told", [] if ran.status == status and not ran.out and option.encode() in ran.err else [ran])
    quote, faults = answer("quote", "quote", *QUILLMOOR, "--call-first", "25.5", "--json")
    faults += [] if quote["call_first"] == 2550 else [quote["call_first"]]
    faults += [] if quote["day"] in (str(datetime.date.today()), str(datetime.date.today() - datetime.timedelta(1))) else [quote["day"]]
    tap.ok("without a date it is of today", faults)


def check_page():
    page = run("quote", *QUILLMOOR, "--date", DAY).out.decode()
    wanted = ["quote of 2026-11-30", "both rings", "Up to GBP 40.00 more", "Old parts:", "holds until 2026-12-14",
              "for a measurement: ", "not in it", "comes off", "component maker's instructions come first"]
    faults = [f"not there: {text}" for text in wanted if text not in " ".join(page.split())]
    faults += [f"over 79 columns: {line}" for line in page.splitlines() if len(line) > 79]
    tap.ok("the page says what it must, in 79 columns", faults)
    ran = run("quote", bike_path("quillmoor-trail"), "--catalogue", running.SHOP, "--wish", wish_path("quillmoor-impossible"), "--date", DAY)
    tap.ok("no way is told, with status 1", [] if ran.status == 1 and b"No way meets the wish" in ran.out else [ran])


def check_open_terms():
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(running.SHOP, folder, dirs_exist_ok=True)
        running.save(os.path.join(folder, "shop.json"), {"currency": "GBP", "rate_per_hour": 48})
        given = copy.copy(QUILLMOOR)
        given[2] = folder
        quote, faults = answer("quote", "quote", *given, "--date", DAY, "--json")
        page = " ".join(run("quote", *given, "--date", DAY).out.decode().split())
    faults += [f"{key} is {quote[key]}, not null" for key in ("holds_until", "call_first", "old_parts") if quote[key] is not None]
    faults += [f"not there: {text}" for text in ("Until when it holds is open", "GBP ______") if text not in page]
    tap.ok("what the shop does not say stays open", faults)


check_random_shops()
check_choices()
check_options()
check_page()
check_open_terms()
tap.end()
