// SPDX-License-Identifier: MIT
#include "base/phrase.h"

#include <stdexcept>

namespace warmsheet {

Label::Label(std::string text) : text_(std::move(text)) {
  // A label made of digits alone would read as a figure without a basis.
  const bool reads_as_number =
      !text_.empty() && text_.find_first_not_of("0123456789.,-+ ") == std::string::npos;
  if (reads_as_number) text_ = "\"" + text_ + "\"";
}

Label Label::ordinal(std::string_view what, std::size_t index_from_zero) {
  return Label(std::string(what) + " " + std::to_string(index_from_zero + 1));
}

std::vector<Figure> Phrase::figures() const {
  std::vector<Figure> found;
  for (const Part& part : parts_)
    if (const auto* figure = std::get_if<Figure>(&part)) found.push_back(*figure);
  return found;
}

Phrase& Phrase::append(const Phrase& other) {
  for (const Part& part : other.parts_) {
    if (const auto* text = std::get_if<std::string>(&part))
      add(*text);
    else
      parts_.push_back(part);
  }
  return *this;
}

void Phrase::add(std::string text) {
  if (text.empty()) return;
  if (!parts_.empty())
    if (auto* last = std::get_if<std::string>(&parts_.back())) {
      *last += text;
      return;
    }
  parts_.emplace_back(std::move(text));
}

namespace detail {

Phrase fill(std::string_view pattern, const std::vector<Phrase>& arguments) {
  Phrase phrase;
  auto next = arguments.begin();
  while (true) {
    const std::size_t at = pattern.find("{}");
    phrase.add(std::string(pattern.substr(0, at)));
    if (at == std::string_view::npos) break;
    if (next == arguments.end()) throw std::logic_error("a phrase has more places than arguments");
    phrase.append(*next++);
    pattern.remove_prefix(at + 2);
  }
  if (next != arguments.end()) throw std::logic_error("a phrase has more arguments than places");
  return phrase;
}

}  // namespace detail
}  // namespace warmsheet
