#!/usr/bin/env bash
# From a bare Debian 12 to a verdict: installs what is needed, builds, checks the demo meshes and
# says where the heat maps lie. Works from any folder, as root or with sudo, again and again.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

need_packages "${build_packages[@]}"
cd "$root"
build_release OFF
[[ -x $build/leastwall ]] || fail "the build made no program leastwall"
mkdir -p out

# check NAME TITLE POCKET SKIN: one demo piece. Status 1 (a wall does not hold) is an answer, not a
# failure of the demo.
check() {
  local name=$1 title=$2 pocket=$3 skin=$4 status=0
  echo
  say "$title"
  "$build/leastwall" check --pocket "$pocket" --skin "$skin" --limit 0.8 --z-zero 0.05 \
    --bed-flatness 0.15 --heatmap "out/$name.png" --json "out/$name.json" || status=$?
  ((status <= 1)) || fail "leastwall check stopped with status $status on $pocket"
  [[ -s out/$name.png && -s out/$name.json ]] || fail "leastwall check left no report in out/"
  local answer="every wall holds"
  ((status == 0)) || answer="some wall does not hold"
  verdicts+=("$title: $answer. Heat map $root/out/$name.png, report $root/out/$name.json")
}

verdicts=()
check gourd "gourd lantern, left half, basswood" meshes/gourd_pocket.stl meshes/gourd_skin.stl
check leaf "leaf light-panel, cherry" meshes/leaf_back.ply meshes/leaf_front.ply
echo
printf '%s\n' "${verdicts[@]}"
