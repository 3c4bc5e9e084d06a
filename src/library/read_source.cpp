// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>

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

const std::string* text_at(const toml::Table& table, const std::string& key) {
  const auto at = table.find(key);
  return at == table.end() ? nullptr : std::get_if<std::string>(&at->second.data);
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
    check_basis(*table);
    check_source(*table);
    for (const auto& [name, child] : *table) walk(child);
  }

 private:
  void check_basis(const toml::Table& table) {
    const std::string* basis = text_at(table, "basis");
    if (basis == nullptr || *basis != basis_word(Basis::entered)) return;
    problems_.add(table.at("basis").place,
                  "basis: \"entered\" is for what is typed for one run, not for a library",
                  "what you measured yourself is \"bench\"");
  }

  void check_source(const toml::Table& table) {
    const std::string* key = text_at(table, "source");
    if (key == nullptr) return;
    const Place& place = table.at("source").place;
    const std::string* seen = text_at(table, "seen");
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

std::string known_hint(std::string_view seen, const std::vector<std::string>& known) {
  if (known.empty()) return "none is known";
  const std::string near = nearest(seen, known);
  const std::string list = "known: " + join(known, ", ");
  return near.empty() ? list : fmt::format("did you mean \"{}\"? {}", near, list);
}

}  // namespace warmsheet::library
