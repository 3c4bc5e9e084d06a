// SPDX-License-Identifier: MIT
// `warmsheet choose` as its users run it.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "base/text.h"
#include "support/program.h"
#include "support/scratch.h"

using nlohmann::json;
using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

const std::string measures_file = std::string(WARMSHEET_SOURCE_DIR) + "/examples/choose/measures.toml";

std::vector<std::string> choose(std::vector<std::string> words) {
  words.insert(words.begin(), "choose");
  words.insert(words.end(), {"--draws", "200"});
  return words;
}

std::size_t widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, warmsheet::columns(line));
  return widest;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the contract: a ranking of stock with share, score and reasons, and what was left out") {
  const Ran ran = run_program(choose({"--condition", "carpal-tunnel", "--json"}));
  CHECK(ran.code == 0);
  const json document = json::parse(ran.out);
  CHECK(document["schema"] == "warmsheet.choose/1");
  REQUIRE(document["ranking"].is_array());
  REQUIRE_FALSE(document["ranking"].empty());
  for (const json& item : document["ranking"]) {
    CHECK(item["stock"].get<std::string>().find('/') != std::string::npos);
    CHECK(item["share_first"]["value"].get<double>() >= 0.0);
    CHECK(item["share_first"]["value"].get<double>() <= 1.0);
    CHECK(item["score"]["basis"].is_string());
    CHECK(item["reasons"].is_array());
  }
  CHECK(document["excluded"].is_array());
  CHECK(document["results"].contains("give_angle"));
  CHECK_FALSE(document["cautions"].empty());
}

TEST_CASE("the text is read at 80 columns, cautions first, the prescription above all") {
  const Ran ran = run_program(choose({"--condition", "flexor-tendon"}));
  CHECK(ran.code == 0);
  CHECK(widest_line(ran.out) <= 80);
  CHECK(has(ran.out, "the prescription overrides"));
  CHECK(ran.out.find("rupture") < ran.out.find("comes first in"));
}

TEST_CASE("no option hides the condition's cautions") {
  const json plain = json::parse(run_program(choose({"--condition", "ulnar-nerve", "--json"})).out);
  const json quiet =
      json::parse(run_program(choose({"--condition", "ulnar-nerve", "--json", "--quiet"})).out);
  CHECK(plain["cautions"] == quiet["cautions"]);
  const auto own = [](const json& caution) { return caution["id"] == "numb-ulnar-side"; };
  CHECK(std::any_of(plain["cautions"].begin(), plain["cautions"].end(), own));
}

TEST_CASE("windows are for the skin that the condition's precautions ask for, or the output warns") {
  const auto has_id = [](const json& document, const char* id) {
    return std::any_of(document["cautions"].begin(), document["cautions"].end(),
                       [&](const json& caution) { return caution["id"] == id; });
  };
  const json careful = json::parse(run_program(choose({"--condition", "carpal-tunnel", "--json"})).out);
  CHECK(careful["inputs"]["skin"] == "reduced");
  CHECK(careful["inputs"]["liner"] == "stockinette");
  CHECK_FALSE(has_id(careful, "skin-too-mild"));
  CHECK(has_id(careful, "test-on-yourself"));
  const json mild = json::parse(
      run_program(choose({"--condition", "carpal-tunnel", "--skin", "adult", "--liner", "none", "--json"}))
          .out);
  CHECK(has_id(mild, "skin-too-mild"));
  CHECK(mild["inputs"]["skin"] == "adult");
  CHECK(mild["inputs"]["liner"] == "none");
}

TEST_CASE("the bath is cautioned of, and a traced pattern's up") {
  const std::string outline = std::string(WARMSHEET_SOURCE_DIR) + "/examples/outlines/volar-wrist-traced.svg";
  const auto ids = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words{"choose", "--condition", "carpal-tunnel", "--json"};
    words.insert(words.end(), more.begin(), more.end());
    std::set<std::string> found;
    const json answer = json::parse(run_program(words).out);
    for (const json& caution : answer["cautions"]) found.insert(caution["id"]);
    return found;
  };
  const auto usual = ids({});
  CHECK(usual.contains("bath-scald"));
  CHECK_FALSE(usual.contains("unusual-bath"));
  CHECK_FALSE(usual.contains("distal-end-up"));
  CHECK(ids({"--bath", "88 C"}).contains("unusual-bath"));
  CHECK(ids({"--outline", outline}).contains("distal-end-up"));
}

TEST_CASE("nothing qualifies: exit 1, and the nearest misses say what they lack") {
  const Ran ran = run_program(choose({"--condition", "carpal-tunnel", "--push", "300 N"}));
  CHECK(ran.code == 1);
  CHECK(has(ran.out, "NEAREST MISSES"));
  CHECK(has(ran.out, "In the way of most of the stock: how much push it takes before it stays bent."));
  CHECK(has(ran.out, "stays bent from a push of"));
}

TEST_CASE("nothing qualifies in a bath that softens nothing: that is said before any thickness") {
  for (const auto& [option, value] : {std::pair{"--bath", "58C"}, std::pair{"--liner", "none"}}) {
    const Ran ran = run_program(choose({"--condition", "carpal-tunnel", option, value}));
    CHECK(ran.code == 1);
    const std::size_t misses = ran.out.find("NEAREST MISSES");
    REQUIRE(misses != std::string::npos);
    CHECK(ran.out.find("In the way of most of the stock: no safe working window.", misses) !=
          std::string::npos);
    const std::string first = ran.out.substr(ran.out.find("  - ", misses), 240);
    CHECK(has(first, "window:"));
    CHECK_FALSE(has(first, "usual range"));
    CHECK_FALSE(has(first, "stays bent"));
  }
}

TEST_CASE("a price in another currency takes cost out of the choice, and the reader is told") {
  const Scratch scratch;
  static_cast<void>(
      scratch.file("sheets/own.toml",
                   "id = \"elastic-clear\"\n[[stock]]\nid = \"2.4-micro\"\nprice = { value = 34.5, "
                   "unit = \"EUR\", basis = \"bench\" }\n"));
  const std::vector<std::string> words =
      choose({"--condition", "carpal-tunnel", "--library", scratch.path("")});
  const Ran ran = run_program(words);
  CHECK(ran.code == 0);
  CHECK(has(ran.out, "Cost does not count in this choice: prices are in EUR and cr"));
  CHECK(widest_line(ran.out) <= 80);
  std::vector<std::string> as_json = words;
  as_json.push_back("--json");
  const json answered = json::parse(run_program(as_json).out);
  REQUIRE_FALSE(answered["ranking"].empty());
  for (const json& item : answered["ranking"])
    CHECK(item["cost"]["absent"].get<std::string>().starts_with("prices are in EUR and cr"));
}

TEST_CASE("measures draw the condition's design, and one girth alone only sets the trough") {
  const json drawn = json::parse(
      run_program(choose({"--condition", "carpal-tunnel", "--measures", measures_file, "--json"})).out);
  CHECK(drawn["inputs"]["area"]["basis"] != "entered");
  CHECK(drawn["inputs"]["girth"]["value"] == 152.0);
  const json girth = json::parse(
      run_program(choose({"--condition", "de-quervain", "--measure", "wrist_girth=140 mm", "--json"})).out);
  CHECK(girth["inputs"]["girth"]["basis"] == "entered");
}

TEST_CASE("a sheet that is taken for being closed says why holes are not wanted") {
  const auto flowing = [](const std::string& text) {
    std::istringstream words(text);
    std::string all;
    for (std::string word; words >> word;) all += word + ' ';
    return all;
  };
  const std::string mallet = flowing(run_program(choose({"--condition", "mallet-finger"})).out);
  CHECK(has(mallet, "few holes or none, 0 % [P] open: a hole at the rim"));
  CHECK_FALSE(has(mallet, "closed to the air"));
}

TEST_CASE("the list is searched by words, and nothing found is exit 1") {
  const Ran all = run_program({"choose", "--list"});
  CHECK(all.code == 0);
  CHECK(has(all.out, "mallet-finger"));
  CHECK(widest_line(all.out) <= 80);
  const json found = json::parse(run_program({"choose", "--list", "carpal", "tunnel", "--json"}).out);
  CHECK(found["conditions"][0]["id"] == "carpal-tunnel");
  CHECK(run_program({"choose", "--list", "zzzzqqq"}).code == 1);
}

TEST_CASE("slips of the command line are refused with what to type") {
  struct Row {
    std::vector<std::string> words;
    const char* says;
  };
  for (const Row& row :
       {Row{{"choose"}, "--list"}, Row{{"choose", "--condition", "capral-tunel"}, "carpal-tunnel"},
        Row{{"choose", "--condition", "scaphoid", "--area", "410"}, "cm2"},
        Row{{"choose", "--condition", "scaphoid", "--area", "410 cm2", "--design", "volar-wrist"},
            "more than one way"},
        Row{{"choose", "--condition", "scaphoid", "--compare", "elastic-claer/3.2-solid"},
            "elastic-clear/3.2-solid"},
        Row{{"choose", "--condition", "scaphoid", "--skin", "adlt"}, "adult"},
        Row{{"choose", "--condition", "scaphoid", "wrist"}, "--list"}}) {
    CAPTURE(row.says);
    const Ran ran = run_program(row.words);
    CHECK(ran.code == 2);
    CHECK(has(ran.err, row.says));
    CHECK(ran.out.empty());
  }
}

TEST_CASE("stock side by side, as text and as a page with curves") {
  const Scratch scratch;
  const Ran ran =
      run_program(choose({"--condition", "scaphoid", "--compare", "elastic-clear/3.2-solid", "--compare",
                          "draping-white/3.2-solid", "--html", scratch.path("choice.html")}));
  CHECK(ran.code == 0);
  CHECK(widest_line(ran.out) <= 80);
  CHECK(has(ran.out, "SIDE BY SIDE"));
  CHECK(has(ran.out, "squeeze"));
}

TEST_CASE("what a figure rests on goes down to the library") {
  const Ran ran = run_program(choose({"--condition", "carpal-tunnel", "--why", "give_angle"}));
  CHECK(ran.code == 0);
  CHECK(has(ran.out, "modulus_23"));
  CHECK(has(ran.out, "materials/"));
}

TEST_CASE("the same seed gives the same bytes") {
  const auto words = choose({"--condition", "radial-nerve", "--json", "--seed", "5"});
  CHECK(run_program(words).out == run_program(words).out);
}
