# SPDX-License-Identifier: Apache-2.0
"""Plants faults in a copy of a part of the tree and sees whether a check names them.

A planted fault is only caught when its words stand in what the check prints, and did not before."""
import contextlib
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(os.environ["CW_SOURCE_ROOT"])
sys.path.insert(0, str(ROOT / "tools"))
import tree  # noqa: E402: found through the line above


PART = ("src/LAYERS", "src/base/", "tests/base/", "tools/") # and the files of the root: enough, and soon checked


@contextlib.contextmanager
def copy_of_tree():
    with tempfile.TemporaryDirectory() as folder:
        copy = pathlib.Path(folder)
        for path in (path for path in tree.files(ROOT) if str(path).startswith(PART) or len(path.parts) == 1):
            (copy / path).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / path, copy / path)
        yield copy


def run_check(check, *arguments):
    done = subprocess.run([ROOT / "tools" / check, *arguments], stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                          text=True)
    return done.returncode, done.stdout


def expect_caught(check, folder, words):
    status, output = run_check(check, folder)
    if status != 1 or words not in output:
        sys.exit(f"{check} did not catch '{words}': exit status {status}\n{output}")


def expect_each_caught(check, plants):
    """plants: (path, new text or a function of the old text, words that the check must print) each."""
    with copy_of_tree() as copy:
        before = run_check(check, copy)[1]
        for path, change, words in plants:
            if words in before:
                sys.exit(f"{check} says '{words}' before it is planted\n{before}")
            home = copy / path
            old = home.read_text() if home.exists() else None
            home.parent.mkdir(parents=True, exist_ok=True)
            home.write_text(change if isinstance(change, str) else change(old))
            expect_caught(check, copy, words)
            if old is None:
                home.unlink()
                with contextlib.suppress(OSError):
                    home.parent.rmdir()
            else:
                home.write_text(old)
        if run_check(check, copy)[1] != before:
            sys.exit(f"{check}: the copy was not put back")
