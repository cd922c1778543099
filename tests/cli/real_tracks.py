#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Recorded tracks, as real receivers wrote them: what the program makes of their heights, against two methods that share
nothing with it. The tracks come from npm packages (MIT) when the test runs and are never kept; where npm or the network is
not to be had the test is left out, and says so."""
import bisect
import json
import math
import os
import subprocess
import sys
import tarfile
import tempfile
import xml.etree.ElementTree as tree

from running import bike_path, run, tap

LEFT_OUT = 77
# package, version, file, points, length in km and climb in m of the raw heights (as published with the packages' data)
TRACKS = [("stoplight", "0.0.7", "gpx/sample-ride.gpx", 850, 7.59, 30),
          ("stoplight", "0.0.7", "gpx/sample.gpx", 1919, 5.85, 167),
          ("gpx-parse", "0.10.4", "tests/integration/data/route-1.1.gpx", 7745, 21.50, 168)]
EARTH_M = 6371008.8  # a sphere, off by 0.6 % at most
TURN_M = 3.0


def fetch(folder, package, version):
    """Unpacks a package; None where it is not to be had."""
    try:
        done = subprocess.run(["npm", "pack", f"{package}@{version}", "--silent"], cwd=folder, capture_output=True, timeout=120)
    except (OSError, subprocess.TimeoutExpired):
        return None
    archive = os.path.join(folder, f"{package}-{version}.tgz")
    if done.returncode != 0 or not os.path.exists(archive):
        return None
    place = os.path.join(folder, package)
    with tarfile.open(archive) as packed:
        packed.extractall(place, members=[m for m in packed.getmembers() if m.isfile() and m.name.endswith(".gpx")])
    return os.path.join(place, "package")


def read(path):
    """Distances along the track, on a sphere, and heights, a median of five each."""
    points = [(float(p.get("lat")), float(p.get("lon")), float(next(c.text for c in p if c.tag.endswith("ele"))))
              for p in tree.parse(path).getroot().iter() if p.tag.endswith("trkpt")]
    way = [0.0]
    for (lat, lon, _), (to_lat, to_lon, _) in zip(points, points[1:]):
        a, b, c = math.radians(lat), math.radians(to_lat), math.radians(to_lon - lon)
        chord = math.sin((b - a) / 2) ** 2 + math.cos(a) * math.cos(b) * math.sin(c / 2) ** 2
        way.append(way[-1] + 2 * EARTH_M * math.asin(math.sqrt(chord)))
    heights = [p[2] for p in points]
    return way, [sorted(heights[max(0, i - 2):i + 3])[len(heights[max(0, i - 2):i + 3]) // 2] for i in range(len(heights))]


def rises(heights):
    return sum(max(0.0, b - a) for a, b in zip(heights, heights[1:]))


def bell(way, heights, width):
    """Each height as the mean of those around it, weighted by a bell curve along the way."""
    smooth = []
    for here in way:
        span = range(bisect.bisect_left(way, here - 4 * width), bisect.bisect_right(way, here + 4 * width))
        weights = [math.exp(-((way[i] - here) / width) ** 2 / 2) for i in span]
        smooth.append(sum(w * heights[i] for w, i in zip(weights, span)) / sum(weights))
    return smooth


def turning_points(heights, turn):
    """Heights where the way turns by so much at least, its ends included."""
    turns, low, high = [heights[0]], heights[0], heights[0]
    for height in heights[1:]:
        low, high = min(low, height), max(high, height)
        if height - low >= turn:
            turns, low, high = turns + [low], height, height
        elif high - height >= turn:
            turns, low, high = turns + [high], height, height
    return turns + [high if turns and high - turns[-1] >= turns[-1] - low else low]


def simplified(way, heights, within):
    """The heights of a polyline that keeps this near to all (Douglas and Peucker)."""
    kept, open_ends = {0, len(way) - 1}, [(0, len(way) - 1)]
    while open_ends:
        a, b = open_ends.pop()
        span = max(way[b] - way[a], 1e-9)
        off = [(abs(heights[i] - heights[a] - (heights[b] - heights[a]) * (way[i] - way[a]) / span), i) for i in range(a + 1, b)]
        if off and max(off)[0] > within:
            kept.add(max(off)[1])
            open_ends += [(a, max(off)[1]), (max(off)[1], b)]
    return [heights[i] for i in sorted(kept)]


def check(path, points, km, raw_m):
    way, heights = read(path)
    answer = json.loads(run("ride", bike_path("quillmoor-trail"), "--route", path, "--json").out)
    bell_m, straight_m = rises(turning_points(bell(way, heights, 30.0), TURN_M)), rises(simplified(way, heights, TURN_M))
    told = f"{answer['distance_m']:.0f} m, {answer['climb_m']:.1f} m up; by a bell curve {bell_m:.1f}, by straight lines {straight_m:.1f}"
    failures = []
    if len(way) != points or abs(way[-1] - km * 1000) > 0.01 * km * 1000:
        failures.append(f"this is another track: {len(way)} points, {way[-1]:.0f} m")
    if not 0.985 * way[-1] <= answer["distance_m"] <= 1.006 * way[-1]:
        failures.append(f"length on a sphere {way[-1]:.0f} m: {told}")
    if abs(answer["climb_m"] - bell_m) > 0.05 * bell_m + 2.0:
        failures.append(f"not within 5 % and 2 m of the first method: {told}")
    if not 0.75 * straight_m <= answer["climb_m"] <= 1.1 * straight_m or answer["climb_m"] > raw_m:
        failures.append(f"not between 75 and 110 % of the second method, or above the raw {raw_m} m: {told}")
    print("# " + told)
    return failures


def main():
    with tempfile.TemporaryDirectory() as folder:
        places = {package: fetch(folder, package, version) for package, version in {track[:2] for track in TRACKS}}
        if None in places.values():
            print("npm could not fetch recorded tracks (no npm, or no network): their climbs were not checked")
            sys.exit(LEFT_OUT)
        for package, _, name, points, km, raw_m in TRACKS:
            tap.ok(f"{package}, {name}", check(os.path.join(places[package], name), points, km, raw_m))
    tap.end()


if __name__ == "__main__":
    main()
