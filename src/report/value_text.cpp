// SPDX-License-Identifier: MIT
// Rounding for readers. A figure with a range is rounded to a place that the range justifies; the bounds go
// outward, because a range shown narrower than it is would promise too much.
#include "report/value_text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "report/writers.h"

namespace warmsheet::report {
namespace {

constexpr int computed_digits = 3;
constexpr int written_digits = 4;
/// A range is worth showing in steps of at most a quarter of it.
constexpr double steps_in_range = 4.0;
/// Unit conversion leaves noise in the last bits; it must not push a bound outward by a whole place.
constexpr double conversion_noise = 1e-9;
/// Plain ratios (damage, say) below this are called "under" it; everything else that small is written with a
/// power.
constexpr int smallest_ratio_place = -6;
constexpr double smallest_plain = 1e-4;
constexpr double largest_plain = 1e7;

enum class Toward { nearest, low, high };

int place_of(double magnitude) {
  // A magnitude of 0.1 must give -1, although its logarithm may come out a hair below.
  return static_cast<int>(std::floor(std::log10(magnitude) + conversion_noise));
}

double rounded(double number, double step, Toward toward) {
  const double steps = number / step;
  if (toward == Toward::low) return step * std::floor(steps + conversion_noise);
  if (toward == Toward::high) return step * std::ceil(steps - conversion_noise);
  return step * std::round(steps);
}

/// Number rounded to 10^place; the division is kept exact for negative places.
double rounded_to_place(double number, int place, Toward toward) {
  if (place >= 0) return rounded(number, std::pow(10.0, place), toward);
  const double scale = std::pow(10.0, -place);
  return rounded(number * scale, 1.0, toward) / scale;
}

std::string digits(double number, int decimals) {
  std::array<char, 400> buffer{};
  const double shown = number == 0.0 ? 0.0 : number;  // no minus sign before a zero
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), shown,
                                 std::chars_format::fixed, std::max(0, decimals));
  return {buffer.data(), end.ptr};
}

std::string without_trailing_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

/// Is the figure as somebody wrote it (and not the output of a fit)?
bool as_written(const Figure& figure) {
  return figure.origin() && figure.basis() != Basis::bench;
}

double largest_magnitude(const Figure& figure) {
  return std::max({std::abs(figure.value()), std::abs(figure.low()), std::abs(figure.high())});
}

/// Whole numbers in a whole range have no decimals that could say anything.
bool is_count(const Figure& figure) {
  const auto whole = [](double number) { return number == std::floor(number); };
  return whole(figure.value()) && whole(figure.low()) && whole(figure.high()) &&
         largest_magnitude(figure) < std::pow(10.0, computed_digits);
}

/// The last decimal place worth showing, as a power of ten.
int last_place(const Figure& figure) {
  const double largest = largest_magnitude(figure);
  if (largest == 0.0) return 0;
  const int wanted = as_written(figure) ? written_digits : computed_digits;
  // Whole numbers are not rounded to tens only because they are long.
  int place = std::min(0, place_of(largest) - wanted + 1);
  if (figure.dimension() == Dimension::temperature) place = std::max(place, -1);
  if (as_written(figure) || !figure.has_range()) return place;
  if (is_count(figure)) return 0;
  return std::max(place, place_of((figure.high() - figure.low()) / steps_in_range));
}

// --- numbers with a power of ten ---

std::string superscript(int number) {
  static const std::array<const char*, 10> raised{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
  std::string text = number < 0 ? "⁻" : "";
  for (const char digit : std::to_string(std::abs(number)))
    text += raised.at(static_cast<std::size_t>(digit - '0'));
  return text;
}

std::string with_power(double number, Toward toward, Glyphs glyphs) {
  if (number == 0.0) return "0";
  const int place = place_of(std::abs(number));
  // Dividing twice keeps 10^place finite for rates near the end of the range of double.
  const double mantissa = number / std::pow(10.0, place / 2) / std::pow(10.0, place - place / 2);
  const std::string text = without_trailing_zeros(
      digits(rounded_to_place(mantissa, 1 - computed_digits, toward), computed_digits - 1));
  if (glyphs == Glyphs::symbols) return text + " × 10" + superscript(place);
  return text + "e" + std::to_string(place);
}

bool needs_power(const Figure& figure) {
  const double magnitude = std::abs(figure.value());
  if (largest_magnitude(figure) >= largest_plain) return true;
  return figure.dimension() != Dimension::ratio && magnitude > 0.0 && magnitude < smallest_plain;
}

// --- plain numbers ---

/// A number that would vanish at `place` keeps its first digit.
int place_that_shows(double number, int place) {
  if (number == 0.0) return place;
  return std::max(std::min(place, place_of(std::abs(number))), smallest_ratio_place);
}

std::string plain_number(double number, int place, Toward toward) {
  const int shown_place = place_that_shows(number, place);
  const double shown = rounded_to_place(number, shown_place, toward);
  if (shown == 0.0 && number != 0.0 && toward == Toward::nearest)
    return "under " + digits(std::pow(10.0, shown_place), -shown_place);
  return shown == 0.0 ? "0" : digits(shown, -shown_place);
}

std::string unit_text(const Unit& unit, Glyphs glyphs) {
  const std::string_view text = glyphs == Glyphs::symbols ? unit.symbol : unit.ascii;
  if (text.empty()) return {};
  return text == "°" ? std::string(text) : " " + std::string(text);
}

/// Bounds shown with the same number of decimals read as a pair.
void pad_alike(ValueText& text) {
  const auto decimals = [](const std::string& number) {
    const std::size_t point = number.find('.');
    return point == std::string::npos ? std::size_t{0} : number.size() - point - 1;
  };
  const std::size_t most = std::max({decimals(text.value), decimals(text.low), decimals(text.high)});
  for (std::string* number : {&text.value, &text.low, &text.high}) {
    if (number->find_first_not_of("0123456789.-") != std::string::npos || *number == "0") continue;
    if (most > 0 && number->find('.') == std::string::npos) *number += '.';
    number->append(most - decimals(*number), '0');
  }
}

ValueText plain_numbers(const Figure& figure) {
  const int place = last_place(figure);
  const bool trims = as_written(figure) || !figure.has_range();
  const bool outward = figure.high() - figure.low() >= std::pow(10.0, place);
  const auto text = [&](double number, Toward toward) {
    const std::string shown = plain_number(number, place, outward ? toward : Toward::nearest);
    return trims ? without_trailing_zeros(shown) : shown;
  };
  ValueText shown{text(figure.value(), Toward::nearest), {}, {}};
  if (!figure.has_range()) return shown;
  shown.low = text(figure.low(), Toward::low);
  shown.high = text(figure.high(), Toward::high);
  if (trims) pad_alike(shown);
  return shown;
}

ValueText numbers(const Figure& figure, Glyphs glyphs) {
  if (!needs_power(figure)) return plain_numbers(figure);
  ValueText shown{with_power(figure.value(), Toward::nearest, glyphs), {}, {}};
  if (!figure.has_range()) return shown;
  shown.low = with_power(figure.low(), Toward::low, glyphs);
  shown.high = with_power(figure.high(), Toward::high, glyphs);
  return shown;
}

// --- money ---

/// Minor unit by ISO 4217: none for JPY, two places for the others.
int minor_places(const Unit& unit) {
  return unit.id == "JPY" ? 0 : 2;
}

ValueText amounts(const Figure& figure) {
  const double width = figure.high() - figure.low();
  const bool coarse = figure.has_range() && !as_written(figure);
  const int place = coarse ? std::max(-minor_places(figure.unit()), place_of(width / steps_in_range))
                           : -minor_places(figure.unit());
  const auto text = [&](double number, Toward toward) {
    // One decimal of a currency reads like a slip.
    const int decimals = place < 0 ? minor_places(figure.unit()) : 0;
    return digits(rounded_to_place(number, place, toward), decimals);
  };
  ValueText shown{text(figure.value(), Toward::nearest), {}, {}};
  if (!figure.has_range()) return shown;
  shown.low = text(figure.low(), Toward::low);
  shown.high = text(figure.high(), Toward::high);
  return shown;
}

// --- times ---

constexpr double minute_s = 60.0;
constexpr double hour_s = 3600.0;
/// Steps of a clock are coarser than decimal places; an eighth keeps times as sharp as other figures.
constexpr double clock_steps_in_range = 8.0;

/// Steps of a stopwatch or a clock that people read without thinking.
constexpr std::array clock_steps_s{0.01, 0.1, 1.0, 5.0, 10.0, 30.0, 60.0, 300.0, 600.0, 1800.0, 3600.0};

double largest_clock_step(double limit_s) {
  double step = clock_steps_s.front();
  for (const double candidate : clock_steps_s)
    if (candidate <= limit_s * (1.0 + conversion_noise)) step = candidate;
  return step;
}

/// The finest step worth reading for a time of that length.
double finest_clock_step(double time_s, bool written) {
  if (time_s < 1.0) return 0.01;
  if (time_s < (written ? minute_s : 10.0)) return 0.1;
  return time_s < hour_s ? 1.0 : minute_s;
}

std::string composed_time(double time_s) {
  const double size_s = std::abs(time_s);
  const double hours = std::floor(size_s / hour_s + conversion_noise);
  const double minutes = std::floor((size_s - hours * hour_s) / minute_s + conversion_noise);
  const double seconds = std::max(0.0, size_s - hours * hour_s - minutes * minute_s);
  const std::string seconds_text = without_trailing_zeros(digits(seconds, 2));
  std::string text;
  const auto add = [&text](const std::string& number, const char* unit) {
    if (number == "0") return;
    text += (text.empty() ? "" : " ") + number + unit;
  };
  add(digits(hours, 0), " h");
  add(digits(minutes, 0), " min");
  add(seconds_text, " s");
  if (text.empty()) return "0 s";
  return time_s < 0.0 ? "-" + text : text;
}

bool is_clock_time(const Unit& unit) {
  return unit.id == "s" || unit.id == "min" || unit.id == "h";
}

ValueText clock_times(const Figure& figure) {
  const double width_s = figure.high_si() - figure.low_si();
  const bool by_range = figure.has_range() && !as_written(figure);
  const auto step = [&](double time_s) {
    const double finest = finest_clock_step(std::abs(time_s), as_written(figure));
    const double wanted =
        by_range ? std::max(finest, largest_clock_step(width_s / clock_steps_in_range)) : finest;
    // A short time beside a wide range is not rounded away.
    return time_s == 0.0 ? wanted : std::min(wanted, largest_clock_step(std::abs(time_s) / 2.0));
  };
  const auto text = [&](double time_s, Toward toward) {
    const bool outward = width_s >= step(time_s);
    return composed_time(rounded(time_s, step(time_s), outward ? toward : Toward::nearest));
  };
  ValueText shown{text(figure.si(), Toward::nearest), {}, {}};
  if (!figure.has_range()) return shown;
  shown.low = text(figure.low_si(), Toward::low);
  shown.high = text(figure.high_si(), Toward::high);
  const bool seconds_only = std::max(std::abs(figure.low_si()), std::abs(figure.high_si())) < minute_s &&
                            shown.high.find("min") == std::string::npos &&
                            shown.high.find('h') == std::string::npos;
  if (seconds_only)
    for (std::string* bound : {&shown.low, &shown.high}) bound->erase(bound->size() - 2);
  return shown;
}

}  // namespace

ValueText value_text(const Figure& figure, Glyphs glyphs) {
  ValueText shown;
  if (is_clock_time(figure.unit())) {
    shown = clock_times(figure);
  } else {
    shown = figure.dimension() == Dimension::money ? amounts(figure) : numbers(figure, glyphs);
    if (shown.low == shown.value && shown.high == shown.value) shown.low.clear();
    shown.value += unit_text(figure.unit(), glyphs);
  }
  if (shown.low == shown.high) shown.low.clear();
  if (shown.low.empty()) shown.high.clear();
  return shown;
}

std::string fixed(double number, int decimals) {
  return without_trailing_zeros(digits(number, decimals));
}

std::string plain_value(const Figure& figure) {
  return value_text(figure, Glyphs::ascii).value;
}

std::string marked_value(const Figure& figure) {
  const ValueText shown = value_text(figure, Glyphs::ascii);
  const std::string range = shown.has_range() ? " (" + shown.low + " to " + shown.high + ")" : "";
  return shown.value + range + " [" + basis_mark(figure.basis()) + "]";
}

}  // namespace warmsheet::report
