#!/usr/bin/env python3
"""The module for browsers against the program: the same bytes, the same messages, the same status.

same_bytes_test.py PROGRAM SOURCE_DIR BROWSER_BUILD WORK_DIR MAKE_DEMO_MESHES

Runs both on the demo jobs, the golden piece, every job of tests/data (those that are refused too), quick
looks, and the models of assimp-testmodels, well-formed and damaged, as pockets. Status 77 (left out) where the
module was not built.
"""
import json
import os
import re
import shutil
import subprocess
import sys
import time

PROGRAM, SOURCE, BROWSER, WORK, GENERATOR = (os.path.abspath(p) for p in sys.argv[1:6])
HOME = "/a/b/c/d/e/f/g/h"
MODELS = "/usr/share/assimp/models"
MODEL_KINDS = (".stl", ".ply", ".obj", ".off", ".3mf", ".gltf", ".glb")
WITH_LETTER = 4  # so many cases are compared on both papers
MOST_MODEL_BYTES = 1_500_000  # larger ones take longer than they tell


def tree(folder, into):
    """Every file of a folder, as it lies in the module."""
    files = {}
    for at, folders, names in os.walk(folder):
        folders.sort()
        for name in sorted(names):
            path = os.path.join(at, name)
            files[os.path.join(into, os.path.relpath(path, folder))] = path
    return files


class Case:
    def __init__(self, name, root, folder, words, request, fresh=False, beside=None):
        """`root` is copied to the module, `folder` in it is where both run; `beside`: further files."""
        self.name, self.root, self.folder = name, root, folder
        self.words, self.request, self.fresh, self.beside = words, request, fresh, beside or {}
        self.of_job = "job" in request

    def job(self, number):
        home = f"{HOME}/{number}"  # files of one case are none of the next
        beside = {os.path.normpath(os.path.join(home, to)): path for to, path in self.beside.items()}
        return {"folder": os.path.normpath(os.path.join(home, self.folder)),
                "files": {**tree(self.root, home), **beside}, "request": self.request, "fresh": self.fresh}


def job_case(root, folder, name, words=(), request=None, fresh=False):
    return Case(f"{folder}/{name} {' '.join(words)}".strip(), root, folder, [name, *words],
                {"job": name, **(request or {})}, fresh)


def all_cases(demo):
    yield job_case(demo, "gourd", "gourd.toml", fresh=True)
    yield job_case(demo, "gourd", "gourd-whole.toml", fresh=True)
    yield job_case(demo, "leaf", "leaf.toml", fresh=True)
    yield job_case(demo, "gourd", "gourd-whole.toml", ["--pad-reading", "0.84"],
                   {"pad_reading_mm": 0.84}, fresh=True)
    quick = [({"limit_mm": 0.8, "z_zero_mm": 0.05, "bed_flatness_mm": 0.15},
              ["--limit", "0.8", "--z-zero", "0.05", "--bed-flatness", "0.15"]),
             ({"limit_mm": 0.8, "units": "inch"}, ["--limit", "0.8", "--units", "inch"]),
             ({"limit_mm": 0.9, "top_z_mm": -2}, ["--limit", "0.9", "--top-z", "-2"]),
             ({}, []), ({"limit_mm": 0}, ["--limit", "0"]),
             ({"limit_mm": 0.8, "memory_limit_bytes": 30e6}, ["--limit", "0.8", "--memory-limit", "30MB"])]
    for request, words in quick:
        yield Case("quick " + " ".join(words), os.path.join(demo, "gourd"), ".",
                   ["--pocket", "gourd_pocket.stl", "--skin", "gourd_skin.stl", *words],
                   {"pocket": "gourd_pocket.stl", "skin": "gourd_skin.stl", **request}, True)
    for request, words in [({"limit_mm": 0.8, "skin": "gone.stl"}, ["--limit", "0.8", "--skin", "gone.stl"]),
                           ({"limit_mm": 0.8}, ["--limit", "0.8"])]:
        yield Case("quick " + " ".join(words), os.path.join(demo, "gourd"), ".",
                   ["--pocket", "gourd_pocket.stl", *words], {"pocket": "gourd_pocket.stl", **request}, True)
    yield job_case(os.path.join(SOURCE, "tests/golden/piece"), ".", "trough.toml")
    yield job_case(os.path.join(SOURCE, "tests/golden/piece"), ".", "trough.toml", ["--inches"],
                   {"inches": True})
    yield job_case(os.path.join(SOURCE, "tests/golden/piece"), ".", "trough.toml",
                   ["--pad-reading", "1.02"], {"pad_reading_mm": 1.02})
    jobs = os.path.join(SOURCE, "tests/data/jobs")
    for at, folders, names in os.walk(jobs):
        folders.sort()
        for name in sorted(n for n in names if n.endswith(".toml")):
            yield job_case(jobs, os.path.relpath(at, jobs), name)
    beds = os.path.join(SOURCE, "tests/data/beds")  # they name the demo meshes
    meshes = {f"../../../meshes/{n}": os.path.join(SOURCE, "meshes", n)
              for n in ("gourd_pocket.stl", "gourd_skin.stl", "leaf_back.ply", "leaf_front.ply")}
    for name in sorted(n for n in os.listdir(beds) if n.endswith(".toml")):
        yield Case("beds/" + name, beds, ".", [name], {"job": name}, True, meshes)


def model_cases(folder):
    """Each model over a small skin: what reads it, what it finds, what it refuses."""
    if not os.path.isdir(MODELS):
        return
    for at, folders, names in os.walk(MODELS):
        folders.sort()
        for name in sorted(names):
            path = os.path.join(at, name)
            if name.lower().endswith(MODEL_KINDS) and os.path.getsize(path) <= MOST_MODEL_BYTES \
                    and all(ord(c) < 128 for c in path):
                one = os.path.join(folder, os.path.relpath(path, MODELS).replace("/", "_"))
                os.makedirs(one, exist_ok=True)
                for beside in [name, *(n for n in names if n.endswith((".bin", ".mtl")))]:
                    if os.path.getsize(os.path.join(at, beside)) <= MOST_MODEL_BYTES:
                        shutil.copy(os.path.join(at, beside), one)
                shutil.copy(os.path.join(SOURCE, "tests/golden/piece/skin.stl"), os.path.join(one, "over.stl"))
                yield Case("model " + os.path.relpath(path, MODELS), one, ".",
                           ["--pocket", name, "--skin", "over.stl", "--limit", "0.8"],
                           {"pocket": name, "skin": "over.stl", "limit_mm": 0.8})


def native(case, out, with_letter=False):
    """The run with its folder; of a job the sheets as well, which stand beside it."""
    sheets = out + "-sheets"
    os.makedirs(sheets)
    began = time.time()
    run = None
    for paper in ("a4", "letter") if case.of_job and with_letter else ("a4",):
        words = ["--out", out] if paper == "a4" else ["--quiet"]
        if case.of_job:
            words += ["--paper", paper, "--sheet", f"{sheets}/setup-sheet-{paper}.html",
                      "--card", f"{sheets}/setup-card-{paper}.html"]
        got = subprocess.run([PROGRAM, "check", *case.words, "--threads", "1", *words],
                             cwd=os.path.join(case.root, case.folder), capture_output=True,
                             env={**os.environ, "LC_ALL": "C.UTF-8", "NO_COLOR": "1"}, check=False)
        run = run or got
    return run, time.time() - began


def compare(run, answer, folder, out, with_letter, of_job):
    """Everything that differs, in words. What is written is named in the text's last lines, which the module
    has not."""
    faults = []
    if answer["status"] != run.returncode:
        faults.append(f"status {answer['status']}, the program's {run.returncode}")
    said = run.stderr.decode().rstrip("\n")
    if answer["message"] != said:
        faults.append(f"message {answer['message']!r}, the program's {said!r}")
    text = "check.txt"
    if text in answer["names"]:
        with open(os.path.join(folder, text), encoding="utf-8") as file:
            mine = file.read()
        if not run.stdout.decode().startswith(mine) or not mine:
            faults.append("the text differs")
    for name in answer["names"]:
        if name == text:
            continue
        with open(os.path.join(folder, name), "rb") as file:
            mine = file.read()
        sheet = re.fullmatch(r"setup-(?:sheet|card)-(a4|letter)\.html", name)
        if sheet and sheet.group(1) == "letter" and not with_letter:
            continue
        try:
            with open(os.path.join(out + "-sheets" if sheet else out, name), "rb") as file:
                theirs = file.read()
        except FileNotFoundError:
            faults.append(f"{name}: the program writes none")
            continue
        if mine != theirs:
            at = next((i for i, (a, b) in enumerate(zip(mine, theirs)) if a != b), min(len(mine), len(theirs)))
            faults.append(f"{name} differs from byte {at} on: {mine[max(0, at - 60):at + 60]!r}, the program's "
                          f"{theirs[max(0, at - 60):at + 60]!r}")
    if run.returncode < 2 and not {"check.json", "check.txt", "report.html"} <= set(answer["names"]):
        faults.append(f"only {answer['names']}")
    sheets = {n for n in answer["names"] if n.startswith("setup-")}
    if run.returncode < 2 and len(sheets) != (4 if of_job else 0):
        faults.append(f"sheets: {sorted(sheets)}")
    if os.path.isdir(out):
        made = {n for n in os.listdir(out) if n.endswith((".glb", ".json", ".html"))}
        if made - set(answer["names"]):
            faults.append(f"not made: {sorted(made - set(answer['names']))}")
    return faults


def main():
    wasm = os.path.join(BROWSER, "leastwall-core.wasm")
    if not os.path.exists(wasm) or not shutil.which("node"):
        print("left out: the module for browsers was not built (scripts/browser.sh builds it)")
        sys.exit(77)
    shutil.rmtree(WORK, ignore_errors=True)
    demo = os.path.join(WORK, "demo")
    for piece in ("gourd", "leaf"):
        subprocess.run([PROGRAM, "start", os.path.join(demo, piece), "--piece", piece], check=True,
                       capture_output=True)
    answers = {"title": "A \"piece\" in \u00e9bony", "units": "mm", "pocket": "gourd_pocket.stl",
               "skin": "gourd_skin.stl", "limit": "0,8", "thickness": "45 mm", "touch_off": "2 thou",
               "flatness": "0.006in"}
    cases = [*all_cases(demo), *model_cases(os.path.join(WORK, "models"))]
    jobs = [c.job(i) for i, c in enumerate(cases)]
    jobs.append({"folder": HOME, "demo": True, "fresh": True})
    jobs.append({"folder": HOME, "answers": answers, "fresh": True})
    with open(os.path.join(WORK, "cases.json"), "w", encoding="utf-8") as file:
        json.dump(jobs, file)
    core = os.path.join(SOURCE, "src/browser/page/10_core.js")
    # Both at once: one thread each.
    with subprocess.Popen(["node", os.path.join(SOURCE, "tests/browser/answer_cases.js"),
                           os.path.join(BROWSER, "leastwall-core.js"), wasm, core,
                           os.path.join(WORK, "cases.json"), os.path.join(WORK, "out")]) as module:
        runs = [native(case, os.path.join(WORK, "native", str(i)), i < WITH_LETTER) for i, case in enumerate(cases)]
    if module.returncode != 0:
        print("node ended with status", module.returncode)
        sys.exit(1)

    wrong = compared = refused = 0

    def answer_of(i):
        with open(os.path.join(WORK, "out", str(i), "answer.json"), encoding="utf-8") as file:
            return json.load(file)

    def tell(name, faults):
        nonlocal wrong
        wrong += bool(faults)
        for fault in faults:
            print(f"{name}: {fault[:600]}")

    for i, case in enumerate(cases):
        answer = answer_of(i)
        run, seconds = runs[i]
        faults = compare(run, answer, os.path.join(WORK, "out", str(i)),
                         os.path.join(WORK, "native", str(i)), i < WITH_LETTER, case.of_job)
        tell(case.name, faults)
        compared += len(answer["names"])
        refused += answer["status"] >= 2
        if answer["seconds"] > 0.3:
            print(f"  {case.name}: module {answer['seconds']:.2f} s, heap {answer['heap'] / 1e6:.0f} MB; program "
                  f"with its pictures {seconds:.2f} s")
    # The demo that the module makes is the one that the generator makes and the program copies.
    made = answer_of(len(cases))
    faults = []
    with open(os.path.join(demo, "gourd/gourd.toml"), encoding="utf-8") as file:
        if file.read() != made["message"]:
            faults.append("the job differs")
    subprocess.run([GENERATOR, "gourd", os.path.join(WORK, "generated")], check=True, capture_output=True)
    for name in ("gourd_pocket.stl", "gourd_skin.stl"):
        with open(os.path.join(WORK, "out", str(len(cases)), name), "rb") as mine, \
                open(os.path.join(WORK, "generated", name), "rb") as theirs:
            if mine.read() != theirs.read():
                faults.append(f"{name} differs")
    tell("demo", faults)
    # The job that a page begins with is one that the program reads, and says what was typed.
    with open(os.path.join(demo, "gourd/first.toml"), "w", encoding="utf-8") as file:
        file.write(answer_of(len(cases) + 1)["message"])
    run, _ = native(job_case(demo, "gourd", "first.toml"), os.path.join(WORK, "native", "first"))
    faults = []
    if run.returncode > 1:
        faults.append(run.stderr.decode())
    else:
        with open(os.path.join(WORK, "native/first/check.json"), encoding="utf-8") as file:
            result = json.load(file)
        if abs(result["limit_mm"] - 0.8) > 1e-12:
            faults.append(f"limit {result['wall']['limit_mm']}, 0.8 was typed")
        if result["title"] != answers["title"]:
            faults.append(f"title {result['title']}")
    tell("first job", faults)
    print(f"{len(cases)} checks, {refused} of them refused, {compared} files: {wrong} differ")
    if wrong or len(cases) < 150 or compared < 100:
        sys.exit(1)


if __name__ == "__main__":
    main()
