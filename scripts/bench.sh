#!/usr/bin/env bash
# How fast leastwall is beside what a user would script with general-purpose libraries: installs and
# builds what is needed on Debian 12, runs them in turn, writes out/bench/bench.md, .csv and .png.
#   [LEASTWALL=another/leastwall] scripts/bench.sh [--sizes 10000,100000,...] [--big] [--rounds N] [--stop-s S] [--once-s S]
# Without --sizes: 10k, 100k, 1M and 3M triangles in each of the two meshes; --big adds 10M (2 GB of
# disk). Best on a machine that does nothing else.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

need_packages "${build_packages[@]}" "${bench_packages[@]}"
# Large, and only one of the peers: without it the table says "not available".
(need_packages python3-open3d) || say "Open3D could not be installed and is left out"
cd "$root"
build_release OFF -DLEASTWALL_BENCH=ON
say "running; the largest sizes take minutes"
exec /usr/bin/python3 tests/bench/bench.py --build "$build" --work out/bench/meshes \
  --out out/bench --leastwall "${LEASTWALL:-}" "$@"
