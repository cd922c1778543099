#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""docs/parts.md is what tools/write-parts-page makes of the tables, and leaves no property out."""
import tap

page = tap.made_page("docs/parts.md", "write-parts-page", tap.DATA, "data")

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
