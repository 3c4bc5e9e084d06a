// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <limits>
#include <stdexcept>

#include "library/embed.h"
#include "library/merge.h"
#include "library/packed.h"
#include "library_support.h"

using namespace warmsheet;
using namespace warmsheet::testing;

namespace {

toml::Value table_with(toml::Value value) {
  return {toml::Table{{"key", std::move(value)}}, {"x.toml", 1, 1}};
}

template <class Content>
Content back(const Content& content) {
  const toml::Value original = table_with({content, {"x.toml", 7, 300}});
  const toml::Value read = library::unpack(library::pack(original), "x.toml");
  const toml::Value& value = read.table()->at("key");
  CHECK(value.place.text() == "x.toml:7:300");
  return std::get<Content>(value.data);
}

}  // namespace

TEST_CASE("every value comes back from its bytes") {
  CHECK(rc::check("whole numbers", [](std::int64_t whole) { RC_ASSERT(back(whole) == whole); }));
  CHECK(rc::check("decimals", [](double decimal) { RC_ASSERT(back(decimal) == decimal); }));
  CHECK(rc::check("texts", [](const std::string& text) { RC_ASSERT(back(text) == text); }));
  CHECK(rc::check("flags", [](bool flag) { RC_ASSERT(back(flag) == flag); }));
  for (const std::int64_t whole :
       {std::numeric_limits<std::int64_t>::min(), std::int64_t{-1}, std::int64_t{0}, std::int64_t{63},
        std::int64_t{64}, std::numeric_limits<std::int64_t>::max()})
    CHECK(back(whole) == whole);
  for (const double decimal : {3.1e98, -0.0, 5e-324, 75000.0}) CHECK(back(decimal) == decimal);
}

TEST_CASE("a document comes back with its places, its key places and what its tables state") {
  const std::string text =
      "basis = \"memory\"\nroom = \"22 C\"\nlist = [1, [2.5, true]]\n[a.b]\nbasis = \"bench\"\nc = "
      "-3\n[[d]]\nid = \"é\"\n";
  const toml::Value parsed = toml::parse(text, "x.toml");
  const toml::Value read = library::unpack(library::pack(parsed), "x.toml");
  CHECK(library::canonical_text(read) == library::canonical_text(parsed));
  const toml::Value& c = read.table()->at("a").table()->at("b").table()->at("c");
  CHECK(c.key_place.text() == "x.toml:6:1");
  CHECK(c.place.text() == "x.toml:6:5");
  REQUIRE(c.stated != nullptr);
  CHECK(c.stated->basis == Basis::bench);
  CHECK(read.table()->at("room").stated->basis == Basis::memory);
}

TEST_CASE("bytes that were cut or spoilt are noticed, not read past") {
  const std::string bytes = library::pack(toml::parse("a = \"text\"\nb = [1, 2.5]\n", "x.toml"));
  for (std::size_t length = 0; length < bytes.size(); ++length) {
    CAPTURE(length);
    CHECK_THROWS_AS((void)library::unpack(bytes.substr(0, length), "x.toml"), std::logic_error);
  }
  CHECK_THROWS_AS((void)library::unpack(bytes + "x", "x.toml"), std::logic_error);
  CHECK_THROWS_AS((void)library::unpack("\x09", "x.toml"), std::logic_error);
}

TEST_CASE("the generated source names every file, and a slip in one stops the build with its place") {
  const Scratch scratch;
  (void)scratch.file("sheets/a.toml", "id = \"a\"\n");
  (void)scratch.file("b.toml", "x = 1\n");
  (void)scratch.file("notes.md", "not data");
  const std::string source = library::built_in_source(scratch.path());
  CHECK(source.find("{\"materials/b.toml\"") < source.find("{\"materials/sheets/a.toml\""));
  CHECK(source.find("notes") == std::string::npos);
  (void)scratch.file("sheets/a.toml", "id = \n");
  const std::vector<Problem> seen = problems_of([&] { (void)library::built_in_source(scratch.path()); });
  REQUIRE(seen.size() == 1);
  CHECK(seen[0].place.file == "materials/sheets/a.toml");
  CHECK(seen[0].place.line == 1);
}
