// SPDX-License-Identifier: MIT
#include "base/toml_hint.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"

namespace warmsheet::toml {
namespace {

constexpr std::size_t echoed_columns = 40;
constexpr std::array<std::string_view, 8> flag_words{"yes",  "no",    "on",   "off",
                                                     "True", "False", "TRUE", "FALSE"};

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_quote(char c) {
  return c == '"' || c == '\'';
}

std::string_view without_comment(std::string_view value) {
  return !value.empty() && is_quote(value.front()) ? value : trim(value.substr(0, value.find('#')));
}

std::string with_underscores(std::string_view key) {
  std::string joined(key);
  std::replace(joined.begin(), joined.end(), ' ', '_');
  return joined;
}

std::string number_hint(std::string_view key, std::string_view value) {
  const bool decimal_comma = value.find_first_not_of("0123456789,+-") == std::string_view::npos &&
                             value.find(',') != std::string_view::npos;
  if (decimal_comma) {
    std::string with_point(value);
    std::replace(with_point.begin(), with_point.end(), ',', '.');
    return fmt::format("decimals take a point: {} = {}", key, with_point);
  }
  if (value.starts_with('.')) return fmt::format("a number starts with a digit: {} = 0{}", key, value);
  const bool has_unit = value.find_first_not_of("0123456789.+-_eE") != std::string_view::npos;
  if (!has_unit) return "write the number plainly, as 12 or 3.2";
  // A text with inch marks in it is quoted the other way.
  const char quote = value.find('"') == std::string_view::npos ? '"' : '\'';
  return fmt::format("a quantity is a text in quotes: {0} = {1}{2}{1}", key, quote, value);
}

std::string value_hint(std::string_view key, std::string_view value) {
  const char first = value.front();
  if (std::find(flag_words.begin(), flag_words.end(), value) != flag_words.end())
    return "write true or false";
  if (first == '{' && value.find('}') == std::string_view::npos)
    return fmt::format("a table in braces stands on one line; for more lines open it with [{}]", key);
  if (first == '{') return "entries in braces are parted by commas: { value = 3, unit = \"mm\" }";
  if (is_quote(first) && value.find('\\') != std::string_view::npos)
    return "a backslash is written twice, or the text stands in single quotes";
  if (is_quote(first) && (value.size() == 1 || value.back() != first)) return "the text has no closing quote";
  if (is_letter(first)) return fmt::format("a text stands in quotes: {} = \"{}\"", key, value);
  const bool number = is_digit(first) || first == '.' || first == '-' || first == '+' ||
                      static_cast<unsigned char>(first) >= 0x80;
  return number ? number_hint(key, value) : "see toml.io for how TOML is written";
}

}  // namespace

std::string syntax_hint(std::string_view line, std::string_view description) {
  if (description.find("redefine") != std::string_view::npos)
    return "a key or table may stand only once; join the two, or write a list of tables as [[name]]";
  const std::size_t equals = line.find('=');
  if (equals == std::string_view::npos) return "see toml.io for how TOML is written";
  const std::string key = clip(trim(line.substr(0, equals)), echoed_columns);
  const std::string value = clip(without_comment(trim(line.substr(equals + 1))), echoed_columns);
  if (key.empty()) return "a name stands before the sign =";
  if (!is_quote(key.front()) && key.find(' ') != std::string::npos)
    return fmt::format("names have no spaces: {}", with_underscores(key));
  return value.empty() ? "a value stands after the sign =, or the line is left out" : value_hint(key, value);
}

}  // namespace warmsheet::toml
