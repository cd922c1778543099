# SPDX-License-Identifier: Apache-2.0
"""The JSON Schemas of what the program answers, for write-schema: each key with what it says and its unit. An answer may
hold more keys than are named here, but those that are named in `required` are there for ever.
"""
import csv
import os

PURPOSES = ["least_money", "least_change", "easiest_climbing", "highest_gear", "closest_range", "nothing_to_measure",
            "fewest_drawbacks", "lightest", "most_in_band", "least_on_foot"]
OBJECTIVES = ["cost", "lowest", "highest", "mass", "line_error", "minutes", "changed", "in_band", "walked"]
WISHES = ["rings", "sprockets", "lowest_m_max", "highest_m_min", "budget", "keep"]
PATH = {"description": "JSON pointer, RFC 6901.", "type": "string", "pattern": "^(/[^/]*)+$"}
COUNT = {"type": "integer", "minimum": 0}
TEETH = {"type": "integer", "minimum": 1}
TEXT = {"type": "string", "minLength": 1}
NUMBER = {"type": "number"}
POSITIVE = {"type": "number", "exclusiveMinimum": 0}
BOOL = {"type": "boolean"}
ID = {"type": "string", "minLength": 1, "maxLength": 64}


def read(data, name):
    with open(os.path.join(data, name), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def say(description, schema):
    return {"description": description, **schema}


def or_null(schema):
    if "type" in schema and "enum" not in schema:
        return {**schema, "type": [schema["type"], "null"]}
    return {"anyOf": [schema, {"type": "null"}]}


def held(properties, optional=(), **more):
    """An object with these properties, all of them there but the optional ones; others may stand beside them."""
    return {"type": "object", "properties": properties, "required": [key for key in properties if key not in optional],
            **more}


def listed(items, **more):
    return {"type": "array", "items": items, **more}


def named(name):
    return {"$ref": f"#/$defs/{name}"}


def defs(data, *names):
    slots = [row["slot"] for row in read(data, "slots.csv")]
    verdicts = [row["word"] for row in read(data, "words.csv") if row["domain"] == "verdict"]
    fact = say("A figure, or a word of the vocabulary.", {"anyOf": [
        held({"value": say("In its unit; null while it is open.", or_null(NUMBER)),
              "unit": say("mm, T, pitches, ...; empty for a bare number.", {"type": "string"})}),
        held({"word": say("As it stands in a file.", TEXT)})]})
    overruled = held({"by": say("Who.", TEXT), "reason": say("Why, in their words.", TEXT)})
    finding = held({
        "rule": say("The rule's id: words, which mean the same for ever.", {"type": "string", "pattern": "^[a-z]+(-[a-z0-9]+)*$"}),
        "slots": say("The slots that meet here.", listed(named("slot"), uniqueItems=True)),
        "verdict": named("verdict"),
        "reason": say("In plain words, with the figures.", TEXT),
        "measure": say("The value that decides it while nobody knows it; else null.", {"anyOf": [named("path"), {"type": "null"}]}),
        "facts": say("The figures behind it, in the order of the reason.", listed(fact)),
        "known": named("known"),
        "source": say("Where the rule's figures come from.", or_null(TEXT)),
        "overruled": say("Who overruled it, and why. The verdict stays.", overruled),
    }, optional=["overruled"], description="What a rule says of one joint.")
    every = {
        "path": PATH,
        "known": say("How the weakest of the values behind it is known.", {"enum": ["measured", "table", "assumed", "open"]}),
        "verdict": say("Fits; fits with an adapter; works with a drawback; must be measured; clash.", {"enum": verdicts}),
        "slot": {"enum": slots}, "finding": finding, "choice": say("Id of a part of the catalogue, keep or none.", ID),
        "parts": say("What the way has in each slot.", held({slot: named("choice") for slot in slots}, additionalProperties=False)),
    }
    return {name: every[name] for name in names}


FINDING = ["path", "known", "verdict", "slot", "finding"]
WAITS = {"known": named("known"),
         "open": say("What the answer waits for: paths in the bike's file. Empty when nothing is open.",
                     listed(named("path"), uniqueItems=True))}


def gears(data):
    gear = held({"ring": say("Teeth.", TEETH), "sprocket": say("Teeth.", TEETH), "ratio": say("Ring over sprocket.", POSITIVE),
                 "development_m": say("Metres for a turn of the cranks; null while the wheel is open.", or_null(POSITIVE))})
    return "Answer of gears: which gears has it now?", held({
        "gears": say("In rising ratio; empty while rings or sprockets are open.", listed(gear)),
        "range_percent": say("Highest ratio over the lowest, percent.", or_null({"type": "number", "minimum": 100})),
        "lowest_m": say("Development of the lowest gear, m.", or_null(POSITIVE)),
        "highest_m": say("Development of the highest gear, m.", or_null(POSITIVE)),
        "steps_percent": say("From each gear to the next, percent.", listed({"type": "number", "minimum": 0})),
        "repeated": say("How many steps are so small that two gears repeat each other.", COUNT),
        **WAITS}, **{"$defs": defs(data, "path", "known")})


def line(data):
    angle = held({"ring": say("Teeth.", TEETH), "sprocket": say("Teeth.", TEETH),
                  "offset_mm": say("Ring's plane less the sprocket's, mm.", or_null(NUMBER)),
                  "angle_deg": say("Of the chain to the centre plane, degrees; sign of the offset.",
                                   or_null({"type": "number", "minimum": -90, "maximum": 90}))})
    change = {
        "means": say("What changes.",
                     {"enum": ["crank", "spindle", "ring_place", "ring_offset", "washers", "cup_spacers"]}),
        "value_mm": say("Length of the spindle, offset of the ring, thickness of the spacers, mm; 0: they come off.",
                        or_null(NUMBER)),
        "place": say("The place of the ring, instead of value_mm.", {"enum": ["outer", "middle", "inner"]})}
    changes = held({**change, "slot": named("slot"), "part": say("The shop's part.", or_null(ID))},
                   optional=["value_mm", "place"])
    means = held({
        **change,
        "moves_mm": say("How far the front line moves, outwards positive, mm.", NUMBER),
        "error_mm": say("Signed, with it, mm.", NUMBER),
        "drawback": say("Works, with something to know: spacers put both arms off centre.", BOOL),
        "measure": say("A rule waits for a measurement.", BOOL),
        "mean_offset_mm": say("Mean over the gears of the distance between ring's and sprocket's plane, mm.",
                              or_null({"type": "number", "minimum": 0})),
        "cost": say("Parts and labour, minor units; null where a part is not from the shop.", or_null(COUNT)),
        "changes": say("Every change that it takes; the first stands above too.", listed(changes, minItems=1)),
    }, optional=["value_mm", "place"])
    band = or_null({"type": "number", "minimum": 0})
    value = held({
        "path": named("path"),
        "band_mm": say("How far it may be off, either way, mm.", POSITIVE),
        "front_mm_per_mm": say("What a millimetre of it moves the front line, mm.", NUMBER),
        "rear_mm_per_mm": say("What a millimetre of it moves the rear line, mm.", NUMBER),
        "flips": say("Off by its band alone, it turns the answer round.", BOOL)})
    tolerance = held({
        "front_worst_mm": say("The front line at worst, mm.", band),
        "front_likely_mm": say("The front line as readings usually err, mm.", band),
        "rear_worst_mm": say("The rear line at worst, mm.", band),
        "rear_likely_mm": say("The rear line as readings usually err, mm.", band),
        "flips_at_worst": say("At worst the line lies on the other side of the window's edge.", BOOL),
        "flips_when_likely": say("The same, as readings usually err.", BOOL),
        "inputs": say("Each value behind the lines.", listed(value))})
    window = {"type": "array", "prefixItems": [NUMBER, NUMBER], "items": False, "minItems": 2}
    return "Answer of line: does the chain run straight?", held({
        "front_mm": say("Middle of the rings from the centre plane, mm.", or_null(NUMBER)),
        "rear_mm": say("Middle of the cassette from the centre plane, mm.", or_null(NUMBER)),
        "target_mm": say("The window that the frame wants, lower and upper end, mm.", {"anyOf": [window, {"type": "null"}]}),
        "target_from": say("What the frame had when new; the table by hub width and use; the rear line.",
                           {"enum": ["new", "table", "rear", None]}),
        "target_source": say("Where the window was published.", or_null(TEXT)),
        "error_mm": say("0 within the window, else the signed distance to its nearer end, mm.", or_null(NUMBER)),
        "angles": say("Of the chain in every gear, in rising ratio.", listed(angle)),
        "axles_mm": say("Between the axles, seen from above, mm.", or_null(POSITIVE)),
        "gap_assumed": say("Frame to smallest sprocket was not measured.", BOOL),
        "rear_mm_per_mm_of_gap": say("How far a millimetre of that gap moves the rear line, mm.", NUMBER),
        "angle_deg_per_mm_of_gap": say("How far a millimetre of that gap moves an angle, degrees.", or_null(NUMBER)),
        "arrangements": say("What brings the line nearer: no drawback first, then by error, parts changed and cost; empty "
                            "within the window.", listed(means)),
        "weighted": say("By how long each gear is used: least mean_offset_mm comes first then.", BOOL),
        "mean_offset_mm": say("Mean over the gears, by use where it was given, of the distance between ring's and sprocket's "
                              "plane, mm.", or_null({"type": "number", "minimum": 0})),
        "tolerance": say("How far the lines may be off, either way.", tolerance),
        **WAITS}, **{"$defs": defs(data, "path", "known", "slot")})


def chain(data):
    gear = held({
        "ring": say("Teeth.", TEETH), "sprocket": say("Teeth.", TEETH),
        "path_links": say("The least that the gear needs, the cage as far forward as it goes; pitches, not rounded.", or_null(POSITIVE)),
        "cage_deg": say("From guide to tension wheel, from straight down, forward positive; degrees.", or_null(NUMBER)),
        "gap_mm": say("Tips of guide wheel and sprocket, mm.", or_null(NUMBER)),
        "slack_links": say("That hang though the cage is as far back as it goes; below 0: that are missing; pitches.", or_null(NUMBER)),
        "ring_wrap_deg": say("How far the chain turns on the ring, degrees.", or_null(NUMBER)),
        "sprocket_wrap_deg": say("How far it turns on the sprocket, degrees.", or_null(NUMBER)),
        "tension_n": say("Of the lower run, from the cage's spring alone, N; 0 where the chain hangs or is short.", or_null(NUMBER)),
        "ground_mm": say("From the chain on the tension wheel to the ground, mm; null while the wheel is open.", or_null(NUMBER)),
        "growth_links": say("Of a bike that says how its axle goes: how much the bare loop grows over the travel, pitches; else null.",
                            or_null(NUMBER)),
        "longest_at_mm": say("Likewise: the travel at which it is longest, mm.", or_null(NUMBER)),
        "kickback_held_deg": say("Likewise: kick of the pedals over the whole travel, backward positive, the wheel held; degrees.", or_null(NUMBER)),
        "anti_squat_percent": say("Likewise: at sag, percent.", or_null(NUMBER)),
        "rest_cage_deg": say("With a spring behind: as cage_deg, at rest; else null; degrees.", or_null(NUMBER)),
        "rest_slack_links": say("With a spring behind: as slack_links, at rest, where most hangs; else null; pitches.", or_null(NUMBER)),
        "verdict": named("verdict")})
    taut = held({"links": say("To cut, joining link counted; pitches.", TEETH),
                 "half_link": say("One of them is a half link, for plain teeth only.", BOOL),
                 "chainstay_mm": say("From bottom bracket to axle when it is taut, mm.", POSITIVE)})
    return "Answer of chain: how long must the chain be?", held({
        "links": say("Pitches to cut, joining link counted; always even.", or_null({"type": "integer", "multipleOf": 2, "minimum": 2})),
        "bare_links": say("The bare loop round largest ring and largest sprocket, pitches, not rounded.", or_null(POSITIVE)),
        "rule_of_thumb_links": say("What the workshop rule gives, pitches.", or_null(TEETH)),
        "capacity_needed_teeth": say("What the gears ask of the cage, teeth.", or_null(COUNT)),
        "capacity_teeth": say("What the cage takes up, teeth.", or_null(COUNT)),
        "verdict": named("verdict"),
        "taut": say("One ring, one sprocket, no derailleur: the counts next to the bare loop, in rising order, and where the axle "
                    "keeps each taut. Else empty.", listed(taut, maxItems=3)),
        "chain_rule": say("The workshop rule that belongs to the derailleur; single: there is none, the axle keeps it taut.", {"enum": ["ordinary", "wide_single", "single"]}),
        "ring": say("The largest ring, teeth.", or_null(TEETH)),
        "sprocket": say("The largest sprocket, teeth.", or_null(TEETH)),
        "chainstay_mm": say("The chain stay that was used: the longest one of a suspended rear end, mm.", or_null(POSITIVE)),
        "interfaces": say("The joints that the chain takes part in.", listed(named("finding"))),
        "gears": say("How the cage stands in each gear, in rising ratio: from the usual shape of such a cage, so that no verdict "
                     "hangs on it alone. Empty while rings, sprockets, chain stay or derailleur are open.", listed(gear)),
        **WAITS}, **{"$defs": defs(data, *FINDING)})


def wear(data):
    families = [row["word"] for row in read(data, "words.csv") if row["domain"] == "chain_family"]
    percent = {"type": "number", "minimum": 0}
    worn = held({"slot": say("Where the part is.", named("slot")),
                 "verdict": say("Fits: may stay; drawback: may stay, with something to try; measure: look or measure first; "
                                "clash: goes.", {"enum": ["fits", "adapter", "drawback", "measure", "clash"]}),
                 "reason": say("In plain words, with the figures.", TEXT)})
    classes = held({"family": say("Of the chain.", {"enum": families}), "goes_at_percent": say("Elongation, percent.", percent),
                    "goes_at_mm": say("24 half-inch steps at that elongation, mm.", POSITIVE),
                    "source": say("Where the class was published.", TEXT)})
    return "Answer of wear: what is worn, and what may stay?", held({
        "family": say("Of the chain; null while it is open.", {"enum": [*families, None]}),
        "worn_percent": say("How much longer than new the chain is, percent; null while it is open.", or_null(NUMBER)),
        "over_24_mm": say("24 half-inch steps of it, mm.", or_null(POSITIVE)),
        "reading_band_percent": say("How far a reading by rule may be off, either way, percent; null for any other.", or_null(POSITIVE)),
        "too_near": say("The limit lies within that.", BOOL),
        "goes_at_percent": say("Elongation at which a chain of its class goes, the least of all while the class is open; percent.", percent),
        "goes_at_mm": say("24 half-inch steps at that elongation, mm.", POSITIVE),
        "new_sprockets_up_to_percent": say("Elongation over which it is not put on new sprockets, percent.", percent),
        "sprockets_worn_from_percent": say("Elongation from which sprockets and rings are expected to be worn too, percent.", percent),
        "chain": say("The chain on the sprockets of now.", worn),
        "new_sprockets_under_it": say("New sprockets under the chain of now.", worn),
        "under_new_chain": say("Cassette and rings of now under a new chain.", listed(worn)),
        "classes": say("Every class of chain.", listed(classes)),
        **WAITS}, **{"$defs": defs(data, "path", "known", "slot")})


def torque(data):
    row = held({
        "name": say("Of the row of the table.", TEXT), "what": say("What is tightened, in plain words.", TEXT),
        "low_nm": say("Least of the usual torques, N m; null where it is as marked on the part.", or_null(POSITIVE)),
        "high_nm": say("Most of them, N m.", or_null(POSITIVE)),
        "maker_nm": say("What the part's maker says, as it was given, N m; null: nothing was.", or_null(POSITIVE)),
        "unusual": say("The maker's figure lies outside the usual ones.", BOOL),
        "hand": say("Of the thread; null where it hangs on the shell.", {"enum": ["left", "right", None]}),
        "thread": say("As it is called; null where it is not that of a plain screw, or not known.", or_null(TEXT)),
        "screws": say("How many hold it; null where it is not known.", or_null(TEETH)),
        "friction_factor": say("Torque over preload and diameter, by what is on the screw.", POSITIVE),
        "friction_scatter_share": say("How far that may be off, either way, as a share of it.", POSITIVE),
        "preload_low_n": say("What each screw pulls at least, N: least torque, most friction; null without a thread.", or_null(POSITIVE)),
        "preload_high_n": say("What each pulls at most, N.", or_null(POSITIVE)),
        "operation": say("The row of data/operations.csv at which it is tightened.",
                         {"enum": [row["operation"] for row in read(data, "operations.csv")]}),
        "disputed": say("What other sources say.", or_null(TEXT)), "source": say("Where the torques were published.", TEXT),
        "mark": say("How sure they are, see data/standards/README.md.", {"enum": ["seen", "calc", "cp", "mem", "mem-low"]}),
        "note": say("What else is worth knowing.", or_null(TEXT))})
    return "Answer of torque: how tight?", held({"torques": say("In the order of the table.", listed(row, minItems=1))})


def shift(data):
    return "Answer of shift: does a click move one sprocket?", held({
        "step_mm": say("Way of the guide wheel for a click, mm.", or_null(NUMBER)),
        "pitch_mm": say("Sprocket to sprocket, mm.", or_null(POSITIVE)),
        "error_mm_total": say("(sprockets - 1) times (step - pitch), signed, mm.", or_null(NUMBER)),
        "verdict": named("verdict"),
        "pull_mm": say("Cable for a click, mm.", or_null(POSITIVE)),
        "ratio": say("Way of the guide wheel for a millimetre of cable.", or_null(POSITIVE)),
        "interfaces": say("The joints that shifting takes part in.", listed(named("finding"))),
        **WAITS}, **{"$defs": defs(data, *FINDING)})


def fit(data):
    return "Answer of fit: does it all fit together?", held(
        {"interfaces": say("Every joint of the bike as it stands.", listed(named("finding"))),
         "goes": say("Slots whose part goes, whatever it fits: worn, seized or damaged.", listed(named("slot"), uniqueItems=True))},
        **{"$defs": defs(data, *FINDING)})


def values():
    return {
        "cost": say("Parts and labour without tax, minor units.", COUNT),
        "price": say("Of the parts, minor units.", COUNT),
        "labour": say("Of the operations that the changed slots call for, minor units.", COUNT),
        "mass_g": say("Signed change against the bike as it stands, g; null while a part's mass is open and its kind's usual one too.",
                      or_null({"type": "integer"})),
        "mass_assumed": say("A part was not weighed: the usual mass of its kind stands in. False while mass_g is null.", BOOL),
        "lowest_m": say("Development of the lowest gear, m; null while the wheel is open.", or_null(POSITIVE)),
        "highest_m": say("Development of the highest gear, m; null while the wheel is open.", or_null(POSITIVE)),
        "line_error_mm": say("Distance outside the window in steps of 0.5, mm.",
                             or_null({"type": "number", "minimum": 0, "multipleOf": 0.5})),
        "bench_min": say("Minutes on the bench.", {"type": "number", "minimum": 0}),
        "changed": say("How many slots change.", COUNT),
        "in_band": say("Only with --route or --climb: of the time that is not coasted, the share with a gear in the rider's band, in "
                       "thousandths; null while the wheel is open.", or_null({"type": "number", "minimum": 0, "maximum": 1})),
        "walked_m": say("Only there: what is too steep for the lowest gear, m along the road; null likewise.", or_null(COUNT)),
        "parts": named("parts"),
    }


OF_RIDE = ["in_band", "walked_m"]  # keys of values() that need a ride


def build_of(data):
    case = {"type": "object", "minProperties": 1, "propertyNames": named("path"),
            "additionalProperties": {"type": ["number", "string", "null"]}}
    return held({
        **values(),
        "certain": say("It fits whatever is still to be measured.", BOOL),
        "cases": say("The cases in which it fits: what must measure as what; null: whatever it reads, it must be measured. "
                     "Empty when it is certain.", listed(case)),
        "drawbacks": say("Codes, rule and reason.", listed({"type": "string", "pattern": "^[a-z-]+[.][a-z0-9-]+$"}, uniqueItems=True)),
        "also_needed": say("Small parts that the job needs and that are in no price: not one of them is in cost.",
                           listed({"enum": [row["id"] for row in read(data, "small_parts.csv")]}, uniqueItems=True)),
        "equals": say("How many other part lists have the same values, cases and drawbacks.", COUNT),
        "picks": say("What it is picked for.", listed({"enum": PURPOSES}, uniqueItems=True)),
        "stand_ins": say("Of a pick: parts in stock that would do instead of those that must be ordered, by slot.",
                         {"type": "object", "propertyNames": named("slot"), "additionalProperties": ID}),
        "interfaces": say("Every joint of the way, with --why only.", listed(named("finding"))),
    }, optional=["interfaces", *OF_RIDE], description="One way: a part, keep or none for each slot.")


def lacking():
    return held({"id": say("The part.", ID), "property": say("What its sheet does not say.", TEXT)})


def why_not(data):
    build = {"anyOf": [named("build"), {"type": "null"}]}
    stop = held({
        "kind": say("A wish; a slot that the wish keeps; a part whose condition does not let it stay; a rule.",
                    {"enum": ["wish", "keep", "condition", "rule"]}),
        "name": say("The key of the wish, the slot, or the rule's id.", TEXT),
        "finding": say("Of a rule: what it says where all else would do.", {"anyOf": [named("finding"), {"type": "null"}]}),
        "without": say("The cheapest way that there would be without it.", held(values(), optional=OF_RIDE))})
    return "Answer of why-not: what stops a part, or two together, or any way at all", held({
        "asked": say("The parts that were asked for, and where they were tried; empty when it was about the whole plan.", listed(held({
            "id": say("The part.", ID),
            "slot": say("Null when a part is left out.", {"anyOf": [named("slot"), {"type": "null"}]})}))),
        "fits": say("Some way holds them.", BOOL),
        "complete": say("False: memory ended it, and what is not told may be there.", BOOL),
        "left_out": say("A part that is in no way, since its sheet lacks what a rule needs.", {"anyOf": [lacking(), {"type": "null"}]}),
        "build": say("One that nothing beats, else the cheapest that holds them.", build),
        "beaten_by": say("A way of the plan that beats it; null when none does.", build),
        "on_bike": say("What clashes on the bike as it stands with the parts in their places.", listed(named("finding"))),
        "against": say("A minimal conflict: no way meets all of these, and without any one of them there is one. Empty when they "
                       "fit, or when nothing that can be given up helps.", listed(stop)),
        "nearest": say("The part most like the first that some way holds.", or_null(ID)),
        "nearest_build": say("The cheapest way with it.", build),
    }, **{"$defs": {**defs(data, *FINDING, "choice", "parts"), "build": build_of(data)}})


def bench_operation(data):
    bench = read(data, "bench_operations.csv")
    words = lambda domain: [row["word"] for row in read(data, "words.csv") if row["domain"] == domain]
    torque = held({"name": say("Of the row of data/standards/torques.csv.", TEXT),
                   "low_nm": say("N m; null: as marked on the part.", or_null(POSITIVE)),
                   "high_nm": say("N m.", or_null(POSITIVE))})
    return held({
        "operation": say("The row of data/bench_operations.csv.", {"enum": [row["operation"] for row in bench]}),
        "what": say("What is done, in plain words.", TEXT),
        "caution": say("What to mind; null where nothing need be said.", or_null(TEXT)),
        "paid_by": say("The row of data/operations.csv that is charged for it.",
                       {"enum": [row["operation"] for row in read(data, "operations.csv")]}),
        "phase": say("Before the first bolt; off; on; set-up; final checks; found on strip-down.", {"enum": words("bench_phase")}),
        "place": say("Where the hands are.", {"enum": words("bench_place")}),
        "position": say("How the bike stands.", {"enum": words("bench_position")}),
        "tools": say("Rows of data/bench_tools.csv.",
                     listed({"enum": [row["tool"] for row in read(data, "bench_tools.csv")]}, uniqueItems=True)),
        "torques": say("How tight; of two kinds of bolts both.", listed(torque, maxItems=2)),
        "hand": say("Of the thread; null where there is none, or nobody has read the shell.", {"enum": ["left", "right", None]}),
        "surface": say("What goes on it.", {"enum": words("surface") + [None]}),
        "low_min": say("An ordinary shop's time at least, minutes.", {"type": "number", "minimum": 0}),
        "high_min": say("At most, minutes.", {"type": "number", "minimum": 0}),
        "source": say("Where it is known from.", TEXT)})


def work(data):
    minutes = {"type": "number", "minimum": 0}
    step = say("Index in steps, from 0.", COUNT)
    reading = held({
        "step": step,
        "check": say("The row of data/bench_checks.csv; null: it is a torque.",
                     {"enum": [row["check"] for row in read(data, "bench_checks.csv")] + [None]}),
        "torque": say("The row of torques.csv; null: it is a check.", or_null(TEXT)),
        "what": say("What is read, in plain words.", TEXT), "unit": say("mm, N·m, pitches, turns.", TEXT),
        "low": say("At least; null: no limit, or as marked on the part.", or_null(NUMBER)),
        "high": say("At most; null likewise.", or_null(NUMBER)),
        "expected": say("What was worked out; null: nothing was.", or_null(NUMBER)), "known": named("known")})
    ask = held({
        "before_step": say("Index in steps: as early as the value can be read, before anything that hangs on it.", COUNT),
        "path": named("path"), "decides": say("With another reading the way falls; false: it was only assumed.", BOOL),
        "stands": say("Usual readings with which the way stands; empty where it has none.", listed({}))})
    charged = held({"operation": say("The row of data/operations.csv.", TEXT), "minutes": say("The shop's.", minutes),
                    "labour": say("Minor units.", COUNT)})
    sheet = {
        "parts": say("What the way has in each slot.", named("parts")),
        "charged_min": say("Minutes that are charged: the plan's bench_min.", minutes),
        "low_min": say("Minutes at the bench at least, by the shop's own times.", minutes), "high_min": say("At most, minutes.", minutes),
        "turns": say("How often the bike is turned.", COUNT), "moves": say("How often the place changes.", COUNT),
        "tool_changes": say("Tools taken up that were not in use before.", COUNT),
        "least": say("No order that is allowed has fewer, in this sequence.", BOOL),
        "charged": say("What is charged, row by row.", listed(charged)), "labour": say("Their sum, minor units: the plan's.", COUNT),
        "red": say("What spoils the job when it is missed, in sentences.", listed(TEXT)),
        "to_measure": say("What nobody has read yet, by step.", listed(ask)),
        "steps": say("The operations in order.", listed(named("bench"))),
        "readings": say("What is written down with each step, with its limits.", listed(reading)),
        "found": say("What strip-down may bring to light; none of it is charged.", listed(named("bench")))}
    return "Answer of work: the bench sheet of one way of a plan", held({
        "way": say("Its letter among the plan's picks; null: the plan has no way, and nothing else is told.",
                   {"type": ["string", "null"], "pattern": "^[A-E]$"}),
        "complete": say("Without a way: the search was complete.", BOOL), **sheet,
    }, optional=["complete", *sheet], **{"$defs": {**defs(data, *FINDING, "choice", "parts"), "bench": bench_operation(data)},
        "if": {"properties": {"way": {"type": "string"}}}, "then": {"required": list(sheet)}, "else": {"required": ["complete"]}})


def plan(data):
    build = build_of(data)
    relief = {"anyOf": [
        held({"give_up": say("The wishes whose giving up opens a way.", listed({"enum": WISHES}, uniqueItems=True, minItems=1)), **values()}, optional=OF_RIDE),
        held({"catalogue": say("That no set of wishes helps, in words.", TEXT)}),
        held({"limit": say("That the search was not complete, and found none, in words.", TEXT)})]}
    assumed = held({"path": say("Where it stands in the bike's file.", named("path")),
                    "value": say("What it is taken as, in the property's unit, or a word.", {"type": ["number", "string", "array"]})})
    return "Answer of plan: the ways that no other way beats", held({
        "builds": say("The picks first, in rising cost; then the others, in rising cost.", listed(named("build"))),
        "front_size": say("How many ways there are in all.", COUNT),
        "objectives": say("What was compared.", listed({"enum": OBJECTIVES}, uniqueItems=True, minItems=1)),
        "complete": say("The search saw every way. False, and memory ended it: the ways are those of the front that hang on nothing, "
                        "or none. False, and time ended it: they are a part of the front all the same.", BOOL),
        "open_gears": say("When time ended it: gearings that were not looked at whole, of which there may be more ways; null when it was none. "
                          "Else empty.", {"anyOf": [{"type": "null"}, listed(held({
                              "lowest_m": say("Lowest gear, m; null where it is not compared.", or_null(POSITIVE)),
                              "highest_m": say("Highest gear, as far as it counts, m; null where it is not compared.", or_null(POSITIVE))}))]}),
        "currency": say("ISO 4217.", {"type": "string", "pattern": "^[A-Z]{3}$"}),
        "now": say("The bike as it stands.", held({
            "lowest_m": say("Development of its lowest gear, m.", or_null(POSITIVE)),
            "highest_m": say("Development of its highest gear, m.", or_null(POSITIVE))})),
        "keep_rings": say("The cheapest way of keeping the rings; where one of them can't stay, with "
                          "new ones of the sizes of now, or else of any. Null when there is none.", {"anyOf": [named("build"), {"type": "null"}]}),
        "keep_rings_clean": say("The cheapest way of keeping the rings that has no drawback. Null when there is none.",
                                {"anyOf": [named("build"), {"type": "null"}]}),
        "climbs": say("What the hills of the wish ask of the lowest gear.", listed(held({
            "gradient_percent": say("Of the hill, percent.", POSITIVE), "cadence_rpm": say("Turns a minute to keep.", POSITIVE),
            "lowest_m_max": say("Development for it, m, by the rider of the bike as it stands.", POSITIVE),
            "known": say("How that is known: as the weakest figure of the rider.", named("known"))}), minItems=1)),
        "left_out": say("Parts of the catalogue that lack what a rule needs.", listed(lacking())),
        "open": say("What the ways wait for: paths in the bike's file.", listed(named("path"), uniqueItems=True)),
        "not_stated": say("What the ways wait for on the sheets of the catalogue's parts: masses.", listed(lacking(), uniqueItems=True)),
        "assumed": say("What was assumed of the bike, because nobody measured it and no table tells it for sure.", listed(assumed)),
        "cases_cut": say("There were more cases of what is open than are told apart.", BOOL),
        "because": say("When there is no way: the smallest sets of wishes whose giving up opens one, and what it opens.",
                       listed(relief, minItems=1)),
    }, optional=["because", "climbs"], **{
        "$defs": {**defs(data, *FINDING, "choice", "parts"), "build": build},
        "if": {"properties": {"builds": {"maxItems": 0}}}, "then": {"required": ["because"]}})


def quote(data):
    day = {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
    slots = listed(named("slot"), uniqueItems=True)
    choice = held({
        "letter": say("Of the plan's way; null for keeping the rings.", or_null({"type": "string", "pattern": "^[A-E]$"})),
        "parts_amount": say("Sum of part_lines.", COUNT),
        "labour_amount": say("Sum of labour_lines.", COUNT),
        "consumables_amount": say("Share of labour, taxed as labour.", COUNT),
        "discount_amount": say("Off these three.", COUNT),
        "taxes": say("One for each rate, reckoned once on all lines of that rate, less the discount.", listed(held({
            "percent": say("The rate.", {"type": "number", "minimum": 0, "maximum": 100}),
            "amount": say("Added to the lines, or held in them.", COUNT)}), minItems=1, maxItems=2)),
        "net": say("Without tax.", COUNT),
        "total": say("To pay: net and taxes.", COUNT),
        "cash": say("The total as coins can pay it.", COUNT),
        "deposit": say("On parts that must be ordered.", COUNT),
        "part_lines": say("New parts, in the order of the slots.", listed(held({
            "slot": say("Where it goes.", named("slot")), "id": say("In the catalogue.", ID), "text": say("What it is, in words.", TEXT),
            "amount": say("As the list has it.", COUNT), "ordered": say("None is here.", BOOL)}))),
        "labour_lines": say("Operations that are charged.", listed(held({
            "operation": say("Row of data/operations.csv.", {"enum": [row["operation"] for row in read(data, "operations.csv")]}),
            "text": say("What it is, in words.", TEXT), "amount": say("Minutes at the shop's rate, rounded once.", COUNT)}))),
        "stays": say("Slots whose part stays.", slots),
        "comes_off": say("Slots whose part of now comes off.", slots),
        "not_in_it": say("Small parts that the job needs and that are in no price.",
                         listed({"enum": [row["id"] for row in read(data, "small_parts.csv")]}, uniqueItems=True)),
        "may_be_found": say("What strip-down may bring to light, and then takes longer; in no price.", listed(held({
            "operation": say("Row of data/bench_operations.csv.", {"enum": [row["operation"] for row in read(data, "bench_operations.csv")]}),
            "least_min": say("Minutes at least.", {"type": "number", "minimum": 0}),
            "most_min": say("Minutes at most.", {"type": "number", "minimum": 0})}))),
        "parts_here": say("When the last part is here; null when the list does not say.", or_null(day)),
        "build": say("The way as the plan has it, without tax.", named("build")),
    })
    return "Answer of quote: what does it cost, and what is it for?", held({
        "format": say("Of this document.", {"const": 1}),
        "label": say("Of the bike.", {"type": "string"}),
        "day": say("Of the quote.", day),
        "holds_until": say("The last day on which it holds; null: the shop does not say.", or_null(day)),
        "currency": say("ISO 4217; all amounts are in its minor units.", {"type": "string", "pattern": "^[A-Z]{3}$"}),
        "amounts_include_tax": say("The lines hold the tax, and none is added.", BOOL),
        "discount_percent": say("Off parts, labour and consumables, percent.", {"type": "number", "minimum": 0, "maximum": 100}),
        "call_first": say("More than this, with tax, and the customer is called first; null: not agreed.", or_null(COUNT)),
        "old_parts": say("What becomes of them; null: nobody was asked.", {"enum": ["back", "scrap", None]}),
        "climb": say("The climbs on which the ways were compared, as --climb took them; null: none.", {"type": ["string", "null"]}),
        "revision": say("Of the catalogue.", TEXT),
        "choices": say("In rising cost.", listed(named("choice_of_quote"), maxItems=3)),
        "keep_rings": say("Keeping the rings, without a drawback where that can be; null: they are kept anyway, or can't be.",
                          {"anyOf": [named("choice_of_quote"), {"type": "null"}]}),
    }, **{"$defs": {**defs(data, *FINDING, "choice", "parts"), "build": build_of(data), "choice_of_quote": choice}})


ENTRY_KINDS = ["agreed", "done", "measured", "swapped", "fault", "minutes", "signed"]
TIME = {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-2][0-9]:[0-5][0-9]$"}


def entry_of():
    return held({
        "format": say("Of this document.", {"const": 1}),
        "kind": say("What happened.", {"enum": ENTRY_KINDS}),
        "at": say("When.", TIME), "by": say("Who.", TEXT),
        "name": say("Of agreed: letter of the way, or keep. Of done: row of data/bench_operations.csv. Of measured: a check, a torque or a length of "
                    "the frame. Of swapped: the slot.", TEXT),
        "text": say("Of swapped: id of the part, keep or none. Of fault: what was found. Of signed: who signs.", TEXT),
        "value": say("Of measured: the reading, mm or N m. Of done and minutes: minutes.", NUMBER),
        "low": say("Of measured: least that is allowed.", NUMBER), "high": say("Of measured: most that is allowed.", NUMBER),
        "reason": say("Why it is so; a value outside its limits has one.", TEXT),
    }, optional=["by", "name", "text", "value", "low", "high", "reason"], additionalProperties=False)


def entry(data):
    return "An entry of a job's record: record/0001.json and so on", entry_of()


def record(data):
    return "Answer of record: how far is the job?", held({
        "label": say("Of the bike.", {"type": "string"}),
        "last": say("Number of the last entry; what --after names.", COUNT),
        "agreed": say("Letter of the way, or keep; null: none is agreed.", or_null(TEXT)),
        "parts": say("What the build holds now, swaps counted; null: no way is agreed.", {"anyOf": [named("parts"), {"type": "null"}]}),
        "steps": say("Operations of the sheet, in its order.", listed(held({
            "operation": say("Row of data/bench_operations.csv.", {"enum": [row["operation"] for row in read(data, "bench_operations.csv")]}),
            "done_at": say("When; null: to be done.", or_null(TIME))}))),
        "signed": say("Somebody has signed.", BOOL),
        "entries": say("All of them, the first first.", listed(named("entry"))),
    }, **{"$defs": {**defs(data, "slot", "choice", "parts"), "entry": entry_of()}})


def handover(data):
    return "Answer of handover: what was done, and what is to be looked at?", held({
        "label": say("Of the bike.", {"type": "string"}),
        "letter": say("Of the way, or keep.", TEXT),
        "signed_by": say("Null: nobody has signed.", or_null(TEXT)),
        "parts": named("parts"),
        "links": say("To which the chain is cut, joining link counted; null while it is open.", or_null(TEETH)),
        "chain_goes_at_percent": say("Wear at which the chain goes, percent; null while its family is open.", or_null(POSITIVE)),
        "measured": say("The last reading of each.", listed(named("entry"))),
        "faults": say("What was found.", listed(named("entry"))),
        "look_at": say("After the first 100 km, in words.", listed(TEXT)),
    }, **{"$defs": {**defs(data, "slot", "choice", "parts"), "entry": entry_of()}})


def buy_list(data):
    return "Answer of buy-list: what is to be ordered?", held({
        "currency": say("ISO 4217.", {"type": "string", "pattern": "^[A-Z]{3}$"}),
        "parts": say("By supplier, those without one last; then by kind and id.", listed(held({
            "supplier": say("Null: not said.", or_null(TEXT)), "id": say("In the list.", ID), "text": say("What it is, in words.", TEXT),
            "pieces": say("That all jobs need.", TEETH), "from_shelf": say("Of these are here.", COUNT), "order": say("The rest.", COUNT),
            "days": say("Until what is ordered is here; null: not said.", or_null(COUNT)),
            "price": say("Of a piece, minor units, as the list has it.", COUNT),
            "jobs": say("That need it.", listed(TEXT, uniqueItems=True))}))),
        "small_parts": say("That no list prices.", listed(held({
            "id": say("Row of data/small_parts.csv.", {"enum": [row["id"] for row in read(data, "small_parts.csv")]}),
            "pieces": say("How many jobs need it.", TEETH)}))),
    })


def batch(data):
    return "One line of the answer of plan --batch", held({
        "line": say("Which line of the file it answers, from 1.", TEETH),
        "label": say("Of the bike; null when the line could not be read.", or_null({"type": "string"})),
        "plan": say("As plan answers for this bike alone; see plan.schema.json.", {"type": "object", "required": ["builds"]}),
        "refused": say("The bike is turned down; see refused.schema.json.", {"type": "object", "required": ["why"]}),
        "faults": say("What is wrong with the line; see faults.schema.json.", {"type": "array", "minItems": 1}),
        "total": say("How many faults there are.", TEETH),
    }, optional=["plan", "refused", "faults", "total"],
        oneOf=[{"required": ["plan"]}, {"required": ["refused"]}, {"required": ["faults", "total"]}])


def refused(data):
    return "Answer of any question about a bike that is turned down", held({"refused": say("Why, and what then.", held({
        "why": say("In plain words.", TEXT), "can_do": say("What can still be done, in plain words.", TEXT),
        "code": say("The reason as a code, which means the same for ever.", {"type": "string", "pattern": "^[a-z]+([.-][a-z]+)*$"})}))})


def faults(data):
    fault = held({
        "file": say("As the user named it; - is standard input.", TEXT),
        "line": say("From 1; null where a path says where.", or_null(TEETH)),
        "column": say("In characters, from 1.", or_null(TEETH)),
        "path": say("JSON pointer, or the name of a CSV column; cut to 60 characters.", or_null({"type": "string"})),
        "found": say("Cut to 60 characters; null when the name at the end of the path is unknown.", or_null({"type": "string"})),
        "allowed": say("In words.", TEXT),
        "nearest": say("The nearest known name, or the number that was probably meant.", or_null({"type": "string"})),
    }, additionalProperties=False)
    return "What is wrong with what was read", held({
        "faults": say("At most 50.", listed(fault, minItems=1, maxItems=50)),
        "total": say("How many there are, those that are not told included.", TEETH)})


def explain(data):
    name = say("As it stands in files and answers.", TEXT)
    sorts = {
        "rule": {"what": say("What it judges, in a sentence.", or_null(TEXT)), "more": say("More of it.", or_null(TEXT)),
                 "never_overruled": say("Safety: nobody may overrule it.", BOOL), "source": say("Where its figures come from.", TEXT),
                 "reasons": say("Codes of what it may say.", listed(TEXT))},
        "reason": {"rule": say("The rule that says it.", TEXT), "text": say("Its sentence; {0} and so on are figures.", or_null(TEXT))},
        "slot": {"label": say("What people call it.", TEXT), "kind": say("Of the parts that it takes.", TEXT),
                 "what": say("More of it.", or_null(TEXT)), "may_be_none": say("It may be empty.", BOOL),
                 "rules": say("That look at it.", listed(TEXT))},
        "property": {"kind": say("Whose property it is.", TEXT), "label": say("What people call it.", TEXT),
                     "unit": say("Null where it has none.", or_null(TEXT)), "low": say("Least value, in the unit.", or_null(NUMBER)),
                     "high": say("Largest value, in the unit.", or_null(NUMBER)), "words": say("That it may be.", listed(TEXT)),
                     "usual": say("Values that usually occur.", listed({"type": ["number", "string"]})),
                     "assumed": say("What is assumed when nobody measured it.", {"type": ["number", "string", "null"]}),
                     "measure": say("How it is measured.", or_null(TEXT)),
                     "minutes": say("To measure it, min.", {"type": "number", "minimum": 0})},
        "kind": {"properties": say("In the order of the vocabulary.", listed(TEXT))},
        "mark": {"label": say("What people read.", TEXT), "what": say("What it means.", TEXT)},
        "word": {"of": say("The list of words that it belongs to.", TEXT), "label": say("What people read.", TEXT),
                 "note": say("More of it.", or_null(TEXT))},
        "list": {"names": say("Everything that there is of this sort.", listed(TEXT))},
    }
    found = {"oneOf": [held({"sort": say("What it is.", {"const": sort}), "name": name, **more}) for sort, more in sorts.items()]}
    return "Answer of explain: what does a name mean?", held(
        {"found": say("Everything that is called so.", listed(found, minItems=1))})


def parts(data):
    value = {"type": ["number", "string", "array"]}
    stated = {"anyOf": [value, held({"value": say("The value.", value), "known": named("known")})]}
    part = held({
        "id": say("In the catalogue.", ID), "kind": say("Of part.", {"enum": sorted({row["kind"] for row in read(data, "slots.csv")})}),
        "price": say("Without tax, minor units.", COUNT), "stock": say("How many are here; null when the list does not say.", or_null(COUNT)),
        "days": say("Until it is here, when it is not; null when the list does not say.", or_null(COUNT)),
        "properties": say("By the vocabulary, in its units. One that the list does not say itself tells how it is known.",
                          {"type": "object", "additionalProperties": stated})})
    return "Answer of parts: what has the shop?", held({
        "currency": say("ISO 4217.", {"type": "string", "pattern": "^[A-Z]{3}$"}),
        "revision": say("A short name of this state of the list.", TEXT),
        "parts": say("By kind, then by id.", listed(part))}, **{"$defs": defs(data, "known")})


def check_data(data):
    kinds = sorted({row["kind"] for row in read(data, "slots.csv")})
    return "Answer of check-data when there is nothing to mend", held({
        "currency": say("ISO 4217.", {"type": "string", "pattern": "^[A-Z]{3}$"}),
        "revision": say("A short name of this state of the list.", TEXT),
        "parts": say("How many in all.", COUNT),
        "kinds": say("How many of each kind that there are any of.",
                     {"type": "object", "propertyNames": {"enum": kinds}, "additionalProperties": TEETH})})


def version(data):
    return "Answer of version", held({"version": say("Of the program.", {"type": "string", "pattern": "^[0-9]+([.][0-9]+)+$"})})


def ride(data):
    share = {"type": "number", "minimum": 0, "maximum": 1}
    length = {"type": "number", "minimum": 0}
    joule = {"type": "number"}
    modes = ["in_band", "below", "above", "coasting", "walked"]
    shares = or_null(held({
        "in_band": say("Pedalled within the cadence band, or with a gear at hand that is.", share),
        "below": say("Pedalled slower than the band, with no gear to bring it there.", share),
        "above": say("Pedalled faster than the band, likewise.", share),
        "coasting": say("Not pedalled; braked too.", share), "walked": say("On foot.", share)}))
    gear = held({
        "ring": say("Teeth.", TEETH), "sprocket": say("Teeth.", TEETH), "development_m": say("Metres for a turn of the cranks.", POSITIVE),
        "efficiency": say("Of the drive in this gear.", {"type": "number", "exclusiveMinimum": 0, "maximum": 1}),
        "time_s": say("Pedalled in it, s.", length), "time_share": say("Of the whole time.", share),
        "distance_m": say("Pedalled in it, m.", length), "climbing_m": say("Of this, uphill, m.", length)})
    run = {
        "time_s": say("By the rider's power, s.", POSITIVE),
        "energy_j": say("Where the energy goes, J: rider = the sum of the others.", held({
            "rider": say("Given at the cranks, or pushing.", length), "air": say("Taken by the air.", joule),
            "rolling": say("By the tyres.", length), "bearings": say("By the wheels' bearings.", length),
            "gravity": say("By the height that was gained; below 0 where the end lies lower.", joule),
            "kinetic": say("By the speed at the end against that at the start.", joule),
            "drive": say("By chain and derailleur.", length), "brakes": say("By the brakes.", length)})),
        "time_share": say("Of the time; null while gears are open.", shares),
        "distance_share": say("The same of the way.", shares),
        "shifts": say("Sprockets and rings that are moved; null while gears are open.", or_null(held({
            "rear": say("Sprockets.", COUNT), "front": say("Rings.", COUNT)}))),
        "widest_step_percent": say("Between two gears that were shifted between, percent.", or_null(length)),
        "slowest_cadence_rpm": say("Of all that is pedalled, turns a minute.", or_null(POSITIVE)),
        "fastest_mps": say("Speed, m/s.", POSITIVE),
        "gears": say("In rising development; empty while they are open.", listed(gear))}
    pitch = held({"from_m": say("Along the road from the start, m.", length), "length_m": say("Of the pitch, m.", POSITIVE),
                  "gradient_percent": say("Mean, percent.", NUMBER),
                  "cadence_rpm": say("Mean, turns a minute, of the bike as it stands, then of each way; null where nothing is pedalled.", listed(or_null(POSITIVE)))})
    scores = {**{mode: say("Share of the time, by the speeds of a ride without gears.", share) for mode in modes + ["between"]},
              "walked_m": say("What is walked, m along the road.", length)}
    ring = held({"ring": say("Teeth.", TEETH), "lowest_m": say("Development, m.", POSITIVE), "highest_m": say("Development, m.", POSITIVE),
                 **scores})
    scored = held({"cost": say("Of the way, minor units, parts and labour.", COUNT), "lowest_m": say("Development, m.", POSITIVE),
                   "highest_m": say("Development, m.", POSITIVE),
                   **scores})
    way = held({"letter": say("As the plan names it.", {"type": "string", "pattern": "^[A-Z]$"}), "parts": named("parts"),
                "longer_s": say("Than with the gears of now, s; below 0: less long.", NUMBER),
                "longer_downhill_s": say("Of this, downhill, s.", NUMBER), **run})
    return "Answer of ride: will these gears do on this route?", held({
        "distance_m": say("Along the ellipsoid, m; breaks left out.", POSITIVE), "climb_m": say("Up, m, by turns of climb_from_m at least.", length),
        "descent_m": say("Down, m, likewise.", length), **run,
        "steepest_percent": say("Of the cells of some 10 m, percent.", NUMBER),
        "gradient_over_m": say("Length of the line whose slope is the gradient, m; null where climbs were stated, as are the two keys below.", or_null(POSITIVE)),
        "climb_from_m": say("What a turn of the way must go back to count, m.", or_null(length)),
        "height_noise_m": say("Scatter of a height about its neighbours, m, estimated.", or_null(length)),
        "needed_development_m": say("Development, m, that keeps the cadence at the low end of the band for 95 % of the time uphill; null where nothing is climbed.", or_null(POSITIVE)),
        "highest_development_m": say("Development, m, past which the rider pedals for 1 % of the time.", length),
        "pitches": say("The steepest, in the order of the way.", listed(pitch, maxItems=3)),
        "rings": say("One ring each with the sprockets of now.", listed(ring)),
        "ways": say("The picks of a plan on the same route.", listed(way)),
        "front": say("Every way of the plan that nothing beats, in its order.", listed(scored)),
        "rider": say("What was reckoned with.", held({
            "power_w": say("At the cranks, W.", POSITIVE), "mass_kg": say("With bike and load, kg.", POSITIVE),
            "cadence_rpm": say("Lowest and highest that is liked, turns a minute.", listed(POSITIVE, minItems=2, maxItems=2)),
            "least_cadence_rpm": say("Below it the rider walks, turns a minute.", POSITIVE), "coasts_from_mps": say("Speed, m/s.", POSITIVE),
            "brakes_at_mps": say("Speed, m/s.", POSITIVE), "walks_at_mps": say("Speed, m/s.", POSITIVE)})),
        "left_out": say("Of the track, since it can't be so or nobody knows.", held({
            "breaks": say("Where the track goes on elsewhere.", COUNT), "breaks_m": say("How far, straight, m.", length),
            "without_heights_m": say("Pieces without any height, m.", length), "bridged_heights_m": say("Filled in between heights, m.", length),
            "height_spikes": say("Heights that can't be.", COUNT), "positions_astray": say("That jump away and back.", COUNT),
            "points_standing": say("Where the bike stood.", COUNT), "times_back": say("Times before the one before.", COUNT)})),
        "known": say("Of speeds and cadences: the weakest figure behind them.", named("known")),
        "open": say("Paths in the bike's file that the gears wait for.", listed(named("path"), uniqueItems=True)),
    }, **{"$defs": defs(data, "known", "path", "slot", "choice", "parts")})


def climb(data):
    known = named("known")
    figure = held({"value": say("In the unit that the key ends with; null while it is open.", or_null(NUMBER)), "known": known})
    band = held({"value": say("Lowest and highest, turns a minute.", listed(POSITIVE, minItems=2, maxItems=2)), "known": known})
    rows = {row["property"]: row for row in read(data, "vocabulary.csv") if row["kind"] == "rider"}
    told = lambda key, schema: say(f"As in the bike's file: {rows[key]['label']}, {rows[key]['unit'] or 'no unit'}.", schema)
    watts = {"type": "number", "minimum": 0}
    gear = held({
        "ring": say("Teeth.", TEETH), "sprocket": say("Teeth.", TEETH),
        "development_m": say("Metres for a turn of the cranks; null while the wheel is open, as are the keys below.", or_null(POSITIVE)),
        "cadence_rpm": say("Turns of the cranks a minute on this hill.", or_null(POSITIVE)),
        "state": say("Against the rider's band uphill, ends included in it.", {"enum": ["in_band", "below", "above", None]}),
        "walked": say("Slower than the rider bears.", {"enum": [True, False, None]}),
        "speed_mps": say("In this gear, m/s: it differs from gear to gear by what the drive loses.", or_null(POSITIVE)),
        "efficiency": say("Of the drive in this gear: a share, 0 to 1.", or_null({"type": "number", "exclusiveMinimum": 0, "maximum": 1})),
        "drive_loss_w": say("What the drive loses in this gear, W.", or_null(watts)),
        "losses_w": say("Where, W; null where the efficiency is a fixed share.", {"anyOf": [{"type": "null"}, held({
            "ring_and_sprocket": say("Joints of the chain that bend there, W.", watts),
            "derailleur_wheels": say("And on guide and tension wheel, W.", watts),
            "chain_angle": say("And sideways, W; 0 while the chain line is open.", watts)})]})})
    ring = held({
        "ring": say("Teeth, of a ring alone with the cassette that is there.", TEETH),
        "serves": say("At or above the cadence that is wanted.", BOOL),
        "lowest_m": say("Development on the largest sprocket, m.", POSITIVE),
        "cadence_rpm": say("There on this hill, turns a minute.", POSITIVE),
        "highest_m": say("Development on the smallest sprocket, m.", POSITIVE),
        "top_km_h": say("There at the top of the rider's band on the flat, km/h.", POSITIVE),
        "than_now_percent": say("The highest gear against that of now, percent; below 0: lower.", NUMBER)})
    keys = {
        "gradient_percent": say("Of the hill: rise over horizontal run, percent.", {"type": "number", "minimum": 0, "maximum": 60}),
        "wanted_cadence_rpm": say("Turns a minute to keep: as asked, else the low end of the band uphill.", POSITIVE),
        "speed_mps": say("Steady, m/s, in the gear that the rider takes; while gears or wheel are open with a usual drive.", POSITIVE),
        "wheel_power_w": say("What it takes at the wheel at that speed, by cause.", held({
            "air": say("Body, bike and turning wheels, W.", watts), "rolling": say("Tyres on the ground, W.", watts),
            "bearings": say("Of both wheels, W.", watts), "gravity": say("W.", watts)})),
        "drive_loss_w": say("Between cranks and wheel at that speed, W.", watts),
        "gears": say("In rising ratio; empty while rings or sprockets are open.", listed(gear)),
        "taken": say("Index, from 0, of the gear that the rider takes: in the band and nearest to its middle, else nearest to the band; null while none is known.", or_null(COUNT)),
        "needed_development_m": say("The gear, m a turn, that turns the wanted cadence at that speed.", POSITIVE),
        "largest_ring": say("Teeth of the largest ring that serves with this cassette, 20 to 60; null: none does, or it is open.", or_null(TEETH)),
        "rings": say("Rings about that one, falling; empty while gears or wheel are open.", listed(ring)),
        "pedal_force_n": say("Mean along the pedals' path in the gear that is taken, N.", or_null(POSITIVE)),
        "lift_gradient_percent": say("Where the front wheel lifts, percent; null while the centre of mass is open.", or_null(POSITIVE)),
        "slip_gradient_percent": say("Where the rear tyre slips as long as the front wheel stands, percent; null while it is open, or never.", or_null(POSITIVE)),
        "never_slips": say("The weight comes to the rear wheel faster than the force grows.", BOOL),
        "rider": say("What was reckoned with.", held({
            **{key: told(key, figure) for key in ["mass_kg", "bike_mass_kg", "power_w", "least_cadence_rpm", "cda_m2", "wheel_drag_area_m2", "crr",
                                       "air_density_kg_m3", "drive_efficiency", "crank_mm", "com_forward_mm", "com_height_mm", "grip"]},
            "power_from": say("What the power was taken from.", {"enum": ["given", "known_climb", "power_w_per_kg", "training"]}),
            "cadence_rpm": told("cadence_rpm", band), "climb_cadence_rpm": told("climb_cadence_rpm", band)})),
        **WAITS}
    stated = {"length_m": say("As it was stated, m along the road.", POSITIVE), "time_s": say("At that speed, s.", POSITIVE)}
    listing = {"climbs": say("Only with --climb: each of the climbs, with the keys of a hill; none of these stands beside it then.",
                             listed(held({**stated, **keys}), minItems=1))}
    return "Answer of climb: will these gears climb it?", {
        "type": "object", "properties": {**keys, **listing}, "anyOf": [{"required": list(keys)}, {"required": ["climbs"]}],
        "$defs": defs(data, "path", "known")}


def case(data):
    return "case.json of a saved case: what was asked", held({
        "command": say("Of the program.", {"enum": ["gears", "line", "chain", "shift", "fit", "wear", "climb", "ride", "plan", "why-not"]}),
        "climb": say("Of climb, ride, plan and why-not: the climbs as they were stated.", TEXT),
        "part": say("Of why-not: the part that is asked about.", ID),
        "with": say("Of why-not: the part that is to go with it.", ID),
        "gradient_percent": say("Of climb: the hill's, percent.", {"type": "number", "minimum": 0, "maximum": 60}),
        "cadence_rpm": say("Of climb: turns of the cranks a minute that are wanted.", POSITIVE),
        "ways": say("Of plan: how many ways at most.", TEETH),
        "memory_mib": say("Of plan: the most memory of the search, MiB.", TEETH),
        "limit_s": say("Of plan: the most time of the search, s.", POSITIVE),
        "why": say("Of plan: with every joint of every way.", BOOL),
        "ruler_mm": say("Of wear: what the rule reads over 24 half-inch steps, mm.", POSITIVE),
        "gauge_percent": say("Of wear: what the gauge reads, percent.", NUMBER),
        "version": say("Of the program that saved it.", TEXT)}, optional=["climb", "ruler_mm", "gauge_percent", "part", "with", "gradient_percent", "cadence_rpm", "ways", "memory_mib", "limit_s", "why", "version"], additionalProperties=False)


MAKERS = {"gears": gears, "line": line, "chain": chain, "shift": shift, "fit": fit, "wear": wear, "torque": torque, "climb": climb, "ride": ride, "plan": plan, "quote": quote, "entry": entry, "record": record, "handover": handover, "buy-list": buy_list, "why-not": why_not, "work": work, "batch": batch, "refused": refused,
          "faults": faults, "explain": explain, "parts": parts, "check-data": check_data, "version": version, "case": case}
