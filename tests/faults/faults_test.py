#!/usr/bin/env python3
"""Runs the program with one call made to fail (fault_points.cpp), at many places of the run.

faults_test.py LEASTWALL FAULT_LIBRARY [RUNS]

For each command and each kind of call: the calls of an undisturbed run are counted, then RUNS of
them (default 8, spread evenly over the run, the first and the last among them) are made to fail in
turn. Whatever fails, the program must end with status 2 or 3 and one line on stderr, with every
file as it was before and nothing left over; or do its work as if nothing had happened, with the
same bytes. Prints a table, and last a line of JSON with the counts.
"""
import json
import os
import shutil
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
from small_job import QUICK, contents, make_inputs  # noqa: E402

PROGRAM, LIBRARY = (os.path.abspath(p) for p in sys.argv[1:3])
RUNS = int(sys.argv[3]) if len(sys.argv) > 3 else 8
TIMEOUT_S = 120

# Name of a case: words of the command, outputs that stand there before it.
COMMANDS = {
    "check, JSON": (QUICK + ["--json", "new.json"], []),
    "check, picture over an old one": (QUICK + ["--heatmap", "wall.png", "--json", "r.json"],
                                       ["wall.png", "r.json"]),
    "check of a job, folder and sheet": (["check", "job.toml", "--out", "result", "--sheet",
                                          "sheet.pdf"], []),
    "check of a job, folder of an earlier run": (["check", "job.toml", "--out", "result"],
                                                 ["result/check.json", "result/wall.png",
                                                  "result/report.html"]),
    "check of an OBJ": (["check", "--pocket", "pocket.obj"] + QUICK[3:], []),
    "bed": (["bed", "bed.csv", "--json", "bed.json", "--map", "bed.png"], ["bed.json"]),
    "start": (["start", "new/demo", "--piece", "leaf"], []),
}
KINDS = ["allocate", "allocate from 64 KiB", "open", "read", "read short", "map", "create", "write",
         "write short", "write, disk stays full", "sync", "rename"]


def fresh(base, command):
    folder = os.path.join(base, "run")
    shutil.rmtree(folder, ignore_errors=True)
    os.mkdir(folder)
    make_inputs(folder)
    for name in COMMANDS[command][1]:
        path = os.path.join(folder, name)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "w") as file:
            # What tells an earlier run's folder from one of someone else's.
            file.write('{"schema": "leastwall/check/2"} old ' + name)
    return folder


def run(folder, command, kind, at, inside, count_file=None):
    environment = dict(os.environ, LD_PRELOAD=LIBRARY, LEASTWALL_FAULT=kind.split(",")[0].split()[0],
                       LEASTWALL_FAULT_AT=str(at), LEASTWALL_FAULT_IN=inside)
    if count_file:
        environment["LEASTWALL_FAULT_COUNT"] = count_file
    if "64 KiB" in kind:
        environment["LEASTWALL_FAULT_OVER"] = "65536"
    if "short" in kind:
        environment["LEASTWALL_FAULT_HOW"] = "short"
    if "stays" in kind:
        environment["LEASTWALL_FAULT_STAYS"] = "1"
    threads = ["--threads", "2"] if command.startswith("check") else []
    return subprocess.run([PROGRAM] + COMMANDS[command][0] + threads, cwd=folder, env=environment,
                          capture_output=True, timeout=TIMEOUT_S)


def count_calls(base, command, inside):
    """The undisturbed run: its result, what it leaves, its calls by kind."""
    folder, count_file = fresh(base, command), os.path.join(base, "count")
    if os.path.exists(count_file):
        os.remove(count_file)
    reference = run(folder, command, "nothing", 0, inside, count_file)
    if reference.returncode not in (0, 1):
        sys.exit(f"{command}: fails undisturbed: {reference.stderr}")
    if not os.path.exists(count_file):  # the import ends by _exit: its end is not seen
        return reference, contents(folder), {}
    with open(count_file) as lines:
        calls = {word: int(number) for word, number in (line.split() for line in lines)}
    calls["allocate from 64 KiB"] = calls["large"]
    return reference, contents(folder), calls


def places(calls):
    """RUNS numbers spread over 1..calls."""
    if calls == 0:
        return []
    return sorted({1 + i * (calls - 1) // max(1, RUNS - 1) for i in range(RUNS)})


def judge(result, before, after, whole, reference):
    """'harmless', 'refused', 'fenced' (refused by the last resort) or a complaint."""
    lines = "".join(line for line in result.stderr.decode(errors="replace").splitlines(True)
                    if line.strip() and not line.startswith("Fontconfig"))
    if result.returncode in (0, 1):
        if result.returncode != reference.returncode or result.stdout != reference.stdout:
            return "another answer"
        if after != whole:
            return "other bytes in " + ", ".join(
                n for n in sorted(set(after) | set(whole)) if after.get(n) != whole.get(n))
        return "harmless" if not lines else "says something and succeeds: " + lines
    if result.returncode not in (2, 3):
        return f"status {result.returncode}: {lines}"
    if lines.count("\n") != 1 or not lines.startswith("leastwall: "):
        return f"not one line: {lines!r}"
    if after != before:
        return "files changed: " + ", ".join(
            n for n in sorted(set(after) | set(before)) if after.get(n) != before.get(n))
    return "fenced" if "a fault in the program" in lines or "gave up" in lines else "refused"


def main():
    counts = {"harmless": 0, "refused": 0, "fenced": 0}
    complaints, rows = [], {}
    with tempfile.TemporaryDirectory() as base:
        for command in COMMANDS:
            before = contents(fresh(base, command))
            for inside in ["leastwall"] + ["leastwall-import"] * ("OBJ" in command):
                reference, whole, calls = count_calls(base, command, inside)
                for kind in KINDS:
                    row = rows.setdefault(kind, {"harmless": 0, "refused": 0, "fenced": 0})
                    seen = calls.get(kind, calls.get(kind.split(",")[0].split()[0], 300))
                    for at in places(seen):
                        folder = fresh(base, command)
                        try:
                            result = run(folder, command, kind, at, inside)
                            outcome = judge(result, before, contents(folder), whole, reference)
                        except subprocess.TimeoutExpired:
                            outcome = "does not end"
                        if outcome in row:
                            row[outcome] += 1
                            counts[outcome] += 1
                        else:
                            complaints.append(f"{command} | {inside}: {kind} {at} of {seen}: "
                                              f"{outcome}")
                            print(complaints[-1], flush=True)
                        if os.environ.get("LEASTWALL_FAULTS_SHOW") == outcome:
                            print(command, inside, kind, at, seen, result.stderr, flush=True)
    print(f"{'what failed':26}{'tried':>7}{'harmless':>10}{'refused':>9}{'last resort':>13}")
    for kind, row in rows.items():
        print(f"{kind:26}{sum(row.values()):7}{row['harmless']:10}{row['refused']:9}"
              f"{row['fenced']:13}")
    tried = sum(counts.values()) + len(complaints)
    print(json.dumps({"tried": tried, **counts, "wrong": len(complaints)}))
    if tried < 50 or complaints:
        sys.exit(f"{len(complaints)} of {tried} runs were wrong")


if __name__ == "__main__":
    main()
