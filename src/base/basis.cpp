// SPDX-License-Identifier: MIT
#include "base/basis.h"

#include <array>

namespace warmsheet {
namespace {

struct Row {
  Basis basis;
  std::string_view word;
  char mark;
  std::string_view meaning;
};

constexpr std::array<Row, 6> rows{{
    {Basis::demo, "demo", 'D', "invented for demonstration; replace it before you rely on it"},
    {Basis::memory, "memory", 'M', "recalled from the literature, not read again"},
    {Basis::practice, "practice", 'P', "common practice of the trade, no source"},
    {Basis::handbook, "handbook", 'H', "read in a named published source"},
    {Basis::bench, "bench", 'B', "measured on your own bench"},
    {Basis::entered, "entered", 'E', "typed by you for this run"},
}};

const Row& row(Basis basis) {
  return rows.at(static_cast<std::size_t>(basis));
}

}  // namespace

std::string_view basis_word(Basis basis) {
  return row(basis).word;
}
char basis_mark(Basis basis) {
  return row(basis).mark;
}
std::string_view basis_meaning(Basis basis) {
  return row(basis).meaning;
}

std::optional<Basis> basis_from_word(std::string_view word) {
  for (const Row& candidate : rows)
    if (candidate.word == word) return candidate.basis;
  return std::nullopt;
}

const std::vector<Basis>& all_bases() {
  static const std::vector<Basis> bases{Basis::demo,     Basis::memory, Basis::practice,
                                        Basis::handbook, Basis::bench,  Basis::entered};
  return bases;
}

}  // namespace warmsheet
