// SPDX-License-Identifier: MIT
// Any words: the parser takes or refuses them, and completion offers only what goes on from the last of them.
#include <string>
#include <vector>

#include "cli/completion.h"
#include "cli/parser.h"
#include "fuzz/target.h"

using namespace warmsheet;

namespace {

/// One word a line, as no shell could cut them better.
std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (c == '\n')
      words.emplace_back();
    else
      words.back() += c;
  }
  return words;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::vector<std::string> words = words_of(fuzz::text_of(data, size));
  fuzz::reads([&] {
    const cli::Parsed parsed = cli::parse_command_line(words);
    fuzz::require(parsed.command != nullptr || !parsed.text.empty(), "words give a command or a text");
  });
  for (const cli::Offer& offer : cli::offers_for(words, cli::Environment{}).words)
    fuzz::require(!offer.word.empty(), "an offer is a word");
  return 0;
}
