// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <pugixml.hpp>
#include <set>
#include <sstream>

#include "report/measure.h"
#include "report/sample.h"
#include "report/writers.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::report;
using warmsheet::testing::near_abs;

namespace {

pugi::xml_node parsed(pugi::xml_document& document, const std::string& svg) {
  const pugi::xml_parse_result result = document.load_buffer(svg.data(), svg.size());
  CAPTURE(result.description());
  REQUIRE(result);
  return document.child("svg");
}

void for_each_node(const pugi::xml_node& node, const std::function<void(const pugi::xml_node&)>& visit) {
  visit(node);
  for (const pugi::xml_node& child : node.children()) for_each_node(child, visit);
}

std::vector<double> numbers(const std::string& text) {
  std::istringstream stream(text);
  std::vector<double> found;
  for (double number = 0.0; stream >> number;) found.push_back(number);
  return found;
}

void check_accessible(const pugi::xml_node& svg) {
  CHECK(std::string(svg.attribute("role").value()) == "img");
  REQUIRE(std::string(svg.first_child().name()) == "title");
  CHECK(std::string(svg.first_child().next_sibling().name()) == "desc");
  CHECK(*svg.first_child().text().get() != '\0');
  const std::string wanted = std::string(svg.child("title").attribute("id").value()) + " " +
                             svg.child("desc").attribute("id").value();
  CHECK(svg.attribute("aria-labelledby").value() == wanted);
  std::set<std::string> ids;
  for_each_node(svg, [&](const pugi::xml_node& node) {
    const std::string id = node.attribute("id").value();
    if (!id.empty()) CHECK(ids.insert(id).second);
  });
  for_each_node(svg, [&](const pugi::xml_node& node) {
    const std::string fill = node.attribute("fill").value();
    if (fill.rfind("url(#", 0) == 0) CHECK(ids.count(fill.substr(5, fill.size() - 6)) == 1);
  });
}

std::set<std::string> dashes_of(const pugi::xml_node& svg) {
  std::set<std::string> dashes;
  for_each_node(svg, [&](const pugi::xml_node& node) {
    if (node.attribute("stroke-dasharray")) dashes.insert(node.attribute("stroke-dasharray").value());
  });
  return dashes;
}

}  // namespace

TEST_CASE("one user unit of a drawing is one millimetre, said in size and view box") {
  for (const Drawing& drawing : {sample::drawing(), sample::sheet()}) {
    pugi::xml_document document;
    const pugi::xml_node svg = parsed(document, to_svg(drawing));
    const std::vector<double> box = numbers(svg.attribute("viewBox").value());
    REQUIRE(box.size() == 4);
    const std::string width = svg.attribute("width").value();
    const std::string height = svg.attribute("height").value();
    CHECK(width.substr(width.size() - 2) == "mm");
    CHECK(near_abs(std::stod(width), box[2], 1e-9));
    CHECK(near_abs(std::stod(height), box[3], 1e-9));
    check_accessible(svg);
  }
}

TEST_CASE("the drawing stands upright: high y is high on the page, letters are not turned") {
  pugi::xml_document document;
  const std::string text = to_svg(sample::drawing());
  const pugi::xml_node svg = parsed(document, text);
  double distal_y = 0.0;
  double strap_y = 0.0;
  for (const pugi::xml_node& node : svg.children("text")) {
    if (std::string(node.text().get()) == "<distal>") distal_y = node.attribute("y").as_double();
    if (std::string(node.text().get()) == "strap 50 mm") strap_y = node.attribute("y").as_double();
    CHECK_FALSE(node.attribute("transform"));
  }
  CHECK(distal_y < strap_y);
  // Only hatches are turned; a mirrored group would mirror letters with it.
  CHECK(text.find("scale(") == std::string::npos);
  CHECK(text.find(" transform=") == std::string::npos);
}

TEST_CASE("the outline keeps its coordinates, y negated") {
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(sample::drawing()));
  const std::string data = svg.child("path").attribute("d").value();
  const outline::Point first = sample::drawing().shapes[0].polygon.outer().front();
  std::istringstream stream(data.substr(1));
  double x = 0.0;
  double y = 0.0;
  stream >> x >> y;
  CHECK(near_abs(x, first.x_mm, 1e-3));
  CHECK(near_abs(y, -first.y_mm, 1e-3));
  // The hole is a ring of the same path, cut out by the even-odd rule.
  CHECK(std::count(data.begin(), data.end(), 'Z') == 2);
  CHECK(std::string(svg.child("path").attribute("fill-rule").value()) == "evenodd");
}

TEST_CASE("every kind of line has a dash of its own, named in the key") {
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(sample::drawing()));
  CHECK(dashes_of(svg).size() == 8);  // cut and dimension are solid
  std::set<std::string> words;
  for (const pugi::xml_node& node : svg.children("text")) words.insert(node.text().get());
  for (const char* meaning :
       {"cut", "fold", "edge margin", "sheet edge", "offcut to keep", "strap", "dimension", "guide",
        "trim back to here at most", "flare from here to the edge"})
    CHECK(words.count(meaning) == 1);
}

TEST_CASE("curves are told apart beside their names, and no name is cut off") {
  Plot plot;
  plot.id = "stock";
  plot.title = "Sheets";
  for (const char* name : {"mean", "95 %", "draping-lined-child/2.0-micro"})
    plot.curves.push_back({name, {0.0, 1.0}, {1.0, static_cast<double>(plot.curves.size())}});
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(plot));
  const double width = numbers(svg.attribute("viewBox").value()).at(2);
  int names = 0;
  for (const pugi::xml_node& node : svg.children("text")) {
    const std::string text = node.text().get();
    const bool named = std::any_of(plot.curves.begin(), plot.curves.end(),
                                   [&](const Plot::Curve& curve) { return curve.name == text; });
    if (!named) continue;
    ++names;
    double wide = 0.0;  // letters of a wide common face; from memory
    for (const char c : text) wide += std::string("mwMW%").find(c) != std::string::npos ? 0.97 : 0.62;
    CHECK(node.attribute("x").as_double() + wide * node.attribute("font-size").as_double() <= width);
  }
  CHECK(names == 3);
  // Each dash pattern twice: the curve, and the sample of it before its name.
  std::multiset<std::string> patterns;
  for_each_node(svg, [&](const pugi::xml_node& node) {
    if (node.attribute("stroke-dasharray")) patterns.insert(node.attribute("stroke-dasharray").value());
  });
  for (const std::string& pattern : patterns) CHECK(patterns.count(pattern) == 2);
  CHECK(patterns.size() == 4);
}

TEST_CASE("sketches stand on one sheet, each with its title and its caption, none over another") {
  const std::vector<Sketch> sketches(4, sample::sketch());
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(sketches, "How to measure"));
  int titles = 0;
  std::string words;
  std::set<std::pair<std::string, std::string>> places;
  for (const pugi::xml_node& node : svg.children("text")) {
    const std::string text = node.text().get();
    words += text + " ";
    if (text != "wrist <girth>") continue;
    ++titles;
    places.insert({node.attribute("x").value(), node.attribute("y").value()});
  }
  CHECK(titles == 4);
  CHECK(places.size() == 4);
  CHECK(words.find("165 mm [E]") != std::string::npos);
  CHECK(words.find("[E] entered: typed by you for this run") != std::string::npos);
  CHECK(dashes_of(svg).size() == 1);  // the tape behind the limb
}

TEST_CASE("awkward ids and names cannot break out") {
  Drawing drawing = sample::drawing();
  drawing.id = "\"><script>alert(1)</script>";
  drawing.title = "</title><script>";
  drawing.notes.push_back({{0, 0}, "\xff<&>\"'", 4.0, false});
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(drawing));
  for_each_node(svg, [](const pugi::xml_node& node) { CHECK(std::string(node.name()) != "script"); });
  check_accessible(svg);
}

TEST_CASE("a drawing without anything in it still has its bar") {
  Drawing empty;
  empty.id = "empty";
  empty.title = "Nothing";
  empty.extent = {{0, 0}, {10, 10}};
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(empty));
  CHECK(numbers(svg.attribute("viewBox").value()).at(2) > 100.0);
}

TEST_CASE("a plot is whole and accessible, and tells its curves apart without colour") {
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(sample::plot()));
  check_accessible(svg);
  std::set<std::string> words;
  for (const pugi::xml_node& node : svg.children("text")) words.insert(node.text().get());
  for (const char* word :
       {"sheet surface", "skin, basal layer", "seconds after lifting out", "temperature, °C",
        "stiffening felt 2 min 30 s [M]", "working window: 44 s [M] to 2 min 10 s [M]", "100", "600", "70"})
    CHECK(words.count(word) == 1);
  std::set<std::string> looks;
  std::size_t curves = 0;
  for (const pugi::xml_node& path : svg.children("path"))
    if (path.attribute("stroke")) {
      ++curves;
      looks.insert(path.attribute("stroke-dasharray").value());
    }
  CHECK(curves == 2);
  CHECK(looks.size() == 2);
  // The description carries the moments for those who listen to it.
  CHECK(std::string(svg.child("desc").text().get()).find("set 7 min [M]") != std::string::npos);
}

TEST_CASE("a curve passes where its values say") {
  Plot plot;
  plot.id = "ramp";
  plot.title = "Ramp";
  plot.curves = {{"ramp", {0.0, 50.0, 100.0}, {0.0, 10.0, 20.0}}};
  pugi::xml_document document;
  const pugi::xml_node svg = parsed(document, to_svg(plot));
  std::string data = svg.child("path").attribute("d").value();
  std::replace_if(
      data.begin(), data.end(), [](char c) { return c == 'M' || c == 'L'; }, ' ');
  const std::vector<double> points = numbers(data);
  REQUIRE(points.size() == 6);
  CHECK(near_abs(points[2], (points[0] + points[4]) / 2.0, 2e-3));
  CHECK(near_abs(points[3], (points[1] + points[5]) / 2.0, 2e-3));
  CHECK(points[5] < points[1]);
  // The place of the first tick label is the place of the first point.
  for (const pugi::xml_node& node : svg.children("text"))
    if (std::string(node.text().get()) == "100")
      CHECK(near_abs(node.attribute("x").as_double(), points[4], 2e-3));
}

TEST_CASE("plots of nothing, of one point and of a flat line are drawn") {
  for (const std::vector<double>& y : {std::vector<double>{}, {42.0}, {42.0, 42.0}}) {
    Plot plot;
    plot.id = "flat";
    plot.title = "Flat";
    std::vector<double> x(y.size());
    for (std::size_t i = 0; i < x.size(); ++i) x[i] = static_cast<double>(i);
    plot.curves = {{"flat", x, y}};
    const std::string svg = to_svg(plot);
    CHECK(svg.find("nan") == std::string::npos);
    CHECK(svg.find("inf") == std::string::npos);
    pugi::xml_document document;
    check_accessible(parsed(document, svg));
  }
}

TEST_CASE("the bar measures 100 mm and 4 in when another program draws it" *
          doctest::skip(*RSVG_CONVERT == '\0' || *PDFTOPPM == '\0')) {
  // librsvg sizes the page from the SVG, poppler turns it into pixels of 1/20 mm.
  Drawing drawing;
  drawing.id = "bar";
  drawing.title = "Bar";
  drawing.extent = {{0, 0}, {60, 30}};
  const testing::Scratch scratch;
  const std::string svg = scratch.file("bar.svg", to_svg(drawing));
  testing::run_tool(std::string(RSVG_CONVERT) + " -f pdf -o '" + scratch.path("bar.pdf") + "' '" + svg + "'");
  const testing::Raster raster = testing::render_pdf(scratch.path("bar.pdf"), 1, 508);
  std::vector<double> long_runs;
  for (const double run : testing::longest_dark_runs_mm(raster))
    if (run > 90.0) long_runs.push_back(run);
  REQUIRE_FALSE(long_runs.empty());
  // The bar's upper rim comes first, the line of inches last; a pixel is 0.05 mm.
  CHECK(near_abs(long_runs.front(), 100.0, 0.1));
  CHECK(near_abs(long_runs.back(), 101.6, 0.1 + 0.25));  // a line's end ticks add their own width
}
