# Sourced by examples/quickstart.sh and tests/run.sh: one list of what must be installed, and how.
# Nothing is fetched if all is there, so both scripts work without network once they have run.

build_packages="g++ cmake ninja-build libcli11-dev libfmt-dev libtomlplusplus-dev nlohmann-json3-dev libpugixml-dev
libgeos-dev libpng-dev libturbojpeg0-dev libboost-dev libhpdf-dev libnlopt-dev libnlopt-cxx-dev"
test_packages="doctest-dev librapidcheck-dev librsvg2-bin poppler-utils python3-jsonschema python3-ezdxf glpk-utils
zsh fish mandoc locales"
check_packages="clang-format-14"

# installed NAME: true if the Debian package is there.
installed() {
  dpkg-query -W -f='${Status}' "$1" 2>/dev/null | grep -q 'ok installed'
}

# install_packages NAME ...: installs the missing ones with apt; elsewhere says what is needed and goes on, since
# the configure step then names whatever is really missing.
install_packages() {
  if ! command -v apt-get >/dev/null 2>&1; then
    echo "This system has no apt-get. Needed, under their Debian names: $*" >&2
    return 0
  fi
  missing=""
  for package in "$@"; do
    installed "$package" || missing="$missing $package"
  done
  [ -n "$missing" ] || return 0
  as_root=""
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null 2>&1 || {
      echo "Please install as root:$missing" >&2
      return 1
    }
    as_root="sudo"
  fi
  echo "Installing:$missing"
  # shellcheck disable=SC2086  # words are meant to split
  $as_root apt-get install -y -q --no-install-recommends $missing >/dev/null 2>&1 || {
    $as_root apt-get update -q &&
      $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $missing
  }
}
