#!/usr/bin/env python3
"""Stops the program at many moments, and changes files under its hands.

stops_test.py LEASTWALL [RUNS]

For each case RUNS moments (default 4) spread over the undisturbed run. A stop (SIGINT, SIGTERM,
SIGHUP in turn) must end it within a second with status 3 and one line, every file as before,
nothing left over, no import process left behind. A mesh that is shortened or taken away while it
is read must end it with status 2 and one line, or be too late to matter; never by a signal.
Prints what was tried, and last a line of JSON with the counts.
"""
import json
import math
import os
import shutil
import signal
import struct
import subprocess
import sys
import tempfile
import time

PROGRAM = os.path.abspath(sys.argv[1])
RUNS = int(sys.argv[2]) if len(sys.argv) > 2 else 4
SIGNALS = [signal.SIGINT, signal.SIGTERM, signal.SIGHUP]
# One second is promised; the rest is for a machine that does other things too.
WITHIN_S = 1.0 + 0.1 * os.getloadavg()[0]


def grid(n, z):
    """Facets of a sheet of n x n cells, 60 x 60 mm, gently waved about z."""
    def at(i, j):
        return (60 * i / n, 60 * j / n, z + 0.2 * math.sin(9 * i / n) * math.sin(7 * j / n))
    for j in range(n):
        for i in range(n):
            a, b, c, d = at(i, j), at(i + 1, j), at(i, j + 1), at(i + 1, j + 1)
            yield a, b, d
            yield a, d, c


def binary(path, n, z):
    with open(path, "wb") as file:
        file.write(b"sheet".ljust(80, b"\0") + struct.pack("<I", 2 * n * n))
        for facet in grid(n, z):
            file.write(struct.pack("<12fH", 0, 0, 0, *(c for p in facet for c in p), 0))


def text(path, n, z):
    with open(path, "w") as file:
        file.write("solid sheet\n")
        for facet in grid(n, z):
            file.write("facet normal 0 0 0\nouter loop\n" +
                       "".join("vertex %.6f %.6f %.6f\n" % p for p in facet) +
                       "endloop\nendfacet\n")
        file.write("endsolid sheet\n")


def collada(path, n, z):
    """The same facets for the import process, which reads this format alone."""
    points = [p for facet in grid(n, z) for p in facet]
    numbers = " ".join("%.6f %.6f %.6f" % p for p in points)
    with open(path, "w") as file:
        file.write(
            '<?xml version="1.0"?>\n<COLLADA xmlns="http://www.collada.org/2005/11/COLLADASchema"'
            ' version="1.4.1">\n<asset><unit name="millimeter" meter="0.001"/>'
            '<up_axis>Z_UP</up_axis></asset>\n<library_geometries><geometry id="g"><mesh>'
            f'<source id="p"><float_array id="pa" count="{3 * len(points)}">{numbers}</float_array>'
            f'<technique_common><accessor source="#pa" count="{len(points)}" stride="3">'
            '<param name="X" type="float"/><param name="Y" type="float"/>'
            '<param name="Z" type="float"/></accessor></technique_common></source>'
            '<vertices id="v"><input semantic="POSITION" source="#p"/></vertices>'
            f'<triangles count="{len(points) // 3}">'
            '<input semantic="VERTEX" source="#v" offset="0"/>'
            f'<p>{" ".join(map(str, range(len(points))))}</p></triangles>'
            '</mesh></geometry></library_geometries>\n<library_visual_scenes><visual_scene id="s">'
            '<node><instance_geometry url="#g"/></node></visual_scene></library_visual_scenes>\n'
            '<scene><instance_visual_scene url="#s"/></scene></COLLADA>\n')


WRITERS = {"binary STL": ("a.stl", binary, 160), "ASCII STL": ("a.stl", text, 120),
           "COLLADA by the import": ("a.dae", collada, 80)}


def names(folder):
    return {os.path.relpath(os.path.join(at, n), folder)
            for at, folders, files in os.walk(folder) for n in folders + files}


def left_behind(folder):
    """Processes that still have a file of this folder on their command line."""
    found = []
    for pid in filter(str.isdigit, os.listdir("/proc")):
        try:
            with open(f"/proc/{pid}/cmdline", "rb") as file:
                if folder.encode() in file.read() and int(pid) != os.getpid():
                    found.append(pid)
        except OSError:
            pass
    return found


def start(folder, pocket):
    return subprocess.Popen(
        [PROGRAM, "check", "--pocket", os.path.join(folder, pocket), "--skin",
         os.path.join(folder, "b.stl"), "--limit", "0.8", "--z-zero", "0.05", "--json",
         os.path.join(folder, "old.json"), "--heatmap", os.path.join(folder, "wall.png")] +
        ["--out", os.path.join(folder, "out")] * pocket.endswith(".dae"),
        cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def one_line(err):
    return err.count(b"\n") == 1 and err.startswith(b"leastwall: ")


def main():
    counts = {"stopped": 0, "refused": 0, "already done": 0}
    wrong = []
    slowest = 0.0
    with tempfile.TemporaryDirectory() as base:
        for case, (pocket, write, cells) in WRITERS.items():
            source = os.path.join(base, "source")
            shutil.rmtree(source, ignore_errors=True)
            os.mkdir(source)
            write(os.path.join(source, pocket), cells, -4)
            binary(os.path.join(source, "b.stl"), 60, -8)
            with open(os.path.join(source, "old.json"), "w") as file:
                file.write("old")

            def fresh():
                folder = os.path.join(base, "run")
                shutil.rmtree(folder, ignore_errors=True)
                shutil.copytree(source, folder)
                return folder

            folder = fresh()
            begin = time.monotonic()
            process = start(folder, pocket)
            _, err = process.communicate(timeout=300)
            whole_s = time.monotonic() - begin
            print(f"{case}: {whole_s:.1f} s undisturbed", flush=True)
            if process.returncode not in (0, 1):
                sys.exit(f"{case}: fails undisturbed: {err}")
            for i in range(RUNS):
                # Not at the very start: the program must be running to catch anything.
                later = 0.03 + (whole_s - 0.03) * i / RUNS
                for action in ("stop", "shorten", "take away"):
                    if action != "stop" and i > RUNS // 2:
                        continue  # the files have been read by then
                    # A file changes before it can have been read, too.
                    moment = 0.0 if i == 0 and action != "stop" else later
                    folder = fresh()
                    before = names(folder)
                    process = start(folder, pocket)
                    time.sleep(moment)
                    what = f"{case}: {action} after {moment:.2f} s"
                    begin = time.monotonic()
                    if action == "stop":
                        process.send_signal(SIGNALS[i % len(SIGNALS)])
                    elif action == "shorten":
                        with open(os.path.join(folder, pocket), "r+b") as file:
                            file.truncate(5000)
                        with open(os.path.join(folder, "b.stl"), "r+b") as file:
                            file.truncate(5000)
                    else:
                        os.remove(os.path.join(folder, pocket))
                        before.discard(pocket)
                    try:
                        out, err = process.communicate(timeout=120)
                    except subprocess.TimeoutExpired:
                        process.kill()
                        wrong.append(f"{what}: does not end")
                        continue
                    took = time.monotonic() - begin
                    status = process.returncode
                    if status in (0, 1):
                        counts["already done"] += 1
                        continue
                    if status == -SIGNALS[i % len(SIGNALS)] and i == 0 and action == "stop":
                        continue  # it had not even started
                    expected = 3 if action == "stop" else 2
                    if status != expected or not one_line(err) or out:
                        wrong.append(f"{what}: status {status}, {err!r}")
                    elif names(folder) != before or open(
                            os.path.join(folder, "old.json")).read() != "old":
                        wrong.append(f"{what}: left {names(folder) ^ before}")
                    elif left_behind(folder):
                        wrong.append(f"{what}: processes left behind")
                    elif action == "stop" and took > WITHIN_S:
                        wrong.append(f"{what}: ended after {took:.2f} s")
                    else:
                        counts["stopped" if action == "stop" else "refused"] += 1
                    if action == "stop":
                        slowest = max(slowest, took)
    for line in wrong:
        print(line)
    tried = sum(counts.values()) + len(wrong)
    print(f"slowest stop: {slowest:.2f} s")
    print(json.dumps({"tried": tried, **counts, "wrong": len(wrong)}))
    if wrong or counts["stopped"] < 3 or counts["refused"] < 1:
        sys.exit(f"{len(wrong)} of {tried} runs were wrong; 3 must be stopped and 1 refused")


if __name__ == "__main__":
    main()
