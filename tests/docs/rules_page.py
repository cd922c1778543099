#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""docs/rules.md is what tools/write-rules-page makes of the program's rules, and leaves none out."""
import os
import re

from pages import PROGRAM, ROOT, page, tap

rules = tap.made_page("docs/rules.md", "write-rules-page", PROGRAM, "build/release/chainwright")

# The rules from another side: the ids that stand in the sources of the rules, and their sentences in the messages.
ids = set()
for name in os.listdir(os.path.join(ROOT, "src", "fit")):
    if name.endswith(".c"):
        ids |= set(re.findall(r'\.id = "([a-z-]+)"[,} ]', page(os.path.join("src", "fit", name))))
ids -= {name for name in ids if f"{name}.name" not in page("data/messages/fit-front.csv") + page("data/messages/fit-rear.csv")}
sections = dict(part.split("\n", 1) for part in rules.split("\n## ")[1:])
tap.ok("every rule of src/fit has its section, and no other has one",
       [f"{name}: only on one side" for name in sorted(ids ^ set(sections))] if len(ids) > 30 else [f"{len(ids)} rules"])
tap.ok("every rule tells its source, whether it can be overruled, and what it can say",
       [name for name, text in sections.items()
        if not re.search(r"^- Source: \S", text, re.M) or not re.search(r"^- Overruling: \S", text, re.M)
        or not re.search(r"^  - \S", text, re.M)])
never = sorted(name for name, text in sections.items() if "- Overruling: never" in text)
safety = set()
for name in os.listdir(os.path.join(ROOT, "src", "fit")):
    text = page(os.path.join("src", "fit", name)) if name.endswith(".c") else ""
    if re.search(r"\.safety = true", text):
        safety |= set(re.findall(r'\.id = "([a-z-]+)"', text))
tap.ok("those that can't be overruled are those about safety", [] if set(never) <= safety and never else [f"{never}, {safety}"])
tap.end()
