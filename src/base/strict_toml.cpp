// SPDX-License-Identifier: MIT
#include "base/strict_toml.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "base/text.h"

namespace warmsheet::toml {
namespace {

constexpr std::size_t echoed_columns = 40;  // of what stood in the file; the place says the rest

std::optional<double> plain_number(const Value& value) {
  if (const auto* number = std::get_if<double>(&value.data)) return *number;
  if (const auto* whole = std::get_if<std::int64_t>(&value.data)) return static_cast<double>(*whole);
  return std::nullopt;
}

std::string shown(double written, const Unit& unit) {
  return unit.ascii.empty() ? fmt::format("{:g}", written) : fmt::format("{:g} {}", written, unit.ascii);
}

}  // namespace

std::string_view Value::kind() const {
  static constexpr std::string_view kinds[] = {"a text",        "a whole number", "a number",
                                               "true or false", "a list",         "a table"};
  return kinds[data.index()];
}

const std::string* Value::text(std::string_view key) const {
  const Table* keys = table();
  if (keys == nullptr) return nullptr;
  const auto at = keys->find(std::string(key));
  return at == keys->end() ? nullptr : std::get_if<std::string>(&at->second.data);
}

Reader::Reader(const Value& table, std::string path, Problems& problems, std::optional<Basis> assumed)
    : value_(&table), path_(std::move(path)), problems_(&problems), assumed_(assumed) {
  if (table.table() == nullptr) throw std::logic_error(path_ + " is read as a table and is none");
  stated_ = stated_around(table);
  read_stated();
}

Reader::Reader(const Value& table, std::string path, const Reader& around)
    : value_(&table),
      path_(std::move(path)),
      problems_(around.problems_),
      assumed_(around.assumed_),
      stated_(around.stated_around(table)) {
  read_stated();
}

Reader::Reader(Reader&& other) noexcept
    : value_(std::exchange(other.value_, nullptr)),
      path_(std::move(other.path_)),
      problems_(other.problems_),
      assumed_(other.assumed_),
      stated_(std::move(other.stated_)),
      asked_(std::move(other.asked_)) {}

Reader::~Reader() {
  if (value_ != nullptr) report_unknown_keys();
}

Stated Reader::stated_around(const Value& value) const {
  Stated stated = value.stated != nullptr ? *value.stated : stated_;
  if (!stated.basis) stated.basis = assumed_;
  return stated;
}

void Reader::read_stated() {
  const auto basis = text_if("basis");
  if (basis && !basis_from_word(*basis)) {
    std::vector<std::string> words;
    for (const Basis each : all_bases()) words.emplace_back(basis_word(each));
    problem("basis", fmt::format("\"{}\" is no basis", clip(*basis, echoed_columns)),
            "allowed: " + join(words, ", "));
  }
  text_if("source");
  text_if("where");
  if (has("seen")) choice("seen", {"read", "second-hand"});
  stated_ = detail::refined(std::move(stated_), *value_);
}

std::string Reader::named(std::string_view key) const {
  return path_.empty() ? std::string(key) : fmt::format("{}.{}", path_, key);
}

bool Reader::has(std::string_view key) const {
  return value_->table()->contains(std::string(key));
}

std::vector<std::string> Reader::names() {
  std::vector<std::string> keys;
  const Table& table = *value_->table();
  for (const auto& [key, value] : table) {
    if (std::find(detail::stating_keys.begin(), detail::stating_keys.end(), key) !=
        detail::stating_keys.end())
      continue;
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
  const auto at = table->find(std::string(key));
  return at == table->end() ? nullptr : &at->second;
}

const Value* Reader::find_or_report(std::string_view key, std::string_view expected) {
  const Value* value = find(key);
  if (value == nullptr) problem(key, "is missing", fmt::format("expected {}", expected));
  return value;
}

void Reader::report_unknown_keys() {
  const Table& table = *value_->table();
  const auto asked = [this](const auto& entry) { return asked_.contains(entry.first); };
  if (std::all_of(table.begin(), table.end(), asked)) return;
  const std::vector<std::string> known(asked_.begin(), asked_.end());
  std::vector<std::string> unused;
  for (const std::string& name : known)
    if (!has(name)) unused.push_back(name);
  for (const auto& [key, value] : table) {
    if (asked_.contains(key)) continue;
    std::string near = nearest(key, unused);
    if (near.empty()) near = nearest(key, known);
    const Place& place = value.key_place.line > 0 ? value.key_place : value.place;
    problems_->add(place, fmt::format("{}: unknown key", named(key)),
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
  std::optional<std::string> seen = text_if(key);
  if (seen && trim(*seen).empty())
    problem(key, "is empty", "write a text, or leave the entry out if it may be left out");
  return seen.value_or("");
}

std::string Reader::choice(std::string_view key, const std::vector<std::string>& allowed) {
  const Value* value = find_or_report(key, "one of: " + join(allowed, ", "));
  const std::optional<std::string> seen = value != nullptr ? text_if(key) : std::nullopt;
  if (!seen) return allowed.front();
  if (std::find(allowed.begin(), allowed.end(), *seen) != allowed.end()) return *seen;
  const std::string near = nearest(*seen, allowed);
  problem(key, fmt::format("\"{}\" is not known here", clip(*seen, echoed_columns)),
          (near.empty() ? "" : fmt::format("did you mean {}? ", near)) + "allowed: " + join(allowed, ", "));
  return allowed.front();
}

std::vector<std::string> Reader::texts_if(std::string_view key) {
  const Value* value = find(key);
  std::vector<std::string> texts;
  if (value == nullptr) return texts;
  if (value->array() == nullptr) {
    problem(key, fmt::format("expected a list of texts, saw {}", value->kind()));
    return texts;
  }
  for (const Value& entry : *value->array()) {
    if (const auto* text = std::get_if<std::string>(&entry.data))
      texts.push_back(*text);
    else
      problems_->add(entry.place,
                     fmt::format("{}: expected a list of texts, saw {} in it", named(key), entry.kind()));
  }
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

std::optional<Origin> Reader::origin_at(const Place& place, const Stated& stated, std::string_view key) {
  if (!stated.basis) {
    // A word that is no basis was reported where it stands.
    if (!has("basis"))
      problem(key, "the basis is missing",
              "state basis = \"handbook\", \"practice\", \"memory\" or \"demo\"; see materials/README.md");
    return std::nullopt;
  }
  if (*stated.basis == Basis::handbook && stated.source.empty()) {
    problem(key, "basis \"handbook\" needs a source",
            "add source = \"KEY\" with a key of sources.toml, or call it \"memory\"");
    return std::nullopt;
  }
  return Origin{*stated.basis, stated.source, stated.where, stated.second_hand, place};
}

Origin Reader::origin() {
  return origin_at(place(), stated_, "").value_or(Origin{.basis = Basis::demo, .place = place()});
}

Origin Reader::origin_of(std::string_view key) {
  const Value* value = find(key);
  const Stated stated = value != nullptr ? stated_around(*value) : stated_;
  const Place at = place_of(key);
  return origin_at(at, stated, key).value_or(Origin{.basis = Basis::demo, .place = at});
}

std::optional<Written> Reader::written(std::string_view key, const Value& value, const Unit* unit,
                                       Dimension dimension) {
  try {
    if (const auto* text = std::get_if<std::string>(&value.data)) return parse_quantity(*text, dimension);
    if (const auto number = plain_number(value)) {
      const std::string_view spelling = unit == nullptr || unit->ascii.empty() ? "" : unit->id;
      return parse_quantity(fmt::format("{} {}", *number, spelling), dimension);
    }
    problem(key, fmt::format("expected {}, saw {}", with_article(dimension_word(dimension)), value.kind()));
  } catch (const Failure& failure) {
    problem(key, failure.problems().front().message, failure.problems().front().hint);
  }
  return std::nullopt;
}

std::optional<Figure> Reader::read_plain(std::string_view key, const Value& value, Dimension dimension) {
  const auto seen = written(key, value, nullptr, dimension);
  const auto origin = origin_at(value.place, stated_around(value), key);
  if (!seen || !origin) return std::nullopt;
  return Figure::stated(named(key), Range::exactly(seen->si), *seen->unit, *origin);
}

std::optional<const Unit*> Reader::read_unit(Dimension dimension) {
  if (find("unit") == nullptr) return nullptr;
  const auto word = text_if("unit");
  if (!word) return std::nullopt;
  if (const Unit* unit = find_unit(dimension, *word)) return unit;
  problem("unit",
          fmt::format("\"{}\" is no unit of {}", clip(*word, echoed_columns), dimension_word(dimension)),
          unit_hint(*word, dimension));
  return std::nullopt;
}

std::optional<Figure> Reader::read_figure_table(std::string_view key, const Value& value,
                                                Dimension dimension) {
  Reader inner(value, named(key), *this);
  const std::optional<const Unit*> unit = inner.read_unit(dimension);
  const Value* low = inner.find("low");
  const Value* high = inner.find("high");
  inner.text_if("note");
  if (inner.has("unknown")) {
    inner.find("unknown");
    inner.find("value");
    inner.problem("unknown", "this figure is needed and cannot be left unknown");
    return std::nullopt;
  }
  const Value* middle = inner.find_or_report("value", "a number beside unit, or a text with a unit");
  const auto origin = inner.origin_at(value.place, inner.stated_, "basis");
  if (middle == nullptr || !unit) return std::nullopt;
  const auto at_middle = inner.written("value", *middle, *unit, dimension);
  const auto at_low = low != nullptr ? inner.written("low", *low, *unit, dimension) : at_middle;
  const auto at_high = high != nullptr ? inner.written("high", *high, *unit, dimension) : at_middle;
  if (!at_middle || !at_low || !at_high || !origin) return std::nullopt;
  if (at_low->si > at_middle->si || at_middle->si > at_high->si) {
    const Unit& in = *at_middle->unit;
    inner.problem("value", "low, value and high are not in order",
                  fmt::format("seen: {} to {} to {}", shown(in.from_si(at_low->si), in),
                              shown(in.from_si(at_middle->si), in), shown(in.from_si(at_high->si), in)));
    return std::nullopt;
  }
  return Figure::stated(inner.path_, {at_middle->si, at_low->si, at_high->si},
                        *unit != nullptr ? **unit : *at_middle->unit, *origin);
}

std::optional<Figure> Reader::read_figure(std::string_view key, const Value& value, Dimension dimension) {
  return value.table() != nullptr ? read_figure_table(key, value, dimension)
                                  : read_plain(key, value, dimension);
}

void Reader::check_limits(std::string_view key, const Figure& figure, std::optional<Limits> limits) {
  if (!limits) return;
  const bool below = figure.low_si() < limits->low - rounding_slack(limits->low);
  const bool above = figure.high_si() > limits->high + rounding_slack(limits->high);
  if (!below && !above) return;
  const Unit& unit = figure.unit();
  problem(key, shown(below ? figure.low() : figure.high(), unit) + " is outside the limits of this field",
          fmt::format("allowed: {} to {}", shown(unit.from_si(limits->low), unit),
                      shown(unit.from_si(limits->high), unit)));
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
    find_or_report(key, with_article(dimension_word(dimension)));
  else if (auto figure = figure_if(key, dimension, limits))
    return std::move(*figure);
  // Only stands in until the collected problems are thrown; demo is the weakest basis there is.
  return Figure::stated(named(key), Range::exactly(1.0), *units_of(dimension).front(),
                        Origin{.basis = Basis::demo});
}

Finding Reader::finding(std::string_view key, Dimension dimension, std::optional<Limits> limits) {
  const Value* value = find(key);
  if (value != nullptr && value->table() != nullptr && value->table()->contains("unknown")) {
    Reader inner(*value, named(key), *this);
    inner.text_if("note");
    const std::string reason = inner.text("unknown");
    return Finding::absent(trim(reason).empty() ? "no reason was given" : reason);
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
  return Reader(*value, named(key), *this);
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
    const std::string* id = entry.id();
    const std::string name = id != nullptr ? *id : std::to_string(i + 1);
    readers.push_back(Reader(entry, fmt::format("{}.{}", named(key), name), *this));
  }
  return readers;
}

const Value* Reader::raw_if(std::string_view key) {
  return find(key);
}

}  // namespace warmsheet::toml
