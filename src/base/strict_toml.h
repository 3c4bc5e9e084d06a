// SPDX-License-Identifier: MIT
// TOML with places: a tree that remembers file, line and column of every value, key-by-key layering of
// trees, and a strict reader. A key that nobody asked for, a missing unit, a missing basis or a value outside
// its limits becomes a problem "file:line:col: key: ...".
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/figure.h"
#include "base/problem.h"

namespace warmsheet::toml {

struct Value;
using Array = std::vector<Value>;
using Table = std::map<std::string, Value>;

/// What a table says once for all plain values in it, by its keys basis, source, where and seen.
struct Stated {
  std::optional<Basis> basis = {};
  std::string source = {};
  std::string where = {};
  bool second_hand = false;
};

struct Value {
  std::variant<std::string, std::int64_t, double, bool, Array, Table> data;
  Place place;
  Place key_place = {};  ///< of its key; not known for entries of a list
  /// What the tables around it state in its own document: laying another document over this one must not lend
  /// an old value a new basis, nor a new value an old one. Null in trees that were not parsed.
  std::shared_ptr<const Stated> stated = {};

  [[nodiscard]] const Table* table() const { return std::get_if<Table>(&data); }
  [[nodiscard]] const Array* array() const { return std::get_if<Array>(&data); }
  /// "a text", "a table" ...: for messages.
  [[nodiscard]] std::string_view kind() const;
  /// The text under `key` of a table; nullptr if there is none.
  [[nodiscard]] const std::string* text(std::string_view key) const;
  [[nodiscard]] const std::string* id() const { return text("id"); }
};

/// Parses a whole document to a table; throws a Failure (data) with the place of the first syntax error.
/// `file` is only for messages.
Value parse(std::string_view text, const std::string& file);

/// Lays `over` on `base`: tables key by key; arrays of tables whose entries have an `id`, entry by entry;
/// everything else is replaced. A table that states a figure is replaced whole, and where `over` states a
/// plain value or a basis beside others, the basis that stood there no longer speaks for the table as a
/// whole. So a new value never keeps an old source, and every old value keeps its own.
void lay_over(Value& base, const Value& over);

namespace detail {
inline constexpr std::array<std::string_view, 4> stating_keys{"basis", "source", "where", "seen"};
/// `around`, as changed by the keys of the table `own`: a new basis or source starts afresh.
Stated refined(Stated around, const Value& own);
/// Fills `stated` in a whole document.
void remember_stated(Value& document);
}  // namespace detail

/// A strict view of one table. Its destructor reports the keys that nobody asked for.
class Reader {
 public:
  /// `path` names the table in figures and messages ("sheets.elastic"); `assumed` is the basis of quantities
  /// given as plain text where no table states one (job files: entered; library files: none).
  Reader(const Value& table, std::string path, Problems& problems,
         std::optional<Basis> assumed = std::nullopt);
  Reader(const Reader&) = delete;
  Reader& operator=(const Reader&) = delete;
  Reader(Reader&& other) noexcept;
  Reader& operator=(Reader&&) = delete;
  ~Reader();

  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] const Place& place() const { return value_->place; }
  [[nodiscard]] bool has(std::string_view key) const;
  /// All keys in the file's order, for tables whose keys are names (measures, rules).
  [[nodiscard]] std::vector<std::string> names();
  [[nodiscard]] Place place_of(std::string_view key) const;

  /// Required, and not blank.
  std::string text(std::string_view key);
  std::optional<std::string> text_if(std::string_view key);
  /// A text that must be one of `allowed`; the first of them if it is not, and a problem.
  std::string choice(std::string_view key, const std::vector<std::string>& allowed);
  std::vector<std::string> texts_if(std::string_view key);
  std::optional<bool> flag_if(std::string_view key);
  std::int64_t whole(std::string_view key, std::int64_t low, std::int64_t high);
  std::optional<std::int64_t> whole_if(std::string_view key, std::int64_t low, std::int64_t high);
  /// A plain number that has no unit and no basis of its own (a coordinate in a file that states its unit
  /// once).
  std::optional<double> number_if(std::string_view key);

  /// { value, unit, low, high, basis, source, where, seen, note } or a text with a unit in a table with a
  /// basis.
  Figure figure(std::string_view key, Dimension dimension, std::optional<Limits> limits = std::nullopt);
  std::optional<Figure> figure_if(std::string_view key, Dimension dimension,
                                  std::optional<Limits> limits = std::nullopt);
  /// Like figure, or { unknown = "why" }.
  Finding finding(std::string_view key, Dimension dimension, std::optional<Limits> limits = std::nullopt);

  /// Throws what has been collected so far if the table is missing.
  Reader table(std::string_view key);
  std::optional<Reader> table_if(std::string_view key);
  /// The entries of [[key]]; none if it is absent.
  std::vector<Reader> tables(std::string_view key);
  /// The value as it stands, for shapes a Reader does not know (lists of coordinates).
  const Value* raw_if(std::string_view key);

  /// The origin for something this table states as a whole (a grade, a rule): its basis, source and where.
  Origin origin();
  /// The origin of one plain value that is no figure (a word on a scale): what the tables around it state
  /// where it was written, with its own place.
  Origin origin_of(std::string_view key);
  void problem(std::string_view key, std::string message, std::string hint = {});

 private:
  Reader(const Value& table, std::string path, const Reader& around);
  [[nodiscard]] std::string named(std::string_view key) const;
  [[nodiscard]] Stated stated_around(const Value& value) const;
  const Value* find(std::string_view key);
  const Value* find_or_report(std::string_view key, std::string_view expected);
  void read_stated();
  std::optional<Figure> read_figure(std::string_view key, const Value& value, Dimension dimension);
  std::optional<Figure> read_figure_table(std::string_view key, const Value& value, Dimension dimension);
  std::optional<Figure> read_plain(std::string_view key, const Value& value, Dimension dimension);
  /// nullptr if there is none; nothing, and a problem, if it cannot be read.
  std::optional<const Unit*> read_unit(Dimension dimension);
  std::optional<Written> written(std::string_view key, const Value& value, const Unit* unit,
                                 Dimension dimension);
  std::optional<Origin> origin_at(const Place& place, const Stated& stated, std::string_view key);
  void check_limits(std::string_view key, const Figure& figure, std::optional<Limits> limits);
  void report_unknown_keys();

  const Value* value_;
  std::string path_;
  Problems* problems_;
  std::optional<Basis> assumed_;
  Stated stated_;
  std::set<std::string, std::less<>> asked_;
};

}  // namespace warmsheet::toml
