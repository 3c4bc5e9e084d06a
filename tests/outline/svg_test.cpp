// SPDX-License-Identifier: MIT
// Path cases against areas in closed form, after the rules of SVG 1.1 (W3C Recommendation, second edition:
// chapter 8 paths, 9 basic shapes, 7.6 transforms, 7.7 and 7.8 viewBox, appendix F.6 arcs). raster_test.cpp
// holds the same reader against another program's rendering.
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <rapidcheck.h>

#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "outline/outline.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using testing::near_abs;
using testing::near_rel;

namespace {

constexpr double pi = std::numbers::pi;

std::string svg(const std::string& body,
                const std::string& head = "width='400mm' height='400mm' viewBox='0 0 400 400'") {
  return "<svg xmlns='http://www.w3.org/2000/svg' " + head + ">" + body + "</svg>";
}

Outline read_body(const std::string& body, const ReadOptions& options = {}) {
  return read_svg(svg(body), "t.svg", options);
}

double area_of(const std::string& body) {
  ReadOptions fine;
  fine.tolerance = Length{1e-7};
  return read_body(body, fine).shape.area_mm2();
}

std::string path(const std::string& data) {
  return "<path d='" + data + "'/>";
}

std::string refusal(const std::string& text, const ReadOptions& options = {}) {
  try {
    const Outline outline = read_svg(text, "t.svg", options);
    return "accepted with " + std::to_string(outline.shape.area_mm2()) + " mm2";
  } catch (const Failure& failure) {
    return failure.what();
  }
}

}  // namespace

TEST_CASE("every path command draws its shape") {
  struct Row {
    std::string data;
    double area_mm2;
  };
  const std::vector<Row> rows{
      {"M0 0 L100 0 L100 50 L0 50 Z", 5000.0},
      {"M0,0L100,0 100,50 0,50z", 5000.0},
      {"M0 0 100 0 100 50 0 50 Z", 5000.0},   // further pairs after M are lines
      {"m10 10 100 0 0 50 -100 0z", 5000.0},  // and relative after m
      {"M10 10H110V60H10Z", 5000.0},
      {"M10 10h100v50h-100z", 5000.0},
      {"M0 0h100 20v50h-120z", 6000.0},                    // H and V repeat too
      {"M0 0 Q50 100 100 0 Z", 2.0 / 3.0 * 100.0 * 50.0},  // a parabola's segment is two thirds of its box
      {"m0 0q50 100 100 0z", 2.0 / 3.0 * 100.0 * 50.0},
      {"M0 0 Q50 100 100 0 T200 0 L200 200 L0 200Z",
       40000.0},  // T goes on with the mirrored control: below, then above
      {"M0 0q50 100 100 0t100 0V200H0Z", 40000.0},
      {"M0 0 T100 0 L100 100 L0 100 Z", 10000.0},  // T without Q before it is a line
      {"M0 0 C0 100 100 100 100 0 Z", 6000.0},     // 3/20 of the cross products: exact by the area integral
      {"m0 0c0 100 100 100 100 0z", 6000.0},
      {"M0 0 C0 100 100 100 100 0 S200 -100 200 0 L200 200 L0 200 Z", 40000.0},
      {"M0 0c0 100 100 100 100 0s100-100 100 0V200H0z", 40000.0},
      {"M0 0 S100 100 100 0 Z",
       3.0 / 20.0 * (2.0 * 100.0 * 100.0)},  // S without C: the first control is the start
      {"M100 50 A50 50 0 1 1 0 50 A50 50 0 1 1 100 50 Z", pi * 2500.0},
      {"M100 50a50 50 0 1 1-100 0a50 50 0 1 1 100 0z", pi * 2500.0},
      {"M0 50 A50 50 0 0 1 100 50 Z", pi * 1250.0},
      {"M0 50 A50 50 0 0 0 100 50 Z", pi * 1250.0},
      {"M0 50a50 50 0 01100 0z", pi * 1250.0},                // flags need no gaps
      {"M0 50A10 10 0 0 1 100 50Z", pi * 1250.0},             // too small a radius grows (F.6.6)
      {"M0 50A-50-50 0 0 1 100 50Z", pi * 1250.0},            // a negative one loses its sign
      {"M0 50A0 30 0 0 1 100 50L100 100L0 100Z", 5000.0},     // a zero one is a line
      {"M50 0A50 50 0 1 1 0 50L50 50Z", pi * 2500.0 * 0.75},  // three quarters of a disc
      {"M50 0A50 50 0 0 0 0 50L50 50Z", pi * 2500.0 * 0.25},
      {"M0 0L1e2 0L1E+2 5e1L0 50Z", 5000.0},
      {"M.5.5l100 0 0 50-100 0z", 5000.0},
      {"M0-0L+100 0L100 50L0 50Z", 5000.0},
  };
  for (const Row& row : rows) {
    CAPTURE(row.data);
    // Chords of curves within 1e-4 mm over some 300 mm of edge.
    CHECK(near_abs(area_of(path(row.data)), row.area_mm2, 0.03));
  }
}

TEST_CASE("a turned ellipse keeps its area, and its box follows from its axes") {
  // Whole ellipse 60 x 30 turned by 30 degrees: half width sqrt(60^2 cos^2 + 30^2 sin^2).
  ReadOptions fine;
  fine.tolerance = Length{1e-6};
  const double c = std::cos(pi / 6.0);
  const double s = std::sin(pi / 6.0);
  // Half an ellipse: the ends lie as far apart as they can, so their digits decide where the middle is.
  const auto pair = [](double x, double y) { return fmt::format("{} {}", x, y); };
  const std::string start = pair(100 + 60 * c, 100 + 60 * s);
  const std::string across = pair(100 - 60 * c, 100 - 60 * s);
  const Outline outline =
      read_body(path("M" + start + "A60 30 30 0 1 " + across + "A60 30 30 0 1 " + start + "Z"), fine);
  CHECK(near_rel(outline.shape.area_mm2(), pi * 1800.0, 1e-4));
  CHECK(near_abs(outline.shape.box().width_mm(), 2.0 * std::hypot(60.0 * c, 30.0 * s), 0.01));
  CHECK(near_abs(outline.shape.box().height_mm(), 2.0 * std::hypot(60.0 * s, 30.0 * c), 0.01));
}

TEST_CASE("basic shapes") {
  struct Row {
    std::string body;
    double area_mm2;
  };
  const std::vector<Row> rows{
      {"<rect x='10' y='20' width='100' height='50'/>", 5000.0},
      {"<rect width='100' height='50' rx='10'/>", 5000.0 - (4.0 - pi) * 100.0},
      {"<rect width='100' height='50' rx='10' ry='5'/>", 5000.0 - (4.0 - pi) * 50.0},
      {"<rect width='100' height='50' rx='500'/>",
       pi * 50.0 * 25.0},  // rx stops at half the width, and so does ry
      {"<circle cx='50' cy='50' r='50'/>", pi * 2500.0},
      {"<ellipse cx='50' cy='50' rx='50' ry='20'/>", pi * 1000.0},
      {"<polygon points='0,0 100,0 100,50 0,50'/>", 5000.0},
      {"<polyline points='0,0 100,0 100,50 0,50 0,0'/>", 5000.0},
  };
  for (const Row& row : rows) {
    CAPTURE(row.body);
    CHECK(near_abs(area_of(row.body), row.area_mm2, 0.03));
  }
}

TEST_CASE("lengths with a unit inside a shape count 96 to the inch in user units, whatever the viewBox") {
  // CSS 2.1, 4.3.2. The viewBox makes one user unit 1 mm, so 1 in = 96 user units = 96 mm.
  CHECK(near_rel(area_of("<rect width='1in' height='25.4mm'/>"), 96.0 * 96.0, 1e-12));
}

TEST_CASE("transforms apply from the inside out and nest") {
  struct Row {
    std::string open;
    double factor;  // of the area
    Point corner;   // where the shape's own origin lands, y down
  };
  const std::vector<Row> rows{
      {"<g transform='translate(30,40)'>", 1.0, {30.0, 40.0}},
      {"<g transform='translate(30)'>", 1.0, {30.0, 0.0}},
      {"<g transform='scale(2)'>", 4.0, {0.0, 0.0}},
      {"<g transform='scale(2,3)'>", 6.0, {0.0, 0.0}},
      {"<g transform='matrix(0 1 -1 0 200 10)'>", 1.0, {200.0, 10.0}},
      {"<g transform='rotate(90 50 50)'>", 1.0, {100.0, 0.0}},
      {"<g transform='translate(100 0) rotate(90)'>", 1.0, {100.0, 0.0}},
      {"<g transform='rotate(90) translate(100 0)'>", 1.0, {0.0, 100.0}},
      {"<g transform='skewX(45)'>", 1.0, {0.0, 0.0}},
      {"<g transform='skewY(30)'>", 1.0, {0.0, 0.0}},
      {"<g transform='scale(2)'><g transform='translate(10,10)'>", 4.0, {20.0, 20.0}},
      {"<g transform='translate(10,10)'><g transform='scale(2)'>", 4.0, {10.0, 10.0}},
      {"<g transform=' scale( 2 ) , translate(1 ,1) '>", 4.0, {2.0, 2.0}},
  };
  for (const Row& row : rows) {
    CAPTURE(row.open);
    std::string close = "</g>";
    if (row.open.find("<g", 2) != std::string::npos) close += "</g>";
    const Polygon shape = read_body(row.open + path("M0 0L60 0L60 30L0 50Z") + close).shape;
    CHECK(near_rel(shape.area_mm2(), 60.0 * 40.0 * row.factor, 1e-12));
    double nearest = 1e9;
    for (const Point& p : shape.outer())
      nearest = std::min(nearest, std::hypot(p.x_mm - row.corner.x_mm, p.y_mm + row.corner.y_mm));
    CHECK(near_abs(nearest, 0.0, 1e-9));
  }
}

TEST_CASE("a curve is flattened after its transform, so the tolerance is one on the bench") {
  ReadOptions coarse;
  coarse.tolerance = Length{1e-3};
  const Outline plain = read_body("<circle cx='100' cy='100' r='80'/>", coarse);
  const Outline grown = read_body("<g transform='scale(80)'><circle cx='1.25' cy='1.25' r='1'/></g>", coarse);
  CHECK(plain.shape.outer().size() == grown.shape.outer().size());
  CHECK(near_rel(plain.shape.area_mm2(), grown.shape.area_mm2(), 1e-12));
}

TEST_CASE("the drawing's size decides the scale") {
  struct Row {
    std::string head;
    double mm;  // of one user unit
  };
  const std::vector<Row> rows{
      {"width='210mm' height='297mm' viewBox='0 0 210 297'", 1.0},
      {"width='21cm' height='29.7cm' viewBox='0 0 210 297'", 1.0},
      {"width='8in' height='10in' viewBox='0 0 203.2 254'", 1.0},
      {"width='8in' height='10in' viewBox='0 0 8 10'", 25.4},
      {"width='72pt' height='72pt' viewBox='0 0 100 100'", 0.254},
      {"width='6pc' height='6pc' viewBox='0 0 100 100'", 0.254},
      {"width='400Q' height='400Q' viewBox='0 0 100 100'", 1.0},
      {"width='200mm' viewBox='0 0 100 100'", 2.0},
      {"height='200mm' viewBox='0 0 100 100'", 2.0},
      {"width='200mm' height='300mm' viewBox='0 0 100 100'", 2.0},  // meet: the smaller
      {"width='200mm' height='300mm' viewBox='0 0 100 100' preserveAspectRatio='xMidYMid slice'", 3.0},
      {"width='200mm' height='200mm' viewBox='-50 -50 100 100'", 2.0},
  };
  for (const Row& row : rows) {
    CAPTURE(row.head);
    const Outline outline = read_svg(svg("<rect width='20' height='30'/>", row.head), "t.svg", {});
    CHECK(near_rel(outline.shape.box().width_mm(), 20.0 * row.mm, 1e-12));
    CHECK(near_rel(outline.shape.box().height_mm(), 30.0 * row.mm, 1e-12));
  }
  const std::string free = "width='200mm' height='300mm' viewBox='0 0 100 100' preserveAspectRatio='none'";
  const Outline stretched = read_svg(svg("<rect width='20' height='30'/>", free), "t.svg", {});
  CHECK(near_rel(stretched.shape.box().width_mm(), 40.0, 1e-12));
  CHECK(near_rel(stretched.shape.box().height_mm(), 90.0, 1e-12));
}

TEST_CASE("a size that is not clear is refused until the unit is given") {
  for (const std::string head :
       {"", "viewBox='0 0 100 100'", "width='100' height='100' viewBox='0 0 100 100'",
        "width='100px' height='100px' viewBox='0 0 100 100'",
        "width='100%' height='100%' viewBox='0 0 100 100'", "width='100mm' height='100mm'",
        "width='20em' height='20em' viewBox='0 0 100 100'"}) {
    CAPTURE(head);
    const std::string text = svg("<rect width='96' height='48'/>", head);
    CHECK(refusal(text).find("1/96 in") != std::string::npos);
    ReadOptions css;
    css.user_unit = parse<Dimension::length>("1/96 in");
    const Outline outline = read_svg(text, "t.svg", css);
    CHECK(near_rel(outline.shape.box().width_mm(), 25.4, 1e-12));
    CHECK(near_rel(outline.shape.box().height_mm(), 12.7, 1e-12));
  }
}

TEST_CASE("a unit that contradicts the drawing is refused") {
  ReadOptions wrong;
  wrong.user_unit = Length{0.0254};
  const std::string text = svg("<rect width='20' height='30'/>");
  CHECK(refusal(text, wrong).find("states a user unit of 1 mm, but 25.4 mm was given") != std::string::npos);
  ReadOptions right;
  right.user_unit = Length{1e-3};
  CHECK(read_svg(text, "t.svg", right).shape.area_mm2() == 600.0);
}

TEST_CASE("a tolerance or a unit that no drawing has is refused") {
  const std::string text = svg("<rect width='20' height='30'/>");
  for (const double tolerance_m : {0.0, -1e-4, 1.0, std::nan("")}) {
    ReadOptions options;
    options.tolerance = Length{tolerance_m};
    CHECK(refusal(text, options).find("the tolerance of curves must lie between") != std::string::npos);
  }
  ReadOptions options;
  options.user_unit = Length{0.0};
  CHECK(refusal(text, options).find("must be a length above zero") != std::string::npos);
}

TEST_CASE("holes follow from nesting, in one path or in several shapes") {
  const std::string outer = "M0 0H100V100H0Z";
  CHECK(near_rel(area_of(path(outer + "M20 20H40V40H20Z")), 9600.0, 1e-12));
  CHECK(near_rel(area_of("<rect x='20' y='20' width='20' height='20'/>" + path(outer)), 9600.0, 1e-12));
  const Outline two =
      read_body(path(outer) + "<circle cx='30' cy='30' r='10'/><g><circle cx='70' cy='70' r='10'/></g>");
  CHECK(two.shape.holes().size() == 2);
  CHECK(two.holes.si() == 2.0);
}

TEST_CASE("loose lines and curves are joined end to end, in any order and direction") {
  // A stadium of 60 x 40 mm: two lines and two half circles.
  const std::vector<std::string> parts{
      "<line x1='20' y1='10' x2='80' y2='10'/>", "<path d='M80 50A20 20 0 0 0 80 10'/>",
      "<polyline points='80,50 50,50 20,50'/>", "<path d='M20 10A20 20 0 0 0 20 50'/>"};
  const double area = 60.0 * 40.0 + std::numbers::pi * 400.0;
  const std::string hole = "<circle cx='50' cy='30' r='5'/>";
  ReadOptions fine;
  fine.tolerance = Length{1e-5};
  for (const auto& order :
       std::vector<std::array<std::size_t, 4>>{{0, 1, 2, 3}, {3, 1, 0, 2}, {2, 0, 3, 1}}) {
    std::string body = hole;
    for (const std::size_t i : order) body += parts[i];
    CHECK(
        near_rel(read_svg(svg(body), "t.svg", fine).shape.area_mm2(), area - std::numbers::pi * 25.0, 1e-3));
  }
  const std::string branch =
      svg(parts[0] + parts[1] + parts[2] + parts[3] + "<line x1='80' y1='10' x2='90' y2='0'/>");
  CHECK(refusal(branch, fine).find("more than two lines meet at x = 80.00 mm, y = 10.00 mm") !=
        std::string::npos);
}

TEST_CASE("what is no edge is passed over, and a layer named cut is read alone") {
  const std::string rect = "<rect width='20' height='30'/>";
  const std::string other = "<rect x='100' width='20' height='30'/>";
  for (const std::string& extra :
       {std::string("<text x='200' y='5'>wrist</text>"), "<defs>" + other + "</defs>",
        "<clipPath id='c'>" + other + "</clipPath>", "<symbol>" + other + "</symbol>",
        std::string("<title>pattern</title>"), std::string("<image href='x.png'/>"),
        std::string("<style>rect { fill: none }</style>"), "<g display='none'>" + other + "</g>",
        "<g style='display:none'>" + other + "</g>", "<g style='fill:none; display : none'>" + other + "</g>",
        std::string("<rect x='100' width='20' height='30' visibility='hidden'/>"),
        "<defs><style>.a,.off { fill: red; display: none }</style></defs><g class='b off'>" + other + "</g>",
        "<style>#notes{display:none}</style><g id='notes'>" + other + "</g>",
        std::string("<rect x='100' width='0' height='30'/>"), std::string("<path d=''/>"),
        std::string("<!-- " + other + " -->"), std::string("<sodipodi:namedview xmlns:sodipodi='s'/>")}) {
    CAPTURE(extra);
    CHECK(read_body(rect + extra).shape.area_mm2() == 600.0);
  }
  const std::string ruler = "<path d='M0 200H300'/>" + other;
  for (const std::string& marked :
       {"<g id='cut'>" + rect + "</g>", "<g xmlns:k='k' k:label='cut'>" + rect + "</g>",
        std::string("<rect class='line cut' width='20' height='30'/>"),
        "<g id='cut'><g>" + rect + "</g></g>"}) {
    CAPTURE(marked);
    CHECK(read_body(ruler + marked).shape.area_mm2() == 600.0);
  }
  ReadOptions named;
  named.layer = "left";
  CHECK(read_svg(svg(ruler + "<g id='left'>" + rect + "</g>"), "t.svg", named).shape.area_mm2() == 600.0);
  CHECK(refusal(svg(rect), named).find("no layer, group or shape is called 'left'") != std::string::npos);
}

TEST_CASE("the figures carry the file, the basis entered, and the tolerance as range") {
  const Outline outline = read_body("<circle cx='100' cy='100' r='50'/>");
  CHECK(outline.name == "t");
  CHECK(outline.area.basis() == Basis::entered);
  CHECK(outline.area.origin()->place.file == "t.svg");
  CHECK(outline.area.low() < pi * 25.0);
  CHECK(outline.area.high() > pi * 25.0);
  // Chords with a sagitta of 0.1 mm leave out two thirds of it along the edge: 0.13 % of each half axis.
  CHECK(near_rel(outline.area.value(), pi * 25.0, 3e-3));
  CHECK(near_rel(outline.width.value(), 100.0, 2e-3));
}

TEST_CASE("chords leave a Bezier curve by no more than the tolerance") {
  CHECK(rc::check([] {
    const auto c = [] { return std::to_string(*rc::gen::inRange(0, 200)); };
    const std::string curve = "M0 0C" + c() + " " + c() + " " + c() + " " + c() + " 250 0";
    // Closed far below, so that no curve crosses it.
    const auto area = [&](double tolerance_m) {
      ReadOptions options;
      options.tolerance = Length{tolerance_m};
      return read_svg(svg(path(curve + "L250 300L0 300Z")), "t.svg", options).shape.area_mm2();
    };
    try {
      // 1 mm tolerance against 1e-4 mm: the areas differ by less than 1 mm times the curve's length (below
      // 900 mm).
      RC_ASSERT(near_abs(area(1e-3), area(1e-7), 900.0).near);
    } catch (const Failure&) {  // a loop: crosses itself, and is refused at both tolerances
      RC_DISCARD("loop");
    }
  }));
}

TEST_CASE("any attribute text is read or refused, never more") {
  CHECK(rc::check([] {
    const auto data = *rc::gen::container<std::string>(
        rc::gen::elementOf(std::string("MmLlHhVvCcSsQqTtAaZz0123456789.,-+e ")));
    (void)refusal(svg("<path d='M" + data + "'/>"));
    (void)refusal(svg("<g transform='" + data + "'><rect width='9' height='9'/></g>"));
    (void)refusal(svg("<polygon points='" + data + "'/>"));
  }));
}

TEST_CASE("counts are bounded before any geometry is done") {
  std::string line = "M0 0";
  for (int i = 0; i < 1'000'000; ++i) line += " 1 1";
  CHECK(refusal(svg(path(line + "Z"))).find("more than 200000 points") != std::string::npos);
  std::string many;
  for (int i = 0; i < 100'001; ++i) many += "<g/>";
  CHECK(refusal(svg(many)).find("more than 100000 elements") != std::string::npos);
  std::string deep;
  for (int i = 0; i < 20'000; ++i) deep += "<g>";
  std::string back;
  for (int i = 0; i < 20'000; ++i) back += "</g>";
  CHECK(refusal(svg(deep + back)).find("too deeply") != std::string::npos);
  std::string rings;
  for (int i = 0; i < 1200; ++i) rings += "<rect x='" + std::to_string(i) + "' width='0.5' height='0.5'/>";
  CHECK(refusal(svg(rings)).find("at most 1000 are read") != std::string::npos);
  // The entities of a "billion laughs" file are never expanded.
  const std::string bomb = "<!DOCTYPE svg [<!ENTITY a '" + std::string(50, '1') +
                           "'><!ENTITY b '&a;&a;&a;&a;'>]>" + svg(path("M0 0L&b; 0L9 9Z"));
  CHECK(refusal(bomb).find("expected a number") != std::string::npos);
}
