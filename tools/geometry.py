# SPDX-License-Identifier: Apache-2.0
"""The JSON Schemas of bare geometry, for write-schema: what path and suspension read, and what they answer."""
from answers import NUMBER, POSITIVE, TEXT, held, listed, named, or_null, say

LABEL = {"type": "string", "minLength": 1, "maxLength": 120}
ORIGIN = "Origin at the bottom bracket, x to the front, y up, mm, seen from the drive side."
COORDINATE = {"type": "number", "minimum": -5000, "maximum": 5000}
TOOTH_COUNT = {"type": "integer", "minimum": 6, "maximum": 130}
REASON = say("Why there is no answer; null when there is one.", or_null(TEXT))


def strict(properties, optional=(), **more):
    return held(properties, optional, additionalProperties=False, **more)


def document(title, properties, optional=(), **more):
    form = {"format": say("The version of this form.", {"const": 1}), "label": say("What it is called.", LABEL)}
    return title, strict({**form, **properties}, ["format", "label", *optional], description=ORIGIN, **more)


def path_input(data):
    wheel = strict({
        "x_mm": say("Of its centre, mm.", COORDINATE), "y_mm": say("Of its centre, mm.", COORDINATE),
        "teeth": say("Or else its radius.", TOOTH_COUNT),
        "radius_mm": say("Of the circle through the pins, mm.", {"type": "number", "minimum": 6.4, "maximum": 1000}),
        "sense": say("How the chain goes round it; sprocket and ring turn cw.", {"enum": ["cw", "ccw"]}),
    }, ["teeth", "radius_mm"], oneOf=[{"required": ["teeth"]}, {"required": ["radius_mm"]}])
    return document("Wheels that a chain runs round", {
        "wheels": say("In the order in which the chain meets them.", listed(wheel, minItems=2, maxItems=8))})


def path(data):
    return "Answer of path: how long is the path round these wheels?", held({
        "length_mm": say("Runs and arcs through the pins, mm; null when there is no such path.", or_null(POSITIVE)),
        "links": say("Pitches: runs over 12.7 mm, and the teeth that the wraps take; null where a wheel has no teeth.", or_null(POSITIVE)),
        "polygon_links": say("How many more or less a chain of straight pitches may need as the teeth happen to stand, pitches; null "
                             "where links is.", or_null(POSITIVE)),
        "spans_mm": say("From each wheel to the next, mm; empty when there is no path.", listed({"type": "number", "minimum": 0})),
        "wraps_deg": say("On each wheel, degrees; empty when there is no path.",
                         listed({"type": "number", "minimum": 0, "maximum": 300})),
        "reason": REASON}, ["polygon_links", "reason"])


def axle_ways():
    """The three ways of saying where the rear axle goes: their keys, which of them go together, the definitions that they use."""
    point = {"type": "array", "items": COORDINATE, "minItems": 2, "maxItems": 2}
    link = strict({"frame_mm": say("Its end on the frame: x and y, mm.", named("point")),
                   "joint_mm": say("Its end on the member with the axle: x and y, mm.", named("point"))})
    ways = {"axle_mm": say("The axle at rest: x and y, mm. With axle_path_mm its first point when left out.", named("point")),
            "pivot_mm": say("The one pivot: x and y, mm.", named("point")),
            "lower": say("The lower link of a four-bar.", named("link")),
            "upper": say("The upper link; the axle sits on the member between the joints.", named("link")),
            "axle_path_mm": say("Measured places of the axle in the order of rising travel: x and y, mm.",
                                listed(named("point"), minItems=2, maxItems=31))}
    one_of = [{"required": ["pivot_mm", "axle_mm"]}, {"required": ["lower", "upper", "axle_mm"]}, {"required": ["axle_path_mm"]}]
    return ways, one_of, {"point": point, "link": link}


def idler():
    return say("A wheel on the frame that the chain passes over, from the sprocket to the ring.", strict({
        "x_mm": say("Of its centre, mm.", COORDINATE), "y_mm": say("Of its centre, mm.", COORDINATE),
        "teeth": say("Of it.", TOOTH_COUNT)}))


def inlined(schema, defs):
    """The schema with each definition in the place where it is named."""
    if isinstance(schema, list):
        return [inlined(one, defs) for one in schema]
    if not isinstance(schema, dict):
        return schema
    named_one = inlined(defs[schema["$ref"].rsplit("/", 1)[1]], defs) if "$ref" in schema else {}
    return {**named_one, **{key: inlined(value, defs) for key, value in schema.items() if key != "$ref"}}


def of_bike():
    """What a bike's file says of its rear suspension; it names no definitions, so that it can stand in another schema."""
    ways, one_of, defs = axle_ways()
    form = strict({**inlined(ways, defs), "idler": idler(),
                   "travel_mm": say("The most that the rear end goes up, mm.", {"type": "number", "minimum": 1, "maximum": 500}),
                   "sag_mm": say("What the rider's weight takes of it, mm; left out: the usual share.",
                                 {"type": "number", "minimum": 0, "maximum": 500})},
                  [*ways, "idler", "sag_mm"], oneOf=one_of)
    return {"description": "How the rear axle goes, for a suspended rear end. " + ORIGIN,
            "anyOf": [form, {"type": "null"}]}


def suspension_input(data):
    ways, one_of, defs = axle_ways()
    return document("A rear suspension", {
        **ways, "ring": say("Teeth.", TOOTH_COUNT), "sprocket": say("Teeth.", TOOTH_COUNT),
        "new_ring": say("Of the gear that is to take its place, teeth; left out: no new ring.", TOOTH_COUNT),
        "new_sprocket": say("Of that gear, teeth; left out: the sprocket stays.", TOOTH_COUNT),
        "idler": idler(),
        "sag_mm": say("Travel that the rider's weight takes, mm; left out: the usual share of the highest travel.",
                      {"type": "number", "minimum": 0, "maximum": 500}),
        "wheel_radius_mm": say("With its tyre, mm.", {"type": "number", "minimum": 100, "maximum": 500}),
        "wheelbase_mm": say("Axle to axle, mm.", {"type": "number", "minimum": 400, "maximum": 3000}),
        "centre_of_mass_height_mm": say("Of bike and rider above the ground, mm.", {"type": "number", "minimum": 100, "maximum": 3000}),
        "travel_mm": say("Vertical, from rest, up positive, mm.",
                         listed({"type": "number", "minimum": -500, "maximum": 500}, minItems=1, maxItems=1000)),
    }, [*ways, "new_ring", "new_sprocket", "idler", "sag_mm"], oneOf=one_of, **{"$defs": defs})


def suspension(data):
    point = {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2}
    row = held({
        "travel_mm": say("Vertical, mm.", NUMBER), "axle_mm": say("x and y of the axle, mm.", named("point")),
        "chain_stay_mm": say("From bottom bracket to axle, mm.", POSITIVE), "span_mm": say("The top run of the chain, mm.", POSITIVE),
        "kickback_held_deg": say("Of the pedals since rest, backward positive, the wheel held; degrees.", NUMBER),
        "kickback_rolling_deg": say("The same with the wheel rolling; degrees.", NUMBER),
        "anti_squat_percent": say("Of the centre of mass's height, percent.", NUMBER),
        "loop_links": say("The bare loop round sprocket, idler and ring there, pitches, not rounded.", POSITIVE),
        "instant_centre_mm": say("x and y of that of the member with the axle, mm; null where it is not known, or without end.",
                                 {"anyOf": [named("point"), {"type": "null"}]}),
    }, ["instant_centre_mm", "loop_links"])
    gear = held({
        "ring": say("Teeth.", TOOTH_COUNT), "sprocket": say("Teeth.", TOOTH_COUNT),
        "rest": say("At travel 0.", row), "sag": say("Where the rider's weight holds it.", row),
        "full": say("At the travel farthest from rest.", row),
        "longest_at_mm": say("The travel at which its loop is longest, mm.", NUMBER),
        "longest_links": say("That loop, pitches, not rounded.", POSITIVE),
        "growth_links": say("How much longer than at rest, pitches.", {"type": "number", "minimum": 0}),
        "rows": say("One for each travel, in the order given.", listed(row))})
    longest = held({"travel_mm": say("Vertical, mm.", NUMBER), "chain_stay_mm": say("From bottom bracket to axle, mm.", POSITIVE)})
    return "Answer of suspension: what does it do to chain and pedals?", held({
        "rows": say("One for each travel, in the order given; empty when there is no answer.", listed(row)),
        "longest": say("Where the chain stay is longest, of rest and all between the travels given.",
                       {"anyOf": [longest, {"type": "null"}]}),
        "sag_mm": say("Where the rider's weight holds it, mm.", NUMBER),
        "sag_assumed": say("Nobody measured it.", {"type": "boolean"}),
        "gears": say("The gear of now and, where it was asked for, the new one; empty when there is no answer.",
                     listed(gear, maxItems=2)),
        "reason": REASON}, ["longest", "sag_mm", "sag_assumed", "gears", "reason"], **{"$defs": {"point": point}})


def gear_use(data):
    gear = strict({"ring": say("Teeth.", TOOTH_COUNT), "sprocket": say("Teeth.", TOOTH_COUNT),
                   "share": say("How long it is used: minutes, metres, percent, alike in all.",
                                {"type": "number", "minimum": 0, "maximum": 1e6})})
    title, form = document("How long each gear of a bike is used", {
        "gears": say("Each once; one that is not there is not used.", listed(gear, minItems=1, maxItems=64))})
    return title, {**form, "description": "Some share is above 0."}


MAKERS = {"gear_use": gear_use, "path": path, "path_input": path_input, "suspension": suspension, "suspension_input": suspension_input}
