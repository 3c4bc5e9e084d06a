// SPDX-License-Identifier: MIT
// Outlines from lists of points and from DXF. Group codes and their meaning after the DXF reference (R12 to
// 2000).
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>
#include <string>
#include <utility>

#include "outline/outline.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using testing::near_abs;
using testing::near_rel;

namespace {

constexpr double pi = std::numbers::pi;

ReadOptions in_unit(double metres) {
  ReadOptions options;
  options.user_unit = Length{metres};
  return options;
}

ReadOptions fine() {
  ReadOptions options;
  options.tolerance = Length{1e-7};
  return options;
}

/// "0 LINE 10 0 ..." with each word on its own line.
std::string groups(const std::string& words) {
  std::string text;
  for (const char c : words) text += c == ' ' ? '\n' : c;
  return text + "\n";
}

std::string dxf(const std::string& entities, const std::string& units = "9 $INSUNITS 70 4 ",
                const std::string& tables = {}) {
  return groups("0 SECTION 2 HEADER 9 $ACADVER 1 AC1009 " + units + "0 ENDSEC " + tables +
                "0 SECTION 2 ENTITIES " + entities + "0 ENDSEC 0 EOF");
}

double dxf_area(const std::string& entities) {
  return read_dxf(dxf(entities), "t.dxf", fine()).shape.area_mm2();
}

std::string line(double x1, double y1, double x2, double y2) {
  return "0 LINE 8 0 10 " + std::to_string(x1) + " 20 " + std::to_string(y1) + " 11 " + std::to_string(x2) +
         " 21 " + std::to_string(y2) + " ";
}

const std::string box = line(0, 0, 100, 0) + line(100, 0, 100, 50) + line(100, 50, 0, 50) + line(0, 50, 0, 0);

}  // namespace

TEST_CASE("a DXF file may begin with the mark of UTF-8") {
  const double plain = read_dxf(dxf(box), "t.dxf", fine()).shape.area_mm2();
  CHECK(read_dxf("\xEF\xBB\xBF" + dxf(box), "t.dxf", fine()).shape.area_mm2() == plain);
}

TEST_CASE("CSV: heads, units, remarks, separators and holes") {
  struct Row {
    std::string text;
    double area_mm2;
    std::size_t holes;
  };
  const std::string ring = "0,0\n80,0\n80,50\n0,50\n";
  const std::vector<Row> rows{
      {"x_mm,y_mm\n" + ring, 4000.0, 0},
      {"x_in,y_in\n0,0\n2,0\n2,1\n0,1\n", 2.0 * 25.4 * 25.4, 0},
      {"x_cm , y_cm\n0,0\n8,0\n8,5\n0,5\n", 4000.0, 0},
      {"\xEF\xBB\xBFx_mm,y_mm\r\n0,0\r\n80,0\r\n80,50\r\n0,50\r\n", 4000.0, 0},
      {"# traced on paper\n\nx_mm;y_mm\n0;0\n80;0\n# corner\n80;50\n0;50", 4000.0, 0},
      {"x_mm\ty_mm\n0\t0\n+80\t0\n80\t50\n0\t5e1\n", 4000.0, 0},
      {"x_mm,y_mm\n" + ring + "\n20,20\n30,20\n30,30\n20,30\n\n\n50,20\n60,20\n60,30\n",
       4000.0 - 100.0 - 50.0, 2},
      {"x_mm,y_mm\n0,0\n80,0\n80,50\n0,50\n0,0\n", 4000.0, 0},  // the first point repeated at the end
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const Outline outline = read_csv(row.text, "t.csv", {});
    CHECK(near_rel(outline.shape.area_mm2(), row.area_mm2, 1e-12));
    CHECK(outline.shape.holes().size() == row.holes);
    CHECK_FALSE(outline.area.has_range());
  }
  CHECK(near_rel(read_csv("0,0\n80,0\n80,50\n0,50", "t.csv", in_unit(1e-3)).shape.area_mm2(), 4000.0, 1e-12));
  CHECK(near_rel(read_csv("x,y\n" + ring, "t.csv", in_unit(1e-2)).shape.area_mm2(), 400'000.0, 1e-12));
}

TEST_CASE("TOML: points with a unit, a name and holes") {
  const Outline outline = read_toml(
      "name = \"left wrist\"\nunit = \"cm\"\npoints = [[0, 0], [8.0, 0], [8, 5], [0, 5]]\n"
      "[[hole]]\npoints = [[2, 2], [3, 2], [3, 3]]\n",
      "t.toml");
  CHECK(outline.name == "left wrist");
  CHECK(near_rel(outline.shape.area_mm2(), 4000.0 - 50.0, 1e-12));
  CHECK(outline.area.basis() == Basis::entered);
  CHECK_FALSE(outline.design.has_value());
}

TEST_CASE("DXF: lines, arcs, circles, ellipses and polylines") {
  struct Row {
    std::string entities;
    double area_mm2;
  };
  const std::string light = "0 LWPOLYLINE 8 0 90 4 70 1 10 0 20 0 10 100 20 0 10 100 20 50 10 0 20 50 ";
  const std::string heavy =
      "0 POLYLINE 8 0 66 1 70 1 0 VERTEX 10 0 20 0 0 VERTEX 10 100 20 0 0 VERTEX 10 100 20 50 0 VERTEX 10 0 "
      "20 50 0 SEQEND ";
  const std::vector<Row> rows{
      {box, 5000.0},
      // drawn in no order and in both directions, as programs leave them
      {line(100, 0, 100, 50) + line(0, 0, 100, 0) + line(0, 0, 0, 50) + line(100, 50, 0, 50), 5000.0},
      {light, 5000.0},
      {heavy, 5000.0},
      {light + "0 CIRCLE 8 0 10 50 20 25 40 10 ", 5000.0 - pi * 100.0},
      {"0 CIRCLE 8 0 10 0 20 0 40 30 ", pi * 900.0},
      {"0 ELLIPSE 8 0 10 0 20 0 11 40 21 30 40 0.5 ", pi * 50.0 * 25.0},
      // a stadium: two lines and two half circles of radius 25
      {line(0, 0, 100, 0) + "0 ARC 8 0 10 100 20 25 40 25 50 270 51 90 " + line(100, 50, 0, 50) +
           "0 ARC 8 0 10 0 20 25 40 25 50 90 51 270 ",
       5000.0 + pi * 625.0},
      // the same with bulges: a half circle has bulge 1, to the left of its direction counted positive
      {"0 LWPOLYLINE 8 0 90 4 70 1 10 0 20 0 10 100 20 0 42 1 10 100 20 50 10 0 20 50 42 1 ",
       5000.0 + pi * 625.0},
      {"0 LWPOLYLINE 8 0 90 4 70 1 10 0 20 0 10 100 20 0 42 -1 10 100 20 50 10 0 20 50 42 -1 ",
       5000.0 - pi * 625.0},
      {"0 POLYLINE 8 0 66 1 70 1 0 VERTEX 10 0 20 0 0 VERTEX 10 100 20 0 42 1 0 VERTEX 10 100 20 50 0 VERTEX "
       "10 0 20 50 42 1 0 SEQEND ",
       5000.0 + pi * 625.0},
      // three quarters of a disc: bulge tan(270/4 degrees)
      {"0 LWPOLYLINE 8 0 90 3 70 1 10 50 20 0 42 2.414213562373095 10 0 20 -50 10 0 20 0 ",
       pi * 2500.0 * 0.75},
      // a quarter disc from two lines and an arc that passes 0 degrees
      {line(0, 0, 70.710678118654755, -70.710678118654755) + "0 ARC 8 0 10 0 20 0 40 100 50 315 51 45 " +
           line(70.710678118654755, 70.710678118654755, 0, 0),
       pi * 2500.0},
      // text and dimensions are no edges, and paper space is another sheet
      {box + "0 TEXT 8 0 10 5 20 5 40 3 1 wrist 0 POINT 8 0 10 500 20 0 " +
           "0 LINE 8 0 67 1 10 0 20 0 11 5 21 5 ",
       5000.0},
      // a line without length is a left-over
      {box + line(100, 0, 100, 0), 5000.0},
      // a 3-D line in a plane is flat; its flag does not say so
      {"0 POLYLINE 8 0 66 1 70 9 0 VERTEX 10 0 20 0 30 2 70 32 0 VERTEX 10 100 20 0 30 2 70 32 0 VERTEX 10 "
       "100 20 50 30 2 70 32 0 VERTEX 10 0 20 50 30 2 70 32 0 SEQEND ",
       5000.0},
      // what the program did not show is not part of the drawing
      {box + "0 CIRCLE 8 0 60 1 10 500 20 0 40 30 ", 5000.0},
      // with a layer named CUT, only that one is read
      {"0 LINE 8 NOTES 10 0 20 0 11 5 21 5 0 CIRCLE 8 Cut 10 0 20 0 40 30 ", pi * 900.0},
  };
  for (const Row& row : rows) {
    CAPTURE(row.entities);
    CHECK(near_abs(dxf_area(row.entities), row.area_mm2, 0.05));
  }
}

TEST_CASE("DXF: layers that are off or frozen are not read, unless they are asked for") {
  const std::string entities = box + "0 CIRCLE 8 off 10 500 20 0 40 30 0 CIRCLE 8 ICE 10 700 20 0 40 20 ";
  const std::string layers =
      "0 SECTION 2 TABLES 0 TABLE 2 LAYER 0 LAYER 2 0 70 0 62 7 0 LAYER 2 Off 70 0 62 -3 "
      "0 LAYER 2 Ice 70 1 62 3 0 ENDTAB 0 ENDSEC ";
  const std::string text = dxf(entities, "9 $INSUNITS 70 4 ", layers);
  CHECK(near_abs(read_dxf(text, "t.dxf", {}).shape.area_mm2(), 5000.0, 0.05));
  ReadOptions asked;
  asked.layer = "off";
  CHECK(near_abs(read_dxf(text, "t.dxf", asked).shape.area_mm2(), pi * 900.0, 20.0));  // chords within 0.1 mm
}

TEST_CASE("DXF: the unit is stated or asked for") {
  for (const auto& [code, mm] : {std::pair{1, 25.4}, {2, 304.8}, {4, 1.0}, {5, 10.0}, {6, 1000.0}}) {
    const auto& of_code = code;  // clang 14 captures no structured binding
    CAPTURE(of_code);
    const std::string text =
        dxf("0 CIRCLE 8 0 10 0 20 0 40 0.5 ", "9 $INSUNITS 70 " + std::to_string(code) + " ");
    CHECK(near_rel(read_dxf(text, "t.dxf", {}).shape.box().width_mm(), mm, 0.01));
  }
  for (const std::string units : {"", "9 $INSUNITS 70 0 "}) {
    const std::string text = dxf(box, units);
    CHECK(near_rel(read_dxf(text, "t.dxf", in_unit(0.0254)).shape.box().width_mm(), 2540.0, 1e-12));
    CHECK_THROWS_AS(read_dxf(text, "t.dxf", {}), Failure);
  }
}

TEST_CASE("DXF: a hundred thousand single lines are joined quickly") {
  std::string entities;
  constexpr int count = 100'000;
  const auto at = [](int i) {
    const double angle = 2.0 * pi * (i % count) / count;
    return std::pair{1000.0 * std::cos(angle), 1000.0 * std::sin(angle)};
  };
  for (int i = 0; i < count; ++i) {
    const auto [x1, y1] = at(i);
    const auto [x2, y2] = at(i + 1);
    entities += line(x1, y1, x2, y2);
  }
  ReadOptions options;
  options.tolerance = Length{1e-5};
  // 10^5 chords draw 2 x 10^5 points, the most that is read.
  CHECK(near_rel(read_dxf(dxf(entities), "t.dxf", options).shape.area_mm2(), pi * 1e6, 1e-6));
}

TEST_CASE("any bytes are read or refused, never more") {
  const auto either = [](const auto& reading) {
    try {
      reading();
    } catch (const Failure&) {
    }
  };
  CHECK(rc::check([&] {
    const auto csv =
        *rc::gen::container<std::string>(rc::gen::elementOf(std::string("0123456789.,;\t\n#xy_mine+-")));
    either([&] { (void)read_csv("x_mm,y_mm\n" + csv, "t.csv", {}); });
    either([&] { (void)read_csv(csv, "t.csv", in_unit(1e-3)); });
    either([&] { (void)read_dxf(csv, "t.dxf", {}); });
    either([&] { (void)read_toml("unit = \"mm\"\npoints = [" + csv + "]", "t.toml"); });
  }));
}

TEST_CASE("any values in a DXF drawing are read or refused, never more") {
  CHECK(rc::check([] {
    const std::vector<std::string> names{"LINE",       "ARC",      "CIRCLE", "ELLIPSE",
                                         "LWPOLYLINE", "POLYLINE", "VERTEX", "SEQEND"};
    const std::vector<std::string> codes{"10", "20", "11", "21", "40", "41", "42", "50", "51", "70", "8"};
    const std::vector<std::string> values{"0",      "1",   "-1", "90",    "1e308", "-1e308",
                                          "1e-308", "0.5", "7",  "65536", "100"};
    std::string entities;
    for (int i = *rc::gen::inRange(1, 6); i > 0; --i) {
      entities += "0 " + *rc::gen::elementOf(names) + " ";
      for (int k = *rc::gen::inRange(0, 12); k > 0; --k)
        entities += *rc::gen::elementOf(codes) + " " + *rc::gen::elementOf(values) + " ";
    }
    try {
      (void)read_dxf(dxf(entities), "t.dxf", {});
    } catch (const Failure&) {
    }
  }));
}

TEST_CASE("a file is read by its ending") {
  const testing::Scratch scratch;
  const std::string csv = scratch.file("wrist.CSV", "x_mm,y_mm\n0,0\n80,0\n80,50\n");
  CHECK(read(csv, {}).shape.area_mm2() == 2000.0);
  CHECK(read(csv, {}).name == "wrist");
  for (const std::string name : {"wrist.pdf", "wrist"}) {
    try {
      (void)read(scratch.file(name, ""), {});
      CHECK(false);
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::usage);
      CHECK(std::string(failure.what()).find(".svg, .dxf, .csv or .toml") != std::string::npos);
    }
  }
}

TEST_CASE("the example outlines are read, each a wrist pattern with its holes") {
  struct Row {
    std::string file;
    std::size_t holes;
    double cm2_from;  // what such patterns take, common practice, no source
    double cm2_to;
  };
  const std::vector<Row> rows{{"volar-wrist-traced.svg", 0, 150.0, 300.0},
                              {"dorsal-wrist-traced.csv", 0, 150.0, 300.0},
                              {"circumferential-wrist-traced.toml", 1, 250.0, 500.0}};
  for (const Row& row : rows) {
    CAPTURE(row.file);
    const Outline outline = read(std::string(WARMSHEET_SOURCE_DIR) + "/examples/outlines/" + row.file, {});
    CHECK(outline.shape.holes().size() == row.holes);
    CHECK(outline.area.value() > row.cm2_from);
    CHECK(outline.area.value() < row.cm2_to);
  }
}
