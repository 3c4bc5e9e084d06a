// SPDX-License-Identifier: MIT
// `nest` as its user runs it: what belongs together, what goes first, what lies already, spoilt zones, rests,
// straight cuts, drawings in the terminal.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "base/file.h"
#include "support/near.h"
#include "support/program.h"
#include "support/scratch.h"

using nlohmann::json;
using warmsheet::testing::near_abs;
using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

/// A rectangle with its corner at the origin as an outline file.
std::string rectangle_file(const Scratch& scratch, const std::string& name, double width_mm,
                           double height_mm) {
  const std::string path = scratch.path(name + ".csv");
  std::ofstream(path) << "0,0\n"
                      << width_mm << ",0\n"
                      << width_mm << "," << height_mm << "\n0," << height_mm << "\n";
  return path;
}

std::vector<std::string> nest(std::vector<std::string> words) {
  words.insert(words.begin(), "nest");
  for (const char* more : {"--unit", "1 mm", "--passes", "100"}) words.emplace_back(more);
  return words;
}

json answer(const std::vector<std::string>& words, int code = 0) {
  std::vector<std::string> all = nest(words);
  all.emplace_back("--json");
  const Ran ran = run_program(all);
  CAPTURE(ran.err);
  REQUIRE(ran.code == code);
  return json::parse(ran.out);
}

std::vector<std::string> with(std::vector<std::string> words, const std::vector<std::string>& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::string saved(const Scratch& scratch, const json& layout) {
  const std::string path = scratch.path("layout.json");
  std::ofstream(path) << layout;
  return path;
}

}  // namespace

TEST_CASE("nest: outlines laid earlier stay where they are, and others come beside them") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 190, 140);
  const std::vector<std::string> sheet{"--sheet-size", "600 x 450 mm", "--rotations", "free"};
  const json first = answer(with({plate + "*2"}, sheet));
  const std::string file = saved(scratch, first);
  const json second = answer(with({plate + "*5", "--laid", file}, sheet));
  CHECK(second["placements"].size() == 5);
  CHECK(second["used_sheets"].size() == 1);
  for (const json& before : first["placements"]) {
    const auto same = [&](const json& p) { return p["copy"] == before["copy"]; };
    const auto after = std::find_if(second["placements"].begin(), second["placements"].end(), same);
    REQUIRE(after != second["placements"].end());
    for (const char* key : {"x_mm", "y_mm", "angle_deg", "sheet", "flipped"})
      CHECK((*after)[key] == before[key]);
    CHECK((*after)["laid"] == true);
  }
  CHECK(run_program(nest(with({plate + "*5", "--laid", file}, sheet))).out.find("lies already") !=
        std::string::npos);
}

TEST_CASE("nest: begun from an earlier layout it is never longer, and another order is refused") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 190, 140);
  const std::vector<std::string> sheet{"--sheet-size", "600 x 450 mm"};
  const json first = answer(with({plate + "*4"}, sheet));
  const std::string file = saved(scratch, first);
  const json second = answer(with({plate + "*4", "--start", file}, sheet));
  CHECK(second["results"]["used_length"]["value"].get<double>() <=
        first["results"]["used_length"]["value"].get<double>() + 1e-6);
  const Ran other = run_program(nest(with({plate + "*5", "--start", file}, sheet)));
  CHECK(other.code == 3);
  CHECK(other.err.find("no layout of this order") != std::string::npos);
}

TEST_CASE("nest: what is no layout is refused with the reason") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 100, 100);
  const std::string path = scratch.path("bad.json");
  struct Row {
    const char* text;
    const char* says;
  };
  const Row rows[] = {
      {"{", "no JSON"},
      {"[]", "no layout"},
      {"{}", "used_sheets"},
      {R"({"used_sheets":[{"stock":"300 x 300 mm"}],"placements":[{"outline":"plate"}]})", "flipped"},
      {R"({"used_sheets":[],"placements":[{"outline":"plate","copy":1,"sheet":1,"x_mm":0,"y_mm":0,)"
       R"("angle_deg":0,"flipped":false}]})",
       "sheet 1 of 0"},
      {R"({"used_sheets":[{"stock":"300 x 300 mm"}],"placements":[{"outline":"plate","copy":0,"sheet":1,)"
       R"("x_mm":0,"y_mm":0,"angle_deg":0,"flipped":false}]})",
       "copy"},
      {R"({"used_sheets":[{"stock":"300 x 300 mm"}],"placements":[{"outline":"plate","copy":1,"sheet":1,)"
       R"("x_mm":1e300,"y_mm":0,"angle_deg":0,"flipped":false}]})",
       "x_mm"},
      {R"({"used_sheets":[{"stock":"1 x 1 mm"}],"placements":[]})", "not among those of this run"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    std::ofstream(path) << row.text;
    const Ran ran = run_program(nest({plate, "--sheet-size", "300 x 300 mm", "--laid", path}));
    CHECK(ran.code == 3);
    CHECK(ran.err.find(row.says) != std::string::npos);
  }
}

TEST_CASE("nest: parts that belong together come from one sheet") {
  const Scratch scratch;
  const std::string splint = rectangle_file(scratch, "splint", 280, 200);
  const std::string thumb = rectangle_file(scratch, "thumb", 280, 90);
  const json layout =
      answer({splint + "*2", thumb + "*2", "--together", "splint, thumb", "--sheet-size", "300 x 300 mm",
              "--rotations", "none", "--spacing", "2 mm", "--margin", "0 mm"});
  std::map<int, std::set<int>> sheets_of;
  for (const json& p : layout["placements"]) sheets_of[p["copy"]].insert(p["sheet"].get<int>());
  REQUIRE(sheets_of.size() == 2);
  for (const auto& [copy, sheets] : sheets_of) CHECK(sheets.size() == 1);
}

TEST_CASE("nest: where sheets run out, what goes first is placed, and the answer is no") {
  const Scratch scratch;
  const std::string large = rectangle_file(scratch, "large", 280, 180);
  const std::string urgent = rectangle_file(scratch, "urgent", 150, 150);
  const json layout = answer({large, urgent, "--first", "urgent", "--sheet-size", "300 x 200 mm*1"}, 1);
  REQUIRE(layout["placements"].size() == 1);
  CHECK(layout["placements"][0]["outline"] == "urgent");
}

TEST_CASE("nest: a pair is as many mirrored outlines, none of them turned over") {
  const Scratch scratch;
  const std::string path = scratch.path("flag.csv");
  std::ofstream(path) << "0,0\n100,0\n100,100\n50,100\n0,50\n";
  const json layout = answer({path + "*2", "--pair", "flag", "--sheet-size", "600 x 450 mm"});
  std::map<std::string, int> count;
  for (const json& p : layout["placements"]) {
    ++count[p["outline"]];
    CHECK(p["flipped"] == false);
  }
  CHECK(count["flag"] == 2);
  CHECK(count["flag (mirrored)"] == 2);
}

TEST_CASE("nest: what is marked on one of a pair is marked on the other in a mirror") {
  const Scratch scratch;
  const std::string path = scratch.path("pair.svg");
  const std::string measures = std::string(WARMSHEET_SOURCE_DIR) + "/examples/wrist/measures.toml";
  REQUIRE(run_program({"nest", "volar-wrist", "--measures", measures, "--pair", "volar-wrist", "--rotations",
                       "none", "--sheet-size", "600 x 450 mm", "--svg", path})
              .code == 0);
  // The design marks six lines; those of the second piece are drawn last. Unturned, a point and its mirror
  // image add up to twice the mirror's place.
  constexpr std::size_t lines = 6;
  std::vector<std::array<double, 2>> starts;
  const std::string svg = warmsheet::read_file(path);
  const std::regex start(R"re(<path d="M([-0-9.]+) ([-0-9.]+)L)re");
  for (std::sregex_iterator at(svg.begin(), svg.end(), start), end; at != end; ++at)
    starts.push_back({std::stod((*at)[1]), std::stod((*at)[2])});
  REQUIRE(starts.size() >= 2 * lines);
  const auto* right = &starts[starts.size() - 2 * lines];
  const auto* left = &starts[starts.size() - lines];
  for (std::size_t i = 1; i < lines; ++i) {
    CHECK(near_abs(right[i][0] + left[i][0], right[0][0] + left[0][0], 2e-3));
    CHECK(near_abs(right[i][1] - left[i][1], right[0][1] - left[0][1], 2e-3));
    CHECK_FALSE(near_abs(right[i][0] - left[i][0], right[0][0] - left[0][0], 2e-3));
  }
}

TEST_CASE("nest: a sheet with a face side is never turned over") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 60, 40);
  const Ran refused = run_program(nest({plate, "--sheet", "draping-lined-child", "--flip", "yes"}));
  CHECK(refused.code == 2);
  CHECK(refused.err.find("face side") != std::string::npos);
  const std::string path = scratch.file("flag.csv", "0,0\n100,0\n100,100\n50,100\n0,50\n");
  const json faced = answer({path + "*9", "--sheet", "draping-lined-child"});
  for (const json& p : faced["placements"]) CHECK(p["flipped"] == false);
  CHECK(faced["inputs"]["flip"] == "no");
  CHECK(answer({path, "--sheet", "elastic-clear"})["inputs"]["flip"] == "yes");
}

TEST_CASE("nest: spoilt zones stay free, and a rest is kept by the rule asked for") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 140, 140);
  const std::vector<std::string> words{plate + "*2",
                                       "--sheet-size",
                                       "400 x 200 mm*1",
                                       "--rotations",
                                       "none",
                                       "--spacing",
                                       "2 mm",
                                       "--margin",
                                       "5 mm",
                                       "--spoilt",
                                       "sheet 1: 100 x 120 mm at 150 mm, 0 mm"};
  const json layout = answer(words);
  REQUIRE(layout["placements"].size() == 2);
  for (const json& p : layout["placements"]) {
    const double x = p["x_mm"];
    const double y = p["y_mm"];
    CHECK((x + 140.0 <= 145.0 + 1e-6 || x >= 255.0 - 1e-6 || y >= 125.0 - 1e-6));
  }
  const std::vector<std::string> one{plate, "--sheet-size", "400 x 200 mm"};
  CHECK(answer(one)["offcuts"][0]["worth_keeping"] == true);
  CHECK(answer(with(one, {"--keep-side", "30 cm"}))["offcuts"][0]["worth_keeping"] == false);
  CHECK(answer(with(one, {"--keep-area", "600 cm2"}))["offcuts"][0]["worth_keeping"] == false);
}

TEST_CASE("nest: a kept offcut is headed as one, a new sheet as a sheet") {
  const Ran ran =
      run_program({"nest", std::string(WARMSHEET_SOURCE_DIR) + "/examples/outlines/volar-wrist-traced.svg",
                   "--offcut", "800 x 600 mm", "--sheet-size", "600 x 450 mm"});
  CAPTURE(ran.err);
  CHECK(ran.code == 0);
  CHECK(ran.out.find("SHEET 1, A KEPT OFFCUT:") != std::string::npos);
  const Ran without =
      run_program({"nest", std::string(WARMSHEET_SOURCE_DIR) + "/examples/outlines/volar-wrist-traced.svg",
                   "--sheet-size", "600 x 450 mm"});
  CHECK(without.out.find("SHEET 1:") != std::string::npos);
  CHECK(without.out.find("KEPT OFFCUT:") == std::string::npos);
}

TEST_CASE("nest: an offcut with a hole from a file is used around its hole") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 80, 80);
  const std::string path = scratch.path("frame.svg");
  std::ofstream(path) << R"(<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="100mm" )"
                         R"(viewBox="0 0 300 100"><path d="M0 0H300V100H0Z M130 20V80H170V20Z"/></svg>)";
  const json layout = answer({plate + "*2", "--offcut", path, "--sheet-size", "600 x 450 mm"});
  REQUIRE(layout["used_sheets"].size() == 1);
  CHECK(layout["used_sheets"][0]["offcut"] == true);
  CHECK(layout["results"]["sheets_used"]["value"] == 0);
}

TEST_CASE("nest: straight cuts are a plan to follow, and their waste stands beside the true shape's") {
  const Scratch scratch;
  // Worked by hand: four of 200 x 150 on 410 x 310 with 5 mm edge: 2 x 2, cut off once across and once along
  // each half.
  const std::string plate = rectangle_file(scratch, "plate", 200, 150);
  const std::vector<std::string> words{plate + "*4", "--sheet-size", "500 x 310 mm", "--margin",
                                       "5 mm",       "--spacing",    "0 mm",         "--blanks"};
  const json plan = answer(words);
  CHECK(plan["blanks"].size() == 4);
  CHECK(plan["blank_sheets"].size() == 1);
  CHECK(near_abs(plan["blank_sheets"][0]["used_length_mm"].get<double>(), 410.0, 1e-6));
  // The rest off, then three cuts part four blanks.
  CHECK(plan["knife_cuts"].size() == 4);
  for (const json& cut : plan["knife_cuts"]) {
    const bool upright = cut["from_x_mm"] == cut["to_x_mm"];
    const bool level = cut["from_y_mm"] == cut["to_y_mm"];
    CHECK((upright || level));
  }
  REQUIRE(plan["cut_ways"].size() == 2);
  // 410 x 310 mm less 4 x 200 x 150 mm is 71 cm2.
  CHECK(near_abs(plan["cut_ways"][1]["waste"]["value"].get<double>(), 71.0, 1e-6));
  CHECK(plan["cut_ways"][0]["way"] == "true_shape");
  const std::string text = run_program(nest(words)).out;
  CHECK(text.find("Trim 5 mm") != std::string::npos);
  CHECK(text.find("cut 4") != std::string::npos);
  CHECK(text.find("blank D, plate 4") != std::string::npos);
  CHECK(run_program(nest(with(words, {"--first", "plate"}))).code == 2);
}

TEST_CASE("nest: a kerf makes the blanks' sheet longer by what the cut takes") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 200, 150);
  const json plan = answer(
      {plate + "*2", "--sheet-size", "500 x 150 mm", "--margin", "0 mm", "--blanks", "--kerf", "3 mm"});
  CHECK(near_abs(plan["blank_sheets"][0]["used_length_mm"].get<double>(), 403.0, 1e-6));
}

TEST_CASE("nest: drawn in the terminal, in Braille dots where it takes them and in ASCII elsewhere") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 200, 150);
  std::vector<std::string> words = nest({plate + "*2", "--sheet-size", "600 x 450 mm", "--draw"});
  for (const bool utf8 : {false, true}) {
    CAPTURE(utf8);
    warmsheet::cli::Environment environment;
    environment.takes_utf8 = utf8;
    std::ostringstream out;
    std::ostringstream err;
    REQUIRE(warmsheet::cli::run(words, environment, out, err) == 0);
    const std::string text = out.str();
    CHECK((text.find("\xE2\xA1") != std::string::npos) == utf8);
    CHECK(text.find("1. plate") != std::string::npos);
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      const auto columns = std::count_if(
          line.begin(), line.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; });
      CHECK(columns <= 80);
      if (!utf8)
        CHECK(std::all_of(line.begin(), line.end(),
                          [](char c) { return static_cast<unsigned char>(c) < 128; }));
    }
  }
  words.pop_back();
  CHECK(run_program(words).out.find("1. plate") == std::string::npos);
}

TEST_CASE("nest: two outlines of one name are told apart, so that their layout can be gone on from") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 190, 140);
  const std::vector<std::string> words{plate, plate + " * 2", "--sheet-size", "600 x 450 mm"};
  const json first = answer(words);
  std::set<std::pair<std::string, int>> named;
  for (const json& p : first["placements"]) named.emplace(p["outline"], p["copy"].get<int>());
  CHECK(named == std::set<std::pair<std::string, int>>{
                     {"plate", 1}, {"plate (outline 2)", 1}, {"plate (outline 2)", 2}});
  const std::string file = saved(scratch, first);
  CHECK(answer(with(words, {"--start", file}))["placements"].size() == 3);
  const json laid = answer(with(words, {"--laid", file}));
  for (const json& p : laid["placements"]) CHECK(p["laid"] == true);
}

TEST_CASE("nest: a stain is on one sheet of its size, and the others of that size are whole") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 190, 140);
  const auto spoilt = [&](const std::string& size, int code) {
    return answer({plate + "*5", "--sheet-size", size, "--margin", "0 mm", "--spoilt",
                   "sheet 1: 200 x 150 mm at 0 mm, 0 mm"},
                  code);
  };
  // One plate a sheet: the stained one takes none, and five whole ones are left of six, not of five.
  CHECK(spoilt("200 x 150 mm", 0)["results"]["sheets_used"]["value"] == 5);
  CHECK(spoilt("200 x 150 mm*6", 0)["unplaced"].empty());
  CHECK(spoilt("200 x 150 mm*5", 1)["unplaced"].size() == 1);
}

TEST_CASE("nest: two stains on one sheet of two leave the other one whole") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 400, 300);
  const json found =
      answer({plate + "*2", "--sheet-size", "600 x 450 mm*2", "--spoilt",
              "sheet 1: 250 x 450 mm at 0 mm, 0 mm", "--spoilt", "sheet 1: 250 x 450 mm at 350 mm, 0 mm"},
             1);
  CHECK(found["placements"].size() == 1);
  CHECK(found["unplaced"].size() == 1);
}

TEST_CASE("nest: the distances of the cut list stand in JSON, from the corner to the nearest point") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 140, 90);
  const json layout =
      answer({plate, "--sheet-size", "400 x 200 mm", "--margin", "5 mm", "--rotations", "none"});
  REQUIRE(layout["placements"].size() == 1);
  CHECK(near_abs(layout["placements"][0]["from_left_mm"].get<double>(), 5.0, 1e-6));
  CHECK(near_abs(layout["placements"][0]["from_lower_mm"].get<double>(), 5.0, 1e-6));
}

TEST_CASE("nest: what finds no place is told once for all its copies, and in JSON copy by copy") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 190, 140);
  const std::vector<std::string> small{plate + "*50", "--sheet-size", "100 x 450 mm"};
  const Ran ran = run_program(nest(small));
  CHECK(ran.code == 1);
  CHECK(ran.out.find("DOES NOT FIT: plate 1 to 50: larger than every sheet") != std::string::npos);
  const json answered = answer(small, 1);
  REQUIRE(answered["unplaced"].size() == 50);
  CHECK(answered["unplaced"][49]["copy"] == 50);
  const std::vector<std::string> spoilt{plate, "--sheet-size", "600 x 450 mm*1", "--spoilt",
                                        "sheet 1: 600 x 450 mm at 0 mm, 0 mm"};
  const json none = answer(spoilt, 1);
  CHECK(none["unplaced"][0]["reason"].get<std::string>().find("spoilt zones") != std::string::npos);
  const json blanks = answer(with(spoilt, {"--blanks"}), 1);
  CHECK(blanks["unplaced_blanks"][0]["reason"].get<std::string>().find("unspoilt") != std::string::npos);
}

TEST_CASE("nest: one piece too many does not take the place of those that fit") {
  const Scratch scratch;
  // 443.2 mm of 443.4 inside the margin: five of 100 x 443.2 lie side by side on 593.4, a sixth does not.
  const std::string path = rectangle_file(scratch, "plate", 100, 443.2);
  const json blanks = answer({path + "*6", "--sheet-size", "600 x 450 mm*1", "--margin", "3.3 mm",
                              "--spacing", "0 mm", "--rotations", "none", "--blanks"},
                             1);
  CHECK(blanks["unplaced_blanks"].size() == 1);
}

TEST_CASE("nest: stock that straight cuts pass over is named, and no proof is claimed without it") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 190, 140);
  const std::vector<std::string> words{plate,      "--sheet-size", "600 x 450 mm",
                                       "--offcut", "300 x 300 mm", "--blanks"};
  const std::string plain = run_program(nest(words)).out;
  CHECK(plain.find("Passed over") == std::string::npos);
  CHECK(plain.find("does this order for less.") != std::string::npos);
  const std::string spoilt =
      run_program(nest(with(words, {"--spoilt", "offcut 1: 60 x 60 mm at 0 mm, 0 mm"}))).out;
  CHECK(spoilt.find("Passed over for straight cuts") != std::string::npos);
  CHECK(spoilt.find("does this order for less.") == std::string::npos);
  const std::string none = run_program(nest({plate, "--sheet-size", "600 x 450 mm*1", "--blanks", "--spoilt",
                                             "sheet 1: 60 x 60 mm at 0 mm, 0 mm"}))
                               .out;
  CHECK(none.find("Passed over for straight cuts") != std::string::npos);
  CHECK(none.find("Proven: no plan") == std::string::npos);
}

TEST_CASE("nest: the figures stand in the text once") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 190, 140);
  const std::string text = run_program(nest({plate, "--sheet-size", "600 x 450 mm"})).out;
  const std::size_t at = text.find("used length:");
  REQUIRE(at != std::string::npos);
  CHECK(text.find("used length:", at + 1) == std::string::npos);
}

TEST_CASE("nest: too large is answered with no and with by how much") {
  const Scratch scratch;
  const std::string huge = rectangle_file(scratch, "huge", 700, 460);
  const Ran ran =
      run_program(nest({huge, "--sheet-size", "600 x 450 mm", "--margin", "5 mm", "--rotations", "none"}));
  CHECK(ran.code == 1);
  CHECK(ran.out.find("110.0 mm") != std::string::npos);  // 700 + 2 * 5 - 600
}

TEST_CASE(
    "nest: the clock is an alternative to passes, and what is typed wrongly is refused with the option") {
  const Scratch scratch;
  const std::string plate = rectangle_file(scratch, "plate", 200, 150);
  CHECK(run_program({"nest", plate, "--unit", "1 mm", "--sheet-size", "600 x 450 mm", "--seconds", "0.05 s"})
            .code == 0);
  struct Row {
    std::vector<std::string> more;
    const char* says;
  };
  const Row rows[] = {
      {{"--seconds", "1 s", "--passes", "5"}, "--passes"},
      {{"--sheet-size", "600 x 450 mm*0"}, "copies"},
      {{"--spoilt", "60 x 40 mm"}, "which sheet"},
      {{"--spoilt", "sheet 1: 60 x 40 mm"}, "how large and where"},
      {{"--spoilt", "sheet 3: 60 x 40 mm at 1 mm, 1 mm"}, "no \"sheet 3\""},
      {{"--together", "plate, thumb"}, "\"thumb\" is none"},
      {{"--first", "plane"}, "did you mean plate"},
      {{"--pair", "x"}, "none of the outlines"},
      {{"--kerf", "3 mm", "--blanks", "--laid", "x.json"}, "--laid"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.says);
    const Ran ran =
        run_program(with({"nest", plate, "--unit", "1 mm", "--sheet-size", "600 x 450 mm"}, row.more));
    CHECK(ran.code == 2);
    CHECK(ran.err.find(row.says) != std::string::npos);
  }
}
