#!/bin/sh
# What the rooms' own tests reach: lines, branches and, for compound decisions, MC/DC (each condition seen to change the
# decision by itself): tests/coverage.sh [ROOM ...]; without names the rooms that a person's skin depends on. Needs clang 19,
# the first of Debian 12 that measures MC/DC. A build of its own without optimisation, so not part of .ci/run.
set -eu
cd "$(dirname "$0")/.."
for tool in clang++-19 llvm-profdata-19 llvm-cov-19; do
  command -v $tool >/dev/null || {
    echo "$tool is not installed: apt-get install clang-19 llvm-19 libclang-rt-19-dev"
    exit 77
  }
done
[ $# -gt 0 ] || set -- base library heat plan
build=${BUILD:-build-coverage}
rooms=$(echo "$*" | tr ' ' ';')
# Unoptimised, or branches that the compiler removes would count; -w: warnings are another build's business.
cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER=clang++-19 \
  -DCMAKE_CXX_FLAGS="-O1 -w -fprofile-instr-generate -fcoverage-mapping -fcoverage-mcdc" \
  -DWARMSHEET_TESTS=ON -DWARMSHEET_TEST_ROOMS="$rooms" >/dev/null
for room in "$@"; do
  cmake --build "$build" --target "${room}_tests" -j "${JOBS:-2}" >/dev/null
  program="$build/tests/$room/${room}_tests"
  LLVM_PROFILE_FILE="$build/$room.profraw" RC_PARAMS="seed=20260101 max_success=100" "$program" >/dev/null ||
    echo "the tests of $room failed"
  llvm-profdata-19 merge -sparse "$build/$room.profraw" -o "$build/$room.profdata"
  echo "== $room"
  llvm-cov-19 report "$program" -instr-profile="$build/$room.profdata" -show-region-summary=false \
    -show-mcdc-summary -show-branch-summary "src/$room" | awk '
    /^-|^File/ { next }
    { name = $1; printf "%-28s", name; for (i = 2; i <= NF; ++i) if ($i ~ /%/) printf " %9s", $i; print "" }'
done
echo "columns: functions, lines, branches, MC/DC"
