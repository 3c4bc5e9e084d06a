// SPDX-License-Identifier: MIT
#include "outline/fit.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

#include "outline/checks.h"
#include "outline/pattern.h"

namespace warmsheet::outline {
namespace {

constexpr int sizes = 9;
/// How far one measure may stray from the size of the others: four times the scatter of palm length about
/// hand length, 3 % of it (NATICK/TR-15/007, public records: SEE 3.2 and 3.8 mm at 109 and 116 mm).
constexpr double stray = 0.12;

/// A limb at `share` of the way from the smallest to the largest.
Measures limb(const library::Design& design, const library::Library& library, double share) {
  Measures measures;
  for (const std::string& id : design.measures) {
    const Range usual = library.measure(id).usual.range_si();
    const double si = usual.low + share * (usual.high - usual.low);
    measures.emplace(id, Figure::entered(id, Range::exactly(si), units::millimetre()));
  }
  return measures;
}

std::string limb_in_words(const Measures& measures) {
  std::string words;
  for (const auto& [id, figure] : measures)
    words += fmt::format("{}{} {:.0f} mm", words.empty() ? "" : ", ", id, figure.value());
  return words;
}

class Trial {
 public:
  Trial(const library::Design& design, const library::Library& library)
      : design_(design), library_(library) {}

  void draw_for(const Measures& measures) {
    try {
      look_at(draw(design_, library_, measures, Side::right), measures);
    } catch (const Failure& failure) {
      for (const Problem& problem : failure.problems()) add(problem, measures);
    }
  }
  std::vector<Problem> finish() { return std::move(problems_); }

 private:
  /// Marks that miss the material are slips of the design, not of the person.
  void look_at(const Outline& drawn, const Measures& measures) {
    for (std::size_t i = 0; i < drawn.lines.size(); ++i)
      if (!drawn.lines[i].inside)
        add({Trouble::data, design_.lines[i].place,
             fmt::format("the {} of {} does not lie on the outline", drawn.lines[i].name, design_.id),
             "move its points or its ends, or let it run to_edge"},
            measures);
    for (const RuleCheck& check : drawn.checks)
      if (check.id == "strap_place")
        add({Trouble::data, design_.place,
             fmt::format("a strap of {} does not lie on the outline", design_.id), "move its at_y"},
            measures);
  }

  void add(Problem problem, const Measures& measures) {
    // Coordinates differ from limb to limb; what is wrong does not.
    const std::string kind =
        problem.place.text() + problem.message.substr(0, problem.message.rfind(", near"));
    if (!seen_.insert(kind).second) return;
    problem.message += fmt::format(" (for {})", limb_in_words(measures));
    problems_.push_back(std::move(problem));
  }

  const library::Design& design_;
  const library::Library& library_;
  std::set<std::string> seen_;
  std::vector<Problem> problems_;
};

bool states(const library::Design& design, std::string_view rule) {
  return std::any_of(design.rules.begin(), design.rules.end(),
                     [&](const library::DesignRule& each) { return each.id == rule; });
}

/// A rule or measure that does nothing is a slip in some expression, or stands there for nothing.
void add_idle(const library::Design& design, std::vector<Problem>& problems) {
  const std::set<std::string> used = Pattern(design).used();
  for (const library::DesignRule& rule : design.rules)
    if (!used.contains(rule.id) && !is_checked(rule.id))
      problems.push_back(
          {Trouble::data, rule.factor.origin() ? rule.factor.origin()->place : design.place,
           fmt::format("no expression of {} uses the rule '{}', and it is none that is checked", design.id,
                       rule.id),
           "use it, leave it out, or give it an id of the table in materials/README.md"});
  for (const std::string& measure : design.measures) {
    const bool by_check = measure == "forearm_length" && states(design, "forearm_share");
    if (!used.contains(measure) && !by_check)
      problems.push_back({Trouble::data, design.measures_place,
                          fmt::format("no expression of {} uses the measure '{}'", design.id, measure),
                          "leave it out: nobody should measure for nothing"});
  }
}

}  // namespace

std::vector<Problem> fit_problems(const library::Design& design, const library::Library& library) {
  Trial trial(design, library);
  for (int i = 0; i < sizes; ++i) {
    const Measures even = limb(design, library, static_cast<double>(i) / (sizes - 1));
    trial.draw_for(even);
    for (const auto& [id, figure] : even)
      for (const double factor : {1.0 - stray, 1.0 + stray}) {
        Measures uneven = even;
        uneven.at(id) = Figure::entered(id, Range::exactly(factor * figure.si()), units::millimetre());
        trial.draw_for(uneven);
      }
  }
  std::vector<Problem> problems = trial.finish();
  if (problems.empty()) add_idle(design, problems);  // what cannot be drawn cannot be judged
  return problems;
}

}  // namespace warmsheet::outline
