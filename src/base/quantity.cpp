// SPDX-License-Identifier: MIT
// Grammar: quantity = term {term}; term = number unit; number = decimal | fraction | whole fraction |
// whole vulgar-fraction. Several terms ("2 min 30 s", "5 ft 3 in") are allowed for times and lengths,
// largest unit first. Whatever could be read in two ways is refused: a wrong thickness burns.
#include "base/quantity.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
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
    Vulgar{"½", 1, 2}, Vulgar{"¼", 1, 4}, Vulgar{"¾", 3, 4}, Vulgar{"⅛", 1, 8}, Vulgar{"⅜", 3, 8},
    Vulgar{"⅝", 5, 8}, Vulgar{"⅞", 7, 8}, Vulgar{"⅓", 1, 3}, Vulgar{"⅔", 2, 3},
};

// Plain, no-break, narrow no-break and thin space: what people and word processors put between number and
// unit.
constexpr std::array<std::string_view, 5> spaces{" ", "\t", "\u00a0", "\u202f", "\u2009"};
// Solidus, fraction slash, division slash.
constexpr std::array<std::string_view, 3> slashes{"/", "\u2044", "\u2215"};

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

// Enough of a text to recognise it, and little enough for one line.
constexpr std::size_t echoed_columns = 60;
constexpr std::size_t echoed_word_columns = 20;

std::string example_of(Dimension dimension) {
  for (const Example& example : examples)
    if (example.dimension == dimension) return std::string(example.text);
  return fmt::format("1.5 {}", units_of(dimension).front()->id);
}

[[noreturn]] void refuse(std::string_view text, Dimension dimension, std::string_view why,
                         std::string hint = {}) {
  if (hint.empty()) hint = fmt::format("write for example {}", example_of(dimension));
  throw Failure({Trouble::data,
                 {},
                 fmt::format("\"{}\" is not {}: {}", clip(trim(text), echoed_columns),
                             with_article(dimension_word(dimension)), why),
                 std::move(hint)});
}

template <std::size_t N>
std::optional<std::string_view> leading(std::string_view text,
                                        const std::array<std::string_view, N>& tokens) {
  const auto found =
      std::find_if(tokens.begin(), tokens.end(), [&](auto token) { return text.starts_with(token); });
  return found == tokens.end() ? std::nullopt : std::optional(*found);
}

/// How many of the leading bytes could be one word of a unit. Units may hold digits ("in2", "kg/m3") and
/// start with one only as "1/s".
std::size_t unit_run(std::string_view text) {
  std::size_t length = text.starts_with("1/") ? 2 : 0;
  while (length < text.size()) {
    const char c = text[length];
    if (c == '-' || c == '+' || c == ',' || c == '.' || (length == 0 && is_digit(c))) break;
    if (leading(text.substr(length), spaces)) break;
    ++length;
  }
  return length;
}

class Scanner {
 public:
  Scanner(std::string_view text, Dimension dimension) : whole_(text), rest_(text), dimension_(dimension) {}

  [[nodiscard]] bool at_end() {
    skip_space();
    return rest_.empty();
  }

  [[nodiscard]] std::string_view rest() const { return rest_; }

  [[nodiscard]] bool number_ahead() const {
    Scanner ahead = *this;
    ahead.sign();
    const bool point = ahead.take(".");
    return ahead.starts_with_digit() || (!point && ahead.vulgar_fraction());
  }

  /// A number of any accepted form, with its sign.
  double number() {
    skip_space();
    const double factor = sign();
    const std::optional<double> vulgar = vulgar_fraction();
    return factor * (vulgar ? *vulgar : whole_and_fraction());
  }

  /// The unit after a number; nullptr if nothing that could be one stands there.
  const Unit* unit() {
    skip_space();
    const std::size_t length = unit_length();
    const std::string_view word = rest_.substr(0, length);
    if (word.empty()) return nullptr;
    const Unit* known = find_unit(dimension_, word);
    if (known == nullptr) refuse_unit(word);
    rest_.remove_prefix(length);
    return known;
  }

 private:
  double sign() {
    if (take("-") || take("−")) return -1.0;
    take("+");
    return 1.0;
  }

  double whole_and_fraction() {
    const std::string_view start = rest_;
    const double first = decimal();
    const std::string_view read = start.substr(0, start.size() - rest_.size());
    const bool digits_only = std::all_of(read.begin(), read.end(), is_digit);
    if (!digits_only) {
      if (take_slash() || fraction_after_whole())
        refuse(whole_, dimension_, "a fraction is made of whole numbers");
      return first;
    }
    if (take_slash()) return divided(first, digits());
    return first + fraction_after_whole().value_or(0.0);
  }

  /// The "1/8" of "1 1/8" or "1-1/8"; nothing is taken if it is something else, such as the unit "1/s".
  std::optional<double> fraction_after_whole() {
    const std::string_view before = rest_;
    if (!take("-")) skip_space();
    if (const std::optional<double> vulgar = vulgar_fraction()) return vulgar;
    if (starts_with_digit()) {
      const double numerator = digits();
      if (take_slash()) {
        const double fraction = divided(numerator, digits());
        if (fraction < 1.0) return fraction;
        refuse(whole_, dimension_, "the fraction beside a whole number must be below one");
      }
    }
    rest_ = before;
    return std::nullopt;
  }

  double divided(double numerator, double denominator) {
    if (denominator == 0.0) refuse(whole_, dimension_, "the fraction divides by zero");
    return numerator / denominator;
  }

  /// Takes the slash of a fraction, with spaces around it, only if a digit follows.
  bool take_slash() {
    const std::string_view before = rest_;
    skip_space();
    if (const auto slash = leading(rest_, slashes)) {
      rest_.remove_prefix(slash->size());
      skip_space();
      if (starts_with_digit()) return true;
    }
    rest_ = before;
    return false;
  }

  double digits() {
    const auto end = std::find_if_not(rest_.begin(), rest_.end(), is_digit);
    return read_number(std::string_view(rest_.begin(), end));
  }

  double decimal() {
    if (!starts_with_digit() && !rest_.starts_with('.')) refuse(whole_, dimension_, "a number was expected");
    return read_number(rest_);
  }

  double read_number(std::string_view text) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc::result_out_of_range)
      refuse(whole_, dimension_, "the number is too large or too small to be read");
    if (error != std::errc{}) refuse(whole_, dimension_, "a number was expected");
    rest_.remove_prefix(static_cast<std::size_t>(end - text.data()));
    if (rest_.starts_with(',')) refuse_comma();
    return value;
  }

  /// "3,2" may be meant as a decimal, "1,000" as either; the hint never guesses which, and proposes nothing
  /// for "1.234,5" and "1 1,5/8".
  [[noreturn]] void refuse_comma() {
    const std::string_view before = trim(whole_.substr(0, whole_.size() - rest_.size()));
    const std::string_view after = rest_.substr(1);
    const auto digits = std::find_if_not(after.begin(), after.end(), is_digit) - after.begin();
    const std::string_view behind = after.substr(static_cast<std::size_t>(digits));
    const bool one_number = std::all_of(before.begin(), before.end(), is_digit) && digits > 0 &&
                            !behind.starts_with(',') && !behind.starts_with('.') && !behind.starts_with('/');
    const std::string rest = clip(trim(after), echoed_word_columns);
    const std::string with_point = fmt::format("{}.{}", clip(before, echoed_word_columns), rest);
    std::string hint = "write the number without commas";
    if (one_number && digits == 3)
      hint = fmt::format("write {}{} for thousands, or {} if the comma marks decimals",
                         clip(before, echoed_word_columns), rest, with_point);
    else if (one_number)
      hint = "write " + with_point;
    refuse(whole_, dimension_, "commas are not read, neither for decimals nor for thousands",
           std::move(hint));
  }

  std::optional<double> vulgar_fraction() {
    for (const Vulgar& vulgar : vulgars)
      if (take(vulgar.glyph)) return vulgar.numerator / vulgar.denominator;
    return std::nullopt;
  }

  /// Bytes of the unit ahead: two words if they are one unit ("deg C", "W/(m K)"), else the whole word, else,
  /// in "2min30s" and 5'3", the part of it before the next number.
  [[nodiscard]] std::size_t unit_length() const {
    const std::size_t run = unit_run(rest_);
    const std::string_view word = rest_.substr(0, run);
    if (const std::size_t both = two_words(run); both > 0) return both;
    if (word.empty() || find_unit(dimension_, word) != nullptr) return run;
    const std::size_t digit = word.find_first_of("0123456789");
    if (digit == std::string_view::npos || find_unit(dimension_, word.substr(0, digit)) == nullptr)
      return run;
    const bool next_has_unit = word.find_first_not_of("0123456789", digit) != std::string_view::npos;
    return next_has_unit ? digit : run;
  }

  [[nodiscard]] std::size_t two_words(std::size_t run) const {
    const std::string_view after = rest_.substr(run);
    const auto space = leading(after, spaces);
    if (run == 0 || !space) return 0;
    const std::size_t second = unit_run(after.substr(space->size()));
    const std::string joined =
        fmt::format("{} {}", rest_.substr(0, run), after.substr(space->size(), second));
    return second > 0 && find_unit(dimension_, joined) != nullptr ? run + space->size() + second : 0;
  }

  [[noreturn]] void refuse_unit(std::string_view word) const;

  [[nodiscard]] bool starts_with_digit() const { return !rest_.empty() && is_digit(rest_.front()); }

  bool take(std::string_view token) {
    if (!rest_.starts_with(token)) return false;
    rest_.remove_prefix(token.size());
    return true;
  }

  void skip_space() {
    while (const auto space = leading(rest_, spaces)) rest_.remove_prefix(space->size());
  }

  std::string_view whole_;
  std::string_view rest_;
  Dimension dimension_;
};

std::string shown(const Unit& unit) {
  return std::string(unit.ascii.empty() ? unit.id : unit.ascii);
}

/// The unit of this kind that the word was probably meant to be, as it should be typed.
std::string meant_unit(std::string_view word, Dimension dimension) {
  const std::vector<std::string> known = spellings_of(dimension);
  const auto same_letters = [&](const std::string& spelling) {
    return lower_case(spelling) == lower_case(word);
  };
  const auto other_case = std::find_if(known.begin(), known.end(), same_letters);
  const std::string near = other_case != known.end() ? *other_case : nearest(word, known);
  return near.empty() ? near : shown(*find_unit(dimension, near));
}

void Scanner::refuse_unit(std::string_view word) const {
  refuse(whole_, dimension_,
         fmt::format("\"{}\" is no unit of {}", clip(word, echoed_word_columns), dimension_word(dimension_)),
         unit_hint(word, dimension_));
}

[[noreturn]] void refuse_without_unit(std::string_view text, std::string_view rest, Dimension dimension) {
  const std::string units =
      fmt::format("write for example {} (units: {})", example_of(dimension), unit_list(dimension));
  if (rest.empty()) refuse(text, dimension, "the unit is missing", units);
  if (is_digit(rest.front()))
    refuse(text, dimension, "two numbers stand side by side",
           fmt::format("write a mixed number as 1 1/2, and thousands without a gap; for example {}",
                       example_of(dimension)));
  refuse(text, dimension,
         fmt::format("\"{}\" was not expected after the number", clip(rest, echoed_word_columns)), units);
}

bool may_have_several_terms(Dimension dimension) {
  return dimension == Dimension::duration || dimension == Dimension::length;
}

bool is_inch_or_foot(const Unit& unit) {
  return unit.id == "in" || unit.id == "ft";
}

/// A further part must be a smaller unit of the same system, and less than one of the unit before it: "2 min
/// 90 s" and "1 in 3 mm" are more often slips than meant.
void check_further_term(std::string_view text, double number, const Unit& unit, const Unit& before) {
  if (!may_have_several_terms(unit.dimension)) refuse(text, unit.dimension, "more than one value was given");
  if (unit.size_si() >= before.size_si() || number < 0.0)
    refuse(text, unit.dimension, "the parts must go from the larger unit to the smaller");
  if (is_inch_or_foot(unit) != is_inch_or_foot(before))
    refuse(text, unit.dimension, "the parts mix inches and metric units");
  // Whole numbers on both sides: 12 in is exactly 1 ft.
  if (number * unit.multiplier * before.divisor >= before.multiplier * unit.divisor)
    refuse(text, unit.dimension,
           fmt::format("the part in {} is not less than 1 {}", unit.ascii, before.ascii));
}

void refuse_outside_bounds(double si, const Unit& unit, std::string_view text) {
  const PhysicalBounds bounds = physical_bounds(unit.dimension);
  const bool below = bounds.low_excluded ? si <= bounds.low : si < bounds.low - rounding_slack(bounds.low);
  if (!below && si <= bounds.high + rounding_slack(bounds.high)) return;
  const auto with_unit = [&](double bound) {
    return fmt::format("{:g} {}", unit.from_si(bound), shown(unit));
  };
  refuse(text, unit.dimension, "it is outside anything possible here",
         fmt::format("allowed: {}{} to {}", bounds.low_excluded ? "above " : "", with_unit(bounds.low),
                     with_unit(bounds.high)));
}

double number_in(std::string_view digits) {
  double number = 0.0;
  std::from_chars(digits.data(), digits.data() + digits.size(), number);
  return number;
}

[[noreturn]] void refuse_size(std::string_view text, std::string_view why) {
  throw Failure({Trouble::data,
                 {},
                 fmt::format("\"{}\" is not a size: {}", clip(trim(text), echoed_columns), why),
                 "write for example 600 x 450 mm or 18 x 24 in"});
}

/// One length of a size; `shared` stands in for its unit if it has none.
Written side(std::string_view part, const Unit* shared) {
  std::string written(part);
  Scanner scanner(part, Dimension::length);
  if (shared != nullptr && scanner.number_ahead()) {
    scanner.number();
    if (scanner.at_end()) written += fmt::format(" {}", shared->id);
  }
  return parse_quantity(written, Dimension::length);
}

struct Split {
  std::string_view before;
  std::string_view after;
};

/// At the first sign for "times".
std::optional<Split> split_at_times(std::string_view text) {
  std::optional<Split> split;
  for (const std::string_view sign : {"x", "X", "×", "by"}) {
    const std::size_t at = text.find(sign);
    if (at != std::string_view::npos && (!split || at < split->before.size()))
      split = Split{text.substr(0, at), text.substr(at + sign.size())};
  }
  return split;
}

}  // namespace

bool is_size(std::string_view text) {
  return split_at_times(text).has_value();
}

std::string unit_hint(std::string_view word, Dimension dimension) {
  const std::string list = fmt::format("units of {}: {}", dimension_word(dimension), unit_list(dimension));
  if (dimension == Dimension::temperature_difference && find_unit(Dimension::temperature, word) != nullptr)
    return "a difference is not a temperature; write 5 K or 5 dC (Celsius steps), or 9 dF";
  // Nearest would answer "degC" here, and a guess between the scales is 32 degrees and more.
  const bool scaleless = word == "°" || word == "º" || find_unit(Dimension::angle, word) != nullptr;
  if (dimension == Dimension::temperature && scaleless) return "say which scale: 70 C or 158 F";
  for (const Dimension other : all_dimensions())
    if (find_unit(other, word) != nullptr)
      return fmt::format("{} is a unit of {}; {}", word, dimension_word(other), list);
  const std::string meant = meant_unit(word, dimension);
  return meant.empty() ? list : fmt::format("did you mean {}? {}", meant, list);
}

Written parse_quantity(std::string_view text, Dimension dimension) {
  Scanner scanner(text, dimension);
  if (scanner.at_end()) refuse(text, dimension, "it is empty");
  double sum = 0.0;
  const Unit* last = nullptr;
  do {
    if (last != nullptr && !scanner.number_ahead())
      refuse(
          text, dimension,
          fmt::format("\"{}\" was not expected after the unit", clip(scanner.rest(), echoed_word_columns)));
    const double number = scanner.number();
    const Unit* unit = scanner.unit();
    if (unit == nullptr && dimension == Dimension::ratio) unit = &units::one();
    if (unit == nullptr) refuse_without_unit(text, scanner.rest(), dimension);
    if (last != nullptr) check_further_term(text, number, *unit, *last);
    sum += unit->to_si(number);
    last = unit;
  } while (!scanner.at_end());
  refuse_outside_bounds(sum, *last, text);
  return {sum + 0.0, last};  // + 0.0 makes a typed "-0" a plain zero
}

WrittenSize parse_size(std::string_view text) {
  const std::optional<Split> sides = split_at_times(text);
  if (!sides) refuse_size(text, "two lengths were expected");
  WrittenSize size;
  try {
    const Written height = side(trim(sides->after), nullptr);
    size = {{side(trim(sides->before), height.unit).si}, {height.si}};
  } catch (const Failure& failure) {
    refuse_size(text, failure.problems().front().message);
  }
  if (size.width.si <= 0.0 || size.height.si <= 0.0) refuse_size(text, "both lengths must be above zero");
  return size;
}

std::string write_exact(double si, const Unit& unit) {
  const auto with_unit = [](std::string_view number, const Unit& in) {
    return in.ascii.empty() ? std::string(number) : fmt::format("{} {}", number, in.ascii);
  };
  const double written = unit.from_si(si);
  const double infinity = std::numeric_limits<double>::infinity();
  // Fifteen digits first: they drop the noise of the conversion, so that 158 F is not written
  // 158.00000000000006 F.
  for (const std::string& number :
       {fmt::format("{:.15g}", written), fmt::format("{:.16g}", written), fmt::format("{}", written),
        fmt::format("{}", std::nextafter(written, -infinity)),
        fmt::format("{}", std::nextafter(written, infinity))})
    if (unit.to_si(number_in(number)) == si) return with_unit(number, unit);
  // Some SI values lie between two neighbouring numbers of the unit; the unit that is the SI unit has them
  // all.
  for (const Unit* plain : units_of(unit.dimension))
    if (plain->size_si() == 1.0 && plain->shift == 0.0) return with_unit(fmt::format("{}", si), *plain);
  return with_unit(fmt::format("{}", written), unit);
}

}  // namespace warmsheet
