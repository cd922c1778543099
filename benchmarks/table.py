#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""table.py BUILD [--quick] [NAME ...]: measures, and prints a row as soon as it is known. NAME: only these parts of the
table.

A time is the best of its rounds. The ratio is to another time of the same run, which the row names: times differ
between machines and hours, ratios hardly. The first line says how busy the machine is."""
import json
import os
import random
import re
import subprocess
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(HERE)
BUILD = os.path.join(ROOT, sys.argv[1])
os.environ.update(CW_BUILD_ROOT=BUILD, CHAINWRIGHT=os.path.join(BUILD, "chainwright"))
import abstract  # noqa: E402
import demo  # noqa: E402

demo.solver.TABULATE = os.path.join(BUILD, "benchmarks", "tabulate")
QUICK = "--quick" in sys.argv
WANTED = [word for word in sys.argv[2:] if word != "--quick"]
SEED = 1
BIKES = ["quillmoor-trail", "tern-road", "osier-ridge"]
SHORT = ["cost,lowest,highest"] if QUICK else ["cost,lowest,highest", "cost,lowest,highest,mass"]
SIZES = [300, 1000, 10000] if QUICK else [300, 1000, 10000, 100000, 1000000]
ROUNDS = 5 if QUICK else 20
READS = 3
BIKE_S = 10 if QUICK else 90  # the most that one bike may take against one shop
BATCH_S = 10 if QUICK else 60  # the most that a batch may take on one core
BATCH_LINES = 200 if QUICK else 10000
SOLVER_S = 5 if QUICK else 120


def row(what, size, taken, ratio=""):
    print(f"{what:<38} {size:<42} {taken:>12}  {ratio}", flush=True)


def ms(value):
    return f"{value:.3f} ms" if value < 10 else f"{value:,.0f} ms"


def times(ratio):
    return f"{ratio:.2g}" if ratio < 1 else f"{ratio:,.2f}" if ratio < 10 else f"{ratio:,.0f}"


def tool(name):
    return os.path.join(BUILD, "benchmarks", name)


def pairs_in(line):
    return dict(pair.split("=", 1) for pair in line.splitlines()[0].split()[1:])


def make_shop(folder, size, *options):
    path = os.path.join(folder, "-".join(["shop", str(size), *options]))
    if not os.path.isdir(path):
        subprocess.run([tool("make-shop"), path, str(size), str(SEED), *options], check=True)
    return path


# --- geometry -------------------------------------------------------------------------------------------------------------


def geometry(_folder):
    printed = subprocess.run([tool("time-geometry")], check=True, capture_output=True).stdout.decode()
    taken = float(re.search(r"([0-9.]+) ms", printed)[1])
    row("geometry over the travel", "36 gears, 50 steps", ms(taken), f"{times(taken / 2)} of the bound of 2 ms")


# --- figures --------------------------------------------------------------------------------------------------------------


def draw(_folder):
    demo_files = [("bikes", "sallow-tourer.json"), ("shop",), ("wishes", "sallow-tourer-three.json"), ("routes", "quillmoor-loop.gpx")]
    files = [os.path.join(ROOT, "data", "demo", *names) for names in demo_files]
    printed = subprocess.run([tool("time-draw"), str(ROUNDS * 5), *files], check=True, capture_output=True).stdout.decode()
    what = {"read": "figure, read and drawn", "planned": "figure of a plan that is made"}
    for line in printed.splitlines():
        how, name, *_ = line.split()
        told = pairs_in(line.split(" ", 1)[1])
        row(what[how], f"{name}, 27 gears, {int(told['bytes']):,} bytes", ms(float(told["best"])),
            f"{times(float(told['best']) / 5)} of the bound of 5 ms; {times(int(told['bytes']) / 40000)} of that of 40 kB")


# --- papers ---------------------------------------------------------------------------------------------------------------


def paper(_folder):
    demo_of = lambda kind: os.path.join(ROOT, "data", "demo", kind)
    bike = "quillmoor-trail.json"
    told_of = subprocess.run([tool("time-paper"), os.path.join(demo_of("bikes"), bike), demo_of("shop"),
                              os.path.join(demo_of("wishes"), bike), str(ROUNDS)], check=True, capture_output=True).stdout.decode()
    for line in told_of.splitlines():
        told = pairs_in(line)
        row("paper as PDF, set and drawn", f"{line.split()[0]}, {int(told['bytes']):,} bytes", ms(float(told["best"])),
            f"{times(float(told['best']) / 60)} of the bound of 60 ms")


# --- a ride ---------------------------------------------------------------------------------------------------------------


def lines_of(printed):
    return {name: float(value) for name, value in (line.split() for line in printed.decode().splitlines())}


def ride(folder):
    """A track of 100 000 points, and 10 000 gearings on it; the obvious loop and GNU Octave beside it."""
    told = lines_of(subprocess.run([tool("time-ride"), folder], check=True, capture_output=True).stdout)
    whole = told["read"] + told["clean"] + told["ride"]
    row("a ride, from the file on", f"100,000 points, {told['bytes'] / 1e6:.1f} MB, 22 gears", ms(whole),
        f"{times(whole / 100)} of the bound of 100 ms; read {ms(told['read'])}, clean {ms(told['clean'])}, ride {ms(told['ride'])}")
    row("   the obvious loop, in time", "the ride alone, steps of 0.1 s", ms(told["plain"]),
        f"{times(told['plain'] / told['ride'])} times the ride; its time is off by {told['plain-off'] * 100:.2f} %")
    many = told["score-one"] + told["score-many"]
    row("   score gearings", "10,000 of 12 gears, with the ride", ms(many), f"{times(many / told['score-one'])} times scoring one")
    script = os.path.join(os.path.dirname(os.path.abspath(__file__)), "ride.m")
    done = subprocess.run(["octave-cli", "--norc", script, os.path.join(folder, "speeds.txt")], check=True, capture_output=True)
    octave = lines_of(done.stdout)
    same = "the same shares" if abs(octave["sum"] / told["sum"] - 1) < 1e-6 else f"OTHER SHARES: {octave['sum']}, not {told['sum']}"
    row("   the scores alone, GNU Octave", "whole vectors, the ride not in it", ms(octave["score-many"]),
        f"{times(octave['score-many'] / told['score-many'])} times ours; {same}")


# --- growth with the shop -------------------------------------------------------------------------------------------------


def time_reading(shop):
    reads = [subprocess.run([tool("time-plan"), shop, "cost", "1"], check=True, capture_output=True).stdout.decode()
             for _ in range(READS)]
    best = min(map(pairs_in, reads), key=lambda read: float(read["ms"]))
    return {**best, "classes_ms": min(float(pairs_in(read.splitlines()[1])["ms"]) for read in reads),
            "classes": pairs_in(reads[0].splitlines()[1])["n"]}


def time_plan(shop, wish, bike):
    """What time-plan prints of the bike; None where it takes longer than BIKE_S, with the reading of the shop."""
    command = [tool("time-plan"), shop, wish, str(ROUNDS), os.path.join(ROOT, "data", "demo", "bikes", bike + ".json")]
    try:
        printed = subprocess.run(command, check=True, capture_output=True, timeout=BIKE_S).stdout.decode()
    except subprocess.TimeoutExpired:
        return None
    return pairs_in(printed.splitlines()[-1])


def read_row(read, first_ms):
    parts, taken = int(read["parts"]), float(read["ms"])
    row("read a shop", f"{parts:,} parts, {read['held_mib']} MiB held", ms(taken),
        f"{times(taken / first_ms)} of {SIZES[0]:,} parts; {taken * 1000 / parts:.2f} µs a part")
    row("   its classes", f"{int(read['classes']):,} of them", ms(read["classes_ms"]),
        f"{times(read['classes_ms'] / taken)} of reading, which it is a part of")


def plan_row(what, objectives, parts, plan, first):
    front, taken = int(plan["front"]), float(plan["ms"])
    cut = "" if plan["complete"] == "1" else ", cut by memory"
    a_point = f"; {taken * 1e6 / front:,.0f} ns a point" if front else ""
    row(what, f"{parts:,} parts, {objectives.count(',') + 1} objectives, front {front:,}{cut}", ms(taken),
        f"{times(taken / float(first['ms']))} of {first['parts']} parts{a_point}; {plan['peak_mib']} MiB; "
        f"rings kept {ms(float(plan['keep_ms']))}, answer {ms(float(plan['answer_ms']))}, "
        f"a moved bound {ms(float(plan['bound_ms']))}")


def late_row(what, objectives, parts):
    row(what, f"{parts:,} parts, {objectives.count(',') + 1} objectives", f"> {BIKE_S} s")


def reading(folder):
    first = None
    for size in SIZES:
        read = time_reading(make_shop(folder, size))
        first = first or float(read["ms"])
        read_row(read, first)


def growth(folder):
    """A bike for which a shop was too large, in time or memory, isn't tried on a larger one."""
    reading(folder)
    for objectives in SHORT:
        for bike in BIKES:
            first = None
            for size in SIZES:
                plan = time_plan(make_shop(folder, size), objectives, bike)
                if plan is None:
                    late_row(f"plan {bike}", objectives, size)
                    break
                first = first or {**plan, "parts": f"{size:,}"}
                plan_row(f"plan {bike}", objectives, size, plan, first)
                if plan["complete"] == "0":
                    break


def adversarial(folder):
    """Shops in which nothing can be dropped early, against an ordinary one of their size."""
    size, bike = 1000 if QUICK else 10000, BIKES[0]
    for objectives in ("cost,lowest,highest", "cost,lowest,highest,mass"):
        plain = time_plan(make_shop(folder, size), objectives, bike)
        for options in (["--undominated"], ["--alike"], ["--alike", "--undominated"]):
            what = f"plan, shop {' '.join(options)}"
            plan = time_plan(make_shop(folder, size, *options), objectives, bike)
            if plan and plain:
                plan_row(what, objectives, size, plan, {**plain, "parts": f"an ordinary shop of {size:,}"})
            else:
                late_row(what, objectives, size)


# --- general solvers ------------------------------------------------------------------------------------------------------


def time_instance(shop, wish, bike):
    done = subprocess.run([tool("time-plan"), shop, wish, "50", bike], check=True, capture_output=True)
    return float(pairs_in(done.stdout.decode().splitlines()[-1])["ms"])


def seconds(taken):
    return "" if taken is None else f"{taken:.3f} s" if taken < 10 else f"{taken:.0f} s"


def solvers(folder):
    """The rows of a solver say how many times as long it took."""
    for number, given in enumerate(demo.INSTANCES[:2] if QUICK else demo.INSTANCES):
        size, plan_ms, clasp_s, gecode_s = demo.compare(os.path.join(folder, f"cut-{number}"), given, time_instance)
        row(f"plan {given[0]}, cut shop", size, ms(plan_ms), "same front, by all three")
        row("   clasp, every build", "", seconds(clasp_s), f"{times(clasp_s * 1000 / plan_ms)} times the planner")
        row("   gecode, every build", "", seconds(gecode_s), f"{times(gecode_s * 1000 / plan_ms)} times the planner")


def without_trade(_folder):
    """The rows of the others say how many times the planner's time they took."""
    for parts, objectives in [(10, 2), (10, 3), (30, 2), (30, 3), (100, 2)] + ([] if QUICK else [(100, 3)]):
        asked = parts == 10 or (parts, objectives) == (30, 2) and not QUICK
        points, plain_ms, core_ms, clasp_s, gecode_s = abstract.compare(
            tool("time-plain"), tool("time-core"), parts, objectives, SEED, 1 if parts == 100 else 5, SOLVER_S if asked else 0)
        row("no trade, planner", f"{parts} parts a slot, {objectives} objectives, front {points:,}", ms(core_ms))
        row("   plain dynamic program", "", ms(plain_ms), f"{times(plain_ms / core_ms)} times the planner")
        for name, taken in (("clasp", clasp_s), ("gecode", gecode_s)) if asked else ():
            least = "" if taken else "more than "
            row(f"   {name}", "", seconds(taken) or f"> {SOLVER_S} s",
                f"{least}{times((taken or SOLVER_S) * 1000 / core_ms)} times the planner")


# --- a fleet --------------------------------------------------------------------------------------------------------------


def fleet_lines(n):
    """Demo bikes with wishes of all sorts."""
    draw = random.Random(SEED)
    folder = os.path.join(ROOT, "data", "demo", "bikes")
    bikes = []
    for name in sorted(name for name in os.listdir(folder) if name.endswith(".json")):
        with open(os.path.join(folder, name), encoding="utf-8") as file:
            bikes.append(json.load(file))
    for _ in range(n):
        wish = {"rings": 1, "budget": draw.randrange(20000, 60000, 500)}
        wish.update({"lowest_m_max": round(draw.uniform(1.6, 4.0), 2)} if draw.random() < 0.7 else {})
        wish.update({"highest_m_min": round(draw.uniform(4.0, 6.0), 2)} if draw.random() < 0.5 else {})
        wish["keep"] = draw.sample(["rear_wheel", "crank", "right_brake_lever", "left_brake_lever", "right_shifter"],
                                   draw.randint(0, 4))
        yield json.dumps({"bike": draw.choice(bikes), "wish": wish})


def run_batch(shop, lines, cores, most_s):
    """(seconds until the last answer that came in time, how many came)"""
    with tempfile.NamedTemporaryFile("w", suffix=".jsonl", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")
        file.flush()
        command = ["taskset", "-c", cores, os.environ["CHAINWRIGHT"], "plan", "--batch", file.name, "--catalogue", shop]
        start, last, n = time.monotonic(), 0.0, 0
        process = subprocess.Popen(["timeout", str(most_s), *command], stdout=subprocess.PIPE)
        for _ in process.stdout:
            last, n = time.monotonic() - start, n + 1
        process.wait()
    return last, n


def batch(folder):
    """As many lines as two cores do in half the time, then the same lines on one core and on two."""
    lines = list(fleet_lines(BATCH_LINES))
    for size in (1000, 10000):
        shop = make_shop(folder, size)
        _, n = run_batch(shop, lines, "0,1", BATCH_S / 2)
        if n == 0:
            row("batch, two cores", f"{size:,} parts", f"> {BATCH_S // 2} s", "no line was done in time")
            continue
        one_s, by_one = run_batch(shop, lines[:n], "0", 3 * BATCH_S)
        two_s, by_two = run_batch(shop, lines[:n], "0,1", 3 * BATCH_S)
        done = f"{n:,} lines" if n == len(lines) else f"the {n:,} first of {len(lines):,} lines"
        if by_one < n or by_two < n:
            row("batch", f"{size:,} parts, {done}", f"> {3 * BATCH_S} s", "other work got in between")
            continue
        row("batch, one core", f"{size:,} parts, {done}", seconds(one_s), f"{n / one_s:.2f} bikes a second")
        row("batch, two cores", "", seconds(two_s), f"{times(one_s / two_s)} times as fast as one core")


PARTS = {"geometry": geometry, "draw": draw, "paper": paper, "ride": ride, "growth": growth, "adversarial": adversarial,
         "solvers": solvers, "abstract": without_trade, "batch": batch}


def main():
    unknown = [name for name in WANTED if name not in PARTS]
    if unknown:
        sys.exit(f"bench: no part {', '.join(unknown)}; there are {', '.join(PARTS)}")
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.2f} at the start, seed {SEED}\n")
    row("what", "size", "time", "ratio and what else")
    with tempfile.TemporaryDirectory() as folder:
        for name, measure in PARTS.items():
            if not WANTED or name in WANTED:
                measure(folder)


if __name__ == "__main__":
    main()
