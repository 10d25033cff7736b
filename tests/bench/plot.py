"""Draws bench.csv: wall time over triangles, both axes logarithmic, labels at the lines.

Call: plot.py bench.csv bench.png. Colours: Okabe and Ito's palette for colour-blind readers; every
line has its own marker too.
"""
import csv
import sys

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt  # noqa: E402
from matplotlib.ticker import FuncFormatter, NullLocator  # noqa: E402

STYLE = {"leastwall check": ("#000000", "o", 3.0), "Open3D": ("#D55E00", "s", 1.6),
         "CGAL AABB tree": ("#0072B2", "^", 1.6), "Embree": ("#009E73", "D", 1.6),
         "OpenVDB, all to 3 mm": ("#E69F00", "P", 1.6),
         "OpenVDB, fitted at limit": ("#CC79A7", "v", 1.6),
         "OpenVDB, 0.1 mm voxel": ("#8C564B", "*", 1.6),
         "Assimp reads, no more": ("#56B4E9", "x", 1.6),
         "bytes read, no more": ("#777777", "+", 1.6)}


def spread(wanted, gap):
    """Positions as near to `wanted` as keeps them `gap` apart."""
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    at = [wanted[i] for i in order]
    for _ in range(500):
        for a in range(len(at) - 1):
            short = gap - (at[a + 1] - at[a])
            if short > 1e-9:
                at[a] -= short / 2
                at[a + 1] += short / 2
    placed = [0.0] * len(wanted)
    for position, i in zip(at, order):
        placed[i] = position
    return placed


def main():
    import math
    lines = {}
    with open(sys.argv[1], newline="") as file:
        for r in csv.DictReader(file):
            if r["pair"].startswith("gourd") and r["wall_s"]:
                lines.setdefault(r["program"], []).append((int(r["triangles"]), float(r["wall_s"])))
    figure, axes = plt.subplots(figsize=(8, 5.6), dpi=100)
    plt.rcParams["font.size"] = 12
    for name, points in lines.items():
        colour, marker, width = STYLE[name]
        axes.plot(*zip(*points), color=colour, marker=marker, linewidth=width, markersize=7)
    axes.set_xscale("log")
    axes.set_yscale("log")
    last = max(p[-1][0] for p in lines.values())
    low, high = axes.get_ylim()
    names = list(lines)
    gap = (math.log10(high) - math.log10(low)) * 0.062
    heights = spread([math.log10(lines[n][-1][1]) for n in names], gap)
    for name, height in zip(names, heights):
        axes.annotate(name, xy=lines[name][-1], xytext=(last * 1.25, 10**height), va="center",
                      color=STYLE[name][0], fontsize=12, annotation_clip=False,
                      fontweight="bold" if name.startswith("leastwall") else "normal",
                      arrowprops={"arrowstyle": "-", "color": STYLE[name][0], "linewidth": 0.7,
                                  "shrinkA": 0, "shrinkB": 4})
    ticks = sorted({n for p in lines.values() for n, _ in p})
    axes.set_xticks(ticks)
    axes.xaxis.set_minor_locator(NullLocator())
    axes.xaxis.set_major_formatter(FuncFormatter(
        lambda n, _: f"{n / 1e6:g}M" if n >= 1e6 else f"{n / 1e3:g}k"))
    axes.yaxis.set_major_formatter(FuncFormatter(lambda s, _: f"{s:g} s"))
    axes.tick_params(labelsize=12)
    axes.set_xlabel("triangles in each of the two meshes", fontsize=12)
    axes.set_title("Gourd lantern: from two files to the least wall, wall time", fontsize=13,
                   loc="left")
    axes.grid(True, which="major", color="#dddddd", linewidth=0.8)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    figure.subplots_adjust(left=0.1, right=0.73, top=0.92, bottom=0.11)
    figure.savefig(sys.argv[2])


if __name__ == "__main__":
    main()
