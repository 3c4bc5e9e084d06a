// SPDX-License-Identifier: MIT
// The commands as their users run them: help, contract names, exit codes, streams.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <ostream>
#include <sstream>
#include <streambuf>

#include "base/file.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/run.h"
#include "support/near.h"
#include "support/program.h"
#include "support/scratch.h"

using warmsheet::testing::near_rel;
using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

const std::string example_job = std::string(WARMSHEET_SOURCE_DIR) + "/examples/wrist/job.toml";

std::size_t widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, warmsheet::columns(line));
  return widest;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

double area_cm2(const std::string& json) {
  const std::size_t value = json.find("\"value\": ", json.find("\"area\"")) + 9;
  return std::stod(json.substr(value));
}

/// A stream that takes nothing, like a full disk.
class FullBuffer : public std::streambuf {
 protected:
  int_type overflow(int_type) override { return traits_type::eof(); }
  std::streamsize xsputn(const char*, std::streamsize) override { return 0; }
};

}  // namespace

TEST_CASE("help is a success on standard output, within 80 columns, with examples first") {
  std::vector<std::vector<std::string>> asked{{}, {"help"}, {"--help"}, {"-h"}};
  for (const auto& command : warmsheet::cli::commands()) {
    asked.push_back({std::string(command.name), "--help"});
    asked.push_back({"help", std::string(command.name)});
  }
  for (const auto& words : asked) {
    CAPTURE(words.size());
    const Ran ran = run_program(words);
    CHECK(ran.code == 0);
    CHECK(ran.err.empty());
    CHECK(widest_line(ran.out) <= 80);
    CHECK(has(ran.out, "Examples:"));
  }
}

TEST_CASE("every command takes the common options") {
  for (const auto& command : warmsheet::cli::commands()) {
    const Ran ran = run_program({std::string(command.name), "--help"});
    for (const char* option : {"--json", "--why", "--html", "--library", "--quiet", "--color"})
      CHECK(has(ran.out, option));
  }
}

TEST_CASE("the text of every command stays within 80 columns and shows its cautions first") {
  const std::string job = example_job;
  for (const auto& words :
       std::vector<std::vector<std::string>>{{"plan", job},
                                             {"timing", "--sheet", "elastic-clear", "--samples", "0"},
                                             {"sheets"},
                                             {"sheets", "elastic-clear"}}) {
    CAPTURE(words.front());
    const Ran ran = run_program(words);
    CHECK(ran.code == 0);
    CHECK(widest_line(ran.out) <= 80);
    CHECK(has(ran.out, "licensed practice"));
  }
}

TEST_CASE("no option hides the cautions") {
  for (const auto& extra : std::vector<std::vector<std::string>>{
           {"--quiet"}, {"--json"}, {"--why", "wait"}, {"--quiet", "--json"}}) {
    std::vector<std::string> words{"timing", "--sheet", "elastic-clear", "--samples", "0"};
    words.insert(words.end(), extra.begin(), extra.end());
    const Ran ran = run_program(words);
    CAPTURE(extra.front());
    CHECK(has(ran.out, "own inner forearm"));
    CHECK(has(ran.out, "scalds"));
  }
}

TEST_CASE("the same words give the same bytes") {
  const std::vector<std::string> words{"plan", example_job, "--json"};
  CHECK(run_program(words).out == run_program(words).out);
}

TEST_CASE("a result that could not be written whole ends with exit 4") {
  FullBuffer full;
  std::ostream out(&full);
  std::ostringstream err;
  CHECK(warmsheet::cli::run({"sheets"}, {}, out, err) == 4);
  CHECK(has(err.str(), "standard output"));
}

TEST_CASE("nothing that a run reads or has written is written over by it") {
  const Scratch scratch;
  const std::string outline = "0,0\n300,0\n300,100\n0,100\n";
  const std::string pattern = scratch.file("pattern.csv", "x_mm,y_mm\n" + outline);
  const std::string job = scratch.file(
      "job.toml", "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\noutline = \"pattern.csv\"\n");
  const std::string before = warmsheet::read_file(job);
  std::filesystem::create_symlink(pattern, scratch.path("other-name.svg"));
  const std::vector<std::vector<std::string>> runs{
      {"plan", job, "--html", job},
      {"plan", job, "--outline-svg", pattern},
      {"outline", pattern, "--svg", scratch.path("other-name.svg")},
      {"plan", job, "--html", scratch.path("one"), "--pdf", scratch.path("one")}};
  for (const std::vector<std::string>& words : runs) {
    const Ran ran = run_program(words);
    CAPTURE(ran.err);
    CHECK(ran.code == 4);
    CHECK(ran.err.find("would write over it") != std::string::npos);
  }
  CHECK(warmsheet::read_file(job) == before);
  CHECK(warmsheet::read_file(pattern) == "x_mm,y_mm\n" + outline);
  for (int turn = 0; turn < 2; ++turn)
    CHECK(run_program({"plan", job, "--html", scratch.path("again.html")}).code == 0);
}

TEST_CASE("a run that refuses one of its files writes none of them") {
  const Scratch scratch;
  const std::string job =
      scratch.file("job.toml", "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\narea = \"200 cm2\"\n");
  const std::string first = scratch.path("first.html");
  std::filesystem::create_symlink(first, scratch.path("link"));
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{"plan", job, "--pdf", first, "--html", job},
                                             {"plan", job, "--pdf", first, "--html", first},
                                             {"plan", job, "--pdf", first, "--why", "wiat"},
                                             {"plan", job, "--pdf", first, "--why", "wait", "--json"}}) {
    const Ran ran = run_program(words);
    CAPTURE(ran.err);
    CHECK(ran.code != 0);
    CHECK(ran.out.empty());
    CHECK_FALSE(std::filesystem::exists(first));
  }
  // Two names of one file are known when the first was made.
  CHECK(run_program({"plan", job, "--pdf", scratch.path("link"), "--html", first}).code == 4);
  CHECK(warmsheet::read_file(first).starts_with("%PDF"));
  // A device takes what comes.
  CHECK(run_program({"plan", job, "--pdf", "/dev/null", "--html", "/dev/null"}).code == 0);
}

TEST_CASE("calibrate writes over its own files only, and never states a sheet twice") {
  const Scratch scratch;
  const std::string notes = std::string(WARMSHEET_SOURCE_DIR) + "/examples/bench/notes.toml";
  const std::string ours = scratch.path("sheets/elastic-clear.toml");
  const std::vector<std::string> calibrate{"calibrate", notes, "--out", scratch.path()};
  REQUIRE(run_program(calibrate).code == 0);
  const std::string fitted = warmsheet::read_file(ours);
  CHECK(run_program(calibrate).code == 0);
  static_cast<void>(
      scratch.file("sheets/elastic-clear.toml",
                   fitted + "density = { value = 1200, unit = \"kg/m3\", basis = \"bench\" }\n"));
  const std::string added = warmsheet::read_file(ours);
  CHECK(run_program(calibrate).code == 4);
  CHECK(warmsheet::read_file(ours) == added);
  std::filesystem::remove(ours);
  static_cast<void>(scratch.file("sheets/my-elastic.toml",
                                 "id = \"elastic-clear\"\n[thermal]\ndensity = { value = 1200, unit = "
                                 "\"kg/m3\", basis = \"bench\" }\n"));
  const Ran beside = run_program(calibrate);
  CHECK(beside.code == 4);
  CHECK(has(beside.err, "my-elastic.toml"));
  CHECK_FALSE(std::filesystem::exists(ours));
  CHECK(run_program({"sheets", "--library", scratch.path()}).code == 0);
  // A page that would fall on what it rests on: nothing at all is written.
  std::filesystem::remove(scratch.path("sheets/my-elastic.toml"));
  const Scratch elsewhere;
  const std::string own_notes = elsewhere.file("notes.toml", warmsheet::read_file(notes));
  CHECK(run_program({"calibrate", own_notes, "--out", scratch.path(), "--html", own_notes}).code == 4);
  CHECK_FALSE(std::filesystem::exists(ours));
}

TEST_CASE("the designs are listed, each once") {
  const Ran ran = run_program({"outline", "--list"});
  CHECK(ran.code == 0);
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(WARMSHEET_SOURCE_DIR) + "/materials/designs"))
    CHECK(ran.out.find("\n  " + entry.path().stem().string() + " ") != std::string::npos);
}

TEST_CASE("the plan of the example holds the contract's names") {
  const Ran ran = run_program({"plan", example_job, "--json"});
  CHECK(ran.code == 0);
  CHECK(has(ran.out, "\"schema\": \"warmsheet.plan/1\""));
  for (const char* name :
       {"half_soft",  "ready",     "wait",        "closes",      "window",      "holds_shape",
        "set",        "peak_skin", "damage",      "area",        "width",       "height",
        "perimeter",  "holes",     "sheets_used", "utilisation", "used_length", "bound",
        "placements", "offcuts",   "cautions",    "library"})
    CHECK_MESSAGE(has(ran.out, std::string("\"") + name + "\""), name);
}

TEST_CASE("outline and plan draw the same side of a traced pattern, and say which") {
  const Scratch scratch;
  const std::string file = std::string(WARMSHEET_SOURCE_DIR) + "/examples/outlines/volar-wrist-traced.svg";
  const auto drawn = [&](const std::string& side) {
    const std::string job =
        scratch.file("job.toml", "label = \"d\"\nstock = \"elastic-clear/3.2-micro\"\nside = \"" + side +
                                     "\"\noutline = { file = \"" + file + "\", traced = \"right\" }\n");
    const Ran plan = run_program({"plan", job, "--outline-svg", scratch.path("plan.svg")});
    const Ran outline =
        run_program({"outline", file, "--traced", "right", "--side", side, "--svg", scratch.path("own.svg")});
    CHECK(plan.out.find("\n  side:         " + side + "\n") != std::string::npos);
    CHECK(outline.out.find("made for:") != std::string::npos);
    CHECK(outline.out.find(side + " side") != std::string::npos);
    CHECK(warmsheet::read_file(scratch.path("plan.svg")) == warmsheet::read_file(scratch.path("own.svg")));
    return warmsheet::read_file(scratch.path("own.svg"));
  };
  CHECK(drawn("left") != drawn("right"));
}

TEST_CASE("a figure is explained by the words that name it in the output") {
  const std::string job = std::string(WARMSHEET_SOURCE_DIR) + "/examples/thumb-pair/job.toml";
  const Ran spaced = run_program({"plan", job, "--why", "half soft"});
  CHECK(spaced.code == 0);
  CHECK(spaced.out == run_program({"plan", job, "--why", "half_soft"}).out);
  CHECK(run_program({"sheets", "elastic-clear", "--why", "density"}).code == 0);
}

TEST_CASE("the plan says that it drew the right side where none was named") {
  const Scratch scratch;
  const std::string job = std::string(WARMSHEET_SOURCE_DIR) + "/examples/thumb-pair/job.toml";
  std::string text = warmsheet::read_file(job);
  text.erase(text.find("side = \"left\"\n"), 14);
  const Ran ran = run_program({"plan", scratch.file("job.toml", text)});
  CHECK(ran.out.find("right (no side is named)") != std::string::npos);
}

TEST_CASE("a demo price makes the cost demo") {
  const Ran ran = run_program({"plan", example_job, "--why", "cost"});
  CHECK(ran.code == 0);
  CHECK(has(ran.out, "demo"));
}

TEST_CASE("check says what a file that is none of its kinds lacks, and takes no empty folder for a library") {
  const Scratch scratch;
  for (const char* text : {"", "foo = 1\n", "\"\" = 1\n"}) {
    const Ran ran = run_program({"check", "--json", scratch.file("what.toml", text)});
    CHECK(ran.code == 3);
    CHECK(ran.out.find("no key tells what this file is") != std::string::npos);
  }
  CHECK(run_program({"check", "--json", scratch.file("m.toml", "[measures]\nhand_breadth = \"80 mm\"\n")})
            .code == 0);
  const Ran slip =
      run_program({"check", "--json", scratch.file("m.toml", "[measures]\nhand_bredth = \"80 mm\"\n")});
  CHECK(slip.code != 0);
  CHECK(slip.out.find("hand_breadth") != std::string::npos);
  // A caseload whose kinds were forgotten is still told as a caseload.
  const Ran half = run_program(
      {"check", "--json", scratch.file("half.toml", "label = \"x\"\n[supply]\nlead_time = \"8 d\"\n")});
  CHECK(half.out.find("there is no kind of orthosis") != std::string::npos);
  const Scratch folder;
  const Ran empty = run_program({"check", "--json", folder.path(".")});
  CHECK(empty.code == 3);
  CHECK(empty.out.find("holds no file of a library") != std::string::npos);
}

TEST_CASE("check takes one file of a library for what it is, by the folder it lies in") {
  const std::string materials = std::string(WARMSHEET_SOURCE_DIR) + "/materials/";
  for (const char* file : {"designs/volar-wrist.toml", "conditions/carpal-tunnel.toml",
                           "sheets/elastic-clear.toml", "surroundings.toml", "measures.toml"}) {
    const Ran ran = run_program({"check", materials + file});
    CHECK_MESSAGE(ran.code == 0, file);
    CHECK_MESSAGE(has(ran.out, "(library file)"), file);
  }
  const Scratch scratch;
  const std::string sheet = scratch.file("sheets/mine.toml", "id = \"elastic-clear\"\nname = \"Mine\"\n");
  const std::string slip = scratch.file("designs/mine.toml", "id = \"volar-wrist\"\ncolour = \"white\"\n");
  const Ran bad = run_program({"check", "--json", slip});
  CHECK(bad.code == 3);
  CHECK(has(bad.out, "mine.toml:2:1"));
  CHECK(has(bad.out, "colour"));
  CHECK_FALSE(has(bad.out, "expected a table"));
  const Ran beside = run_program({"check", "--json", sheet});
  CHECK(beside.code == 3);
  CHECK(has(beside.out, "other files of its library have problems"));
  // Over a design of the same id, a typo in a let is still told where it stands.
  const Scratch over;
  const std::string typo = over.file(
      "designs/mine.toml", "id = \"volar-wrist\"\n[[let]]\nid = \"arm_end\"\nis = \"-0.9*forarm_length\"\n");
  const Ran typed = run_program({"check", "--json", typo});
  CHECK(typed.code == 3);
  CHECK_MESSAGE(has(typed.out, "mine.toml:4:6"), typed.out);
  CHECK(has(typed.out, "forearm_length"));
  const Ran lost = run_program({"check", "--json", scratch.file("lost.toml", "id = \"x\"\nname = \"X\"\n")});
  CHECK(has(lost.out, "lies in no library"));
}

TEST_CASE("check tells the kinds of files apart, and its exit code is that of the worst") {
  const std::string examples = std::string(WARMSHEET_SOURCE_DIR) + "/examples/";
  const Ran good = run_program({"check", example_job, examples + "clinic/caseload.toml",
                                examples + "bench/notes.toml", examples + "outlines/volar-wrist-traced.svg"});
  CHECK(good.code == 0);
  for (const char* kind : {"(job)", "(caseload)", "(bench notes)", "(outline)"})
    CHECK_MESSAGE(has(good.out, kind), kind);
  const Scratch scratch;
  const Ran bad = run_program(
      {"check", example_job, scratch.file("slip.toml", "label = \"d\"\nstock = \"none/such\"\n")});
  CHECK(bad.code == 3);
  CHECK(has(bad.out, "PROBLEM"));
  CHECK(has(bad.out, "OK"));
}

TEST_CASE("an outline written as SVG or DXF is read back with the same area") {
  const Scratch scratch;
  const std::string measures = std::string(WARMSHEET_SOURCE_DIR) + "/examples/wrist/measures.toml";
  const Ran drawn = run_program({"outline", "volar-wrist", "--measures", measures, "--json", "--svg",
                                 scratch.path("o.svg"), "--dxf", scratch.path("o.dxf")});
  REQUIRE(drawn.code == 0);
  for (const char* file : {"o.svg", "o.dxf"}) {
    CAPTURE(file);
    const Ran read = run_program({"outline", scratch.path(file), "--json"});
    CAPTURE(read.err);
    REQUIRE(read.code == 0);
    // Both files carry micrometres: 0.8 m of edge moved by half of one is far below 0.01 % of 200 cm2.
    CHECK(near_rel(area_cm2(read.out), area_cm2(drawn.out), 1e-4));
  }
}

TEST_CASE(
    "measure figures can be had before anything is measured, and the error for a missing one says how") {
  const Scratch scratch;
  const std::string sheet = scratch.path("how.svg");
  const Ran ran = run_program({"outline", "elbow", "--measure-figures", sheet});
  CHECK(ran.code == 0);
  CHECK(has(ran.out, "upper_arm_girth"));
  CHECK(has(warmsheet::read_file(sheet), "upper arm girth"));
  const Ran missing = run_program({"outline", "radial-wrist", "--measure", "hand_length=187 mm"});
  CHECK(missing.code == 3);
  CHECK(has(missing.err, "take it around the palm over the heads of the metacarpals"));
  CHECK(has(missing.err, "an adult's can be estimated from hand_breadth"));
  CHECK(has(missing.err, "warmsheet outline radial-wrist --measure-figures FILE.svg"));
  CHECK(run_program({"outline", "shape.svg", "--measure-figures", sheet}).code == 2);
}
