// SPDX-License-Identifier: MIT
// Scans of outlines of known area with a paper's shadow, a soft lens, noise, dust, and a skewed sheet.
#include "outline/scan.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <string>

#include "outline/contour.h"
#include "outline/corners.h"
#include "outline/design_fixture.h"
#include "outline/scanned.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using namespace warmsheet::testing;

namespace {

constexpr double pi = std::numbers::pi;

Outline read_back(const GreyImage& image) {
  return read_scan(image, Length{pixel_mm * 1e-3}, "scan.pgm", {});
}

Polygon circle(double r) {
  return Polygon::make(ellipse_ring({0, 0}, r, r, 1e-4), {}, {});
}

Polygon drawn(const std::string& id) {
  const library::Design& design = shipped().design(id);
  return draw(design, shipped(), measures_for(design, usual_adult()), Side::right).shape;
}

std::string refusal(const GreyImage& image) {
  try {
    (void)read_back(image);
  } catch (const Failure& failure) {
    return failure.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("a clean scan gives the area to a thousandth, its holes, and its size") {
  for (const std::string id : {"volar-wrist", "radial-wrist", "hand-thumb", "anti-claw"}) {
    CAPTURE(id);
    const Polygon shape = drawn(id);
    const Outline seen = read_back(rasterised(shape, 40.0, 240.0));
    // A corner may be cut by the 0.1 mm to which lines are thinned.
    CHECK(near_rel(seen.shape.area_mm2(), shape.area_mm2(), 1e-3));
    CHECK(seen.shape.holes().size() == shape.holes().size());
    CHECK(near_abs(seen.width.value(), shape.box().width_mm(), 0.2));
    CHECK(near_abs(seen.height.value(), shape.box().height_mm(), 0.2));
    CHECK(seen.area.low() <= shape.area_mm2() / 100.0);
    CHECK(seen.area.high() >= shape.area_mm2() / 100.0);
    CHECK(seen.shape.outer().size() < 500);
  }
}

TEST_CASE("noise, dust, shadow and skew cost less than half a percent of the area at 150 dpi") {
  for (const std::string id : {"volar-wrist", "radial-wrist", "finger-gutter"}) {
    CAPTURE(id);
    const Polygon shape = drawn(id).placed(3.7, {});
    for (const auto& [ink, ground] :
         {std::pair{40.0, 240.0}, {235.0, 70.0}}) {  // marker on paper; paper on a dark lid
      const auto& of_ink = ink;                      // clang 14 captures no structured binding
      CAPTURE(of_ink);
      GreyImage image = rasterised(shape, ink, ground);
      spoil(image);
      const Outline seen = read_back(image);
      CHECK(near_rel(seen.shape.area_mm2(), shape.area_mm2(), 5e-3));
      CHECK(seen.shape.holes().size() == shape.holes().size());
    }
  }
}

TEST_CASE("a pattern drawn as a line is taken along the middle of the line") {
  for (const double pen_mm : {0.5, 1.0, 2.0}) {
    CAPTURE(pen_mm);
    const Polygon line =
        Polygon::make(circle(50.0 + 0.5 * pen_mm).outer(), {circle(50.0 - 0.5 * pen_mm).outer()}, {});
    GreyImage image = rasterised(line, 30.0, 245.0);
    const Outline seen = read_back(image);
    CHECK(near_rel(seen.shape.area_mm2(), pi * 2500.0, 5e-3));
    CHECK(seen.shape.holes().empty());
  }
}

TEST_CASE("a level line finds a circle to a hundredth of a pixel") {
  GreyImage image;
  image.width = image.height = 200;
  image.grey.resize(200 * 200);
  // A cone of grey levels: its level lines are circles.
  change(image, [](std::size_t x, std::size_t y, double) {
    return 200.0 - 2.0 * std::hypot(static_cast<double>(x) - 100.0, static_cast<double>(y) - 90.0);
  });
  const auto lines = level_lines(image, 80.0, 0.0);
  REQUIRE(lines.size() == 1);
  CHECK(signed_area_mm2(lines.front()) > 0.0);                              // higher inside, to the left
  CHECK(near_rel(signed_area_mm2(lines.front()), pi * 60.0 * 60.0, 2e-3));  // grey levels are whole numbers
  CHECK(near_abs(box_of(lines.front()).high.y_mm, 199.0 - 90.0 + 60.0, 0.3));
}

TEST_CASE("the parting level lies between the two kinds of pixels") {
  GreyImage image{10, 10, std::vector<std::uint8_t>(100, 200)};
  for (std::size_t i = 0; i < 30; ++i) image.grey[i] = 50;
  CHECK(parting_level(image) > 50.0);
  CHECK(parting_level(image) < 200.0);
  CHECK(near_abs(parting_level(image), 125.0, 1.0));
}

TEST_CASE("thinning keeps within its tolerance") {
  const Ring many = circle(50.0).outer();
  const Ring few = simplified(many, 0.1);
  CHECK(few.size() < 80);
  CHECK(std::abs(signed_area_mm2(few) - signed_area_mm2(many)) < 0.1 * 2.0 * pi * 50.0);
  for (const Point& p : few) CHECK(std::find(many.begin(), many.end(), p) != many.end());
}

TEST_CASE("a scan with nothing, too much or a part of a pattern is refused") {
  const GreyImage good = rasterised(circle(30.0), 40.0, 240.0);
  GreyImage blank = good;
  change(blank, [](std::size_t, std::size_t, double) { return 240.0; });
  CHECK(refusal(blank).find("nothing stands out") != std::string::npos);
  GreyImage faint = good;
  change(faint, [](std::size_t, std::size_t, double grey) { return 200.0 + grey / 20.0; });
  CHECK(refusal(faint).find("nothing stands out") != std::string::npos);
  GreyImage cut = good;
  cut.height = good.height / 2;
  cut.grey.resize(cut.width * cut.height);
  CHECK(refusal(cut).find("runs off the scan") != std::string::npos);
  GreyImage two = good;
  two.grey.insert(two.grey.end(), good.grey.begin(), good.grey.end());
  two.height = 2 * good.height;
  CHECK(refusal(two).find("more than one outline") != std::string::npos);
  const GreyImage dust = rasterised(circle(2.0), 40.0, 240.0);
  CHECK(refusal(dust).find("no pattern on the scan") != std::string::npos);
  Normal normal(5);
  GreyImage noise{3000, 3000, std::vector<std::uint8_t>(9'000'000)};
  change(noise, [&](std::size_t, std::size_t, double) { return normal() > 0.0 ? 255.0 : 0.0; });
  CHECK(refusal(noise).find("too noisy") != std::string::npos);
}

TEST_CASE("a pattern drawn as a line is refused where the line does not bound one area") {
  const auto drawn_line = [](double r, double width, double hole) {
    std::vector<Ring> inside{ellipse_ring({0, 0}, r - width, r - width, 1e-3)};
    const Polygon ring = Polygon::make(ellipse_ring({0, 0}, r, r, 1e-3), inside, {});
    GreyImage image = rasterised(ring, 40.0, 240.0);
    if (hole <= 0.0) return image;
    const GreyImage inner =
        rasterised(Polygon::make(ellipse_ring({0, 0}, hole, hole, 1e-3), {}, {}), 40.0, 240.0);
    const std::size_t x = (image.width - inner.width) / 2;
    const std::size_t y = (image.height - inner.height) / 2;
    for (std::size_t row = 0; row < inner.height; ++row)
      for (std::size_t column = 0; column < inner.width; ++column) {
        std::uint8_t& grey = image.grey[(y + row) * image.width + x + column];
        grey = std::min(grey, inner.grey[row * inner.width + column]);
      }
    return image;
  };
  CHECK(near_rel(read_back(drawn_line(30.0, 1.0, 0.0)).shape.area_mm2(), pi * 29.5 * 29.5, 2e-3));
  CHECK(refusal(drawn_line(40.0, 1.0, 10.0)).find("more lines inside") != std::string::npos);
  CHECK(refusal(GreyImage{12, 12, std::vector<std::uint8_t>(144, 200)}).find("too small") !=
        std::string::npos);
}

TEST_CASE("graymaps are read in both forms, with remarks, and say so when they are broken") {
  const GreyImage raw =
      parse_pgm(std::string("P5\n# by hand\n3 2\n255\n") + "\x01\x02\x03\xF0\xF1\xF2", "s.pgm");
  const GreyImage plain = parse_pgm("P2 3 2 # width height\n15 0 1 2\n13 14 15", "s.pgm");
  CHECK(raw.grey == std::vector<std::uint8_t>{1, 2, 3, 0xF0, 0xF1, 0xF2});
  CHECK(plain.grey == std::vector<std::uint8_t>{0, 17, 34, 221, 238, 255});
  struct Row {
    std::string bytes;
    const char* expected;
  };
  const std::vector<Row> rows{{"", "no portable graymap"},
                              {"P6\n3 2\n255\n", "no portable graymap"},
                              {"P5\n3 2\n255\nabc", "ends after 3 of 6 pixels"},
                              {"P5\n3 -2\n255\n", "expected a whole number"},
                              {"P5\n30000 30000\n255\n", "at most 40000000"},
                              {"P5\n3 2\n65535\n", "from 1 to 255"},
                              {"P2 2 2 255 1 2 3", "expected a whole number"},
                              {"P2 2 2 255 1 2 3 300", "expected a whole number"}};
  for (const Row& row : rows) {
    CAPTURE(row.bytes);
    std::string seen = "accepted";
    try {
      (void)parse_pgm(row.bytes, "s.pgm");
    } catch (const Failure& failure) {
      seen = failure.what();
    }
    CHECK_MESSAGE(seen.find(row.expected) != std::string::npos, seen);
  }
  CHECK(rc::check([] {
    const auto bytes =
        *rc::gen::container<std::string>(rc::gen::elementOf(std::string("P52 0123456789\n#\xFF")));
    try {
      (void)read_pgm("P2 " + bytes, "s.pgm", {});
    } catch (const Failure&) {
    }
  }));
}

TEST_CASE("a scan is read from its file once the size of a pixel is given") {
  const Scratch scratch;
  const GreyImage image = rasterised(circle(20.0), 40.0, 240.0);
  const std::string path =
      scratch.file("disc.pgm", "P5\n" + std::to_string(image.width) + " " + std::to_string(image.height) +
                                   "\n255\n" + std::string(image.grey.begin(), image.grey.end()));
  ReadOptions options;
  options.user_unit = parse<Dimension::length>("1/150 in");
  CHECK(near_rel(read(path, options).shape.area_mm2(), pi * 400.0, 3e-3));
  try {
    (void)read(path, {});
    CHECK(false);
  } catch (const Failure& failure) {
    CHECK(std::string(failure.what()).find("1/150 in") != std::string::npos);
  }
}
