#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""The fast search against the plain one on shops of 1,000 to 10,000 parts: same ways, values, parts, equals and picks.

SHOPS=100 in the environment asks for so many instead of the few that ./check has time for. A seed whose question is too large for
the plain search is passed over; that does not hang on the machine, since what bounds it is memory."""
import os
import tempfile

import instances
from instances import tap

SHOPS = int(os.environ.get("SHOPS", "16"))
SIZES = (1000, 10000)
MIB = 128
SECONDS = 240  # a machine that is far too busy


def ask(seed):
    with tempfile.TemporaryDirectory() as folder:
        return instances.both_ways(instances.draw_question(folder, seed, SIZES, 2), MIB, SECONDS)


def main():
    seen = {"same": 0, "too large": 0, "with ways": 0, "with ties": 0, "with drawbacks": 0, "ways": 0}
    seed = 0
    while seen["same"] < SHOPS:
        seed += 1
        how, said = ask(seed)
        if how not in ("same", "too large"):
            tap.ok(f"seed {seed}", [how, said])
            break
        numbers = instances.told(said) if how == "same" else {}
        seen[how] += 1
        seen["ways"] += int(numbers.get("ways", 0))
        for what, key in (("with ways", "ways"), ("with ties", "equals"), ("with drawbacks", "drawbacks")):
            seen[what] += numbers.get(key, 0) > 0
    tap.ok(f"{seen['same']} shops: {seen}", [] if seen["same"] == SHOPS else ["a difference"])
    few = [what for what in ("with ways", "with ties", "with drawbacks") if seen[what] < SHOPS / 4]
    tap.ok("many have ways, ties and drawbacks", few + ([] if seen["too large"] < SHOPS / 2 else ["too many are too large"]))
    tap.end()


if __name__ == "__main__":
    main()
