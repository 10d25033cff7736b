#!/usr/bin/env bash
# Every test: the set-up of demo.sh and the packages that tests need, a release build, the fuzz
# targets (clang) and the page for browsers (emscripten), then ctest. Arguments go to ctest (for
# example: -R wall). Status is not 0 when a test fails or none ran.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

need_packages "${build_packages[@]}" "${test_packages[@]}" "${fuzz_packages[@]}" \
  "${browser_packages[@]}"
cd "$root"
build_release ON
build_fuzz
build_browser
# Rules for accessible pages, tests only; without npm or network the page test does without them.
axe="$build/axe"
if [[ ! -f $axe/node_modules/axe-core/axe.min.js ]] && command -v npm >/dev/null; then
  mkdir -p "$axe"
  npm install --prefix "$axe" --no-audit --no-fund --ignore-scripts axe-core@4.14.1 \
    >"$axe/npm.log" 2>&1 </dev/null || say "axe-core could not be fetched; see build/release/axe/npm.log"
fi
jobs=$(jobs_for_memory)
say "testing, $jobs at a time"
exec ctest --test-dir "$build" --parallel "$jobs" --output-on-failure --no-tests=error "$@"
