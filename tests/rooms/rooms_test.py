#!/usr/bin/env python3
"""Folders are layers: each uses only those above it. Read from the includes.

rooms_test.py SOURCE_DIR

ROOMS is the order, from the bottom up; DEVELOPERS.md tells what each is for. A folder holds at most
MOST_FILES files beside its sub-folders, and a test stands where what it tests stands.
"""
import os
import re
import sys

ROOT = sys.argv[1]
ROOMS = """
base base/maths base/text base/file space mesh mesh/syntax mesh/formats mesh/importing mesh/load spatial hollow
field field/module
wall/inside wall/surface wall/sampling wall/least wall wall/fit wall/regions pour
bed bed/readings bed/seat setup causes/model causes/bit causes/board causes/bed causes/flip causes
budget/effects budget/trials budget/advice budget/pad budget job/toml job/keys job job/form
parts report report/words report/json report/text report/draw/canvas report/draw report/maps report/section report/pour report/sheet report/mesh
report/page check check/quick check/reports check/fields check/hollow check/pour
app/os app/output app/commands app
browser/instead/base/maths browser/instead/base browser/instead browser import
""".split()
MOST_FILES = 30
# Programs of their own, which share a protocol or a header and no code.
ALONE = {"import": {"mesh/importing", "base", "base/file", "mesh", "space"},
         "field/module": {"field", "base", "space"}}


def sources(folder):
    for at, _, names in os.walk(os.path.join(ROOT, folder)):
        for name in sorted(names):
            if name.endswith((".h", ".cpp")):
                path = os.path.join(at, name)
                yield os.path.relpath(path, os.path.join(ROOT, folder)), path


def includes(path):
    with open(path, encoding="utf-8") as file:
        return re.findall(r'^\s*#\s*include\s+"([^"]+)"', file.read(), re.MULTILINE)


def wrong_arrows():
    for name, path in sources("src"):
        room = os.path.dirname(name)
        if room not in ROOMS:
            yield f"src/{name}: no room in tests/rooms/rooms_test.py"
            continue
        for used in includes(path):
            other = os.path.dirname(used)
            if not os.path.exists(os.path.join(ROOT, "src", used)):
                if not used.startswith(("CLI/", "page_assets", "gourd_mesh")):
                    yield f"src/{name}: {used} is not in src/"
            elif other not in ROOMS or ROOMS.index(other) > ROOMS.index(room):
                yield f"src/{name} uses {used}, which stands below it"
            elif room in ALONE and other != room and other not in ALONE[room]:
                yield f"src/{name} uses {used}: {room} is a program of its own"
            elif room not in ALONE and other in ALONE:
                yield f"src/{name} uses {used} of a program of its own"


# Functions whose last bit each system's library rounds in its own way: base/maths has ours, but where
# nothing of the result reaches text, JSON or page.
SYSTEM_MATHS = re.compile(
    r"\bstd::(a?sin|a?cos|a?tan|atan2|sinh|cosh|tanh|exp2?|expm1|log|log2|log10|log1p|pow|hypot|erfc?|cbrt|"
    r"[tl]gamma)\(|\blong double\b")
DRAWN = ("report/maps", "report/section", "report/pour", "check/fields", "field", "field/module", "import")


def rounded_by_the_system():
    for name, path in sources("src"):
        if os.path.dirname(name) in DRAWN or name in (
                "base/maths/extended.h", "report/draw/wall_pixels.cpp"):
            continue
        with open(path, encoding="utf-8") as file:
            for number, line in enumerate(file, 1):
                code = line.split("//")[0]
                if SYSTEM_MATHS.search(code):
                    yield f"src/{name}:{number}: {code.strip()}: base/maths has its own"


def crowded():
    for folder in ("src", "tests"):
        for at, _, names in os.walk(os.path.join(ROOT, folder)):
            if os.path.relpath(at, ROOT).startswith("tests/data"):
                continue
            if len(names) > MOST_FILES:
                yield f"{os.path.relpath(at, ROOT)}: {len(names)} files, at most {MOST_FILES}"


def misplaced_tests():
    rooms = {}
    for name, _ in sources("src"):
        rooms.setdefault(os.path.splitext(os.path.basename(name))[0], set()).add(
            os.path.dirname(name))
    for name, _ in sources("tests"):
        folder, base = os.path.split(os.path.splitext(name)[0])
        tested = rooms.get(re.sub("_test$", "", base))
        if base.endswith("_test") and tested and folder not in tested:
            yield f"tests/{name}: what it tests stands in src/{' or src/'.join(sorted(tested))}"


def main():
    with open(os.path.join(ROOT, "DEVELOPERS.md"), encoding="utf-8") as file:
        told = set(re.findall(r"`src/([a-z/]+?)/`", file.read()))
    faults = [*wrong_arrows(), *rounded_by_the_system(), *crowded(), *misplaced_tests()]
    faults += [f"src/{room}/: not in the table of DEVELOPERS.md" for room in ROOMS
               if room not in told]
    faults += [f"DEVELOPERS.md tells of src/{room}/, which is not there" for room in sorted(told)
               if not os.path.isdir(os.path.join(ROOT, "src", room))]
    for fault in faults:
        print(fault)
    arrows = sum(len(includes(path)) for _, path in sources("src"))
    print(f"{len(ROOMS)} rooms, {arrows} includes, {len(faults)} faults")
    if faults or arrows < 1000:
        sys.exit(1)


if __name__ == "__main__":
    main()
