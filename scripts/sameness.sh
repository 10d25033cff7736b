#!/usr/bin/env bash
# The same bytes on any number of threads, again and again: every file of `check --out` for both
# demo pieces, with a job and without one, on 1, 2, 3 and 8 threads.
# sameness.sh [RUNS]   runs on each number of threads, 10 when not given; needs build/release.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

runs=${1:-10}
[[ $runs =~ ^[1-9][0-9]*$ ]] || fail "the number of runs is a whole number from 1"
program=${LEASTWALL:-$build/leastwall}
[[ -x $program ]] || fail "build first: $program is missing"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$program" start "$work/gourd" --piece gourd >"$work/log"
"$program" start "$work/leaf" --piece leaf >"$work/log"
quick() {
  printf '%s\n' --pocket "$1" --skin "$2" --limit 0.8 --z-zero 0.05 --bed-flatness 0.15
}

tried=0 different=0
# same NAME WORDS...: one check, compared with its own first run.
same() {
  local name=$1 first="" sums threads run status
  shift
  for threads in 1 2 3 8; do
    for ((run = 0; run < runs; ++run)); do
      rm -rf "$work/out"
      status=0
      "$program" check "$@" --threads "$threads" --out "$work/out" >"$work/text" || status=$?
      ((status <= 1)) || fail "$name stopped with status $status"
      sums=$(cd "$work" && sha256sum text out/*)
      tried=$((tried + 1))
      if [[ -z $first ]]; then
        first=$sums
      elif [[ $sums != "$first" ]]; then
        different=$((different + 1))
        echo "$name differs on $threads threads, run $((run + 1)):"
        diff <(echo "$first") <(echo "$sums") || true
      fi
    done
  done
}

same "gourd, job" "$work/gourd/gourd.toml"
same "leaf, job" "$work/leaf/leaf.toml"
mapfile -t words < <(quick "$work/gourd/gourd_pocket.stl" "$work/gourd/gourd_skin.stl")
same "gourd, quick" "${words[@]}"
mapfile -t words < <(quick "$work/leaf/leaf_back.ply" "$work/leaf/leaf_front.ply")
same "leaf, quick" "${words[@]}"
echo "{\"tried\": $tried, \"different\": $different}"
((different == 0))
