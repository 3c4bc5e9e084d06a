// SPDX-License-Identifier: MIT
// The whole command, as the supply lead runs it.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "support/program.h"
#include "support/scratch.h"

using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

const std::string example = std::string(WARMSHEET_SOURCE_DIR) + "/examples/clinic/caseload.toml";

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::string content(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace

TEST_CASE("stock says first what to order, why, and that invented prices are invented") {
  const Ran ran = run_program({"stock", example, "--months", "96"});
  CHECK(ran.code == 0);
  CHECK(ran.err.empty());
  CHECK(holds(ran.out, "WHAT TO ORDER NOW"));
  CHECK(holds(ran.out, "ORDER 12"));
  CHECK(holds(ran.out, "invented figures (demo)"));
  CHECK(holds(ran.out, ".price among"));  // a price, not a spacing
  CHECK(ran.out.find("CAUTIONS") < ran.out.find("WHAT TO ORDER NOW"));
}

TEST_CASE("the JSON holds the names of the contract for every stock item") {
  const Ran ran = run_program({"stock", example, "--months", "96", "--json"});
  CHECK(ran.code == 0);
  for (const char* name : {"warmsheet.stock/1", "\"items\"", "\"sheets_per_month\"", "\"reorder_point\"",
                           "\"order_up_to\"", "\"cost_per_month\"", "\"waste\"", "\"basis\"", "\"rests_on\"",
                           "draping-white/3.2-solid", "elastic-clear/3.2-solid"})
    CHECK_MESSAGE(holds(ran.out, name), name);
}

TEST_CASE("the same command gives the same bytes on any number of threads") {
  const Ran one = run_program({"stock", example, "--months", "96", "--json", "--threads", "1"});
  const Ran three = run_program({"stock", example, "--months", "96", "--json", "--threads", "3"});
  CHECK(one.out == three.out);
  CHECK(one.out != run_program({"stock", example, "--months", "96", "--json", "--seed", "2"}).out);
}

TEST_CASE("the order list is a table in the dialect that was asked for") {
  const Scratch scratch;
  for (const auto& [dialect, sign] :
       {std::pair{"comma", ','}, std::pair{"semicolon", ';'}, std::pair{"tab", '\t'}}) {
    const std::string path = scratch.path(std::string(dialect) + ".csv");
    CHECK(run_program({"stock", example, "--months", "48", "--csv", path, "--dialect", dialect}).code == 0);
    const std::string csv = content(path);
    int lines = 0;
    for (std::size_t line = 0; line < csv.size(); ++lines) {
      const std::size_t end = csv.find("\r\n", line);
      REQUIRE(end != std::string::npos);
      const std::string text = csv.substr(line, end - line);
      CAPTURE(text);
      CHECK(std::count(text.begin(), text.end(), sign) == 8);
      line = end + 2;
    }
    CHECK(lines == 1 + 5 + 3);
    // 10.52 m of strap: no more digits than it has, and the decimal sign of the dialect.
    const std::string level = sign == ';' ? "10,52" : "10.52";
    CHECK(holds(csv, sign + level + sign));
    CHECK(holds(csv, sign == ';' ? ",00;cr;demo" : std::string(".00") + sign + "cr" + sign + "demo"));
  }
}

TEST_CASE("a comparison states the difference with its interval") {
  const Ran ran = run_program({"stock", example, "--months", "480", "--compare", "blanks"});
  CHECK(ran.code == 0);
  CHECK(holds(ran.out, "Both were given the same orthoses"));
  CHECK(holds(ran.out, "the difference is beyond chance"));
  // What holds whatever is asked is said of a comparison too.
  CHECK(holds(ran.out, "Choose the sheet for the person"));
  CHECK(holds(ran.out, "Old, bent or sun-struck sheets"));
}

TEST_CASE("blanks cut ahead come with their cuts") {
  const Ran ran = run_program({"stock", example, "--months", "96", "--variant", "blanks"});
  CHECK(ran.code == 0);
  CHECK(holds(ran.out, "BLANKS CUT AHEAD"));
}

TEST_CASE("what is asked wrongly is told, and nothing is written") {
  const Scratch scratch;
  const std::string path = scratch.path("order.csv");
  struct Row {
    std::vector<std::string> words;
    int code;
    std::string said;
  };
  const std::vector<Row> rows{{{"stock"}, 2, "CASELOAD"},
                              {{"stock", "no-such-file.toml"}, 3, "no-such-file.toml"},
                              {{"stock", example, example}, 2, "one caseload at a time"},
                              {{"stock", example, "--compare", "weakly"}, 2, "did you mean weekly?"},
                              {{"stock", example, "--compare", "week"}, 2, "did you mean weekly?"},
                              {{"stock", example, "--months", "0"}, 2, "--months"},
                              {{"stock", example, "--dialect", "comma"}, 2, "order list"},
                              {{"stock", example, "--csv", path, "--compare", "weekly"}, 2, "no order list"},
                              {{"stock", example, "--csv", path, "--dialect", "pipe"}, 2, "comma"},
                              {{"stock", example, "--months", "1", "--csv", "-"}, 2, "names no file"}};
  for (const Row& row : rows) {
    const Ran ran = run_program(row.words);
    CAPTURE(ran.err);
    CHECK(ran.code == row.code);
    CHECK(ran.out.empty());
    CHECK(holds(ran.err, row.said));
  }
  CHECK(scratch.empty());
}
