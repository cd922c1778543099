#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The standards tables against formulas, against each other, and against published examples.

Each tolerance follows from what the figure means; where it comes from stands beside it."""
import math
import re

import tap

words = {}
for row in tap.table("words"):
    words.setdefault(row["domain"], []).append(row["word"])
limits = {row["name"]: row["value"] for row in tap.standard("limits")}
PITCH = 12.7  # mm, 1/2 in: ISO 606, chains 081 to 083
ROLLER = 7.75  # mm, 1/2 x 3/32 in: DIN 8187


def weak(row):
    return row["mark"] == "mem-low"


def pitch_diameter(teeth):
    """mm; ASME B29.1: p / sin(180 deg / N)"""
    return PITCH / math.sin(math.pi / teeth)


# --- ring mounts -----------------------------------------------------------------------------------------------------
mounts = [row for row in tap.standard("ring_mounts") if row["bcd_mm"]]
even = [row for row in mounts if row["asymmetric"] == "no" and row["ring_mount"] != "four_arm_107"]


def hole(row):
    """Chord of the bolt circle between neighbouring holes."""
    return row["bcd_mm"] * math.sin(math.pi / row["arms"])


# Printed chords differ from exact ones by up to 0.21 mm (58 mm five-arm); 0.25 mm is a quarter of the least difference
# between two bolt circles of the same number of arms, so that a printed chord never names the wrong one.
tap.ok("the distance of neighbouring holes follows from the bolt circle",
       [f"{row['ring_mount']}: printed {row['hole_mm']}, exact {hole(row):.2f}" for row in even
        if row["hole_mm"] and abs(row["hole_mm"] - hole(row)) > 0.25])
tap.ok("the printed distance names its own bolt circle before any other of as many arms",
       [row["ring_mount"] for row in even if row["hole_mm"]
        and min((other for other in even if other["arms"] == row["arms"]),
                key=lambda other: abs(hole(other) - row["hole_mm"]))["bcd_mm"] != row["bcd_mm"]])
tap.ok("an uneven spider has no single distance of holes",
       [row["ring_mount"] for row in mounts if row["asymmetric"] == "yes" and row["hole_mm"]])
tap.ok("the bolt circle and the arms are those of the mount's name",
       [row["ring_mount"] for row in mounts
        if f"{ {3: 'three', 4: 'four', 5: 'five'}[row['arms']] }_arm_{row['bcd_mm']:g}" not in row["ring_mount"]])


def room(row, teeth):
    """Between tooth root and bolt circle, mm."""
    return pitch_diameter(teeth) / 2 - ROLLER / 2 - row["bcd_mm"] / 2


# "About 7 to 8 mm" for a plain ring, so 6.5 rounds to it; the published 22 on a 68 mm circle has 6.7. A special ring
# must have less room than its plain neighbour, and still lie outside the bolts.
tap.ok("the smallest plain ring leaves room for its bolts",
       [f"{row['ring_mount']}: {room(row, row['smallest_teeth']):.1f}" for row in mounts
        if row["smallest_teeth"] and room(row, row["smallest_teeth"]) < limits["root_to_bolt_mm"] - 0.5])
tap.ok("a special ring is smaller than the plain one, and its teeth lie outside the bolt circle",
       [row["ring_mount"] for row in mounts if row["special_smallest_teeth"]
        and not (row["special_smallest_teeth"] < row["smallest_teeth"]
                 and room(row, row["special_smallest_teeth"]) > 4)])

# --- sprockets, chains, pulls ----------------------------------------------------------------------------------------
sprockets = tap.standard("sprockets")
measured = [row for row in sprockets if row["pitch_mm"]]


def stack(row, pitch):
    return (row["speeds"] - 1) * row[pitch] + row["sprocket_mm"]


# Printed stacks are rounded to 0.1 mm and thicknesses to 0.1 mm: half of each, 0.1 mm together, beside the spread of
# the pitch that sources give.
tap.ok("stack = (sprockets - 1) x pitch + thickness, within rounding and the spread of the pitch",
       [f"{row['speeds']:g} {row['spacing']}: {row['stack_mm']}" for row in measured
        if not stack(row, "pitch_low_mm") - 0.1001 <= row["stack_mm"] <= stack(row, "pitch_high_mm") + 0.1001])
tap.ok("the pitch lies within its own spread",
       [f"{row['speeds']:g}" for row in measured if not row["pitch_low_mm"] <= row["pitch_mm"] <= row["pitch_high_mm"]])

# Positions of ten sprockets on a 130 mm hub, from the smallest: Chainline, ti10x blog, 2012 (gap 3 mm, no recess).
ten = next(row for row in sprockets if row["speeds"] == 10 and row["spacing"] == "common")
published = [61.2, 57.25, 53.3, 49.35, 45.4, 41.45, 37.5, 33.55, 29.6, 25.65]
tap.ok("ten sprockets stand where the published series has them",
       [f"sprocket {i + 1}: {at}" for i, at in enumerate(published)
        if abs(130 / 2 - 3 - ten["sprocket_mm"] / 2 - i * ten["pitch_mm"] - at) > 0.005])

chains = {row["chain_family"]: row for row in tap.standard("chains")}
order = ["up_to_8", "nine", "ten", "eleven", "twelve", "thirteen"]
tap.ok("each faster chain is narrower than the one before",
       [family for slower, family in zip(order, order[1:]) if chains[family]["width_mm"] >= chains[slower]["width_mm"]])
tap.ok("a chain's width lies within what sources give, and its inner plates inside its pins",
       [name for name, row in chains.items() if row["width_mm"]
        and not row["width_low_mm"] <= row["width_mm"] <= row["width_high_mm"]
        or row["inner_mm"] and row["inner_mm"] >= row["width_mm"]])
by_speed = {speeds: row for name, row in chains.items() if name in order for speeds in row["for_speeds"]}
tap.ok("there is a chain for every number of sprockets from 5 to 13", [n for n in range(5, 14) if n not in by_speed])
tap.ok("a chain runs on the sprockets of its speed and clears the next one",
       [f"{row['speeds']:g} {row['spacing']}" for row in measured if not weak(row)
        and (by_speed[row["speeds"]]["inner_mm"] <= row["sprocket_mm"]
             or row["pitch_mm"] <= by_speed[row["speeds"]]["width_mm"] / 2 + row["sprocket_mm"] / 2)])

pulls = tap.standard("pulls")
pitches = {(row["speeds"], row["spacing"]): [other for other in measured if (other["speeds"], other["spacing"])
                                             == (row["speeds"], row["spacing"])] for row in sprockets}
# Cable pull x ratio = pitch (Wikibooks, Bicycles/Maintenance and Repair, gear-changing dimensions). A matched family
# works; its nominal pull and ratio are good to 3 % each, so that their product stays within 6 % of the pitch.
tap.ok("pull x ratio is the pitch of the spacing that a family is made for, within 6 %",
       [f"{row['pull']}: {row['pull_mm'] * row['ratio']:.2f}" for row in pulls if row["pull_mm"]
        and not any(abs(row["pull_mm"] * row["ratio"] / other["pitch_mm"] - 1) <= 0.06
                    for other in pitches[(row["speeds"], row["spacing"])])])
# The mean is given to 0.01 mm.
tap.ok("clicks that differ are one fewer than the sprockets, and pull_mm is their mean",
       [row["pull"] for row in pulls if row["clicks"] and not (len(row["clicks"]) == row["speeds"] - 1
        and abs(sum(row["clicks"]) / len(row["clicks"]) - row["pull_mm"]) < 0.00501)])

# --- tyres -----------------------------------------------------------------------------------------------------------
tyres = tap.standard("tyres")
# The rule of thumb pi (bead seat + 2 widths) is up to 3.7 % over the instruction sheet's table, at small wide tyres.
tap.ok("circumference is pi (bead seat + 2 widths) within 4 %",
       [row["tyre"] for row in tyres
        if abs(math.pi * (row["bead_mm"] + 2 * row["width_mm"]) / row["rolling_mm"] - 1) > 0.04])
tap.ok("the size is width and bead seat",
       [row["tyre"] for row in tyres if row["tyre"] != f"{row['width_mm']:g}-{row['bead_mm']:g}"])
tap.ok("a wider tyre on the same rim rolls further",
       [row["tyre"] for row in tyres for other in tyres if other["bead_mm"] == row["bead_mm"]
        and other["width_mm"] < row["width_mm"] and other["rolling_mm"] >= row["rolling_mm"]])
seats = {row["bead_mm"] for row in tap.standard("bead_seats")}
tap.ok("every tyre's bead seat has its trade names", [row["tyre"] for row in tyres if row["bead_mm"] not in seats])

# --- hubs, bodies, chain lines ---------------------------------------------------------------------------------------
hubs = tap.standard("hub_widths")
tap.ok("between the dropouts: hub width less the recess on both sides",
       [row["width_mm"] for row in hubs if row["between_mm"] != row["width_mm"] - 2 * row["recess_mm"]])
windows = tap.standard("line_windows")


def window(width, use, rings):
    """The closest row: use and rings, then use, then rings, then neither."""
    for wanted in ((use, rings), (use, None), (None, rings), (None, None)):
        for row in windows:
            if row["width_mm"] == width and (row["use"], row["rings"]) == wanted:
                return row
    return None


tap.ok("every hub width has a window for every use and number of rings",
       [f"{hub['width_mm']:g} {use} {rings}" for hub in hubs for use in words["use"] for rings in (1, 2, 3)
        if window(hub["width_mm"], use, rings) is None])
tap.ok("every window is for a hub width that there is",
       [row["width_mm"] for row in windows if row["width_mm"] not in {hub["width_mm"] for hub in hubs}])
tap.ok("a window's nominal line lies inside it",
       [f"{row['width_mm']:g} {row['use']}" for row in windows if row["nominal_mm"]
        and not row["low_mm"] <= row["nominal_mm"] <= row["high_mm"]])
# Lines that bikes are built with and that must not be called an error: double and single gravel sets at 47 and 50
# (common practice); 52 and 55 at 148 mm (What chain line is 148?, Q&A page; 55 mm chainline, The Radavist); 49 at 135
# and 142 mm off-road; 43.5 on the road at 130 mm (LFGSS forum comment 5994410).
built = [(142, "gravel", 2, 47), (142, "gravel", 1, 50), (148, "off_road", 1, 52), (148, "off_road", 1, 55),
         (135, "off_road", 1, 49), (142, "off_road", 1, 49), (130, "road", 2, 43.5), (126, "road", 2, 43.5)]
tap.ok("lines that bikes are built with lie inside their window",
       [str(case) for case in built if not window(*case[:3])["low_mm"] <= case[3] <= window(*case[:3])["high_mm"]])
# Only steel forgives (common practice): without a material the way must be end caps, never the frame.
tap.ok("no rear end but steel is spread or squeezed",
       [f"{row['frame_mm']:g} {row['hub_mm']:g} {row['material']}" for row in tap.standard("hub_fits")
        if row["material"] not in ("steel", None) and row["verdict"] != "clash"
        or row["material"] is None and not (row["verdict"] == "adapter" and "end caps" in row["how"])])

bodies = tap.standard("bodies")
spacers = tap.standard("body_spacers")
tap.ok("a spacer is only for a body that there is",
       [f"{row['spline']} {row['body_mm']:g}" for row in spacers
        if not any((body["spline"], body["length_mm"]) == (row["spline"], row["body_mm"]) for body in bodies)])
# 4.5 mm under a 7-speed cassette is half a mm more than the lengths say, on purpose; 36.8 stands for 36.85: 0.05 mm.
tap.ok("cassette and spacer together fill the body",
       [f"{row['spline']} {row['class_mm']:g} on {row['body_mm']:g}" for row in spacers
        if not -0.06 <= row["class_mm"] + row["spacer_mm"] - row["body_mm"] <= 0.56])
tap.ok("only a 7-speed cassette takes a spacer on the 35 mm body",
       [f"{row['class_mm']:g}" for row in spacers
        if row["body_mm"] == 35 and row["spacer_mm"] > 0 and row["class_mm"] != 31])
tap.ok("a wide cassette has no row on a shorter body",
       [f"{row['class_mm']:g}" for row in spacers if row["class_mm"] > row["body_mm"]])

# --- pairs -----------------------------------------------------------------------------------------------------------
pairs = {"spline_fits": ("cassette_spline", "body_spline"), "spindle_fits": ("crank_spindle", "bracket_spindle"),
         "chain_fits": ("chain_family", "cassette_chain")}
columns = {row["column"]: row["type"] for row in tap.table("standards/columns")}
for name, (one, other) in pairs.items():
    same = {row[one] for row in tap.standard(name) if row[one] == row[other] and row["verdict"] == "fits"}
    tap.ok(f"{name}: what is the same fits", [word for word in words[columns[one]] if word not in same])
for name, (one, other) in {"hanger_fits": ("hanger_kind", "derailleur_mount"), "seat_bars": ("seat", "bar")}.items():
    there = {(row[one], row[other]) for row in tap.standard(name)}
    tap.ok(f"{name}: every pair has its row",
           [f"{a} {b}" for a in words[columns[one]] for b in words[columns[other]] if (a, b) not in there])
for name in [row["table"] for row in tap.table("standards/tables")]:
    rows = tap.standard(name)
    if rows and "verdict" in rows[0]:
        tap.ok(f"{name}: whatever is not plainly fitting says with what, or why",
               [str(row) for row in rows if row["verdict"] != "fits" and not row["how"]])
uneven = [row for row in tap.standard("chain_fits") if row["chain_family"] != row["cassette_chain"]]
tap.ok("a chain clashes where it is wider than the cassette's, and runs with a drawback where it is narrower",
       [f"{row['chain_family']} {row['cassette_chain']}" for row in uneven
        if row["verdict"] != ("clash" if chains[row["chain_family"]]["width_mm"]
                              > chains[row["cassette_chain"]]["width_mm"] else "drawback")])

# --- safety ----------------------------------------------------------------------------------------------------------
# Wrong pull: no power, or the lever at the bar. Wrong fluid: seals destroyed. Common practice.
need = {"rim_caliper": "short", "rim_cantilever": "short", "rim_linear_pull": "long", "disc_cable_short": "short",
        "disc_cable_long": "long", "disc_mineral": "mineral", "disc_dot": "dot"}
brakes = {row["brake"]: row for row in tap.standard("brakes")}
tap.ok("each brake asks for its own pull or fluid, and for none where it is not known",
       [brake for brake, row in brakes.items() if row["lever_pull"] != need.get(brake)])
# Hands: ISO 6696 (English), bottom bracket threading chart, BikeRaceInfo; pedals: ISO 6695, left pedal left.
hands = {row["shell"]: (row["drive_hand"], row["other_hand"]) for row in tap.standard("shells") if row["thread"]}
drive = {"english": "left", "swiss": "left", "t47": "left", "italian": "right", "french": "right"}
tap.ok("hands of thread of the shells",
       [f"{shell}: {hand}" for shell, hand in hands.items() if hand != (drive.get(shell), "right")]
       + [shell for shell in drive if shell not in hands])
torques = {row["name"]: row for row in tap.standard("torques")}
tap.ok("left-hand threads are marked as such, and no others",
       sorted({"pedal_left", "universal_hanger_bolt"}
              ^ {name for name, row in torques.items() if row["hand"] == "left"}))
operations = {row["operation"] for row in tap.table("operations")}
tap.ok("each torque belongs to an operation", [name for name, row in torques.items() if row["operation"] not in operations])
# A thread is written as its diameter in mm (ISO 261) or in inches, 25.4 mm each.
inch = re.compile(r"(\d+)/(\d+) in")
wrong = []
for name, row in torques.items():
    parts = inch.match(row["thread"] or "")
    wanted = 25.4 * int(parts[1]) / int(parts[2]) if parts else float(re.match(r"M([\d.]+)", row["thread"])[1]) if row["thread"] else None
    wrong += [] if row["thread_mm"] == wanted else [f"{name}: {row['thread']}, {row['thread_mm']}"]
tap.ok("a thread's diameter is the one that it is called by", wrong)
shells = {row["shell"]: row for row in tap.standard("shells")}
tap.ok("an English and a French shell can't be told apart by their inner diameter",
       [] if shells["english"]["inner_low_mm"] == shells["french"]["inner_low_mm"]
       and shells["english"]["inner_high_mm"] == shells["french"]["inner_high_mm"] else ["they differ in the table"])

# --- how a row is known ----------------------------------------------------------------------------------------------
plain = {"from memory": ("mem", "mem-low"), "common practice": ("cp", "mem")}
wrong = []
for name in [row["table"] for row in tap.table("standards/tables")]:
    for row in tap.standard(name):
        if row["source"] in plain and row["mark"] not in plain[row["source"]]:
            wrong.append(f"{name}: {list(row.values())[:3]}")
        if "from memory" in row["source"] and row["mark"] in ("seen", "calc", "cp"):
            wrong.append(f"{name}: {list(row.values())[:3]}")
tap.ok("no remembered figure passes for one that was seen", wrong)
tap.end()
