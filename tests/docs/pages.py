# SPDX-License-Identifier: Apache-2.0
"""What the scripts of this folder share: paths, pages, and telling results (TAP)."""
import os
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "data"))
import tap  # noqa: E402: found through the line above

ROOT = tap.ROOT
PROGRAM = os.environ.get("CHAINWRIGHT") or os.path.join(ROOT, "build", "chainwright")


def page(path):
    with open(os.path.join(ROOT, path), encoding="utf-8") as file:
        return file.read()
