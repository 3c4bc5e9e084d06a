// SPDX-License-Identifier: MIT
// The shells' parts of completion. Each only asks the program and shows its answer.
#pragma once

#include <string_view>

namespace warmsheet::cli {

inline constexpr std::string_view bash_completion =
    R"sh(# bash completion of warmsheet; made by: warmsheet completion bash
_warmsheet() {
  local line strip='' word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}
  # bash cuts words at "=": offers for --option=word or name=value lose that part again.
  if [[ $COMP_WORDBREAKS == *=* && ( $word == "=" || $before == "=" ) ]]; then strip=1; fi
  [[ $word == "=" ]] && word=''
  COMPREPLY=()
  while IFS= read -r line; do
    case $line in
      :files | :folders)
        compopt -o filenames
        [[ $line == :files ]] && before=-f || before=-d
        while IFS= read -r line; do COMPREPLY+=("$line"); done < <(compgen "$before" -- "$word")
        ;;
      *)
        line=${line%%$'\t'*}
        [[ $line == *= ]] && compopt -o nospace
        [[ $strip ]] && line=${line#*=}
        COMPREPLY+=("$line")
        ;;
    esac
  done < <("${1/#\~/$HOME}" completion suggest -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
}
complete -F _warmsheet warmsheet
)sh";

inline constexpr std::string_view zsh_completion =
    R"sh(#compdef warmsheet
# zsh completion of warmsheet; made by: warmsheet completion zsh
_warmsheet() {
  local -a offered openings
  local line word
  for line in ${(f)"$(${~words[1]} completion suggest -- "${(@)words[2,CURRENT]}" 2>/dev/null)"}; do
    case $line in
      :files) _files ;;
      :folders) _files -/ ;;
      *)
        word=${line%%$'\t'*}
        if [[ $word == *= ]]; then openings+=("$word"); else offered+=("${word//:/\\:}:${line#*$'\t'}"); fi
        ;;
    esac
  done
  (( $#offered )) && _describe warmsheet offered
  (( $#openings )) && compadd -S '' -- $openings
}
if [[ ${funcstack[1]} == _warmsheet ]]; then _warmsheet "$@"; else compdef _warmsheet warmsheet; fi
)sh";

inline constexpr std::string_view fish_completion =
    R"sh(# fish completion of warmsheet; made by: warmsheet completion fish
function __warmsheet_suggest
    set -l before (commandline -opc)
    set -l word (commandline -ct)
    test -n "$word"; or set word ''
    for line in ($before[1] completion suggest -- $before[2..-1] $word 2>/dev/null)
        switch $line
            case ':files'
                __fish_complete_path $word
            case ':folders'
                __fish_complete_directories $word ''
            case '*'
                echo $line
        end
    end
end
complete -c warmsheet -f -a '(__warmsheet_suggest)'
)sh";

}  // namespace warmsheet::cli
