#!/usr/bin/env python3
"""Runs clang-tidy-16 over src/, two files at a time, and remembers what was clean.

A file is looked at again only when it, a header of ours that it reaches, .clang-tidy or clang-tidy itself has changed:
the names of empty files in build/tidy-cache are hashes over all of these. Needs build/dev/compile_commands.json.
"""

import concurrent.futures
import functools
import hashlib
import json
import os
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
SRC = ROOT / "src"
CACHE = ROOT / "build" / "tidy-cache"
TIDY = "clang-tidy-16"
INCLUDE = re.compile(r'^\s*#\s*include\s+"([a-z0-9_./]+)"', re.MULTILINE)


@functools.cache
def reached(path):
    """The file and every header under src/ that it includes, directly or not."""
    seen, waiting = {path}, [path]
    while waiting:
        for included in INCLUDE.findall(waiting.pop().read_text(encoding="utf-8")):
            header = SRC / included
            if header not in seen and header.is_file():
                seen.add(header)
                waiting.append(header)
    return sorted(seen)


def mark_of(path, common):
    digest = hashlib.sha256(common)
    for part in reached(path):
        digest.update(part.relative_to(ROOT).as_posix().encode() + b"\0" + part.read_bytes())
    return CACHE / digest.hexdigest()


def look_at(path, mark):
    run = subprocess.run([TIDY, "-p", str(ROOT / "build" / "dev"), "--quiet", str(path)],
                         capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False)
    if run.returncode == 0:
        mark.touch()
    return path, run.returncode, run.stdout


def main():
    commands = json.loads((ROOT / "build" / "dev" / "compile_commands.json").read_text(encoding="utf-8"))
    files = sorted({pathlib.Path(c["file"]) for c in commands
                    if c["file"].endswith(".cpp") and pathlib.Path(c["file"]).is_relative_to(SRC)})
    CACHE.mkdir(parents=True, exist_ok=True)
    version = subprocess.run([TIDY, "--version"], capture_output=True, check=True).stdout
    common = version + (ROOT / ".clang-tidy").read_bytes()
    marks = {path: mark_of(path, common) for path in files}
    todo = [path for path in files if not marks[path].exists()]
    bad = 0
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count() or 2) as pool:
        for path, code, text in pool.map(lambda p: look_at(p, marks[p]), todo):
            if code != 0:
                bad += 1
                print(f"--- {path.relative_to(ROOT)}\n{text}")
    print(f"{len(files)} files, {len(todo)} looked at, {bad} with findings")
    return 1 if bad or not files else 0


if __name__ == "__main__":
    sys.exit(main())
