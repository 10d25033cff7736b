"""Writes a pair of open sheets made from a measured surface: terrain_pocket.stl, terrain_skin.stl.

Skin: the elevation model of the Jacksboro fault that comes with Matplotlib (344 x 403 heights, 236 to
1076 m), one height every 0.5 mm, upright scale four times the sideways one. Pocket: the same surface
offset by a ball of 1 mm radius, so that the whole piece is close to the limit: nothing can be ruled
out at a glance, and slopes that the grid cuts short come out thinner.
Call: relief_pair.py FOLDER.
"""
import pathlib
import sys

import numpy as np

DATA = "/usr/share/matplotlib/mpl-data/sample_data/jacksboro_fault_dem.npz"
PITCH_MM = 0.5
METRES_PER_PITCH = 90.0  # about 3 seconds of arc
UPRIGHT = 4.0
WALL_MM = 1.0


def offset(heights):
    """Upper surface of all balls of radius WALL_MM whose centres lie on the grid points."""
    reach = int(WALL_MM / PITCH_MM)
    padded = np.pad(heights, reach, mode="edge")
    rows, columns = heights.shape
    upper = np.full(heights.shape, -np.inf)
    for i in range(-reach, reach + 1):
        for k in range(-reach, reach + 1):
            aside = (i * i + k * k) * PITCH_MM**2
            if aside > WALL_MM**2:
                continue
            near = padded[reach + i:reach + i + rows, reach + k:reach + k + columns]
            upper = np.maximum(upper, near + np.sqrt(WALL_MM**2 - aside))
    return upper


def write_stl(path, heights):
    rows, columns = heights.shape
    y, x = np.mgrid[0:rows, 0:columns] * PITCH_MM
    points = np.stack([x, y, heights], axis=-1).astype("<f4")
    a, b, c, d = points[:-1, :-1], points[:-1, 1:], points[1:, 1:], points[1:, :-1]
    triangles = np.concatenate([np.stack([a, b, c], axis=2).reshape(-1, 3, 3),
                                np.stack([a, c, d], axis=2).reshape(-1, 3, 3)])
    facets = np.zeros(len(triangles), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)),
                                             ("spare", "<u2")])
    facets["corners"] = triangles
    with open(path, "wb") as out:
        out.write(b"terrain".ljust(80, b" "))
        out.write(np.uint32(len(facets)).tobytes())
        out.write(facets.tobytes())
    print(f"{path}: {len(facets)} triangles")


def main():
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    metres = np.load(DATA)["elevation"].astype(float)
    heights = metres * UPRIGHT * PITCH_MM / METRES_PER_PITCH
    skin = heights - heights.max() - 10.0
    write_stl(folder / "terrain_pocket.stl", offset(skin))
    write_stl(folder / "terrain_skin.stl", skin)


if __name__ == "__main__":
    main()
