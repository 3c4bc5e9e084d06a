// SPDX-License-Identifier: MIT
// Drawings of outlines and of nested sheets: nothing hides an edge to cut, and every line lies where it is
// worked.
#include "report/drawings.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "outline/design_fixture.h"
#include "outline/geos.h"
#include "report/canvas.h"
#include "report/text_drawing.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::report;
using testing::near_abs;

namespace {

outline::Outline drawn(const std::string& id, const testing::Person& person, outline::Side side) {
  const library::Design& design = testing::shipped().design(id);
  return outline::draw(design, testing::shipped(), testing::measures_for(design, person), side);
}

/// From a child of two to a large man.
std::vector<testing::Person> people() {
  testing::Normal normal(5);
  std::vector<testing::Person> all{testing::child(normal, testing::ages().front()), testing::usual_adult()};
  for (int i = 0; i < 3; ++i) all.push_back(testing::adult(normal, i == 0));
  return all;
}

/// Three copies of an outline on one large sheet, turned and turned over.
plan::Cutting laid_out(const outline::Outline& outline, const std::vector<nesting::Placement>& placements) {
  const Figure none = Figure::entered("none", Range::exactly(0.0), units::millimetre());
  plan::CutRequest request{.items = {{outline, 1}},
                           .sheets = {{"sheet",
                                       Figure::entered("width", Range::exactly(0.9), units::millimetre()),
                                       Figure::entered("length", Range::exactly(0.9), units::millimetre()),
                                       {}}},
                           .offcuts = {},
                           .spacing = none,
                           .margin = none,
                           .rotations = {.free = false, .angles_deg = {0.0}},
                           .may_flip = false,
                           .effort = {},
                           .keep = {none, none}};
  plan::Cutting cutting = plan::cut(request);
  cutting.layout.placements = placements;
  return cutting;
}

std::size_t count_of(const Drawing& drawing, Stroke stroke) {
  return static_cast<std::size_t>(std::count_if(drawing.traces.begin(), drawing.traces.end(),
                                                [&](const auto& trace) { return trace.stroke == stroke; }));
}

}  // namespace

TEST_CASE("no strap's name hides an edge to cut, on the smallest hand and on the largest") {
  for (const testing::Person& person : people())
    for (const auto& [id, design] : testing::shipped().designs) {
      const auto& of_id = id;  // clang 14 captures no structured binding
      CAPTURE(of_id);
      const outline::Outline made = drawn(id, person, outline::Side::left);
      const Drawing drawing = outline_drawing(made);
      CHECK(drawing.notes.size() == made.straps.size());
      for (const Drawing::Note& note : drawing.notes) {
        CAPTURE(note.text);
        const double half = 0.5 * text_width(note.text, note.size_mm);
        const outline::Path middle{{note.at.x_mm - half, note.at.y_mm}, {note.at.x_mm + half, note.at.y_mm}};
        double on_material = 0.0;
        for (const outline::Path& part : outline::geos::parts_on(made.shape, middle))
          on_material += outline::path_length_mm(part);
        CHECK((near_abs(on_material, 0.0, 1e-9) || near_abs(on_material, 2.0 * half, 1e-9)));
      }
    }
}

TEST_CASE("a strap is drawn at both borders of the outline, and not over what lies between") {
  const outline::Outline thumb = drawn("hand-thumb", testing::usual_adult(), outline::Side::right);
  const Drawing drawing = outline_drawing(thumb);
  REQUIRE(thumb.straps.size() == 1);
  REQUIRE(drawing.segments.size() == 2);  // one on each wing, none on the thumb's sleeve
  CHECK(drawing.segments[0].from.x_mm < thumb.shape.box().low.x_mm);
  CHECK(drawing.segments[0].to.x_mm < 0.0);
  CHECK(drawing.segments[1].from.x_mm > 0.0);
  CHECK(drawing.segments[1].to.x_mm > thumb.shape.box().high.x_mm);
  CHECK(outline_drawing(drawn("volar-wrist", testing::usual_adult(), outline::Side::right)).segments.size() ==
        3);
}

TEST_CASE("a number or a name on a nested sheet lies on its own outline") {
  for (const auto& [id, design] : testing::shipped().designs) {
    const auto& of_id = id;  // clang 14 captures no structured binding
    CAPTURE(of_id);
    const outline::Outline made = drawn(id, testing::usual_adult(), outline::Side::right);
    for (const double angle : {0.0, 137.0}) {
      const plan::Cutting cutting = laid_out(made, {{0, 0, 0, angle, false, {450.0, 450.0}}});
      const Drawing drawing = sheet_drawing(cutting, 0.0, 0);
      const auto note = std::find_if(drawing.notes.begin(), drawing.notes.end(),
                                     [](const Drawing::Note& one) { return one.brief == "1"; });
      REQUIRE(note != drawing.notes.end());
      const outline::Polygon shape = nesting::placed_shape(cutting.order, cutting.layout.placements.front());
      const double half = 0.5 * text_width(note->text, note->size_mm);
      const outline::Path middle{{note->at.x_mm - half, note->at.y_mm},
                                 {note->at.x_mm + half, note->at.y_mm}};
      const std::vector<outline::Path> on = outline::geos::parts_on(shape, middle);
      REQUIRE(on.size() == 1);
      CHECK(near_abs(outline::path_length_mm(on.front()), 2.0 * half, 1e-6));
    }
  }
}

TEST_CASE("lines to trim, flare and fold along lie on their outlines on a nested sheet") {
  const outline::Outline made = drawn("resting-hand", testing::usual_adult(), outline::Side::right);
  const plan::Cutting cutting = laid_out(made, {{0, 0, 0, 0.0, false, {450.0, 450.0}},
                                                {0, 0, 0, 90.0, false, {450.0, 450.0}},
                                                {0, 0, 0, 214.0, true, {450.0, 450.0}}});
  for (std::size_t i = 0; i < 3; ++i) {
    CAPTURE(i);
    plan::Cutting one = cutting;
    one.layout.placements = {cutting.layout.placements[i]};
    const Drawing drawing = sheet_drawing(one, 0.0, 0);
    const Drawing alone = outline_drawing(made);
    for (const Stroke stroke : {Stroke::trim, Stroke::flare, Stroke::fold}) {
      CHECK(count_of(drawing, stroke) == count_of(alone, stroke));
      CHECK(count_of(drawing, stroke) > 0);
    }
    const outline::Polygon shape = nesting::placed_shape(one.order, one.layout.placements.front());
    for (const Drawing::Trace& trace : drawing.traces) {
      double on_material = 0.0;
      for (const outline::Path& part : outline::geos::parts_on(shape, trace.points))
        on_material += outline::path_length_mm(part);
      CHECK(near_abs(on_material, outline::path_length_mm(trace.points), 0.1));
    }
  }
}

TEST_CASE("the terminal's picture shows folds and trims as dashes, inside the edge") {
  const outline::Outline made = drawn("elbow", testing::usual_adult(), outline::Side::right);
  Drawing drawing = outline_drawing(made);
  drawing.segments.clear();
  drawing.notes.clear();
  const auto dots = [](const Drawing& one) {
    int count = 0;
    for (const std::string& line : text_drawing(one, 72, TextPictures::ascii))
      count += static_cast<int>(std::count_if(line.begin(), line.end(), [](char c) { return c != ' '; }));
    return count;
  };
  const int all = dots(drawing);
  std::erase_if(drawing.traces, [](const Drawing::Trace& trace) { return trace.stroke == Stroke::fold; });
  const int without_fold = dots(drawing);
  drawing.traces.clear();
  CHECK(all > without_fold);
  CHECK(without_fold > dots(drawing));
  CHECK(text_drawing(outline_drawing(made), 72, TextPictures::ascii).back() ==
        "- - -  fold, trim back to here at most");
}
