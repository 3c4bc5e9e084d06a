// SPDX-License-Identifier: MIT
// Photos rendered here: a pinhole camera looks at a sheet of paper with a pattern on a dark table, from the
// side, turned, with a lamp to one side, shadows and noise.
#include "outline/photo.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <string>

#include "outline/corners.h"
#include "outline/design_fixture.h"
#include "outline/projection.h"
#include "outline/scanned.h"
#include "outline/sheet_corners.h"
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
  double lamp = 1.0;  ///< to one side; 0: even light
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
  Print(const Polygon& pattern, const PaperSize& paper, bool turned, double table = 55.0, double ink = 60.0)
      : table_(table),
        paper_{turned ? paper.short_mm : paper.long_mm, turned ? paper.long_mm : paper.short_mm} {
    const Box box = pattern.box();
    const Polygon centred =
        pattern.placed(0.0, {-0.5 * (box.low.x_mm + box.high.x_mm), -0.5 * (box.low.y_mm + box.high.y_mm)});
    image_ = rasterised(centred, ink, 230.0, 6.0);
    half_ = {0.5 * static_cast<double>(image_.width) * pixel_mm,
             0.5 * static_cast<double>(image_.height) * pixel_mm};
  }
  [[nodiscard]] double grey(const Point& p) const {
    if (std::abs(p.x_mm) > 0.5 * paper_.x_mm || std::abs(p.y_mm) > 0.5 * paper_.y_mm) return table_;
    const double column = (p.x_mm + half_.x_mm) / pixel_mm;
    const double row = (half_.y_mm - p.y_mm) / pixel_mm;
    if (column < 0.0 || row < 0.0 || column >= static_cast<double>(image_.width) ||
        row >= static_cast<double>(image_.height))
      return 230.0;
    return image_.grey[static_cast<std::size_t>(row) * image_.width + static_cast<std::size_t>(column)];
  }

 private:
  double table_;
  Point paper_;
  GreyImage image_;
  Point half_;
};

/// How much of the light reaches a place on the sheet, mm from its middle.
using Light = std::function<double(const Point&)>;

GreyImage photo_of(
    const Print& print, const Camera& camera, const Light& light = [](const Point&) { return 1.0; }) {
  GreyImage image{camera.width, camera.height, std::vector<std::uint8_t>(camera.width * camera.height)};
  for (std::size_t row = 0; row < image.height; ++row)
    for (std::size_t column = 0; column < image.width; ++column) {
      double sum = 0.0;
      for (const double dy : {-0.25, 0.25})
        for (const double dx : {-0.25, 0.25})
          sum += print.grey(seen_by(camera, static_cast<double>(column) + dx, static_cast<double>(row) + dy));
      const double lit = light(seen_by(camera, static_cast<double>(column), static_cast<double>(row)));
      image.grey[row * image.width + column] =
          static_cast<std::uint8_t>(std::lround(std::min(255.0, 0.25 * sum * lit)));
    }
  Normal normal(17);
  change(image, [&](std::size_t x, std::size_t y, double grey) {
    const double lamp = 1.0 - camera.lamp * 0.25 * static_cast<double>(x) / static_cast<double>(image.width) -
                        camera.lamp * 0.1 * static_cast<double>(y) / static_cast<double>(image.height);
    return grey * lamp + 5.0 * normal();
  });
  return image;
}

Polygon drawn(const std::string& id) {
  const library::Design& design = shipped().design(id);
  return draw(design, shipped(), measures_for(design, usual_adult()), Side::right).shape;
}

std::string refusal(const GreyImage& photo, const PaperSize& paper = a4_paper) {
  try {
    (void)flattened(photo, paper, "photo.png");
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

TEST_CASE("a photo from the side keeps the pattern's width and height apart") {
  // An ellipse whose two sizes differ as much as the sheet's; from the side either may look the longer.
  const Polygon ellipse = Polygon::make(ellipse_ring({0, 0}, 75, 40, 1e-3), {}, {});
  struct Shot {
    std::string label;
    Camera camera;
  };
  for (const Shot& shot : {Shot{"over the long side", {32.0, 0.0, 560.0, 1000.0}},
                           Shot{"over the short side", {40.0, 90.0, 560.0, 1000.0}},
                           Shot{"over a corner", {40.0, 40.0, 560.0, 1000.0}},
                           Shot{"a longer lens", {40.0, 90.0, 1000.0, 2000.0}}}) {
    CAPTURE(shot.label);
    const Outline seen =
        read_photo(photo_of(Print(ellipse, a4_paper, false), shot.camera), a4_paper, "photo.png", {});
    const bool upright = shot.camera.turn_deg > 45.0;
    CHECK(near_rel(seen.shape.box().width_mm(), upright ? 80.0 : 150.0, 0.01));
    CHECK(near_rel(seen.shape.box().height_mm(), upright ? 150.0 : 80.0, 0.01));
  }
}

TEST_CASE("what is up in the photo is up in the outline, whichever way the paper lies") {
  // A triangle with its point up; turned by a camera that looks straight down.
  const Polygon point_up = Polygon::make({{-30, -60}, {30, -60}, {0, 60}}, {}, {});
  for (const bool upright_paper : {false, true})
    for (const double turn_deg : {0.0, 20.0, 90.0, 160.0, 180.0, 270.0}) {
      CAPTURE(upright_paper);
      CAPTURE(turn_deg);
      const Outline seen =
          read_photo(photo_of(Print(point_up, a4_paper, upright_paper), {0.0, turn_deg, 620.0, 1000.0}),
                     a4_paper, "photo.png", {});
      // Turned by a quarter turn at most, back to the nearest side of the paper.
      const double quarter = 90.0 * std::round(turn_deg / 90.0);
      const Polygon expected = point_up.placed(quarter, {});
      const auto middle_over_box = [](const Polygon& shape) {
        const Box box = shape.box();
        return Point{(shape.centroid().x_mm - box.low.x_mm) / box.width_mm(),
                     (shape.centroid().y_mm - box.low.y_mm) / box.height_mm()};
      };
      CHECK(near_abs(middle_over_box(seen.shape).x_mm, middle_over_box(expected).x_mm, 0.02));
      CHECK(near_abs(middle_over_box(seen.shape).y_mm, middle_over_box(expected).y_mm, 0.02));
    }
}

TEST_CASE("uneven light, soft shadows and a light table leave the pattern's size") {
  const Polygon ellipse = Polygon::make(ellipse_ring({0, 0}, 75, 40, 1e-3), {}, {});
  const auto shadow = [](const Point& p) {
    return 1.0 - 0.35 / (1.0 + std::exp((p.x_mm - 0.3 * p.y_mm) / 12.0));
  };
  const auto lamp = [](const Point& p) { return 1.0 + p.x_mm / 900.0 + p.y_mm / 700.0; };
  const Print dark(ellipse, a4_paper, false);
  const Print light_table(ellipse, a4_paper, false, 185.0);
  const Print grey_card(ellipse, a4_paper, false, 55.0, 140.0);
  struct Shot {
    std::string label;
    GreyImage photo;
  };
  for (const Shot& shot :
       {Shot{"shadow", photo_of(dark, {12.0, 5.0}, shadow)}, Shot{"lamp", photo_of(dark, {12.0, 5.0}, lamp)},
        Shot{"light table", photo_of(light_table, {12.0, 5.0, 620.0, 1900.0, 1400, 1100, 0.0})},
        Shot{"grey card in a shadow", photo_of(grey_card, {12.0, 5.0}, shadow)}}) {
    CAPTURE(shot.label);
    const Outline seen = read_photo(shot.photo, a4_paper, "photo.png", {});
    CHECK(near_rel(seen.shape.area_mm2(), ellipse.area_mm2(), 0.02));
    CHECK(seen.shape.holes().empty());
  }
}

TEST_CASE("corners of the sheet are found to half a pixel") {
  const Camera camera{20.0, 7.0};
  const Polygon disc = Polygon::make(ellipse_ring({0, 0}, 40, 40, 1e-3), {}, {});
  constexpr double between = 140.0;  // paper in the shade of the lamp is lighter than 150
  const Corners corners = sheet_corners(photo_of(Print(disc, a4_paper, false), camera), between, "photo.png");
  for (const Point& corner : corners) {
    const Point on_table =
        seen_by(camera, corner.x_mm, static_cast<double>(camera.height) - 1.0 - corner.y_mm);
    CHECK(near_abs(std::abs(on_table.x_mm), 0.5 * a4_paper.long_mm, 0.25));
    CHECK(near_abs(std::abs(on_table.y_mm), 0.5 * a4_paper.short_mm, 0.25));
  }
}

TEST_CASE("a photo that cannot be measured is refused with its cause") {
  const Polygon disc = Polygon::make(ellipse_ring({0, 0}, 40, 40, 1e-3), {}, {});
  const Print print(disc, a4_paper, false);
  GreyImage covered = photo_of(print, {0.0, 0.0});
  for (std::size_t row = 380; row < 640; ++row)  // a hand over one side
    for (std::size_t column = 150; column < 330; ++column) covered.grey[row * covered.width + column] = 60;
  // The table is as light where the lamp is as the paper where it is not, in a straight line across the
  // sheet.
  const auto dim = [](const Point& p) { return p.x_mm > 90.0 ? 0.3 : 1.0; };
  const Print to_the_rim(Polygon::make({{0, 0}, {291, 0}, {291, 90}, {0, 90}}, {}, {}), a4_paper, false);
  struct Shot {
    std::string label;
    GreyImage photo;
    const char* cause;
  };
  for (const Shot& shot :
       {Shot{"too near", photo_of(print, {0.0, 0.0, 300.0}), "no edge of the sheet is seen"},
        Shot{"beside the photo's middle", photo_of(print, {0.0, 0.0, 400.0}), "runs off the photo"},
        Shot{"all one grey",
             {400, 400, std::vector<std::uint8_t>(160'000, 90)},
             "no edge of the sheet is seen"},
        Shot{"52 degrees", photo_of(print, {51.5, 0.0, 700.0}), "too much from the side: 52 degrees"},
        Shot{"long side as short as the other", photo_of(print, {50.0, 90.0, 700.0}),
             "too much from the side"},
        Shot{"few pixels", {150, 400, std::vector<std::uint8_t>(60'000, 90)}, "too few pixels"},
        Shot{"far away", photo_of(print, {0.0, 0.0, 3000.0}), "too small there"},
        Shot{"a long lens, or the other side", photo_of(print, {44.0, 0.0, 560.0, 1000.0}),
             "tell the sheet's long sides"},
        Shot{"a hand over a side", covered, "not straight"},
        Shot{"a third in the dark", photo_of(print, {0.0, 0.0}, dim), "proportions of A4"},
        Shot{"pattern at the rim", photo_of(to_the_rim, {0.0, 0.0}), "rim of the sheet is not clear"}}) {
    CAPTURE(shot.label);
    const std::string said = refusal(shot.photo);
    CHECK_MESSAGE(said.find(shot.cause) != std::string::npos, said);
  }
  CHECK(refusal(photo_of(print, {10.0, 4.0}), letter_paper).find("proportions of A4 paper, not of letter") !=
        std::string::npos);
  CHECK(refusal(photo_of(Print(disc, letter_paper, true), {10.0, 4.0})).find("letter paper, not of A4") !=
        std::string::npos);
}

TEST_CASE("a rectangle's corners tell its proportions and how far from above it is seen") {
  // Hartley and Zisserman, Multiple View Geometry, 6.1: a camera at the distance 1 with the focal length 0.8
  // looks at the middle of the sheet, `tilt` from its normal; the sheet lies turned by 20 degrees.
  constexpr double degree = std::numbers::pi / 180.0;
  for (const double tilt : {0.0, 15.0, 40.0, 60.0}) {
    CAPTURE(tilt);
    Corners seen;
    for (std::size_t i = 0; i < 4; ++i) {
      const Point corner = sheet_rectangle(297.0, 210.0)[i];
      const double u = (corner.x_mm - 148.5) / 500.0;
      const double v = (corner.y_mm - 105.0) / 500.0;
      const double x = std::cos(20.0 * degree) * u - std::sin(20.0 * degree) * v;
      const double y = std::sin(20.0 * degree) * u + std::cos(20.0 * degree) * v;
      const double depth = 1.0 + y * std::sin(tilt * degree);
      seen[i] = {0.8 * x / depth, 0.8 * y * std::cos(tilt * degree) / depth};
    }
    const View right = view_of(seen, 297.0, 210.0);
    CHECK(right.misfit < 0.02);  // the focal lengths tried are 3 % apart
    CHECK(near_abs(right.tilt_rad / degree, tilt, 0.1));
    CHECK(view_of(seen, 210.0, 297.0).misfit > 0.1);
    if (tilt < 20.0) CHECK(view_of(seen, 279.4, 215.9).misfit > 0.04);
  }
  const Corners in_line{Point{0.0, 0.0}, {0.1, 0.0}, {0.2, 0.0}, {0.3, 0.0}};
  CHECK_FALSE(view_of(in_line, 297.0, 210.0).misfit <= 0.04);
}
