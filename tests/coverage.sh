#!/bin/sh
# Lines and branches of the core that its own tests reach: tests/coverage.sh [ROOM ...]; without names the rooms whose
# figures a person's skin depends on. Needs gcovr. A build of its own without optimisation, so not part of .ci/run.
set -eu
cd "$(dirname "$0")/.."
command -v gcovr >/dev/null || {
  echo "gcovr is not installed: apt-get install gcovr"
  exit 77
}
[ $# -gt 0 ] || set -- base library heat plan
build=${BUILD:-build-coverage}
rooms=$(echo "$*" | tr ' ' ';')
cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_FLAGS="--coverage -O1" -DWARMSHEET_TESTS=ON \
  -DWARMSHEET_TEST_ROOMS="$rooms" >/dev/null
find "$build" -name '*.gcda' -delete
for room in "$@"; do
  cmake --build "$build" --target "${room}_tests" -j "${JOBS:-2}" >/dev/null
  (cd "$build" && RC_PARAMS="seed=20260101 max_success=100" "tests/$room/${room}_tests" >/dev/null) ||
    echo "the tests of $room failed"
done
for room in "$@"; do
  echo "== $room"
  # Edges that only an exception could take are not counted as branches.
  gcovr --root . --filter "src/$room/" --exclude-throw-branches --exclude-unreachable-branches \
    --print-summary "$build" | sed -n '/^lines:\|^branches:/p'
done
