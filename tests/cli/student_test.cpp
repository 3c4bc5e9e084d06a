// SPDX-License-Identifier: MIT
// What somebody who learns the work gets: questions, reasons, a form for own times that `calibrate` reads.
#include <doctest/doctest.h>

#include <string>

#include "base/file.h"
#include "support/program.h"
#include "support/scratch.h"

using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

const std::string source_dir = WARMSHEET_SOURCE_DIR;
const std::string example_job = source_dir + "/examples/wrist/job.toml";

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size()))
    ++found;
  return found;
}

void fill(std::string& form, const std::string& empty, const std::string& filled) {
  const std::size_t at = form.find(empty);
  REQUIRE(at != std::string::npos);
  form.replace(at, empty.size(), filled);
}

std::string form_of_the_example(const Scratch& scratch) {
  const std::string path = scratch.path("notes.toml");
  REQUIRE(run_program({"plan", example_job, "--notes", path}).code == 0);
  return warmsheet::read_file(path);
}

}  // namespace

TEST_CASE("an explained plan asks before it tells, and gives a reason for every step and number") {
  const std::string plain = run_program({"plan", example_job}).out;
  const std::string explained = run_program({"plan", example_job, "--explain"}).out;
  CHECK(explained.find("BEFORE YOU TOUCH HOT SHEET") < explained.find("BENCH PLAN"));
  CHECK(plain.find("BEFORE YOU TOUCH HOT SHEET") == std::string::npos);
  CHECK(count(explained, "Why:") == 13);
  CHECK(explained.find("closes - wait") > explained.find("WHY EACH NUMBER"));
}

TEST_CASE("the bench gets what to act on: broken rules and remedies, the learner every rule and driver") {
  const std::string plain = run_program({"plan", example_job}).out;
  const std::string explained = run_program({"plan", example_job, "--explain"}).out;
  CHECK(count(plain, "OK: it keeps all the rules of its design") == 1);
  CHECK(plain.find("What you can do about the ranges") != std::string::npos);
  CHECK(plain.find("The two inputs that widen") == std::string::npos);
  CHECK(count(explained, "  - OK: ") == 8);
  CHECK(explained.find("The two inputs that widen") != std::string::npos);
}

TEST_CASE("a slip in a measure is a caution, even when little is printed") {
  const Scratch scratch;
  std::string job = warmsheet::read_file(example_job);
  fill(job, "wrist_girth = \"164 mm\"", "wrist_girth = \"240 mm\"");
  const std::string path = scratch.file("job.toml", job);
  const std::string plan = run_program({"plan", path, "--quiet"}).out;
  CHECK(count(plan, "wrist girth is 240 mm [E]") == 1);
  CHECK(run_program({"plan", example_job, "--quiet"}).out.find("Look before you cut") == std::string::npos);
  const std::string outline =
      run_program({"outline", "volar-wrist", "--measures", source_dir + "/examples/wrist/measures.toml",
                   "--measure", "wrist_girth=240 mm", "--quiet"})
          .out;
  CHECK(count(outline, "wrist girth is 240 mm [E]") == 1);
}

TEST_CASE("a rule that the outline breaks stands in the plan of the bench too") {
  const Scratch scratch;
  std::string design = warmsheet::read_file(source_dir + "/materials/designs/volar-wrist.toml");
  // More clearance than the design draws for a hand of that length.
  fill(design, "value = 3, low = 1, high = 8", "value = 8, low = 7, high = 9");
  static_cast<void>(scratch.file("designs/volar-wrist.toml", design));
  const std::string plan = run_program({"plan", example_job, "--library", scratch.path()}).out;
  CHECK(count(plan, "  - LOOK: the distal edge ends just short of the palmar crease") == 1);
  CHECK(count(plan, "  - OK: it keeps the other rules of its design") == 1);
  const std::string cautions = plan.substr(0, plan.find("RESULTS"));
  CHECK(count(cautions, "! Look before you cut Volar wrist orthosis, right: the distal edge ends just") == 1);
}

TEST_CASE("the form of the plan, filled in by hand, is what calibrate reads") {
  const Scratch scratch;
  std::string form = form_of_the_example(scratch);
  fill(form, "# half_soft = \"0 s\"", "half_soft = \"26 s\"");
  fill(form, "# ready = \"0 s\"", "ready = \"61 s\"");
  fill(form, "# set = \"0 s\"", "set = \"12 min 30 s\"");
  const Ran ran = run_program({"calibrate", scratch.file("filled.toml", form), "--dry-run", "--json"});
  CAPTURE(ran.err);
  CHECK(ran.code == 0);
  CHECK(ran.out.find("half_time_42") != std::string::npos);
}

TEST_CASE("a constant that ends outside the range it had is pointed at") {
  const Ran ran = run_program({"calibrate", source_dir + "/examples/bench/notes.toml", "--dry-run"});
  CHECK(ran.out.find("film ends outside the range it had") != std::string::npos);
  CHECK(ran.out.find("half_time_42 ends outside") == std::string::npos);
}

TEST_CASE("an untouched form holds no measurement, and calibrate says so") {
  const Scratch scratch;
  const std::string form = scratch.file("form.toml", form_of_the_example(scratch));
  const Ran ran = run_program({"calibrate", form, "--dry-run"});
  CHECK(ran.code == 3);
  CHECK(ran.err.find("holds no measurement") != std::string::npos);
  CHECK(run_program({"check", form}).code == 3);
}

TEST_CASE("a form that is filled in is never written over") {
  const Scratch scratch;
  const std::string filled = scratch.file("notes.toml", "my own times");
  const Ran ran = run_program({"plan", example_job, "--notes", filled});
  CHECK(ran.code == 4);
  CHECK(ran.err.find("perhaps with your times in it") != std::string::npos);
  CHECK(warmsheet::read_file(filled) == "my own times");
}
