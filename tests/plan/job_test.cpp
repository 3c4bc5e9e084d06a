// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "plan/job.h"
#include "support/near.h"

using namespace warmsheet;
using testing::near_rel;

namespace {

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

}  // namespace

TEST_SUITE("plan") {
  TEST_CASE("a job by area takes thickness and perforation from its stock item") {
    const plan::Job job = plan::parse_job(
        "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\narea = \"64 in2\"\n", "job.toml", shipped());
    CHECK(job.heat.sheet == "elastic-clear");
    CHECK(job.heat.stock_item == "3.2-micro");
    CHECK(near_rel(job.area->si(), 64 * 0.0254 * 0.0254, 1e-12));
    CHECK(job.area->basis() == Basis::entered);
    CHECK_FALSE(job.outline.has_value());
  }

  TEST_CASE("the left orthosis is the mirror image of the right one") {
    const std::string text =
        "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\ndesign = \"volar-wrist\"\n"
        "side = \"SIDE\"\n[measures]\nforearm_length = \"248 mm\"\nforearm_girth = \"252 mm\"\n"
        "wrist_girth = \"164 mm\"\nhand_breadth = \"82 mm\"\ncrease_radial = \"88 mm\"\n"
        "crease_ulnar = \"76 mm\"\nthenar_length = \"56 mm\"\n";
    const auto with_side = [&](const char* side) {
      std::string job = text;
      job.replace(job.find("SIDE"), 4, side);
      return plan::parse_job(job, "job.toml", shipped());
    };
    const plan::Job right = with_side("right");
    const plan::Job left = with_side("left");
    CHECK(near_rel(left.outline->shape.area_mm2(), right.outline->shape.area_mm2(), 1e-12));
    CHECK(near_rel(left.outline->shape.centroid().x_mm, -right.outline->shape.centroid().x_mm, 1e-9));
  }

  TEST_CASE("all slips of a job are reported at once") {
    try {
      static_cast<void>(
          plan::parse_job("label = 3\nstock = \"nothing\"\narea = \"4\"\n", "job.toml", shipped()));
      FAIL("accepted");
    } catch (const Failure& failure) {
      CHECK(failure.problems().size() == 3);
    }
  }
}
