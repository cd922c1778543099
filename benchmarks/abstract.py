# SPDX-License-Identifier: Apache-2.0
"""The instance without any trade in it (instance.h), for general solvers.

With two objectives each solver is asked for the least first objective and, of these, the least second; then again with
the second bound below what was found, until there is nothing: a process for each point of the front, and one to prove
the end. With three they list every choice of parts that goes together, and what is beaten is dropped here."""
import re
import subprocess
import time

INTERFACES = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 6), (6, 7), (0, 2), (2, 4), (4, 6), (5, 7)]
SLOTS = range(8)
NO_BOUND = 1000000


def read_instance(program, parts, objectives, seed):
    """For each slot its parts: (objectives, values at the interfaces)."""
    done = subprocess.run([program, "--show", str(parts), str(objectives), str(seed)], check=True, capture_output=True)
    slots = [[] for _ in SLOTS]
    for line in done.stdout.decode().splitlines():
        slot, *numbers = map(int, line.split())
        slots[slot].append((tuple(numbers[:objectives]), numbers[objectives:]))
    return slots


def run(program, parts, objectives, seed, rounds):
    """(front, ms) of the plain program, or of the planner"""
    command = [program, str(parts), str(objectives), str(seed), str(rounds)]
    done = subprocess.run(command, check=True, capture_output=True)
    *points, last = done.stdout.decode().splitlines()
    return sorted(tuple(map(int, point.split())) for point in points), float(re.search(r"ms=([0-9.]+)", last)[1])


def front_of(points):
    """Of distinct points in rising order, those that no earlier one is as good as."""
    kept = []
    for point in sorted(set(points)):
        if not any(all(a <= b for a, b in zip(other, point)) for other in kept):
            kept.append(point)
    return kept


# --- clasp ----------------------------------------------------------------------------------------------------------------


def rules(slots, least):
    """The program; least: the first objective is to be small, then the second, which is at most `bound`."""
    out = [f"slot(0..{len(SLOTS) - 1})."]
    for s, parts in enumerate(slots):
        for p, (worth, values) in enumerate(parts):
            out.append(f"part({s},{p}).")
            out += [f"worth({s},{p},{o},{number})." for o, number in enumerate(worth)]
            out += [f"is({s},{p},{i},{value})." for i, value in enumerate(values) if value >= 0]
    out += [f"joins({i},{a},{b})." for i, (a, b) in enumerate(INTERFACES)]
    out += ["1 {at(S,P) : part(S,P)} 1 :- slot(S).", "has(S,I,V) :- at(S,P), is(S,P,I,V).",
            ":- joins(I,A,B), has(A,I,V), not has(B,I,V).", "#show at/2."]
    if least:
        out += ["#minimize {W@2,S : at(S,P), worth(S,P,0,W)}.", "#minimize {W@1,S : at(S,P), worth(S,P,1,W)}.",
                ":- #sum {W,S : at(S,P), worth(S,P,1,W)} > bound."]
    return "\n".join(out).encode()


def clasp(program, arguments, most_s):
    ground = subprocess.run(["gringo"], input=program, check=True, capture_output=True).stdout
    start = time.monotonic()
    done = subprocess.run(["clasp", "--outf=0", "-V1", *arguments], input=ground, capture_output=True,
                          timeout=max(most_s, 0.1))
    if done.returncode not in (20, 30):  # there is none; the last was found
        raise AssertionError("clasp: " + done.stderr.decode()[:1000])
    return done.stdout.decode(), time.monotonic() - start


def sums_of(slots, atoms):
    chosen = [slots[int(s)][int(p)][0] for s, p in re.findall(r"at\((\d+),(\d+)\)", atoms)]
    return tuple(map(sum, zip(*chosen)))


def clasp_points(slots, most_s):
    """(front with two objectives, seconds without grounding); no front when it takes longer."""
    points, bound, total = [], NO_BOUND, 0.0
    program = rules(slots, True)
    try:
        while True:
            text, taken = clasp(b"#const bound=%d.\n" % bound + program, ["--config=crafty", "-n", "0"], most_s - total)
            total += taken
            found = [line for line in text.splitlines() if line.startswith("at(")]
            if not found:
                return points, total
            points.append(sums_of(slots, found[-1]))
            bound = points[-1][1] - 1
    except subprocess.TimeoutExpired:
        return None, most_s


def clasp_all(slots, most_s):
    try:
        text, taken = clasp(rules(slots, False), ["-n", "0"], most_s)
    except subprocess.TimeoutExpired:
        return None, most_s
    return front_of(sums_of(slots, line) for line in text.splitlines() if line.startswith("at(")), taken


# --- gecode ---------------------------------------------------------------------------------------------------------------


def model(slots, bound):
    """bound: of the second objective, with the first as the goal; None: every choice is a solution."""
    out = []
    for s, parts in enumerate(slots):
        out.append(f"var 1..{len(parts)}: x{s};")
        for o in range(len(parts[0][0])):
            out.append(f"array[1..{len(parts)}] of int: w{s}_{o} = {[worth[o] for worth, _ in parts]};")
    for i, (a, b) in enumerate(INTERFACES):
        left, right = ([values[i] for _, values in slots[s]] for s in (a, b))
        out.append(f"constraint {left}[x{a}] = {right}[x{b}];")
    names = []
    for o in range(len(slots[0][0][0])):
        most = sum(max(worth[o] for worth, _ in parts) for parts in slots)
        out.append(f"var 0..{most}: sum{o} = " + " + ".join(f"w{s}_{o}[x{s}]" for s in SLOTS) + ";")
        names.append(f"sum{o}")
    if bound is None:
        out.append("solve satisfy;")
    else:
        order = ", ".join(f"x{s}" for s in SLOTS)
        out.append(f"constraint sum1 <= {bound};")
        out.append(f"solve :: int_search([{order}], dom_w_deg, indomain_min) minimize {NO_BOUND} * sum0 + sum1;")
    out.append('output ["point ", ' + ', " ", '.join(f"show({name})" for name in names) + "];")
    return "\n".join(out).encode()


def gecode(text, most_s):
    """(points in the order in which they were found, seconds, as gecode itself counts them)"""
    done = subprocess.run(["minizinc", "--solver", "gecode", "--input-from-stdin", "-a", "-s"], input=text,
                          capture_output=True, timeout=max(most_s, 1.0))
    printed = done.stdout.decode()
    if done.returncode or ("==========" not in printed and "=UNSATISFIABLE=" not in printed):
        raise AssertionError("minizinc: " + done.stderr.decode()[:1000])
    taken = sum(map(float, re.findall(r"(?:init|solve)Time=([0-9.]+)", printed)))
    return [tuple(map(int, line.split()[1:])) for line in printed.splitlines() if line.startswith("point ")], taken


def gecode_points(slots, most_s):
    points, bound, total = [], NO_BOUND, 0.0
    try:
        while True:
            found, taken = gecode(model(slots, bound), most_s - total)
            total += taken
            if not found:
                return points, total
            points.append(found[-1])
            bound = points[-1][1] - 1
    except subprocess.TimeoutExpired:
        return None, most_s


def gecode_all(slots, most_s):
    try:
        points, taken = gecode(model(slots, None), most_s)
    except subprocess.TimeoutExpired:
        return None, most_s
    return front_of(points), taken


def compare(plain, core, parts, objectives, seed, rounds, most_s):
    """(points, ms of the plain program and of the planner, seconds of clasp and of gecode or None where it took more than
    most_s)."""
    front, plain_ms = run(plain, parts, objectives, seed, rounds)
    planned, core_ms = run(core, parts, objectives, seed, 5)
    slots = read_instance(plain, parts, objectives, seed)
    answers = {"the planner": planned}
    seconds = []
    for solve in (clasp_points, gecode_points) if objectives == 2 else (clasp_all, gecode_all):
        found, taken = solve(slots, most_s) if most_s else (None, 0)
        answers[solve.__name__] = found if found is not None else front
        seconds.append(None if found is None else taken)
    for who, found in answers.items():
        if sorted(found) != front:
            raise AssertionError(f"{parts} parts, {objectives} objectives: {who} finds another front")
    return len(front), plain_ms, core_ms, *seconds
