#!/usr/bin/env python3
"""Holds the includes of src/ against the table in tools/layers.txt.

Fails on an include that is not an allowed arrow, a folder that is not in the table, a table that has a cycle, files
that include each other in a ring, an include of a file that is not there, another folder's detail/, and a header of a
folder's face that draws in nlohmann/json.hpp (it costs seconds in every file that sees it).
"""

import pathlib
import re
import sys

INCLUDE = re.compile(r'^\s*#\s*include\s+"([a-z0-9_./]+)"', re.MULTILINE)
JSON = re.compile(r'^\s*#\s*include\s+[<"]nlohmann/json\.hpp[>"]', re.MULTILINE)


def read_table(path):
    """folder -> set of folders that it may include."""
    table = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        line = line.split("#")[0].strip()
        if line:
            folder, _, lower = line.partition(":")
            table[folder.strip()] = set(lower.split())
    return table


def ring(arrows):
    """Some ring among the arrows, as a list of names, or None."""
    done, path = set(), []

    def visit(name):
        if name in path:
            return path[path.index(name):] + [name]
        if name in done:
            return None
        path.append(name)
        for lower in sorted(arrows.get(name, ())):
            found = visit(lower)
            if found:
                return found
        path.pop()
        done.add(name)
        return None

    for start in sorted(arrows):
        found = visit(start)
        if found:
            return found
    return None


def reached(files, start):
    """Every file of ours that `start` includes, directly or not, and itself."""
    seen, waiting = {start}, [start]
    while waiting:
        for included in files.get(waiting.pop(), ()):
            if included not in seen:
                seen.add(included)
                waiting.append(included)
    return seen


def check(root):
    src = root / "src"
    table = read_table(root / "tools" / "layers.txt")
    problems = []
    for folder in sorted(set().union(*table.values()) - set(table)):
        problems.append(f"tools/layers.txt: {folder} is included but has no line of its own")
    if found := ring(table):
        problems.append("tools/layers.txt: the arrows run in a ring: " + " -> ".join(found))
    for folder in sorted(p.name for p in src.iterdir() if p.is_dir() and p.name not in table):
        problems.append(f"src/{folder}: this folder has no line in tools/layers.txt")

    files, with_json = {}, set()
    for path in sorted(p for p in src.rglob("*") if p.suffix in (".h", ".cpp")):
        name = path.relative_to(src).as_posix()
        text = path.read_text(encoding="utf-8")
        folder = name.split("/")[0]
        files[name] = set()
        if JSON.search(text):
            with_json.add(name)
        for included in INCLUDE.findall(text):
            lower = included.split("/")[0]
            if "/" not in included or lower not in table:
                problems.append(f'src/{name}: "{included}" is not written as folder/file.h of a folder in the table')
            elif lower != folder and lower not in table.get(folder, ()):
                problems.append(f'src/{name}: {folder} may not include {lower} ("{included}")')
            elif lower != folder and "/detail/" in included:
                problems.append(f'src/{name}: "{included}" is the inside of another folder')
            elif not (src / included).is_file():
                problems.append(f'src/{name}: there is no "{included}"')
            else:
                files[name].add(included)
    for name in files:
        if name.endswith(".h") and "/detail/" not in name and reached(files, name) & with_json:
            problems.append(f"src/{name}: draws in nlohmann/json.hpp; use json_fwd.hpp or move it to the .cpp")
    if found := ring(files):
        problems.append("src: these files include each other in a ring: " + " -> ".join(found))
    return len(files), problems


def main():
    root = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parent.parent)
    count, problems = check(root)
    for problem in problems:
        print(problem)
    print(f"{count} files, {len(problems)} problems")
    return 1 if problems or count == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
