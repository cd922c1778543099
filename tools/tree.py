# SPDX-License-Identifier: Apache-2.0
"""What the checks share: the files of a tree, and how a check reports."""
import os
import pathlib
import re
import subprocess
import sys

HOME = pathlib.Path(__file__).resolve().parent.parent


def root_of(arguments):
    """The tree to check: the first argument, or the one that this file stands in."""
    return pathlib.Path(arguments[1]).resolve() if len(arguments) > 1 else HOME


def files(root, *patterns):
    """The files that belong to the tree, as paths from its root, sorted; those that match a pattern if any is given.
    Git says which these are; a copy without git has no others, but for its build folders."""
    if (root / ".git").exists():
        listed = subprocess.run(["git", "-C", root, "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
                                check=True, capture_output=True).stdout.decode().split("\0")
        names = {pathlib.PurePosixPath(name) for name in listed if name and (root / name).is_file()}
    else:
        names = {pathlib.PurePosixPath(path.relative_to(root)) for path in root.rglob("*") if path.is_file()}
        names = {name for name in names if not name.parts[0].startswith("build") and "__pycache__" not in name.parts}
    return sorted(name for name in names if not patterns or any(name.match(pattern) for pattern in patterns))


def layers(root):
    """src/LAYERS: {layer: (whether it is pure, [the layers it may use])}, in its order."""
    rows = {}
    for line in (root / "src/LAYERS").read_text().splitlines():
        if line.strip() and not line.startswith("#"):
            name, pure, uses = line.split(":")
            rows[name.strip()] = (pure.strip() == "pure", uses.split())
    return rows


def compile_commands(build):
    """What each source of a build folder is compiled with, but for what is the compiler's own: [(source, options)]."""
    import json
    import shlex
    commands = []
    for entry in json.loads((build / "compile_commands.json").read_text()):
        words = shlex.split(entry["command"])[1:]
        options = [word for word in words if re.match(r"-(std=|W|I|D|isystem)", word)]
        commands.append((os.path.normpath(os.path.join(entry["directory"], entry["file"])), options))
    return commands


def report(faults):
    """Prints each fault on a line; the exit status."""
    for fault in faults:
        print(fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit("tree.py is a part of the checks beside it")
