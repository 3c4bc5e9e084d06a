// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace warmsheet {
namespace {

bool continues_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

/// Bytes of the first character: 1 for a byte that starts no well-formed UTF-8 sequence (RFC 3629, section
/// 4).
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  const std::size_t length = lead < 0xC2 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 1;
  if (length > text.size()) return 1;
  for (std::size_t i = 1; i < length; ++i)
    if (!continues_character(text[i])) return 1;
  const bool overlong = (lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xF0 && byte(1) < 0x90);
  const bool surrogate = lead == 0xED && byte(1) >= 0xA0;
  const bool beyond = lead == 0xF4 && byte(1) >= 0x90;
  return overlong || surrogate || beyond ? 1 : length;
}

std::string_view take_character(std::string_view& text) {
  const std::string_view character = text.substr(0, character_length(text));
  text.remove_prefix(character.size());
  return character;
}

/// False for C0 and C1 controls, broken bytes, and the signs that turn the writing direction.
bool may_be_echoed(std::string_view character) {
  const auto lead = static_cast<unsigned char>(character.front());
  if (character.size() == 1) return lead >= 0x20 && lead < 0x7F;
  if (character.size() == 2) return character >= "\u00a0";
  const bool turns = character == "\u200e" || character == "\u200f" ||
                     (character >= "\u202a" && character <= "\u202e") ||
                     (character >= "\u2066" && character <= "\u2069");
  return character.size() != 3 || !turns;
}

std::string_view harmless(std::string_view character) {
  return may_be_echoed(character) ? character : "?";
}

/// Edits (insert, delete, replace, swap of neighbours) between two words: optimal string alignment distance.
std::size_t edits(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> cost(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) cost[i][0] = i;
  std::iota(cost[0].begin(), cost[0].end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replace = cost[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, replace});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
    }
  }
  return cost[a.size()][b.size()];
}

/// The only one of `known` that begins with `word`; empty if none or several do.
std::string completed(std::string_view word, const std::vector<std::string>& known) {
  constexpr std::size_t telling_beginning = 4;
  if (word.size() < telling_beginning) return {};
  std::string only;
  for (const std::string& candidate : known) {
    if (!candidate.starts_with(word) || candidate == only) continue;
    if (!only.empty()) return {};
    only = candidate;
  }
  return only;
}

}  // namespace

std::string_view trim(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

std::string clip(std::string_view text, std::size_t most) {
  std::string shown;
  for (std::size_t count = 0; !text.empty(); ++count) {
    if (count == most) return shown + "...";
    shown += harmless(take_character(text));
  }
  return shown;
}

std::string echo(std::string_view text) {
  std::string shown;
  while (!text.empty()) {
    const std::string_view character = take_character(text);
    shown += character == "\n" ? character : harmless(character);
  }
  return shown;
}

std::size_t columns(std::string_view utf8) {
  return static_cast<std::size_t>(
      std::count_if(utf8.begin(), utf8.end(), [](char c) { return !continues_character(c); }));
}

std::vector<std::string> wrap(std::string_view text, std::size_t width) {
  std::vector<std::string> lines;
  std::string line;
  while (!(text = trim(text)).empty()) {
    const std::string_view word = text.substr(0, text.find_first_of(" \t\r\n"));
    text.remove_prefix(word.size());
    if (!line.empty() && columns(line) + 1 + columns(word) > width) lines.push_back(std::exchange(line, {}));
    if (!line.empty()) line += ' ';
    line += word;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

std::string with_article(std::string_view word) {
  const bool vowel = !word.empty() && std::string_view("aeiou").find(word.front()) != std::string_view::npos;
  return (vowel ? "an " : "a ") + std::string(word);
}

std::string spaced(std::string_view name) {
  std::string text(name);
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

std::string_view without_byte_order_mark(std::string_view bytes) {
  constexpr std::string_view mark = "\xEF\xBB\xBF";
  if (bytes.starts_with(mark)) bytes.remove_prefix(mark.size());
  return bytes;
}

std::string join(const std::vector<std::string>& parts, std::string_view separator) {
  std::string joined;
  for (const std::string& part : parts) {
    if (&part != &parts.front()) joined += separator;
    joined += part;
  }
  return joined;
}

std::string nearest(std::string_view word, const std::vector<std::string>& known) {
  // Words compared letter by letter cost length squared; nobody mistypes a name this long.
  if (word.empty() || word.size() > 64) return {};
  std::string best;
  std::size_t fewest = std::min<std::size_t>(2, (word.size() - 1) / 2) + 1;
  for (const std::string& candidate : known) {
    const std::size_t longer = std::max(word.size(), candidate.size());
    const std::size_t shorter = std::min(word.size(), candidate.size());
    if (longer - shorter >= fewest) continue;  // each letter more is an edit
    const std::size_t distance = edits(word, candidate);
    if (distance < fewest) {
      fewest = distance;
      best = candidate;
    }
  }
  return best.empty() ? completed(word, known) : best;
}

std::string meant_or_known(std::string_view word, const std::vector<std::string>& known) {
  const std::string near = nearest(word, known);
  return near.empty() ? "known: " + join(known, ", ") : "did you mean " + near + "?";
}

std::string known_hint(std::string_view word, const std::vector<std::string>& known) {
  if (known.empty()) return "none is known";
  const std::string near = nearest(word, known);
  const std::string list = "known: " + join(known, ", ");
  return near.empty() ? list : "did you mean \"" + near + "\"? " + list;
}

}  // namespace warmsheet
