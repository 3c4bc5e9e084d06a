// SPDX-License-Identifier: MIT
#include "stock/pieces.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/dimension.h"
#include "base/text.h"
#include "nesting/random.h"
#include "stock/body_survey.h"
#include "stock/probability.h"

namespace warmsheet::stock {
namespace {

using outline::Outline;

constexpr std::size_t persons_drawn = 96;
constexpr std::size_t size_groups = 6;
constexpr double upper_bound_z = 1.6448536269514722;  // 95 % of a normal law lie below

PieceSize piece(double share, const Outline& outline) {
  PieceSize made{.share = share,
                 .shape = outline.shape,
                 .area_mm2 = outline.shape.area_mm2(),
                 .edge_mm = outline.shape.perimeter_mm(),
                 .boxes = turned_boxes(outline.shape),
                 .straps = {}};
  for (const outline::StrapPlace& strap : outline.straps)
    made.straps.push_back({strap.fixing, strap.length.si()});
  return made;
}

Figure area_figure(const std::string& name, const std::vector<PieceSize>& sizes, double low_mm2,
                   double high_mm2, const std::string& how, const std::vector<Figure>& rests_on) {
  double mean = 0.0;
  for (const PieceSize& size : sizes) mean += size.share * size.area_mm2;
  return Figure::derived(
      name, {mean / mm2_per_m2, std::min(low_mm2, mean) / mm2_per_m2, std::max(high_mm2, mean) / mm2_per_m2},
      units::square_centimetre(), how, rests_on);
}

/// Straps and area of every outline rest on the same survey and rules; one of them speaks for all.
std::vector<Figure> behind(const Kind& kind, const Outline& example) {
  std::vector<Figure> figures = behind_sizes(kind.people);
  for (const Figure& leaf : example.area.leaves())
    if (std::none_of(figures.begin(), figures.end(),
                     [&](const Figure& f) { return f.name() == leaf.name(); }))
      figures.push_back(leaf);
  return figures;
}

std::vector<Outline> draw_people(const Kind& kind, const library::Library& library, std::uint64_t seed) {
  const library::Design& design = library.design(kind.design);
  const std::vector<Figure> rests_on = behind_sizes(kind.people);
  nesting::Random random(seed);
  std::vector<Outline> outlines;
  std::optional<Failure> failure;
  for (std::size_t i = 0; i < persons_drawn; ++i) {
    const outline::SurveyRow person = draw_person(random, kind.people);
    try {
      outlines.push_back(outline::draw(
          design, library, measures_of(person, design.measures, library, rests_on), outline::Side::right));
    } catch (const Failure& seen) {
      failure = seen;  // a design need not suit the odd limb; it must suit most
    }
  }
  if (2 * outlines.size() > persons_drawn) return outlines;
  Problem problem = failure->problems().front();
  problem.place = kind.place;
  problem.message = fmt::format("kind {}: the design cannot be drawn for most of its people: {}",
                                clip(kind.id, 40), problem.message);
  throw Failure(std::move(problem));
}

KindPieces from_people(const Kind& kind, const library::Library& library, std::uint64_t seed) {
  std::vector<Outline> drawn = draw_people(kind, library, seed);
  std::stable_sort(drawn.begin(), drawn.end(), [](const Outline& a, const Outline& b) {
    return a.shape.area_mm2() < b.shape.area_mm2();
  });
  const auto area = [&](std::size_t i) { return drawn[i].shape.area_mm2(); };
  std::vector<PieceSize> sizes;
  for (std::size_t group = 0; group < size_groups; ++group) {
    const std::size_t from = group * drawn.size() / size_groups;
    const std::size_t to = (group + 1) * drawn.size() / size_groups;
    double mean = 0.0;
    for (std::size_t i = from; i < to; ++i) mean += area(i) / static_cast<double>(to - from);
    std::size_t nearest = from;
    for (std::size_t i = from; i < to; ++i)
      if (std::abs(area(i) - mean) < std::abs(area(nearest) - mean)) nearest = i;
    sizes.push_back(
        piece(static_cast<double>(to - from) / static_cast<double>(drawn.size()), drawn[nearest]));
  }
  Figure figure = area_figure(kind.id + " area", sizes, area(drawn.size() / 20),
                              area(drawn.size() - 1 - drawn.size() / 20),
                              fmt::format("drawn by the design {} for people of the survey", kind.design),
                              behind(kind, drawn.front()));
  return {std::move(sizes), std::move(figure)};
}

KindPieces from_stated_sizes(const Kind& kind, const library::Library& library) {
  std::vector<PieceSize> sizes;
  std::vector<Figure> rests_on;
  for (const StatedSize& size : kind.sizes) {
    const Outline drawn =
        outline::draw(library.design(kind.design), library, size.measures, outline::Side::right);
    sizes.push_back(piece(size.share.si(), drawn));
    rests_on.push_back(size.share);
    rests_on.push_back(drawn.area);
  }
  const auto [least, most] =
      std::minmax_element(sizes.begin(), sizes.end(),
                          [](const PieceSize& a, const PieceSize& b) { return a.area_mm2 < b.area_mm2; });
  Figure figure = area_figure(kind.id + " area", sizes, least->area_mm2, most->area_mm2,
                              "mean of the stated sizes", rests_on);
  return {std::move(sizes), std::move(figure)};
}

/// The lending design drawn for the library's usual adult, blown up or down to the area.
Outline lent_shape(const Kind& kind, const library::Library& library) {
  const library::Design& design = library.design(kind.shaped_like);
  outline::Measures measures;
  for (const std::string& id : design.measures) {
    const Figure& usual = library.measure(id).usual;
    measures.emplace(
        id, Figure::derived(id, Range::exactly(usual.si()), units::millimetre(), "the usual adult", {usual}));
  }
  return outline::draw(design, library, measures, outline::Side::right);
}

outline::Polygon scaled(const outline::Polygon& shape, double factor) {
  const auto scale = [&](outline::Ring ring) {
    for (outline::Point& p : ring) p = {p.x_mm * factor, p.y_mm * factor};
    return ring;
  };
  std::vector<outline::Ring> holes;
  for (const outline::Ring& hole : shape.holes()) holes.push_back(scale(hole));
  return outline::Polygon::make(scale(shape.outer()), std::move(holes), {});
}

KindPieces from_area(const Kind& kind, const library::Library& library) {
  const Outline lent = lent_shape(kind, library);
  std::vector<std::pair<double, double>> areas;  // share, mm2
  std::vector<Figure> rests_on{*kind.area, lent.area};
  for (const StatedSize& size : kind.sizes) {
    areas.emplace_back(size.share.si(), size.area->si() * mm2_per_m2);
    rests_on.push_back(*size.area);
  }
  if (areas.empty() && kind.area->has_range())
    for (std::size_t i = 0; i < size_groups; ++i) {
      // Low and high hold 90 % of a normal spread, each side for itself; the middle of each sixth stands for
      // it.
      const double z = normal_quantile((static_cast<double>(i) + 0.5) / size_groups);
      const double bound = z < 0.0 ? kind.area->low_si() : kind.area->high_si();
      const double area_m2 = kind.area->si() + std::abs(z) / upper_bound_z * (bound - kind.area->si());
      areas.emplace_back(1.0 / size_groups, std::max(area_m2, 0.1 * kind.area->si()) * mm2_per_m2);
    }
  if (areas.empty()) areas.emplace_back(1.0, kind.area->si() * mm2_per_m2);
  std::vector<PieceSize> sizes;
  for (const auto& [share, mm2] : areas) {
    Outline copy = lent;
    copy.shape = scaled(lent.shape, std::sqrt(mm2 / lent.shape.area_mm2()));
    copy.straps.clear();
    sizes.push_back(piece(share, copy));
  }
  double low = areas.front().second;
  double high = low;
  for (const auto& [share, mm2] : areas) low = std::min(low, mm2), high = std::max(high, mm2);
  Figure figure =
      area_figure(kind.id + " area", sizes, low, high,
                  fmt::format("as stated; its shape is lent by the design {}", kind.shaped_like), rests_on);
  return {std::move(sizes), std::move(figure)};
}

}  // namespace

KindPieces pieces_of(const Kind& kind, const library::Library& library, std::uint64_t seed) {
  if (kind.outline) {
    std::vector<PieceSize> sizes{piece(1.0, *kind.outline)};
    return {std::move(sizes), kind.outline->area.renamed(kind.id + " area")};
  }
  if (kind.area) return from_area(kind, library);
  return kind.sizes.empty() ? from_people(kind, library, seed) : from_stated_sizes(kind, library);
}

}  // namespace warmsheet::stock
