#!/usr/bin/env bash
# Damaged input by the thousand: builds the fuzz targets (clang 14, address and undefined-behaviour
# sanitizers) and gives job text, bed readings and mesh intake --runs N inputs each (default 10000);
# then --import-runs M damaged OBJ, OFF, 3MF, glTF and COLLADA files (default N / 100) go through
# the import process of the release build, where that is built. Prints what was tried.
# --no-setup: installs and builds nothing; status 77 when clang or the targets are missing.
# What breaks a target is kept in build/fuzz/found.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

runs=10000 import_runs="" setup=yes
while (($#)); do
  case $1 in
  --runs) runs=${2-} && shift 2 ;;
  --import-runs) import_runs=${2-} && shift 2 ;;
  --no-setup) setup=no && shift ;;
  *) fail "unknown argument $1; known are --runs N, --import-runs M, --no-setup" ;;
  esac
done
: "${import_runs:=$((runs / 100))}"
[[ $runs =~ ^[1-9][0-9]*$ && $import_runs =~ ^[0-9]+$ ]] || fail "--runs and --import-runs want whole numbers"

cd "$root"
if [[ $setup == yes ]]; then
  need_packages "${build_packages[@]}" "${fuzz_packages[@]}"
  build_fuzz
elif [[ ! -x $fuzz/tests/fuzz/fuzz_mesh ]]; then
  say "SKIPPED: the fuzz targets are not built; scripts/fuzz.sh builds them with clang 14"
  exit 77
fi

bin="$fuzz/tests/fuzz" found="$fuzz/found"
mkdir -p "$found"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work"/{job,readings,mesh}
"$bin/write_seeds" "$work/mesh"
cp tests/data/jobs/*.toml tests/data/jobs/refused/* "$work/job"
cp tests/data/*.csv tests/data/jobs/*.csv "$work/readings"
find tests/data/beds tests/data/readings -type f -exec cp -t "$work/readings" {} +
cp tests/fuzz/corpus/job/* "$work/job" 2>/dev/null || true
cp tests/fuzz/corpus/readings/* "$work/readings" 2>/dev/null || true
cp tests/fuzz/corpus/mesh/* "$work/mesh" 2>/dev/null || true

status=0
printf '%-10s %8s %9s %9s  %s\n' target seeds tried seconds outcome
# one TARGET MOST_BYTES
one() {
  local log="$work/$1.log" seeds tried outcome=good from=$SECONDS
  seeds=$(find "$work/$1" -type f | wc -l)
  TMPDIR="$work" "$bin/fuzz_$1" -runs="$runs" -max_len="$2" -seed=1 -timeout=20 -rss_limit_mb=3000 \
    -print_final_stats=1 -verbosity=1 -artifact_prefix="$found/$1-" "$work/$1" >"$log" 2>&1 </dev/null ||
    { outcome=BROKEN && status=1; }
  tried=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
  printf '%-10s %8d %9s %9d  %s\n' "$1" "$seeds" "${tried:-?}" $((SECONDS - from)) "$outcome"
  if [[ $outcome != good ]]; then
    grep -E 'NOT SO|ERROR|SUMMARY|runtime error|Test unit written' "$log" | head -n 8 || true
    cp "$log" "$found/$1.log"
  elif ((${tried:-0} < runs)); then
    echo "$1: fewer inputs were tried than asked for"
    status=1
  fi
}
one job 20000
one readings 8000
one mesh 20000

import="$build/leastwall-import"
if ((import_runs > 0)) && [[ -x $import ]]; then
  say "import process"
  LEASTWALL_IMPORT="$import" TMPDIR="$work" "$bin/fuzz_import" "$import_runs" 1 "$found" || status=1
elif ((import_runs > 0)); then
  say "SKIPPED: the import process is not built; scripts/test.sh builds it"
fi
exit "$status"
