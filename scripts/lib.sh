# Shared by the scripts beside it: what Debian 12 must have, and how the project is built.
# Sourced, never run; the caller has set -euo pipefail.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd -P)
build="$root/build/release"
fuzz="$root/build/fuzz"
browser="$root/build/browser"

# Needed to build and run. README's table says what each is for. Boost and Imath headers are what
# OpenVDB's CMake module and headers ask for beyond its own package.
build_packages=(
  g++ cmake ninja-build pkg-config
  libopenvdb-dev libboost-iostreams-dev libimath-dev libblosc-dev libtbb-dev
  libassimp-dev libcli11-dev libtomlplusplus-dev nlohmann-json3-dev libfmt-dev
  libcairo2-dev libeigen3-dev zlib1g-dev fonts-dejavu-core libjs-three
)

# Needed by the tests alone: the test framework, peers to compare with, meshes and an elevation
# model to measure, readers of what we write, and what cpack asks for.
test_packages=(
  doctest-dev libcgal-dev libembree-dev libfcl-dev libcgal-demo python-matplotlib-data assimp-testmodels
  nodejs python3 python3-numpy python3-jsonschema poppler-utils dpkg-dev file chromium
  firefox-esr valgrind
)

# Needed by scripts/bench.sh alone: peers to race with, a measured surface, what draws the plot.
bench_packages=(
  libcgal-dev libembree-dev libfcl-dev python3 python3-numpy python3-matplotlib python-matplotlib-data
)

# Needed by fuzz targets, sanitized tests and clang-tidy alone.
fuzz_packages=(clang-14 libclang-rt-14-dev clang-tidy-14)

# Needed by the page for browsers alone: the compiler with what runs its output, and headers of libraries.
browser_packages=(
  emscripten nodejs cmake ninja-build libfmt-dev libtomlplusplus-dev nlohmann-json3-dev libeigen3-dev
  libboost-dev libfast-float-dev libjs-three zopfli
)

say() { printf '%s\n' "== $*"; }

fail() {
  printf '%s: %s\n' "$(basename "$0")" "$*" >&2
  exit 3
}

# Installs those of the named packages that are missing; without any it touches nothing, so that a
# second run needs neither network nor root.
need_packages() {
  command -v apt-get >/dev/null && command -v dpkg-query >/dev/null ||
    fail "apt-get not found: these scripts set up Debian 12; elsewhere install the packages named in scripts/lib.sh by hand"
  local package missing=()
  for package in "$@"; do
    [[ $(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true) == installed ]] ||
      missing+=("$package")
  done
  ((${#missing[@]})) || return 0
  local as_root=()
  if ((EUID != 0)); then
    command -v sudo >/dev/null ||
      fail "packages are missing (${missing[*]}): run as root, or install sudo"
    as_root=(sudo)
  fi
  say "installing ${#missing[@]} packages: ${missing[*]}"
  local log
  log=$(mktemp)
  local apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -y
    -o DPkg::Lock::Timeout=300)
  if ! { "${apt[@]}" update && "${apt[@]}" install --no-install-recommends "${missing[@]}"; } \
    >"$log" 2>&1 </dev/null; then
    tail -n 20 "$log" >&2
    rm -f "$log"
    fail "apt-get could not install the packages; see the lines above"
  fi
  rm -f "$log"
}

# Two jobs at most, one where memory is short: a file that uses OpenVDB takes up to 2 GiB.
jobs_for_memory() {
  local free_kib cores
  free_kib=$(awk '/^MemAvailable:/ {print $2}' /proc/meminfo)
  cores=$(nproc)
  if ((cores < 2 || free_kib < 5 * 1024 * 1024)); then echo 1; else echo 2; fi
}

# Runs a long command: on a terminal its own progress shows, elsewhere its output goes to a log
# whose end is shown when it fails.
quietly() {
  local what=$1 log=$2
  shift 2
  if [[ -t 1 ]]; then
    "$@" || fail "$what failed"
  elif ! "$@" >"$log" 2>&1; then
    grep -E -A 8 'error:|Error|FAILED' "$log" | head -n 60 >&2 || true
    fail "$what failed; all of it is in $log"
  fi
}

# build_folder DIR: makes it; "--fresh" where it was made for another place and is of no use.
build_folder() {
  mkdir -p "$1"
  if [[ -f $1/CMakeCache.txt ]] &&
    ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$1/CMakeCache.txt"; then
    echo --fresh
  fi
}

# build_release ON|OFF [-D...]: configures and builds; the first argument says whether with tests.
build_release() {
  local fresh
  fresh=$(build_folder "$build")
  say "configuring"
  quietly "cmake" "$build/configure.log" \
    cmake ${fresh:+"$fresh"} -S "$root" --preset release -DBUILD_TESTING="$1" "${@:2}"
  local jobs
  jobs=$(jobs_for_memory)
  say "building with $jobs job(s) into build/release; the first time takes some minutes"
  quietly "the build" "$build/build.log" cmake --build "$build" --parallel "$jobs"
}

# build_fuzz: configures and builds the fuzz targets with clang; ctest's "fuzz" runs them.
build_fuzz() {
  local fresh
  fresh=$(build_folder "$fuzz")
  say "building the fuzz targets into build/fuzz"
  quietly "cmake" "$fuzz/configure.log" cmake ${fresh:+"$fresh"} -S "$root" --preset fuzz
  quietly "the build" "$fuzz/build.log" cmake --build "$fuzz" --parallel "$(jobs_for_memory)"
}

# build_browser: configures and builds the page for browsers; ctest's "browser" and "door" run it.
build_browser() {
  local fresh
  fresh=$(build_folder "$browser")
  # emscripten's scripts find their libraries where Debian's node looks, whichever node is first on the path.
  export NODE_PATH="${NODE_PATH:+$NODE_PATH:}/usr/share/nodejs"
  local launcher=()
  if command -v ccache >/dev/null; then launcher=(-DCMAKE_CXX_COMPILER_LAUNCHER=ccache); fi
  say "building the page for browsers into build/browser"
  quietly "cmake" "$browser/configure.log" \
    cmake ${fresh:+"$fresh"} -S "$root" --preset browser "${launcher[@]}"
  quietly "the build" "$browser/build.log" cmake --build "$browser" --parallel "$(jobs_for_memory)"
}
