// SPDX-License-Identifier: MIT
// The strict readers, one a kind of record. Each reports every slip it meets to `problems` and goes on; what
// it returns is only good if nothing was reported.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/strict_toml.h"
#include "library/library.h"

namespace warmsheet::library {

std::map<std::string, Source> read_sources(const toml::Value& file, Problems& problems);
std::map<std::string, Perforation> read_perforations(const toml::Value& file, Problems& problems);
std::map<std::string, Fixing> read_fixings(const toml::Value& file, Problems& problems);
BenchTimes read_bench_times(const toml::Value& file, Problems& problems);
CuttingHabits read_cutting(const toml::Value& file, Problems& problems);
Crystallisation read_crystallisation(const toml::Value& file, Problems& problems);
Tissue read_tissue(const toml::Value& file, Problems& problems);
std::map<std::string, SkinKind> read_skins(const toml::Value& file, Problems& problems);
Surroundings read_surroundings(const toml::Value& file, Problems& problems);
std::map<std::string, Measure> read_measures(const toml::Value& file, Problems& problems);
Design read_design(const toml::Value& table, const std::string& id, const Library& library,
                   Problems& problems);
/// `all` is the whole table of conditions, since one may lay its [piece] over another's.
Condition read_condition(const toml::Table& all, const std::string& id, const Library& library,
                         Problems& problems);
Sheet read_sheet(const toml::Value& table, const std::string& id, const Library& library, Problems& problems);

/// Every `source` key in the tree must be known, and a source known only at second hand must be marked so
/// where it is used.
void check_sources(const toml::Value& tree, const std::map<std::string, Source>& sources, Problems& problems);

/// Of one sheet, piece or metre, in whatever currency.
inline constexpr Limits price_limits{0.0, 1e6};

template <class Record>
std::vector<std::string> ids_of(const std::map<std::string, Record>& records) {
  std::vector<std::string> ids;
  for (const auto& [id, record] : records) ids.push_back(id);
  return ids;
}

/// The records of [[key]] by id. `read` makes one from its reader and its id.
template <class Read>
auto read_by_id(toml::Reader& file, std::string_view key, Read read) {
  std::map<std::string, decltype(read(file, std::string()))> records;
  for (toml::Reader& entry : file.tables(key)) {
    std::string id = entry.text("id");
    records.emplace(id, read(entry, id));
  }
  return records;
}

/// Notices whether problems came up since it was made: cross checks on stand-in values would only confuse.
class CleanSoFar {
 public:
  explicit CleanSoFar(const Problems& problems) : problems_(&problems), before_(problems.list().size()) {}
  explicit operator bool() const { return problems_->list().size() == before_; }

 private:
  const Problems* problems_;
  std::size_t before_;
};

}  // namespace warmsheet::library
