// SPDX-License-Identifier: MIT
// What could be typed next, from the command table and the library. The shell's part is a few lines that ask
// this program, so a new command, option or sheet is completed without anybody thinking of it.
#pragma once

#include <string>
#include <vector>

#include "cli/environment.h"

namespace warmsheet::cli {

struct Offer {
  std::string word;
  std::string note;  ///< for shells that show one
};

struct Offers {
  std::vector<Offer> words;
  bool files = false;    ///< names of files fit too
  bool folders = false;  ///< only names of folders do
};

/// `typed` are the words after the program's name; the last one is being typed and may be empty.
Offers offers_for(const std::vector<std::string>& typed, const Environment& environment);

/// `warmsheet completion ...`: the script for a shell, or, for "suggest -- WORDS", what fits, one a line,
/// with a tab before the note; ":files" and ":folders" stand for names that the shell knows.
std::string completion_text(const std::vector<std::string>& words, const Environment& environment);

/// The shells there is a script for.
const std::vector<std::string>& completion_shells();

}  // namespace warmsheet::cli
