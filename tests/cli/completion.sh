#!/bin/sh
# Completion in the real shells: completion.sh bash|zsh|fish PROGRAM. Exits with 77 if the shell is not there.
set -eu
shell=$1
program=$2
command -v "$shell" >/dev/null || {
  echo "$shell is not installed: left out"
  exit 77
}
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
mkdir "$scratch/bin" "$scratch/zz folder"
ln -s "$program" "$scratch/bin/warmsheet"
: >"$scratch/zz file.svg"
PATH="$scratch/bin:$PATH"
cd "$scratch"
warmsheet completion "$shell" >"$scratch/_warmsheet"

in_bash() {
  cat >ask.bash <<'END'
source ./_warmsheet
# What is offered after "$@", one a line; the last word is being typed.
ask() {
  COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
  _warmsheet "$1" "${COMP_WORDS[COMP_CWORD]}" "" 2>/dev/null
  (( ${#COMPREPLY[@]} == 0 )) || printf '%s\n' "${COMPREPLY[@]}"
}
END
  ask() { bash -c 'source ./ask.bash; ask "$@"' bash warmsheet "$@"; }
}

in_fish() {
  # Only the words: fish shows a note after a tab.
  ask() { fish --no-config -c 'source ./_warmsheet; complete -C "$argv"' -- "warmsheet $*" | cut -f 1; }
}

# expect "what is offered" WORD ...: the offers after these words, sorted, spaces between them.
expect() {
  wanted=$1
  shift
  seen=$(ask "$@" | sed 's,/$,,' | LC_ALL=C sort | tr '\n' ' ')
  [ "$seen" = "$wanted " ] || {
    echo "after \"warmsheet $*\" $shell offers \"$seen\", not \"$wanted\"" >&2
    exit 1
  }
}

common_cases() {
  expect "timing" ti
  expect "choose" cho
  expect "--skin" timing --ski
  expect "--threads" nest --th
  expect "thin" timing --skin th
  expect "volar-wrist" choose --design vol
  expect "a4 letter" outline --paper ''
  expect "zz folder" sheets --library zz
}

in_zsh() {
  # A shell on a terminal of its own: ctrl-X shows the line as completion has left it. Each read waits for that,
  # and ctest's limit ends it if it never comes.
  cat >.zshrc <<'END'
fpath=($PWD $fpath)
autoload -U compinit
compinit -u -d $PWD/dump
show() { print -r -- "<$BUFFER>"; BUFFER= }
zle -N show
bindkey '^X' show
END
  cat >drive.zsh <<'END'
zmodload zsh/zpty
zpty shell "TERM=dumb ZDOTDIR=$PWD zsh -d -i"
try() {  # what is typed before the tab, what the line must become
  local seen
  zpty -n -w shell "$1"$'\t\030'
  zpty -r shell seen $'*<warm*>\r\n*'
  [[ $seen == *"<$2>"* ]] && return
  print -r -- "after \"$1\" zsh makes: ${(V)seen}, not: $2"
  exit 1
}
try 'warmsheet timi' 'warmsheet timing '
try 'warmsheet timing --ski' 'warmsheet timing --skin '
try 'warmsheet timing --skin th' 'warmsheet timing --skin thin '
try 'warmsheet choose --design vol' 'warmsheet choose --design volar-wrist '
try 'warmsheet outline --paper=l' 'warmsheet outline --paper=letter '
try 'warmsheet outline --measure wrist_g' 'warmsheet outline --measure wrist_girth='
try 'warmsheet outline zz\ fi' 'warmsheet outline zz\ file.svg '
END
  zsh -f drive.zsh
}

case $shell in
  bash)
    in_bash
    common_cases
    expect "auto" timing --color = au
    expect "wrist_girth=" outline --measure wrist_g
    expect "zz file.svg zz folder" outline zz
    ;;
  fish)
    in_fish
    common_cases
    expect "--color=auto" timing --color=au
    ;;
  zsh) in_zsh ;;
esac
echo "completion works in $shell"
