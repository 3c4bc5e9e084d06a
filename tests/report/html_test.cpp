// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <functional>
#include <pugixml.hpp>
#include <set>

#include "base/file.h"
#include "report/measure.h"
#include "report/random_document.h"
#include "report/sample.h"
#include "report/writers.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::report;
using warmsheet::testing::near_abs;

namespace {

/// The page is written so that an XML reader takes it too, which proves that every tag is closed.
bool load(pugi::xml_document& document, const std::string& html) {
  return document.load_buffer(html.data(), html.size(), pugi::parse_default | pugi::parse_doctype);
}

void for_each_node(const pugi::xml_node& node, const std::function<void(const pugi::xml_node&)>& visit) {
  visit(node);
  for (const pugi::xml_node& child : node.children()) for_each_node(child, visit);
}

std::string text_of(const pugi::xml_node& node) {
  std::string text;
  for_each_node(node, [&](const pugi::xml_node& part) { text += part.value(); });
  return text;
}

bool has_class(const pugi::xml_node& node, const std::string& name) {
  return (" " + std::string(node.attribute("class").value()) + " ").find(" " + name + " ") !=
         std::string::npos;
}

}  // namespace

TEST_CASE("the page is one file: nothing fetched, no script, and its policy says so") {
  const std::string html = to_html(sample::document());
  pugi::xml_document document;
  REQUIRE(load(document, html));
  const pugi::xml_node root = document.child("html");
  CHECK(std::string(root.attribute("lang").value()) == "en");
  CHECK(std::string(root.child("head").child("title").text().get()) == sample::document().title());
  const pugi::xml_node policy =
      root.child("head").find_child_by_attribute("meta", "http-equiv", "Content-Security-Policy");
  CHECK(std::string(policy.attribute("content").value()) ==
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:");
  for_each_node(root, [](const pugi::xml_node& node) {
    const std::string name = node.name();
    for (const char* forbidden : {"script", "link", "img", "iframe", "object", "a", "base", "form"})
      CHECK(name != forbidden);
    for (const pugi::xml_attribute& attribute : node.attributes()) {
      const std::string key = attribute.name();
      CHECK(key != "src");
      CHECK(key.find("href") == std::string::npos);
      CHECK(key.rfind("on", 0) != 0);
      const std::string value = attribute.value();
      if (key != "xmlns") CHECK(value.find("://") == std::string::npos);
    }
  });
  const std::string style = root.child("head").child("style").text().get();
  CHECK(style.find("url(") == std::string::npos);
  CHECK(style.find("@import") == std::string::npos);
  CHECK(style.find('$') == std::string::npos);
}

TEST_CASE("cautions come before everything but the title") {
  pugi::xml_document document;
  REQUIRE(load(document, to_html(sample::document())));
  const pugi::xml_node body = document.child("html").child("body");
  CHECK(std::string(body.first_child().name()) == "h1");
  const pugi::xml_node second = body.first_child().next_sibling();
  REQUIRE(has_class(second, "cautions"));
  const auto items = second.child("ul").children("li");
  CHECK(std::distance(items.begin(), items.end()) == 3);
}

TEST_CASE("ids differ within the page") {
  Document twice = sample::document();
  twice.sections.push_back({"Again", {sample::drawing(), sample::plot(), sample::plot()}});
  pugi::xml_document document;
  REQUIRE(load(document, to_html(twice)));
  std::set<std::string> ids;
  for_each_node(document, [&](const pugi::xml_node& node) {
    if (node.attribute("id")) CHECK(ids.insert(node.attribute("id").value()).second);
  });
}

TEST_CASE("steps are an ordered list with a clock and room for the reader's own time") {
  pugi::xml_document document;
  REQUIRE(load(document, to_html(sample::document())));
  const pugi::xml_node list =
      document.child("html").child("body").find_child_by_attribute("ol", "class", "steps");
  REQUIRE(list);
  std::size_t steps = 0;
  for (const pugi::xml_node& step : list.children("li")) {
    ++steps;
    CHECK(step.find_child_by_attribute("div", "class", "clock"));
    CHECK(step.find_child_by_attribute("div", "class", "own"));
  }
  CHECK(steps == 4);
}

TEST_CASE("a drawing wider than the paper is scaled and says so, and no picture is wider than 190 mm") {
  pugi::xml_document document;
  const std::string html = to_html(sample::document());
  REQUIRE(load(document, html));
  for_each_node(document, [](const pugi::xml_node& node) {
    if (std::string(node.name()) == "svg") CHECK(std::stod(node.attribute("width").value()) <= 190.0);
  });
  CHECK(html.find("Scaled to 1 : 4 to fit the page; not for tracing.") != std::string::npos);
  Drawing small = sample::drawing();
  small.shapes.erase(small.shapes.begin() + 1, small.shapes.end());
  small.segments.clear();
  small.extent = {{0, 0}, {92, 206}};
  Document one = sample::document();
  one.sections = {{"Outline", {small}}};
  CHECK(to_html(one).find("True size (1 : 1)") != std::string::npos);
}

TEST_CASE("a table too wide for the paper becomes a list of its rows") {
  Table wide;
  std::vector<Phrase> row;
  for (int i = 0; i < 9; ++i) {
    wide.head.push_back(say("column"));
    row.push_back(sample::computed("time", {130.3, 99.8, 171.2}, units::second()));
  }
  wide.rows = {row};
  Document document = sample::document();
  document.sections = {{"Wide", {wide}}};
  CHECK(to_html(document).find("<table>") == std::string::npos);
}

TEST_CASE("every figure of any document is on the page with its mark, and the page is well formed") {
  CHECK(rc::check("marks in HTML", [](std::uint32_t seed) {
    const Document document = sample::random_document(seed);
    pugi::xml_document page;
    RC_ASSERT(load(page, to_html(document)));
    std::size_t figures = 0;
    for_each_node(page, [&](const pugi::xml_node& node) {
      if (!has_class(node, "figure")) return;
      ++figures;
      const pugi::xml_node mark = node.last_child();
      RC_ASSERT(has_class(mark, "mark"));
      const std::string text = text_of(mark);
      RC_ASSERT(text.size() == 3U);
      RC_ASSERT(text.front() == '[');
      RC_ASSERT(std::string(mark.attribute("title").value()).size() > 5U);
    });
    RC_ASSERT(figures >= document.figures().size());
  }));
}

TEST_CASE("markup in names stays text") {
  const std::string html = to_html(sample::document());
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("&lt;script&gt;alert(1)&lt;/script&gt;") != std::string::npos);
}

TEST_CASE("printed by a browser on its default paper, a true-size bar measures 100 mm" *
          doctest::skip(*CHROMIUM == '\0' || *PDFTOPPM == '\0')) {
  // The very long word of the sample would make a browser shrink the whole page, were it not broken.
  Drawing drawing;
  drawing.id = "bar";
  drawing.title = "Bar";
  drawing.extent = {{0, 0}, {60, 30}};
  Document document("outline", "Bar", {{"print", say("Measure the bar.")}}, {{"built in"}, "0"});
  document.sections = {
      {"Outline", {drawing}},
      {"Words",
       {Bullets{{Phrase(Label(std::string(300, 'x')))}}, Paragraph{Phrase(Label(std::string(300, 'y')))}}}};
  const testing::Scratch scratch;
  const std::string page = scratch.file("page.html", to_html(document));
  testing::run_tool(
      std::string(CHROMIUM) +
      " --headless --no-sandbox --disable-gpu --disable-background-networking --no-pdf-header-footer"
      " --user-data-dir='" +
      scratch.path("profile") + "' --print-to-pdf='" + scratch.path("page.pdf") + "' 'file://" + page +
      "' >/dev/null 2>&1");
  const testing::Raster raster = testing::render_pdf(scratch.path("page.pdf"), 1, 508);
  bool found = false;
  for (const double run : testing::longest_dark_runs_mm(raster))
    found = found || near_abs(run, 100.0, 0.1).near;
  CHECK(found);
}
