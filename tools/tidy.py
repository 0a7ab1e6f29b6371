#!/usr/bin/env python3
"""Runs clang-tidy-16 over src/ as the builds join its files, two joined files at a time, and remembers what was clean.

A joined file is looked at again only when one of its files, a header of ours that they reach, .clang-tidy or clang-tidy
itself has changed: the names of empty files in build/tidy-cache are hashes over all of these.
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
COMMANDS = ROOT / "build" / "dev"
TIDY = "clang-tidy-16"
JOINED = "--checks=-bugprone-suspicious-include"  # that is how files are joined
INCLUDE = re.compile(r'^\s*#\s*include\s+"([^"]+)"', re.MULTILINE)


@functools.cache
def reached(path):
    """The file and everything of ours that it includes, directly or not."""
    seen, waiting = {path}, [path]
    while waiting:
        for included in INCLUDE.findall(waiting.pop().read_text(encoding="utf-8")):
            ours = SRC / included  # what a joined file includes is named in full, and stays so
            if ours not in seen and ours.is_file():
                seen.add(ours)
                waiting.append(ours)
    return sorted(seen)


def mark_of(path, common):
    digest = hashlib.sha256(common)
    for part in reached(path):
        if part.is_relative_to(SRC):
            digest.update(part.relative_to(ROOT).as_posix().encode() + b"\0" + part.read_bytes())
    return CACHE / digest.hexdigest()


def look_at(path, mark):
    run = subprocess.run([TIDY, "-p", str(COMMANDS), "--quiet", JOINED, str(path)],
                         capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False)
    if run.returncode == 0:
        mark.touch()
    return path, run.returncode, run.stdout


def main():
    subprocess.run(["cmake", "--preset", "dev"], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    commands = json.loads((COMMANDS / "compile_commands.json").read_text(encoding="utf-8"))
    files = sorted(path for path in {pathlib.Path(c["file"]) for c in commands}
                   if path.is_relative_to(COMMANDS / "src") and path.suffix == ".cxx")
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
    print(f"{len(files)} joined files, {len(todo)} looked at, {bad} with findings")
    return 1 if bad or not files else 0


if __name__ == "__main__":
    sys.exit(main())
