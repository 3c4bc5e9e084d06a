// SPDX-License-Identifier: MIT
// Photos rendered here: a pinhole camera looks at a sheet of paper with a pattern on a dark table, from the
// side, turned, with a lamp to one side and noise.
#include "outline/photo.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <string>

#include "outline/corners.h"
#include "outline/design_fixture.h"
#include "outline/scanned.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using namespace warmsheet::testing;

namespace {

struct Camera {
  double tilt_deg;  ///< from straight above
  double turn_deg;  ///< of the sheet on the table
  double away_mm = 620.0;
  double focal_px = 1900.0;
  std::size_t width = 1400;
  std::size_t height = 1100;
};

/// The table in mm under a pixel, y up; the sheet's centre is the origin.
Point seen_by(const Camera& camera, double column, double row) {
  constexpr double rad = std::numbers::pi / 180.0;
  const double x = (column - 0.5 * static_cast<double>(camera.width)) / camera.focal_px;
  const double y = (0.5 * static_cast<double>(camera.height) - row) / camera.focal_px;
  const double c = std::cos(camera.tilt_deg * rad);
  const double s = std::sin(camera.tilt_deg * rad);
  // The camera stands at (0, -away s, away c) and looks at the origin; its up is (0, c, s).
  const double ray_y = y * c + s;
  const double ray_z = y * s - c;
  const double t = -camera.away_mm * c / ray_z;
  const Point flat{t * x, -camera.away_mm * s + t * ray_y};
  const double ct = std::cos(camera.turn_deg * rad);
  const double st = std::sin(camera.turn_deg * rad);
  return {ct * flat.x_mm + st * flat.y_mm, -st * flat.x_mm + ct * flat.y_mm};
}

/// The sheet as printed: the pattern in its middle, 0.15 mm a pixel.
class Print {
 public:
  Print(const Polygon& pattern, const PaperSize& paper, bool turned)
      : paper_{turned ? paper.short_mm : paper.long_mm, turned ? paper.long_mm : paper.short_mm} {
    const Box box = pattern.box();
    const Polygon centred =
        pattern.placed(0.0, {-0.5 * (box.low.x_mm + box.high.x_mm), -0.5 * (box.low.y_mm + box.high.y_mm)});
    image_ = rasterised(centred, 60.0, 230.0, 6.0);
    half_ = {0.5 * static_cast<double>(image_.width) * pixel_mm,
             0.5 * static_cast<double>(image_.height) * pixel_mm};
    REQUIRE(2.0 * half_.x_mm < paper_.x_mm);
    REQUIRE(2.0 * half_.y_mm < paper_.y_mm);
  }
  [[nodiscard]] double grey(const Point& p) const {
    constexpr double table = 55.0;
    if (std::abs(p.x_mm) > 0.5 * paper_.x_mm || std::abs(p.y_mm) > 0.5 * paper_.y_mm) return table;
    const double column = (p.x_mm + half_.x_mm) / pixel_mm;
    const double row = (half_.y_mm - p.y_mm) / pixel_mm;
    if (column < 0.0 || row < 0.0 || column >= static_cast<double>(image_.width) ||
        row >= static_cast<double>(image_.height))
      return 230.0;
    return image_.grey[static_cast<std::size_t>(row) * image_.width + static_cast<std::size_t>(column)];
  }

 private:
  Point paper_;
  GreyImage image_;
  Point half_;
};

GreyImage photo_of(const Print& print, const Camera& camera) {
  GreyImage image{camera.width, camera.height, std::vector<std::uint8_t>(camera.width * camera.height)};
  for (std::size_t row = 0; row < image.height; ++row)
    for (std::size_t column = 0; column < image.width; ++column) {
      double sum = 0.0;
      for (const double dy : {-0.25, 0.25})
        for (const double dx : {-0.25, 0.25})
          sum += print.grey(seen_by(camera, static_cast<double>(column) + dx, static_cast<double>(row) + dy));
      image.grey[row * image.width + column] = static_cast<std::uint8_t>(std::lround(0.25 * sum));
    }
  Normal normal(17);
  change(image, [&](std::size_t x, std::size_t y, double grey) {
    const double lamp = 1.0 - 0.25 * static_cast<double>(x) / static_cast<double>(image.width) -
                        0.1 * static_cast<double>(y) / static_cast<double>(image.height);
    return grey * lamp + 5.0 * normal();
  });
  return image;
}

Polygon drawn(const std::string& id) {
  const library::Design& design = shipped().design(id);
  return draw(design, shipped(), measures_for(design, usual_adult()), Side::right).shape;
}

std::string refusal(const GreyImage& photo) {
  try {
    (void)flattened(photo, a4_paper, "photo.png");
  } catch (const Failure& failure) {
    CHECK_FALSE(failure.problems().front().hint.empty());
    return failure.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("the area on a photo of a sheet is right to 2 %, from the side and turned") {
  const Polygon disc = Polygon::make(ellipse_ring({0, 0}, 55, 55, 1e-3), {}, {});
  struct Shot {
    Polygon pattern;
    PaperSize paper;
    bool turned;
    Camera camera;
  };
  const std::vector<Shot> shots{
      {disc, a4_paper, false, {0.0, 0.0}},
      {disc, a4_paper, false, {25.0, 8.0}},
      {disc, letter_paper, true, {15.0, -12.0, 700.0}},
      {drawn("hand-thumb"), a4_paper, false, {20.0, 5.0}},
      {drawn("volar-wrist"), a4_paper, true, {18.0, -3.0, 700.0}},
      {drawn("anti-claw"), letter_paper, false, {22.0, 10.0}},
  };
  for (std::size_t i = 0; i < shots.size(); ++i) {
    CAPTURE(i);
    const Shot& shot = shots[i];
    const GreyImage photo = photo_of(Print(shot.pattern, shot.paper, shot.turned), shot.camera);
    const Outline seen = read_photo(photo, shot.paper, "photo.png", {});
    CHECK(near_rel(seen.shape.area_mm2(), shot.pattern.area_mm2(), 0.02));
    CHECK(seen.shape.holes().size() == shot.pattern.holes().size());
    CHECK(seen.area.low() <= shot.pattern.area_mm2() / 100.0);
    CHECK(seen.area.high() >= shot.pattern.area_mm2() / 100.0);
  }
}

TEST_CASE("corners of the sheet are found to half a pixel") {
  const Camera camera{20.0, 7.0};
  const Polygon disc = Polygon::make(ellipse_ring({0, 0}, 40, 40, 1e-3), {}, {});
  const auto corners = sheet_corners(photo_of(Print(disc, a4_paper, false), camera), "photo.png");
  for (const Point& corner : corners) {
    const Point on_table =
        seen_by(camera, corner.x_mm, static_cast<double>(camera.height) - 1.0 - corner.y_mm);
    CHECK(near_abs(std::abs(on_table.x_mm), 0.5 * a4_paper.long_mm, 0.25));
    CHECK(near_abs(std::abs(on_table.y_mm), 0.5 * a4_paper.short_mm, 0.25));
  }
}

TEST_CASE("a photo that cannot be measured is refused") {
  const Polygon disc = Polygon::make(ellipse_ring({0, 0}, 40, 40, 1e-3), {}, {});
  const Print print(disc, a4_paper, false);
  CHECK(refusal(photo_of(print, {0.0, 0.0, 300.0})).find("runs off the photo") != std::string::npos);
  CHECK(refusal(photo_of(print, {48.0, 0.0, 700.0})) != "accepted");
  CHECK(refusal(GreyImage{400, 400, std::vector<std::uint8_t>(160'000, 90)}).find("runs off the photo") !=
        std::string::npos);
  GreyImage covered = photo_of(print, {0.0, 0.0});
  for (std::size_t row = 380; row < 640; ++row)  // a hand over one side
    for (std::size_t column = 150; column < 330; ++column) covered.grey[row * covered.width + column] = 60;
  CHECK(refusal(covered).find("not straight") != std::string::npos);
}
