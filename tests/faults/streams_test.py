#!/usr/bin/env python3
"""Standard output and standard error that take nothing, and limits of the system.

streams_test.py LEASTWALL

A pipe that no one reads: one SIGINT ends every command within a second, status 3, every file as it
was before. A limit on the size of files or on open files: status 3 and one line. Standard error
that is closed, full or a pipe that no one reads changes no status and no file. Prints what was
tried, and last a line of JSON with the counts.
"""
import fcntl
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True
from small_job import QUICK, contents, make_inputs  # noqa: E402

PROGRAM = os.path.abspath(sys.argv[1])
# One second is promised; the rest is for a machine that does other things too.
WITHIN_S = 1.0 + 0.1 * os.getloadavg()[0]
OUTPUTS = {"old.json": b"old", "wall.png": b"old picture",
           "out/check.json": b'{"schema": "leastwall/check/2", "old": 1}'}
wrong = []
tried = 0


def judge(what, good, found):
    global tried
    tried += 1
    if not good:
        wrong.append(f"{what}: {found}")
        print(wrong[-1], flush=True)


def fresh(base):
    folder = os.path.join(base, "run")
    shutil.rmtree(folder, ignore_errors=True)
    os.mkdir(folder)
    make_inputs(folder)
    for name, content in OUTPUTS.items():
        path = os.path.join(folder, name)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "wb") as file:
            file.write(content)
    return folder


def small_pipe():
    """A pipe of one page; its ends."""
    reader, writer = os.pipe()
    fcntl.fcntl(writer, fcntl.F_SETPIPE_SZ, 4096)
    return reader, writer


def waits(process):
    """Sleeps for good: no CPU time within a third of a second, and it has had some."""
    def ticks():
        with open(f"/proc/{process.pid}/stat") as stat:
            fields = stat.read().rsplit(")", 1)[1].split()
        return fields[0], int(fields[11]) + int(fields[12])
    for _ in range(400):
        before = ticks()
        time.sleep(0.35)
        if process.poll() is not None:
            return False
        if before == ticks() and before[0] == "S":
            return True
    return False


def stop_while_no_one_reads(base):
    for what, words in {
        "check, JSON": QUICK + ["--json", "-", "--heatmap", "wall.png", "--out", "out"],
        "check, text": QUICK + ["--json", "old.json"],
        "check of a job, JSON": ["check", "job.toml", "--json", "-", "--out", "fresh"],
        "bed, JSON": ["bed", "bed.csv", "--json", "-", "--map", "wall.png"],
        "docs": ["docs", "man"],
        "help": ["check", "--help"],
    }.items():
        for stop in (signal.SIGINT, signal.SIGTERM):
            folder = fresh(base)
            before = contents(folder)
            reader, writer = small_pipe()
            os.set_blocking(writer, False)
            while True:  # full before it begins
                try:
                    os.write(writer, b"x")
                except BlockingIOError:
                    break
            os.set_blocking(writer, True)
            process = subprocess.Popen([PROGRAM] + words, cwd=folder, stdout=writer,
                                       stderr=subprocess.PIPE)
            os.close(writer)
            if not waits(process):
                judge(f"{what}: waits for its reader", False, process.poll())
                process.kill()
                process.communicate()
                os.close(reader)
                continue
            begin = time.monotonic()
            process.send_signal(stop)
            try:
                _, err = process.communicate(timeout=30)
            except subprocess.TimeoutExpired:
                process.kill()
                process.communicate()
                err = b"does not end"
            took = time.monotonic() - begin
            os.close(reader)
            good = (process.returncode == 3 and took < WITHIN_S and err.count(b"\n") == 1 and
                    contents(folder) == before)
            judge(f"{what}, {stop.name}", good,
                  (process.returncode, f"{took:.2f} s", err, contents(folder).keys()))


def slow_reader(base):
    """All bytes arrive, however slowly they are taken."""
    folder = fresh(base)
    words = [PROGRAM] + QUICK + ["--json", "-"]
    whole = subprocess.run(words, cwd=folder, capture_output=True).stdout
    reader, writer = small_pipe()
    process = subprocess.Popen(words, cwd=folder, stdout=writer)
    os.close(writer)
    got = b""
    while part := os.read(reader, 700):
        got += part
        time.sleep(0.005)
    os.close(reader)
    judge("a slow reader", got == whole and len(whole) > 4096 and process.wait() in (0, 1),
          (len(got), len(whole)))


def one_line(err):
    return err.count(b"\n") == 1 and err.startswith(b"leastwall: ")


def limited(words, folder, limit, value, **more):
    return subprocess.run([PROGRAM] + words, cwd=folder, capture_output=True, timeout=120,
                          preexec_fn=lambda: resource.setrlimit(limit, (value, value)), **more)


def small_files(base):
    for what, words in {"folder": ["check", "job.toml", "--out", "out", "--json", "old.json"],
                        "picture": QUICK + ["--heatmap", "wall.png"],
                        "JSON": QUICK + ["--json", "old.json"],
                        "bed": ["bed", "bed.csv", "--map", "wall.png"],
                        "start": ["start", "new/demo"]}.items():
        for size in (0, 512, 4096):
            folder = fresh(base)
            before = contents(folder)
            result = limited(words, folder, resource.RLIMIT_FSIZE, size)
            judge(f"files up to {size} bytes: {what}",
                  result.returncode == 3 and one_line(result.stderr) and contents(folder) == before,
                  (result.returncode, result.stderr, contents(folder).keys() ^ before.keys()))


def few_files(base):
    """Whatever the limit: done in full, or status 3 and one line; 127 is the loader's complaint."""
    words = {"check": QUICK + ["--json", "old.json"], "job": ["check", "job.toml", "--out", "out"],
             "OBJ": ["check", "--pocket", "pocket.obj"] + QUICK[3:],
             "bed": ["bed", "bed.csv", "--map", "wall.png"], "start": ["start", "new"]}
    seen = set()
    for what, command in words.items():
        folder = fresh(base)
        status = subprocess.run([PROGRAM] + command, cwd=folder, capture_output=True).returncode
        whole = contents(folder)
        for number in (*range(3, 12), 20, 30, 40, 46, 64):
            folder = fresh(base)
            before = contents(folder)
            result = limited(command, folder, resource.RLIMIT_NOFILE, number)
            seen.add(result.returncode)
            if result.returncode == status:
                good = contents(folder) == whole
            else:
                good = contents(folder) == before and (result.returncode == 127 or (
                    result.returncode == 3 and one_line(result.stderr)))
            judge(f"{number} open files: {what}", good, (result.returncode, result.stderr))
    judge("some limit was too low and some was not", 3 in seen and seen & {0, 1}, seen)


def no_stderr(base):
    calls = {"no such option": (["check", "--limt", "0.8"], 2),
             "no such command": (["chek"], 2),
             "no such file": (["check", "none.toml"], 2),
             "an output over an input": (["check", "job.toml", "--json", "job.toml"], 2),
             "no folder": (QUICK + ["--json", "none/r.json"], 2),
             "done": (["check", "job.toml", "--json", "old.json", "--out", "out"], None)}
    for what, (words, status) in calls.items():
        folder = fresh(base)
        expected = subprocess.run([PROGRAM] + words, cwd=folder, capture_output=True)
        whole = contents(folder)
        if status is None:
            status = expected.returncode
        for how in ("2>&-", "2>/dev/full", "<&- 2>&-"):
            folder = fresh(base)
            result = subprocess.run(["sh", "-c", f'exec "$0" "$@" {how}', PROGRAM] + words,
                                    cwd=folder, stdout=subprocess.PIPE, timeout=120)
            judge(f"{what}, {how}", result.returncode == status and contents(folder) == whole and
                  result.stdout == expected.stdout, result.returncode)
        # A pipe that no one reads, and that is full.
        folder = fresh(base)
        reader, writer = small_pipe()
        os.write(writer, b"x" * 4096)
        result = subprocess.run([PROGRAM] + words, cwd=folder, stdout=subprocess.PIPE,
                                stderr=writer, timeout=120)
        os.close(reader)
        os.close(writer)
        judge(f"{what}, full pipe", result.returncode == status and contents(folder) == whole,
              result.returncode)
    # Both closed: results are lost, and no file takes their place.
    folder = fresh(base)
    before = contents(folder)
    result = subprocess.run(["sh", "-c", 'exec "$0" "$@" >&- 2>&-', PROGRAM] + QUICK +
                            ["--json", "old.json"], cwd=folder, timeout=120)
    judge("both closed", result.returncode == 3 and contents(folder) == before, result.returncode)


def main():
    with tempfile.TemporaryDirectory() as base:
        for part in (stop_while_no_one_reads, slow_reader, small_files, few_files, no_stderr):
            begin, seen = time.monotonic(), tried
            part(base)
            print(f"{part.__name__}: {tried - seen} tried, {time.monotonic() - begin:.1f} s",
                  flush=True)
    print(json.dumps({"tried": tried, "wrong": len(wrong)}))
    if wrong or tried < 100:
        sys.exit(f"{len(wrong)} of {tried} runs were wrong")


if __name__ == "__main__":
    main()
