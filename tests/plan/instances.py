# SPDX-License-Identifier: Apache-2.0
"""Questions drawn from a seed: a made-up shop with a few hundred to ten thousand parts, one of the demo's bikes, and a wish.

Prices and masses are coarse in most shops, and some parts stand there twice, so that ties are common; in some the demo's own
parts stand among the others, since these fit its bikes. The wish leaves a few groups of slots free, so that the plain search
ends."""
import csv
import json
import os
import random
import subprocess
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cli"))
import running  # noqa: E402
from running import SHOP, SLOTS, load, tap  # noqa: E402

BUILD = os.environ.get("CW_BUILD_ROOT") or os.path.join(tap.ROOT, "build", "check")
MAKE_SHOP = os.path.join(BUILD, "benchmarks", "make-shop")
BOTH_WAYS = os.path.join(BUILD, "tests", "plan", "both-ways")
RINGS = ["outer_ring", "middle_ring", "inner_ring"]
FRONT = RINGS + ["front_derailleur", "left_shifter"]
REAR = ["cassette", "chain", "rear_derailleur", "cables"]
GROUPS = [["right_shifter", "cables"], ["crank"], ["ring_washers", "chain_guide"],
          ["crank", "bottom_bracket", "cup_spacers"], ["rear_wheel", "freehub_body", "rear_rotor"], ["cassette", "cassette_spacer"],
          ["hanger", "hanger_extender", "rear_derailleur", "cables"], ["right_shifter", "right_brake_lever"], ["chain", "cassette"],
          ["freehub_body", "cassette"], ["left_shifter", "left_brake_lever"], ["crank", "ring_washers", "chain_guide"]]
OBJECTIVES = ["cost", "lowest", "highest", "mass", "line_error", "minutes", "changed"]
USUAL = [["cost", "lowest", "highest"], ["cost", "lowest", "highest", "line_error"]]
READ_ALWAYS = {"teeth", "sprockets", "hub_width_mm", "tyre", "place", "condition", "note"}  # without them there is no bike, or nothing changes


# --- shops ----------------------------------------------------------------------------------------------------------------


def read_shop(folder):
    """Rows of each kind."""
    kinds = {}
    for name in sorted(os.listdir(folder)):
        if name.endswith(".csv"):
            with open(os.path.join(folder, name), encoding="utf-8", newline="") as file:
                kinds[name[:-len(".csv")]] = list(csv.DictReader(file))
    return kinds


def write_shop(folder, kinds, shop):
    """Rows of each kind, whatever columns they have."""
    running.save(os.path.join(folder, "shop.json"), shop)
    for kind, rows in kinds.items():
        columns = list(dict.fromkeys(column for row in rows for column in row))
        with open(os.path.join(folder, kind + ".csv"), "w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, columns or ["id", "price"], restval="", lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
    return folder


def made_up(folder, size, seed):
    subprocess.run([MAKE_SHOP, folder, str(size), str(seed)], check=True)
    return read_shop(folder)


def draw_shop(draw, folder, size, seed):
    """A shop's folder: the generator's parts, with ties."""
    kinds = made_up(os.path.join(folder, "made"), size, seed)
    if draw.random() < 0.5:
        for kind, rows in read_shop(SHOP).items():
            kinds.setdefault(kind, []).extend(row for row in rows if draw.random() < 0.6)
    coin, grams = draw.choice([(0, 1), (5, 50), (20, 100), (20, 1)])
    for kind, rows in kinds.items():
        for row in draw.sample(rows, len(rows) // 12):
            rows.append({**row, "id": draw.choice(["0-", "z-"]) + row["id"]})
        for row in rows if coin else []:
            row["price"] = f"{coin * max(1, round(float(row['price']) / coin)):.2f}" if float(row["price"]) else row["price"]
            row["mass_g"] = str(grams * max(1, round(float(row["mass_g"]) / grams))) if row.get("mass_g") else ""
    return write_shop(os.path.join(folder, "shop"), kinds, load(os.path.join(SHOP, "shop.json")))


# --- bikes and wishes -------------------------------------------------------------------------------------------------------


def places_of(document):
    """(object, key) of everything that somebody has read on a bike and that may be missing."""
    holders = [document["frame"], document["wheel"]]
    for part in document["fitted"].values():
        holders += part if isinstance(part, list) else [part]
    return [(holder, key) for holder in holders if holder for key in sorted(holder) if key not in READ_ALWAYS]


def mend(bike):
    for part in bike["fitted"].values():
        for each in part if isinstance(part, list) else [part]:
            if each and "condition" in each:
                each["condition"] = "serviceable"
            if each and "worn_percent" in each:
                each["worn_percent"] = 0.2


def draw_bike(draw, folder, name, most_missing):
    """A demo bike, in most cases with nothing worn, of which some values are open or only taken to be so."""
    bike = load(running.bike_path(name))
    if draw.random() < 0.7:
        mend(bike)
    places = places_of(bike)
    for holder, key in draw.sample(places, draw.randint(0, most_missing)):
        value = running.value_of(holder[key])
        if isinstance(value, (int, float)) and not isinstance(value, bool) and draw.random() < 0.3:
            holder[key] = {"value": value, "known": "assumed"}
        else:
            del holder[key]
    return running.save(os.path.join(folder, "bike.json"), bike)


def draw_objectives(draw):
    if draw.random() < 0.6:
        return draw.choice(USUAL)
    return sorted(draw.sample(OBJECTIVES, draw.randint(1, 5)), key=OBJECTIVES.index)


def draw_front(draw, size):
    """The wished number of rings, and the slots for them that are free. Where three places take any of a thousand rings, the plain
    search does not end."""
    kind = draw.random()
    if kind < 0.4 and size < 2000:
        return draw.choice([1, 1, 1, 2, None]), FRONT
    if kind < 0.8:
        return None, [draw.choice(RINGS)]
    return None, []


def draw_wish(draw, folder, size):
    rings, free = draw_front(draw, size)
    free = free + (REAR if draw.random() < 0.7 else [])
    for group in draw.sample(GROUPS, draw.randint(1, 2)):
        free = free + group
    wish = {"rings": rings, "keep": [slot for slot in SLOTS if slot not in free], "objectives": draw_objectives(draw)}
    if draw.random() < 0.5:
        wish["budget"] = 100 * draw.randint(60, 600)
    if draw.random() < 0.15:
        wish["lowest_m_max"] = round(draw.uniform(1.2, 2.8), 2)
    if draw.random() < 0.1:
        wish["highest_m_min"] = round(draw.uniform(4, 8), 2)
    return running.save(os.path.join(folder, "wish.json"), wish)


def draw_question(folder, seed, sizes, most_missing):
    """Shop, bike and wish of a seed, as files in the folder."""
    draw = random.Random(seed)
    least, most = sizes
    size = round(least * (most / least) ** draw.random())
    bike = draw_bike(draw, folder, draw.choice(running.BIKES), most_missing)
    wish = draw_wish(draw, folder, size)
    return draw_shop(draw, folder, size, seed), bike, wish


# --- asking ---------------------------------------------------------------------------------------------------------------


def both_ways(question, mib, seconds):
    """The fast search against the plain one: 'same', 'differs', 'too large', 'unread' or 'late', and the line that tells more."""
    try:
        done = subprocess.run([BOTH_WAYS, *question, str(mib)], capture_output=True, timeout=seconds, env=running.surroundings())
    except subprocess.TimeoutExpired:
        return "late", f"no answer within {seconds} s"
    said = (done.stdout + done.stderr).decode(errors="replace")
    known = {0: "same", 1: "differs", 2: "too large", 3: "unread"}
    return known.get(done.returncode, "differs"), said.strip()[-2000:] or f"exit status {done.returncode}"


def told(said):
    """The numbers in what both-ways says."""
    return {key: float(value) for key, _, value in (word.partition("=") for word in said.split()) if value}
