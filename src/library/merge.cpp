// SPDX-License-Identifier: MIT
#include "library/merge.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <map>
#include <set>

#include "base/text.h"
#include "library/built_in.h"
#include "library/layer_files.h"
#include "library/packed.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

bool usable_id(const std::string& id) {
  return !id.empty() && id.size() <= 64 && std::all_of(id.begin(), id.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || is_digit(c) || c == '-' || c == '_' || c == '.';
  });
}

class IdCheck {
 public:
  explicit IdCheck(Problems& problems) : problems_(problems) {}

  /// Entries of [[lists]] directly in the file need ids; deeper ones need them if one of them has one.
  void file(const toml::Value& file) {
    for (const auto& [key, value] : *file.table()) value_at(key, value, true);
  }

  bool entry(const toml::Value& entry, std::string_view what) {
    const std::string* id = entry.id();
    if (id == nullptr)
      problems_.add(entry.place, fmt::format("{}: id is missing", what),
                    "write id = \"...\": it decides what is overridden");
    else if (!usable_id(*id))
      problems_.add(entry.table()->at("id").place,
                    fmt::format("{}: \"{}\" is no usable id", what, clip(*id, 40)),
                    "ids are made of a-z, 0-9, \"-\", \"_\" and \".\"");
    return id != nullptr && usable_id(*id);
  }

 private:
  void value_at(const std::string& key, const toml::Value& value, bool needs_ids) {
    if (const toml::Array* array = value.array()) entries(key, *array, needs_ids);
    if (const toml::Table* table = value.table())
      for (const auto& [name, child] : *table) value_at(name, child, false);
  }

  void entries(const std::string& key, const toml::Array& array, bool needs_ids) {
    const auto is_table = [](const toml::Value& v) { return v.table() != nullptr; };
    if (!std::all_of(array.begin(), array.end(), is_table)) return;
    if (!needs_ids &&
        std::none_of(array.begin(), array.end(), [](const toml::Value& v) { return v.id() != nullptr; }))
      return;
    std::set<std::string> seen;
    for (const toml::Value& each : array) {
      if (entry(each, key) && !seen.insert(*each.id()).second)
        problems_.add(each.table()->at("id").place,
                      fmt::format("{}: the id \"{}\" is used twice", key, *each.id()),
                      "every entry of a list needs an id of its own");
      for (const auto& [name, child] : *each.table()) value_at(name, child, false);
    }
  }

  Problems& problems_;
};

class Merger {
 public:
  explicit Merger(Problems& problems) : problems_(problems) {
    toml::Table root;
    for (const std::string_view name : single_files) root.emplace(name, toml::Value{toml::Table{}, {}});
    for (const std::string_view name : entry_folders) root.emplace(name, toml::Value{toml::Table{}, {}});
    merged_.tree.data = std::move(root);
  }

  void lay(const LayerFile& file) {
    try {
      lay_parsed(file.inside, toml::parse(file.text, file.shown));
    } catch (const Failure& failure) {
      for (const Problem& problem : failure.problems())
        problems_.add(problem.place, problem.message, problem.hint);
      merged_.all_parsed = false;
    }
  }

  void lay_parsed(const std::string& inside, toml::Value parsed) {
    parsed.place.line = parsed.place.column = 1;
    if (ids_are_sound(parsed)) put(inside, std::move(parsed));
  }

  /// After the last file of a layer: from here on the same id means "lay over", not "stated twice".
  void end_layer(Layer layer) {
    stated_.clear();
    merged_.layers.push_back(std::move(layer));
  }

  bool& all_parsed() { return merged_.all_parsed; }
  Merged take() { return std::move(merged_); }

 private:
  // Entries without ids would replace the whole list below them and bury the slip under its consequences.
  bool ids_are_sound(const toml::Value& parsed) {
    const CleanSoFar clean(problems_);
    IdCheck(problems_).file(parsed);
    if (!clean) merged_.all_parsed = false;
    return static_cast<bool>(clean);
  }

  void put(const std::string& inside, toml::Value parsed) {
    const std::size_t slash = inside.find('/');
    toml::Table& root = std::get<toml::Table>(merged_.tree.data);
    if (slash == std::string::npos)
      return lay_value(root.at(inside.substr(0, inside.rfind('.'))), std::move(parsed));
    const std::string folder = inside.substr(0, slash);
    if (!IdCheck(problems_).entry(parsed, inside.substr(slash + 1))) {
      merged_.all_parsed = false;
      return;
    }
    const std::string id = *parsed.id();
    const auto [stated, first] = stated_.emplace(folder + "/" + id, parsed.place.file);
    if (!first)
      return problems_.add(parsed.table()->at("id").place,
                           fmt::format("id: \"{}\" is stated twice in one library", id),
                           "the other file is " + stated->second);
    lay_value(std::get<toml::Table>(root.at(folder).data)[id], std::move(parsed));
  }

  // Most values land on nothing yet: moving them there keeps the start of the program short.
  static void lay_value(toml::Value& base, toml::Value over) {
    const toml::Table* table = base.table();
    if (table == nullptr || table->empty())
      base = std::move(over);
    else
      toml::lay_over(base, over);
  }

  Problems& problems_;
  Merged merged_;
  std::map<std::string, std::string>
      stated_;  // "sheets/id" and the file that states it, in the layer being laid
};

std::string inside_materials(std::string_view name) {
  static constexpr std::string_view root = "materials/";
  return std::string(name.substr(root.size()));
}

// Shortest digits that read back to the same number; whole numbers look the same in both forms.
template <class Number>
void write_number(Number number, std::string& text) {
  std::array<char, 32> digits{};
  const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), number).ptr;
  text.append(digits.data(), end);
  text += ';';
}

// A length before each text keeps one value from passing for two.
void write_text(std::string_view word, std::string& text) {
  write_number(word.size(), text);
  text += word;
}

// Keys come sorted from the map.
void write_canonical(const toml::Value& value, std::string& text) {
  if (const auto* table = value.table()) {
    text += '{';
    for (const auto& [key, child] : *table) {
      write_text(key, text);
      write_canonical(child, text);
    }
    text += '}';
  } else if (const auto* array = value.array()) {
    text += '[';
    for (const toml::Value& child : *array) write_canonical(child, text);
    text += ']';
  } else if (const auto* word = std::get_if<std::string>(&value.data)) {
    text += '"';
    write_text(*word, text);
  } else if (const auto* flag = std::get_if<bool>(&value.data)) {
    text += *flag ? "yes;" : "no;";
  } else if (const auto* whole = std::get_if<std::int64_t>(&value.data)) {
    write_number(*whole, text);
  } else {
    write_number(std::get<double>(value.data), text);
  }
}

}  // namespace

Merged merge(const std::vector<LayerFolder>& folders, Problems& problems) {
  Merger merger(problems);
  for (const BuiltInFile& file : built_in_files())
    merger.lay_parsed(inside_materials(file.name), unpack(file.packed, std::string(file.name)));
  merger.end_layer({"built in", ""});
  for (const LayerFolder& folder : folders) {
    for (const LayerFile& file : read_layer(folder, problems, merger.all_parsed())) merger.lay(file);
    merger.end_layer({folder.name, folder.path});
  }
  return merger.take();
}

std::string canonical_text(const toml::Value& tree) {
  std::string text;
  write_canonical(tree, text);
  return text;
}

std::string fnv1a_64(std::string_view bytes) {
  constexpr std::uint64_t offset_basis = 0xcbf29ce484222325U;
  constexpr std::uint64_t prime = 0x100000001b3U;
  std::uint64_t hash = offset_basis;
  for (const char byte : bytes) {
    hash ^= static_cast<unsigned char>(byte);
    hash *= prime;
  }
  return fmt::format("{:016x}", hash);
}

}  // namespace warmsheet::library
