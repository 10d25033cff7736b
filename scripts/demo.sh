#!/usr/bin/env bash
# From a bare Debian 12 to a verdict: installs what is needed, builds, checks the demo pieces and
# says which page to open and which sheet to print. Works from any folder, as root or with sudo,
# again and again.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

need_packages "${build_packages[@]}"
cd "$root"
build_release OFF
[[ -x $build/leastwall ]] || fail "the build made no program leastwall"
mkdir -p out

# quick NAME TITLE POCKET SKIN: two meshes and three numbers. Status 1 (a wall does not hold) is an
# answer, not a failure of the demo.
quick() {
  local name=$1 title=$2 pocket=$3 skin=$4 status=0
  echo
  say "$title, two meshes against a limit of 0.8 mm"
  "$build/leastwall" check --pocket "$pocket" --skin "$skin" --limit 0.8 --z-zero 0.05 \
    --bed-flatness 0.15 --heatmap "out/$name.png" --json "out/$name.json" || status=$?
  ((status <= 1)) || fail "leastwall check stopped with status $status on $pocket"
  [[ -s out/$name.png && -s out/$name.json ]] || fail "leastwall check left no report in out/"
  local answer="every wall holds"
  ((status == 0)) || answer="some wall does not hold"
  verdicts+=("$title, limit 0.8 mm: $answer. Picture: $root/out/$name.png")
}

# job FOLDER FILE TITLE [OPTION...]: a whole set-up, as `leastwall start FOLDER OPTION...` writes it.
# A job that is there already is kept: it may have been changed.
job() {
  local folder=out/$1 file=$2 title=$3 status=0
  shift 3
  echo
  say "$title, the whole set-up"
  [[ -f $folder/$file ]] || "$build/leastwall" start "$folder" "$@" >/dev/null
  "$build/leastwall" check "$folder/$file" --out "$folder/report" || status=$?
  ((status <= 1)) || fail "leastwall check stopped with status $status on $folder/$file"
  for made in report.html setup-sheet.pdf check.json; do
    [[ -s $folder/report/$made ]] || fail "leastwall check left no $made in $folder/report"
  done
  local answer="every wall holds"
  ((status == 0)) || answer="not every wall holds as set up; the page says what would help"
  verdicts+=("$title, set up at the machine: $answer."
    "  open   $root/$folder/report/report.html"
    "  print  $root/$folder/report/setup-sheet.pdf"
    "  change $root/$folder/$file, then: $build/leastwall check $root/$folder/$file")
}

verdicts=()
quick gourd "gourd lantern, left half, basswood" meshes/gourd_pocket.stl meshes/gourd_skin.stl
quick leaf "leaf light-panel, cherry" meshes/leaf_back.ply meshes/leaf_front.ply
job lantern gourd.toml "gourd lantern, left half, basswood"
job panel leaf.toml "leaf light-panel, cherry" --piece leaf
echo
printf '%s\n' "${verdicts[@]}"
