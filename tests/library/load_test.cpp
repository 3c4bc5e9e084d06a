// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <regex>
#include <set>
#include <sstream>

#include "base/file.h"
#include "library/condition.h"
#include "library_support.h"

using namespace warmsheet;
using namespace warmsheet::testing;

namespace {

/// The TOML blocks of a text in Markdown that open with "# FILE" on their first line.
Files examples_in(const std::string& markdown) {
  Files files;
  std::istringstream lines(markdown);
  std::string* block = nullptr;
  bool opened = false;
  for (std::string line; std::getline(lines, line);) {
    if (line == "```toml") {
      opened = true;
    } else if (line.starts_with("```")) {
      block = nullptr;
    } else if (opened) {
      opened = false;
      REQUIRE(line.starts_with("# "));
      block = &files[line.substr(2)];
    }
    if (block != nullptr) *block += line + "\n";
  }
  return files;
}

}  // namespace

TEST_CASE("the shipped library loads without a problem") {
  CHECK(built_in().hash.size() == 16);
  CHECK(built_in().layers.size() == 1);
  CHECK(built_in().layers[0].name == "built in");
}

TEST_CASE("loading twice gives the same library") {
  CHECK(library::load({}).hash == built_in().hash);
}

TEST_CASE("all three readers have a real choice") {
  std::set<std::string> families;
  std::set<double> thicknesses_mm;
  std::set<std::string> perforations;
  std::set<std::pair<double, double>> sizes;
  for (const auto& [id, sheet] : built_in().sheets) families.insert(sheet.family);
  for (const library::StockItem* item : built_in().all_stock()) {
    thicknesses_mm.insert(item->thickness.value());
    perforations.insert(item->perforation);
    sizes.insert({item->width.si(), item->length.si()});
  }
  CHECK(built_in().sheets.size() >= 9);
  CHECK(families == std::set<std::string>{"blended", "draping", "elastic", "filled", "rubbery"});
  CHECK(thicknesses_mm == std::set<double>{1.6, 2.0, 2.4, 3.2, 4.8});
  CHECK(perforations == std::set<std::string>{"maxi", "micro", "mini", "solid"});
  CHECK(sizes.size() >= 3);
}

TEST_CASE("an id is the file's name in the shipped library, so that a message leads to the file") {
  for (const auto& [id, sheet] : built_in().sheets)
    CHECK(sheet.thermal.density.origin()->place.file == "materials/sheets/" + id + ".toml");
}

TEST_CASE("a figure knows the line it was stated in") {
  const Place place = built_in().sheet("draping-white").thermal.density.origin()->place;
  std::istringstream lines(read_file(std::string(WARMSHEET_SOURCE_DIR "/") + place.file));
  std::string line;
  for (int i = 0; i < place.line; ++i) std::getline(lines, line);
  CHECK(line.starts_with("density = "));
}

TEST_CASE("unknown is kept as a reason") {
  const library::Fixing& lining = built_in().fixing("lining-thin");
  REQUIRE_FALSE(lining.width.known());
  CHECK(lining.width.reason() == "bought by area and cut to the outline");
}

TEST_CASE("practice times stand in order of thickness, each once") {
  for (const auto& [id, sheet] : built_in().sheets) {
    const std::string name = id;
    CAPTURE(name);
    const auto& times = sheet.practice.by_thickness;
    for (std::size_t i = 1; i < times.size(); ++i)
      CHECK(times[i - 1].thickness.si() < times[i].thickness.si());
    for (const library::StockItem& item : sheet.stock) {
      const bool timed = std::any_of(times.begin(), times.end(), [&](const library::PracticeTimes& row) {
        return row.thickness.si() == item.thickness.si();
      });
      CHECK_MESSAGE(timed, item.key(),
                    " needs a [[practice.times]] of its thickness, if only with unknown times");
    }
  }
}

TEST_CASE("the README's table of needs has every need that a condition may state, and no other") {
  const std::string readme = read_file(WARMSHEET_SOURCE_DIR "/materials/README.md");
  std::istringstream table(readme.substr(readme.find("| need |")));
  static const std::regex word("`([a-z]+)`");
  std::set<std::string> told;
  for (std::string line; std::getline(table, line) && line.starts_with("|");) {
    const std::string cell = line.substr(0, line.find(" | "));
    for (std::sregex_iterator at(cell.begin(), cell.end(), word); at != std::sregex_iterator(); ++at)
      told.insert((*at)[1]);
  }
  CHECK(told == std::set<std::string>(library::need_ids().begin(), library::need_ids().end()));
}

TEST_CASE("the examples of the README load") {
  const Files files = examples_in(read_file(WARMSHEET_SOURCE_DIR "/materials/README.md"));
  CHECK(files.size() == 3);
  const auto library = load_with(files);
  CHECK(library.sheets.size() == built_in().sheets.size() + 1);
  CHECK(library.sheet("thin-blend").stock.size() == 1);
  CHECK(library.sheet("elastic-clear").thermal.half_time_42.value() == 210.0);
  CHECK(library.stock_item("elastic-clear/3.2-solid").price.value() == 39.5);
  CHECK(library.surroundings.bath_water.value() == 9.0);
}
