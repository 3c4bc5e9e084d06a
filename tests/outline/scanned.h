// SPDX-License-Identifier: MIT
// Scans made from outlines of known area: pixels by their covered share (8 x 8 points each), and what goes
// wrong with them.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>
#include <vector>

#include "outline/people.h"
#include "outline/polygon.h"
#include "outline/scan.h"

namespace warmsheet::testing {

using outline::Box;
using outline::GreyImage;
using outline::Point;
using outline::Polygon;
using outline::Ring;

inline constexpr double dpi = 150.0;
inline constexpr double pixel_mm = 25.4 / dpi;

/// What a scan of the shape looks like, before anything goes wrong: `ink` on `ground`, `border_mm` of ground
/// around.
inline GreyImage rasterised(const Polygon& shape, double ink, double ground, double border_mm = 12.0) {
  const Box box = shape.box();
  GreyImage image;
  image.width = static_cast<std::size_t>((box.width_mm() + 2.0 * border_mm) / pixel_mm);
  image.height = static_cast<std::size_t>((box.height_mm() + 2.0 * border_mm) / pixel_mm);
  image.grey.resize(image.width * image.height);
  constexpr int points = 8;
  std::vector<double> covered(image.grey.size(), 0.0);
  for (std::size_t row = 0; row < image.height * points; ++row) {
    const double y = box.high.y_mm + border_mm - (static_cast<double>(row) + 0.5) / points * pixel_mm;
    std::vector<double> crossings;
    const auto cut = [&](const Ring& ring) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point& a = ring[i];
        const Point& b = ring[(i + 1) % ring.size()];
        if ((a.y_mm <= y) != (b.y_mm <= y))
          crossings.push_back(a.x_mm + (y - a.y_mm) / (b.y_mm - a.y_mm) * (b.x_mm - a.x_mm));
      }
    };
    cut(shape.outer());
    for (const Ring& hole : shape.holes()) cut(hole);
    std::sort(crossings.begin(), crossings.end());
    for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
      const double from = (crossings[k] - box.low.x_mm + border_mm) / pixel_mm;
      const double to = (crossings[k + 1] - box.low.x_mm + border_mm) / pixel_mm;
      for (auto column = static_cast<std::size_t>(from); static_cast<double>(column) < to; ++column) {
        const auto x = static_cast<double>(column);
        covered[row / points * image.width + column] += (std::min(to, x + 1.0) - std::max(from, x)) / points;
      }
    }
  }
  for (std::size_t i = 0; i < covered.size(); ++i)
    image.grey[i] =
        static_cast<std::uint8_t>(std::lround(ground + (ink - ground) * std::clamp(covered[i], 0.0, 1.0)));
  return image;
}

inline void change(GreyImage& image,
                   const std::function<double(std::size_t x, std::size_t y, double grey)>& how) {
  for (std::size_t y = 0; y < image.height; ++y)
    for (std::size_t x = 0; x < image.width; ++x) {
      std::uint8_t& grey = image.grey[y * image.width + x];
      grey = static_cast<std::uint8_t>(std::lround(std::clamp(how(x, y, grey), 0.0, 255.0)));
    }
}

/// Noise of 12 grey levels, one pixel in 500 black or white, a shadow that darkens one side by 60 levels.
inline void spoil(GreyImage& image) {
  Normal normal(3);
  std::mt19937 bits(4);
  const auto width = static_cast<double>(image.width);
  change(image, [&](std::size_t x, std::size_t, double grey) {
    const double shaded = grey * (1.0 - 60.0 / 255.0 * static_cast<double>(x) / width);
    if (bits() % 500 == 0) return bits() % 2 == 0 ? 0.0 : 255.0;
    return shaded + 12.0 * normal();
  });
}

}  // namespace warmsheet::testing
