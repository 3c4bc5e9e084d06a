// SPDX-License-Identifier: MIT
// The reader's area against the ink of a rendering: librsvg draws the same file to PDF and poppler rasterises
// it, two general-purpose programs that share no code with this reader.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include "outline/outline.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using testing::near_abs;
using testing::near_rel;
using testing::Scratch;

namespace {

/// The ink on a rendered page, mm2: grey pixels count by their darkness.
double ink_mm2(const Scratch& scratch, const std::string& svg_path) {
  const std::string pdf = scratch.path("page.pdf");
  const std::string root = scratch.path("page");
  const std::string draw = std::string(RSVG_CONVERT) + " -f pdf -o " + pdf + " " + svg_path;
  const std::string raster = std::string(PDFTOPPM) + " -r 300 -gray -singlefile " + pdf + " " + root;
  REQUIRE(std::system(draw.c_str()) == 0);
  REQUIRE(std::system(raster.c_str()) == 0);
  std::ifstream file(root + ".pgm", std::ios::binary);
  std::string magic;
  int width = 0;
  int height = 0;
  int white = 0;
  file >> magic >> width >> height >> white;
  REQUIRE(magic == "P5");
  file.get();
  std::vector<char> pixels(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  file.read(pixels.data(), static_cast<std::streamsize>(pixels.size()));
  double ink = 0.0;
  for (const char pixel : pixels) ink += 1.0 - static_cast<unsigned char>(pixel) / static_cast<double>(white);
  constexpr double pixel_mm = 25.4 / 300.0;
  return ink * pixel_mm * pixel_mm;
}

}  // namespace

TEST_CASE("a PNG scan written by another program is read with its own resolution") {
  // A pattern of 100 x 60 mm with a round hole of 12 mm radius, drawn by librsvg and rastered by poppler.
  const Scratch scratch;
  const std::string path = scratch.file(
      "page.svg",
      "<svg xmlns='http://www.w3.org/2000/svg' width='140mm' height='100mm' viewBox='0 0 140 100'>"
      "<g transform='rotate(4 70 50)'><path fill='#222' d='M20 20H120V80H20Z'/><circle fill='#fff' cx='70' "
      "cy='50' r='12'/></g></svg>");
  const std::string pdf = scratch.path("page.pdf");
  const std::string root = scratch.path("page");
  REQUIRE(std::system((std::string(RSVG_CONVERT) + " -f pdf -o " + pdf + " " + path).c_str()) == 0);
  REQUIRE(std::system((std::string(PDFTOPPM) + " -r 150 -png -singlefile " + pdf + " " + root).c_str()) == 0);
  const Outline seen = read(root + ".png", {});
  const double hole = std::numbers::pi * 12.0 * 12.0;
  CHECK(near_rel(seen.shape.area_mm2(), 100.0 * 60.0 - hole, 2e-3));
  REQUIRE(seen.shape.holes().size() == 1);
  CHECK(near_rel(-signed_area_mm2(seen.shape.holes()[0]), hole, 5e-3));
}

TEST_CASE("the area that is read is the area that another program draws") {
  const std::vector<std::string> bodies{
      "<path d='M10 10H110V60H10Z'/>",
      "<path d='M10 60C10 10 60 -10 60 40S110 110 110 60L110 110H10Z'/>",
      "<path d='M10 60c0-50 50-70 50-20s50 70 50 20l0 50h-100z'/>",
      "<path d='M10 60Q35 10 60 60T110 60V110H10Z'/>",
      "<path d='M10 60q25-50 50 0t50 0v50H10z'/>",
      "<path d='M20 60A30 20 25 1 1 80 70L60 100Z'/>",
      "<path d='M20 60A30 20 25 0 0 80 70L60 20Z'/>",
      "<path d='M20 60a10 5 -40 0160 10l-20 30z'/>",
      "<path d='M40 40A35 25 70 1 0 80 50L60 30Z'/>",
      "<path d='M10 10H110V110H10ZM30 30V60H60V30Z'/>",
      "<rect x='10' y='20' width='80' height='60' rx='15' ry='25'/>",
      "<rect x='10' y='20' width='80' height='60' rx='15'/>",
      "<ellipse cx='60' cy='60' rx='50' ry='20' transform='rotate(33 60 60)'/>",
      "<circle cx='60' cy='60' r='45'/>",
      "<polygon points='10,10 100,30 80,110 20,90'/>",
      "<g transform='translate(60 60) rotate(20)'><g transform='scale(1.5 0.7) skewX(15)'>"
      "<path d='M-30 -30H30V30H-30Z'/></g></g>",
      "<g transform='matrix(0.8 0.3 -0.2 1.1 20 -10)'><circle cx='50' cy='50' r='30'/></g>",
      "<path d='M.5.5L100 0 100 50Z' transform='translate(5 5)'/>",
      // Half a wrist pattern as a drawing program leaves it, relative throughout.
      "<path d='m 20,110 c -6,-20 -4,-40 2,-58 2,-8 -6,-22 -4,-34 1,-8 12,-12 30,-13 l 40,-2 c 12,0 14,18 "
      "2,20 l -30,3 c -14,2 -18,30 0,38 12,6 22,30 24,46 z'/>",
  };
  for (const std::string& body : bodies) {
    CAPTURE(body);
    const Scratch scratch;
    const std::string path = scratch.file(
        "page.svg",
        "<svg xmlns='http://www.w3.org/2000/svg' width='120mm' height='120mm' viewBox='0 0 120 120'>"
        "<g fill-rule='evenodd'>" +
            body + "</g></svg>");
    ReadOptions fine;
    fine.tolerance = Length{1e-6};
    const Outline outline = read(path, fine);
    // Anti-aliased edges are good to a hundredth of a pixel on the average: 0.001 mm along the edge, and 0.05
    // % for grey levels in 255 steps.
    const double allowed = 0.003 * outline.shape.perimeter_mm() + 5e-4 * outline.shape.area_mm2();
    CHECK(near_abs(outline.shape.area_mm2(), ink_mm2(scratch, path), allowed));
  }
}
