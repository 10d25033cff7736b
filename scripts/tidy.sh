#!/usr/bin/env bash
# clang-tidy on what changed: C++ files of the last commit, or since the one that is named.
#   scripts/tidy.sh [--no-setup] [COMMIT]
# At most some files, so that it ends within minutes; those left out are named. --no-setup: installs nothing; left out
# (status 77) where clang-tidy or the history is not there.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"
most=12
if [[ ${1:-} == --no-setup ]]; then
  shift
  command -v clang-tidy-14 >/dev/null || { echo "left out: clang-tidy-14 is not installed"; exit 77; }
else
  need_packages "${build_packages[@]}" "${test_packages[@]}" "${fuzz_packages[@]}"
fi
cd "$root"
since=${1:-HEAD~1}
git rev-parse --quiet --verify "$since^{commit}" >/dev/null 2>&1 ||
  { echo "left out: there is no $since here"; exit 77; }
mapfile -t changed < <(git diff --name-only --diff-filter=d "$since" -- 'src/*.cpp' 'src/*.h' 'tests/*.cpp')
files=()
for file in "${changed[@]}"; do
  file=${file%.h}
  file=${file%.cpp}.cpp
  # What only other compilers build is not in the list of commands.
  [[ -f $file && $file != src/browser/* && $file != tests/fuzz/* && " ${files[*]-} " != *" $file "* ]] &&
    files+=("$file")
done
((${#files[@]})) || { echo "no C++ file has changed since $since"; exit 0; }
((${#files[@]} <= most)) || echo "left out, for there are many: ${files[*]:most}"
tidy="$root/build/tidy-changed"
mkdir -p "$tidy"
cmake -S "$root" -B "$tidy" -G Ninja -DCMAKE_CXX_COMPILER=clang++-14 -DCMAKE_BUILD_TYPE=Debug -DBUILD_TESTING=ON \
  -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON -DCMAKE_EXPORT_COMPILE_COMMANDS=ON >"$tidy/configure.log" 2>&1 ||
  { tail -n 5 "$tidy/configure.log"; exit 1; }
printf '%s\n' "${files[@]:0:most}" | xargs -P 2 -n 1 clang-tidy-14 --quiet -p "$tidy" 2>"$tidy/tidy.log" ||
  { echo "clang-tidy has something to say, see above"; exit 1; }
echo "${#files[@]} files changed since $since; $((${#files[@]} < most ? ${#files[@]} : most)) looked at"
