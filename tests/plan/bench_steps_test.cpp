// SPDX-License-Identifier: MIT
// What the bench plan tells hands that hold hot sheet: each condition of a step turned by itself.
#include "plan/bench_steps.h"
#include "library/precautions.h"
#include "plan/questions.h"

#include <doctest/doctest.h>

#include <string>
#include <string_view>
#include <variant>

using namespace warmsheet;

namespace {

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

std::string words(const Phrase& phrase) {
  std::string text;
  for (const Phrase::Part& part : phrase.parts())
    text += std::holds_alternative<std::string>(part) ? std::get<std::string>(part) : "#";
  return text;
}

Figure seconds(double s) {
  return Figure::stated("x", Range::exactly(s), units::second(), {.basis = Basis::memory});
}

struct Bench {
  heat::Situation situation;
  heat::Timing timing;
  bool edging = false;
  bool lining = false;
  std::vector<std::string> precautions{};
  int copies = 1;

  [[nodiscard]] plan::StepContext context() const {
    return {.situation = &situation,
            .timing = &timing,
            .outline = nullptr,
            .library = &shipped(),
            .form_time = shipped().bench_times.form,
            .edging = edging,
            .lining = lining,
            .precautions = precautions,
            .copies = copies};
  }

  [[nodiscard]] std::string step(std::string_view action) const {
    for (const plan::BenchStep& step : plan::bench_steps(context()))
      if (words(step.action).find(action) != std::string::npos)
        return words(step.clock) + " | " + words(step.action) + " | " + words(step.detail);
    FAIL("no step " << action);
    return {};
  }
};

Bench bench(const char* perforation = "solid") {
  heat::Request request;
  request.sheet = "elastic-clear";
  request.perforation = perforation;
  request.samples = 0;
  heat::Situation situation = heat::resolve(shipped(), request);
  heat::Timing timing = heat::time(situation);
  return {std::move(situation), std::move(timing)};
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_SUITE("plan") {
  TEST_CASE("the test on oneself: its clock, and the liner it is made over") {
    Bench b = bench();
    CHECK(has(b.step("Test on your own"), "# after lifting"));
    CHECK_FALSE(has(b.step("Test on your own"), "liner"));
    b.situation.liner = shipped().liner("stockinette");
    CHECK(has(b.step("Test on your own"), "over the same liner"));
    b.timing.wait = seconds(0.0);
    CHECK(has(b.step("Test on your own"), "once it is dry"));
  }

  TEST_CASE("a plan without a safe window is one step, STOP, and says why") {
    Bench b = bench();
    b.timing.window = Finding::absent("never safe");
    const plan::StepContext context = b.context();
    const auto steps = plan::bench_steps(context);
    REQUIRE(steps.size() == 1);
    CHECK(has(words(steps.front().action), "STOP"));
    CHECK(has(words(steps.front().detail), "never safe"));
    bool nobody = false;
    for (const plan::Question& question : plan::questions_before_heat(context))
      nobody = nobody || has(words(question.answer), "Nobody");
    CHECK(nobody);
  }

  TEST_CASE("a wrap is laid out and held under, or not used at all") {
    Bench b = bench();
    CHECK(has(b.step("Hold still"), "do not wrap it"));
    CHECK_FALSE(has(b.step("Read the prescription"), "wrap"));
    b.situation.wrap = shipped().wrap("elastic-wrap");
    const std::string name = shipped().wrap("elastic-wrap").name;
    CHECK_FALSE(has(b.step("Hold still"), "do not wrap it"));
    CHECK(has(b.step("Hold still"), "under " + name));
    CHECK(has(b.step("Read the prescription"), ", " + name));
  }

  TEST_CASE("the bath is counted anew after the cut, since the sheet went cold in between") {
    const Bench b = bench();
    CHECK(has(b.step("Half soft"), "# after immersion"));
    CHECK(has(b.step("Ready"), "# after putting it back"));
  }

  TEST_CASE("drying is a step of every plan, and names what a wet one leaves to do") {
    Bench b = bench();
    CHECK(has(b.step("pat both faces dry"), "at once after lifting"));
    b.situation.dried = false;
    CHECK(has(b.step("run off both faces"), "water hides there"));
  }

  TEST_CASE("the window stands where it is shaped, the time it is set where it comes off") {
    const Bench b = bench();
    CHECK(has(b.step("Form it"), "usually takes #. The window is # long"));
    CHECK(has(b.step("take it off"), "it is set # after lifting"));
  }

  TEST_CASE("what must not move a joint stays on until it is set, anything else until it holds its shape") {
    Bench b = bench();
    b.timing.holds_shape = seconds(300.0);
    b.timing.set = seconds(700.0);
    const auto clock_of = [&](std::string_view action) {
      for (const plan::BenchStep& step : plan::bench_steps(b.context()))
        if (has(words(step.action), action)) return std::get<Figure>(step.clock.parts().at(1)).si();
      return 0.0;
    };
    CHECK(clock_of("Hold still") == 300.0);
    CHECK(clock_of("take it off") == 300.0);
    for (const char* precaution : {"recent-repair", "fresh-injury"}) {
      CAPTURE(precaution);
      b.precautions = {"child", precaution};
      CHECK(clock_of("Hold still") == 700.0);
      CHECK(clock_of("take it off") == 700.0);
      CHECK(has(b.step("take it off"), "somebody holds the joint"));
      CHECK_FALSE(has(b.step("take it off"), "let it set in shape"));
    }
  }

  TEST_CASE("a graft is wrapped with gauze, not strapped, at first") {
    Bench b = bench();
    CHECK(has(b.step("Fix the straps"), "three points"));
    CHECK_FALSE(has(b.step("Read the prescription"), "gauze"));
    b.precautions = {"graft"};
    CHECK(has(b.step("Wrap it on"), "no strap until"));
    CHECK(has(b.step("Read the prescription"), "gauze"));
    for (const plan::BenchStep& step : plan::bench_steps(b.context()))
      CHECK_FALSE(has(words(step.action), "Fix the straps"));
  }

  TEST_CASE("what lies under the sheet is put on the limb before the bath, and in what order") {
    Bench b = bench();
    const auto dressed = [&] {
      const auto steps = plan::bench_steps(b.context());
      return steps.size() == 13 && has(words(steps.at(2).action), "Put on the limb");
    };
    CHECK_FALSE(dressed());
    b.situation.liner = shipped().liner("stockinette");
    CHECK(dressed());
    CHECK(has(b.step("Put on the limb"), "before the bath"));
    CHECK(has(b.step("Put on the limb"), "On it: stockinette"));
    CHECK_FALSE(has(b.step("Put on the limb"), "holds the joint"));
    b.lining = true;
    b.precautions = {"graft", "recent-repair"};
    CHECK(has(b.step("Put on the limb"),
              "On it: a dressing, then padding as thick as the lining, then stockinette"));
    CHECK(has(b.step("Put on the limb"), "Somebody holds the joint"));
    b.situation.liner.reset();
    b.lining = false;
    b.precautions = {"open-wound"};
    CHECK(has(b.step("Put on the limb"), "On it: a dressing;"));
  }

  TEST_CASE("a joint that may not move is held whenever the shell is off, and pain still takes it off") {
    Bench b = bench();
    for (const char* step : {"Trim", "Fix the straps"}) CHECK_FALSE(has(b.step(step), "holds the joint"));
    b.precautions = {"fresh-injury"};
    for (const char* step : {"Trim", "Fix the straps", "Check fit"})
      CHECK(has(b.step(step), "holds the joint"));
    CHECK(has(b.step("take it off"), "Pain or burning brings it off at once"));
  }

  TEST_CASE("what a condition asks of soft sheet stands where it is formed") {
    Bench b = bench();
    plan::StepContext context = b.context();
    const auto formed = [&] {
      for (const plan::BenchStep& step : plan::bench_steps(context))
        if (has(words(step.action), "Form it")) return words(step.detail);
      return std::string();
    };
    CHECK_FALSE(has(formed(), "bubble"));
    context.condition = &shipped().condition("carpal-tunnel");
    CHECK(has(formed(), "bubble the palm side of the wrist out"));
    context.condition = &shipped().condition("radial-nerve");
    CHECK_FALSE(has(formed(), "outrigger"));
  }

  TEST_CASE("a sheet that bonds on touch is kept apart") {
    Bench b = bench();
    CHECK(has(b.step("Ready"), "keep its faces apart"));
    library::Sheet coated = *b.situation.sheet;
    coated.handling.bonding.grade = library::Grade::moderate;
    b.situation.sheet = &coated;
    CHECK_FALSE(has(b.step("Ready"), "keep its faces apart"));
  }

  TEST_CASE("several outlines may lie so that no straight cut parts them") {
    Bench b = bench();
    CHECK_FALSE(has(b.step("cut the blank"), "no straight cut parts"));
    b.copies = 2;
    CHECK(has(b.step("cut the blank"), "no straight cut parts"));
  }

  TEST_CASE("an open wound and a graft have a dressing laid out, nothing else has") {
    Bench b = bench();
    for (const library::Precaution& precaution : library::precautions()) {
      CAPTURE(std::string(precaution.id));
      b.precautions = {std::string(precaution.id)};
      CHECK(has(b.step("Read the prescription"), ", a dressing") ==
            (precaution.id == "open-wound" || precaution.id == "graft"));
    }
  }

  TEST_CASE("an elastic sheet is left on until it is set, another one may set in the air") {
    Bench b = bench();
    CHECK(has(b.step("take it off"), "elastic and may shrink"));
    b.situation.sheet = &shipped().sheet("draping-white");
    CHECK_FALSE(has(b.step("take it off"), "may shrink"));
  }

  TEST_CASE("edging for holes, lining where it is asked for") {
    CHECK_FALSE(has(bench().step("Trim"), "edging"));
    CHECK(has(bench("micro").step("Trim"), "cover them with edging"));
    CHECK(has(bench("micro").step("Read the prescription"), ", edging"));
    Bench edged = bench();
    CHECK_FALSE(has(edged.step("Read the prescription"), ", edging"));
    edged.edging = true;
    CHECK(has(edged.step("Read the prescription"), ", edging"));
    CHECK(has(edged.step("Trim"), "Cover the edge with edging"));
    Bench b = bench();
    CHECK_FALSE(has(b.step("Trim"), "Line the inside"));
    CHECK_FALSE(has(b.step("Read the prescription"), ", lining"));
    b.lining = true;
    CHECK(has(b.step("Read the prescription"), ", lining"));
    CHECK(has(b.step("Trim"), "Line the inside"));
  }
}
