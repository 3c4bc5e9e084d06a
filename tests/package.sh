#!/bin/sh
# Builds the Debian package from a build folder, twice, compares the two, unpacks it into a clean folder and does
# the main job from there: tests/package.sh [BUILD]. With --again it builds the whole tree a second time somewhere
# else, which must give the same package too; that takes as long as a build.
set -eu
cd "$(dirname "$0")/.."
again=""
if [ "${1:-}" = --again ]; then
  again=1
  shift
fi
build=${1:-build-package}
command -v dpkg-deb >/dev/null || {
  echo "no dpkg here: the package is left out"
  exit 77
}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
released=$(sed -n 's/^set(WARMSHEET_RELEASED \(.*\))$/\1/p' CMakeLists.txt)
SOURCE_DATE_EPOCH=$(date -u -d "$released" +%s)
export SOURCE_DATE_EPOCH
umask 022

# package SOURCE BUILD TARGET: configures and builds what is not built, and leaves the package in TARGET.
package() {
  [ -f "$2/build.ninja" ] || cmake -S "$1" -B "$2" -G Ninja -DCMAKE_BUILD_TYPE=Release -DWARMSHEET_TESTS=OFF >/dev/null
  cmake --build "$2" -j2 >/dev/null
  (cd "$2" && cpack -G DEB -B "$3" >/dev/null)
  set -- "$3"/*.deb
  made=$1
}
package . "$build" "$scratch/one"
first=$made
touch materials/README.md  # a package must not hold the time a file was touched
package . "$build" "$scratch/two"
cmp "$first" "$made"
if [ -n "$again" ]; then
  mkdir "$scratch/elsewhere"
  cp -r CMakeLists.txt LICENSE README.md examples materials src "$scratch/elsewhere"
  package "$scratch/elsewhere" "$scratch/elsewhere/build" "$scratch/three"
  cmp "$first" "$made"
fi

root="$scratch/root"
dpkg-deb -x "$first" "$root"
for part in bin/warmsheet share/warmsheet/materials/sources.toml share/warmsheet/schemas/plan.schema.json \
  share/man/man1/warmsheet.1.gz share/man/man1/warmsheet-plan.1.gz share/bash-completion/completions/warmsheet \
  share/zsh/vendor-completions/_warmsheet share/fish/vendor_completions.d/warmsheet.fish \
  share/doc/warmsheet/copyright share/doc/warmsheet/changelog.gz share/doc/warmsheet/examples/wrist/job.toml; do
  [ -s "$root/usr/$part" ] || {
    echo "the package lacks usr/$part" >&2
    exit 1
  }
done
dpkg-deb -f "$first" Depends | grep -q 'libc6' || {
  echo "the package does not say what it depends on" >&2
  exit 1
}
strange=$(find "$root" -perm /022 -o -name '.*' ! -path "$root")
[ -z "$strange" ] || {
  echo "wrong in the package: $strange" >&2
  exit 1
}

# The main job, as a user of a clean system: only the package, nothing of this tree.
cd "$scratch"
run() { env -i PATH=/usr/bin:/bin "$root/usr/bin/warmsheet" "$@"; }
run plan "$root/usr/share/doc/warmsheet/examples/wrist/job.toml" --html plan.html --pdf plan.pdf --json >plan.json
grep -q '"installed: ' plan.json
grep -q 'Content-Security-Policy' plan.html
head -c 5 plan.pdf | grep -q '%PDF-'
run check "$root/usr/share/warmsheet/materials" >/dev/null
if command -v lintian >/dev/null; then lintian --fail-on error "$first"; fi
echo "$(basename "$first"), $(wc -c <"$first") bytes: the same bytes each time, and it works from a clean folder"
