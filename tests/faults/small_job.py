"""A small piece with its job and readings, for the tests that disturb the program."""
import os
import struct

JOB = """limit = 0.8
trials = 300
[board]
thickness = 20
corner = [-50, -40]
size = [100, 80]
[side_a]
zero = "top"
touch_off = 0.04
[side_b]
zero = "bed"
touch_off = 0.04
[bed]
flatness = 0.1
[flip]
line = "along y"
at = 0
located_by = "dowels"
[flip.dowels]
spacing = 60
clearance = 0.04
[[part]]
skin = "skin.stl"
[[part.pocket]]
mesh = "pocket.stl"
"""
READINGS = "x, y, height\n" + "".join(
    f"{x}, {y}, {0.01 * x / 40 + 0.02 * (y / 30) ** 2:.3f}\n"
    for y in (-30, 0, 30)
    for x in (-40, 0, 40)
)


def box(low, high):
    v = [[(low, high)[i >> k & 1][k] for k in range(3)] for i in range(8)]
    faces = [(0, 2, 1), (1, 2, 3), (4, 5, 6), (5, 7, 6), (0, 1, 4), (1, 5, 4)]
    faces += [(2, 6, 3), (3, 6, 7), (0, 4, 2), (2, 4, 6), (1, 3, 5), (3, 7, 5)]
    return v, faces


def spike(tip, half, top):
    x, y, _ = tip
    v = [list(tip)] + [[x + a * half, y + b * half, top]
                       for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    return v, [(0, 2, 1), (0, 3, 2), (0, 4, 3), (0, 1, 4), (1, 2, 3), (1, 3, 4)]


def stl(mesh):
    v, faces = mesh
    out = b"piece".ljust(80, b"\0") + struct.pack("<I", len(faces))
    for f in faces:
        out += struct.pack("<12fH", 0, 0, 0, *(c for k in f for c in v[k]), 0)
    return out


def obj(mesh):
    v, faces = mesh
    return "".join("v %g %g %g\n" % tuple(p) for p in v) + "".join(
        "f %d %d %d\n" % tuple(k + 1 for k in f) for f in faces)


def make_inputs(folder):
    pocket, skin = spike((3, -7, -19.3), 6, 0), box((-40, -30, -20), (40, 30, 0))
    files = {"pocket.stl": stl(pocket), "skin.stl": stl(skin), "job.toml": JOB.encode(),
             "pocket.obj": obj(pocket).encode(), "bed.csv": READINGS.encode()}
    for name, content in files.items():
        with open(os.path.join(folder, name), "wb") as file:
            file.write(content)


QUICK = ["check", "--pocket", "pocket.stl", "--skin", "skin.stl", "--limit", "0.8", "--z-zero",
         "0.05", "--bed-flatness", "0.1"]


def contents(folder):
    """Every file and folder below, with its bytes."""
    found = {}
    for at, folders, files in os.walk(folder):
        for name in folders:
            found[os.path.relpath(os.path.join(at, name), folder)] = None
        for name in files:
            path = os.path.join(at, name)
            with open(path, "rb") as file:
                found[os.path.relpath(path, folder)] = file.read()
    return found
