// SPDX-License-Identifier: MIT
// Sentences that may hold figures. A phrase is built by `say` from a literal and figures, labels or other
// phrases; a bare number does not compile, so no sentence can state one without its basis.
#pragma once

#include <concepts>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "base/figure.h"

namespace warmsheet {

/// A name or identifier (sheet id, place, user's label): text that is no measured or computed number.
class Label {
 public:
  explicit Label(std::string text);
  explicit Label(std::string_view text) : Label(std::string(text)) {}
  explicit Label(const char* text) : Label(std::string(text)) {}
  /// "sheet 2": the second of several, counted from 1 for people.
  static Label ordinal(std::string_view what, std::size_t index_from_zero);

  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string text_;
};

/// Text known at compile time: what the program itself says.
class Literal {
 public:
  template <std::size_t N>
  consteval Literal(const char (&text)[N]) : text_(text, N - 1) {}  // NOLINT: literals convert by design
  [[nodiscard]] constexpr std::string_view text() const { return text_; }

 private:
  std::string_view text_;
};

class Phrase;
namespace detail {
Phrase fill(std::string_view pattern, const std::vector<Phrase>& arguments);

constexpr std::size_t places(std::string_view pattern) {
  std::size_t count = 0;
  for (std::size_t at = 0; (at = pattern.find("{}", at)) != std::string_view::npos; at += 2) ++count;
  return count;
}
}  // namespace detail

class Phrase {
 public:
  using Part = std::variant<std::string, Figure>;

  Phrase() = default;
  Phrase(Literal literal) { add(std::string(literal.text())); }      // NOLINT: a literal is a phrase
  Phrase(const Label& label) { add(label.text()); }                  // NOLINT: a label is a phrase
  Phrase(Figure figure) { parts_.emplace_back(std::move(figure)); }  // NOLINT: a figure is a phrase

  [[nodiscard]] const std::vector<Part>& parts() const { return parts_; }
  [[nodiscard]] bool empty() const { return parts_.empty(); }
  [[nodiscard]] std::vector<Figure> figures() const;

  Phrase& append(const Phrase& other);

 private:
  friend Phrase detail::fill(std::string_view pattern, const std::vector<Phrase>& arguments);
  void add(std::string text);
  std::vector<Part> parts_;
};

/// What may fill a "{}" of `say`.
template <class T>
concept Sayable = std::same_as<std::remove_cvref_t<T>, Figure> ||
    std::same_as<std::remove_cvref_t<T>, Label> || std::same_as<std::remove_cvref_t<T>, Phrase>;

/// A literal with exactly `Count` places "{}". Written in place it is counted by the compiler.
template <std::size_t Count>
class Pattern {
 public:
  template <std::size_t N>
  consteval Pattern(const char (&text)[N]) : literal_(text) {  // NOLINT: literals convert by design
    if (detail::places(literal_.text()) != Count) throw "a phrase needs one argument for each {}";
  }
  constexpr Pattern(Literal literal) : literal_(literal) {}  // NOLINT: counted when the phrase is filled
  [[nodiscard]] constexpr std::string_view text() const { return literal_.text(); }

 private:
  Literal literal_;
};

/// "Heat for {} at {}." with one argument for each "{}". Other counts do not compile; where the pattern comes
/// out of a table of literals they throw std::logic_error.
template <Sayable... Arguments>
Phrase say(Pattern<sizeof...(Arguments)> pattern, Arguments&&... arguments) {
  return detail::fill(pattern.text(), {Phrase(std::forward<Arguments>(arguments))...});
}

}  // namespace warmsheet
