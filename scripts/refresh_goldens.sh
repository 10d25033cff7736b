#!/bin/sh
# Writes tests/golden anew from the built program. Look at every change before you keep it:
# git diff tests/golden shows text, the pictures want opening.
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
LEASTWALL_REFRESH_GOLDENS=1 "$here/build/release/tests/leastwall_tests" \
    --source-file='*/tests/golden/*'
git -C "$here" --no-pager diff --stat -- tests/golden
