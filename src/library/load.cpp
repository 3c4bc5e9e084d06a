// SPDX-License-Identifier: MIT
#include "library/library.h"
#include "library/merge.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

void read_single_files(const toml::Table& root, Library& library, Problems& problems) {
  library.sources = read_sources(root.at("sources"), problems);
  library.perforations = read_perforations(root.at("perforations"), problems);
  library.fixings = read_fixings(root.at("fixings"), problems);
  library.skins = read_skins(root.at("skin"), problems);
  library.measures = read_measures(root.at("measures"), problems);
}

void read_sheets(const toml::Table& all, Library& library, Problems& problems) {
  for (const auto& [id, table] : all) library.sheets.emplace(id, read_sheet(table, id, library, problems));
}

void read_designs(const toml::Table& all, Library& library, Problems& problems) {
  for (const auto& [id, table] : all) library.designs.emplace(id, read_design(table, id, library, problems));
}

void read_conditions(const toml::Table& all, Library& library, Problems& problems) {
  for (const auto& [id, table] : all)
    library.conditions.emplace(id, read_condition(all, id, library, problems));
}

}  // namespace

Library load(const std::vector<LayerFolder>& folders) {
  Problems problems;
  Merged merged = merge(folders, problems);
  const toml::Table& root = *merged.tree.table();
  Library library{.crystallisation = read_crystallisation(root.at("crystallisation"), problems),
                  .tissue = read_tissue(root.at("skin"), problems),
                  .surroundings = read_surroundings(root.at("surroundings"), problems),
                  .bench_times = read_bench_times(root.at("bench_times"), problems),
                  .cutting = read_cutting(root.at("cutting"), problems),
                  .layers = std::move(merged.layers),
                  .hash = fnv1a_64(canonical_text(merged.tree)),
                  .all_parsed = merged.all_parsed};
  read_single_files(root, library, problems);
  read_sheets(*root.at("sheets").table(), library, problems);
  read_designs(*root.at("designs").table(), library, problems);
  read_conditions(*root.at("conditions").table(), library, problems);
  // With a file left out, names in it would be called unknown.
  if (merged.all_parsed) check_sources(merged.tree, library.sources, problems);
  problems.throw_if_any();
  return library;
}

}  // namespace warmsheet::library
