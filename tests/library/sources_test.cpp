// SPDX-License-Identifier: MIT
// Honesty of the shipped data, file by file, over the raw text of every built-in file.
#include <doctest/doctest.h>

#include <filesystem>
#include <regex>
#include <set>

#include "base/file.h"
#include "base/strict_toml.h"
#include "library/built_in.h"
#include "library/merge.h"
#include "library/packed.h"
#include "library_support.h"

using namespace warmsheet;
using namespace warmsheet::testing;

namespace {

const std::string* text_at(const toml::Table& table, const std::string& key) {
  const auto at = table.find(key);
  return at == table.end() ? nullptr : std::get_if<std::string>(&at->second.data);
}

void for_each_table(const toml::Value& value,
                    const std::function<void(const toml::Table&, const Place&)>& visit) {
  if (const toml::Array* array = value.array())
    for (const toml::Value& entry : *array) for_each_table(entry, visit);
  if (const toml::Table* table = value.table()) {
    visit(*table, value.place);
    for (const auto& [key, child] : *table) for_each_table(child, visit);
  }
}

void for_each_table(const std::function<void(const toml::Table&, const Place&)>& visit) {
  for (const library::BuiltInFile& file : library::built_in_files())
    for_each_table(library::unpack(file.packed, std::string(file.name)), visit);
}

std::string text_on_disk(const library::BuiltInFile& file) {
  return read_file(std::string(WARMSHEET_SOURCE_DIR "/") + std::string(file.name));
}

/// Every value's own place and its key's, in the order of the tree.
std::string places_of(const toml::Value& value) {
  std::string places = value.place.text() + " " + value.key_place.text() + "\n";
  if (const toml::Array* array = value.array())
    for (const toml::Value& entry : *array) places += places_of(entry);
  if (const toml::Table* table = value.table())
    for (const auto& [key, child] : *table) places += places_of(child);
  return places;
}

}  // namespace

/// Keys that the program's own tables name: .source = "key".
std::set<std::string> sources_in_code() {
  std::set<std::string> keys;
  const std::regex named(R"re(\.source = "([^"]+)")re");
  for (const auto& entry : std::filesystem::recursive_directory_iterator(WARMSHEET_SOURCE_DIR "/src")) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string text = read_file(entry.path().string());
    for (std::sregex_iterator at(text.begin(), text.end(), named); at != std::sregex_iterator(); ++at)
      keys.insert((*at)[1]);
  }
  return keys;
}

TEST_CASE("every source is used, and every source that is used is listed") {
  std::set<std::string> used = sources_in_code();
  for (const std::string& key : used) CHECK_MESSAGE(built_in().sources.contains(key), key);
  for_each_table([&](const toml::Table& table, const Place& place) {
    const std::string* key = text_at(table, "source");
    if (key == nullptr) return;
    CAPTURE(place.text());
    CHECK(built_in().sources.contains(*key));
    used.insert(*key);
  });
  for (const auto& [id, source] : built_in().sources) {
    const std::string name = id;
    CAPTURE(name);
    CHECK(used.contains(id));
  }
}

TEST_CASE("a handbook figure names its source and the place in it") {
  int seen = 0;
  for_each_table([&](const toml::Table& table, const Place& place) {
    const std::string* basis = text_at(table, "basis");
    if (basis == nullptr || *basis != "handbook") return;
    CAPTURE(place.text());
    CHECK(text_at(table, "source") != nullptr);
    CHECK(text_at(table, "where") != nullptr);
    ++seen;
  });
  CHECK(seen >= 20);
}

TEST_CASE("what rests on a source nobody here read is marked as second hand") {
  for_each_table([&](const toml::Table& table, const Place& place) {
    const std::string* key = text_at(table, "source");
    if (key == nullptr || built_in().source(*key).quoted_in.empty()) return;
    CAPTURE(place.text());
    const std::string* seen = text_at(table, "seen");
    CHECK((seen != nullptr && *seen == "second-hand"));
  });
}

TEST_CASE("the shipped library states no figure as measured on a bench or typed for a run") {
  for_each_table([&](const toml::Table& table, const Place& place) {
    const std::string* basis = text_at(table, "basis");
    INFO("a shipped figure was measured on nobody's bench: see \"What a shipped file must meet\", ",
         place.text());
    if (basis != nullptr) CHECK((*basis != "bench" && *basis != "entered"));
  });
}

TEST_CASE("prices and hole patterns are demonstration, and prices are in no real currency") {
  for (const library::StockItem* item : built_in().all_stock()) {
    INFO("a shipped price is invented, so basis \"demo\" and in cr: ", item->key());
    CHECK(item->price.basis() == Basis::demo);
    CHECK(item->price.unit().id == "cr");
  }
  for (const auto& [id, fixing] : built_in().fixings) CHECK(fixing.price.unit().id == "cr");
  for (const auto& [id, perforation] : built_in().perforations)
    if (perforation.holes) CHECK(perforation.holes->open_area.basis() == Basis::demo);
}

TEST_CASE("every thermal figure of a sheet has a range") {
  for (const auto& [id, sheet] : built_in().sheets) {
    const std::string name = id;
    CAPTURE(name);
    const library::Thermal& t = sheet.thermal;
    for (const Figure& figure :
         {t.density, t.conductivity, t.specific_heat_solid, t.specific_heat_melt, t.latent_heat,
          t.melting_start, t.melting_end, t.half_time_42, t.emissivity}) {
      INFO("a shipped sheet is a family, so its thermal figures need low and high: ", figure.name());
      CHECK(figure.low_si() < figure.si());
      CHECK(figure.si() < figure.high_si());
    }
  }
}

TEST_CASE("every data file opens with what it covers and what was left out") {
  for (const library::BuiltInFile& file : library::built_in_files()) {
    CAPTURE(file.name);
    const std::string text = text_on_disk(file);
    const std::string prose = text.substr(0, text.find("\n\n"));
    CHECK(prose.starts_with("# "));
    CHECK(prose.size() > 100);
  }
}

TEST_CASE("what is compiled in is what lies in materials/, to the last value and place") {
  CHECK(library::built_in_files().size() >= 20);
  for (const library::BuiltInFile& file : library::built_in_files()) {
    CAPTURE(file.name);
    const std::string name(file.name);
    const toml::Value compiled = library::unpack(file.packed, name);
    const toml::Value parsed = toml::parse(text_on_disk(file), name);
    CHECK(library::canonical_text(compiled) == library::canonical_text(parsed));
    CHECK(places_of(compiled) == places_of(parsed));
  }
}
