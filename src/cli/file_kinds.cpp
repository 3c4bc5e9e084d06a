// SPDX-License-Identifier: MIT
#include "cli/file_kinds.h"

#include <algorithm>
#include <array>
#include <string>

namespace warmsheet::cli {
namespace {

struct TellingKey {
  std::string_view key;
  FileKind kind;
  bool in_libraries = false;  ///< some file of a library has it too
};

/// The first one found decides: a job has measures, too, and measures of a person are a table where a
/// design's are a list.
constexpr std::array telling_keys{
    TellingKey{"kind", FileKind::caseload},
    TellingKey{"item", FileKind::caseload},
    TellingKey{"supply", FileKind::caseload},
    TellingKey{"roll", FileKind::caseload},
    TellingKey{"bath_state", FileKind::bench_notes, true},
    TellingKey{"note", FileKind::bench_notes},
    TellingKey{"label", FileKind::job},
    TellingKey{"design", FileKind::job, true},
    TellingKey{"condition", FileKind::job},
    TellingKey{"person", FileKind::job},
    TellingKey{"measures", FileKind::measures, true},
    TellingKey{"points", FileKind::outline},
    TellingKey{"unit", FileKind::outline},
};

bool stands_in(const toml::Value& document, std::string_view key) {
  return document.table()->contains(std::string(key));
}

}  // namespace

std::optional<FileKind> kind_of(const toml::Value& document) {
  const auto found = std::find_if(telling_keys.begin(), telling_keys.end(), [&](const TellingKey& telling) {
    return stands_in(document, telling.key);
  });
  if (found == telling_keys.end()) return std::nullopt;
  return found->kind;
}

bool is_of_no_library(const toml::Value& document) {
  const bool measures_of_a_person =
      stands_in(document, "measures") && document.table()->at("measures").table() != nullptr;
  return measures_of_a_person ||
         std::any_of(telling_keys.begin(), telling_keys.end(), [&](const TellingKey& telling) {
           return !telling.in_libraries && stands_in(document, telling.key);
         });
}

}  // namespace warmsheet::cli
