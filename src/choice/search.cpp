// SPDX-License-Identifier: MIT
// Finding a condition by the words people use for it.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "base/problem.h"
#include "base/text.h"
#include "choice/choose.h"

namespace warmsheet::choice {
namespace {

constexpr std::size_t shown_matches = 5;
constexpr int slip = 1;
constexpr int beginning = 2;
constexpr int word = 3;

bool is_word_character(char c) {
  return is_digit(c) || (c >= 'a' && c <= 'z');
}

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  std::string current;
  for (const char c : lower_case(text) + " ") {
    if (is_word_character(c)) {
      current += c;
    } else if (!current.empty()) {
      words.push_back(std::move(current));
      current.clear();
    }
  }
  return words;
}

std::vector<std::string> known_words(const library::Condition& condition) {
  std::vector<std::string> words = words_of(condition.id + " " + condition.name);
  for (const std::string& other : condition.words)
    for (std::string& each : words_of(other)) words.push_back(std::move(each));
  return words;
}

/// How well one word fits: `word`, `beginning` of one, `slip` of spelling, or 0.
int match(const std::string& asked, const std::vector<std::string>& known) {
  constexpr std::size_t telling_beginning = 3;
  if (std::find(known.begin(), known.end(), asked) != known.end()) return word;
  const bool begins = std::any_of(known.begin(), known.end(), [&](const std::string& each) {
    return asked.size() >= telling_beginning && each.starts_with(asked);
  });
  if (begins) return beginning;
  // A slip seldom hits the first letter, and "drift" is not "wrist".
  return nearest(asked, known).starts_with(asked.front()) ? slip : 0;
}

int match_all(std::string_view words, const library::Condition& condition) {
  const std::vector<std::string> known = known_words(condition);
  int sum = 0;
  for (const std::string& asked : words_of(words)) sum += match(asked, known);
  return sum;
}

/// Every word is one of the condition's, or the beginning of one.
bool fits_whole(std::string_view words, const library::Condition& condition) {
  const std::vector<std::string> known = known_words(condition);
  const std::vector<std::string> asked = words_of(words);
  return std::all_of(asked.begin(), asked.end(),
                     [&](const std::string& each) { return match(each, known) >= beginning; });
}

std::vector<std::string> ids_of(const std::vector<const library::Condition*>& conditions, std::size_t most) {
  std::vector<std::string> ids;
  for (const library::Condition* condition : conditions)
    if (ids.size() < most) ids.push_back(condition->id);
  return ids;
}

}  // namespace

std::vector<const library::Condition*> find_conditions(const library::Library& library,
                                                       std::string_view words) {
  struct Found {
    const library::Condition* condition;
    int points;
  };
  const bool all = words_of(words).empty();
  std::vector<Found> found;
  for (const auto& [id, condition] : library.conditions)
    if (const int points = match_all(words, condition); all || points > 0)
      found.push_back({&condition, points});
  std::stable_sort(found.begin(), found.end(),
                   [](const Found& a, const Found& b) { return a.points > b.points; });
  std::vector<const library::Condition*> conditions;
  for (const Found& each : found) conditions.push_back(each.condition);
  return conditions;
}

const library::Condition& condition_for(const library::Library& library, std::string_view id_or_words) {
  if (const auto same = library.conditions.find(std::string(id_or_words)); same != library.conditions.end())
    return same->second;
  const auto found = find_conditions(library, id_or_words);
  if (found.size() == 1) return *found.front();
  std::vector<const library::Condition*> whole;
  std::copy_if(found.begin(), found.end(), std::back_inserter(whole),
               [&](const library::Condition* each) { return fits_whole(id_or_words, *each); });
  if (whole.size() == 1) return *whole.front();
  const std::string seen = clip(id_or_words, 40);
  if (found.empty())
    throw Failure(
        {Trouble::usage,
         {"--condition", 0, 0},
         fmt::format("\"{}\" fits no condition of the library", seen),
         "list them with: warmsheet choose --list; for what is not listed use general-light, general-rigid, "
         "general-ventilated or general-serial"});
  throw Failure({Trouble::usage,
                 {"--condition", 0, 0},
                 fmt::format("\"{}\" is no condition's id", seen),
                 "nearest: " + join(ids_of(found, shown_matches), ", ")});
}

}  // namespace warmsheet::choice
