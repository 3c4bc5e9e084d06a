// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "library_support.h"

using namespace warmsheet;
using namespace warmsheet::testing;

TEST_CASE("what is there is found under its id") {
  const library::Library& library = built_in();
  CHECK(library.sheet("elastic-clear").id == "elastic-clear");
  CHECK(library.stock_item("elastic-clear/3.2-solid").key() == "elastic-clear/3.2-solid");
  CHECK(library.skin("thin").id == "thin");
  CHECK(library.bath_state("still").id == "still");
  CHECK(library.liner("stockinette").id == "stockinette");
  CHECK(library.wrap("elastic-wrap").id == "elastic-wrap");
  CHECK(library.perforation("micro").id == "micro");
  CHECK(library.fixing("strap-50").id == "strap-50");
  CHECK(library.fixing("strap-50", {"edging", "strap"}).id == "strap-50");
  CHECK(library.source("jiang-2002").id == "jiang-2002");
  for (const library::StockItem* item : library.all_stock()) CHECK(&library.stock_item(item->key()) == item);
}

TEST_CASE("what is not there is refused with the nearest name and the list") {
  const library::Library& library = built_in();
  struct Row {
    std::function<void()> ask;
    std::string message;
    std::string hint;
  };
  const Row rows[] = {
      {[&] { (void)library.sheet("elastic-clera"); }, "no sheet \"elastic-clera\"",
       "did you mean \"elastic-clear\"?"},
      {[&] { (void)library.skin("adlt"); }, "no skin kind \"adlt\"", "did you mean \"adult\"?"},
      {[&] { (void)library.bath_state("stil"); }, "no bath state", "did you mean \"still\"?"},
      {[&] { (void)library.liner("none"); }, "no liner \"none\"",
       "known: double-stockinette, stockinette, thin-foam"},
      {[&] { (void)library.wrap("towel"); }, "no wrap", "dry-towel"},
      {[&] { (void)library.perforation("macro"); }, "no perforation", "did you mean \"micro\"?"},
      {[&] { (void)library.fixing("strap"); }, "no fixing", "strap-25"},
      {[&] { (void)library.fixing("edging-tap", {"edging"}); }, "no edging \"edging-tap\"",
       "did you mean \"edging-tape\"? known: edging-tape"},
      {[&] { (void)library.fixing("edging-tape", {"lining"}); },
       "\"edging-tape\" is of kind edging, not lining", "known: lining-thick, lining-thin"},
      {[&] {
         (void)library.fixing("lining-thin", {"strap", "edging"});
       },
       "\"lining-thin\" is of kind lining, not strap or edging",
       "known: edging-tape, strap-13, strap-25, strap-50"},
      {[&] { (void)library.design("cube"); }, "no design", "known:"},
      {[&] { (void)library.condition("hiccup"); }, "no condition", "known:"},
      {[&] { (void)library.measure("wrist"); }, "no measure", "wrist_girth"},
      {[&] { (void)library.source("x"); }, "no source", "jiang-2002"},
      {[&] { (void)library.stock_item("elastic-clear/3.2-sold"); }, "no stock item",
       "did you mean \"elastic-clear/3.2-solid\"?"},
      {[&] { (void)library.stock_item("elastik-clear/3.2-solid"); }, "no sheet",
       "did you mean \"elastic-clear\"?"},
      {[&] { (void)library.stock_item("elastic-clear"); }, "a sheet and an item are needed",
       "write for example"},
      {[&] { (void)library.sheet(""); }, "no sheet \"\"", "known:"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.message);
    const std::vector<Problem> seen = problems_of(row.ask);
    REQUIRE(seen.size() == 1);
    CHECK(seen[0].trouble == Trouble::usage);
    CHECK(seen[0].message.find(row.message) != std::string::npos);
    CHECK(seen[0].hint.find(row.hint) != std::string::npos);
  }
}

TEST_CASE("the usual item of a sheet is its 3.2 mm solid one, or the nearest to that") {
  const library::Sheet& sheet = built_in().sheet("elastic-clear");
  CHECK(sheet.usual_item(std::nullopt)->id == "3.2-solid");
  const library::StockItem* micro = sheet.usual_item("micro");
  REQUIRE(micro != nullptr);
  CHECK(micro->perforation == "micro");
  for (const library::StockItem& item : sheet.stock)
    if (item.perforation == "micro")
      CHECK(std::abs(item.thickness.si() - 3.2e-3) >= std::abs(micro->thickness.si() - 3.2e-3) - 1e-12);
  CHECK(sheet.usual_item("no such perforation") == nullptr);
}

TEST_CASE("two items that differ only in size are told from those that differ in more") {
  const library::Library& library = built_in();
  const library::StockItem& item = library.stock_item("elastic-clear/3.2-solid");
  CHECK(item.differs_only_in_size(library.stock_item("elastic-clear/3.2-solid-large")));
  for (const char* other : {"elastic-clear/2.4-solid", "elastic-clear/3.2-micro", "draping-white/3.2-solid"})
    CHECK_FALSE(item.differs_only_in_size(library.stock_item(other)));
}
