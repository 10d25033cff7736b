#!/usr/bin/env bash
# Builds build/browser/leastwall.html: the check in one file for any browser, nothing to install
# there. Takes Debian's emscripten; the files are those of the program, but for what a page has no
# system for.
# --no-setup: installs nothing, and leaves the build out (status 77) where emscripten is not there.
set -euo pipefail
# shellcheck source=scripts/lib.sh
source "$(dirname "${BASH_SOURCE[0]}")/lib.sh"

if [[ ${1:-} == --no-setup ]]; then
  for tool in em++ zopfli; do
    command -v "$tool" >/dev/null || { echo "left out: $tool is not installed"; exit 77; }
  done
else
  need_packages "${browser_packages[@]}"
fi
build_browser
html="$browser/leastwall.html"
say "$html: $(stat -c %s "$html") bytes"
