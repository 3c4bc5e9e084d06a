// SPDX-License-Identifier: MIT
#include "choice/reasons.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>

#include "choice/figures.h"
#include "choice/rank.h"

namespace warmsheet::choice {
namespace {

constexpr std::size_t reasons_each_way = 2;
// A difference under a hundredth of the whole score is no reason.
constexpr double telling = 0.01;

Phrase shown(const Finding& finding) {
  return finding.known() ? Phrase(finding.figure()) : say("unknown ({})", Label(finding.reason()));
}

Phrase graded_reason(const NeedResult& result, bool in_favour) {
  const Label seen(result.grade_word);
  const std::string_view id = result.need->id;
  if (id == "memory")
    return in_favour ? say("goes back towards flat when reheated, so it can be reshaped: memory {}", seen)
                     : say("keeps its shape when reheated, reshaping thins it: memory {}", seen);
  if (id == "drape")
    return in_favour ? say("follows small hollows by itself: drape {}", seen)
                     : say("must be pressed into hollows: drape only {}", seen);
  if (id == "control")
    return in_favour ? say("does not run away while you form: resistance to stretch {}", seen)
                     : say("stretches under its own weight: resistance to stretch only {}", seen);
  if (id == "bonding")
    return in_favour == !result.need->at_most || !in_favour == result.need->at_most
               ? say("bonds well: bonding {}", seen)
               : say("parts again after it touched itself: bonding {}", seen);
  return in_favour ? say("its cut edge smooths well: edge finish {}", seen)
                   : say("its cut edge stays rough: edge finish {}", seen);
}

Phrase measured_reason(const NeedResult& result, const RankedItem& item, const Piece& piece, bool in_favour) {
  const Phrase seen = shown(result.figure);
  const std::string_view id = result.need->id;
  const auto named = [&](const char* name) { return shown(figure_named(item.figures, name)); };
  if (id == "rigidity")
    return in_favour ? say("firm: gives {} under a push of {}", seen, piece.force)
                     : say("yields: gives {} under a push of {}", seen, piece.force);
  if (id == "strength")
    return in_favour ? say("takes a push of {} before it stays bent, {} times the one expected",
                           named("first_yield"), seen)
                     : say("stays bent from a push of {}, only {} times the one expected",
                           named("first_yield"), seen);
  if (id == "lightness") return in_favour ? say("light: {}", seen) : say("heavy for this piece: {}", seen);
  if (id == "ventilation") {
    const bool wants_air = result.need->good->si() > result.need->poor->si();
    if (wants_air)
      return in_favour ? say("lets the skin breathe: {} open", seen)
                       : say("closed to the air: {} open", seen);
    return in_favour ? say("few holes or none, {} open: {}", seen, Label(result.need->why))
                     : say("has holes, {} open: {}", seen, Label(result.need->why));
  }
  if (id == "time")
    return in_favour ? say("leaves {} to shape it, where this piece usually takes {}", named("window"),
                           piece.form_time)
                     : say("short to shape: {}, where this piece usually takes {}", named("window"),
                           piece.form_time);
  if (id == "squeeze")
    return in_favour ? say("tightens little as it cools: {}, about {} of pressure", named("tightens"), seen)
                     : say("tightens as it cools: {}, up to about {} of pressure", named("tightens"), seen);
  if (id == "edging")
    return in_favour ? Phrase("needs no edging") : say("wants edging along {} of cut edge", seen);
  if (id == "cost")
    return in_favour ? say("cheap: {} of sheet each", seen) : say("dear: {} of sheet each", seen);
  return in_favour ? say("wastes little: {} of the sheet", seen) : say("wastes much: {} of the sheet", seen);
}

struct Merit {
  std::size_t need;
  double points;
};

std::vector<double> mean_worths(const std::vector<RankedItem>& ranking) {
  constexpr double halfway = 0.5;
  std::vector<double> means(ranking.front().needs.size(), halfway);
  if (ranking.size() == 1) return means;
  for (std::size_t k = 0; k < means.size(); ++k) {
    double sum = 0.0;
    for (const RankedItem& item : ranking) sum += item.needs[k].worth;
    means[k] = sum / static_cast<double>(ranking.size());
  }
  return means;
}

std::vector<Merit> merits_of(const RankedItem& item, const std::vector<double>& means) {
  double total = 0.0;
  for (const NeedResult& result : item.needs) total += result.need->weight.si();
  std::vector<Merit> merits;
  for (std::size_t k = 0; k < item.needs.size(); ++k)
    merits.push_back({k, item.needs[k].need->weight.si() / total * (item.needs[k].worth - means[k])});
  return merits;
}

void give_reasons_to(RankedItem& item, const std::vector<double>& means, const Piece& piece) {
  std::vector<Merit> merits = merits_of(item, means);
  std::stable_sort(merits.begin(), merits.end(),
                   [](const Merit& a, const Merit& b) { return a.points > b.points; });
  for (const Merit& merit : merits)
    if (merit.points > telling && item.reasons_for.size() < reasons_each_way)
      item.reasons_for.push_back(reason(item.needs[merit.need], item, piece, true));
  for (auto merit = merits.rbegin(); merit != merits.rend(); ++merit)
    if (merit->points < -telling && item.reasons_against.size() < reasons_each_way)
      item.reasons_against.push_back(reason(item.needs[merit->need], item, piece, false));
}

struct Flip {
  const library::Need* need;
  double weight;
  double change;  ///< of the weight, in points
};

std::vector<double> worths_of(const RankedItem& item) {
  std::vector<double> worths;
  for (const NeedResult& result : item.needs) worths.push_back(result.worth);
  return worths;
}

std::vector<Flip> flips_of(const RankedItem& first, const RankedItem& second) {
  constexpr double most_points = 10.0;
  std::vector<double> weights;
  for (const NeedResult& result : first.needs) weights.push_back(result.need->weight.si());
  std::vector<Flip> flips;
  for (std::size_t k = 0; k < weights.size(); ++k) {
    const auto flip = flipping_weight(weights, worths_of(first), worths_of(second), k);
    if (flip && *flip <= most_points)
      flips.push_back({first.needs[k].need, *flip, std::abs(*flip - weights[k])});
  }
  std::stable_sort(flips.begin(), flips.end(),
                   [](const Flip& a, const Flip& b) { return a.change < b.change; });
  return flips;
}

double central_score(const RankedItem& item) {
  std::vector<double> weights;
  for (const NeedResult& result : item.needs) weights.push_back(result.need->weight.si());
  return weighted_score(weights, worths_of(item));
}

void say_flips(const Choice& choice, std::vector<Phrase>& changes) {
  constexpr std::size_t shown_flips = 2;
  const RankedItem& first = choice.ranking[0];
  const RankedItem& second = choice.ranking[1];
  // A weight at which they draw level would then let the second one fall.
  if (central_score(second) >= central_score(first)) {
    changes.push_back(
        say("By the central figures alone {} is level with {} or ahead of it; it comes first in "
            "fewer draws. Take them for equal.",
            Label(second.stock->key()), Label(first.stock->key())));
    return;
  }
  const std::vector<Flip> flips = flips_of(first, second);
  std::vector<Figure> weights;
  for (const NeedResult& result : first.needs) weights.push_back(result.need->weight);
  for (std::size_t i = 0; i < std::min(flips.size(), shown_flips); ++i) {
    const Figure flip =
        Figure::derived("weight that makes the first two equal", Range::exactly(flips[i].weight),
                        units::one(), "central worths, all other weights kept", weights);
    changes.push_back(say("If {} counted {} points instead of {}, {} would draw level with {}.",
                          Label(flips[i].need->id), flip, flips[i].need->weight, Label(second.stock->key()),
                          Label(first.stock->key())));
  }
  if (flips.empty())
    changes.push_back(say("No single need, however heavily or lightly it counts, puts {} level with {}.",
                          Label(second.stock->key()), Label(first.stock->key())));
}

/// The ranked item of the same sheet that differs from the first in thickness or in holes only.
const RankedItem* sibling(const Choice& choice, bool other_thickness) {
  const RankedItem& first = choice.ranking.front();
  for (const RankedItem& item : choice.ranking) {
    if (&item == &first || item.sheet != first.sheet) continue;
    const bool same_thickness = item.stock->thickness.si() == first.stock->thickness.si();
    const bool same_holes = item.stock->perforation == first.stock->perforation;
    if (same_thickness != other_thickness && same_holes == other_thickness) return &item;
  }
  return nullptr;
}

void say_siblings(const Choice& choice, std::vector<Phrase>& changes) {
  for (const bool other_thickness : {true, false}) {
    const RankedItem* other = sibling(choice, other_thickness);
    if (other == nullptr) continue;
    changes.push_back(say("{}: gives {}, weighs {}, {} open.", Label(other->stock->key()),
                          shown(figure_named(other->figures, "give_angle")),
                          shown(figure_named(other->figures, "mass")),
                          shown(figure_named(other->figures, "open_area"))));
  }
}

}  // namespace

Phrase need_title(std::string_view need) {
  static const std::map<std::string_view, Phrase> titles{
      {"rigidity", Phrase("how little it gives under the push")},
      {"strength", Phrase("how much push it takes before it stays bent")},
      {"lightness", Phrase("weight of the finished piece")},
      {"ventilation", Phrase("open area")},
      {"time", Phrase("working window against the usual forming time")},
      {"squeeze", Phrase("pressure from shrinking around the limb")},
      {"edging", Phrase("cut edge that wants edging")},
      {"cost", Phrase("cost of sheet")},
      {"waste", Phrase("waste of sheet")},
      {"memory", Phrase("memory: goes back to flat when reheated")},
      {"drape", Phrase("drape: follows the limb by itself")},
      {"control", Phrase("resistance to stretch while forming")},
      {"bonding", Phrase("bonding to itself and to parts")},
      {"edges", Phrase("how smooth a cut edge finishes")}};
  return titles.at(need);
}

Phrase obstacle_title(std::string_view obstacle) {
  if (obstacle == "thickness") return Phrase("thickness outside the usual range");
  if (obstacle == "fit") return Phrase("the piece does not fit on the sheet");
  if (obstacle == "window") return Phrase("no safe working window");
  return need_title(obstacle);
}

Phrase reason(const NeedResult& result, const RankedItem& item, const Piece& piece, bool in_favour) {
  return is_graded(*result.need) ? graded_reason(result, in_favour)
                                 : measured_reason(result, item, piece, in_favour);
}

void give_reasons(std::vector<RankedItem>& ranking, const Piece& piece) {
  const std::vector<double> means = mean_worths(ranking);
  for (RankedItem& item : ranking) give_reasons_to(item, means, piece);
}

Phrase lack(const library::Need& need, const Candidate& candidate, const std::vector<NamedFinding>& figures) {
  if (is_graded(need))
    return say("{}: asked {} {}, has {}", need_title(need.id),
               need.at_most ? Phrase("at most") : Phrase("at least"), Label(library::grade_word(*need.grade)),
               Label(library::grade_word(candidate.grade(need.id))));
  const Phrase seen = shown(figure_named(figures, figure_of_need(need.id)));
  if (need.id == "strength")
    return say(
        "stays bent from a push of {}, {} times the one expected; {} is asked, with three quarters of the "
        "draws above it",
        shown(figure_named(figures, "first_yield")), seen, *need.poor);
  return say("{}: {}, where {} is the least that is asked, with three quarters of the draws above it",
             need_title(need.id), seen, *need.poor);
}

std::vector<Phrase> what_would_change(const Choice& choice, const library::Library& library) {
  std::vector<Phrase> changes;
  if (choice.ranking.size() > 1) say_flips(choice, changes);
  say_siblings(choice, changes);
  const std::string& liner = choice.condition->liner;
  if (!liner.empty())
    changes.push_back(say("Usually worn over {}: form it over the same, or it will be tight.",
                          Label(library.liner(liner).name)));
  return changes;
}

}  // namespace warmsheet::choice
