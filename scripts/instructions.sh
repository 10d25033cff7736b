#!/usr/bin/env bash
# Counts the instructions of one small check (gourd, 20,000 triangles a mesh, one thread) and holds
# them against the number in tests/bench/instructions.txt: a count hardly varies between runs, where
# times on a busy machine do. More than 5 % above is an error; more than 5 % below asks for a new number.
#   scripts/instructions.sh [--record]
# Exit status: 0 within 5 %, 1 outside, 3 it could not be counted. LEASTWALL_BUILD names another build
# folder. The number holds for Debian 12's compiler and libraries and a release build; libraries that
# pick their instructions by the processor (the C library, zlib) differ between machines.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

record="$root/tests/bench/instructions.txt"
need_packages "${build_packages[@]}" valgrind
build=${LEASTWALL_BUILD:-$build}
leastwall=$build/leastwall
if [[ ! -x $leastwall || ! -x $build/meshes/make_demo_meshes ]]; then
  build_release OFF
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$build/meshes/make_demo_meshes" gourd "$work" --triangles 20000 >/dev/null

say "counting; takes half a minute"
status=0
valgrind --tool=callgrind --callgrind-out-file="$work/callgrind" "$leastwall" check \
  --pocket "$work/gourd_pocket.stl" --skin "$work/gourd_skin.stl" --limit 0.8 --z-zero 0.05 \
  --bed-flatness 0.15 --json "$work/out.json" --heatmap "$work/out.png" --threads 1 --quiet \
  2>"$work/log" || status=$?
# 1 is a verdict on the piece, not a failure.
((status <= 1)) || { tail -n 20 "$work/log" >&2; fail "leastwall stopped with status $status"; }
count=$(awk '/^summary:|^totals:/ {print $2; exit}' "$work/callgrind")
[[ $count =~ ^[0-9]+$ ]] || fail "no count in callgrind's file"

if [[ ${1:-} == --record ]]; then
  printf '%s\n' "$count" >"$record"
  say "recorded: $count instructions"
  exit 0
fi
[[ -r $record ]] || fail "$record is missing; make it with --record"
was=$(<"$record")
say "$count instructions; recorded $was; $(awk -v a="$count" -v b="$was" 'BEGIN {printf "%+.1f %%", 100 * (a / b - 1)}')"
if ((count * 100 > was * 105)); then
  say "more than 5 % above: something became slower"
  exit 1
elif ((count * 100 < was * 95)); then
  say "more than 5 % below: record the new number with --record"
  exit 1
fi
