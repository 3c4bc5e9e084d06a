// SPDX-License-Identifier: MIT
#include "outline/pattern.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace warmsheet::outline {
namespace {

/// Chords of a drawn arc stay this near to it: a tenth of what a pair of scissors follows.
constexpr double arc_tolerance_mm = 0.05;

std::optional<Expression> read(std::string_view text, const Place& place, std::string what,
                               Problems& problems) {
  try {
    return Expression::parse(text, place, std::move(what));
  } catch (const Failure& failure) {
    for (const Problem& problem : failure.problems())
      problems.add(problem.place, problem.message, problem.hint);
    return std::nullopt;
  }
}

}  // namespace

double Drawn::area_mm2() const {
  double area = std::abs(signed_area_mm2(outer.ring));
  for (const RoundedRing& hole : holes) area -= std::abs(signed_area_mm2(hole.ring));
  return area;
}

double Drawn::perimeter_mm() const {
  double length = ring_length_mm(outer.ring);
  for (const RoundedRing& hole : holes) length += ring_length_mm(hole.ring);
  return length;
}

Box Drawn::box() const {
  return box_of(outer.ring);
}

Pattern::Pattern(const library::Design& design) {
  Problems problems;
  read_lets(design, problems);
  outer_ = read_ring(design.outline, problems);
  for (const library::DesignRing& hole : design.holes) holes_.push_back(read_ring(hole, problems));
  read_straps(design, problems);
  read_lines(design, problems);
  problems.throw_if_any();
}

void Pattern::read_lets(const library::Design& design, Problems& problems) {
  std::set<std::string> taken(design.measures.begin(), design.measures.end());
  for (const library::DesignRule& rule : design.rules)
    if (!taken.insert(rule.id).second)
      problems.add(design.place, fmt::format("the name '{}' is used twice", rule.id),
                   "give the rule another id");
  for (const library::DesignLet& let : design.lets) {
    if (!taken.insert(let.id).second)
      problems.add(let.place, fmt::format("the name '{}' is used twice", let.id), "give the let another id");
    if (auto is = read(let.is, let.place, fmt::format("let {}", let.id), problems))
      lets_.push_back({let.id, std::move(*is)});
  }
}

Pattern::RingRecipe Pattern::read_ring(const library::DesignRing& ring, Problems& problems) {
  RingRecipe recipe;
  const std::string_view name = ring.name.empty() ? "the outline" : std::string_view(ring.name);
  if (ring.ellipse) {
    const library::DesignEllipse& given = *ring.ellipse;
    auto x = read(given.x, given.place, fmt::format("x of {}", name), problems);
    auto y = read(given.y, given.place, fmt::format("y of {}", name), problems);
    auto rx = read(given.rx, given.place, fmt::format("rx of {}", name), problems);
    auto ry = read(given.ry, given.place, fmt::format("ry of {}", name), problems);
    if (x && y && rx && ry)
      recipe.ellipse.push_back({std::move(*x), std::move(*y), std::move(*rx), std::move(*ry)});
  }
  recipe.vertices = read_vertices(ring.vertices, fmt::format("vertex {{}} of {}", name), problems);
  return recipe;
}

std::vector<Pattern::Vertex> Pattern::read_vertices(const std::vector<library::DesignVertex>& given,
                                                    std::string_view of, Problems& problems) {
  std::vector<Vertex> vertices;
  for (std::size_t i = 0; i < given.size(); ++i) {
    const library::DesignVertex& vertex = given[i];
    const std::string which = " of " + fmt::format(fmt::runtime(of), i + 1);
    auto x = read(vertex.x, vertex.place, "x" + which, problems);
    auto y = read(vertex.y, vertex.place, "y" + which, problems);
    auto radius = read(vertex.radius.empty() ? "0 mm" : vertex.radius, vertex.place, "r" + which, problems);
    if (x && y && radius) vertices.push_back({std::move(*x), std::move(*y), std::move(*radius)});
  }
  return vertices;
}

std::vector<const Expression*> Pattern::RingRecipe::parts() const {
  std::vector<const Expression*> all;
  for (const Vertex& vertex : vertices) all.insert(all.end(), {&vertex.x, &vertex.y, &vertex.radius});
  for (const Ellipse& one : ellipse) all.insert(all.end(), {&one.x, &one.y, &one.rx, &one.ry});
  return all;
}

RoundedRing Pattern::draw_ring(const RingRecipe& recipe, const Names& names) {
  for (const Ellipse& one : recipe.ellipse)
    return {ellipse_ring({one.x.length_mm(names), one.y.length_mm(names)}, one.rx.length_mm(names),
                         one.ry.length_mm(names), arc_tolerance_mm),
            {}};
  return round_corners(draw_vertices(recipe.vertices, names), arc_tolerance_mm);
}

std::vector<Corner> Pattern::draw_vertices(const std::vector<Vertex>& vertices, const Names& names) {
  std::vector<Corner> corners;
  for (const Vertex& vertex : vertices)
    corners.push_back({{vertex.x.length_mm(names), vertex.y.length_mm(names)},
                       std::max(0.0, vertex.radius.length_mm(names))});
  return corners;
}

void Pattern::read_straps(const library::Design& design, Problems& problems) {
  for (const library::DesignStrap& strap : design.straps) {
    auto at_y = read(strap.at_y, strap.place, fmt::format("at_y of {}", strap.name), problems);
    auto length = read(strap.length, strap.place, fmt::format("length of {}", strap.name), problems);
    if (at_y && length) straps_.push_back({std::move(*at_y), std::move(*length)});
  }
}

void Pattern::read_lines(const library::Design& design, Problems& problems) {
  for (const library::DesignLine& line : design.lines) {
    Line made;
    made.points = read_vertices(line.points, fmt::format("point {{}} of {}", line.name), problems);
    if (!line.inset.empty())
      if (auto inset = read(line.inset, line.place, fmt::format("inset of {}", line.name), problems))
        made.inset.push_back(std::move(*inset));
    lines_.push_back(std::move(made));
  }
}

Drawn Pattern::draw(const Names& inputs) const {
  Drawn drawn;
  drawn.names = inputs;
  for (const Let& let : lets_) drawn.names[let.id] = let.is.evaluate(drawn.names);
  drawn.outer = draw_ring(outer_, drawn.names);
  for (const RingRecipe& hole : holes_) drawn.holes.push_back(draw_ring(hole, drawn.names));
  for (const Strap& strap : straps_)
    drawn.straps.push_back({strap.at_y.length_mm(drawn.names), strap.length.length_mm(drawn.names)});
  for (const Line& line : lines_)
    drawn.lines.push_back({draw_vertices(line.points, drawn.names),
                           line.inset.empty() ? 0.0 : line.inset.front().length_mm(drawn.names)});
  return drawn;
}

std::set<std::string> Pattern::resolved(const std::set<std::string>& names) const {
  std::set<std::string> open = names;
  // A let uses only earlier ones, so one pass from the last to the first opens them all.
  for (auto let = lets_.rbegin(); let != lets_.rend(); ++let)
    if (open.erase(let->id) > 0) open.insert(let->is.names().begin(), let->is.names().end());
  return open;
}

std::set<std::string> Pattern::used() const {
  std::set<std::string> names = behind_shape();
  const auto add = [&](const std::set<std::string>& more) { names.insert(more.begin(), more.end()); };
  for (const Let& let : lets_) add(let.is.names());
  for (std::size_t i = 0; i < straps_.size(); ++i) {
    add(behind_strap(i));
    add(straps_[i].at_y.names());
  }
  for (std::size_t i = 0; i < lines_.size(); ++i) add(behind_line(i));
  return names;
}

std::set<std::string> Pattern::behind_shape() const {
  std::set<std::string> names;
  const auto add = [&](const RingRecipe& recipe) {
    for (const Expression* part : recipe.parts()) names.insert(part->names().begin(), part->names().end());
  };
  add(outer_);
  for (const RingRecipe& hole : holes_) add(hole);
  return resolved(names);
}

std::set<std::string> Pattern::behind_strap(std::size_t index) const {
  return resolved(straps_[index].length.names());
}

std::set<std::string> Pattern::behind_line(std::size_t index) const {
  std::set<std::string> names;
  for (const Vertex& point : lines_[index].points)
    for (const Expression* part : {&point.x, &point.y})
      names.insert(part->names().begin(), part->names().end());
  for (const Expression& inset : lines_[index].inset)
    names.insert(inset.names().begin(), inset.names().end());
  return resolved(names);
}

}  // namespace warmsheet::outline
