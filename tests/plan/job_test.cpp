// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>

#include "plan/job.h"
#include "support/near.h"
#include "support/scratch.h"

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

  const std::string traced_job = "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\noutline = OUTLINE\n";
  // Right-angled and without an axis of symmetry: its mirror image is another shape.
  const std::string triangle = "points = [[0, 0], [80, 0], [0, 30]]\n";

  plan::Job job_with(const testing::Scratch& scratch, const std::string& outline,
                     const std::string& more = "") {
    std::string text = traced_job + more;
    text.replace(text.find("OUTLINE"), 7, outline);
    return plan::parse_job(text, scratch.path("job.toml"), shipped());
  }

  Problem refusal_of(const testing::Scratch& scratch, const std::string& outline,
                     const std::string& more = "") {
    try {
      static_cast<void>(job_with(scratch, outline, more));
    } catch (const Failure& failure) {
      return failure.problems().front();
    }
    return Problem{};
  }

  TEST_CASE("a left hand gets the mirror image of a pattern that was traced on a right one") {
    const testing::Scratch scratch;
    static_cast<void>(scratch.file("p.toml", "unit = \"mm\"\n" + triangle));
    const std::string traced = "{ file = \"p.toml\", traced = \"right\" }";
    const plan::Job right = job_with(scratch, traced, "side = \"right\"\n");
    const plan::Job left = job_with(scratch, traced, "side = \"left\"\n");
    CHECK(near_rel(left.outline->shape.centroid().x_mm, -right.outline->shape.centroid().x_mm, 1e-9));
    CHECK(left.outline->side == outline::Side::left);
    const Problem unknown = refusal_of(scratch, "\"p.toml\"", "side = \"left\"\n");
    CHECK(unknown.place.line == 3);
    CHECK(unknown.hint.find("traced = \"left\" }") != std::string::npos);
    CHECK(unknown.hint.find("--") == std::string::npos);
    CHECK_FALSE(job_with(scratch, "\"p.toml\"").outline->side.has_value());
  }

  TEST_CASE("a job states the unit of a file that does not, for its pattern and for its offcuts") {
    const testing::Scratch scratch;
    static_cast<void>(scratch.file("p.csv", "0,0\n8,0\n0,3\n"));
    const Problem unclear = refusal_of(scratch, "\"p.csv\"");
    CHECK(unclear.hint.find("unit = \"1 mm\" }") != std::string::npos);
    CHECK(unclear.hint.find("--") == std::string::npos);
    const std::string in_cm = "{ file = \"p.csv\", unit = \"1 cm\" }";
    CHECK(near_rel(job_with(scratch, in_cm).area->si(), 0.5 * 0.08 * 0.03, 1e-9));
    const plan::Job cut =
        job_with(scratch, in_cm, "[[cut.offcut]]\nname = \"rest\"\noutline = " + in_cm + "\n");
    CHECK(near_rel(cut.offcuts.front().area.si(), 0.5 * 0.08 * 0.03, 1e-9));
    CHECK(refusal_of(scratch, "{ file = \"p.csv\", units = \"1 cm\" }").hint.find("did you mean unit") !=
          std::string::npos);
  }

  TEST_CASE("measures that nothing uses are told, and refused where nothing is drawn") {
    const testing::Scratch scratch;
    const std::string girth = "[measures]\nwrist_girth = \"160 mm\"\n";
    const auto by_area = [&](const std::string& who) {
      return plan::parse_job("label = \"d\"\n" + who + "area = \"300 cm2\"\n" + girth, "job.toml", shipped());
    };
    CHECK_THROWS_WITH_AS(static_cast<void>(by_area("stock = \"elastic-clear/3.2-micro\"\n")),
                         doctest::Contains("nothing here uses wrist_girth"), Failure);
    CHECK(shipped().condition("carpal-tunnel").piece.girth_measure == "wrist_girth");
    CHECK(by_area("condition = \"carpal-tunnel\"\n").measures.size() == 1);
    std::string both =
        "label = \"d\"\nstock = \"elastic-clear/1.6-solid\"\ndesign = \"finger-gutter\"\n" + girth;
    for (const std::string& id : shipped().design("finger-gutter").measures)
      both += id + " = \"" + std::to_string(shipped().measure(id).usual.si() * 1e3) + " mm\"\n";
    const plan::Job drawn = plan::parse_job(both, "job.toml", shipped());
    CHECK(drawn.outline->unused == std::vector<std::string>{"wrist_girth"});
    CHECK(std::all_of(drawn.outline->checks.begin(), drawn.outline->checks.end(),
                      [](const outline::RuleCheck& check) { return check.kept; }));
  }

  TEST_CASE("what a design is not for is told where the job names it, and only there") {
    const auto told = [](const std::string& precautions) {
      std::string text = "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\ndesign = \"radial-wrist\"\n" +
                         precautions + "[measures]\n";
      for (const std::string& id : shipped().design("radial-wrist").measures)
        text += id + " = \"" + std::to_string(shipped().measure(id).usual.si() * 1e3) + " mm\"\n";
      const plan::Job job = plan::parse_job(text, "job.toml", shipped());
      return std::any_of(job.outline->checks.begin(), job.outline->checks.end(),
                         [](const outline::RuleCheck& check) { return check.id == "is_not" && !check.kept; });
    };
    CHECK(told("precautions = [\"swelling\"]\n"));
    CHECK_FALSE(told("precautions = [\"child\"]\n"));
    CHECK_FALSE(told(""));
  }

  TEST_CASE("a bath state, skin, liner or wrap that nobody knows is refused at its key") {
    struct Row {
      const char* tables;
      std::uint32_t line;
      const char* allowed;
    };
    const Row rows[] = {{"[bath]\nstate = \"stil\"\n", 5, "still"},
                        {"[person]\nskin = \"thn\"\n", 5, "thin"},
                        {"[person]\nskin = \"none\"\n", 5, "thin"},
                        {"[person]\nliner = \"stockinete\"\n", 5, "stockinette"},
                        {"[person]\nwrap = \"elastic-wrp\"\n", 5, "elastic-wrap"}};
    for (const Row& row : rows) {
      CAPTURE(row.tables);
      try {
        static_cast<void>(
            plan::parse_job("label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\narea = \"300 cm2\"\n" +
                                std::string(row.tables),
                            "job.toml", shipped()));
        FAIL("accepted");
      } catch (const Failure& failure) {
        CHECK(failure.trouble() == Trouble::data);
        REQUIRE(failure.problems().size() == 1);
        CHECK(failure.problems().front().place.line == row.line);
        CHECK(failure.problems().front().text().find(row.allowed) != std::string::npos);
      }
    }
  }

  TEST_CASE("a girth no limb has is refused where it only sets the lever") {
    CHECK_THROWS_WITH_AS(
        static_cast<void>(plan::parse_job("label = \"d\"\ncondition = \"carpal-tunnel\"\narea = \"300 cm2\"\n"
                                          "[measures]\nwrist_girth = \"25.2 mm\"\n",
                                          "job.toml", shipped())),
        doctest::Contains("job.toml:5:"), Failure);
  }

  TEST_CASE("what a file cannot leave open is refused where the job states it") {
    const testing::Scratch scratch;
    static_cast<void>(scratch.file("p.toml", "unit = \"mm\"\n" + triangle));
    static_cast<void>(scratch.file("p.csv", "x_mm,y_mm\n0,0\n80,0\n0,60\n"));
    for (const char* outline :
         {"{ file = \"p.toml\", unit = \"1 in\" }", "{ file = \"p.csv\", photo = \"a4\" }",
          "{ file = \"p.csv\", layer = \"cut\" }"}) {
      CAPTURE(outline);
      CHECK(refusal_of(scratch, outline).message.find("leaves open") != std::string::npos);
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
