#!/bin/sh
# clang-tidy's bug-finding families (.clang-tidy) over the sources, or over those named: tests/tidy.sh [FILE ...].
# Takes ten seconds a file and more, so it is not part of .ci/run.
set -eu
cd "$(dirname "$0")/.."
tidy=${CLANG_TIDY:-clang-tidy-14}
command -v "$tidy" >/dev/null || {
  echo "$tidy is not installed: apt-get install clang-tidy-14"
  exit 77
}
build=${BUILD:-build-tidy}
cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DWARMSHEET_TESTS=OFF -DCMAKE_EXPORT_COMPILE_COMMANDS=ON >/dev/null
cmake --build "$build" --target warmsheet_embed >/dev/null # the built-in library is a source too
if [ $# -eq 0 ]; then
  # shellcheck disable=SC2046  # one word a file
  set -- $(find src -name '*.cpp' | sort)
fi
# GCC's flags that clang does not know are no findings; what it counts in system headers is noise on its stderr.
noise=$(mktemp)
trap 'rm -f "$noise"' EXIT
printf '%s\n' "$@" | xargs -P "${JOBS:-1}" -n 1 "$tidy" -p "$build" --quiet --extra-arg=-Wno-unknown-warning-option 2>"$noise" || {
  grep -v 'warnings generated' "$noise" >&2 || true
  exit 1
}
echo "clang-tidy: nothing found in $# files"
