// SPDX-License-Identifier: MIT
#include "base/strict_toml.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

#include "base/text.h"

namespace warmsheet::toml {
namespace {

constexpr std::array<std::string_view, 4> stating_keys{"basis", "source", "where", "seen"};

std::optional<double> plain_number(const Value& value) {
  if (const auto* number = std::get_if<double>(&value.data)) return *number;
  if (const auto* whole = std::get_if<std::int64_t>(&value.data)) return static_cast<double>(*whole);
  return std::nullopt;
}

const std::string* id_of(const Value& entry) {
  const Table* table = entry.table();
  if (table == nullptr) return nullptr;
  const auto id = table->find("id");
  return id == table->end() ? nullptr : std::get_if<std::string>(&id->second.data);
}

bool entries_have_ids(const Array& array) {
  return !array.empty() &&
         std::all_of(array.begin(), array.end(), [](const Value& v) { return id_of(v) != nullptr; });
}

void lay_array_over(Array& base, const Array& over) {
  for (const Value& entry : over) {
    const auto same =
        std::find_if(base.begin(), base.end(), [&](const Value& v) { return *id_of(v) == *id_of(entry); });
    if (same == base.end())
      base.push_back(entry);
    else
      lay_over(*same, entry);
  }
}

bool states_a_figure(const Table& table) {
  return table.contains("value") || table.contains("unknown");
}

}  // namespace

std::string_view Value::kind() const {
  static constexpr std::string_view kinds[] = {"a text",        "a whole number", "a number",
                                               "true or false", "a list",         "a table"};
  return kinds[data.index()];
}

void lay_over(Value& base, const Value& over) {
  auto* base_table = std::get_if<Table>(&base.data);
  const Table* over_table = over.table();
  if (base_table != nullptr && over_table != nullptr && !states_a_figure(*over_table)) {
    for (const auto& [key, value] : *over_table) {
      const auto [at, inserted] = base_table->try_emplace(key, value);
      if (!inserted) lay_over(at->second, value);
    }
    return;
  }
  auto* base_array = std::get_if<Array>(&base.data);
  const Array* over_array = over.array();
  if (base_array != nullptr && over_array != nullptr && entries_have_ids(*base_array) &&
      entries_have_ids(*over_array))
    return lay_array_over(*base_array, *over_array);
  base = over;
}

Reader::Reader(const Value& table, std::string path, Problems& problems, std::optional<Basis> assumed)
    : Reader(table, std::move(path), problems, Stated{.basis = assumed, .source = {}, .where = {}}) {}

Reader::Reader(const Value& table, std::string path, Problems& problems, Stated inherited)
    : value_(&table), path_(std::move(path)), problems_(&problems), stated_(std::move(inherited)) {
  read_stated();
}

Reader::Reader(Reader&& other) noexcept
    : value_(std::exchange(other.value_, nullptr)),
      path_(std::move(other.path_)),
      problems_(other.problems_),
      stated_(std::move(other.stated_)),
      asked_(std::move(other.asked_)) {}

Reader::~Reader() {
  if (value_ != nullptr) report_unknown_keys();
}

void Reader::read_stated() {
  const auto basis = text_if("basis");
  if (basis) {
    const auto known = basis_from_word(*basis);
    std::vector<std::string> words;
    for (const Basis each : all_bases()) words.emplace_back(basis_word(each));
    if (!known)
      problem("basis", fmt::format("\"{}\" is no basis", clip(*basis, 30)), "allowed: " + join(words, ", "));
    // A table that names a basis starts afresh: a source above it does not speak for it.
    stated_ = Stated{.basis = known, .source = {}, .where = {}};
  }
  if (auto source = text_if("source")) stated_.source = std::move(*source);
  if (auto where = text_if("where")) stated_.where = std::move(*where);
  if (has("seen")) stated_.second_hand = choice("seen", {"read", "second-hand"}) == "second-hand";
}

std::string Reader::named(std::string_view key) const {
  return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
}

bool Reader::has(std::string_view key) const {
  const Table* table = value_->table();
  return table != nullptr && table->contains(std::string(key));
}

std::vector<std::string> Reader::names() {
  std::vector<std::string> keys;
  const Table& table = *value_->table();
  for (const auto& [key, value] : table) {
    if (std::find(stating_keys.begin(), stating_keys.end(), key) != stating_keys.end()) continue;
    asked_.insert(key);
    keys.push_back(key);
  }
  std::stable_sort(keys.begin(), keys.end(), [&](const std::string& a, const std::string& b) {
    const Place& first = table.at(a).place;
    const Place& second = table.at(b).place;
    return std::tie(first.line, first.column) < std::tie(second.line, second.column);
  });
  return keys;
}

Place Reader::place_of(std::string_view key) const {
  const Table* table = value_->table();
  const auto at = table->find(std::string(key));
  return at == table->end() ? value_->place : at->second.place;
}

void Reader::problem(std::string_view key, std::string message, std::string hint) {
  const std::string name = key.empty() ? path_ : named(key);
  problems_->add(place_of(key), name.empty() ? std::move(message) : fmt::format("{}: {}", name, message),
                 std::move(hint));
}

const Value* Reader::find(std::string_view key) {
  asked_.emplace(key);
  const Table* table = value_->table();
  if (table == nullptr) return nullptr;
  const auto at = table->find(std::string(key));
  return at == table->end() ? nullptr : &at->second;
}

const Value* Reader::find_or_report(std::string_view key, std::string_view expected) {
  const Value* value = find(key);
  if (value == nullptr) problem(key, "is missing", fmt::format("expected {}", expected));
  return value;
}

void Reader::report_unknown_keys() {
  const Table* table = value_->table();
  if (table == nullptr) return;
  const std::vector<std::string> known(asked_.begin(), asked_.end());
  for (const auto& [key, value] : *table) {
    if (asked_.contains(key)) continue;
    std::vector<std::string> usable;
    for (const std::string& name : known)
      if (!table->contains(name)) usable.push_back(name);
    std::string near = nearest(key, usable);
    if (near.empty()) near = nearest(key, known);
    problem(key, "unknown key",
            near.empty() ? "known keys: " + join(known, ", ") : fmt::format("did you mean {}?", near));
  }
}

std::optional<std::string> Reader::text_if(std::string_view key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (const auto* text = std::get_if<std::string>(&value->data)) return *text;
  problem(key, fmt::format("expected a text, saw {}", value->kind()));
  return std::nullopt;
}

std::string Reader::text(std::string_view key) {
  if (find_or_report(key, "a text") == nullptr) return {};
  return text_if(key).value_or("");
}

std::string Reader::choice(std::string_view key, const std::vector<std::string>& allowed) {
  const std::string seen = text(key);
  if (std::find(allowed.begin(), allowed.end(), seen) != allowed.end()) return seen;
  if (has(key) && !seen.empty())
    problem(key, fmt::format("\"{}\" is not known here", clip(seen, 40)), "allowed: " + join(allowed, ", "));
  return allowed.front();
}

std::vector<std::string> Reader::texts_if(std::string_view key) {
  const Value* value = find(key);
  if (value == nullptr) return {};
  std::vector<std::string> texts;
  if (const Array* array = value->array())
    for (const Value& entry : *array)
      if (const auto* text = std::get_if<std::string>(&entry.data)) texts.push_back(*text);
  const bool whole = value->array() != nullptr && texts.size() == value->array()->size();
  if (!whole) problem(key, fmt::format("expected a list of texts, saw {}", value->kind()));
  return texts;
}

std::optional<bool> Reader::flag_if(std::string_view key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (const auto* flag = std::get_if<bool>(&value->data)) return *flag;
  problem(key, fmt::format("expected true or false, saw {}", value->kind()));
  return std::nullopt;
}

std::optional<std::int64_t> Reader::whole_if(std::string_view key, std::int64_t low, std::int64_t high) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  const auto* whole = std::get_if<std::int64_t>(&value->data);
  if (whole != nullptr && *whole >= low && *whole <= high) return *whole;
  const std::string seen = whole != nullptr ? std::to_string(*whole) : std::string(value->kind());
  problem(key, fmt::format("expected a whole number from {} to {}, saw {}", low, high, seen));
  return std::nullopt;
}

std::int64_t Reader::whole(std::string_view key, std::int64_t low, std::int64_t high) {
  if (find_or_report(key, "a whole number") == nullptr) return low;
  return whole_if(key, low, high).value_or(low);
}

std::optional<double> Reader::number_if(std::string_view key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  const auto number = plain_number(*value);
  if (!number) problem(key, fmt::format("expected a number, saw {}", value->kind()));
  return number;
}

std::optional<Origin> Reader::origin_at(const Place& place, std::string_view key) {
  if (!stated_.basis) {
    problem(key, "the basis is missing",
            "state basis = \"handbook\", \"practice\", \"memory\" or \"demo\"; see materials/README.md");
    return std::nullopt;
  }
  if (*stated_.basis == Basis::handbook && stated_.source.empty()) {
    problem(key, "basis \"handbook\" needs a source",
            "add source = \"KEY\" with a key of sources.toml, or call it \"memory\"");
    return std::nullopt;
  }
  return Origin{*stated_.basis, stated_.source, stated_.where, stated_.second_hand, place};
}

Origin Reader::origin() {
  return origin_at(place(), "").value_or(Origin{.basis = Basis::demo, .place = place()});
}

std::optional<Written> Reader::written(const Reader& at, std::string_view key, const Value& value,
                                       const Unit* unit, Dimension dimension) const {
  const auto report = [&](std::string message, std::string hint) {
    const std::string name = at.named(key);
    at.problems_->add(value.place, fmt::format("{}: {}", name, message), std::move(hint));
  };
  try {
    if (const auto* text = std::get_if<std::string>(&value.data)) return parse_quantity(*text, dimension);
    if (const auto number = plain_number(value)) {
      const std::string_view spelling = unit != nullptr ? unit->id : "";
      return parse_quantity(fmt::format("{} {}", *number, spelling == "1" ? "" : spelling), dimension);
    }
    report(fmt::format("expected a {}, saw {}", dimension_word(dimension), value.kind()), {});
  } catch (const Failure& failure) {
    report(failure.problems().front().message, failure.problems().front().hint);
  }
  return std::nullopt;
}

std::optional<Figure> Reader::read_plain(std::string_view key, const Value& value, Dimension dimension) {
  const auto seen = written(*this, key, value, nullptr, dimension);
  const auto origin = seen ? origin_at(value.place, key) : std::nullopt;
  if (!origin) return std::nullopt;
  return Figure::stated(named(key), Range::exactly(seen->si), *seen->unit, *origin);
}

std::optional<Figure> Reader::read_figure_table(std::string_view key, const Value& value,
                                                Dimension dimension) {
  Reader inner(value, named(key), *problems_, stated_);
  const Unit* unit = nullptr;
  if (const auto word = inner.text_if("unit")) {
    unit = find_unit(dimension, *word);
    if (unit == nullptr) {
      inner.problem("unit",
                    fmt::format("\"{}\" is no unit of {}", clip(*word, 20), dimension_word(dimension)),
                    "units: " + unit_list(dimension));
      inner.find("value");
      inner.find("low");
      inner.find("high");
      return std::nullopt;
    }
  }
  inner.text_if("note");
  const Value* middle = inner.find_or_report("value", "a number beside unit, or a text with a unit");
  const Value* low = inner.find("low");
  const Value* high = inner.find("high");
  if (middle == nullptr) return std::nullopt;
  const auto at_middle = inner.written(inner, "value", *middle, unit, dimension);
  const auto at_low = low != nullptr ? inner.written(inner, "low", *low, unit, dimension) : at_middle;
  const auto at_high = high != nullptr ? inner.written(inner, "high", *high, unit, dimension) : at_middle;
  const auto origin = inner.origin_at(value.place, "basis");
  if (!at_middle || !at_low || !at_high || !origin) return std::nullopt;
  if (at_low->si > at_middle->si || at_middle->si > at_high->si) {
    inner.problem("value", "low, value and high are not in order");
    return std::nullopt;
  }
  return Figure::stated(inner.path_, {at_middle->si, at_low->si, at_high->si},
                        unit != nullptr ? *unit : *at_middle->unit, *origin);
}

std::optional<Figure> Reader::read_figure(std::string_view key, const Value& value, Dimension dimension) {
  return value.table() != nullptr ? read_figure_table(key, value, dimension)
                                  : read_plain(key, value, dimension);
}

void Reader::check_limits(std::string_view key, const Figure& figure, std::optional<Limits> limits) {
  if (!limits || (figure.low_si() >= limits->low && figure.high_si() <= limits->high)) return;
  const Unit& unit = figure.unit();
  problem(key,
          fmt::format("{:g} {} is outside the limits of this field",
                      figure.low_si() < limits->low ? figure.low() : figure.high(), unit.ascii),
          fmt::format("allowed: {:g} to {:g} {}", unit.from_si(limits->low), unit.from_si(limits->high),
                      unit.ascii));
}

std::optional<Figure> Reader::figure_if(std::string_view key, Dimension dimension,
                                        std::optional<Limits> limits) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  auto figure = read_figure(key, *value, dimension);
  if (figure) check_limits(key, *figure, limits);
  return figure;
}

Figure Reader::figure(std::string_view key, Dimension dimension, std::optional<Limits> limits) {
  if (find(key) == nullptr)
    find_or_report(key, fmt::format("a {}", dimension_word(dimension)));
  else if (auto figure = figure_if(key, dimension, limits))
    return std::move(*figure);
  // Only stands in until the collected problems are thrown; demo is the weakest basis there is.
  return Figure::stated(named(key), Range::exactly(1.0), *units_of(dimension).front(),
                        Origin{.basis = Basis::demo});
}

Finding Reader::finding(std::string_view key, Dimension dimension, std::optional<Limits> limits) {
  const Value* value = find(key);
  if (value != nullptr && value->table() != nullptr && value->table()->contains("unknown")) {
    Reader inner(*value, named(key), *problems_, stated_);
    return Finding::absent(inner.text("unknown"));
  }
  return figure(key, dimension, limits);
}

std::optional<Reader> Reader::table_if(std::string_view key) {
  const Value* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (value->table() == nullptr) {
    problem(key, fmt::format("expected a table, saw {}", value->kind()));
    return std::nullopt;
  }
  return Reader(*value, named(key), *problems_, stated_);
}

Reader Reader::table(std::string_view key) {
  find_or_report(key, "a table");
  auto found = table_if(key);
  // Without the table every key in it would be reported as missing, which helps nobody.
  if (!found) problems_->throw_if_any();
  return std::move(found.value());
}

std::vector<Reader> Reader::tables(std::string_view key) {
  const Value* value = find(key);
  std::vector<Reader> readers;
  if (value == nullptr) return readers;
  const Array* array = value->array();
  const bool all_tables = array != nullptr && std::all_of(array->begin(), array->end(), [](const Value& v) {
                            return v.table() != nullptr;
                          });
  if (!all_tables) {
    problem(key, fmt::format("expected tables [[{}]], saw {}", key, value->kind()));
    return readers;
  }
  readers.reserve(array->size());
  for (std::size_t i = 0; i < array->size(); ++i) {
    const Value& entry = (*array)[i];
    const std::string* id = id_of(entry);
    const std::string name = id != nullptr ? *id : std::to_string(i + 1);
    readers.push_back(Reader(entry, fmt::format("{}{}{}.{}", path_, path_.empty() ? "" : ".", key, name),
                             *problems_, stated_));
  }
  return readers;
}

const Value* Reader::raw_if(std::string_view key) {
  return find(key);
}

}  // namespace warmsheet::toml
