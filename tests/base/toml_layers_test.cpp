// SPDX-License-Identifier: MIT
// Layers may only ever make a value known better than it was: the tests hold each value's basis, not only the
// value.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <string>

#include "base/failing.h"
#include "base/strict_toml.h"

namespace warmsheet {
namespace {

using testing::holds;
using D = Dimension;

toml::Value laid(std::string_view base, std::string_view over) {
  toml::Value document = toml::parse(base, "base.toml");
  toml::lay_over(document, toml::parse(over, "user.toml"));
  return document;
}

std::string described(const Figure& figure) {
  const Origin& origin = *figure.origin();
  return std::to_string(static_cast<int>(figure.value())) + " " + std::string(basis_word(origin.basis)) +
         " " + origin.source + " " + origin.where + " " + origin.place.file;
}

/// So that the reader does not complain of keys that a test has no use for.
void ask_for_all(toml::Reader& table) {
  for (const std::string& name : table.names()) table.raw_if(name);
}

/// The figure `key` of table [t], as "value basis source where file", or what is wrong with it.
std::string figure_of(const toml::Value& document, std::string_view key) {
  Problems problems;
  std::string text;
  {
    toml::Reader root(document, "", problems);
    toml::Reader table = root.table("t");
    for (const std::string& name : table.names()) {
      if (name != key) table.raw_if(name);
    }
    text = described(table.figure(key, D::length));
    ask_for_all(root);
  }
  return problems.empty() ? text : problems.list().front().text();
}

const char* handbook_table = R"(
[t]
basis = "handbook"
source = "book"
where = "page 1"
x = "1 mm"
y = "2 mm"
z = { value = 3, unit = "mm", low = 2, high = 4 }
)";

TEST_SUITE("toml layers") {
  TEST_CASE("a user's value replaces the old one with its own basis, and leaves the others theirs") {
    const toml::Value document = laid(handbook_table, "[t]\nbasis = \"bench\"\nx = \"9 mm\"\n");
    CHECK(figure_of(document, "x") == "9 bench   user.toml");
    CHECK(figure_of(document, "y") == "2 handbook book page 1 base.toml");
    CHECK(figure_of(document, "z") == "3 handbook book page 1 base.toml");
  }

  TEST_CASE("a user's value without a basis takes none from the layer below") {
    const std::string seen = figure_of(laid(handbook_table, "[t]\nx = \"9 mm\"\n"), "x");
    CHECK(holds(seen, "user.toml:2:5: t.x: the basis is missing"));
    CHECK(figure_of(laid(handbook_table, "[t]\nx = \"9 mm\"\n"), "y") == "2 handbook book page 1 base.toml");
  }

  TEST_CASE("a basis at the top of a user's file speaks for that file alone") {
    const toml::Value document = laid(handbook_table, "basis = \"memory\"\n[t]\nx = \"9 mm\"\n");
    CHECK(figure_of(document, "x") == "9 memory   user.toml");
    CHECK(figure_of(document, "y") == "2 handbook book page 1 base.toml");
  }

  TEST_CASE("a new source does not inherit the page of the old") {
    const toml::Value document = laid(
        handbook_table, "[t]\nz = { value = 5, unit = \"mm\", basis = \"handbook\", source = \"other\" }\n");
    CHECK(figure_of(document, "z") == "5 handbook other  user.toml");
  }

  TEST_CASE("a figure is replaced whole: half a figure keeps nothing of the old") {
    for (const char* over :
         {"[t]\nz = { high = 9 }\n", "[t.z]\nunit = \"cm\"\n", "[t]\nz = { basis = \"bench\" }\n"}) {
      CAPTURE(std::string(over));
      CHECK(holds(figure_of(laid(handbook_table, over), "z"), "t.z.value: is missing"));
    }
    const toml::Value plain =
        laid(handbook_table, "[t]\nz = { value = 5, unit = \"mm\", basis = \"bench\" }\n");
    Problems problems;
    toml::Reader root(plain, "", problems);
    toml::Reader table = root.table("t");
    CHECK(table.figure("z", D::length).has_range() == false);
    ask_for_all(table);
  }

  TEST_CASE("text gives way to a table and a table to text") {
    CHECK(figure_of(laid(handbook_table, "[t]\nx = { value = 5, unit = \"mm\", basis = \"bench\" }\n"),
                    "x") == "5 bench   user.toml");
    CHECK(figure_of(laid(handbook_table, "[t]\nbasis = \"bench\"\nz = \"5 mm\"\n"), "z") ==
          "5 bench   user.toml");
  }

  TEST_CASE("what a table states as a whole is what its last layer stated") {
    const char* trait = "[t]\nbasis = \"handbook\"\nsource = \"book\"\ngrade = \"high\"\nother = \"low\"\n";
    Problems problems;
    const toml::Value said = laid(trait, "[t]\nbasis = \"bench\"\ngrade = \"low\"\n");
    toml::Reader root(said, "", problems);
    toml::Reader table = root.table("t");
    CHECK(table.text("grade") == "low");
    CHECK(table.origin().basis == Basis::bench);
    CHECK(table.origin_of("grade").basis == Basis::bench);
    CHECK(table.origin_of("other").basis == Basis::handbook);
    CHECK(table.origin_of("other").source == "book");
    CHECK(table.origin_of("other").place.text() == "base.toml:5:9");
    CHECK(problems.empty());
    ask_for_all(table);

    const toml::Value unsaid = laid(trait, "[t]\ngrade = \"low\"\n");
    toml::Reader second_root(unsaid, "", problems);
    toml::Reader second = second_root.table("t");
    second.origin();
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list().front().text().starts_with("user.toml:1:2: t: the basis is missing"));
    ask_for_all(second);
  }

  TEST_CASE("a table that only leads deeper changes nothing about the tables above") {
    const char* base =
        "basis = \"practice\"\n[t]\nbasis = \"handbook\"\nsource = \"book\"\nx = \"1 mm\"\n[t.u]\ny = \"2 "
        "mm\"\n";
    Problems problems;
    const toml::Value document = laid(base, "[t.u]\nbasis = \"bench\"\ny = \"7 mm\"\n");
    toml::Reader root(document, "", problems);
    toml::Reader t = root.table("t");
    toml::Reader u = t.table("u");
    CHECK(t.origin().source == "book");
    CHECK(described(t.figure("x", D::length)) == "1 handbook book  base.toml");
    CHECK(described(u.figure("y", D::length)) == "7 bench   user.toml");
    CHECK(problems.empty());
  }

  TEST_CASE("list entries are matched by id, and other lists are replaced") {
    const char* base =
        "[[s]]\nid = \"a\"\nbasis = \"demo\"\np = \"1 mm\"\nq = \"2 mm\"\n[[s]]\nid = \"b\"\nbasis = "
        "\"demo\"\np = \"3 mm\"\nq = \"4 mm\"\n";
    const char* over =
        "[[s]]\nid = \"b\"\nbasis = \"bench\"\np = \"9 mm\"\n[[s]]\nid = \"c\"\nbasis = \"bench\"\np = \"5 "
        "mm\"\nq = \"6 mm\"\n";
    const toml::Value document = laid(base, over);
    Problems problems;
    toml::Reader root(document, "", problems);
    std::string seen;
    for (toml::Reader& entry : root.tables("s"))
      seen += entry.text("id") + ": " + described(entry.figure("p", D::length)) + ", " +
              described(entry.figure("q", D::length)) + "\n";
    CHECK(seen ==
          "a: 1 demo   base.toml, 2 demo   base.toml\n"
          "b: 9 bench   user.toml, 4 demo   base.toml\n"
          "c: 5 bench   user.toml, 6 bench   user.toml\n");
    CHECK(problems.empty());
    const toml::Value list = laid("a = [1, 2, 3]\n", "a = [4]\n");
    CHECK(list.table()->at("a").array()->size() == 1);
    const toml::Value without_id = laid("[[s]]\nx = 1\n[[s]]\nx = 2\n", "[[s]]\nid = \"a\"\n");
    CHECK(without_id.table()->at("s").array()->size() == 1);
  }

  TEST_CASE("laying a document over itself, or nothing over it, changes nothing that is read") {
    for (const std::string_view over : {std::string_view(handbook_table), std::string_view("")}) {
      const toml::Value document = laid(handbook_table, over);
      for (const char* key : {"x", "y", "z"}) {
        const std::string seen = figure_of(document, key);
        const std::string before = figure_of(toml::parse(handbook_table, "base.toml"), key);
        CHECK(seen.substr(0, seen.rfind(' ')) == before.substr(0, before.rfind(' ')));
      }
    }
  }

  TEST_CASE(
      "over any two layers, a value is the upper one's if it states it, with the basis stated around it") {
    CHECK(rc::check([] {
      const std::vector<std::string> bases{"demo", "memory", "practice", "bench"};
      const auto make_layer = [&](char key_digit, std::string& basis) {
        basis = *rc::gen::elementOf(bases);
        const bool at_top = *rc::gen::arbitrary<bool>();
        const std::string statement = "basis = \"" + basis + "\"\n";
        std::string text = (at_top ? statement : "") + "[t]\n" + (at_top ? "" : statement);
        std::set<char> keys;
        for (const char key : {'x', 'y', 'z'})
          if (*rc::gen::arbitrary<bool>()) {
            keys.insert(key);
            text += std::string(1, key) + " = \"" + key_digit + " mm\"\n";
          }
        return std::pair(text, keys);
      };
      std::string lower_basis;
      std::string upper_basis;
      const auto [lower, lower_keys] = make_layer('1', lower_basis);
      const auto [upper, upper_keys] = make_layer('2', upper_basis);
      const toml::Value document = laid(lower, upper);
      for (const char key : {'x', 'y', 'z'}) {
        const std::string seen = figure_of(document, std::string(1, key));
        if (upper_keys.contains(key))
          RC_ASSERT(seen == "2 " + upper_basis + "   user.toml");
        else if (lower_keys.contains(key))
          RC_ASSERT(seen == "1 " + lower_basis + "   base.toml");
        else
          RC_ASSERT(holds(seen, "is missing"));
      }
    }));
  }
}

}  // namespace
}  // namespace warmsheet
