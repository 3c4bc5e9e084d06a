#!/bin/sh
# A long run of every fuzz target, or of those named: tests/fuzz.sh SECONDS [TARGET ...]. Needs clang with libFuzzer. What
# it finds goes to build-fuzz/tests/fuzz/found/TARGET; put it into tests/fuzz/corpus/TARGET, where every build replays it.
set -eu
cd "$(dirname "$0")/.."
seconds=${1:?how many seconds for each target?}
shift
clang=${CLANG:-clang++-14}
command -v "$clang" >/dev/null || {
  echo "$clang is not installed: apt-get install clang-14 libclang-rt-14-dev"
  exit 77
}
build="build-fuzz"
cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_COMPILER="$clang" -DWARMSHEET_FUZZ=ON \
  -DWARMSHEET_TESTS=ON -DWARMSHEET_TEST_ROOMS=fuzz >/dev/null
# shellcheck disable=SC2046  # one word a target
[ $# -gt 0 ] || set -- $(ls "$build/tests/fuzz/seeds")
log=$(mktemp)
trap 'rm -f "$log"' EXIT
for target in "$@"; do
  cmake --build "$build" --target "fuzz_$target" -j "${JOBS:-2}" >/dev/null
  found="$build"/tests/fuzz/found/$target
  mkdir -p "$found"
  echo "== $target, $seconds s"
  "$build/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=5 -rss_limit_mb=4096 -print_final_stats=1 \
    -artifact_prefix="$found/" "$found" "$build/tests/fuzz/seeds/$target" >"$log" 2>&1 || true
  grep -E 'ERROR|SUMMARY|average_exec|broken promise' "$log" || {
    echo "$target did not run:"
    tail -3 "$log"
    exit 1
  }
  for each in "$found"/crash-* "$found"/timeout-* "$found"/oom-*; do
    [ ! -e "$each" ] || {
      echo "found: $each"
      exit 1
    }
  done
done
