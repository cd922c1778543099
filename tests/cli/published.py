#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Published figures, as bike files, through the whole program: what stands in tests/reference/, each row with its
source, is written into a bike as a mechanic would measure it, and the program's answer must be the printed one."""
import csv
import os

from running import answer, bike, given, tap

HALF_DIGIT = 1e-9  # on top of half the last printed digit: figures that were rounded exactly half way


def reference(name):
    with open(os.path.join(tap.ROOT, "tests", "reference", name + ".csv"), encoding="utf-8", newline="") as file:
        return [{key: figure(cell) for key, cell in row.items()} for row in csv.DictReader(file)]


def figure(cell):
    try:
        return float(cell)
    except ValueError:
        return cell


def ask(question, document, status=0):
    told, wrong = answer(question, question, "--json", "-", stdin=given(document), status=status)
    assert told is not None and not wrong, (question, wrong)
    return told


def near(row, got, want, tolerance):
    return [] if got is not None and abs(got - want) <= tolerance + HALF_DIGIT else [f"{row}: told {got}"]


def cassette(n, **more):
    """n sprockets of any teeth, the largest of as many as are asked for."""
    return {"sprockets": list(range(11, 11 + int(n))), **more}


def rear_bike(row, plane=50, stay=430):
    """A bike whose rear end is that of the row, and one ring at a measured plane."""
    frame = {"hub_width_mm": row["hub_width_mm"], "recess_mm": row["recess_mm"], "gap_mm": row["gap_mm"],
             "chainstay_mm": stay}
    fitted = {"rings": [{"teeth": 32, "place": "outer", "plane_mm": plane}], "crank": {"places": ["outer"]},
              "cassette": cassette(row["sprockets"], pitch_mm=row["pitch_mm"], sprocket_mm=row["thickness_mm"])}
    return bike(frame=frame, fitted=fitted)


def check_rear():
    wrong = []
    for row in reference("cassette_positions"):  # printed to 0.01 mm
        told = ask("line", rear_bike(row))
        sprocket = 10 + int(row["sprocket"])  # counted from the smallest, which has 11 teeth here
        planes = [50 - a["offset_mm"] for a in told["angles"] if a["sprocket"] == sprocket]
        wrong += near(row, planes[0], row["line_mm"], 0.005) + near(row, told["rear_mm"], 43.425, 0)
    tap.ok("the planes of ten sprockets on a 130 mm hub, and 43.425 mm between them", wrong)
    wrong = []
    for row in reference("rear_line"):  # told to 0.1 mm; the stack was rounded to 0.1 before half of it was taken
        if row["hub_width_mm"] <= 157:
            wrong += near(row, ask("line", rear_bike(row))["rear_mm"], row["line_mm"], 0.05 + 0.025)
    tap.ok("the rear line by hub width and number of sprockets", wrong)


def check_front():
    # Outer ring at 46.1 mm of a double: printed as the ring's own plane, 29 - 4.9 + 22 (line_examples, a tool maker's
    # workshop advice). The front line of two rings is half way between their planes, that of one ring is its plane.
    rings = [{"teeth": 44, "place": "outer", "plane_mm": 46.1}, {"teeth": 30, "place": "inner", "plane_mm": 38.3}]
    two = ask("line", bike(fitted={"crank": {"places": ["outer", "inner"]}, "rings": rings}))
    one = ask("line", bike(fitted={"crank": {"places": ["outer"]}, "rings": rings[:1]}))
    tap.ok("the front line of one ring and of two", near("two", two["front_mm"], (46.1 + 38.3) / 2, 0)
           + near("one", one["front_mm"], 46.1, 0))


def check_angles():
    wrong = []
    row = reference("cassette_positions")[0]
    for angle in reference("chain_angle"):
        # The smallest sprocket lies at 61.2 mm: the ring stands as far from it as the row says.
        told = ask("line", rear_bike(row, plane=61.2 + angle["offset_mm"], stay=angle["distance_mm"]))
        of_smallest = next(a for a in told["angles"] if a["sprocket"] == 11)
        wrong += near(angle, of_smallest["offset_mm"], angle["offset_mm"], 0)
        wrong += near(angle, of_smallest["angle_deg"], angle["angle_deg"], angle["tolerance_deg"])
    tap.ok("the angle of the chain: 5 mm at 391 mm is 0.73 degrees, and others", wrong)


def chain_bike(ring, sprockets, stay, **derailleur):
    frame = {"chainstay_mm": stay, **({"suspension": True, "chainstay_longest_mm": stay} if derailleur.pop("moves", 0) else {})}
    return bike(frame=frame, fitted={"rings": [{"teeth": int(ring), "place": "outer"}],
                                     "cassette": {"sprockets": sprockets}, "rear_derailleur": derailleur})


def check_links():
    wrong = []
    for row in reference("link_count"):  # derived by two methods, told to 1e-6 of a pitch
        told = ask("chain", chain_bike(row["ring"], [int(row["sprocket"])], row["centres_mm"]))
        wrong += near(row, told["bare_links"], row["links"], 5e-7)
        # The real chain of straight pitches, over all positions of its teeth.
        wrong += [] if row["polygon_min"] <= told["bare_links"] <= row["polygon_max"] else [row]
    tap.ok("the bare loop, against a real chain over all positions of its teeth", wrong)
    wrong = []
    # Bare loop 110.271 (32 and 51 teeth at 435 mm). Ordinary: and two, up to even. Wide range with one ring: the whole
    # part and five, rigid; six, suspended at the longest stay. To cut: the next even number. Common practice.
    for rule, moves, thumb, cut in [("ordinary", 0, 114, 114), ("wide_single", 0, 115, 116), ("wide_single", 1, 116, 116)]:
        told = ask("chain", chain_bike(32, [10, 51], 435, chain_rule=rule, moves=moves))
        wrong += near((rule, moves), told["rule_of_thumb_links"], thumb, 0) + near((rule, moves), told["links"], cut, 0)
    tap.ok("the workshop rules of both kinds of derailleur", wrong)


def check_capacity():
    wrong = []
    for row in reference("capacity"):
        rings = [{"teeth": int(row["largest_ring"]), "place": "outer"}, {"teeth": int(row["smallest_ring"]), "place": "inner"}]
        document = bike(fitted={"rings": rings, "cassette": {"sprockets": [int(row["smallest_sprocket"]),
                                                                           int(row["largest_sprocket"])]}})
        wrong += near(row, ask("chain", document)["capacity_needed_teeth"], row["capacity_teeth"], 0)
    tap.ok("the capacity that the gears ask for", wrong)


def family(**figures):
    """The first family of the trade's table with these figures, as its word."""
    return next(row["pull"] for row in tap.standard("pulls") if all(row[key] == figures[key] for key in figures))


def check_shift():
    wrong = []
    for row in reference("index_systems"):
        # A mixed pair: the shifter's family by its pull, the derailleur's by its ratio.
        mixed = row["judged"] == "rejected"
        shifter = family(pull_mm=row["pull_mm"], **({} if mixed else {"ratio": row["ratio"]}))
        derailleur = family(ratio=row["ratio"], speeds=row["sprockets"]) if mixed else shifter
        fitted = {"right_shifter": {"pull": shifter}, "rear_derailleur": {"pulls": [derailleur]},
                  "cassette": cassette(row["sprockets"], spacing="common", pitch_mm=row["pitch_mm"])}
        told = ask("shift", bike(fitted=fitted), status=int(mixed))
        wrong += near(row, told["step_mm"], row["move_mm"], 0)
        wrong += near(row, told["error_mm_total"], row["total_error_mm"], 0)
        wrong += [] if told["verdict"] == ("clash" if mixed else "fits") else [f"{row}: {told['verdict']}"]
        wrong += [f"{row}: waits for {told['open']}"] if told["open"] else []
    tap.ok("clicks against the pitch: the way, and the error that adds up; what is matched fits, what is mixed does not", wrong)


def check_gears():
    wrong = []
    for row in reference("gear_range"):  # told to 0.1 %
        rings = [{"teeth": int(t)} for t in sorted({row["lowest_ring"], row["highest_ring"]}, reverse=True)]
        document = bike(fitted={"rings": rings, "cassette": {"sprockets": [int(row["smallest_sprocket"]),
                                                                           int(row["largest_sprocket"])]}})
        wrong += near(row, ask("gears", document)["range_percent"], row["range_percent"], 0.05)
    tap.ok("the range of two rings and of one", wrong)
    # 700 x 25C rolls 2105 mm (wheel-size chart of cycle-computer instruction sheets); a measured wheel wins over it.
    gears = {"rings": [{"teeth": 50}], "cassette": {"sprockets": [10, 25]}}
    told = ask("gears", bike(wheel={"tyre": "25-622"}, fitted=gears))
    wrong = near("tyre", told["lowest_m"], 2 * 2.105, 0)
    told = ask("gears", bike(wheel={"tyre": "25-622", "rolling_mm": 2098}, fitted=gears))
    tap.ok("a wheel that was rolled out wins over its tyre's table", wrong + near("rolled", told["lowest_m"], 2 * 2.098, 0))


check_rear()
check_front()
check_angles()
check_links()
check_capacity()
check_shift()
check_gears()
tap.end()
