#!/usr/bin/env bash
# Runs everything that tries to break the program and prints what came of it as a Markdown table.
# robustness.sh [RUNS]   how many places of each kind (default 12); needs build/release with tests.
# Ends with scripts/fuzz.sh, for which it may install clang 14.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

runs=${1:-12}
[[ $runs =~ ^[1-9][0-9]*$ ]] || fail "the number of places is a whole number from 1"
tests=$build/tests
[[ -x $tests/leastwall_tests && -f $tests/libleastwall_faults.so ]] ||
  fail "build with tests first: cmake --preset release && cmake --build --preset release"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
bad=0

# number KEY: the value of KEY in the last line of the log, which is flat JSON.
number() { tail -n 1 "$log" | grep -o "\"$1\": *[0-9]*" | grep -o '[0-9]*$' || echo 0; }

# cases KIND PATTERN...: the test cases of these files.
cases() {
  local kind=$1 pattern outcome="as each test states"
  shift
  pattern=$(IFS=,; echo "$*")
  if ! "$tests/leastwall_tests" --source-file="$pattern" >"$log" 2>&1; then
    outcome="**some failed**"
    bad=1
  fi
  local line count checks
  count=$(grep -o 'test cases: *[0-9]*' "$log" | grep -o '[0-9]*$' || echo 0)
  checks=$(grep -o 'assertions: *[0-9]*' "$log" | grep -o '[0-9]*$' || echo 0)
  ((count > 0)) || fail "no test cases for $kind"
  printf '| %s | %s cases, %s checks | %s |\n' "$kind" "$count" "$checks" "$outcome"
}

echo '| kind of input | how many tried | outcome |'
echo '|---|---:|---|'
cases "meshes: STL, malformed and odd" '*/mesh/formats/stl_test.cpp'
cases "meshes: PLY, malformed and odd" '*/mesh/formats/ply_test.cpp'
cases "meshes: OBJ, OFF, 3MF, glTF, COLLADA" '*/mesh/formats/obj_test.cpp' '*/mesh/formats/off_test.cpp' \
  '*/mesh/formats/threemf_test.cpp' '*/mesh/formats/gltf_test.cpp' '*/mesh/importing/import_test.cpp' \
  '*/mesh/importing/assimp_models_test.cpp'
cases "meshes: topology (open, flipped, doubled, non-manifold)" '*/mesh/inspect_mesh_test.cpp'
cases "pocket and skin that do not belong together" '*/wall/fit/likely_mistakes_test.cpp'
cases "odd pairs: wrong scale, stray corners, missing facets (work counted)" \
  '*/wall/bounds_test.cpp' '*/wall/hostile_pairs_test.cpp' '*/wall/inside/close_holes_test.cpp' \
  '*/spatial/vertical_ray_grid_test.cpp'
cases "jobs that are wrong" '*/job/refused_jobs_test.cpp' '*/job/read_job_test.cpp' \
  '*/job/keys/known_keys_test.cpp'
cases "tables of readings" '*/bed/readings/read_readings_test.cpp'
cases "calls, outputs, memory limits" '*/app/refusals_test.cpp' '*/app/memory_test.cpp' \
  '*/app/messages_test.cpp'
cases "outputs against inputs and each other" '*/app/output/outputs_test.cpp'

python3 "$root/tests/faults/faults_test.py" "$build/leastwall" "$tests/libleastwall_faults.so" \
  "$runs" >"$log" 2>&1 || bad=1
printf '| calls made to fail (memory, disk, short reads and writes) | %s | %s harmless, %s refused in one line, %s caught by the last resort, %s wrong |\n' \
  "$(number tried)" "$(number harmless)" "$(number refused)" "$(number fenced)" "$(number wrong)"
python3 "$root/tests/faults/stops_test.py" "$build/leastwall" "$runs" >"$log" 2>&1 || bad=1
printf '| stops at any moment, files shortened or taken away | %s | %s stopped (%s), %s refused, %s done before, %s wrong |\n' \
  "$(number tried)" "$(number stopped)" "$(grep -o 'slowest stop.*' "$log" || echo '?')" \
  "$(number refused)" "$(number 'already done')" "$(number wrong)"
python3 "$root/tests/faults/streams_test.py" "$build/leastwall" >"$log" 2>&1 || bad=1
printf '| pipes that no one reads, stdout and stderr closed or full, limits on files | %s | %s wrong |\n' \
  "$(number tried)" "$(number wrong)"
"$root/scripts/sameness.sh" "$(((runs + 3) / 4))" >"$log" 2>&1 || bad=1
printf '| same bytes on 1, 2, 3 and 8 threads | %s | %s different |\n' "$(number tried)" \
  "$(number different)"
"$root/scripts/fuzz.sh" >"$log" 2>&1 || bad=1
awk '
  BEGIN {
    name["job"] = "damaged job text"
    name["readings"] = "damaged bed readings, and the flatness computed from them"
    name["mesh"] = "damaged meshes of every format; COLLADA as far as it is looked at before its import"
  }
  $1 in name && $3 ~ /^[0-9?]+$/ {
    printf "| %s | %s | %s |\n", name[$1], $3, $5 == "good" ? "sense, or one line" : "**" $5 "**"
  }
  /^\.[a-z0-9]+ +[0-9]/ { tried += $2; accepted += $3; refused += $4; crashed += $5; stalled += $6 }
  END {
    if (tried)
      printf "| damaged 3MF, glTF, OBJ, OFF, and COLLADA through the import process | %d | %d meshes that " \
             "make sense, %d refusals, %d crashes and %d stalls of the importer told in one line |\n",
             tried, accepted, refused, crashed, stalled
  }' "$log"
exit "$bad"
