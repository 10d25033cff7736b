#!/usr/bin/env bash
# Every test: the set-up of demo.sh and the packages that tests need, a release build, then ctest.
# Arguments go to ctest (for example: -R wall). Status is not 0 when a test fails or none ran.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

need_packages "${build_packages[@]}" "${test_packages[@]}"
cd "$root"
build_release ON
say "testing"
exec ctest --test-dir "$build" --output-on-failure --no-tests=error "$@"
