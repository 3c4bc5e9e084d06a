// SPDX-License-Identifier: MIT
#include "choice/piece.h"

#include <doctest/doctest.h>

#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::choice;
using testing::near_rel;

namespace {

Figure length(const char* name, double mm) {
  return Figure::entered(name, Range::exactly(mm * 1e-3), units::millimetre());
}
Figure ratio(const char* name, double value) {
  return Figure::entered(name, Range::exactly(value), units::one());
}
Figure area(double cm2) {
  return Figure::entered("area", Range::exactly(cm2 * 1e-4), units::square_centimetre());
}

library::UsualPiece usual() {
  return {.area = area(400),
          .length = length("length", 240),
          .perimeter = length("perimeter", 900),
          .girth = length("girth", 160),
          .wrap = ratio("wrap", 0.5),
          .bends_at = ratio("bends_at", 0.25),
          .pushed_at = ratio("pushed_at", 0.1),
          .force = Figure::entered("force", Range::exactly(20.0), units::newton()),
          .form_time = Figure::entered("form_time", Range::exactly(180.0), units::second()),
          .palm_width = Finding::absent("none"),
          .palm_rise = Finding::absent("none"),
          .closed = false,
          .folds = false,
          .lasting = false,
          .girth_measure = ""};
}

outline::Outline cross() {
  // A plate 200 long and 100 wide whose upper fifth is a tongue 40 wide.
  auto shape = outline::Polygon::make(
      {{0, 0}, {100, 0}, {100, 160}, {70, 160}, {70, 200}, {30, 200}, {30, 160}, {0, 160}}, {}, {});
  return outline::from_polygon("cross", std::move(shape), Length{1e-6}, {.basis = Basis::entered});
}

}  // namespace

TEST_CASE("the usual piece gives lever, span and cover by its shares") {
  const Piece piece = piece_for(usual(), {});
  CHECK(near_rel(piece.lever.si(), 0.240 * (0.25 - 0.1), 1e-12));
  CHECK(near_rel(piece.span.si(), 0.240 * 0.75, 1e-12));
  CHECK(near_rel(piece.cover.si(), 0.080, 1e-12));
}

TEST_CASE("a quarter of the area is half of every length") {
  const Piece piece = piece_for(usual(), {.area = area(100)});
  CHECK(near_rel(piece.lever.si(), 0.120 * 0.15, 1e-12));
  CHECK(near_rel(piece.girth.si(), 0.080, 1e-12));
  CHECK(near_rel(piece.perimeter.si(), 0.450, 1e-12));
}

TEST_CASE("a typed girth and push are used as typed, and say so") {
  const Piece piece =
      piece_for(usual(), {.girth = length("girth", 150),
                          .force = Figure::entered("push", Range::exactly(33.0), units::newton())});
  CHECK(near_rel(piece.girth.si(), 0.150, 1e-12));
  CHECK(near_rel(piece.force.si(), 33.0, 1e-12));
  CHECK(piece.force.basis() == Basis::entered);
}

TEST_CASE("an outline gives the trough its own widths, as far as they lie on the limb") {
  const auto on_a_girth = [](double girth_mm, const library::UsualPiece& like) {
    return piece_for(like, {.outline = cross(), .girth = length("girth", girth_mm)});
  };
  // 25 % of 200 mm from the top: below the tongue, where the plate is 100 mm wide.
  const Piece piece = on_a_girth(400, usual());
  CHECK(near_rel(piece.cover.si(), 0.100, 1e-9));
  CHECK(near_rel(piece.area.si(), (100 * 160 + 40 * 40) * 1e-6, 1e-6));
  // Half of a girth of 160 mm is all that is usually covered: what is wider lies elsewhere.
  CHECK(near_rel(on_a_girth(160, usual()).cover.si(), 0.080, 1e-9));
  library::UsualPiece high = usual();
  high.bends_at = ratio("bends_at", 0.15);
  const double through_the_tongue = on_a_girth(400, high).cover.si();
  CHECK(through_the_tongue > 0.040);
  CHECK(through_the_tongue < 0.100);
}

TEST_CASE("the palmar piece is as narrow as the outline, and takes the curve of the limb towards the bend") {
  library::UsualPiece hand = usual();
  hand.palm_width = length("palm width", 60);
  hand.palm_rise = length("palm rise", 6);
  hand.bends_at = ratio("bends_at", 0.18);
  const Piece drawn = piece_for(hand, {.outline = cross()});
  CHECK(near_rel(drawn.palm_width.figure().si(), 0.040, 1e-9));
  // A shallow arch of that width rises by b^2/8R: flatter than the limb's own, rounder than the palm's.
  const double on_the_palm_m = 0.006 * (40.0 * 40.0) / (60.0 * 60.0);
  const double on_the_limb_m = 0.040 * 0.040 / (8.0 * 0.160 / (2.0 * 3.14159265358979));
  CHECK(drawn.palm_rise.figure().si() > on_the_palm_m);
  CHECK(drawn.palm_rise.figure().si() < on_the_limb_m);
  // Where the flat outline folds, its widths are not those of the section: the usual ones are taken.
  hand.folds = true;
  CHECK(near_rel(piece_for(hand, {.outline = cross()}).palm_width.figure().si(), 0.060, 1e-12));
}

// Counted by hand: straight rows of rectangles.
TEST_CASE("pieces on a sheet are counted in straight rows, turned the better way") {
  Piece piece = piece_for(usual(), {});
  piece.extents = {{0.24, 0.20}, {0.20, 0.24}};
  CHECK(piece.count_on(0.600, 0.450, 0.0, 0.0) == 4);  // 2 x 2 along; 3 x 1 across
  CHECK(piece.count_on(0.610, 0.250, 0.0, 0.0) == 3);  // turned: 3 x 1
  CHECK(piece.count_on(0.230, 0.190, 0.0, 0.0) == 0);
  CHECK(piece.count_on(0.486, 0.206, 0.003, 0.001) == 2);  // 2 x 240 + 3 between + 2 x 1 margin = 485
  CHECK(piece.count_on(0.484, 0.206, 0.003, 0.001) == 1);
}

TEST_CASE("a long piece that fits only slantwise is found by turning it") {
  const auto bar = outline::Polygon::make({{0, 0}, {20, 0}, {20, 560}, {0, 560}}, {}, {});
  const Piece piece = piece_for(
      usual(), {.outline = outline::from_polygon("bar", bar, Length{1e-6}, {.basis = Basis::entered})});
  CHECK(piece.count_on(0.450, 0.400, 0.0, 0.0) > 0);   // the diagonal of 450 x 400 is 602 mm
  CHECK(piece.count_on(0.400, 0.300, 0.0, 0.0) == 0);  // 500 mm
}
