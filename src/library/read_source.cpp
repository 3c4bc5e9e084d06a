// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include "base/text.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

Source read_source(toml::Reader& entry, const std::string& id) {
  Source source;
  source.id = id;
  source.title = entry.text("title");
  source.authors = entry.text("authors");
  source.year = entry.text("year");
  source.address = entry.text("address");
  source.quoted_in = entry.text_if("quoted_in").value_or("");
  return source;
}

// Walks the raw tree, because what a table states speaks for quantities that any reader may take from it.
class StatementCheck {
 public:
  StatementCheck(const std::map<std::string, Source>& sources, Problems& problems)
      : sources_(sources), problems_(problems) {}

  void walk(const toml::Value& value) {
    if (const toml::Array* array = value.array())
      for (const toml::Value& entry : *array) walk(entry);
    const toml::Table* table = value.table();
    if (table == nullptr) return;
    check_basis(value);
    check_source(value);
    for (const auto& [name, child] : *table) walk(child);
  }

 private:
  void check_basis(const toml::Value& stating) {
    const std::string* basis = stating.text("basis");
    if (basis == nullptr || *basis != basis_word(Basis::entered)) return;
    problems_.add(stating.table()->at("basis").place,
                  "basis: \"entered\" is for what is typed for one run, not for a library",
                  "what you measured yourself is \"bench\"");
  }

  void check_source(const toml::Value& stating) {
    const std::string* key = stating.text("source");
    if (key == nullptr) return;
    const Place& place = stating.table()->at("source").place;
    const std::string* seen = stating.text("seen");
    const auto known = sources_.find(*key);
    if (known == sources_.end())
      problems_.add(place, fmt::format("source: \"{}\" is not in sources.toml", clip(*key, 60)),
                    known_hint(*key, ids_of(sources_)));
    else if (!known->second.quoted_in.empty() && (seen == nullptr || *seen != "second-hand"))
      problems_.add(place, fmt::format("source: \"{}\" is known only as quoted elsewhere", *key),
                    "say seen = \"second-hand\" beside it");
  }

  const std::map<std::string, Source>& sources_;
  Problems& problems_;
};

}  // namespace

std::map<std::string, Source> read_sources(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "sources", problems);
  return read_by_id(reader, "reference", read_source);
}

void check_sources(const toml::Value& tree, const std::map<std::string, Source>& sources,
                   Problems& problems) {
  StatementCheck(sources, problems).walk(tree);
}

}  // namespace warmsheet::library
