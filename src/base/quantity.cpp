// SPDX-License-Identifier: MIT
// Grammar: quantity = term {term}; term = number unit; number = decimal | fraction | whole fraction |
// whole vulgar-fraction. Several terms ("2 min 30 s", "5 ft 3 in") are allowed for times and lengths,
// largest unit first.
#include "base/quantity.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "base/problem.h"
#include "base/text.h"

namespace warmsheet {
namespace {

struct Vulgar {
  std::string_view glyph;
  double numerator;
  double denominator;
};

constexpr std::array vulgars{
    Vulgar{"½", 1, 2}, Vulgar{"¼", 1, 4}, Vulgar{"¾", 3, 4}, Vulgar{"⅛", 1, 8},  Vulgar{"⅜", 3, 8},
    Vulgar{"⅝", 5, 8}, Vulgar{"⅞", 7, 8}, Vulgar{"⅓", 1, 3}, Vulgar{"⅔", 2, 3},
};

struct Example {
  Dimension dimension;
  std::string_view text;
};

constexpr std::array examples{
    Example{Dimension::length, "3.2 mm or 1/8 in"},
    Example{Dimension::area, "410 cm2 or 64 in2"},
    Example{Dimension::duration, "90 s or 2 min 30 s"},
    Example{Dimension::temperature, "70 C or 158 F"},
    Example{Dimension::temperature_difference, "5 K or 9 dF"},
    Example{Dimension::film_coefficient, "400 W/m2K"},
    Example{Dimension::money, "38 cr or 38 EUR"},
    Example{Dimension::ratio, "0.5 or 50 %"},
};

std::string example_of(Dimension dimension) {
  for (const Example& example : examples)
    if (example.dimension == dimension) return std::string(example.text);
  return fmt::format("1.5 {}", units_of(dimension).front()->id);
}

[[noreturn]] void refuse(std::string_view text, Dimension dimension, std::string_view why,
                         std::string hint = {}) {
  if (hint.empty()) hint = fmt::format("write for example {}", example_of(dimension));
  throw Failure({Trouble::data, {}, fmt::format("\"{}\" is not a {}: {}", clip(text, 60), dimension_word(dimension), why),
                 std::move(hint)});
}

class Scanner {
 public:
  Scanner(std::string_view text, Dimension dimension) : whole_(text), rest_(text), dimension_(dimension) {}

  [[nodiscard]] bool at_end() {
    skip_space();
    return rest_.empty();
  }

  /// A number of any accepted form, with its sign.
  double number() {
    skip_space();
    const double sign = take("-") || take("−") ? -1.0 : 1.0;
    if (sign > 0) take("+");
    const std::optional<double> vulgar = vulgar_fraction();
    return sign * (vulgar ? *vulgar : whole_and_fraction());
  }

  std::string_view unit_word() {
    skip_space();
    std::size_t length = 0;
    while (length < rest_.size() && belongs_to_unit(length)) ++length;
    const std::string_view word = rest_.substr(0, length);
    rest_.remove_prefix(length);
    return word;
  }

 private:
  double whole_and_fraction() {
    const double whole = decimal();
    if (take("/")) return divided(whole, decimal());
    if (const std::optional<double> vulgar = vulgar_fraction()) return whole + *vulgar;
    const std::string_view before = rest_;
    const bool hyphen = take("-");
    if (!hyphen) skip_space();
    if (const std::optional<double> vulgar = vulgar_fraction()) return whole + *vulgar;
    if (starts_with_digit()) {
      const double numerator = decimal();
      if (take("/")) return whole + divided(numerator, decimal());
    }
    rest_ = before;
    return whole;
  }

  double divided(double numerator, double denominator) {
    if (denominator == 0.0) refuse(whole_, dimension_, "the fraction divides by zero");
    return numerator / denominator;
  }

  double decimal() {
    if (!starts_with_digit() && !rest_.starts_with('.')) refuse(whole_, dimension_, "a number was expected");
    double value = 0.0;
    const auto [end, error] = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) refuse(whole_, dimension_, "the number cannot be read");
    rest_.remove_prefix(static_cast<std::size_t>(end - rest_.data()));
    if (rest_.starts_with(',')) refuse_comma();
    return value;
  }

  [[noreturn]] void refuse_comma() {
    std::string with_point(whole_);
    with_point.at(static_cast<std::size_t>(rest_.data() - whole_.data())) = '.';
    refuse(whole_, dimension_, "commas are not read, neither for decimals nor for thousands",
           fmt::format("for a decimal write {}", with_point));
  }

  std::optional<double> vulgar_fraction() {
    for (const Vulgar& vulgar : vulgars)
      if (take(vulgar.glyph)) return vulgar.numerator / vulgar.denominator;
    return std::nullopt;
  }

  /// Units may hold digits ("in2", "kg/m3") but never start with one.
  [[nodiscard]] bool belongs_to_unit(std::size_t at) const {
    const char c = rest_[at];
    if (c == ' ' || c == '\t' || c == '-' || c == '+' || c == ',') return false;
    return !(at == 0 && is_digit(c)) && c != '.';
  }

  [[nodiscard]] bool starts_with_digit() const { return !rest_.empty() && is_digit(rest_.front()); }

  bool take(std::string_view token) {
    if (!rest_.starts_with(token)) return false;
    rest_.remove_prefix(token.size());
    return true;
  }

  void skip_space() {
    while (take(" ") || take("\t") || take("\u00a0") || take("\u202f")) {
    }
  }

  std::string_view whole_;
  std::string_view rest_;
  Dimension dimension_;
};

std::string unknown_unit(std::string_view word, Dimension dimension) {
  if (dimension == Dimension::temperature_difference && find_unit(Dimension::temperature, word) != nullptr)
    return "a difference is not a temperature; write 5 K or 5 dC (Celsius steps), or 9 dF";
  std::vector<std::string> known;
  for (const Unit* candidate : units_of(dimension)) known.emplace_back(candidate->id);
  const std::string near = nearest(word, known);
  const std::string list = "units: " + unit_list(dimension);
  return near.empty() ? list : fmt::format("did you mean {}? {}", near, list);
}

const Unit& unit_or_refuse(std::string_view word, std::string_view text, Dimension dimension) {
  if (const Unit* known = find_unit(dimension, word)) return *known;
  if (word.empty() && dimension == Dimension::ratio) return units::one();
  if (word.empty())
    refuse(text, dimension, "the unit is missing",
           fmt::format("write for example {} (units: {})", example_of(dimension), unit_list(dimension)));
  refuse(text, dimension, fmt::format("\"{}\" is no unit of {}", clip(word, 20), dimension_word(dimension)),
         unknown_unit(word, dimension));
}

bool may_have_several_terms(Dimension dimension) {
  return dimension == Dimension::duration || dimension == Dimension::length;
}

void refuse_outside_bounds(double si, const Unit& unit, std::string_view text) {
  const PhysicalBounds bounds = physical_bounds(unit.dimension);
  const bool below = bounds.low_excluded ? si <= bounds.low : si < bounds.low;
  if (!below && si <= bounds.high && std::isfinite(si)) return;
  refuse(text, unit.dimension, "it is outside anything possible here",
         fmt::format("allowed: {}{:g} to {:g} {}", bounds.low_excluded ? "above " : "", unit.from_si(bounds.low),
                     unit.from_si(bounds.high), unit.ascii));
}

}  // namespace

Written parse_quantity(std::string_view text, Dimension dimension) {
  Scanner scanner(text, dimension);
  if (scanner.at_end()) refuse(text, dimension, "it is empty");
  double sum = 0.0;
  const Unit* last = nullptr;
  do {
    const double number = scanner.number();
    const Unit& unit = unit_or_refuse(scanner.unit_word(), text, dimension);
    if (last != nullptr && !may_have_several_terms(dimension)) refuse(text, dimension, "more than one value was given");
    if (last != nullptr && (unit.factor >= last->factor || number < 0.0))
      refuse(text, dimension, "the parts must go from the larger unit to the smaller");
    sum += unit.to_si(number);
    last = &unit;
  } while (!scanner.at_end());
  refuse_outside_bounds(sum, *last, text);
  return {sum, last};
}

WrittenSize parse_size(std::string_view text) {
  const std::string_view times[] = {"x", "X", "×", "by"};
  for (const std::string_view separator : times) {
    const std::size_t at = text.find(separator);
    if (at == std::string_view::npos) continue;
    std::string first(trim(text.substr(0, at)));
    const std::string_view second = text.substr(at + separator.size());
    const Written height = parse_quantity(second, Dimension::length);
    const bool unit_written = first.find_first_not_of("0123456789./ -") != std::string::npos;
    if (!unit_written) first += " " + std::string(height.unit->id);
    const Written width = parse_quantity(first, Dimension::length);
    if (width.si <= 0.0 || height.si <= 0.0) refuse(text, Dimension::length, "a size must be above zero");
    return {{width.si}, {height.si}};
  }
  refuse(text, Dimension::length, "two lengths were expected", "write for example 600 x 450 mm or 18 x 24 in");
}

std::string write_exact(double si, const Unit& unit) {
  const double written = unit.from_si(si);
  std::string text = fmt::format("{}", written);
  if (!unit.ascii.empty()) text += " " + std::string(unit.ascii);
  return text;
}

}  // namespace warmsheet
