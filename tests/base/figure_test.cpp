// SPDX-License-Identifier: MIT
#include "base/figure.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <limits>
#include <set>
#include <stdexcept>
#include <string>
#include <tuple>

#include "support/near.h"

namespace warmsheet {
namespace {

using testing::near_rel;

Figure leaf(std::string name, Basis basis, double si = 1.0) {
  return Figure::stated(std::move(name), Range::exactly(si), units::millimetre(),
                        {.basis = basis, .source = basis == Basis::handbook ? "a-source" : ""});
}

Figure over(std::string name, std::vector<Figure> rests_on) {
  return Figure::derived(std::move(name), Range::exactly(1.0), units::second(), "a rule",
                         std::move(rests_on));
}

/// A tree with shared branches, as the results of this program are.
std::vector<Figure> random_tree() {
  std::vector<Figure> figures;
  const int stated = *rc::gen::inRange(1, 12);
  for (int i = 0; i < stated; ++i) {
    const Basis basis = *rc::gen::elementOf(all_bases());
    figures.push_back(leaf("leaf" + std::to_string(*rc::gen::inRange(0, 4)), basis, *rc::gen::inRange(0, 3)));
  }
  const int derived = *rc::gen::inRange(1, 12);
  for (int i = 0; i < derived; ++i) {
    std::vector<Figure> below;
    const int count = *rc::gen::inRange(1, 4);
    for (int k = 0; k < count; ++k)
      below.push_back(figures[*rc::gen::inRange<std::size_t>(0, figures.size())]);
    figures.push_back(over("derived" + std::to_string(i), std::move(below)));
  }
  return figures;
}

/// The rule told once more, by walking every path.
Basis weakest_below(const Figure& figure) {
  if (figure.rests_on().empty()) return figure.origin()->basis;
  Basis weakest = Basis::entered;
  for (const Figure& below : figure.rests_on()) weakest = std::min(weakest, weakest_below(below));
  return weakest;
}

TEST_SUITE("figure") {
  TEST_CASE("a derived figure carries the weakest basis below it") {
    // The order in DESIGN.md: demo < memory < practice < handbook < bench, entered.
    CHECK(Basis::demo < Basis::memory);
    CHECK(Basis::memory < Basis::practice);
    CHECK(Basis::practice < Basis::handbook);
    CHECK(Basis::handbook < Basis::bench);
    CHECK(Basis::handbook < Basis::entered);
    const Figure mixed =
        over("a", {leaf("x", Basis::entered), leaf("y", Basis::memory), leaf("z", Basis::handbook)});
    CHECK(mixed.basis() == Basis::memory);
    CHECK(over("b", {mixed, leaf("p", Basis::demo)}).basis() == Basis::demo);
  }

  TEST_CASE("the weakest-basis rule holds in every tree, whatever its shape") {
    CHECK(rc::check([] {
      const std::vector<Figure> figures = random_tree();
      for (const Figure& figure : figures) {
        RC_ASSERT(figure.basis() == weakest_below(figure));
        RC_ASSERT(figure.leaves().front().basis() == figure.basis());
        RC_ASSERT(figure.renamed("other").basis() == figure.basis());
      }
    }));
  }

  TEST_CASE("leaves are stated, each once, weakest first, and the same from every side") {
    CHECK(rc::check([] {
      const Figure root = random_tree().back();
      const std::vector<Figure> leaves = root.leaves();
      std::set<std::tuple<Basis, std::string, double>> seen;
      for (const Figure& each : leaves) {
        RC_ASSERT(each.origin().has_value());
        RC_ASSERT(each.rests_on().empty());
        RC_ASSERT(seen.emplace(each.basis(), each.name(), each.si()).second);
      }
      RC_ASSERT(std::is_sorted(leaves.begin(), leaves.end(), [](const Figure& a, const Figure& b) {
        return std::tuple(a.basis(), a.name()) < std::tuple(b.basis(), b.name());
      }));
      std::vector<Figure> turned = root.rests_on();
      std::reverse(turned.begin(), turned.end());
      const std::vector<Figure> again = turned.empty() ? leaves : over("turned", std::move(turned)).leaves();
      RC_ASSERT(again.size() == leaves.size());
      for (std::size_t i = 0; i < leaves.size(); ++i) {
        RC_ASSERT(again[i].name() == leaves[i].name());
        RC_ASSERT(again[i].si() == leaves[i].si());
      }
    }));
  }

  TEST_CASE("one statement shown in two units is one leaf, two of one name are two") {
    const Figure one = leaf("thickness", Basis::practice, 0.0032);
    CHECK(over("a", {one, one.in(*find_unit(Dimension::length, "in"))}).leaves().size() == 1);
    const Figure other = leaf("thickness", Basis::practice, 0.0016);
    CHECK(over("b", {one, other, one}).leaves().size() == 2);
  }

  TEST_CASE("a lattice of shared branches is walked in no time") {
    // 2^60 paths lead from the top to the one leaf.
    Figure top = leaf("x", Basis::memory);
    for (int i = 0; i < 60; ++i) top = over("level", {top, top});
    CHECK(top.leaves().size() == 1);
    CHECK(top.basis() == Basis::memory);
  }

  TEST_CASE("a figure without a finite value between its bounds cannot be made") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinity = std::numeric_limits<double>::infinity();
    for (const Range& range :
         {Range{nan, 0, 1}, Range{0.5, nan, 1}, Range{0.5, 0, nan}, Range{infinity, 0, infinity},
          Range{0.5, -infinity, 1}, Range{2, 0, 1}, Range{-1, 0, 1}, Range{0.5, 1, 0}}) {
      CAPTURE(range.value);
      CHECK_THROWS_AS(Figure::stated("x", range, units::second(), {.basis = Basis::memory}),
                      std::logic_error);
      CHECK_THROWS_AS(Figure::entered("x", range, units::second()), std::logic_error);
      CHECK_THROWS_AS(Figure::derived("x", range, units::second(), "how", {leaf("y", Basis::demo)}),
                      std::logic_error);
    }
  }

  TEST_CASE("a figure cannot rest on nothing, nor on a handbook without a source") {
    CHECK_THROWS_AS(over("x", {}), std::logic_error);
    CHECK_THROWS_AS(Figure::stated("x", Range::exactly(1), units::second(), {.basis = Basis::handbook}),
                    std::logic_error);
    CHECK_NOTHROW(leaf("x", Basis::handbook));
  }

  TEST_CASE("renamed and converted figures are the same statement") {
    const Figure bath = Figure::stated("bath", {343.15, 338.15, 348.15}, units::celsius(),
                                       {.basis = Basis::handbook,
                                        .source = "s",
                                        .where = "table 1",
                                        .second_hand = true,
                                        .place = {"a.toml", 3, 4}});
    const Figure other = bath.renamed("start").in(*find_unit(Dimension::temperature, "degF"));
    CHECK(bath.name() == "bath");
    CHECK(other.name() == "start");
    CHECK(other.si() == bath.si());
    CHECK(near_rel(other.value(), 158.0, 1e-14));
    CHECK(near_rel(other.low(), 149.0, 1e-14));
    CHECK(near_rel(other.high(), 167.0, 1e-14));
    CHECK(other.origin()->where == "table 1");
    CHECK(other.origin()->second_hand);
    CHECK(other.origin()->place.text() == "a.toml:3:4");
    CHECK_FALSE(other.same_node(bath));
    const Figure derived = over("x", {bath}).renamed("y");
    CHECK(derived.how() == "a rule");
    CHECK(derived.rests_on().front().same_node(bath));
  }

  TEST_CASE("a figure is never read as another kind") {
    const Figure length = leaf("x", Basis::demo);
    CHECK(length.as<Dimension::length>().si == 1.0);
    CHECK_THROWS_AS(static_cast<void>(length.as<Dimension::area>()), std::logic_error);
    CHECK_THROWS_AS(static_cast<void>(length.in(units::second())), std::logic_error);
    const Figure rise = Figure::entered("rise", Range::exactly(5), units::kelvin_difference());
    CHECK_THROWS_AS(static_cast<void>(rise.as<Dimension::temperature>()), std::logic_error);
  }

  TEST_CASE("unknown is absent with a reason") {
    const Finding none = Finding::absent("nobody measured it");
    CHECK_FALSE(none.known());
    CHECK(none.reason() == "nobody measured it");
    CHECK_THROWS_AS(static_cast<void>(none.figure()), std::logic_error);
    CHECK_THROWS_AS(static_cast<void>(Finding::absent("")), std::logic_error);
    const Finding some = leaf("x", Basis::demo);
    CHECK(some.known());
    CHECK(some.figure().name() == "x");
  }

  TEST_CASE("every basis has a word, a mark and a meaning of its own") {
    std::set<std::string_view> words;
    std::set<char> marks;
    for (const Basis basis : all_bases()) {
      CHECK(basis_from_word(basis_word(basis)) == basis);
      CHECK(words.insert(basis_word(basis)).second);
      CHECK(marks.insert(basis_mark(basis)).second);
      CHECK_FALSE(basis_meaning(basis).empty());
    }
    CHECK(words.size() == 6);
    CHECK(std::is_sorted(all_bases().begin(), all_bases().end()));
    CHECK_FALSE(basis_from_word("Handbook").has_value());
    CHECK_FALSE(basis_from_word("").has_value());
  }
}

}  // namespace
}  // namespace warmsheet
