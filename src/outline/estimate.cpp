// SPDX-License-Identifier: MIT
// Source of every constant here: 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007, public
// individual records (1986 women, 4082 men, aged 17 to 58); least squares, standard errors of estimate and
// extremes were computed from these records. The survey's subjects are no patients: an estimate is a stand-in
// until somebody takes the measure, and the check says so.
#include "outline/estimate.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <string_view>

#include "base/dimension.h"
#include "base/text.h"

namespace warmsheet::outline {
namespace {

constexpr std::string_view survey = "army-anthropometry-2012";
/// A regression that leaves more than half of the variance open says too little about one person.
constexpr double least_r2 = 0.5;

/// measure = intercept + slope * from, mm, in one of the two samples.
struct Line {
  double intercept_mm;
  double slope;
  double error_mm;  // standard error of estimate
  double r2;
  double from_low_mm;  // range of `from` in the sample
  double from_high_mm;
};

struct Regression {
  std::string_view measure;
  std::string_view from;
  std::array<Line, 2> lines;  // women, men
};

constexpr std::array regressions{
    Regression{
        "hand_breadth",
        "hand_girth",
        {Line{5.542, 0.3892, 1.73, 0.798, 152.0, 214.0}, Line{4.441, 0.3948, 1.70, 0.850, 179.0, 248.0}}},
    Regression{
        "hand_girth",
        "hand_breadth",
        {Line{26.277, 2.0507, 3.96, 0.798, 67.0, 92.0}, Line{22.386, 2.1515, 3.97, 0.850, 74.0, 105.0}}},
    Regression{
        "wrist_girth",
        "hand_girth",
        {Line{32.691, 0.6545, 5.29, 0.544, 152.0, 214.0}, Line{32.597, 0.6751, 5.69, 0.596, 179.0, 248.0}}},
    Regression{
        "palm_length",
        "hand_length",
        {Line{18.982, 0.4954, 3.24, 0.703, 145.0, 220.0}, Line{20.227, 0.4979, 3.78, 0.631, 164.0, 239.0}}},
};
static_assert(std::all_of(regressions.begin(), regressions.end(), [](const Regression& r) {
  return r.lines[0].r2 >= least_r2 && r.lines[1].r2 >= least_r2;
}));

/// Both sexes together: nobody is asked, so the estimate spans the two.
std::optional<Range> predict(const Regression& regression, double from_mm) {
  std::vector<Range> found;
  for (const Line& line : regression.lines) {
    if (from_mm < line.from_low_mm || from_mm > line.from_high_mm) continue;
    const double value = line.intercept_mm + line.slope * from_mm;
    found.push_back({value, value - bound_sd * line.error_mm, value + bound_sd * line.error_mm});
  }
  if (found.empty()) return std::nullopt;
  const Range& a = found.front();
  const Range& b = found.back();
  return Range{0.5 * (a.value + b.value), std::min(a.low, b.low), std::max(a.high, b.high)};
}

Figure estimated_figure(const library::Measure& measure, const Figure& from, const Range& mm) {
  const Range si = mm.times(m_per_mm);
  const double half_width = 0.5 * (si.high - si.low);
  const Figure spread = Figure::stated("spread of adults of the same " + from.name(),
                                       Range::exactly(half_width), units::millimetre(),
                                       Origin{.basis = Basis::handbook,
                                              .source = std::string(survey),
                                              .where = "least squares on the public records"});
  return Figure::derived(
      measure.id, si, units::millimetre(),
      fmt::format("estimated from {} by least squares over adults, not measured", from.name()),
      {from, spread});
}

struct Estimate {
  std::string id;  ///< of the measure it comes from
  Figure figure;
  Figure from;
};

/// Only from what was given: an estimate of an estimate would hide how little is known.
std::optional<Estimate> estimate(const library::Measure& measure, const Measures& given) {
  for (const Regression& regression : regressions) {
    const auto from = given.find(std::string(regression.from));
    if (regression.measure != measure.id || from == given.end()) continue;
    if (const auto mm = predict(regression, from->second.si() / m_per_mm))
      return Estimate{from->first, estimated_figure(measure, from->second, *mm), from->second};
  }
  return std::nullopt;
}

RuleCheck estimate_note(const library::Measure& measure, const Figure& estimate, const Figure& from) {
  return {"measured-" + measure.id, false,
          say("{} was not measured: {} is an estimate from {}; measure it before cutting ({})",
              Label(measure.name), estimate, from, Label(measure.how))};
}

/// The library's range of a measure goes from the smallest child to the largest adult. Beyond it by more than
/// this factor lies a slip of the unit or of a digit, not a swollen limb; from memory.
constexpr double beyond_anybody = 1.25;

bool is_nobodys(const library::Measure& measure, const Figure& given) {
  return given.si() * beyond_anybody < measure.usual.low_si() ||
         given.si() > beyond_anybody * measure.usual.high_si();
}

Problem nobodys(const library::Measure& measure, const Figure& given, const Place& place) {
  return {place.line > 0 ? Trouble::data : Trouble::usage, place,
          fmt::format("the {} is given as {}, which no limb has", measure.name,
                      write_exact(given.si(), given.unit())),
          fmt::format("people have {} to {}, small children and large adults; is the unit right?",
                      write_exact(measure.usual.low_si(), measure.usual.unit()),
                      write_exact(measure.usual.high_si(), measure.usual.unit()))};
}

Problem missing(const library::Measure& measure, const library::Design& design) {
  std::string hint = fmt::format(
      "take it {}; then give --measure {}=\"... mm\", or in a file {} = \"... mm\" under [measures]",
      measure.how, measure.id, measure.id);
  for (const Regression& regression : regressions)
    if (regression.measure == measure.id)
      hint += fmt::format("; an adult's can be estimated from {}", regression.from);
  return {Trouble::data,
          {},
          fmt::format("{} needs the measure '{}' ({})", design.name, measure.id, measure.name),
          std::move(hint)};
}

/// A pair of measures whose ratio is nearly the same in everybody.
struct Ratio {
  std::string_view over;
  std::string_view under;
  double low;
  double high;
};

// Extremes of the survey, widened a little for hands it did not meet (children's ratios lie inside:
// UM-HSRI-77-17).
constexpr std::array ratios{
    Ratio{"hand_girth", "hand_breadth", 2.15, 2.70},  // everybody: 2.21 to 2.61
    Ratio{"wrist_girth", "hand_girth", 0.68, 1.00},  // mean 0.83, five SD of 0.03; small children are rounder
    Ratio{"palm_length", "hand_length", 0.50, 0.70},  // mean 0.60, five SD of 0.02
};

std::optional<RuleCheck> ratio_alarm(const Ratio& ratio, const Measures& given) {
  const auto over = given.find(std::string(ratio.over));
  const auto under = given.find(std::string(ratio.under));
  if (over == given.end() || under == given.end()) return std::nullopt;
  const double value = over->second.si() / under->second.si();
  if (value >= ratio.low && value <= ratio.high) return std::nullopt;
  const Figure seen = Figure::derived("ratio", Range::exactly(value), units::one(),
                                      "one measure over the other", {over->second, under->second});
  const Figure usual = Figure::stated(
      "usual ratio", Range{0.5 * (ratio.low + ratio.high), ratio.low, ratio.high}, units::one(),
      Origin{.basis = Basis::handbook,
             .source = std::string(survey),
             .where = "extremes of the public records, widened"});
  return RuleCheck{fmt::format("plausible-{}-{}", ratio.over, ratio.under), false,
                   say("{} over {} is {}, people have {}: one of the two is probably wrong", over->second,
                       under->second, seen, usual)};
}

}  // namespace

void require_measures(const library::Library& library, const Measures& given) {
  std::vector<Problem> problems;
  for (const auto& [id, figure] : given) {
    const Place place = figure.origin() ? figure.origin()->place : Place{};
    if (!library.measures.contains(id)) {
      std::vector<std::string> known;
      for (const auto& [name, measure] : library.measures) known.push_back(name);
      const std::string near = nearest(id, known);
      problems.push_back(
          {Trouble::usage, place, fmt::format("no measure is called '{}'", clip(id, 60)),
           near.empty() ? "known measures: " + join(known, ", ") : fmt::format("did you mean '{}'?", near)});
    } else if (figure.dimension() != Dimension::length || figure.low_si() <= 0.0) {
      problems.push_back({Trouble::data, place,
                          fmt::format("the measure '{}' must be a length above zero", id),
                          fmt::format("write for example {}=82mm", id)});
    } else if (const library::Measure& measure = library.measures.at(id); is_nobodys(measure, figure)) {
      problems.push_back(nobodys(measure, figure, place));
    }
  }
  if (!problems.empty()) throw Failure(std::move(problems));
}

Completed complete(const library::Design& design, const library::Library& library, const Measures& given) {
  require_measures(library, given);
  Completed done;
  std::set<std::string> used(design.measures.begin(), design.measures.end());
  std::vector<Problem> still_missing;
  for (const std::string& id : design.measures) {
    const library::Measure& measure = library.measure(id);
    if (const auto typed = given.find(id); typed != given.end()) {
      done.measures.emplace(id, typed->second);
    } else if (const auto guess = estimate(measure, given)) {
      done.measures.emplace(id, guess->figure);
      done.estimated.push_back(estimate_note(measure, guess->figure, guess->from));
      used.insert(guess->id);
    } else {
      still_missing.push_back(missing(measure, design));
    }
  }
  if (!still_missing.empty())
    still_missing.back().hint += fmt::format(
        "\nwarmsheet outline {} --measure-figures FILE.svg draws how each measure is taken", design.id);
  if (!still_missing.empty()) throw Failure(std::move(still_missing));
  for (const auto& [id, figure] : given)
    if (!used.contains(id)) done.unused.push_back(id);
  return done;
}

std::vector<RuleCheck> alarms(const library::Library& library, const Measures& given) {
  std::vector<RuleCheck> found;
  for (const auto& [id, figure] : given) {
    const library::Measure& measure = library.measure(id);
    if (figure.si() >= measure.usual.low_si() && figure.si() <= measure.usual.high_si()) continue;
    found.push_back({"plausible-" + id, false,
                     say("{} is {}, people have {}: check the unit and how it was taken ({})",
                         Label(measure.name), figure, measure.usual, Label(measure.how))});
  }
  for (const Ratio& ratio : ratios)
    if (auto alarm = ratio_alarm(ratio, given)) found.push_back(std::move(*alarm));
  return found;
}

}  // namespace warmsheet::outline
