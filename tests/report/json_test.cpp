// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "report/measure.h"
#include "report/random_document.h"
#include "report/sample.h"
#include "report/writers.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::report;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> keys(const Json& object) {
  std::vector<std::string> names;
  for (const auto& [name, value] : object.items()) names.push_back(name);
  return names;
}

}  // namespace

TEST_CASE("the document has the keys of the contract, in order, then its arrays") {
  const Json json = Json::parse(to_json(sample::document()));
  CHECK(keys(json) ==
        std::vector<std::string>{"schema", "inputs", "results", "cautions", "library", "placements"});
  CHECK(json["schema"] == "warmsheet.timing/1");
  CHECK(keys(json["results"]) ==
        std::vector<std::string>{"half_soft", "ready", "wait", "closes", "holds_shape", "peak_skin"});
  CHECK(json["library"]["layers"] == Json({"built in", "user: /home/bench/warmsheet"}));
  CHECK(json["library"]["hash"] == "5d0c9a");
  CHECK(json["cautions"][0]["id"] == "bath-scald");
  CHECK(json["cautions"][0]["text"] ==
        "Bath water at 70 C (68 to 72) [E] scalds in about a second. Use tongs, never fingers.");
}

TEST_CASE("a figure has its value, bounds, unit, basis and what it rests on") {
  const Json figure = Json::parse(to_json(sample::document()))["results"]["ready"];
  CHECK(keys(figure) == std::vector<std::string>{"value", "low", "high", "unit", "basis", "rests_on"});
  CHECK(near_abs(figure["value"].get<double>(), 64.0, 1e-9));
  CHECK(near_abs(figure["low"].get<double>(), 48.0, 1e-9));
  CHECK(near_abs(figure["high"].get<double>(), 92.0, 1e-9));
  CHECK(figure["unit"] == "s");
  CHECK(figure["basis"] == "memory");
  CHECK(figure["rests_on"] == Json({"film coefficient (memory)", "thickness (entered)"}));
}

TEST_CASE("units are written by their ids") {
  struct Row {
    Figure figure;
    const char* id;
    double value;
  };
  const std::vector<Row> rows{
      {sample::computed("a", Range::exactly(0.0412), units::square_centimetre()), "cm2", 412.0},
      {sample::computed("a", Range::exactly(343.15), units::celsius()), "degC", 70.0},
      {sample::computed("a", Range::exactly(0.25), units::percent()), "%", 25.0},
      {sample::computed("a", Range::exactly(3.0), units::one()), "1", 3.0},
      {sample::computed("a", Range::exactly(0.0032), units::millimetre()), "mm", 3.2}};
  for (const Row& row : rows) {
    CAPTURE(row.id);
    Document document = sample::document();
    document.results = {{"it", row.figure}};
    const Json figure = Json::parse(to_json(document))["results"]["it"];
    CHECK(figure["unit"] == row.id);
    CHECK(near_rel(figure["value"].get<double>(), row.value, 1e-9));
  }
}

TEST_CASE("conversion leaves no noise in the digits") {
  Document document = sample::document();
  document.results = {{"it", sample::computed("it", Range::exactly(0.1 + 0.2), units::second())}};
  CHECK(to_json(document).find("\"value\": 0.3,") != std::string::npos);
}

TEST_CASE("what is absent has a reason and nothing else") {
  const Json absent = Json::parse(to_json(sample::document()))["results"]["holds_shape"];
  CHECK(absent == Json{{"absent", "the sheet stays above its freezing range under the wrap"}});
}

TEST_CASE("a stated figure names its source beside its basis") {
  Document document = sample::document();
  document.results = {
      {"it", sample::stated("it", Range::exactly(0.003), units::millimetre(), Basis::handbook)}};
  const Json figure = Json::parse(to_json(document))["results"]["it"];
  CHECK(figure["source"] == "invented-handbook");
  CHECK(figure["rests_on"] == Json::array());
}

TEST_CASE("records keep their kinds of value") {
  const Json record = Json::parse(to_json(sample::document()))["placements"][0];
  CHECK(record["outline"] == "wrist");
  CHECK(record["copy"] == 1);
  CHECK(record["x_mm"] == 12.5);
  CHECK(record["flipped"] == false);
  CHECK(record["reasons"] == Json({"fits", "keeps a strip"}));
  CHECK(record["area"]["unit"] == "cm2");
}

TEST_CASE("a number that is not finite is never written") {
  for (const double bad :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    Document document = sample::document();
    document.arrays = {{"placements", {{{{"x_mm", Coordinate{bad}}}}}}};
    CHECK_THROWS_AS(to_json(document), std::logic_error);
  }
}

TEST_CASE("a name is used once") {
  Document twice = sample::document();
  twice.results.push_back(twice.results.front());
  CHECK_THROWS_AS(to_json(twice), std::logic_error);
  Document over_a_key = sample::document();
  over_a_key.arrays.push_back({"results", {}});
  CHECK_THROWS_AS(to_json(over_a_key), std::logic_error);
}

TEST_CASE("any document is valid JSON and valid UTF-8") {
  CHECK(rc::check("JSON parses", [](std::uint32_t seed) {
    const std::string text = to_json(sample::random_document(seed));
    RC_ASSERT(Json::accept(text));
    RC_ASSERT(text.back() == '\n');
    RC_ASSERT(text.find("null") == std::string::npos);
  }));
}

TEST_CASE("documents meet the schema, as read by an independent and strict reader" *
          doctest::skip(*PYTHON_JSONSCHEMA == '\0')) {
  // python3-jsonschema checks the schema; Python's own reader is told to refuse double names, NaN and
  // Infinity.
  const testing::Scratch scratch;
  std::string files = scratch.file("sample.json", to_json(sample::document()));
  for (std::uint32_t seed = 0; seed < 40; ++seed)
    files +=
        " " + scratch.file("random" + std::to_string(seed) + ".json", to_json(sample::random_document(seed)));
  const std::string program = scratch.file("check.py", R"(
import json, sys, jsonschema
def once(pairs):
    names = [name for name, _ in pairs]
    assert len(names) == len(set(names)), names
    return dict(pairs)
def refuse(word):
    raise ValueError(word)
schema = json.load(open(sys.argv[1]))
jsonschema.Draft7Validator.check_schema(schema)
for path in sys.argv[2:]:
    data = json.load(open(path, encoding="utf-8"), object_pairs_hook=once, parse_constant=refuse)
    jsonschema.Draft7Validator(schema).validate(data)
broken = json.load(open(sys.argv[2]))
del broken["results"]["ready"]["basis"]
try:
    jsonschema.Draft7Validator(schema).validate(broken)
except jsonschema.ValidationError:
    sys.exit(0)
sys.exit("the schema lets a figure without a basis pass")
)");
  CHECK_NOTHROW(testing::run_tool(std::string(PYTHON_JSONSCHEMA) + " '" + program + "' '" +
                                  WARMSHEET_SOURCE_DIR + "/src/report/schemas/document.schema.json' " +
                                  files));
}
