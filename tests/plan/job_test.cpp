// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>

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
  TEST_CASE("a job by area has no outline, and its area is entered") {
    const plan::Job job = plan::parse_job(
        "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\narea = \"64 in2\"\n", "job.toml", shipped());
    CHECK(job.stock == "elastic-clear/3.2-micro");
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

  TEST_CASE("a condition gives the design, the liner, the skin and its precautions where the job is silent") {
    const std::string measures =
        "[measures]\nforearm_length = \"248 mm\"\nforearm_girth = \"252 mm\"\nwrist_girth = \"164 mm\"\n"
        "hand_breadth = \"82 mm\"\ncrease_radial = \"88 mm\"\ncrease_ulnar = \"76 mm\"\n"
        "thenar_length = \"56 mm\"\n";
    const plan::Job job = plan::parse_job(
        "label = \"d\"\ncondition = \"carpal-tunnel\"\nprecautions = [\"swelling\"]\n" + measures, "job.toml",
        shipped());
    CHECK(job.outline->design == "volar-wrist");
    CHECK(job.heat.liner == "stockinette");
    CHECK(job.precautions == std::vector<std::string>{"swelling", "reduced-sensation"});
    CHECK(job.stock.empty());
    CHECK(job.heat.skin == "reduced");
    const plan::Job own =
        plan::parse_job("label = \"d\"\ncondition = \"carpal-tunnel\"\ndesign = \"volar-wrist\"\n" +
                            measures + "[person]\nskin = \"thin\"\nliner = \"none\"\n",
                        "job.toml", shipped());
    CHECK(own.heat.skin == "thin");
    CHECK_FALSE(own.heat.liner.has_value());
    const plan::Job burn = plan::parse_job(
        "label = \"d\"\ncondition = \"dorsal-hand-burn\"\narea = \"400 cm2\"\n", "job.toml", shipped());
    CHECK(burn.heat.skin == "reduced");
    CHECK(std::find(burn.precautions.begin(), burn.precautions.end(), "graft") != burn.precautions.end());
  }

  TEST_CASE("a precaution of the job sets the skin it is planned for, where the job names none") {
    const auto skin_of = [](const std::string& person) {
      return plan::parse_job(
                 "label = \"d\"\nstock = \"elastic-clear/3.2-solid\"\narea = \"200 cm2\"\n"
                 "precautions = [\"child\"]\n" +
                     person,
                 "job.toml", shipped())
          .heat.skin;
    };
    CHECK(skin_of("") == "thin");
    CHECK(skin_of("[person]\nskin = \"adult\"\n") == "adult");
  }

  TEST_CASE("a job without sheet and condition, or with an unknown one, is refused with what to write") {
    const auto refusal = [](const std::string& line) {
      try {
        static_cast<void>(
            plan::parse_job("label = \"d\"\n" + line + "area = \"200 cm2\"\n", "job.toml", shipped()));
      } catch (const Failure& failure) {
        return failure.problems().front();
      }
      return Problem{};
    };
    CHECK(refusal("").hint.find("condition = ") != std::string::npos);
    const Problem unknown = refusal("condition = \"carpal-tunel\"\n");
    CHECK(unknown.place.line == 2);
    CHECK(unknown.hint.find("carpal-tunnel") != std::string::npos);
  }

  TEST_CASE("a fixing of another kind is refused at its key, with those that would do") {
    try {
      static_cast<void>(
          plan::parse_job("label = \"d\"\nstock = \"elastic-clear/3.2-solid\"\narea = \"200 cm2\"\n"
                          "lining = \"edging-tape\"\nedging = \"strap-50\"\n",
                          "job.toml", shipped()));
      FAIL("accepted");
    } catch (const Failure& failure) {
      REQUIRE(failure.problems().size() == 2);
      for (const Problem& problem : failure.problems()) {
        const bool lining = problem.place.line == 4;
        CHECK(problem.message.find(lining
                                       ? "\"edging-tape\" is of kind edging, not lining"
                                       : "\"strap-50\" is of kind strap, not edging") != std::string::npos);
        CHECK(problem.hint == (lining ? "known: lining-thick, lining-thin" : "known: edging-tape"));
      }
    }
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
