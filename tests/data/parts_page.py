#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""docs/parts.md is what tools/write-parts-page makes of the tables, and leaves no property out."""
import os
import subprocess
import sys

import tap

made = subprocess.run([sys.executable, os.path.join(tap.ROOT, "tools", "write-parts-page"), tap.DATA],
                      capture_output=True, encoding="utf-8")
with open(os.path.join(tap.ROOT, "docs", "parts.md"), encoding="utf-8") as file:
    page = file.read()

tap.ok("the page is made without a word on standard error", [made.stderr] if made.stderr or made.returncode else [])
tap.ok("docs/parts.md is not stale",
       [] if page == made.stdout else ["run: tools/write-parts-page data > docs/parts.md"])

sections = {part.split("\n", 1)[0]: part for part in page.split("\n## ")}
missing = []
for row in tap.table("vocabulary"):
    section = sections.get("Every part" if row["kind"] == "any" else row["kind"], "")
    if f"| `{row['property']}`<br>" not in section or row["measure"].replace("|", "\\|") not in section:
        missing.append(f"{row['kind']}.{row['property']}")
tap.ok("every property stands in its kind's section, with how to measure it", missing)

linked = {row["words"] for row in tap.table("vocabulary") if row["words"] and row["type"] != "yes_no"}
tap.ok("every domain of words that is linked has its heading",
       [domain for domain in linked if page.count(f"\n### {domain}\n") != 1])
tap.end()
