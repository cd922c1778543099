#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""README.md is true of the program: each of its command lines runs as it says, its samples are what the program prints, and it
names every command and option that there is.

A fenced block of sh with <!-- run --> before it is run line by line, and each line must end with status 0; <!-- run: N --> says
another status. Commands in the running text count too. `./run` itself is tried by tests/fresh-machine; here it stands for the
program that was built."""
import os
import re
import subprocess
import sys
import tempfile

from pages import PROGRAM, ROOT, page, tap

FENCED = re.compile(r"^(?:<!-- run(?:: (\d))? -->\n)?```(\w*)\n(.*?)^```$", re.M | re.S)
MARK = re.compile(r"^<!-- run.*-->\n(?!```sh\n)", re.M)
INLINE = re.compile(r"`\./run ([a-z-]+(?: [\w./-]+)*)`")
ALONE = re.compile(r"\./(run|check)(  .*)?$")


def command_lines(text):
    """(command, status that it must end with)."""
    for match in FENCED.finditer(text):
        marked = match[0].startswith("<!-- run")
        for line in match[3].splitlines():
            if match[2] == "sh" and marked and line.strip():
                yield line, int(match[1] or 0)
    for match in INLINE.finditer(text):
        yield "./run " + match[1], 0


def not_run(text):
    """Lines of shell that nothing would run."""
    for match in FENCED.finditer(text):
        for line in match[3].splitlines():
            if match[2] == "sh" and not match[0].startswith("<!-- run") or \
                    match[2] == "console" and not ALONE.match(line):
                yield f"not run: {line}"
    for match in MARK.finditer(text):
        yield f"marks no block of sh: {match[0].strip()}"


def run(line, folder):
    return subprocess.run(["bash", "-c", line], cwd=folder, capture_output=True, encoding="utf-8",
                          stdin=subprocess.DEVNULL, timeout=120)


def faults_of(line, status, folder):
    done = run(line, folder)
    answered = status in (0, 1)
    if done.returncode != status:
        yield f"{line}: status {done.returncode}, {status} is said: {done.stderr.strip()}"
    elif answered and (not done.stdout or done.stderr):
        yield f"{line}: answers nothing, or speaks on standard error: {done.stderr.strip()}"
    elif not answered and (done.stdout or not done.stderr):
        yield f"{line}: says nothing on standard error, or speaks on standard output"


def place(folder):
    """A folder in which the lines of README.md run as they do in the tree, and write nothing into it."""
    for name in ("data", "docs"):
        os.symlink(os.path.join(ROOT, name), os.path.join(folder, name))
    with open(os.path.join(folder, "run"), "w", encoding="utf-8") as script:
        script.write(f'#!/bin/sh\nexec "{PROGRAM}" "$@"\n')
    os.chmod(os.path.join(folder, "run"), 0o755)


def usages():
    """Every command and option, as the program tells them."""
    overview = subprocess.run([PROGRAM, "help"], capture_output=True, encoding="utf-8", check=True).stdout
    for command in re.findall(r"^   ([a-z-]+)(?: [A-Z]+)?  +\S", overview, re.M):
        usage = subprocess.run([PROGRAM, "help", command], capture_output=True, encoding="utf-8", check=True).stdout
        yield command, re.findall(r"--[a-z-]+", usage)


def not_told(text, told):
    for command, options in told:
        if not re.search(rf"`{command}\b|, `{command}", text):
            yield f"the command {command}"
        for option in options:
            if option not in text:
                yield f"{command} {option}"


def sample_faults(path):
    made = subprocess.run([sys.executable, os.path.join(ROOT, "tools", "write-samples"), PROGRAM, path],
                          capture_output=True, encoding="utf-8")
    if made.returncode != 0:
        yield made.stderr.strip()
    elif made.stdout != page(path):
        yield f"stale; renew with: tools/write-samples build/release/chainwright {path} --write"


readme = page("README.md")
lines = list(command_lines(readme))
tap.ok("README.md has command lines of each exit status that input can bring",
       [status for status in range(4) if status not in {wanted for _, wanted in lines}])
tap.ok("no command line of README.md goes unrun", list(not_run(readme)))
with tempfile.TemporaryDirectory() as folder:
    place(folder)
    for line, status in lines:
        tap.ok(line, list(faults_of(line, status, folder)))
    tap.ok("--save-case keeps the bike as it was read",
           [] if page("docs/examples/bike.json") == open(os.path.join(folder, "my-case", "bike.json"),
                                                         encoding="utf-8").read() else ["another bike"])
    for line, status in [("./run gears no-such-bike.json", 0), ("./run no-such-command", 0), ("./run version", 1),
                         ("./run version >&2", 0), ("true", 0), ("./run version", 3)]:
        tap.ok(f"caught: {line} ends with {status} and an answer" if status < 2 else f"caught: {line} as bad input",
               [] if list(faults_of(line, status, folder)) else ["taken for good"])

tap.ok("the samples of README.md are what the program prints", list(sample_faults("README.md")))
told = list(usages())
tap.ok("README.md names every command and option", list(not_told(readme, told)))
tap.ok("caught: a command and an option that are not named",
       [] if len(list(not_told(readme, [("sell", ["--dear"])]))) == 2 and len(told) > 9 else ["missed"])
tap.ok("caught: a block that nothing runs, a mark before no block, a command with arguments that is only shown",
       [] if len(list(not_run("```sh\n./run help\n```\n<!-- run -->\n\n```console\n./run plan\n```\n"))) == 3 else ["missed"])
tap.end()
