#!/bin/sh
# Installs what is missing, builds everything with its tests, runs them, ends with ctest's summary.
# As root or with sudo; safe to run again; needs no network once everything is installed.
set -eu
cd "$(dirname "$0")/.."
. src/install-packages.sh

# shellcheck disable=SC2086
install_packages $build_packages $test_packages
cmake -S . -B build-tests -G Ninja -DCMAKE_BUILD_TYPE=Release -DWARMSHEET_TESTS=ON >/dev/null
cmake --build build-tests -j2
ctest --test-dir build-tests -j2 --output-on-failure --no-tests=error
