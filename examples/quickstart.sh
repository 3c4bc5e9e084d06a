#!/bin/sh
# From a clean clone to a bench plan: installs what is missing, builds, plans the example orthosis.
# As root or with sudo; safe to run again; needs no network once everything is installed.
set -eu
cd "$(dirname "$0")/.."
. src/install-packages.sh

# shellcheck disable=SC2086
install_packages $build_packages
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DWARMSHEET_TESTS=OFF >/dev/null
cmake --build build -j2

mkdir -p out
build/src/cli/warmsheet plan examples/wrist/job.toml --html out/wrist-plan.html \
  --pdf out/wrist-plan.pdf --outline-pdf out/wrist-outline.pdf --outline-svg out/wrist-outline.svg
cat <<EOT

The bench plan above also lies in
  out/wrist-plan.html      open in a browser, or print on A4 or Letter
  out/wrist-plan.pdf       the same for filing
  out/wrist-outline.pdf    the outline at 1:1, tiled, with check boxes
  out/wrist-outline.svg    the outline in true millimetres
Next: build/src/cli/warmsheet help
EOT
