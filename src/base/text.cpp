// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace warmsheet {
namespace {

bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

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

}  // namespace

std::string_view trim(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

std::string clip(std::string_view text, std::size_t most) {
  std::string shown;
  std::size_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (!continues_character(text[i]) && ++count > most) return shown + "...";
    shown += static_cast<unsigned char>(text[i]) < 0x20 || text[i] == 0x7f ? '?' : text[i];
  }
  return shown;
}

std::size_t columns(std::string_view utf8) {
  return static_cast<std::size_t>(std::count_if(utf8.begin(), utf8.end(), [](char c) { return !continues_character(c); }));
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

std::string join(const std::vector<std::string>& parts, std::string_view separator) {
  std::string joined;
  for (const std::string& part : parts) {
    if (!joined.empty()) joined += separator;
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
    const std::size_t distance = edits(word, candidate);
    if (distance < fewest) {
      fewest = distance;
      best = candidate;
    }
  }
  return best;
}

}  // namespace warmsheet
