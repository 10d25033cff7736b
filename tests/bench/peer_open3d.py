"""Peer: Open3D's RaycastingScene, as a user would script it.

Call: peer_open3d.py POCKET SKIN [--top Z] [--threads N]. Prints {read_s, work_s, least_mm, threads}.
"""
import argparse
import json
import os
import time

import numpy as np
import open3d as o3d


def read(path, top):
    """Corners and triangles of a mesh, without facets that lie wholly at or above `top`."""
    mesh = o3d.io.read_triangle_mesh(path)
    points = np.asarray(mesh.vertices, dtype=np.float32)
    triangles = np.asarray(mesh.triangles, dtype=np.uint32)
    if top is not None:
        low = points[:, 2]
        keep = low[triangles[:, 0]] < top
        keep |= low[triangles[:, 1]] < top
        keep |= low[triangles[:, 2]] < top
        triangles = triangles[keep]
    return points, np.ascontiguousarray(triangles)


def main():
    call = argparse.ArgumentParser()
    call.add_argument("pocket")
    call.add_argument("skin")
    call.add_argument("--top", type=float)
    call.add_argument("--threads", type=int, default=0)
    args = call.parse_args()
    start = time.perf_counter()
    pocket = read(args.pocket, args.top)
    points, triangles = read(args.skin, args.top)
    read_s = time.perf_counter() - start
    scene = o3d.t.geometry.RaycastingScene()
    scene.add_triangles(o3d.core.Tensor(pocket[0]), o3d.core.Tensor(pocket[1]))
    centres = (points[triangles[:, 0]] + points[triangles[:, 1]] + points[triangles[:, 2]]) / 3
    distances = scene.compute_distance(o3d.core.Tensor(centres), nthreads=args.threads).numpy()
    work_s = time.perf_counter() - start - read_s
    print(json.dumps({"read_s": round(read_s, 4), "work_s": round(work_s, 4),
                      "least_mm": round(float(distances.min()), 6),
                      "threads": args.threads or len(os.sched_getaffinity(0))}))


if __name__ == "__main__":
    main()
