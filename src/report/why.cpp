// SPDX-License-Identifier: MIT
// The tree of one figure. It is a graph: what two figures share is printed where it is met first.
#include <algorithm>

#include "report/clean_text.h"
#include "report/text_layout.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

constexpr std::size_t step = 2;
/// Deeper than this the tree no longer moves to the right, so that a line keeps room for words.
constexpr std::size_t deepest_indent = 24;

std::string stated_line(const Origin& origin) {
  std::string line(basis_word(origin.basis));
  if (!origin.source.empty()) line += ", source " + clean(origin.source);
  if (origin.second_hand) line += " (second-hand: quoted by another source)";
  if (!origin.where.empty()) line += ", " + clean(origin.where);
  const std::string place = clean(origin.place.text());
  if (!place.empty()) line += "; stated in " + place;
  return line;
}

class Tree {
 public:
  explicit Tree(std::size_t width) : width_(width) {}

  void add(const Figure& figure, std::size_t depth) {
    const std::string lead(std::min(depth * step, deepest_indent), ' ');
    const std::string head = clean(figure.name()) + " = " + finding_line(figure);
    const auto same = [&](const Figure& other) { return other.same_node(figure); };
    const bool printed = std::any_of(printed_.begin(), printed_.end(), same);
    if (printed && !figure.rests_on().empty())
      return put(out_, lead + "- ", head + ", explained above", width_);
    put(out_, lead + "- ", head, width_);
    if (printed) return;
    printed_.push_back(figure);
    explain(figure, lead + "    ", depth);
  }

  std::string take() { return std::move(out_); }

 private:
  void explain(const Figure& figure, const std::string& lead, std::size_t depth) {
    if (figure.origin()) return put(out_, lead, stated_line(*figure.origin()), width_);
    put(out_, lead, "how: " + clean(figure.how()), width_);
    for (const Figure& below : figure.rests_on()) add(below, depth + 1);
  }

  std::size_t width_;
  std::vector<Figure> printed_;
  std::string out_;
};

std::vector<Basis> bases_below(const Figure& figure) {
  std::vector<Basis> found;
  for (const Figure& leaf : figure.leaves())
    if (found.empty() || found.back() != leaf.basis()) found.push_back(leaf.basis());
  return found;
}

}  // namespace

std::string why(const Figure& figure, std::size_t width) {
  Tree tree(width);
  tree.add(figure, 0);
  std::string out = tree.take();
  for (const Basis basis : bases_below(figure))
    put(out, std::string("[") + basis_mark(basis) + "] ",
        std::string(basis_word(basis)) + ": " + std::string(basis_meaning(basis)), width);
  return out;
}

}  // namespace warmsheet::report
