"""Runs leastwall and its peers in turn on pairs of meshes and writes table, CSV and plot.

Called by scripts/bench.sh, which builds and installs what this needs. Standard library only, so that
a child's peak memory is its own. Times are of whole processes, files in the page cache; CPU time is
user plus system; memory is the largest resident set, as the kernel counts it (wait4).

The programs take turns, and each counted run follows at once on an uncounted one of the same program
(but for those that are run once, for they take long):
a virtual machine may have handed memory back to its host, and whoever touches it next waits for it,
which would be counted against whatever program comes after an idle moment.
"""
import argparse
import array
import csv
import json
import math
import os
import pathlib
import platform
import re
import resource
import statistics
import subprocess
import sys
import threading
import time

HERE = pathlib.Path(__file__).resolve().parent
LIMIT_MM = 0.8
EXACT_MM = 0.001
NEAR_LIMIT_MM = LIMIT_MM + 0.1
FEWEST_TRIALS = 100  # fewer are refused
VOXELS_MM = [1.0, 0.7, 0.5, 0.4, 0.3, 0.25, 0.2, 0.15, 0.1, 0.07, 0.05]
VOXEL_REACHES_MM = 0.05

# What is run: label, and how the distance is found. README and the plot use the labels.
LEASTWALL = "leastwall check"
OPEN3D, CGAL, EMBREE = "Open3D", "CGAL AABB tree", "Embree"
# A field knows distances within its band only, and each voxel by so much. Three ways to take it:
# all distances within 3 mm, as the other peers find them, at the largest voxel that turns out to be
# within 0.05 mm of exact ones; those near the limit alone, at a voxel fitted in the same way; and
# those near the limit at the voxel that somebody without exact distances must take, for half a voxel
# is 0.05 mm.
OPENVDB_ALL, OPENVDB, OPENVDB_SURE = \
    "OpenVDB, all to 3 mm", "OpenVDB, fitted at limit", "OpenVDB, 0.1 mm voxel"
ALL_BAND_MM = 3.0
SURE_VOXEL_MM = 0.1
ASSIMP, BYTES = "Assimp reads, no more", "bytes read, no more"
PROGRAMS = [LEASTWALL, OPEN3D, CGAL, EMBREE, OPENVDB_ALL, OPENVDB, OPENVDB_SURE, ASSIMP, BYTES]
# Times as fast at 1M + 1M triangles; Assimp below.
GOALS = {OPEN3D: 10, CGAL: 6, EMBREE: 1, OPENVDB_ALL: 20, OPENVDB: 20, OPENVDB_SURE: 20}
ASSIMP_GOAL = 1.5


class Pair:
    def __init__(self, name, triangles, pocket, skin, top=None):
        self.name, self.triangles, self.pocket, self.skin, self.top = \
            name, triangles, str(pocket), str(skin), top
        self.shape = name.split()[0]
        self.exact_mm = None
        self.voxel_mm = {}  # by width
        self.load = None  # one-minute load before and after the runs

    def words(self):
        return [self.pocket, self.skin] + (["--top", str(self.top)] if self.top is not None else [])


class Run:
    """One process: what it took and what it said."""
    def __init__(self, command, stop_s, good=(0,)):
        memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")

        def limits():
            resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        start = time.perf_counter()
        child = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
                                 preexec_fn=limits)
        timer = threading.Timer(stop_s, child.kill)
        timer.start()
        self.said = child.stdout.read().decode()
        _, status, used = os.wait4(child.pid, 0)
        self.wall_s = time.perf_counter() - start
        late = not timer.is_alive()
        timer.cancel()
        child.returncode = os.waitstatus_to_exitcode(status)
        child.stdout.close()
        self.cpu_s = used.ru_utime + used.ru_stime
        self.peak_mib = used.ru_maxrss / 1024
        self.failure = None
        if late:
            self.failure = f"over {stop_s:.0f} s"
        elif child.returncode not in good:
            self.failure = f"stopped, status {child.returncode}"

    def json(self):
        return json.loads(self.said)


def median(runs, what):
    return statistics.median(getattr(r, what) for r in runs)


class Bench:
    def __init__(self, args):
        self.args = args
        self.build = pathlib.Path(args.build)
        self.leastwall = args.leastwall or str(self.build / "leastwall")
        self.work = pathlib.Path(args.work)
        self.out = pathlib.Path(args.out)
        self.out.mkdir(parents=True, exist_ok=True)
        self.report_json = self.work / "leastwall.json"
        self.rows = []
        self.given_up = {}
        self.open3d = subprocess.run(
            ["/usr/bin/python3", "-c", "import open3d"], capture_output=True).returncode == 0

    # -- the pairs ---------------------------------------------------------------------------------
    def pairs(self):
        made = []
        for size in self.args.sizes:
            folder = self.work / f"gourd_{size}"
            pocket, skin = folder / "gourd_pocket.stl", folder / "gourd_skin.stl"
            if not (pocket.exists() and skin.exists()):
                folder.mkdir(parents=True, exist_ok=True)
                subprocess.run([self.build / "meshes/make_demo_meshes", "gourd", folder,
                                "--triangles", str(size)], check=True, stdout=subprocess.DEVNULL)
            made.append(Pair(f"gourd {count(size)}", size, pocket, skin, top=-0.001))
        folder = self.work / "terrain"
        if not (folder / "terrain_skin.stl").exists():
            subprocess.run(["/usr/bin/python3", HERE / "relief_pair.py", folder], check=True,
                           stdout=subprocess.DEVNULL)
        made.append(Pair("terrain", 275772, folder / "terrain_pocket.stl",
                         folder / "terrain_skin.stl"))
        return made

    def tool(self, name):
        return str(self.build / "tests/bench" / name)

    def find_exact(self, pair):
        note = pathlib.Path(pair.skin).with_name("exact.json")
        if not note.exists():
            run = Run([self.tool("bench_exact"), *pair.words()], 1800)
            if run.failure:
                say(f"{pair.name}: no exact distance ({run.failure})")
                return
            note.write_text(run.said)
        pair.exact_mm = json.loads(note.read_text())["least_mm"]

    def find_voxels(self, pair):
        """For each width, the largest voxel whose field is within 0.05 mm at every skin centre that
        is nearer than that; exact distances are CGAL's."""
        exact = self.distances([self.tool("bench_cgal"), *pair.words()])
        for width in (ALL_BAND_MM, NEAR_LIMIT_MM):
            for voxel in VOXELS_MM:
                field = self.distances(
                    [self.tool("bench_openvdb"), *pair.words(), *self.field(voxel, width)])
                worst = max((abs(f - e) for f, e in zip(field, exact) if e < width),
                            default=math.inf)
                say(f"{pair.name}: under {width} mm, {voxel} mm voxels are off by at most "
                    f"{worst:.3f} mm")
                pair.voxel_mm[width] = voxel
                if worst <= VOXEL_REACHES_MM:
                    break

    @staticmethod
    def field(voxel, width):
        """Interpolation looks a voxel further, and the band is measured to voxels' centres."""
        return ["--voxel", str(voxel), "--band", f"{width + 2 * voxel:.3f}"]

    def distances(self, command):
        file = self.work / "distances.f32"
        run = Run([*command, "--distances", str(file)], 1800)
        if run.failure:
            sys.exit(f"{command[0]}: {run.failure}")
        values = array.array("f")
        values.frombytes(file.read_bytes())
        file.unlink()
        return values

    # -- the runs ----------------------------------------------------------------------------------
    def command(self, program, pair):
        if program == LEASTWALL:
            return [self.leastwall, "check", "--pocket", pair.pocket, "--skin",
                    pair.skin, "--limit", str(LIMIT_MM), "--z-zero", "0.05", "--bed-flatness",
                    "0.15", "--json", str(self.report_json), "--heatmap",
                    str(self.work / "leastwall.png"), "--quiet"]
        if program == OPEN3D:
            return ["/usr/bin/python3", str(HERE / "peer_open3d.py"), *pair.words()]
        if program == CGAL:
            return [self.tool("bench_cgal"), *pair.words()]
        if program == EMBREE:
            return [self.tool("bench_embree"), *pair.words()]
        if program in (OPENVDB_ALL, OPENVDB, OPENVDB_SURE):
            width = ALL_BAND_MM if program == OPENVDB_ALL else NEAR_LIMIT_MM
            voxel = SURE_VOXEL_MM if program == OPENVDB_SURE else pair.voxel_mm[width]
            return [self.tool("bench_openvdb"), *pair.words(), *self.field(voxel, width)]
        reader = "bench_read_assimp" if program == ASSIMP else "bench_read_bytes"
        return [self.tool(reader), pair.pocket, pair.skin]

    def least(self, program, run):
        if program == LEASTWALL:
            return json.loads(self.report_json.read_text())["least_wall"]["design_mm"]
        if program in (ASSIMP, BYTES):
            return None
        return run.json()["least_mm"]

    def run(self, program, pair):
        return Run(self.command(program, pair), self.args.stop_s,
                   (0, 1) if program == LEASTWALL else (0,))

    def measure(self, pair):
        self.find_exact(pair)
        load = [os.getloadavg()[0]]
        runs = {p: [] for p in PROGRAMS}
        least, failure = {}, {}
        Run(self.command(BYTES, pair), 600)  # both files into the page cache
        for turn in range(self.args.rounds):
            for program in PROGRAMS[turn % len(PROGRAMS):] + PROGRAMS[:turn % len(PROGRAMS)]:
                if program == OPEN3D and not self.open3d:
                    failure[program] = "not available"
                elif program in self.given_up and pair.triangles >= self.given_up[program]:
                    failure[program] = "not run: a smaller pair took too long"
                if program in failure or (runs[program] and turn > 0 and
                                          runs[program][0].wall_s > self.args.once_s):
                    continue
                run = self.run(program, pair)
                if not run.failure and run.wall_s <= self.args.once_s:
                    run = self.run(program, pair)
                if run.failure:
                    failure[program] = run.failure
                    self.given_up[program] = pair.triangles
                    continue
                runs[program].append(run)
                least[program] = self.least(program, run)
            say(f"{pair.name}: round {turn + 1} of {self.args.rounds} done")
        load.append(os.getloadavg()[0])
        pair.load = load
        for program in PROGRAMS:
            row = {"pair": pair.name, "triangles": pair.triangles, "program": program,
                   "runs": len(runs[program]), "note": failure.get(program, "")}
            if runs[program]:
                for what in ("wall_s", "cpu_s", "peak_mib"):
                    row[what] = median(runs[program], what)
                row["least_mm"] = least[program]
                row["exact_mm"] = pair.exact_mm
                if least[program] is not None and pair.exact_mm is not None:
                    row["off_mm"] = least[program] - pair.exact_mm
            self.rows.append(row)

    def measure_trials(self):
        """Whole command on the demo job with 100,000 trials and with the fewest it takes."""
        folder = self.work / "job"
        if not folder.exists():
            subprocess.run([self.leastwall, "start", folder], check=True,
                           stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        job = (folder / "gourd.toml").read_text()
        took = {}
        for trials in (FEWEST_TRIALS, 100000):
            text, changed = re.subn(r"(?m)^#?trials = \d+$", f"trials = {trials}", job)
            if changed != 1:
                sys.exit("the demo job no longer has a line 'trials = N'")
            file = folder / f"trials_{trials}.toml"
            file.write_text(text)
            command = [self.leastwall, "check", str(file), "--json",
                       str(self.report_json), "--quiet"]
            runs = [Run(command, self.args.stop_s, (0, 1)) for _ in range(self.args.rounds)]
            broken = next((r.failure for r in runs if r.failure), None)
            if broken:
                sys.exit(f"trials: {broken}")
            if json.loads(self.report_json.read_text())["chance"]["trials"] != trials:
                sys.exit("the report does not speak of the trials asked for")
            took[trials] = (median(runs, "wall_s"), median(runs, "cpu_s"))
        return took

    # -- what is written -----------------------------------------------------------------------------
    def row(self, pair, program):
        return next(r for r in self.rows if r["pair"] == pair and r["program"] == program)

    def table(self, pair):
        own = self.row(pair.name, LEASTWALL)
        lines = [
            "| program | wall, s | CPU, s | wall, times leastwall | CPU, times leastwall | "
            "peak, MiB | least wall, mm | off the exact, mm | runs |",
            "|---|---:|---:|---:|---:|---:|---:|---:|---:|"]
        for program in PROGRAMS:
            r = self.row(pair.name, program)
            if not r["runs"]:
                lines.append(f"| {program} | {r['note']} | | | | | | | 0 |")
                continue
            times = [f"{r[k] / own[k]:.2f}" if own["runs"] and own[k] > 0 else ""
                     for k in ("wall_s", "cpu_s")]
            least = "" if r["least_mm"] is None else f"{r['least_mm']:.4f}"
            off = "" if "off_mm" not in r else f"{r['off_mm']:+.4f}"
            lines.append(f"| {program} | {r['wall_s']:.2f} | {r['cpu_s']:.2f} | {times[0]} | "
                         f"{times[1]} | {r['peak_mib']:.0f} | {least} | {off} | {r['runs']} |")
        if pair.exact_mm is not None:
            lines += ["", f"Exact least wall (FCL, triangle against triangle): "
                          f"{pair.exact_mm:.4f} mm."]
        return lines

    def differences(self):
        """What is said against an answer; empty when all is well."""
        wrong = []
        for r in self.rows:
            where = f"{r['pair']}, {r['program']}"
            if r.get("off_mm") is not None and r["program"] == LEASTWALL and \
                    abs(r["off_mm"]) > EXACT_MM:
                wrong.append(f"{where}: {r['off_mm']:+.4f} mm off the exact least wall")
            if r["program"] == LEASTWALL and "off_mm" not in r:
                wrong.append(f"{where}: not compared with the exact least wall")
            centres = next((o["least_mm"] for o in self.rows if o["pair"] == r["pair"] and
                            o["program"] == CGAL and o["runs"]), None)
            allowed = {OPEN3D: EXACT_MM, EMBREE: EXACT_MM, OPENVDB_ALL: VOXEL_REACHES_MM,
                       OPENVDB: VOXEL_REACHES_MM, OPENVDB_SURE: VOXEL_REACHES_MM}
            if r["program"] in allowed and r["runs"] and centres is not None and \
                    abs(r["least_mm"] - centres) > allowed[r["program"]]:
                wrong.append(f"{where}: {r['least_mm'] - centres:+.4f} mm off {CGAL}")
        return wrong

    def growth(self):
        """Exponent of time over triangles from 100k to 3M, and that of n log n over the same."""
        points = [(r["triangles"], r) for r in self.rows if r["program"] == LEASTWALL and r["runs"]
                  and r["pair"].startswith("gourd") and 100000 <= r["triangles"] <= 3000000]
        if len(points) < 2:
            return ["Growth: needs two sizes from 100k to 3M."]
        x = [math.log(n) for n, _ in points]
        mean_x = statistics.mean(x)

        def slope(y):
            mean_y = statistics.mean(y)
            return (sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y)) /
                    sum((a - mean_x)**2 for a in x))
        wall, cpu = (slope([math.log(r[k]) for _, r in points]) for k in ("wall_s", "cpu_s"))
        n_log_n = slope([math.log(n * math.log(n)) for n, _ in points])
        verdict = "no faster than n log n" if max(wall, cpu) <= n_log_n else "FASTER than n log n"
        return [f"Growth of leastwall from {count(points[0][0])} to {count(points[-1][0])} "
                f"triangles: wall time as n^{wall:.2f}, CPU time as n^{cpu:.2f}; n log n is "
                f"n^{n_log_n:.2f} there: {verdict}."]

    def goals(self):
        pair = "gourd 1M"
        if not any(r["pair"] == pair for r in self.rows):
            return []
        own = self.row(pair, LEASTWALL)
        lines = ["| at 1M + 1M triangles | goal | wall | CPU |", "|---|---:|---:|---:|"]
        for program, goal in GOALS.items():
            r = self.row(pair, program)
            got = [f"{r[k] / own[k]:.2f} x" if r["runs"] and own["runs"] else r["note"]
                   for k in ("wall_s", "cpu_s")]
            lines.append(f"| faster than {program} | {goal} x | {got[0]} | {got[1]} |")
        r = self.row(pair, ASSIMP)
        if r["runs"] and own["runs"]:
            lines.append(f"| time over {ASSIMP} | at most {ASSIMP_GOAL} x | "
                         f"{own['wall_s'] / r['wall_s']:.2f} x | {own['cpu_s'] / r['cpu_s']:.2f} x |")
            lines.append(f"| peak memory | at most 512 MiB | {own['peak_mib']:.0f} MiB | |")
        return lines

    def write(self, pairs, machine, trials):
        fields = ["pair", "triangles", "program", "runs", "wall_s", "cpu_s", "peak_mib", "least_mm",
                  "exact_mm", "off_mm", "note"]
        with open(self.out / "bench.csv", "w", newline="") as file:
            table = csv.DictWriter(file, fields)
            table.writeheader()
            for r in self.rows:
                table.writerow({k: round(v, 6) if isinstance(v, float) else v
                                for k, v in r.items()})
        lines = ["# How fast", "", *machine, "",
                 f"Medians of {self.args.rounds} run(s) in turn (fewer where 'runs' says so: a program "
                 f"whose first run takes over {self.args.once_s:.0f} s runs once), whole processes, "
                 "files in the page cache.",
                 "Each peer reads both files and finds the distance of every skin triangle's centre "
                 "to the pocket, and the least of them; it leaves out lids by a height it is told. "
                 "leastwall finds those facets itself, finds the least wall over whole triangles, "
                 "adds up the errors, runs 20,000 trials and writes JSON and heat map.",
                 "OpenVDB's voxels are the largest tried that are within 0.05 mm at every centre nearer "
                 "than 3 mm, or nearer than the limit and 0.1 mm, which takes exact distances to know ("
                 + "; ".join(pair.name + " " + " and ".join(f"{v} mm" for v in pair.voxel_mm.values())
                             for pair in pairs) +
                 "); without them half a voxel is what a field may be off, hence the row with 0.1 mm. "
                 "Bands reach two voxels further.", ""]
        wrong = self.differences()
        lines += ["Answers: " + ("; ".join(wrong) if wrong else
                                 f"leastwall's least walls are within {EXACT_MM} mm of the exact "
                                 "ones; the peers' least distances from centres, which are larger, "
                                 f"agree to {EXACT_MM} mm (OpenVDB's to {VOXEL_REACHES_MM} mm)") +
                  ".", ""]
        lines += self.goals() + ([""] if self.goals() else []) + self.growth()
        lines += ["", f"100,000 trials of the whole piece (demo job, 70k triangles a mesh): the "
                      f"command takes {trials[100000][0]:.2f} s wall, {trials[100000][1]:.2f} s CPU; "
                      f"with {FEWEST_TRIALS} trials {trials[FEWEST_TRIALS][0]:.2f} s and "
                      f"{trials[FEWEST_TRIALS][1]:.2f} s."]
        for pair in pairs:
            lines += ["", f"## {pair.name} ({pair.triangles:,} triangles a mesh)", "",
                      f"Load of the machine, these runs counted: {pair.load[0]:.2f} before, "
                      f"{pair.load[1]:.2f} after.", "", *self.table(pair)]
        (self.out / "bench.md").write_text("\n".join(lines) + "\n")
        print("\n".join(lines))
        return not wrong


def count(n):
    for unit, letter in ((1000000, "M"), (1000, "k")):
        if n >= unit and n % (unit // 10) == 0:
            return f"{n / unit:g}{letter}"
    return str(n)


def say(text):
    print(f"== {text}", file=sys.stderr, flush=True)


def machine_words():
    lscpu = subprocess.run(["lscpu"], capture_output=True, text=True, env={**os.environ,
                           "LC_ALL": "C"}).stdout
    model = re.search(r"Model name:\s*(.*)", lscpu)
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    load = " ".join(f"{x:.2f}" for x in os.getloadavg())
    cores = len(os.sched_getaffinity(0))
    versions = subprocess.run(
        ["dpkg-query", "-W", "-f", "${Package} ${Version}, ", "libopenvdb-dev", "libembree-dev",
         "libcgal-dev", "python3-open3d", "libassimp-dev", "libtbb-dev"],
        capture_output=True, text=True).stdout.rstrip(", ")
    words = [f"Machine: {model.group(1) if model else platform.processor()}, {cores} cores in use, "
             f"{memory:.0f} GiB; Linux {platform.release()}; load at the start {load}.",
             f"Packages: {versions}."]
    if os.getloadavg()[0] > 0.5:
        words.append("The machine was busy with other work: wall times are too long, CPU times "
                     "are the better measure.")
    return words


def main():
    call = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    call.add_argument("--build", required=True)
    call.add_argument("--leastwall", help="another build of it than that in --build")
    call.add_argument("--work", required=True)
    call.add_argument("--out", required=True)
    call.add_argument("--sizes", default="10000,100000,1000000,3000000",
                      type=lambda t: [int(n) for n in t.split(",")])
    call.add_argument("--big", action="store_true", help="10,000,000 triangles as well")
    call.add_argument("--rounds", type=int, default=5)
    call.add_argument("--stop-s", type=float, default=300, help="a run over this is stopped")
    call.add_argument("--once-s", type=float, default=60, help="over this, one run is enough")
    args = call.parse_args()
    if args.big:
        args.sizes.append(10000000)
    machine = machine_words()
    bench = Bench(args)
    pairs = bench.pairs()
    found = {}
    for pair in sorted(pairs, key=lambda p: p.triangles):
        if pair.shape in found and pair.triangles > 1000000:  # not worth the wait
            pair.voxel_mm = found[pair.shape]
        else:
            bench.find_voxels(pair)
            found[pair.shape] = pair.voxel_mm
    for pair in pairs:
        bench.measure(pair)
    trials = bench.measure_trials()
    right = bench.write(pairs, machine, trials)
    subprocess.run(["/usr/bin/python3", str(HERE / "plot.py"), str(bench.out / "bench.csv"),
                    str(bench.out / "bench.png")], check=True)
    return 0 if right else 1


if __name__ == "__main__":
    sys.exit(main())
