// SPDX-License-Identifier: MIT
// The small language of designs: sums of products of plain numbers, lengths ("12 mm") and names, with min and
// max. A result is a length or a ratio, and the two never mix: a product of two lengths, or a sum of a length
// and a ratio, is refused, so a design cannot turn a slip of the pen into a pattern of the wrong size.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace warmsheet::outline {

/// A value of the language.
struct Amount {
  enum class Kind { ratio, length };
  Kind kind = Kind::ratio;
  double value = 0.0;  ///< mm for a length

  static Amount ratio(double value) { return {Kind::ratio, value}; }
  static Amount length_mm(double value) { return {Kind::length, value}; }
};

/// What the names of an expression stand for.
using Names = std::map<std::string, Amount, std::less<>>;

/// An expression that was read once and can be evaluated for many people.
class Expression {
 public:
  /// `what` names the expression in messages ("x of vertex 3"). Throws a Failure (data) at `place` with the
  /// column inside the text.
  static Expression parse(std::string_view text, const Place& place, std::string what);

  /// Throws a Failure (data): unknown name, with the nearest known one; kinds that do not go together.
  [[nodiscard]] Amount evaluate(const Names& names) const;
  /// Throws also if the result is not a length.
  [[nodiscard]] double length_mm(const Names& names) const;

  [[nodiscard]] const std::set<std::string>& names() const { return names_; }

 private:
  friend class ExpressionParser;
  enum class Code { constant, name, negate, add, subtract, multiply, least, greatest };
  struct Step {
    Code code;
    Amount constant = {};
    std::string name = {};
  };
  Expression() = default;
  [[noreturn]] void refuse(std::string message, std::string hint) const;
  [[nodiscard]] Amount apply(Code code, const Amount& a, const Amount& b) const;
  [[nodiscard]] Amount look_up(const std::string& name, const Names& names) const;

  std::string text_;
  std::string what_;
  Place place_;
  std::vector<Step> steps_;  // operands before their operator
  std::set<std::string> names_;
};

}  // namespace warmsheet::outline
