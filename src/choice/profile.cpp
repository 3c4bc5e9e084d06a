// SPDX-License-Identifier: MIT
#include "choice/profile.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/dimension.h"

namespace warmsheet::choice {
namespace {

// A piece a hand long is met every 3 mm or so; finer steps move a width by less than the knife does.
constexpr int stations = 48;
constexpr int halvings = 50;

/// Material met by the line y = `y_mm`, holes left out, mm.
double material_across_mm(const outline::Polygon& shape, double y_mm) {
  std::vector<double> crossings;
  const auto add = [&](const outline::Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const outline::Point& a = ring[i];
      const outline::Point& b = ring[(i + 1) % ring.size()];
      if ((a.y_mm <= y_mm) == (b.y_mm <= y_mm)) continue;
      crossings.push_back(a.x_mm + (y_mm - a.y_mm) / (b.y_mm - a.y_mm) * (b.x_mm - a.x_mm));
    }
  };
  add(shape.outer());
  for (const outline::Ring& hole : shape.holes()) add(hole);
  std::sort(crossings.begin(), crossings.end());
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) sum += crossings[i + 1] - crossings[i];
  return sum;
}

}  // namespace

WidthAt widths_of(const outline::Polygon& shape) {
  return [&shape](double share) {
    const outline::Box& box = shape.box();
    return material_across_mm(shape, box.high.y_mm - share * box.height_mm()) / mm_per_m;
  };
}

Strip equivalent_strip(const WidthAt& width_at, const BentPart& part, const Section& section) {
  double weights = 0.0;
  double widths = 0.0;
  double compliance = 0.0;
  for (int i = 0; i < stations; ++i) {
    const double moment = (i + 0.5) / stations;
    const double share = std::lerp(part.unloaded, part.loaded, moment);
    const double width =
        std::min(width_at(share), std::lerp(part.widest_unloaded_m, part.widest_loaded_m, moment));
    if (width <= 0.0) return {0.0, 0.0};
    const double weight = moment * moment;
    weights += weight;
    widths += weight * width;
    compliance += weight / section(width, moment);
  }
  return {widths / weights, weights / compliance};
}

double argument_for(double wanted, double most, const std::function<double(double)>& growing) {
  double low = 0.0;
  double high = most;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (growing(middle) < wanted ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace warmsheet::choice
