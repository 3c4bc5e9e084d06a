// SPDX-License-Identifier: MIT
// Recursive descent to a postfix program:
//   sum     = product { ("+" | "-") product }
//   product = factor { "*" factor }
//   factor  = "-" factor | "(" sum ")" | ("min" | "max") "(" sum "," sum ")" | number [unit] | name
#include "outline/expression.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "base/dimension.h"
#include "base/text.h"

namespace warmsheet::outline {
namespace {

/// A longer or deeper expression is no pattern any more; the bound keeps the parser's recursion small.
constexpr std::size_t longest_text = 1000;
constexpr int deepest_nesting = 32;
constexpr std::size_t most_echoed = 60;

bool starts_name(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool continues_name(char c) {
  return starts_name(c) || is_digit(c);
}

}  // namespace

class ExpressionParser {
 public:
  ExpressionParser(std::string_view text, const Place& place, std::string what) : rest_(text) {
    made_.text_ = text;
    made_.place_ = place;
    made_.what_ = std::move(what);
  }

  Expression parse() {
    if (rest_.size() > longest_text)
      made_.refuse("the expression is too long", "name parts of it with [[let]]");
    sum(0);
    if (!at_end()) unexpected("an operator (+ - *)");
    return std::move(made_);
  }

 private:
  using Code = Expression::Code;

  void skip_space() {
    while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t' || rest_.front() == '\n'))
      rest_.remove_prefix(1);
  }
  bool at_end() {
    skip_space();
    return rest_.empty();
  }
  bool accept(char c) {
    skip_space();
    if (rest_.empty() || rest_.front() != c) return false;
    rest_.remove_prefix(1);
    return true;
  }
  void expect(char c, std::string_view wanted) {
    if (!accept(c)) unexpected(wanted);
  }

  [[noreturn]] void unexpected(std::string_view wanted) {
    const std::size_t column = made_.text_.size() - rest_.size() + 1;
    const std::string seen = rest_.empty() ? "its end" : fmt::format("'{}'", clip(rest_, most_echoed));
    made_.refuse(fmt::format("expected {} at character {}, saw {}", wanted, column, seen),
                 "write for example \"0.5*hand_breadth + 12 mm\"");
  }

  void emit(Code code) { made_.steps_.push_back({code}); }

  void sum(int depth) {
    if (depth > deepest_nesting)
      made_.refuse("the expression is nested too deeply", "name parts of it with [[let]]");
    product(depth);
    while (true) {
      if (accept('+')) {
        product(depth);
        emit(Code::add);
      } else if (accept('-')) {
        product(depth);
        emit(Code::subtract);
      } else {
        return;
      }
    }
  }

  void product(int depth) {
    factor(depth);
    while (accept('*')) {
      factor(depth);
      emit(Code::multiply);
    }
  }

  void factor(int depth) {
    if (depth > deepest_nesting)
      made_.refuse("the expression is nested too deeply", "name parts of it with [[let]]");
    if (accept('-')) {
      factor(depth + 1);
      return emit(Code::negate);
    }
    if (accept('(')) {
      sum(depth + 1);
      return expect(')', "')'");
    }
    if (at_end()) unexpected("a number or a name");
    if (is_digit(rest_.front()) || rest_.front() == '.') return number();
    if (!starts_name(rest_.front())) unexpected("a number or a name");
    const std::string name = take_name();
    if (name == "min" || name == "max") return function(name == "min" ? Code::least : Code::greatest, depth);
    made_.names_.insert(name);
    made_.steps_.push_back({Code::name, {}, name});
  }

  void function(Code code, int depth) {
    expect('(', "'(' after min or max");
    sum(depth + 1);
    expect(',', "',' between the two values");
    sum(depth + 1);
    expect(')', "')'");
    emit(code);
  }

  std::string take_name() {
    std::size_t size = 0;
    while (size < rest_.size() && continues_name(rest_[size])) ++size;
    std::string name(rest_.substr(0, size));
    rest_.remove_prefix(size);
    return name;
  }

  void number() {
    double value = 0.0;
    const auto read = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    if (read.ec != std::errc() || !std::isfinite(value)) unexpected("a number");
    rest_.remove_prefix(static_cast<std::size_t>(read.ptr - rest_.data()));
    skip_space();
    if (rest_.empty() || !starts_name(rest_.front())) return constant(Amount::ratio(value));
    const std::string_view after = rest_;
    const Unit* unit = find_unit(Dimension::length, take_name());
    if (unit == nullptr) {
      rest_ = after;
      unexpected(fmt::format("'*' or a unit of length ({})", unit_list(Dimension::length)));
    }
    constant(Amount::length_mm(unit->to_si(value) * mm_per_m));
  }

  void constant(Amount value) { made_.steps_.push_back({Code::constant, value, {}}); }

  std::string_view rest_;  // of the caller's text, which outlives the parser
  Expression made_;
};

Expression Expression::parse(std::string_view text, const Place& place, std::string what) {
  return ExpressionParser(text, place, std::move(what)).parse();
}

void Expression::refuse(std::string message, std::string hint) const {
  throw Failure(Problem{Trouble::data, place_,
                        fmt::format("{}: \"{}\": {}", what_, clip(text_, most_echoed), message),
                        std::move(hint)});
}

Amount Expression::look_up(const std::string& name, const Names& names) const {
  const auto found = names.find(name);
  if (found != names.end()) return found->second;
  std::vector<std::string> known;
  for (const auto& [id, value] : names) known.push_back(id);
  const std::string near = nearest(name, known);
  refuse(fmt::format("nothing is called '{}'", name),
         near.empty() ? "use a measure, a rule or an earlier let of this design: " + join(known, ", ")
                      : fmt::format("did you mean '{}'?", near));
}

Amount Expression::apply(Code code, const Amount& a, const Amount& b) const {
  if (code == Code::multiply) {
    if (a.kind == Amount::Kind::length && b.kind == Amount::Kind::length)
      refuse("a length times a length is an area", "multiply a length by a plain number or a ratio");
    return {a.kind == b.kind ? a.kind : Amount::Kind::length, a.value * b.value};
  }
  if (a.kind != b.kind)
    refuse("a length and a plain number do not go together", "give the number a unit, for example \"12 mm\"");
  switch (code) {
    case Code::add:
      return {a.kind, a.value + b.value};
    case Code::subtract:
      return {a.kind, a.value - b.value};
    case Code::least:
      return {a.kind, std::min(a.value, b.value)};
    default:
      return {a.kind, std::max(a.value, b.value)};
  }
}

Amount Expression::evaluate(const Names& names) const {
  std::vector<Amount> stack;
  for (const Step& step : steps_) {
    if (step.code == Code::constant) {
      stack.push_back(step.constant);
    } else if (step.code == Code::name) {
      stack.push_back(look_up(step.name, names));
    } else if (step.code == Code::negate) {
      stack.back().value = -stack.back().value;
    } else {
      const Amount right = stack.back();
      stack.pop_back();
      stack.back() = apply(step.code, stack.back(), right);
    }
  }
  if (!std::isfinite(stack.back().value)) refuse("the result is too large", "check its factors");
  return stack.back();
}

double Expression::length_mm(const Names& names) const {
  const Amount result = evaluate(names);
  if (result.kind != Amount::Kind::length)
    refuse("the result is a plain number, a length is needed", "multiply it by a measure, or add a unit");
  return result.value;
}

}  // namespace warmsheet::outline
