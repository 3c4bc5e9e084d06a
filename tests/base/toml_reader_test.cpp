// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <string>

#include "base/failing.h"
#include "base/strict_toml.h"
#include "support/near.h"

namespace warmsheet {
namespace {

using testing::holds;
using testing::near_rel;
using D = Dimension;

constexpr double few_roundings = 4e-16;

/// Reads a document with `read(Reader&)`; fails the test on any problem.
template <class Read>
void read(std::string_view text, Read reading, std::optional<Basis> assumed = std::nullopt) {
  const toml::Value document = toml::parse(text, "a.toml");
  Problems problems;
  {
    toml::Reader root(document, "", problems, assumed);
    reading(root);
  }
  for (const Problem& problem : problems.list()) FAIL_CHECK(problem.text());
}

TEST_SUITE("toml reader") {
  TEST_CASE("a figure keeps its range, basis, source and place") {
    read(R"(
[sheet.thermal]
density = { value = 1145, low = 1130, high = 1160, unit = "kg/m3", basis = "handbook", source = "key", where = "table 2", seen = "second-hand", note = "at 25 C" }
)",
         [](toml::Reader& root) {
           toml::Reader sheet = root.table("sheet");
           toml::Reader thermal = sheet.table("thermal");
           const Figure density = thermal.figure("density", D::density, Limits{500, 2000});
           CHECK(density.name() == "sheet.thermal.density");
           CHECK(density.si() == 1145.0);
           CHECK(density.low_si() == 1130.0);
           CHECK(density.high_si() == 1160.0);
           CHECK(density.unit().id == "kg/m3");
           CHECK(density.basis() == Basis::handbook);
           CHECK(density.origin()->source == "key");
           CHECK(density.origin()->where == "table 2");
           CHECK(density.origin()->second_hand);
           CHECK(density.origin()->place.text() == "a.toml:3:1");
         });
  }

  TEST_CASE("a figure may be written as text, and its unit beside texts decides only how it is shown") {
    read(R"(
basis = "practice"
plain = "1/8 in"
table = { value = "1/8 in", low = "3 mm", high = "3.3 mm", unit = "mm" }
bare = { value = "1/8 in" }
ratio = 0.5
share = { value = 50, unit = "%" }
count = { value = 3, unit = "1" }
growth = { value = 1.6e-4, unit = "1/K" }
)",
         [](toml::Reader& root) {
           const Figure plain = root.figure("plain", D::length);
           CHECK(plain.si() == 0.003175);
           CHECK(plain.unit().id == "in");
           CHECK(plain.basis() == Basis::practice);
           CHECK(plain.name() == "plain");
           CHECK(plain.origin()->place.text() == "a.toml:3:9");
           const Figure table = root.figure("table", D::length);
           CHECK(near_rel(table.value(), 3.175, few_roundings));
           CHECK(near_rel(table.low_si(), 0.003, few_roundings));
           CHECK(table.unit().id == "mm");
           CHECK(root.figure("bare", D::length).unit().id == "in");
           CHECK(root.figure("ratio", D::ratio).si() == 0.5);
           CHECK(root.figure("share", D::ratio).si() == 0.5);
           CHECK(root.figure("count", D::ratio).si() == 3.0);
           CHECK(root.figure("growth", D::expansion).si() == 1.6e-4);
         });
  }

  TEST_CASE("tables lend their basis to what stands in them, until one of them names its own") {
    read(R"(
basis = "handbook"
source = "outer"
where = "page 1"
seen = "second-hand"
[a]
x = "1 mm"
y = { value = "1 mm", where = "page 2" }
z = { value = "1 mm", source = "other" }
[b]
basis = "memory"
x = "1 mm"
[[c]]
x = "1 mm"
)",
         [](toml::Reader& root) {
           toml::Reader a = root.table("a");
           const Origin x = *a.figure("x", D::length).origin();
           CHECK(x.basis == Basis::handbook);
           CHECK(x.source == "outer");
           CHECK(x.where == "page 1");
           CHECK(x.second_hand);
           const Origin y = *a.figure("y", D::length).origin();
           CHECK(y.source == "outer");
           CHECK(y.where == "page 2");
           // A page of one source must never stand beside another.
           const Origin z = *a.figure("z", D::length).origin();
           CHECK(z.source == "other");
           CHECK(z.where.empty());
           CHECK_FALSE(z.second_hand);
           toml::Reader b = root.table("b");
           const Origin in_b = *b.figure("x", D::length).origin();
           CHECK(in_b.basis == Basis::memory);
           CHECK(in_b.source.empty());
           CHECK_FALSE(in_b.second_hand);
           for (toml::Reader& entry : root.tables("c")) {
             CHECK(entry.path() == "c.1");
             CHECK(entry.figure("x", D::length).origin()->source == "outer");
             CHECK(entry.origin().basis == Basis::handbook);
           }
         });
  }

  TEST_CASE("a job needs no basis, since its user typed it, and a basis it names still counts") {
    read(
        "length = \"3 mm\"\n[wrist]\ngirth = \"160 mm\"\n[other]\nbasis = \"demo\"\nx = \"1 mm\"\n",
        [](toml::Reader& root) {
          CHECK(root.figure("length", D::length).basis() == Basis::entered);
          toml::Reader wrist = root.table("wrist");
          CHECK(wrist.figure("girth", D::length).basis() == Basis::entered);
          toml::Reader other = root.table("other");
          CHECK(other.figure("x", D::length).basis() == Basis::demo);
        },
        Basis::entered);
  }

  TEST_CASE("an unknown figure says why") {
    read(
        "x = { unknown = \"nobody measured it\", note = \"asked twice\" }\ny = { value = 3, unit = \"s\", "
        "basis = \"demo\" }\n",
        [](toml::Reader& root) {
          const Finding none = root.finding("x", D::duration);
          CHECK_FALSE(none.known());
          CHECK(none.reason() == "nobody measured it");
          CHECK(root.finding("y", D::duration).figure().si() == 3.0);
        });
  }

  TEST_CASE("values at the very limit of a field are inside it, in every unit") {
    read(
        "basis = \"demo\"\na = \"0.1 in\"\nb = \"3.3 mm\"\nc = \"572 F\"\nd = { value = 0.33, unit = \"cm\" "
        "}\n",
        [](toml::Reader& root) {
          root.figure("a", D::length, Limits{0.00254, 0.01});
          root.figure("b", D::length, Limits{0.001, 0.0033});
          root.figure("c", D::temperature, Limits{273.15, 573.15});
          root.figure("d", D::length, Limits{0.001, 0.0033});
        });
  }

  TEST_CASE("plain entries are read by kind") {
    read(R"(
name = "a name"
side = "left"
tags = ["a", "b"]
on = true
copies = 3
at = [1, 2.5]
x = 2.5
[measures]
wrist = "160 mm"
forearm = "250 mm"
basis = "entered"
)",
         [](toml::Reader& root) {
           CHECK(root.text("name") == "a name");
           CHECK(root.choice("side", {"right", "left"}) == "left");
           CHECK(root.texts_if("tags") == std::vector<std::string>{"a", "b"});
           CHECK(root.flag_if("on") == true);
           CHECK(root.whole("copies", 1, 3) == 3);
           CHECK(root.number_if("x") == 2.5);
           CHECK(root.raw_if("at")->array()->size() == 2);
           CHECK_FALSE(root.text_if("absent").has_value());
           CHECK_FALSE(root.flag_if("absent").has_value());
           CHECK_FALSE(root.whole_if("absent", 0, 1).has_value());
           CHECK_FALSE(root.number_if("absent").has_value());
           CHECK_FALSE(root.table_if("absent").has_value());
           CHECK_FALSE(root.figure_if("absent", D::length).has_value());
           CHECK(root.texts_if("absent").empty());
           CHECK(root.tables("absent").empty());
           CHECK_FALSE(root.has("absent"));
           // In the order of the file, not of the alphabet, and without what speaks for the table.
           toml::Reader measures = root.table("measures");
           CHECK(measures.names() == std::vector<std::string>{"wrist", "forearm"});
           CHECK(measures.figure("forearm", D::length).basis() == Basis::entered);
         });
  }

  TEST_CASE("places of headers, inline tables, dotted keys and list entries are where they are written") {
    const toml::Value document =
        toml::parse("a.b = 1\n  [c.d]\n  e = { f = 2 }\n[[g]]\n[[g]]\nh = [ 1,\n 2 ]\n", "x.toml");
    const toml::Table& root = *document.table();
    CHECK(root.at("a").table()->at("b").place.text() == "x.toml:1:7");
    CHECK(root.at("a").table()->at("b").key_place.text() == "x.toml:1:3");
    CHECK(root.at("c").table()->at("d").place.text() == "x.toml:2:6");
    CHECK(root.at("c").table()->at("d").table()->at("e").place.text() == "x.toml:3:3");
    CHECK(root.at("c").table()->at("d").table()->at("e").table()->at("f").place.text() == "x.toml:3:13");
    CHECK(root.at("g").array()->at(1).place.line == 5);
    CHECK(root.at("g").array()->at(1).table()->at("h").array()->at(1).place.text() == "x.toml:7:2");
  }

  TEST_CASE("a value that is no table cannot be read as one") {
    const toml::Value value{std::string("text"), {}};
    Problems problems;
    CHECK_THROWS_AS(toml::Reader(value, "x", problems), std::logic_error);
  }
}

}  // namespace
}  // namespace warmsheet
