#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every kind of bad input through the program: exit status 3, nothing on standard output, and on standard error one line
for each fault in the form that the project has set (file:line:column or file and path: what was found, what is allowed,
the nearest), or with --json one document that its schema accepts and that tells the same. Wrong usage: exit status 2 and
the usage. What can't be written: 4."""
import itertools
import json
import os
import re
import tempfile

import running
from running import bike, complaints, document_of, run, tap

QUESTIONS = itertools.cycle(["gears", "line", "chain", "shift", "fit"])
LINE = re.compile(r"[^\n:]+(:[1-9]\d*(:[1-9]\d*)?)?: (/?[^\s:]+: )?(found .+, .*allowed.*|unknown.*)[.?]$")
GOOD_BIKE = running.bike_path("quillmoor-trail")
FOLDER = tempfile.TemporaryDirectory()
_files = itertools.count(1)


def file_of(content, name="bike.json"):
    """A new file of this name and content (bytes, text, or a document) in a folder of its own."""
    path = os.path.join(FOLDER.name, str(next(_files)), name)
    os.makedirs(os.path.dirname(path))
    if not isinstance(content, (bytes, str)):
        content = json.dumps(content)
    with open(path, "wb") as file:
        file.write(content if isinstance(content, bytes) else content.encode())
    return path


def shop_of(**files):
    """A folder with a shop.json and the demo's cassettes, changed: name with _ for the point -> content; None: not there."""
    folder = os.path.join(FOLDER.name, str(next(_files)))
    os.makedirs(folder)
    with open(os.path.join(running.SHOP, "cassette.csv"), "rb") as file:
        cassettes = file.read()
    contents = {"shop_json": '{"currency": "GBP", "rate_per_hour": 48}', "cassette_csv": cassettes, **files}
    for name, content in contents.items():
        if content is not None:
            with open(os.path.join(folder, name.replace("_json", ".json").replace("_csv", ".csv")), "wb") as file:
                file.write(content if isinstance(content, bytes) else content.encode())
    return folder


def check(what, words, *arguments, lines=1, stdin=b""):
    """words: all that must stand in the lines. lines: how many of them; None for any number."""
    ran = run(*arguments, stdin=stdin)
    told = ran.err.decode("utf-8")
    wrong = [] if ran.status == 3 else [f"exit status {ran.status}"]
    wrong += [f"on standard output: {ran.out[:60]}"] if ran.out else []
    rows = told.splitlines()
    wrong += [] if lines in (None, len(rows)) else [f"{len(rows)} lines, not {lines}"]
    wrong += [f"of another form: {row}" for row in rows[:50] if not LINE.match(row)]
    wrong += [f"too long: {row[:60]}" for row in rows if len(row) > 400]
    wrong += [f"says error: {row}" for row in rows if re.search(r"\b(error|invalid|failed)\b", row, re.I)]
    wrong += [f"control character: {row!r}" for row in rows if any(ord(c) < 32 or ord(c) == 127 for c in row)]
    wrong += [f"no '{word}' in: {told[:300]}" for word in words if word not in told]
    tap.ok(what, wrong + same_as_json(ran, arguments, stdin))


def same_as_json(ran, arguments, stdin):
    machine = run(*arguments, "--json", stdin=stdin)
    if (machine.status, machine.out) != (3, b""):
        return [f"with --json: exit status {machine.status}, {machine.out[:60]}"]
    document = document_of(machine.err)
    wrong = complaints("faults", document)
    told = ran.err.decode().splitlines()
    for fault, line in zip(document["faults"], told):
        place = ":".join(str(fault[key]) for key in ("file", "line", "column") if fault[key] is not None) + ": "
        place += fault["path"] + ": " if fault["path"] else ""
        wrong += [] if line.startswith(place) else [f"other place: {place} {line}"]
        wrong += [f"no {key} in: {line}" for key in ("found", "nearest") if fault[key] and fault[key] not in line]
    if len(told) != min(document["total"], 51) or len(document["faults"]) != min(document["total"], 50):
        wrong.append(f"{len(told)} lines, {len(document['faults'])} faults, {document['total']} in all")
    return wrong


# --- files that are no bike at all --------------------------------------------------------------------------------------

TEXT = json.dumps(bike(label="Fr\u00eane"), ensure_ascii=False)
DEEP = '{"format":1,"label":"x","frame":' + "[" * 100000 + "]" * 100000 + "}"
BROKEN = [
    ("an empty file", b"", ["empty file"]),
    ("a file of blanks", b" \n\n ", ["JSON object"]),
    ("one that is cut off", TEXT[:-20], [":1:", "the end of the file"]),
    ("one in UTF-16", TEXT.encode("utf-16"), ["UTF-16", "UTF-8"]),
    ("one in UTF-16 without a mark", TEXT.encode("utf-16-be"), ["UTF-16", "UTF-8"]),
    ("one in Latin-1", TEXT.encode("latin-1"), [":1:27:", "EA", "UTF-8"]),
    ("zero bytes", b"\0\0\0\0", ["UTF-8"]),
    ("a picture", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", ["UTF-8"]),
    ("a list", "[]", ["a JSON object"]),
    ("a line of 10 MB", '{"label": "' + "x" * 10_000_000 + '"', ["10000"]),
    ("10 MB in one text", json.dumps(bike(label="x" * 10_000_000)), ["label", "120"]),
    ("100,000 brackets within each other", DEEP, ["32 brackets"]),
    ("CSV instead", "id,teeth\na,32\n", ["{ at the beginning"]),
    ("a comma too many", TEXT[:-1] + ",}", ["double quotes"]),
    ("a second object behind it", TEXT + TEXT, ["nothing behind"]),
    ("the same name twice", '{"format":1,"format":1,"label":"x","frame":{},"wheel":{},"fitted":{}}', ["once", "format"]),
]

# --- values of a bike: what stands in frame.hub_width_mm ----------------------------------------------------------------

VALUES = [
    ("NaN", "NaN", [":1:", "NaN"]), ("Infinity", "-Infinity", [":1:", "Infinity"]), ("1e308", "1e308", ["70 to 200"]),
    ("1e400", "1e400", [":1:", "1e400"]), ("a negative number", "-135", ["-135", "70 to 200"]), ("zero", "0", ["70 to 200"]),
    ("an absurd number", "99999", ["70 to 200"]), ("a slip of the point", "1350", ["1350", "70 to 200", "Is it 135.0?"]),
    ("centimetres", "13.5", ["13.5", "70 to 200", "Is it 135"]), ("a number as text", '"135"', ['"135"', "Is it 135"]),
    ("a unit in it", '"135 mm"', ['"135 mm"']), ("the wrong unit", '"5.3 in"', ['"5.3 in"', "70 to 200"]),
    ("a comma in it", '"135,0"', ['"135,0"']), ("a letter for a digit", '"13O"', ['"13O"']), ("a list", "[135]", ["a list"]),
    ("true", "true", ["true"]), ("an object of another form", '{"value": 135, "how": "seen"}', ["how"]),
]

# --- documents ------------------------------------------------------------------------------------------------------------


def fitted(**slots):
    return bike(fitted=slots)


DOCUMENTS = [
    ("a missing label", {k: v for k, v in bike().items() if k != "label"}, ["/label"]),
    ("another version of the form", {**bike(), "format": 2}, ["/format", "the number 1"]),
    ("a misspelt property", fitted(cassette={"sproket": [11, 28]}),
     ["/fitted/cassette/sproket: unknown. Did you mean sprockets?"]),
    ("a misspelt slot", fitted(casette={}), ["/fitted/casette", "cassette"]),
    ("a misspelt key at the top", {**bike(), "frme": {}}, ["/frme", "frame"]),
    ("a property without its unit", bike(frame={"chainstay": 430}), ["/frame/chainstay", "chainstay_mm"]),
    ("a property in another unit", bike(frame={"chainstay_cm": 43}), ["/frame/chainstay_cm", "chainstay_mm"]),
    ("a misspelt word", bike(frame={"axle": "quik_release"}), ["/frame/axle", "quick_release"]),
    ("a ring of half a tooth", fitted(rings=[{"teeth": 32.5}]), ["/fitted/rings/0/teeth", "32.5", "whole number"]),
    ("a sprocket twice", fitted(cassette={"sprockets": [11, 11, 28]}), ["/fitted/cassette/sprockets"]),
    ("four rings", fitted(rings=[{"teeth": t} for t in (48, 38, 28, 22)]), ["/fitted/rings"]),
    ("two rings in one place", fitted(rings=[{"teeth": 48, "place": "outer"}, {"teeth": 38, "place": "outer"}]),
     ["/fitted/rings/1/place"]),
    ("a rule that is overruled and does not exist",
     {**bike(), "overruled": [{"rule": "stay-clearence", "by": "Ann", "reason": "Rides well."}]},
     ["/overruled/0/rule", "stay-clearance"]),
    ("a rule about brakes that is overruled",
     {**bike(), "overruled": [{"rule": "lever-brake", "by": "Ann", "reason": "Stops well."}]},
     ['/overruled/0/rule: found "lever-brake", allowed: any rule but those about brakes, which can\'t be overruled; change the part instead.']),
    ("a rule that is overruled for a slot that it does not look at",
     {**bike(), "overruled": [{"rule": "spindle", "slots": ["chain"], "by": "Ann", "reason": "Rides well."}]},
     ['/overruled/0/slots/0: found "chain", one of crank, bottom_bracket is allowed.']),
    ("a number where a slot should be", fitted(chain=110), ["/fitted/chain", "110"]),
]


def check_bikes():
    for what, content, words in BROKEN:
        check("bike: " + what, words, next(QUESTIONS), file_of(content))
    for what, value, words in VALUES:
        text = '{"format":1,"label":"x","frame":{"hub_width_mm":%s},"wheel":{},"fitted":{}}' % value
        where = [] if ":1:" in words else ["/frame/hub_width_mm"]
        check("a hub width that is " + what, words + where, next(QUESTIONS), file_of(text))
    for what, document, words in DOCUMENTS:
        check("bike: " + what, words, next(QUESTIONS), file_of(document))
    check("bike: from standard input", ["-: /frme"], next(QUESTIONS), "-", stdin=running.given({**bike(), "frme": {}}))


def check_places():
    check("a file that is not there", ["/nowhere.json", "is there"], "gears", FOLDER.name + "/nowhere.json")
    check("a folder instead of a file", ["a folder", "a file"], "gears", FOLDER.name)
    check("nothing on standard input", ["-: ", "empty file"], "gears", "-")
    check("a catalogue that is not there", ["/nowhere: ", "a folder that is there"], "plan", GOOD_BIKE, "--catalogue",
          FOLDER.name + "/nowhere")
    check("a file instead of a catalogue", ["a folder"], "plan", GOOD_BIKE, "--catalogue", GOOD_BIKE)
    check("a wish that is not there", ["/nowhere.json: "], "plan", GOOD_BIKE, "--catalogue", running.SHOP, "--wish",
          FOLDER.name + "/nowhere.json")


def check_wishes():
    def of(document, what, words, lines=1):
        check(f"wish: {what}", words, "plan", GOOD_BIKE, "--catalogue", running.SHOP, "--wish",
              file_of(document, "wish.json"), lines=lines)
    of({"objectives": ["cheap"]}, "an unknown objective", ["/objectives/0", '"cheap"', "cost"])
    of({"objectives": ["cosst"]}, "a misspelt objective", ["/objectives/0", "Did you mean cost?"])
    of('{"budget": 400.00}', "a budget that is not in minor units", ["/budget", "minor units", "40000"])
    of({"rings": 4}, "four rings", ["/rings", "1 to 3"])
    of({"keep": ["weel"]}, "a slot that does not exist", ["/keep/0", '"weel"'])
    of({"lowest_m_max": -1, "ring": 1}, "two faults", ["/lowest_m_max", "/ring", "rings"], lines=2)
    of("", "an empty file", ["empty file"])


def check_shops():
    def of(what, words, lines=1, **files):
        check(f"shop: {what}", words, "plan", GOOD_BIKE, "--catalogue", shop_of(**files), lines=lines)
    head = "id,price,sprockets,spline\n"
    of("no shop.json", ["shop.json"], shop_json=None)
    of("no CSV file", ["no CSV file"], cassette_csv=None)
    of("a shop.json that is cut off", ["shop.json:1:", "end of the file"], shop_json='{"currency": "GBP"')
    of("an unknown currency", ["/currency", "GPB", "GBP"], shop_json='{"currency": "GPB", "rate_per_hour": 48}')
    of("a negative rate", ["/rate_per_hour", "-48"], shop_json='{"currency": "GBP", "rate_per_hour": -48}')
    of("a rate finer than a penny", ["/rate_per_hour"], shop_json='{"currency": "GBP", "rate_per_hour": "48.005"}')
    of("a table of no kind", ["casette.csv", "cassette"], casette_csv=head)
    of("an empty table", ["cassette.csv: ", "empty file"], cassette_csv="")
    of("a table in UTF-16", ["cassette.csv", "UTF-16"], cassette_csv=head.encode("utf-16"))
    of("a table in Latin-1", ["cassette.csv:2:", "UTF-8"], cassette_csv=(head + "fr\u00eane,1,11 28,nine_key\n").encode("latin-1"))
    of("an unknown column", ["cassette.csv:1:", "sproket", "sprockets"], cassette_csv="id,price,sproket\na,1,11\n")
    of("a column twice", ["cassette.csv:1:", "price"], cassette_csv="id,price,price\na,1,1\n")
    of("an id twice", ["cassette.csv:3:1: id", "a"], cassette_csv=head + "a,1,11 28,nine_key\na,1,11 28,nine_key\n")
    of("a letter for a digit", ["cassette.csv:2:3: price", "3O"], cassette_csv=head + "a,3O,11 28,nine_key\n")
    of("a negative price", ["cassette.csv:2:3: price", "-1"], cassette_csv=head + "a,-1,11 28,nine_key\n")
    of("a comma in a price", ["cassette.csv:2:3: price", "1,50"], cassette_csv=head + 'a,"1,50",11 28,nine_key\n')
    of("a price of NaN", ["cassette.csv:2:3: price", "nan"], cassette_csv=head + "a,nan,11 28,nine_key\n")
    of("a price beyond measure", ["cassette.csv:2:3: price", "1e308"], cassette_csv=head + "a,1e308,11 28,nine_key\n")
    of("a row with a cell too many", ["cassette.csv:2:"], cassette_csv=head + "a,1,11 28,nine_key,x\n")
    of("a quote that never ends", ["cassette.csv:2:"], cassette_csv=head + 'a,1,"11 28,nine_key\n')
    of("an id that means something else", ["cassette.csv:2:1: id", "keep"], cassette_csv=head + "keep,1,11 28,nine_key\n")
    of("a zero byte", ["cassette.csv:2:"], cassette_csv=head + "a\0,1,11 28,nine_key\n")
    # A price in a currency that is not known: any that could be one is taken.
    of("faults in shop.json and in a table", ["shop.json", "cassette.csv:3:3"], lines=2,
       cassette_csv=head + "b,1.1234,11 28,nine_key\na,x,11 28,nine_key\n",
       shop_json='{"currency": "GPB", "rate_per_hour": 48}')
    of("faults in every table at once", ["cassette.csv:2:3", "chain.csv:2:3"], lines=2,
       cassette_csv=head + "a,x,11 28,nine_key\n",
       chain_csv="id,price,links\nc,y,110\n")


def check_many():
    rows = "".join(f"p{i},x,11 28,nine_key\n" for i in range(60))
    folder = shop_of(cassette_csv="id,price,sprockets,spline\n" + rows)
    check("sixty faults: fifty are told and the rest counted", ["cassette.csv:51:", "10 more"], "plan", GOOD_BIKE,
          "--catalogue", folder, lines=51)
    document = bike(frame={f"x{i}": 1 for i in range(60)})
    check("sixty unknown properties", ["/frame/x0", "10 more"], "gears", file_of(document), lines=51)
    check("a bike, a wish and a shop, all at fault, in one go", ["/frme", "/ring", "/currency"], "plan",
          file_of({**bike(), "frme": {}}), "--wish", file_of({"ring": 1}, "wish.json"), "--catalogue",
          shop_of(shop_json='{"currency": "x", "rate_per_hour": 48}'), lines=3)
    check("check-data tells them too", ["/ring", "/currency"], "check-data",
          shop_of(shop_json='{"currency": "x", "rate_per_hour": 48}'), "--wish", file_of({"ring": 1}, "wish.json"), lines=2)


def check_riders():
    hill = ["climb", GOOD_BIKE, "--gradient-percent", "8", "--rider"]
    check("a rider that is not there", ["is there"], *hill, "/nowhere.json")
    check("a rider's unknown key", ["/powr_w", "power_w"], *hill, file_of({"powr_w": 200}, "rider.json"))
    check("a rider's figures out of range, and a word", ["/mass_kg", "10 to 250", "/cadence_rpm/0", "/position", "hoods"], *hill,
          file_of({"mass_kg": 5, "cadence_rpm": [6, 90], "position": "hood"}, "rider.json"), lines=3)
    check("a list is no rider", ["a list"], *hill, file_of([1], "rider.json"))
    timed = {"known_climb_gradient_percent": 10, "known_climb_length_m": 5000, "known_climb_time_s": 60}
    check("a climb that nobody rode so", ["/known_climb_time_s", "10 to 1000 W"], *hill, file_of(timed, "rider.json"))
    check("nor in the bike's own file", ["/rider/known_climb_time_s"], "gears", file_of(bike(rider=timed)))
    check("a hill that is a share", ["/climb/gradient_percent", "1 to 60"], "plan", GOOD_BIKE, "--catalogue", running.SHOP, "--wish",
          file_of({"climb": {"gradient_percent": 0.14}}, "wish.json"))


# --- usage, and what can't be written -------------------------------------------------------------------------------------

USAGE = [
    ["frobnicate"], ["gears"], ["gears", GOOD_BIKE, GOOD_BIKE], ["gears", GOOD_BIKE, "--catalogue", running.SHOP],
    ["gears", GOOD_BIKE, "--jsn"], ["gears", GOOD_BIKE, "--json=yes"], ["plan", GOOD_BIKE],
    ["plan", "--catalogue", running.SHOP], ["plan", GOOD_BIKE, "--catalogue"],
    ["plan", GOOD_BIKE, "--catalogue", running.SHOP, "--ways", "0"],
    ["plan", GOOD_BIKE, "--catalogue", running.SHOP, "--ways", "-3"],
    ["plan", GOOD_BIKE, "--catalogue", running.SHOP, "--ways", "many"],
    ["plan", GOOD_BIKE, "--catalogue", running.SHOP, "--ways", "99999999999999999999"],
    ["plan", GOOD_BIKE, "--catalogue", running.SHOP, "--memory", "0"],
    ["plan", GOOD_BIKE, "--catalogue", running.SHOP, "--memory", "1.5"],
    ["plan", "-", "--catalogue", running.SHOP, "--wish", "-"], ["explain"], ["explain", "no-such-thing"], ["explain", "stay-clearence"],
    ["climb", GOOD_BIKE], ["climb", "--gradient-percent", "8"], ["climb", GOOD_BIKE, "--gradient-percent", "steep"],
    ["climb", GOOD_BIKE, "--gradient-percent", "61"], ["climb", GOOD_BIKE, "--gradient-percent", "-1"],
    ["climb", GOOD_BIKE, "--gradient-percent", "8", "--cadence-rpm", "19"], ["climb", GOOD_BIKE, "--gradient-percent", "nan"],
    ["climb", "-", "--gradient-percent", "8", "--rider", "-"], ["gears", GOOD_BIKE, "--gradient-percent", "8"],
    ["parts", "gears", "--catalogue", running.SHOP], ["parts"], ["check-data"], ["help", "frobnicate"], ["version", "x"],
]


def check_usage():
    for arguments in USAGE:
        ran = run(*arguments, stdin=running.given(bike()))
        told = ran.err.decode()
        wrong = [] if ran.status == 2 and not ran.out else [f"exit status {ran.status}, {ran.out[:60]}"]
        first = told.splitlines()[0] if told else ""
        wrong += [] if first.startswith("chainwright: ") else [f"it begins: {first}"]
        # What may be asked instead: the command's own line, or what lists the names.
        wrong += [] if re.search(r"^use: chainwright |`chainwright (help|explain)|Ask for a ", told, re.M) else [told]
        tap.ok("usage: " + " ".join(arguments).replace(tap.ROOT, ""), wrong)


def check_nearest():
    """A misspelt command or name is told with the one that was meant; help asked of a command is that of `help`."""
    for arguments, meant in ((["plann"], "plan"), (["explain", "stay-clearence"], "stay-clearance"),
                             (["explain", "frame.hub_witdh_mm"], "hub_width_mm")):
        told = run(*arguments).err.decode()
        tap.ok(f"the nearest of {' '.join(arguments)}", [] if f"the nearest is {meant}" in told else [told])
    asked = [run(*arguments).out for arguments in (["plan", "--help"], ["plan", GOOD_BIKE, "-h"], ["help", "plan"])]
    tap.ok("a command's --help", [] if len(set(asked)) == 1 and asked[0].startswith(b"   chainwright plan BIKE") else asked)


def check_unwritable():
    with open("/dev/full", "wb") as full:
        import subprocess
        done = subprocess.run([running.PROGRAM, "gears", GOOD_BIKE], stdout=full, stderr=subprocess.PIPE,
                              env=running.surroundings())
    tap.ok("a device that is full: 4 and a line",
           [] if done.returncode == 4 and done.stderr.startswith(b"chainwright: ") else [done.returncode, done.stderr])
    # A file stands where the folder should be.
    for where in (file_of("x", "case"), "/proc/none"):
        ran = run("gears", GOOD_BIKE, "--save-case", where)
        tap.ok("a case that can't be saved: 4 and a line that names the place",
               [] if (ran.status, ran.out) == (4, b"") and where in ran.err.decode() else [ran])


def check_form():
    """The form above refuses what the look of a line forbids."""
    bad = ["bike.json: /frame: error", "Error: bad", "bike.json: found 3", "bike.json:0: found 3, 4 is allowed.", ""]
    good = ["bike.json: /frame/hub_width_mm: found 1350, allowed 100 to 200. Is it 135.0?",
            "bike.json: /fitted/cassette/sproket: unknown. Did you mean sprockets?",
            'rings.csv:14:6: teeth: found "3O", a whole number from 16 to 62 is allowed.']
    tap.ok("the form of a line is told from others", [row for row in bad if LINE.match(row)]
           + [row for row in good if not LINE.match(row)])


check_form()
check_bikes()
check_places()
check_wishes()
check_shops()
check_many()
check_riders()
check_usage()
check_nearest()
check_unwritable()
FOLDER.cleanup()
tap.end()
