#!/bin/sh
# The manual pages are clean for mandoc's linter: manual.sh FOLDER. Exits with 77 if there is no mandoc.
set -eu
command -v mandoc >/dev/null || {
  echo "mandoc is not installed: left out"
  exit 77
}
found=$(mandoc -T lint -W warning "$1"/*.1 || true)
[ -z "$found" ] || {
  echo "$found" >&2
  exit 1
}
# What a reader sees is what the table says.
mandoc -T ascii "$1"/warmsheet-timing.1 | col -b | grep -q -e '--thickness LENGTH'
mandoc -T ascii "$1"/warmsheet.1 | col -b | grep -q 'warmsheet-plan(1)'
