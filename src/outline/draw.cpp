// SPDX-License-Identifier: MIT
// From a design and a person's measures to an outline with its figures.
//
// Ranges: each measure is moved to its low and its high bound with the others held (the range of a rule is
// what is allowed, not what is unknown), and the changes of a result are combined as independent ones (root
// of the sum of squares, each side for itself), to first order a 5 % to 95 % range if the inputs' bounds are
// such.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

#include "base/dimension.h"
#include "outline/checks.h"
#include "outline/estimate.h"
#include "outline/lines.h"
#include "outline/outline.h"
#include "outline/pattern.h"

namespace warmsheet::outline {
namespace {

/// Measures and rules by name.
using Inputs = std::map<std::string, Figure, std::less<>>;

Amount amount(const Figure& figure, double si) {
  return figure.dimension() == Dimension::length ? Amount::length_mm(si / m_per_mm) : Amount::ratio(si);
}

Names central(const Inputs& inputs) {
  Names names;
  for (const auto& [id, figure] : inputs) names.emplace(id, amount(figure, figure.si()));
  return names;
}

/// All shapes that the ranges need: the central one, and for each measure one with its low and one with its
/// high bound.
class Spread {
 public:
  Spread(const Pattern& pattern, const Inputs& inputs, const Measures& measures) : inputs_(inputs) {
    const Names names = central(inputs);
    middle_ = pattern.draw(names);
    for (const auto& [id, figure] : measures) {
      if (!figure.has_range()) continue;
      const auto moved = [&, &name = id, &moving = figure](double si) {
        Names other = names;
        other[name] = amount(moving, si);
        return pattern.draw(other);
      };
      moved_.push_back({id, moved(figure.low_si()), moved(figure.high_si())});
    }
  }

  [[nodiscard]] const Drawn& middle() const { return middle_; }

  using Reading = std::function<double(const Drawn&)>;  // SI

  [[nodiscard]] Figure figure(std::string name, const Reading& reading, const Unit& unit, std::string how,
                              const std::set<std::string>& behind) const {
    const double value = reading(middle_);
    double down = 0.0;
    double up = 0.0;
    for (const Moved& moved : moved_) {
      if (!behind.contains(moved.measure)) continue;
      const double low = std::min({0.0, reading(moved.low) - value, reading(moved.high) - value});
      const double high = std::max({0.0, reading(moved.low) - value, reading(moved.high) - value});
      down += low * low;
      up += high * high;
    }
    return Figure::derived(std::move(name), {value, value - std::sqrt(down), value + std::sqrt(up)}, unit,
                           std::move(how), figures(behind));
  }

  [[nodiscard]] std::vector<Figure> figures(const std::set<std::string>& behind) const {
    std::vector<Figure> found;
    for (const std::string& id : behind) found.push_back(inputs_.find(id)->second);
    return found;
  }

 private:
  struct Moved {
    std::string measure;
    Drawn low;
    Drawn high;
  };
  const Inputs& inputs_;
  Drawn middle_;
  std::vector<Moved> moved_;
};

Polygon closed_shape(const Drawn& drawn, const library::Design& design) {
  std::vector<Ring> holes;
  for (const RoundedRing& hole : drawn.holes) holes.push_back(hole.ring);
  try {
    return Polygon::make(drawn.outer.ring, holes, design.place);
  } catch (const Failure& failure) {
    Problem problem = failure.problems().front();
    problem.message = fmt::format("{} does not close with these measures: {}", design.name, problem.message);
    problem.hint =
        "check the measures against each other; if they are right, this design does not suit this limb";
    throw Failure(std::move(problem));
  }
}

std::vector<StrapPlace> straps_of(const library::Design& design, const Pattern& pattern,
                                  const Spread& spread) {
  std::vector<StrapPlace> straps;
  for (std::size_t i = 0; i < design.straps.size(); ++i) {
    const auto length = [i](const Drawn& drawn) { return drawn.straps[i].length_mm * m_per_mm; };
    straps.push_back({design.straps[i].name, design.straps[i].fixing, spread.middle().straps[i].y_mm,
                      spread.figure(design.straps[i].name, length, units::millimetre(),
                                    "length of strap by the design", pattern.behind_strap(i))});
  }
  return straps;
}

/// What the design itself states of a line: how far from the edge, or by how many points.
Figure statement_of(const library::DesignLine& line, const Drawn::Line& drawn) {
  if (line.points.empty())
    return Figure::stated("inset of the " + line.name, Range::exactly(drawn.inset_mm * m_per_mm),
                          units::millimetre(), line.origin);
  return Figure::stated("points of the " + line.name, Range::exactly(static_cast<double>(line.points.size())),
                        units::one(), line.origin);
}

WorkLine line_of(const library::Design& design, const Pattern& pattern, const Spread& spread,
                 const Polygon& shape, std::size_t index) {
  const library::DesignLine& line = design.lines[index];
  PlacedLine placed = place_line(design, spread.middle(), index, shape);
  const Figure stated = statement_of(line, spread.middle().lines[index]);
  std::vector<Figure> behind = spread.figures(pattern.behind_shape());
  for (const Figure& figure : spread.figures(pattern.behind_line(index))) behind.push_back(figure);
  behind.push_back(stated);
  double length_mm = 0.0;
  for (const Path& part : placed.parts) length_mm += path_length_mm(part);
  return {.name = line.name,
          .kind = line.kind,
          .why = line.why,
          .inset = line.points.empty()
                       ? std::optional(Figure::derived(stated.name(), stated.range_si(), units::millimetre(),
                                                       "by the line's expression", {stated}))
                       : std::nullopt,
          .length = Figure::derived("length of the " + line.name, Range::exactly(length_mm * m_per_mm),
                                    units::millimetre(), "drawn by the design " + design.id, behind),
          .inside = placed.inside,
          .parts = std::move(placed.parts)};
}

std::vector<WorkLine> lines_of(const library::Design& design, const Pattern& pattern, const Spread& spread,
                               const Polygon& shape) {
  std::vector<WorkLine> lines;
  for (std::size_t i = 0; i < design.lines.size(); ++i)
    lines.push_back(line_of(design, pattern, spread, shape, i));
  return lines;
}

void add_line_checks(const std::vector<WorkLine>& lines, std::vector<RuleCheck>& checks) {
  for (const WorkLine& line : lines)
    if (!line.inside)
      checks.push_back({"line_place", false,
                        say("the {} does not lie on the outline with these measures: only {} of it do; mark "
                            "it by eye on the person",
                            Label(line.name), line.length)});
}

std::vector<UsedMeasure> measures_of(const library::Design& design, const library::Library& library,
                                     const Measures& measures) {
  std::vector<UsedMeasure> used;
  for (const std::string& id : design.measures) used.push_back({library.measure(id), measures.at(id)});
  return used;
}

Inputs inputs_of(const library::Design& design, const Measures& measures) {
  Inputs inputs(measures.begin(), measures.end());
  for (const library::DesignRule& rule : design.rules) inputs.emplace(rule.id, rule.factor);
  return inputs;
}

}  // namespace

Outline mirrored(Outline outline) {
  outline.shape = outline.shape.mirrored();
  for (WorkLine& line : outline.lines)
    for (Path& part : line.parts)
      for (Point& point : part) point.x_mm = -point.x_mm;
  if (outline.side) outline.side = other_side(*outline.side);
  return outline;
}

Outline draw(const library::Design& design, const library::Library& library, const Measures& measures,
             Side side) {
  const Completed completed = complete(design, library, measures);
  const Pattern pattern(design);
  const Inputs inputs = inputs_of(design, completed.measures);
  const Spread spread(pattern, inputs, completed.measures);
  const std::set<std::string> behind = pattern.behind_shape();
  const Polygon shape = closed_shape(spread.middle(), design);
  const auto figure = [&](std::string name, const Spread::Reading& reading, const Unit& unit) {
    return spread.figure(std::move(name), reading, unit, fmt::format("drawn by the design {}", design.id),
                         behind);
  };
  const auto area = [](const Drawn& d) { return d.area_mm2() * m_per_mm * m_per_mm; };
  const auto width = [](const Drawn& d) { return d.box().width_mm() * m_per_mm; };
  const auto height = [](const Drawn& d) { return d.box().height_mm() * m_per_mm; };
  const auto perimeter = [](const Drawn& d) { return d.perimeter_mm() * m_per_mm; };
  const auto holes = [](const Drawn& d) { return static_cast<double>(d.holes.size()); };

  std::vector<RuleCheck> checks = alarms(library, measures);
  checks.insert(checks.end(), completed.estimated.begin(), completed.estimated.end());
  for (RuleCheck& check : check_rules({design, library, completed.measures, spread.middle(), shape,
                                       spread.figures(behind), side == Side::left ? -1.0 : 1.0}))
    checks.push_back(std::move(check));
  std::vector<WorkLine> lines = lines_of(design, pattern, spread, shape);
  add_line_checks(lines, checks);
  Outline right{.name = fmt::format("{}, {}", design.name, side_word(side)),
                .shape = shape,
                .area = figure("area", area, units::square_centimetre()),
                .width = figure("width", width, units::millimetre()),
                .height = figure("height", height, units::millimetre()),
                .perimeter = figure("perimeter", perimeter, units::millimetre()),
                .holes = figure("holes", holes, units::one()),
                .straps = straps_of(design, pattern, spread),
                .lines = std::move(lines),
                .measures = measures_of(design, library, completed.measures),
                .checks = std::move(checks),
                .design = design.id,
                .side = Side::right,
                .body_part = design.body_part,
                .is_not = design.is_not ? design.is_not->says : "",
                .unused = completed.unused};
  return side == Side::right ? right : mirrored(std::move(right));
}

}  // namespace warmsheet::outline
