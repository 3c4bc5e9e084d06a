#!/bin/sh
# The program in bad surroundings: environment.sh PROGRAM SOURCE_DIR [INTERPOSER]. Every case ends with the right
# exit code and a message, and nothing is lost or half written.
set -eu
program=$1
source=$2
interposer=${3:-}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"
ln -s "$source/examples" "$source/materials" .
job=examples/wrist/job.toml
cases=0

fail() {
  echo "FAILED: $*" >&2
  [ ! -s err ] || sed 's/^/  said: /' err >&2
  exit 1
}

# code WANTED WORDS ...: runs the program, keeps what it says in ./out and ./err
code() {
  wanted=$1
  shift
  cases=$((cases + 1))
  seen=0
  "$program" "$@" >out 2>err || seen=$?
  [ "$seen" = "$wanted" ] || fail "warmsheet $*: exit code $seen, not $wanted"
}
says() { grep -q -e "$1" err || fail "the message does not say \"$1\""; }
same() { cmp -s "$1" "$2" || fail "$1 and $2 differ: $3"; }
no_part_left() {
  for part in .warmsheet-*; do [ ! -e "$part" ] || fail "$part was left behind"; done
}

# all_formats FOLDER: one plan and its drawings in every format
all_formats() {
  mkdir -p "$1"
  code 0 plan $job --json --html "$1/plan.html" --pdf "$1/plan.pdf" --outline-svg "$1/o.svg" \
    --outline-dxf "$1/o.dxf" --outline-pdf "$1/o.pdf"
  cp out "$1/plan.json"
  code 0 plan $job
  cp out "$1/plan.txt"
}
same_folders() {
  for made in "$1"/*; do same "$made" "$2/${made##*/}" "$3"; done
}

same_bytes_every_time() {
  all_formats first
  all_formats second
  same_folders first second "the same words must give the same bytes"
  (export TZ=Pacific/Auckland && all_formats elsewhere)
  same_folders first elsewhere "neither clock nor time zone may show"
  for threads in 1 2 5; do
    code 0 nest "examples/outlines/volar-wrist-traced.svg*5" --sheet-size "600 x 450 mm" --threads $threads \
      --json --svg "cut.$threads.svg"
    mv out "nest.$threads"
    code 0 stock examples/clinic/caseload.toml --months 40 --threads $threads --json
    mv out "stock.$threads"
  done
  for threads in 2 5; do
    same nest.1 nest.$threads "threads change the answer"
    same cut.1.svg cut.$threads.svg "threads change the drawing"
    same stock.1 stock.$threads "threads change the answer"
  done
}

comma_decimals_change_nothing() {
  localedef -i de_DE -f UTF-8 "$scratch/de_DE.UTF-8" >/dev/null 2>&1 || {
    echo "no German locale to be had (package locales): left out"
    return 0
  }
  [ "$(LOCPATH=$scratch LC_ALL=de_DE.UTF-8 locale decimal_point)" = "," ] || fail "the locale is not in force"
  export LOCPATH="$scratch" LC_ALL=de_DE.UTF-8
  all_formats german
  code 0 outline german/o.svg --json
  mv out german/read.json
  code 2 outline german/o.svg --tolerance "0,1 mm"
  unset LC_ALL LOCPATH
  code 0 outline german/o.svg --json
  same out german/read.json "a comma locale changes what is read"
  rm german/read.json
  same_folders german first "a comma locale changes what is written"
}

terminal_without_utf8() {
  (export LC_ALL=C && all_formats plain)
  same_folders plain first "the text depends on the terminal"
  [ "$(LC_ALL=C tr -d '\000-\177' <plain/plan.txt | wc -c)" = 0 ] || fail "the text holds more than ASCII"
}

streams_that_take_nothing() {
  for words in "plan $job" "timing --sheet elastic-clear" sheets "check $job" help --version "completion bash"; do
    cases=$((cases + 3))
    seen=0
    # shellcheck disable=SC2086  # words are meant to split
    "$program" $words >/dev/full 2>err || seen=$?
    [ $seen = 4 ] || fail "$words to a full disk: exit code $seen, not 4"
    says "standard output"
    seen=0
    # shellcheck disable=SC2086
    "$program" $words >&- 2>err || seen=$?
    [ $seen = 4 ] || fail "$words without standard output: exit code $seen, not 4"
    seen=0
    # shellcheck disable=SC2086
    "$program" $words >out 2>&- || seen=$?
    [ $seen = 0 ] || fail "$words without standard error: exit code $seen, not 0"
  done
  "$program" plan $job --html closed.html >&- 2>err && fail "a closed stream went unnoticed"
  same closed.html first/plan.html "a closed stream ran into the file"
}

places_that_cannot_be_written() {
  echo precious >a-file
  for target in a-file/plan.html /proc/plan.html no-folder/plan.html materials; do
    code 4 plan $job --html $target
    says $target
  done
  [ "$(cat a-file)" = precious ] || fail "a file was changed"
  mkdir aside
  echo precious >aside/plan.html
  chmod 444 aside/plan.html
  if [ "$(id -u)" != 0 ]; then
    code 4 plan $job --html aside/plan.html
    [ "$(cat aside/plan.html)" = precious ] || fail "a protected file was changed"
  fi
  code 4 calibrate examples/bench/notes.toml --out a-file/library
  code 4 stock examples/clinic/caseload.toml --months 20 --csv no-folder/order.csv
  no_part_left
}

no_home() {
  cases=$((cases + 4))
  env -i "$program" plan $job >out 2>err || fail "a plan needs no home"
  same out first/plan.txt "without a home the plan changes"
  seen=0
  env -i "$program" calibrate examples/bench/notes.toml >out 2>err || seen=$?
  [ $seen = 2 ] || fail "calibrate without a home: exit code $seen, not 2"
  says "no home folder"
  env -i HOME=relative XDG_DATA_HOME=relative "$program" sheets >out 2>err || fail "relative homes"
  env -i HOME=/proc/self/nowhere XDG_DATA_HOME= "$program" sheets >out 2>err || fail "a home that is not there"
  (export WARMSHEET_LIBRARY=/nowhere && code 2 sheets)
  says "WARMSHEET_LIBRARY"
}

hostile_files() {
  for kind in svg csv dxf toml pgm; do
    : >empty.$kind
    if [ $kind = toml ]; then code 3 outline empty.toml; else code 3 outline empty.$kind --unit "1 mm"; fi
    says "empty.$kind"
  done
  for command in plan stock calibrate; do
    code 3 $command empty.toml
    says "empty.toml"
  done
  ln -s loop.svg loop.svg
  code 3 outline loop.svg
  code 4 sheets --html loop.svg
  mkdir -p circle/sheets
  ln -s ../sheets circle/sheets/sheets
  ln -s x.toml circle/sheets/x.toml
  code 2 sheets --library circle
  code 3 plan examples
  mkfifo pipe.toml
  code 3 plan pipe.toml
}

# 10 MB each, in bounded time and memory. The limits are far above need: they catch what grows without end.
large_files() {
  path=$(awk 'BEGIN { for (i = 0; i < 700000; ++i) printf "%d,%d ", i % 9973, (i * 7) % 9967 }')
  printf '<svg xmlns="http://www.w3.org/2000/svg" width="1m" height="1m"><path d="M%sZ"/></svg>' "$path" >big.svg
  echo "$path" | tr ' ' '\n' >big.csv
  printf 'label = "%s"\n' "$path" >big.toml
  awk 'BEGIN { for (i = 0; i < 800000; ++i) printf "k%d = 1\n", i }' >keys.toml
  awk 'BEGIN { for (i = 0; i < 900000; ++i) printf "<g>" }' >deep.svg
  awk 'BEGIN { for (i = 0; i < 900000; ++i) printf "[" }' >deep.toml
  # AddressSanitizer reserves terabytes of addresses for itself, and is ten times slower.
  limits="--cpu=20 --as=4000000000"
  if grep -q __asan_init "$program"; then limits="--cpu=300 --as=unlimited"; fi
  for words in "outline big.svg" "outline big.csv" "plan big.toml" "plan keys.toml" "stock keys.toml" \
    "calibrate keys.toml" "outline keys.toml" "outline deep.svg" "plan deep.toml"; do
    cases=$((cases + 1))
    seen=0
    # shellcheck disable=SC2086
    prlimit $limits "$program" $words >out 2>err || seen=$?
    [ $seen = 3 ] || fail "$words: exit code $seen, not 3"
    [ "$(wc -c <err)" -lt 20000 ] || fail "$words: the message is $(wc -c <err) bytes long"
  done
}

two_runs_one_file() {
  code 0 plan examples/thumb-pair/job.toml --html thumb.html
  for turn in 1 2 3 4 5 6; do
    "$program" plan $job --html shared.html >/dev/null 2>err &
    "$program" plan examples/thumb-pair/job.toml --html shared.html >/dev/null 2>err2 &
    wait
    cases=$((cases + 1))
    cmp -s shared.html first/plan.html || cmp -s shared.html thumb.html || fail "turn $turn: a mixed file"
  done
  no_part_left
}

rare_moments() {
  [ -n "$interposer" ] || {
    echo "no interposer in a build with sanitizers: interrupted writing left out"
    return 0
  }
  # A search takes the first ctrl-C as "enough" and delivers what it has; other commands end by it (128 + 2).
  code 0 sheets --html sheets.html
  echo precious >interrupted.html
  seen=0
  INTERRUPT_AT_FSYNC=1 LD_PRELOAD=$interposer "$program" sheets --html interrupted.html >out 2>err || seen=$?
  [ $seen = 130 ] || fail "ctrl-C while writing: exit code $seen, not 130"
  same interrupted.html sheets.html "ctrl-C left a half-written file"
  INTERRUPT_AT_FSYNC=1 LD_PRELOAD=$interposer "$program" plan $job --html interrupted.html >out 2>err ||
    fail "ctrl-C while a plan is written: exit code $?, not 0"
  same interrupted.html first/plan.html "ctrl-C left a half-written plan"
  no_part_left
  cp $job changing.toml
  (export LD_PRELOAD="$interposer" APPEND_AT_READ=changing.toml && code 3 plan changing.toml)
  says "changed while it was read"
}

# on_terminal WORDS ...: with standard output and standard error on a terminal
on_terminal() { script -qec "$program $*" /dev/null </dev/null >out 2>err; }
escapes() { tr -dc '\033' <out | wc -c; }

colour_and_progress() {
  command -v script >/dev/null || {
    echo "no script(1) to make a terminal: colour left out"
    return 0
  }
  unset NO_COLOR
  export TERM=xterm
  cases=$((cases + 8))
  on_terminal sheets
  [ "$(escapes)" != 0 ] || fail "no colour on a terminal"
  for quiet in "env NO_COLOR=1" "env NO_COLOR=0" "env TERM=dumb"; do
    script -qec "$quiet $program sheets" /dev/null </dev/null >out 2>err
    [ "$(escapes)" = 0 ] || fail "$quiet: colour all the same"
  done
  (export NO_COLOR='' && on_terminal sheets)
  [ "$(escapes)" != 0 ] || fail "an empty NO_COLOR counts as none (no-color.org)"
  on_terminal sheets --color never
  [ "$(escapes)" = 0 ] || fail "--color never: colour all the same"
  code 0 sheets --color always
  [ "$(escapes)" != 0 ] || fail "--color always: no colour"
  code 0 stock examples/clinic/caseload.toml --months 20
  [ ! -s err ] || fail "progress was shown to a file"
}

same_bytes_every_time
comma_decimals_change_nothing
terminal_without_utf8
streams_that_take_nothing
places_that_cannot_be_written
no_home
hostile_files
large_files
two_runs_one_file
rare_moments
colour_and_progress
echo "$cases cases in bad surroundings end well"
