// SPDX-License-Identifier: MIT
#include "base/problem.h"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "base/text.h"

namespace warmsheet {

int exit_code(Trouble trouble) {
  switch (trouble) {
    case Trouble::no_answer:
      return 1;
    case Trouble::usage:
      return 2;
    case Trouble::data:
      return 3;
    case Trouble::write:
      return 4;
    case Trouble::stopped:
      return 130;
  }
  return 3;
}

std::string Place::text() const {
  if (line == 0) return file;
  if (file.empty())
    return column == 0 ? fmt::format("line {}", line) : fmt::format("line {}, column {}", line, column);
  if (column == 0) return fmt::format("{}:{}", file, line);
  return fmt::format("{}:{}:{}", file, line, column);
}

std::string Problem::text() const {
  std::string text = place.text();
  if (!text.empty()) text += ": ";
  text = echo(text + message);
  if (!hint.empty()) text += "\n  " + echo(hint);
  return text;
}

Failure::Failure(Problem problem) : Failure(std::vector<Problem>{std::move(problem)}) {}

Failure::Failure(std::vector<Problem> problems) : problems_(std::move(problems)) {
  if (problems_.empty()) throw std::logic_error("a failure without a problem");
  for (const Problem& problem : problems_) {
    if (!what_.empty()) what_ += '\n';
    what_ += problem.text();
  }
}

void Problems::add(Place place, std::string message, std::string hint) {
  // A hostile file of nothing but slips must cost neither time nor pages.
  constexpr std::size_t most_told = 50;
  if (problems_.size() > most_told) return;
  if (problems_.size() == most_told) {
    problems_.push_back(
        {Trouble::data, {place.file, 0, 0}, "has more problems, which are not listed", "mend these first"});
    return;
  }
  const bool known = std::any_of(problems_.begin(), problems_.end(), [&](const Problem& each) {
    return each.message == message && each.place.text() == place.text();
  });
  if (known) return;
  problems_.push_back({Trouble::data, std::move(place), std::move(message), std::move(hint)});
}

void Problems::add_all(const Failure& failure, const Place& led_there) {
  for (const Problem& problem : failure.problems()) {
    const Place& at = problem.place;
    if (at.line > 0)
      add(at, problem.message, problem.hint);
    else
      add(led_there, at.file.empty() ? problem.message : at.file + ": " + problem.message, problem.hint);
  }
}

void Problems::throw_if_any() const {
  if (!problems_.empty()) throw Failure(problems_);
}

}  // namespace warmsheet
