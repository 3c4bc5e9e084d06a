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

// Walks the raw tree, because a table's source speaks for quantities that any reader may take from it.
class SourceCheck {
 public:
  SourceCheck(const std::map<std::string, Source>& sources, Problems& problems)
      : sources_(sources), problems_(problems) {}

  void walk(const toml::Value& value, bool second_hand) {
    if (const toml::Array* array = value.array())
      for (const toml::Value& entry : *array) walk(entry, second_hand);
    const toml::Table* table = value.table();
    if (table == nullptr) return;
    // As in the strict reader: a basis starts afresh.
    if (table->contains("basis")) second_hand = false;
    if (const std::string* seen = text_at(*table, "seen")) second_hand = *seen == "second-hand";
    if (const std::string* key = text_at(*table, "source"))
      check(*key, table->at("source").place, second_hand);
    for (const auto& [name, child] : *table) walk(child, second_hand);
  }

 private:
  void check(const std::string& key, const Place& place, bool second_hand) {
    const auto known = sources_.find(key);
    if (known == sources_.end())
      problems_.add(place, fmt::format("source: \"{}\" is not in sources.toml", clip(key, 60)),
                    known_hint(key, ids_of(sources_)));
    else if (!known->second.quoted_in.empty() && !second_hand)
      problems_.add(place, fmt::format("source: \"{}\" is known only as quoted elsewhere", key),
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
  SourceCheck(sources, problems).walk(tree, false);
}

std::string known_hint(std::string_view seen, const std::vector<std::string>& known) {
  if (known.empty()) return "none is known";
  const std::string near = nearest(seen, known);
  const std::string list = "known: " + join(known, ", ");
  return near.empty() ? list : fmt::format("did you mean \"{}\"? {}", near, list);
}

}  // namespace warmsheet::library
