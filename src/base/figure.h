// SPDX-License-Identifier: MIT
// A figure: a value with its low and high bound, its unit, its basis and what it rests on. Nothing else in
// this program may be shown as a number: writers take figures and phrases (base/phrase.h), never doubles.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/basis.h"
#include "base/dimension.h"
#include "base/problem.h"
#include "base/quantity.h"

namespace warmsheet {

/// Central value and bounds, SI. low <= value <= high.
struct Range {
  double value;
  double low;
  double high;

  static Range exactly(double value) { return {value, value, value}; }
  /// \pre nothing is below zero, so that low stays low
  [[nodiscard]] Range times(double factor) const { return {value * factor, low * factor, high * factor}; }
  [[nodiscard]] Range times(const Range& b) const { return {value * b.value, low * b.low, high * b.high}; }
};

/// Bounds of a normal error stand so many standard deviations beside its mean: 5 % to 95 %, wherever a spread
/// becomes a range.
inline constexpr double bound_sd = 1.645;

/// Where a figure that rests on nothing else was stated.
struct Origin {
  Basis basis;
  std::string source = {};   ///< key in sources.toml; required for handbook
  std::string where = {};    ///< table, page or remark in that source
  bool second_hand = false;  ///< the source was only quoted by another one
  Place place = {};          ///< file, line and column of the statement
};

/// An immutable, cheaply copied node of the tree from a result down to the library.
class Figure {
 public:
  /// A stated figure (library entry, bench note, or typed by the user).
  /// Throws std::logic_error unless the range is finite and in order, and a handbook is named by its source.
  static Figure stated(std::string name, Range si, const Unit& unit, Origin origin);

  /// Typed by the user for this run.
  static Figure entered(std::string name, Range si, const Unit& unit, Place place = {});

  /// Computed from others; `how` says by what rule or model, in words. \pre `rests_on` is not empty
  static Figure derived(std::string name, Range si, const Unit& unit, std::string how,
                        std::vector<Figure> rests_on);

  [[nodiscard]] const std::string& name() const;
  [[nodiscard]] double si() const;
  [[nodiscard]] double low_si() const;
  [[nodiscard]] double high_si() const;
  [[nodiscard]] Range range_si() const;
  /// In `unit()`.
  [[nodiscard]] double value() const;
  [[nodiscard]] double low() const;
  [[nodiscard]] double high() const;
  [[nodiscard]] bool has_range() const;
  [[nodiscard]] const Unit& unit() const;
  [[nodiscard]] Dimension dimension() const { return unit().dimension; }

  /// As a typed quantity; throws std::logic_error if the kind differs.
  template <Dimension D>
  [[nodiscard]] Quantity<D> as() const {
    require(D);
    return {si()};
  }

  /// The weakest basis in the whole tree below, itself included.
  [[nodiscard]] Basis basis() const;
  /// Empty for a derived figure.
  [[nodiscard]] const std::optional<Origin>& origin() const;
  /// Rule or model of a derived figure; empty for a stated one.
  [[nodiscard]] const std::string& how() const;
  [[nodiscard]] const std::vector<Figure>& rests_on() const;

  /// The stated figures at the bottom of the tree, each once, weakest basis first, then by name.
  [[nodiscard]] std::vector<Figure> leaves() const;

  /// The same figure under another name ("closes" for a row of a table, say).
  [[nodiscard]] Figure renamed(std::string name) const;
  /// The same figure shown in another unit of its kind.
  [[nodiscard]] Figure in(const Unit& unit) const;

  /// Same node of the same tree (not: equal value).
  [[nodiscard]] bool same_node(const Figure& other) const { return node_ == other.node_; }

 private:
  struct Node;
  explicit Figure(std::shared_ptr<const Node> node) : node_(std::move(node)) {}
  void require(Dimension dimension) const;

  std::shared_ptr<const Node> node_;
};

/// A figure, or the reason why there is none. Unknown is never -1, 0, "" or NaN.
class Finding {
 public:
  Finding(Figure figure) : figure_(std::move(figure)) {}  // NOLINT: a figure is a finding
  /// \pre the reason is not empty; throws std::logic_error otherwise
  static Finding absent(std::string reason);

  [[nodiscard]] bool known() const { return figure_.has_value(); }
  /// \pre known(); throws std::logic_error otherwise
  [[nodiscard]] const Figure& figure() const;
  /// \pre !known()
  [[nodiscard]] const std::string& reason() const { return reason_; }

 private:
  Finding() = default;
  std::optional<Figure> figure_;
  std::string reason_;
};

/// A result under the name that --json, --why and the tables share.
struct NamedFinding {
  std::string name;
  Finding finding;
};

}  // namespace warmsheet
